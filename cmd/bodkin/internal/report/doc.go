// Package report makes the page on which editions of one book are compared: a
// single HTML file that needs nothing but itself.
//
// The model is a Comparison: editions, each with the Layout that was really
// set, and figures about them that the caller has worked out. What is drawn is
// read from the layouts:
//
//	object   the copy as it stands on a table: trim, and the thickness of its pages
//	sample   the same paragraphs at true size, in the outlines of the faces
//	spread   the opening on which these paragraphs stand
//	chart    pages against size and leading, each point really set
//
// Which paragraphs are shown is found by Same: paragraphs from one place of the
// manuscript that stand in every layout, as near to its middle as may be.
//
//	c := &report.Comparison{Title: book.Title, Editions: []report.Edition{
//		{Name: "book", Layout: house, Spine: …},
//		{Name: "roomy", Layout: roomy, Spine: …},
//	}}
//	err := report.Write(w, c)
//
// # The page
//
// It holds no script and asks for nothing: its Content-Security-Policy forbids
// every request. Each glyph stands once, as an outline in font units, and is
// used by all drawings, so that a page of two editions stays well below a
// megabyte. What is at true size is measured in CSS millimetres, which are true
// in print; on a screen they are as true as the screen tells its resolution.
//
// All places in drawings are calculated from lengths in whole numbers: the same
// comparison gives the same bytes on every machine.
package report
