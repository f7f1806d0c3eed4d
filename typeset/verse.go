package typeset

import "bodkin/markup"

func (c *column) verse(b *markup.Verse, f inset) error { return nil }
