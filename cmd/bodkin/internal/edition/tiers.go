package edition

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// checkCharges sees to it that each copy has one charge and no more. The
// charges of one kind of copy must follow each other without overlap, and
// without a gap among the numbers of pages that the printer takes.
func (t *Terms) checkCharges() error {
	if len(t.Charges) == 0 {
		return nil
	}
	if len(t.Charges) > mostCharges {
		return t.fault("charge", "%d charges are more than %d", len(t.Charges), mostCharges)
	}
	if err := t.need("", "a charge needs it: write the code of the currency, as in \"USD\"", "currency"); err != nil {
		return err
	}
	if !known(t.Currency) {
		return t.fault("currency", "currency %q is not a code of ISO 4217, such as USD, GBP or EUR", t.Currency)
	}
	byClass := false
	for i := range t.Charges {
		c, key := &t.Charges[i], fmt.Sprintf("charge.%d", i)
		if err := t.knows(key, c.Stock, c.Binding, c.Ink); err != nil {
			return err
		}
		byClass = byClass || c.Class != ""
		switch {
		case c.Class != "" && t.Classes[c.Class] == nil:
			return t.fault(key+".class", "charge: there is no class %q; list its trims under [classes]", c.Class)
		case !c.Copy.Given() && !c.Page.Given():
			return t.fault(key, "charge: what it comes to is missing: write copy, page or both, as in copy = \"1.00\" and page = \"0.012\"")
		case c.From < 0 || c.To < 0 || c.To > 0 && c.To < c.From:
			return t.fault(key, "charge: from %d to %d pages runs backwards", c.From, c.To)
		}
	}
	if byClass {
		for i, trim := range t.Trims {
			if len(t.classes(trim)) == 0 {
				return t.fault(fmt.Sprintf("trims.%d", i), "the trim %s is in no class, and charges go by class; add it to one under [classes]", trim)
			}
		}
	}
	// Trims of the same classes are charged alike.
	var kinds [][]string
	for _, trim := range t.Trims {
		in := t.classes(trim)
		slices.Sort(in)
		if !slices.ContainsFunc(kinds, func(k []string) bool { return slices.Equal(k, in) }) {
			kinds = append(kinds, in)
		}
	}
	for _, s := range t.Stocks {
		for _, b := range t.Bindings {
			for _, ink := range t.inks() {
				for _, classes := range kinds {
					if err := t.checkTiers(made{s, b, ink}, classes); err != nil {
						return err
					}
				}
			}
		}
	}
	return nil
}

// checkTiers checks the charges of one kind of copy. That there are none is no
// fault: a printer need not bind every stock in every way.
func (t *Terms) checkTiers(m made, classes []string) error {
	limits := t.pages(m)
	type tier struct{ from, to, index int }
	var tiers []tier
	for i := range t.Charges {
		if c := &t.Charges[i]; c.applies(m, classes) {
			to := c.To
			if to == 0 {
				to = mostPages
			}
			tiers = append(tiers, tier{c.From, to, i})
		}
	}
	if len(tiers) == 0 {
		return nil
	}
	slices.SortStableFunc(tiers, func(a, b tier) int { return cmp.Compare(a.from, b.from) })
	key := func(i int) string { return fmt.Sprintf("charge.%d", i) }
	kind := strings.Join(append([]string{m.stock.Name, m.binding, m.ink}, classes...), ", ")
	next := limits.fill(limits.Least) // the first number of pages that has no charge yet
	for i, c := range tiers {
		if i > 0 && c.from <= tiers[i-1].to {
			a, b := c.index, tiers[i-1].index
			return t.fault(key(max(a, b)), "charge: it overlaps that of line %d: books of %d pages (%s) would have two", t.lines.Of(key(min(a, b))), c.from, kind)
		}
		if c.from > next && next <= limits.Most {
			return t.fault(key(c.index), "charge: books of %d pages (%s) have none; the charges must follow each other from %d to %d pages", next, kind, limits.Least, limits.Most)
		}
		next = max(next, limits.fill(c.to+1))
	}
	if next <= limits.Most {
		return t.fault(key(tiers[len(tiers)-1].index), "charge: books of %d pages (%s) have none; the charges must follow each other from %d to %d pages", next, kind, limits.Least, limits.Most)
	}
	return nil
}
