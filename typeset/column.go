package typeset

import (
	"bodkin/markup"
	"bodkin/typeset/length"
	"bodkin/typeset/pages"
)

// column is a section as one long page: strips of lines on the rows of the
// grid, one below the other, before it is cut into pages.
type column struct {
	set    *setter
	s      *Setting
	block  Block
	p      *prepared
	items  []pages.Item // one for each strip
	strips [][]Line     // Y is measured from the baseline of the strip's first row
	hidden map[int]Line // blank scene breaks, by strip: shown at the head of a page
	plain  bool         // the next paragraph's first line is not indented
}

// inset is the part of the measure that a block is set in.
type inset struct {
	left, right length.Length // indents from the text block's edges
	size        length.Length
	role        Role
}

func (c *column) add(rows int, cost int64, lines ...Line) {
	c.items = append(c.items, pages.Item{Rows: rows, Cost: cost})
	c.strips = append(c.strips, lines)
}

// space leaves a row empty, unless it falls at the head or foot of a page.
func (c *column) space() {
	if n := len(c.items); n == 0 || len(c.strips[n-1]) == 0 {
		return // there is room already
	}
	c.items = append(c.items, pages.Item{Rows: 1, Space: true})
	c.strips = append(c.strips, nil)
}

// empty leaves rows empty wherever they fall, and keeps them with what
// follows.
func (c *column) empty(rows int) {
	if rows > 0 {
		c.add(rows, pages.Forbid)
	}
}

// keep forbids a page to end after what has been added.
func (c *column) keep() {
	for i := len(c.items) - 1; i >= 0; i-- {
		c.items[i].Cost = pages.Forbid
		if !c.items[i].Space {
			return
		}
	}
}

// body is the frame of running text.
func (c *column) body() inset { return inset{size: c.s.Size.Length, role: Text} }

// shape returns how a text is set in a frame, without indents.
func (c *column) shape(f inset, how align) shape {
	return shape{role: f.role, size: f.size, left: f.left, measure: c.block.Measure - f.left - f.right,
		align: how, divide: how == justified && c.s.Hyphenate, hang: how == justified}
}

// blocks adds a list of blocks.
func (c *column) blocks(blocks []markup.Block, f inset) error {
	for _, b := range blocks {
		var err error
		switch b := b.(type) {
		case *markup.Paragraph:
			err = c.paragraph(c.p.blocks[b][0], f)
		case *markup.Heading:
			err = c.heading(b, f)
		case *markup.Quotation:
			err = c.quotation(b, f)
		case *markup.List:
			err = c.list(b, f)
		case *markup.SceneBreak:
			err = c.sceneBreak(b)
		case *markup.Verbatim:
			err = c.verbatim(b, f)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// paragraph adds running text: indented, unless it opens a section or follows
// a break.
func (c *column) paragraph(t *text, f inset) error {
	sh := c.shape(f, justified)
	if !c.plain {
		sh.first = c.s.indent()
	}
	c.plain = false
	return c.text(t, sh)
}

// text adds a paragraph, with neither its first nor its last line alone on a
// page.
func (c *column) text(t *text, sh shape) error {
	lines, err := c.set.set(t, sh)
	if err != nil {
		return err
	}
	n := len(lines)
	for i := range lines {
		cost := int64(0)
		if n > 1 && (i == 0 || i == n-2) {
			cost = pages.Forbid
		}
		c.add(1, cost, lines[i])
	}
	return nil
}

// title adds lines larger than the text: each takes as many rows as it needs.
func (c *column) title(t *text, size length.Length, role Role) error {
	if t == nil || len(t.tokens) == 0 {
		return nil
	}
	sh := c.shape(inset{size: size, role: role}, centred)
	lines, err := c.set.set(t, sh)
	if err != nil {
		return err
	}
	rows := int((size*6/5 + c.block.Leading - 1) / c.block.Leading)
	for i := range lines {
		lines[i].Y = length.Length(rows-1) * c.block.Leading
		c.add(rows, pages.Forbid, lines[i])
	}
	return nil
}

func (c *column) heading(b *markup.Heading, f inset) error {
	c.space()
	f.role = Heading
	sh := c.shape(f, centred)
	lines, err := c.set.set(c.p.blocks[b][0], sh)
	if err != nil {
		return err
	}
	for i := range lines {
		c.add(1, pages.Forbid, lines[i])
	}
	c.empty(1)
	c.plain = true
	return nil
}

func (c *column) quotation(b *markup.Quotation, f inset) error {
	inner := f
	inner.left += c.quoteIndent()
	inner.right += c.quoteIndent()
	c.space()
	c.plain = true
	if err := c.blocks(b.Blocks, inner); err != nil {
		return err
	}
	c.space()
	c.plain = false
	return nil
}

func (c *column) quoteIndent() length.Length { return c.s.Size.Length * 3 / 2 }

// list adds items, each with its label hanging in the indent.
func (c *column) list(b *markup.List, f inset) error {
	inner := f
	inner.left += c.quoteIndent()
	c.space()
	for i := range b.Items {
		item := &b.Items[i]
		c.plain = true
		if err := c.labelled(c.p.labels[item], item.Blocks, inner); err != nil {
			return err
		}
		if !b.Tight {
			c.space()
		}
	}
	c.space()
	c.plain = false
	return nil
}

// labelled adds blocks with a label before their first line.
func (c *column) labelled(label *text, blocks []markup.Block, f inset) error {
	at := len(c.strips)
	if err := c.blocks(blocks, f); err != nil {
		return err
	}
	for at < len(c.strips) && len(c.strips[at]) == 0 {
		at++
	}
	sh := c.shape(f, ragged)
	lines, err := c.set.set(label, sh)
	if err != nil {
		return err
	}
	mark := &lines[0]
	for i := range mark.Runs {
		mark.Runs[i].Added = true
	}
	if at == len(c.strips) { // an item without a text
		c.add(1, 0, *mark)
	}
	first := &c.strips[at][0]
	width := end(mark.Runs) + f.size*2/5
	moved := make([]Run, 0, len(mark.Runs)+len(first.Runs))
	for _, r := range mark.Runs {
		r.X += f.left - width - first.X
		moved = append(moved, r)
	}
	first.Runs = append(moved, first.Runs...)
	return nil
}

// end returns where a line's last run ends.
func end(runs []Run) length.Length {
	last := &runs[len(runs)-1]
	return last.X + last.Width()
}

// sceneBreak adds the ornament between two scenes, or a blank line.
func (c *column) sceneBreak(b *markup.SceneBreak) error {
	c.plain = true
	ornament := c.s.SceneBreak
	if ornament == "" {
		ornament = "* * *"
	}
	line, err := c.ornament(ornament, b.Pos)
	if err != nil {
		return err
	}
	if c.s.SceneBreak == "" {
		// A blank line: at the head of a page it would not be seen, so the
		// ornament stands there. A page never ends with it.
		c.add(1, pages.Forbid)
		if c.hidden == nil {
			c.hidden = make(map[int]Line)
		}
		c.hidden[len(c.items)-1] = line
		return nil
	}
	c.space()
	c.add(1, pages.Forbid, line)
	c.space()
	c.keep()
	return nil
}

func (c *column) ornament(s string, pos markup.Pos) (Line, error) {
	t, err := c.set.words.prepare([]markup.Inline{{Pos: pos, Text: s}}, pos)
	if err != nil {
		return Line{}, err
	}
	f := c.body()
	f.role = Ornament
	lines, err := c.set.set(t, c.shape(f, centred))
	if err != nil {
		return Line{}, err
	}
	for i := range lines[0].Runs {
		lines[0].Runs[i].Added = true
	}
	return lines[0], nil
}

// verbatim adds lines as they are typed, those that are too long turned over.
func (c *column) verbatim(b *markup.Verbatim, f inset) error {
	f.left += c.quoteIndent()
	c.space()
	for i, t := range c.p.blocks[b] {
		sh := c.shape(f, ragged)
		sh.first = length.Length(leadingSpaces(b.Lines[i].Text)) * f.size / 2
		sh.later = sh.first + 2*f.size
		if sh.later > sh.measure/2 {
			sh.first, sh.later = 0, 2*f.size
		}
		if len(t.tokens) == 0 {
			c.space()
			continue
		}
		if err := c.text(t, sh); err != nil {
			return err
		}
	}
	c.space()
	c.plain = false
	return nil
}

// leadingSpaces counts the spaces before the first letter of a typed line.
func leadingSpaces(s string) int {
	n := 0
	for _, r := range s {
		if separatorOf(r) != sepSpace && separatorOf(r) != sepFixed {
			break
		}
		n++
	}
	return n
}

// notes adds the notes of a section below its text, in smaller type.
func (c *column) notes(notes []*markup.Note) error {
	if len(notes) == 0 {
		return nil
	}
	f := c.body()
	f.role, f.size = NoteText, f.size*17/20
	f.left = c.quoteIndent()
	c.space()
	for i, n := range notes {
		c.plain = true
		if err := c.labelled(c.p.notes[i], n.Blocks, f); err != nil {
			return err
		}
	}
	return nil
}
