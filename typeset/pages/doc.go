// Package pages breaks a chapter into pages.
//
// A chapter is a list of blocks, one below the other: paragraphs, titles,
// scene breaks. A block can be set in one way or in several, a paragraph with
// a line more or fewer, a space with a row more or fewer, each at a cost. A
// way is a list of items that stand on the rows of a baseline grid: a line of
// text takes one row, a title several, a space vanishes at the head or foot
// of a page. A page may end after an item at a cost; what must stay together
// (the first two lines of a paragraph, a heading and its text) has the cost
// Forbid.
//
// Two facing pages are a spread and end on one row. A spread may run a row
// short or long, both its pages alike.
//
//	verso          recto
//	▇▇▇▇▇▇▇▇       ▇▇▇▇▇▇▇▇
//	▇▇▇▇▇▇▇▇       ▇▇▇▇▇
//	▇▇▇▇▇            ▇▇▇▇▇▇      a row short: the paragraph that begins
//	─────────      ─────────     on the recto's last row would leave an orphan
//
// All page ends of a chapter, the depths of its spreads and the ways of its
// blocks are chosen together, so that the sum of what they cost is least: the
// dynamic programme of M. F. Plass, "Optimal Pagination Techniques for
// Automatic Typesetting Systems", Stanford 1981, with the ways of paragraphs
// that later work on globally optimised pagination added.
//
// The constants rank what gives way. In a chapter of ordinary length no sum of
// lesser faults outweighs a greater one: first a spread runs short or long and
// paragraphs are varied, then (with Options.Fewest) a page is added, then a
// recto ends in a hyphen, then facing pages end on unlike rows, then a last
// page is short, and only then does a page end where an item forbids it.
package pages
