package typeset

import (
	"unicode"
	"unicode/utf8"

	"bodkin/fonts"
	"bodkin/markup"
	"bodkin/typeset/length"
)

// smallCaps marks text that is set in small capitals. It is no style of the
// manuscript.
const smallCaps markup.Style = 1 << 7

// capsTrack opens small capitals, in thousandths of an em. Common practice.
const capsTrack = 30

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
	o.drop = &drop{initial: face.Shape(initial, 0), pos: first.Pos}
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
// beside it begins where the shape of the capital lets it. A paragraph that is
// shorter than its capital is not done.
func (c *column) dropCap(d *drop, sh shape, lines int) (done bool, err error) {
	face := d.initial.Face
	rise := c.block.Leading * length.Length(lines-1)
	size := sh.size + rise.Scale(int64(face.Upem), int64(face.CapHeight))
	left, reach := reachOf(d.initial, size, c.block.Leading, sh.size, lines)
	for i, r := range reach {
		gap := sh.size / 4
		if i == 0 {
			gap = sh.size / 8 // the word goes on here
		}
		sh.drops = append(sh.drops, r-left+gap)
	}
	b, err := c.set.breaks(d.rest, sh, true)
	if err != nil || len(b.ways) == 0 {
		return false, err
	}
	for _, w := range b.ways {
		if len(w) < lines {
			return false, nil
		}
	}
	c.paragraphBlock(b)
	last := len(c.blocks) - 1
	label := []Run{{X: -left, Rise: -rise, Size: size, Glyphs: d.initial, Pos: d.pos}}
	if d.quote != nil {
		q := Run{Size: sh.size, Glyphs: d.quote, Pos: d.pos}
		q.X = -q.Width() // it hangs in the margin
		label = append([]Run{q}, label...)
	}
	c.fills[last].label = label
	return true, nil
}

// reachOf returns the left edge of a glyph's ink and, for each of the lines
// beside it, how far its ink reaches there, from the glyph's origin.
func reachOf(run *fonts.Run, size, leading, text length.Length, lines int) (left length.Length, reach []length.Length) {
	face := run.Face
	id := run.Glyphs[0].ID
	xMin, _, _, _ := face.Extents(id)
	left = scale(size, xMin, face)
	points := contourOf(face.Outline(id))
	for i := range lines {
		// The band of a line: from a little below its baseline to its ascenders,
		// in font units above the capital's baseline.
		base := leading * length.Length(lines-1-i)
		low := (base - text/4).Scale(int64(face.Upem), int64(size))
		high := (base + text*3/4).Scale(int64(face.Upem), int64(size))
		most := xMin
		for k := 1; k < len(points); k++ {
			most = max(most, reachBetween(points[k-1], points[k], int32(low), int32(high), xMin))
		}
		reach = append(reach, scale(size, most, face))
	}
	return left, reach
}

// contourOf returns the outline as the ends of its straight pieces, curves cut
// into eight. What joins two contours runs along their boxes and adds nothing.
func contourOf(segments []fonts.Segment) []fonts.Point {
	var points []fonts.Point
	var pen fonts.Point
	const pieces = 8
	for _, s := range segments {
		switch s.Op {
		case fonts.MoveTo, fonts.LineTo:
			pen = s.Args[0]
			points = append(points, pen)
		case fonts.QuadTo:
			a, b, c := pen, s.Args[0], s.Args[1]
			for i := int32(1); i <= pieces; i++ {
				u, v := pieces-i, i
				points = append(points, fonts.Point{
					X: (u*u*a.X + 2*u*v*b.X + v*v*c.X) / (pieces * pieces),
					Y: (u*u*a.Y + 2*u*v*b.Y + v*v*c.Y) / (pieces * pieces)})
			}
			pen = c
		case fonts.CubeTo:
			a, b, c, d := pen, s.Args[0], s.Args[1], s.Args[2]
			for i := int32(1); i <= pieces; i++ {
				u, v := pieces-i, i
				points = append(points, fonts.Point{
					X: (u*u*u*a.X + 3*u*u*v*b.X + 3*u*v*v*c.X + v*v*v*d.X) / (pieces * pieces * pieces),
					Y: (u*u*u*a.Y + 3*u*u*v*b.Y + 3*u*v*v*c.Y + v*v*v*d.Y) / (pieces * pieces * pieces)})
			}
			pen = d
		}
	}
	return points
}

// reachBetween returns how far to the right a straight piece of an outline
// reaches between two heights; none where it does not come there.
func reachBetween(a, b fonts.Point, low, high, none int32) int32 {
	if a.Y > b.Y {
		a, b = b, a
	}
	if b.Y < low || a.Y > high {
		return none
	}
	at := func(y int32) int32 {
		if a.Y == b.Y {
			return max(a.X, b.X)
		}
		return a.X + int32(int64(b.X-a.X)*int64(y-a.Y)/int64(b.Y-a.Y))
	}
	return max(at(max(a.Y, low)), at(min(b.Y, high)))
}
