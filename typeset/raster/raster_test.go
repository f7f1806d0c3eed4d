package raster

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"bodkin/fonts"
	"bodkin/markup/markuptest"
	"bodkin/typeset"
	"bodkin/typeset/internal/layouttest"
	"bodkin/typeset/length"
	"bodkin/typeset/pdf"
)

const sample = `+The+ +Long+ +Ebb+ began in the office by the fjord, and the first of the clerks,
who was *afflicted* by a difficult waffle, put AWAY his VAT returns. ^12 Ten thousand wonderful
afternoons went by: a naïve façade of Ærø, Dvořák’s “flat five” — 1847–1902… and well-known half-truths.`

func set(tb testing.TB, text string, s layouttest.Style) *typeset.Layout {
	tb.Helper()
	l, err := layouttest.Set(text, s)
	if err != nil {
		tb.Fatal(err)
	}
	return l
}

// letter is a layout of 24 by 24 pt with one letter, its origin at 4, 18.
func letter(tb testing.TB, text string, size length.Length) *typeset.Layout {
	tb.Helper()
	face, err := fonts.Embedded().Face("EB Garamond", fonts.Regular)
	if err != nil {
		tb.Fatal(err)
	}
	const pt = length.Point
	line := typeset.Line{X: 4 * pt, Y: 18 * pt, Runs: []typeset.Run{{Size: size, Glyphs: face.Shape(text, 0)}}}
	return &typeset.Layout{
		Trim:  typeset.Size{Width: 24 * pt, Height: 24 * pt},
		Pages: []typeset.Page{{Lines: []typeset.Line{line}}, {Blank: true}, {Blank: true}, {Blank: true}},
	}
}

// art shows a picture as text: a character for a dot, the darker the fuller.
func art(img image.Image) string {
	const shades = "@%#*+=-. "
	var b strings.Builder
	r := img.Bounds()
	for y := r.Min.Y; y < r.Max.Y; y++ {
		row := ""
		for x := r.Min.X; x < r.Max.X; x++ {
			g := color.GrayModel.Convert(img.At(x, y)).(color.Gray)
			row += string(shades[int(g.Y)*(len(shades)-1)/255])
		}
		b.WriteString(strings.TrimRight(row, " ") + "\n")
	}
	return b.String()
}

// TestGlyph draws a letter at 72 dots to the inch, a dot a point. What it
// should look like can be seen; the letter stands on the 18th row.
func TestGlyph(t *testing.T) {
	img, err := Page(letter(t, "g", 30*length.Point), 0, Options{DPI: 72})
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(golden, "\n"+art(img)); diff != "" {
		t.Errorf("-want +got:\n%s", diff)
	}
}

const golden = `





        -++=.
      .#@**@@%***.
     .%@=  -@@@*+.
     +@#    +@%
     #@+    -@%
     %@+    -@#
     *@#    +@=
     -@@-  .%%.
      =@@+=%%.
      .%%%#+.
     -%+
     #@#-
     *@@@@%#*+.
     .+%@@@@@@@*.
      -%=.--+%@@=
     =@=      *@+
    -@%       =@-
    *@*       *@.
    *@%      .@=
`

// TestAgainstReaders holds a page against the pictures that two independent
// programs make of the PDF of the same layout. They place glyphs to a quarter
// of a dot and smooth edges in their own ways, so dots differ at the edges of
// letters; a letter that stood a dot aside would make twice the tolerance.
func TestAgainstReaders(t *testing.T) {
	l := set(t, strings.Repeat(sample+"\n\n", 9), layouttest.Style{})
	path := filepath.Join(t.TempDir(), "book.pdf")
	var b bytes.Buffer
	if err := pdf.Write(&b, l, pdf.Options{}); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	const dpi = 144
	img, err := Page(l, 0, Options{DPI: dpi})
	if err != nil {
		t.Fatal(err)
	}
	ours := img.(*image.Gray)
	for _, reader := range []struct {
		name string
		args []string
	}{
		{"pdftoppm", []string{"-r", fmt.Sprint(dpi), "-gray", "-f", "1", "-l", "1", "-singlefile", path, strings.TrimSuffix(path, ".pdf")}},
		{"mutool", []string{"draw", "-q", "-r", fmt.Sprint(dpi), "-c", "gray", "-o", strings.TrimSuffix(path, ".pdf") + ".pgm", path, "1"}},
	} {
		t.Run(reader.name, func(t *testing.T) {
			markuptest.Tool(t, reader.name, reader.args...)
			data, err := os.ReadFile(strings.TrimSuffix(path, ".pdf") + ".pgm")
			if err != nil {
				t.Fatal(err)
			}
			theirs, err := readPGM(data)
			if err != nil {
				t.Fatal(err)
			}
			if theirs.Rect != ours.Rect {
				t.Fatalf("they draw %v, we draw %v", theirs.Rect, ours.Rect)
			}
			here, ink := difference(ours, theirs, 0)
			aside, _ := difference(ours, theirs, 1)
			t.Logf("dots differ by %.3f of the ink in place, %.3f one dot aside; ink %.4f of theirs", here, aside, ink)
			if here > tolerance || here > aside/2 {
				t.Errorf("dots differ by %.3f of the ink, and by %.3f one dot aside", here, aside)
			}
			if math.Abs(ink-1) > 0.05 {
				t.Errorf("we use %.3f of their ink", ink)
			}
		})
	}
}

// tolerance is how much of the ink may lie in differing dots.
const tolerance = 0.16

// difference returns the sum of the differences of dots as a share of b's ink,
// with a shifted right by dx, and a's ink as a share of b's.
func difference(a, b *image.Gray, dx int) (share, ink float64) {
	var diff, inkA, inkB int
	for y := range b.Rect.Dy() {
		for x := dx; x < b.Rect.Dx(); x++ {
			p, q := int(a.GrayAt(x-dx, y).Y), int(b.GrayAt(x, y).Y)
			diff += max(p-q, q-p)
			inkA += 255 - p
			inkB += 255 - q
		}
	}
	return float64(diff) / float64(inkB), float64(inkA) / float64(inkB)
}

// readPGM reads the binary form of a portable graymap.
func readPGM(data []byte) (*image.Gray, error) {
	r := bytes.NewReader(data)
	var w, h, most int
	if _, err := fmt.Fscanf(r, "P5\n%d %d\n%d\n", &w, &h, &most); err != nil || most != 255 {
		return nil, fmt.Errorf("no graymap of 8 bits: %w", err)
	}
	img := image.NewGray(image.Rect(0, 0, w, h))
	_, err := io.ReadFull(r, img.Pix)
	return img, err
}

// TestSpread: which pages a spread has, and where.
func TestSpread(t *testing.T) {
	l := letter(t, "H", 20*length.Point)
	for i := range l.Pages {
		l.Pages[i] = l.Pages[0]
	}
	const (
		empty = iota // a place without a page
		page
	)
	for i, want := range [][2]int{{empty, page}, {page, page}, {page, page}, {page, empty}} {
		img, err := Spread(l, i, Options{DPI: 72})
		if err != nil {
			t.Fatal(err)
		}
		if size := img.Bounds().Size(); size != image.Pt(48, 24) {
			t.Fatalf("a spread of %v", size)
		}
		for side, kind := range want {
			corner := img.At(side*24+1, 1).(color.Gray).Y
			stem := img.At(side*24+4+3, 10).(color.Gray).Y // of the H
			if got := corner == 255 && stem < 128; got != (kind == page) {
				t.Errorf("page %d, side %d: corner %d, stem %d", i, side, corner, stem)
			}
		}
		if fold := img.At(24, 1).(color.Gray).Y; fold == 255 {
			t.Errorf("page %d: no fold", i)
		}
	}
}

// TestGuides: each guide has its colour where the layout says.
func TestGuides(t *testing.T) {
	l := set(t, sample, layouttest.Style{})
	img, err := Page(l, 0, Options{DPI: 72, Guides: true, Safety: 18 * length.Point})
	if err != nil {
		t.Fatal(err)
	}
	seen := make(map[typeset.GuideRole]bool)
	for _, g := range l.Guides(0, 18*length.Point) {
		if g.Role == typeset.GuideBaseline && g.Y0 < 200*length.Point {
			continue // text, or the frame of the block, lies over it
		}
		x, y := int(math.Round((g.X0+g.X1).Points()/2)), int(math.Round((g.Y0+g.Y1).Points()/2))
		x, y = min(x, 359), min(y, 575) // the edges of the page
		if got, want := img.At(x, y), g.Role.Color(); got != want && !seen[g.Role] {
			t.Errorf("guide %v at %d %d: %v, want %v", g, x, y, got, want)
		}
		seen[g.Role] = true
	}
	if len(seen) != 4 {
		t.Errorf("%d kinds of guides", len(seen))
	}
}

// TestEdge: what reaches over the edge of the page is cut off there, and a
// facing page has none of it.
func TestEdge(t *testing.T) {
	l := letter(t, "M", 60*length.Point)
	whole := l.Pages[0]
	img, err := Spread(l, 0, Options{DPI: 72})
	if err != nil {
		t.Fatal(err)
	}
	l.Pages[1], l.Pages[0] = whole, l.Pages[1]
	facing, err := Spread(l, 1, Options{DPI: 72})
	if err != nil {
		t.Fatal(err)
	}
	inkAt := func(img image.Image, x0, x1 int) (n int) {
		for y := range 24 {
			for x := x0; x < x1; x++ {
				if img.At(x, y).(color.Gray).Y < 100 {
					n++
				}
			}
		}
		return n
	}
	if n := inkAt(img, 24, 48); n == 0 {
		t.Error("nothing was drawn")
	}
	if n := inkAt(facing, 25, 48); n != 0 {
		t.Errorf("%d dots on the facing page", n)
	}
}

func TestSame(t *testing.T) {
	l := set(t, sample, layouttest.Style{})
	var first []byte
	for _, procs := range []int{1, 2} {
		was := runtime.GOMAXPROCS(procs)
		img, err := Spread(l, 0, Options{DPI: 100, Guides: true})
		runtime.GOMAXPROCS(was)
		if err != nil {
			t.Fatal(err)
		}
		var b bytes.Buffer
		if err := WritePNG(&b, img); err != nil {
			t.Fatal(err)
		}
		if first == nil {
			first = b.Bytes()
		}
		if !bytes.Equal(first, b.Bytes()) {
			t.Error("two pictures differ")
		}
	}
	if img, err := png.Decode(bytes.NewReader(first)); err != nil || img.Bounds().Size() != image.Pt(1000, 800) {
		t.Errorf("the picture does not read back: %v", err)
	}
}

func TestErrors(t *testing.T) {
	good := letter(t, "g", 30*length.Point)
	huge := letter(t, "g", 12_000*length.Point)
	huge.Pages[0].Lines[0].X = -5000 * length.Point
	broken := letter(t, "g", 30*length.Point)
	broken.Pages[0].Lines[0].Runs[0].Glyphs = nil
	monstrous := letter(t, "g", 1<<60)
	flat := letter(t, "g", 30*length.Point)
	flat.Trim.Height = 0
	wide := letter(t, "g", 30*length.Point)
	wide.Trim = typeset.Size{Width: 30 * length.Inch, Height: 30 * length.Inch}
	for _, test := range []struct {
		l    *typeset.Layout
		i    int
		o    Options
		says string
	}{
		{nil, 0, Options{DPI: 72}, "no page 1 in a layout of 0"},
		{good, 4, Options{DPI: 72}, "no page 5 in a layout of 4"},
		{good, -1, Options{DPI: 72}, "no page 0"},
		{good, 0, Options{}, "0 dots to the inch"},
		{good, 0, Options{DPI: 1_000_000}, "1000000 dots to the inch"},
		{flat, 0, Options{DPI: 72}, "not a page"},
		{wide, 0, Options{DPI: 2400}, "too large"},
		{huge, 0, Options{DPI: 2400}, "too large"},
		{broken, 0, Options{DPI: 72}, "page 1, line 1"},
		{monstrous, 0, Options{DPI: 72}, "page 1, line 1"},
	} {
		for _, drawn := range []func(*typeset.Layout, int, Options) (image.Image, error){Page, Spread} {
			if _, err := drawn(test.l, test.i, test.o); err == nil || !strings.Contains(err.Error(), test.says) {
				t.Errorf("%v, want %q", err, test.says)
			}
		}
	}
	if err := WritePNG(failing{}, image.NewGray(image.Rect(0, 0, 1, 1))); !errors.Is(err, os.ErrClosed) {
		t.Error(err)
	}
}

type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, os.ErrClosed }

func BenchmarkPage(b *testing.B) {
	l := set(b, strings.Repeat(sample+"\n\n", 9), layouttest.Style{})
	for _, dpi := range []int{100, 300} {
		b.Run(fmt.Sprint(dpi), func(b *testing.B) {
			for b.Loop() {
				if _, err := Page(l, 0, Options{DPI: dpi}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// TestMarks: findings are coloured where the layout says, paler over words
// than beside them, and the letters over them stay the darkest.
func TestMarks(t *testing.T) {
	l := set(t, sample+"\n\n"+sample, layouttest.Style{Size: 20 * length.Point})
	var found []typeset.Finding
	for _, f := range l.Findings() {
		if f.Kind == typeset.LooseLine && f.Page == 0 {
			found = append(found, f)
		}
	}
	if len(found) == 0 {
		t.Fatal("no loose lines to mark")
	}
	found = append(found, typeset.Finding{Kind: typeset.TornPage, Page: 0})
	o := Options{DPI: 72, Findings: found}
	img, err := Page(l, 0, o)
	if err != nil {
		t.Fatal(err)
	}
	plain, err := Page(l, 0, Options{DPI: 72})
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range l.Marks(0, found) {
		ink, _ := m.Kind.Color()
		darkest, coloured := 255, 0
		for y := int(m.Y0.Points()) + 1; y < int(m.Y1.Points()); y++ {
			for x := int(m.X0.Points()) + 1; x < int(m.X1.Points()); x++ {
				c := img.At(x, y).(color.RGBA)
				if plain.At(x, y).(color.Gray).Y < 255 {
					darkest = min(darkest, int(c.G))
					continue
				}
				coloured++
				want := ink
				if m.Shade {
					over := func(v uint8) uint8 { return uint8((255*(255-shade) + int(v)*shade) / 255) }
					want = color.RGBA{over(ink.R), over(ink.G), over(ink.B), 255}
				}
				if d := func(a, b uint8) int { return max(int(a)-int(b), int(b)-int(a)) }; d(c.R, want.R)+d(c.G, want.G)+d(c.B, want.B) > 3 {
					t.Fatalf("%v at %d, %d: %v, want %v", m.Kind, x, y, c, want)
				}
			}
		}
		if coloured == 0 {
			t.Errorf("%v has no mark", m.Kind)
		}
		if m.Shade && darkest > 60 {
			t.Errorf("%v: its letters are as pale as %d", m.Kind, darkest)
		}
	}
	if c := img.At(2, 2).(color.RGBA); c != (color.RGBA{255, 255, 255, 255}) {
		t.Errorf("the margin is %v", c)
	}
}
