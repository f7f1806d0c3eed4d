package typeset

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bodkin/markup"
	"bodkin/typeset/length"
)

// words makes n words out of a story of our own.
func words(r *rand.Rand, n int) string {
	stock := strings.Fields("the ebb ran long past the stairs and the lamp in the clerk's window went out before " +
		"anybody had measured what the harbour owed to the moon although she had written it down in a fair hand " +
		"and counted twice because her predecessor had never counted at all")
	var b strings.Builder
	for i := range n {
		w := stock[r.IntN(len(stock))]
		if i == 0 {
			w = strings.ToUpper(w[:1]) + w[1:]
		} else {
			b.WriteByte(' ')
		}
		b.WriteString(w)
	}
	return b.String() + "."
}

// noted is a chapter with notes of all lengths: of a word, of a line, of
// several pages, two in one line, of several paragraphs, and with verse.
func noted(notes int) string {
	r := rand.New(rand.NewPCG(7, 11))
	var text, below strings.Builder
	text.WriteString("# The Small Ledger\n\n")
	for n := 1; n <= notes; {
		text.WriteString(words(r, 10+r.IntN(60)))
		for range 1 + r.IntN(2) {
			fmt.Fprintf(&text, "[^%d] %s", n, words(r, 5+r.IntN(30)))
			long := []int{1, 4, 12, 30, 60, 110}[r.IntN(6)]
			if n%67 == 0 {
				long = 700
			}
			fmt.Fprintf(&below, "[^%d]: %s\n\n", n, words(r, long))
			if n%23 == 0 {
				fmt.Fprintf(&below, "    %s\n\n    > %s\\\n    > %s\n\n", words(r, 20), words(r, 4), words(r, 5))
			}
			n++
		}
		text.WriteString("\n\n")
	}
	return text.String() + below.String()
}

func bookOf(t testing.TB, text string) *markup.Book {
	t.Helper()
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "book.md"), []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	return load(t, markup.Source{Dir: dir, Title: "The Small Ledger", Body: []string{"book.md"}})
}

// Every note begins at the foot of the page that refers to it, in the order of
// the references; none is lost, none runs into the text or another one, the
// text keeps to the grid, and the last line of the notes stands on its last
// row (The Chicago Manual of Style on footnotes: they begin on the page of
// their reference, and long ones go on overleaf).
func TestNotesAtTheFoot(t *testing.T) {
	book := bookOf(t, noted(200))
	for _, c := range []struct {
		name   string
		change func(*Setting)
	}{
		{"5x8in", func(*Setting) {}},
		{"A-format, large type", func(s *Setting) {
			s.Trim, _ = ParseTrim("A-format")
			s.Size.Length, s.Leading = 12*length.Point, Leading{Kind: Percent, Thousandth: 1300}
		}},
		{"6x9in by page, fewest", func(s *Setting) {
			s.Trim, _ = ParseTrim("6x9in")
			s.Face, s.NoteNumbers, s.Pages = "Source Serif 4", NumberedByPage, FewestPages
		}},
	} {
		s := Default()
		c.change(&s)
		l := compose(t, NewComposer(book, Resources{}), s)
		if err := Check(book, l); err != nil {
			t.Errorf("%s: %v", c.name, err)
		}
		inside(t, l)
		begun, split := 0, 0
		for i := range l.Pages {
			p := &l.Pages[i]
			body, text := p.body(), p.text()
			next, label := 0, 0 // numbers on the page: of the last reference, of the last label
			refs := map[int32]bool{}
			for j := range text {
				line := &text[j]
				for k := range line.Runs {
					run := &line.Runs[k]
					switch {
					case run.Note == 0:
					case j < len(body):
						refs[run.Note] = true
						next++
						if s.NoteNumbers == NumberedByPage && run.Glyphs.Text != fmt.Sprint(next) {
							t.Errorf("%s, page %s: reference %d is numbered %s", c.name, p.Label, next, run.Glyphs.Text)
						}
					default:
						begun++
						label++
						if run.Note != int32(begun) || !refs[run.Note] {
							t.Errorf("%s, page %s: note %d begins where number %d should, referred to here: %v", c.name, p.Label, run.Note, begun, refs[run.Note])
						}
						if want := fmt.Sprint(label) + "."; s.NoteNumbers == NumberedByPage && run.Glyphs.Text != want {
							t.Errorf("%s, page %s: the label %s should be %s", c.name, p.Label, run.Glyphs.Text, want)
						}
					}
				}
				if j > 0 && j >= len(body) {
					least := l.Block.noteLeading()
					if j == len(body) && len(body) > 0 {
						least = l.Block.Leading * 3 / 2
					}
					if line.Y-text[j-1].Y < least && line.Y != text[j-1].Y {
						t.Errorf("%s, page %s: line %d is %v below the one before, %v is the least", c.name, p.Label, j, line.Y-text[j-1].Y, least)
					}
				}
			}
			if p.Notes == 0 {
				continue
			}
			if last := l.Block.Baseline + length.Length(p.Depth-1)*l.Block.Leading; text[len(text)-1].Y != last {
				t.Errorf("%s, page %s: the notes end at %v, not at %v", c.name, p.Label, text[len(text)-1].Y, last)
			}
			if begins := text[len(body)].First; !begins {
				split++
			}
		}
		if begun != 200 {
			t.Errorf("%s: %d notes on the pages", c.name, begun)
		}
		q := l.Quality()
		t.Logf("%s: %d pages, %d notes go on overleaf, %+v", c.name, len(l.Pages), split, q)
		if q.Widows > 0 || q.Orphans > 0 || q.Overfull > 0 || q.Torn > 0 {
			t.Errorf("%s: %+v", c.name, q)
		}
		if split > 60 {
			t.Errorf("%s: %d notes go on overleaf", c.name, split)
		}
	}
}
