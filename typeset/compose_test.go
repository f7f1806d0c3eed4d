package typeset

import (
	"context"
	"strings"
	"testing"

	"bodkin/fonts"
	"bodkin/markup"
	"bodkin/markup/markuptest"

	"github.com/google/go-cmp/cmp"
)

func load(t testing.TB, src markup.Source) *markup.Book {
	t.Helper()
	book, err := markup.Load(context.Background(), src)
	if err != nil {
		t.Fatal(err)
	}
	return book
}

func compose(t testing.TB, c *Composer, s Setting) *Layout {
	t.Helper()
	l, err := c.Compose(context.Background(), s)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func demo(t testing.TB) *markup.Book {
	t.Helper()
	return load(t, markup.Source{Dir: "../testdata/tide-clerk", Title: "The Tide Clerk", Author: "Ines Marrow", Language: "en-US",
		Front: []string{"half-title", "title-page", "front/copyright.md", "front/dedication.md", "front/epigraph.md", "contents", "front/foreword.md", "front/map.md on verso"},
		Body:  []string{"parts/flood.md", "chapters/0[1-5]-*.md", "parts/slack-water.md", "chapters/0[6-9]-*.md", "chapters/10-*.md", "parts/ebb.md", "chapters/1[1-3]-*.md"},
		Back:  []string{"back/afterword.md", "back/glossary.md", "back/acknowledgments.md", "back/also-by.md", "back/about.md"}})
}

// The pages hold the letters of the manuscript, and the letters of the two
// texts are those of the files that they were made from.
func TestNothingIsLost(t *testing.T) {
	for name, text := range map[string]markuptest.Text{"Tom Sawyer": markuptest.TomSawyer(t), "Opticks": markuptest.Opticks(t)} {
		book := load(t, text.Source)
		l := compose(t, NewComposer(book, Resources{}), Default())
		if err := Check(book, l); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		var got []rune
		for r := range l.Characters() {
			if markup.IsLetter(r) {
				got = append(got, r)
			}
		}
		want := []rune(text.Letters)
		for i := range min(len(got), len(want)) {
			if got[i] != want[i] {
				t.Fatalf("%s: letter %d is %q, in the original %q, before %q", name, i, got[i], want[i], string(want[i:min(i+40, len(want))]))
			}
		}
		if len(got) != len(want) {
			t.Errorf("%s: %d letters, %d in the original", name, len(got), len(want))
		}
	}
}

// What a typesetter would mark on the proofs of three books in four settings.
func TestPagesAreSound(t *testing.T) {
	for name, book := range map[string]*markup.Book{
		"demo":       demo(t),
		"Tom Sawyer": load(t, markuptest.TomSawyer(t).Source),
		"Opticks":    load(t, markuptest.Opticks(t).Source),
	} {
		c := NewComposer(book, Resources{})
		for _, change := range []func(*Setting){
			func(*Setting) {},
			func(s *Setting) { s.Trim, _ = ParseTrim("6x9in"); s.Face = "Libre Baskerville" },
			func(s *Setting) { s.Trim, _ = ParseTrim("A-format"); s.Face = "Crimson Pro" },
			func(s *Setting) { s.Widen = 15; s.Hang = false },
			func(s *Setting) { s.Hyphenate = false; s.Opens = OnRecto; s.Opening = OpeningDropCap },
		} {
			s := Default()
			change(&s)
			l := compose(t, c, s)
			q := l.Quality()
			t.Logf("%s, %v, %s: %d pages, %+v", name, s.Trim, s.Face, len(l.Pages), q)
			if q.Overfull > 0 || q.Widows > 0 || q.Orphans > 0 || q.Ladder > mostHyphens {
				t.Errorf("%s, %v, %s: %+v", name, s.Trim, s.Face, q)
			}
			if len(l.Pages)%2 != 0 {
				t.Errorf("%s: %d pages do not make leaves", name, len(l.Pages))
			}
			if err := Check(book, l); err != nil {
				t.Error(err)
			}
			inside(t, l)
		}
	}
}

// inside checks that every line stands on the grid and within its text block,
// and that pages face each other with mirrored margins.
func inside(t *testing.T, l *Layout) {
	t.Helper()
	b := &l.Block
	for i := range l.Pages {
		left := l.BlockLeft(i)
		if want := l.Back; Recto(i) && left != want {
			t.Fatalf("page %d: the block begins at %v, the back margin is %v", i, left, want)
		}
		for j := range l.Pages[i].Lines {
			line := &l.Pages[i].Lines[j]
			if line.X < left || line.X+line.Measure > left+b.Measure {
				t.Errorf("page %d, line %d: from %v to %v, the block from %v to %v", i, j, line.X, line.X+line.Measure, left, left+b.Measure)
			}
			if line.Role == Head || line.Role == Folio || line.Role == Ornament {
				continue
			}
			if (line.Role == Heading || line.Role == Display) && !line.Last {
				continue // the lines of a title stand as close as their size wants; the last is on the grid
			}
			if foot := len(l.Pages[i].text()) - l.Pages[i].Notes; j >= foot {
				continue // notes have a leading of their own: TestNotesAtTheFoot
			}
			if line.Justified {
				// It fills its measure exactly, but for the mark that hangs.
				last := &line.Runs[len(line.Runs)-1]
				over := last.X + last.Width() - line.Measure
				if hang := hangAt(last, rightHang, false); over < -16 || !l.Setting.Hang && over > 16 || over > hang+16 {
					t.Errorf("page %d, line %d: it ends %v beyond its measure, %v may hang", i, j, over, hang)
				}
			}
			if strings.HasSuffix(line.Pos.File, "copyright.md") {
				continue // small print
			}
			row := (line.Y - b.Baseline) / b.Leading
			if line.Y != b.Baseline+row*b.Leading || row < 0 || int(row) > b.Rows {
				t.Errorf("page %d, line %d: its baseline %v is not on the grid", i, j, line.Y)
			}
		}
	}
}

// A second setting shapes only the pieces of words that its line ends divide.
func TestSecondSettingShapesNothing(t *testing.T) {
	book := load(t, markuptest.TomSawyer(t).Source)
	lib := fonts.Embedded()
	c := NewComposer(book, Resources{Faces: lib})
	s := Default()
	compose(t, c, s)
	face, err := lib.Face(s.Face, fonts.Regular)
	if err != nil {
		t.Fatal(err)
	}
	first := face.Shapings()
	compose(t, c, s)
	if n := face.Shapings(); n != first {
		t.Errorf("the same setting again shaped %d texts", n-first)
	}
	s.Trim, _ = ParseTrim("6x9in")
	s.Margins.Back = Auto{Value: s.Margins.ForeEdge} // one that is not found by setting the book again
	l := compose(t, c, s)
	if n, most := face.Shapings()-first, int64(2*l.Quality().Hyphenated+20); n > most {
		t.Errorf("a second setting shaped %d texts; its divided words explain %d", n, most)
	}
}

// The same book gives the same layout whatever the number of cores, and
// whether it was set before or not.
func TestSameInSameOut(t *testing.T) {
	book := demo(t)
	c := NewComposer(book, Resources{})
	s := Default()
	want := summary(compose(t, c, s))
	for range 3 {
		if diff := cmp.Diff(want, summary(compose(t, c, s))); diff != "" {
			t.Fatalf("set again, it differs:\n%s", diff)
		}
		if diff := cmp.Diff(want, summary(compose(t, NewComposer(book, Resources{}), s))); diff != "" {
			t.Fatalf("set anew, it differs:\n%s", diff)
		}
	}
}

// place is where a run stands.
type place struct {
	Page    int
	X, Y    int64
	Text    string
	Natural int64
}

func summary(l *Layout) []place {
	var all []place
	for i := range l.Pages {
		for j := range l.Pages[i].Lines {
			line := &l.Pages[i].Lines[j]
			for k := range line.Runs {
				r := &line.Runs[k]
				all = append(all, place{i, int64(line.X + r.X), int64(line.Y), r.Glyphs.Text, int64(r.Width())})
			}
		}
	}
	return all
}
