package paragraph

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"

	"bodkin/typeset/length"
)

// A Breaking is one way to break a paragraph.
type Breaking struct {
	Lines    []Line
	Demerits int64 // in 4096ths of the demerits of 1981
}

// Breaker breaks paragraphs. It keeps its working memory from one paragraph to
// the next; the zero value is ready. It is not for concurrent use.
type Breaker struct {
	items  []Item
	opt    Options
	many   bool          // keep apart paragraphs of unlike numbers of lines
	hang   length.Length // the most that an Item.Before takes off a line
	lead   length.Length // by how much a line that begins later may be longer: through Item.After, or its measure
	steady bool          // every item adds to the width and the stretch of its line

	nodes  []node
	active []int32 // nodes where a line may begin, by position
	fresh  []int32 // nodes made at the break at hand
	best   []int32 // of the fresh, one of each class and number of hyphens in a row
	lines  []int32 // of the best like each of the fresh
	places []int32 // of the nodes, once those that lead nowhere are dropped
	room   int     // for so many nodes before that is done; 0 means roomy
}

// node is a line end with the best way to reach it.
type node struct {
	at       int32 // index of the item that ends the line
	from     int32 // first item of the next line
	prev     int32 // node of the line end before, -1 at the start
	line     int32 // lines up to here
	fit      fitness
	hyphens  uint8         // in a row, up to here
	ends     int32         // the word that the line ends with
	begins   int32         // the word that the next line begins with
	demerits int64         // sum up to here
	width    length.Length // sums of all items before from, less its break's After
	stretch  length.Length
	shrink   length.Length
	fills    int32
	short    length.Length // of the line that ends here
	flex     length.Length
	filled   bool
}

// ErrTooWide is the failure of Break on a paragraph in which a box is wider
// than the measure, so that no breaking keeps within it.
type ErrTooWide struct {
	Item    int // index of the first item of the line that does not fit
	Width   length.Length
	Measure length.Length
}

func (e *ErrTooWide) Error() string {
	return fmt.Sprintf("item %d needs a line of %v where the measure is %v", e.Item, e.Width, e.Measure)
}

// ErrDivided is the failure to keep the line Options.Whole from ending in a
// hyphen within the tolerance.
var ErrDivided = errors.New("no breaking within the tolerance keeps that line from ending in a hyphen")

// Break returns the breaking with the least demerits in which no line
// stretches beyond the tolerance. Where there is none, what is asked for gives
// way in the order of relaxations. No line ever shrinks beyond its glue: a box
// wider than the measure is an *ErrTooWide.
//
// The last item must be a Penalty of cost -Forbid.
func (b *Breaker) Break(items []Item, opt Options) (Breaking, error) {
	b.many = false
	ends, err := b.relaxing(items, opt)
	if err != nil {
		return Breaking{}, err
	}
	best := ends[0]
	for _, e := range ends {
		if b.nodes[e].demerits < b.nodes[best].demerits {
			best = e
		}
	}
	return b.trace(best), nil
}

// Breakings returns, for every number of lines that the tolerance allows, the
// breaking with the least demerits: the best of all first, then the others in
// ascending number of lines. In a long paragraph it follows only the ways that
// keep within apart lines of the best. Where nothing keeps within the tolerance
// it relaxes as Break does, and returns the best alone.
func (b *Breaker) Breakings(items []Item, opt Options) ([]Breaking, error) {
	b.many = true
	ends, err := b.relaxing(items, opt)
	if err != nil {
		return nil, err
	}
	best := map[int32]int32{}
	for _, e := range ends {
		line := b.nodes[e].line
		if old, found := best[line]; !found || b.nodes[e].demerits < b.nodes[old].demerits {
			best[line] = e
		}
	}
	all := make([]Breaking, 1, len(best))
	first := ends[0]
	for _, line := range slices.Sorted(maps.Keys(best)) {
		if e := best[line]; b.nodes[e].demerits < b.nodes[first].demerits {
			first = e
		}
	}
	all[0] = b.trace(first)
	for _, line := range slices.Sorted(maps.Keys(best)) {
		if e := best[line]; e != first && b.many {
			all = append(all, b.trace(e))
		}
	}
	return all, nil
}

// unlimited is a tolerance that every line keeps.
const unlimited = math.MaxInt32

// relaxations are tried one after the other until a breaking is found: whether
// the tolerance and the limits on the last line and on hyphens in a row still
// hold. A short last line is a smaller fault than a loose line, a third hyphen
// a greater one. Beyond the tolerance Options.Loose keeps loose lines few.
var relaxations = [...]struct{ tolerance, last, hyphens bool }{
	{true, true, true},
	{true, false, true},
	{false, false, true},
	{false, false, false},
}

// relaxing returns the nodes at the end of the paragraph.
func (b *Breaker) relaxing(items []Item, opt Options) ([]int32, error) {
	if len(opt.Measures) == 0 {
		return nil, errors.New("a breaking needs a measure")
	}
	if n := len(items); n == 0 || items[n-1].Kind != Penalty || items[n-1].Cost > -Forbid {
		return nil, errors.New("a paragraph must end with a forced break")
	}
	if opt.Tolerance == 0 {
		opt.Tolerance = 1000
	}
	b.items = items
	for i, r := range relaxations {
		b.opt = opt
		if i > 0 {
			b.many = false // the best alone is wanted then
		}
		if !r.tolerance {
			b.opt.Tolerance = unlimited
		}
		if !r.last {
			b.opt.LeastLast = 0
		}
		if !r.hyphens {
			b.opt.MostHyphen = 0
		}
		if ends := b.run(); len(ends) > 0 {
			return ends, nil
		}
		if opt.Whole > 0 {
			return nil, ErrDivided
		}
	}
	return nil, b.tooWide()
}

// run finds the feasible line ends and returns the best nodes at the end of
// the paragraph.
func (b *Breaker) run() []int32 {
	b.nodes = append(b.nodes[:0], node{at: -1, prev: -1, fit: decent, begins: b.opt.First})
	b.active = append(b.active[:0], 0)
	b.survey()
	room := cmp.Or(b.room, roomy)
	var sum sums
	for i := range b.items {
		if len(b.nodes) > room {
			b.sweep()
			room = max(room, 2*len(b.nodes))
		}
		it := &b.items[i]
		switch it.Kind {
		case Box:
			sum.add(it)
		case Glue:
			if i > 0 && b.items[i-1].Kind == Box && it.Cost < Forbid {
				b.try(int32(i), it, sum)
			}
			sum.add(it)
		case Penalty:
			if it.Cost < Forbid {
				b.try(int32(i), it, sum)
			}
		}
		if len(b.active) == 0 {
			return nil
		}
	}
	return b.active
}

// trace returns the breaking that ends at a node.
func (b *Breaker) trace(end int32) Breaking {
	n := b.nodes[end]
	made := Breaking{Lines: make([]Line, n.line), Demerits: n.demerits}
	for i := len(made.Lines) - 1; i >= 0; i-- {
		prev := b.nodes[n.prev]
		made.Lines[i] = Line{From: int(prev.from), To: int(n.at), Short: n.short, Flex: n.flex, Filled: n.filled}
		n = prev
	}
	return made
}

// tooWide finds what keeps every breaking from the measure: the longest
// stretch between two neighbouring breaks.
func (b *Breaker) tooWide() error {
	worst := &ErrTooWide{Measure: b.opt.Measures[len(b.opt.Measures)-1]}
	from := 0
	var width length.Length
	for i, it := range b.items {
		switch {
		case it.Kind == Box:
			width += it.Width
		case it.Cost < Forbid:
			if width > worst.Width {
				worst.Item, worst.Width = from, width
			}
			from, width = i+1, 0
		case it.Kind == Glue:
			width += it.Width - it.Shrink
		}
	}
	return worst
}
