package typeset

import (
	"bodkin/markup"
	"bodkin/typeset/length"
)

// titlePage adds a half-title (the title alone) or a title page: the title
// half as large again as those of chapters, below it the subtitle in italics,
// and lower down the author's name in spaced small capitals.
func (c *column) titlePage(book *markup.Book, sec *markup.Section) error {
	size := c.s.headingSize()
	if sec.Kind == markup.HalfTitle {
		c.empty(c.displaySink())
		return c.display(c.p.title, size, Display)
	}
	c.empty(c.block.Rows / 5)
	if err := c.display(c.p.title, size*3/2, Display); err != nil {
		return err
	}
	if book.Subtitle != "" {
		c.empty(1)
		if err := c.displayLine(markup.Inline{Pos: sec.Pos, Text: book.Subtitle, Style: markup.Emphasis}, size*7/9); err != nil {
			return err
		}
	}
	if book.Author == "" {
		return nil
	}
	face, err := c.set.words.face(0)
	if err != nil {
		return err
	}
	c.empty(max(2, c.block.Rows/2-c.rows()))
	if err := c.displayLine(inSpacedCaps([]markup.Inline{{Pos: sec.Pos, Text: book.Author}}, face)[0], size*7/9); err != nil {
		return err
	}
	c.raise(c.rows() - c.block.Rows + 1) // a page may be a row short
	return nil
}

// displayLine adds a short text of the title page.
func (c *column) displayLine(in markup.Inline, size length.Length) error {
	t, err := c.set.words.lining([]markup.Inline{in}, in.Pos)
	if err != nil {
		return err
	}
	return c.display(t, size, Display)
}

// primary returns the language of a BCP 47 tag.
func primary(tag string) string {
	for i, r := range tag {
		if r == '-' || r == '_' {
			return tag[:i]
		}
	}
	return tag
}
