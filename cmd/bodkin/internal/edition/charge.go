package edition

import (
	"math/big"
	"slices"

	"bodkin/cmd/bodkin/internal/strict"
	"bodkin/typeset"
)

// Charge is what the printer takes for a copy of some kind: copy + pages ×
// page, and not less than the minimum. An empty field stands for all stocks,
// bindings, inks, trims or numbers of pages.
type Charge struct {
	Stock   string        `toml:"stock"`
	Binding string        `toml:"binding"`
	Ink     string        `toml:"ink"`
	Class   string        `toml:"class"` // of trims, as classes have it
	From    int           `toml:"from"`  // pages
	To      int           `toml:"to"`
	Copy    strict.Number `toml:"copy"`
	Page    strict.Number `toml:"page"`
	Minimum strict.Number `toml:"minimum"`
}

// applies reports whether a charge is for a copy of the kind, whatever its
// number of pages.
func (c *Charge) applies(m made, classes []string) bool {
	return (c.Stock == "" || c.Stock == m.stock.Name) && (c.Binding == "" || c.Binding == m.binding) &&
		(c.Ink == "" || c.Ink == m.ink) && (c.Class == "" || slices.Contains(classes, c.Class))
}

// classes returns the classes that a trim belongs to.
func (t *Terms) classes(trim typeset.Trim) []string {
	var in []string
	for name, trims := range t.Classes {
		if slices.ContainsFunc(trims, func(o typeset.Trim) bool { return same(o, trim) }) {
			in = append(in, name)
		}
	}
	return in
}

// charge returns what the printer takes for a copy, rounded to the nearest
// cent, halves up; nil where the terms do not say.
func (t *Terms) charge(m made, trim typeset.Trim, pages int) *Money {
	classes := t.classes(trim)
	for i := range t.Charges {
		c := &t.Charges[i]
		if !c.applies(m, classes) || c.From > 0 && pages < c.From || c.To > 0 && pages > c.To {
			continue
		}
		units := new(big.Rat).Mul(c.Page.Rat(), big.NewRat(int64(pages), 1))
		units.Add(units, c.Copy.Rat())
		if least := c.Minimum.Rat(); units.Cmp(least) < 0 {
			units = least
		}
		sum := money(big.NewInt(round(minor(units, t.Currency))), t.Currency)
		return &sum
	}
	return nil
}
