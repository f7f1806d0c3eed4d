package typeset

import (
	"strings"

	"bodkin/markup"
	"bodkin/typeset/length"
	"bodkin/typeset/pages"
)

func (c *column) heading(b *markup.Heading, f inset) error {
	c.elastic()
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
	opening := c.begin
	inner := f
	if c.block.Measure-f.left-f.right > 2*leastEms*f.size {
		inner.left += c.quoteIndent()
		inner.right += c.quoteIndent()
	}
	c.space()
	c.plain = true
	if err := c.flow(b.Blocks, inner); err != nil {
		return err
	}
	c.space()
	c.plain = opening // an epigraph: the text begins below it
	return nil
}

func (c *column) quoteIndent() length.Length { return c.s.Size.Length * 3 / 2 }

// list adds items, each with its label hanging in the indent, which is as wide
// as the widest label needs. A list inside a list stands close.
func (c *column) list(b *markup.List, f inset) error {
	labels := make([][]Run, len(b.Items))
	for i := range b.Items {
		var err error
		if labels[i], err = c.label(c.p.labels[&b.Items[i]], f); err != nil {
			return err
		}
	}
	inner := f
	inner.left += max(c.quoteIndent(), widest(labels)+f.size*2/5)
	c.nested++
	defer func() { c.nested-- }()
	if c.nested == 1 || !b.Tight {
		c.space()
	}
	for i := range b.Items {
		c.plain = true
		if err := c.labelled(labels[i], b.Items[i].Blocks, inner); err != nil {
			return err
		}
		if !b.Tight {
			c.space()
		}
	}
	if c.nested == 1 || !b.Tight {
		c.space()
	}
	c.plain = false
	return nil
}

// label sets a label, its runs placed from 0.
func (c *column) label(t *text, f inset) ([]Run, error) {
	lines, err := c.set.set(t, c.shape(f, ragged))
	if err != nil {
		return nil, err
	}
	runs := append([]Run(nil), lines[0].Runs...)
	for i := range runs {
		runs[i].Added = true
	}
	return runs, nil
}

func widest(labels [][]Run) length.Length {
	most := length.Length(0)
	for _, runs := range labels {
		most = max(most, end(runs))
	}
	return most
}

// labelled adds blocks with a label before their first line.
func (c *column) labelled(label []Run, blocks []markup.Block, f inset) error {
	at := len(c.fills)
	if err := c.flow(blocks, f); err != nil {
		return err
	}
	for at < len(c.fills) && c.fills[at].text == nil {
		at++
	}
	from := f.left - end(label) - f.size*2/5
	for i := range label {
		label[i].X += from
	}
	if at == len(c.fills) { // nothing but a label
		c.add(1, 0, Line{Role: f.role, Measure: c.block.Measure, Runs: label, Pos: label[0].Pos})
		return nil
	}
	if inner := c.fills[at].label; inner != nil { // the item begins with an item of its own
		label = append(label, inner...)
	}
	c.fills[at].label = label
	return nil
}

// end returns where a line's last run ends.
func end(runs []Run) length.Length {
	last := &runs[len(runs)-1]
	return last.X + last.Width()
}

// sceneBreak adds the ornament between two scenes, or a blank line. The room
// around it may give or take a row.
func (c *column) sceneBreak(b *markup.SceneBreak) error {
	c.plain = true
	shown, blank := c.s.SceneBreak, false
	if strings.TrimFunc(shown, isSeparator) == "" {
		shown, blank = "* * *", true
	}
	line, err := c.ornament(shown, b.Pos)
	if err != nil {
		return err
	}
	between := line // two rows
	between.Y = c.block.Leading / 2
	kept := func(rows int) pages.Item {
		return pages.Item{Rows: rows, Verso: pages.Forbid, Recto: pages.Forbid}
	}
	if blank {
		// A blank line: at the head of a page it would not be seen, so the
		// ornament stands there. A page never ends with it.
		c.blocks = append(c.blocks, pages.Block{
			{Items: []pages.Item{kept(1)}},
			{Items: []pages.Item{kept(2)}, Cost: pages.OffDepth},
		})
		c.fills = append(c.fills, fill{lines: [][][]Line{{{line}}, {{between}}}, hidden: true})
		return nil
	}
	var before []pages.Item
	var none [][]Line
	if !c.open() {
		before, none = []pages.Item{{Rows: 1, Space: true}}, [][]Line{nil}
	}
	after := kept(1)
	after.Space = true
	c.blocks = append(c.blocks, pages.Block{
		{Items: append(before[:len(before):len(before)], kept(1), after)},
		{Items: []pages.Item{kept(2)}, Cost: pages.OffDepth},
		{Items: append(before[:len(before):len(before)], kept(2), after), Cost: pages.OffDepth},
	})
	c.fills = append(c.fills, fill{lines: [][][]Line{
		append(none[:len(none):len(none)], []Line{line}, nil),
		{{between}},
		append(none[:len(none):len(none)], []Line{between}, nil),
	}})
	return nil
}

func (c *column) ornament(s string, pos markup.Pos) (Line, error) {
	t, err := c.set.words.prepare([]markup.Inline{{Pos: markup.Pos{File: "scene-break"}, Text: s}}, pos)
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
			c.add(1, 0)
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
	labels := make([][]Run, len(notes))
	for i := range notes {
		var err error
		if labels[i], err = c.label(c.p.notes[i], f); err != nil {
			return err
		}
	}
	f.left = max(c.quoteIndent(), widest(labels)+f.size*2/5)
	c.space()
	for i, n := range notes {
		c.plain = true
		if err := c.labelled(labels[i], n.Blocks, f); err != nil {
			return err
		}
	}
	return nil
}
