package typeset

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// bound reports whether a line must not end between two words that a space
// divides: between initials, and between them and the name (J. R. Tolland);
// between a short title and the name (Mrs. Ruddle); between a figure and its
// unit (18 ft, 6.04 a.m.). The Chicago Manual of Style asks for the first and
// the last where it can be had; the lists are our own.
func bound(before, after string) bool {
	before = strings.TrimLeftFunc(before, isOpening)
	switch {
	case isInitial(before), titles[before]:
		r, _ := utf8.DecodeRuneInString(after)
		return unicode.IsUpper(r)
	case isFigure(before):
		return units[strings.TrimRightFunc(after, isClosing)]
	}
	return false
}

func isOpening(r rune) bool { return strings.ContainsRune("([“‘«„‚—", r) }

func isClosing(r rune) bool { return strings.ContainsRune(")]”’»“‘,;:!?…—", r) }

// isInitial reports whether s is one capital and a point.
func isInitial(s string) bool {
	r, size := utf8.DecodeRuneInString(s)
	return unicode.IsUpper(r) && s[size:] == "."
}

// isFigure reports whether s ends in a figure, a fraction or a closing mark of
// figures.
func isFigure(s string) bool {
	r, _ := utf8.DecodeLastRuneInString(s)
	return unicode.IsNumber(r)
}

var titles = set("Mr. Mrs. Ms. Dr. St. Prof. Capt. Col. Gen. Lt. Sgt. Rev. Mr Mrs Ms Dr St Mme Mlle Hr. Sr. Sra.")

// units leaves out those that are words as well: in, am, m.
var units = set("in. ft ft. yd yd. mi mi. nmi kn mm cm km g kg mg lb lb. oz oz. ml pt hp kW Hz °C °F % min hr hrs " +
	"a.m. p.m. A.M. P.M. AM PM BC AD B.C. A.D. BCE CE £ €")

func set(words string) map[string]bool {
	m := make(map[string]bool)
	for _, w := range strings.Fields(words) {
		m[w] = true
	}
	return m
}
