package main

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"sync"
	"text/tabwriter"
	"time"

	"bodkin/typeset"

	"github.com/schollz/progressbar/v3"
	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// mostSettings is how many settings one castoff makes. A novel takes some
// hundredths of a second for each.
const mostSettings = 10_000

func castoffCommand() *cobra.Command {
	var (
		flags settingFlags
		json  bool
		asCSV bool
	)
	all := axes()
	c := &cobra.Command{
		Use:   "castoff BOOK",
		Short: "Count the pages of the book in many settings",
		Long: `Castoff sets the whole book in every combination of the trims, faces, sizes,
leadings and margins that it is given, and prints a table of pages and of what
follows from them. Nothing is estimated: each row was really set.

A list is parted by commas, a range has two points and may have a step:
  --size 10pt,10.5pt,11pt     --size 10..12/0.25     --leading 120%..135%/5%

What is not varied is as in book.toml. The first row is the book's own setting.`,
		Example: `  bodkin castoff my-book --size 10..11.5/0.5
  bodkin castoff my-book --trim 5x8in,5.25x8in,5.5x8.5in --leading 13pt..15pt
  bodkin castoff my-book --face "EB Garamond,Literata" --size 10..11 --csv > pages.csv`,
		Args: exactly("BOOK"),
		RunE: func(c *cobra.Command, args []string) error {
			if json && asCSV {
				return &callError{errors.New("--json and --csv are two forms of one table: ask for one")}
			}
			r, err := runCastoff(c, args[0], &flags, all)
			if err != nil {
				return err
			}
			switch {
			case json:
				return writeJSON(c.OutOrStdout(), r)
			case asCSV:
				return r.csv(c.OutOrStdout())
			}
			return r.print(c.OutOrStdout())
		},
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
	c.Flags().SortFlags = false
	for _, a := range all {
		c.Flags().Var(a, a.name, varied[a.name])
	}
	single := pflag.NewFlagSet("", pflag.ContinueOnError)
	flags.add(single)
	single.VisitAll(func(f *pflag.Flag) {
		if varied[f.Name] == "" {
			c.Flags().AddFlag(f)
		}
	})
	c.Flags().BoolVar(&asCSV, "csv", false, "print the table as comma-separated values")
	c.Flags().BoolVar(&json, "json", false, "print one JSON object; lengths in points")
	return c
}

// castoffReport is what castoff prints; its JSON keys are stable.
type castoffReport struct {
	Title    string       `json:"title"`
	Author   string       `json:"author"`
	Words    int          `json:"words"`
	Own      castoffRow   `json:"own"` // the book's own setting
	Settings []castoffRow `json:"settings"`
}

// castoffRow is one setting and what the book comes to in it.
type castoffRow struct {
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

	Doubts []string `json:"doubts,omitempty"` // what a reader may find hard
	Fault  string   `json:"fault,omitempty"`  // why it cannot be set
}

func runCastoff(c *cobra.Command, path string, flags *settingFlags, all []*axis) (*castoffReport, error) {
	j, err := flags.load(c.Context(), path)
	if err != nil {
		return nil, err
	}
	varied := slices.ContainsFunc(all, func(a *axis) bool { return len(a.changes) > 0 })
	if !varied {
		return nil, &callError{errors.New("nothing is varied: name what to try, as in --size 10..12/0.5")}
	}
	settings, err := combine(all, j.setting)
	if err != nil {
		return nil, &callError{err}
	}
	r := &castoffReport{Title: j.book.Title, Author: j.book.Author, Words: j.book.Words(), Settings: make([]castoffRow, len(settings))}
	own, err := j.composer.Compose(c.Context(), j.setting)
	if err != nil {
		return nil, fmt.Errorf("the book's own setting: %w", err)
	}
	r.Own = r.row(own)
	bar := showSteps(c.ErrOrStderr(), len(settings), "setting")
	defer bar.done()
	var mu sync.Mutex
	err = j.composer.Castoff(c.Context(), settings, func(i int, l *typeset.Layout, err error) error {
		var row castoffRow
		if err != nil {
			row = castoffRow{Trim: settings[i].Trim.String(), Face: settings[i].Face, Size: points(settings[i].Size.Length), Fault: err.Error()}
		} else {
			row = r.row(l)
			row.Difference = row.Pages - r.Own.Pages
		}
		mu.Lock()
		defer mu.Unlock()
		r.Settings[i] = row
		bar.step()
		return nil
	})
	if err != nil {
		return nil, err
	}
	slices.SortStableFunc(r.Settings, func(a, b castoffRow) int {
		if (a.Fault == "") != (b.Fault == "") {
			return len(a.Fault) - len(b.Fault)
		}
		return a.Pages - b.Pages
	})
	if r.Settings[0].Fault != "" {
		return nil, errors.New(r.Settings[0].Fault) // none of them can be set
	}
	return r, nil
}

// row tells what the book comes to in a layout.
func (r *castoffReport) row(l *typeset.Layout) castoffRow {
	counts, q, m := l.Counts(), l.Quality(), &l.Setting.Margins
	row := castoffRow{
		Trim: l.Setting.Trim.String(), Face: l.Setting.Face, Size: points(l.Setting.Size.Length), Leading: points(l.Block.Leading),
		Back: points(l.Back), ForeEdge: points(m.ForeEdge.Length), Head: points(m.Head.Length), Foot: points(m.Foot.Length),
		Pages: counts.Pages, Blank: counts.Blank, Characters: counts.Characters, Lines: counts.Rows, Uneven: q.Uneven,
	}
	if counts.Text > 0 {
		row.WordsPerPage = (r.Words + counts.Text/2) / counts.Text
	}
	if q.Lines > 0 {
		row.Loose = perThousand(q.Loose, q.Lines)
		row.Hyphens = perThousand(q.Hyphenated, q.Lines)
	}
	row.Doubts = doubts(&row)
	return row
}

// perThousand returns a rate to a tenth.
func perThousand(n, of int) float64 { return float64((n*20000/of+1)/2) / 10 }

// What a reader may find hard: lines outside 45 to 75 characters (R.
// Bringhurst, The Elements of Typographic Style, §2.1.2), type under 9 pt and
// leading under 115 % of the size (common practice).
const (
	leastCharacters, mostCharacters = 45, 75
	leastSize, leastLeading         = 9, 1.15
)

func doubts(row *castoffRow) []string {
	var d []string
	if n := row.Characters; n > 0 && n < leastCharacters {
		d = append(d, "short lines")
	} else if n > mostCharacters {
		d = append(d, "long lines")
	}
	if row.Size < leastSize {
		d = append(d, "small type")
	}
	if row.Leading < row.Size*leastLeading {
		d = append(d, "tight leading")
	}
	return d
}

// columns are the heads of the table.
var columns = []string{"trim", "face", "size", "leading", "back", "fore-edge", "head", "foot", "pages", "difference", "blank",
	"words a page", "characters a line", "lines a page", "loose per 1000", "hyphens per 1000", "uneven spreads", "doubts"}

func (row *castoffRow) cells() []string {
	doubt := row.Fault
	for i, d := range row.Doubts {
		if i > 0 {
			doubt += ", "
		}
		doubt += d
	}
	if row.Fault != "" {
		return append([]string{row.Trim, row.Face, number(row.Size)}, append(make([]string, len(columns)-4), doubt)...)
	}
	return []string{row.Trim, row.Face, number(row.Size), number(row.Leading), number(row.Back), number(row.ForeEdge), number(row.Head), number(row.Foot),
		strconv.Itoa(row.Pages), fmt.Sprintf("%+d", row.Difference), strconv.Itoa(row.Blank), strconv.Itoa(row.WordsPerPage),
		strconv.Itoa(row.Characters), strconv.Itoa(row.Lines), fmt.Sprintf("%.1f", row.Loose), fmt.Sprintf("%.1f", row.Hyphens), strconv.Itoa(row.Uneven), doubt}
}

func (r *castoffReport) csv(w io.Writer) error {
	c := csv.NewWriter(w)
	_ = c.Write(columns) // Flush tells
	for i := range r.Settings {
		_ = c.Write(r.Settings[i].cells())
	}
	c.Flush()
	return c.Error()
}

// print prints the table, without the columns that are alike in all rows.
func (r *castoffReport) print(w io.Writer) error {
	title := r.Title
	if r.Author != "" {
		title += ", " + r.Author
	}
	fmt.Fprintf(w, "%s: %s words\n", title, thousands(r.Words))
	rows := [][]string{r.Own.cells()}
	for i := range r.Settings {
		rows = append(rows, r.Settings[i].cells())
	}
	shown := func(k int) bool {
		if k >= 8 && k != 17 {
			return true
		}
		return slices.ContainsFunc(rows, func(row []string) bool { return row[k] != rows[0][k] })
	}
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	line := func(first string, cells []string) {
		fmt.Fprint(t, first, "\t")
		for k, cell := range cells {
			if shown(k) && k != 17 {
				fmt.Fprint(t, cell, "\t")
			}
		}
		if cells[17] != "" {
			fmt.Fprint(t, "  "+cells[17])
		}
		fmt.Fprintln(t)
	}
	heads := slices.Clone(columns)
	heads[17] = ""
	line("", heads)
	line("as it is", rows[0])
	for _, row := range rows[1:] {
		line("", row)
	}
	if err := t.Flush(); err != nil {
		return err
	}
	if slices.ContainsFunc(append([]castoffRow{r.Own}, r.Settings...), func(row castoffRow) bool { return len(row.Doubts) > 0 }) {
		fmt.Fprintln(w, "Lines of 45 to 75 characters read best (Bringhurst, §2.1.2); type under 9 pt or on less than 115 % is hard to read (common practice).")
	}
	_, err := fmt.Fprintln(w, "The printer's own template and quote decide. Order a physical proof before the first sale.")
	return err
}

// steps shows how far a work of many steps has come, with the time that it
// still takes, once it has worked for a second.
type steps struct {
	bar   *progressbar.ProgressBar
	begun time.Time
	n     int
}

// showSteps begins to count; on what is no terminal nothing is shown.
func showSteps(w io.Writer, of int, doing string) *steps {
	s := &steps{begun: time.Now()}
	if isTerminal(w) {
		s.bar = progressbar.NewOptions(of, progressbar.OptionSetWriter(w), progressbar.OptionSetDescription(doing),
			progressbar.OptionShowCount(), progressbar.OptionSetPredictTime(true), progressbar.OptionClearOnFinish())
	}
	return s
}

func (s *steps) step() {
	if s.n++; s.bar != nil && time.Since(s.begun) > time.Second {
		_ = s.bar.Set(s.n)
	}
}

func (s *steps) done() {
	if s.bar != nil {
		_ = s.bar.Clear()
	}
}
