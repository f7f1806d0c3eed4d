package edition

import (
	"fmt"
	"maps"
	"math/big"
	"slices"
	"strings"

	"bodkin/markup"
	"bodkin/typeset/length"
)

// check finds what a decoder cannot: figures that are missing, that no printer
// would ask for, or that contradict each other.
func (t *Terms) check() error {
	for _, one := range []func() error{t.checkOffer, t.checkPages, t.checkBack, t.checkStocks, t.checkCover, t.checkClasses, t.checkCharges, t.checkEarnings} {
		if err := one(); err != nil {
			return err
		}
	}
	return nil
}

// fault is what is wrong at a key, with its line.
func (t *Terms) fault(key, format string, args ...any) error {
	return fmt.Errorf("%s:%d: %s", t.Path, max(1, t.lines.Of(key)), fmt.Sprintf(format, args...))
}

// has reports whether the file has a key.
func (t *Terms) has(key string) bool { return t.lines[key] > 0 }

// need complains of keys that are missing from a table; "" is the file's head.
func (t *Terms) need(table, why string, keys ...string) error {
	for _, k := range keys {
		full := k
		if table != "" {
			full = table + "." + k
		}
		if !t.has(full) {
			return t.fault(full, "%s is missing: %s", name(full), why)
		}
	}
	return nil
}

// name writes a key as a person reads it: charge.1.page is the page of the
// second charge.
func name(key string) string {
	parts := slices.DeleteFunc(strings.Split(key, "."), func(s string) bool { return s != "" && s[0] >= '0' && s[0] <= '9' })
	return strings.Join(parts, ".")
}

// Bounds of what is no slip of the pen.
const (
	mostNames   = 40
	mostTrims   = 200
	mostCharges = 400
)

func (t *Terms) checkOffer() error {
	if err := t.need("", "copy it from your printer's list", "name", "trims", "bindings", "bleed", "safety", "pages", "stock"); err != nil {
		return err
	}
	if strings.TrimSpace(t.Name) == "" {
		return t.fault("name", "name is empty: write what you call the printer")
	}
	if len(t.Trims) == 0 || len(t.Trims) > mostTrims {
		return t.fault("trims", "trims lists %d sizes: write from 1 to %d, as in [\"5x8in\", \"129x198mm\"]", len(t.Trims), mostTrims)
	}
	for i, trim := range t.Trims {
		for _, earlier := range t.Trims[:i] {
			if same(trim, earlier) {
				return t.fault(fmt.Sprintf("trims.%d", i), "the trim %s is there twice", trim)
			}
		}
	}
	for _, l := range []struct {
		key   string
		names []string
	}{{"bindings", t.Bindings}, {"inks", t.Inks}} {
		if !t.has(l.key) {
			continue
		}
		if len(l.names) == 0 || len(l.names) > mostNames {
			return t.fault(l.key, "%s lists %d names: write from 1 to %d", l.key, len(l.names), mostNames)
		}
		for i, n := range l.names {
			if n == "" || slices.Contains(l.names[:i], n) {
				return t.fault(fmt.Sprintf("%s.%d", l.key, i), "%s: %q is empty or there twice", l.key, n)
			}
		}
	}
	if err := t.within("bleed", t.Bleed, 0, length.Inch); err != nil {
		return err
	}
	return t.within("safety", t.Safety, 0, length.Inch)
}

// within complains of a length that is out of bounds.
func (t *Terms) within(key string, v length.Value, least, most length.Length) error {
	if v.Length < least || v.Length > most {
		return t.fault(key, "%s is %v: it runs from %v to %v", name(key), v,
			length.Value{Length: least, Unit: v.Unit}, length.Value{Length: most, Unit: v.Unit})
	}
	return nil
}

// mostMultiple is the most pages that are folded from one sheet.
const mostMultiple = 128

func (t *Terms) checkPages() error {
	if err := t.need("pages", "how thin and how thick a book may be", "least", "most"); err != nil {
		return err
	}
	if err := t.checkLimits("pages", t.Pages); err != nil {
		return err
	}
	if len(t.Limits) > mostCharges {
		return t.fault("limit", "%d limits are more than %d", len(t.Limits), mostCharges)
	}
	for i := range t.Limits {
		l, key := &t.Limits[i], fmt.Sprintf("limit.%d", i)
		if l.Stock == "" && l.Binding == "" {
			return t.fault(key, "limit: this is for all books; write it as pages = { … }, or name a stock or a binding")
		}
		if err := t.knows(key, l.Stock, l.Binding, ""); err != nil {
			return err
		}
		for j := range t.Limits[:i] {
			if e := &t.Limits[j]; overlap(l.Stock, e.Stock) && overlap(l.Binding, e.Binding) {
				return t.fault(key, "limit: it is for the same books as that of line %d; name stock and binding so that each book has one", t.lines.Of(fmt.Sprintf("limit.%d", j)))
			}
		}
		merged := t.Pages
		if t.has(key + ".least") {
			merged.Least = l.Least
		}
		if t.has(key + ".most") {
			merged.Most = l.Most
		}
		if t.has(key + ".multiple") {
			merged.Multiple = l.Multiple
		}
		if err := t.checkLimits(key, merged); err != nil {
			return err
		}
	}
	return nil
}

func overlap(a, b string) bool { return a == "" || b == "" || a == b }

func (t *Terms) checkLimits(key string, p Pages) error {
	switch {
	case p.Least < 1 || p.Most < p.Least || p.Most > mostPages:
		return t.fault(key, "%s run from %d to %d: they must grow, and stay between 1 and %d", name(key), p.Least, p.Most, mostPages)
	case t.has(key+".multiple") && (p.Multiple < 2 || p.Multiple%2 == 1 || p.Multiple > mostMultiple):
		return t.fault(key+".multiple", "%s.multiple is %d: a leaf has two pages, so write an even number from 2 to %d", name(key), p.Multiple, mostMultiple)
	case Pages{Multiple: max(2, p.Multiple)}.fill(p.Least) > p.Most:
		return t.fault(key, "%s: there is no multiple of %d from %d to %d", name(key), max(2, p.Multiple), p.Least, p.Most)
	}
	return nil
}

// knows complains of names that are not in the lists of the terms.
func (t *Terms) knows(key, stock, binding, ink string) error {
	stocks := make([]string, len(t.Stocks))
	for i := range t.Stocks {
		stocks[i] = t.Stocks[i].Name
	}
	for _, n := range []struct {
		what, name string
		known      []string
	}{{"stock", stock, stocks}, {"binding", binding, t.Bindings}, {"ink", ink, t.inks()}} {
		if n.name == "" || slices.Contains(n.known, n.name) {
			continue
		}
		hint := "the lists have " + strings.Join(n.known, ", ")
		if best := markup.Nearest(n.name, n.known); best != "" {
			hint = "did you mean " + best + "?"
		}
		return t.fault(key+"."+n.what, "%s: there is no %s %q; %s", name(key), n.what, n.name, hint)
	}
	return nil
}

func (t *Terms) checkBack() error {
	most := t.Pages.Most
	for i := range t.Limits {
		most = max(most, t.Limits[i].Most)
	}
	for i, b := range t.Back {
		key := fmt.Sprintf("back.%d", i)
		if err := t.need(key, "write each step as { to = 150, margin = \"0.5in\" }", "to", "margin"); err != nil {
			return err
		}
		if err := t.within(key+".margin", b.Margin, 1, 3*length.Inch); err != nil {
			return err
		}
		if i == 0 {
			continue
		}
		if before := t.Back[i-1]; b.To <= before.To {
			return t.fault(key, "back: up to %d pages overlaps the step before, up to %d; write the thinner books first", b.To, before.To)
		} else if b.Margin.Length < before.Margin.Length {
			return t.fault(key, "back: %v for thicker books is less than %v for thinner ones; check which is which", b.Margin, before.Margin)
		}
	}
	if n := len(t.Back); n > 0 && t.Back[n-1].To < most {
		return t.fault(fmt.Sprintf("back.%d", n-1), "back: there is no margin for %d to %d pages, which the printer takes; add a step", t.Back[n-1].To+1, most)
	}
	for _, p := range []struct {
		key string
		ppi int
	}{{"resolution.picture", t.Pictures.Picture}, {"resolution.line", t.Pictures.Line}} {
		if t.has(p.key) && (p.ppi < 1 || p.ppi > 4800) {
			return t.fault(p.key, "%s is %d: pixels to the inch run from 1 to 4800", p.key, p.ppi)
		}
	}
	return nil
}

// What a leaf of a book measures and weighs: from bible paper to thin card.
const (
	leastLeaf = length.Inch / 1000
	mostLeaf  = length.Inch / 50
)

var leastGrammage, mostGrammage = big.NewRat(20, 1), big.NewRat(500, 1)

func (t *Terms) checkStocks() error {
	if len(t.Stocks) == 0 || len(t.Stocks) > mostNames {
		return t.fault("stock", "%d stocks: write from 1 to %d, each under [[stock]]", len(t.Stocks), mostNames)
	}
	for i := range t.Stocks {
		s, key := &t.Stocks[i], fmt.Sprintf("stock.%d", i)
		if strings.TrimSpace(s.Name) == "" {
			return t.fault(key+".name", "stock.name is missing: write what the printer calls the paper")
		}
		for j := range t.Stocks[:i] {
			if strings.EqualFold(t.Stocks[j].Name, s.Name) {
				return t.fault(key+".name", "the stock %q is there twice", s.Name)
			}
		}
		ways := 0
		for _, k := range []string{"bulk", "caliper", "ppi"} {
			if t.has(key + "." + k) {
				ways++
			}
		}
		switch {
		case ways != 1:
			return t.fault(key, "stock %q: its thickness must be known in one way, and it is in %d: write grammage and bulk, or caliper, or ppi", s.Name, ways)
		case s.Bulk.Given() && !s.Grammage.Given():
			return t.fault(key, "stock %q: a bulk needs the grammage as well", s.Name)
		case s.Grammage.Given() && (s.Grammage.Rat().Cmp(leastGrammage) < 0 || s.Grammage.Rat().Cmp(mostGrammage) > 0):
			return t.fault(key+".grammage", "stock %q: %s g/m2 is no book paper; it runs from 20 to 500", s.Name, s.Grammage)
		}
		if leaf := s.Caliper(); leaf < leastLeaf || leaf > mostLeaf {
			return t.fault(key, "stock %q: its leaves would be %v thick, and book paper runs from %v to %v; check the units", s.Name,
				length.Value{Length: leaf, Unit: length.Mm}, length.Value{Length: leastLeaf, Unit: length.Mm}, length.Value{Length: mostLeaf, Unit: length.Mm})
		}
	}
	return nil
}

func (t *Terms) checkCover() error {
	if slices.Contains(t.Bindings, Case) {
		if err := t.need("case", "the binding \"case\" needs the measures of the case: board, setback, square, joint and wrap", "board", "setback", "square", "joint", "wrap"); err != nil {
			return err
		}
	}
	type measure struct {
		key   string
		value length.Value
		most  length.Length
	}
	all := []measure{
		{"cover.caliper", t.Cover.Caliper, length.Inch / 8}, {"cover.adds", t.Cover.Adds, length.Inch},
		{"spine.clear", t.Spine.Clear, length.Inch}, {"spine.tolerance", t.Spine.Tolerance, length.Inch},
	}
	if b := t.Case; b != nil {
		all = append(all, measure{"case.board", b.Board, length.Inch / 2}, measure{"case.setback", b.Setback, length.Inch},
			measure{"case.square", b.Square, length.Inch}, measure{"case.joint", b.Joint, length.Inch}, measure{"case.wrap", b.Wrap, 2 * length.Inch})
	}
	for _, m := range all {
		if err := t.within(m.key, m.value, 0, m.most); err != nil {
			return err
		}
	}
	if t.Spine.Least < 0 || t.Spine.Least > mostPages {
		return t.fault("spine.lettering", "spine.lettering is %d: it is the least number of pages, from 0 to %d", t.Spine.Least, mostPages)
	}
	return nil
}

func (t *Terms) checkClasses() error {
	for _, class := range slices.Sorted(maps.Keys(t.Classes)) {
		trims := t.Classes[class]
		key := "classes." + class
		if class == "" || len(trims) == 0 {
			return t.fault(key, "classes: the class %q is empty: list its trims, as in small = [\"5x8in\"]", class)
		}
		for _, trim := range trims {
			if !t.offers(trim) {
				return t.fault(key, "classes: %s is no trim of this printer; trims has %s", trim, list(t.Trims))
			}
		}
	}
	return nil
}

func (t *Terms) checkEarnings() error {
	if t.Earnings == (Basis{}) && !t.has("earnings") {
		return nil
	}
	wanted, other := "share", "discount"
	switch t.Earnings.Basis {
	case ShareAfterCharge, ShareOfListLessCharge:
	case Discount:
		wanted, other = other, wanted
	default:
		return t.fault("earnings.basis", "earnings.basis is %q: write %s, %s or %s", t.Earnings.Basis, ShareAfterCharge, ShareOfListLessCharge, Discount)
	}
	if err := t.need("earnings", "the basis "+t.Earnings.Basis+" needs it", wanted); err != nil {
		return err
	}
	if t.has("earnings." + other) {
		return t.fault("earnings."+other, "earnings.%s: the basis %s has no use for it; leave it out", other, t.Earnings.Basis)
	}
	if a, _ := t.Earnings.slope(); a.Sign() <= 0 {
		return t.fault("earnings."+wanted, "earnings.%s leaves the author nothing", wanted)
	}
	if len(t.Charges) == 0 {
		return t.fault("earnings", "earnings depend on the charge: add [[charge]]")
	}
	return nil
}
