package typeset

import (
	"slices"

	"bodkin/markup"
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
	}
	if len(sec.Title) == 0 && sec.Matter == markup.Front {
		return c.frontPiece(book, sec)
	}
	if len(sec.Title) > 0 {
		c.empty(c.sink())
		if err := c.title(c.p.title, c.s.headingSize(), Heading); err != nil {
			return err
		}
		c.empty(2)
	}
	c.opened = len(c.fills)
	if err := c.flow(sec.Blocks, c.body()); err != nil {
		return err
	}
	return c.notes(sec.Notes)
}

// frontPiece adds a piece of front matter without a title, its paragraphs
// apart and not indented. What follows the title page is the copyright page,
// in smaller type at the foot; the others, a dedication or an epigraph, stand
// centred below the sink.
func (c *column) frontPiece(book *markup.Book, sec *markup.Section) error {
	f := c.body()
	i := slices.Index(book.Sections, sec)
	copyright := i > 0 && book.Sections[i-1].Kind == markup.TitlePage
	c.apart = true
	if copyright {
		c.apartAlign = ragged
		f.size = f.size * 17 / 20
	} else {
		c.apartAlign = centred
		c.empty(c.sink())
	}
	if err := c.flow(sec.Blocks, f); err != nil {
		return err
	}
	c.apart = false
	if err := c.notes(sec.Notes); err != nil {
		return err
	}
	if rows := c.block.Rows - c.rows(); copyright && rows > 0 {
		c.blocks = slices.Insert(c.blocks, 0, pages.Block{{Items: []pages.Item{{Rows: rows, Verso: pages.Forbid, Recto: pages.Forbid}}}})
		c.fills = slices.Insert(c.fills, 0, fill{lines: [][][]Line{{nil}}})
	}
	return nil
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
