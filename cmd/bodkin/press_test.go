package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"

	"bodkin/markup"
	"bodkin/markup/markuptest"
	"bodkin/typeset"

	"github.com/pdfcpu/pdfcpu/pkg/api"
)

// sample is a book that the press tests set.
type sample struct {
	name, path string
	letters    string // of the body, as they lie in the original; "" takes those of the manuscript as read
}

func samples(t *testing.T) []sample {
	tom, opticks := markuptest.TomSawyer(t), markuptest.Opticks(t)
	return []sample{
		{"the demonstration book", "../../testdata/tide-clerk", ""},
		{"the picture book", "../../testdata/night-ferry", ""},
		{"Tom Sawyer", tom.Path, tom.Letters},
		{"Opticks", opticks.Path, opticks.Letters},
	}
}

// The files that proof writes, as programs from outside see them: qpdf (the
// structure), pdfinfo (boxes and pages), pdffonts (faces), pdftotext (the
// text), pdfcpu (another reader).
func TestPressFiles(t *testing.T) {
	api.DisableConfigDir()
	for _, s := range samples(t) {
		t.Run(s.name, func(t *testing.T) {
			out := filepath.Join(t.TempDir(), "out.pdf")
			var stdout, stderr bytes.Buffer
			if code := run([]string{"proof", s.path, "-o", out}, &stdout, &stderr); code != 0 {
				t.Fatalf("exit %d: %s", code, &stderr)
			}
			l := layoutOf(t, s.path)

			if got := markuptest.Tool(t, "qpdf", "--check", out); !strings.Contains(got, "No syntax or stream encoding errors found") {
				t.Errorf("qpdf --check: %s", got)
			}
			if err := api.ValidateFile(out, nil); err != nil {
				t.Errorf("pdfcpu: %v", err)
			}
			if n, err := api.PageCountFile(out); err != nil || n != len(l.Pages) {
				t.Errorf("pdfcpu counts %d pages (%v), the layout has %d", n, err, len(l.Pages))
			}
			boxes(t, out, l)
			for _, line := range strings.Split(strings.TrimSpace(markuptest.Tool(t, "pdffonts", out)), "\n")[2:] {
				if !regexp.MustCompile(`^[A-Z]{6}\+.* yes yes yes +\d`).MatchString(line) {
					t.Errorf("not embedded, subset and with Unicode: %s", line)
				}
			}
			text := pressed(t, out, len(l.Pages))
			if s.letters == "" && len(l.Pages) > 40 && !strings.Contains(text, "the chair of the last tide clerk") {
				t.Error("a search for a chapter's first words, in small capitals, finds nothing")
			}
			if s.letters != "" {
				compare(t, s.letters, printed(t, out, l))
				return
			}
			// Notes and captions stand elsewhere than in the manuscript, so that
			// only the letters themselves can be compared: their order is
			// typeset.Check's.
			compare(t, sorted(bodyLetters(t, s.path)), sorted(printed(t, out, l)))
		})
	}
}

// layoutOf sets a book as proof does.
func layoutOf(t *testing.T, path string) *typeset.Layout {
	t.Helper()
	j, err := new(settingFlags).load(context.Background(), path)
	if err != nil {
		t.Fatal(err)
	}
	l, err := j.composer.Compose(context.Background(), j.setting)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// pressed has programs from outside look for what makes a file fit for the
// press: pdfinfo (the standard that it claims, ISO 15930-4), pdfimages (colour
// spaces), Ghostscript (ink on the separations), mutool (repairs).
// It returns the text as a search without regard to case sees it.
func pressed(t *testing.T, path string, pages int) string {
	t.Helper()
	about := markuptest.Tool(t, "pdfinfo", path)
	for _, want := range []string{"Standard:      ISO 15930-4\n", "PDF version:     1.4\n", "Encrypted:       no\n", "JavaScript:      no\n", "Metadata Stream: yes\n"} {
		if !strings.Contains(about, want) {
			t.Errorf("no %q in\n%s", want, about)
		}
	}
	list := markuptest.Tool(t, "pdfimages", "-list", path)
	if pictures := regexp.MustCompile(`(?m)^ +\d+ +\d+ `).FindAllString(list, -1); len(pictures) != strings.Count(list, " gray ") {
		t.Errorf("a picture is not gray:\n%s", list)
	}
	ink := regexp.MustCompile(`(?m)^ *([0-9.]+) +([0-9.]+) +([0-9.]+) +([0-9.]+) CMYK OK`).FindAllStringSubmatch(
		markuptest.Tool(t, "gs", "-q", "-dSAFER", "-dBATCH", "-dNOPAUSE", "-sDEVICE=inkcov", "-r36", "-sOutputFile=-", path), -1)
	black := false
	for i, plates := range ink {
		black = black || strings.Trim(plates[4], "0.") != ""
		if strings.Trim(plates[1]+plates[2]+plates[3], "0.") != "" {
			t.Errorf("page %d has ink besides black: %v", i+1, plates[1:])
		}
	}
	if len(ink) != pages || !black {
		t.Errorf("Ghostscript prints %d of %d pages, with black ink: %v", len(ink), pages, black)
	}
	if said := markuptest.Tool(t, "mutool", "info", path); strings.Contains(said, "error") || strings.Contains(said, "warning") || strings.Contains(said, "repair") {
		t.Errorf("mutool: %s", said)
	}
	text := strings.ToLower(markuptest.Tool(t, "pdftotext", path, "-"))
	for _, word := range []string{"office", "first", "find", "float"} { // ligatures, in all books but that of pictures
		if !strings.Contains(text, word) && pages > 40 {
			t.Errorf("a search for %q finds nothing", word)
		}
	}
	if info, err := os.Stat(path); err != nil || info.Size() > 2<<20 {
		t.Errorf("the file has %d bytes (%v)", info.Size(), err)
	}
	return strings.Join(strings.Fields(text), " ")
}

func boxes(t *testing.T, path string, l *typeset.Layout) {
	t.Helper()
	got := markuptest.Tool(t, "pdfinfo", "-box", "-f", "1", "-l", fmt.Sprint(len(l.Pages)), path)
	found := 0
	for _, m := range regexp.MustCompile(`(?m)^Page +\d+ (Media|Trim)Box: +(.*)$`).FindAllStringSubmatch(got, -1) {
		paper := l.Paper(found / 2) // the two boxes of a page follow each other
		x, y, size := 0.0, 0.0, typeset.Size{Width: paper.Width, Height: paper.Height}
		if m[1] == "Trim" {
			x, y, size = (-paper.X).Points(), l.Bleed.Points(), l.Trim
		}
		want := fmt.Sprintf("%.2f %.2f %.2f %.2f", x, y, x+size.Width.Points(), y+size.Height.Points())
		if found++; strings.Join(strings.Fields(m[2]), " ") != want {
			t.Errorf("%s, want %s", m[0], want)
		}
	}
	if found != 2*len(l.Pages) {
		t.Errorf("%d boxes on %d pages", found, len(l.Pages))
	}
}

// printed returns the letters that pdftotext finds in the text blocks of the
// pages from the first of the body on, without running heads and folios.
func printed(t *testing.T, path string, l *typeset.Layout) string {
	t.Helper()
	first := 0
	for l.Pages[first].Label != "1" {
		first++
	}
	b := &l.Block
	top := (l.Bleed + b.Baseline - b.Leading).Points()
	bottom := (l.Bleed + b.Baseline).Points() + (float64(b.Rows)+0.4)*b.Leading.Points() // a page may run a line long
	text := markuptest.Tool(t, "pdftotext", "-r", "72", "-f", fmt.Sprint(first+1), "-x", "0", "-y", fmt.Sprintf("%.0f", top),
		"-W", fmt.Sprintf("%.0f", (l.Trim.Width+2*l.Bleed).Points()), "-H", fmt.Sprintf("%.0f", bottom-top), path, "-")
	return lettersOnly(text)
}

func sorted(s string) string {
	r := []rune(lettersOnly(s))
	slices.Sort(r)
	return string(r)
}

// lettersOnly leaves out figures, which the program adds as numbers of notes
// and list items.
func lettersOnly(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) {
			return r
		}
		return -1
	}, s)
}

// bodyLetters returns the letters of the body and back of a manuscript.
func bodyLetters(t *testing.T, path string) string {
	t.Helper()
	j, err := new(settingFlags).load(context.Background(), path)
	if err != nil {
		t.Fatal(err)
	}
	body := *j.book
	body.Sections = nil
	for _, s := range j.book.Sections {
		if s.Matter != markup.Front {
			body.Sections = append(body.Sections, s)
		}
	}
	var letters strings.Builder
	for r := range body.Letters(true) {
		letters.WriteRune(r)
	}
	return letters.String()
}

func compare(t *testing.T, want, got string) {
	t.Helper()
	w, g := []rune(lettersOnly(want)), []rune(got)
	for i := range min(len(w), len(g)) {
		if w[i] != g[i] {
			t.Fatalf("letter %d of %d: the PDF has %q, the manuscript %q", i, len(w),
				string(g[i:min(i+40, len(g))]), string(w[i:min(i+40, len(w))]))
		}
	}
	if len(w) != len(g) {
		t.Errorf("the PDF has %d letters, the manuscript %d", len(g), len(w))
	}
}

// The same book gives the same bytes on one core and on two.
func TestSameBytes(t *testing.T) {
	for _, s := range samples(t) {
		var first []byte
		for _, cores := range []string{"1", "2", "2"} {
			out := filepath.Join(t.TempDir(), "out.pdf")
			c := exec.Command(os.Args[0], "proof", s.path, "-o", out)
			c.Env = append(os.Environ(), "GOMAXPROCS="+cores, "BODKIN_TEST_RUN=1")
			if got, err := c.CombinedOutput(); err != nil {
				t.Fatalf("%s: %v\n%s", s.name, err, got)
			}
			file, err := os.ReadFile(out)
			if err != nil {
				t.Fatal(err)
			}
			if first == nil {
				first = file
			}
			if !bytes.Equal(file, first) {
				t.Errorf("%s: other bytes with GOMAXPROCS=%s", s.name, cores)
			}
		}
	}
}

// What the README shows of the demonstration book is what the program prints.
func TestReadmeIsTrue(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	var stdout, stderr bytes.Buffer
	if code := run([]string{"proof", "../../testdata/tide-clerk", "-o", filepath.Join(t.TempDir(), "proof.pdf")}, &stdout, &stderr); code != 0 {
		t.Fatalf("exit %d: %s", code, &stderr)
	}
	for _, line := range strings.Split(stdout.String(), "\n") {
		if !strings.HasPrefix(line, "  ") || strings.HasPrefix(line, "  file") {
			continue
		}
		if !strings.Contains(string(readme), "\n    "+line+"\n") {
			t.Errorf("the README does not have the line %q", line)
		}
	}
}
