package typeset

import (
	"fmt"
	"strings"

	"bodkin/markup"
	"bodkin/typeset/length"
	"bodkin/typeset/pages"
)

// heading adds a heading inside a section, in its own size whatever the
// text's: the first level in small capitals and the second in italics, both
// centred, the others in italics at the left. There is more room above it than
// below.
func (c *column) heading(b *markup.Heading, f inset) error {
	f.role, f.size = Heading, c.s.subheadingSize()
	how := centred
	if b.Level > 2 {
		how = ragged
	}
	lines, err := c.set.set(c.p.blocks[b][0], c.shape(f, how))
	if err != nil {
		return err
	}
	if b.Level <= 1 {
		c.room(2, 1, 3)
	} else {
		c.room(1, 2)
	}
	rows := rowsOf(f.size, c.block.Leading)
	for i := range lines {
		lines[i].Y = length.Length(rows-1) * c.block.Leading
		c.add(rows, pages.Forbid, lines[i])
	}
	if b.Level <= 1 {
		c.empty(1)
	}
	c.plain = true
	return nil
}

// rowsOf returns how many rows of the grid a line of type of a size takes, so
// that it does not touch the line above.
func rowsOf(size, leading length.Length) int {
	return max(1, int((size*21/20+leading-1)/leading))
}

// room leaves rows empty, unless they fall at the head or the foot of a page:
// the first number where nothing else matters, another where the page needs it.
func (c *column) room(rows ...int) {
	c.close()
	if c.open() {
		return
	}
	var b pages.Block
	var fl fill
	for i, n := range rows {
		w := pages.Way{Items: []pages.Item{{Rows: n, Space: true}}}
		if i > 0 {
			w.Cost = pages.OffDepth
		}
		b, fl.lines = append(b, w), append(fl.lines, [][]Line{nil})
	}
	c.blocks, c.fills = append(c.blocks, b), append(c.fills, fl)
}

// close takes away the empty rows that the column ends with.
func (c *column) close() {
	for n := len(c.blocks) - 1; n >= c.opened; n-- {
		if items := c.blocks[n][0].Items; len(items) != 1 || !items[0].Space {
			return
		}
		c.blocks, c.fills = c.blocks[:n], c.fills[:n]
	}
}

// quotation adds what is set off from the text: an extract or a letter a row
// from it and set in on both sides, or a motto, which is set in deeper and
// ragged, for its lines are short. Where letters are the whole text, they have
// the whole measure.
func (c *column) quotation(b *markup.Quotation, f inset) error {
	opening := c.begin
	inner := f
	indent := c.quoteIndent()
	if b.Form == markup.Motto && !c.apart {
		indent = max(indent, c.block.Measure/mottoIndent)
		inner.ragged = true
	}
	whole := b.Form == markup.Letter && c.letters
	if !whole && c.block.Measure-f.left-f.right-2*indent >= leastQuoted*f.size {
		inner.left += indent
		inner.right += indent
	}
	c.space()
	c.plain = true
	if err := c.flow(b.Blocks, inner); err != nil {
		return err
	}
	c.space()
	c.plain = opening || b.Form == markup.Motto // the text begins below an epigraph
	return nil
}

// leastQuoted is how many ems a line of a quotation has at the least: where
// there is no room to set one in, it is not.
const leastQuoted = 16

// mottoIndent is how far a motto is set in on both sides, as a part of the
// measure.
const mottoIndent = 8

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
	if room := c.block.Measure - inner.left - inner.right; room < leastItem*f.size {
		return &markup.Error{Pos: b.Pos, What: fmt.Sprintf("this list stands so deep in others that a line of it has %v", tenth(max(0, room))),
			Mend: "put it less deep, or set smaller"}
	}
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

// leastItem is how many ems a line of a list has at the least.
const leastItem = 4

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
	from := f.left - end(label) - f.size*2/5
	for i := range label {
		label[i].X += from
	}
	for at < len(c.fills) && c.fills[at].first() == nil && c.fills[at].text == nil {
		at++
	}
	if at == len(c.fills) { // nothing but a label
		c.add(1, 0, Line{Role: f.role, Measure: c.block.Measure, Runs: label, Pos: label[0].Pos})
		return nil
	}
	fl := &c.fills[at]
	if fl.text == nil {
		fl.label = label
		fl.hang(fl.lines[0][0][:1])
		fl.label = nil
		return nil
	}
	if inner := fl.label; inner != nil { // the item begins with an item of its own
		label = append(label, inner...)
	}
	fl.label = label
	return nil
}

// first returns the first of the lines that are given; nil where there are none.
func (f *fill) first() *Line {
	if len(f.lines) != 1 || len(f.lines[0]) == 0 || len(f.lines[0][0]) == 0 || len(f.lines[0][0][0].Runs) == 0 {
		return nil
	}
	return &f.lines[0][0][0]
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
	line, err := c.ornament("scene-break", shown, b.Pos)
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

func (c *column) ornament(key, s string, pos markup.Pos) (Line, error) {
	t, err := c.set.words.prepare([]markup.Inline{{Pos: markup.Pos{File: key}, Text: s}}, pos)
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
