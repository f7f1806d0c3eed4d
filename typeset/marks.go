package typeset

import (
	"strings"

	"bodkin/typeset/length"
)

// Mark is a rectangle that shows a Finding on its page, in the colour of its
// kind. Its edges are measured as everything on a page is: from the top left
// corner of the trim.
type Mark struct {
	Kind           FindingKind
	X0, Y0, X1, Y1 length.Length
	Shade          bool // it lies over words, which must stay legible; else it is a solid bar beside or below them
}

// Marks returns the marks of those findings that concern the page at index i.
// What concerns a line shades it; what concerns several has a bar in the
// margin; what concerns the depth of a page has one below its last line, on
// both pages of a spread.
func (l *Layout) Marks(i int, found []Finding) []Mark {
	text := l.Pages[i].text()
	if len(text) == 0 {
		return nil
	}
	m := marker{l: l, page: i, text: text}
	for _, f := range found {
		switch f.Kind {
		case UnevenSpread, LongSpread, ShortSpread:
			if (f.Page+1)/2 == (i+1)/2 && l.Pages[f.Page].Section == l.Pages[i].Section {
				m.below(f.Kind)
			}
			continue
		}
		if f.Page == i && f.Line < len(text) {
			m.mark(f)
		}
	}
	return m.marks
}

type marker struct {
	l     *Layout
	page  int
	text  []Line
	marks []Mark
}

func (m *marker) mark(f Finding) {
	line := &m.text[f.Line]
	switch f.Kind {
	case OverfullLine, Stranded, Widow, Orphan, LooseLine, TightLine:
		m.over(f.Kind, line, min(0, line.left()), max(line.Measure, line.left()+line.extent()))
	case Runt:
		m.over(f.Kind, line, line.left(), line.left()+line.extent())
	case TornPage, ShortEnd:
		m.below(f.Kind)
	case RectoHyphen, VersoHyphen:
		m.word(f.Kind, line, false)
	case HyphenatedLine:
		if last := len(line.Runs) - 1; last >= 0 {
			end := line.left() + line.extent()
			m.over(f.Kind, line, line.Runs[last].X, end)
		}
	case RepeatedWord:
		first := strings.EqualFold(firstWordOf(line.text()), f.Text)
		m.word(f.Kind, line, first)
		if f.Line > 0 {
			m.word(f.Kind, &m.text[f.Line-1], first)
		}
	case River:
		for k, span := range f.Spaces {
			if f.Line+k < len(m.text) {
				y, down := m.text[f.Line+k].Y, m.l.Block.Leading
				m.marks = append(m.marks, Mark{f.Kind, span.From, y - down*3/4, span.To, y + down - down*3/4, true})
			}
		}
	case Ladder, LadderOfTwo:
		m.beside(f.Kind, f.Line, f.Line+f.Amount, m.l.BlockLeft(m.page)+m.l.Block.Measure+line.size())
	case LongParagraph, ShortParagraph:
		end := f.Line + 1
		for end < len(m.text) && !m.text[end-1].Last {
			end++
		}
		m.beside(f.Kind, f.Line, end, m.l.BlockLeft(m.page)-line.size())
	}
}

// left returns where a line's type begins, from its own left edge.
func (l *Line) left() length.Length {
	if len(l.Runs) == 0 {
		return 0
	}
	return l.Runs[0].X
}

// over shades a part of a line.
func (m *marker) over(kind FindingKind, l *Line, from, to length.Length) {
	em := l.size()
	m.marks = append(m.marks, Mark{kind, l.X + from, l.Y - em*3/4, l.X + to, l.Y + em/4, true})
}

// word shades the first or the last word of a line.
func (m *marker) word(kind FindingKind, l *Line, first bool) {
	begin, end := 0, len(l.Runs)
	for k := 1; k < len(l.Runs); k++ {
		if l.Runs[k].Space {
			if first {
				end = k
				break
			}
			begin = k
		}
	}
	if begin < end {
		m.over(kind, l, l.Runs[begin].X, l.Runs[end-1].X+l.Runs[end-1].Width())
	}
}

// below draws a bar below the last line of the page.
func (m *marker) below(kind FindingKind) {
	last := &m.text[len(m.text)-1]
	left, em := m.l.BlockLeft(m.page), last.size()
	y := last.Y + em*2/5
	m.marks = append(m.marks, Mark{kind, left, y, left + m.l.Block.Measure, y + em/6, false})
}

// beside draws an upright bar along the lines from begin to end, its middle at x.
func (m *marker) beside(kind FindingKind, begin, end int, x length.Length) {
	first, last := &m.text[begin], &m.text[min(end, len(m.text))-1]
	em := first.size()
	m.marks = append(m.marks, Mark{kind, x - em/12, first.Y - em*3/4, x + em/12, last.Y + em/4, false})
}
