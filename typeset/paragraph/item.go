package paragraph

import "bodkin/typeset/length"

// Kind is the kind of an Item.
type Kind uint8

const (
	Box     Kind = iota // printed, never broken
	Glue                // space: a line may end here if a box stands before it
	Penalty             // a line may end here at a cost
)

// Item is a box, a glue or a penalty.
type Item struct {
	Kind    Kind
	Flagged bool          // Penalty: a hyphen is printed when the line ends here; the last item is flagged to keep a hyphen from the line before the last
	Cost    int32         // Glue, Penalty: of ending a line here, from -Forbid to Forbid
	Width   length.Length // Box, Glue: natural width
	Stretch length.Length // Box, Glue: by how much it stretches at ratio 1; Fill is without limit
	Shrink  length.Length // Box, Glue: by how much it can shrink at most
	Before  length.Length // added to the line that ends here
	After   length.Length // added to the line that begins here
	Ends    int32         // the word that a line ends with here, by a number of the caller's; 0 for none
	Begins  int32         // the word that the next line begins with
}

const (
	// Forbid is the cost that forbids a line end; -Forbid forces one.
	Forbid = 10000
	// Fill is the stretch of a glue that takes up whatever is left of a line.
	Fill = length.Length(1) << 40
)

// Line is one line of a breaking.
type Line struct {
	From, To int           // items[From:To] are on the line; items[To] ended it
	Short    length.Length // the measure less the natural width: to stretch if positive, to shrink if negative
	Flex     length.Length // stretch (or shrink) of the line's glue in all
	Filled   bool          // a Fill takes up Short; the other glue keeps its natural width
}

// Ratio returns by how much the line's glue is stretched (positive) or shrunk
// (negative), as a fraction of what it allows.
func (l Line) Ratio() float64 {
	if l.Filled || l.Flex == 0 {
		return 0
	}
	return float64(l.Short) / float64(l.Flex)
}

// Options steer a breaking. The zero value of a field is its stated default.
type Options struct {
	Measures []length.Length // widths of the lines; the last serves for all that follow. At least one.

	Tolerance  int   // most a line may stretch, in thousandths of its glue's stretch; 0 means 1000
	HyphenRow  int64 // demerits for two hyphens in a row
	Unlike     int64 // demerits for neighbouring lines whose fitness classes are not neighbours
	Loose      int64 // demerits for a line that stretches beyond its glue's stretch
	MostHyphen int   // most hyphens in a row; 0 means no limit
	Repeat     int64 // demerits for two lines in a row that begin, or end, with the same word
	First      int32 // the word that the first line begins with, as Item.Begins

	LeastLast length.Length // least width of the last line of several

	// Whole is the line, counted from 1, that must not end in a flagged penalty
	// unless the paragraph ends there; 0 for none. It never gives way: see
	// ErrDivided.
	Whole int
}

// fitness is the class of a line by its ratio.
type fitness uint8

const (
	veryLoose fitness = iota // above 1
	loose                    // from 1/2 to 1
	decent                   // from -1/2 to 1/2
	tight                    // below -1/2
	classes
)
