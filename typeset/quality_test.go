package typeset

import (
	"encoding/json"
	"math"
	"testing"

	"bodkin/markup/markuptest"
	"bodkin/typeset/length"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// The names that scripts and comparisons rely on.
func TestQualityJSON(t *testing.T) {
	data, err := json.Marshal(Quality{})
	if err != nil {
		t.Fatal(err)
	}
	var got map[string]any
	if err := json.Unmarshal(data, &got); err != nil {
		t.Fatal(err)
	}
	for _, key := range []string{"lines", "hyphenated", "ladder", "loose", "overfull", "widows", "orphans", "uneven", "short",
		"justified", "ladderPairs", "ladders", "hyphensRecto", "hyphensVerso", "tight", "rivers", "runts", "repeats", "stranded", "torn",
		"paragraphsLong", "paragraphsShort", "spreadsLong", "spreadsShort", "spaces"} {
		if _, found := got[key]; !found {
			t.Errorf("no key %q", key)
		}
		delete(got, key)
	}
	if len(got) > 0 {
		t.Errorf("other keys: %v", got)
	}
}

func TestPer10000(t *testing.T) {
	for _, test := range []struct {
		lines, n int
		want     float64
	}{{0, 0, 0}, {10_000, 7, 7}, {2500, 7, 28}, {40_000, 7, 1.75}} {
		if got := (Quality{Lines: test.lines}).Per10000(test.n); got != test.want {
			t.Errorf("%d in %d: %v, want %v", test.n, test.lines, got, test.want)
		}
	}
}

func TestLadderIsTheMost(t *testing.T) {
	h := proofLine{"jh", "so went the sea be", 0}
	for n, want := range []int{0, 1, 2, 3, 4} {
		var lines []proofLine
		for range n {
			lines = append(lines, h)
		}
		lines = append(lines, proofLine{"l", "and then to bed", 0}, h)
		q := proofLayout(t, proofSize, page("o", lines...)).Quality()
		if got := q.Ladder; got != max(want, 1) || q.Hyphenated != n+1 {
			t.Errorf("%d in a row: the most are %d, of %d", n, got, q.Hyphenated)
		}
	}
}

// The distribution against one that is worked out the plain way.
func TestSpaces(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		spaces := rapid.SliceOfN(rapid.IntRange(1, 1500), 1, 60).Draw(rt, "spaces")
		var tl tally
		mean := 0.0
		want := Spaces{Least: spaces[0]}
		for _, s := range spaces {
			tl.add(perMille(length.Length(s), 1000))
			mean += float64(s) / float64(len(spaces))
			want.Least, want.Most = min(want.Least, s), max(want.Most, s)
			want.Twentieths[min(s*20/1000, 20)]++
		}
		variance := 0.0
		for _, s := range spaces {
			variance += (float64(s) - mean) * (float64(s) - mean) / float64(len(spaces))
		}
		got := tl.spaces()
		if math.Abs(float64(got.Mean)-mean) > 0.501 || math.Abs(float64(got.Deviation)-math.Sqrt(variance)) > 0.501 {
			rt.Fatalf("mean %d and deviation %d, want %.2f and %.2f", got.Mean, got.Deviation, mean, math.Sqrt(variance))
		}
		want.Mean, want.Deviation = got.Mean, got.Deviation
		if diff := cmp.Diff(want, got); diff != "" {
			rt.Fatal(diff)
		}
	})
	var none tally
	if none.spaces() != (Spaces{}) {
		t.Error("spaces where no lines are")
	}
}

// Marks lie on the trim, in the block's rows or beside it, and every finding
// has one.
func TestMarks(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		l := proofLayout(t, proofSize, randomPages(rt)...)
		for _, f := range l.Findings() {
			marks := l.Marks(f.Page, []Finding{f})
			if len(marks) == 0 {
				rt.Fatalf("%+v has no mark", f)
			}
			for _, m := range marks {
				if m.Kind != f.Kind || m.X0 >= m.X1 || m.Y0 >= m.Y1 || m.X0 < 0 || m.Y0 < 0 || m.Y1 > l.Trim.Height {
					rt.Fatalf("%+v is marked by %+v", f, m)
				}
			}
		}
	})
	l := proofLayout(t, proofSize, page("", plain(6)...), page("-", plain(5)...), page("-", plain(5)...), page("", plain(6)...))
	found := l.Findings()
	var on []int
	for i := range l.Pages {
		on = append(on, len(l.Marks(i, found)))
	}
	if diff := cmp.Diff([]int{0, 1, 1, 0}, on); diff != "" {
		t.Errorf("a short spread is marked on both pages and no others: %s", diff)
	}
}

// A line's marks are where its words are: hyphen, first and last word, and
// the whole of a loose line.
func TestMarksCoverWords(t *testing.T) {
	l := proofLayout(t, proofSize, page("o", proofLine{"fj", "the sea was grey", 60}, proofLine{"jh", "the boat was be", 0}, proofLine{"l", "low the wall", 0}))
	lines := l.Pages[0].Lines
	at := func(n, run int) (x0, x1 length.Length) {
		r := &lines[n].Runs[run]
		return lines[n].X + r.X, lines[n].X + r.X + r.Width()
	}
	want := map[FindingKind][][2]length.Length{LooseLine: {{lines[0].X, lines[0].X + lines[0].Measure}}}
	for _, m := range []struct {
		kind    FindingKind
		n, runs int
	}{{RepeatedWord, 1, 0}, {RepeatedWord, 0, 0}, {HyphenatedLine, 1, 4}} {
		x0, x1 := at(m.n, m.runs)
		want[m.kind] = append(want[m.kind], [2]length.Length{x0, x1})
	}
	got := make(map[FindingKind][][2]length.Length)
	for _, m := range l.Marks(0, l.Findings()) {
		got[m.Kind] = append(got[m.Kind], [2]length.Length{m.X0, m.X1})
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("-want +got:\n%s", diff)
	}
}

func BenchmarkQuality(b *testing.B) {
	l := compose(b, NewComposer(load(b, markuptest.TomSawyer(b).Source), Resources{}), Default())
	b.Run("Quality", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			l.Quality()
		}
	})
	b.Run("Findings", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			l.Findings()
		}
	})
}
