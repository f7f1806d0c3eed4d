package typeset

import "bodkin/markup"

func (c *column) sign(b *markup.Sign, f inset) error { return nil }
