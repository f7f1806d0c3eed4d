package main

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"
	"unicode/utf8"

	"bodkin/cmd/bodkin/internal/edition"

	"github.com/spf13/cobra"
)

func priceCommand() *cobra.Command {
	var (
		flags copyFlags
		p     pricing
		json  bool
	)
	c := &cobra.Command{
		Use:   "price [BOOK]",
		Short: "Tell what a copy costs, and what a list price leaves to you",
		Long: `Price reckons with the terms of your printer (--printer, or printer in
book.toml): what it charges for a copy, what a list price leaves to you, and what
a copy must cost to leave you what you want. It sets the whole book to know its
pages; without a book it takes their number from --pages.

With --as it tells what this edition must cost to earn what another setting of
the same book earns at its list price.

Taxes are left out of everything.`,
		Example: `  bodkin price my-book --list 13.99
  bodkin price my-book --earn 4.25 --ending .99
  bodkin price my-book --setting roomy --as book --list 13.99
  bodkin price --pages 312 --trim 5x8in --printer printer.toml --list 13.99`,
		Args: oneBook,
		RunE: func(c *cobra.Command, args []string) error {
			r, err := p.run(c, args, &flags)
			if err != nil {
				return err
			}
			if json {
				return writeJSON(c.OutOrStdout(), r)
			}
			return r.print(c.OutOrStdout())
		},
	}
	c.Flags().StringVar(&p.earn, "earn", "", "find the list price at which a copy earns this `AMOUNT`, as in 4.25")
	c.Flags().StringVar(&p.ending, "ending", "", "let the prices that are found end as readers expect, in `CENTS` as in .99")
	c.Flags().StringVar(&p.as, "as", "", "find the list price at which a copy earns what the `SETTING` earns; book is that of [setting]")
	c.Flags().BoolVar(&json, "json", false, "print one JSON object; money as text, lengths in points")
	flags.add(c)
	return c
}

// pricing is what a call of the command asks for.
type pricing struct {
	earn, ending, as string
}

// priceReport is what price prints; its JSON keys are stable.
type priceReport struct {
	Title   string      `json:"title,omitempty"`
	Author  string      `json:"author,omitempty"`
	Setting string      `json:"setting,omitempty"`
	Edition *copyReport `json:"edition"`
	Basis   string      `json:"basis"`      // what the author keeps, in words
	Least   string      `json:"leastPrice"` // that does not lose money
	Prices  []priceRow  `json:"prices"`
	As      *asReport   `json:"as,omitempty"` // the other setting

	heading string
	least   edition.Money
}

// asReport is the edition whose earnings are wanted.
type asReport struct {
	Setting string      `json:"setting"`
	Edition *copyReport `json:"edition"`
}

// priceRow is a list price and what it leaves to the author.
type priceRow struct {
	For      string   `json:"for"` // why it is there: "list", "earn", "as", "ending"
	List     string   `json:"list"`
	Earnings string   `json:"earnings"` // of a copy
	Copies   []copies `json:"copies"`

	words          string
	list, earnings edition.Money
	sums           []edition.Money
}

// copies are the earnings of several.
type copies struct {
	Copies   int    `json:"copies"`
	Earnings string `json:"earnings"`
}

// someCopies are the numbers of copies whose earnings are told.
var someCopies = []int{100, 200, 500}

func (p *pricing) run(c *cobra.Command, args []string, flags *copyFlags) (*priceReport, error) {
	if p.as != "" && (p.earn != "" || len(args) == 0) {
		return nil, &callError{errors.New("--as takes the earnings of another setting of a BOOK: name the book, and leave out --earn")}
	}
	made, err := flags.make(c, args)
	if err != nil {
		return nil, err
	}
	if made.terms == nil {
		return nil, &callError{errors.New("no printer's terms are known: name them with --printer FILE.toml, or as printer in book.toml; bodkin new writes an example")}
	}
	t, charge := made.terms, made.copy.Charge
	if charge == nil {
		for _, o := range made.copy.Objections {
			if o.Code == "no-charge" {
				return nil, errors.New(o.String())
			}
		}
		return nil, fmt.Errorf("%s has no charges: add [[charge]]", t.Path)
	}
	r := &priceReport{Title: made.title, Author: made.author, Setting: made.name, Edition: reportCopy(t, made.copy),
		Basis: t.Earnings.String(), heading: made.heading()}
	nothing, err := t.Money("0")
	if err != nil {
		return nil, err
	}
	if r.least, err = t.ListFor(nothing, *charge); err != nil {
		return nil, fmt.Errorf("%s: %w", t.Path, err)
	}
	r.Least = edition.Plain(r.least)
	if list := made.copy.List; list != nil {
		if err := r.add(t, *charge, *list, "list", "list price"); err != nil {
			return nil, err
		}
	}
	if p.earn != "" {
		wanted, err := t.Money(p.earn)
		if err != nil {
			return nil, &callError{fmt.Errorf("--earn: %w", err)}
		}
		return r, p.find(r, t, *charge, wanted, "earn", "to earn "+edition.Show(wanted))
	}
	if p.as != "" {
		wanted, err := p.other(c, made.job, flags, r)
		if err != nil {
			return nil, err
		}
		return r, p.find(r, t, *charge, wanted, "as", fmt.Sprintf("to earn what %s earns", p.as))
	}
	if p.ending != "" {
		return r, p.end(r, t, *charge, r.least, "least that pays, ending")
	}
	return r, nil
}

// find adds the price that earns what is wanted.
func (p *pricing) find(r *priceReport, t *edition.Terms, charge, wanted edition.Money, why, words string) error {
	list, err := t.ListFor(wanted, charge)
	if err != nil {
		return err
	}
	if err := r.add(t, charge, list, why, words); err != nil || p.ending == "" {
		return err
	}
	return p.end(r, t, charge, list, "the next ending")
}

// end adds the next price that ends as is wanted.
func (p *pricing) end(r *priceReport, t *edition.Terms, charge, list edition.Money, words string) error {
	ends, err := t.ToEnd(list, p.ending)
	if err != nil {
		return &callError{fmt.Errorf("--ending: %w", err)}
	}
	return r.add(t, charge, ends, "ending", words+" in "+p.ending)
}

// other sets the book in the setting of --as and returns what a copy of it
// earns, in the currency of the report.
func (p *pricing) other(c *cobra.Command, j *job, flags *copyFlags, r *priceReport) (edition.Money, error) {
	var none edition.Money
	s, name, err := j.named(p.as)
	if err != nil {
		return none, &callError{err}
	}
	that, err := flags.set(c, j, s, name)
	if err != nil {
		return none, fmt.Errorf("--as %s: %w", p.as, err)
	}
	switch {
	case that.copy.Earnings == nil && that.copy.List == nil:
		return none, &callError{fmt.Errorf("--as %s: its list price is not known: write list under [edition] or [editions.%[1]s], or --list for both", p.as)}
	case that.copy.Earnings == nil:
		return none, fmt.Errorf("--as %s: its printer has no charge for it", p.as)
	case that.copy.Earnings.CurrencyCode() != r.Edition.Currency:
		return none, fmt.Errorf("--as %s: it is reckoned in another currency", p.as)
	}
	r.As = &asReport{Setting: p.as, Edition: reportCopy(that.terms, that.copy)}
	return *that.copy.Earnings, nil
}

// add adds a list price to the report.
func (r *priceReport) add(t *edition.Terms, charge, list edition.Money, why, words string) error {
	earn, err := t.Earn(list, charge)
	if err != nil {
		return fmt.Errorf("%s: %w", t.Path, err)
	}
	row := priceRow{For: why, List: edition.Plain(list), Earnings: edition.Plain(earn), words: words, list: list, earnings: earn}
	for _, n := range someCopies {
		sum, err := earn.Mul(fmt.Sprint(n))
		if err != nil {
			return err
		}
		row.sums = append(row.sums, sum)
		row.Copies = append(row.Copies, copies{n, edition.Plain(sum)})
	}
	r.Prices = append(r.Prices, row)
	return nil
}

func (r *priceReport) print(w io.Writer) error {
	if _, err := fmt.Fprintln(w, r.heading); err != nil {
		return err
	}
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	row := func(name, format string, args ...any) {
		fmt.Fprintf(t, "  %s\t%s\n", name, fmt.Sprintf(format, args...))
	}
	e := r.Edition
	row("pages", "%d on %s, %s, %s ink", e.Pages, e.Stock, bound(e.Binding), e.Ink)
	row("charge", "%s a copy, by the terms of %s", edition.Show(*e.copy.Charge), e.Printer)
	row("you keep", "%s", r.Basis)
	row("pays from", "%s: under this list price each copy loses money", edition.Show(r.least))
	if r.As != nil {
		that := r.As.Edition
		row(r.As.Setting, "%d pages, a charge of %s, and %s a copy earned at %s", that.Pages, edition.Show(*that.copy.Charge),
			edition.Show(*that.copy.Earnings), edition.Show(*that.copy.List))
	}
	printObjections(e.Objections, row)
	if err := t.Flush(); err != nil {
		return err
	}
	if len(r.Prices) == 0 {
		fmt.Fprintln(w, "Name a list price with --list 13.99, or what a copy should earn with --earn 4.25.")
	} else {
		fmt.Fprintln(w)
		if err := r.table(w); err != nil {
			return err
		}
		fmt.Fprintln(w)
	}
	_, err := fmt.Fprintln(w, `Taxes are left out: take them off a list price that includes them, and off what you earn.
Rounded to the smallest coin: the charge to the nearest, earnings down, list prices that are found up.
The printer's own quote decides. Order a physical proof before the first sale.`)
	return err
}

// table prints the list prices and what they leave.
func (r *priceReport) table(w io.Writer) error {
	head := []string{"", "list price", "a copy earns"}
	for _, n := range someCopies {
		head = append(head, fmt.Sprintf("%d copies", n))
	}
	rows := [][]string{head}
	for _, p := range r.Prices {
		cells := []string{p.words, edition.Show(p.list), edition.Show(p.earnings)}
		for _, sum := range p.sums {
			cells = append(cells, edition.Show(sum))
		}
		rows = append(rows, cells)
	}
	wide := make([]int, len(head))
	for _, cells := range rows {
		for i, c := range cells {
			wide[i] = max(wide[i], utf8.RuneCountInString(c))
		}
	}
	for _, cells := range rows {
		line := "  " + cells[0] + strings.Repeat(" ", wide[0]-utf8.RuneCountInString(cells[0]))
		for i, c := range cells[1:] {
			line += strings.Repeat(" ", 2+wide[i+1]-utf8.RuneCountInString(c)) + c
		}
		if _, err := fmt.Fprintln(w, line); err != nil {
			return err
		}
	}
	return nil
}
