package paragraph

import (
	"math"
	"testing"

	"bodkin/typeset/length"

	"pgregory.net/rapid"
)

// drawItems draws a short paragraph: words of one to three parts with hyphens,
// printed hyphens and hanging marks between them.
func drawItems(t *rapid.T) []Item {
	size := func(label string, low, high int64) length.Length {
		return length.Length(rapid.Int64Range(low, high).Draw(t, label))
	}
	var items []Item
	for word := range rapid.IntRange(1, 7).Draw(t, "words") {
		if word > 0 {
			glue := Item{Kind: Glue, Width: size("space", 4, 8), Stretch: size("stretch", 1, 6), Shrink: size("shrink", 0, 3)}
			glue.Ends, glue.Begins = rapid.Int32Range(0, 2).Draw(t, "ends"), rapid.Int32Range(0, 2).Draw(t, "begins")
			if rapid.IntRange(0, 3).Draw(t, "hangs") == 0 {
				glue.Before, glue.After = -size("hang", 0, 5), -size("hang", 0, 5)
			}
			items = append(items, glue)
		}
		for part := range rapid.IntRange(1, 3).Draw(t, "parts") {
			if part > 0 {
				items = append(items, Item{Kind: Penalty, Before: size("hyphen", 0, 5), After: size("kern", -2, 2),
					Cost: rapid.Int32Range(-60, 90).Draw(t, "cost"), Flagged: rapid.Bool().Draw(t, "flagged")})
			}
			items = append(items, Item{Kind: Box, Width: size("box", 5, 40), Stretch: size("box stretch", 0, 1), Shrink: size("box shrink", 0, 1)})
		}
	}
	return append(items, Item{Kind: Glue, Stretch: Fill}, Item{Kind: Penalty, Cost: -Forbid, Flagged: true})
}

// exhaustive tries every set of line ends and returns the least demerits for
// each number of lines, reckoned from the definition.
func exhaustive(items []Item, opt Options) map[int]int64 {
	best := map[int]int64{}
	var walk func(from int, after length.Length, lines, hyphens int, ends, begins int32, fit fitness, sum int64)
	walk = func(from int, after length.Length, lines, hyphens int, ends, begins int32, fit fitness, sum int64) {
		natural, stretch, shrink, filled := after, length.Length(0), length.Length(0), false
		for i := from; i < len(items); i++ {
			it := items[i]
			legal := it.Kind == Penalty && it.Cost < Forbid || it.Kind == Glue && i > from && items[i-1].Kind == Box
			if legal {
				measure := opt.Measures[min(lines, len(opt.Measures)-1)]
				short := measure - natural - it.Before
				if d, class, ok := demerits(short, stretch, shrink, filled, it, fit, opt); ok {
					if it.Ends != 0 && it.Ends == ends {
						d += 4096 * opt.Repeat
					}
					if it.Begins != 0 && it.Begins == begins {
						d += 4096 * opt.Repeat
					}
					row := 0
					if it.Flagged {
						row = 1
						if hyphens > 0 {
							d += 4096 * opt.HyphenRow
						}
						if opt.MostHyphen > 0 && it.Cost > -Forbid {
							row = hyphens + 1
						}
					}
					last := i == len(items)-1
					runt := last && lines > 0 && measure-short < opt.LeastLast
					switch {
					case opt.MostHyphen > 0 && row > opt.MostHyphen, runt:
					case it.Flagged && !last && lines+1 == opt.Whole:
					case last:
						if old, found := best[lines+1]; !found || sum+d < old {
							best[lines+1] = sum + d
						}
					default:
						next := i + 1
						for items[next].Kind != Box && items[next].Stretch != Fill && items[next].Cost > -Forbid {
							next++
						}
						if it.Kind == Glue || it.Kind == Penalty {
							walk(next, it.After, lines+1, row, it.Ends, it.Begins, class, sum+d)
						}
					}
				}
				if it.Cost <= -Forbid {
					return
				}
			}
			if it.Kind != Penalty {
				natural += it.Width
				shrink += it.Shrink
				if it.Stretch == Fill {
					filled = true
				} else {
					stretch += it.Stretch
				}
			}
		}
	}
	walk(0, 0, 0, 0, 0, opt.First, decent, 0)
	return best
}

func demerits(short, stretch, shrink length.Length, filled bool, it Item, before fitness, opt Options) (int64, fitness, bool) {
	r := int64(0)
	switch {
	case short > 0 && filled, short == 0:
	case short > 0:
		if stretch == 0 || int64(short)*1000 > int64(stretch)*int64(opt.Tolerance) {
			return 0, 0, false
		}
		r = int64(short) * 4096 / int64(stretch)
	default:
		if -short > shrink {
			return 0, 0, false
		}
		r = int64(short) * 4096 / int64(shrink)
	}
	class := decent
	switch {
	case r > 4096:
		class = veryLoose
	case r > 2048:
		class = loose
	case r < -2048:
		class = tight
	}
	cube := math.Abs(float64(r) * float64(r) * float64(r))
	d := 64 + int64(math.Floor(100*cube/(1<<30)+0.5))
	cost := int64(it.Cost)
	switch {
	case cost <= -Forbid:
		d *= d
	case cost < 0:
		d = d*d - 4096*cost*cost
	default:
		d = (d + 64*cost) * (d + 64*cost)
	}
	if class > before+1 || before > class+1 {
		d += 4096 * opt.Unlike
	}
	return d, class, true
}

func TestEqualsExhaustiveSearch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		items := drawItems(t)
		opt := Options{
			Tolerance:  rapid.IntRange(500, 4000).Draw(t, "tolerance"),
			HyphenRow:  rapid.Int64Range(0, 3000).Draw(t, "hyphen row"),
			Unlike:     rapid.Int64Range(0, 3000).Draw(t, "unlike"),
			MostHyphen: rapid.IntRange(0, 2).Draw(t, "most hyphens"),
			Repeat:     rapid.Int64Range(0, 3000).Draw(t, "repeat"),
			First:      rapid.Int32Range(0, 2).Draw(t, "first"),
			LeastLast:  length.Length(rapid.Int64Range(0, 30).Draw(t, "least last")),
			Whole:      rapid.IntRange(0, 3).Draw(t, "whole"),
		}
		for range rapid.IntRange(1, 3).Draw(t, "measures") {
			opt.Measures = append(opt.Measures, length.Length(rapid.Int64Range(50, 110).Draw(t, "measure")))
		}
		want := exhaustive(items, opt)
		if len(want) == 0 {
			t.Skip("no breaking keeps within the tolerance")
		}
		var b Breaker
		all, err := b.Breakings(items, opt)
		if err != nil {
			t.Fatal(err)
		}
		if len(all) != len(want) {
			t.Errorf("%d numbers of lines, exhaustive search finds %d", len(all), len(want))
		}
		least := int64(math.MaxInt64)
		for _, one := range all {
			if one.Demerits != want[len(one.Lines)] {
				t.Errorf("%d lines: %d demerits, exhaustive search finds %d", len(one.Lines), one.Demerits, want[len(one.Lines)])
			}
			least = min(least, want[len(one.Lines)])
		}
		if best, err := b.Break(items, opt); err != nil || best.Demerits != least {
			t.Errorf("%d demerits (%v), exhaustive search finds %d", best.Demerits, err, least)
		}
	})
}

// Whatever the items, no line is wider than the measure, and every box is on
// exactly one line.
func TestLinesKeepTheMeasure(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		items := drawItems(t)
		measure := length.Length(rapid.Int64Range(10, 110).Draw(t, "measure"))
		var b Breaker
		got, err := b.Break(items, Options{Measures: []length.Length{measure}, MostHyphen: 2, LeastLast: 20})
		if err != nil {
			if _, wide := err.(*ErrTooWide); !wide {
				t.Fatal(err)
			}
			return
		}
		boxes := 0
		for i, l := range got.Lines {
			width := items[l.To].Before
			if i > 0 {
				width += items[got.Lines[i-1].To].After
			}
			var stretch, shrink length.Length
			for j := l.From; j < l.To; j++ {
				switch items[j].Kind {
				case Box:
					boxes++
					width += items[j].Width
					stretch += items[j].Stretch
					shrink += items[j].Shrink
				case Glue:
					width += items[j].Width
					shrink += items[j].Shrink
					if items[j].Stretch != Fill {
						stretch += items[j].Stretch
					}
				}
			}
			if width-shrink > measure {
				t.Errorf("line %d is at least %d wide, measure %d", i, width-shrink, measure)
			}
			if l.Short != measure-width {
				t.Errorf("line %d: short %d, reckoned %d", i, l.Short, measure-width)
			}
			if l.Short < 0 && l.Flex != shrink || l.Short >= 0 && l.Flex != stretch {
				t.Errorf("line %d: flex %d, reckoned %d and %d", i, l.Flex, stretch, shrink)
			}
		}
		for _, it := range items {
			if it.Kind == Box {
				boxes--
			}
		}
		if boxes != 0 {
			t.Errorf("%d boxes too many or too few", boxes)
		}
	})
}
