package pages

import (
	"errors"
	"testing"

	"pgregory.net/rapid"
)

// paragraphs makes items of paragraphs with the given numbers of lines, which
// keep two lines together at each end.
func paragraphs(lines ...int) []Item {
	var items []Item
	for _, n := range lines {
		for i := range n {
			it := Item{Rows: 1}
			if n > 1 && (i == 0 || i == n-2) {
				it.Cost = Forbid
			}
			items = append(items, it)
		}
	}
	return items
}

func TestBreak(t *testing.T) {
	space := Item{Rows: 1, Space: true}
	for _, c := range []struct {
		name  string
		items []Item
		opt   Options
		want  []Page
	}{
		{"nothing", nil, Options{Rows: 5}, nil},
		{"one page", paragraphs(4), Options{Rows: 5, LeastLast: 5},
			[]Page{{0, 4, 4, 5, false}}},
		{"full pages", paragraphs(5, 5), Options{Rows: 5},
			[]Page{{0, 5, 5, 5, false}, {5, 10, 5, 5, false}}},
		{"an orphan is kept off by a short spread", paragraphs(5, 5, 6, 5), Options{Rows: 6, Verso: true, Short: 1},
			[]Page{{0, 5, 5, 5, false}, {5, 10, 5, 5, false}, {10, 16, 6, 6, false}, {16, 21, 5, 6, false}}},
		{"a space vanishes between pages", append(append(paragraphs(4), space), paragraphs(4)...), Options{Rows: 4},
			[]Page{{0, 4, 4, 4, false}, {5, 9, 4, 4, false}}},
		{"a widow where nothing else is possible", paragraphs(3), Options{Rows: 2},
			[]Page{{0, 2, 2, 2, true}, {2, 3, 1, 2, false}}},
	} {
		got, err := Break(c.items, c.opt)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if len(got) != len(c.want) {
			t.Errorf("%s: got %v, want %v", c.name, got, c.want)
			continue
		}
		for i := range got {
			if got[i] != c.want[i] {
				t.Errorf("%s: page %d is %v, want %v", c.name, i, got[i], c.want[i])
			}
		}
	}
}

func TestTooTall(t *testing.T) {
	_, err := Break([]Item{{Rows: 1}, {Rows: 9}}, Options{Rows: 8})
	var tall *ErrTooTall
	if !errors.As(err, &tall) || tall.Item != 1 {
		t.Errorf("got %v", err)
	}
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
	least := int64(-1)
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
			if off := int64(depth - opt.Rows); facing == 0 && off < 0 {
				cost += offDepth * off * off
			} else if facing == 0 {
				cost += longDepth * off * off
			}
			if rest < len(items) {
				dear := int64(0)
				for _, it := range items[end-1 : rest] {
					dear = max(dear, it.Cost)
				}
				cost += dear + uneven*int64(depth-rows)*int64(depth-rows)
			} else if i > 0 && rows < opt.LeastLast {
				cost += shortLast
			}
			next := 0
			if !recto {
				next = depth
			}
			cost += exhaustive(items, opt, rest, !recto, next)
			if least < 0 || cost < least {
				least = cost
			}
		}
	}
	return least
}

// cost reckons what pages cost from the definition, and checks that they hold
// every item once.
func cost(t *rapid.T, items []Item, opt Options, all []Page) int64 {
	sum, at, recto, facing := int64(0), 0, !opt.Verso, 0
	for k, p := range all {
		for ; at < p.From; at++ {
			if !items[at].Space {
				t.Fatalf("item %d is on no page", at)
			}
		}
		at = p.To
		if off := int64(p.Depth - opt.Rows); facing == 0 && off < 0 {
			sum += offDepth * off * off
		} else if facing == 0 {
			sum += longDepth * off * off
		} else if p.Depth != facing {
			t.Fatalf("page %d is %d deep beside one of %d", k, p.Depth, facing)
		}
		rows := 0
		for _, it := range items[p.From:p.To] {
			rows += it.Rows
		}
		if rows != p.Rows || rows > p.Depth {
			t.Fatalf("page %d has %d rows, says %d of %d", k, rows, p.Rows, p.Depth)
		}
		if k < len(all)-1 {
			dear := int64(0)
			for _, it := range items[p.To-1 : all[k+1].From] {
				dear = max(dear, it.Cost)
			}
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
	for ; at < len(items); at++ {
		if !items[at].Space {
			t.Fatalf("item %d is on no page", at)
		}
	}
	return sum
}

func TestEqualsExhaustiveSearch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var items []Item
		for range rapid.IntRange(1, 14).Draw(t, "items") {
			it := Item{Rows: rapid.SampledFrom([]int{1, 1, 1, 1, 2}).Draw(t, "rows")}
			it.Space = rapid.IntRange(0, 5).Draw(t, "space") == 0
			it.Cost = rapid.SampledFrom([]int64{0, 0, 0, 50, Forbid}).Draw(t, "cost")
			items = append(items, it)
		}
		opt := Options{
			Rows:      rapid.IntRange(3, 5).Draw(t, "page"),
			Verso:     rapid.Bool().Draw(t, "verso"),
			Short:     rapid.IntRange(0, 1).Draw(t, "short"),
			Long:      rapid.IntRange(0, 1).Draw(t, "long"),
			LeastLast: rapid.IntRange(0, 3).Draw(t, "least last"),
		}
		all, err := Break(items, opt)
		if err != nil {
			t.Fatal(err)
		}
		first := 0
		for first < len(items) && items[first].Space {
			first++
		}
		// A leading space does not make the first page any less the first.
		want := exhaustive(items[first:], opt, 0, !opt.Verso, 0)
		if got := cost(t, items, opt, all); got != want {
			t.Fatalf("pages %v cost %d, exhaustive search finds %d", all, got, want)
		}
	})
}
