package main

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"bodkin/cmd/bodkin/internal/edition"
	"bodkin/typeset"
)

// comparison is what compare prints; its JSON keys are stable.
type comparison struct {
	Title    string      `json:"title"`
	Author   string      `json:"author"`
	Words    int         `json:"words"`
	Editions []*compared `json:"editions"` // what differs is told from the first
	File     string      `json:"file,omitempty"`
	Sheet    string      `json:"sheet,omitempty"`

	job   *job
	notes []string // of the sheet
}

// compared is an edition and what the book comes to in it.
type compared struct {
	Name    string          `json:"name"`
	Setting typeset.Setting `json:"setting"`

	Width    float64 `json:"width"`
	Height   float64 `json:"height"`
	Size     float64 `json:"size"`
	Leading  float64 `json:"leading"`
	Back     float64 `json:"back"`
	ForeEdge float64 `json:"foreEdge"`
	Head     float64 `json:"head"`
	Foot     float64 `json:"foot"`

	Pages        int     `json:"pages"`
	Difference   int     `json:"difference"`
	Blank        int     `json:"blank"`
	WordsPerPage int     `json:"wordsPerPage"`
	Characters   int     `json:"characters"`
	Lines        int     `json:"lines"`
	Loose        float64 `json:"loose"`   // per thousand lines
	Hyphens      float64 `json:"hyphens"` // per thousand lines
	Uneven       int     `json:"unevenSpreads"`

	Copy   *copyReport `json:"copy"`
	Doubts []string    `json:"doubts,omitempty"` // what a reader may find hard

	setting typeset.Setting
	printer offer
	layout  *typeset.Layout
	copy    *edition.Copy
}

// measure fills in what the layout and the copy of an edition come to.
func (e *compared) measure(r *comparison) {
	l, c := e.layout, e.copy
	counts, q, m := l.Counts(), l.Quality(), &l.Setting.Margins
	e.Setting = l.Setting
	e.Width, e.Height = points(l.Trim.Width), points(l.Trim.Height)
	e.Size, e.Leading = points(l.Setting.Size.Length), points(l.Block.Leading)
	e.Back, e.ForeEdge, e.Head, e.Foot = points(l.Back), points(m.ForeEdge.Length), points(m.Head.Length), points(m.Foot.Length)
	e.Pages, e.Blank, e.Characters, e.Lines, e.Uneven = counts.Pages, counts.Blank, counts.Characters, counts.Rows, q.Uneven
	e.Difference = e.Pages - r.Editions[0].Pages
	if counts.Text > 0 {
		e.WordsPerPage = (r.Words + counts.Text/2) / counts.Text
	}
	if q.Lines > 0 {
		e.Loose, e.Hyphens = perThousand(q.Loose, q.Lines), perThousand(q.Hyphenated, q.Lines)
	}
	e.Copy = reportCopy(e.printer.terms, c)
	e.Doubts = doubts(&castoffRow{Characters: e.Characters, Size: e.Size, Leading: e.Leading})
}

// row is a figure of all editions; differing tells whether they are not alike.
type row struct {
	figure
	cells, by []string
	differing bool
}

// rows returns the figures that there is anything to tell of.
func (r *comparison) rows() []row {
	var rows []row
	for _, f := range r.figures() {
		one, any := row{figure: f}, false
		for i, e := range r.Editions {
			cell, by := f.show(e), ""
			if i > 0 && f.differ != nil {
				by = f.differ(e, r.Editions[0])
			}
			any = any || cell != ""
			if cell == "" {
				cell = "–"
			}
			one.differing = one.differing || i > 0 && cell != one.cells[0]
			one.cells, one.by = append(one.cells, cell), append(one.by, by)
		}
		if any {
			rows = append(rows, one)
		}
	}
	return rows
}

// print prints the table, without the rows in which all agree.
func (r *comparison) print(w io.Writer) error {
	title := r.Title
	if r.Author != "" {
		title += ", " + r.Author
	}
	fmt.Fprintf(w, "%s: %s words\n", title, thousands(r.Words))
	t := tabwriter.NewWriter(w, 0, 0, 3, ' ', 0)
	for _, e := range r.Editions {
		fmt.Fprintf(t, "\t%s", e.Name)
	}
	fmt.Fprintln(t)
	for _, row := range r.rows() {
		if !row.differing && row.name != "pages" {
			continue
		}
		fmt.Fprintf(t, "  %s", row.name)
		for i, cell := range row.cells {
			if row.by[i] != "" {
				cell += " (" + row.by[i] + ")"
			}
			fmt.Fprintf(t, "\t%s", cell)
		}
		fmt.Fprintln(t)
	}
	if err := t.Flush(); err != nil {
		return err
	}
	for _, s := range r.remarks() {
		if s != "" {
			fmt.Fprintln(w, s)
		}
	}
	if r.File != "" {
		fmt.Fprintf(w, "The page is in %s: open it in a browser.\n", r.File)
	}
	if r.Sheet != "" {
		fmt.Fprintf(w, "The sheet is in %s: print it at 100 %%, actual size.\n", r.Sheet)
	}
	for _, n := range r.notes {
		fmt.Fprintln(w, n)
	}
	_, err := fmt.Fprintln(w, "Thickness and money are estimates. "+caution)
	return err
}

// remarks are what must be said beside the figures.
func (r *comparison) remarks() []string {
	var said []string
	hard := false
	for _, e := range r.Editions {
		for _, o := range e.copy.Objections {
			said = append(said, fmt.Sprintf("%s: %s.", e.Name, o))
		}
		if len(e.Doubts) > 0 {
			said = append(said, fmt.Sprintf("%s: %s.", e.Name, strings.Join(e.Doubts, ", ")))
			hard = true
		}
		if e.layout.Unsettled {
			said = append(said, e.Name+": no back margin agrees with the number of pages it makes; the larger was kept.")
		}
	}
	if hard {
		said = append(said, doubtRules)
	}
	return append(said, r.paper())
}

// doubtRules says whose rules make a doubt.
const doubtRules = "Lines of 45 to 75 characters read best (Bringhurst, §2.1.2); type under 9 pt or on less than 115 % is hard to read (common practice)."

// paper says on what stock the spine was reckoned; "" where the table does.
func (r *comparison) paper() string {
	first := r.Editions[0].copy
	for _, e := range r.Editions {
		if e.copy.Stock.Name != first.Stock.Name {
			return ""
		}
	}
	if first.Supposed {
		return "The spine is that of " + first.Stock.Name + ": no printer's terms are known; --printer names them."
	}
	return "The spine is that of " + first.Stock.Name + "."
}
