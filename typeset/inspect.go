package typeset

import (
	"cmp"
	"slices"
)

// runtLetters is how many letters a last line of one word must have so that it
// is no runt, however wide they are. Common practice. A last line that is not
// longer than the indent of the next paragraph is a runt too.
const runtLetters = 5

// inspector walks through a layout, page by page. Findings and Quality are
// made from the same walk, so that places and counts agree.
type inspector struct {
	l     *Layout
	page  int
	found []Finding // on this page
	above *Line     // the line of text before, on this page or the one before
	own   traits    // of the line at hand, if it does not know its own
	lines int       // of running text so far
	tally tally     // of those that are justified

	firstWord, lastWord string // of the line above
	rivers              riverFinder
}

// inspect calls yield for all that is found, in reading order, without what
// Findings adds.
func (w *inspector) inspect(yield func(Finding)) {
	l := w.l
	for i := range l.Pages {
		w.page, w.found = i, w.found[:0]
		text := l.Pages[i].text()
		if len(text) == 0 {
			continue
		}
		w.text(text)
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

// text inspects the lines of a page one by one.
func (w *inspector) text(text []Line) {
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
	w.firstWord, w.lastWord = "", ""
	w.rivers.page()
	for j := range text {
		line := &text[j]
		if !line.running() {
			ladder(j)
			continue
		}
		t := line.look(&w.own)
		w.lines++
		if line.Justified {
			w.tally.add(int(t.space))
		}
		if line.Hyphen {
			w.add(HyphenatedLine, j, 0)
		}
		if t.hyphen {
			hyphens++
		} else {
			ladder(j)
		}
		if t.overfull {
			w.add(OverfullLine, j, 0)
		}
		switch {
		case t.loose:
			w.add(LooseLine, j, int(t.space))
		case t.tight:
			w.add(TightLine, j, int(t.space))
		}
		if line.First && line.Varied != 0 {
			kind := LongParagraph
			if line.Varied < 0 {
				kind = ShortParagraph
			}
			w.add(kind, j, int(line.Varied))
		}
		w.words(line, t, j)
		w.rivers.line(line, t, j, w.l.Block.Leading)
		w.above = line
	}
	ladder(len(text))
	w.rivers.report(func(line int, spaces []Span) {
		w.found = append(w.found, Finding{Kind: River, Page: w.page, Line: line, Amount: len(spaces), Spaces: spaces})
	})
}

// words looks for runts and for words that are repeated at the edges of lines.
// Only where the line above was filled did the program choose its end: verses
// and lines that the author ended begin and end as they should.
func (w *inspector) words(line *Line, t *traits, j int) {
	first, last := t.first, t.last
	filled := !line.First && w.above != nil && w.above.Justified
	if filled && w.above.Hyphen {
		first = "" // half a word
	}
	if filled {
		switch {
		case same(first, w.firstWord):
			w.repeat(j, first)
		case same(last, w.lastWord):
			w.repeat(j, last)
		}
		if n := int(t.letters); line.Last && (t.single && 0 < n && n < runtLetters || t.extent <= max(w.l.Setting.indent(), t.size)) {
			w.add(Runt, j, n)
		}
	}
	w.firstWord, w.lastWord = first, last
}

func (w *inspector) repeat(line int, word string) {
	w.found = append(w.found, Finding{Kind: RepeatedWord, Page: w.page, Line: line, Text: word})
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
