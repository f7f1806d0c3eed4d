package markup

import (
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"

	"bodkin/markup/numeral"
)

// numbered says where a heading's number is: text[:number] is the number with
// its word, "Chapter One", and text[title:] the title.
type numbered struct {
	piece         Piece // Chapter or Part
	n             int
	number, title int
}

// mostAlone is the highest number that figures alone are taken for: 1984 is a
// title.
const mostAlone = 199

// number divides a heading into number and title:
//
//	Chapter One: The Long Ebb     number and title
//	Part Two                      a number with its word
//	Première partie — Le reflux   an ordinal before its word
//	XII                           a number alone: in figures, words or roman numerals
//	4. The Long Ebb
//	Seven Days                    no number
//
// Between number and title stand a colon, a dash, a full point or the end of
// a line; behind a word and figures, as in "Chapter 12 The Ebb", a space is
// enough. In s, a line of the heading ends with a line feed.
func (m *marks) number(s string) (numbered, bool) {
	for i, r := range s {
		title, ok := separator(s, i, r)
		if !ok {
			continue
		}
		h, ok := m.says(s[:i])
		if !ok || r == '.' && !m.pointed(h, s[title:]) || r == '—' && !h.worded && !spaceAround(s, i) {
			continue
		}
		return numbered{h.piece, h.n, len(strings.TrimRightFunc(s[:i], unicode.IsSpace)), title}, true
	}
	if k := figuresAndTitle.FindStringSubmatchIndex(s); k != nil {
		if h, ok := m.says(s[:k[3]]); ok && h.worded {
			return numbered{h.piece, h.n, k[3], k[4]}, true
		}
	}
	h, ok := m.says(s)
	return numbered{h.piece, h.n, len(strings.TrimRightFunc(s, unicode.IsSpace)), len(s)}, ok
}

// figuresAndTitle is a word, a number in figures, and what can begin a title.
var figuresAndTitle = regexp.MustCompile(`^(\pL+\s+\d+)\s+([\p{Lu}\p{Pi}¿¡])`)

// separator tells whether the character at s[i] can end a number, and where
// the title begins behind it.
func separator(s string, i int, r rune) (title int, ok bool) {
	end := i + utf8.RuneLen(r)
	next, _ := utf8.DecodeRuneInString(s[end:])
	after := end == len(s) || unicode.IsSpace(next)
	switch r {
	case '\n', '—', '―':
	case ':', '.':
		if !after {
			return 0, false
		}
	case '–', '-':
		before, _ := utf8.DecodeLastRuneInString(s[:i])
		if !after || !unicode.IsSpace(before) {
			return 0, false
		}
	default:
		return 0, false
	}
	return end + len(s[end:]) - len(strings.TrimLeftFunc(s[end:], unicode.IsSpace)), true
}

func spaceAround(s string, i int) bool {
	before, _ := utf8.DecodeLastRuneInString(s[:i])
	after, _ := utf8.DecodeRuneInString(s[i+len("—"):])
	return unicode.IsSpace(before) && unicode.IsSpace(after)
}

// saying is what a number says.
type saying struct {
	piece  Piece
	n      int
	form   numeral.Form
	worded bool // it stands with the word for chapter or part
}

// says reads the whole of s as a number, alone or with the word for a chapter
// or a part before or behind it.
func (m *marks) says(s string) (saying, bool) {
	f := strings.Fields(s)
	if len(f) == 0 || len(f) > 8 || len(s) > 120 {
		return saying{}, false
	}
	n, form, ok := numeral.Read(m.lang, strings.Join(f, " "))
	if ok && form <= numeral.Cardinal && (form != numeral.Figures || n <= mostAlone) {
		return saying{n: n, form: form}, true
	}
	if piece, ok := m.words[strings.ToLower(f[0])]; ok && len(f) > 1 {
		if n, form, ok := m.worded(f[1:]); ok {
			return saying{piece, n, form, true}, true
		}
	}
	last := len(f) - 1
	if piece, ok := m.words[strings.ToLower(f[last])]; ok && last > 0 {
		if n, form, ok := m.worded(f[:last]); ok && form >= numeral.Ordinal {
			return saying{piece, n, form, true}, true
		}
	}
	return saying{}, false
}

// worded reads a number beside its word, perhaps with an article: the First.
func (m *marks) worded(f []string) (int, numeral.Form, bool) {
	if len(f) > 1 && m.articles[strings.ToLower(f[0])] {
		f = f[1:]
	}
	s := strings.Join(f, " ")
	if k := shortOrdinal.FindStringSubmatch(s); k != nil {
		n, _, ok := numeral.Read(m.lang, k[1])
		return n, numeral.Ordinal, ok
	}
	return numeral.Read(m.lang, s)
}

// shortOrdinal is an ordinal in figures or roman numerals: 1., 2nd, IIe, 3ª.
var shortOrdinal = regexp.MustCompile(`^(\d+|[IVXLC]+)(?:\.|st|nd|rd|th|er|re|ère|e|ème|º|ª|o|a|:a|:e)$`)

// pointed tells whether a full point can follow the number h before a title:
// "4. The Ebb", but neither "One. Two. Three" nor, where a point makes an
// ordinal, "3. März" or "1. Kapitel".
func (m *marks) pointed(h saying, title string) bool {
	if title == "" {
		return true
	}
	if !h.worded && h.form != numeral.Figures && h.form != numeral.Capitals {
		return false
	}
	first, _, _ := strings.Cut(strings.ToLower(title), " ")
	first = strings.TrimRightFunc(first, unicode.IsPunct)
	_, word := m.words[first]
	return h.worded || !word && !m.months[first]
}

// unnumbered tells whether a title is that of a piece that has no number among
// the chapters: "Prologue", "Epilogue: The Mole", "Interlude II".
func (m *marks) unnumbered(s string) bool {
	s = strings.ToLower(strings.Join(strings.Fields(s), " "))
	for i, r := range s {
		if _, ok := separator(s, i, r); ok && m.aside[strings.TrimSpace(s[:i])] {
			return true
		}
	}
	if m.aside[s] {
		return true
	}
	first, rest, _ := strings.Cut(s, " ")
	if !m.aside[first] {
		return false
	}
	_, ok := numeral.Parse(m.lang, strings.ToUpper(rest))
	return ok
}

// headingText is the text of a heading with a line feed for each line end in
// it, byte for byte as cutText counts.
func headingText(text []Inline) string {
	var s []byte
	for i, in := range text {
		if in.Break {
			s = append(s, '\n')
			continue
		}
		s = append(s, in.Text...)
		if i+1 < len(text) && text[i+1].Pos.Line != in.Pos.Line && strings.HasSuffix(in.Text, " ") {
			s[len(s)-1] = '\n'
		}
	}
	return string(s)
}

// cutText returns the bytes from one offset to another of a text, and the
// references to notes that keep says.
func cutText(text []Inline, from, to int, keep func(at int) bool) []Inline {
	var out []Inline
	at := 0
	for _, in := range text {
		switch n := len(in.Text); {
		case in.Break:
			if from <= at && at < to {
				out = append(out, in)
			}
			at++
		case in.Note > 0:
			if keep(at) {
				out = append(out, in)
			}
		default:
			a, b := max(from-at, 0), min(to-at, n)
			if at += n; a < b {
				in.Text = in.Text[a:b]
				out = append(out, in)
			}
		}
	}
	return out
}

// setTitle gives a section the text of its heading.
func (c *chapter) setTitle(s *Section, text []Inline, a attributes) {
	s.Title = text
	plain := headingText(text)
	if s.Plain {
		return
	}
	h, ok := c.marks.number(plain)
	if ok && h.piece == Part && a.has(".chapter") {
		ok = false // the author says that it is a title
	}
	if !ok {
		s.Plain = c.marks.unnumbered(plain) && !a.has(".chapter")
		return
	}
	if h.piece == Part {
		s.Piece = Part
	}
	s.Ordinal = h.n
	if strings.TrimSpace(plain[h.title:]) == "" {
		s.Number = cutText(text, 0, h.number, func(int) bool { return true })
		s.Title = nil
		return
	}
	s.Number = cutText(text, 0, h.number, func(at int) bool { return at <= h.number })
	s.Title = cutText(text, h.title, len(plain), func(at int) bool { return at > h.number })
}
