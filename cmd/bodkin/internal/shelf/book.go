package shelf

import (
	"bodkin/typeset"
	"bodkin/typeset/length"
)

// Binding is how a measured book is bound.
type Binding string

const (
	Paperback Binding = "paperback"
	Case      Binding = "case" // hardcover
)

// Book is one measured book.
type Book struct {
	Line      int // of the survey
	Title     string
	Genre     string
	Binding   Binding
	Supposed  bool          // the survey does not say how it is bound
	Width     length.Value  // over all, from the spine to the fore-edge
	Height    length.Value  // over all
	Pages     int           // 0: not known
	Thickness length.Length // 0: not known
}

// Survey is what was measured, in the order of the file.
type Survey struct {
	Name    string // of the file
	Books   []Book
	Unused  []string // heads of columns that say nothing about a trim
	Remarks []string // what was read otherwise than it stands, as file:line
}

// Unit is the unit that most of the books were measured in.
func (s *Survey) Unit() length.Unit {
	metric := 0
	for i := range s.Books {
		if s.Books[i].Height.Unit == length.Mm {
			metric++
		}
	}
	if 2*metric > len(s.Books) {
		return length.Mm
	}
	return length.In
}

// What a case adds to the block (common practice; see the package comment).
const (
	square = length.Inch / 8  // of a board past the block at head, foot and fore-edge
	hinge  = length.Inch / 8  // of the spine behind the block, about
	board  = length.Inch / 10 // thickness of one of the two
)

// Over returns what a book of a trim measures over all.
func (b Binding) Over(trim typeset.Trim) typeset.Size {
	size := trim.Size()
	if b == Case {
		size.Width += square + hinge
		size.Height += 2 * square
	}
	return size
}
