package typeset

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"bodkin/hyphen"
	"bodkin/markup"
)

func TestNumbersAsTheFirst(t *testing.T) {
	for _, c := range []struct{ lang, first, third, twentyFirst string }{
		{"en", "Chapter One", "Chapter Three", "Chapter Twenty-One"},
		{"en", "CHAPTER ONE", "CHAPTER THREE", "CHAPTER TWENTY-ONE"},
		{"en", "one", "three", "twenty-one"},
		{"en", "One", "Three", "Twenty-One"},
		{"en", "The First Chapter", "The Third Chapter", "The Twenty-First Chapter"},
		{"en", "1", "3", "21"},
		{"en", "Chapter 1.", "Chapter 3.", "Chapter 21."},
		{"en", "— 1 —", "— 3 —", "— 21 —"},
		{"en", "I", "III", "XXI"},
		{"en", "i", "iii", "xxi"},
		{"en", "Night the First", "Night the Third", "Night the Twenty-First"},
		{"de", "Kapitel Eins", "Kapitel Drei", "Kapitel Einundzwanzig"},
		{"de", "Erstes Kapitel", "Drittes Kapitel", "Einundzwanzigstes Kapitel"},
		{"de", "Erster Teil", "Dritter Teil", "Einundzwanzigster Teil"},
		{"de", "1. Kapitel", "3. Kapitel", "21. Kapitel"},
		{"fr", "Chapitre premier", "Chapitre trois", "Chapitre vingt et un"},
		{"fr", "Première partie", "Troisième partie", "Vingt et unième partie"},
		{"fr", "PREMIÈRE PARTIE", "TROISIÈME PARTIE", "VINGT ET UNIÈME PARTIE"},
		{"es", "Capítulo primero", "Capítulo tercero", "Capítulo vigésimo primero"},
		{"es", "Primera parte", "Tercera parte", "Vigésima primera parte"},
		{"it", "Capitolo Primo", "Capitolo Terzo", "Capitolo Ventunesimo"},
		{"it", "Parte prima", "Parte terza", "Parte ventunesima"},
		{"nl", "Eerste deel", "Derde deel", "Eenentwintigste deel"},
		{"pt-BR", "Capítulo Um", "Capítulo Três", "Capítulo Vinte e um"},
		{"sv", "Första kapitlet", "Tredje kapitlet", "Tjugoförsta kapitlet"},
		{"pl", "Rozdział pierwszy", "Rozdział trzeci", "Rozdział dwudziesty pierwszy"},
		{"de", "DREISSIG UND EINS", "DREISSIG UND DREI", "DREISSIG UND EINUNDZWANZIG"}, // the last word
	} {
		var n Numbers
		if err := n.UnmarshalText([]byte(c.first)); err != nil {
			t.Errorf("%q: %v", c.first, err)
		}
		p, ok := n.pattern(c.lang)
		if !ok {
			t.Errorf("%s: %q has no number", c.lang, c.first)
			continue
		}
		for _, w := range []struct {
			n    int
			want string
		}{{1, c.first}, {3, c.third}, {21, c.twentyFirst}} {
			if got, _ := p.number(w.n); got != w.want {
				t.Errorf("%s: %d as %q is %q, want %q", c.lang, w.n, c.first, got, w.want)
			}
		}
	}
	for _, wrong := range []string{"Chapter", "Chapter Two", "2", "?", "Chapter 11", "1st"} {
		var n Numbers
		err := n.UnmarshalText([]byte(wrong))
		if err == nil || !strings.Contains(err.Error(), `as in "Chapter One", "1" or "I"`) {
			t.Errorf("%q: %v", wrong, err)
		}
	}
}

// Each language that can be hyphenated has words of its own, whose examples
// say one in it.
func TestGeneratedWords(t *testing.T) {
	for _, tag := range hyphen.Languages() {
		w := generatedIn(tag)
		if primary(w.tag) != primary(tag) {
			t.Errorf("%s has no words of its own", tag)
		}
		if w.contents == "" || w.notes == "" {
			t.Errorf("%s: %+v", tag, w)
		}
		for _, s := range append(w.chapters[:], w.parts[:]...) {
			if _, ok := Numbers(s).pattern(tag); !ok {
				t.Errorf("%s: %q does not say one", tag, s)
			}
		}
	}
	if w := generatedIn("tlh"); w.contents != "Contents" {
		t.Errorf("a language without words has those of English, not %q", w.contents)
	}
}

// madeOf makes a book of body sections.
func madeOf(sections ...*markup.Section) *markup.Book {
	for i, sec := range sections {
		sec.Pos = markup.Pos{File: fmt.Sprintf("%d.md", i+1), Line: 1}
		if sec.Matter == markup.Front && sec.Kind == markup.Written {
			sec.Matter = markup.Body
		}
	}
	return &markup.Book{Title: "The Lamp", Author: "I. M.", Language: "en-US", Sections: sections}
}

func inline(s string) []markup.Inline {
	return []markup.Inline{{Pos: markup.Pos{File: "a.md", Line: 1}, Text: s}}
}

func titled(s string) *markup.Section { return &markup.Section{Title: inline(s)} }

// Chapters are counted through the whole book; parts have numbers of their
// own; a number that is written goes before, and the count goes on from it.
func TestNumbersOfABook(t *testing.T) {
	part := func(s string) *markup.Section { return &markup.Section{Title: inline(s), Piece: markup.Part} }
	book := madeOf(
		&markup.Section{Title: inline("Prologue"), Plain: true},
		part("Ebb"), titled("a"), titled("b"),
		part("Flood"), titled("c"),
		&markup.Section{Title: inline("d"), Number: inline("7"), Ordinal: 7}, titled("e"),
		&markup.Section{Title: inline("Afterword"), Matter: markup.Back},
	)
	s := Default()
	s.Numbers, s.PartNumbers = "Chapter One", "Part I"
	all, err := s.numbersOf(book)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for i := range all {
		got = append(got, markup.Plain(all[i].text))
	}
	want := "|Part I|Chapter One|Chapter Two|Part II|Chapter Three|Chapter Seven|Chapter Eight|"
	if strings.Join(got, "|") != want {
		t.Errorf("%s\nwant\n%s", strings.Join(got, "|"), want)
	}

	s.Numbers = "Kapitel Eins"
	if _, err := s.numbersOf(book); err == nil || !strings.HasPrefix(err.Error(), "numbers: in the book's language, en-US,") {
		t.Errorf("a German number in an English book: %v", err)
	}
	s.Numbers = "One"
	book.Sections[2].Ordinal = 200
	if _, err := s.numbersOf(book); err == nil || !strings.Contains(err.Error(), "3.md:1: numbers:") || !strings.Contains(err.Error(), `as in "1"`) {
		t.Errorf("a chapter without a number word: %v", err)
	}
}

// A number that the program writes is no part of the manuscript; one that it
// leaves alone is.
func TestNumbersAreChecked(t *testing.T) {
	book := madeOf(
		&markup.Section{Title: inline("The Ebb"), Number: inline("Chapter 1"), Ordinal: 1, Blocks: []markup.Block{paragraphOf("It began.")}},
		&markup.Section{Number: inline("Chapter 2"), Ordinal: 2, Blocks: []markup.Block{paragraphOf("It went on.")}},
	)
	for _, numbers := range []Numbers{"", "One"} {
		s := Default()
		s.Numbers = numbers
		l, err := Compose(context.Background(), book, s, Resources{})
		if err != nil {
			t.Fatal(err)
		}
		if err := Check(book, l); err != nil {
			t.Errorf("numbers %q: %v", numbers, err)
		}
		want := "Chapter 1"
		if numbers != "" {
			want = "One"
		}
		if got := l.Pages[0].Lines[0].text(); got != want {
			t.Errorf("numbers %q: the page begins with %q", numbers, got)
		}
	}
}

func paragraphOf(s string) *markup.Paragraph {
	return &markup.Paragraph{Pos: markup.Pos{File: "a.md", Line: 3}, Text: inline(s)}
}

// Whatever is written, the first has that number, and no other chapter has
// it.
func FuzzNumbers(f *testing.F) {
	for _, s := range []string{"Chapter One", "1", "I", "— i —", "Première partie", "Erstes Kapitel", "İ", "1\u0301"} {
		f.Add(s, 2)
	}
	f.Fuzz(func(t *testing.T, s string, n int) {
		var as Numbers
		if err := as.UnmarshalText([]byte(s)); err != nil || as == "" {
			return
		}
		for _, w := range generated {
			p, ok := as.pattern(w.tag)
			if !ok {
				continue
			}
			if first, ok := p.number(1); !ok || first != string(as) {
				t.Errorf("%s: the first of %q is %q", w.tag, as, first)
			}
			if other, ok := p.number(n); ok && n != 1 && other == string(as) {
				t.Errorf("%s: %d as %q is the same", w.tag, n, as)
			}
		}
	})
}
