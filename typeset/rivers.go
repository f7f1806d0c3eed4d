package typeset

import (
	"cmp"
	"slices"

	"bodkin/typeset/length"
)

// A river is a streak of white that the eye follows down the page across the
// lines. Here it is a chain of word spaces, one on each of riverLines or more
// lines that follow each other on the grid of one page, where
//
//   - each space is at least riverWide of an em wide: wider than the quarter
//     em of a good line, so that it stands out;
//   - each lies over the next: the two share at least riverShared of an em of
//     the measure;
//   - from one to the next, the middle moves aside by at most riverSlope of an
//     em: a streak that leans more is not seen as one.
//
// A space belongs to one river at most. Where several flow together or apart,
// the longest is the river (the left one of equals), and the arms that share a
// space with it are part of it.
//
// The em is that of the line. There is no standard for this; the figures, in
// hundredths of an em, are ours.
const (
	riverLines  = 4
	riverWide   = 30
	riverShared = 20
	riverSlope  = 40
)

// Span is a stretch of a line, from the page's left edge.
type Span struct{ From, To length.Length }

// gap is a word space that may be part of a river.
type gap struct {
	Span
	up    int32 // index of the gap above in its river, or -1
	lines int32 // of the river so far
	line  int32 // index on the page
	on    bool  // the river goes on below
	found bool  // it is part of a river that was reported
}

// wideSpaces adds the word spaces of a line that may be part of a river, from
// the line's X.
func (l *Line) wideSpaces(em length.Length, to []Span) []Span {
	wide := em * riverWide / 100
	for k := 1; k < len(l.Runs); k++ {
		if !l.Runs[k].Space {
			continue
		}
		before := &l.Runs[k-1]
		if s := (Span{before.X + before.Width(), l.Runs[k].X}); s.To-s.From >= wide {
			to = append(to, s)
		}
	}
	return to
}

// riverFinder finds the rivers of a page from the head down, in time
// proportional to the number of word spaces: the spaces of a line do not
// overlap, so those of two lines are compared as sorted lists are merged.
type riverFinder struct {
	gaps  []gap // of the page so far
	ends  []int // of the gaps, those where a river may end
	above int   // where those of the line above begin
	last  int   // its index on the page
	y     length.Length
}

// page begins a page.
func (f *riverFinder) page() {
	f.gaps, f.ends, f.above, f.last, f.y = f.gaps[:0], f.ends[:0], 0, -1, -1
}

// line takes the line at index j of its page.
func (f *riverFinder) line(l *Line, t *traits, j int, leading length.Length) {
	if !l.Justified {
		f.cut() // its spaces are what they should be
		return
	}
	if f.last >= 0 && (j != f.last+1 || l.Y-f.y > leading || l.Y <= f.y) {
		f.cut() // something stands between
	}
	begin := len(f.gaps)
	shared, slope := t.size*riverShared/100, t.size*riverSlope/100
	at := f.above
	for _, space := range t.wide {
		g := gap{Span: Span{l.X + space.From, l.X + space.To}, up: -1, lines: 1, line: int32(j)}
		for at < begin && f.gaps[at].To <= g.From {
			at++
		}
		for up := at; up < begin && f.gaps[up].From < g.To; up++ {
			a := &f.gaps[up]
			aside := (a.From + a.To - g.From - g.To) / 2
			if min(a.To, g.To)-max(a.From, g.From) >= shared && max(aside, -aside) <= slope && a.lines >= g.lines {
				g.up, g.lines = int32(up), a.lines+1
			}
		}
		if g.up >= 0 {
			f.gaps[g.up].on = true
		}
		f.gaps = append(f.gaps, g)
	}
	f.close(f.above, begin)
	f.above, f.last, f.y = begin, j, l.Y
}

// cut ends all rivers at the line above.
func (f *riverFinder) cut() {
	f.close(f.above, len(f.gaps))
	f.above = len(f.gaps)
}

// close notes the rivers that end in the gaps of a line.
func (f *riverFinder) close(from, to int) {
	for i := from; i < to; i++ {
		if g := &f.gaps[i]; !g.on && g.lines >= riverLines {
			f.ends = append(f.ends, i)
		}
	}
}

// report ends the page and calls yield for each river on it: the index of its
// first line, and its spaces.
func (f *riverFinder) report(yield func(line int, spaces []Span)) {
	f.cut()
	slices.SortStableFunc(f.ends, func(a, b int) int { return cmp.Compare(f.gaps[b].lines, f.gaps[a].lines) })
rivers:
	for _, end := range f.ends {
		for i := int32(end); i >= 0; i = f.gaps[i].up {
			if f.gaps[i].found {
				continue rivers
			}
		}
		spaces := make([]Span, f.gaps[end].lines)
		line := 0
		for i, k := int32(end), len(spaces)-1; i >= 0; i, k = f.gaps[i].up, k-1 {
			g := &f.gaps[i]
			g.found, spaces[k], line = true, g.Span, int(g.line)
		}
		yield(line, spaces)
	}
}
