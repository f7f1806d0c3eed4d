package typeset

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"bodkin/fonts"
	"bodkin/markup"
	"bodkin/typeset/length"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// proofLine is a line of a hand-made page. Its flags say what it is: f and l,
// the first and the last line of its paragraph; j, justified; h, a hyphen ends
// it; + and -, its paragraph runs long or short; H and O, a heading or an
// ornament; x, the row before it is empty.
type proofLine struct {
	flags, text string
	space       int // hundredths of an em; 25 when 0
}

type proofPage struct {
	lines []proofLine
	flags string // o, an opening; t, torn; n, a new section begins; + and -, its spread runs long or short
}

const (
	proofSize    = 10 * length.Point
	proofLeading = 14 * length.Point
	proofRows    = 6
)

// proofLayout makes a layout by hand; size is that of its type, and everything
// else goes by it.
func proofLayout(t testing.TB, size length.Length, pages ...proofPage) *Layout {
	face, err := fonts.Embedded().Face("EB Garamond", fonts.Regular)
	if err != nil {
		t.Fatal(err)
	}
	leading := size * proofLeading / proofSize
	l := &Layout{
		Trim:  Size{40 * size, 60 * size},
		Block: Block{Left: 5 * size, Baseline: 8 * size, Leading: leading, Measure: 24 * size, Rows: proofRows},
	}
	section := 0
	for i, p := range pages {
		has := func(f string) bool { return strings.Contains(p.flags, f) }
		if has("n") {
			section++
		}
		page := Page{Label: fmt.Sprint(i + 1), Section: section, Opening: has("o"), Torn: has("t"), Depth: proofRows}
		page.Depth += strings.Count(p.flags, "+") - strings.Count(p.flags, "-")
		if page.Opening {
			l.Entries = append(l.Entries, Entry{fmt.Sprint("Chapter ", section+1), i})
		}
		y := l.Block.Baseline
		for n, pl := range p.lines {
			has := func(f string) bool { return strings.Contains(pl.flags, f) }
			if has("x") {
				y += leading
			}
			line := Line{X: l.BlockLeft(i), Y: y, Measure: l.Block.Measure, Natural: size / 4,
				Pos: markup.Pos{File: "book.md", Line: 100*i + n + 1}, First: has("f"), Last: has("l"), Justified: has("j"), Hyphen: has("h")}
			line.Varied = int8(strings.Count(pl.flags, "+") - strings.Count(pl.flags, "-"))
			if has("H") {
				line.Role = Heading
			} else if has("O") {
				line.Role = Ornament
			}
			if pl.space == 0 {
				pl.space = 25
			}
			line.Space = size * length.Length(pl.space) / 100
			var x length.Length
			for k, word := range strings.Fields(pl.text) {
				r := Run{Size: size, Glyphs: face.Shape(word, 0), Space: k > 0}
				if r.Space {
					x += line.Space
				}
				r.X = x
				x += r.Width()
				line.Runs = append(line.Runs, r)
			}
			if line.Hyphen {
				line.Runs = append(line.Runs, Run{X: x, Size: size, Glyphs: face.Shape("-", 0), Added: true})
			}
			page.Lines = append(page.Lines, line)
			y += leading
		}
		folio := Run{Size: size, Glyphs: face.Shape(page.Label, 0), Added: true}
		page.Lines = append(page.Lines, Line{Role: Folio, X: l.BlockLeft(i), Y: 55 * size, Measure: folio.Width(), Runs: []Run{folio}})
		l.Pages = append(l.Pages, page)
	}
	return l
}

// plain makes n lines in the middle of a paragraph; no two of them begin or
// end alike.
func plain(n int) []proofLine {
	var ls []proofLine
	for i := range n {
		word := string(rune('a' + i))
		ls = append(ls, proofLine{"j", word + "ba the tide " + word + "co", 0})
	}
	return ls
}

func page(flags string, lines ...proofLine) proofPage { return proofPage{lines, flags} }

// with puts lines before others.
func with(before []proofLine, after ...proofLine) []proofLine { return append(before, after...) }

// show writes a finding in short: kind, page.line, amount and text.
func show(f Finding) string {
	s := fmt.Sprintf("%v %d.%d", f.Kind, f.Page+1, f.Line+1)
	if f.Amount != 0 {
		s += fmt.Sprintf(" %+d", f.Amount)
	}
	if f.Kind == RepeatedWord {
		s += " " + f.Text
	}
	return s
}

// Every kind where it is, and where it almost is. All that is found on the
// pages of a case is listed.
func TestFindings(t *testing.T) {
	full := page("", plain(6)...)
	for _, test := range []struct {
		name  string
		pages []proofPage
		want  []string
	}{
		{"nothing on sound pages", []proofPage{page("o", plain(6)...), full, full, full}, nil},
		{"nothing on a blank page", []proofPage{full, page("n"), full}, nil},

		{"a loose line", []proofPage{page("", proofLine{"j", "he waited there", 51})}, []string{"loose 1.1 +510"}},
		{"half an em is not loose", []proofPage{page("", proofLine{"j", "he waited there", 50})}, nil},
		{"nor is a line that is not justified", []proofPage{page("", proofLine{"", "he waited there", 70})}, nil},
		{"nor a heading", []proofPage{page("", proofLine{"jH", "he waited there", 70}, proofLine{"x", "so", 0})}, nil},
		{"a tight line", []proofPage{page("", proofLine{"j", "he waited there", 20})}, []string{"tight 1.1 +200"}},
		{"a little over the least is not tight", []proofPage{page("", proofLine{"j", "he waited there", 21})}, nil},

		{"an overfull line", []proofPage{page("", proofLine{"j", strings.Repeat("wide ", 14), 0})}, []string{"overfull 1.1"}},

		{"a hyphen alone", []proofPage{page("", proofLine{"jh", "the light of eve", 0}, proofLine{"jl", "ning went on board", 0})}, []string{"hyphen 1.1"}},
		{"two in a row", []proofPage{page("", proofLine{"jh", "the sea be", 0}, proofLine{"jh", "low it al", 0}, proofLine{"jl", "ways was grey", 0})},
			[]string{"ladderPair 1.1 +2", "hyphen 1.1", "hyphen 1.2"}},
		{"three in a row", []proofPage{page("", proofLine{"jh", "the sea be", 0}, proofLine{"jh", "low it al", 0}, proofLine{"jh", "ways was gree", 0}, proofLine{"jl", "nish and grey", 0})},
			[]string{"ladder 1.1 +3", "hyphen 1.1", "hyphen 1.2", "hyphen 1.3"}},
		{"a hyphen of the manuscript between two", []proofPage{page("", proofLine{"jh", "the sea be", 0}, proofLine{"j", "low it was grey-", 0}, proofLine{"jh", "green al", 0}, proofLine{"jl", "ways and grey", 0})},
			[]string{"ladder 1.1 +3", "hyphen 1.1", "hyphen 1.3"}},
		{"a paragraph that ends in one", []proofPage{page("", proofLine{"jh", "the sea be", 0}, proofLine{"jl", "low it was grey-", 0}, proofLine{"fjh", "Green al", 0}, proofLine{"jl", "ways and grey", 0})},
			[]string{"hyphen 1.1", "hyphen 1.3"}},
		{"a line between them", []proofPage{page("", proofLine{"jh", "the sea be", 0}, proofLine{"j", "low was grey", 0}, proofLine{"jh", "ways gree", 0}, proofLine{"jl", "nish too", 0})},
			[]string{"hyphen 1.1", "hyphen 1.3"}},

		{"a hyphen before a turn", []proofPage{page("", with(plain(5), proofLine{"jh", "the sea be", 0})...), full},
			[]string{"hyphenRecto 1.6", "hyphen 1.6"}},
		{"one before the facing page", []proofPage{full, page("", with(plain(5), proofLine{"jh", "the sea be", 0})...), full},
			[]string{"hyphenVerso 2.6", "hyphen 2.6"}},

		{"a runt of one short word", []proofPage{page("", proofLine{"fj", "he had not seen it", 0}, proofLine{"l", "“there?”", 0})}, nil},
		{"four letters", []proofPage{page("", proofLine{"fj", "he had not seen it", 0}, proofLine{"l", "“then?”", 0})}, []string{"runt 1.2 +4"}},
		{"two words, and longer than the indent", []proofPage{page("", proofLine{"fj", "he had not seen it", 0}, proofLine{"l", "so am I", 0})}, nil},
		{"not longer than the indent", []proofPage{page("", proofLine{"fj", "he had not seen it", 0}, proofLine{"l", "I i", 0})}, []string{"runt 1.2 +2"}},
		{"a paragraph of one short word", []proofPage{page("", proofLine{"fjl", "he had not seen it", 0}, proofLine{"fl", "no", 0})}, nil},
		{"a line that the author ended", []proofPage{page("", proofLine{"f", "with my love", 0}, proofLine{"l", "Tom", 0})}, nil},

		{"a repeated first word", []proofPage{page("", proofLine{"fj", "“The sea was grey", 0}, proofLine{"l", "the whole morning", 0})}, []string{"repeat 1.2 the"}},
		{"a repeated last word", []proofPage{page("", proofLine{"fj", "he saw the sea,", 0}, proofLine{"l", "and it was the Sea.", 0})}, []string{"repeat 1.2 Sea"}},
		{"one letter is not seen", []proofPage{page("", proofLine{"fj", "a sea was grey", 0}, proofLine{"l", "a whole morning", 0})}, nil},
		{"another paragraph", []proofPage{page("", proofLine{"fjl", "the sea was grey", 0}, proofLine{"fl", "the whole morning", 0})}, nil},
		{"the end of a divided word", []proofPage{page("", proofLine{"fjh", "so went it in the mor", 0}, proofLine{"l", "ning of the mor", 0})}, []string{"hyphen 1.1"}},
		{"on the next page", []proofPage{page("", with(plain(5), proofLine{"j", "the sea was grey", 0})...), page("", with([]proofLine{{"j", "the morning too", 0}}, plain(5)...)...)}, nil},
		{"a verse", []proofPage{page("", proofLine{"f", "and it was late", 0}, proofLine{"l", "and it was dark", 0})}, nil},

		{"a widow", []proofPage{full, page("", with([]proofLine{{"l", "and so he went", 0}}, plain(5)...)...), full}, []string{"widow 2.1"}},
		{"a paragraph of one line is none", []proofPage{full, page("", with([]proofLine{{"fl", "and so he went", 0}}, plain(5)...)...), full}, nil},
		{"an orphan", []proofPage{page("", with(plain(5), proofLine{"fj", "and so he went", 0})...), full}, []string{"orphan 1.6"}},
		{"nor is one line an orphan", []proofPage{page("", with(plain(5), proofLine{"fl", "and so he went", 0})...), full}, nil},
		{"a stranded heading", []proofPage{page("", with(plain(5), proofLine{"flH", "Later", 0})...), full}, []string{"stranded 1.6"}},
		{"a stranded scene break", []proofPage{page("", with(plain(5), proofLine{"flO", "* * *", 0})...), full}, []string{"stranded 1.6"}},
		{"a heading on the page", []proofPage{page("", with([]proofLine{{"flH", "Later", 0}}, plain(5)...)...), full}, nil},

		{"an uneven spread", []proofPage{full, full, page("", plain(5)...), full}, []string{"uneven 3.5 -1"}},
		{"a longer recto", []proofPage{full, page("", plain(4)...), full, full}, []string{"uneven 3.6 +2"}},
		{"unlike pages that do not face", []proofPage{full, page("", plain(5)...), page("", plain(5)...), full, full}, nil},
		{"where a chapter ends", []proofPage{full, full, page("", plain(5)...), page("on", plain(6)...)}, nil},
		{"an empty row does not matter", []proofPage{full, full, page("", with(plain(4), proofLine{"jx", "and so he went", 0})...), full}, nil},

		{"a short last page", []proofPage{full, page("", plain(4)...), page("on", plain(6)...)}, []string{"short 2.4 +4"}},
		{"five lines are enough", []proofPage{full, page("", plain(5)...), page("on", plain(6)...)}, nil},
		{"so is a short chapter", []proofPage{page("o", plain(2)...), page("on", plain(6)...)}, nil},

		{"a torn page", []proofPage{page("t", plain(6)...), full}, []string{"torn 1.6"}},
		{"paragraphs long and short", []proofPage{page("", proofLine{"fj+", "and so he went", 0}, proofLine{"l+", "to bed at nine", 0}, proofLine{"fl-", "it was dark", 0})},
			[]string{"paragraphLong 1.1 +1", "paragraphShort 1.3 -1"}},
		{"a long spread is counted once", []proofPage{full, page("+", plain(7)...), page("+", plain(7)...), full}, []string{"spreadLong 2.7 +1"}},
		{"a short one", []proofPage{full, page("-", plain(5)...), page("-", plain(5)...), full}, []string{"spreadShort 2.5 -1"}},
		{"a chapter's end is not short", []proofPage{full, page("", plain(6)...), page("-", plain(5)...), page("on", plain(6)...)}, nil},
	} {
		t.Run(test.name, func(t *testing.T) {
			if len(test.pages) == 1 {
				test.pages[0].flags += "o" // else it would be a chapter's short last page
			}
			var got []string
			for _, f := range proofLayout(t, proofSize, test.pages...).Findings() {
				got = append(got, show(f))
			}
			if diff := cmp.Diff(test.want, got); diff != "" {
				t.Errorf("-want +got:\n%s", diff)
			}
		})
	}
}

// What a finding says of its place.
func TestFindingPlace(t *testing.T) {
	l := proofLayout(t, proofSize,
		page("o", plain(6)...), page("", plain(6)...), page("", plain(5)...), page("", proofLine{"flH", "Later", 0}, proofLine{"", "so he went", 0}),
		page("on", proofLine{"fj", "He went to the harbour to see the boat that was to bring him home", 90}))
	want := []Finding{
		{Kind: UnevenSpread, Page: 2, Line: 4, Row: 5, Amount: -1, Chapter: "Chapter 1", Label: "3", Pos: markup.Pos{File: "book.md", Line: 205},
			Text: "eba the tide eco", Reason: "a heading follows, which keeps with its text"},
		{Kind: ShortEnd, Page: 3, Line: 1, Row: 2, Amount: 2, Chapter: "Chapter 1", Label: "4", Pos: markup.Pos{File: "book.md", Line: 302}, Text: "so he went"},
		{Kind: OverfullLine, Page: 4, Row: 1, Chapter: "Chapter 2", Label: "5", Pos: markup.Pos{File: "book.md", Line: 401},
			Text: "He went to the harbour … was to bring him home"},
		{Kind: LooseLine, Page: 4, Row: 1, Amount: 900, Chapter: "Chapter 2", Label: "5", Pos: markup.Pos{File: "book.md", Line: 401},
			Text: "He went to the harbour … was to bring him home"},
	}
	if diff := cmp.Diff(want, l.Findings()); diff != "" {
		t.Errorf("-want +got:\n%s", diff)
	}
}

func TestReasons(t *testing.T) {
	full := page("", plain(6)...)
	for _, test := range []struct {
		want  string
		pages []proofPage
	}{
		{"one line more would be a paragraph's first, alone", []proofPage{full, full, page("", plain(5)...), page("", with([]proofLine{{"fj", "so he went", 0}}, plain(5)...)...)}},
		{"one line more would leave a paragraph's last, alone", []proofPage{full, full, page("", plain(5)...), page("", with([]proofLine{{"j", "so he went", 0}, {"l", "to bed again", 0}}, plain(4)...)...)}},
		{"a scene break follows, which keeps with its text", []proofPage{full, page("", plain(4)...), page("", with([]proofLine{{"flO", "* * *", 0}}, plain(5)...)...), full}},
		{"no better page end was possible", []proofPage{full, page("t", plain(4)...), full, full}},
		{elsewhere, []proofPage{full, page("", plain(4)...), full, full}},
	} {
		for _, f := range proofLayout(t, proofSize, test.pages...).Findings() {
			if f.Kind == UnevenSpread && f.Reason != test.want {
				t.Errorf("got %q, want %q", f.Reason, test.want)
			}
		}
	}
}

func TestEdgeWords(t *testing.T) {
	for _, test := range []struct{ text, first, last string }{
		{"“Now,” said he.", "Now", "he"},
		{"well-known things, half-truths—", "well-known", "half-truths"},
		{"dike—the other—wall", "dike", "wall"},
		{"’tis the dogs’", "tis", "dogs"},
		{"’twas o’clock", "twas", "o’clock"},
		{"Ærø naïve café", "Ærø", "café"},
		{"… 1847–1902 …", "1847", "1902"},
		{"“—”", "", ""},
		{"", "", ""},
	} {
		first, last := firstWordOf(test.text), lastWordOf(test.text)
		if first != test.first || last != test.last {
			t.Errorf("%q: first %q, last %q; want %q and %q", test.text, first, last, test.first, test.last)
		}
	}
}

// randomPages draws pages on which anything may happen.
func randomPages(t *rapid.T) []proofPage {
	words := []string{"the", "tide", "went", "“a", "sea”", "harbour", "no."}
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) proofPage {
		p := proofPage{flags: rapid.SampledFrom([]string{"", "", "", "on", "t", "+", "-"}).Draw(t, "page")}
		p.lines = rapid.SliceOfN(rapid.Custom(func(t *rapid.T) proofLine {
			return proofLine{
				flags: rapid.SampledFrom([]string{"j", "j", "j", "jh", "jh", "f", "l", "fl", "fj+", "fj-", "flH", "flO", "jx"}).Draw(t, "flags"),
				text:  strings.Join(rapid.SliceOfN(rapid.SampledFrom(words), 1, 16).Draw(t, "words"), " "),
				space: rapid.IntRange(18, 60).Draw(t, "space"),
			}
		}), 0, 7).Draw(t, "lines")
		return p
	}), 1, 6).Draw(t, "pages")
}

// Counts and places are the same facts, in reading order.
func TestCountsAreFindings(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		l := proofLayout(t, proofSize, randomPages(rt)...)
		q, found := l.Quality(), l.Findings()
		of := make(map[FindingKind]int)
		for i, f := range found {
			of[f.Kind]++
			if line := &l.Pages[f.Page].Lines[f.Line]; line.Role == Folio || f.Text == "" {
				rt.Fatalf("%+v is nowhere", f)
			}
			if i > 0 && (f.Page < found[i-1].Page || f.Page == found[i-1].Page && f.Line < found[i-1].Line) {
				rt.Fatalf("%+v comes after %+v", f, found[i-1])
			}
		}
		for _, kind := range FindingKinds() {
			if q.Of(kind) != of[kind] {
				rt.Fatalf("%d %s counted, %d found", q.Of(kind), kind.Noun(2), of[kind])
			}
		}
		sum := 0
		for _, n := range q.Spaces.Twentieths {
			sum += n
		}
		if sum != q.Justified || q.Justified > q.Lines || q.Ladder > q.Lines || q != l.Quality() {
			rt.Fatalf("the counts disagree: %+v", q)
		}
	})
}

// Everything is measured in ems: pages of twice the size, or set further to
// the right, have the same faults.
func TestFindingsScale(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		pages := randomPages(rt)
		l := proofLayout(t, proofSize, pages...)
		want := all(l)
		if got := all(proofLayout(t, 2*proofSize, pages...)); !reflect.DeepEqual(got, want) {
			rt.Fatalf("at twice the size: %s", cmp.Diff(want, got))
		}
		for i := range l.Pages {
			for j := range l.Pages[i].Lines {
				l.Pages[i].Lines[j].X += 3 * length.Point
			}
		}
		if got := all(l); !reflect.DeepEqual(got, want) {
			rt.Fatalf("moved aside: %s", cmp.Diff(want, got))
		}
	})
}

func all(l *Layout) []string {
	var s []string
	for _, f := range l.Findings() {
		s = append(s, show(f))
	}
	return s
}

// Each kind can be named, explained and marked.
func TestKindsAreExplained(t *testing.T) {
	seen := make(map[string]bool)
	for _, k := range FindingKinds() {
		c, hue := k.Color()
		if k.Noun(1) == k.Noun(2) || k.Meaning() == "" || hue == "" || c.A != 0xff || seen[k.String()] {
			t.Errorf("kind %d: %q, %q, %q, %q, %v", k, k, k.Noun(1), k.Meaning(), hue, c)
		}
		seen[k.String()] = true
	}
	if s := kindEnd.String(); s != fmt.Sprintf("FindingKind(%d)", kindEnd) {
		t.Error(s)
	}
}
