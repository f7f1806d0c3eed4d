package pages

import "slices"

// search goes through a chapter from its first item to its last and keeps, for
// every state in which the page at hand can be, the cheapest way to it.
type search struct {
	blocks []Block
	opt    Options
	sends  bool // some item has notes, or stands elsewhere

	front  []state // at the end of a block
	steps  []step  // what led to the states
	slots  []int32 // heads of the chains of states that share a place, for merge
	stamps []int32 // slots are valid where their stamp is that of the merge at hand
	stamp  int32
	spare  [3][]state
	binder binder
}

// state is the page at hand, after an item.
type state struct {
	cost  int64
	end   int64 // what ending the page here would cost, evenness aside
	rows  int32 // filled, without the spaces after them
	space int32 // rows of spaces after them
	depth int32 // that its spread was given
	sent
	recto bool
	first bool  // it is the first page of the chapter
	step  int32 // the last choice that led here; -1 for none
	next  int32 // in the chain of a slot; -1 at its end
}

// sent is what stands elsewhere than on the rows of its item.
type sent struct {
	foot    int32 // lines of notes on this page
	carry   int32 // lines of notes that go on at the foot of the next
	held    int32 // lines of the last note that may be carried, too
	ahead   int32 // rows that wait for the head of the next
	plates  int16 // pages that wait for the end of this one
	spreads int16 // pairs of pages that wait for the end of a recto
}

// step is a choice on the way to a state: of a way, or of a page's end.
type step struct {
	prev  int32
	block int32
	item  int32 // of its way, which begins a new page; -1 where a way was chosen
	way   int32
	rows  int32
	depth int32
	foot  int32
	torn  bool
}

// begin begins with a chapter.
func (s *search) begin(blocks []Block, opt Options, sends bool) {
	s.blocks, s.opt, s.sends = blocks, opt, sends
	depths := opt.Short + opt.Long + 1
	slots := 2 * depths * (opt.Rows + opt.Long + 1)
	s.slots = slices.Grow(s.slots[:0], slots)[:slots]
	s.stamps = slices.Grow(s.stamps[:0], slots)[:slots]
	clear(s.stamps)
	s.stamp = 0
}

// run returns the chapter that costs least, if one costs no more than bound.
func (s *search) run(bound int64) (Breaking, bool) {
	s.steps = s.steps[:0]
	s.front = s.front[:0]
	s.stamp++
	for depth := s.opt.Rows - s.opt.Short; depth <= s.opt.Rows+s.opt.Long; depth++ {
		// The other half of the first spread is not ours: any depth will do.
		s.merge(&s.front, state{cost: s.depthCost(depth) + s.pageCost(), depth: int32(depth),
			recto: !s.opt.Verso, first: true, step: -1}, bound)
	}
	a, b, next := s.spare[0], s.spare[1], s.spare[2]
	level := false // see lines.go
	for i, block := range s.blocks {
		next = next[:0]
		before := level
		for w := range block {
			a = a[:0]
			for _, st := range s.front {
				if st.cost += block[w].Cost; st.cost > bound {
					continue
				}
				if len(block) > 1 {
					s.steps = append(s.steps, step{prev: st.step, block: int32(i), item: -1, way: int32(w)})
					st.step = int32(len(s.steps) - 1)
				}
				a = append(a, st)
			}
			var still bool
			a, b, still = s.items(a, b, i, w, before, bound)
			level = still && (w == 0 || level)
			if len(block) == 1 {
				a, next = next, a
				break
			}
			if w == 0 {
				s.stamp++
				for j := range next {
					next[j].next = -1
				}
			} else {
				s.restamp(next)
			}
			for _, st := range a {
				s.merge(&next, st, bound)
			}
		}
		s.front, next = next, s.front
		if len(s.front) == 0 {
			break
		}
	}
	s.spare = [3][]state{a, b, next}
	return s.finish(bound)
}

// restamp makes the slots point to states again, after other merges.
func (s *search) restamp(states []state) {
	s.stamp++
	for i := range states {
		slot := s.slot(&states[i])
		states[i].next = -1
		if s.stamps[slot] == s.stamp {
			states[i].next = s.slots[slot]
		}
		s.stamps[slot], s.slots[slot] = s.stamp, int32(i)
	}
}

// advance adds the states that follow st when item k of way w of block i is
// set: below what is on the page, or at the head of a new one.
func (s *search) advance(to *[]state, st *state, i, w, k int, bound int64) {
	it := &s.blocks[i][w].Items[k]
	if it.mark() {
		if made := *st; made.send(it, s.opt.Rows-s.opt.Short) {
			s.merge(to, made, bound)
		}
		return
	}
	end := it.end(st.recto)
	if it.Space {
		made := *st
		if made.rows > 0 {
			made.space += int32(it.Rows)
			made.end = max(made.end, end)
		}
		s.merge(to, made, bound)
		return
	}
	rows := int32(it.Rows)
	if st.rows+st.space+rows <= st.depth {
		made := *st
		made.rows, made.space, made.end = st.rows+st.space+rows, 0, end
		if made.foot == 0 && len(it.Notes) == 0 || s.refer(&made, it, st.rows == 0) {
			s.merge(to, made, bound)
		}
	}
	if st.rows == 0 {
		return
	}
	cost := st.cost + st.end + s.lackCost(st) + s.pageCost()
	if cost > bound {
		return
	}
	s.steps = append(s.steps, step{prev: st.step, block: int32(i), item: int32(k), way: int32(w),
		rows: st.rows, depth: st.depth, foot: st.foot, torn: st.end >= Forbid})
	recto, plate, spreads := turn(st.recto, int(st.plates), int(st.spreads))
	fresh := state{cost: cost, rows: st.ahead + rows, depth: st.depth, recto: recto, step: int32(len(s.steps) - 1)}
	fresh.spreads = st.spreads - int16(spreads)
	begin := func(made state) {
		if made.rows > made.depth {
			return
		}
		if made.carry = st.carry; made.carry == 0 && len(it.Notes) == 0 || s.refer(&made, it, true) {
			s.merge(to, made, bound)
		}
	}
	fresh.end = it.end(recto)
	if recto && !plate {
		begin(fresh)
		return
	}
	for depth := s.opt.Rows - s.opt.Short; depth <= s.opt.Rows+s.opt.Long; depth++ {
		fresh.depth, fresh.cost = int32(depth), cost+s.depthCost(depth)
		begin(fresh)
	}
}

// send notes what an item sends on, and reports whether it can be sent: the
// next page must keep room for a line below what stands at its head.
func (s *sent) send(it *Item, rows int) bool {
	switch it.Plate {
	case OnePage:
		s.plates++
	case Spread:
		s.spreads++
	}
	s.ahead += int32(it.Ahead)
	return int(s.ahead) < rows
}

// turn returns the side of the page of text that follows one of the given
// side, when plates and spreads wait: whether it is a recto, whether a plate
// stands before it, and how many of the spreads find their place, which is
// from a verso to the recto facing it.
func turn(recto bool, plates, spreads int) (next, plate bool, placed int) {
	next = recto == (plates%2 == 1)
	if !next {
		placed = spreads
	}
	return next, plates+placed > 0, placed
}

// refer makes room for the rows of an item that has been added to a page with
// notes, and puts its own notes at the foot. At the head of a page the item
// must be set: the page takes what it can of the notes carried over, and should
// the item's own not even begin on it, that costs as much as a page torn.
func (s *search) refer(st *state, it *Item, must bool) bool {
	own, last := int32(0), int32(0)
	for _, n := range it.Notes {
		last = int32(n)
		own += last
	}
	free := st.depth - st.rows
	if must {
		carried := st.carry
		for st.foot = carried; s.opt.noteRows(st.foot) > free; st.foot-- {
		}
		st.carry = carried - st.foot
	}
	if own == 0 {
		return s.squeeze(st, free)
	}
	if st.carry == 0 {
		made := *st
		made.foot, made.held = st.foot+own, last-2
		if s.squeeze(&made, free) {
			*st = made
			return true
		}
	}
	if !must {
		return false
	}
	here := int32(0)
	for st.carry == 0 && s.opt.noteRows(st.foot+here+1) <= free {
		here++
	}
	st.foot += here
	st.carry += own - here
	st.cost += Forbid
	return true
}

// squeeze carries over what does not fit of the last note on a page, and
// reports whether the others fit: two of its lines at least stay on either
// page.
func (s *search) squeeze(st *state, free int32) bool {
	for s.opt.noteRows(st.foot) > free {
		n := int32(1)
		if st.carry == 0 {
			n = 2
			st.cost += splitNote
		}
		if st.held < n {
			return false
		}
		st.foot -= n
		st.carry += n
		st.held -= n
	}
	return true
}

// lackCost is what it costs that a page is not filled. Above notes some white
// is not seen.
func (s *search) lackCost(st *state) int64 {
	lacking := int64(st.depth - st.rows)
	if st.foot == 0 {
		return uneven * lacking * lacking
	}
	lacking -= int64(s.opt.noteRows(st.foot))
	bare := max(0, lacking-unseen)
	return OffDepth*lacking*lacking + uneven*bare*bare
}

// unseen is how many rows the room above notes may take more.
const unseen = 2

// merge adds st to the states, unless one is there that does as well.
func (s *search) merge(to *[]state, st state, bound int64) {
	if st.cost > bound {
		return
	}
	slot := s.slot(&st)
	head := int32(-1)
	if s.stamps[slot] == s.stamp {
		head = s.slots[slot]
	}
	for j := head; j >= 0; j = (*to)[j].next {
		if o := &(*to)[j]; o.space == st.space && o.end == st.end && o.first == st.first && o.sent == st.sent {
			if st.cost < o.cost {
				st.next = o.next
				*o = st
			}
			return
		}
	}
	st.next = head
	s.stamps[slot], s.slots[slot] = s.stamp, int32(len(*to))
	*to = append(*to, st)
}

func (s *search) slot(st *state) int {
	depths := s.opt.Short + s.opt.Long + 1
	slot := (int(st.depth)-s.opt.Rows+s.opt.Short)*(s.opt.Rows+s.opt.Long+1) + int(st.rows)
	if st.recto {
		slot += depths * (s.opt.Rows + s.opt.Long + 1)
	}
	return slot
}

func (s *search) depthCost(depth int) int64 {
	off := int64(depth - s.opt.Rows)
	return OffDepth * off * off
}

func (s *search) pageCost() int64 {
	if s.opt.Fewest {
		return FewerPage
	}
	return 0
}

// finish picks the best of the states after the last block.
func (s *search) finish(bound int64) (Breaking, bool) {
	best := -1
	for i := range s.front {
		st := &s.front[i]
		if st.ahead > 0 {
			continue // nothing follows for it to stand above
		}
		if !st.first && int(st.rows) < s.opt.LeastLast {
			st.cost += shortLast
		}
		if st.carry > 0 {
			st.cost += shortLast
		}
		if st.cost <= bound && (best < 0 || st.cost < s.front[best].cost) {
			best = i
		}
	}
	if best < 0 {
		return Breaking{}, false
	}
	return s.trace(&s.front[best]), true
}
