package sheet

import (
	"slices"

	"bodkin/typeset"
	"bodkin/typeset/length"
	"bodkin/typeset/pdf"
)

// samples returns the sample sheets of all editions: of each a page of text and
// the opening of its chapter.
func (m *maker) samples() []pdf.Sheet {
	layouts := make([]*typeset.Layout, len(m.editions))
	for i := range m.editions {
		layouts[i] = m.editions[i].Layout
	}
	places, words := passage(layouts)
	section := -1
	if places != nil {
		section = layouts[0].Pages[places[0].page].Section
	}
	if opening(layouts[0], section) < 0 {
		section = -1
	}
	var sheets []pdf.Sheet
	for i, l := range layouts {
		var shown []int
		if places != nil {
			at := &places[i]
			if s, ok := m.settle(i, at.page); ok {
				sheets = append(sheets, m.sample(i, s, at, words))
				shown = s.pages
			}
		}
		if at := opening(l, section); at >= 0 && !slices.Contains(shown, at) {
			if s, ok := m.settle(i, at); ok {
				sheets = append(sheets, m.sample(i, s, nil, ""))
			}
		}
	}
	return sheets
}

// stand is a page, or two that face each other, in the middle of a paper.
type stand struct {
	paper Paper
	pages []int       // indices in Layout.Pages, from left to right
	trim  typeset.Box // of them all
}

func standing(p Paper, l *typeset.Layout, pages ...int) stand {
	w, h := l.Trim.Width*length.Length(len(pages)), l.Trim.Height
	return stand{p, pages, typeset.Box{X: (p.Width - w) / 2, Y: (p.Height - h) / 2, Width: w, Height: h}}
}

// left returns the left edge of the page at a place.
func (s *stand) left(l *typeset.Layout, place int) length.Length {
	return s.trim.X + l.Trim.Width*length.Length(place)
}

// Crop marks stand off the corner and are as long as there is room, at most so
// much (common practice: an eighth of an inch off, a quarter long). With less
// than leastMark for both they would be of no use.
var markOff, markLong, leastMark = mm(3), mm(6), mm(3)

// settle finds how the page of edition i at an index stands on the paper: with
// the page that it faces if both have room for crop marks and a caption; else
// alone, upright or on the paper's side. It is not ok where type would be lost.
func (m *maker) settle(i, page int) (s stand, ok bool) {
	l := m.editions[i].Layout
	papers := []Paper{m.paper, m.paper.onSide()}
	if facing := l.Spread((page + 1) / 2); facing.Verso >= 0 && facing.Recto >= 0 {
		for _, p := range papers {
			s := standing(p, l, facing.Verso, facing.Recto)
			if s.trim.X >= edge+leastMark && s.trim.Y >= edge+captionGap+2*captionLeading {
				return s, true
			}
		}
	}
	room := func(s *stand) length.Length { return min(s.trim.X, s.trim.Y) }
	for _, p := range papers {
		if one := standing(p, l, page); s.pages == nil || room(&s) < edge+leastMark && room(&one) > room(&s) {
			s = one
		}
	}
	if room(&s) >= edge {
		return s, true
	}
	holds := s.holds(l)
	m.warn(i, &s, holds)
	return s, holds
}

// warn notes that the paper is too small for the pages of edition i.
func (m *maker) warn(i int, s *stand, holds bool) {
	if !holds {
		m.note(i, false, "is too large for %s: it has no sample pages; write them with bodkin proof and print on larger paper", s.paper.Name)
		return
	}
	wide, high := s.trim.Width-s.paper.Width, s.trim.Height-s.paper.Height
	paper, unit := s.paper.Name, s.paper.Unit
	var what string
	switch {
	case wide > 0 && high > 0:
		what = "is " + say(wide, unit) + " wider and " + say(high, unit) + " higher than " + paper + ", and its edges run off the paper"
	case wide > 0:
		what = "is " + say(wide, unit) + " wider than " + paper + ", and its sides run off the paper"
	case high > 0:
		what = "is " + say(high, unit) + " higher than " + paper + ", and its head and foot run off the paper"
	case wide == 0 && high == 0:
		what = "is " + paper + " itself, and home printers print nothing at the edges"
	case wide == 0:
		what = "is as wide as " + paper + ", and home printers print nothing at the edges"
	case high == 0:
		what = "is as high as " + paper + ", and home printers print nothing at the edges"
	default:
		what = "leaves " + say(min(s.trim.X, s.trim.Y), unit) + " of " + paper + " on either side, where most home printers print nothing: these edges may not show"
	}
	under := s.paper.Height - edge - s.trim.Y - s.trim.Height
	m.note(i, under >= captionGap+5*captionLeading, "%s; all of its type shows, at actual size", what)
}

// holds reports whether all type of the layout lies where printers print, if
// every page stood where the first of s does.
func (s *stand) holds(l *typeset.Layout) bool {
	for i := range l.Pages {
		for k := range l.Pages[i].Lines {
			line := &l.Pages[i].Lines[k]
			for n := range line.Runs {
				r := &line.Runs[n]
				x, y := s.trim.X+line.X+r.X, s.trim.Y+line.Y-r.Rise
				if x < edge || x+r.Width() > s.paper.Width-edge || y-r.Size < edge || y+r.Size/3 > s.paper.Height-edge {
					return false
				}
			}
		}
	}
	return true
}

// sample draws a sample sheet of edition i; at is where the passage begins that
// all editions show, nil where there is none.
func (m *maker) sample(i int, s stand, at *place, words string) pdf.Sheet {
	e := &m.editions[i]
	c := newCanvas(m.hand, s.paper)
	for place, page := range s.pages {
		c.Pages = append(c.Pages, pdf.Placed{Layout: e.Layout, Page: page, X: s.left(e.Layout, place), Y: s.trim.Y})
	}
	marks := c.edges(s.trim)
	if len(s.pages) > 1 { // where they meet
		x, y := s.left(e.Layout, 1), s.trim.Y+s.trim.Height
		for n := range length.Length(2) {
			from := foldDash * (1 + 2*n)
			c.rule(x, s.trim.Y-from, x, s.trim.Y-from-foldDash, hairline)
			c.rule(x, y+from, x, y+from+foldDash, hairline)
		}
	}
	pointed := at != nil && c.point(e.Layout, &s, at)
	c.caption(s.trim, m.says(i, &s, marks, pointed, words), e.Layout, s.pages)
	return c.Sheet
}

// foldDash is a dash of the marks where two pages meet, and as far from the next.
var foldDash = captionGap / 5

// mark returns how far off a corner a crop mark stands and how long it is,
// where so much room is printed beside it.
func mark(room length.Length) (off, long length.Length) {
	off = min(markOff, room/3)
	return off, min(markLong, room-off)
}

// edges shows where to cut: by crop marks where they have room, else by the
// edge itself, as far as it is on the paper. It reports whether all are marks.
func (c *canvas) edges(t typeset.Box) bool {
	all := true
	right, foot := t.X+t.Width, t.Y+t.Height
	for _, x := range []length.Length{t.X, right} {
		switch {
		case t.X >= edge && t.Y >= edge+leastMark:
			off, long := mark(t.Y - edge)
			c.rule(x, t.Y-off, x, t.Y-off-long, hairline)
			c.rule(x, foot+off, x, foot+off+long, hairline)
		case x > 0 && x < c.Width:
			all = false
			c.rule(x, max(t.Y, 0), x, min(foot, c.Height), hairline)
		}
	}
	for _, y := range []length.Length{t.Y, foot} {
		switch {
		case t.Y >= edge && t.X >= edge+leastMark:
			off, long := mark(t.X - edge)
			c.rule(t.X-off, y, t.X-off-long, y, hairline)
			c.rule(right+off, y, right+off+long, y, hairline)
		case y > 0 && y < c.Height:
			all = false
			c.rule(max(t.X, 0), y, min(right, c.Width), y, hairline)
		}
	}
	return all
}

// point draws a bar at the fore-edge, beside the line at which the passage
// begins, where there is room for one.
func (c *canvas) point(l *typeset.Layout, s *stand, at *place) bool {
	off, long := mark(s.trim.X - edge)
	if s.trim.X < edge+leastMark {
		return false
	}
	line := &l.Pages[at.page].Lines[at.line]
	y := s.trim.Y + line.Y - line.Runs[0].Size/4 // the middle of small letters
	x := s.trim.X - off
	if typeset.Recto(at.page) {
		x = s.trim.X + s.trim.Width + off + long
	}
	c.rule(x, y, x-long, y, length.Point*2)
	return true
}
