package pdf

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"bodkin/markup"
	"bodkin/markup/markuptest"
	"bodkin/typeset"
	"bodkin/typeset/internal/layouttest"
	"bodkin/typeset/length"
	"bodkin/typeset/picture"
)

// TestImages: pdfimages finds each file once, in the form that suits it.
func TestImages(t *testing.T) {
	const inch = length.Inch
	l := set(t, strings.Repeat(sample+"\n\n", 12), layouttest.Style{})
	gray := layouttest.Drawing(300, 400)
	colour := image.NewRGBA(gray.Rect)
	two := image.NewPaletted(gray.Rect, color.Palette{color.Black, color.White})
	for y := range 400 {
		for x := range 300 {
			v := gray.GrayAt(x, y).Y
			colour.SetRGBA(x, y, color.RGBA{v, 255 - v, 128, 255})
			two.SetColorIndex(x, y, v>>7)
		}
	}
	var soft bytes.Buffer
	if err := jpeg.Encode(&soft, gray, nil); err != nil {
		t.Fatal(err)
	}
	photo := &markup.Picture{Path: filepath.Join(t.TempDir(), "photo.jpg")}
	if err := os.WriteFile(photo.Path, soft.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	pic := layouttest.Save(t, gray)
	box := typeset.Box{X: inch, Y: inch, Width: 2 * inch, Height: 2 * inch * 4 / 3}
	layouttest.Show(l, 0, pic, box)
	layouttest.Show(l, 1, layouttest.Save(t, two), box)
	layouttest.Show(l, 1, &markup.Picture{Path: filepath.Dir(pic.Path) + "/./drawing.png"}, box) // the first file by another name
	layouttest.Show(l, 2, layouttest.Save(t, colour), typeset.Box{Width: inch, Height: inch * 4 / 3})
	layouttest.Show(l, 3, photo, box)

	// The columns of pdfimages -list: page, width, height, colour, components,
	// bits, encoding, object, resolution across and down.
	line := regexp.MustCompile(`(?m)^ +(\d+) +\d+ image +(\d+) +(\d+) +(\w+) +(\d) +(\d) +(\w+) +no +(\d+) +0 +(\d+) +(\d+) `)
	for _, test := range []struct {
		o    Options
		want string
	}{
		{Options{}, "1 300x400 gray 1 8 image A 150 150; 2 300x400 gray 1 1 image B 150 150; 2 300x400 gray 1 8 image A 150 150; " +
			"3 300x400 gray 1 8 image C 300 300; 4 300x400 gray 1 8 jpeg D 150 150; "},
		{Options{Colour: true}, "1 300x400 gray 1 8 image A 150 150; 2 300x400 gray 1 1 image B 150 150; 2 300x400 gray 1 8 image A 150 150; " +
			"3 300x400 cmyk 4 8 image C 300 300; 4 300x400 gray 1 8 jpeg D 150 150; "},
	} {
		file := write(t, l, test.o)
		path := save(t, file)
		out := markuptest.Tool(t, "pdfimages", "-list", path)
		got, names, objects := "", map[string]string{}, []string{}
		for _, m := range line.FindAllStringSubmatch(out, -1) {
			name, ok := names[m[8]]
			if !ok {
				name = string(rune('A' + len(names)))
				names[m[8]] = name
				objects = append(objects, m[8])
			}
			got += fmt.Sprintf("%s %sx%s %s %s %s %s %s %s %s; ", m[1], m[2], m[3], m[4], m[5], m[6], m[7], name, m[9], m[10])
		}
		if got != test.want {
			t.Errorf("%+v\n got %s\nwant %s\n%s", test.o, got, test.want, out)
		}
		if n := bytes.Count(file, []byte("/Subtype /Image")); n != 4 || len(objects) != 4 {
			t.Fatalf("%d images, %v", n, objects)
		}
		// What qpdf unpacks is what the files decode to.
		for i, pic := range []*markup.Picture{pic, l.Pages[1].Plates[0].Picture, l.Pages[2].Plates[0].Picture} {
			img, err := picture.Decode(context.Background(), pic.Path, picture.Options{Colour: test.o.Colour})
			if err != nil {
				t.Fatal(err)
			}
			if data := markuptest.Tool(t, "qpdf", "--show-object="+objects[i], "--filtered-stream-data", path); data != string(img.Pix) {
				t.Errorf("image %c: qpdf unpacks other pixels", 'A'+i)
			}
		}
	}
}

// TestContent: the right half of a spread is drawn as the package says.
func TestContent(t *testing.T) {
	l := set(t, strings.Repeat(sample+"\n\n", 12), layouttest.Style{})
	layouttest.Spread(l, 1, layouttest.Save(t, layouttest.Drawing(9, 9)), 9*length.Point)
	file := write(t, l, Options{Plain: true})
	for _, want := range []string{
		"q\n0 0 369 594 re W n\n738 0 0 594 0 0 cm\n/I1 Do\nQ\n",
		"q\n0 0 369 594 re W n\n738 0 0 594 -369 0 cm\n/I1 Do\nQ\n",
	} {
		if n := bytes.Count(file, []byte(want)); n != 1 {
			t.Errorf("%d times %q", n, want)
		}
	}
}

// TestFilter: PNG's filters, undone as ISO/IEC 15948, 9.2 says, give the row.
func TestFilter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		back := rapid.SampledFrom([]int{1, 4}).Draw(t, "bytes of a pixel")
		stride := back * rapid.IntRange(1, 9).Draw(t, "width")
		f := newFilter(stride, back)
		above := make([]byte, stride)
		for range rapid.IntRange(1, 5).Draw(t, "height") {
			row := rapid.SliceOfN(rapid.Byte(), stride, stride).Draw(t, "row")
			filtered := f.row(row)
			got := make([]byte, stride)
			for i := range got {
				a, b, c := 0, int(above[i]), 0
				if i >= back {
					a, c = int(got[i-back]), int(above[i-back])
				}
				p := a + b - c
				paeth := c
				abs := func(n int) int { return max(n, -n) }
				if pa, pb, pc := abs(p-a), abs(p-b), abs(p-c); pa <= pb && pa <= pc {
					paeth = a
				} else if pb <= pc {
					paeth = b
				}
				got[i] = filtered[1+i] + byte([]int{0, a, b, (a + b) / 2, paeth}[filtered[0]])
			}
			if !bytes.Equal(got, row) {
				t.Fatalf("filter %d: %v, want %v", filtered[0], got, row)
			}
			above = row
		}
	})
}

// drawn has pdftoppm and mutool draw a page at 72 dots to the inch, where a
// dot is a point, and hands each picture to a test.
func drawn(t *testing.T, file []byte, page int, test func(t *testing.T, img *image.Gray)) {
	path := save(t, file)
	out := strings.TrimSuffix(path, ".pdf")
	n := fmt.Sprint(page)
	t.Run("pdftoppm", func(t *testing.T) {
		markuptest.Tool(t, "pdftoppm", "-gray", "-r", "72", "-f", n, "-l", n, "-singlefile", path, out)
		test(t, readPGM(t, out+".pgm"))
	})
	t.Run("mutool", func(t *testing.T) {
		markuptest.Tool(t, "mutool", "draw", "-q", "-r", "72", "-c", "gray", "-o", out+"-mu.pgm", path, n)
		test(t, readPGM(t, out+"-mu.pgm"))
	})
}

func readPGM(t *testing.T, path string) *image.Gray {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var w, h, most int
	if _, err := fmt.Sscanf(string(data), "P5\n%d %d\n%d\n", &w, &h, &most); err != nil {
		// mutool writes a comment below the first line
		rest := data[bytes.IndexByte(data[3:], '\n')+4:]
		if _, err := fmt.Sscanf(string(rest), "%d %d\n%d\n", &w, &h, &most); err != nil {
			t.Fatal(err)
		}
	}
	return &image.Gray{Pix: data[len(data)-w*h:], Stride: w, Rect: image.Rect(0, 0, w, h)}
}

// TestDrawn: pictures stand where the layout has them, on paper with bleed,
// cut by their clip, and upright.
func TestDrawn(t *testing.T) {
	const pt = length.Point
	l := set(t, strings.Repeat(sample+"\n\n", 12), layouttest.Style{})
	l.Pages = l.Pages[:3]
	for i := range l.Pages {
		l.Pages[i].Lines = nil
	}
	drawing := layouttest.Drawing(400, 400)
	layouttest.Show(l, 0, layouttest.Save(t, drawing), typeset.Box{X: 50 * pt, Y: 100 * pt, Width: 200 * pt, Height: 80 * pt})
	layouttest.Spread(l, 1, layouttest.Save(t, drawing), 9*pt)
	at := func(x, y float64, box [4]float64) uint8 { // of the drawing, shown in a box x, y, width, height
		return drawing.GrayAt(int((x-box[0])/box[2]*400), int((y-box[1])/box[3]*400)).Y
	}
	check := func(page, width, height int, box [4]float64, inside image.Rectangle) func(*testing.T, *image.Gray) {
		return func(t *testing.T, img *image.Gray) {
			if img.Rect.Dx() != width || img.Rect.Dy() != height {
				t.Fatalf("page %d: %v", page, img.Rect)
			}
			for y := range height {
				for x := range width {
					got := img.GrayAt(x, y).Y
					want := uint8(255)
					switch p := (image.Point{x, y}); {
					case p.In(inside.Inset(1)):
						cx, cy := float64(x)+.5, float64(y)+.5
						want = at(cx, cy, box)
						if math.Abs(cx-box[0]-box[2]/2) < 2 || math.Abs(cy-box[1]-box[3]/2) < 2 {
							continue // between two quarters
						}
					case p.In(inside.Inset(-1)):
						continue // the edge
					}
					if d := int(got) - int(want); d < -3 || d > 3 {
						t.Fatalf("page %d at %d,%d: %d, want %d", page, x, y, got, want)
					}
				}
			}
		}
	}
	// 5 by 8 in, with a bleed of 9 pt on three sides.
	file := write(t, l, Options{})
	drawn(t, file, 1, check(1, 369, 594, [4]float64{50, 109, 200, 80}, image.Rect(50, 109, 250, 189)))
	drawn(t, file, 2, check(2, 369, 594, [4]float64{0, 0, 738, 594}, image.Rect(0, 0, 369, 594)))
	drawn(t, file, 3, check(3, 369, 594, [4]float64{-369, 0, 738, 594}, image.Rect(0, 0, 369, 594)))
	// Side by side the halves are one picture; the bleed is cut.
	file = write(t, l, Options{Spreads: true})
	drawn(t, file, 2, func(t *testing.T, img *image.Gray) {
		for y := range 576 { // the fold is ruled
			img.SetGray(360, y, img.GrayAt(358, y))
			img.SetGray(359, y, img.GrayAt(358, y))
		}
		check(2, 720, 576, [4]float64{-9, -9, 738, 594}, image.Rect(0, 0, 720, 576))(t, img)
	})
}
