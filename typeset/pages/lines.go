package pages

import "slices"

// Most items are lines of paragraphs, and most states do no more with a line
// than to take it. Their pages are unlike in how full they are, and stay so when
// each takes the same rows: the search need not compare them again. A page that
// begins with the line is shorter than all of those, so it is merged only with
// others that begin.
//
// This serves where the states are level: something stands on the page of each,
// and no space below it.

// line reports whether an item is no more than lines on the page at hand.
func (it *Item) line() bool { return !it.Space && !it.mark() && len(it.Notes) == 0 }

// items sets the items of way w of block i in states that are level or not. It
// returns the states that follow, the other of the two pieces of memory, and
// whether the states are level now.
func (s *search) items(states, spare []state, i, w int, level bool, bound int64) (made, memory []state, still bool) {
	items := s.blocks[i][w].Items
	for k := range items {
		line := items[k].line()
		if level && line && !s.sending(states) {
			spare = s.line(spare[:0], states, i, w, k, bound)
		} else {
			spare = spare[:0]
			s.stamp++
			for j := range states {
				s.advance(&spare, &states[j], i, w, k, bound)
			}
		}
		states, spare, level = spare, states, line
	}
	return states, spare, level
}

// sending reports whether something stands or waits elsewhere in one of the
// states.
func (s *search) sending(states []state) bool {
	return s.sends && slices.ContainsFunc(states, func(st state) bool { return st.sent != sent{} })
}

// line adds what advance would for each of the states, which are level, when a
// line is set.
func (s *search) line(to, from []state, i, w, k int, bound int64) []state {
	it := &s.blocks[i][w].Items[k]
	rows, most := int32(it.Rows), bound-s.pageCost()
	s.stamp++
	for j := range from {
		st := &from[j]
		lacking := int64(st.depth - st.rows)
		if int64(rows) > lacking || st.cost+st.end+uneven*lacking*lacking <= most {
			s.advance(&to, st, i, w, k, bound) // the page may end above the line
			continue
		}
		to = append(to, *st)
		made := &to[len(to)-1]
		made.rows, made.end = st.rows+rows, it.end(st.recto)
	}
	return to
}
