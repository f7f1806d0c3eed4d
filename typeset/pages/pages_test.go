package pages

import (
	"errors"
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

// paragraph is a block of one way: lines that keep two together at each end.
func paragraph(lines ...int) Block {
	var b Block
	for w, n := range lines {
		way := Way{Cost: int64(w) * OffDepth}
		for i := range n {
			it := Item{Rows: 1}
			if n > 1 && (i == 0 || i == n-2) {
				it.Verso, it.Recto = Forbid, Forbid
			}
			way.Items = append(way.Items, it)
		}
		b = append(b, way)
	}
	return b
}

// text is a page of nothing but its items.
func text(from, to, rows, depth int, torn bool) Page {
	return Page{From: from, To: to, Rows: rows, Depth: depth, Torn: torn}
}

func TestBreak(t *testing.T) {
	space := Block{{Items: []Item{{Rows: 1, Space: true}}}}
	for _, c := range []struct {
		name   string
		blocks []Block
		opt    Options
		ways   []int
		want   []Page
	}{
		{"nothing", nil, Options{Rows: 5}, nil, nil},
		{"nothing but a space", []Block{space}, Options{Rows: 5}, []int{0}, nil},
		{"one page", []Block{paragraph(4)}, Options{Rows: 5, LeastLast: 5}, []int{0},
			[]Page{text(0, 4, 4, 5, false)}},
		{"full pages", []Block{paragraph(5), paragraph(5)}, Options{Rows: 5}, []int{0, 0},
			[]Page{text(0, 5, 5, 5, false), text(5, 10, 5, 5, false)}},
		{"an orphan is kept off by a short spread", []Block{paragraph(5), paragraph(5), paragraph(6), paragraph(5)},
			Options{Rows: 6, Verso: true, Short: 1}, []int{0, 0, 0, 0},
			[]Page{text(0, 5, 5, 5, false), text(5, 10, 5, 5, false), text(10, 16, 6, 6, false), text(16, 21, 5, 6, false)}},
		{"or by a paragraph that runs a line long", []Block{paragraph(5, 6), paragraph(6), paragraph(6), paragraph(5)},
			Options{Rows: 6, Verso: true}, []int{1, 0, 0, 0},
			[]Page{text(0, 6, 6, 6, false), text(6, 12, 6, 6, false), text(12, 18, 6, 6, false), text(18, 23, 5, 6, false)}},
		{"a space vanishes between pages", []Block{paragraph(4), space, paragraph(4)}, Options{Rows: 4}, []int{0, 0, 0},
			[]Page{text(0, 4, 4, 4, false), text(5, 9, 4, 4, false)}},
		{"a widow where nothing else is possible", []Block{paragraph(3)}, Options{Rows: 2}, []int{0},
			[]Page{text(0, 2, 2, 2, true), text(2, 3, 1, 2, false)}},
		{"a paragraph is varied to save a page", []Block{paragraph(4), paragraph(6, 4)}, Options{Rows: 8, Fewest: true}, []int{0, 1},
			[]Page{text(0, 8, 8, 8, false)}},
		{"but not unless it is asked for", []Block{paragraph(4), paragraph(6, 4)}, Options{Rows: 8}, []int{0, 0},
			[]Page{text(0, 8, 8, 8, false), text(8, 10, 2, 8, false)}},
	} {
		got, err := Break(c.blocks, c.opt)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if diff := cmp.Diff(c.want, got.Pages); diff != "" {
			t.Errorf("%s: pages\n%s", c.name, diff)
		}
		if diff := cmp.Diff(c.ways, append([]int(nil), got.Ways...)); diff != "" {
			t.Errorf("%s: ways\n%s", c.name, diff)
		}
	}
}

// lines is a block of n lines; the notes of the first lines follow.
func lines(n int, notes ...[]int) Block {
	b := Block{{Items: make([]Item, n)}}
	for i := range b[0].Items {
		b[0].Items[i].Rows = 1
		if i < len(notes) {
			b[0].Items[i].Notes = notes[i]
		}
	}
	return b
}

// What stands elsewhere than on the rows of the text: notes at the foot,
// pictures sent on to the head of the next page, plates on pages of their own.
func TestSent(t *testing.T) {
	rowsOf := func(lines int) int {
		if lines == 0 {
			return 0
		}
		return lines + 1
	}
	plate, spread := Block{{Items: []Item{{Plate: OnePage}}}}, Block{{Items: []Item{{Plate: Spread}}}}
	sent := Block{{Items: []Item{{Rows: 4}}}, {Items: []Item{{Ahead: 4}}, Cost: OffDepth}}
	for _, c := range []struct {
		name   string
		blocks []Block
		opt    Options
		want   []Page
	}{
		{"a note takes its rows from its page", []Block{lines(8, []int{2})}, Options{Rows: 6, NoteRows: rowsOf},
			[]Page{{To: 3, Rows: 3, Depth: 6, Notes: 2}, {From: 3, To: 8, Rows: 5, Depth: 6}}},
		{"a line whose note does not fit goes overleaf", []Block{lines(8, nil, nil, nil, []int{3})}, Options{Rows: 6, Short: 3, NoteRows: rowsOf},
			[]Page{{To: 3, Rows: 3, Depth: 3}, {From: 3, To: 5, Rows: 2, Depth: 6, Notes: 3}, {From: 5, To: 8, Rows: 3, Depth: 6}}},
		{"a long note goes on overleaf where the page would gape", []Block{lines(10, nil, nil, []int{8})}, Options{Rows: 6, NoteRows: rowsOf},
			[]Page{{To: 3, Rows: 3, Depth: 6, Notes: 2}, {From: 3, To: 4, Rows: 1, Depth: 6, Notes: 4}, {From: 4, To: 7, Rows: 3, Depth: 6, Notes: 2}, {From: 7, To: 10, Rows: 3, Depth: 6}}},
		{"a picture that does not fit stands at the head of the next page", []Block{lines(4), sent, lines(5)}, Options{Rows: 6},
			[]Page{{To: 7, Rows: 6, Depth: 6}, {From: 7, To: 9, Rows: 6, Depth: 6, Ahead: []int{1}}, {From: 9, To: 10, Rows: 1, Depth: 6}}},
		{"a plate takes the next page", []Block{lines(4), plate, lines(5)}, Options{Rows: 6},
			[]Page{{To: 7, Rows: 6, Depth: 6}, {From: 7, To: 7, Depth: 6, Plate: 2}, {From: 7, To: 10, Rows: 3, Depth: 6}}},
		{"a spread waits for a verso", []Block{lines(4), spread, lines(9)}, Options{Rows: 4, Verso: true},
			[]Page{{To: 4, Rows: 4, Depth: 4}, {From: 5, To: 9, Rows: 4, Depth: 4}, {From: 9, To: 9, Depth: 4, Plate: 2}, {From: 9, To: 9, Depth: 4, Plate: 2},
				{From: 9, To: 13, Rows: 4, Depth: 4}, {From: 13, To: 14, Rows: 1, Depth: 4}}},
		{"a plate before the text", []Block{plate, lines(5)}, Options{Rows: 4, Verso: true},
			[]Page{{Depth: 4, Plate: 1}, {From: 1, To: 5, Rows: 4, Depth: 4}, {From: 5, To: 6, Rows: 1, Depth: 4}}},
		{"plates alone", []Block{plate, spread}, Options{Rows: 4},
			[]Page{{Depth: 4, Plate: 1}, {Depth: 4, Plate: 2}, {Depth: 4, Plate: 2}}},
		{"a spread alone on a recto", []Block{spread}, Options{Rows: 4},
			[]Page{{Depth: 4, Blank: true}, {Depth: 4, Plate: 1}, {Depth: 4, Plate: 1}}},
	} {
		got, err := Break(c.blocks, c.opt)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if diff := cmp.Diff(c.want, got.Pages, cmpopts.EquateEmpty()); diff != "" {
			t.Errorf("%s: pages\n%s", c.name, diff)
		}
	}
}

// A hyphen at the foot of a recto gives way before facing pages end on unlike
// rows, and after a spread runs short.
func TestOrderOfGivingWay(t *testing.T) {
	line := func(recto int64) Item { return Item{Rows: 1, Recto: recto} }
	turn := []Item{line(0), line(0), line(0), line(TurnCost), line(0), line(0)}
	got, err := Break([]Block{{{Items: turn}}}, Options{Rows: 4, Short: 1})
	if err != nil || got.Pages[0].Depth != 3 {
		t.Errorf("a short spread keeps a hyphen from the turn: %v, %v", got, err)
	}
	got, err = Break([]Block{{{Items: turn}}}, Options{Rows: 4})
	if err != nil || got.Pages[0].Rows != 4 {
		t.Errorf("without one, the hyphen stands: %v, %v", got, err)
	}
}

func TestTooTall(t *testing.T) {
	_, err := Break([]Block{{{Items: []Item{{Rows: 1}}}}, {{Items: []Item{{Rows: 9}}}}}, Options{Rows: 8})
	var tall *ErrTooTall
	if !errors.As(err, &tall) || tall.Block != 1 {
		t.Errorf("got %v", err)
	}
}

func off(depth int, opt Options) int64 {
	d := int64(depth - opt.Rows)
	return OffDepth * d * d
}

// noteRows is the room that notes take in the tests: half a row a line, and
// half a row above them.
func noteRows(lines int) int {
	if lines == 0 {
		return 0
	}
	return (lines + 2) / 2
}

// at is a place in a chapter where a page begins.
type at struct {
	item, carry, ahead, plates, spreads int
	recto, first                        bool
	facing                              int // depth of the facing page, which is ours; 0 for none
}

// exhaustive returns the least cost of items from a place on, trying every
// page and every depth.
func exhaustive(items []Item, opt Options, p at) int64 {
	start := p.item
	for items[p.item].Space || items[p.item].mark() {
		p.item++ // on the first page
	}
	depths := []int{p.facing}
	if p.facing == 0 {
		depths = nil
		for d := opt.Rows - opt.Short; d <= opt.Rows+opt.Long; d++ {
			depths = append(depths, d)
		}
	}
	least := int64(math.MaxInt64 / 2)
	for _, depth := range depths {
		for end := p.item + 1; end <= len(items); end++ {
			if items[end-1].Space || items[end-1].mark() {
				continue
			}
			page := items[p.item:end]
			rows := p.ahead
			for _, it := range page {
				rows += it.Rows
			}
			if rows > depth {
				break
			}
			cost, foot, carry, ok := footing(page, p, rows, depth)
			if !ok {
				continue
			}
			if p.facing == 0 {
				cost += off(depth, opt)
			}
			if opt.Fewest {
				cost += FewerPage
			}
			next := at{item: end, carry: carry, plates: 0, spreads: p.spreads}
			for next.item < len(items) && (items[next.item].Space || items[next.item].mark()) {
				next.item++
			}
			sent := items[start:next.item]
			for _, it := range sent {
				next.ahead += it.Ahead
				switch it.Plate {
				case OnePage:
					next.plates++
				case Spread:
					next.spreads++
				}
			}
			if next.ahead >= opt.Rows-opt.Short {
				continue
			}
			if next.item == len(items) {
				if !p.first && rows < opt.LeastLast {
					cost += shortLast
				}
				if carry > 0 {
					cost += shortLast
				}
				if next.ahead == 0 {
					least = min(least, cost)
				}
				continue
			}
			lacking := int64(depth - rows)
			if foot == 0 {
				cost += uneven * lacking * lacking
			} else {
				lacking -= int64(noteRows(foot))
				cost += OffDepth*lacking*lacking + uneven*max(0, lacking-unseen)*max(0, lacking-unseen)
			}
			cost += dearest(items[end-1:next.item], p.recto)
			// Plates, then the spreads where the next page would be a verso.
			next.recto, next.facing = !p.recto, depth
			if p.recto {
				next.facing = 0
			}
			for ; next.plates > 0; next.plates-- {
				next.recto, next.facing = !next.recto, 0
			}
			if !next.recto {
				next.spreads = 0
			}
			least = min(least, cost+exhaustive(items, opt, next))
		}
	}
	return least
}

// footing finds room for the notes of a page: those carried over to it, then
// its own, of which the last may go on overleaf.
func footing(page []Item, p at, rows, depth int) (cost int64, foot, carry int, ok bool) {
	first := p.ahead + page[0].Rows
	fits := func(lines, rows int) bool { return noteRows(lines) <= depth-rows }
	for foot = p.carry; !fits(foot, first); foot-- {
	}
	over := p.carry - foot
	own, last := 0, 0
	for _, it := range page {
		for _, n := range it.Notes {
			own, last = own+n, n
		}
	}
	if !fits(foot, rows) {
		return 0, 0, 0, false
	}
	if over == 0 && fits(foot+own, rows) {
		return 0, foot + own, 0, true
	}
	if own == 0 {
		return 0, foot, over, true
	}
	split := func(rows int) int {
		for n := 2; over == 0 && last-n >= 2; n++ {
			if fits(foot+own-n, rows) {
				return n
			}
		}
		return 0
	}
	if n := split(rows); n > 0 {
		return splitNote, foot + own - n, n, true
	}
	of := 0
	for _, n := range page[0].Notes {
		of += n
	}
	if of != own || split(first) > 0 || over == 0 && fits(foot+own, first) {
		return 0, 0, 0, false
	}
	here := 0
	for over == 0 && fits(foot+here+1, first) {
		here++
	}
	if !fits(foot+here, rows) {
		return 0, 0, 0, false
	}
	return Forbid, foot + here, over + own - here, true
}

func dearest(items []Item, recto bool) int64 {
	most := int64(0)
	for _, it := range items {
		if recto {
			most = max(most, it.Recto)
		} else {
			most = max(most, it.Verso)
		}
	}
	return most
}

// everyWay calls f with the items of every choice of ways.
func everyWay(blocks []Block, items []Item, cost int64, f func([]Item, int64)) {
	if len(blocks) == 0 {
		f(items, cost)
		return
	}
	for _, w := range blocks[0] {
		everyWay(blocks[1:], append(items[:len(items):len(items)], w.Items...), cost+w.Cost, f)
	}
}

// reckon reckons what a breaking costs from the definition, and checks that
// it holds every item once.
func reckon(t *rapid.T, blocks []Block, opt Options, made Breaking) int64 {
	var items []Item
	sum := int64(0)
	for i, w := range made.Ways {
		items = append(items, blocks[i][w].Items...)
		sum += blocks[i][w].Cost
	}
	at, recto, facing := 0, !opt.Verso, 0
	inked := func(to int) {
		for ; at < to; at++ {
			if !items[at].Space && !items[at].mark() {
				t.Fatalf("item %d is on no page", at)
			}
		}
	}
	carry, last := 0, 0
	for k, p := range made.Pages {
		if p.To > p.From {
			last = k
		}
	}
	for k, p := range made.Pages {
		if p.Plate > 0 || p.Blank || p.To == p.From {
			facing, recto = 0, !recto
			continue
		}
		inked(p.From)
		at = p.To
		if facing == 0 {
			sum += off(p.Depth, opt)
		} else if p.Depth != facing {
			t.Fatalf("page %d is %d deep beside one of %d", k, p.Depth, facing)
		}
		if opt.Fewest {
			sum += FewerPage
		}
		rows := 0
		for _, block := range p.Ahead {
			for _, it := range blocks[block][made.Ways[block]].Items {
				rows += it.Ahead
			}
		}
		ahead, notes := rows, 0
		for _, it := range items[p.From:p.To] {
			rows += it.Rows
			for _, n := range it.Notes {
				notes += n
			}
		}
		if rows != p.Rows || rows+noteRows(p.Notes) > p.Depth {
			t.Fatalf("page %d has %d rows, says %d of %d, with %d lines of notes", k, rows, p.Rows, p.Depth, p.Notes)
		}
		cost, foot, over, ok := footing(items[p.From:p.To], at2(ahead, carry), rows, p.Depth)
		if !ok || foot != p.Notes {
			t.Fatalf("page %d has %d lines of notes, %d expected (%v)", k, p.Notes, foot, ok)
		}
		sum += cost
		carry = over
		if k != last {
			to := len(items)
			for _, q := range made.Pages[k+1:] {
				if q.To > q.From {
					to = q.From
					break
				}
			}
			dear := dearest(items[p.To-1:to], recto)
			lacking := int64(p.Depth - rows)
			if foot == 0 {
				sum += uneven * lacking * lacking
			} else {
				lacking -= int64(noteRows(foot))
				sum += OffDepth*lacking*lacking + uneven*max(0, lacking-unseen)*max(0, lacking-unseen)
			}
			sum += dear
			if p.Torn != (dear >= Forbid) {
				t.Fatalf("page %d: torn is %v", k, p.Torn)
			}
		} else {
			if k > 0 && rows < opt.LeastLast {
				sum += shortLast
			}
			if carry > 0 {
				sum += shortLast
			}
		}
		if facing = 0; !recto {
			facing = p.Depth
		}
		recto = !recto
	}
	inked(len(items))
	return sum
}

func at2(ahead, carry int) at { return at{ahead: ahead, carry: carry} }

func TestEqualsExhaustiveSearch(t *testing.T) {
	var breaker Breaker // one for all chapters
	rapid.Check(t, func(t *rapid.T) {
		var blocks []Block
		for range rapid.IntRange(1, 5).Draw(t, "blocks") {
			var b Block
			for w := range rapid.IntRange(1, 3).Draw(t, "ways") {
				way := Way{}
				if w > 0 {
					way.Cost = rapid.Int64Range(0, 3*OffDepth).Draw(t, "way")
				}
				for range rapid.IntRange(1, 3).Draw(t, "items") {
					it := Item{Rows: rapid.SampledFrom([]int{1, 1, 1, 1, 2}).Draw(t, "rows")}
					it.Space = rapid.IntRange(0, 5).Draw(t, "space") == 0
					it.Verso = rapid.SampledFrom([]int64{0, 0, 0, 50, Forbid}).Draw(t, "verso")
					it.Recto = rapid.SampledFrom([]int64{0, 0, TurnCost, Forbid}).Draw(t, "recto")
					if rapid.IntRange(0, 3).Draw(t, "refers") == 0 && !it.Space {
						it.Notes = rapid.SliceOfN(rapid.IntRange(1, 7), 1, 2).Draw(t, "notes")
					}
					way.Items = append(way.Items, it)
				}
				switch sends := rapid.IntRange(0, 12).Draw(t, "sends"); {
				case sends == 0 && w > 0:
					way.Items = append(way.Items, Item{Ahead: rapid.IntRange(1, 3).Draw(t, "ahead")})
				case sends == 1:
					way.Items = append(way.Items, Item{Plate: OnePage})
				case sends == 2:
					way.Items = append(way.Items, Item{Plate: Spread})
				}
				b = append(b, way)
			}
			blocks = append(blocks, b)
		}
		opt := Options{
			Rows:      rapid.IntRange(3, 5).Draw(t, "page"),
			Verso:     rapid.Bool().Draw(t, "verso"),
			Short:     rapid.IntRange(0, 1).Draw(t, "short"),
			Long:      rapid.IntRange(0, 1).Draw(t, "long"),
			LeastLast: rapid.IntRange(0, 3).Draw(t, "least last"),
			Fewest:    rapid.Bool().Draw(t, "fewest"),
			NoteRows:  noteRows,
		}
		made, err := breaker.Break(blocks, opt)
		if err != nil {
			t.Fatal(err)
		}
		if fresh, err := Break(blocks, opt); err != nil || !cmp.Equal(fresh, made) {
			t.Fatalf("%v, with memory of other chapters %v, %v", fresh, made, err)
		}
		want, bare := int64(math.MaxInt64), false
		everyWay(blocks, nil, 0, func(items []Item, cost int64) {
			inked := slices.ContainsFunc(items, func(it Item) bool { return !it.Space && !it.mark() })
			if bare = bare || !inked; bare {
				return
			}
			want = min(want, cost+exhaustive(items, opt, at{recto: !opt.Verso, first: true}))
		})
		if bare {
			t.Skip("in some way there is nothing but spaces")
		}
		if got := reckon(t, blocks, opt, made); got != want {
			t.Fatalf("%v costs %d, exhaustive search finds %d", made, got, want)
		}
	})
}
