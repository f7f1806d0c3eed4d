package main

import (
	"cmp"
	"errors"
	"fmt"
	"strings"

	"bodkin/cmd/bodkin/internal/bookfile"
	"bodkin/cmd/bodkin/internal/edition"
	"bodkin/typeset"
	"bodkin/typeset/length"

	"github.com/spf13/pflag"
)

// editionFlags are the flags by which a call says how the pages are printed.
type editionFlags struct {
	printers            []string // paths of terms
	stock, binding, ink string
	list                string // price
}

// add declares the flags.
func (e *editionFlags) add(flags *pflag.FlagSet) {
	flags.StringSliceVar(&e.printers, "printer", nil, "a printer's terms, `FILE.toml`; several are parted by commas; bodkin new writes an example")
	flags.StringVar(&e.stock, "stock", "", "the paper, a `NAME` as the terms have it")
	flags.StringVar(&e.binding, "binding", "", "the `BINDING`, as the terms have it: perfect, case")
	flags.StringVar(&e.ink, "ink", "", "the `INK` of the text, as the terms have it: black")
	flags.StringVar(&e.list, "list", "", "the list price, an `AMOUNT` as in 13.99")
}

// offer is a printer and what is taken from its terms.
type offer struct {
	terms  *edition.Terms // nil: none are known
	choice edition.Choice
	press  *typeset.Press // what it asks of the pages: a setting for it must have it
}

// copy makes a copy of so many pages.
func (o *offer) copy(trim typeset.Trim, pages int) (*edition.Copy, error) {
	return o.terms.Copy(trim, pages, o.choice)
}

// of returns the first printer, and what is taken from its terms for the
// setting of that name. The terms are an input of the job.
func (e *editionFlags) of(j *job, setting string) (offer, error) {
	all, err := e.all(j, setting)
	if err != nil {
		return offer{}, err
	}
	return all[0], nil
}

// all returns the same of all printers that the call or else the book names:
// one at the least, which is without terms if there are none.
func (e *editionFlags) all(j *job, setting string) ([]offer, error) {
	paths := e.printers
	var own bookfile.Edition
	if j != nil && j.file != nil {
		own = j.file.EditionOf(setting)
		if len(paths) == 0 {
			paths = j.file.Printers
		}
	}
	foreign := len(e.printers) > 0 || len(paths) > 1
	list := e.list
	if list == "" {
		list = own.List.String()
	}
	if len(paths) == 0 {
		if list != "" || e.stock != "" {
			return nil, &callError{errors.New("stock and list price mean something to a printer's terms alone: name them with --printer FILE.toml, or as printer in book.toml; bodkin new writes an example")}
		}
		c := edition.Choice{Binding: cmp.Or(e.binding, own.Binding)}
		o := offer{choice: c}
		var err error
		if o.press, err = o.terms.Press(c); err != nil {
			return nil, &callError{err}
		}
		return []offer{o}, nil
	}
	var all []offer
	for _, path := range paths {
		terms, err := edition.Load(strings.TrimSpace(path))
		if err != nil {
			return nil, err
		}
		one := edition.Choice{Stock: e.stock, Binding: e.binding, Ink: e.ink}
		// What the book takes from its own printer another may not have; then
		// it is left to what that one offers first.
		has := func(c edition.Choice) bool {
			_, err := terms.Press(c)
			return !foreign || err == nil
		}
		if one.Stock == "" && has(edition.Choice{Stock: own.Stock}) {
			one.Stock = own.Stock
		}
		if one.Binding == "" && has(edition.Choice{Binding: own.Binding}) {
			one.Binding = own.Binding
		}
		if one.Ink == "" && has(edition.Choice{Ink: own.Ink}) {
			one.Ink = own.Ink
		}
		if list != "" {
			amount, err := terms.Money(list)
			if err != nil {
				return nil, &callError{fmt.Errorf("list price: %w", err)}
			}
			one.List = &amount
		}
		press, err := terms.Press(one)
		if err != nil {
			return nil, &callError{err}
		}
		if j != nil {
			j.inputs = append(j.inputs, path)
			if terms.Modified.After(j.modified) {
				j.modified = terms.Modified
			}
		}
		all = append(all, offer{terms, one, press})
	}
	return all, nil
}

// copyReport is a copy of an edition as the reports have it. Its JSON keys are
// stable: lengths in points, money as text in the currency of the terms.
type copyReport struct {
	Printer    string              `json:"printer,omitempty"` // none: the paper is supposed
	Pages      int                 `json:"pages"`
	Stock      string              `json:"stock"`
	Supposed   bool                `json:"supposed,omitempty"`
	Binding    string              `json:"binding"`
	Ink        string              `json:"ink"`
	Block      float64             `json:"block"`
	Spine      float64             `json:"spine"`
	Grams      int                 `json:"grams,omitempty"`
	Currency   string              `json:"currency,omitempty"`
	Charge     string              `json:"charge,omitempty"`
	List       string              `json:"list,omitempty"`
	Earnings   string              `json:"earnings,omitempty"`
	Objections []edition.Objection `json:"objections,omitempty"`

	copy *edition.Copy
	unit length.Unit // in which lengths are shown
}

// reportCopy says of a copy what there is to say.
func reportCopy(t *edition.Terms, c *edition.Copy) *copyReport {
	r := &copyReport{Pages: c.Pages, Stock: c.Stock.Name, Supposed: c.Supposed, Binding: c.Binding, Ink: c.Ink,
		Block: points(c.Block), Spine: points(c.Spine), Grams: c.Grams, Objections: c.Objections, copy: c, unit: c.Trim.Width.Unit}
	if t != nil {
		r.Printer, r.Currency = t.Name, t.Currency
	}
	for _, sum := range []struct {
		to *string
		of *edition.Money
	}{{&r.Charge, c.Charge}, {&r.List, c.List}, {&r.Earnings, c.Earnings}} {
		if sum.of != nil {
			*sum.to = edition.Plain(*sum.of)
		}
	}
	return r
}

// long writes a length in the unit of the trim.
func (r *copyReport) long(l length.Length) string { return edition.Near(l, r.unit).String() }

// spine says how wide the spine is, and what it is reckoned with.
func (r *copyReport) spine() string {
	if r.Supposed {
		return fmt.Sprintf("about %s: %d pages on %s; your printer's terms would say", r.long(r.copy.Spine), r.Pages, r.Stock)
	}
	return fmt.Sprintf("%s: %d pages on %s, %s", r.long(r.copy.Spine), r.Pages, r.Stock, bound(r.Binding))
}

// bound is what a binding is called.
func bound(binding string) string {
	switch binding {
	case edition.Perfect:
		return "perfect bound (paperback)"
	case edition.Case:
		return "case bound (hardcover)"
	}
	return binding
}

// print writes what a proof says of a copy.
func (r *copyReport) print(row func(name, format string, args ...any)) {
	row("spine", "%s", r.spine())
	if r.copy.Charge != nil {
		row("charge", "%s a copy, by the terms of %s", edition.Show(*r.copy.Charge), r.Printer)
	}
	if r.copy.Earnings != nil {
		row("earnings", "%s a copy at a list price of %s, before taxes", edition.Show(*r.copy.Earnings), edition.Show(*r.copy.List))
	}
	printObjections(r.Objections, row)
}

// printObjections prints each objection above what mends it; several that are
// mended alike in a row stand above it together.
func printObjections(all []edition.Objection, row func(name, format string, args ...any)) {
	for i, o := range all {
		name := ""
		if i == 0 {
			name = "objections"
		}
		row(name, "%s", o.What)
		if i == len(all)-1 || all[i+1].Mend != o.Mend {
			row("", "-> %s", o.Mend)
		}
	}
}
