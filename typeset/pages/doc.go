// Package pages breaks a chapter into pages.
//
// A chapter is a list of items that stand on the rows of a baseline grid: a
// line of text takes one row, a title several, a space vanishes at the head
// or foot of a page. A page may end after an item at a cost; what must stay
// together (the first two lines of a paragraph, a heading and its text) has
// the cost Forbid.
//
// Two facing pages are a spread and end on one row. All pages of a chapter are
// chosen together, so that the sum of what they cost is least, with one
// freedom: a spread may run a row short or long, both its pages alike.
//
//	verso          recto
//	▇▇▇▇▇▇▇▇       ▇▇▇▇▇▇▇▇
//	▇▇▇▇▇▇▇▇       ▇▇▇▇▇
//	▇▇▇▇▇            ▇▇▇▇▇▇      a row short: the paragraph that begins
//	─────────      ─────────     on the recto's last row would leave an orphan
//
// The search is the dynamic programme of M. F. Plass, "Optimal Pagination
// Techniques for Automatic Typesetting Systems", Stanford 1981, over pages
// instead of lines. Costs are ranked: no sum of lesser faults outweighs a
// greater one in a chapter of ordinary length.
package pages
