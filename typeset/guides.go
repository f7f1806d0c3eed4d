package typeset

import (
	"image/color"

	"bodkin/typeset/length"
)

// GuideRole says what a guide shows.
type GuideRole uint8

const (
	GuideTrim     GuideRole = iota // the edges of the page
	GuideSafety                    // where ink that is not meant to be cut must stop
	GuideBlock                     // the text block
	GuideBaseline                  // a line of the grid
	GuideFold                      // where facing pages meet
)

// Color returns the ink in which the guide is drawn: grays for the page,
// red for the safety margin, blues for the block and its grid.
func (r GuideRole) Color() color.RGBA {
	return [...]color.RGBA{
		GuideTrim:     {0x90, 0x90, 0x90, 0xff},
		GuideSafety:   {0xd8, 0x60, 0x50, 0xff},
		GuideBlock:    {0x50, 0x80, 0xc8, 0xff},
		GuideBaseline: {0xc4, 0xd6, 0xee, 0xff},
		GuideFold:     {0xb8, 0xb8, 0xb8, 0xff},
	}[r]
}

// NoPage is the shade of the empty place beside the first recto or a last
// verso, where a spread has no page.
var NoPage = color.RGBA{0xea, 0xea, 0xea, 0xff}

// GuideWidth is how wide a guide is drawn: a hairline that a printer holds.
const GuideWidth = length.Point / 4

// Guide is a straight rule, level or upright, that shows how a page is made.
// Its ends are measured as everything on a page is: from the top left corner
// of the trim.
type Guide struct {
	Role           GuideRole
	X0, Y0, X1, Y1 length.Length
}

// Guides returns the guides of the page at index i in the order in which they
// are drawn: the grid, the text block, the safety margin (none when safety is
// 0) and the trim.
func (l *Layout) Guides(i int, safety length.Length) []Guide {
	left, b := l.BlockLeft(i), l.Block
	right := left + b.Measure
	var gs []Guide
	for row := range b.Rows {
		y := b.Baseline + b.Leading*length.Length(row)
		gs = append(gs, Guide{GuideBaseline, left, y, right, y})
	}
	if b.Rows > 0 {
		foot := b.Baseline + b.Leading*length.Length(b.Rows-1)
		gs = frame(gs, GuideBlock, left, b.Baseline-b.Ascender, right, foot)
	}
	if safety > 0 {
		gs = frame(gs, GuideSafety, safety, safety, l.Trim.Width-safety, l.Trim.Height-safety)
	}
	return frame(gs, GuideTrim, 0, 0, l.Trim.Width, l.Trim.Height)
}

// frame appends the four sides of a rectangle.
func frame(gs []Guide, role GuideRole, x0, y0, x1, y1 length.Length) []Guide {
	return append(gs,
		Guide{role, x0, y0, x1, y0},
		Guide{role, x0, y1, x1, y1},
		Guide{role, x0, y0, x0, y1},
		Guide{role, x1, y0, x1, y1})
}

// Spread is two facing pages, as indices in Layout.Pages; -1 where there is
// none: left of the first recto, and right of a last verso.
type Spread struct{ Verso, Recto int }

// Spreads returns how many spreads the layout opens to, the first recto
// counted as one.
func (l *Layout) Spreads() int {
	if len(l.Pages) == 0 {
		return 0
	}
	return len(l.Pages)/2 + 1
}

// Spread returns the spread of number n, counted from 0: the first recto
// stands alone on the right. The page at index i lies in spread (i+1)/2.
func (l *Layout) Spread(n int) Spread {
	s := Spread{2*n - 1, 2 * n}
	if s.Recto >= len(l.Pages) {
		s.Recto = -1
	}
	return s
}
