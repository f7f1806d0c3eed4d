package main

import (
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"bodkin/cmd/bodkin/internal/edition"
	"bodkin/typeset"
	"bodkin/typeset/length"
)

// csvColumns are the heads of the comma-separated table; they are stable.
var csvColumns = []string{"row", "trim", "face", "size", "leading", "back", "fore-edge", "head", "foot", "pages", "difference", "blank",
	"words a page", "characters a line", "lines a page", "loose per 1000", "hyphens per 1000", "uneven spreads",
	"signature", "used of the last", "free of the last", "printer", "stock", "binding", "ink", "block", "spine", "grams",
	"currency", "charge", "charge difference", "list price", "earnings", "doubts", "objections", "fault"}

// csvCells are the cells of a row below csvColumns.
func (r *castoffReport) csvCells(row *castoffRow) []string {
	cells := []string{strconv.Itoa(row.Row), row.Trim, row.Face, number(row.Size)}
	if row.Fault != "" {
		cells = append(cells, make([]string, len(csvColumns)-len(cells))...)
		cells[len(cells)-1] = row.Fault
		return cells
	}
	e := row.Edition
	var objections []string
	for _, o := range e.Objections {
		objections = append(objections, o.String())
	}
	return append(cells, number(row.Leading), number(row.Back), number(row.ForeEdge), number(row.Head), number(row.Foot),
		strconv.Itoa(row.Pages), strconv.Itoa(row.Difference), strconv.Itoa(row.Blank), strconv.Itoa(row.WordsPerPage),
		strconv.Itoa(row.Characters), strconv.Itoa(row.Lines), number(row.Loose), number(row.Hyphens), strconv.Itoa(row.Uneven),
		strconv.Itoa(r.Signature), strconv.Itoa(row.Last.Used), strconv.Itoa(row.Last.Free),
		e.Printer, e.Stock, e.Binding, e.Ink, number(e.Block), number(e.Spine), some(e.Grams),
		e.Currency, e.Charge, row.ChargeDifference, e.List, e.Earnings, strings.Join(row.Doubts, "; "), strings.Join(objections, "; "), "")
}

// some writes a number that may not be known.
func some(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

// csv writes the book's own setting and all others.
func (r *castoffReport) csv(w io.Writer) error {
	c := csv.NewWriter(w)
	_ = c.Write(csvColumns) // Flush tells
	_ = c.Write(r.csvCells(&r.Own))
	for i := range r.Settings {
		_ = c.Write(r.csvCells(&r.Settings[i]))
	}
	c.Flush()
	return c.Error()
}

// column is a column of the table that a person reads.
type column struct {
	head   [2]string // one above the other
	alike  string    // what is said of it where it is alike in all rows, around the cell
	figure bool      // it tells what the book comes to, not how it is set
	shown  bool      // even if it is alike in all rows
	cell   func(*castoffRow) string
}

// hard marks what a reader may find hard.
const hard = "!"

// mark adds the mark to a figure, if the row has one of the doubts.
func mark(row *castoffRow, figure string, of ...string) string {
	for _, d := range of {
		if slices.Contains(row.Doubts, d) {
			return figure + hard
		}
	}
	return figure
}

// columns are those of the table, in their order.
func (r *castoffReport) columns() []column {
	unit := r.Own.setting.Trim.Width.Unit
	currency := r.Own.Edition.Currency
	setting := func(name string, cell func(*castoffRow) string) column {
		return column{head: [2]string{"", name}, alike: name + " %s", cell: cell}
	}
	figure := func(above, below, alike string, cell func(*castoffRow) string) column {
		return column{head: [2]string{above, below}, alike: alike, figure: true, cell: cell}
	}
	count := func(above, below, alike string, n func(*castoffRow) int) column {
		return figure(above, below, alike, func(row *castoffRow) string { return strconv.Itoa(n(row)) })
	}
	all := []column{
		setting("trim", func(row *castoffRow) string { return row.Trim }),
		setting("face", func(row *castoffRow) string { return row.Face }),
		setting("size", func(row *castoffRow) string { return mark(row, number(row.Size), "small type") }),
		{head: [2]string{"lead-", "ing"}, alike: "leading %s", cell: func(row *castoffRow) string {
			if l := row.setting.Leading; row.Fault != "" && l.Kind != typeset.Fixed {
				return l.String()
			} else if row.Fault != "" {
				return number(points(l.Value.Length))
			}
			return mark(row, number(row.Leading), "tight leading")
		}},
		setting("back", func(row *castoffRow) string {
			if row.Fault != "" {
				return row.setting.Margins.Back.String()
			}
			return edition.Near(row.back, unit).String()
		}),
		{head: [2]string{"fore-", "edge"}, alike: "fore-edge %s", cell: func(row *castoffRow) string { return row.setting.Margins.ForeEdge.String() }},
		setting("head", func(row *castoffRow) string { return row.setting.Margins.Head.String() }),
		setting("foot", func(row *castoffRow) string { return row.setting.Margins.Foot.String() }),
		figure("", "printer", "printer %s", func(row *castoffRow) string { return row.Edition.Printer }),
		count("", "pages", "", func(row *castoffRow) int { return row.Pages }),
		figure("", "+/-", "", func(row *castoffRow) string { return difference(row.Difference) }),
		count("", "blank", "blank pages %s", func(row *castoffRow) int { return row.Blank }),
		count("last", "of "+strconv.Itoa(r.Signature), "pages in the last signature %s", func(row *castoffRow) int { return row.Last.Used }),
		count("words", "/page", "words a page %s", func(row *castoffRow) int { return row.WordsPerPage }),
		figure("chars", "/line", "characters a line %s", func(row *castoffRow) string {
			return mark(row, strconv.Itoa(row.Characters), "short lines", "long lines")
		}),
		count("lines", "/page", "lines a page %s", func(row *castoffRow) int { return row.Lines }),
		figure("loose", "/1000", "loose lines in 1000 %s", func(row *castoffRow) string { return fmt.Sprintf("%.1f", row.Loose) }),
		figure("hyph.", "/1000", "hyphens in 1000 lines %s", func(row *castoffRow) string { return fmt.Sprintf("%.1f", row.Hyphens) }),
		count("un-", "even", "uneven spreads %s", func(row *castoffRow) int { return row.Uneven }),
		figure("spine", unit.String(), "spine %s"+unit.String(), func(row *castoffRow) string {
			return inUnit(row.Edition.copy.Spine, unit)
		}),
		figure("charge", currency, "charge "+currency+" %s", func(row *castoffRow) string { return abroad(row.Edition.Charge, row, currency) }),
		figure("charge", "+/-", "", func(row *castoffRow) string {
			d := row.ChargeDifference
			switch {
			case row.Row == 0 && row.Edition.Charge != "" || d != "" && strings.Trim(d, "-0.") == "":
				return "0"
			case d != "" && !strings.HasPrefix(d, "-"):
				return "+" + d
			}
			return d
		}),
		figure("earn-", "ings", "earnings "+currency+" %s", func(row *castoffRow) string { return abroad(row.Edition.Earnings, row, currency) }),
	}
	for i := range all {
		all[i].shown = slices.Contains([]string{"pages", "+/-"}, all[i].head[1]) && all[i].head[0] == ""
	}
	return all
}

// abroad writes a sum with its currency if it is not that of the column.
func abroad(sum string, row *castoffRow, currency string) string {
	if sum != "" && row.Edition.Currency != currency {
		return row.Edition.Currency + " " + sum
	}
	return sum
}

// inUnit writes a length in a unit, to what can be measured.
func inUnit(l length.Length, u length.Unit) string {
	switch u {
	case length.In:
		return fmt.Sprintf("%.3f", l.Points()/72)
	case length.Mm:
		return fmt.Sprintf("%.1f", l.Points()/72*25.4)
	}
	return fmt.Sprintf("%.1f", l.Points())
}

// difference writes a difference.
func difference(n int) string {
	if n == 0 {
		return "0"
	}
	return fmt.Sprintf("%+d", n)
}

// print prints the table, without the columns that are alike in all rows: they
// are told below it.
func (r *castoffReport) print(w io.Writer) error {
	title := r.Title
	if r.Author != "" {
		title += ", " + r.Author
	}
	rows := []*castoffRow{&r.Own}
	for i := range r.Settings {
		rows = append(rows, &r.Settings[i])
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s words\n", title, thousands(r.Words))
	var shown []column
	var alike []string
	for _, c := range r.columns() {
		first := c.cell(&r.Own)
		varies := slices.ContainsFunc(rows, func(row *castoffRow) bool { return (row.Fault == "" || !c.figure) && c.cell(row) != first })
		switch {
		case varies || c.shown:
			shown = append(shown, c)
		case first != "" && c.alike != "":
			alike = append(alike, fmt.Sprintf(c.alike, first))
		}
	}
	table(&b, shown, rows)
	if len(alike) > 0 {
		fold(&b, "The same in all rows: "+strings.Join(alike, ", ")+".")
	}
	r.explain(&b, rows)
	_, err := io.WriteString(w, b.String())
	return err
}

// table writes the rows below heads of two lines. The cells of a column end at
// one edge.
func table(b *strings.Builder, columns []column, rows []*castoffRow) {
	label := func(row *castoffRow) string {
		if row.Row == 0 {
			return "now"
		}
		return strconv.Itoa(row.Row)
	}
	lines := [][]string{{""}, {"row"}}
	for _, c := range columns {
		for k := range 2 {
			lines[k] = append(lines[k], c.head[k])
		}
	}
	for _, row := range rows {
		cells := []string{label(row)}
		for _, c := range columns {
			if row.Fault == "" || !c.figure {
				cells = append(cells, c.cell(row))
			}
		}
		lines = append(lines, cells)
	}
	widths := make([]int, len(columns)+1)
	for _, cells := range lines {
		for k, cell := range cells {
			widths[k] = max(widths[k], utf8.RuneCountInString(strings.TrimSuffix(cell, hard)))
		}
	}
	total := 0
	for _, n := range widths {
		total += n + 2
	}
	gap := 2
	if total > wide {
		gap = 1
	}
	for i, cells := range lines {
		var line strings.Builder
		for k, cell := range cells {
			n := widths[k] - utf8.RuneCountInString(strings.TrimSuffix(cell, hard))
			if k > 0 && !strings.HasSuffix(line.String(), hard) {
				n += gap
			} else if k > 0 {
				n += gap - 1 // the mark stands in the gap
			}
			line.WriteString(strings.Repeat(" ", n) + cell)
		}
		if i >= 2 && rows[i-2].Fault != "" {
			line.WriteString("  cannot be set")
		}
		b.WriteString(strings.TrimRight(line.String(), " ") + "\n")
	}
}

// explain says below the table what its figures stand on, and what a printer
// would object to.
func (r *castoffReport) explain(b *strings.Builder, rows []*castoffRow) {
	set := slices.DeleteFunc(slices.Clone(rows), func(row *castoffRow) bool { return row.Fault != "" })
	faults(b, rows)
	fold(b, fmt.Sprintf("Last of %d: where a printer folds sheets of %[1]d pages, the book uses so many of the last one, and the rest of it is blank. Printing on demand goes by the leaf.", r.Signature))
	said := make(map[string]bool)
	for _, row := range set {
		e := row.Edition
		basis := fmt.Sprintf("Spine, charge and earnings by the terms of %s: %s, %s, %s ink", e.Printer, e.Stock, bound(e.Binding), e.Ink)
		switch {
		case e.Supposed:
			basis = fmt.Sprintf("Spines are about so wide, on %s. A printer's terms, --printer FILE.toml, tell more, and charge and earnings", e.Stock)
		case e.copy.Earnings != nil:
			basis += fmt.Sprintf("; a list price of %s, before taxes", edition.Show(*e.copy.List))
		case e.copy.Charge == nil:
			basis = fmt.Sprintf("Spines by the terms of %s: %s, %s", e.Printer, e.Stock, bound(e.Binding))
		}
		if !said[basis] {
			said[basis] = true
			fold(b, basis+".")
		}
	}
	if slices.ContainsFunc(set, func(row *castoffRow) bool { return len(row.Doubts) > 0 }) {
		fold(b, hard+" is hard to read: lines of 45 to 75 characters read best (Bringhurst, §2.1.2); type under 9 pt, or on a leading of less than 115 %, is small or tight (common practice).")
	}
	objections(b, set)
	fmt.Fprintln(b, caution)
}

// mostFaults is how many reasons are told below the table.
const mostFaults = 5

// faults tells why rows cannot be set, each reason once.
func faults(b *strings.Builder, rows []*castoffRow) {
	of := make(map[string][]int)
	var order []string
	for _, row := range rows {
		if row.Fault == "" {
			continue
		}
		if of[row.Fault] == nil {
			order = append(order, row.Fault)
		}
		of[row.Fault] = append(of[row.Fault], row.Row)
	}
	untold := 0
	for i, fault := range order {
		if i >= mostFaults {
			untold += len(of[fault])
			continue
		}
		s := rowsOf(of[fault])
		for k, one := range strings.Split(fault, "\n") {
			if k == 0 {
				one = strings.ToUpper(s[:1]) + s[1:] + " cannot be set: " + one
			}
			fold(b, one+".")
		}
	}
	if untold > 0 {
		fold(b, fmt.Sprintf("%s cannot be set; --csv tells why.", count(untold, "more row", "more rows")))
	}
}

// objections tells each kind of objection once, with its rows.
func objections(b *strings.Builder, rows []*castoffRow) {
	type kind struct{ printer, code string }
	type found struct {
		first edition.Objection
		more  bool // there are others of the kind, with other figures
		rows  []int
	}
	all := make(map[kind]*found)
	var order []kind
	for _, row := range rows {
		for _, o := range row.Edition.Objections {
			k := kind{row.Edition.Printer, o.Code}
			f := all[k]
			if f == nil {
				f = &found{first: o}
				all[k] = f
				order = append(order, k)
			}
			f.more = f.more || f.first != o
			if n := len(f.rows); n == 0 || f.rows[n-1] != row.Row {
				f.rows = append(f.rows, row.Row)
			}
		}
	}
	for _, k := range order {
		f := all[k]
		as := ""
		if f.more && len(f.rows) > 1 {
			as = ", and alike"
		}
		fold(b, fmt.Sprintf("Objection to %s%s: %s.", rowsOf(f.rows), as, f.first))
	}
}
