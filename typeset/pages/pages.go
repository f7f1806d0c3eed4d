package pages

import (
	"errors"
	"fmt"
	"sort"
)

// Item is what stays together on a page.
type Item struct {
	Rows  int   // of the grid; at least 1
	Space bool  // empty: dropped at the head and the foot of a page
	Cost  int64 // of ending a page after it, 0 to Forbid
}

// What faults cost. A break after an item that costs Forbid happens only
// where no page could end otherwise.
const (
	Forbid    int64 = 1 << 40 // a widow, an orphan, a stranded heading
	shortLast int64 = 1 << 32 // fewer than Options.LeastLast rows on the last page
	uneven    int64 = 1 << 24 // times the square of the rows that a page lacks
	offDepth  int64 = 1 << 10 // times the square of the rows that a spread is short
	longDepth int64 = 3 << 9  // times the square of the rows that a spread is long
)

// Options say how pages are filled.
type Options struct {
	Rows      int  // on a full page
	Verso     bool // the chapter's first page is a verso; its other half lies before
	Short     int  // how many rows a spread may run short
	Long      int  // how many rows a spread may run long
	LeastLast int  // least number of rows on the last page of several
}

// Page is one page of a chapter: items[From:To], which fill Rows rows of the
// Depth that its spread was given. Spaces at its head and foot are left out.
type Page struct {
	From, To    int
	Rows, Depth int
	Torn        bool // it ends where an item forbade it: nothing else was possible
}

// ErrTooTall is the failure of Break on an item that no page can hold.
type ErrTooTall struct {
	Item       int
	Rows, Most int
}

func (e *ErrTooTall) Error() string {
	return fmt.Sprintf("item %d takes %d rows where a page has %d", e.Item, e.Rows, e.Most)
}

// Break returns the pages of a chapter that cost least.
func Break(items []Item, opt Options) ([]Page, error) {
	if opt.Rows-opt.Short < 1 {
		return nil, errors.New("a page needs at least one row")
	}
	for i, it := range items {
		if it.Rows < 1 {
			return nil, fmt.Errorf("item %d takes %d rows", i, it.Rows)
		}
		if it.Rows > opt.Rows-opt.Short && !it.Space {
			return nil, &ErrTooTall{i, it.Rows, opt.Rows - opt.Short}
		}
	}
	b := breaker{items: items, Options: opt}
	b.solve()
	return b.trace(), nil
}

// breaker holds, for every item at which a page may begin, the least cost of
// the rest of the chapter.
type breaker struct {
	items []Item
	above []int // rows of all items before an item
	Options
	depths int // depths that a spread may have: from Rows-Short
	verso  []choice
	recto  [][]choice // by the depth of the verso that it faces
}

// choice is the best page that begins at a place.
type choice struct {
	cost  int64 // of this page and all that follow
	depth int   // of its spread
	end   int   // items before end are on the page, spaces at its foot included
	rows  int
}

func (b *breaker) solve() {
	n := len(b.items)
	b.depths = b.Short + b.Long + 1
	b.above = make([]int, n+1)
	for i, it := range b.items {
		b.above[i+1] = b.above[i] + it.Rows
	}
	b.verso = make([]choice, n+1)
	b.recto = make([][]choice, b.depths)
	for d := range b.recto {
		b.recto[d] = make([]choice, n+1)
	}
	for i := n - 1; i >= 0; i-- {
		if b.items[i].Space {
			continue // never the first item of a page
		}
		b.verso[i].cost = -1
		for d := range b.depths {
			depth := b.Rows - b.Short + d
			b.recto[d][i] = b.best(i, depth, b.verso)
			made := b.best(i, depth, b.recto[d])
			if made.cost += b.depthCost(depth); b.verso[i].cost < 0 || made.cost < b.verso[i].cost {
				b.verso[i] = made
			}
		}
	}
}

// best returns the best page of a depth that begins at item i, where rest
// holds the cost of what follows it. The fullest page is tried first: a page
// that lacks more rows than the best so far has cost is not worth a look.
func (b *breaker) best(i, depth int, rest []choice) choice {
	best := choice{cost: -1, depth: depth}
	// The first item that would not fit whole.
	far := i + sort.Search(len(b.items)-i, func(k int) bool { return b.above[i+k+1]-b.above[i] > depth })
	for j := far - 1; j >= i; j-- {
		if b.items[j].Space {
			continue
		}
		inked := b.above[j+1] - b.above[i]
		next := b.skip(j + 1)
		cost := rest[next].cost
		if next < len(b.items) {
			lacking := int64(depth - inked)
			ragged := uneven * lacking * lacking
			if best.cost >= 0 && ragged >= best.cost {
				break
			}
			cost += b.breakCost(j) + ragged
		} else if i > 0 && inked < b.LeastLast {
			cost += shortLast
		}
		if best.cost < 0 || cost < best.cost {
			best = choice{cost: cost, depth: depth, end: next, rows: inked}
		}
	}
	return best
}

// breakCost is the cost of a page that ends after item j, which is the last
// of the items before the spaces that vanish with the break.
func (b *breaker) breakCost(j int) int64 {
	cost := b.items[j].Cost
	for j++; j < len(b.items) && b.items[j].Space; j++ {
		cost = max(cost, b.items[j].Cost)
	}
	return cost
}

func (b *breaker) depthCost(depth int) int64 {
	if off := int64(depth - b.Rows); off < 0 {
		return offDepth * off * off
	} else {
		return longDepth * off * off
	}
}

// skip returns the first item from j on that is no space.
func (b *breaker) skip(j int) int {
	for j < len(b.items) && b.items[j].Space {
		j++
	}
	return j
}

func (b *breaker) trace() []Page {
	var all []Page
	recto, depth := !b.Verso, 0
	i := b.skip(0)
	if recto {
		// The verso that the first page faces is not ours: any depth will do.
		for d := range b.depths {
			if i < len(b.items) && b.recto[d][i].cost+b.depthCost(b.Rows-b.Short+d) <
				b.recto[depth][i].cost+b.depthCost(b.Rows-b.Short+depth) {
				depth = d
			}
		}
	}
	for i < len(b.items) {
		c := b.verso[i]
		if recto {
			c = b.recto[depth][i]
		}
		depth = c.depth - (b.Rows - b.Short)
		last := c.end
		for b.items[last-1].Space {
			last--
		}
		all = append(all, Page{From: i, To: last, Rows: c.rows, Depth: c.depth,
			Torn: c.end < len(b.items) && b.breakCost(last-1) >= Forbid})
		i, recto = c.end, !recto
	}
	return all
}
