package paragraph

import (
	"math/rand/v2"
	"testing"

	"bodkin/typeset/length"

	"github.com/google/go-cmp/cmp"
)

// The paragraph of 1981 again and again, each time ended by a forced break:
// however long that makes it, the lines stay those of the paper, and the nodes
// kept do not grow with its length.
func TestLongParagraph(t *testing.T) {
	const times = 800
	one := frogItems()
	var items []Item
	for range times {
		items = append(items, one...)
	}
	const want = ".857 .000 .280 1.000 .067 -.278 .536 -.167 .700 -.176 .357 .000"
	const lines = 12
	opt := Options{Measures: []length.Length{390}, Tolerance: 2000, HyphenRow: 3000, Unlike: 3000}
	var b Breaker
	all, err := b.Breakings(items, opt)
	if err != nil {
		t.Fatal(err)
	}
	if n := len(all); n < 3 || n > 2*apart+1 {
		t.Errorf("%d numbers of lines", n)
	}
	if n := len(all[0].Lines); n != lines*times {
		t.Fatalf("%d lines, want %d", n, lines*times)
	}
	for i := range times {
		if r := ratios(all[0].Lines[i*lines : (i+1)*lines]); r != want {
			t.Fatalf("paragraph %d:\n got %s\nwant %s", i, r, want)
		}
	}
	if most := 4 * roomy; cap(b.nodes) > most {
		t.Errorf("room for %d nodes, want %d at most", cap(b.nodes), most)
	}
	best, err := b.Break(items, opt)
	if err != nil || best.Demerits != all[0].Demerits {
		t.Errorf("%d demerits alone (%v), %d among others", best.Demerits, err, all[0].Demerits)
	}
}

// To drop the nodes that lead nowhere changes nothing.
func TestSweepKeepsTheBreakings(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 1981))
	var items []Item
	for range 400 {
		items = append(items,
			Item{Kind: Box, Width: length.Length(10 + random.IntN(40))},
			Item{Kind: Penalty, Cost: 50, Flagged: true, Before: 6},
			Item{Kind: Box, Width: length.Length(10 + random.IntN(40))},
			Item{Kind: Glue, Width: 10, Stretch: 8, Shrink: 3})
	}
	items[len(items)-1] = Item{Kind: Glue, Stretch: Fill}
	items = append(items, Item{Kind: Penalty, Cost: -Forbid, Flagged: true})
	opt := Options{Measures: []length.Length{390}, Tolerance: 3000, HyphenRow: 3000, Unlike: 3000, MostHyphen: 2}
	var plain, swept Breaker
	want, err := plain.Breakings(items, opt)
	if err != nil {
		t.Fatal(err)
	}
	if len(want) < 3 {
		t.Fatalf("%d numbers of lines", len(want))
	}
	swept.room = 50
	got, err := swept.Breakings(items, opt)
	if err != nil {
		t.Fatal(err)
	}
	if len(swept.nodes) >= len(plain.nodes) {
		t.Errorf("%d nodes kept of %d", len(swept.nodes), len(plain.nodes))
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}
