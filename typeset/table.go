package typeset

import "bodkin/markup"

func (c *column) table(b *markup.Table, f inset) error { return nil }
