package typeset

import "bodkin/markup"

// placed adds a paragraph with a place of its own: a letter's address and
// signature at the right, its lines as they are typed, and its salutation at
// the left; who said a quotation at the right below it; a place and date at
// the right, in from the edge, before the text that they are of.
//
//	              The Harbour Office
//	                     3 May 1871
//	Dear Keeper,
//	   The tide was late again …
//	               Yours faithfully,
//	                        I. M.
//
// None of them is parted from the text that it belongs to, or divided by a
// page end.
func (c *column) placed(b *markup.Paragraph, f inset) error {
	t := c.p.blocks[b][0]
	if len(t.tokens) == 0 {
		return nil
	}
	how := rightward
	switch b.Use {
	case markup.Attribution, markup.Signature:
		c.rejoin()
		if c.apart && c.apartAlign == centred {
			how = centred
		}
	case markup.Salutation:
		how = ragged
	case markup.Dateline:
		f.right += c.s.indent()
	}
	before := b.Use == markup.Address || b.Use == markup.Salutation || b.Use == markup.Dateline
	if err := c.kept(t, c.shape(f, how), before); err != nil {
		return err
	}
	if c.apart && !before {
		c.space()
		return nil
	}
	// What follows a salutation is indented, as a paragraph of a letter is.
	c.plain = b.Use == markup.Address || b.Use == markup.Dateline
	return nil
}

// rejoin keeps what follows with the line before it, without a space between.
func (c *column) rejoin() {
	c.close()
	if len(c.blocks) > c.opened {
		c.keep()
	}
}
