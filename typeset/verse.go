package typeset

import (
	"bodkin/markup"
	"bodkin/typeset/length"
	"bodkin/typeset/pages"
)

// verse adds a poem. It is centred on its longest line, so that it stands
// clear of the prose whatever its lines are; a line that the measure does not
// hold does not count, and is turned over. What is turned over is set two ems
// in from the line it belongs to, and not flush right: there it would hang far
// from its line where a poem is narrow, and be taken for an attribution.
// Where the poet's own indents are as deep, it is set in by an em more.
//
// Stanzas are a row apart. One of up to four lines stays on its page; a longer
// one leaves two lines on each.
func (c *column) verse(b *markup.Verse, f inset) error {
	texts := c.p.blocks[b]
	c.space()
	sh := c.shape(f, ragged)
	indents := verseIndents(b, &sh)
	shift, err := c.centring(texts, indents, &sh)
	if err != nil {
		return err
	}
	sh.left += shift
	sh.measure -= shift
	for i, stanza := range b.Stanzas {
		if i > 0 {
			c.space()
		}
		for k := range stanza {
			sh.first = indents[0]
			sh.later = turnover(sh.first, indents, sh.size)
			if err := c.kept(texts[0], sh, staysWithNext(k, len(stanza))); err != nil {
				return err
			}
			texts, indents = texts[1:], indents[1:]
		}
	}
	c.space()
	c.plain = false
	return nil
}

// deepest is how far a line may be indented, as a part of the measure.
const deepest = 3

// verseIndents returns the indents of all lines, half an em for each space
// that is typed.
func verseIndents(b *markup.Verse, sh *shape) []length.Length {
	var all []length.Length
	for _, stanza := range b.Stanzas {
		for i := range stanza {
			all = append(all, min(length.Length(max(0, stanza[i].Indent))*sh.size/2, sh.measure/deepest))
		}
	}
	return all
}

// centring returns how far a poem is set in, to be centred on its longest line.
func (c *column) centring(texts []*text, indents []length.Length, sh *shape) (length.Length, error) {
	longest := length.Length(0)
	for i, t := range texts {
		natural, err := c.set.natural(t, sh)
		if err != nil {
			return 0, err
		}
		if wide := indents[i] + natural; wide <= sh.measure {
			longest = max(longest, wide)
		}
	}
	if longest == 0 {
		return 0, nil
	}
	return (sh.measure - longest) / 2, nil
}

// turnover returns the indent of what is turned over from a line that is
// indented itself, apart from the indents of the lines that follow.
func turnover(first length.Length, indents []length.Length, size length.Length) length.Length {
	turned := first + 2*size
	for _, other := range indents {
		if other > first && max(other-turned, turned-other) < size/2 {
			return turned + size
		}
	}
	return turned
}

// staysWithNext reports whether no page ends after line k of n that belong
// together.
func staysWithNext(k, n int) bool {
	if k == n-1 {
		return false
	}
	return n <= 4 || k == 0 || k == n-2
}

// kept adds a text that is not divided by a page end, and keeps it on the page
// of what follows if with is true.
func (c *column) kept(t *text, sh shape, with bool) error {
	if len(t.tokens) == 0 {
		c.add(1, 0)
	} else {
		b, err := c.set.breaks(t, sh, false)
		if err != nil {
			return err
		}
		b.together = true
		c.paragraphBlock(b)
	}
	if with {
		c.keep()
	}
	return nil
}

// keep lets no page end after what the column ends with.
func (c *column) keep() {
	n := len(c.blocks) - 1
	if n < 0 {
		return
	}
	if f := &c.fills[n]; f.text != nil {
		f.text = f.text.own()
		f.text.kept = true
		c.blocks[n] = f.text.block()
		return
	}
	for w := range c.blocks[n] {
		items := c.blocks[n][w].Items
		items[len(items)-1].Verso, items[len(items)-1].Recto = pages.Forbid, pages.Forbid
	}
}

// natural returns the width of a text on one line, as long as it may be; of
// several, where its line ends are forced, the longest.
func (s *setter) natural(t *text, sh *shape) (length.Length, error) {
	face, err := s.words.face(sh.style)
	if err != nil {
		return 0, err
	}
	space := spacesOf(face, sh.size).natural
	var longest, x length.Length
	for i := range t.tokens {
		tok := &t.tokens[i]
		if i > 0 {
			switch tok.sep {
			case sepSpace, sepBound, sepFixed:
				x += space * length.Length(tok.n)
			case sepThin:
				x += thin(sh.size)
			case sepNarrow:
				x += narrow(sh.size)
			case sepHair:
				x += hair(sh.size)
			case sepBreak:
				longest, x = max(longest, x), 0
			}
		}
		x += tok.w.width(sh.size)
	}
	return max(longest, x) + roundings, nil
}

// roundings is more than the scaled pieces of a line can differ from the line.
const roundings = length.Point / 64

// width returns the width of a word at a size.
func (w *word) width(size length.Length) length.Length {
	var x length.Length
	for j := range w.parts {
		p := &w.parts[j]
		x += scale(p.size(size), p.width(), p.run.Face)
	}
	return x
}
