package report

import (
	"fmt"
	"image/color"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// printed prints the page as a browser does, on a paper, and returns the PDF.
func printed(t *testing.T, page, paper string) string {
	t.Helper()
	page = strings.Replace(page, "@page {", "@page { size: "+paper+";", 1)
	path := filepath.Join(t.TempDir(), "print.pdf")
	browser(t, saved(t, page), "--print-to-pdf="+path, "--no-pdf-header-footer")
	if _, err := os.Stat(path); err != nil {
		t.Fatal("nothing was printed")
	}
	return path
}

func output(t *testing.T, name string, args ...string) string {
	t.Helper()
	out, err := exec.Command(program(t, name), args...).Output()
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return string(out)
}

// word is a word on a printed page, in points.
type word struct {
	page                   int
	left, top, right, foot float64
	text                   string
}

var wordBox = regexp.MustCompile(`<page |<word xMin="([0-9.]+)" yMin="([0-9.]+)" xMax="([0-9.]+)" yMax="([0-9.]+)">([^<]*)</word>`)

func wordsOf(t *testing.T, pdf string) (all []word) {
	page := 0
	for _, m := range wordBox.FindAllStringSubmatch(output(t, "pdftotext", "-bbox", pdf, "-"), -1) {
		if m[1] == "" {
			page++
			continue
		}
		w := word{page: page, text: m[5]}
		for i, to := range []*float64{&w.left, &w.top, &w.right, &w.foot} {
			*to, _ = strconv.ParseFloat(m[i+1], 64)
		}
		all = append(all, w)
	}
	return all
}

// Printed on A4 and on Letter, the bars of the ruler measure 50 mm and 2 in,
// and the strips are as wide as the pages; the words are words.
func TestPrintIsTrue(t *testing.T) {
	t.Parallel()
	_, page := demoPage(t)
	for _, paper := range []struct {
		name string
		size string
	}{{"A4", "594.96 x 841.92"}, {"letter", "612 x 792"}} {
		pdf := printed(t, page, paper.name)
		if info := output(t, "pdfinfo", pdf); !strings.Contains(info, paper.size) {
			t.Errorf("%s: the paper is not %s:\n%s", paper.name, paper.size, info)
		}
		text := strings.Join(strings.Fields(output(t, "pdftotext", "-layout", pdf, "-")), " ")
		for _, want := range []string{"The Tide Clerk", "At a glance", "5 × 8 in, EB Garamond 11 pt on 14 pt", "both sides of each leaf", "Before you decide", "Order a physical proof before the first sale."} {
			if !strings.Contains(text, want) {
				t.Errorf("%s: %q is not in the text of the print", paper.name, want)
			}
		}
		const dpi = 300
		all := wordsOf(t, pdf)
		for _, bar := range []struct {
			number, unit string
			below        bool // its label stands below it
			inches       float64
		}{{"50", "mm", false, 50 / 25.4}, {"2", "in", true, 2}, {"A", "book", false, 5}, {"B", "roomy", false, 5.5}} {
			at, found := label(all, bar.number, bar.unit)
			if !found {
				t.Errorf("%s: there is no label %s %s", paper.name, bar.number, bar.unit)
				continue
			}
			top, high := at.foot, 12.0
			if bar.below {
				top, high = at.top-20, 20
			}
			got := longest(t, pdf, at.page, int(top*dpi/72), int(high*dpi/72), dpi)
			// The line at an end is half a point wide, and a dot is rounded.
			if math.Abs(got-bar.inches) > 0.5/72+2.0/dpi {
				t.Errorf("%s: %s %s is %.4f in long, not %.4f", paper.name, bar.number, bar.unit, got, bar.inches)
			} else {
				t.Logf("%s: %s %s is %.4f in, for %.4f", paper.name, bar.number, bar.unit, got, bar.inches)
			}
		}
	}
}

// label finds two words beside each other. The letter and the name of an
// edition stand at several places: the one above its sample has "lines" in
// its line.
func label(all []word, first, second string) (word, bool) {
	for i := 1; i < len(all); i++ {
		if all[i-1].text != first || all[i].text != second {
			continue
		}
		if first == "50" || first == "2" {
			return all[i], true
		}
		for _, w := range all {
			if w.page == all[i].page && w.text == "lines" && math.Abs(w.top-all[i].top) < 6 {
				return all[i], true
			}
		}
	}
	return word{}, false
}

// longest returns the longest stretch of ink in one row of dots, in inches, in
// a part of a printed page.
func longest(t *testing.T, pdf string, page, top, high, dpi int) float64 {
	t.Helper()
	base := filepath.Join(t.TempDir(), "part")
	output(t, "pdftoppm", "-png", "-gray", "-singlefile", "-r", fmt.Sprint(dpi), "-f", fmt.Sprint(page), "-l", fmt.Sprint(page),
		"-x", "0", "-y", fmt.Sprint(top), "-W", fmt.Sprint(9*dpi), "-H", fmt.Sprint(high), pdf, base)
	img := readImage(t, base+".png")
	most := 0
	for y := range img.Bounds().Dy() {
		run := 0
		for x := range img.Bounds().Dx() {
			if color.GrayModel.Convert(img.At(x, y)).(color.Gray).Y < 0xf0 {
				run++
				most = max(most, run)
			} else {
				run = 0
			}
		}
	}
	return float64(most) / float64(dpi)
}
