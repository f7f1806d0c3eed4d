// Package fonts holds the faces a book is set in and answers what a compositor
// asks of a face: which glyphs stand for these letters, how wide they run, how
// far they rise and fall, what they look like, and what of the file must travel
// with the finished pages.
//
// # The model
//
// A [Library] is a set of families: those built into the program, each with its
// licence, and those the user keeps in a folder. A family has up to four
// styles; one family in one style is a [Face]. Shaping a text in a face gives a
// [Run]: glyphs with their advances and offsets.
//
//	lib := fonts.Embedded()
//	face, err := lib.Face("EB Garamond", fonts.Regular)
//	run := face.Shape("office", 0)
//
// Six letters became four glyphs here, because the face joins f, f and i:
//
//	glyph      o    f_f_i    c     e
//	cluster    0      1      4     5     byte offset in "office"
//	advance   495    776    387   390    1000 to the em; run.Width is 2048
//
// The word may be divided before the c with what is known: WidthTo(4) is 1271
// and safe. WidthTo(2) falls inside the ligature, and
// WidthTo(5) between two letters that are kerned; a word divided there has to be
// shaped again in two parts.
//
// # Units
//
// Every length is a whole number of the face's own units, [Face.Upem] to the
// em, with y upwards. The package knows nothing of points, lines or pages:
// whoever sets type scales once, by run, so that widths add up exactly and are
// the same on every processor.
//
// # Shaping
//
// Texts are shaped by the HarfBuzz port of go-text/typesetting with HarfBuzz's
// default features (kern, liga, clig, calt, mark …) and what [Feature] adds.
// Script and direction come from the text itself, as hb-shape does it: the
// script of its first letter. The language system is the script's default one.
// A text that runs from right to left comes out in visual order.
//
// Each face keeps every run it has made, by text and feature. A second setting
// of the same book, at any size and measure, shapes nothing again; see
// [Face.Shapings]. A face and its runs may be used by any number of goroutines.
//
// # The user's fonts
//
// [Library.With] takes single-font TrueType (.ttf) and OpenType/CFF (.otf)
// files. Everything about such a file is checked when it is opened: a damaged
// file, or one whose maker forbids embedding (OS/2 fsType), is refused with a
// line that names file and reason. A variable font is used at its default
// instance.
//
// # Embedding
//
// [Face.Subset] makes the font program for a PDF. Glyph identifiers are kept;
// outlines that are not used are emptied. The result depends on the face and
// the set of glyphs alone.
package fonts
