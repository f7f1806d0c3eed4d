// Package paragraph breaks a paragraph into lines.
//
// A paragraph is a list of items, as in D. E. Knuth and M. F. Plass, "Breaking
// Paragraphs into Lines", Software: Practice and Experience 11 (1981): boxes
// are what is printed, glue is the space between that can stretch and shrink,
// penalties are further places where a line may end. Breaking chooses the line
// ends that make the whole paragraph best, not one line after the other.
//
//	items: ▇▇▇ ␣ ▇▇ ⌿ ▇▇▇ ␣ ▇▇▇▇ ␣∞ ⏎      ▇ box  ␣ glue  ⌿ penalty
//	lines: ▇▇▇ ␣ ▇▇-
//	       ▇▇▇ ␣ ▇▇▇▇
//
// A line that must stretch or shrink by the ratio r of what its glue allows
// has badness 100|r|³; its demerits are (1 + badness + penalty)², and more
// where two lines in a row end in hyphens or where a tight line meets a loose
// one. The best paragraph has the least sum of demerits.
//
// The package adds to the model of 1981 what a typesetter asks for. A break
// changes the width of both lines that meet there (Item.Before and
// Item.After): a hyphen and its kerning, or a mark that hangs in the margin. A
// limit on the hyphens in a row and a least length of the last line hold
// strictly as long as any breaking obeys them. And Breakings returns the best
// paragraph for every number of lines, for a page maker to choose from.
//
// Everything is integer arithmetic. The package knows neither fonts nor pages.
package paragraph
