package typeset

import (
	"context"
	"errors"
	"strings"
	"testing"

	"bodkin/fonts"
	"bodkin/markup"
	"bodkin/typeset/length"

	"pgregory.net/rapid"
)

// scraps are pieces of which odd manuscripts are made.
var scraps = []string{
	"# One\n\n", "## Two\n\n", "### Three\n\n", "# [^1]\n\n", "# &nbsp;\n\n", "# A title that is rather longer than the measure of the page will hold\n\n",
	"A word. ", "Words and more words, as they come, until the line is full and another begins. ", "“Yes,” she said—and no. ",
	"*slant* and **strong**", "un*think*able ", "*ship*---the ", "no*---*yes ", "‘“nested”’ ", "antidisestablishmentarianism ",
	strings.Repeat("unbreakable", 30) + " ", strings.Repeat("? ", 60), strings.Repeat("a&nbsp;", 60) + " ", strings.Repeat("*a*b", 40) + " ",
	"&shy; ", "&#x200b;&#x200b; ", "a&#x2009;b ", "co&shy;op ", "J. R. Tolland, 18 ft ", "e\u0301e\u0301 ", "naïve fjord office ",
	"\n\n", "\n\n", "\n\n", "\\\n", "\n\n* * *\n\n", "\n\n---\n\n", "\n\n> A letter,\n> in lines.\\\n> Yours\n\n", "\n\n> > > > > > > > > > deep\n\n",
	"\n\n1. first\n2. \n3. third\n\n", "\n\n- - nested\n- item\n\n      more\n\n", "\n\n999. far\n\n", "\n\n```\na    b\n\n\n   c\n```\n\n",
	"`code word` ", "<https://tides.example/a/long/address/that/goes/on/and/on> ", "wait--no ", "a[^1] ", "\n\n[^1]: A note, of *some* length.\n\n",
	"<!-- remark --> ", "Łódź Müller Señor ", "1234567890 ", "“", "”", "—", "… ",
}

// Any manuscript in any setting is set soundly, or refused with one line that
// names a place in it or a key of the setting.
func TestAnyBook(t *testing.T) {
	lib := fonts.Embedded()
	rapid.Check(t, func(rt *rapid.T) {
		text := "# Start\n\nIt begins. " + strings.Join(rapid.SliceOfN(rapid.SampledFrom(scraps), 0, 40).Draw(rt, "scraps"), "")
		dir := t.TempDir()
		book, err := markup.Load(context.Background(), source(rt, dir, text))
		if err != nil {
			var fault *markup.Error
			if !errors.As(err, &fault) {
				rt.Fatalf("%q: %v", text, err)
			}
			return
		}
		s := Default()
		s.Face = rapid.SampledFrom([]string{"EB Garamond", "Libre Baskerville", "Source Serif 4"}).Draw(rt, "face")
		s.Trim, _ = ParseTrim(rapid.SampledFrom([]string{"5x8in", "3x5in", "A-format", "6x9in"}).Draw(rt, "trim"))
		s.Size.Length = length.Length(rapid.Int64Range(7, 14).Draw(rt, "size")) * length.Point
		s.Leading.Value.Length = s.Size.Length * 5 / 4
		s.Opening = Opening(rapid.IntRange(0, 2).Draw(rt, "opening"))
		s.Opens = Opens(rapid.IntRange(0, 1).Draw(rt, "opens"))
		s.Pages = PageAim(rapid.IntRange(0, 1).Draw(rt, "pages"))
		s.Folios = Folios(rapid.IntRange(0, 3).Draw(rt, "folios"))
		s.Heads.Recto = HeadChapter
		s.Widen = Widen(rapid.SampledFrom([]int{0, 10}).Draw(rt, "widen"))
		s.SceneBreak = rapid.SampledFrom([]string{"* * *", "", " "}).Draw(rt, "scene break")
		s.Hang, s.Hyphenate = rapid.Bool().Draw(rt, "hang"), rapid.Bool().Draw(rt, "hyphenate")
		l, err := Compose(context.Background(), book, s, Resources{Faces: lib})
		if err != nil {
			if strings.ContainsAny(err.Error(), "\n") || !strings.Contains(err.Error(), "a.md:") && !strings.Contains(err.Error(), "margins") {
				rt.Fatalf("%q: %v", text, err)
			}
			return
		}
		if err := Check(book, l); err != nil {
			rt.Fatalf("%q: %v", text, err)
		}
		if q := l.Quality(); q.Overfull > 0 {
			rt.Fatalf("%q: %+v", text, q)
		}
		if len(l.Pages)%2 != 0 {
			rt.Fatalf("%d pages do not make leaves", len(l.Pages))
		}
		for i := range l.Pages {
			for _, line := range l.Pages[i].Lines {
				for k := range line.Runs {
					r := &line.Runs[k]
					left, right := line.X+r.X, line.X+r.X+r.Width()
					if left < 0 || right > l.Trim.Width || line.Y < 0 || line.Y > l.Trim.Height {
						rt.Fatalf("%q: page %d: %q stands from %v to %v at %v", text, i, r.Glyphs.Text, left, right, line.Y)
					}
				}
			}
		}
	})
}
