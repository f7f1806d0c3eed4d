package pages

import (
	"errors"
	"fmt"
)

// Item is what stays together on a page.
type Item struct {
	Rows         int   // of the grid; at least 1, but for an item that only sends something on
	Space        bool  // empty: dropped at the head and the foot of a page
	Verso, Recto int64 // cost of ending a page of that side after it, 0 to Forbid

	Notes []int // the lines of each note that it refers to, which stand at the foot of its page
	Ahead int   // rows that it sends on to the head of the next page: a picture that did not fit here; another way of its block must do without
	Plate Plate // pages of its own that it sends after the page it is on
}

// Plate is a picture on pages of its own.
type Plate uint8

const (
	NoPlate Plate = iota
	OnePage
	Spread // a verso and the recto facing it
)

// end returns what ending a page of that side after the item costs.
func (it *Item) end(recto bool) int64 {
	if recto {
		return it.Recto
	}
	return it.Verso
}

// mark reports whether an item stands on no row.
func (it *Item) mark() bool { return it.Ahead > 0 || it.Plate != NoPlate }

// Way is one way to set a block.
type Way struct {
	Items []Item
	Cost  int64 // of choosing it; 0 for what is best in itself
}

// Block is set in one of its ways. The first is the way it has if nothing
// else matters.
type Block []Way

// What faults cost, in the order in which they give way.
const (
	OffDepth  int64 = 1 << 10 // times the square of the rows that a spread is short or long
	FewerPage int64 = 1 << 21 // a page, where the fewest are wanted
	TurnCost  int64 = 1 << 22 // for Item.Recto: a hyphen where the leaf is turned
	splitNote int64 = 1 << 23 // a note goes on at the foot of the next page
	uneven    int64 = 1 << 24 // times the square of the rows that a page lacks
	shortLast int64 = 1 << 32 // fewer than Options.LeastLast rows on the last page
	Forbid    int64 = 1 << 40 // a widow, an orphan, a stranded heading
)

// Options say how pages are filled.
type Options struct {
	Rows      int  // on a full page
	Verso     bool // the chapter's first page is a verso; its other half lies before
	Short     int  // how many rows a spread may run short
	Long      int  // how many rows a spread may run long
	LeastLast int  // least number of rows on the last page of several
	Fewest    bool // make as few pages as the rules allow

	// NoteRows returns how many rows some lines of notes take at the foot of a
	// page, with the room above them. It never falls. Nil where there are no
	// notes.
	NoteRows func(lines int) int
}

// noteRows returns the rows of lines of notes.
func (opt *Options) noteRows(lines int32) int32 {
	if lines == 0 {
		return 0
	}
	return int32(opt.NoteRows(int(lines)))
}

// Page is one page of a chapter. Its items are counted from 0 through the
// chosen ways of all blocks: items From to To, which with what was sent Ahead
// fill Rows rows of the Depth that its spread was given. Spaces at its head and
// foot are left out.
type Page struct {
	From, To    int
	Rows, Depth int
	Torn        bool // it ends where an item forbade it: nothing else was possible

	Notes int   // lines of notes at its foot, in the order of their references
	Ahead []int // blocks that were sent on to its head
	Plate int   // 1 more than the block whose plate it is; 0 for a page of text
	Blank bool  // left empty before the chapter's last plate
}

// Breaking is a chapter in pages.
type Breaking struct {
	Ways  []int // the chosen way of every block
	Pages []Page
	Cost  int64
}

// ErrTooTall is the failure of Break on an item that no page can hold.
type ErrTooTall struct {
	Block      int
	Rows, Most int
}

func (e *ErrTooTall) Error() string {
	return fmt.Sprintf("block %d has an item of %d rows where a page has %d", e.Block, e.Rows, e.Most)
}

// Break returns the pages of a chapter that cost least.
func Break(blocks []Block, opt Options) (Breaking, error) { return new(Breaker).Break(blocks, opt) }

// A Breaker breaks chapters into pages. It keeps its working memory from one
// chapter to the next; the zero value is ready. It is not for concurrent use.
type Breaker struct{ search search }

// Break is the function Break.
func (b *Breaker) Break(blocks []Block, opt Options) (Breaking, error) {
	if opt.Rows-opt.Short < 1 || opt.Short < 0 || opt.Long < 0 {
		return Breaking{}, errors.New("a page needs at least one row, and a spread runs short or long by none or more")
	}
	rows, sends := 0, false // of the first ways
	for i, block := range blocks {
		if len(block) == 0 {
			return Breaking{}, fmt.Errorf("block %d has no way to be set", i)
		}
		for w := range block {
			for k := range block[w].Items {
				it := &block[w].Items[k]
				if it.Rows < 1 && !it.mark() || it.Rows != 0 && it.mark() {
					return Breaking{}, fmt.Errorf("block %d has an item of %d rows", i, it.Rows)
				}
				if len(it.Notes) > 0 && opt.NoteRows == nil {
					return Breaking{}, fmt.Errorf("block %d refers to notes, and Options.NoteRows does not say what they take", i)
				}
				if it.Rows > opt.Rows-opt.Short && !it.Space {
					return Breaking{}, &ErrTooTall{i, it.Rows, opt.Rows - opt.Short}
				}
				if w == 0 && !it.Space {
					rows += it.Rows
				}
				sends = sends || it.mark() || len(it.Notes) > 0
			}
		}
	}
	if rows == 0 {
		return platesAlone(blocks, opt), nil
	}
	if n := leading(blocks); n > 0 {
		return b.afterPlates(blocks, n, opt)
	}
	s := &b.search
	s.begin(blocks, opt, sends)
	// What costs more than a bound cannot lead to a chapter that costs less, so
	// the search first looks for one without faults, which is most often there,
	// and takes the next bound where it finds none.
	base := int64(0)
	if opt.Fewest {
		base = FewerPage * int64(rows/opt.Rows+2)
	}
	for bound := int64(8 * OffDepth); ; bound *= 16 {
		if bound > 1<<58 {
			bound = 1 << 62
			base = 0
		}
		if made, found := s.run(base + bound); found {
			return made, nil
		}
		if bound == 1<<62 {
			return Breaking{}, errors.New("no pages were found: what is sent ahead has nothing to stand above") // every item fits a page
		}
	}
}
