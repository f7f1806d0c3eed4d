package sheet

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"bodkin/typeset"
	"bodkin/typeset/length"
	"bodkin/typeset/pdf"
)

// Edition is a setting of the book and the copy that it makes.
type Edition struct {
	Name   string // "roomy"
	Layout *typeset.Layout
	Spine  length.Length // the thickness of a copy; 0 where it is not known
	Stock  string        // on which that was reckoned: "cream 80 gsm"
}

// mostEditions is how many letters there are to call them by.
const mostEditions = 26

// Make returns the sheets of one or several editions of a book. The notes say,
// a line each, which pages do not stand on the paper as they should.
func Make(editions []Edition, p Paper) (sheets *pdf.Sheets, notes []string, err error) {
	if len(editions) == 0 || len(editions) > mostEditions {
		return nil, nil, fmt.Errorf("a sheet shows from 1 to %d editions, not %d", mostEditions, len(editions))
	}
	for i := range editions {
		if l := editions[i].Layout; l == nil || len(l.Pages) == 0 {
			return nil, nil, errors.New("an edition has no pages: " + editions[i].Name)
		}
	}
	h, err := newHand()
	if err != nil {
		return nil, nil, err
	}
	m := &maker{hand: h, paper: p, editions: editions}
	samples := m.samples()
	first := editions[0].Layout
	sheets = &pdf.Sheets{Title: first.Title + ": editions at actual size", Author: first.Author, Language: first.Language}
	sheets.List = append(m.front(), samples...)
	for _, n := range m.notes {
		notes = append(notes, m.say(n))
	}
	return sheets, notes, nil
}

// maker makes the sheets of some editions.
type maker struct {
	hand     *hand
	paper    Paper
	editions []Edition
	notes    []note
}

// note says why an edition does not stand on the paper as it should.
type note struct {
	edition   int
	text      string // "is 5.9 mm wider than A4 …"
	captioned bool   // it stands below the sample pages
}

// note notes what is to be said, once.
func (m *maker) note(edition int, captioned bool, format string, args ...any) {
	if n := (note{edition, fmt.Sprintf(format, args...), captioned}); !slices.Contains(m.notes, n) {
		m.notes = append(m.notes, n)
	}
}

// say returns a note as a line that stands alone.
func (m *maker) say(n note) string {
	return letter(n.edition) + ", " + m.editions[n.edition].trim() + ", " + n.text
}

// letter is what an edition is called by in drawings: A, B …
func letter(i int) string { return string(rune('A' + i)) }

// trim describes the trim: "B-format, 129 × 198 mm".
func (e *Edition) trim() string {
	t := e.Layout.Setting.Trim
	size := strings.TrimSuffix(t.Width.String(), t.Width.Unit.String())
	if t.Width.Unit != t.Height.Unit {
		size += " " + t.Width.Unit.String()
	}
	size += " × " + strings.TrimSuffix(t.Height.String(), t.Height.Unit.String()) + " " + t.Height.Unit.String()
	if t.Name != "" {
		return t.Name + ", " + size
	}
	return size
}

// kind describes the type: "EB Garamond 11/14 pt".
func (e *Edition) kind() string {
	s, leading := &e.Layout.Setting, e.Layout.Block.Leading
	size := int64(s.Size.Length.Scale(100, int64(length.Point)))
	return together(s.Face + " " + hundredths(size) + "/" + hundredths(int64(leading.Scale(100, int64(length.Point)))) + " pt")
}

// pages counts the pages.
func (e *Edition) pages() string { return fmt.Sprintf("%d pages", len(e.Layout.Pages)) }

// copy describes the thickness of a copy.
func (e *Edition) copy() string {
	if e.Spine <= 0 {
		return e.pages() + "; the spine is not known"
	}
	s := fmt.Sprintf("%s, spine %s (%s)", e.pages(), say(e.Spine, length.Mm), say(e.Spine, length.In))
	if e.Stock != "" {
		s += " " + together("on "+e.Stock)
	}
	return s
}
