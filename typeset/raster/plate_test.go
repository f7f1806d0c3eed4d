package raster

import (
	"errors"
	"image"
	"image/color"
	"math"
	"os"
	"path/filepath"
	"testing"

	"bodkin/markup"
	"bodkin/markup/markuptest"
	"bodkin/typeset"
	"bodkin/typeset/internal/layouttest"
	"bodkin/typeset/length"
	"bodkin/typeset/pdf"
)

const pt = length.Point

// blank is a layout of three pages of 5 by 8 in without type.
func blank(tb testing.TB) *typeset.Layout {
	l := set(tb, sample, layouttest.Style{})
	l.Pages = make([]typeset.Page, 3)
	return l
}

// TestPlate: every dot shows what the picture has there, whether it is drawn
// larger, smaller, or far smaller than it is.
func TestPlate(t *testing.T) {
	for _, dots := range []int{40, 200, 2000} {
		drawing := layouttest.Drawing(dots, dots)
		l := blank(t)
		layouttest.Show(l, 0, layouttest.Save(t, drawing), typeset.Box{X: 50 * pt, Y: 100 * pt, Width: 200 * pt, Height: 80 * pt})
		img, err := Page(l, 0, Options{DPI: 144})
		if err != nil {
			t.Fatal(err)
		}
		gray := img.(*image.Gray)
		inside := image.Rect(100, 200, 500, 360)
		for y := range 1152 {
			for x := range 720 {
				want := uint8(255)
				if (image.Point{x, y}).In(inside) {
					u, v := (float64(x)+.5-100)/400, (float64(y)+.5-200)/160
					want = drawing.GrayAt(int(u*float64(dots)), int(v*float64(dots))).Y
					if near := 60 / float64(dots); math.Abs(u-.5) < near || math.Abs(v-.5) < near {
						continue // between two quarters
					}
				}
				if d := int(gray.GrayAt(x, y).Y) - int(want); d < -3 || d > 3 {
					t.Fatalf("%d dots, at %d,%d: %d, want %d", dots, x, y, gray.GrayAt(x, y).Y, want)
				}
			}
		}
	}
}

// TestSpreadPlate compares a picture across a spread, with type on it, with
// what mutool draws of the PDF of spreads. Both cut the bleed.
func TestSpreadPlate(t *testing.T) {
	l := set(t, sample, layouttest.Style{})
	l.Pages = append(l.Pages, l.Pages[0], typeset.Page{})
	drawing := layouttest.Drawing(600, 483)
	layouttest.Spread(l, 1, layouttest.Save(t, drawing), 9*pt)
	img, err := Spread(l, 1, Options{DPI: 72})
	if err != nil {
		t.Fatal(err)
	}
	got := img.(*image.Gray)
	if got.Rect.Size() != (image.Point{720, 576}) {
		t.Fatal(got.Rect)
	}
	path := filepath.Join(t.TempDir(), "book.pdf")
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := pdf.Write(f, l, pdf.Options{Spreads: true}); err != nil {
		t.Fatal(err)
	}
	f.Close()
	markuptest.Tool(t, "mutool", "draw", "-q", "-r", "72", "-c", "gray", "-o", path+".pgm", path, "2")
	data, err := os.ReadFile(path + ".pgm")
	if err != nil {
		t.Fatal(err)
	}
	want, err := readPGM(data)
	if err != nil {
		t.Fatal(err)
	}
	var total, far int
	for i := range got.Pix {
		d := int(got.Pix[i]) - int(want.Pix[i])
		d = max(d, -d)
		total += d
		if d > 48 {
			far++
		}
	}
	if mean := float64(total) / float64(len(got.Pix)); mean > 2 || far > len(got.Pix)/200 {
		t.Errorf("a dot differs by %.2f, and %d differ much", mean, far)
	}
	// The corners are those of the picture, less the bleed.
	for _, at := range []image.Point{{2, 2}, {717, 2}, {2, 573}, {717, 573}} {
		x, y := (float64(at.X)+9.5)/738*600, (float64(at.Y)+9.5)/594*483
		if d := int(got.GrayAt(at.X, at.Y).Y) - int(drawing.GrayAt(int(x), int(y)).Y); d < -3 || d > 3 {
			t.Errorf("at %v: off by %d", at, d)
		}
	}
}

// TestColourPlate: red stays red if it is to be printed so, and is a gray of
// its luminance if not.
func TestColourPlate(t *testing.T) {
	red := image.NewRGBA(image.Rect(0, 0, 900, 900))
	for i := 0; i < len(red.Pix); i += 4 {
		red.Pix[i], red.Pix[i+1], red.Pix[i+3] = 255, 51, 255
	}
	l := blank(t)
	layouttest.Show(l, 0, layouttest.Save(t, red), typeset.Box{X: 72 * pt, Y: 72 * pt, Width: 144 * pt, Height: 144 * pt})
	for _, test := range []struct {
		o    Options
		want color.Color
	}{
		{Options{DPI: 72}, color.Gray{Y: 133}}, // luminance 0.2126 + 0.7152 × 0.0331 = 0.2363
		{Options{DPI: 72, Guides: true}, color.RGBA{133, 133, 133, 255}},
		{Options{DPI: 72, Colour: true}, color.RGBA{255, 51, 0, 255}},
	} {
		img, err := Page(l, 0, test.o)
		if err != nil {
			t.Fatal(err)
		}
		if got := img.At(100, 100); got != test.want {
			t.Errorf("%+v: %v, want %v", test.o, got, test.want)
		}
		if got := color.GrayModel.Convert(img.At(40, 40)); got != (color.Gray{Y: 255}) {
			t.Errorf("%+v: paper is %v", test.o, got)
		}
	}
}

func TestPlateErrors(t *testing.T) {
	l := blank(t)
	layouttest.Show(l, 1, nil, typeset.Box{Width: 9, Height: 9})
	if _, err := Page(l, 1, Options{DPI: 72}); !errors.Is(err, errPlate) {
		t.Error(err)
	}
	layouttest.Show(l, 2, &markup.Picture{Pos: markup.Pos{File: "map.md", Line: 3}, Path: "lost.png"}, typeset.Box{Width: 9, Height: 9})
	_, err := Page(l, 2, Options{DPI: 72})
	if want := "raster: page 3, plate 1: map.md:3: picture lost.png: no such file or directory"; err == nil || err.Error() != want {
		t.Errorf("%v, want %s", err, want)
	}
}
