// Package sheet makes what an author prints at home before a trim is chosen:
// paper with the editions of a book at their true size, to hold against the
// books on the shelf and to lay into one of them.
//
// # The model
//
// A sheet of Paper is a [pdf.Sheet], on which pages of layouts are placed; this
// package finds the places. For the editions "house", 5 by 8 in, and "roomy",
// 5.5 by 8.5 in, on Letter paper, Make returns five sheets:
//
//	1     both trims outlined from one corner; in them the two spines, each a
//	      band as wide as the copy is thick; a bar of 100 mm and 4 in
//	2, 3  house: a full page of text, and the opening of its chapter
//	4, 5  roomy: the page on which the same paragraph begins, and the same opening
//
// Nothing is ever scaled. A page stands in the middle of its paper, upright or
// on its side, facing pages together where both fit:
//
//	A-format, 110 × 178 mm, on A4    297 × 210 mm, two pages beside each other
//	5 × 8 in on Letter               8.5 × 11 in, one page
//
// # What home printers leave white
//
// No home printer prints to the edge, so all that is drawn here keeps 6 mm away
// from it, except the outlines of the trims. Where crop marks have no room the
// edge of the page is drawn instead; where the page is larger than the paper
// but its type is not, the page runs off it; where the type would, the page is
// left out. Each of these is said in a line, on the paper and to the caller:
//
//	B, 8.5 × 8.5 in, is 5.9 mm wider than A4, and its sides run off the paper; all of its type shows, at actual size
package sheet
