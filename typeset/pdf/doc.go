// Package pdf writes a [typeset.Layout] as a PDF for the press, or as a proof
// for reading.
//
// # The model
//
// A file is made in two passes. In the first, fpdf lays the pages: their
// boxes, guides and outline; the text is put into each page's content as glyph
// identifiers at exact places. The second takes fpdf's finished file apart
// object by object and writes it out again, compressed, with what fpdf does
// not make: the faces, the document information and the file identifier.
//
// A line of type becomes one text object. "office" at 11 pt, 36 pt from the
// left and 540 pt from the foot of the page, in the face EB Garamond:
//
//	BT
//	/F1 11 Tf
//	36 540 Td
//	[<01E503B501A9>20<01B3>]TJ
//	ET
//
// There are four glyphs, two bytes each; the second stands for ffi, and c and e
// are kerned. Numbers between the strings of a TJ array move the pen left, in
// thousandths of the size. They are written only where the place of the next glyph differs by
// more than 0.004 pt from where the widths of the glyphs before it lead: for
// kerning, tracking and word spaces. The pen is followed in whole numbers, as
// an ideal reader would move it, so that rounding never adds up and every
// glyph stands within 0.005 pt of its place in the layout.
//
// # Text that can be read back
//
// Each face is a Type 0 font with the encoding Identity-H: a character
// identifier is a glyph identifier. A ToUnicode map gives the letters of each,
// all of them for a ligature. Word spaces are real space glyphs. Two cases
// need more than one map.
//
// A glyph may stand for different letters in different places: in small
// capitals for A and for a; a hyphen for itself, and for the hyphen that the
// program put in at a line's end, which reads as U+00AD, the soft hyphen. The
// face then speaks with a second voice: another Type 0 font (F1_2) with the
// same descendant, the same program and its own ToUnicode map. It works alike
// for TrueType and CFF, where CIDToGIDMap does not exist.
//
// Several glyphs may stand for letters together, as a letter and its combining
// accents. Each says one letter, so that read in order they say the text. Only
// where glyphs outnumber letters do they stand in a marked-content sequence
// with the replacement text ActualText (ISO 32000-1, 14.9.4).
//
// Lines stand in the order of the layout, which is the order of reading.
//
// # Pictures and bleed
//
// A picture lies under all else. Its file stands in the PDF once, as gray,
// however many plates show it; its pixels are read last, one file at a time. The
// right half of a spread, on the recto of which the table below tells:
//
//	q
//	0 0 369 594 re W n
//	738 0 0 594 -369 0 cm
//	/I1 Do
//	Q
//
// Where a page of the book bleeds, every page of the file has paper for it at
// head, foot and fore-edge, and at the back only if the setting says so. The
// TrimBox is what remains of it. On a page of 360 by 576 pt with a bleed of 9 pt
//
//	         MediaBox, BleedBox   TrimBox
//	recto    0 0 369 594          0 9 360 585
//	verso    0 0 369 594          9 9 369 585
//
// # The press
//
// A file that is not for reading conforms to PDF/X-1a:2003 (ISO 15930-4), and
// says so: in the document information, in an output intent that names a
// registered printing condition, and in a metadata stream that agrees with
// both. Its pages have no notes, links or layers and nothing transparent, and
// their ink is gray, or CMYK for pictures in colour.
//
// # Sheets
//
// [WriteSheets] puts pages of one or several layouts on paper of any size, at
// their true size, with rules and lines of type beside them. A page is placed
// by the corner of its trim, and drawn as it is in a file of its own.
package pdf
