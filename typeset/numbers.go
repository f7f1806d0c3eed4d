package typeset

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"bodkin/markup"
	"bodkin/markup/numeral"
)

// Numbers is how chapters or parts are numbered: the number of the first as it
// would be written, "Chapter One", "1" or "I"; empty leaves numbers as the
// manuscript has them.
type Numbers string

// UnmarshalText reads a text in which a 1 stands, in figures, in roman
// numerals or in the words of a language. Whether the language is that of the
// book is seen when the book is set.
func (n *Numbers) UnmarshalText(text []byte) error {
	s := Numbers(strings.TrimSpace(string(text)))
	if s != "" {
		found := false
		for _, w := range generated {
			if _, ok := s.pattern(w.tag); ok {
				found = true
				break
			}
		}
		if !found {
			return s.fault("en", markup.Chapter)
		}
	}
	*n = s
	return nil
}

// MarshalText writes n as it was read.
func (n Numbers) MarshalText() ([]byte, error) { return []byte(n), nil }

func (n Numbers) String() string { return string(n) }

// fault says that there is no number to count on from, and shows some.
func (n Numbers) fault(lang string, piece markup.Piece) error {
	w := generatedIn(lang)
	as := w.chapters[:]
	if piece == markup.Part {
		as = w.parts[:]
	}
	examples := strconv.Quote(as[0])
	for _, a := range as[1 : len(as)-1] {
		examples += ", " + strconv.Quote(a)
	}
	examples += " or " + strconv.Quote(as[len(as)-1])
	return fmt.Errorf("%q does not say the number of the first: write it with a 1, an I or a word for one, as in %s", string(n), examples)
}

// pattern is a number of which other numbers can be made.
type pattern struct {
	lang          string
	before, after string // what stands around the number itself
	one           string // the number as written
	form          numeral.Form
}

// pattern finds the number: the last word that says one, since the noun comes
// first in most languages, or else the first.
func (n Numbers) pattern(lang string) (pattern, bool) {
	s := string(n)
	end := len(s)
	for end > 0 {
		end = strings.LastIndexFunc(s[:end], inNumber)
		if end < 0 {
			break
		}
		_, size := utf8.DecodeRuneInString(s[end:])
		end += size
		begin := strings.LastIndexFunc(s[:end], func(r rune) bool { return !inNumber(r) })
		if begin < 0 {
			begin = 0
		} else {
			_, size := utf8.DecodeRuneInString(s[begin:])
			begin += size
		}
		if value, form, ok := numeral.Read(lang, s[begin:end]); ok && value == 1 {
			return pattern{lang, s[:begin], s[end:], s[begin:end], form}, true
		}
		end = begin
	}
	return pattern{}, false
}

// inNumber reports whether a number may hold r, so that it is looked for in
// whole words.
func inNumber(r rune) bool {
	return unicode.IsLetter(r) || unicode.IsDigit(r) || unicode.Is(unicode.Mn, r)
}

// number writes a number as the pattern has it.
func (p *pattern) number(n int) (string, bool) {
	if n == 1 {
		return p.before + p.one + p.after, true
	}
	form := p.form
	french := primary(p.lang) == "fr"
	if french && form >= numeral.Ordinal && p.before != "" && p.after == "" {
		form = numeral.Cardinal // chapitre premier, chapitre deux: the one ordinal that follows its noun
	}
	s, ok := numeral.Write(p.lang, form, n)
	if !ok {
		return "", false
	}
	first, size := utf8.DecodeRuneInString(p.one)
	switch {
	case form < numeral.Cardinal:
	case unicode.IsUpper(first) && p.one[size:] == strings.ToUpper(p.one[size:]):
		s = strings.ToUpper(strings.ReplaceAll(s, "ß", "ss"))
	case unicode.IsUpper(first) && primary(p.lang) == "en":
		s = englishTitle(s)
	case unicode.IsUpper(first):
		s = upperFirst(s)
	}
	return p.before + s + p.after, true
}

// upperFirst begins s with a capital.
func upperFirst(s string) string {
	r, size := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[size:]
}

// englishTitle begins each word with a capital, as titles in English do.
func englishTitle(s string) string {
	words := strings.Split(s, " ")
	for i, w := range words {
		if w == "and" {
			continue
		}
		parts := strings.Split(w, "-")
		for k := range parts {
			parts[k] = upperFirst(parts[k])
		}
		words[i] = strings.Join(parts, "-")
	}
	return strings.Join(words, " ")
}

// sectionNumber is what stands over a section for its number.
type sectionNumber struct {
	text  []markup.Inline // empty for none
	added bool            // the program has written it, or has taken over all numbers
}

// numbersOf returns the numbers of all sections. Where the setting gives a
// pattern, the chapters of the body are counted through the whole book, and
// parts do not begin again at one; a number that the manuscript has goes
// before, and those after it count on from there.
func (s *Setting) numbersOf(book *markup.Book) ([]sectionNumber, error) {
	all := make([]sectionNumber, len(book.Sections))
	for i, sec := range book.Sections {
		all[i] = sectionNumber{sec.Number, s.writesNumbers()}
	}
	for _, of := range []struct {
		key   string
		piece markup.Piece
		as    Numbers
	}{{"numbers", markup.Chapter, s.Numbers}, {"part-numbers", markup.Part, s.PartNumbers}} {
		if of.as == "" {
			continue
		}
		p, ok := of.as.pattern(book.Language)
		if !ok {
			return nil, fmt.Errorf("%s: in the book's language, %s, %w", of.key, book.Language, of.as.fault(book.Language, of.piece))
		}
		n := 0
		for i, sec := range book.Sections {
			if sec.Matter != markup.Body || sec.Kind != markup.Written || sec.Piece != of.piece || sec.Plain {
				continue
			}
			n++
			if sec.Ordinal > 0 {
				n = sec.Ordinal
			}
			text, ok := p.number(n)
			if !ok {
				return nil, fmt.Errorf("%v: %s: %q has no word for %d; write the number in figures, as in %q",
					sec.Pos, of.key, string(of.as), n, p.before+"1"+p.after)
			}
			all[i].text = []markup.Inline{{Pos: sec.Pos, Text: text}}
		}
	}
	return all, nil
}

// writesNumbers reports whether the program writes numbers, so that those of
// the manuscript are not looked for on the pages.
func (s *Setting) writesNumbers() bool { return s.Numbers != "" || s.PartNumbers != "" }
