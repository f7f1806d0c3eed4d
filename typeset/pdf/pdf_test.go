package pdf

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/pdfcpu/pdfcpu/pkg/api"
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/model"
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

	"bodkin/fonts"
	"bodkin/markup"
	"bodkin/markup/markuptest"
	"bodkin/typeset"
	"bodkin/typeset/internal/layouttest"
	"bodkin/typeset/length"
)

// kinds are the ways to write a file.
var kinds = map[string]Options{
	"press":   {},
	"reading": {Reading: true},
	"spreads": {Spreads: true, Reading: true},
	"guides":  {Guides: true, Safety: 18 * length.Point},
	"colour":  {Colour: true},
	"plain":   {Plain: true},
}

// illustrated is a layout with a bleed, and with pictures in the text, past the
// edges, and across a spread.
func illustrated(tb testing.TB) *typeset.Layout {
	l := set(tb, strings.Repeat(sample+"\n\n", 12), layouttest.Style{})
	l.Pages = l.Pages[:4]
	pic := layouttest.Save(tb, layouttest.Drawing(60, 80))
	layouttest.Show(l, 0, pic, typeset.Box{X: 90 * length.Point, Y: 100 * length.Point, Width: 120 * length.Point, Height: 160 * length.Point})
	layouttest.Spread(l, 1, layouttest.Save(tb, layouttest.Drawing(80, 64)), 9*length.Point)
	layouttest.Bleed(l, 3, pic, 9*length.Point)
	return l
}

// TestValid has each kind of file read by qpdf and by pdfcpu.
func TestValid(t *testing.T) {
	plain := set(t, strings.Repeat(sample+"\n\n", 12), layouttest.Style{})
	plain.Pages = plain.Pages[:4]
	for name, o := range kinds {
		for what, l := range map[string]*typeset.Layout{"plain": plain, "illustrated": illustrated(t)} {
			t.Run(name+" "+what, func(t *testing.T) {
				file := write(t, l, o)
				want := len(l.Pages)
				if o.Spreads {
					want = 3 // the first recto; a verso and a recto; the other verso
				}
				if got := open(t, file).PageCount; got != want {
					t.Errorf("%d pages, want %d", got, want)
				}
				out := markuptest.Tool(t, "qpdf", "--check", save(t, file))
				if !strings.Contains(out, "No syntax or stream encoding errors") || strings.Contains(out, "WARNING") {
					t.Error(out)
				}
				for _, key := range []string{"/Group", "/Names", "/EmbeddedFiles", "/OpenAction", "/Annots",
					"/SMask", "/Mask", "/Interpolate", "/ICCBased"} {
					if bytes.Contains(file, []byte(key)) {
						t.Errorf("the file has a %s", key)
					}
				}
			})
		}
	}
}

// TestBoxes checks the page boundaries as pdfinfo and pdfcpu read them, to
// 0.01 pt. The first is a recto, whose back edge is at the left.
func TestBoxes(t *testing.T) {
	trim, err := typeset.ParseTrim("129x198mm") // 365.669 by 561.260 pt
	if err != nil {
		t.Fatal(err)
	}
	type boxes struct{ Media, Trim, Bleed string }
	for _, test := range []struct {
		name   string
		o      Options
		bleed  length.Length
		back   bool
		first  boxes
		second boxes
	}{
		{"trim", Options{}, 0, false,
			boxes{"0.00 0.00 365.67 561.26", "0.00 0.00 365.67 561.26", "0.00 0.00 365.67 561.26"},
			boxes{"0.00 0.00 365.67 561.26", "0.00 0.00 365.67 561.26", "0.00 0.00 365.67 561.26"}},
		{"bleed", Options{}, 9 * length.Point, false,
			boxes{"0.00 0.00 374.67 579.26", "0.00 9.00 365.67 570.26", "0.00 0.00 374.67 579.26"},
			boxes{"0.00 0.00 374.67 579.26", "9.00 9.00 374.67 570.26", "0.00 0.00 374.67 579.26"}},
		{"bleed at the back", Options{Guides: true}, 9 * length.Point, true,
			boxes{"0.00 0.00 383.67 579.26", "9.00 9.00 374.67 570.26", "0.00 0.00 383.67 579.26"},
			boxes{"0.00 0.00 383.67 579.26", "9.00 9.00 374.67 570.26", "0.00 0.00 383.67 579.26"}},
		{"spreads", Options{Spreads: true}, 9 * length.Point, true,
			boxes{"0.00 0.00 731.34 561.26", "0.00 0.00 731.34 561.26", "0.00 0.00 731.34 561.26"},
			boxes{"0.00 0.00 731.34 561.26", "0.00 0.00 731.34 561.26", "0.00 0.00 731.34 561.26"}},
	} {
		t.Run(test.name, func(t *testing.T) {
			l := set(t, strings.Repeat(sample+"\n\n", 12), layouttest.Style{})
			l.Trim, l.Bleed, l.Setting.BleedBack = trim.Size(), test.bleed, test.back
			file := write(t, l, test.o)
			pages := len(l.Pages)
			if test.o.Spreads {
				pages = l.Spreads()
			}
			path := save(t, file)
			out, pagesOut := markuptest.Tool(t, "pdfinfo", "-box", "-f", "1", "-l", "999", path), markuptest.Tool(t, "mutool", "pages", path)
			all, err := api.Boxes(bytes.NewReader(file), nil, model.NewDefaultConfiguration())
			if err != nil || len(all) != pages {
				t.Fatalf("pdfcpu: %d pages, %v", len(all), err)
			}
			for box, want := range map[string][2]string{
				"Media": {test.first.Media, test.second.Media}, "Trim": {test.first.Trim, test.second.Trim},
				"Bleed": {test.first.Bleed, test.second.Bleed},
			} {
				lines := regexp.MustCompile(`(?m)^Page.*`+box+`Box:(.*)$`).FindAllStringSubmatch(out, -1)
				if len(lines) != pages {
					t.Fatalf("%d lines about the %sBox:\n%s", len(lines), box, out)
				}
				// <TrimBox l="0" b="9" r="360" t="585" />
				elements := regexp.MustCompile(`<`+box+`Box l="(.*)" b="(.*)" r="(.*)" t="(.*)" />`).FindAllStringSubmatch(pagesOut, -1)
				if len(elements) != pages && !(box == "Bleed" && test.bleed == 0 || test.o.Spreads) {
					t.Fatalf("mutool: %d elements for the %sBox:\n%s", len(elements), box, pagesOut)
				}
				for i, e := range elements {
					var edges []string
					for _, edge := range e[1:] {
						v, err := strconv.ParseFloat(edge, 64)
						if err != nil {
							t.Fatal(err)
						}
						edges = append(edges, fmt.Sprintf("%.2f", v))
					}
					if got := strings.Join(edges, " "); got != want[i%2] {
						t.Errorf("mutool, page %d: %sBox is %s, want %s", i+1, box, got, want[i%2])
					}
				}
				for i, line := range lines {
					if got := strings.Join(strings.Fields(line[1]), " "); got != want[i%2] {
						t.Errorf("%s, want %s", line[0], want[i%2])
					}
					rect := map[string]*types.Rectangle{"Media": all[i].MediaBox(), "Trim": all[i].TrimBox(), "Bleed": all[i].BleedBox()}[box]
					if got := fmt.Sprintf("%.2f %.2f %.2f %.2f", rect.LL.X, rect.LL.Y, rect.UR.X, rect.UR.Y); got != want[i%2] {
						t.Errorf("pdfcpu, page %d: %sBox is %s, want %s", i+1, box, got, want[i%2])
					}
				}
			}
		})
	}
}

// cff opens a CFF family of Debian's package fonts-texgyre.
func cff(t *testing.T) *fonts.Library {
	dir := t.TempDir()
	for _, style := range []string{"regular", "italic"} {
		name := "texgyretermes-" + style + ".otf"
		data, err := os.ReadFile("/usr/share/texmf/fonts/opentype/public/tex-gyre/" + name)
		if err != nil {
			t.Skip("no CFF face is installed: ", err)
		}
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	lib, err := fonts.Embedded().With(dir)
	if err != nil {
		t.Fatal(err)
	}
	return lib
}

// styles are faces of both kinds of outlines, and of 1000 and 1024 units.
func styles(t *testing.T, test func(*testing.T, layouttest.Style)) {
	for _, family := range []string{"EB Garamond", "Crimson Pro", "Libre Baskerville"} {
		t.Run(family, func(t *testing.T) { test(t, layouttest.Style{Family: family}) })
	}
	t.Run("CFF", func(t *testing.T) { test(t, layouttest.Style{Library: cff(t), Family: "TeX Gyre Termes"}) })
}

// TestFonts checks with pdffonts that every face is embedded, a subset, and
// has its Unicode map.
func TestFonts(t *testing.T) {
	styles(t, func(t *testing.T, s layouttest.Style) {
		out := markuptest.Tool(t, "pdffonts", save(t, write(t, set(t, sample, s), Options{})))
		lines := strings.Split(strings.TrimSpace(out), "\n")[2:]
		if len(lines) < 2 {
			t.Fatalf("fewer than two faces:\n%s", out)
		}
		for _, line := range lines {
			if !regexp.MustCompile(`^[A-Z]{6}\+\S+ +CID .* +Identity-H +yes yes yes `).MatchString(line) {
				t.Errorf("pdffonts: %s", line)
			}
		}
	})
}

// TestText reads the text back with pdftotext: it is the layout's, letter for
// letter, with its ligatures taken apart, small capitals in their own case,
// and a soft hyphen where a line divides a word. Spaces are not compared, since
// pdftotext parts raised figures and accents from their lines; see TestTextNovel.
func TestText(t *testing.T) {
	styles(t, func(t *testing.T, s layouttest.Style) {
		l := set(t, strings.ReplaceAll(strings.Repeat(sample+" and ", 6), "\n\n", " "), s)
		want := letters(layouttest.Text(l))
		for _, part := range []string{"\u00ad", "TheLongEbb", "office", "fjord", "first", "ALLofficesall", "well-known", "q\u0303", "returns.12"} {
			if !strings.Contains(want, part) {
				t.Fatalf("the text lacks %q: this test needs it", part)
			}
		}
		path := save(t, write(t, l, Options{}))
		if diff := cmp.Diff(want, letters(markuptest.Tool(t, "pdftotext", "-raw", "-enc", "UTF-8", path, "-"))); diff != "" {
			t.Errorf("-layout +pdftotext:\n%s", diff)
		}
		text := filepath.Join(t.TempDir(), "book.txt")
		markuptest.Tool(t, "mutool", "draw", "-q", "-F", "txt", "-o", text, path)
		got, err := os.ReadFile(text)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(want, letters(string(got))); diff != "" {
			t.Errorf("-layout +mutool:\n%s", diff)
		}
	})
}

func letters(s string) string { return strings.Join(strings.Fields(s), "") }

// TestTextNovel reads a whole novel back, word for word.
func TestTextNovel(t *testing.T) {
	l := novel(t)
	path := save(t, write(t, l, Options{}))
	words := func(s string) string { return strings.Join(strings.Fields(s), " ") }
	got, want := words(markuptest.Tool(t, "pdftotext", "-raw", "-enc", "UTF-8", path, "-")), words(layouttest.Text(l))
	if got != want {
		n := 0
		for n < min(len(got), len(want)) && got[n] == want[n] {
			n++
		}
		cut := func(s string) string { return s[max(0, n-60):min(len(s), n+60)] }
		t.Errorf("the text differs at byte %d:\n%q\nwant\n%q", n, cut(got), cut(want))
	}
}

// TestClusters checks what glyphs say that stand for letters together.
func TestClusters(t *testing.T) {
	face := &fonts.Face{}
	run := func(text string, clusters ...uint32) *fonts.Run {
		r := &fonts.Run{Face: face, Text: text}
		for _, c := range clusters {
			r.Glyphs = append(r.Glyphs, fonts.Glyph{Cluster: c})
		}
		return r
	}
	for _, test := range []struct {
		run  *fonts.Run
		want string
	}{
		{run("abc", 0, 1, 2), "1:a 1:b 1:c "},
		{run("office", 0, 1, 4, 5), "1:o 1:ffi 1:c 1:e "},
		{run("x\u0323\u0304y", 0, 0, 0, 5), "3:x\u0323\u0304 1:y "},
		{run("אבג", 4, 2, 0), "1:ג 1:ב 1:א "},
		{run("", []uint32{}...), ""},
	} {
		got := ""
		for cl := range clusters(test.run) {
			got += fmt.Sprintf("%d:%s ", cl.to-cl.from, cl.text)
		}
		if got != test.want {
			t.Errorf("%q: %s, want %s", test.run.Text, got, test.want)
		}
	}
}

// TestLetters checks which glyph of a cluster says what.
func TestLetters(t *testing.T) {
	for _, test := range []struct {
		text string
		n    int
		want string
	}{
		{"ffi", 1, "ffi"}, {"x\u0323\u0304", 3, "x|\u0323|\u0304"}, {"ff\u0304", 2, "ff|\u0304"},
		{"é", 2, "é"}, {"éà", 4, "é|à"}, {"", 1, ""},
	} {
		if got := strings.Join(appendLetters(nil, test.text, test.n), "|"); got != test.want {
			t.Errorf("%q to %d glyphs: %s, want %s", test.text, test.n, got, test.want)
		}
	}
}

// TestVoices: a glyph that says different things says each in its own voice.
func TestVoices(t *testing.T) {
	face, err := fonts.Embedded().Face("EB Garamond", fonts.Regular)
	if err != nil {
		t.Fatal(err)
	}
	f := &font{face: face, index: 1}
	for i, test := range []struct {
		gid  fonts.GID
		text string
		want int
	}{
		{5, "a", 0}, {5, "A", 1}, {5, "a", 0}, {6, "A", 0}, {6, "a", 1}, {5, "á", 2}, {5, "A", 1}, {6, "á", 2},
	} {
		if got := f.voice(test.gid, test.text); got != test.want {
			t.Errorf("%d: glyph %d says %s in voice %d, want %d", i, test.gid, test.text, got, test.want)
		}
	}
	if got := f.resource(0) + " " + f.resource(2); got != "F1 F1_3" {
		t.Error(got)
	}
}

// TestActualText: glyphs whose letters cannot be told apart. The face has no
// such cluster, so one is made of a letter and an accent that say é together.
func TestActualText(t *testing.T) {
	l := set(t, "caf? noir", layouttest.Style{})
	r := &l.Pages[0].Lines[0].Runs[0]
	glyphs := *r.Glyphs
	e, _ := glyphs.Face.GID('e')
	acute, _ := glyphs.Face.GID('\u00b4')
	glyphs.Text = "café"
	glyphs.Glyphs = append(append([]fonts.Glyph{}, glyphs.Glyphs[:3]...),
		fonts.Glyph{ID: e, Cluster: 3, Advance: glyphs.Face.Advance(e)},
		fonts.Glyph{ID: acute, Cluster: 3, DX: -400})
	r.Glyphs = &glyphs
	got := markuptest.Tool(t, "pdftotext", "-raw", "-enc", "UTF-8", save(t, write(t, l, Options{})), "-")
	if first, _, _ := strings.Cut(got, "\n"); first != "café noir" {
		t.Errorf("%q", first)
	}
}

// TestReading checks the outline and the page labels as pdfcpu and qpdf read them.
func TestReading(t *testing.T) {
	l := set(t, strings.Repeat(sample+"\n\n", 40), layouttest.Style{})
	labels := []string{"i", "ii", "1", "2", "3", "", "x (a)", "4"}
	if len(l.Pages) < len(labels) {
		t.Fatal(len(l.Pages))
	}
	l.Pages = l.Pages[:len(labels)]
	for i, label := range labels {
		l.Pages[i].Label = label
	}
	l.Entries = []typeset.Entry{{Title: "One (1)", Page: 0}, {Title: "Zweiter Teil: Ölzeug", Page: 4}, {Title: "Čeřen", Page: 4}}
	for _, spreads := range []bool{false, true} {
		o := Options{Reading: true, Spreads: spreads, Plain: true}
		file := write(t, l, o)
		bookmarks, err := api.Bookmarks(bytes.NewReader(file), model.NewDefaultConfiguration())
		if err != nil {
			t.Fatal(err)
		}
		got := ""
		for _, b := range bookmarks {
			got += fmt.Sprintf("%s %d; ", b.Title, b.PageFrom)
		}
		want := "One (1) 1; Zweiter Teil: Ölzeug 5; Čeřen 5; "
		if spreads {
			want = "One (1) 1; Zweiter Teil: Ölzeug 3; Čeřen 3; "
		}
		if got != want {
			t.Errorf("outline: %s, want %s", got, want)
		}
		want = "<</Nums[0<</P(i)>>\n1<</P(ii)>>\n2<</S/D/St 1>>\n5<</P()>>\n6<</P(x \\(a\\))>>\n7<</S/D/St 4>>\n]>>"
		if spreads {
			want = "<</Nums[0<</P(i)>>\n1<</P<FEFF0069006920130031>>>\n2<</P<FEFF003220130033>>>\n3<</P(x \\(a\\))>>\n4<</S/D/St 4>>\n]>>"
		}
		if !bytes.Contains(file, []byte("/PageLabels "+want)) {
			t.Errorf("no page labels %s", want)
		}
		markuptest.Tool(t, "qpdf", "--check", save(t, file))
	}
	if file := write(t, l, Options{}); bytes.Contains(file, []byte("/Outlines")) || bytes.Contains(file, []byte("/PageLabels")) {
		t.Error("a file for the press has an outline or labels")
	}
}

// TestInfo checks the document information as pdfinfo shows it.
func TestInfo(t *testing.T) {
	l := set(t, sample, layouttest.Style{})
	l.Title, l.Author = "Über (den) Fjord", ""
	file := write(t, l, Options{Date: time.Date(2026, 5, 6, 7, 8, 9, 0, time.UTC)})
	out := markuptest.Tool(t, "pdfinfo", "-isodates", save(t, file))
	for _, want := range []string{"Title: Über (den) Fjord", "Creator: bodkin", "Producer: bodkin",
		"CreationDate: 2026-05-06T07:08:09Z", "ModDate: 2026-05-06T07:08:09Z", "Encrypted: no", "PDF version: 1.4"} {
		key, value, _ := strings.Cut(want, ": ")
		if !regexp.MustCompile(`(?m)^` + key + `: +` + regexp.QuoteMeta(value) + `$`).MatchString(out) {
			t.Errorf("no %s in\n%s", want, out)
		}
	}
	if strings.Contains(out, "Author") {
		t.Error("an author who has no name")
	}
	for _, want := range []string{`/Trapped /False`, `/ID \[<[0-9A-F]{32}><[0-9A-F]{32}>\]`, `/Lang \(en-GB\)`} {
		if !regexp.MustCompile(want).Match(file) {
			t.Errorf("no %s", want)
		}
	}
}

// TestSame: the same layout gives the same bytes on any number of cores.
func TestSame(t *testing.T) {
	pic := layouttest.Save(t, layouttest.Drawing(60, 80))
	for name, o := range kinds {
		var first []byte
		for _, procs := range []int{1, 2, 2} {
			was := runtime.GOMAXPROCS(procs)
			l := set(t, strings.Repeat(sample+"\n\n", 9), layouttest.Style{})
			layouttest.Show(l, 0, pic, typeset.Box{Width: length.Inch, Height: length.Inch})
			file := write(t, l, o)
			runtime.GOMAXPROCS(was)
			if first == nil {
				first = file
			}
			if !bytes.Equal(first, file) {
				t.Errorf("%s: two files differ", name)
			}
		}
	}
	l := set(t, sample, layouttest.Style{})
	id := regexp.MustCompile(`/ID \[<[0-9A-F]{32}>`)
	a := id.Find(write(t, l, Options{}))
	l.Title += "!"
	if b := id.Find(write(t, l, Options{})); bytes.Equal(a, b) {
		t.Error("two books have one file identifier")
	}
}

type failing struct{ calls int }

func (f *failing) Write(p []byte) (int, error) {
	f.calls++
	return 0, os.ErrClosed
}

func TestErrors(t *testing.T) {
	good := set(t, sample, layouttest.Style{})
	broken := func(change func(*typeset.Layout)) *typeset.Layout {
		l := *set(t, sample, layouttest.Style{})
		change(&l)
		return &l
	}
	bogus := &fonts.Run{Face: good.Pages[0].Lines[0].Runs[0].Glyphs.Face, Text: "a", Glyphs: []fonts.Glyph{{ID: 65000}}}
	for _, test := range []struct {
		name string
		l    *typeset.Layout
		o    Options
		is   error
		says string
	}{
		{"nil", nil, Options{}, ErrEmpty, "no pages"},
		{"empty", &typeset.Layout{}, Options{}, ErrEmpty, "no pages"},
		{"trim", broken(func(l *typeset.Layout) { l.Trim.Width = 0 }), Options{}, nil, "not a page"},
		{"large", broken(func(l *typeset.Layout) { l.Trim.Width = length.Max }), Options{Spreads: true}, nil, "larger than"},
		{"bleed", broken(func(l *typeset.Layout) { l.Bleed = -1 }), Options{}, nil, "negative"},
		{"no picture", broken(func(l *typeset.Layout) { l.Pages[0].Plates = make([]typeset.Plate, 1) }), Options{}, errPlate, "page 1, plate 1"},
		{"lost picture", broken(func(l *typeset.Layout) {
			lost := &markup.Picture{Pos: markup.Pos{File: "map.md", Line: 3}, Path: "lost.png"}
			layouttest.Show(l, 0, lost, typeset.Box{Width: 9, Height: 9})
		}), Options{}, os.ErrNotExist, "map.md:3: picture lost.png: no such file"},
		{"run", broken(func(l *typeset.Layout) { l.Pages[0].Lines[2].Runs[1].Glyphs = nil }), Options{}, errNoGlyphs, "page 1, line 3"},
		{"no size", broken(func(l *typeset.Layout) { l.Pages[0].Lines[2].Runs[1].Size = 1 }), Options{}, errSize, "page 1, line 3"},
		{"size", broken(func(l *typeset.Layout) { l.Pages[0].Lines[2].Runs[1].Size = 1 << 60 }), Options{}, errSize, "page 1, line 3"},
		{"glyph", broken(func(l *typeset.Layout) { l.Pages[0].Lines[0].Runs[0].Glyphs = bogus }), Options{}, nil, "embedding EBGaramond-Regular"},
	} {
		w := &failing{}
		err := Write(w, test.l, test.o)
		if err == nil || !strings.Contains(err.Error(), test.says) || test.is != nil && !errors.Is(err, test.is) {
			t.Errorf("%s: %v, want %q", test.name, err, test.says)
		}
		if w.calls > 0 {
			t.Errorf("%s: something was written", test.name)
		}
	}
	w := &failing{}
	if err := Write(w, good, Options{}); !errors.Is(err, os.ErrClosed) || w.calls != 1 {
		t.Errorf("after %d calls: %v", w.calls, err)
	}
}
