package typeset

import "bodkin/markup"

func (c *column) picture(b *markup.Picture, f inset) error { return nil }
