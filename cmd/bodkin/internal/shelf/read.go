package shelf

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"bodkin/cmd/bodkin/internal/strict"
	"bodkin/markup"
	"bodkin/typeset/length"
)

// What a side, a thickness and a number of pages may be: beyond it a figure
// is a slip of the pen, or in another unit.
const (
	leastSide, mostSide   = 2 * length.Inch, 20 * length.Inch
	leastThick, mostThick = length.Inch / 25, 6 * length.Inch
	mostPages             = 5000
	mostColumns           = 100
	mostTitle             = 200 // characters
)

// Load reads a survey from a file; see Read.
func Load(path string) (*Survey, error) {
	text, _, err := strict.Read(path)
	if err != nil {
		return nil, err
	}
	return Read(path, text)
}

// Read reads a survey: comma-separated values (RFC 4180), or with semicolons
// or tabs, with the heads of the columns in its first row, in any order. Lines
// that begin with "# " are remarks. Errors are one line with the file's name
// and the line.
func Read(name string, text []byte) (*Survey, error) {
	if !utf8.Valid(text) {
		return nil, fmt.Errorf("%s: this is not UTF-8 text; save it as UTF-8", name)
	}
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	lines := plain(text)
	r := csv.NewReader(strings.NewReader(strings.Join(lines, "\n")))
	r.Comma = separator(lines)
	r.LazyQuotes = true // 8.25"
	r.TrimLeadingSpace = r.Comma != '\t'
	r.FieldsPerRecord = -1
	s := &Survey{Name: name}
	var h *heads
	for {
		cells, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			var at *csv.ParseError
			if errors.As(err, &at) {
				return nil, fmt.Errorf("%s:%d: %w; a quotation mark at the beginning of a cell needs one at its end", name, at.StartLine, at.Err)
			}
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		line, _ := r.FieldPos(0)
		filled := false
		for i, c := range cells {
			if strings.ContainsAny(c, "\n") {
				return nil, fmt.Errorf("%s:%d: a quotation mark opens a cell that goes on to another line; close it, or leave it out", name, line)
			}
			cells[i] = tidy(c)
			filled = filled || cells[i] != ""
		}
		if !filled || isRemark(cells[0]) {
			continue
		}
		if h == nil {
			if h, err = readHeads(cells); err != nil {
				return nil, fmt.Errorf("%s:%d: %w", name, line, err)
			}
			s.Unused = h.unused
			continue
		}
		b, remark, err := h.book(cells)
		if err != nil {
			return nil, fmt.Errorf("%s:%d: %w", name, line, err)
		}
		b.Line = line
		if remark != "" {
			s.Remarks = append(s.Remarks, fmt.Sprintf("%s:%d: %s", name, line, remark))
		}
		s.Books = append(s.Books, b)
	}
	switch {
	case h == nil:
		return nil, fmt.Errorf("%s: this is empty; bodkin shelf --form prints a form to fill in", name)
	case len(s.Books) == 0:
		return nil, fmt.Errorf("%s: there are no books under the heads; write one a row", name)
	}
	return s, nil
}

// plain splits text into lines. Remarks are emptied, so that lines keep their
// numbers; so is the first line of those that say sep=; for spreadsheets.
func plain(text []byte) []string {
	lines := strings.Split(strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(string(text)), "\n")
	for i, line := range lines {
		if isRemark(line) || i == 0 && strings.HasPrefix(strings.ToLower(line), "sep=") {
			lines[i] = ""
		}
	}
	return lines
}

func isRemark(s string) bool {
	return strings.HasPrefix(s, "# ") || strings.TrimSpace(s) == "#"
}

// separator returns what parts the heads: of comma, semicolon and tab that
// which the first row has most of.
func separator(lines []string) rune {
	for _, line := range lines {
		if strings.TrimSpace(line) == "" {
			continue
		}
		best, most := ',', 0
		for _, c := range ",;\t" {
			if n := strings.Count(line, string(c)); n > most {
				best, most = c, n
			}
		}
		return best
	}
	return ','
}

// tidy drops what cannot be seen, and spaces at the ends.
func tidy(s string) string {
	s = strings.Map(func(r rune) rune {
		switch {
		case r == '\t' || r == '\u00a0':
			return ' '
		case unicode.IsControl(r), unicode.Is(unicode.Cf, r), r >= 0xFFFE && r <= 0xFFFF:
			return -1
		}
		return r
	}, s)
	return strings.TrimSpace(s)
}

// The columns of a survey.
type column int

const (
	titleColumn column = iota
	genreColumn
	bindingColumn
	heightColumn
	widthColumn
	unitColumn
	pagesColumn
	thicknessColumn
	columns
)

// headNames are the names of the columns; the first of each is the one that
// messages use.
var headNames = [columns][]string{
	{"title", "note", "notes", "book", "name"},
	{"genre", "category", "kind"},
	{"binding", "bound", "cover"},
	{"height", "h", "tall", "high"},
	{"width", "w", "wide", "across"},
	{"unit", "units", "measured in"},
	{"pages", "page count", "pp", "extent", "number of pages"},
	{"thickness", "thick", "spine", "spine width", "t"},
}

// heads tells where the columns stand.
type heads struct {
	at     [columns]int  // -1: there is none
	units  [columns]unit // that the head itself names, as in height (mm)
	named  int           // how many cells the row of heads has
	unused []string
}

func readHeads(cells []string) (*heads, error) {
	if len(cells) > mostColumns {
		return nil, fmt.Errorf("%d columns are too many for a survey", len(cells))
	}
	h := &heads{named: len(cells)}
	for c := range h.at {
		h.at[c] = -1
	}
	var doubt error
	for i, cell := range cells {
		if cell == "" {
			continue
		}
		c, u, ok := headOf(cell)
		switch {
		case !ok:
			if doubt != nil || len(cell) > 30 {
				// one is enough; and no slip makes a head so long
			} else if best := markup.Nearest(cell, allHeads()); best != "" {
				doubt = fmt.Errorf("the head %q is not known; did you mean %s?", cell, best)
			}
			h.unused = append(h.unused, cell)
			continue
		case h.at[c] >= 0:
			return nil, fmt.Errorf("two columns are the %s, %q and %q; leave one out", headNames[c][0], cells[h.at[c]], cell)
		}
		h.at[c], h.units[c] = i, u
	}
	if doubt != nil {
		return nil, doubt
	}
	for _, c := range []column{heightColumn, widthColumn} {
		if h.at[c] < 0 {
			return nil, fmt.Errorf("no column has the head %s; the first row names the columns: title, genre, binding, height, width, unit, pages, thickness", headNames[c][0])
		}
	}
	return h, nil
}

// allHeads are the heads that a misspelt one is held against.
func allHeads() []string {
	var all []string
	for _, names := range headNames {
		for _, n := range names {
			if len(n) > 3 {
				all = append(all, n)
			}
		}
	}
	return all
}

// headOf reads a head, which may name a unit: height (mm), width_in.
func headOf(s string) (column, unit, bool) {
	words := strings.Fields(strings.ToLower(strings.NewReplacer("(", " ", ")", " ", "[", " ", "]", " ", "_", " ", "/", " ", ",", " ", ":", " ").Replace(s)))
	if len(words) == 0 {
		return 0, unit{}, false
	}
	var u unit
	if n := len(words) - 1; n > 0 {
		if found, ok := unitOf(words[n]); ok && words[n-1] != "measured" {
			u, words = found, words[:n]
		}
	}
	name := strings.Join(words, " ")
	for c, names := range headNames {
		for _, n := range names {
			if n == name && (u.per == nil || column(c) == heightColumn || column(c) == widthColumn || column(c) == thicknessColumn) {
				return column(c), u, true
			}
		}
	}
	return 0, unit{}, false
}

// book reads a row. remark tells what was read otherwise than it stands.
func (h *heads) book(cells []string) (b Book, remark string, err error) {
	for i := h.named; i < len(cells); i++ {
		if cells[i] != "" {
			return b, "", fmt.Errorf("there are %d cells under %d heads; a cell with a comma in it, as 8,25 has, stands in quotation marks", len(cells), h.named)
		}
	}
	cell := func(c column) string {
		if i := h.at[c]; i >= 0 && i < len(cells) {
			return cells[i]
		}
		return ""
	}
	if b.Title = cell(titleColumn); utf8.RuneCountInString(b.Title) > mostTitle {
		return b, "", fmt.Errorf("a title of more than %d characters: is a quotation mark missing?", mostTitle)
	}
	b.Genre = cell(genreColumn)
	if b.Binding, b.Supposed, err = bindingOf(cell(bindingColumn)); err != nil {
		return b, "", err
	}
	var usual unit
	if s := cell(unitColumn); s != "" {
		var ok bool
		if usual, ok = unitOf(s); !ok {
			return b, "", fmt.Errorf("unit %q: write in, mm or cm", s)
		}
	}
	of := func(c column) unit {
		if usual.per == nil {
			return h.units[c]
		}
		return usual
	}
	if b.Height, err = side("height", cell(heightColumn), of(heightColumn)); err != nil {
		return b, "", err
	}
	if b.Width, err = side("width", cell(widthColumn), of(widthColumn)); err != nil {
		return b, "", err
	}
	if b.Width.Length > b.Height.Length {
		remark = fmt.Sprintf("%s high and %s wide: read the other way round, since novels are upright", b.Height, b.Width)
		b.Width, b.Height = b.Height, b.Width
	}
	if s := cell(pagesColumn); s != "" {
		s = strings.TrimRight(strings.TrimSuffix(strings.TrimSuffix(strings.ToLower(s), "pages"), "pp"), " .")
		if b.Pages, err = strconv.Atoi(s); err != nil || b.Pages < 1 || b.Pages > mostPages {
			return b, "", fmt.Errorf("pages %q: write a whole number from 1 to %d, or nothing", cell(pagesColumn), mostPages)
		}
	}
	if s := cell(thicknessColumn); s != "" {
		v, err := measure(s, of(thicknessColumn))
		if err != nil {
			return b, "", fmt.Errorf("thickness %w", err)
		}
		if v.Length < leastThick || v.Length > mostThick {
			return b, "", fmt.Errorf("thickness %q: no book is so thick or so thin; which unit is it in?", s)
		}
		b.Thickness = v.Length
	}
	return b, remark, nil
}

func side(name, s string, usual unit) (length.Value, error) {
	if s == "" {
		return length.Value{}, fmt.Errorf("the %s is missing", name)
	}
	v, err := measure(s, usual)
	if err != nil {
		return v, fmt.Errorf("%s %w", name, err)
	}
	if v.Length >= leastSide && v.Length <= mostSide {
		return v, nil
	}
	for _, u := range []unit{inches, millimetres, centimetres} {
		number, _ := cutUnit(s)
		if other, err := measure(number, u); err == nil && other.Length >= leastSide && other.Length <= mostSide {
			return v, fmt.Errorf("%s %s: books measure from %v to %v; is it %s %s?", name, Show(v.Length, v.Unit),
				length.Value{Length: leastSide, Unit: v.Unit}, length.Value{Length: mostSide, Unit: v.Unit}, number, u.name)
		}
	}
	return v, fmt.Errorf("%s %s: books measure from %v to %v", name, Show(v.Length, v.Unit),
		length.Value{Length: leastSide, Unit: v.Unit}, length.Value{Length: mostSide, Unit: v.Unit})
}

// bindings are the words that people use for the two.
var bindings = map[Binding][]string{
	Paperback: {"paperback", "paper", "pb", "p", "softcover", "soft cover", "softback", "soft", "perfect", "perfect bound", "perfect-bound", "trade paperback", "mass market", "mass-market", "mass market paperback", "flapped paperback"},
	Case:      {"case", "hardcover", "hard cover", "hardback", "hard", "hb", "hc", "h", "c", "cased", "case bound", "case-bound", "casebound", "cloth", "clothbound"},
}

// ParseBinding reads a binding by any of the trade's words for it.
func ParseBinding(s string) (Binding, error) {
	low := strings.Join(strings.Fields(strings.ToLower(s)), " ")
	var known []string
	for _, b := range []Binding{Paperback, Case} {
		for _, word := range bindings[b] {
			if word == low {
				return b, nil
			}
			if len(word) > 3 {
				known = append(known, word)
			}
		}
	}
	if best := markup.Nearest(s, known); best != "" {
		return "", fmt.Errorf("binding %q is not known; did you mean %s?", s, best)
	}
	return "", fmt.Errorf("binding %q is not known; write paperback or case", s)
}

func bindingOf(s string) (b Binding, supposed bool, err error) {
	if s == "" || s == "?" || s == "-" {
		return Paperback, true, nil
	}
	b, err = ParseBinding(s)
	return b, false, err
}
