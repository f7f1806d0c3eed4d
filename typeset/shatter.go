package typeset

import (
	"unicode"
	"unicode/utf8"
)

// shatter returns t with cuts between all letters of the words that are wider
// than a line, and line ends at all spaces: what remains when a text cannot be
// set otherwise.
func (s *wordSetter) shatter(t *text, sh shape) *text {
	least := sh.measure - max(sh.first, sh.later)
	made := &text{tokens: append([]token(nil), t.tokens...), pos: t.pos}
	for i := range made.tokens {
		tok := &made.tokens[i]
		loose := tok.sep != sepNone && tok.sep != sepBreak
		if loose {
			tok.sep = sepSpace
		}
		if tok.w.width(sh.size) > least/2 {
			tok.w = s.shatterWord(tok.w)
		} else if tok.w.stuck {
			w := *tok.w
			w.stuck = false
			tok.w = &w
		}
	}
	return made
}

func (s *wordSetter) shatterWord(w *word) *word {
	made := *w
	made.cuts, made.stuck = nil, false
	k := 0
	for j := range w.parts {
		run := w.parts[j].run
		for at := range run.Text {
			if r, _ := utf8.DecodeRuneInString(run.Text[at:]); at == 0 || unicode.IsMark(r) {
				continue
			}
			k = made.cut(w, k, j, at, s)
		}
		if j < len(w.parts)-1 && !w.parts[j+1].add {
			k = made.cut(w, k, j, len(run.Text), s)
		}
	}
	return &made
}

// cut adds a cut at a place of part j: the one that w has there, or one of
// last resort. k counts the cuts of w that lie before; it returns the new k.
func (made *word) cut(w *word, k, j, at int, s *wordSetter) int {
	for k < len(w.cuts) && (w.cuts[k].part < j || w.cuts[k].part == j && w.cuts[k].at < at) {
		k++
	}
	c := cut{part: j, at: at, shattered: true}
	if k < len(w.cuts) && w.cuts[k].part == j && w.cuts[k].at == at {
		c = w.cuts[k]
	} else {
		s.measure(&c, &w.parts[j])
	}
	made.cuts = append(made.cuts, c)
	return k
}
