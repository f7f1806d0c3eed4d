package markup

import (
	"unicode"
	"unicode/utf8"
)

// class is what a character means to a quotation mark beside it.
type class uint8

const (
	space  class = iota // white space, or an end of the paragraph
	opener              // what a quotation may stand behind without a space
	closer              // what follows a quotation without a space
	dash                // either
	word                // letters, digits and all else
)

// transparent characters have no width and no part in this.
func transparent(r rune) bool {
	return r == '\u00AD' || r == '\u200B' || r == '\u200C' || r == '\u200D' || r == '\u2060'
}

// rune returns the character before i, 0 at the beginning.
func (p *paragraph) rune(i int) rune {
	for i > 0 {
		r, n := utf8.DecodeLastRune(p.buf[:i])
		if !transparent(r) {
			return r
		}
		i -= n
	}
	return 0
}

// next returns the character after the one-byte character at i, 0 at the end.
func (p *paragraph) next(i int) rune {
	for i++; i < len(p.buf); {
		r, n := utf8.DecodeRune(p.buf[i:])
		if !transparent(r) {
			return r
		}
		i += n
	}
	return 0
}

// before classes what stands before the mark at i.
func (p *paragraph) before(i int) class {
	for i > 0 {
		r, n := utf8.DecodeLastRune(p.buf[:i])
		switch {
		case transparent(r):
			i -= n
			continue
		case p.last >= 0 && p.last == i-1: // a mark that has been judged
			switch p.lastAs {
			case opening:
				return opener
			case closing:
				return closer
			}
			return word
		case isQuote(r):
			return p.typed(r, i-n)
		}
		return classOf(r)
	}
	return space
}

// typed classes a quotation mark that the author typed, at i.
func (p *paragraph) typed(r rune, i int) class {
	s := string(r)
	opens := s == p.marks.double.open || s == p.marks.single.open || unicode.Is(unicode.Pi, r) || unicode.Is(unicode.Ps, r)
	closes := s == p.marks.double.close || s == p.marks.single.close || unicode.Is(unicode.Pf, r)
	if opens && closes { // ” in Swedish, “ in German, » and « everywhere
		c := p.rune(i)
		if k := classOf(c); k == space || k == opener || isQuote(c) && unicode.Is(unicode.Ps, c) {
			return opener
		}
		return closer
	}
	if opens {
		return opener
	}
	return closer
}

// after classes what follows the mark at i, past other straight marks.
func (p *paragraph) after(i int) class {
	for i++; i < len(p.buf); {
		r, n := utf8.DecodeRune(p.buf[i:])
		if transparent(r) || r == '"' || r == '\'' {
			i += n
			continue
		}
		if isQuote(r) {
			if p.marks.double.opens(r) || p.marks.single.opens(r) {
				return opener
			}
			if r == '’' && n+i < len(p.buf) && classOf(p.next(i+n-1)) == word {
				return word // 'tis typed as ’tis
			}
			return closer
		}
		return classOf(r)
	}
	return space
}

func isQuote(r rune) bool {
	switch r {
	case '“', '”', '„', '‟', '‘', '’', '‚', '‛', '«', '»', '‹', '›':
		return true
	}
	return false
}

// isFigure tells what can end a measure: digits and common fractions.
func isFigure(r rune) bool { return '0' <= r && r <= '9' || r == '½' || r == '¼' || r == '¾' }

func classOf(r rune) class {
	switch {
	case r == 0, unicode.IsSpace(r):
		return space
	case unicode.IsLetter(r), unicode.IsNumber(r):
		return word
	case r == '-', r == '/', unicode.Is(unicode.Pd, r):
		return dash
	case unicode.Is(unicode.Ps, r), unicode.Is(unicode.Pi, r), r == '¿', r == '¡':
		return opener
	case unicode.Is(unicode.Pe, r), unicode.Is(unicode.Pf, r):
		return closer
	}
	switch r {
	case '.', ',', ';', ':', '!', '?', '…', '′', '″':
		return closer
	}
	return word
}
