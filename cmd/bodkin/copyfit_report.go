package main

import (
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"text/tabwriter"

	"bodkin/cmd/bodkin/internal/copyfit"
	"bodkin/cmd/bodkin/internal/edition"
	"bodkin/typeset/length"
)

// copyfitReport is what copyfit prints; its JSON keys are stable.
type copyfitReport struct {
	Title    string          `json:"title"`
	Author   string          `json:"author"`
	Words    int             `json:"words"`
	Wanted   string          `json:"wanted"`
	Now      copyfitRow      `json:"now"`
	PageEnds *pageEndsReport `json:"pageEnds"` // with the type as it is
	Best     []copyfitRow    `json:"best"`
	Nearest  *copyfitRow     `json:"nearest,omitempty"` // where nothing is as wanted
	Binding  []string        `json:"binding,omitempty"` // the limits that hold it there
	Frontier []copyfitRow    `json:"frontier"`
	Tried    int             `json:"tried"`
	Of       int             `json:"of"`          // settings within the limits
	Down     int             `json:"exactDownTo"` // the readability down to which the frontier is that of all settings
	Caution  string          `json:"caution"`

	met     bool // now is as wanted
	fewer   bool // pages than now are wanted
	space   *copyfit.Space
	printer offer
}

// pageEndsReport is what the book comes to with page ends at the fewest pages.
type pageEndsReport struct {
	Pages  int  `json:"pages"`
	Saved  int  `json:"saved"`
	Fewest bool `json:"already"` // they are so now
	Meets  bool `json:"meets"`   // that is as wanted
}

// copyfitRow is a setting and what the book comes to in it.
type copyfitRow struct {
	Pages      int           `json:"pages"`
	Difference int           `json:"difference"` // from now
	Score      copyfit.Score `json:"readability"`
	Trim       string        `json:"trim"`
	Face       string        `json:"face"`
	Size       float64       `json:"size"`
	Leading    float64       `json:"leading"`
	Back       float64       `json:"back"`
	ForeEdge   float64       `json:"foreEdge"`
	Head       float64       `json:"head"`
	Foot       float64       `json:"foot"`
	PageEnds   string        `json:"pageEnds"`
	Characters int           `json:"characters"` // in a full line
	Lines      int           `json:"lines"`      // on a full page
	Charge     string        `json:"charge,omitempty"`
	Earnings   string        `json:"earnings,omitempty"`
	Changes    []string      `json:"changes"`

	set  copyfit.Set
	copy *edition.Copy // nil without terms
}

// written writes an amount, "" for none.
func written(m *edition.Money, how func(edition.Money) string) string {
	if m == nil {
		return ""
	}
	return how(*m)
}

// row tells of a setting that was set.
func (r *copyfitReport) row(s copyfit.Set) (copyfitRow, error) {
	m := &s.Setting.Margins
	row := copyfitRow{Pages: s.Pages, Difference: s.Pages - r.Now.Pages, Score: s.Score, Trim: s.Setting.Trim.String(), Face: s.Setting.Face,
		Size: points(s.Setting.Size.Length), Leading: points(s.Leading), Back: points(s.Back), ForeEdge: points(m.ForeEdge.Length),
		Head: points(m.Head.Length), Foot: points(m.Foot.Length), PageEnds: s.Setting.Pages.String(), Characters: s.Characters, Lines: s.Rows,
		Changes: r.space.Changes(s), set: s}
	if r.Now.Pages == 0 {
		row.Difference = 0 // this is it
	}
	if r.printer.terms == nil {
		return row, nil
	}
	var err error
	if row.copy, err = r.printer.copy(s.Setting.Trim, s.Pages); err != nil {
		return row, err
	}
	row.Charge, row.Earnings = written(row.copy.Charge, edition.Plain), written(row.copy.Earnings, edition.Plain)
	return row, nil
}

// fill takes in what was found.
func (r *copyfitReport) fill(found *copyfit.Result) error {
	rows := func(sets []copyfit.Set) ([]copyfitRow, error) {
		all := make([]copyfitRow, len(sets))
		for i, s := range sets {
			var err error
			if all[i], err = r.row(s); err != nil {
				return nil, err
			}
		}
		return all, nil
	}
	var err error
	if r.Best, err = rows(found.Best); err != nil {
		return err
	}
	if r.Frontier, err = rows(found.Frontier); err != nil {
		return err
	}
	r.Tried, r.Of, r.Down, r.Caution = len(found.All), found.Of, found.Down, caution
	if found.Nearest == nil {
		return nil
	}
	nearest, err := r.row(*found.Nearest)
	r.Nearest = &nearest
	r.Binding = r.space.Binding(*found.Nearest, nearest.Difference > 0)
	return err
}

// missed is the error of a book that cannot be fitted.
func (r *copyfitReport) missed() error {
	if r.Nearest == nil {
		return fmt.Errorf("no setting within the limits can be set")
	}
	mend := "no limit holds it there: other settings may jump over what is wanted"
	if len(r.Binding) > 0 {
		mend = "it stands at " + strings.Join(r.Binding, ", ") + "; allow more there, or try other trims"
	}
	return fmt.Errorf("no setting within the limits is as wanted; the nearest makes %d pages, and %s", r.Nearest.Pages, mend)
}

// print writes the report for a person.
func (r *copyfitReport) print(w io.Writer) error {
	title := r.Title
	if r.Author != "" {
		title += ", " + r.Author
	}
	fmt.Fprintf(w, "%s: %s words\n", title, thousands(r.Words))
	fmt.Fprintf(w, "Now     %d pages, readability %d of 1000\n", r.Now.Pages, r.Now.Score.Total)
	fmt.Fprintf(w, "Wanted  %s\n", r.Wanted)
	if r.met {
		fmt.Fprintln(w, "        The book is so now. Of all that are, these read best:")
	}
	if r.fewer {
		fmt.Fprintf(w, "First   %s\n", r.PageEnds.words())
	}
	if r.fewer && r.PageEnds.Meets && r.PageEnds.Saved > 0 {
		fmt.Fprintln(w, "        That alone is enough: write pages = \"fewest\" under [setting] in book.toml.")
	}
	fmt.Fprintln(w)
	var err error
	switch {
	case r.Nearest != nil:
		fmt.Fprintln(w, "No setting within the limits is as wanted. The nearest:")
		err = r.table(w, []copyfitRow{*r.Nearest}, true)
	default:
		err = r.table(w, r.Best, true)
	}
	if err != nil {
		return err
	}
	front := slices.DeleteFunc(slices.Clone(r.Frontier), func(row copyfitRow) bool { return len(row.Changes) == 0 }) // now stands above it
	slices.SortStableFunc(front, func(a, b copyfitRow) int {                                                         // from now on
		if r.fewer || r.met {
			return b.Pages - a.Pages
		}
		return a.Pages - b.Pages
	})
	if len(front) > 0 {
		fmt.Fprintf(w, "\nWhat each number of pages costs in readability:\n")
		if err := r.table(w, thin(front), false); err != nil {
			return err
		}
	}
	what := fmt.Sprintf("%s of %s settings within the limits were set; none of the others reads as well as %d.", thousands(r.Tried), thousands(r.Of), r.Down)
	if r.Down == 0 {
		what = fmt.Sprintf("All %s settings within the limits were set.", thousands(r.Of))
	}
	fmt.Fprintf(w, `
%s
Size is that of the type, leading the step from line to line, fore-edge the outer
margin, head and foot those above and below. Readability loses points where lines
are long or short (45 to 75 characters read well, 66 are ideal: Bringhurst, 2.1.2),
letters small, lines close, the page full, and with each step from what you chose.
It is reckoned, and your eyes decide: bodkin compare shows two settings side by side.
%s
`, what, caution)
	return err
}

// words says what page ends alone do.
func (p *pageEndsReport) words() string {
	switch {
	case p.Fewest:
		return "chapters end a page sooner already where the rules allow"
	case p.Saved > 0:
		return fmt.Sprintf("page ends alone save %s: %d, with the type as it is", count(p.Saved, "page", "pages"), p.Pages)
	}
	return "page ends alone save no page"
}

// mostShown is how many rows of the frontier are printed.
const mostShown = 12

// thin leaves out rows between the first and the last, evenly.
func thin(rows []copyfitRow) []copyfitRow {
	if len(rows) <= mostShown {
		return rows
	}
	var kept []copyfitRow
	for i := range mostShown {
		kept = append(kept, rows[i*(len(rows)-1)/(mostShown-1)])
	}
	return kept
}

// table prints rows: numbered and with their changes, or plain.
func (r *copyfitReport) table(w io.Writer, rows []copyfitRow, full bool) error {
	var text strings.Builder
	t := tabwriter.NewWriter(&text, 0, 0, 2, ' ', tabwriter.AlignRight)
	heads := []string{"", "pages", "readability", "trim", "face", "size", "leading", "fore-edge", "head", "foot", "characters a line", "lines a page", "charge", "earnings"}
	all := [][]string{heads, r.cells("now", &r.Now)}
	for i := range rows {
		name := ""
		if full {
			name = strconv.Itoa(i + 1)
		}
		all = append(all, r.cells(name, &rows[i]))
	}
	shown := func(k int) bool {
		return k != 3 && k != 4 && k < 12 || slices.ContainsFunc(all[1:], func(row []string) bool {
			return row[k] != "" && (k >= 12 || row[k] != all[1][k])
		})
	}
	for _, row := range all {
		for k, cell := range row {
			if shown(k) {
				fmt.Fprint(t, cell, "\t")
			}
		}
		fmt.Fprintln(t)
	}
	if err := t.Flush(); err != nil {
		return err
	}
	for i, line := range strings.SplitAfter(text.String(), "\n") {
		fmt.Fprint(w, line)
		if full && i >= 2 && i-2 < len(rows) {
			fmt.Fprint(w, wrapped(rows[i-2].Changes))
		}
	}
	return nil
}

// wrapped writes what changes in lines of some eighty characters.
func wrapped(changes []string) string {
	const indent = "       "
	if len(changes) == 0 {
		return indent + "as it is now\n"
	}
	text, width := indent, len(indent)
	for i, c := range changes {
		if i < len(changes)-1 {
			c += ";"
		}
		if width+len(c) > 84 && i > 0 {
			text, width = text+"\n"+indent, len(indent)
		} else if i > 0 {
			c = " " + c
		}
		text, width = text+c, width+len(c)
	}
	return text + "\n"
}

func (r *copyfitReport) cells(name string, row *copyfitRow) []string {
	s := &row.set.Setting
	near := func(l length.Length) string { return edition.Near(l, s.Trim.Width.Unit).String() }
	charge, earnings := "", ""
	if row.copy != nil {
		charge, earnings = written(row.copy.Charge, edition.Show), written(row.copy.Earnings, edition.Show)
	}
	return []string{name, strconv.Itoa(row.Pages), strconv.Itoa(row.Score.Total), row.Trim, row.Face, s.Size.String(),
		length.Value{Length: row.set.Leading}.String(), near(s.Margins.ForeEdge.Length), near(s.Margins.Head.Length), near(s.Margins.Foot.Length),
		strconv.Itoa(row.Characters), strconv.Itoa(row.Lines), charge, earnings}
}

// The columns of the tables for other programs.
var copyfitColumns = []string{"table", "pages", "difference", "readability", "trim", "face", "size", "leading", "back", "fore-edge", "head", "foot",
	"page ends", "characters a line", "lines a page", "lost by line", "lost by type", "lost by leading", "lost by margins", "lost by steps",
	"charge", "earnings", "changes"}

func (row *copyfitRow) record(table string) []string {
	s := &row.Score
	return []string{table, strconv.Itoa(row.Pages), fmt.Sprintf("%+d", row.Difference), strconv.Itoa(s.Total), row.Trim, row.Face,
		number(row.Size), number(row.Leading), number(row.Back), number(row.ForeEdge), number(row.Head), number(row.Foot),
		row.PageEnds, strconv.Itoa(row.Characters), strconv.Itoa(row.Lines), strconv.Itoa(s.Line), strconv.Itoa(s.Type), strconv.Itoa(s.Leading),
		strconv.Itoa(s.Margins), strconv.Itoa(s.Steps), row.Charge, row.Earnings, strings.Join(row.Changes, "; ")}
}

// csv writes now, the best or the nearest, and the frontier.
func (r *copyfitReport) csv(w io.Writer) error {
	c := csv.NewWriter(w)
	_ = c.Write(copyfitColumns) // Flush tells
	_ = c.Write(r.Now.record("now"))
	for i := range r.Best {
		_ = c.Write(r.Best[i].record("best"))
	}
	if r.Nearest != nil {
		_ = c.Write(r.Nearest.record("nearest"))
	}
	for i := range r.Frontier {
		_ = c.Write(r.Frontier[i].record("frontier"))
	}
	c.Flush()
	return c.Error()
}

// everything writes all that was set.
func (r *copyfitReport) everything(w io.Writer, all []copyfit.Set) error {
	c := csv.NewWriter(w)
	_ = c.Write(copyfitColumns[1:])
	for _, s := range all {
		row, err := r.row(s)
		if err != nil {
			return err
		}
		_ = c.Write(row.record("")[1:])
	}
	c.Flush()
	return c.Error()
}
