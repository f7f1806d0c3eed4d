// Package pages breaks a chapter into pages.
//
// A chapter is a list of blocks, one below the other: paragraphs, titles,
// scene breaks, pictures. A block can be set in one way or in several, a paragraph with
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
// # What stands elsewhere
//
// Three things do not stand where they are mentioned. The notes of an item
// stand at the foot of its page; Options.NoteRows says how many rows their lines
// take there. A note that does not fit goes on at the foot of the next page,
// with two lines at least on either. A picture may be sent Ahead to the head of
// the next page, as one way of its block, and text fills the page that it is
// mentioned on. A Plate has a page of its own, or a verso and the recto facing
// it, after the page that sends it; plates before all text come first. The
// items that send a picture or a plate take no row themselves:
//
//	{Rows: 1, Notes: []int{3}}    a line that refers to a note of three lines
//	{Ahead: 9}                    a picture of eight rows and the white below it
//	{Plate: Spread}               a picture on two pages
//
//	verso          recto          plates              verso
//	▇▇▇▇▇▇▇¹       ▇▇▇▇▇▇▇▇       ┌──────┐┌──────┐    ┌──────┐
//	▇▇▇▇▇▇▇▇       ▇▇▇▇▇▇▇▇       │      ││      │    └──────┘
//	               ▇▇▇▇▇▇▇▇       │      ││      │    ▇▇▇▇▇▇▇▇
//	¹ ▇▇▇▇▇▇       ▇▇▇▇▇▇▇▇       └──────┘└──────┘    ▇▇▇▇▇▇▇▇
//
// A spread waits for the next recto to end. Only behind the chapter's last page
// is a page left blank for its sake.
//
// # What is chosen
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
// recto ends in a hyphen, then a note goes on on the next page, then facing
// pages end on unlike rows, then a last page is short, and only then does a page
// end where an item forbids it, or a note begin later than on the page of its
// reference.
package pages
