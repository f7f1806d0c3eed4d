package hyphen

import (
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// A letter is one rune of a run in composed form.
type letter struct {
	offset int // in the word, bytes; meaningful if kind is base
	rune   rune
	symbol symbol // edge for an apostrophe that no pattern has: what is beside it is matched as words of their own
	kind   kind
}

type kind uint8

const (
	base       kind = iota
	mark            // belongs to the letter before it
	apostrophe      // minima count from here
)

// spell returns the run of letters that begins at word[at:], in the room of ls, and its end, which is at if no letter
// stands there.
func (d *Dictionary) spell(ls []letter, word string, at int) (_ []letter, end int) {
	ls = ls[:0]
	latinOnly, last := true, apostrophe
	i := at
run:
	for i < len(word) {
		r, size := rune(word[i]), 1
		if r >= utf8.RuneSelf {
			r, size = utf8.DecodeRuneInString(word[i:])
		}
		c, k := d.alphabet.symbol(r), base
		switch {
		case isApostrophe(r):
			if last == apostrophe {
				break run
			}
			k = apostrophe
			if c == noLetter {
				c = edge
			}
		case c == noLetter:
			break run
		case r >= latin:
			latinOnly = false
			if unicode.IsMark(r) {
				if last == apostrophe {
					break run
				}
				k = mark
			}
		}
		ls = append(ls, letter{i, r, c, k})
		last = k
		i += size
	}
	if len(ls) > 0 && last == apostrophe { // it closes a quotation, or is no inner one at least
		i = ls[len(ls)-1].offset
		ls = ls[:len(ls)-1]
	}
	// All below U+0300 is in composed form as it stands (Unicode Standard Annex #15).
	if !latinOnly && norm.NFC.QuickSpanString(word[at:i]) < i-at {
		ls = d.compose(ls, word, at, i)
	}
	return ls, i
}

// compose returns the run word[at:end] in composed form. What comes of one sequence of a letter and its marks stays
// together.
func (d *Dictionary) compose(ls []letter, word string, at, end int) []letter {
	ls = ls[:0]
	for at < end {
		n := norm.NFC.NextBoundaryInString(word[at:end], true)
		for i, r := range norm.NFC.String(word[at : at+n]) {
			l := letter{at, r, d.alphabet.symbol(r), base}
			switch {
			case isApostrophe(r):
				l.kind = apostrophe
				if l.symbol == noLetter {
					l.symbol = edge
				}
			case i > 0 || isMark(r):
				l.kind = mark
			}
			ls = append(ls, l)
		}
		at += n
	}
	return ls
}

func isMark(r rune) bool { return r >= latin && unicode.IsMark(r) }
