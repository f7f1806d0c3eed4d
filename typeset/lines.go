package typeset

import (
	"errors"
	"fmt"
	"slices"

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
	style   markup.Style // whose word spaces it has
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
	runs    []Run   // room for runs to come
	wide    []Span  // room for the traits of lines to come
	proofs  *proofs // what serves for several settings; nil where there is one
}

// ref says what an item of a paragraph is made from.
type ref struct {
	token int32
	cut   int32 // of the token's word, for a Penalty that divides it; whole otherwise
}

// whole stands for no cut: a line begins or ends with a whole word.
const whole = -1

// broken is a text broken into lines, in one way or several: the best first,
// then those of a line fewer or more. Its lines are placed when it is known
// which is wanted.
type broken struct {
	t     *text
	sh    shape
	space spaces
	ways  [][]span
	costs []int64 // of the ways: demerits of 1981 that a line costs more than at its best
	least int64   // demerits at its best
	notes []int   // lines of each note of the section; nil where none stand at the foot

	together bool // no page ends within it
	kept     bool // no page ends after it
}

// span is what stands on a line: from a word, or a cut of it, to another.
type span struct {
	start, end ref
	line       int  // its number in the paragraph, from 0
	filled     bool // not justified
	hyphen     bool // it ends in a hyphen, the program's or one that is typed
}

// options returns the costs and limits of a text's lines.
func (sh *shape) options(t *text) paragraph.Options {
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
	return opt
}

// breaks breaks t into lines; with vary, in the ways that its paragraph may
// run a line long or short.
func (s *setter) breaks(t *text, sh shape, vary bool) (*broken, error) {
	face, err := s.words.face(sh.style)
	if err != nil {
		return nil, err
	}
	b := &broken{t: t, sh: sh, space: spacesOf(face, sh.size)}
	if len(t.tokens) == 0 {
		return b, nil
	}
	opt := sh.options(t)
	s.build(t, &sh, b.space)
	made, err := s.breakings(opt, vary)
	if wide := (*paragraph.ErrTooWide)(nil); errors.As(err, &wide) {
		b.t = s.words.shatter(t, sh)
		s.build(b.t, &sh, b.space)
		made, err = s.breakings(opt, false)
	}
	if err != nil {
		return nil, &markup.Error{Pos: t.pos, What: fmt.Sprintf("a letter here needs more than a line of %v", tenth(sh.measure-max(sh.first, sh.later))),
			Mend: "narrow the margins and indents, or set smaller", Err: err}
	}
	b.least = made[0].Demerits
	s.addWays(b, made)
	return b, nil
}

// addWays adds breakings of b's text, those that are more than a line longer or
// shorter than the best aside.
func (s *setter) addWays(b *broken, made []paragraph.Breaking) {
	best := len(made[0].Lines)
	if len(b.ways) > 0 {
		best = len(b.ways[0])
	}
	for i := range made {
		if n := len(made[i].Lines) - best; n < -1 || n > 1 {
			continue
		}
		b.ways = append(b.ways, s.spans(b.t, made[i].Lines))
		b.costs = append(b.costs, (made[i].Demerits-b.least)/4096/int64(best))
	}
}

// undivided returns b with more ways, in which the program puts no hyphen at
// the end of a line, counted from 0; b itself where there are none.
func (s *setter) undivided(b *broken, line int) *broken {
	opt := b.sh.options(b.t)
	opt.Whole = line + 1
	s.build(b.t, &b.sh, b.space)
	made, err := s.breaker.Breakings(s.items, opt)
	if err != nil {
		return b // ErrDivided: the hyphen stays
	}
	more := *b
	more.ways, more.costs = slices.Clip(b.ways), slices.Clip(b.costs)
	s.addWays(&more, made)
	return &more
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
			hyphen: end.cut != whole && t.tokens[end.token].w.cuts[end.cut].ends()}
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
