package typeset

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// A binding is what a word has to do with its neighbours: a space between two
// words does not end a line between initials, and between them and the name
// (J. R. Tolland); between a short title and the name (Mrs. Ruddle); between a
// figure and its unit (18 ft, 6.04 a.m.). The Chicago Manual of Style asks for
// the first and the last where it can be had; the lists are our own.
type binding uint8

const (
	leadsName binding = 1 << iota // an initial or a title: a name may follow
	isName                        // it begins with a capital
	figure                        // a unit may follow
	unit
)

// bindingOf returns what a word has to do with its neighbours.
func bindingOf(word string) binding {
	var b binding
	bare := strings.TrimLeftFunc(word, isOpening)
	if isInitial(bare) || titles[bare] {
		b |= leadsName
	}
	if r, _ := utf8.DecodeRuneInString(word); unicode.IsUpper(r) {
		b |= isName
	}
	if r, _ := utf8.DecodeLastRuneInString(word); unicode.IsNumber(r) {
		b |= figure
	}
	if units[strings.TrimRightFunc(word, isClosing)] {
		b |= unit
	}
	return b
}

// binds reports whether a line must not end between two words.
func (b binding) binds(next binding) bool {
	return b&leadsName != 0 && next&isName != 0 || b&figure != 0 && next&unit != 0
}

func isOpening(r rune) bool { return strings.ContainsRune("([“‘«„‚—", r) }

func isClosing(r rune) bool { return strings.ContainsRune(")]”’»“‘,;:!?…—", r) }

// isInitial reports whether s is one capital and a point.
func isInitial(s string) bool {
	r, size := utf8.DecodeRuneInString(s)
	return unicode.IsUpper(r) && s[size:] == "."
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
