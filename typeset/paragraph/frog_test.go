package paragraph

import (
	"fmt"
	"strings"
	"testing"

	"bodkin/typeset/length"
)

// The paragraph of D. E. Knuth and M. F. Plass, "Breaking Paragraphs into
// Lines", Software: Practice and Experience 11 (1981), with its widths in
// eighteenths of an em.
const frog = `In olden times when wish-ing still helped one, there lived a king whose daugh-ters were all ` +
	`beau-ti-ful; and the young-est was so beau-ti-ful that the sun it-self, which has seen so much, was ` +
	`aston-ished when-ever it shone in her face. Close by the king's castle lay a great dark for-est, and ` +
	`un-der an old lime=tree in the for-est was a well, and when the day was very warm, the king's child went ` +
	`out into the for-est and sat down by the side of the cool foun-tain; and when she was bored she took a ` +
	`golden ball, and threw it up on high and caught it; and this ball was her favor-ite play-thing.`

func frogWidth(r rune) length.Length {
	switch r {
	case 'C':
		return 13
	case 'I', '-':
		return 6
	case ',', ';', '.', '\'':
		return 5
	}
	return [...]length.Length{9, 10, 8, 10, 8, 6, 9, 10, 5, 6, 10, 5, 15, 10, 9, 10, 10, 7, 7, 7, 10, 9, 13, 10, 10, 8}[r-'a']
}

func frogItems() []Item {
	items := []Item{{Kind: Box, Width: 18}}
	words := strings.Fields(frog)
	for i, word := range words {
		if i > 0 {
			space := Item{Kind: Glue, Width: 6, Stretch: 3, Shrink: 2}
			switch before := words[i-1]; before[len(before)-1] {
			case ',':
				space.Stretch = 4
			case ';':
				space.Stretch, space.Shrink = 4, 1
			case '.':
				space = Item{Kind: Glue, Width: 8, Stretch: 6, Shrink: 1}
			}
			items = append(items, space)
		}
		var box length.Length
		for _, r := range word {
			switch r {
			case '-':
				items = append(items, Item{Kind: Box, Width: box},
					Item{Kind: Penalty, Cost: 50, Flagged: true, Before: 6})
				box = 0
			case '=': // the printed hyphen of lime-tree
				items = append(items, Item{Kind: Box, Width: box + 6}, Item{Kind: Penalty, Cost: 50, Flagged: true})
				box = 0
			default:
				box += frogWidth(r)
			}
		}
		items = append(items, Item{Kind: Box, Width: box})
	}
	return append(items, Item{Kind: Glue, Stretch: Fill}, Item{Kind: Penalty, Cost: -Forbid, Flagged: true})
}

func ratios(lines []Line) string {
	var out []string
	for _, l := range lines {
		s := strings.Replace(fmt.Sprintf("%.3f", l.Ratio()), "0.", ".", 1)
		s = strings.Replace(s, "-.000", ".000", 1)
		out = append(out, s)
	}
	return strings.Join(out, " ")
}

// The ratios are those of the paper; they stand in it beside the lines of its
// figures for these widths.
func TestPublishedParagraph(t *testing.T) {
	for _, c := range []struct {
		width length.Length
		want  string
	}{
		{390, ".857 .000 .280 1.000 .067 -.278 .536 -.167 .700 -.176 .357 .000"},
		{500, ".774 .179 .629 .545 .000 .079 .282 .294 .575 .000"},
	} {
		for _, unlike := range []int64{100, 3000} {
			var b Breaker
			got, err := b.Break(frogItems(), Options{Measures: []length.Length{c.width}, HyphenRow: 3000, Unlike: unlike})
			if err != nil {
				t.Fatal(err)
			}
			if r := ratios(got.Lines); r != c.want {
				t.Errorf("width %d, charge %d:\n got %s\nwant %s", c.width, unlike, r, c.want)
			}
		}
	}
}

// Breakings begins with the optimum of Break, and each answer has its own
// number of lines.
func TestBreakingsBeginWithTheOptimum(t *testing.T) {
	var b Breaker
	opt := Options{Measures: []length.Length{390}, Tolerance: 3000, HyphenRow: 3000, Unlike: 3000}
	all, err := b.Breakings(frogItems(), opt)
	if err != nil {
		t.Fatal(err)
	}
	best, err := b.Break(frogItems(), opt)
	if err != nil {
		t.Fatal(err)
	}
	if len(all) < 2 || all[0].Demerits != best.Demerits {
		t.Errorf("%d answers, the first of %d demerits, the optimum has %d", len(all), all[0].Demerits, best.Demerits)
	}
	seen := map[int]bool{}
	for _, one := range all {
		if seen[len(one.Lines)] || one.Demerits < best.Demerits {
			t.Errorf("an answer of %d lines and %d demerits", len(one.Lines), one.Demerits)
		}
		seen[len(one.Lines)] = true
	}
}
