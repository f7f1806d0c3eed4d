package typeset

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"sync"
	"testing"

	"bodkin/markup"
	"bodkin/markup/markuptest"
	"bodkin/typeset/length"

	"github.com/google/go-cmp/cmp"
)

// grid is every combination of sizes, leadings and trims.
func grid(sizes, leadings int, trims ...string) []Setting {
	var all []Setting
	for _, trim := range trims {
		for i := range sizes {
			for k := range leadings {
				s := Default()
				s.Trim, _ = ParseTrim(trim)
				s.Size.Length = (20 + length.Length(i)) * length.Point / 2
				s.Leading = Leading{Kind: Percent, Thousandth: 1200 + 40*int64(k)}
				all = append(all, s)
			}
		}
	}
	return all
}

// told is what a castoff tells of a layout.
type told struct {
	Counts  Counts
	Quality Quality
	Back    length.Length
	Saved   int
}

func tellingOf(l *Layout) told { return told{l.Counts(), l.Quality(), l.Back, l.Saved} }

func castoff(t testing.TB, c *Composer, settings []Setting) []told {
	t.Helper()
	all := make([]told, len(settings))
	err := c.Castoff(context.Background(), settings, func(i int, l *Layout, err error) error {
		if err == nil {
			all[i] = tellingOf(l)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// A castoff gives the layouts that setting by setting gives, whatever the order
// and whatever they share: also with notes at the foot, pictures and verse.
func TestCastoffIsCompose(t *testing.T) {
	c := NewComposer(demo(t), Resources{})
	r := rand.New(rand.NewPCG(3, 5))
	pick := func(n int) int { return r.IntN(n) }
	for range 8 {
		var settings []Setting
		for range 4 {
			s := Default()
			s.Trim, _ = ParseTrim([]string{"5x8in", "6x9in", "B-format"}[pick(3)])
			s.Face = []string{"EB Garamond", "Literata"}[pick(2)]
			s.Size.Length = length.Point * length.Length(20+pick(3)) / 2
			s.Leading = Leading{Kind: Percent, Thousandth: 1200 + 50*int64(pick(4))}
			s.Margins.Head.Length += length.Point * length.Length(pick(9))
			s.Hyphenate, s.Indent.Auto = pick(2) == 0, pick(2) == 0
			s.Pages, s.Notes, s.Opening = PageAim(pick(2)), Notes(pick(2)), Opening(pick(2))
			settings = append(settings, s)
			s.Leading.Thousandth += 30 // one of like lines
			settings = append(settings, s)
		}
		sameAsCompose(t, c, settings)
	}
}

// Settings of like lines share them, over all workers: also where a note takes
// more lines in one than in another, because a scene break in it does.
func TestCastoffShares(t *testing.T) {
	parted := chapter(para(0, prose), para(0, prose+"†1†"), para(0, prose), para(0, prose))
	parted.Sections[0].Notes = []*markup.Note{{Label: "a", Blocks: []markup.Block{para(0, prose), &markup.SceneBreak{}, para(0, prose)}}}
	for _, book := range []*markup.Book{demo(t), parted} {
		c := NewComposer(book, Resources{})
		var settings []Setting
		for i := range 12 {
			s := Default()
			s.Margins.Back = Auto{Value: s.Margins.ForeEdge}
			s.Leading = Leading{Kind: Percent, Thousandth: 1150 + 25*int64(i)}
			s.SceneBreak = []string{"", "* * *"}[i/3%2]
			s.Opening, s.Notes, s.NoteNumbers = Opening(i%2), Notes(i/2%2), NoteNumbers(i/4%2)
			settings = append(settings, s)
		}
		sameAsCompose(t, c, settings)
	}
}

// sameAsCompose fails unless the castoff of settings gives the layouts of each
// set alone.
func sameAsCompose(t *testing.T, c *Composer, settings []Setting) {
	t.Helper()
	err := c.Castoff(context.Background(), settings, func(i int, l *Layout, err error) error {
		if err != nil {
			return err
		}
		want, err := c.Compose(context.Background(), settings[i])
		if err != nil {
			return err
		}
		if diff := cmp.Diff(tellingOf(want), tellingOf(l)); diff != "" {
			return errors.New(diff)
		}
		if diff := cmp.Diff(want.Findings(), l.Findings()); diff != "" {
			return errors.New(diff)
		}
		for n := range want.Pages {
			if !samePage(&want.Pages[n], &l.Pages[n]) {
				return fmt.Errorf("page %d of %v, %v on %v is another", n, settings[i].Trim, settings[i].Size, settings[i].Leading)
			}
		}
		return Check(c.book, l)
	})
	if err != nil {
		t.Fatal(err)
	}
}

// samePage reports whether two pages hold the same, at the same places.
func samePage(a, b *Page) bool {
	return a.Label == b.Label && a.Depth == b.Depth && a.Notes == b.Notes && slices.Equal(a.Plates, b.Plates) &&
		slices.EqualFunc(a.Lines, b.Lines, func(x, y Line) bool {
			return x.X == y.X && x.Y == y.Y && x.Space == y.Space && slices.EqualFunc(x.Runs, y.Runs, func(p, q Run) bool {
				return p.X == q.X && p.Rise == q.Rise && p.Size == q.Size && p.Note == q.Note && p.Glyphs.Text == q.Glyphs.Text
			})
		})
}

// Cancelled, it ends with the cause; an error of each ends it; a setting that
// cannot be set is told to each.
func TestCastoffEnds(t *testing.T) {
	c := NewComposer(demo(t), Resources{})
	settings := grid(2, 3, "5x8in", "B-format")
	ctx, cancel := context.WithCancelCause(context.Background())
	stop := errors.New("stop")
	err := c.Castoff(ctx, settings, func(int, *Layout, error) error { cancel(stop); return nil })
	if !errors.Is(err, stop) {
		t.Errorf("cancelled: %v", err)
	}
	if err := c.Castoff(context.Background(), settings, func(int, *Layout, error) error { return stop }); !errors.Is(err, stop) {
		t.Errorf("stopped: %v", err)
	}
	if err := c.Castoff(context.Background(), nil, nil); err != nil {
		t.Errorf("nothing to set: %v", err)
	}
	settings[2].Size.Length = length.Point
	var mu sync.Mutex
	var faults []int
	err = c.Castoff(context.Background(), settings, func(i int, l *Layout, err error) error {
		mu.Lock()
		defer mu.Unlock()
		if (err != nil) != (l == nil) {
			t.Errorf("setting %d: %v, %v", i, l, err)
		}
		if err != nil {
			faults = append(faults, i)
		}
		return nil
	})
	if err != nil || !slices.Equal(faults, []int{2}) {
		t.Errorf("%v, faults of the settings %v", err, faults)
	}
}

// BenchmarkCastoff is a hundred settings of a novel: five sizes, four leadings
// and five trims of one face, from Markdown.
func BenchmarkCastoff(b *testing.B) {
	src := markuptest.TomSawyer(b).Source
	b.ReportAllocs()
	for b.Loop() {
		castoff(b, NewComposer(load(b, src), Resources{}), grid(5, 4, "5x8in", "5.25x8in", "5.5x8.5in", "6x9in", "B-format"))
	}
}

// BenchmarkCastoffLeadings is twenty-five settings that differ in leading.
func BenchmarkCastoffLeadings(b *testing.B) {
	c := NewComposer(load(b, markuptest.TomSawyer(b).Source), Resources{})
	castoff(b, c, grid(1, 1, "6x9in"))
	settings := grid(1, 25, "5x8in")
	for i := range settings {
		settings[i].Leading.Thousandth = 1200 + 10*int64(i)
		settings[i].Margins.Back = Auto{Value: settings[i].Margins.ForeEdge}
	}
	b.ReportAllocs()
	for b.Loop() {
		castoff(b, c, settings)
	}
}
