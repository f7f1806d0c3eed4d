package markup

import (
	"strings"
	"testing"
)

func TestHeadingAttributes(t *testing.T) {
	b, err := load(t, "en", "# A {.recto}\n\nx\n\n# B {.verso .unlisted head=\"B's \\ head\"}\n\nx\n\n"+
		"Sea {.next lang=fr}\n=\n\n\"x\" !\n\n# D {.unnumbered} #\n\n### E {lang=DE-de}\n\nx\n\n# F {head=“Two words”}\n\n# Set {1, 2}\n\n# {text} and {.text\n\n# \\{.part}\n\n# J{.unlisted}\n")
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, s := range b.Sections {
		got = append(got, Plain(s.Title)+particulars(s))
	}
	want := []string{"A, on recto", "B, on verso, unlisted, head \"B’s \\\\ head\"", "Sea, on either side, in fr", "D, plain", "F, head \"Two words\"",
		"Set {1, 2}", "{text} and {.text", "{.part}", "J, unlisted"}
	if g, w := strings.Join(got, "\n"), strings.Join(want, "\n"); g != w {
		t.Errorf("got\n%s\nwant\n%s", g, w)
	}
	if p := b.Sections[2].Blocks[0].(*Paragraph); Plain(p.Text) != "«\u202Fx\u202F»\u202F!" {
		t.Errorf("the marks of a French section are %q", Plain(p.Text))
	}
	if h := b.Sections[3].Blocks[0].(*Heading); Plain(h.Text) != "E" || h.Text[0].Lang != "de-DE" {
		t.Errorf("%+v", h)
	}
}

func TestAttributeFaults(t *testing.T) {
	for _, c := range [][2]string{
		{"# A {.prat}", "a.md:1: {.prat} is not known for a heading; did you mean {.part}?"},
		{"x\n\n# A {.wide}", `a.md:3: {.wide} is not known for a heading; a heading can have {.part}, {.chapter}, {.unnumbered}, {.unlisted}, {.recto}, {.verso}, {.next}, {head="Short title"}, {lang=fr}`},
		{"# A {part}", "a.md:1: {part} is not known for a heading; did you mean {.part}?"},
		{"# A {#a}", `a.md:1: {#a} is not known for a heading; a heading can have {.part}, {.chapter}, {.unnumbered}, {.unlisted}, {.recto}, {.verso}, {.next}, {head="Short title"}, {lang=fr}`},
		{"# A {haed=x}", `a.md:1: {haed=x} is not known for a heading; did you mean {head="Short title"}?`},
		{"# A {.lang=fr}", "a.md:1: {.lang=fr} is not known for a heading; did you mean {lang=fr}?"},
		{"# A {lang=}", "a.md:1: {lang=} says nothing; write a value behind the sign"},
		{"# A {lang=french}", `a.md:1: language "french" is unknown; write a BCP 47 tag such as en-GB, de or fr`},
		{"# A {.part head=\"x}", `a.md:1: a quotation mark is never closed in {.part head="x}; write one at the end of the words that it opens`},
		{"x [y]{lang=“fr} z", "a.md:1: a quotation mark is never closed in {lang=“fr}; write one at the end of the words that it opens"},
		{"# A {.recto .verso .next}", "a.md:1: this heading asks for 3 sides; keep one of {.recto}, {.verso}, {.next}"},
		{"# A {.recto .verso}", "a.md:1: this heading asks for 2 sides; keep one of {.recto}, {.verso}, {.next}"},
		{"# A {.part .chapter}", "a.md:1: this heading is called both a part and a chapter; keep one of {.part}, {.chapter}"},
		{"# A\n\n## B {.recto}", "a.md:3: {.recto} is not known for a heading inside a chapter; a heading inside a chapter can have {lang=fr}"},
		{"x [y]{.cap} z", "a.md:1: {.cap} is not known for a span; did you mean {.caps}?"},
		{"x [y]{caps} z", "a.md:1: {caps} is not known for a span; did you mean {.caps}?"},
		{"x\n[y]{lang=klingonese} z", `a.md:2: language "klingonese" is unknown; write a BCP 47 tag such as en-GB, de or fr`},
		{"```verse {.caps}\nx\n```", "a.md:1: {.caps} is not known for verse; verse can have {lang=fr}"},
		{"x\n\n```verse of mine\nx\n```", "a.md:3: what stands behind verse is not read: of mine; write {lang=fr}, or nothing"},
	} {
		_, err := load(t, "en", c[0])
		if err == nil {
			t.Errorf("%q: no error, want %s", c[0], c[1])
		} else if err.Error() != c[1] {
			t.Errorf("%q\n got %s\nwant %s", c[0], err, c[1])
		}
	}
}

// What stands in quotation marks of any kind is one word, and may hold braces;
// what is no attribute is text.
func TestBraces(t *testing.T) {
	for _, c := range []struct {
		text   string
		n      int // the length of the attributes
		fields string
	}{
		{`{.part head="a b" lang=fr} x`, 26, `.part|head="a b"|lang=fr`},
		{`{head="a {b} c"}`, 16, `head="a {b} c"`},
		{`{head=“a } b”}x`, 18, `head=“a } b”`},
		{`{head=„a b“ .part}`, 22, `head=„a b“|.part`},
		{`{head=”a b”}`, 16, `head=”a b”`},
		{`{head="a b}`, 11, `head="a|b`},
		{`{"}`, 0, `"`},
		{`{.part`, 0, ""},
		{"{.part\n}", 0, ""},
		{`{a {.part}`, 0, ""},
		{"{head=" + strings.Repeat("x", 2*longestBraces) + "}", 0, ""},
	} {
		_, fields, _ := readBraces([]byte(c.text))
		if n, got := braces([]byte(c.text)), strings.Join(fields, "|"); n != c.n || n > 0 && got != c.fields {
			t.Errorf("%.40s\n got %d %s\nwant %d %s", c.text, n, got, c.n, c.fields)
		}
	}
}

// BenchmarkBraces reads a heading of braces and quotation marks that close
// nothing: the time for a byte must not grow with their number.
func BenchmarkBraces(b *testing.B) {
	for _, n := range []int{10_000, 100_000} {
		text := "# " + strings.Repeat(`{""`, n)
		b.Run(itoa(n), func(b *testing.B) {
			b.SetBytes(int64(len(text)))
			for b.Loop() {
				if _, err := load(b, "en", text); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// spelled writes a text with what is said of its stretches.
func spelled(text []Inline) string {
	var s strings.Builder
	for _, in := range text {
		of := ""
		for i, name := range []string{"i", "b", "code", "caps", "sign", "raised", "lowered"} {
			if in.Style&(1<<i) != 0 {
				of += " " + name
			}
		}
		if in.Lang != "" {
			of += " " + in.Lang
		}
		if in.Link != "" {
			of += " ->" + in.Link
		}
		if of != "" {
			s.WriteString("<" + of[1:] + ":" + in.Text + ">")
			continue
		}
		s.WriteString(in.Text)
	}
	return s.String()
}

func TestSpans(t *testing.T) {
	for _, c := range [][2]string{
		{"a [b]{.caps} c", "a <caps:b> c"},
		{"[b]{.sign}", "<sign:b>"},
		{"a [le *mot*]{lang=fr} c", "a <fr:le ><i fr:mot> c"},
		{"a *b [c]{.caps} d* e", "a <i:b ><i caps:c><i: d> e"},
		{"a *b [c* d]{.caps} e", "a *b <caps:c* d> e"},
		{"[a [b]{.caps} c]{lang=fr}", "<fr:a ><caps fr:b><fr: c>"},
		{"[a](u){.caps} [b][r]{.caps}\n\n[r]: v", "<caps ->u:a> <caps ->v:b>"},
		{"[see [a](u)]{.caps}", "<caps:see ><caps ->u:a>"},
		{"[a [b]{.caps}](u)", "<->u:a ><caps ->u:b>"},
		{"[a `]{.sign}` b]{.caps}", "<caps:a ><code caps:]{.sign}><caps: b>"},
		{"[a\nb]{.caps}", "<caps:a ><caps:b>"},
		{"\"[a]{.caps},\" he said", "“<caps:a>,” he said"},
		{"a\\[b]{.caps}", "a[b]{.caps}"},
		{"[a] {.caps}", "[a] {.caps}"},
		{"[a]{b} [c]{} [d]{", "[a]{b} [c]{} [d]{"},
		{"a [b", "a [b"},
		{"[a [b]{.caps}", "[a <caps:b>"},
		{"[a]{.caps} [b", "<caps:a> [b"},
		{"[a]{.caps .sign lang=de}", "<caps sign de:a>"},
		{"1[st]{.raised} H[2]{.lowered}O", "1<raised:st> H<lowered:2>O"},
		{"[a [b]{.lowered}]{.raised}", "<raised:a ><lowered:b>"},
	} {
		b, err := load(t, "en", c[0])
		if err != nil {
			t.Errorf("%s: %v", c[0], err)
			continue
		}
		if got := spelled(b.Sections[0].Blocks[0].(*Paragraph).Text); got != c[1] {
			t.Errorf("%s\n got %s\nwant %s", c[0], got, c[1])
		}
	}
}

// TestSpansInHeadings: braces close behind a bracket are the span's, unless
// they say what only a heading has.
func TestSpansInHeadings(t *testing.T) {
	for _, c := range []struct {
		text, title string
		piece       Piece
	}{
		{"# The [EBB]{.caps}", "The <caps:EBB>", Chapter},
		{"# The 1[st]{.raised} {.part}", "The 1<raised:st>", Part},
		{"# The 1[st]{.raised}\n\nx\n\n## On the 2[nd]{.raised}\n\ny", "The 1<raised:st>", Chapter},
		{"# [The Ebb]{.part}", "[The Ebb]", Part},
		{"# La [mer]{lang=fr}", "La <fr:mer>", Chapter},
		{"# The Ebb {lang=fr}", "The Ebb", Chapter},
		{"The [EBB]{.caps}\n===", "The <caps:EBB>", Chapter},
	} {
		b, err := load(t, "en", c.text+"\n\ntext\n")
		if err != nil {
			t.Errorf("%s: %v", c.text, err)
			continue
		}
		s := b.Sections[0]
		if got := spelled(s.Title); got != c.title || s.Piece != c.piece {
			t.Errorf("%s: %q, piece %d", c.text, got, s.Piece)
		}
	}
}
