// Package shelf finds the trim that belongs beside the other books of a genre.
//
// A Survey is a list of books that a person measured with a ruler. Each is
// taken back to its trim, and that is looked for among the trims that are
// Known: those that the trade calls by name, those that are common, and those
// that a printer offers or an author thinks of.
//
//	survey, _ := shelf.Load("survey.csv")
//	r, _ := shelf.Judge(survey, shelf.Known(terms.Trims, nil), shelf.Paperback)
//	r.Standings[0] // 5.25x8in: 9 books of 24
//	r.Belongs      // the trim to take, with r.Reasons and r.Doubts
//
// # From the book to the trim
//
// A paperback is as large as its trim. The boards of a case-bound book reach
// past the block by the squares, an eighth of an inch (3 mm) at head, foot and
// fore-edge; and the spine, with its board and the swelling of the joint,
// stands behind the block by about as much again. So a quarter of an inch is
// taken off both ways: 5.25 × 8.25 in over all is a trim of 5 × 8 in (common
// practice). Where that gives no known trim, the width is tried once more with
// the square of the fore-edge alone, for boards that are flush with the back.
//
// # What fits
//
// A trim fits a book from which it differs, in width and in height, by no more
// than the tolerance: half of the step in which the survey was measured, and
// never less than a sixteenth of an inch, to which books are cut (common
// practice). The step is read off the figures themselves: where all rows are
// whole quarters of an inch, that is how they were measured, and the tolerance
// is an eighth. The unit in which a figure is written is no matter. The nearest
// of the trims that fit is the book's; where others fit as well, the book is
// doubtful, and says so.
package shelf
