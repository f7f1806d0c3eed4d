package edition

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"bodkin/cmd/bodkin/internal/strict"
	"bodkin/markup"
	"bodkin/typeset"
	"bodkin/typeset/length"
)

// The bindings that the program can lay out a cover for. Others may stand in
// terms, and have a charge, but no spine of their own.
const (
	Perfect = "perfect" // paperback: the block is glued into a cover of card
	Case    = "case"    // hardcover: the block hangs in a case of boards
)

// Terms are what a printer offers and asks. The fields are the keys of
// printer.toml.
type Terms struct {
	Name     string             `toml:"name"`
	Path     string             `toml:"-"` // of the file
	Modified time.Time          `toml:"-"` // when it was written last
	Trims    []typeset.Trim     `toml:"trims"`
	Bindings []string           `toml:"bindings"`
	Inks     []string           `toml:"inks"` // none: black
	Bleed    length.Value       `toml:"bleed"`
	Safety   length.Value       `toml:"safety"`
	Currency string             `toml:"currency"` // ISO 4217
	Pages    Pages              `toml:"pages"`
	Limits   []Limit            `toml:"limit"`
	Back     []typeset.BackStep `toml:"back"`
	Pictures Pictures           `toml:"resolution"`
	Classes  map[string]trims   `toml:"classes"` // trims that are charged alike, by name
	Stocks   []Stock            `toml:"stock"`
	Charges  []Charge           `toml:"charge"`
	Cover    Cover              `toml:"cover"`
	Case     *Boards            `toml:"case"`
	Spine    Lettering          `toml:"spine"`
	Earnings Basis              `toml:"earnings"`

	lines strict.Lines
}

type trims = []typeset.Trim

// Pages are how many pages a block may have.
type Pages struct {
	Least    int `toml:"least"`
	Most     int `toml:"most"`
	Multiple int `toml:"multiple"` // the count is filled to a multiple of it; 0 is 2
}

// Limit is how many pages a block may have on some stock in some binding: ""
// stands for all. What it leaves out is as in the pages of the terms.
type Limit struct {
	Stock   string `toml:"stock"`
	Binding string `toml:"binding"`
	Pages
}

// Pictures are the least pixels to the inch that the printer takes.
type Pictures struct {
	Picture int `toml:"picture"` // photographs, and whatever has tones
	Line    int `toml:"line"`    // black lines on white
}

// Cover is the card of a paperback's cover.
type Cover struct {
	Caliper  length.Value  `toml:"caliper"`  // of the card; the spine takes two
	Grammage strict.Number `toml:"grammage"` // g/m2
	Adds     length.Value  `toml:"adds"`     // what the printer adds to the spine besides, for glue and folding
}

// Boards are how a hardcover's case is made. On the flat, from the middle
// outwards: the spine, a joint, a board, the wrap.
type Boards struct {
	Board    length.Value  `toml:"board"`    // thickness of a board
	Setback  length.Value  `toml:"setback"`  // a board is narrower than the trim by this
	Square   length.Value  `toml:"square"`   // by how much a board reaches past the block at head, foot and fore-edge
	Joint    length.Value  `toml:"joint"`    // the hinge, between spine and board
	Wrap     length.Value  `toml:"wrap"`     // what is folded in over the boards' edges
	Grammage strict.Number `toml:"grammage"` // g/m2, of a board
}

// Lettering is what the printer asks of a spine's lettering.
type Lettering struct {
	Least     int          `toml:"lettering"` // pages; below it the spine stays empty
	Clear     length.Value `toml:"clear"`     // between lettering and the folds at its sides
	Tolerance length.Value `toml:"tolerance"` // by which a fold may miss its place
}

// Choice is what an author takes from the terms. An empty field is the first
// that the terms offer.
type Choice struct {
	Stock, Binding, Ink string
	List                *Money // price
}

// made is a choice with nothing left open.
type made struct {
	stock        Stock
	binding, ink string
}

// resolve fills what c leaves open. The error names what there is.
func (t *Terms) resolve(c Choice) (made, error) {
	if t == nil {
		m := made{stock: Supposed(), binding: Perfect, ink: "black"}
		if c.Stock != "" {
			return m, fmt.Errorf("stock %q: only a printer's terms know it; name them with --printer, or in book.toml", c.Stock)
		}
		if c.Binding != "" {
			m.binding = c.Binding
		}
		if m.binding != Perfect && m.binding != Case {
			return m, fmt.Errorf("there is no binding %q: write perfect or case", c.Binding)
		}
		return m, nil
	}
	names := make([]string, len(t.Stocks))
	for i := range t.Stocks {
		names[i] = t.Stocks[i].Name
	}
	var m made
	var err error
	stock := ""
	if stock, err = pick(t, "stock", c.Stock, names); err != nil {
		return m, err
	}
	m.stock = t.Stocks[slices.Index(names, stock)]
	if m.binding, err = pick(t, "binding", c.Binding, t.Bindings); err != nil {
		return m, err
	}
	m.ink, err = pick(t, "ink", c.Ink, t.inks())
	return m, err
}

func (t *Terms) inks() []string {
	if len(t.Inks) == 0 {
		return []string{"black"}
	}
	return t.Inks
}

// pick finds a name among those that the terms have; the first for "".
func pick(t *Terms, what, name string, known []string) (string, error) {
	if name == "" {
		return known[0], nil
	}
	for _, k := range known {
		if strings.EqualFold(k, name) {
			return k, nil
		}
	}
	hint := "; it has " + strings.Join(known, ", ")
	if best := markup.Nearest(name, known); best != "" {
		hint = "; did you mean " + best + "?"
	}
	return "", fmt.Errorf("%s has no %s %q%s", t.Name, what, name, hint)
}

// pages returns how many pages a block of the choice may have.
func (t *Terms) pages(m made) Pages {
	p := t.Pages
	for i := range t.Limits {
		l := &t.Limits[i]
		if (l.Stock == "" || l.Stock == m.stock.Name) && (l.Binding == "" || l.Binding == m.binding) {
			if l.Least > 0 {
				p.Least = l.Least
			}
			if l.Most > 0 {
				p.Most = l.Most
			}
			if l.Multiple > 0 {
				p.Multiple = l.Multiple
			}
		}
	}
	if p.Multiple == 0 {
		p.Multiple = 2
	}
	return p
}

// fill returns the number of leaves' sides that n pages take.
func (p Pages) fill(n int) int { return (n + p.Multiple - 1) / p.Multiple * p.Multiple }

// Press returns what the printer asks of the pages for a choice; nil without
// terms.
func (t *Terms) Press(c Choice) (*typeset.Press, error) {
	m, err := t.resolve(c)
	if err != nil || t == nil {
		return nil, err
	}
	return &typeset.Press{Multiple: t.pages(m).Multiple, Back: t.Back, Safety: t.Safety}, nil
}

// offers reports whether the printer cuts books to a trim: to a tenth of a
// millimetre, since 6 in are sold as 152 mm and as 152.4 mm.
func (t *Terms) offers(trim typeset.Trim) bool {
	return slices.ContainsFunc(t.Trims, func(o typeset.Trim) bool { return same(o, trim) })
}

func same(a, b typeset.Trim) bool {
	near := func(x, y length.Length) bool { return max(x-y, y-x) <= length.Inch/254 }
	return near(a.Width.Length, b.Width.Length) && near(a.Height.Length, b.Height.Length)
}
