package pages

// search goes through a chapter from its first item to its last and keeps, for
// every state in which the page at hand can be, the cheapest way to it.
type search struct {
	blocks []Block
	opt    Options

	front  []state // at the end of a block
	steps  []step  // what led to the states
	slots  []int32 // heads of the chains of states that share a place, for merge
	stamps []int32 // slots are valid where their stamp is that of the merge at hand
	stamp  int32
	spare  [3][]state
}

// state is the page at hand, after an item.
type state struct {
	cost  int64
	end   int64 // what ending the page here would cost, evenness aside
	rows  int32 // filled, without the spaces after them
	space int32 // rows of spaces after them
	depth int32 // that its spread was given
	recto bool
	first bool  // it is the first page of the chapter
	step  int32 // the last choice that led here; -1 for none
	next  int32 // in the chain of a slot; -1 at its end
}

// step is a choice on the way to a state: of a way, or of a page's end.
type step struct {
	prev  int32
	block int32
	item  int32 // of its way, which begins a new page; -1 where a way was chosen
	way   int32
	rows  int32
	depth int32
	torn  bool
}

func newSearch(blocks []Block, opt Options) *search {
	depths := opt.Short + opt.Long + 1
	slots := 2 * depths * (opt.Rows + opt.Long + 1)
	return &search{blocks: blocks, opt: opt, slots: make([]int32, slots), stamps: make([]int32, slots)}
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
	for i, block := range s.blocks {
		next = next[:0]
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
			for k := range block[w].Items {
				b = b[:0]
				s.stamp++
				for j := range a {
					s.advance(&b, &a[j], i, w, k, bound)
				}
				a, b = b, a
			}
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
	end := it.Verso
	if st.recto {
		end = it.Recto
	}
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
		s.merge(to, made, bound)
	}
	if st.rows == 0 {
		return
	}
	lacking := int64(st.depth - st.rows)
	cost := st.cost + st.end + uneven*lacking*lacking + s.pageCost()
	if cost > bound {
		return
	}
	s.steps = append(s.steps, step{prev: st.step, block: int32(i), item: int32(k), way: int32(w),
		rows: st.rows, depth: st.depth, torn: st.end >= Forbid})
	made := state{cost: cost, rows: rows, depth: st.depth, recto: !st.recto, step: int32(len(s.steps) - 1)}
	if made.recto {
		made.end = it.Recto
		s.merge(to, made, bound)
		return
	}
	made.end = it.Verso
	for depth := s.opt.Rows - s.opt.Short; depth <= s.opt.Rows+s.opt.Long; depth++ {
		made.depth, made.cost = int32(depth), cost+s.depthCost(depth)
		s.merge(to, made, bound)
	}
}

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
		if o := &(*to)[j]; o.space == st.space && o.end == st.end && o.first == st.first {
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
		if !st.first && int(st.rows) < s.opt.LeastLast {
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
	var items []Item // in the chosen ways
	var begin []int  // of each block
	for i, b := range s.blocks {
		begin = append(begin, len(items))
		items = append(items, b[made.Ways[i]].Items...)
	}
	from := 0
	page := func(to int, rows, depth int32, torn bool) {
		next := to
		for from < to && items[from].Space {
			from++
		}
		for to > from && items[to-1].Space {
			to--
		}
		made.Pages = append(made.Pages, Page{from, to, int(rows), int(depth), torn})
		from = next
	}
	for i := len(ends) - 1; i >= 0; i-- {
		e := ends[i]
		page(begin[e.block]+int(e.item), e.rows, e.depth, e.torn)
	}
	page(len(items), last.rows, last.depth, false)
	return made
}
