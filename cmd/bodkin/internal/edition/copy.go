package edition

import (
	"fmt"
	"math/big"
	"strings"

	"bodkin/typeset"
	"bodkin/typeset/length"
)

// Copy is one copy of an edition, as the terms have it.
type Copy struct {
	Trim     typeset.Trim
	Pages    int   // as printed, filled to the printer's multiple
	Stock    Stock // the paper
	Supposed bool  // no terms are known: the paper is Supposed
	Binding  string
	Ink      string
	Block    length.Length // thickness of the leaves
	Spine    length.Length // of the cover
	Grams    int           // weight; 0 where a grammage is not known
	Charge   *Money        // nil: the terms have none for it
	List     *Money        // price; nil where none is chosen
	Earnings *Money        // nil without a list price, a charge or a basis
	Flat     Flat          // the cover laid out

	Objections []Objection // what the printer would object to
}

// Objection is what a printer would object to, and how to mend it.
type Objection struct {
	Code string `json:"code"`
	What string `json:"what"`
	Mend string `json:"mend"`
}

func (o Objection) String() string { return o.What + "; " + o.Mend }

// mostPages bounds a book: no press binds more.
const mostPages = 10_000

// Copy returns a copy of so many pages. Without terms (t is nil) only its
// thickness and cover are known, on Supposed stock. The error says that the
// choice is not the printer's, and what is.
func (t *Terms) Copy(trim typeset.Trim, pages int, choice Choice) (*Copy, error) {
	if pages < 1 || pages > mostPages {
		return nil, fmt.Errorf("%d pages are no book: it has from 1 to %d", pages, mostPages)
	}
	m, err := t.resolve(choice)
	if err != nil {
		return nil, err
	}
	c := &Copy{Trim: trim, Stock: m.stock, Binding: m.binding, Ink: m.ink, Supposed: t == nil, List: choice.List}
	if t == nil {
		c.Pages = Pages{Multiple: 2}.fill(pages)
	} else {
		limits := t.pages(m)
		c.Pages = limits.fill(pages)
		t.limit(c, m, limits)
	}
	c.Block = m.stock.Block(c.Pages)
	c.Flat = t.flat(c)
	c.Spine = c.Flat.Spine
	c.Grams = t.weigh(c)
	if t == nil {
		return c, nil
	}
	return c, t.value(c, m)
}

// limit notes what the printer objects to in the pages and the trim.
func (t *Terms) limit(c *Copy, m made, limits Pages) {
	if !t.offers(c.Trim) {
		c.object("trim", fmt.Sprintf("%s does not offer the trim %s", t.Name, c.Trim), "take one of "+list(t.Trims))
	}
	kind := m.binding + " binding on " + m.stock.Name
	switch {
	case c.Pages < limits.Least:
		c.object("few-pages", fmt.Sprintf("%d pages are too few: %s takes %d or more for %s", c.Pages, t.Name, limits.Least, kind),
			t.others(m, c.Pages, "set the type larger or with more leading, or add pages at the back"))
	case c.Pages > limits.Most:
		c.object("many-pages", fmt.Sprintf("%d pages are too many: %s takes up to %d for %s", c.Pages, t.Name, limits.Most, kind),
			t.others(m, c.Pages, "set the type smaller or with less leading, or take a larger trim"))
	}
}

// others names the stocks and bindings that take so many pages, behind what
// can be done to the pages.
func (t *Terms) others(m made, pages int, mend string) string {
	var take []string
	for _, b := range t.Bindings {
		for _, s := range t.Stocks {
			if p := t.pages(made{stock: s, binding: b}); pages >= p.Least && pages <= p.Most {
				take = append(take, b+" on "+s.Name)
			}
		}
	}
	if len(take) == 0 {
		return mend
	}
	return mend + "; these take them: " + strings.Join(take, ", ")
}

// value reckons charge and earnings.
func (t *Terms) value(c *Copy, m made) error {
	c.Charge = t.charge(m, c.Trim, c.Pages)
	if c.Charge == nil {
		if len(t.Charges) > 0 {
			c.object("no-charge", fmt.Sprintf("%s has no charge for %s binding of %d pages in %s ink on %s at %s", t.Name, m.binding, c.Pages, m.ink, m.stock.Name, c.Trim),
				"take another stock, binding, ink or trim, or add the charge to "+t.Path)
		}
		return nil
	}
	if c.List == nil || t.Earnings.Basis == "" {
		return nil
	}
	if c.List.CurrencyCode() != t.Currency {
		return fmt.Errorf("the list price is in %s, and %s reckons in %s", c.List.CurrencyCode(), t.Name, t.Currency)
	}
	earn, err := t.Earn(*c.List, *c.Charge)
	if err != nil {
		return err
	}
	c.Earnings = &earn
	if earn.IsNegative() {
		least, err := t.ListFor(money(new(big.Int), t.Currency), *c.Charge)
		if err != nil {
			return err
		}
		loss, err := earn.Mul("-1")
		if err != nil {
			return err
		}
		c.object("loss", fmt.Sprintf("at %s each copy loses %s", Show(*c.List), Show(loss)), "the least list price that pays is "+Show(least))
	}
	return nil
}

func (c *Copy) object(code, what, mend string) {
	c.Objections = append(c.Objections, Objection{code, what, mend})
}

func list(trims []typeset.Trim) string {
	names := make([]string, len(trims))
	for i, t := range trims {
		names[i] = t.String()
	}
	return strings.Join(names, ", ")
}
