package numeral

import (
	"strconv"
	"strings"
	"sync"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// Form is a way of writing numbers. The languages that inflect their ordinals
// have several forms from Ordinal on, in an order of their own.
type Form uint8

const (
	Figures  Form = iota // 12
	Capitals             // XII
	Small                // xii
	Cardinal             // twelve
	Ordinal              // twelfth; Ordinal+1 and so on are other endings of it
)

// The numbers that are read. A heading that says 1984 or MIX is a title
// sooner than a number.
const (
	MostFigures = 999 // in figures
	MostRoman   = 399 // in roman numerals: those without D and M
	MostWords   = 199 // in words
)

// Read returns the number that s says and its form. Words may be written in
// any case, with or without accents, and with hyphens or spaces between them.
// lang is a BCP 47 tag; in a language that is not known there are no words.
func Read(lang, s string) (n int, f Form, ok bool) {
	s = strings.TrimSpace(s)
	if s == "" || len(s) > 100 {
		return 0, 0, false
	}
	if n, ok := figures(s); ok {
		return n, Figures, true
	}
	if l := languageOf(lang); l != nil {
		if r, ok := l.readings()[fold(s)]; ok {
			return r.n, r.form, true
		}
	}
	if n, ok := parseRoman(s); ok && n <= MostRoman {
		if unicode.IsLower(rune(s[0])) {
			return n, Small, true
		}
		return n, Capitals, true
	}
	return 0, 0, false
}

// Parse returns the number that s says, whatever its form.
func Parse(lang, s string) (n int, ok bool) {
	n, _, ok = Read(lang, s)
	return n, ok
}

// Write writes n in a form, words in small letters. It is not ok where the
// language is not known, where it lacks the form, and where n is below 1 or
// beyond what the form reaches: MostWords, or 3999 in roman numerals.
func Write(lang string, f Form, n int) (s string, ok bool) {
	if n < 1 {
		return "", false
	}
	switch f {
	case Figures:
		return strconv.Itoa(n), true
	case Capitals:
		s = Roman(n)
		return s, s != ""
	case Small:
		s = strings.ToLower(Roman(n))
		return s, s != ""
	}
	l := languageOf(lang)
	if l == nil || n > MostWords {
		return "", false
	}
	if f == Cardinal {
		return l.cardinal(n), true
	}
	if endings := l.ordinals(n); int(f-Ordinal) < len(endings) {
		return endings[f-Ordinal], true
	}
	return "", false
}

func figures(s string) (n int, ok bool) {
	if s[0] == '0' || len(s) > 3 {
		return 0, false
	}
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			return 0, false
		}
		n = 10*n + int(s[i]-'0')
	}
	return n, n <= MostFigures
}

// language is how the numbers from 1 to MostWords are said.
type language struct {
	cardinal func(n int) string
	ordinals func(n int) []string // by ending
	others   func(n int) []string // other cardinals that are read; nil for none

	readings func() map[string]reading // gathered when they are first asked for
}

// reading is what a spelling says.
type reading struct {
	n    int
	form Form
}

// languages are keyed by language, or by language and region where a region
// differs.
var languages = known(map[string]language{
	"en": english, "en-US": american,
	"de": german, "nl": dutch, "sv": swedish,
	"fr": french, "fr-BE": belgian, "fr-CH": swiss,
	"es": spanish, "it": italian, "pt": portuguese, "pt-BR": brazilian,
	"pl": polish,
})

func known(all map[string]language) map[string]*language {
	m := make(map[string]*language, len(all))
	for tag, l := range all {
		l.readings = sync.OnceValue(l.spellings)
		m[tag] = &l
	}
	return m
}

// languageOf returns the language of a BCP 47 tag, nil for one that is not
// known.
func languageOf(tag string) *language {
	subtags := strings.FieldsFunc(tag, func(r rune) bool { return r == '-' || r == '_' })
	if len(subtags) == 0 {
		return nil
	}
	primary := strings.ToLower(subtags[0])
	for _, region := range subtags[1:] {
		if l := languages[primary+"-"+strings.ToUpper(region)]; l != nil {
			return l
		}
	}
	if primary == "en" && len(subtags) == 1 {
		primary = "en-US"
	}
	return languages[primary]
}

// spellings lists all that is read. Where two spellings are alike once they are
// folded, the first is meant.
func (l language) spellings() map[string]reading {
	m := make(map[string]reading)
	put := func(s string, r reading) {
		s = fold(s)
		if _, taken := m[s]; !taken {
			m[s] = r
		}
	}
	for n := 1; n <= MostWords; n++ {
		put(l.cardinal(n), reading{n, Cardinal})
		for i, s := range l.ordinals(n) {
			put(s, reading{n, Ordinal + Form(i)})
		}
		if l.others != nil {
			for _, s := range l.others(n) {
				put(s, reading{n, Cardinal})
			}
		}
	}
	return m
}

// fold makes spellings that differ in case, accents, or the marks between
// words alike. A sharp s is ss, as capitals and the Swiss write it.
func fold(s string) string {
	var b strings.Builder
	gap := false
	for _, r := range norm.NFD.String(strings.ToLower(s)) {
		switch {
		case r == '-' || r == '\u2010' || r == '\u2011' || unicode.IsSpace(r):
			gap = b.Len() > 0
			continue
		case r == '\u00ad' || unicode.Is(unicode.Mn, r):
			continue
		}
		if gap {
			b.WriteByte(' ')
			gap = false
		}
		if r == 'ß' {
			b.WriteString("ss")
			continue
		}
		b.WriteRune(r)
	}
	return b.String()
}

// join puts words into one text, empty ones left out.
func join(sep string, words ...string) string {
	var kept []string
	for _, w := range words {
		if w != "" {
			kept = append(kept, w)
		}
	}
	return strings.Join(kept, sep)
}
