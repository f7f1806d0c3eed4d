// Package typeset sets a book: Compose(book, setting) gives a Layout, in which
// every glyph of every page has its place.
//
// A text goes one way through it, and no stage reaches back:
//
//	markup.Inline    “the tide of-*fice*”                    the manuscript
//	word             the  tide  of|fice                      shaped, with its cuts: font units, no size
//	paragraph.Item   ▇ ␣ ▇ ␣ ▇ ⌿ ▇                           boxes, glue, penalties at a size
//	Line             the tide of-                            runs placed in the measure
//	pages.Item       one or more rows of the grid            a section as one long column
//	Page             lines on rows, notes and pictures, then head and folio
//
// What depends on less is kept longer. Words depend on the family of faces
// alone, so a Composer makes them once and a second setting of the same book
// shapes nothing again. Lines depend on face, size and measure; pages on
// everything.
//
// # Many settings
//
// Castoff sets a book in many settings, and these share what does not depend on
// where they differ:
//
//	for each                          is kept
//	book                              what the manuscript was parsed to
//	family of faces                   words, shaped and with their cuts
//	text and all that shapes lines    its line ends in every way, their costs as items of pages,
//	                                  its runs placed in the measure, and what a line shows alone:
//	                                  looseness, words at its ends, wide spaces (proof, traits)
//	setting                           pages, heads and folios, contents, findings
//
// That is sound because each is made by code that sees no more than what
// stands in its row: a word knows no size, a run is placed from its line and not
// from the page, a line's traits follow from its runs. What is kept is not
// changed: a page holds copies of lines, and whoever needs other runs (a label
// before them, a note's number that begins again on each page) makes new ones.
// Where a text's pages may end depends on its notes as well, so it is kept with
// how many lines they have, and made anew for others.
//
// So settings that differ only in leading, head, foot or depth are a matter of
// making pages. The lines of other sizes and measures are let go when the last
// setting that wants them is done.
//
// # Lines
//
// Word spaces are those of the face brought halfway to a quarter of an em;
// they shrink to a fifth and stretch to half an em, and beyond that only where
// nothing else fits (R. Bringhurst, The Elements of Typographic Style, §2.1.1):
// such a line is counted as loose. A word may be divided by its language's
// patterns, two letters before the hyphen and three after it (ibid. §2.4.2),
// never in the last word of a paragraph; at most two lines in a row end so.
// Marks at the ends of a line hang a part of their width in the margin.
//
// Other places where a line may end are those of UAX #14 with this tailoring:
//   - a dash, an ellipsis or a hyphen stays with what stands before it, and a
//     line ends after it only if a letter or figure does;
//   - a line does not end within a run of such marks;
//   - a typed hyphen divides a word only with two letters on each side of it;
//   - a dash or an ellipsis that stands alone, or before closing marks, does not
//     begin a line;
//   - no-break, thin and hair spaces never end a line, a word joiner joins.
//
// A space does not end a line between initials, between a short title and a
// name, or between a figure and its unit (bind.go). Two quotation marks of
// different kinds that meet are kept apart by a narrow space, and a slanted
// letter from an upright one that follows.
//
// A word wider than its line is divided between any two letters as the last
// resort. No line is ever wider than its measure, hanging marks aside.
//
// # Pages
//
// All lines stand on one grid of baselines, so that they face each other
// across a spread and back each other through the leaf. A title takes as many
// rows as it needs. No page begins with the last line of a paragraph or ends
// with the first one; a heading or a scene break stays with what follows.
//
// A note stands at the foot of the page that refers to it, in smaller type on a
// leading of its own, and goes on at the foot of the next where it must
// (notes.go); or below its chapter, or with all others in the back. A picture in
// the text takes rows of it, or stands at the head of the next page; one on a
// page of its own keeps within the margins or bleeds past the trim, over one
// page or two (picture.go). Of a picture only the shape counts here: its pixels
// are read by whoever draws the page.
//
// The body is cut into pages first, since its folios stand in the contents.
//
// # Forms
//
// What is not running text is not justified, and so never loose: verse keeps
// its lines and is centred on the longest (verse.go), signs are centred
// (sign.go), a letter's address and signature stand at the right (letter.go),
// the cells of tables are ragged (table.go). All stand on the grid, a row from
// the text, and what belongs together stays on a page.
//
// A word is divided by the language it is in: that of its stretch of text, of
// its section or of the book (tongue.go). One whose patterns are not at hand is
// not divided, but where the author's soft hyphens stand.
package typeset
