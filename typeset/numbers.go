package typeset

// Numbers is how chapters or parts are numbered: the number of the first as it
// would be written, "Chapter One", "1" or "I"; empty leaves numbers as the
// manuscript has them.
type Numbers string
