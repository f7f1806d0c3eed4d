package pdf

import (
	"bytes"
	"errors"
	"io"
	"strings"
	"testing"
	"time"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

	"bodkin/markup/markuptest"
	"bodkin/typeset"
	"bodkin/typeset/internal/layouttest"
	"bodkin/typeset/length"
)

const inch = length.Inch

// twoSheets are a Letter sheet with a page in its middle and one on its side
// with two pages of different layouts.
func twoSheets(tb testing.TB) *Sheets {
	tb.Helper()
	a, b := set(tb, sample, layouttest.Style{}), set(tb, sample, layouttest.Style{Family: "Literata"})
	caption := a.Pages[0].Lines[0]
	caption.Y = inch
	return &Sheets{Title: "Sheets", Author: "A. Writer", Language: "en-GB", List: []Sheet{
		{Width: inch * 17 / 2, Height: 11 * inch, Pages: []Placed{{a, 0, inch * 7 / 4, inch * 3 / 2}}, Lines: []typeset.Line{caption},
			Rules: []Rule{{X0: inch, Y0: inch / 2, X1: 5 * inch, Y1: inch / 2, Weight: length.Point / 4}, {X0: inch, Y0: inch, X1: inch, Y1: 2 * inch, Weight: length.Point, Gray: 128}}},
		{Width: 11 * inch, Height: inch * 17 / 2, Pages: []Placed{{a, 0, inch / 2, inch / 4}, {b, 0, inch * 11 / 2, inch / 4}}},
	}}
}

func writeSheets(tb fataler, s *Sheets, o Options) []byte {
	tb.Helper()
	var b bytes.Buffer
	if err := WriteSheets(&b, s, o); err != nil {
		tb.Fatal(err)
	}
	return b.Bytes()
}

// TestSheetsAreValid has pdfcpu and qpdf read the file, each sheet with its
// own size (ISO 32000-1, 14.11.2).
func TestSheetsAreValid(t *testing.T) {
	file := writeSheets(t, twoSheets(t), Options{Date: time.Unix(1_700_000_000, 0).UTC()})
	ctx := open(t, file)
	for i, want := range []types.Dim{{Width: 612, Height: 792}, {Width: 792, Height: 612}} {
		_, _, inherited, err := ctx.PageDict(i+1, false)
		if err != nil {
			t.Fatal(err)
		}
		if got := inherited.MediaBox.Dimensions(); got != want {
			t.Errorf("sheet %d: %v, want %v", i+1, got, want)
		}
	}
	if ctx.Title != "Sheets" || ctx.Author != "A. Writer" {
		t.Errorf("the file is %q by %q", ctx.Title, ctx.Author)
	}
	markuptest.Tool(t, "qpdf", "--check", save(t, file))
	if again := writeSheets(t, twoSheets(t), Options{Date: time.Unix(1_700_000_000, 0).UTC()}); !bytes.Equal(file, again) {
		t.Error("the same sheets give other bytes")
	}
}

// TestSheetGlyphs: on a sheet every glyph stands where its page's corner and
// its layout lead.
func TestSheetGlyphs(t *testing.T) {
	s := twoSheets(t)
	ctx := open(t, writeSheets(t, s, Options{}))
	for n := range s.List {
		sh := &s.List[n]
		page, _, _, err := ctx.PageDict(n+1, false)
		if err != nil {
			t.Fatal(err)
		}
		body, err := ctx.PageContent(page, n+1)
		if err != nil {
			t.Fatal(err)
		}
		widths, err := widthsOf(ctx, page)
		if err != nil {
			t.Fatal(err)
		}
		got, err := interpret(body[bytes.LastIndex(body, []byte("0 g\n")):], widths)
		if err != nil {
			t.Fatal(err)
		}
		at := 0
		check := func(lines []typeset.Line, left, top length.Length) {
			for i := range lines {
				for k := range lines[i].Runs {
					if space, ok := lines[i].Runs[k].Glyphs.Face.GID(' '); k > 0 && ok && lines[i].Runs[k].Space {
						if at >= len(got) || got[at].gid != space {
							t.Fatalf("sheet %d, glyph %d: want a space", n+1, at)
						}
						at++
					}
					lines[i].Runs[k].Places(&lines[i], func(p typeset.Place) bool {
						if at >= len(got) {
							t.Fatalf("sheet %d: too few glyphs", n+1)
						}
						g := got[at]
						x, y := (left + p.X).Points(), (sh.Height - top - p.Y).Points()
						if g.gid != p.Glyph.ID || g.x < x-.005 || g.x > x+.005 || g.y < y-.005 || g.y > y+.005 {
							t.Fatalf("sheet %d, glyph %d: %v, want %d at %v, %v", n+1, at, g, p.Glyph.ID, x, y)
						}
						at++
						return true
					})
				}
			}
		}
		for _, p := range sh.Pages {
			check(p.Layout.Pages[p.Page].Lines, p.X, p.Y)
		}
		check(sh.Lines, 0, 0)
		if at != len(got) {
			t.Errorf("sheet %d: %d glyphs, want %d", n+1, len(got), at)
		}
	}
}

func TestRules(t *testing.T) {
	sh := twoSheets(t).List[0]
	want := "0 J\n0 G .25 w 72 756 m 360 756 l S\n.502 G 1 w 72 720 m 72 648 l S\n"
	if got := string(sh.rules(nil)); got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

func TestSheetFaults(t *testing.T) {
	l := set(t, sample, layouttest.Style{})
	for _, c := range []struct {
		list []Sheet
		want string
		err  error
	}{
		{nil, "no pages", ErrEmpty},
		{[]Sheet{{Width: inch}}, "sheet 1: 72pt by 0", nil},
		{[]Sheet{{Width: inch, Height: inch}, {Width: 201 * inch, Height: inch}}, "sheet 2", nil},
		{[]Sheet{{Width: inch, Height: inch, Pages: []Placed{{Layout: l, Page: len(l.Pages)}}}}, "no such page", errPlaced},
		{[]Sheet{{Width: inch, Height: inch, Pages: []Placed{{Page: 0}}}}, "no such page", errPlaced},
		{[]Sheet{{Width: inch, Height: inch, Lines: []typeset.Line{{Runs: make([]typeset.Run, 1)}}}}, "sheet 1: line 1", errNoGlyphs},
	} {
		err := WriteSheets(io.Discard, &Sheets{List: c.list}, Options{})
		if err == nil || c.err != nil && !errors.Is(err, c.err) || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: %v", c.want, err)
		}
	}
}
