package typeset

import (
	"slices"
	"strings"

	"bodkin/markup"
	"bodkin/typeset/length"
	"bodkin/typeset/pages"
)

// section adds the whole of a section.
func (c *column) section(book *markup.Book, sec *markup.Section) error {
	switch sec.Kind {
	case markup.HalfTitle, markup.TitlePage:
		return c.titlePage(book, sec)
	case markup.Contents:
		if sec.Matter != markup.Front {
			return &markup.Error{Pos: sec.Pos, What: "the contents stand in the front", Mend: "name them in front = [...]"}
		}
		return nil // its folios are not known yet
	case markup.Endnotes:
		return c.endnotes(book, sec)
	}
	switch {
	case sec.Piece == markup.Copyright, sec.Piece == markup.Dedication, sec.Piece == markup.Epigraph,
		sec.Piece == markup.Chapter && sec.Matter == markup.Front && len(sec.Title) == 0:
		return c.frontPiece(sec)
	}
	headed, err := c.headline(sec)
	if err != nil {
		return err
	}
	rest, err := c.prelude(sec.Blocks, headed)
	if err != nil {
		return err
	}
	if headed && len(rest) > 0 {
		c.raise(c.rows() + leastOpening - c.block.Rows)
	}
	c.letters = areLetters(rest)
	if err := c.flow(rest, c.body()); err != nil {
		return err
	}
	return c.notes(sec.Notes)
}

// areLetters tells whether letters are all that there is to read, as in a novel
// that is told by them.
func areLetters(blocks []markup.Block) bool {
	some := false
	for _, b := range blocks {
		switch b := b.(type) {
		case *markup.Quotation:
			if b.Form != markup.Letter {
				return false
			}
			some = true
		case *markup.Heading, *markup.Sign, *markup.SceneBreak, *markup.Picture:
		default:
			return false
		}
	}
	return some
}

// frontPiece adds a page for display, its paragraphs apart and not indented:
// the copyright page in smaller type at the foot, a dedication or an epigraph
// centred below the sink.
func (c *column) frontPiece(sec *markup.Section) error {
	f := c.body()
	copyright := sec.Piece == markup.Copyright
	headed := false
	if copyright {
		c.apartAlign = ragged
		f.size = min(f.size.Scale(noteSize, 1000), 9*length.Point) // small print, in large print too
	} else {
		c.apartAlign = centred
	}
	if len(sec.Title) > 0 || len(sec.Number) > 0 {
		var err error
		if headed, err = c.headline(sec); err != nil {
			return err
		}
	} else if !copyright {
		c.empty(c.displaySink())
	}
	rest, err := c.prelude(sec.Blocks, headed)
	if err != nil {
		return err
	}
	c.apart = true
	if err := c.flow(rest, f); err != nil {
		return err
	}
	c.apart = false
	pictured := slices.ContainsFunc(c.fills, func(f fill) bool { return f.figure != nil })
	if copyright && !headed && len(sec.Notes) == 0 && !pictured {
		c.smallPrint(f.size * 13 / 10)
	}
	return c.notes(sec.Notes)
}

// smallPrint sets what the column holds on a leading of its own, at the foot
// of the page, if it fits there.
func (c *column) smallPrint(leading length.Length) {
	var ft footnotes
	for at := range c.blocks {
		if ft.add(c, at) != nil {
			return // a table stays on the grid
		}
	}
	ft.trim(0)
	room := length.Length(c.block.Rows-1) * c.block.Leading
	depth := length.Length(len(ft.lines)-1) * leading
	if depth > room {
		return
	}
	var lines []Line
	for n, row := range ft.lines {
		for _, line := range row {
			line.Y += room - depth + length.Length(n)*leading
			lines = append(lines, line)
		}
	}
	c.blocks, c.fills = nil, nil
	c.add(c.block.Rows-1, pages.Forbid, lines...)
	c.add(1, 0)
}

// rows returns how many rows the column takes in its first ways, without the
// spaces at its end.
func (c *column) rows() int {
	rows, inked := 0, 0
	for _, b := range c.blocks {
		for _, it := range b[0].Items {
			if rows += it.Rows; !it.Space {
				inked = rows
			}
		}
	}
	return inked
}

// sink returns the rows above a title, at most a third of the page.
func (c *column) sink() int { return max(0, min(c.s.Sink, c.block.Rows/3)) }

// leastOpening is how many lines of text a chapter's first page has room for
// at the least: the sink gives way where a title and what stands below it
// would leave fewer.
const leastOpening = 4

// raise takes rows off the white that the column begins with, if it has them.
func (c *column) raise(rows int) {
	if rows <= 0 || len(c.fills) == 0 || c.fills[0].lines == nil {
		return
	}
	if it := &c.blocks[0][0].Items[0]; len(c.fills[0].lines[0][0]) == 0 {
		it.Rows = max(1, it.Rows-rows)
	}
}

// displaySink returns the rows above what stands alone on its page, a part's
// title or a dedication: lower than the titles of chapters.
func (c *column) displaySink() int {
	return min(max(c.block.Rows*3/10, c.sink()+2), c.block.Rows/2)
}

// prelude adds what stands between the heading of a section and its text: a
// small picture, mottos, the place and date. It returns the blocks that are
// left.
func (c *column) prelude(blocks []markup.Block, headed bool) (rest []markup.Block, err error) {
	owed := 0 // rows of white before what comes next
	if headed {
		owed = 2
	}
	done := 0
loop:
	for ; done < len(blocks); done++ {
		switch b := blocks[done].(type) {
		case *markup.Picture:
			if !headed || done > 0 || b.Place != markup.InText {
				break loop
			}
			c.empty(1)
			c.opened = len(c.fills)
			if err := c.picture(b, c.vignette(b)); err != nil {
				return nil, err
			}
			owed = 1 // and the space below the picture
		case *markup.Quotation:
			if b.Form != markup.Motto {
				break loop
			}
			c.empty(owed)
			if err := c.motto(b); err != nil {
				return nil, err
			}
			owed = 2
		case *markup.Paragraph:
			if b.Use != markup.Dateline {
				break loop
			}
			c.empty(owed)
			f := c.body()
			f.right = c.s.indent()
			if err := c.text(c.p.blocks[b][0], c.shape(f, rightward)); err != nil {
				return nil, err
			}
			c.keep()
			owed = 1
		default:
			break loop
		}
	}
	if done < len(blocks) {
		c.empty(owed)
	}
	c.opened, c.plain = len(c.fills), true
	return blocks[done:], nil
}

// vignette is the frame of a picture below a chapter's title: two fifths of the
// measure, where the manuscript gives no width.
func (c *column) vignette(b *markup.Picture) inset {
	f := c.body()
	if b.Width == 0 {
		f.left, f.right = c.block.Measure*3/10, c.block.Measure*3/10
	}
	return f
}

// mottoSize is the size of a motto, in thousandths of the text's.
const mottoSize = 920

// motto adds a quotation that stands before a text: smaller, and centred on
// its longest line, which is at most three quarters of the measure; who said
// it at the right. The lines of a short one are of much the same width.
func (c *column) motto(b *markup.Quotation) error {
	f := c.body()
	f.size, f.ragged = f.size.Scale(mottoSize, 1000), true
	most := max(c.block.Measure*3/4, min(c.block.Measure, leastQuoted*f.size))
	lines, width, err := c.mottoIn(b, f, most)
	if err != nil {
		return err
	}
	if lines > 1 && lines <= mostLines {
		for low, high := width/2, width; high-low > f.size/2; {
			try := (low + high) / 2
			n, w, err := c.mottoIn(b, f, try)
			if err != nil || n > lines {
				low = try
				continue
			}
			high, width = try, w
		}
	}
	width = min(most, width+f.size/8) // rounding turns no line over
	f.left = (c.block.Measure - width) / 2
	f.right = c.block.Measure - width - f.left
	c.plain = true
	if err := c.flow(b.Blocks, f); err != nil {
		return err
	}
	c.keep()
	return nil
}

// mottoIn breaks the paragraphs of a motto in a measure, and returns how many lines
// they make and how wide the widest of them is. What is not a paragraph takes
// all the measure and is not counted.
func (c *column) mottoIn(b *markup.Quotation, f inset, measure length.Length) (lines int, width length.Length, err error) {
	f.right = c.block.Measure - measure
	for i, inner := range b.Blocks {
		p, is := inner.(*markup.Paragraph)
		if !is {
			return mostLines + 1, measure, nil
		}
		sh := c.shape(f, ragged)
		if i > 0 && p.Use == markup.Running {
			sh.first = c.s.indent()
		}
		set, err := c.set.set(c.p.blocks[p][0], sh)
		if err != nil {
			return 0, 0, err
		}
		lines += len(set)
		for i := range set {
			width = max(width, set[i].X+end(set[i].Runs))
		}
	}
	return lines, width, nil
}

// endnotes adds the notes of all sections, below the titles of their chapters.
func (c *column) endnotes(book *markup.Book, sec *markup.Section) error {
	title := c.p.title
	if len(title.tokens) == 0 {
		var err error
		if title, err = c.added(generatedIn(book.Language).notes, sec.Pos); err != nil {
			return err
		}
	}
	c.empty(c.sink())
	if err := c.display(title, c.s.headingSize(), Display); err != nil {
		return err
	}
	c.empty(2)
	c.opened = len(c.fills)
	own := c.p
	defer func() { c.p = own }()
	for i, from := range book.Sections {
		if len(from.Notes) == 0 {
			continue
		}
		if name := nameOf(from, c.numbers[i]); name != "" {
			t, err := c.set.words.lining([]markup.Inline{{Pos: from.Pos, Text: name, Style: markup.Emphasis}}, from.Pos)
			if err != nil {
				return err
			}
			c.elastic()
			if err := c.display(t, c.s.Size.Length, Display); err != nil {
				return err
			}
		}
		c.p = &c.all[i]
		labels, width, err := c.noteLabels(c.p.notes)
		if err != nil {
			return err
		}
		if err := c.labelledNotes(from.Notes, labels, width); err != nil {
			return err
		}
	}
	return nil
}

// nameOf returns what a section is called: its title, or else its number.
func nameOf(sec *markup.Section, number sectionNumber) string {
	if len(sec.Title) > 0 {
		return markup.Plain(sec.Title)
	}
	return markup.Plain(number.text)
}

// added prepares a text that the program adds.
func (c *column) added(s string, pos markup.Pos) (*text, error) {
	return c.set.words.lining([]markup.Inline{{Pos: pos, Text: s}}, pos)
}

// headline adds the number and the title of a section, and the ornament below
// them. It reports whether there are any. The first of them begins at the
// same height in all chapters.
func (c *column) headline(sec *markup.Section) (bool, error) {
	number := c.numbers[c.index]
	numbered, titled := markup.Plain(number.text) != "", len(c.p.title.tokens) > 0
	if !numbered && !titled {
		return false, nil
	}
	sink, size, small := c.sink(), c.s.headingSize(), c.s.numberSize()
	if sec.Piece == markup.Part {
		sink, size = c.displaySink(), size*6/5
	}
	if !titled && c.s.NumberSize.Auto {
		small = size // it takes the place of the title
	}
	c.empty(sink)
	if numbered {
		t, err := c.number(number, sec)
		if err != nil {
			return false, err
		}
		at := len(c.fills)
		if err := c.display(t, small, Heading); err != nil {
			return false, err
		}
		if number.added {
			c.fills[at].mark()
		}
		if titled {
			if _, fit, err := c.fitted(c.p.title, size, Heading); err == nil && c.displayRows(1, fit) == 1 {
				c.empty(1) // a larger title brings the white above its letters
			}
		}
	}
	if titled {
		if err := c.display(c.p.title, size, Heading); err != nil {
			return false, err
		}
	}
	if strings.TrimFunc(c.s.Ornament, isSeparator) == "" || sec.Matter != markup.Body || sec.Piece != markup.Chapter {
		return true, nil
	}
	line, err := c.ornament("ornament", c.s.Ornament, sec.Pos)
	if err != nil {
		return false, err
	}
	c.empty(1)
	c.add(1, pages.Forbid, line)
	return true, nil
}

// mark says that the lines are not of the manuscript.
func (f *fill) mark() {
	for _, items := range f.lines {
		for _, lines := range items {
			for i := range lines {
				for k := range lines[i].Runs {
					lines[i].Runs[k].Added = true
				}
			}
		}
	}
}

// number prepares the number of a section: in spaced small capitals, where
// the face has them, or as it is written.
func (c *column) number(n sectionNumber, sec *markup.Section) (*text, error) {
	face, err := c.set.words.face(0)
	if err != nil {
		return nil, err
	}
	return c.set.words.lining(inSpacedCaps(n.text, face), sec.Pos)
}
