package edition

import (
	"math/big"

	"bodkin/cmd/bodkin/internal/strict"
	"bodkin/typeset"
	"bodkin/typeset/length"
)

// Flat is a cover laid out, before it is folded round the block: back, spine
// and front side by side, and what is cut off or folded in around them.
type Flat struct {
	Binding   string
	Panel     typeset.Size  // the front: the trim of a paperback, the board of a hardcover
	Joint     length.Length // between spine and board; 0 of a paperback, as the next two
	Board     length.Length // thickness of a board
	Square    length.Length // by which a board reaches past the block
	Spine     length.Length // its width
	Around    length.Length // the bleed of a paperback, the wrap of a hardcover
	Width     length.Length // with what is around
	Height    length.Length
	Outer     typeset.Size // of the finished book, closed
	Safety    length.Length
	Clear     length.Length // between the spine's lettering and its folds
	Tolerance length.Length // by which a fold may miss its place
	Letters   length.Length // how tall the spine's lettering may be; 0 where it does not fit
	Least     int           // pages below which the printer wants no lettering; 0 where that is not known
	Common    bool          // Clear, Tolerance or the least spine is common practice, not the printer's
}

// Where terms say nothing, common practice: lettering on spines of a quarter
// of an inch and more, a sixteenth from each fold, and folds that may miss
// their place by as much.
const (
	leastSpine      = length.Inch / 4
	commonClear     = length.Inch / 16
	commonTolerance = length.Inch / 16
)

// eighths returns an eighth of an inch so many times, or as many times three
// millimetres where a book is measured in them: one of bleed and two of safety
// are common practice.
func eighths(n length.Length, unit length.Unit) length.Length {
	if unit == length.Mm {
		return n * length.Inch * 30 / 254
	}
	return n * length.Inch / 8
}

// CommonBoards are the boards of a case where terms say nothing: common
// practice, in millimetres.
func CommonBoards() Boards {
	mm := func(tenths int64) length.Value {
		return length.Value{Length: length.Inch.Scale(tenths, 254), Unit: length.Mm}
	}
	return Boards{Board: mm(25), Setback: mm(30), Square: mm(30), Joint: mm(90), Wrap: mm(150)}
}

// flat lays out the cover of a copy; t may be nil.
func (t *Terms) flat(c *Copy) Flat {
	trim := c.Trim.Size()
	f := Flat{Binding: c.Binding, Panel: trim, Spine: c.Block, Outer: trim,
		Around: eighths(1, c.Trim.Width.Unit), Safety: eighths(2, c.Trim.Width.Unit)}
	var cover Cover
	var letters Lettering
	if t != nil {
		cover, letters = t.Cover, t.Spine
		f.Around, f.Safety = t.Bleed.Length, t.Safety.Length
	}
	if c.Binding == Case {
		b := CommonBoards()
		if t != nil && t.Case != nil {
			b = *t.Case
		}
		f.Spine += 2 * b.Board.Length
		f.Panel = typeset.Size{Width: trim.Width - b.Setback.Length, Height: trim.Height + 2*b.Square.Length}
		f.Joint, f.Around, f.Board, f.Square = b.Joint.Length, b.Wrap.Length, b.Board.Length, b.Square.Length
		// Behind the block stands the spine's own board, about as thick.
		f.Outer = typeset.Size{Width: trim.Width + b.Square.Length + b.Board.Length, Height: f.Panel.Height}
	} else {
		f.Spine += 2*cover.Caliper.Length + cover.Adds.Length
	}
	f.Width = 2*(f.Panel.Width+f.Joint+f.Around) + f.Spine
	f.Height = f.Panel.Height + 2*f.Around
	f.Clear, f.Tolerance, f.Least = letters.Clear.Length, letters.Tolerance.Length, letters.Least
	if f.Clear == 0 {
		f.Clear, f.Common = commonClear, true
	}
	if f.Tolerance == 0 {
		f.Tolerance, f.Common = commonTolerance, true
	}
	fits := c.Pages >= f.Least
	if f.Least == 0 {
		fits, f.Common = f.Spine >= leastSpine, true
	}
	if fits {
		f.Letters = max(0, f.Spine-2*f.Clear)
	}
	return f
}

// weigh returns the weight of a copy in grams; 0 where a grammage that it
// needs is not known. A paperback's cover is of card, a hardcover has two
// boards and a strip of board at its spine.
func (t *Terms) weigh(c *Copy) int {
	if !c.Stock.Grammage.Given() {
		return 0
	}
	trim := c.Trim.Size()
	sum := grams(c.Stock.Grammage, trim.Width, trim.Height)
	sum.Mul(sum, big.NewRat(int64(c.Pages), 2))
	f := &c.Flat
	cover, boards := common("250"), common("1500")
	if t != nil {
		cover, boards = t.Cover.Grammage, strict.Number{}
		if t.Case != nil {
			boards = t.Case.Grammage
		}
	}
	part := grams(cover, 2*f.Panel.Width+f.Spine, f.Panel.Height)
	if c.Binding == Case {
		cover = boards
		part = grams(boards, 2*f.Panel.Width+f.Spine, f.Panel.Height)
	}
	if !cover.Given() {
		return 0
	}
	return int(round(sum.Add(sum, part)))
}
