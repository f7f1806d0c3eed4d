package typeset

import (
	"strconv"
	"strings"

	"bodkin/fonts"
	"bodkin/markup"
	"bodkin/markup/numeral"
	"bodkin/typeset/length"
)

// label names the pages: roman in front matter, arabic after it.
func label(all []Page, front int) {
	for i := range all {
		if i < front {
			all[i].Label = roman(i + 1)
		} else {
			all[i].Label = strconv.Itoa(i - front + 1)
		}
	}
}

// roman writes n in small roman numerals.
func roman(n int) string { return strings.ToLower(numeral.Roman(n)) }

// Running heads and folios, in thousandths of the text's size: small enough
// to stay in the background. Tracking opens small capitals, as is common
// practice.
const (
	headSize  = 880
	headTrack = 60
	folioSize = 920
)

// furnish adds running heads and folios to the pages.
func (m *maker) furnish() error {
	heads := make(map[string]*furniture)
	for i := range m.all {
		p := &m.all[i]
		if p.Blank || p.Section < 0 || len(p.Lines) == 0 {
			continue
		}
		sec := m.book.Sections[p.Section]
		if m.blind(p, sec) {
			continue
		}
		var head *furniture
		if text := strings.TrimSpace(m.headText(i, sec)); !p.Opening && text != "" {
			if head = heads[text]; head == nil {
				made, err := m.head(text, sec.Pos)
				if err != nil {
					return err
				}
				head = made
				heads[text] = head
			}
		}
		folio, err := m.folio(p.Label, sec.Pos)
		if err != nil {
			return err
		}
		m.hang(p, i, head, folio)
	}
	return nil
}

// blind reports whether a page has neither head nor folio by custom: what
// stands for display (titles, dedications, parts), and pictures alone.
func (m *maker) blind(p *Page, sec *markup.Section) bool {
	switch {
	case sec.Kind == markup.HalfTitle, sec.Kind == markup.TitlePage,
		sec.Piece == markup.Copyright, sec.Piece == markup.Dedication, sec.Piece == markup.Epigraph, sec.Piece == markup.Plate,
		sec.Piece == markup.Part && p.Opening:
		return true
	case sec.Matter == markup.Front && sec.Kind == markup.Written && len(sec.Title) == 0:
		return true
	case len(p.Plates) == 0:
		return false
	}
	for i := range p.Lines {
		if p.Lines[i].Role != Caption {
			return false
		}
	}
	return true
}

// headText returns what the running head of a page holds.
func (m *maker) headText(i int, sec *markup.Section) string {
	what := m.s.Heads.Verso
	if Recto(i) {
		what = m.s.Heads.Recto
	}
	switch {
	case what == HeadChapter:
		return m.headOf(m.all[i].Section)
	case what == HeadPart:
		for k := m.all[i].Section; k >= 0 && sec.Matter == markup.Body; k-- {
			if m.book.Sections[k].Piece == markup.Part {
				return m.headOf(k)
			}
		}
		return m.book.Title
	case what == HeadAuthor && m.book.Author != "":
		return m.book.Author
	case what == HeadAuthor, what == HeadTitle:
		return m.book.Title
	}
	return ""
}

// headOf returns what running heads call a section.
func (m *maker) headOf(i int) string {
	sec := m.book.Sections[i]
	if sec.Head != "" {
		return sec.Head
	}
	if name := nameOf(sec, m.numbers[i]); name != "" {
		return name
	}
	switch sec.Kind {
	case markup.Contents:
		return generatedIn(m.book.Language).contents
	case markup.Endnotes:
		return generatedIn(m.book.Language).notes
	}
	return ""
}

// furniture is a short text in one line, its runs placed from 0.
type furniture struct {
	runs  []Run
	width length.Length
}

// head sets a running head: in small capitals where the face has them, in
// italics where not. One that is too long is cut after a word.
func (m *maker) head(text string, pos markup.Pos) (*furniture, error) {
	style, features := markup.Style(0), fonts.AllSmallCaps
	face, err := m.set.words.face(0)
	if err != nil {
		return nil, err
	}
	size := m.s.Size.Length.Scale(headSize, 1000)
	track := size.Scale(headTrack, 1000)
	if !face.Supports(fonts.AllSmallCaps) {
		style, features, track = markup.Emphasis, 0, 0
	}
	most := m.block.Measure * 4 / 5
	words := strings.Fields(text)
	for n := len(words); n > 0; n-- {
		shown := strings.Join(words[:n], " ")
		if n < len(words) {
			shown += " …"
		}
		f, err := m.oneLine(shown, style, features, size, track, pos)
		if err != nil || f.width <= most {
			return f, err
		}
	}
	letters := []rune(words[0])
	for n := len(letters) - 1; n > 0; n-- {
		f, err := m.oneLine(string(letters[:n])+"…", style, features, size, track, pos)
		if err != nil || f.width <= most {
			return f, err
		}
	}
	return nil, nil
}

func (m *maker) folio(label string, pos markup.Pos) (*furniture, error) {
	return m.oneLine(label, 0, m.g.words.figures, m.s.Size.Length.Scale(folioSize, 1000), 0, pos)
}

// oneLine sets a text that the program adds to a page.
func (m *maker) oneLine(s string, style markup.Style, features fonts.Feature, size, track length.Length, pos markup.Pos) (*furniture, error) {
	face, err := m.set.words.face(style)
	if err != nil {
		return nil, err
	}
	if r, missing := face.Missing(s); missing {
		return nil, missingGlyph(m.set.words.res.Faces, face, r, pos)
	}
	space := spacesOf(face, size).natural + track
	f := new(furniture)
	for i, word := range strings.Fields(s) {
		if i > 0 {
			f.width += space
		}
		r := Run{X: f.width, Size: size, Track: track, Glyphs: face.Shape(word, features), Space: i > 0, Added: true}
		f.runs = append(f.runs, r)
		f.width += r.Width()
	}
	f.width -= track // nothing follows the last letter
	return f, nil
}

// hang puts head and folio on the page at index i.
func (m *maker) hang(p *Page, i int, head, folio *furniture) {
	b := &m.block
	outer := length.Length(0) // towards the fore-edge
	if Recto(i) {
		outer = b.Measure - folio.width
	}
	foot := b.last() + m.s.folioDrop(b)
	top := b.Baseline - m.s.headRise(b)
	if head != nil {
		p.Lines = append(p.Lines, Line{Role: Head, X: (b.Measure - head.width) / 2, Y: top, Measure: head.width, Runs: head.runs})
	}
	line := Line{Role: Folio, Y: foot, Measure: folio.width, Runs: folio.runs}
	switch m.s.Folios {
	case FolioNone:
		return
	case FolioFoot:
		line.X = (b.Measure - folio.width) / 2
	case FolioFootOuter:
		line.X = outer
	case FolioHeadOuter:
		line.X = outer
		if !p.Opening {
			line.Y = top
		}
	}
	p.Lines = append(p.Lines, line)
}
