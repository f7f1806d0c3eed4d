package pages

import (
	"errors"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
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
			[]Page{{0, 4, 4, 5, false}}},
		{"full pages", []Block{paragraph(5), paragraph(5)}, Options{Rows: 5}, []int{0, 0},
			[]Page{{0, 5, 5, 5, false}, {5, 10, 5, 5, false}}},
		{"an orphan is kept off by a short spread", []Block{paragraph(5), paragraph(5), paragraph(6), paragraph(5)},
			Options{Rows: 6, Verso: true, Short: 1}, []int{0, 0, 0, 0},
			[]Page{{0, 5, 5, 5, false}, {5, 10, 5, 5, false}, {10, 16, 6, 6, false}, {16, 21, 5, 6, false}}},
		{"or by a paragraph that runs a line long", []Block{paragraph(5, 6), paragraph(6), paragraph(6), paragraph(5)},
			Options{Rows: 6, Verso: true}, []int{1, 0, 0, 0},
			[]Page{{0, 6, 6, 6, false}, {6, 12, 6, 6, false}, {12, 18, 6, 6, false}, {18, 23, 5, 6, false}}},
		{"a space vanishes between pages", []Block{paragraph(4), space, paragraph(4)}, Options{Rows: 4}, []int{0, 0, 0},
			[]Page{{0, 4, 4, 4, false}, {5, 9, 4, 4, false}}},
		{"a widow where nothing else is possible", []Block{paragraph(3)}, Options{Rows: 2}, []int{0},
			[]Page{{0, 2, 2, 2, true}, {2, 3, 1, 2, false}}},
		{"a paragraph is varied to save a page", []Block{paragraph(4), paragraph(6, 4)}, Options{Rows: 8, Fewest: true}, []int{0, 1},
			[]Page{{0, 8, 8, 8, false}}},
		{"but not unless it is asked for", []Block{paragraph(4), paragraph(6, 4)}, Options{Rows: 8}, []int{0, 0},
			[]Page{{0, 8, 8, 8, false}, {8, 10, 2, 8, false}}},
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

// exhaustive returns the least cost of items[i:], trying every page and every
// depth.
func exhaustive(items []Item, opt Options, i int, recto bool, facing int) int64 {
	for i < len(items) && items[i].Space {
		i++
	}
	if i == len(items) {
		return 0
	}
	depths := []int{facing}
	if facing == 0 {
		depths = nil
		for d := opt.Rows - opt.Short; d <= opt.Rows+opt.Long; d++ {
			depths = append(depths, d)
		}
	}
	least := int64(math.MaxInt64)
	for _, depth := range depths {
		for end := i + 1; end <= len(items); end++ {
			if items[end-1].Space {
				continue
			}
			rows := 0
			for _, it := range items[i:end] {
				rows += it.Rows
			}
			if rows > depth {
				break
			}
			cost, rest := int64(0), end
			for rest < len(items) && items[rest].Space {
				rest++
			}
			if facing == 0 {
				cost += off(depth, opt)
			}
			if opt.Fewest {
				cost += FewerPage
			}
			if rest < len(items) {
				cost += dearest(items[end-1:rest], recto) + uneven*int64(depth-rows)*int64(depth-rows)
			} else if i > 0 && rows < opt.LeastLast {
				cost += shortLast
			}
			next := 0
			if !recto {
				next = depth
			}
			least = min(least, cost+exhaustive(items, opt, rest, !recto, next))
		}
	}
	return least
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
			if !items[at].Space {
				t.Fatalf("item %d is on no page", at)
			}
		}
	}
	for k, p := range made.Pages {
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
		for _, it := range items[p.From:p.To] {
			rows += it.Rows
		}
		if rows != p.Rows || rows > p.Depth {
			t.Fatalf("page %d has %d rows, says %d of %d", k, rows, p.Rows, p.Depth)
		}
		if k < len(made.Pages)-1 {
			dear := dearest(items[p.To-1:made.Pages[k+1].From], recto)
			sum += dear + uneven*int64(p.Depth-rows)*int64(p.Depth-rows)
			if p.Torn != (dear >= Forbid) {
				t.Fatalf("page %d: torn is %v", k, p.Torn)
			}
		} else if k > 0 && rows < opt.LeastLast {
			sum += shortLast
		}
		if facing = 0; !recto {
			facing = p.Depth
		}
		recto = !recto
	}
	inked(len(items))
	return sum
}

func TestEqualsExhaustiveSearch(t *testing.T) {
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
					way.Items = append(way.Items, it)
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
		}
		made, err := Break(blocks, opt)
		if err != nil {
			t.Fatal(err)
		}
		want, bare := int64(math.MaxInt64), false
		everyWay(blocks, nil, 0, func(items []Item, cost int64) {
			for len(items) > 0 && items[0].Space {
				items = items[1:] // so that the first page is the first
			}
			bare = bare || len(items) == 0
			want = min(want, cost+exhaustive(items, opt, 0, !opt.Verso, 0))
		})
		if bare {
			t.Skip("in some way there is nothing but spaces")
		}
		if got := reckon(t, blocks, opt, made); got != want {
			t.Fatalf("%v costs %d, exhaustive search finds %d", made, got, want)
		}
	})
}
