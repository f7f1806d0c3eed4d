package typeset

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bodkin/fonts"
	"bodkin/markup"
	"bodkin/typeset/length"

	"pgregory.net/rapid"
)

// ISO 216 gives A5 and A6; the other names are common practice (from memory).
func TestParseTrim(t *testing.T) {
	for _, c := range []struct{ in, out, width, height string }{
		{"5x8in", "5x8in", "5in", "8in"},
		{"5 × 8 in", "5x8in", "5in", "8in"},
		{"5inx8in", "5x8in", "5in", "8in"},
		{"5inx203mm", "5inx203mm", "5in", "203mm"},
		{"129x198mm", "129x198mm", "129mm", "198mm"},
		{"5.25X8in", "5.25x8in", "5.25in", "8in"},
		{"a5", "A5", "148mm", "210mm"},
		{"A6", "A6", "105mm", "148mm"},
		{"Digest", "digest", "5.5in", "8.5in"},
		{"b-format", "B-format", "129mm", "198mm"},
	} {
		got, err := ParseTrim(c.in)
		if err != nil || got.String() != c.out || got.Width.String() != c.width || got.Height.String() != c.height {
			t.Errorf("%q is %v, %v by %v (%v)", c.in, got, got.Width, got.Height, err)
		}
	}
	for in, want := range map[string]string{
		"": "neither a size", "A9": "neither a size", "5x8": "no unit", "5x8cm": "no unit", "1x8in": "not a page",
		"5x40in": "not a page", "x8in": "decimal number", "-5x8in": "not a page", "5x8x9in": "decimal number",
	} {
		if got, err := ParseTrim(in); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q is %v, %v; want an error with %q", in, got, err, want)
		}
	}
}

// What a setting's words read is what they write.
func TestTextsReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		percent := rapid.Int64Range(100, 9999).Draw(t, "tenths of a percent")
		for _, l := range []Leading{
			{Kind: Percent, Thousandth: percent},
			{Kind: Multiple, Thousandth: rapid.Int64Range(1, 99999).Draw(t, "thousandths")},
		} {
			var back Leading
			if err := back.UnmarshalText([]byte(l.String())); err != nil || back != l {
				t.Fatalf("%v reads back as %v (%v)", l, back, err)
			}
		}
		w := Widen(rapid.Int64Range(0, 15).Draw(t, "widen"))
		var back Widen
		if err := back.UnmarshalText([]byte(w.String())); err != nil || back != w {
			t.Fatalf("%v reads back as %v (%v)", w, back, err)
		}
	})
	for _, bad := range []string{"", "14", "127", "12.75%%", "lines", "-1 lines", "1.2345 lines", "12.55%", "1e2%"} {
		if err := new(Leading).UnmarshalText([]byte(bad)); err == nil {
			t.Errorf("a leading of %q is taken", bad)
		}
	}
	for _, bad := range []string{"", "1", "2%", "1.55%", "-1%"} {
		if err := new(Widen).UnmarshalText([]byte(bad)); err == nil {
			t.Errorf("a widening of %q is taken", bad)
		}
	}
}

// A word processor's line spacing is a multiple of ascent, descent and line
// gap together: EB Garamond has 1007 + 298 of 1000.
func TestLeadingAt(t *testing.T) {
	face, err := fonts.Embedded().Face("EB Garamond", fonts.Regular)
	if err != nil {
		t.Fatal(err)
	}
	size := 10 * length.Point
	for text, want := range map[string]length.Length{
		"14pt": 14 * length.Point, "127%": length.Point * 127 / 10, "1 lines": size * 1305 / 1000, "1.4 lines": size * 1827 / 1000,
	} {
		var l Leading
		if err := l.UnmarshalText([]byte(text)); err != nil {
			t.Fatal(err)
		}
		if got := l.At(size, face); got-want > 1 || want-got > 1 {
			t.Errorf("%s of %v is %v, want %v", text, size, got, want)
		}
	}
}

func TestSettingsThatMakeNoPage(t *testing.T) {
	book := short(t, "# One\n\nText.\n")
	for _, c := range []struct {
		want   string
		change func(*Setting)
	}{
		{"size", func(s *Setting) { s.Size.Length = 2 * length.Point }},
		{"leading", func(s *Setting) { s.Leading.Value.Length = 5 * length.Point }},
		{"narrow the margins", func(s *Setting) { s.Margins.ForeEdge.Length = 3 * length.Inch }},
		{"fewer than 8 lines", func(s *Setting) { s.Margins.Head.Length = 6 * length.Inch }},
		{"edge of the paper", func(s *Setting) { s.Margins.ForeEdge.Length = 0 }},
		{"edge of the paper", func(s *Setting) { s.Margins.Back = Auto{} }},
		{"running head", func(s *Setting) { s.Margins.Head.Length = length.Inch / 4 }},
		{"page number", func(s *Setting) { s.Margins.Foot.Length = length.Inch / 4 }},
		{"indent", func(s *Setting) { s.Indent = Auto{Value: length.Value{Length: -length.Inch}} }},
		{"heading-size", func(s *Setting) { s.HeadingSize = Auto{} }},
		{"sink", func(s *Setting) { s.Sink = 60 }},
		{"drop-lines", func(s *Setting) { s.DropLines = 9 }},
		{"scene-break", func(s *Setting) { s.SceneBreak = "龍" }},
		{"there is no face called", func(s *Setting) { s.Face = "Garamund" }},
	} {
		s := Default()
		c.change(&s)
		if _, err := Compose(context.Background(), short(t, "# One\n\nText.\n\n* * *\n\nMore.\n"), s, Resources{}); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("got %v, want an error with %q", err, c.want)
		} else if strings.Contains(err.Error(), "\n") {
			t.Errorf("%q is more than one line", err)
		}
	}
	if _, err := Compose(context.Background(), book, Default(), Resources{}); err != nil {
		t.Error(err)
	}
}

// short is a book of one file.
func short(t testing.TB, text string) *markup.Book {
	t.Helper()
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "a.md"), []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	return load(t, markup.Source{Dir: dir, Title: "Short", Body: []string{"a.md"}})
}

func TestComposeIsCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Compose(ctx, short(t, "# One\n\nText.\n"), Default(), Resources{}); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
}

// Check finds what is lost, added and changed.
func TestCheckFindsLostText(t *testing.T) {
	book := short(t, "# One\n\nText, and more of it.\n\n> A letter!\n")
	l := compose(t, NewComposer(book, Resources{}), Default())
	if err := Check(book, l); err != nil {
		t.Fatal(err)
	}
	page := func() *Page {
		for i := range l.Pages {
			if l.Pages[i].Label == "1" {
				return &l.Pages[i]
			}
		}
		t.Fatal("no page 1")
		return nil
	}()
	whole := page.Lines
	for name, lines := range map[string][]Line{
		"the last line is lost":   whole[:len(whole)-2],
		"a line is lost":          append(append([]Line(nil), whole[:1]...), whole[2:]...),
		"a line stands twice":     append(append([]Line(nil), whole[:2]...), whole[1:]...),
		"two lines are exchanged": append([]Line{whole[1], whole[0]}, whole[2:]...),
	} {
		page.Lines = lines
		var lost *LostText
		if err := Check(book, l); !errors.As(err, &lost) || lost.Pos.File != "a.md" {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// source writes a book of one file with all that can be generated before it.
func source(t interface{ Fatal(...any) }, dir, text string) markup.Source {
	if err := os.WriteFile(filepath.Join(dir, "a.md"), []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	return markup.Source{Dir: dir, Title: "Any", Author: "A. N. Author", Language: "en-US",
		Front: []string{"half-title", "title-page", "contents"}, Body: []string{"a.md"}}
}
