package hyphen

import "unicode"

// A symbol is a letter as the patterns see it.
type symbol uint16

// Symbols from firstLetter on are the letters that occur in patterns.
const (
	edge    symbol = iota // "." in patterns
	unknown               // a letter that no pattern has
	firstLetter
)

// maxSymbols is more than the letters of any script that is divided by patterns.
const maxSymbols = 1 << 15

// noLetter marks runes that end a run of letters.
const noLetter symbol = 1<<16 - 1

// latin is the number of code points that are looked up in a table: Basic Latin to Latin Extended-B, and all below
// U+0300, where the combining marks begin.
const latin = 0x300

// An alphabet maps runes to symbols, capitals as their small letters.
type alphabet struct {
	low  [latin]symbol
	high map[rune]symbol
	n    symbol // number of symbols
}

func newAlphabet() *alphabet {
	a := &alphabet{high: map[rune]symbol{}, n: firstLetter}
	for r := range a.low {
		a.low[r] = noLetter
		if unicode.IsLetter(rune(r)) {
			a.low[r] = unknown
		}
	}
	a.low['ʼ'] = noLetter // by Unicode a letter, but see isApostrophe
	return a
}

// fold maps a rune to the one that stands for it in patterns and exceptions.
func fold(r rune) rune {
	if r < 0x80 {
		if 'A' <= r && r <= 'Z' {
			r += 'a' - 'A'
		}
		return r
	}
	if isApostrophe(r) {
		return '\''
	}
	return unicode.ToLower(r)
}

func isApostrophe(r rune) bool { return r == '\'' || r == '’' || r == 'ʼ' }

// symbol returns noLetter for what is neither a letter nor a combining mark. Apostrophes are noLetter unless patterns
// have them.
func (a *alphabet) symbol(r rune) symbol {
	if r < latin {
		return a.low[r]
	}
	if isApostrophe(r) {
		return a.low['\'']
	}
	l := unicode.ToLower(r)
	if l < latin {
		return a.low[l]
	}
	if c, ok := a.high[l]; ok {
		return c
	}
	if unicode.IsLetter(r) || unicode.IsMark(r) {
		return unknown
	}
	return noLetter
}

// add returns the symbol of a folded rune that occurs in a pattern.
func (a *alphabet) add(r rune) symbol {
	if r < latin {
		if c := a.low[r]; c != unknown && c != noLetter {
			return c
		}
	} else if c, ok := a.high[r]; ok {
		return c
	}
	c := a.n
	a.n++
	switch {
	case r == '\'':
		for _, r := range "'ʼ" {
			a.low[r] = c
		}
	case r < latin:
		a.low[r] = c
	default:
		a.high[r] = c
	}
	return c
}

// finish gives capitals the symbols of their small letters.
func (a *alphabet) finish() {
	for r := range a.low {
		l := unicode.ToLower(rune(r))
		if l == rune(r) || a.low[r] != unknown {
			continue
		}
		if l < latin {
			a.low[r] = a.low[l]
		} else if c, ok := a.high[l]; ok {
			a.low[r] = c
		}
	}
}
