// Package copyfit finds the settings in which a book makes a wanted number of
// pages, and of those the ones that read best.
//
// # The score
//
// A setting has a score out of 1000, known before it is set. It begins with
// 1000 and loses points for what makes a page harder to read, and for each
// step away from what the author chose. Five losses, each with a bound, all in
// whole numbers:
//
//   - Line, at most 300. Lines of 45 to 75 characters are satisfactory, 66 are
//     ideal (R. Bringhurst, The Elements of Typographic Style, 2.1.2): 2 points
//     a character away from 66, and 12 more for each outside 45 to 75.
//   - Type, at most 350. Letters are as large as their x-height, not their
//     size, so that faces compare. Reading is fluent from an x-height of 4 pt
//     on, 0.2 degrees at 40 cm (G. E. Legge and C. A. Bigelow, Does print size
//     matter for reading?, Journal of Vision 11(5):8, 2011; from memory). Old-style
//     faces of 11 pt, as novels have them, are near 4.4 pt (common practice):
//     a point for each 0.005 pt below that, and one more for each 0.004 pt below 4.
//     Larger type loses nothing here; the steps hold it back.
//   - Leading, at most 250. Novels have 120 to 145 % of the size (common
//     practice; M. A. Tinker, Legibility of Print, 1963, found 2 pt on 10 pt
//     type better than none or 4; from memory). Long lines want more than short
//     ones and large x-heights more than small ones: 120 % for 45 characters,
//     0.5 % more for each further one up to 75, and 1 % for each hundredth of
//     an em of x-height over 0.42, less below. 6 points for each percent under
//     that, 10 more under 115 %; 3 for each percent over it, 6 more over 145 %.
//   - Margins, at most 200. A block of text up to 64 % of the page leaves room
//     for thumbs and rest for the eye (common practice): 6 points for each
//     percent over it, and 6 more over 72 %; 2 for each percent under 50 %. A
//     head, foot or fore-edge under half an inch, or 12 mm, loses 3 for each
//     point.
//   - Steps, at most 150. What the author chose is where comfort begins: 5 for
//     page ends that aim at the fewest pages, 4 for each quarter point of
//     leading, 6 for each sixteenth of an inch of the fore-edge, 8 for one of
//     head and foot together, 12 for each quarter point of size, 40 for
//     another face, 60 for another trim.
//
// So the means come in the order in which a compositor takes them: page ends,
// leading, margins, size, and then what changes the book.
//
// A worked example: 10 pt EB Garamond (x-height 0.400 em: 4.00 pt) on 13 pt,
// 67.0 characters a line, a block of 65.0 % with margins of 0.5 in and more,
// chosen by an author who had 11 pt on 14 pt, and page ends at the fewest.
//
//	Line     1 character from 66                               2
//	Type     0.40 pt below 4.4                                80
//	Leading  130.0 %; wanted 120 + 22 × 0.5 − 2 = 129.0 %      3
//	Margins  1.0 % over 64                                     6
//	Steps    5 + 4 quarters × 4 + 4 quarters × 12             69
//	                                                  840 of 1000
//
// # The space
//
// The Limits bound sizes and leadings in steps of a quarter point, and fore-edge
// and head with foot in steps of a sixteenth of an inch or a millimetre, by the
// unit of the trim; the author's own values are among them. What decides pages
// is the size, the measure, how many lines a page holds and whether a spread
// may run one longer. Of the leadings, heads and feet that agree in that, the
// Space has those which read best; the others would make the same pages, and
// read worse.
//
// # The search
//
// Settings are set best first, in batches. The score of one depends on its
// pages in one respect alone: a back margin that is "auto" follows them. The
// target says which numbers of pages matter, they say which back margins, and
// the best score with any of those is a bound that the setting's score cannot
// pass. The search ends when the wanted number of hits have scores that the
// bound of nothing left can reach. What it returns is therefore what setting
// the whole space returns, and the frontier is that of the whole space down to
// the score at which it ended. Hits of one trim, face and size differ in
// leading and margins alone; the best of them stands for all.
package copyfit
