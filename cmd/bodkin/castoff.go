package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"bodkin/cmd/bodkin/internal/edition"
	"bodkin/typeset"
	"bodkin/typeset/length"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// mostSettings is how many settings one castoff makes. A novel takes some
// hundredths of a second for each.
const mostSettings = 10_000

// The signatures that sheets are folded to: of 16 pages where nothing is said,
// common practice.
const (
	commonSignature               = 16
	leastSignature, mostSignature = 4, 128
)

// castoffCall is what a call of the command asks for.
type castoffCall struct {
	setting   settingFlags
	edition   editionFlags
	keep      keepFlags
	axes      []*axis
	row       int // that is kept
	signature int // pages
	csv, json bool
	output    string
}

func castoffCommand() *cobra.Command {
	f := &castoffCall{axes: axes()}
	c := &cobra.Command{
		Use:   "castoff BOOK",
		Short: "Count the pages of the book in many settings",
		Long: `Castoff sets the whole book in every combination of the trims, faces, sizes,
leadings and margins that it is given, and prints a table of pages and of what
follows from them. Nothing is estimated: each row was really set.

A list is parted by commas, a range has two points and may have a step:
  --size 10pt,10.5pt,11pt     --size 10..12/0.25     --leading 120%..135%/5%

What is not varied is as in book.toml. The row called now is the book's own
setting, from which differences are told. With a printer's terms each row has its charge;
several printers make a row each.

The rows are numbered. A row that you like can be kept: give the same call again
with --keep NAME --row N, and book.toml has it as a setting of that name.`,
		Example: `  bodkin castoff my-book --size 10..11.5/0.5
  bodkin castoff my-book --trim 5x8in,5.25x8in,5.5x8.5in --leading 13pt..15pt
  bodkin castoff my-book --size 10..11/0.5 --printer one.toml,other.toml --list 13.99
  bodkin castoff my-book --face "EB Garamond,Literata" --size 10..11 -o pages.csv
  bodkin castoff my-book --size 10..11.5/0.5 --keep slim --row 2`,
		Args: exactly("BOOK"),
		RunE: func(c *cobra.Command, args []string) error { return f.run(c, args[0]) },
	}
	varied := map[string]string{
		"trim":      "the finished pages to try, `VALUES` as 5x8in,129x198mm, or " + typeset.TrimNames(),
		"face":      "the faces to try, `VALUES` as \"EB Garamond,Literata\"; bodkin faces lists them",
		"size":      "the sizes of type to try, `VALUES` as 10..12/0.25 or 10pt,11pt",
		"leading":   "the leadings to try, `VALUES` as 13pt..15pt/0.5pt, 120%..135%/5% or \"1.1 lines,1.2 lines\"",
		"back":      "the margins at the binding to try, `VALUES`; auto grows with the number of pages",
		"fore-edge": "the outer margins to try, `VALUES`",
		"head":      "the margins above the text to try, `VALUES`",
		"foot":      "the margins below the text to try, `VALUES`",
	}
	flags := c.Flags()
	flags.SortFlags = false
	for _, a := range f.axes {
		flags.Var(a, a.name, varied[a.name])
	}
	f.edition.add(flags)
	flags.IntVar(&f.signature, "signature", commonSignature, "tell how full the last signature is, of `N` pages")
	f.keep.add(flags, "the setting of a row")
	flags.IntVar(&f.row, "row", 0, "--keep writes the setting of row `N`")
	flags.StringVarP(&f.output, "output", "o", "", "write the whole table to `FILE`.csv or FILE.json")
	flags.BoolVar(&f.csv, "csv", false, "print comma-separated values; lengths in points")
	flags.BoolVar(&f.json, "json", false, "print one JSON object; lengths in points")
	single := pflag.NewFlagSet("", pflag.ContinueOnError)
	f.setting.add(single)
	single.VisitAll(func(one *pflag.Flag) {
		if varied[one.Name] == "" {
			flags.AddFlag(one)
		}
	})
	return c
}

// castoffReport is what castoff prints; its JSON keys are stable.
type castoffReport struct {
	Title     string       `json:"title"`
	Author    string       `json:"author"`
	Words     int          `json:"words"`
	Signature int          `json:"signature"` // pages
	Own       castoffRow   `json:"own"`       // the book's own setting
	Settings  []castoffRow `json:"settings"`
}

// castoffRow is one setting, with one printer, and what the book comes to in
// it.
type castoffRow struct {
	Row      int     `json:"row"` // from 1; 0 is the book's own setting
	Trim     string  `json:"trim"`
	Face     string  `json:"face"`
	Size     float64 `json:"size"`
	Leading  float64 `json:"leading"`
	Back     float64 `json:"back"`
	ForeEdge float64 `json:"foreEdge"`
	Head     float64 `json:"head"`
	Foot     float64 `json:"foot"`

	Pages        int     `json:"pages"`
	Difference   int     `json:"difference"` // from the book's own setting
	Blank        int     `json:"blank"`
	WordsPerPage int     `json:"wordsPerPage"`
	Characters   int     `json:"characters"` // in a full line
	Lines        int     `json:"lines"`      // on a full page
	Loose        float64 `json:"loose"`      // per thousand lines
	Hyphens      float64 `json:"hyphens"`    // per thousand lines
	Uneven       int     `json:"unevenSpreads"`

	Last *lastSignature `json:"lastSignature,omitempty"`

	Edition          *copyReport `json:"edition,omitempty"`
	ChargeDifference string      `json:"chargeDifference,omitempty"` // from the book's own setting

	Doubts []string `json:"doubts,omitempty"` // what a reader may find hard
	Fault  string   `json:"fault,omitempty"`  // why it cannot be set

	setting typeset.Setting
	back    length.Length
}

// lastSignature is the last of the signatures that a book is folded from.
type lastSignature struct {
	Used int `json:"used"` // pages; all of them where it is full
	Free int `json:"free"`
}

// check complains of a call that contradicts itself.
func (f *castoffCall) check(path string) error {
	form := ""
	if f.output != "" {
		form = strings.ToLower(filepath.Ext(f.output))
	}
	switch {
	case f.json && f.csv:
		return &callError{errors.New("--json and --csv are two forms of one table: ask for one")}
	case f.output != "" && form != ".csv" && form != ".json":
		return &callError{fmt.Errorf("-o %s: the file's name must end in .csv or .json", f.output)}
	case f.json && form == ".csv", f.csv && form == ".json":
		return &callError{fmt.Errorf("-o %s: the end of its name says another form than the flag", f.output)}
	case f.signature < leastSignature || f.signature > mostSignature || f.signature%2 != 0:
		return &callError{fmt.Errorf("--signature %d: signatures have an even number of pages from %d to %d", f.signature, leastSignature, mostSignature)}
	case !slices.ContainsFunc(f.axes, func(a *axis) bool { return len(a.changes) > 0 }) && len(f.edition.printers) < 2:
		return &callError{errors.New("nothing is varied: name what to try, as in --size 10..12/0.5")}
	case f.row != 0 && f.keep.name == "":
		return &callError{errors.New("--row says which row to keep: add --keep NAME")}
	}
	return f.keep.check(path)
}

func (f *castoffCall) run(c *cobra.Command, path string) error {
	if err := f.check(path); err != nil {
		return err
	}
	r, err := f.castoff(c, path)
	if err != nil {
		return err
	}
	out := c.OutOrStdout()
	switch {
	case f.output != "":
		write := r.csv
		if strings.EqualFold(filepath.Ext(f.output), ".json") {
			write = func(w io.Writer) error { return writeJSON(w, r) }
		}
		if err := writeWhole(f.output, write); err != nil {
			return err
		}
		err = r.print(out)
	case f.json:
		err = writeJSON(out, r)
	case f.csv:
		err = r.csv(out)
	default:
		err = r.print(out)
	}
	if err != nil || f.keep.name == "" {
		return err
	}
	row := &r.Settings[f.row-1]
	if row.Fault != "" {
		return fmt.Errorf("row %d cannot be kept: %s", f.row, row.Fault)
	}
	if f.setting.fonts != "" {
		fmt.Fprintf(c.ErrOrStderr(), "The setting does not hold the folder of --fonts: write it into book.toml as fonts, under [book].\n")
	}
	return f.keep.keep(c.ErrOrStderr(), path, fmt.Sprintf("row %d", f.row), row.setting)
}

// castoff sets the book in all settings that the call asks for.
func (f *castoffCall) castoff(c *cobra.Command, path string) (*castoffReport, error) {
	j, err := f.setting.load(c.Context(), path)
	if err != nil {
		return nil, err
	}
	offers, err := f.edition.all(j, f.setting.name)
	if err != nil {
		return nil, err
	}
	if f.output != "" {
		if err := (output{f.output, filepath.Ext(f.output), "-o"}).check(j.inputs); err != nil {
			return nil, err
		}
	}
	settings, err := combine(f.axes, j.setting, len(offers))
	if err != nil {
		return nil, &callError{err}
	}
	for i, s := range settings {
		if i > 0 && s.Face == settings[i-1].Face {
			continue
		}
		if _, err := j.faces.Face(s.Face, 0); err != nil {
			return nil, &callError{err}
		}
	}
	n := len(settings) * len(offers)
	if f.keep.name != "" {
		switch {
		case f.row == 0 && n == 1:
			f.row = 1
		case f.row == 0:
			return nil, &callError{fmt.Errorf("--keep needs --row N, the number of a row of the table, from 1 to %d", n)}
		case f.row < 0 || f.row > n:
			return nil, &callError{fmt.Errorf("--row %d: the table has rows 1 to %d", f.row, n)}
		}
	}
	r := &castoffReport{Title: j.book.Title, Author: j.book.Author, Words: j.book.Words(), Signature: f.signature}
	bar := showSteps(c.ErrOrStderr(), n, "setting")
	defer bar.done()
	return r, r.fill(c.Context(), j, offers, settings, bar.step)
}

// fill sets the book: in its own setting with the first printer, and in each
// setting with each printer.
func (r *castoffReport) fill(ctx context.Context, j *job, offers []offer, settings []typeset.Setting, step func()) error {
	var all []typeset.Setting
	for _, o := range offers {
		for _, s := range settings {
			s.Press = o.press
			all = append(all, s)
		}
	}
	own := j.setting
	own.Press = all[0].Press
	l, err := j.composer.Compose(ctx, own)
	if err != nil {
		return fmt.Errorf("the book's own setting: %w", err)
	}
	if r.Own, err = r.row(l, offers[0]); err != nil {
		return err
	}
	r.Settings = make([]castoffRow, len(all))
	var mu sync.Mutex
	err = j.composer.Castoff(ctx, all, func(i int, l *typeset.Layout, err error) error {
		row := castoffRow{Trim: all[i].Trim.String(), Face: all[i].Face, Size: points(all[i].Size.Length), setting: all[i]}
		if err != nil {
			row.Fault = err.Error()
		} else if row, err = r.row(l, offers[i/len(settings)]); err != nil {
			return err
		}
		mu.Lock()
		defer mu.Unlock()
		r.Settings[i] = row
		step()
		return nil
	})
	if err != nil {
		return err
	}
	r.sort()
	if r.Settings[0].Fault != "" {
		return errors.New(r.Settings[0].Fault) // none of them can be set
	}
	return r.compare()
}

// sort puts the fewest pages first, of as many the least charge, and what
// cannot be set last. Then the rows are numbered.
func (r *castoffReport) sort() {
	slices.SortStableFunc(r.Settings, func(a, b castoffRow) int {
		if (a.Fault == "") != (b.Fault == "") {
			return strings.Compare(a.Fault, b.Fault)
		}
		return cmp.Or(cmp.Compare(a.Pages, b.Pages), byCharge(a.Edition, b.Edition))
	})
	for i := range r.Settings {
		r.Settings[i].Row = i + 1
	}
}

// byCharge orders copies whose charges are in one currency.
func byCharge(a, b *copyReport) int {
	if a == nil || b == nil || a.copy.Charge == nil || b.copy.Charge == nil {
		return 0
	}
	n, err := a.copy.Charge.Cmp(*b.copy.Charge)
	if err != nil {
		return strings.Compare(a.Currency, b.Currency)
	}
	return n
}

// compare tells how each row differs from the book's own setting.
func (r *castoffReport) compare() error {
	own := r.Own.Edition.copy.Charge
	for i := range r.Settings {
		row := &r.Settings[i]
		if row.Fault != "" {
			continue
		}
		row.Difference = row.Pages - r.Own.Pages
		charge := row.Edition.copy.Charge
		if own == nil || charge == nil || own.CurrencyCode() != charge.CurrencyCode() {
			continue
		}
		more, err := charge.Sub(*own)
		if err != nil {
			return err
		}
		row.ChargeDifference = edition.Plain(more)
	}
	return nil
}

// row tells what the book comes to in a layout, in print by an offer.
func (r *castoffReport) row(l *typeset.Layout, o offer) (castoffRow, error) {
	counts, q, m := l.Counts(), l.Quality(), &l.Setting.Margins
	row := castoffRow{
		Trim: l.Setting.Trim.String(), Face: l.Setting.Face, Size: points(l.Setting.Size.Length), Leading: points(l.Block.Leading),
		Back: points(l.Back), ForeEdge: points(m.ForeEdge.Length), Head: points(m.Head.Length), Foot: points(m.Foot.Length),
		Pages: counts.Pages, Blank: counts.Blank, Characters: counts.Characters, Lines: counts.Rows, Uneven: q.Uneven,
		setting: l.Setting, back: l.Back,
	}
	used := (counts.Pages-1)%r.Signature + 1
	row.Last = &lastSignature{used, r.Signature - used}
	if counts.Text > 0 {
		row.WordsPerPage = (r.Words + counts.Text/2) / counts.Text
	}
	if q.Lines > 0 {
		row.Loose = perThousand(q.Loose, q.Lines)
		row.Hyphens = perThousand(q.Hyphenated, q.Lines)
	}
	row.Doubts = doubts(&row)
	made, err := o.terms.Copy(l.Setting.Trim, counts.Pages, o.choice)
	if err != nil {
		return row, err
	}
	made.Objections = append(made.Objections, o.terms.Interior(l)...)
	row.Edition = reportCopy(o.terms, made)
	return row, nil
}

// perThousand returns a rate to a tenth.
func perThousand(n, of int) float64 { return float64((n*20000/of+1)/2) / 10 }
