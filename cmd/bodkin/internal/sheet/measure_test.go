package sheet

import (
	"bufio"
	"fmt"
	"image"
	"io"
	"os"
	"path/filepath"
	"testing"

	"bodkin/markup/markuptest"
	"bodkin/typeset/length"
)

// dpi is how fine the sheets are measured: a dot is 0.085 mm.
const dpi = 300

// picture has pdftoppm draw a sheet, counted from 1.
func picture(t *testing.T, path string, sheet int) *image.Gray {
	t.Helper()
	to := filepath.Join(t.TempDir(), fmt.Sprint(sheet))
	markuptest.Tool(t, "pdftoppm", "-r", fmt.Sprint(dpi), "-gray", "-singlefile", "-f", fmt.Sprint(sheet), "-l", fmt.Sprint(sheet), path, to)
	file, err := os.Open(to + ".pgm")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	r := bufio.NewReader(file)
	var width, height, most int
	if _, err := fmt.Fscanf(r, "P5\n%d %d\n%d\n", &width, &height, &most); err != nil || most != 255 {
		t.Fatalf("%s.pgm: not a gray picture of 8 bits: %v", to, err)
	}
	img := image.NewGray(image.Rect(0, 0, width, height))
	if _, err := io.ReadFull(r, img.Pix); err != nil {
		t.Fatal(err)
	}
	return img
}

// dots is a length in dots of the pictures, to the nearest.
func dots(l length.Length) int { return int(l.Scale(dpi, int64(length.Inch))) }

// across returns where a level line at y meets ink: the middle of each dark
// stretch, in half dots from the left.
func across(img *image.Gray, y length.Length) []int {
	return darks(img.Bounds().Dx(), func(n int) bool { return dark(img, n, dots(y)) })
}

// down does the same from the top, along an upright line at x.
func down(img *image.Gray, x length.Length) []int {
	return darks(img.Bounds().Dy(), func(n int) bool { return dark(img, dots(x), n) })
}

func dark(img *image.Gray, x, y int) bool {
	return img.GrayAt(x, y).Y < 0xa0
}

func darks(n int, dark func(int) bool) (at []int) {
	for i := 0; i < n; i++ {
		from := i
		for i < n && dark(i) {
			i++
		}
		if i > from {
			at = append(at, from+i)
		}
	}
	return at
}

// measures checks the way from the first of some marks to the others, to a dot.
func measures(t *testing.T, what string, at []int, want ...length.Length) {
	t.Helper()
	if len(at) != len(want)+1 {
		t.Errorf("%s: ink at %v half dots, want %d marks", what, at, len(want)+1)
		return
	}
	for i, w := range want {
		if got := at[i+1] - at[0]; got < 2*dots(w)-2 || got > 2*dots(w)+2 {
			t.Errorf("%s: mark %d is %d half dots from the first, want %d (%v)", what, i+2, got, 2*dots(w), w)
		}
	}
}

// TestTrueSize measures a print of the first sheet and of samples: 300 dots
// are an inch, 11.81 a millimetre.
func TestTrueSize(t *testing.T) {
	for _, paper := range []Paper{Letter(), A4()} {
		t.Run(paper.Name, func(t *testing.T) {
			sheets, _, path := made(t, paper, edition(t, "house", "5x8in", nil), edition(t, "British", "B-format", size(10)), edition(t, "roomy", "6x9in", size(12)))
			front := picture(t, path, 1)
			measures(t, "widths of the trims", across(front, edge+mm(4)), 5*length.Inch, mm(129), 6*length.Inch)
			measures(t, "heights of the trims", down(front, edge+mm(1))[:4], mm(198), 8*length.Inch, 9*length.Inch)

			line := paper.Height - edge - barHeight/2
			var tens []length.Length
			for n := range int64(10) {
				tens = append(tens, mm(10*n+10))
			}
			measures(t, "the bar in millimetres", across(front, line-tickLong+mm(1)/2)[:11], tens...)
			measures(t, "the bar in inches", across(front, line+tickLong-mm(1)/2)[:5], length.Inch, 2*length.Inch, 3*length.Inch, 4*length.Inch)

			bands := 0
			for _, r := range sheets.List[0].Rules {
				if r.Gray == 0 {
					continue
				}
				x, y := dots(r.X0+mm(2)), dots(r.Y0)
				up, below := y, y
				for ; !dark(front, x, up); up-- {
				}
				for ; !dark(front, x, below); below++ {
				}
				spine := mm(1).Scale(128*int64([]int{102, 88, 88}[bands]), 2000)
				if got := below - up; got < dots(spine)-1 || got > dots(spine)+1 {
					t.Errorf("spine %d is %d dots thick, want %d", bands+1, got, dots(spine))
				}
				bands++
			}
			if bands != 3 {
				t.Errorf("%d spines, want 3", bands)
			}

			for i, trim := range []struct{ width, height length.Length }{{5 * length.Inch, 8 * length.Inch}, {mm(129), mm(198)}, {6 * length.Inch, 9 * length.Inch}} {
				sample := picture(t, path, 3+2*i) // openings: no bar beside them
				left, top := (paper.Width-trim.width)/2, (paper.Height-trim.height)/2
				wide, high := across(sample, top-markOff-mm(2)), down(sample, left-markOff-mm(2))
				measures(t, "crop marks across", wide, trim.width)
				measures(t, "crop marks down", high, trim.height)
				if len(wide) > 0 && len(high) > 0 && (abs(wide[0]-2*dots(left)) > 2 || abs(high[0]-2*dots(top)) > 2) {
					t.Errorf("the first corner is at %d, %d half dots, want %d, %d: not in the middle", wide[0], high[0], 2*dots(left), 2*dots(top))
				}
			}
		})
	}
}

func abs(n int) int { return max(n, -n) }
