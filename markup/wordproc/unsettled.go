package wordproc

import (
	"fmt"
	"iter"
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"bodkin/markup"
)

// toSelf are the words that authors leave in a text for themselves: the sign TK
// and rows of X and question marks are common practice.
var toSelf = regexp.MustCompile(`\[[^\[\]\n]{0,60}\b(TK|TBD|TBC|TODO|XX+|CHECK|FIX|INSERT|NOTE)\b[^\[\]\n]{0,80}\]|\b(TK)+\b|\bXXX+\b|\?{4,}`)

const whyMarked = "it is highlighted or in a colour, which the chapters do not have"

// unsettled lists the places in the text that the author seems to have left for
// later: words for themselves, and what is highlighted or in a colour.
func (m *Manuscript) unsettled() {
	var all []Guess
	letters, marked := 0, 0
	heads := map[int]bool{}
	for _, p := range m.Pieces {
		for _, h := range p.head {
			heads[h.N] = true
		}
	}
	for p := range m.kept() {
		if heads[p.N] || p.isHead() {
			continue
		}
		text := p.Text()
		words := toThemselves(text)
		for i := 0; i < len(p.Runs); i++ {
			letters += len(p.Runs[i].Text)
			from := i
			for i+1 < len(p.Runs) && p.Runs[from].Style&Marked != 0 && p.Runs[i+1].Style&Marked != 0 {
				i++
				letters += len(p.Runs[i].Text)
			}
			if p.Runs[from].Style&Marked == 0 {
				continue
			}
			if text := (&Paragraph{Runs: p.Runs[from : i+1]}).Text(); countLetters(text) > 0 {
				marked += len(text)
				words = slices.DeleteFunc(words, func(s string) bool { return strings.Contains(text, s) })
				all = append(all, Guess{N: p.N, What: "place left open", Text: shorten(text), Reason: whyMarked})
			}
		}
		if strings.Count(text, "_") > 1 || strings.Count(text, "*") > 1 {
			for _, s := range emphasised(text) {
				if s.style != 0 && p.Raw == "" {
					all = append(all, Guess{N: p.N, What: "signs that were typed", Text: shorten(s.text), Reason: "it stands between signs, as people type emphasis, and the signs are set: write *so* for italics"})
				}
			}
		}
		for _, s := range words {
			all = append(all, Guess{N: p.N, What: "place left open", Text: shorten(s), Reason: "the words seem to be for yourself"})
		}
	}
	for _, p := range m.Pieces {
		if p.Role == Copyright {
			all = append(all, p.blanks()...)
		}
	}
	if 3*marked > letters { // it is how the text looks
		all = slices.DeleteFunc(all, func(g Guess) bool { return g.Reason == whyMarked })
	}
	m.Guesses = append(m.Guesses, all...)
}

// blanks are what is still to be filled in on a copyright page.
func (p *Piece) blanks() []Guess {
	var all []Guess
	for _, b := range p.blocks {
		for _, q := range b.paras {
			if q == nil {
				continue
			}
			if s := markup.Unfilled(q.Text()); s != "" {
				all = append(all, Guess{N: q.N, What: "place left open", Text: shorten(s), Reason: "the book is not set until it is filled in"})
			}
		}
	}
	return all
}

// toThemselves are the words in a text that its author seems to have left there.
func toThemselves(text string) []string {
	if !strings.Contains(text, "[") && !strings.Contains(text, "????") && !strings.Contains(text, "TK") && !strings.Contains(text, "XXX") {
		return nil
	}
	var words []string
	for _, at := range toSelf.FindAllStringIndex(text, -1) {
		s := text[at[0]:at[1]]
		if s == "XXX" && isNumeralOfKing(text, at[0], at[1]) {
			continue
		}
		words = append(words, s)
	}
	return words
}

// isNumeralOfKing tells the numeral in "Louis XXX," from a name left open: it
// stands behind a word with a capital, and nothing follows.
func isNumeralOfKing(text string, from, to int) bool {
	before := strings.TrimRight(text[max(0, from-60):from], " \u00A0")
	before = before[strings.LastIndexAny(before, " \u00A0\n")+1:]
	r, _ := utf8.DecodeRuneInString(before)
	return unicode.IsUpper(r) && countLetters(before) == utf8.RuneCountInString(before) && (to == len(text) || strings.ContainsRune(".,;:!?)", rune(text[to])))
}

// kept yields the paragraphs that are in the chapters, those of notes and tables
// too.
func (m *Manuscript) kept() iter.Seq[*Paragraph] {
	return func(yield func(*Paragraph) bool) {
		walk := func(ps []*Paragraph) bool {
			for p := range everyParagraph(ps) {
				if !m.isDropped(p.N) && !yield(p) {
					return false
				}
			}
			return true
		}
		if !walk(m.doc.Paragraphs) {
			return
		}
		for _, n := range m.doc.Notes {
			if !walk(n.Paragraphs) {
				return
			}
		}
	}
}

// KindGlyph is a character that cannot be set with the faces at hand.
const KindGlyph = "characters that no face at hand has"

// Unset lists each character of the chapters that has not, with the first
// paragraph in which it stands, and its Spot once the chapters are saved.
func (m *Manuscript) Unset(has func(rune) bool) []Finding {
	var all []Finding
	seen := map[rune]bool{}
	for p := range m.kept() {
		for _, r := range p.Runs {
			for _, c := range r.Text {
				if c < 0x7F || seen[c] {
					continue
				}
				seen[c] = true
				if !isSymbol(c) && unicode.IsGraphic(c) && !unicode.IsSpace(c) && !has(c) {
					all = append(all, Finding{Kind: KindGlyph, N: p.N, Text: fmt.Sprintf("%c (U+%04X)", c, c), Spot: m.at(p.N)})
				}
			}
		}
	}
	return all
}
