package typeset

import (
	"context"
	"strings"

	"bodkin/markup"
	"bodkin/typeset/length"
	"bodkin/typeset/pages"
)

// column is a section as one long page: blocks of lines on the rows of the
// grid, one below the other, before it is cut into pages.
type column struct {
	set    *setter
	s      *Setting
	block  Block
	p      *prepared
	blocks []pages.Block
	fills  []fill // what stands in each block
	plain  bool   // the next paragraph's first line is not indented
	nested int    // depth of the list at hand
	opened int    // blocks of the opening: title and the room around it
	begin  bool   // the block at hand is the first of the section's text
	ctx    context.Context
}

// fill is what stands in a block: a text, each of its lines on an item, or
// lines given for every item of every way.
type fill struct {
	text   *broken
	lines  [][][]Line // by way and item; Y is measured from the item's first row
	label  []Run      // before the first line, from the left edge of the text block: of a note or a list item, or a drop capital
	hidden bool       // not shown but at the head of a page
}

// inset is the part of the measure that a block is set in.
type inset struct {
	left, right length.Length // indents from the text block's edges
	size        length.Length
	role        Role
}

// add adds a block of one item.
func (c *column) add(rows int, cost int64, lines ...Line) {
	c.blocks = append(c.blocks, pages.Block{{Items: []pages.Item{{Rows: rows, Verso: cost, Recto: cost}}}})
	c.fills = append(c.fills, fill{lines: [][][]Line{{lines}}})
}

// space leaves a row empty, unless it falls at the head or foot of a page or
// there is an empty one already.
func (c *column) space() {
	if !c.open() {
		c.blocks = append(c.blocks, pages.Block{{Items: []pages.Item{{Rows: 1, Space: true}}}})
		c.fills = append(c.fills, fill{lines: [][][]Line{{nil}}})
	}
}

// elastic is a space that may take a second row.
func (c *column) elastic() {
	if !c.open() {
		c.space()
		n := len(c.blocks) - 1
		c.blocks[n] = append(c.blocks[n], pages.Way{Cost: pages.OffDepth, Items: []pages.Item{{Rows: 2, Space: true}}})
		c.fills[n].lines = append(c.fills[n].lines, [][]Line{nil})
	}
}

// open reports whether the column begins or ends with empty rows.
func (c *column) open() bool {
	n := len(c.fills)
	if n == 0 {
		return true
	}
	last := &c.fills[n-1]
	return last.text == nil && len(last.lines[0][len(last.lines[0])-1]) == 0
}

// empty leaves rows empty wherever they fall, and keeps them with what
// follows.
func (c *column) empty(rows int) {
	if rows > 0 {
		c.add(rows, pages.Forbid)
	}
}

// body is the frame of running text.
func (c *column) body() inset { return inset{size: c.s.Size.Length, role: Text} }

// shape returns how a text is set in a frame, without indents.
func (c *column) shape(f inset, how align) shape {
	return shape{role: f.role, size: f.size, left: f.left, measure: c.block.Measure - f.left - f.right,
		align: how, divide: how == justified && c.s.Hyphenate, hang: how == justified && c.s.Hang, widen: c.widen(how)}
}

// widen returns what the letters of a text may give: nothing, where its lines
// are not justified.
func (c *column) widen(how align) Widen {
	if how == justified {
		return c.s.Widen
	}
	return 0
}

// flow adds a list of blocks, one below the other.
func (c *column) flow(blocks []markup.Block, f inset) error {
	for _, b := range blocks {
		err := c.ctx.Err()
		if err != nil {
			return err
		}
		c.begin = len(c.fills) == c.opened
		switch b := b.(type) {
		case *markup.Paragraph:
			err = c.paragraph(b, f)
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
func (c *column) paragraph(b *markup.Paragraph, f inset) error {
	t := c.p.blocks[b][0]
	if len(t.tokens) == 0 {
		c.space() // typed as no-break spaces, to leave a row empty
		c.plain = true
		return nil
	}
	if c.p.opened != nil && c.p.opened.of == b {
		c.plain = false
		return c.opening(c.p.opened, t, f)
	}
	sh := c.shape(f, justified)
	if !c.plain {
		sh.first = c.s.indent()
	}
	c.plain = false
	return c.text(t, sh)
}

// What it costs a page to end with a hyphen where the eye goes to the facing
// page, and a paragraph to run long or short by what its lines lose.
const (
	footHyphen = pages.OffDepth / 4
	lineLoss   = 8 // demerits of 1981 a line that cost one unit
)

// text adds a paragraph, with neither its first nor its last line alone on a
// page. It may run a line long or short.
func (c *column) text(t *text, sh shape) error {
	b, err := c.set.breaks(t, sh, sh.align == justified)
	if err == nil && len(b.ways) > 0 {
		c.paragraphBlock(b)
	}
	return err
}

// paragraphBlock adds the block of a text that has been broken.
func (c *column) paragraphBlock(b *broken) {
	block := make(pages.Block, len(b.ways))
	for w, spans := range b.ways {
		items := make([]pages.Item, len(spans))
		for i := range items {
			it := pages.Item{Rows: 1}
			if n := len(spans); n > 1 && (i == 0 || i == n-2) {
				it.Verso, it.Recto = pages.Forbid, pages.Forbid
			}
			if spans[i].hyphen {
				it.Verso += footHyphen
				it.Recto += pages.TurnCost
			}
			items[i] = it
		}
		block[w].Items = items
		if w > 0 {
			block[w].Cost = pages.OffDepth + min(max(b.costs[w]/lineLoss, 0), 2*pages.OffDepth)
		}
	}
	c.blocks = append(c.blocks, block)
	c.fills = append(c.fills, fill{text: b})
}

// keepTogether lets no page end within items.
func keepTogether(items []pages.Item) {
	for i := range items[:len(items)-1] {
		items[i].Verso, items[i].Recto = pages.Forbid, pages.Forbid
	}
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
