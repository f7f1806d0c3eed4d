package typeset

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"bodkin/fonts"
	"bodkin/markup"
)

// text is a paragraph that is ready to be broken: words and what stands before
// each. It knows no size and no measure.
type text struct {
	tokens []token
	pos    markup.Pos
}

type token struct {
	sep separator // before the word
	n   int       // how many of them: more than one only in lines that are kept as typed
	w   *word
	pos markup.Pos
}

// separator is what stands between two words.
type separator uint8

const (
	sepNone    separator = iota
	sepSpace             // a word space, where a line may end
	sepBound             // a word space where a line should not end: between initials, before a unit
	sepFixed             // a no-break space: as wide as the others, but no line ends there
	sepThin              // a thin space: a fifth of an em, no line ends there
	sepNarrow            // a narrow no-break space: a sixth of an em
	sepHair              // between nested quotation marks: a twelfth of an em, which no reader of the PDF takes for a space
	sepAllowed           // no width, but a line may end there
	sepBreak             // a forced line end
)

// separatorOf returns what a character that divides words stands for; sepNone
// for all others.
func separatorOf(r rune) separator {
	switch r {
	case ' ':
		return sepSpace
	case '\u00a0', '\u2007': // NO-BREAK SPACE, FIGURE SPACE
		return sepFixed
	case '\u2009', '\u2005': // THIN SPACE, FOUR-PER-EM SPACE
		return sepThin
	case '\u202f', '\u200a', '\u2006': // NARROW NO-BREAK SPACE, HAIR SPACE, SIX-PER-EM SPACE
		return sepNarrow
	case '\u200b': // ZERO WIDTH SPACE
		return sepAllowed
	}
	return sepNone
}

// asTyped turns a line that is kept as it is typed into words, with all the
// spaces between them.
func (s *wordSetter) asTyped(in markup.Inline) (*text, error) {
	t, err := s.prepare([]markup.Inline{in}, in.Pos)
	if err != nil {
		return nil, err
	}
	rest := strings.TrimLeftFunc(in.Text, isSeparator)
	for i := range t.tokens {
		if i > 0 {
			spaces := len(rest) - len(strings.TrimLeftFunc(rest, isSeparator))
			t.tokens[i].n = utf8.RuneCountInString(rest[:spaces])
			t.tokens[i].sep = sepFixed
			rest = rest[spaces:]
		}
		if end := strings.IndexFunc(rest, isSeparator); end >= 0 {
			rest = rest[end:]
		}
	}
	return t, nil
}

func isSeparator(r rune) bool { return separatorOf(r) != sepNone }

// prepare turns a text of the manuscript into words. A reference to a note
// becomes a raised number.
func (s *wordSetter) prepare(ins []markup.Inline, pos markup.Pos) (*text, error) {
	letters := 0
	for i := range ins {
		letters += len(ins[i].Text)
	}
	t := &text{pos: pos, tokens: make([]token, 0, letters/5+2)}
	sep := sepNone
	var pieces []piece
	flush := func(next separator) error {
		if len(pieces) > 0 {
			w, err := s.word(pieces)
			if err != nil {
				return err
			}
			if n := len(t.tokens); n > 0 && sep == sepSpace && t.tokens[n-1].w.binding.binds(w.binding) {
				sep = sepBound
			}
			t.tokens = append(t.tokens, token{sep, 1, w, pieces[0].pos})
			pieces, sep = pieces[:0], sepNone
		}
		if len(t.tokens) > 0 {
			sep = stronger(sep, next)
		}
		return nil
	}
	for i := range ins {
		in := &ins[i]
		switch {
		case in.Break:
			if err := flush(sepBreak); err != nil {
				return nil, err
			}
		case in.Note > 0:
			pieces = append(pieces, piece{text: strconv.Itoa(in.Note), pos: in.Pos, note: true})
		default:
			style := in.Style
			if style&(markup.Caps|markup.Inscribed) != 0 {
				style = s.dress(style, in.Text)
			}
			for rest := in.Text; rest != ""; {
				i, size, next := nextSeparator(rest)
				if k := nested(rest[:i]); k > 0 && in.Style&markup.Code == 0 {
					i, size, next = k, 0, sepHair
				}
				if i > 0 && (rest[0] != softHyphen[0] || strings.Trim(rest[:i], softHyphen) != "") {
					pieces = appendPiece(pieces, piece{rest[:i], style, in.Lang, in.Pos, false})
				}
				rest = rest[i+size:]
				if next != sepNone {
					if err := flush(next); err != nil {
						return nil, err
					}
				}
			}
		}
	}
	if err := flush(sepNone); err != nil {
		return nil, err
	}
	return t, nil
}

// nested returns the offset between two quotation marks of different kinds that
// meet, “‘ or ’”: a narrow space keeps them apart. It returns 0 where there
// are none.
func nested(s string) int {
	for i := 0; i+6 <= len(s); i++ {
		if s[i] != 0xe2 {
			continue
		}
		switch s[i : i+6] {
		case "“‘", "‘“", "’”", "”’", "„‚", "‚„":
			return i + 3
		}
	}
	return 0
}

// nextSeparator returns where the first separator in s begins, its size in
// bytes and its kind; where there is none, the length of s and 0.
func nextSeparator(s string) (at, size int, sep separator) {
	for i := 0; i < len(s); i++ {
		if s[i] == ' ' {
			return i, 1, sepSpace
		}
		if s[i] == 0xc2 || s[i] == 0xe2 { // the first byte of every other separator
			r, n := utf8.DecodeRuneInString(s[i:])
			if sep := separatorOf(r); sep != sepNone {
				return i, n, sep
			}
		}
	}
	return len(s), 0, sepNone
}

// appendPiece adds p, in one with the piece before where both have one style
// and language: they are shaped together.
func appendPiece(pieces []piece, p piece) []piece {
	if n := len(pieces); n > 0 && pieces[n-1].style == p.style && pieces[n-1].lang == p.lang && !pieces[n-1].note {
		pieces[n-1].text += p.text
		return pieces
	}
	return append(pieces, p)
}

// stronger returns what remains of two separators that meet: the one that
// decides whether a line may end there, and then the wider one.
func stronger(a, b separator) separator {
	for _, s := range [...]separator{sepBreak, sepSpace, sepBound, sepAllowed, sepFixed, sepThin, sepNarrow, sepHair} {
		if a == s || b == s {
			return s
		}
	}
	return sepNone
}

// A MissingGlyph is the failure to set a character that the face lacks.
type MissingGlyph struct {
	Pos      markup.Pos
	Rune     rune
	Face     string   // family and style
	Families []string // that have the character
}

func (e *MissingGlyph) Error() string {
	have := "none of the faces at hand has it: put one that does into a folder and name it with --fonts"
	if len(e.Families) > 0 {
		have = "these faces have it: " + strings.Join(e.Families, ", ")
	}
	return fmt.Sprintf("%v: %s has no glyph for %q (U+%04X); %s", e.Pos, e.Face, e.Rune, e.Rune, have)
}

func missingGlyph(lib *fonts.Library, face *fonts.Face, r rune, pos markup.Pos) error {
	families := slices.DeleteFunc(lib.FamiliesWith(r), func(f string) bool { return f == face.Family })
	return &MissingGlyph{Pos: pos, Rune: r, Face: face.Family + " " + face.Style.String(), Families: families}
}
