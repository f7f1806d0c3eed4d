package sheet

import (
	"bodkin/typeset"
	"bodkin/typeset/length"
)

// The type of captions.
const (
	captionSize    = length.Point * 15 / 2
	captionLeading = length.Point * 19 / 2
)

// wideCaption is where two sentences of a caption stand in one line.
var wideCaption = mm(170)

// captionGap is how far a caption keeps from the page it belongs to.
var captionGap = mm(3)

// says returns the caption of a sample: what it is, what to do with it, and
// what all samples have in common.
func (m *maker) says(i int, s *stand, marks, pointed bool, words string) [][]span {
	e := &m.editions[i]
	what := [][]span{{{bold, letter(i) + "  " + e.Name}, {roman, "  ·  " + e.trim() + "  ·  " + e.kind() + "  ·  " + e.pages()}}}
	l := e.Layout
	page := "This page"
	if label := l.Pages[s.pages[0]].Label; len(s.pages) > 1 {
		page = "These pages"
		if next := l.Pages[s.pages[1]].Label; label != "" && next != "" {
			page = "Pages " + label + " and " + next
		}
	} else if label != "" {
		page = "Page " + label
	}
	do := page + " at actual size. Print at 100 %, cut along the marks and lay it into a real book."
	if !marks {
		do = page + " at actual size. Print at 100 %, cut along the lines and lay it into a real book."
		if s.trim.X < edge || s.trim.Y < edge {
			do = page + " at actual size. Print at 100 %."
		}
	}
	what = append(what, plain(do))
	if pointed {
		alike := []span{{roman, "The bar marks the same words in every edition: "}, {italic, words + " …"}}
		if s.trim.Width >= wideCaption {
			what[1][0].text += " "
			what[1] = append(what[1], alike...)
		} else {
			what = append(what, alike)
		}
	}
	for _, n := range m.notes {
		if n.edition == i {
			what = append(what, plain("The page "+n.text+"."))
		}
	}
	return what
}

// caption sets a caption below the page, or in the page's own foot margin where the paper has no other. It has as many of
// its sentences as have room; without room for one it is left out.
func (c *canvas) caption(trim typeset.Box, says [][]span, l *typeset.Layout, pages []int) {
	measure := min(trim.Width, c.Width-2*edge) - 2*captionGap
	foot := trim.Y + trim.Height
	top, end := foot+captionGap, c.Height-edge
	if top+captionLeading > end { // within the page, below its lowest line of type
		top, end = 0, min(end, foot-mm(1))
		for _, i := range pages {
			p := &l.Pages[i]
			for k := range p.Lines {
				top = max(top, trim.Y+p.Lines[k].Y+captionGap)
			}
		}
	}
	n, most := 0, int((end-top)/captionLeading)
	for _, spans := range says {
		lines := c.hand.wrap(captionSize, measure, spans)
		if n+len(lines) > most {
			break
		}
		for _, line := range lines {
			c.text(trim.X+trim.Width/2, top+captionSize+captionLeading*length.Length(n), captionSize, centred, line)
			n++
		}
	}
}
