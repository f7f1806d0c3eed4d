package typeset

import (
	"fmt"
	"testing"

	"bodkin/typeset/length"

	"pgregory.net/rapid"
)

func backSteps(t testing.TB, steps ...any) []BackStep {
	t.Helper()
	var made []BackStep
	for i := 0; i < len(steps); i += 2 {
		v, err := length.Parse(steps[i+1].(string))
		if err != nil {
			t.Fatal(err)
		}
		made = append(made, BackStep{To: steps[i].(int), Margin: v})
	}
	return made
}

// The back margin that "auto" finds is that of the number of pages it makes.
func TestBackMarginSettles(t *testing.T) {
	inch := length.Inch
	shrinking := &Press{Back: backSteps(t, 150, "1in", 800, "0.5in")} // no printer has such steps; they never agree
	for _, c := range []struct {
		name      string
		press     *Press
		guess     int
		pages     map[length.Length]int // that a margin makes
		back      length.Length
		unsettled bool
	}{
		{"at once", nil, 200, map[length.Length]int{inch * 5 / 8: 220}, inch * 5 / 8, false},
		{"after a guess too low", nil, 100, map[length.Length]int{inch / 2: 330, inch * 3 / 4: 360}, inch * 3 / 4, false},
		{"after a guess too high", nil, 900, map[length.Length]int{inch: 420, inch * 3 / 4: 400}, inch * 3 / 4, false},
		{"the smaller of two", nil, 170, map[length.Length]int{inch * 5 / 8: 164, inch / 2: 160}, inch / 2, false},
		{"not the smaller where it does not agree", nil, 170, map[length.Length]int{inch * 5 / 8: 166, inch / 2: 162}, inch * 5 / 8, false},
		{"the larger where none agrees", nil, 150, map[length.Length]int{inch / 2: 162, inch * 5 / 8: 158, inch * 3 / 4: 150, inch * 7 / 8: 150, inch: 150}, inch * 5 / 8, true},
		{"a third where two lead to each other", nil, 150, map[length.Length]int{inch / 2: 162, inch * 5 / 8: 158, inch * 3 / 4: 330}, inch * 3 / 4, false},
		{"the printer's steps", &Press{Back: backSteps(t, 100, "10mm", 400, "15mm")}, 80,
			map[length.Length]int{mm(10): 98}, mm(10), false},
		{"the last of the printer's steps for all that is thicker", &Press{Back: backSteps(t, 100, "10mm", 400, "15mm")}, 480,
			map[length.Length]int{mm(15): 480}, mm(15), false},
		{"steps that shrink go round for ever", shrinking, 100, map[length.Length]int{inch: 170, inch / 2: 140}, inch, true},
	} {
		s := Default()
		s.Press = c.press
		l, err := s.settle(c.guess, func(back length.Length) (*Layout, error) {
			n, found := c.pages[back]
			if !found {
				return nil, fmt.Errorf("a margin of %v is tried", back)
			}
			return &Layout{Back: back, Pages: make([]Page, n)}, nil
		})
		if err != nil || l.Back != c.back || l.Unsettled != c.unsettled {
			if l == nil {
				l = new(Layout)
			}
			t.Errorf("%s: %v, unsettled %v (%v)", c.name, l.Back, l.Unsettled, err)
		}
	}
}

func mm(n int64) length.Length { return length.Inch.Scale(n*10, 254) }

// Whatever the steps and the pages that they make, the answer does not depend
// on the guess, and a margin that is not marked is that of its own pages.
func TestFixedPointIsStable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := Default()
		press := &Press{}
		to, margin := 0, mm(8)
		for range rapid.IntRange(1, 6).Draw(t, "steps") {
			to += rapid.IntRange(2, 150).Draw(t, "to")
			margin += mm(1) * length.Length(rapid.IntRange(1, 4).Draw(t, "margin"))
			press.Back = append(press.Back, BackStep{to, length.Value{Length: margin, Unit: length.Mm}})
		}
		s.Press = press
		// The narrower the measure, the more pages; a few of them turn either way.
		area := rapid.IntRange(100, 60_000).Draw(t, "area")
		noise := rapid.SliceOfN(rapid.IntRange(0, 2), len(press.Back), len(press.Back)).Draw(t, "noise")
		room := s.Trim.Size().Width - s.Margins.ForeEdge.Length
		lay := func(back length.Length) (*Layout, error) {
			n := area / int((room-back)/length.Point)
			for i, b := range press.Back {
				if b.Margin.Length == back {
					n += noise[i]
				}
			}
			return &Layout{Back: back, Pages: make([]Page, press.fill(n+1))}, nil
		}
		first, err := s.settle(0, lay)
		if err != nil {
			t.Fatal(err)
		}
		for _, guess := range []int{len(first.Pages), to, 2 * to, rapid.IntRange(0, to).Draw(t, "guess")} {
			again, err := s.settle(guess, lay)
			if err != nil {
				t.Fatal(err)
			}
			if again.Unsettled != first.Unsettled || !first.Unsettled && again.Back != first.Back {
				t.Fatalf("a guess of %d gives %v (%d pages, unsettled %v), one of 0 %v (%d pages, unsettled %v)",
					guess, again.Back, len(again.Pages), again.Unsettled, first.Back, len(first.Pages), first.Unsettled)
			}
		}
		if !first.Unsettled && press.Back[step(press.Back, len(first.Pages))].Margin.Length != first.Back {
			t.Fatalf("%d pages have a margin of %v", len(first.Pages), first.Back)
		}
	})
}

// A real book at a boundary: whatever the boundary, setting it again gives the
// same pages, and the margin is that which the printer's steps have for them.
func TestBookAtABoundarySettles(t *testing.T) {
	c := NewComposer(demo(t), Resources{})
	s := Default()
	thin := compose(t, c, s)
	n := len(thin.Pages)
	differ := make(map[length.Length]bool)
	for to := n - 2; to <= n+12; to += 2 {
		s.Press = &Press{Back: backSteps(t, to, "0.5in", 800, "0.9in")}
		l := compose(t, c, s)
		if want := s.Press.Back[step(s.Press.Back, len(l.Pages))].Margin.Length; l.Back != want && !l.Unsettled {
			t.Errorf("boundary %d: %d pages with a margin of %v, and the printer wants %v", to, len(l.Pages), l.Back, want)
		}
		differ[l.Back] = true
		again := s
		again.Margins.Back = Auto{Value: length.Value{Length: l.Back, Unit: length.In}}
		if m := compose(t, c, again); len(m.Pages) != len(l.Pages) {
			t.Errorf("boundary %d: %d pages, and with the margin that was found %d", to, len(l.Pages), len(m.Pages))
		}
	}
	if len(differ) != 2 {
		t.Errorf("the boundaries should part the margins: %v", differ)
	}
}

// The printed count is a multiple of what the printer folds, filled with
// blanks at the end.
func TestPagesFillTheMultiple(t *testing.T) {
	c := NewComposer(demo(t), Resources{})
	s := Default()
	plain := compose(t, c, s)
	for _, multiple := range []int{0, 2, 3, 4, 16, 32} {
		s.Press = &Press{Multiple: multiple}
		l := compose(t, c, s)
		n, of := len(l.Pages), max(2, multiple)
		if n%of != 0 || n%2 != 0 || n < len(plain.Pages) || n >= len(plain.Pages)+2*of {
			t.Errorf("multiple of %d: %d pages; without it %d", multiple, n, len(plain.Pages))
		}
		for i := len(plain.Pages); i < n; i++ {
			if !l.Pages[i].Blank || l.Pages[i].Section != -1 {
				t.Errorf("multiple of %d: page %d is not blank", multiple, i+1)
			}
		}
		if l.Counts().Set != plain.Counts().Set {
			t.Errorf("multiple of %d: %d pages set, want %d", multiple, l.Counts().Set, plain.Counts().Set)
		}
	}
}
