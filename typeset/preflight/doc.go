// Package preflight looks at a finished PDF as a printer does before it goes
// to press, and says what would be refused, on which page, and how to mend it.
// The file may be anybody's: nothing is taken from how it was made.
//
// # The model
//
// An independent reader (pdfcpu) takes the file apart into objects. What the
// file says of itself, its pages' boxes, faces and pictures are read from
// them. The content of each page is then run as a printer's interpreter runs
// it, and leaves marks:
//
//	BT /F1 11 Tf 36 540 Td (Low water) Tj ET   ->  text, 36 538 to 84 549, 11 pt, black
//	0.1 w 36 500 m 324 500 l S                 ->  a line of 0.1 pt
//	288 0 0 200 36 250 cm /I1 Do               ->  a picture of 150 pixels to the inch
//
// Rules compare the marks with the page's boxes and with the [Limits] of the
// printer. Each finding has a code of the table in codes.go, which tells
// whether it stops the file or is something to look at, and by what clause.
//
// Marks are boxes. A line of text is as high as its face says and as wide as
// its letters, without the spaces at its ends; a shape is the box of its
// points inside the clip. So a finding about an edge may be a trifle early,
// and never late.
//
// # What a file may do to us
//
// A file may be damaged or made to do harm. What is read, decoded and run is
// bounded, in bytes, depth and steps; what goes past the bounds is a finding,
// as is damage. Nothing of it gets further than an error.
package preflight
