package hyphen

import (
	"slices"
	"strings"
	"unicode/utf8"
)

// A Dictionary divides the words of one language. It is immutable and safe for concurrent use.
type Dictionary struct {
	tag           string
	before, after int
	alphabet      *alphabet
	trie          trie
	exceptions    exceptions
}

// Tag returns the BCP 47 tag of the language, as [Languages] or the caller of [Parse] spells it.
func (d *Dictionary) Tag() string { return d.tag }

// Mins returns how many letters at least stay before and after a hyphen.
func (d *Dictionary) Mins() (before, after int) { return d.before, d.after }

// WithMins returns the dictionary with other minima, in letters. Values below 1 count as 1: a hyphen has a letter on
// either side.
func (d *Dictionary) WithMins(before, after int) *Dictionary {
	c := *d
	c.before, c.after = max(before, 1), max(after, 1)
	return &c
}

// Points appends to dst the byte offsets inside word at which it may be divided with a hyphen, in ascending order. The
// package comment says what a word is. For a soft hyphen the offset is that of the soft hyphen itself, which is not
// printed; minima do not apply to it. Points does not allocate if dst has room, the word is in composed form (NFC)
// without combining marks, and it has no more than 62 letters in a row.
func (d *Dictionary) Points(dst []int, word string) []int {
	if strings.Contains(word, softHyphen) {
		return softPoints(dst, word)
	}
	var (
		letters [usual]letter
		symbols [usual + 2]symbol
		levels  [usual + 3]uint8
		w       = run{letters[:0], symbols[:0], levels[:0]}
	)
	for at := 0; at < len(word); {
		var end int
		if w.letters, end = d.spell(w.letters, word, at); end == at {
			_, size := utf8.DecodeRuneInString(word[at:])
			at += size
			continue
		}
		dst, w = d.divide(dst, w)
		at = end
	}
	return dst
}

// A run is a run of letters at work. It is passed by value, so that its slices can begin in arrays on the stack of
// Points, which runs of usual length fit.
type run struct {
	letters []letter
	symbols []symbol // of the letters, between two edges
	levels  []uint8  // levels[i+1] is the level before letters[i]
}

// usual is as many letters as the longest word of a language has, short of the absurd.
const usual = 62

const softHyphen = "\u00AD"

// softPoints appends the places of the soft hyphens that have something on either side and no hard hyphen before them.
func softPoints(dst []int, word string) []int {
	for at := 0; ; {
		i := strings.Index(word[at:], softHyphen)
		if i < 0 {
			return dst
		}
		i += at
		for at = i; strings.HasPrefix(word[at:], softHyphen); {
			at += len(softHyphen)
		}
		last, _ := utf8.DecodeLastRuneInString(word[:i])
		next, _ := utf8.DecodeRuneInString(word[at:])
		if i > 0 && at < len(word) && last != '-' && last != '‐' && !isMark(next) {
			dst = append(dst, i)
		}
	}
}

// divide appends the points of the letters of w, and returns w with the room that it took.
func (d *Dictionary) divide(dst []int, w run) ([]int, run) {
	ls := w.letters
	if len(ls) < d.before+d.after {
		return dst, w
	}
	w.symbols = append(w.symbols[:0], edge)
	for i := range ls {
		w.symbols = append(w.symbols, ls[i].symbol)
	}
	w.symbols = append(w.symbols, edge)
	w.levels = slices.Grow(w.levels[:0], len(ls)+3)[:len(ls)+3]
	clear(w.levels)

	if !d.exceptions.override(w, 0, len(ls)) {
		d.trie.rate(w.symbols, w.levels)
	}
	for from := 0; from < len(ls); {
		to := from
		for to < len(ls) && ls[to].kind != apostrophe {
			to++
		}
		if to-from < len(ls) {
			d.exceptions.override(w, from, to)
		}
		dst = d.collect(dst, w, from, to)
		from = to + 1
	}
	return dst, w
}

// collect appends the points among letters[from:to], which have no apostrophe, as far as the minima allow.
func (d *Dictionary) collect(dst []int, w run, from, to int) []int {
	ahead := 0 // letters from here on
	for _, l := range w.letters[from:to] {
		if l.kind == base {
			ahead++
		}
	}
	behind := 0
	for i := from; i < to && ahead >= d.after; i++ {
		if w.letters[i].kind != base {
			continue
		}
		if behind >= d.before && w.levels[i+1]%2 == 1 {
			dst = append(dst, w.letters[i].offset)
		}
		behind++
		ahead--
	}
	return dst
}
