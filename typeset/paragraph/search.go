package paragraph

import (
	"math"
	"slices"

	"bodkin/typeset/length"
)

// roomy is how many nodes are kept before those that lead nowhere are dropped:
// more than all but the longest paragraphs have.
const roomy = 1 << 16

// sweep drops the nodes that no active one comes from.
func (b *Breaker) sweep() {
	const reached = -1
	b.places = slices.Grow(b.places[:0], len(b.nodes))[:len(b.nodes)]
	clear(b.places)
	for _, a := range b.active {
		for ; a >= 0 && b.places[a] != reached; a = b.nodes[a].prev {
			b.places[a] = reached
		}
	}
	kept := b.nodes[:0]
	for i, n := range b.nodes {
		if b.places[i] != reached {
			continue
		}
		if n.prev >= 0 {
			n.prev = b.places[n.prev] // which stands before it
		}
		b.places[i] = int32(len(kept))
		kept = append(kept, n)
	}
	b.nodes = kept
	for i, a := range b.active {
		b.active[i] = b.places[a]
	}
}

// survey finds what holds of all items.
func (b *Breaker) survey() {
	b.hang, b.steady = 0, true
	least, most := length.Length(0), length.Length(0)
	for i := range b.items {
		it := &b.items[i]
		b.hang = max(b.hang, -it.Before)
		least, most = min(least, it.After), max(most, it.After)
		if it.Width < 0 {
			most -= it.Width
		}
		if it.Stretch < 0 {
			b.steady = false
		}
	}
	b.lead = most - least + slices.Max(b.opt.Measures) - slices.Min(b.opt.Measures)
}

// sums are the widths of all items before a place.
type sums struct {
	width, stretch, shrink length.Length
	fills                  int32
}

func (s *sums) add(it *Item) {
	s.width += it.Width
	s.shrink += it.Shrink
	if it.Stretch == Fill {
		s.fills++
	} else {
		s.stretch += it.Stretch
	}
}

// try considers a line end at item i for every active node.
func (b *Breaker) try(i int32, it *Item, sum sums) {
	forced := it.Cost <= -Forbid
	b.fresh = b.fresh[:0]
	kept := b.active[:0]
	last := int32(-1) // position of the node before, whose figures are kept
	var (
		line    Line
		bad     int64
		fit     fitness
		fits    bool
		over    bool
		lastNum int32 = -1
	)
	for k, a := range b.active {
		n := &b.nodes[a]
		if n.from != last || b.measureIndex(n.line) != b.measureIndex(lastNum) {
			last, lastNum = n.from, n.line
			line, over = b.line(n, it, sum)
			bad, fit, fits = b.rate(line)
			if !fits && !forced && b.tooShort(line) {
				// The lines that begin further on are shorter still.
				kept = append(kept, b.active[k:]...)
				break
			}
			if int(i) == len(b.items)-1 && n.line > 0 && b.measure(n.line)-line.Short < b.opt.LeastLast {
				fits = false
			}
		}
		if !over && !forced {
			kept = append(kept, a)
		}
		if fits && i >= n.from {
			b.reach(i, it, sum, a, line, bad, fit)
		}
	}
	if b.many {
		b.narrow()
	}
	b.active = append(kept, b.fresh...)
}

// apart is by how many lines two ways to one line end may differ. Without a
// limit there would be more and more ways down a long paragraph, each of its
// own number of lines; in paragraphs of up to a hundred lines or so the limit
// is never met.
const apart = 8

// narrow drops the fresh nodes that are more than apart lines from the best of
// their class and hyphens. The best breaking of all goes through such best ones
// only, so it is never lost.
func (b *Breaker) narrow() {
	low, high := int32(math.MaxInt32), int32(0)
	for _, f := range b.fresh {
		low, high = min(low, b.nodes[f].line), max(high, b.nodes[f].line)
	}
	if high-low <= apart {
		return
	}
	b.best = b.best[:0]
	for _, f := range b.fresh {
		if k := b.bestLike(f); k < 0 {
			b.best = append(b.best, f)
		} else if b.nodes[f].demerits < b.nodes[b.best[k]].demerits {
			b.best[k] = f
		}
	}
	lines := b.lines[:0]
	for _, f := range b.fresh {
		lines = append(lines, b.nodes[b.best[b.bestLike(f)]].line)
	}
	b.lines = lines
	// The fresh nodes are the last that were made.
	first := b.fresh[0]
	kept := b.nodes[:first]
	for i, f := range b.fresh {
		if off := b.nodes[f].line - lines[i]; -apart <= off && off <= apart {
			kept = append(kept, b.nodes[f])
		}
	}
	b.nodes, b.fresh = kept, b.fresh[:len(kept)-int(first)]
}

// bestLike returns the place among the best nodes of the one that has the class
// and the hyphens of node f; -1 if there is none.
func (b *Breaker) bestLike(f int32) int {
	return slices.IndexFunc(b.best, func(o int32) bool {
		return b.nodes[o].fit == b.nodes[f].fit && b.nodes[o].hyphens == b.nodes[f].hyphens
	})
}

// line returns the figures of a line from node n to the break it, and whether
// no later break can make it fit either.
func (b *Breaker) line(n *node, it *Item, sum sums) (l Line, over bool) {
	natural := sum.width - n.width
	shrink := sum.shrink - n.shrink
	measure := b.measure(n.line)
	over = natural-shrink-b.hang > measure
	l.Short = measure - natural - it.Before
	l.Filled = sum.fills > n.fills && l.Short >= 0
	if l.Short >= 0 {
		l.Flex = sum.stretch - n.stretch
	} else {
		l.Flex = shrink
	}
	return l, over
}

// tooShort reports whether a line, and every line that begins after it and
// ends with it, stretches beyond the tolerance.
func (b *Breaker) tooShort(l Line) bool {
	return b.steady && int64(l.Short-b.lead)*1000 > int64(l.Flex)*int64(b.opt.Tolerance)
}

// rate returns the badness of a line in 64ths, its class, and whether it
// keeps within tolerance. Ratios are taken in 4096ths and capped at 16.
func (b *Breaker) rate(l Line) (bad int64, fit fitness, fits bool) {
	if l.Filled || l.Short == 0 {
		return 0, decent, true
	}
	const one = 1 << 12
	var r int64
	if l.Short > 0 {
		if b.opt.Tolerance != unlimited && int64(l.Short)*1000 > int64(l.Flex)*int64(b.opt.Tolerance) {
			return 0, veryLoose, false
		}
		r = 16 * one
		if int64(l.Short) < 16*int64(l.Flex) {
			r = int64(l.Short) * one / int64(l.Flex)
		}
	} else {
		if -l.Short > l.Flex {
			return 0, tight, false
		}
		r = int64(l.Short) * one / int64(l.Flex)
	}
	switch {
	case r < -one/2:
		fit = tight
	case r <= one/2:
		fit = decent
	case r <= one:
		fit = loose
	default:
		fit = veryLoose
	}
	r = max(r, -r)
	const cube = one * one * one / 64
	return (100*r*r*r + cube/2) / cube, fit, true
}

// reach records that a line from node a may end at item i.
func (b *Breaker) reach(i int32, it *Item, sum sums, a int32, line Line, bad int64, fit fitness) {
	n := &b.nodes[a]
	hyphens := uint8(0)
	d := 64 + bad
	switch cost := int64(it.Cost); {
	case cost >= 0:
		d += 64 * cost
		d *= d
	case cost > -Forbid:
		d = d*d - 4096*cost*cost
	default:
		d *= d
	}
	if it.Flagged {
		if int(n.line)+1 == b.opt.Whole && it.Cost > -Forbid {
			return
		}
		if n.hyphens > 0 {
			d += 4096 * b.opt.HyphenRow
		}
		hyphens = 1
		if b.opt.MostHyphen > 0 && it.Cost > -Forbid {
			hyphens += n.hyphens
			if int(hyphens) > b.opt.MostHyphen {
				return
			}
		}
	}
	if int(fit)-int(n.fit) > 1 || int(n.fit)-int(fit) > 1 {
		d += 4096 * b.opt.Unlike
	}
	if fit == veryLoose {
		d += 4096 * b.opt.Loose
	}
	if it.Ends != 0 && it.Ends == n.ends {
		d += 4096 * b.opt.Repeat
	}
	if it.Begins != 0 && it.Begins == n.begins {
		d += 4096 * b.opt.Repeat
	}
	d += n.demerits
	if d > math.MaxInt64/2 {
		d = math.MaxInt64 / 2
	}
	made := node{at: i, prev: a, line: n.line + 1, fit: fit, hyphens: hyphens, demerits: d, ends: it.Ends, begins: it.Begins,
		short: line.Short, flex: line.Flex, filled: line.Filled}
	for _, f := range b.fresh {
		other := &b.nodes[f]
		if other.fit == fit && other.hyphens == hyphens && b.sameLine(other.line, made.line) {
			if d < other.demerits {
				made.from, made.width, made.stretch = other.from, other.width, other.stretch
				made.shrink, made.fills = other.shrink, other.fills
				*other = made
			}
			return
		}
	}
	made.from = b.next(i, &sum)
	made.width, made.stretch, made.shrink, made.fills = sum.width-it.After, sum.stretch, sum.shrink, sum.fills
	b.nodes = append(b.nodes, made)
	b.fresh = append(b.fresh, int32(len(b.nodes)-1))
}

// next returns the first item of a line that begins after the break at i, and
// adds what is dropped between to sum: glue and penalties up to a box or a
// forced break.
func (b *Breaker) next(i int32, sum *sums) int32 {
	if b.items[i].Kind == Glue {
		sum.add(&b.items[i])
	}
	for i++; int(i) < len(b.items); i++ {
		switch it := &b.items[i]; {
		case it.Kind == Box, it.Kind == Penalty && it.Cost <= -Forbid, it.Kind == Glue && it.Stretch == Fill:
			return i
		case it.Kind == Glue:
			sum.add(it)
		}
	}
	return i
}

// sameLine reports whether two nodes with these line numbers have the same
// future.
func (b *Breaker) sameLine(x, y int32) bool {
	return x == y || !b.many && b.measureIndex(x) == b.measureIndex(y) && (b.opt.Whole == 0 || min(x, y) >= int32(b.opt.Whole))
}

func (b *Breaker) measureIndex(line int32) int {
	return min(int(line), len(b.opt.Measures)-1)
}

func (b *Breaker) measure(line int32) length.Length {
	return b.opt.Measures[b.measureIndex(line)]
}
