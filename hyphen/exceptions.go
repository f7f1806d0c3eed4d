package hyphen

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// exceptions is a list of words with their divisions.
type exceptions struct {
	points  map[string][]int // folded word -> indices of the runes before which it may be divided
	longest int              // runes
}

// WithExceptions returns the dictionary with the user's own divisions, which go before the patterns and before the
// exceptions that the dictionary has. A word is given with its hyphens, "aston-ished"; a word without a hyphen is never
// divided. Capitals do not matter, and an inner apostrophe is part of the word. The minima hold for exceptions too.
//
// An error names the first word that is no such thing, or that contradicts another one of the list.
func (d *Dictionary) WithExceptions(words []string) (*Dictionary, error) {
	own := exceptions{points: map[string][]int{}}
	for _, word := range words {
		if err := own.add(word); err != nil {
			return nil, fmt.Errorf("hyphenation exception %q: %w", word, err)
		}
	}
	c := *d
	c.exceptions.points = maps.Clone(d.exceptions.points)
	maps.Copy(c.exceptions.points, own.points)
	c.exceptions.longest = max(d.exceptions.longest, own.longest)
	return &c, nil
}

func (e *exceptions) add(word string) error {
	var (
		folded []byte
		points []int
		n      int
		last   = '-'
	)
	for _, r := range norm.NFC.String(word) {
		switch {
		case r == '-' || r == '‐' || r == 0xAD:
			if last == '-' {
				return errors.New("a hyphen has a letter before it; write one hyphen where the word may be divided")
			}
			if last == '\'' {
				return errors.New("a hyphen cannot stand beside an apostrophe")
			}
			points = append(points, n)
			last = '-'
			continue
		case isApostrophe(r):
			if last == '-' || last == '\'' {
				return errors.New("an apostrophe has a letter before it")
			}
		case unicode.IsMark(r):
			if last == '-' || last == '\'' {
				return errors.New("a combining mark has a letter before it")
			}
		case !unicode.IsLetter(r): // as in invalid UTF-8, which reads as U+FFFD
			return fmt.Errorf("%q is no letter; write one word of letters, with hyphens where it may be divided", r)
		}
		last = fold(r)
		folded = utf8.AppendRune(folded, last)
		n++
	}
	switch {
	case len(folded) == 0:
		return errors.New("it has no letter")
	case last == '-':
		return errors.New("a hyphen has a letter after it; write one hyphen where the word may be divided")
	case last == '\'':
		return errors.New("an apostrophe has a letter after it")
	}
	if other, ok := e.points[string(folded)]; ok && !slices.Equal(points, other) {
		return errors.New("the same word is divided in another way before; keep one of the two")
	}
	e.points[string(folded)] = points
	e.longest = max(e.longest, n)
	return nil
}

// override sets the levels of letters[from:to] to what the list says about them as a word, and tells whether it knows
// the word.
func (e *exceptions) override(w run, from, to int) bool {
	if to-from > e.longest {
		return false
	}
	var buf [2 * usual]byte
	folded := buf[:0]
	for _, l := range w.letters[from:to] {
		folded = utf8.AppendRune(folded, fold(l.rune))
	}
	points, ok := e.points[string(folded)]
	if !ok {
		return false
	}
	levels := w.levels[from+1 : to+1]
	clear(levels)
	for _, p := range points {
		levels[p] = 1
	}
	return true
}
