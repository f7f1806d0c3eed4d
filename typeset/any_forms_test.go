package typeset

import (
	"strings"
	"testing"

	"bodkin/fonts"
	"bodkin/markup"
	"bodkin/typeset/length"

	"pgregory.net/rapid"
)

func TestAnyForms(t *testing.T) {
	lib := fonts.Embedded()
	texts := rapid.SampledFrom([]string{"", "A word.", "— Rules", prose, "{NO ENTRY} {in} _{Caps}_", "one\ntwo", "I. M.", "The 1^st^ of M^ay^ {^A^b}^12^", strings.Repeat("unbreakable", 3),
		"soft\u00adened", "a\u00a0b\u2009c", "“‘Nested’” …", strings.Repeat("word ", 60), "ﬁn ß Łódź"})
	uses := rapid.SampledFrom([]markup.Use{0, 0, markup.Attribution, markup.Signature, markup.Salutation, markup.Address, markup.Dateline})
	var block func(t *rapid.T, depth int) markup.Block
	blocks := func(t *rapid.T, depth int) []markup.Block {
		var all []markup.Block
		for range rapid.IntRange(0, 5).Draw(t, "blocks") {
			all = append(all, block(t, depth))
		}
		return all
	}
	block = func(t *rapid.T, depth int) markup.Block {
		kind := rapid.IntRange(0, 9).Draw(t, "kind")
		if depth == 0 {
			kind %= 7
		}
		switch kind {
		case 0:
			var lines []string
			for range rapid.IntRange(1, 14).Draw(t, "lines") {
				lines = append(lines, strings.Repeat(" ", rapid.IntRange(0, 9).Draw(t, "indent"))+strings.ReplaceAll(texts.Draw(t, "line"), "\n", " "))
			}
			return poem(strings.Join(lines, "\n"))
		case 1:
			return notice(rapid.SliceOfN(texts, 0, 11).Draw(t, "sign")...)
		case 2:
			columns := rapid.StringMatching("[lcr]{1,5}").Draw(t, "columns")
			rows := []string{strings.Repeat("|", len(columns)-1)}
			for range rapid.IntRange(0, 30).Draw(t, "rows") {
				var cells []string
				for range columns {
					cells = append(cells, texts.Draw(t, "cell"))
				}
				rows = append(rows, strings.Join(cells, "|"))
			}
			return tableOf(columns, rows...)
		case 3:
			return &markup.Heading{Level: rapid.IntRange(1, 5).Draw(t, "level"), Text: typed(texts.Draw(t, "heading"))}
		case 4:
			return &markup.SceneBreak{Pos: markup.Pos{File: "a.md", Line: 1}}
		case 5, 6:
			return para(uses.Draw(t, "use"), texts.Draw(t, "text"))
		case 7:
			l := &markup.List{Pos: markup.Pos{File: "a.md", Line: 1}, Tight: rapid.Bool().Draw(t, "tight"), Ordered: true}
			for range rapid.IntRange(1, 3).Draw(t, "items") {
				l.Items = append(l.Items, markup.Item{Blocks: blocks(t, depth-1)})
			}
			return l
		}
		return quoted(rapid.SampledFrom([]markup.Form{markup.Extract, markup.Motto, markup.Letter}).Draw(t, "form"), blocks(t, depth-1)...)
	}
	rapid.Check(t, func(rt *rapid.T) {
		book := chapter(append(blocks(rt, 3), blocks(rt, 2)...)...)
		s := Default()
		s.Face = rapid.SampledFrom([]string{"EB Garamond", "Libre Baskerville", "Source Serif 4"}).Draw(rt, "face")
		s.SignFace = rapid.SampledFrom([]string{"", "Spectral"}).Draw(rt, "sign")
		s.Trim, _ = ParseTrim(rapid.SampledFrom([]string{"5x8in", "3x5in", "A-format", "6x9in"}).Draw(rt, "trim"))
		s.Size.Length = length.Length(rapid.Int64Range(7, 14).Draw(rt, "size")) * length.Point
		s.Leading.Value.Length = s.Size.Length * 5 / 4
		s.Widen = Widen(rapid.SampledFrom([]int{0, 10}).Draw(rt, "widen"))
		s.Hang, s.Hyphenate = rapid.Bool().Draw(rt, "hang"), rapid.Bool().Draw(rt, "hyphenate")
		l, err := Compose(rt.Context(), book, s, Resources{Faces: lib})
		if err != nil {
			if strings.Contains(err.Error(), "\n") || !strings.Contains(err.Error(), "a.md:") && !strings.Contains(err.Error(), "margins") {
				rt.Fatal(err)
			}
			return
		}
		if err := Check(book, l); err != nil {
			rt.Fatal(err)
		}
		if q := l.Quality(); q.Overfull > 0 {
			rt.Fatalf("%+v", q)
		}
		for i := range l.Pages {
			left := l.BlockLeft(i)
			for _, line := range l.Pages[i].text() {
				row := (line.Y - l.Block.Baseline) / l.Block.Leading
				if off := line.Y - l.Block.Baseline - row*l.Block.Leading; line.Role == Text && (off != 0 || row < 0 || int(row) > l.Block.Rows) {
					rt.Fatalf("page %d: %q is %v off the grid", i, line.text(), off)
				}
				for k := line.Labels; k < len(line.Runs); k++ {
					r := &line.Runs[k]
					if x := line.X + r.X - left; x < -l.Setting.Size.Length || x+r.Width() > l.Block.Measure+l.Setting.Size.Length {
						rt.Fatalf("page %d: %q stands from %v to %v", i, line.text(), x, x+r.Width())
					}
				}
			}
		}
	})
}
