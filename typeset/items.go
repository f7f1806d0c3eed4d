package typeset

import (
	"bodkin/fonts"
	"bodkin/typeset/length"
	"bodkin/typeset/paragraph"
)

// spaces are the widths of a word space: natural, least and most. The natural
// one lies halfway between the face's own and a quarter of an em; the limits
// are a fifth and a half of an em (R. Bringhurst, The Elements of Typographic
// Style, §2.1.1).
type spaces struct{ natural, least, most length.Length }

func spacesOf(face *fonts.Face, size length.Length) spaces {
	own := size / 4
	if g, ok := face.GID(' '); ok {
		own = size.Scale(int64(face.Advance(g)), int64(face.Upem))
	}
	natural := (own + size/4) / 2
	return spaces{natural, min(size/5, natural), max(size/2, natural)}
}

// size returns the size at which a part of a word is set.
func (p *part) size(size length.Length) length.Length {
	if p.per == 0 {
		return size
	}
	return size.Scale(int64(p.per), 1000)
}

func scale(size length.Length, units int32, face *fonts.Face) length.Length {
	n, upem := int64(size)*int64(units), int64(face.Upem)
	if n < 0 {
		return -length.Length((-n + upem/2) / upem)
	}
	return length.Length((n + upem/2) / upem)
}

func (h hang) at(size length.Length) length.Length {
	if h.units == 0 {
		return 0
	}
	return length.Length((int64(size)*int64(h.units) + int64(h.upem)/2) / int64(h.upem))
}

// build turns the words of t into boxes, glue and penalties.
func (s *setter) build(t *text, sh *shape, space spaces) {
	s.items, s.refs = s.items[:0], s.refs[:0]
	if sh.hang && sh.indent(0) == 0 {
		s.box(-t.tokens[0].w.hangLeft.at(sh.size), 0)
	}
	last := len(t.tokens) - 1
	word := last // the last full word, whatever marks follow it
	for word > 0 && (t.tokens[word].sep == sepThin || t.tokens[word].sep == sepNarrow || t.tokens[word].sep == sepHair) {
		word--
	}
	for i := range t.tokens {
		if i > 0 {
			s.between(sh, space, &t.tokens[i], t.tokens[i-1].w, i)
		}
		// No hyphen in the last word: a line of half a word is no line. Where
		// lines are not filled, words are divided by none but the author.
		by := byNobody
		switch {
		case sh.divide && i < word:
			by = byPatterns
		case sh.align != justified || i < word:
			by = byAuthor
		}
		s.word(t.tokens[i].w, sh, i, by)
	}
	if sh.align == justified || sh.align == ragged {
		s.add(paragraph.Item{Kind: paragraph.Glue, Stretch: paragraph.Fill}, last, whole)
	} else {
		s.add(rag(sh), last, whole)
	}
	s.add(paragraph.Item{Kind: paragraph.Penalty, Cost: -paragraph.Forbid, Flagged: true, Ends: t.tokens[last].w.id}, last, whole)
}

// divider says whose hyphens may end a line.
type divider uint8

const (
	byNobody divider = iota
	byAuthor         // soft hyphens
	byPatterns
)

// may reports whether a line may end at a cut.
func (d divider) may(c *cut) bool {
	return !c.hyphen || d == byPatterns || d == byAuthor && c.soft
}

// word adds the boxes of a word, with a penalty at each of its cuts.
func (s *setter) word(w *word, sh *shape, token int, by divider) {
	k := 0
	for j := range w.parts {
		p := &w.parts[j]
		size, done := p.size(sh.size), int32(0)
		for ; k < len(w.cuts) && w.cuts[k].part == j; k++ {
			c := &w.cuts[k]
			if !by.may(c) {
				continue
			}
			s.letters(scale(size, c.to-done, p.run.Face), sh, token)
			done = c.to
			pen := paragraph.Item{Kind: paragraph.Penalty, Cost: w.cost(c), Flagged: c.ends(),
				Before: scale(size, c.before, p.run.Face), After: scale(size, c.after, p.run.Face)}
			if sh.hang {
				pen.Before -= c.hang.at(sh.size)
			}
			s.lineEnd(pen, sh, token, k)
		}
		s.letters(scale(size, p.width()-done, p.run.Face), sh, token)
	}
}

// cost is what it costs to end a line at a cut.
func (w *word) cost(c *cut) int32 {
	switch {
	case c.shattered:
		return shatterCost
	case c.hyphen && w.compound():
		return compoundCost
	case c.hyphen, c.hard:
		return hyphenCost
	}
	return 0
}

// compound reports whether the word has a typed hyphen, so that a second one
// would mislead.
func (w *word) compound() bool {
	for i := range w.cuts {
		if w.cuts[i].hard {
			return true
		}
	}
	return false
}

// between adds what stands before token i, after a word.
func (s *setter) between(sh *shape, space spaces, tok *token, before *word, i int) {
	glue := paragraph.Item{Kind: paragraph.Glue, Width: space.natural}
	if sh.align == justified {
		glue.Stretch, glue.Shrink = space.most-space.natural, space.natural-space.least
	}
	var hangs paragraph.Item
	if sh.hang {
		hangs.Before, hangs.After = -before.hangRight.at(sh.size), -tok.w.hangLeft.at(sh.size)
	}
	switch tok.sep {
	case sepSpace, sepBound:
		if tok.sep == sepBound {
			glue.Cost, hangs.Cost = boundCost, boundCost
		}
		switch {
		case tok.w.stuck:
			s.add(paragraph.Item{Kind: paragraph.Penalty, Cost: paragraph.Forbid}, i, whole)
		case sh.align == justified:
			glue.Before, glue.After = hangs.Before, hangs.After
			glue.Ends, glue.Begins = before.id, tok.w.id
		default:
			s.lineEnd(paragraph.Item{Kind: paragraph.Penalty, Cost: hangs.Cost}, sh, i, whole)
		}
		s.add(glue, i, whole)
	case sepFixed:
		n := length.Length(tok.n)
		glue.Cost = paragraph.Forbid
		glue.Width, glue.Stretch, glue.Shrink = n*glue.Width, n*glue.Stretch, n*glue.Shrink
		s.add(glue, i, whole)
	case sepThin:
		s.box(thin(sh.size), i)
	case sepNarrow:
		s.box(narrow(sh.size), i)
	case sepHair:
		s.box(hair(sh.size), i)
	case sepAllowed:
		s.lineEnd(paragraph.Item{Kind: paragraph.Penalty, Before: hangs.Before, After: hangs.After}, sh, i, whole)
	case sepBreak:
		fill := paragraph.Item{Kind: paragraph.Glue, Stretch: paragraph.Fill, Cost: paragraph.Forbid}
		if sh.align == centred || sh.align == rightward {
			fill = rag(sh)
		}
		s.add(fill, i, whole)
		s.add(paragraph.Item{Kind: paragraph.Penalty, Cost: -paragraph.Forbid, After: hangs.After}, i, whole)
	}
}

// The widths of the spaces that do not stretch (Unicode names them so).
func thin(size length.Length) length.Length { return size / 5 }

func narrow(size length.Length) length.Length { return size / 6 }

func hair(size length.Length) length.Length { return size / 12 }

// rag is what a ragged line may lack: at a fifth of the measure it is as bad
// as a loose line.
func rag(sh *shape) paragraph.Item {
	return paragraph.Item{Kind: paragraph.Glue, Stretch: sh.measure / 5, Cost: paragraph.Forbid}
}

// lineEnd adds a place where a line may end. In a ragged text the glue that
// takes up what the line lacks counts only for the line that ends there.
func (s *setter) lineEnd(pen paragraph.Item, sh *shape, token, cut int) {
	if sh.align == justified {
		s.add(pen, token, cut)
		return
	}
	lack := rag(sh)
	s.add(lack, token, whole)
	s.add(pen, token, cut)
	lack.Stretch = -lack.Stretch
	s.add(lack, token, whole)
}

func (s *setter) box(width length.Length, token int) {
	s.add(paragraph.Item{Kind: paragraph.Box, Width: width}, token, whole)
}

// letters adds a box whose letters may be set wider or narrower.
func (s *setter) letters(width length.Length, sh *shape, token int) {
	give := width * length.Length(sh.widen) / 1000
	s.add(paragraph.Item{Kind: paragraph.Box, Width: width, Stretch: give, Shrink: give}, token, whole)
}

func (s *setter) add(it paragraph.Item, token, cut int) {
	s.items = append(s.items, it)
	s.refs = append(s.refs, ref{int32(token), int32(cut)})
}
