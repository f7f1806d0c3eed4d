package sheet

import (
	"bytes"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"bodkin/markup/markuptest"
	"bodkin/typeset"
	"bodkin/typeset/length"
	"bodkin/typeset/pdf"
)

func TestPaperFor(t *testing.T) {
	for _, c := range []struct{ language, want string }{
		{"en-US", "Letter"}, {"EN_us", "Letter"}, {"en-Latn-US", "Letter"}, {"fr-CA", "Letter"}, {"es-MX", "Letter"},
		{"en-GB", "A4"}, {"de", "A4"}, {"en", "A4"}, {"", "A4"}, {"es", "A4"}, {"de-x-US", "A4"}, {"us", "A4"},
	} {
		if got := PaperFor(c.language).Name; got != c.want {
			t.Errorf("%q prints on %s, want %s", c.language, got, c.want)
		}
	}
	if _, err := ParsePaper("legal"); err == nil || !strings.Contains(err.Error(), "letter or a4") {
		t.Errorf("legal: %v", err)
	}
	if p, err := ParsePaper("A4"); err != nil || p != A4() {
		t.Errorf("A4: %v, %v", p, err)
	}
}

func TestSay(t *testing.T) {
	for _, c := range []struct {
		length, inches, millimetres string
	}{
		{"1in", "1 in", "25.4 mm"}, {"8.5in", "8.5 in", "215.9 mm"}, {"13.64mm", "0.54 in", "13.6 mm"}, {"0", "0 in", "0 mm"}, {"100mm", "3.94 in", "100 mm"},
	} {
		v, err := length.Parse(c.length)
		if err != nil {
			t.Fatal(err)
		}
		if in, mm := say(v.Length, length.In), say(v.Length, length.Mm); in != c.inches || mm != c.millimetres {
			t.Errorf("%s is %s, %s; want %s, %s", c.length, in, mm, c.inches, c.millimetres)
		}
	}
}

// TestPaper has pdfinfo and qpdf read the papers: Letter is 612 by 792 pt, A4
// 595.28 by 841.89 (ISO 216, 210 by 297 mm).
func TestPaper(t *testing.T) {
	pocket, house := edition(t, "pocket", "A-format", size(9)), edition(t, "house", "5x8in", nil)
	for _, c := range []struct {
		paper Paper
		want  []string // the first sheet, two spreads of the pocket, two pages of the house
	}{
		{Letter(), []string{"612 x 792", "792 x 612", "792 x 612", "612 x 792", "612 x 792"}},
		{A4(), []string{"595.28 x 841.89", "841.89 x 595.28", "841.89 x 595.28", "595.28 x 841.89", "595.28 x 841.89"}},
	} {
		sheets, notes, path := made(t, c.paper, pocket, house)
		if len(notes) > 0 {
			t.Errorf("%s: %q", c.paper.Name, notes)
		}
		for n, pages := range []int{0, 2, 2, 1, 1} {
			if got := len(sheets.List[n].Pages); got != pages {
				t.Errorf("%s, sheet %d: %d pages, want %d", c.paper.Name, n+1, got, pages)
			}
		}
		markuptest.Tool(t, "qpdf", "--check", path)
		var got []string
		for _, m := range regexp.MustCompile(`size: +(\S+ x \S+) pts`).FindAllStringSubmatch(markuptest.Tool(t, "pdfinfo", "-f", "1", "-l", "99", path), -1) {
			got = append(got, m[1])
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: the sheets are %q, want %q", c.paper.Name, got, c.want)
		}
	}
}

// TestWords has pdftotext find the same passage and the captions.
func TestWords(t *testing.T) {
	editions := []Edition{edition(t, "house", "5x8in", nil), edition(t, "British", "B-format", size(10)), edition(t, "roomy", "6x9in", size(12))}
	_, _, path := made(t, A4(), editions...)
	first := markuptest.Tool(t, "pdftotext", "-f", "1", "-l", "1", path, "-")
	for _, want := range []string{"The Tide Clerk", "Print at 100 % (actual size); this bar must measure", "100 mm / 4 in", "B-format, 129 × 198 mm", "spine 6.5 mm (0.26 in)", "Order a physical proof before the first sale."} {
		if !strings.Contains(strings.Join(strings.Fields(first), " "), want) {
			t.Errorf("the first sheet lacks %q:\n%s", want, first)
		}
	}
	layouts := []*typeset.Layout{editions[0].Layout, editions[1].Layout, editions[2].Layout}
	places, words := passage(layouts)
	if places == nil || len(strings.Fields(words)) < 3 {
		t.Fatalf("no passage: %v %q", places, words)
	}
	for i, e := range editions {
		text := strings.Join(strings.Fields(markuptest.Tool(t, "pdftotext", "-f", fmt.Sprint(2+2*i), "-l", fmt.Sprint(2+2*i), path, "-")), " ")
		for _, want := range []string{letter(i) + " " + e.Name, e.kind(), e.pages()} {
			if !strings.Contains(text, strings.ReplaceAll(want, noBreak, " ")) {
				t.Errorf("%s: the sample lacks %q:\n%s", e.Name, want, text)
			}
		}
		if n := strings.Count(text, words); n != 2 { // on the page and below it
			t.Errorf("%s: %q stands %d times in the sample, want 2:\n%s", e.Name, words, n, text)
		}
		heading := ""
		for _, line := range e.Layout.Pages[opening(e.Layout, e.Layout.Pages[places[i].page].Section)].Lines {
			if line.Role == typeset.Heading {
				heading = beginning(&line)
			}
		}
		text = strings.Join(strings.Fields(markuptest.Tool(t, "pdftotext", "-f", fmt.Sprint(3+2*i), "-l", fmt.Sprint(3+2*i), path, "-")), " ")
		if heading == "" || !strings.Contains(text, heading) {
			t.Errorf("%s: the opening lacks %q:\n%s", e.Name, heading, text)
		}
	}
}

// TestTooLarge says what does not fit, and never scales.
func TestTooLarge(t *testing.T) {
	for _, c := range []struct {
		paper  Paper
		trim   string
		note   string // what it must say; "" for nothing
		sheets int
	}{
		{Letter(), "6x9in", "", 3},
		{A4(), "6x9in", "", 3},
		{A4(), "8.5x5.5in", "", 3},
		{A4(), "10x6in", "", 3}, // on its side
		{Letter(), "8.5x8.5in", "A, 8.5 × 8.5 in, is as wide as Letter, and home printers print nothing at the edges; all of its type shows, at actual size", 3},
		{A4(), "8.5x8.5in", "A, 8.5 × 8.5 in, is 5.9 mm wider than A4, and its sides run off the paper; all of its type shows, at actual size", 3},
		{A4(), "8x10in", "A, 8 × 10 in, leaves 3.4 mm of A4 on either side, where most home printers print nothing: these edges may not show; all of its type shows, at actual size", 3},
		{Letter(), "8.5x11in", "A, 8.5 × 11 in, is Letter itself, and home printers print nothing at the edges; all of its type shows, at actual size", 3},
		{A4(), "216x300mm", "A, 216 × 300 mm, is 6 mm wider and 3 mm higher than A4, and its edges run off the paper; all of its type shows, at actual size", 3},
		{A4(), "12x12in", "A, 12 × 12 in, is too large for A4: it has no sample pages; write them with bodkin proof and print on larger paper", 1},
	} {
		e := edition(t, "one", c.trim, func(s *typeset.Setting) {
			if c.trim == "216x300mm" { // wide enough that the type is on the paper
				inch := length.Value{Length: length.Inch}
				s.Margins = typeset.Margins{Back: typeset.Auto{Value: inch}, ForeEdge: inch, Head: inch, Foot: inch}
			}
		})
		sheets, notes, err := Make([]Edition{e}, c.paper)
		if err != nil {
			t.Fatal(err)
		}
		if got := strings.Join(notes, "\n"); got != c.note {
			t.Errorf("%s on %s: %q, want %q", c.trim, c.paper.Name, got, c.note)
		}
		if len(sheets.List) != c.sheets {
			t.Errorf("%s on %s: %d sheets, want %d", c.trim, c.paper.Name, len(sheets.List), c.sheets)
		}
		if c.trim == "10x6in" && sheets.List[1].Width < sheets.List[1].Height {
			t.Errorf("%s on %s: the paper does not lie on its side", c.trim, c.paper.Name)
		}
	}
}

func TestFaults(t *testing.T) {
	if _, _, err := Make(nil, A4()); err == nil {
		t.Error("no editions, and no error")
	}
	if _, _, err := Make([]Edition{{Name: "empty", Layout: new(typeset.Layout)}}, A4()); err == nil || !strings.Contains(err.Error(), "empty") {
		t.Errorf("an edition without pages: %v", err)
	}
}

// TestUnknownSpine leaves the band out and says so.
func TestUnknownSpine(t *testing.T) {
	e := edition(t, "one", "5x8in", nil)
	e.Spine = 0
	sheets, _, path := made(t, A4(), e)
	for _, r := range sheets.List[0].Rules {
		if r.Gray != 0 {
			t.Error("a band without a thickness")
		}
	}
	if text := markuptest.Tool(t, "pdftotext", "-l", "1", path, "-"); !strings.Contains(text, "the spine is not known") || strings.Contains(text, "gray bands") {
		t.Errorf("the first sheet says:\n%s", text)
	}
}

// TestForeignNames sets a name that no face of ours has without a hole.
func TestForeignNames(t *testing.T) {
	h, err := newHand()
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"読みやすい", "Крупный", "großzügig", "a\u00a0b"} {
		run := h.shape(span{bold, name})
		for _, g := range run.Glyphs {
			if g.ID == 0 {
				t.Errorf("%q: a glyph is missing in %s", name, run.Face.Family)
			}
		}
	}
}

func TestSameBytes(t *testing.T) {
	write := func() []byte {
		sheets, _, err := Make([]Edition{edition(t, "house", "5x8in", nil), edition(t, "roomy", "6x9in", size(12))}, Letter())
		if err != nil {
			t.Fatal(err)
		}
		var b bytes.Buffer
		if err := pdf.WriteSheets(&b, sheets, pdf.Options{}); err != nil {
			t.Fatal(err)
		}
		return b.Bytes()
	}
	if !bytes.Equal(write(), write()) {
		t.Error("two files of the same editions differ")
	}
}

// TestInside: whatever the trims, all that is not the edge of a trim is drawn
// where home printers print, and no mark lies on
// a page.
func TestInside(t *testing.T) {
	small := edition(t, "", "100x140mm", size(9))
	rapid.Check(t, func(r *rapid.T) {
		paper := rapid.SampledFrom([]Paper{Letter(), A4()}).Draw(r, "paper")
		var editions []Edition
		for i := range rapid.IntRange(1, 4).Draw(r, "editions") {
			l := *small.Layout // on larger pages, which are wide at the edges
			l.Trim = typeset.Size{Width: mm(rapid.Int64Range(100, 230).Draw(r, "width")), Height: mm(rapid.Int64Range(140, 300).Draw(r, "height"))}
			e := Edition{Name: fmt.Sprintf("number %d", i), Layout: &l, Spine: mm(rapid.Int64Range(0, 40).Draw(r, "spine"))}
			editions = append(editions, e)
		}
		sheets, _, err := Make(editions, paper)
		if err != nil {
			r.Fatal(err)
		}
		for n := range sheets.List {
			s := &sheets.List[n]
			var trims []typeset.Box
			for _, p := range s.Pages {
				trims = append(trims, typeset.Box{X: p.X, Y: p.Y, Width: p.Layout.Trim.Width, Height: p.Layout.Trim.Height})
			}
			if len(s.Pages) == 0 {
				for _, e := range editions {
					trims = append(trims, typeset.Box{X: edge, Y: edge, Width: e.Layout.Trim.Width, Height: e.Layout.Trim.Height})
				}
			}
			printed := typeset.Box{X: edge - hairline, Y: edge - hairline, Width: s.Width - 2*edge + 2*hairline, Height: s.Height - 2*edge + 2*hairline}
			for _, rule := range s.Rules {
				if onEdge(rule, trims) {
					continue
				}
				b := typeset.Box{X: min(rule.X0, rule.X1), Y: min(rule.Y0, rule.Y1)}
				b.Width, b.Height = max(rule.X0, rule.X1)-b.X+1, max(rule.Y0, rule.Y1)-b.Y+1
				if b.And(printed) != b {
					r.Fatalf("sheet %d: a rule at %v is not printed", n+1, b)
				}
				for _, trim := range trims {
					if len(s.Pages) > 0 && b.And(trim) != (typeset.Box{}) {
						r.Fatalf("sheet %d: the mark %v lies on the page %v", n+1, b, trim)
					}
				}
			}
			for _, line := range s.Lines {
				b := typeset.Box{X: line.X, Y: line.Y - captionSize, Width: line.Measure, Height: captionSize}
				if b.And(printed) != b {
					r.Fatalf("sheet %d: the line %q at %v is not printed", n+1, line.Runs[0].Glyphs.Text, b)
				}
			}
		}
	})
}

// onEdge reports whether a rule lies on the edge of a trim.
func onEdge(r pdf.Rule, trims []typeset.Box) bool {
	for _, t := range trims {
		if r.X0 == r.X1 && (r.X0 == t.X || r.X0 == t.X+t.Width) && min(r.Y0, r.Y1) >= t.Y && max(r.Y0, r.Y1) <= t.Y+t.Height ||
			r.Y0 == r.Y1 && (r.Y0 == t.Y || r.Y0 == t.Y+t.Height) && min(r.X0, r.X1) >= t.X-outlineWeight && max(r.X0, r.X1) <= t.X+t.Width+outlineWeight {
			return true
		}
	}
	return false
}
