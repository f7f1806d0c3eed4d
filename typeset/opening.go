package typeset

import (
	"math"
	"slices"
	"unicode"
	"unicode/utf8"

	"bodkin/fonts"
	"bodkin/markup"
	"bodkin/typeset/length"
)

// opened is the first paragraph of a chapter as its opening wants it.
type opened struct {
	of   *markup.Paragraph
	caps *text // its first words in small capitals
	drop *drop // nil where it does not begin with a letter
}

// drop is a paragraph whose initial is set apart.
type drop struct {
	quote   *fonts.Run // an opening mark before the initial; nil for none
	initial *fonts.Run
	apart   bool  // the initial is a word, as in "I had"
	rest    *text // its first words in small capitals
	pos     markup.Pos
}

// open prepares the openings of a paragraph.
func (s *wordSetter) open(p *markup.Paragraph) (*opened, error) {
	face, err := s.face(0)
	if err != nil {
		return nil, err
	}
	capped := p.Text
	if face.Supports(fonts.SmallCaps) {
		capped = inCaps(p.Text)
	}
	o := &opened{of: p}
	if o.caps, err = s.prepare(capped, p.Pos); err != nil {
		return nil, err
	}
	first := &capped[0]
	initial, quote := initialOf(first)
	if initial == "" {
		return o, nil
	}
	rest := append([]markup.Inline(nil), capped...)
	rest[0].Text = first.Text[len(quote)+len(initial):]
	if rest[0].Text == "" {
		rest = rest[1:]
	}
	if len(rest) == 0 {
		return o, nil
	}
	after, _ := utf8.DecodeRuneInString(rest[0].Text)
	o.drop = &drop{initial: face.Shape(initial, 0), apart: unicode.IsSpace(after), pos: first.Pos}
	if quote != "" {
		o.drop.quote = face.Shape(quote, 0)
	}
	o.drop.rest, err = s.prepare(rest, p.Pos)
	return o, err
}

// initialOf returns the letter that a text begins with, and the mark before
// it. Only an upright capital is set large.
func initialOf(in *markup.Inline) (initial, quote string) {
	if in.Break || in.Note > 0 || in.Style&^smallCaps != 0 {
		return "", ""
	}
	r, size := utf8.DecodeRuneInString(in.Text)
	if isOpening(r) && r != '—' {
		quote = in.Text[:size]
		r, size = utf8.DecodeRuneInString(in.Text[size:])
	}
	if !unicode.IsUpper(r) {
		return "", ""
	}
	return in.Text[len(quote) : len(quote)+size], quote
}

// The words that an opening sets in small capitals: to the first point or
// comma, or until there are letters enough, at most five.
const (
	capsLetters = 14
	capsWords   = 5
)

// inCaps marks the first words of a text.
func inCaps(ins []markup.Inline) []markup.Inline {
	letters, words := 0, 0
	var made []markup.Inline
	for i, in := range ins {
		if in.Break || in.Note > 0 || in.Style != 0 {
			return append(made, ins[i:]...)
		}
		for at, r := range in.Text {
			switch {
			case unicode.IsLetter(r):
				letters++
				continue
			case unicode.IsSpace(r):
				words++
			case r == '’' || r == '-' || isOpening(r) && letters == 0:
				continue
			}
			if !unicode.IsSpace(r) || letters >= capsLetters || words >= capsWords {
				capped, rest := in, in
				capped.Text, capped.Style = in.Text[:at], smallCaps
				rest.Text = in.Text[at:]
				return append(append(append(made, capped), rest), ins[i+1:]...)
			}
		}
		in.Style = smallCaps
		made = append(made, in)
	}
	return made
}

// opening adds the first paragraph of a chapter.
func (c *column) opening(o *opened, t *text, f inset) error {
	sh := c.shape(f, justified)
	switch c.s.Opening {
	case OpeningPlain:
		return c.text(t, sh)
	case OpeningDropCap:
		for lines := c.s.DropLines; o.drop != nil && lines > 1; lines-- {
			if done, err := c.dropCap(o.drop, sh, lines); done || err != nil {
				return err
			}
		}
	}
	return c.text(o.caps, sh)
}

// dropCap adds a paragraph with a drop capital, which stands on the baseline
// of its last line and is as tall as the capitals of its first. Each line
// beside it begins where the shape of the capital lets it, and so do lines
// below into which it reaches: those under the tail of a Q, or under a
// cedilla. A paragraph that is shorter than its capital is not done.
func (c *column) dropCap(d *drop, sh shape, lines int) (done bool, err error) {
	face := d.initial.Face
	rise := c.block.Leading * length.Length(lines-1)
	size := sh.size + rise.Scale(int64(face.Upem), int64(face.CapHeight))
	ink := inkOf(d.initial, size)
	for i, r := range ink.beside(c.block.Leading, sh.size, lines, d.rest.top(sh.size)) {
		gap := sh.size / 4
		switch {
		case i == 0 && d.apart:
			gap += sh.size / 4 // a word space more
		case i == 0:
			gap = sh.size / 8
		}
		sh.drops = append(sh.drops, r-ink.left+gap)
	}
	b, err := c.set.breaks(d.rest, sh, true)
	if err != nil || len(b.ways) == 0 {
		return false, err
	}
	for _, w := range b.ways {
		if len(w) < len(sh.drops) {
			return false, nil
		}
	}
	c.paragraphBlock(b)
	last := len(c.blocks) - 1
	label := []Run{{X: -ink.left, Rise: -rise, Size: size, Glyphs: d.initial, Pos: d.pos}}
	if d.quote != nil {
		// It hangs in the margin, or over the slope of an A.
		q := Run{Size: sh.size, Glyphs: d.quote, Pos: d.pos}
		_, low, _, high := d.quote.Face.Extents(d.quote.Glyphs[0].ID)
		from, _, _ := ink.within(rise+scale(sh.size, low, face), rise+scale(sh.size, high, face))
		q.X = from - ink.left - q.Width() - sh.size/10
		label = append([]Run{q}, label...)
	}
	c.fills[last].label = label
	return true, nil
}

// top returns how high the ink of the first word of a text reaches, at a size.
func (t *text) top(size length.Length) length.Length {
	var top length.Length
	for _, p := range t.tokens[0].w.parts {
		for _, g := range p.run.Glyphs {
			_, _, _, high := p.run.Face.Extents(g.ID)
			top = max(top, scale(size, high, p.run.Face))
		}
	}
	return top
}

// ink is the shape of a letter at a size: its outline in font units, and the
// left edge of it from the letter's origin.
type ink struct {
	strokes []stroke
	upem    int64
	size    length.Length
	left    length.Length
}

func inkOf(run *fonts.Run, size length.Length) ink {
	face, id := run.Face, run.Glyphs[0].ID
	left, _, _, _ := face.Extents(id)
	return ink{strokes: contourOf(face.Outline(id)), upem: int64(face.Upem), size: size, left: scale(size, left, face)}
}

// beside returns, for each of the lines beside a letter that stands on the
// baseline of the last of them, how far its ink reaches there, from the
// letter's origin; then the same for lines below that it reaches into. A line
// takes the height from a little below its baseline to its ascenders, the
// first one from its baseline to just over its first word, which is top high.
func (k ink) beside(leading, text length.Length, lines int, top length.Length) []length.Length {
	var reach []length.Length
	for i := 0; ; i++ {
		base := leading * length.Length(lines-1-i)
		low, high := base-text/4, base+text*3/4
		if i == 0 {
			low, high = base, base+top+text/12
		}
		_, to, ok := k.within(low, high)
		if !ok && i >= lines {
			break
		}
		if !ok {
			to = k.left
		}
		reach = append(reach, to)
	}
	// No line goes into the bowl of a C, or between the serifs of an I.
	for i := 1; i < len(reach)-1; i++ {
		reach[i] = max(reach[i], min(slices.Max(reach[:i]), slices.Max(reach[i+1:])))
	}
	return reach
}

// within returns from where to where a letter has ink between two heights over
// its baseline, from its origin; not ok where it has none.
func (k ink) within(low, high length.Length) (from, to length.Length, ok bool) {
	a, b := int32(low.Scale(k.upem, int64(k.size))), int32(high.Scale(k.upem, int64(k.size)))
	least, most := int32(math.MaxInt32), int32(math.MinInt32)
	for _, s := range k.strokes {
		if x, y, in := between(s.from, s.to, a, b); in {
			least, most, ok = min(least, x), max(most, y), true
		}
	}
	if !ok {
		return k.left, k.left, false
	}
	return k.size.Scale(int64(least), k.upem), k.size.Scale(int64(most), k.upem), true
}

// stroke is a straight piece of an outline.
type stroke struct{ from, to fonts.Point }

// contourOf returns an outline as straight pieces, curves cut into eight.
func contourOf(segments []fonts.Segment) []stroke {
	var strokes []stroke
	var begin, pen fonts.Point
	line := func(to fonts.Point) {
		strokes = append(strokes, stroke{pen, to})
		pen = to
	}
	const pieces = 8
	for _, s := range segments {
		switch s.Op {
		case fonts.MoveTo:
			line(begin) // a contour is closed
			begin, pen = s.Args[0], s.Args[0]
		case fonts.LineTo:
			line(s.Args[0])
		case fonts.QuadTo:
			a, b, c := pen, s.Args[0], s.Args[1]
			for i := int32(1); i <= pieces; i++ {
				u, v := pieces-i, i
				line(fonts.Point{
					X: (u*u*a.X + 2*u*v*b.X + v*v*c.X) / (pieces * pieces),
					Y: (u*u*a.Y + 2*u*v*b.Y + v*v*c.Y) / (pieces * pieces)})
			}
		case fonts.CubeTo:
			a, b, c, d := pen, s.Args[0], s.Args[1], s.Args[2]
			for i := int32(1); i <= pieces; i++ {
				u, v := pieces-i, i
				line(fonts.Point{
					X: (u*u*u*a.X + 3*u*u*v*b.X + 3*u*v*v*c.X + v*v*v*d.X) / (pieces * pieces * pieces),
					Y: (u*u*u*a.Y + 3*u*u*v*b.Y + 3*u*v*v*c.Y + v*v*v*d.Y) / (pieces * pieces * pieces)})
			}
		}
	}
	line(begin)
	return strokes[1:] // the first one led to the first contour
}

// between returns from where to where a straight piece of an outline goes
// between two heights; not in where it does not come there.
func between(a, b fonts.Point, low, high int32) (from, to int32, in bool) {
	if a.Y > b.Y {
		a, b = b, a
	}
	if b.Y < low || a.Y > high {
		return 0, 0, false
	}
	if a.Y == b.Y {
		return min(a.X, b.X), max(a.X, b.X), true
	}
	at := func(y int32) int32 { return a.X + int32(int64(b.X-a.X)*int64(y-a.Y)/int64(b.Y-a.Y)) }
	x, y := at(max(a.Y, low)), at(min(b.Y, high))
	return min(x, y), max(x, y), true
}
