package typeset

import (
	"slices"
	"unicode/utf8"

	"bodkin/typeset/length"
)

// traits are what a line shows on whatever page it stands. They follow from
// its runs and its measure alone, so that the lines which several settings
// share are looked at once.
type traits struct {
	size        length.Length // of its type
	extent      length.Length // how much of its measure it fills
	wide        []Span        // the word spaces that a river may flow through, from the line's X
	first, last string        // its words at the ends; empty for half a word
	characters  int32         // with the spaces between them, if it is justified
	space       int32         // its word space in thousandths of an em
	letters     int32         // of a paragraph's last line
	single      bool          // such a line is one word
	hyphen      bool          // it goes on and ends in a hyphen
	loose       bool
	tight       bool
	overfull    bool
}

// look returns the traits of a line of running text: those that it has with it,
// or else its own, found anew.
func (l *Line) look(own *traits) *traits {
	if l.traits == nil {
		l.find(own)
		return own
	}
	return l.traits
}

// find finds the traits of a line.
func (l *Line) find(t *traits) {
	*t = traits{size: l.size(), extent: l.extent(), wide: t.wide[:0], hyphen: l.endsInHyphen(), overfull: l.Overfull()}
	if l.Justified {
		t.space = int32(perMille(l.Space, t.size))
		t.loose, t.tight = l.loose(t.size), l.tight(t.size)
		t.characters = int32(l.characters())
		t.wide = l.wideSpaces(t.size, t.wide)
	}
	head, tail := edges(l.Runs)
	t.first = firstWordOf(textOf(l.Runs[:head]))
	if !l.Hyphen {
		t.last = lastWordOf(textOf(l.Runs[tail:]))
	}
	if l.Last {
		t.single = true
		for i := range l.Runs {
			r := &l.Runs[i]
			if r.Rise != 0 || r.Added {
				continue
			}
			t.single = t.single && !r.Space
			for _, c := range r.Glyphs.Text {
				if letter(c) {
					t.letters++
				}
			}
		}
	}
}

// look finds the traits of lines and leaves them there.
func (s *setter) look(lines []Line) {
	all := make([]traits, len(lines))
	for i := range lines {
		if cap(s.wide)-len(s.wide) < 64 {
			s.wide = make([]Span, 0, 2048)
		}
		n := len(s.wide)
		t := &all[i]
		t.wide = s.wide[n:]
		lines[i].find(t)
		t.wide = slices.Clip(t.wide)
		s.wide = s.wide[:min(n+len(t.wide), cap(s.wide))]
		lines[i].traits = t
	}
}

// endsInHyphen reports whether a line that goes on ends in a hyphen: one that
// the program put in, or one of the manuscript's, which looks no different and
// counts as much in a ladder.
func (l *Line) endsInHyphen() bool {
	if l.Hyphen || l.Last || len(l.Runs) == 0 {
		return l.Hyphen
	}
	mark, _ := utf8.DecodeLastRuneInString(l.Runs[len(l.Runs)-1].Glyphs.Text)
	return mark == '-' || mark == '‐'
}

// loose reports whether word spaces are over half an em.
func (l *Line) loose(em length.Length) bool { return l.Justified && l.Space > em/2+length.Point/64 }

// tight reports whether word spaces are within a fiftieth of the least: a
// fifth of an em, or what the face has where that is less.
func (l *Line) tight(em length.Length) bool {
	least := em / 5
	if l.Natural > 0 {
		least = min(least, l.Natural)
	}
	return l.Justified && l.Space <= least+least/50
}

// perMille returns a length in thousandths of an em.
func perMille(a, em length.Length) int {
	if em == 0 {
		return 0
	}
	return int((int64(a)*1000 + int64(em)/2) / int64(em))
}

// extent returns how much of its measure a line fills.
func (l *Line) extent() length.Length {
	if len(l.Runs) == 0 {
		return 0
	}
	last := &l.Runs[len(l.Runs)-1]
	return last.X + last.Width() - l.Runs[0].X
}

// size returns the size of a line's type: that of its last letters, because
// an initial at its beginning may be larger.
func (l *Line) size() length.Length {
	for i := len(l.Runs) - 1; i >= 0; i-- {
		if r := &l.Runs[i]; r.Rise == 0 && !r.Added {
			return r.Size
		}
	}
	if len(l.Runs) == 0 {
		return 0
	}
	return l.Runs[0].Size
}

// Overfull reports whether the line is wider than its measure, apart from the
// marks that hang.
func (l *Line) Overfull() bool {
	if len(l.Runs) == 0 || l.Role == Head || l.Role == Folio {
		return false
	}
	if l.Labels == len(l.Runs) {
		return false
	}
	first, last := &l.Runs[l.Labels], &l.Runs[len(l.Runs)-1]
	left := -first.X - hangAt(first, leftHang, true)
	right := last.X + last.Width() - l.Measure - hangAt(last, rightHang, false)
	const slack = length.Point / 1024 // what rounding may add up to
	return left > slack || right > slack
}

// hangAt returns how much of the mark at an end of a run may hang.
func hangAt(r *Run, share func(rune) int32, begin bool) length.Length {
	mark, size := utf8.DecodeLastRuneInString(r.Glyphs.Text)
	if begin {
		mark, size = utf8.DecodeRuneInString(r.Glyphs.Text)
	}
	if size == 0 {
		return 0
	}
	return hangOf(r.Glyphs.Face, mark, share(mark)).at(r.Size)
}

// characters counts the characters of a line and the spaces between them.
func (l *Line) characters() int {
	n := 0
	for i := range l.Runs {
		n += utf8.RuneCountInString(l.Runs[i].Glyphs.Text)
		if l.Runs[i].Space {
			n++
		}
	}
	return n
}
