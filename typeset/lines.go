package typeset

import (
	"errors"
	"fmt"

	"bodkin/fonts"
	"bodkin/markup"
	"bodkin/typeset/length"
	"bodkin/typeset/paragraph"
)

// align says how the lines of a text stand in their measure.
type align uint8

const (
	justified align = iota
	ragged          // at the left
	centred
	rightward
)

// shape is how a text is to be broken and placed.
type shape struct {
	role    Role
	size    length.Length
	measure length.Length
	left    length.Length   // of the measure, from the left edge of the text block
	first   length.Length   // indent of the first line
	later   length.Length   // indent of the lines after it
	drops   []length.Length // indents of the lines beside a drop capital
	align   align
	divide  bool // words may be divided
	hang    bool // marks may hang
	widen   Widen
}

// indent returns the indent of a line, counted from 0.
func (sh *shape) indent(line int) length.Length {
	switch {
	case line < len(sh.drops):
		return sh.drops[line]
	case line == 0:
		return sh.first
	}
	return sh.later
}

// measures returns the widths of the first lines; the last serves for all that
// follow.
func (sh *shape) measures() []length.Length {
	n := max(1, len(sh.drops))
	m := make([]length.Length, n+1)
	for i := range m {
		m[i] = sh.measure - sh.indent(i)
	}
	return m
}

// The costs of line ends, in the demerits of 1981: a hyphen, as in that
// paper; one in a word that has a printed hyphen already; the neighbours of
// unlike fitness, the second hyphen in a row, the second line in a row that
// begins or ends with the same word, and a line that is loose.
const (
	hyphenCost     = 50
	compoundCost   = 400
	shatterCost    = 5000
	boundCost      = 800
	hyphenRow      = 3000
	unlikeDemerits = 3000
	repeatDemerits = 2000
	looseDemerits  = 10_000_000
	mostHyphens    = 2
)

// A setter breaks texts into lines. It keeps its working memory from one text
// to the next, and cuts lines and runs from large pieces; it is not for
// concurrent use.
type setter struct {
	words   *wordSetter
	breaker paragraph.Breaker
	items   []paragraph.Item
	refs    []ref
	runs    []Run // room for runs to come
}

// ref says what an item of a paragraph is made from.
type ref struct {
	token int32
	cut   int32 // of the token's word, for a Penalty that divides it; whole otherwise
}

// whole stands for no cut: a line begins or ends with a whole word.
const whole = -1

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

// supSize and supRise are the size and rise of a reference to a note, in
// thousandths of the text's size. Common practice.
const (
	supSize = 620
	supRise = 360
)

// size returns the size at which a part of a word is set.
func (p *part) size(size length.Length) length.Length {
	if p.sup {
		return size.Scale(supSize, 1000)
	}
	return size
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

// broken is a text broken into lines, in one way or several: the best first,
// then those of a line fewer or more. Its lines are placed when it is known
// which is wanted.
type broken struct {
	t     *text
	sh    shape
	space spaces
	ways  [][]span
	costs []int64 // of the ways: demerits of 1981 that a line costs more than at its best
}

// span is what stands on a line: from a word, or a cut of it, to another.
type span struct {
	start, end ref
	line       int  // its number in the paragraph, from 0
	filled     bool // not justified
	hyphen     bool // the program puts in a hyphen at its end
}

// breaks breaks t into lines; with vary, in the ways that its paragraph may
// run a line long or short.
func (s *setter) breaks(t *text, sh shape, vary bool) (*broken, error) {
	face, err := s.words.face(0)
	if err != nil {
		return nil, err
	}
	b := &broken{t: t, sh: sh, space: spacesOf(face, sh.size)}
	if len(t.tokens) == 0 {
		return b, nil
	}
	opt := paragraph.Options{
		Measures:   sh.measures(),
		HyphenRow:  hyphenRow,
		Unlike:     unlikeDemerits,
		MostHyphen: mostHyphens,
		Loose:      looseDemerits,
		Repeat:     repeatDemerits,
		First:      t.tokens[0].w.id,
	}
	if sh.align == justified {
		opt.LeastLast = max(2*sh.size, sh.first+sh.size/2)
	}
	s.build(t, &sh, b.space)
	made, err := s.breakings(opt, vary)
	if wide := (*paragraph.ErrTooWide)(nil); errors.As(err, &wide) {
		b.t = s.words.shatter(t, sh)
		s.build(b.t, &sh, b.space)
		made, err = s.breakings(opt, false)
	}
	if err != nil {
		return nil, &markup.Error{Pos: t.pos, What: fmt.Sprintf("a letter here needs more than a line of %v", sh.measure-max(sh.first, sh.later)),
			Mend: "narrow the margins and indents, or set smaller", Err: err}
	}
	best := &made[0]
	for i := range made {
		if n := len(made[i].Lines) - len(best.Lines); n < -1 || n > 1 {
			continue
		}
		b.ways = append(b.ways, s.spans(b.t, made[i].Lines))
		b.costs = append(b.costs, (made[i].Demerits-best.Demerits)/4096/int64(len(best.Lines)))
	}
	return b, nil
}

func (s *setter) breakings(opt paragraph.Options, vary bool) ([]paragraph.Breaking, error) {
	if vary {
		return s.breaker.Breakings(s.items, opt)
	}
	made, err := s.breaker.Break(s.items, opt)
	return []paragraph.Breaking{made}, err
}

// spans finds the words of the lines of a breaking.
func (s *setter) spans(t *text, lines []paragraph.Line) []span {
	spans := make([]span, len(lines))
	start := ref{0, whole}
	for i, l := range lines {
		start.token = s.refs[s.firstBox(l)].token
		end := s.refs[l.To]
		if end.cut == whole {
			end.token = s.refs[s.lastBox(l)].token
		}
		spans[i] = span{start: start, end: end, line: i, filled: l.Filled,
			hyphen: end.cut != whole && t.tokens[end.token].w.cuts[end.cut].hyphen}
		start = end
	}
	return spans
}

// set breaks a text at its best and places its lines.
func (s *setter) set(t *text, sh shape) ([]Line, error) {
	b, err := s.breaks(t, sh, false)
	if err != nil || len(b.ways) == 0 {
		return nil, err
	}
	return s.place(b, 0), nil
}

func (s *setter) firstBox(b paragraph.Line) int {
	for i := b.From; i < b.To; i++ {
		if s.items[i].Kind == paragraph.Box {
			return i
		}
	}
	return b.From
}

func (s *setter) lastBox(b paragraph.Line) int {
	for i := b.To - 1; i > b.From; i-- {
		if s.items[i].Kind == paragraph.Box {
			return i
		}
	}
	return b.From
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
		// No hyphen in the last word: a line of half a word is no line.
		s.word(t.tokens[i].w, sh, i, sh.divide && i < word)
	}
	if sh.align == justified || sh.align == ragged {
		s.add(paragraph.Item{Kind: paragraph.Glue, Stretch: paragraph.Fill}, last, whole)
	} else {
		s.add(rag(sh), last, whole)
	}
	s.add(paragraph.Item{Kind: paragraph.Penalty, Cost: -paragraph.Forbid, Flagged: true, Ends: t.tokens[last].w.id}, last, whole)
}

// word adds the boxes of a word, with a penalty at each of its cuts.
func (s *setter) word(w *word, sh *shape, token int, divide bool) {
	k := 0
	for j := range w.parts {
		p := &w.parts[j]
		size, done := p.size(sh.size), int32(0)
		for ; k < len(w.cuts) && w.cuts[k].part == j; k++ {
			c := &w.cuts[k]
			if c.hyphen && !divide {
				continue
			}
			s.letters(scale(size, c.to-done, p.run.Face), sh, token)
			done = c.to
			pen := paragraph.Item{Kind: paragraph.Penalty, Cost: w.cost(c), Flagged: c.hyphen || c.hard,
				Before: scale(size, c.before, p.run.Face), After: scale(size, c.after, p.run.Face)}
			if sh.hang {
				pen.Before -= c.hang.at(size)
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
func thin(size length.Length) length.Length   { return size / 5 }
func narrow(size length.Length) length.Length { return size / 6 }
func hair(size length.Length) length.Length   { return size / 12 }

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
