package layouttest

import (
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"bodkin/markup"
	"bodkin/typeset"
	"bodkin/typeset/length"
)

// Drawing is a gray picture in which no two corners are alike: quarters of 0
// and 80 above 160 and 240, and within each its own soft slope.
func Drawing(width, height int) *image.Gray {
	img := image.NewGray(image.Rect(0, 0, width, height))
	for y := range height {
		for x := range width {
			quarter := 2*(2*y/height) + 2*x/width
			img.SetGray(x, y, color.Gray{Y: uint8(80*quarter + 15*((2*x)%width)/width)})
		}
	}
	return img
}

// Save writes a picture file that lasts as long as the test.
func Save(tb testing.TB, img image.Image) *markup.Picture {
	tb.Helper()
	path := filepath.Join(tb.TempDir(), "drawing.png")
	f, err := os.Create(path)
	if err != nil {
		tb.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, img); err != nil {
		tb.Fatal(err)
	}
	return &markup.Picture{Pos: markup.Pos{File: "map.md", Line: 3}, Path: path, Alt: "a drawing"}
}

// Show puts a picture on the page at index i.
func Show(l *typeset.Layout, i int, pic *markup.Picture, b typeset.Box) *typeset.Plate {
	p := &l.Pages[i]
	p.Plates = append(p.Plates, typeset.Plate{X: b.X, Y: b.Y, Width: b.Width, Height: b.Height, Picture: pic})
	return &p.Plates[len(p.Plates)-1]
}

// Bleed gives the layout a bleed, and covers the page at index i with a
// picture, past every edge that is cut.
func Bleed(l *typeset.Layout, i int, pic *markup.Picture, bleed length.Length) {
	l.Bleed = bleed
	Show(l, i, pic, l.Paper(i)).Bleeds = true
}

// Spread gives the layout a bleed, and covers the verso at index i and the
// recto that faces it with one picture.
func Spread(l *typeset.Layout, i int, pic *markup.Picture, bleed length.Length) {
	l.Bleed = bleed
	whole := typeset.Box{X: -bleed, Y: -bleed, Width: 2 * (l.Trim.Width + bleed), Height: l.Trim.Height + 2*bleed}
	for _, page := range []int{i, i + 1} {
		p := Show(l, page, pic, whole)
		p.Bleeds, p.Clip = true, l.Paper(page)
		whole.X -= l.Trim.Width
	}
}
