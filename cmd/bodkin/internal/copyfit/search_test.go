package copyfit

import (
	"cmp"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"bodkin/cmd/bodkin/internal/bookfile"
	"bodkin/markup"
	"bodkin/markup/markuptest"
	"bodkin/typeset"
	"bodkin/typeset/length"

	gocmp "github.com/google/go-cmp/cmp"
)

// demo is the demonstration book; piece is a novel's first chapters.
func demo(t testing.TB) (*typeset.Composer, typeset.Setting) {
	file, err := bookfile.Load("../../../../testdata/tide-clerk")
	if err != nil {
		t.Fatal(err)
	}
	return composer(t, file.Source), file.House
}

func piece(t testing.TB) (*typeset.Composer, typeset.Setting) {
	novel := markuptest.TomSawyer(t)
	text, err := os.ReadFile(novel.Path)
	if err != nil {
		t.Fatal(err)
	}
	chapters := strings.SplitN(string(text), "\n# ", 6)
	if err := os.WriteFile(filepath.Join(novel.Source.Dir, "piece.md"), []byte(strings.Join(chapters[:5], "\n# ")), 0o666); err != nil {
		t.Fatal(err)
	}
	novel.Source.Body = []string{"piece.md"}
	return composer(t, novel.Source), typeset.Default()
}

func composer(t testing.TB, src markup.Source) *typeset.Composer {
	book, err := markup.Load(context.Background(), src)
	if err != nil {
		t.Fatal(err)
	}
	return typeset.NewComposer(book, typeset.Resources{})
}

// points is a length of so many quarter points.
func quarters(n int) length.Value { return length.Value{Length: length.Length(n) * quarter} }

// narrow are limits that leave a space small enough to set whole.
func narrow() Limits {
	return Limits{LeastSize: quarters(42), MostSize: quarters(45), LeastLeading: leadingOf("120%"), MostLeading: leadingOf("132%"),
		MostMargin: length.Value{Length: length.Inch * 3 / 4}}
}

func leadingOf(s string) *typeset.Leading {
	l := new(typeset.Leading)
	if err := l.UnmarshalText([]byte(s)); err != nil {
		panic(err)
	}
	return l
}

// between is a target of any pages from least to most.
func between(least, most int) Target {
	return Target{Least: least, Most: most, Want: 3, Meets: func(_ typeset.Trim, n int) (bool, int) {
		return n >= least && n <= most, max(least-n, n-most, 0)
	}}
}

// below is a target of n pages, or a few fewer.
func below(n int) Target {
	t := between(n-4, n)
	meets := t.Meets
	t.Meets = func(trim typeset.Trim, pages int) (bool, int) {
		is, miss := meets(trim, pages)
		if is {
			miss = n - pages
		}
		return is, miss
	}
	return t
}

// The answer is that of setting everything in the space and looking through
// it, as the castoff alone reports it: the same settings, in the same order,
// with the same pages.
func TestExhaustive(t *testing.T) {
	charge := func(pages int) int { return 85 + 12*pages/10 + 40*(pages/120) } // cents, an invented printer with a step
	for name, book := range map[string]func(testing.TB) (*typeset.Composer, typeset.Setting){"demo": demo, "piece": piece} {
		t.Run(name, func(t *testing.T) {
			c, s := book(t)
			own, err := c.Compose(context.Background(), s)
			if err != nil {
				t.Fatal(err)
			}
			n := len(own.Pages)
			multiple := between(n/16*16, n/16*16)
			costs := between(n*2/3, n)
			costs.Meets = func(_ typeset.Trim, pages int) (bool, int) { return charge(pages) <= charge(n-6), 0 }
			stopped, known := false, make(map[typeset.Setting]castoff)
			for name, target := range map[string]Target{
				"fewer": below(n * 93 / 100 / 2 * 2), "more": below(n * 108 / 100 / 2 * 2), "as it is": below(n),
				"range": between(n*9/10, n*95/100), "multiple": multiple, "charge": costs,
			} {
				sp, err := NewSpace(context.Background(), c, own, narrow(), target)
				if err != nil {
					t.Fatal(err)
				}
				set := 0
				got, err := sp.Search(context.Background(), c, target, func() { set++ })
				if err != nil {
					t.Fatal(err)
				}
				want := everything(t, c, sp, target, known)
				if diff := gocmp.Diff(describe(bestOf(want, target.Want)), describe(got.Best)); diff != "" {
					t.Errorf("%s: of %d settings, %d set: best (-exhaustive +search)\n%s", name, len(sp.Candidates), set, diff)
				}
				if len(got.Best) == 0 && got.Nearest == nil {
					t.Errorf("%s: neither a hit nor the nearest", name)
				}
				stopped = stopped || set < len(sp.Candidates)
				checkFrontier(t, name, sp, want, got, target)
			}
			if !stopped {
				t.Error("every search set the whole space: the bound is never tried")
			}
		})
	}
}

// castoff is what a setting came to, by itself.
type castoff struct {
	pages     int
	block     typeset.Block
	unsettled bool
}

// everything sets a whole space, one setting as good as another. What was
// known before is kept.
func everything(t *testing.T, c *typeset.Composer, sp *Space, target Target, known map[typeset.Setting]castoff) []Set {
	var settings []typeset.Setting
	for i := range sp.Candidates {
		if _, found := known[sp.Candidates[i].Setting]; !found {
			settings = append(settings, sp.Candidates[i].Setting)
		}
	}
	var mu sync.Mutex
	err := c.Castoff(context.Background(), settings, func(i int, l *typeset.Layout, err error) error {
		mu.Lock()
		defer mu.Unlock()
		if err == nil {
			known[settings[i]] = castoff{l.Counts().Pages, l.Block, l.Unsettled}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	var all []Set
	for i := range sp.Candidates {
		c := &sp.Candidates[i]
		k, found := known[c.Setting]
		look := c.letters.look(&c.Setting, k.block, c.Steps)
		if least, most := sp.line(); !found || k.unsettled || look.Characters < least || look.Characters > most {
			continue
		}
		s := Set{Setting: c.Setting, Pages: k.pages, Score: Rate(look), candidate: i}
		s.Meets, s.Miss = target.Meets(c.Setting.Trim, s.Pages)
		s.Meets = s.Meets && s.Pages >= target.Least && s.Pages <= target.Most
		all = append(all, s)
	}
	return all
}

// bestOf looks for the best hits, one of each size, by trying each again and
// again.
func bestOf(all []Set, want int) []Set {
	var found []Set
	for len(found) < want {
		at := -1
		for i, s := range all {
			had := slices.ContainsFunc(found, func(f Set) bool { return f.Setting.Size.Length == s.Setting.Size.Length })
			if !s.Meets || had {
				continue
			}
			if at < 0 || s.rank() > all[at].rank() || s.rank() == all[at].rank() && s.candidate < all[at].candidate {
				at = i
			}
		}
		if at < 0 {
			break
		}
		found = append(found, all[at])
	}
	return found
}

func describe(all []Set) []string {
	var lines []string
	for _, s := range all {
		m := s.Setting.Margins
		lines = append(lines, fmt.Sprintf("%d pages, %d: %v on %v, %v %v %v, %v", s.Pages, s.Score.Total, s.Setting.Size, s.Setting.Leading, m.ForeEdge, m.Head, m.Foot, s.Setting.Pages))
	}
	return lines
}

// checkFrontier compares a frontier with what everything that was set says:
// for each number of pages that matters, whether the best at it is beaten.
func checkFrontier(t *testing.T, name string, sp *Space, all []Set, got *Result, target Target) {
	t.Helper()
	top := make(map[int]int) // best score by pages
	for _, s := range all {
		if s.Pages >= sp.least && s.Pages <= sp.most {
			top[s.Pages] = max(top[s.Pages], s.Score.Total)
		}
	}
	fewer, more := target.Least < sp.pages, target.Most > sp.pages
	want := make(map[int]int)
	for pages, score := range top {
		beatenFewer, beatenMore := false, false
		for other, s := range top {
			beatenFewer = beatenFewer || other < pages && s >= score
			beatenMore = beatenMore || other > pages && s >= score
		}
		if score >= got.Down && (fewer && !beatenFewer || more && !beatenMore) {
			want[pages] = score
		}
	}
	have := make(map[int]int)
	for i, s := range got.Frontier {
		have[s.Pages] = s.Score.Total
		if i > 0 && s.Score.Total > got.Frontier[i-1].Score.Total {
			t.Errorf("%s: the frontier is not best first", name)
		}
	}
	if diff := gocmp.Diff(want, have); (fewer || more) && diff != "" {
		t.Errorf("%s: frontier (-exhaustive +search)\n%s", name, diff)
	}
}

// What the space leaves out, because something that holds as many lines reads
// better, makes the same pages: nothing in the whole grid is a better hit.
func TestGridLeavesNothingBetter(t *testing.T) {
	c, s := demo(t)
	s.Pages = typeset.FewestPages
	own, err := c.Compose(context.Background(), s)
	if err != nil {
		t.Fatal(err)
	}
	target := below(len(own.Pages) * 93 / 100 / 2 * 2)
	limits := narrow()
	limits.LeastSize, limits.MostSize = quarters(42), quarters(43)
	sp, err := NewSpace(context.Background(), c, own, limits, target)
	if err != nil {
		t.Fatal(err)
	}
	got, err := sp.Search(context.Background(), c, target, func() {})
	if err != nil || len(got.Best) == 0 {
		t.Fatal(err, got)
	}
	// the grid again, without leaving anything out
	grid := *sp
	grid.Candidates = nil
	f, err := measure(own)
	if err != nil {
		t.Fatal(err)
	}
	for _, size := range []length.Value{quarters(42), quarters(43)} {
		for leading := size.Length.Scale(1200, 1000); leading <= size.Length.Scale(1320, 1000); leading++ {
			if leading%quarter != 0 {
				continue
			}
			for fore := length.Inch / 2; fore <= length.Inch*3/4; fore += length.Inch / 16 {
				for head := length.Inch / 2; head <= length.Inch*3/4; head += length.Inch / 16 {
					one := s
					one.Size, one.Leading = size, typeset.Leading{Value: length.Value{Length: leading}}
					in := func(l length.Length) length.Value { return length.Value{Length: l, Unit: length.In} }
					one.Margins.ForeEdge, one.Margins.Head, one.Margins.Foot = in(fore), in(head), in(head)
					grid.Candidates = append(grid.Candidates, Candidate{Setting: one, Steps: sp.away(&one, f), letters: f})
				}
			}
		}
	}
	want := bestOf(everything(t, c, &grid, target, make(map[typeset.Setting]castoff)), target.Want)
	for i := range want {
		if i < len(got.Best) && want[i].rank() > got.Best[i].rank() {
			t.Errorf("hit %d: the grid of %d has %v, the space of %d %v", i+1, len(grid.Candidates), describe(want[i:i+1]), len(sp.Candidates), describe(got.Best[i:i+1]))
		}
	}
	if len(want) != len(got.Best) || len(sp.Candidates) >= len(grid.Candidates)/2 {
		t.Errorf("%d hits for %d; a space of %d for a grid of %d", len(got.Best), len(want), len(sp.Candidates), len(grid.Candidates))
	}
}

// The characters that are known before a setting is set are those that it has,
// as the castoff counts them, whatever its face, size and measure.
func TestCharacters(t *testing.T) {
	c, s := piece(t)
	for _, face := range []string{"EB Garamond", "Libre Baskerville"} {
		s.Face = face
		own, err := c.Compose(context.Background(), s)
		if err != nil {
			t.Fatal(err)
		}
		f, err := measure(own)
		if err != nil {
			t.Fatal(err)
		}
		for _, n := range []int{36, 40, 48} {
			one := s
			one.Size = quarters(n)
			one.Margins.ForeEdge.Length += length.Length(n-36) * length.Point
			l, err := c.Compose(context.Background(), one)
			if err != nil {
				t.Fatal(err)
			}
			if got, want := (f.look(&one, l.Block, Steps{}).Characters+5)/10, l.Counts().Characters; got < want-1 || got > want+1 {
				t.Errorf("%s %v: %d characters a line are foreseen, and %d are there", face, one.Size, got, want)
			}
		}
	}
}

// A target that nothing meets names the nearest, and the limits that hold it.
func TestOutOfReach(t *testing.T) {
	c, s := demo(t)
	own, err := c.Compose(context.Background(), s)
	if err != nil {
		t.Fatal(err)
	}
	for _, far := range []struct {
		target Target
		more   bool
		want   []string
	}{
		{between(10, 20), false, []string{"--least-size 10.5pt", "--least-leading 125%", "--least-margin 0.5in"}},
		{between(900, 1000), true, []string{"--most-size 11pt", "--most-leading 13.75pt", "--most-margin 0.875in"}},
	} {
		limits := narrow()
		limits.LeastSize, limits.MostSize = quarters(42), quarters(44)
		limits.LeastLeading, limits.MostLeading = leadingOf("125%"), leadingOf("13.75pt")
		limits.MostMargin = length.Value{Length: length.Inch * 7 / 8, Unit: length.In}
		sp, err := NewSpace(context.Background(), c, own, limits, far.target)
		if err != nil {
			t.Fatal(err)
		}
		got, err := sp.Search(context.Background(), c, far.target, func() {})
		if err != nil {
			t.Fatal(err)
		}
		if len(got.Best) != 0 || got.Nearest == nil || len(got.All) != len(sp.Candidates) {
			t.Fatalf("%d hits, %d of %d set", len(got.Best), len(got.All), len(sp.Candidates))
		}
		pages := slices.SortedFunc(slices.Values(got.All), func(a, b Set) int { return cmp.Compare(a.Pages, b.Pages) })
		end := pages[0]
		if far.more {
			end = pages[len(pages)-1]
		}
		if got.Nearest.Pages != end.Pages {
			t.Errorf("the nearest has %d pages, and %d were there", got.Nearest.Pages, end.Pages)
		}
		if names := sp.Binding(*got.Nearest, far.more); len(names) == 0 {
			t.Errorf("no limit binds %v", describe([]Set{*got.Nearest}))
		} else {
			for _, name := range names {
				if !slices.Contains(far.want, name) {
					t.Errorf("%s binds %v", name, describe([]Set{*got.Nearest}))
				}
			}
		}
	}
}

// Limits that leave nothing say so.
func TestLimitsThatLeaveNothing(t *testing.T) {
	c, s := piece(t)
	own, err := c.Compose(context.Background(), s)
	if err != nil {
		t.Fatal(err)
	}
	for want, limits := range map[string]Limits{
		"no size is within":         {LeastSize: quarters(48), MostSize: quarters(40)},
		"none is within":            {LeastLeading: leadingOf("140%"), MostLeading: leadingOf("120%")},
		"no setting keeps to these": {LeastCharacters: 120, MostCharacters: 140},
	} {
		if _, err := NewSpace(context.Background(), c, own, limits, below(100)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %q", err, want)
		}
	}
}

// A search that is called off ends with the cause.
func TestCalledOff(t *testing.T) {
	c, s := piece(t)
	own, err := c.Compose(context.Background(), s)
	if err != nil {
		t.Fatal(err)
	}
	target := below(len(own.Pages) - 10)
	sp, err := NewSpace(context.Background(), c, own, narrow(), target)
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	if _, err := sp.Search(ctx, c, target, cancel); err == nil {
		t.Error("a search that was called off went on")
	}
}

// Lengths that are written into a book.toml are those a person would write.
func TestWhole(t *testing.T) {
	c, s := piece(t)
	trim, err := typeset.ParseTrim("129x198mm")
	if err != nil {
		t.Fatal(err)
	}
	mm := func(n int64) length.Value { return length.Value{Length: length.Inch.Scale(5*n, 127), Unit: length.Mm} }
	s.Trim, s.Margins = trim, typeset.Margins{Back: s.Margins.Back, ForeEdge: mm(13), Head: mm(19), Foot: mm(18)}
	own, err := c.Compose(context.Background(), s)
	if err != nil {
		t.Fatal(err)
	}
	limits := narrow()
	limits.MostMargin = length.Value{}
	sp, err := NewSpace(context.Background(), c, own, limits, below(len(own.Pages)-6))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range sp.Candidates {
		m := c.Setting.Margins
		for _, v := range []length.Value{m.ForeEdge, m.Head, m.Foot} {
			if strings.Contains(v.String(), ".") {
				t.Fatalf("a margin of %v", v)
			}
		}
		if got := c.Steps.HeadFoot; m.Head.Length == mm(19).Length && got != 0 || m.Head == mm(17) && got != 2 {
			t.Fatalf("head %v is %d steps away from 19mm", m.Head, got)
		}
	}
}

// BenchmarkSearch is the search for a novel of 242 pages on 220: "hit" ends as
// soon as it is sure, "whole" sets the space.
func BenchmarkSearch(b *testing.B) {
	book, err := markup.Load(context.Background(), markuptest.TomSawyer(b).Source)
	if err != nil {
		b.Fatal(err)
	}
	for name, whole := range map[string]bool{"hit": false, "whole": true} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				c := typeset.NewComposer(book, typeset.Resources{})
				own, err := c.Compose(context.Background(), typeset.Default())
				if err != nil {
					b.Fatal(err)
				}
				target := below(220)
				target.Whole = whole
				sp, err := NewSpace(context.Background(), c, own, Limits{}, target)
				if err != nil {
					b.Fatal(err)
				}
				r, err := sp.Search(context.Background(), c, target, func() {})
				if err != nil || len(r.Best) == 0 {
					b.Fatal(err)
				}
				b.ReportMetric(float64(len(r.All)), "settings")
			}
		})
	}
}
