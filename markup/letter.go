package markup

import (
	"bytes"
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/yuin/goldmark/text"
)

// The lines of a letter are told by their place and shape. No line of an
// address, a salutation or a signature is longer than this, in letters, and
// none of them runs on into a second line of the manuscript without a forced
// line end.
const letterLine = 60

// letter says of the paragraphs of a letter what they are for:
//
//	The Harbour Office,\       Address: short lines before the salutation
//	3 March 1871
//
//	Dear Keeper,               Salutation: a short line that ends in a comma, a colon,
//	                           an exclamation mark or a dash, among the first blocks
//	the light is out again.    Running
//
//	Yours truly,\              Signature: short lines at the end that are no sentence
//	T. Clerk
//
//	P.S. Burn this.            Running, behind the signature
func (q *Quotation) letter() {
	last := len(q.Blocks) - 1
	if last < 1 {
		return
	}
	first := 0 // the first block that is neither address nor salutation
	for i := 0; i <= last && i < 4; i++ {
		p, ok := q.Blocks[i].(*Paragraph)
		if !ok || !isShort(p.Text) {
			break
		}
		if i < last && isSalutation(p.Text) {
			p.Use, first = Salutation, i+1
			break
		}
		if i == 3 {
			break
		}
	}
	for i := range max(first-1, 0) {
		q.Blocks[i].(*Paragraph).Use = Address
	}
	if p := paragraphAt(q.Blocks, 0); first == 0 && p != nil && isShort(p.Text) && !isSentence(p.Text) {
		p.Use, first = Address, 1
	}
	for last >= first && isPostscript(q.Blocks[last]) {
		last--
	}
	for n := 0; n < 3 && last >= first; n++ {
		p := paragraphAt(q.Blocks, last)
		if p == nil || !isShort(p.Text) || isSentence(p.Text) {
			break
		}
		p.Use = Signature
		last--
	}
}

// heldLine is how many letters a line of a letter has at the most that holds.
const heldLine = 45

// areHeld tells whether the lines of a paragraph hold as they are typed: in a
// dedication or an epigraph those that are short; in a letter those that are
// shorter still, and end as no sentence does.
func (c *chapter) areHeld(lines *text.Segments) bool {
	longest := letterLine
	switch {
	case c.holds:
	case c.inLetter:
		longest = heldLine
	default:
		return false
	}
	for i := range lines.Len() {
		seg := lines.At(i)
		if utf8.RuneCount(bytes.TrimSpace(seg.Value(c.src))) > longest {
			return false
		}
	}
	if lines.Len() < 2 {
		return false
	}
	last := lines.At(lines.Len() - 1)
	return c.holds || !isSentence([]Inline{{Text: string(bytes.TrimSpace(last.Value(c.src)))}})
}

func paragraphAt(bs []Block, i int) *Paragraph {
	if i < 0 || i >= len(bs) {
		return nil
	}
	p, _ := bs[i].(*Paragraph)
	return p
}

func isShort(text []Inline) bool {
	if runsOn(text) {
		return false
	}
	for _, line := range splitLines(text) {
		if utf8.RuneCountInString(Plain(line)) > letterLine {
			return false
		}
	}
	return true
}

func isSalutation(text []Inline) bool {
	if hasBreak(text) {
		return false
	}
	r, _ := utf8.DecodeLastRuneInString(strings.TrimSpace(Plain(text)))
	return strings.ContainsRune(",:!—–", r)
}

// initials end a signature with a point that ends no sentence: T. C.
var initials = regexp.MustCompile(`(^|[\s.])\p{Lu}\.$`)

// isSentence tells whether a text ends as a sentence does. A name with a point
// at its end (T. C., M. Marrow, Esq.) has a capital in every word.
func isSentence(text []Inline) bool {
	lines := splitLines(text)
	s := strings.TrimSpace(Plain(lines[len(lines)-1]))
	s = strings.TrimRightFunc(s, func(r rune) bool { return unicode.In(r, unicode.Pf, unicode.Pi, unicode.Pe) })
	r, _ := utf8.DecodeLastRuneInString(s)
	switch r {
	case '?', '!', '…', ':', ';':
		return true
	case '.':
		if initials.MatchString(s) {
			return false
		}
		words := strings.Fields(s)
		for _, w := range words {
			if r, _ := utf8.DecodeRuneInString(w); !unicode.IsUpper(r) {
				return true
			}
		}
		return len(words) < 2
	}
	return false
}

var postscript = regexp.MustCompile(`^(P\.\s?P?\.?-?S\.?|PS|PPS|NB|N\.\s?B\.)([\s:.,—–]|$)`)

func isPostscript(b Block) bool {
	p, ok := b.(*Paragraph)
	return ok && postscript.MatchString(Plain(p.Text))
}
