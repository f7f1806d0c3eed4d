package typeset

import "bodkin/markup"

// sign adds an inscription, line by line and centred, a row from the text. One
// of few lines stays on its page; a longer one leaves two lines on each.
func (c *column) sign(b *markup.Sign, f inset) error {
	c.space()
	sh := c.shape(f, centred)
	sh.style = markup.Inscribed
	texts := c.p.blocks[b]
	for i, t := range texts {
		with := staysWithNext(i, len(texts)) || i < len(texts)-1 && len(texts) <= shortSign
		if err := c.kept(t, sh, with); err != nil {
			return err
		}
	}
	c.space()
	c.plain = false
	return nil
}

// heads tells whether a sign says what the block below it is, as "Telegram" or
// "The same to the same" do: then no page ends between them.
func heads(b *markup.Sign, next markup.Block) bool {
	if len(b.Lines) > 2 {
		return false
	}
	switch next.(type) {
	case *markup.Quotation, *markup.Verse, *markup.Verbatim, *markup.List:
		return true
	}
	return false
}

// shortSign is how many lines an inscription may have that is not divided.
const shortSign = 8
