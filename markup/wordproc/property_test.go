package wordproc

import (
	"context"
	"encoding/xml"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bodkin/markup"

	"pgregory.net/rapid"
)

// words that Markdown could take for something else, beside plain ones.
var awkward = []string{"tide", "clerk", " ", " ", " ", "  ", ".", ",", "*", "**", "_", "__", "`", "[", "]", "](x)", "[^1]", "[^1]: ", "{", "}", "]{.caps}", "{.part}", "<", "<b>", "<!--", "-->", "&", "&amp;", "&#65;",
	"#", "##", ">", "-", "--", "---", "+", "1.", "1)", "=", "===", "|", "~~~", "```", "\\", "\\\\", "!", "![", "“", "”", "’", "‘", "\"", "'", "—", "…", "é", "\u00A0", "\u00AD", "\u200B", "(", ")", ":", "http://a.b/", "a_b", "12", "Ω", "x"}

type styledRun struct {
	text  string
	style Style
	brk   bool
}

// TestAnyRunsComeBack writes paragraphs of any text in any looks, and reads
// them again with package markup: the letters are the same, and so is the look
// of each.
func TestAnyRunsComeBack(t *testing.T) {
	base := t.TempDir()
	n := 0
	rapid.Check(t, func(rt *rapid.T) {
		paragraphs := rapid.SliceOfN(rapid.SliceOfN(rapid.Custom(func(t *rapid.T) styledRun {
			return styledRun{
				text:  strings.Join(rapid.SliceOfN(rapid.SampledFrom(awkward), 1, 5).Draw(t, "text"), ""),
				style: rapid.SampledFrom([]Style{0, 0, Emphasis, Strong, Emphasis | Strong, SmallCaps, SmallCaps | Emphasis, Superscript, Superscript | Strong, Subscript}).Draw(t, "style"),
				brk:   rapid.IntRange(0, 9).Draw(t, "break") == 0,
			}
		}), 1, 6), 1, 4).Draw(rt, "paragraphs")
		var body strings.Builder
		for _, p := range paragraphs {
			body.WriteString("<w:p>")
			for _, r := range p {
				body.WriteString("<w:r><w:rPr>")
				for _, s := range []struct {
					style Style
					tag   string
				}{{Emphasis, "<w:i/>"}, {Strong, "<w:b/>"}, {SmallCaps, "<w:smallCaps/>"}, {Superscript, `<w:vertAlign w:val="superscript"/>`}, {Subscript, `<w:vertAlign w:val="subscript"/>`}} {
					if r.style&s.style != 0 {
						body.WriteString(s.tag)
					}
				}
				body.WriteString(`</w:rPr><w:t xml:space="preserve">`)
				if err := xml.EscapeText(&body, []byte(r.text)); err != nil {
					rt.Fatal(err)
				}
				body.WriteString("</w:t>")
				if r.brk {
					body.WriteString("<w:br/>")
				}
				body.WriteString("</w:r>")
			}
			body.WriteString("</w:p>")
		}
		n++
		dir := filepath.Join(base, itoa(n))
		path := filepath.Join(base, "ebb.docx")
		if err := os.WriteFile(path, docxOf(t, wHead+wp(filler)+body.String()), 0o666); err != nil {
			rt.Fatal(err)
		}
		d, err := Read(context.Background(), path, Options{})
		if err != nil {
			rt.Fatal(err)
		}
		defer d.Close()
		m := d.Recognise()
		_, compared, err := m.Save(context.Background(), dir, nil, false)
		if err != nil {
			rt.Fatal(err)
		}
		defer os.RemoveAll(dir)
		written := func() string {
			var b strings.Builder
			for _, f := range m.Files() {
				b.WriteString(string(f.Data))
			}
			return b.String()
		}
		if !compared.Equal() {
			rt.Fatalf("letters differ: %v\n%s", compared.Differences, written())
		}
		if len(m.Pieces) != 1 {
			return // a line that looks like a chapter
		}
		type letter struct {
			r     rune
			style Style
		}
		var in, out []letter
		prose := true
		for _, b := range m.Pieces[0].blocks {
			prose = prose && b.kind != quotation && b.kind != verse && b.kind != heading // which have looks of their own
			for _, p := range b.paras {
				if p == nil {
					continue
				}
				for _, r := range p.Runs {
					for _, c := range r.Text {
						if markup.IsLetter(c) {
							in = append(in, letter{c, r.Style})
						}
					}
				}
			}
		}
		if !prose || m.profile.look != 0 {
			return
		}
		book, err := m.load(context.Background(), dir, m.Pieces[0])
		if err != nil {
			rt.Fatal(err)
		}
		for _, b := range book.Sections[0].Blocks {
			p, ok := b.(*markup.Paragraph)
			if !ok {
				if _, ok := b.(*markup.SceneBreak); ok {
					continue
				}
				rt.Fatalf("a paragraph became a %T\n%s", b, written())
			}
			for _, i := range p.Text {
				var s Style
				for _, pair := range []struct {
					from markup.Style
					to   Style
				}{{markup.Emphasis, Emphasis}, {markup.Strong, Strong}, {markup.Caps, SmallCaps}, {markup.Raised, Superscript}, {markup.Lowered, Subscript}} {
					if i.Style&pair.from != 0 {
						s |= pair.to
					}
				}
				for _, c := range i.Text {
					if markup.IsLetter(c) {
						out = append(out, letter{c, s})
					}
				}
			}
		}
		if len(in) != len(out) {
			rt.Fatalf("%d letters in, %d out", len(in), len(out))
		}
		for i := range in {
			if in[i] != out[i] {
				rt.Fatalf("letter %d: %c with look %b became %c with look %b\n%s", i, in[i].r, in[i].style, out[i].r, out[i].style, written())
			}
		}
	})
}
