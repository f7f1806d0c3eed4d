package typeset

import (
	"context"
	"slices"
	"unicode"
	"unicode/utf8"

	"bodkin/markup"
	"bodkin/typeset/length"
	"bodkin/typeset/pages"
)

// column is a section as one long page: blocks of lines on the rows of the
// grid, one below the other, before it is cut into pages.
type column struct {
	set        *setter
	s          *Setting
	block      Block
	p          *prepared
	blocks     []pages.Block
	fills      []fill // what stands in each block
	plain      bool   // the next paragraph's first line is not indented
	nested     int    // depth of the list at hand
	opened     int    // blocks of the opening: title and the room around it
	apart      bool   // paragraphs stand apart and are not indented: front matter
	apartAlign align
	letters    bool       // the section is nothing but letters: they are its text
	begin      bool       // the block at hand is the first of the section's text
	gathered   bool       // the notes of all sections stand together in the back
	feet       *footnotes // nil where no notes stand at the foot
	ctx        context.Context

	index   int             // of the section
	numbers []sectionNumber // of all sections
	all     []prepared      // all sections
	marks   []mark          // where the headings inside the section stand
}

// mark is the place of a heading: it stands in the first inked block from at on.
type mark struct {
	heading *markup.Heading
	at      int
}

// fill is what stands in a block: a text, each of its lines on an item, or
// lines given for every item of every way.
type fill struct {
	text   *broken
	lines  [][][]Line // by way and item; Y is measured from the item's first row
	figure *illustration
	proof  *keptProof // of the text, where it serves for several settings
	label  []Run      // before the first line, from the left edge of the text block: of a note or a list item, or a drop capital
	hidden bool       // not shown but at the head of a page
}

// inset is the part of the measure that a block is set in.
type inset struct {
	left, right length.Length // indents from the text block's edges
	size        length.Length
	role        Role
	ragged      bool // its paragraphs are not justified
}

// add adds a block of one item.
func (c *column) add(rows int, cost int64, lines ...Line) {
	it := pages.Item{Rows: rows, Verso: cost, Recto: cost}
	if c.feet != nil {
		referLines(&it, lines, c.feet.counts)
	}
	c.blocks = append(c.blocks, pages.Block{{Items: []pages.Item{it}}})
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
	for i, b := range blocks {
		err := c.ctx.Err()
		if err != nil {
			return err
		}
		c.begin = len(c.fills) == c.opened
		switch b := b.(type) {
		case *markup.Paragraph:
			err = c.paragraph(b, f)
		case *markup.Heading:
			c.marks = append(c.marks, mark{b, len(c.fills)})
			err = c.heading(b, f)
		case *markup.Quotation:
			err = c.quotation(b, f)
		case *markup.List:
			err = c.list(b, f)
		case *markup.SceneBreak:
			err = c.sceneBreak(b)
		case *markup.Verbatim:
			err = c.verbatim(b, f)
		case *markup.Verse:
			err = c.verse(b, f)
		case *markup.Sign:
			if err = c.sign(b, f); err == nil && i+1 < len(blocks) && heads(b, blocks[i+1]) {
				c.close()
				c.keep()
				c.empty(1)
			}
		case *markup.Table:
			err = c.table(b, f)
		case *markup.Picture:
			err = c.picture(b, f)
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
	if b.Use != markup.Running {
		return c.placed(b, f)
	}
	if c.apart {
		if err := c.text(t, c.shape(f, c.apartAlign)); err != nil {
			return err
		}
		c.space()
		return nil
	}
	how := justified
	if f.ragged {
		how = ragged
	}
	sh := c.shape(f, how)
	if !c.plain && !(c.open() && t.goesOn()) {
		sh.first = c.s.indent()
	}
	c.plain = false
	return c.text(t, sh)
}

// goesOn reports whether a text begins with a small letter: below a verse or a
// quotation it goes on with the sentence before.
func (t *text) goesOn() bool {
	r, _ := utf8.DecodeRuneInString(t.tokens[0].w.text())
	return unicode.IsLower(r)
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
	if c.set.proofs == nil || len(sh.drops) > 0 {
		b, err := c.set.breaks(t, sh, sh.align == justified)
		if err == nil && len(b.ways) > 0 {
			c.paragraphBlock(b)
		}
		return err
	}
	var notes []int
	if c.feet != nil {
		notes = c.feet.counts
	}
	k, err := c.set.proof(t, &sh, notes)
	if err != nil || len(k.ways) == 0 {
		return err
	}
	block, text := k.block, k.broken
	if !slices.Equal(k.notes, notes) { // a scene break in a note takes its rows from the setting
		text = k.own()
		text.notes = notes
		block = text.block()
	}
	c.blocks = append(c.blocks, block)
	c.fills = append(c.fills, fill{text: text, proof: k})
	return nil
}

// paragraphBlock adds the block of a text that has been broken.
func (c *column) paragraphBlock(b *broken) {
	if c.feet != nil {
		b.notes = c.feet.counts
	}
	c.blocks = append(c.blocks, b.block())
	c.fills = append(c.fills, fill{text: b})
}

// own returns a copy of a text, whose pages may end elsewhere.
func (b *broken) own() *broken {
	own := *b
	return &own
}

// block returns the ways of a text as those of a block.
func (b *broken) block() pages.Block {
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
			block[w].Cost = min(max(b.costs[w]/lineLoss, 0), 2*pages.OffDepth)
			if len(spans) != len(b.ways[0]) {
				block[w].Cost += pages.OffDepth
			}
		}
		keepTogether(items[:max(1, len(b.sh.drops))])
		if b.together {
			keepTogether(items)
		}
		if last := &items[len(items)-1]; b.kept {
			last.Verso, last.Recto = pages.Forbid, pages.Forbid
		}
		if b.notes != nil {
			b.refer(items, spans, b.notes)
		}
	}
	return block
}

// keepTogether lets no page end within items.
func keepTogether(items []pages.Item) {
	for i := range items[:len(items)-1] {
		items[i].Verso, items[i].Recto = pages.Forbid, pages.Forbid
	}
}
