package typeset

import (
	"bytes"
	"cmp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"bodkin/typeset/length"
)

// runtLetters is how many letters a last line of one word must have so that it
// is no runt, however wide they are. Common practice. A last line that is not
// longer than the indent of the next paragraph is a runt too.
const runtLetters = 5

// repeatLetters is how many letters a word must have for its repetition at the
// edge of a text to be seen.
const repeatLetters = 2

// inspector walks through a layout, page by page. Findings and Quality are
// made from the same walk, so that places and counts agree.
type inspector struct {
	l     *Layout
	page  int
	found []Finding // on this page
	above *Line     // the line of text before, on this page or the one before

	// What the line above says at its edges, in memory that is used again.
	buffer, spare       []byte
	firstWord, lastWord []byte
	rivers              riverFinder
}

// inspect calls yield for all that is found, in reading order, without what
// Findings adds.
func (l *Layout) inspect(yield func(Finding)) {
	w := inspector{l: l}
	for i := range l.Pages {
		w.page, w.found = i, w.found[:0]
		text := l.Pages[i].text()
		if len(text) == 0 {
			continue
		}
		w.lines(text)
		w.ends(l.Pages[i].body())
		slices.SortStableFunc(w.found, func(a, b Finding) int {
			return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Kind, b.Kind))
		})
		for _, f := range w.found {
			yield(f)
		}
	}
}

func (w *inspector) add(kind FindingKind, line, amount int) {
	w.found = append(w.found, Finding{Kind: kind, Page: w.page, Line: line, Amount: amount})
}

// running reports whether a line is running text: of the book or of a note.
func (l *Line) running() bool { return l.Role == Text || l.Role == NoteText }

// lines inspects the lines of a page one by one.
func (w *inspector) lines(text []Line) {
	hyphens := 0 // in a row, up to the line at hand
	ladder := func(end int) {
		switch {
		case hyphens == 2:
			w.add(LadderOfTwo, end-hyphens, 2)
		case hyphens > 2:
			w.add(Ladder, end-hyphens, hyphens)
		}
		hyphens = 0
	}
	w.firstWord, w.lastWord = nil, nil
	w.rivers.page()
	for j := range text {
		line := &text[j]
		if !line.running() {
			ladder(j)
			continue
		}
		if line.Hyphen {
			w.add(HyphenatedLine, j, 0)
		}
		if line.endsInHyphen() {
			hyphens++
		} else {
			ladder(j)
		}
		if line.Overfull() {
			w.add(OverfullLine, j, 0)
		}
		switch {
		case line.loose():
			w.add(LooseLine, j, line.perMille(line.Space))
		case line.tight():
			w.add(TightLine, j, line.perMille(line.Space))
		}
		if line.First && line.Varied != 0 {
			kind := LongParagraph
			if line.Varied < 0 {
				kind = ShortParagraph
			}
			w.add(kind, j, int(line.Varied))
		}
		w.words(line, j)
		w.rivers.line(line, j, w.l.Block.Leading)
		w.above = line
	}
	ladder(len(text))
	w.rivers.report(func(line int, spaces []Span) {
		w.found = append(w.found, Finding{Kind: River, Page: w.page, Line: line, Amount: len(spaces), Spaces: spaces})
	})
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
func (l *Line) loose() bool { return l.Justified && l.Space > l.size()/2+length.Point/64 }

// tight reports whether word spaces are within a fiftieth of the least: a
// fifth of an em, or what the face has where that is less.
func (l *Line) tight() bool {
	least := l.size() / 5
	if l.Natural > 0 {
		least = min(least, l.Natural)
	}
	return l.Justified && l.Space <= least+least/50
}

// perMille returns a length in thousandths of the line's em.
func (l *Line) perMille(a length.Length) int {
	em := int64(l.size())
	if em == 0 {
		return 0
	}
	return int((int64(a)*1000 + em/2) / em)
}

// words looks for runts and for words that are repeated at the edges of lines.
// Only where the line above was filled did the program choose its end: verses
// and lines that the author ended begin and end as they should.
func (w *inspector) words(line *Line, j int) {
	text := w.spare[:0]
	spaces := 0
	add := func(r *Run) {
		if r.Rise != 0 || r.Added {
			return
		}
		if r.Space {
			text = append(text, ' ')
			spaces++
		}
		text = append(text, r.Glyphs.Text...)
	}
	runs := line.Runs
	var first, last []byte
	if ends := edges(runs); ends.head < ends.tail && !line.Last {
		// Of a line that goes on, only what stands at its ends is wanted.
		for i := range runs[:ends.head] {
			add(&runs[i])
		}
		n := len(text)
		for i := range runs[ends.tail:] {
			add(&runs[ends.tail+i])
		}
		first, last = firstWordOf(text[:n]), lastWordOf(text[n:])
	} else {
		for i := range runs {
			add(&runs[i])
		}
		first, last = firstWordOf(text), lastWordOf(text)
	}
	if line.Hyphen {
		last = nil // half a word
	}
	filled := !line.First && w.above != nil && w.above.Justified
	if filled && w.above.Hyphen {
		first = nil
	}
	if filled {
		switch {
		case same(first, w.firstWord):
			w.repeat(j, first)
		case same(last, w.lastWord):
			w.repeat(j, last)
		}
		if line.Last {
			n := letters(text)
			if spaces == 0 && 0 < n && n < runtLetters || line.extent() <= w.indent(line) {
				w.add(Runt, j, n)
			}
		}
	}
	w.spare, w.buffer = w.buffer, text
	w.firstWord, w.lastWord = first, last
}

// edges finds where the runs of a line's first word end, at a space behind its
// first letter, and where those of its last word begin.
func edges(runs []Run) (ends struct{ head, tail int }) {
	found := false
	for ends.head < len(runs) && !(found && runs[ends.head].Space) {
		found = found || hasLetter(&runs[ends.head])
		ends.head++
	}
	found = false
	for ends.tail = len(runs); ends.tail > 0; {
		ends.tail--
		if found = found || hasLetter(&runs[ends.tail]); found && runs[ends.tail].Space {
			break
		}
	}
	return ends
}

func hasLetter(r *Run) bool {
	return r.Rise == 0 && !r.Added && strings.IndexFunc(r.Glyphs.Text, letter) >= 0
}

func (w *inspector) repeat(line int, word []byte) {
	w.found = append(w.found, Finding{Kind: RepeatedWord, Page: w.page, Line: line, Text: string(word)})
}

// indent returns the indent that a stub must be longer than.
func (w *inspector) indent(l *Line) length.Length { return max(w.l.Setting.indent(), l.size()) }

// extent returns how much of its measure a line fills.
func (l *Line) extent() length.Length {
	if len(l.Runs) == 0 {
		return 0
	}
	last := &l.Runs[len(l.Runs)-1]
	return last.X + last.Width() - l.Runs[0].X
}

func same(a, b []byte) bool {
	return len(a) >= repeatLetters && utf8.RuneCount(a) >= repeatLetters && bytes.EqualFold(a, b)
}

func letters(text []byte) int {
	n := 0
	for _, r := range string(text) {
		if letter(r) {
			n++
		}
	}
	return n
}

func letter(r rune) bool {
	if r < utf8.RuneSelf {
		return 'a' <= r && r <= 'z' || 'A' <= r && r <= 'Z' || '0' <= r && r <= '9'
	}
	return unicode.IsLetter(r) || unicode.IsDigit(r) || unicode.IsMark(r)
}

// joins reports whether a mark between two letters leaves them one word.
func joins(r rune) bool { return r == '’' || r == '\'' || r == '-' || r == '‐' || r == '‑' }

// firstWordOf returns the first word of a text without its punctuation.
func firstWordOf(text []byte) []byte {
	begin, end := -1, 0
	for i := 0; i < len(text); {
		r, n := utf8.DecodeRune(text[i:])
		if letter(r) {
			if begin < 0 {
				begin = i
			}
			end = i + n
		} else if begin >= 0 && !joins(r) {
			break
		}
		i += n
	}
	return text[max(begin, 0):end]
}

// lastWordOf returns the last word of a text without its punctuation.
func lastWordOf(text []byte) []byte {
	begin, end := 0, -1
	for i := len(text); i > 0; {
		r, n := utf8.DecodeLastRune(text[:i])
		if letter(r) {
			if end < 0 {
				end = i
			}
			begin = i - n
		} else if end >= 0 && !joins(r) {
			break
		}
		i -= n
	}
	return text[begin:max(end, begin)]
}

// ends inspects the head and the foot of a page.
func (w *inspector) ends(text []Line) {
	if len(text) == 0 || w.l.Pages[w.page].plate() {
		return // a plate, or notes alone
	}
	l, i, foot := w.l, w.page, len(text)-1
	p, first, last := &l.Pages[i], &text[0], &text[foot]
	ends := l.lastOf(i)
	if p.Torn {
		w.add(TornPage, foot, 0)
	}
	if first.running() && !p.Opening && first.Last && !first.First {
		w.add(Widow, 0, 0)
	}
	if last.running() && last.endsInHyphen() {
		kind := VersoHyphen
		if Recto(i) {
			kind = RectoHyphen
		}
		w.add(kind, foot, 0)
	}
	if depth := l.off(i); depth > 0 {
		w.add(LongSpread, foot, depth)
	} else if depth < 0 {
		w.add(ShortSpread, foot, depth)
	}
	if ends {
		if rows := l.rows(i); !p.Opening && rows < shortest {
			w.add(ShortEnd, foot, rows)
		}
		return
	}
	if last.running() && last.First && !last.Last {
		w.add(Orphan, foot, 0)
	}
	if last.Role == Heading || last.Role == Ornament {
		w.add(Stranded, foot, 0)
	}
	if Recto(i) && i > 0 && !p.Opening && l.Pages[i-1].Section == p.Section && len(l.Pages[i-1].body()) > 0 && !l.Pages[i-1].plate() {
		if more := l.rows(i) - l.rows(i-1); more != 0 {
			w.add(UnevenSpread, foot, more)
		}
	}
}

// off returns how many rows longer than the text block the spread was made
// that begins with the page at index i; 0 on a recto whose verso has said so,
// and on the last page of a section, which ends where the text does.
func (l *Layout) off(i int) int {
	p := &l.Pages[i]
	if p.Depth == 0 || l.lastOf(i) && l.rows(i) <= l.Block.Rows {
		return 0
	}
	if Recto(i) && i > 0 && l.Pages[i-1].Section == p.Section && l.Pages[i-1].Depth == p.Depth {
		return 0
	}
	return p.Depth - l.Block.Rows
}

// lastOf reports whether the text of a section ends on the page at index i:
// nothing but plates may follow.
func (l *Layout) lastOf(i int) bool {
	section := l.Pages[i].Section
	for i++; i < len(l.Pages); i++ {
		if p := &l.Pages[i]; p.Section == section && !p.plate() {
			return false
		} else if p.Section != section && !p.Blank {
			return true
		}
	}
	return true
}

// rows returns the last row that the page at index i fills, counted from 1: by
// text, by a picture in it, or by the notes at its foot.
func (l *Layout) rows(i int) int {
	p, rows := &l.Pages[i], 0
	if body := p.body(); len(body) > 0 {
		low := body[0].Y
		for j := range body {
			low = max(low, body[j].Y) // the last cell of a table's row may be the shortest
		}
		rows = int((low-l.Block.Baseline)/l.Block.Leading) + 1
	}
	for k := range p.Plates {
		plate := &p.Plates[k]
		rows = max(rows, int((plate.Y+plate.Height-l.Block.Baseline+l.Block.Leading-1)/l.Block.Leading)+1)
	}
	if p.Notes > 0 && !l.lastOf(i) {
		rows = max(rows, p.Depth)
	}
	return rows
}

// text returns the lines of a page without head and folio.
func (p *Page) text() []Line {
	n := len(p.Lines)
	for n > 0 && (p.Lines[n-1].Role == Head || p.Lines[n-1].Role == Folio) {
		n--
	}
	return p.Lines[:n]
}

// body returns the text of a page without the notes at its foot.
func (p *Page) body() []Line {
	text := p.text()
	return text[:len(text)-p.Notes]
}

// plate reports whether a page holds nothing but a picture and its caption.
func (p *Page) plate() bool {
	return len(p.Plates) > 0 && !slices.ContainsFunc(p.body(), func(l Line) bool { return l.Role != Caption })
}
