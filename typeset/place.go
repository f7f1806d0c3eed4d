package typeset

import (
	"unicode/utf8"

	"bodkin/typeset/length"
)

// place places the lines of a way. They are not yet on any row.
func (s *setter) place(b *broken, way int) []Line {
	spans := b.ways[way]
	lines := make([]Line, len(spans))
	for i := range spans {
		s.line(&lines[i], b, spans[i])
		lines[i].Varied = int8(len(spans) - len(b.ways[0]))
	}
	lines[0].First, lines[len(lines)-1].Last = true, true
	return lines
}

// line places the runs of one line.
func (s *setter) line(l *Line, b *broken, sp span) {
	t, sh, space, start, end := b.t, &b.sh, b.space, sp.start, sp.end
	indent := sh.indent(sp.line)
	*l = Line{Role: sh.role, X: sh.left + indent, Measure: sh.measure - indent, Natural: space.natural}
	if cap(s.runs)-len(s.runs) < 512 {
		s.runs = make([]Run, 0, 8192)
	}
	begin := len(s.runs)
	var x length.Length
	for i := start.token; i <= end.token; i++ {
		tok := &t.tokens[i]
		spaced := false
		if i > start.token {
			switch tok.sep {
			case sepSpace, sepBound, sepFixed:
				x += space.natural * length.Length(tok.n)
				spaced = true
			case sepThin:
				x += thin(sh.size)
			case sepNarrow:
				x += narrow(sh.size)
			case sepHair:
				x += hair(sh.size)
			}
		}
		from, to := int32(whole), int32(whole)
		if i == start.token {
			from = start.cut
		}
		if i == end.token {
			to = end.cut
		}
		x = s.runsOf(tok, sh, from, to, x, spaced)
	}
	l.Runs = s.runs[begin:len(s.runs):len(s.runs)]
	l.Pos = l.Runs[0].Pos
	var left, right length.Length // what hangs
	startWord, endWord := t.tokens[start.token].w, t.tokens[end.token].w
	if sh.hang {
		if start.cut == whole && indent == sh.later && (sp.line > 0 || indent == 0) {
			left = startWord.hangLeft.at(sh.size)
		}
		right = endWord.hangRight.at(sh.size)
		if end.cut != whole {
			right = endWord.cuts[end.cut].hang.at(sh.size)
		}
	}
	l.Hyphen = end.cut != whole && endWord.cuts[end.cut].hyphen
	l.justify(sh, x, left, right, sp.filled)
}

// justify moves the runs of a line, whose natural width is x, to where they
// stand in the measure. What it lacks falls to the spaces, and to the letters
// by as much as they may give.
func (l *Line) justify(sh *shape, x, left, right length.Length, filled bool) {
	gaps := 0
	for i := range l.Runs {
		if l.Runs[i].Space {
			gaps++
		}
	}
	short := l.Measure + left - x
	var shift, spread length.Length
	if gaps > 0 {
		l.Space = l.Natural
	}
	switch {
	case sh.align == centred:
		shift = short / 2
	case sh.align == rightward:
		shift = short
	case sh.align == justified && (!filled || short < 0):
		spread = short + right
		if sh.widen > 0 {
			spread -= l.widen(sh, spread, length.Length(gaps))
		}
		if gaps == 0 {
			spread = 0 // a single word stays as it is
			break
		}
		l.Justified = true
		l.Space += spread / length.Length(gaps)
	}
	k := 0
	var wider length.Length // what the runs before have gained
	for i := range l.Runs {
		r := &l.Runs[i]
		if r.Space {
			k++
		}
		r.X += shift - left + wider
		if spread != 0 {
			r.X += spread.Scale(int64(k), int64(gaps))
		}
		if r.Widen != 0 {
			plain := *r
			plain.Widen = 0
			wider += r.Width() - plain.Width()
		}
	}
}

// widen sets the letters of a line wider or narrower by their share of what it
// lacks, and returns what they gain.
func (l *Line) widen(sh *shape, spread, gaps length.Length) length.Length {
	var letters length.Length
	for i := range l.Runs {
		letters += l.Runs[i].Width()
	}
	give := letters * length.Length(sh.widen) / 1000
	size := l.Runs[0].Size
	flex := gaps * (max(size/2, l.Natural) - l.Natural)
	if spread < 0 {
		flex = gaps * (l.Natural - min(size/5, l.Natural))
	}
	if give == 0 {
		return 0
	}
	share := spread.Scale(int64(give), int64(flex+give))
	share = min(max(share, -give), give)
	by := int32(share * Unwidened / letters)
	if share < 0 {
		by-- // rather too narrow than too wide
	}
	var gained length.Length
	for i := range l.Runs {
		r := &l.Runs[i]
		before := r.Width()
		r.Widen = by
		gained += r.Width() - before
	}
	return gained
}

// runsOf adds the runs of a word, or of its part between two cuts, at x, and
// returns where the next begins.
func (s *setter) runsOf(tok *token, sh *shape, from, to int32, x length.Length, spaced bool) length.Length {
	w := tok.w
	first, last := 0, len(w.parts)-1
	if from != whole {
		first = w.cuts[from].part
	}
	if to != whole {
		last = w.cuts[to].part
	}
	for j := first; j <= last; j++ {
		p := &w.parts[j]
		run := p.run
		begin, end := 0, len(run.Text)
		if from != whole && j == first {
			begin = w.cuts[from].at
		}
		if to != whole && j == last {
			end = w.cuts[to].at
		}
		if begin == end {
			continue // the line begins or ends between two parts
		}
		if begin > 0 || end < len(run.Text) {
			run = p.shape(run.Text[begin:end])
		}
		s.runs = append(s.runs, Run{X: x, Size: p.size(sh.size), Glyphs: run, Space: spaced, Added: p.add, Pos: p.pos})
		made := &s.runs[len(s.runs)-1]
		if p.track != 0 {
			made.Track = scale(made.Size, p.track, run.Face)
		}
		made.Note = p.note
		if p.rise != 0 {
			made.Rise = sh.size.Scale(int64(p.rise), 1000)
		}
		if made.Pos.File == "" {
			made.Pos = tok.pos
		}
		spaced = false
		x += made.Width()
		if end == len(p.run.Text) && j < last {
			x += scale(made.Size, p.gap, p.run.Face)
		}
	}
	if to == whole || !w.cuts[to].hyphen {
		return x
	}
	before := s.runs[len(s.runs)-1]
	face := before.Glyphs.Face
	hyphen := face.Shape("-", 0)
	r, _ := utf8.DecodeLastRuneInString(before.Glyphs.Text)
	kern := s.words.hyphenAfter(face, r) - hyphen.Width
	made := Run{X: x + scale(before.Size, kern, face), Size: before.Size, Glyphs: hyphen, Added: true, Pos: before.Pos}
	s.runs = append(s.runs, made)
	return made.X + made.Width()
}
