package typeset

import (
	"unicode/utf8"

	"bodkin/typeset/length"
)

// Quality counts what a typesetter looks for on finished pages.
type Quality struct {
	Lines      int `json:"lines"`      // of running text and notes
	Hyphenated int `json:"hyphenated"` // lines that end in a hyphen which the program put in
	Ladder     int `json:"ladder"`     // most such lines in a row
	Loose      int `json:"loose"`      // lines with word spaces over half an em (Bringhurst, §2.1.1)
	Overfull   int `json:"overfull"`   // lines wider than their measure, hanging marks aside
	Widows     int `json:"widows"`     // pages that begin with the last line of a paragraph of several
	Orphans    int `json:"orphans"`    // pages that end with the first line of one
	Uneven     int `json:"uneven"`     // spreads whose pages end on unlike lines, chapter ends aside
	Short      int `json:"short"`      // last pages of chapters with fewer than five lines
}

// Quality measures the layout.
func (l *Layout) Quality() Quality {
	var q Quality
	for i := range l.Pages {
		p := &l.Pages[i]
		text := p.text()
		q.page(l, i, text)
		row := 0
		for j := range text {
			line := &text[j]
			if line.Role != Text && line.Role != NoteText {
				continue
			}
			q.Lines++
			if row++; !line.Hyphen {
				row = 0
			} else {
				q.Hyphenated++
				q.Ladder = max(q.Ladder, row)
			}
			if line.Justified && line.Space > line.size()/2+length.Point/64 {
				q.Loose++
			}
			if line.Overfull() {
				q.Overfull++
			}
		}
	}
	return q
}

// page counts what concerns the first and last lines of the page at index i.
func (q *Quality) page(l *Layout, i int, text []Line) {
	if len(text) == 0 {
		return
	}
	first, last := &text[0], &text[len(text)-1]
	p := &l.Pages[i]
	if !p.Opening && first.Last && !first.First {
		q.Widows++
	}
	ends := l.lastOf(i)
	if !ends && last.First && !last.Last {
		q.Orphans++
	}
	if ends && !p.Opening && l.rows(i) < shortest {
		q.Short++
	}
	if Recto(i) && i > 0 && !p.Opening && !ends && l.Pages[i-1].Section == p.Section && l.rows(i-1) != l.rows(i) {
		q.Uneven++
	}
}

// lastOf reports whether a section ends on the page at index i.
func (l *Layout) lastOf(i int) bool {
	return i+1 == len(l.Pages) || l.Pages[i+1].Section != l.Pages[i].Section
}

// rows returns the row of the last line of text on the page at index i,
// counted from 1.
func (l *Layout) rows(i int) int {
	text := l.Pages[i].text()
	if len(text) == 0 {
		return 0
	}
	return int((text[len(text)-1].Y-l.Block.Baseline)/l.Block.Leading) + 1
}

// text returns the lines of a page without head and folio.
func (p *Page) text() []Line {
	n := len(p.Lines)
	for n > 0 && (p.Lines[n-1].Role == Head || p.Lines[n-1].Role == Folio) {
		n--
	}
	return p.Lines[:n]
}

// size returns the size of a line's type.
func (l *Line) size() length.Length {
	for i := range l.Runs {
		if l.Runs[i].Rise == 0 {
			return l.Runs[i].Size
		}
	}
	return 0
}

// Overfull reports whether the line is wider than its measure, apart from the
// marks that hang.
func (l *Line) Overfull() bool {
	if len(l.Runs) == 0 || l.Role == Head || l.Role == Folio {
		return false
	}
	first, last := &l.Runs[0], &l.Runs[len(l.Runs)-1]
	if len(l.Runs) > 1 && first.Added {
		first = &l.Runs[1] // a label hangs in the indent
	}
	left, right := -first.X, last.X+last.Width()-l.Measure
	if l.Justified || left > 0 {
		left -= hangAt(first, leftHang, true)
		right -= hangAt(last, rightHang, false)
	}
	const slack = length.Point / 1024 // what rounding may add up to
	return left > slack || right > slack
}

// hangAt returns how much of the mark at an end of a run may hang.
func hangAt(r *Run, share func(rune) int32, begin bool) length.Length {
	runes := []rune(r.Glyphs.Text)
	if len(runes) == 0 {
		return 0
	}
	mark := runes[len(runes)-1]
	if begin {
		mark = runes[0]
	}
	return hangOf(r.Glyphs.Face, mark, share(mark)).at(r.Size)
}

// Counts are the plain figures of a layout.
type Counts struct {
	Pages      int `json:"pages"`      // all of them, as the printer counts
	Set        int `json:"set"`        // pages with something on them
	Blank      int `json:"blank"`      // pages with nothing on them
	Text       int `json:"text"`       // pages with running text
	Rows       int `json:"lines"`      // lines on a full page
	Characters int `json:"characters"` // in a full line, with its spaces, on average
}

// Counts counts pages and what stands on them.
func (l *Layout) Counts() Counts {
	c := Counts{Pages: len(l.Pages), Rows: l.Block.Rows}
	lines, characters := 0, 0
	for i := range l.Pages {
		p := &l.Pages[i]
		if p.Blank || len(p.Lines) == 0 {
			c.Blank++
		}
		text := false
		for j := range p.Lines {
			line := &p.Lines[j]
			text = text || line.Role == Text
			if line.Justified && line.Role == Text {
				lines++
				characters += line.characters()
			}
		}
		if text {
			c.Text++
		}
	}
	c.Set = c.Pages - c.Blank
	if lines > 0 {
		c.Characters = (characters + lines/2) / lines
	}
	return c
}

// characters counts the characters of a line and the spaces between them.
func (l *Line) characters() int {
	n := 0
	for i := range l.Runs {
		n += utf8.RuneCountInString(l.Runs[i].Glyphs.Text)
		if l.Runs[i].Space {
			n++
		}
	}
	return n
}
