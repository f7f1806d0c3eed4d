package typeset

import (
	"strings"

	"bodkin/fonts"
	"bodkin/markup"
	"bodkin/typeset/length"
	"bodkin/typeset/pages"
)

// spacedCaps is the style of small capitals with more room between them: of a
// chapter's number. It is no style of the manuscript.
const spacedCaps = smallCaps | mixedCaps

// spacedTrack opens them, in thousandths of an em. Common practice.
const spacedTrack = 80

// inSpacedCaps marks the upright stretches of a text, if the face has small
// capitals or all its letters are capitals: small letters are not spaced.
func inSpacedCaps(ins []markup.Inline, face *fonts.Face) []markup.Inline {
	plain := markup.Plain(ins)
	if !face.Supports(fonts.SmallCaps) && plain != strings.ToUpper(plain) {
		return ins
	}
	marked := append([]markup.Inline(nil), ins...)
	for i := range marked {
		if marked[i].Style == 0 {
			marked[i].Style = spacedCaps
		}
	}
	return marked
}

// mostLines is how many lines a title may have before it is set smaller.
const mostLines = 4

// display adds a text of its own size, centred, its lines of much the same
// width and no word divided. The lines stand as close as their size wants, the
// last on the grid. A title of more than four lines is set smaller, down to
// the size of the text.
func (c *column) display(t *text, size length.Length, role Role) error {
	if t == nil || len(t.tokens) == 0 {
		return nil
	}
	b, size, err := c.fitted(t, size, role)
	if err != nil {
		return err
	}
	lines := c.set.place(b, 0)
	rows, leading := c.displayRows(len(lines), size), c.displayLeading(size)
	for i := range lines {
		lines[i].Y = length.Length(rows-1)*c.block.Leading - length.Length(len(lines)-1-i)*leading
	}
	if rows <= c.block.Rows/2 || size > c.s.Size.Length {
		c.add(rows, pages.Forbid, lines...)
		return nil
	}
	for i := range lines { // too much to be kept together
		lines[i].Y = 0
		c.add(1, pages.Forbid, lines[i])
	}
	return nil
}

// fitted breaks a text for display, and returns the size that it is set in.
func (c *column) fitted(t *text, size length.Length, role Role) (*broken, length.Length, error) {
	b, err := c.balanced(t, size, role)
	for err == nil && (len(b.ways[0]) > mostLines || b.t != t) && size > c.s.Size.Length {
		size = max(size*9/10, c.s.Size.Length)
		b, err = c.balanced(t, size, role)
	}
	if err == nil && role == Display && len(b.ways[0]) > 1 { // alone of its kind: a little smaller may save a line
		if less, err := c.balanced(t, size*9/10, role); err == nil && len(less.ways[0]) < len(b.ways[0]) {
			return less, size * 9 / 10, nil
		}
	}
	return b, size, err
}

// displayLeading returns the distance of lines of a size: that of the grid,
// unless they need more.
func (c *column) displayLeading(size length.Length) length.Length {
	return max(size*6/5, c.block.Leading)
}

// displayRows returns how many rows such lines take.
func (c *column) displayRows(lines int, size length.Length) int {
	depth := size*6/5 + length.Length(lines-1)*c.displayLeading(size)
	return max(1, int((depth-c.block.Leading/8+c.block.Leading-1)/c.block.Leading))
}

// balanced breaks a text into as few lines as nine tenths of the measure allow, and
// then in the narrowest measure that gives as many.
func (c *column) balanced(t *text, size length.Length, role Role) (*broken, error) {
	in := func(width length.Length) (*broken, error) {
		side := (c.block.Measure - width) / 2
		return c.set.breaks(t, c.shape(inset{size: size, role: role, left: side, right: c.block.Measure - width - side}, centred), false)
	}
	most := c.block.Measure * 9 / 10
	best, err := in(most)
	if err == nil && best.t != t { // a word is too long for that
		most = c.block.Measure
		best, err = in(most)
	}
	if err != nil || best.t != t || len(best.ways[0]) == 1 {
		return best, err
	}
	least := most / length.Length(len(best.ways[0])+1)
	for most-least > size/4 {
		width := (least + most) / 2
		b, err := in(width)
		if err != nil || b.t != t || len(b.ways[0]) > len(best.ways[0]) {
			least = width
			continue
		}
		most, best = width, b
	}
	return best, nil
}
