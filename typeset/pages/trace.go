package pages

import (
	"errors"
	"slices"
)

// trace follows the steps back from the last state.
func (s *search) trace(last *state) Breaking {
	made := Breaking{Ways: make([]int, len(s.blocks)), Cost: last.cost}
	var ends []step
	for i := last.step; i >= 0; i = s.steps[i].prev {
		if st := s.steps[i]; st.item < 0 {
			made.Ways[st.block] = int(st.way)
		} else {
			ends = append(ends, st)
		}
	}
	if last.rows == 0 {
		return made // nothing but spaces
	}
	b := &s.binder
	*b = binder{opt: &s.opt, recto: !s.opt.Verso, items: b.items[:0], begin: b.begin[:0], pages: make([]Page, 0, len(ends)+1)}
	for i, block := range s.blocks {
		b.begin = append(b.begin, len(b.items))
		items := block[made.Ways[i]].Items
		for k := range items {
			if items[k].mark() {
				b.marks = append(b.marks, mark{len(b.items), i})
			}
			b.items = append(b.items, &items[k])
		}
	}
	for i := len(ends) - 1; i >= 0; i-- {
		e := &ends[i]
		b.page(b.begin[e.block]+int(e.item), Page{Rows: int(e.rows), Depth: int(e.depth), Torn: e.torn, Notes: int(e.foot)})
		b.turn(false)
	}
	b.page(len(b.items), Page{Rows: int(last.rows), Depth: int(last.depth), Notes: int(last.foot)})
	b.rest(int(last.carry), int(last.depth))
	b.turn(true)
	made.Pages = b.pages
	return made
}

// platesAlone are the pages of a chapter of nothing but plates.
func platesAlone(blocks []Block, opt Options) Breaking {
	b := binder{opt: &opt, recto: opt.Verso} // the page before
	for i, block := range blocks {
		for k := range block[0].Items {
			if it := &block[0].Items[k]; it.mark() {
				b.marks = append(b.marks, mark{len(b.items), i})
				b.items = append(b.items, it)
			}
		}
	}
	b.collect(len(b.items))
	b.turn(true)
	return Breaking{Ways: make([]int, len(blocks)), Pages: b.pages}
}

// leading returns how many blocks at the head of a chapter are nothing but
// plates, which come before its text.
func leading(blocks []Block) int {
	for i, b := range blocks {
		if len(b) > 1 || len(b[0].Items) == 0 || slices.ContainsFunc(b[0].Items, func(it Item) bool { return it.Plate == NoPlate }) {
			return i
		}
	}
	return len(blocks)
}

// afterPlates breaks a chapter whose first n blocks are plates.
func (b *Breaker) afterPlates(blocks []Block, n int, opt Options) (Breaking, error) {
	first := platesAlone(blocks[:n], opt)
	opt.Verso = opt.Verso == (len(first.Pages)%2 == 0)
	rest, err := b.Break(blocks[n:], opt)
	if tall := (*ErrTooTall)(nil); errors.As(err, &tall) {
		tall.Block += n
	}
	if err != nil {
		return Breaking{}, err
	}
	items := 0
	for _, block := range blocks[:n] {
		items += len(block[0].Items)
	}
	for i := range rest.Pages {
		p := &rest.Pages[i]
		p.From, p.To = p.From+items, p.To+items
		if p.Plate > 0 {
			p.Plate += n
		}
		for k := range p.Ahead {
			p.Ahead[k] += n
		}
	}
	return Breaking{append(first.Ways, rest.Ways...), append(first.Pages, rest.Pages...), rest.Cost}, nil
}

// binder puts pages of text and plates in their order.
type binder struct {
	opt     *Options
	items   []*Item // in the chosen ways
	begin   []int   // of each block, the place of its first item
	marks   []mark  // items that send something on
	from    int     // where the next page begins
	recto   bool    // the side of the last page
	pages   []Page
	ahead   []int // blocks that wait for the head of the next page
	plates  []int // blocks that wait for the end of this one
	spreads []int
}

// mark is an item that stands on no row, and its block.
type mark struct{ item, block int }

// page adds a page of text that ends before item to.
func (b *binder) page(to int, p Page) {
	if len(b.pages) > 0 {
		b.recto = !b.recto
	}
	p.Ahead, b.ahead = b.ahead, nil
	b.collect(to)
	p.From, p.To = b.from, to
	for p.From < p.To && (b.items[p.From].Space || b.items[p.From].mark()) {
		p.From++
	}
	for p.To > p.From && (b.items[p.To-1].Space || b.items[p.To-1].mark()) {
		p.To--
	}
	b.from = to
	b.pages = append(b.pages, p)
}

// collect takes up what the items before to send on.
func (b *binder) collect(to int) {
	n := 0
	for ; n < len(b.marks) && b.marks[n].item < to; n++ {
		m := b.marks[n]
		switch it := b.items[m.item]; {
		case it.Ahead > 0:
			b.ahead = append(b.ahead, m.block)
		case it.Plate == Spread:
			b.spreads = append(b.spreads, m.block)
		default:
			b.plates = append(b.plates, m.block)
		}
	}
	b.marks = b.marks[n:]
}

// turn adds the plates that wait, as the function turn counts them. At the end
// of the chapter all find a place, a spread after a blank page if need be.
func (b *binder) turn(end bool) {
	for _, block := range b.plates {
		b.add(Page{Plate: block + 1, Depth: b.opt.Rows})
	}
	b.plates = nil
	if !b.recto && end && len(b.spreads) > 0 {
		b.add(Page{Blank: true, Depth: b.opt.Rows})
	}
	if b.recto {
		for _, block := range b.spreads {
			b.add(Page{Plate: block + 1, Depth: b.opt.Rows})
			b.add(Page{Plate: block + 1, Depth: b.opt.Rows})
		}
		b.spreads = nil
	}
}

// add adds a page without items.
func (b *binder) add(p Page) {
	p.From, p.To = b.from, b.from
	b.recto = !b.recto
	b.pages = append(b.pages, p)
}

// rest adds pages for the lines of notes that the last page of text has left
// over.
func (b *binder) rest(lines, depth int) {
	for lines > 0 {
		n := lines
		for b.opt.NoteRows(n) > depth && n > 1 {
			n--
		}
		b.add(Page{Depth: depth, Notes: n})
		lines -= n
	}
}
