package markup

import (
	"bytes"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"golang.org/x/text/language"
	"golang.org/x/text/unicode/norm"
	"pgregory.net/rapid"
)

// bookOf reads text without a disk.
func bookOf(lang language.Tag, text []byte) (*Book, []error) {
	l := newLoader(&Book{Language: lang.String()}, lang)
	l.single = true
	faults := l.chapter(entry{matter: Body, name: "a.md"}, text)
	return l.book, faults
}

// speech draws dialogue with the marks of a printed novel.
func speech(t *rapid.T) string {
	word := rapid.SampledFrom([]string{"come", "the", "don’t", "o’clock", "sea", "I’m", "Nancy’s", "’tis", "’em", "rock ’n’ roll", "the ’90s", "Élan", "well—then", "so…", "42"})
	words := func(label string) string {
		return strings.Join(rapid.SliceOfN(word, 1, 4).Draw(t, label), " ")
	}
	point := func() string { return rapid.SampledFrom([]string{",", ".", "!", "?", "…", "—"}).Draw(t, "point") }
	var s strings.Builder
	for i := range rapid.IntRange(1, 4).Draw(t, "parts") {
		if i > 0 {
			s.WriteString(rapid.SampledFrom([]string{" ", " she said ", " he went on: ", "—he rose—", " (quietly) "}).Draw(t, "between"))
		}
		switch rapid.IntRange(0, 4).Draw(t, "kind") {
		case 0:
			s.WriteString("“" + words("a") + point() + "”")
		case 1:
			s.WriteString("“He said ‘" + words("b") + point() + "’ " + words("c") + point() + "”")
		case 2:
			s.WriteString("“‘" + words("d") + point() + "’ " + words("e") + point() + "”")
		case 3:
			s.WriteString("(“" + words("f") + "”)")
		case 4:
			s.WriteString("“" + words("g") + " ‘" + words("h") + point() + "’”")
		}
	}
	return s.String()
}

var typewriter = strings.NewReplacer("“", `"`, "”", `"`, "‘", "'", "’", "'", "—", "---", "…", "...")

// Dialogue that is typed on a typewriter comes back as it was printed, also
// when words of it are emphasized and lines are broken.
func TestSpeechComesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := speech(t)
		typed := typewriter.Replace(want)
		if rapid.Bool().Draw(t, "styled") {
			typed = regexp.MustCompile(`\b(come|sea|so|Élan)\b`).ReplaceAllString(typed, "*$1*")
		}
		if rapid.Bool().Draw(t, "broken") {
			typed = strings.ReplaceAll(typed, " ", "\n")
		}
		typed = "x " + typed // no list, whatever comes first
		book, faults := bookOf(language.English, []byte(typed))
		if faults != nil {
			t.Fatal(faults)
		}
		if got := Plain(book.Sections[0].Blocks[0].(*Paragraph).Text); got != "x "+want {
			t.Fatalf("%s\n got %s\nwant x %s", typed, got, want)
		}
		// and what is printed stays so
		book, faults = bookOf(language.English, []byte("x "+want))
		if faults != nil {
			t.Fatal(faults)
		}
		if got := Plain(book.Sections[0].Blocks[0].(*Paragraph).Text); got != "x "+want {
			t.Fatalf("printed marks changed\n got %s\nwant x %s", got, want)
		}
	})
}

// checkBook tests what holds of every book that can be made of text.
func checkBook(t reporter, book *Book, text []byte) {
	lines := bytes.Count(text, []byte("\n")) + 1
	at := func(p Pos) {
		if p.File != "a.md" || p.Line < 1 || p.Line > lines {
			t.Errorf("position %v in a file of %d lines", p, lines)
		}
	}
	refs := 0
	for _, s := range book.Sections {
		at(s.Pos)
		refs += len(s.Notes)
		for _, b := range s.Blocks {
			at(b.Position())
		}
	}
	for in := range book.inlines(true) {
		at(in.Pos)
		switch {
		case !utf8.ValidString(in.Text):
			t.Errorf("not UTF-8: %q", in.Text)
		case !norm.NFC.IsNormalString(in.Text):
			t.Errorf("not NFC: %q", in.Text)
		case strings.ContainsAny(in.Text, "\n\r\t\uFDD0\uFDD1"):
			t.Errorf("control in %q", in.Text)
		case in.Text == "" && !in.Break && in.Note == 0 && in.Style&Code == 0:
			t.Errorf("empty inline at %v", in.Pos)
		}
		if in.Note > 0 {
			refs--
		}
	}
	if refs != 0 {
		t.Errorf("%d more notes than references", refs)
	}
	// goldmark gathers the notes of a file in the order in which it parses
	// them, a Book those of a section in the order in which they are read.
	body, notes, _ := strings.Cut(rendering(text), `<div class="footnotes"`)
	want := noteLetters(strings.Split(notes, `<li id="fn:`)[1:])
	want = append(want, htmlLetters(body))
	var got []string
	only := &Book{}
	for _, s := range book.Sections {
		only.Sections = append(only.Sections, &Section{Number: s.Number, Title: s.Title, Blocks: s.Blocks})
		for _, n := range s.Notes {
			got = append(got, bookLetters(&Book{Sections: []*Section{{Blocks: n.Blocks}}}))
		}
	}
	slices.Sort(got)
	if got = append(got, bookLetters(only)); !slices.Equal(got, want) {
		t.Errorf("%q\n got letters %q\nwant %q", text, got, want)
	}
}

// noteLetters are the letters of each of goldmark's notes, sorted.
func noteLetters(items []string) []string {
	for i, item := range items {
		items[i] = htmlLetters("<li " + item)
	}
	slices.Sort(items)
	return items
}

func checkText(t reporter, raw []byte) {
	book, faults := bookOf(language.English, raw)
	lines := bytes.Count(raw, []byte("\n")) + bytes.Count(raw, []byte("\r")) + 1
	for _, f := range faults {
		checkFaults(t, f, lines)
	}
	if faults == nil {
		text, _ := clean("a.md", raw)
		checkBook(t, book, text)
	}
}

// Random arrangements of all that Markdown knows.
func TestNothingLost(t *testing.T) {
	piece := rapid.SampledFrom([]string{"a", "word", "é", "e\u0301", " ", "  ", "\n", "\n\n", "\n    ", "\n> ", "\n- ", "\n1. ", "\t", "*", "**", "_", "`", "``", "\n```\n",
		"\"", "'", "[", "]", "(u)", "](/u)", "[^n]", "\n\n[^n]: ", "\n\n[l]: /u\n", "[l]", "<http://x.y>", "<!-- r -->", "\\", "&amp;", "&eacute;", "&#233;", "&", "\n# ", "\n## ",
		"\n===\n", "\n---\n", "--", "...", "!", "  \n", "\\\n", "#", "ß", "4", "½",
		"\n```verse\n", "\n```letter\n", "\n````motto {lang=fr}\n", "\n~~~sign\n", "\n~~~\n", "\n````\n", "]{.caps}", "]{lang=fr}", " {.part}\n", "{", "}", "\n\n| a | b |\n|---|--:|\n| c", "|",
		"\n# Chapter One", ": ", "\n# I", "Dear a,", "— b", "\n\n-- c\n", "![p](q.png)"})
	rapid.Check(t, func(rt *rapid.T) {
		text := strings.Join(rapid.SliceOfN(piece, 1, 25).Draw(rt, "pieces"), "")
		checkText(rt, []byte(text))
	})
}

func FuzzLoad(f *testing.F) {
	for _, s := range []string{
		"# One\n\n\"'Tis *so*,\" she\nsaid.[^1]\n\n[^1]: Note.\n", "> - a\n>   1. b\n>\n> c", "a `b` <c@d.e> [f](g) \\* &eacute; <!-- h -->",
		"[a]: /b\n\n[a][] [a]", "    code\n\n```\nmore\n```", "a\\\nb  \nc", "\xff", "[^a]: [^b]: c\n\n[^a] [^b]", "\r\n\r\n# x\r", "5'10\" '90s 'n' --- ...", "a\n===\n\nb\n---\n***",
		"# Part One: *The* Ebb {.part lang=fr}\n\n> x\\\n> y\n>\n> -- z\n\n## 2. a[^1]\n\n*Here, 3 May*\n\nb\n\n[^1]: c", "```verse {lang=de}\na *b\n  c* d\n\n-- e\n```",
		"```letter\nOffice,\\\n3 May\n\nDear a,\n\nb\n\n> - c\n\nYours,\n\nT. C.\n\nP.S. d\n```", "~~~sign\nA\n\nB\n~~~\n\n> ```motto\n> a\n> ```", "[a *b]{.caps} c* [d `]{.sign}` e]{lang=fr} [f",
		"| a | b |\n|:-:|--:|\n| `c\\|d` |\n| e | f |", "[a [b](c)]{.sign}[d][e]{.caps}\n\n[e]: f", "Chapitre *premier*\\\nla mer\n===", "'Arry, \"'Allo 'Alf,\" 'e said",
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, raw []byte) {
		if len(raw) > 1<<16 {
			t.Skip()
		}
		checkText(t, raw)
	})
}
