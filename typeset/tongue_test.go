package typeset

import (
	"fmt"
	"strings"
	"testing"

	"bodkin/fonts"
	"bodkin/hyphen"
	"bodkin/markup"
	"bodkin/typeset/length"
)

func TestLanguages(t *testing.T) {
	french := "anticonstitutionnellement administration pharmaceutique révolutionnaire gouvernement établissement "
	fr, err := hyphen.Load("fr")
	if err != nil {
		t.Fatal(err)
	}
	fr = fr.WithMins(lettersBefore, lettersAfter)
	ins := func(lang string) []markup.Inline {
		return []markup.Inline{{Text: strings.Repeat(french, 40), Lang: lang}}
	}
	for _, c := range []struct {
		name          string
		inline, whole string
		divided       bool
	}{
		{"a stretch", "fr", "", true},
		{"a stretch in a section", "fr-CA", "de", true},
		{"a section", "", "fr", true},
		{"of no known language", "eo", "", false},
		{"a section of no known language", "", "mis", false},
		{"back to the section's", "fr", "eo", true},
	} {
		book := chapter(&markup.Paragraph{Text: ins(c.inline)})
		book.Sections[0].Language = c.whole
		l := compose(t, NewComposer(book, Resources{}), small())
		n := 0
		for i := range l.Pages {
			text := l.Pages[i].text()
			for j := range text {
				if !text[j].Hyphen {
					continue
				}
				n++
				before := lastWordOf(text[j].text()[:len(text[j].text())-1])
				// The word that it begins, and whether French divides it there.
				found := false
				for _, w := range strings.Fields(french) {
					for _, at := range fr.Points(nil, w) {
						found = found || w[:at] == string(before)
					}
				}
				if !found {
					t.Errorf("%s: a line ends with %q-", c.name, before)
				}
			}
		}
		if (n > 0) != c.divided {
			t.Errorf("%s: %d lines end in hyphens", c.name, n)
		}
	}
}

func TestWordOfTwoLanguages(t *testing.T) {
	s, err := (&Resources{Faces: fonts.Embedded()}).setter("en-GB", galleyKey{family: "EB Garamond"})
	if err != nil {
		t.Fatal(err)
	}
	text, err := s.prepare([]markup.Inline{{Text: "un"}, {Text: "Schifffahrtsgesellschaft", Lang: "de"}, {Text: "ly"}}, markup.Pos{})
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	w := text.tokens[0].w
	for _, c := range w.cuts {
		got = append(got, w.parts[c.part].run.Text[:c.at])
	}
	// After Duden: Schiff-fahrts-ge-sell-schaft.
	if want := "[Schiff Schifffahrts Schifffahrtsge Schifffahrtsgesell]"; fmt.Sprint(got) != want {
		t.Errorf("%v, want %v", got, want)
	}
}

func TestAuthorsSpaces(t *testing.T) {
	for _, how := range []align{ragged, centred, rightward} {
		set := &setter{words: nil}
		s, err := (&Resources{Faces: fonts.Embedded()}).setter("en-GB", galleyKey{family: "EB Garamond"})
		if err != nil {
			t.Fatal(err)
		}
		set.words = s
		text, err := s.prepare(typed("administra\u00adtion of the 3\u00a0000\u202f000\u00a0lamps"), markup.Pos{})
		if err != nil {
			t.Fatal(err)
		}
		lines, err := set.set(text, shape{size: 10 * length.Point, measure: 64 * length.Point, align: how})
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for i := range lines {
			got = append(got, lines[i].text())
		}
		if want := "administra-|tion of the|3 000000 lamps"; strings.Join(got, "|") != want {
			t.Errorf("%d: %q, want %q", how, strings.Join(got, "|"), want)
		}
	}
}
