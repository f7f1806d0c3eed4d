package typeset

import (
	"strconv"
	"strings"

	"bodkin/fonts"
	"bodkin/markup"
	"bodkin/typeset/length"
	"bodkin/typeset/pages"
)

// listing is what the contents say of a place in the book.
type listing struct {
	level   int // 0: a part, 1: a section, 2: a heading inside it
	section int
	page    int // of the section's plan
	number  []markup.Inline
	title   []markup.Inline
}

// listings returns the sections, and of two levels the headings inside them,
// that can be turned to.
func (m *maker) listings(levels int) []listing {
	var all []listing
	for i, sec := range m.book.Sections {
		l := listing{level: 1, section: i, number: m.numbers[i].text, title: sec.Title}
		switch {
		case sec.Kind == markup.Endnotes && len(l.title) == 0:
			l.title = []markup.Inline{{Pos: sec.Pos, Text: generatedIn(m.book.Language).notes}}
		case sec.Kind != markup.Written && sec.Kind != markup.Endnotes,
			sec.Piece == markup.Copyright, sec.Piece == markup.Dedication, sec.Piece == markup.Epigraph, sec.Piece == markup.Plate:
			continue
		case sec.Piece == markup.Part:
			l.level = 0
		}
		if sec.Unlisted {
			continue
		}
		if said(l.number) || said(l.title) {
			all = append(all, l)
		}
		if levels < 2 {
			continue
		}
		for _, mk := range m.columns[i].marks {
			if mk.heading.Level == 1 && said(mk.heading.Text) {
				all = append(all, listing{level: 2, section: i, page: m.plans[i].pageOf(mk.at), title: mk.heading.Text})
			}
		}
	}
	return all
}

// said reports whether a text has something in it.
func said(ins []markup.Inline) bool { return strings.TrimFunc(markup.Plain(ins), isSeparator) != "" }

// pageOf returns the page of the first block from at on that holds lines.
func (p *plan) pageOf(at int) int {
	for at < len(p.fills)-1 && p.fills[at].text == nil && len(p.fills[at].lines[0][len(p.fills[at].lines[0])-1]) == 0 {
		at++
	}
	item := 0
	for b := range at {
		item += len(p.blocks[b][p.made.Ways[b]].Items)
	}
	for n, page := range p.made.Pages {
		if page.To > item {
			return n
		}
	}
	return max(0, len(p.made.Pages)-1)
}

// entries are the places for an outline.
func (m *maker) entries() []Entry {
	var all []Entry
	for _, l := range m.listings(1) {
		title := markup.Plain(l.title)
		if number := markup.Plain(l.number); number != "" && title != "" {
			title = number + ": " + title
		} else if number != "" {
			title = number
		}
		all = append(all, Entry{title, m.plans[l.section].first})
	}
	return all
}

// contents makes the contents: the titles of the sections with the folios of
// the pages on which they begin, as the plans have them. front is the number
// of sections in front matter.
func (m *maker) contents(c *column, front int) error {
	c.set, c.plain, c.blocks, c.fills = m.set, true, nil, nil
	pos := markup.Pos{File: "book.toml"}
	heading, err := c.added(generatedIn(m.book.Language).contents, pos)
	if err != nil {
		return err
	}
	c.empty(c.sink())
	if err := c.display(heading, m.s.headingSize(), Display); err != nil {
		return err
	}
	c.empty(2)
	c.opened = len(c.fills)
	all := m.listings(m.s.Contents.Levels)
	rows := make([]contentsRow, len(all))
	lay := contentsLayout{m: m, c: c, size: m.s.Size.Length}
	for k := range all {
		if err := lay.prepare(&rows[k], &all[k], front); err != nil {
			return err
		}
	}
	for k := len(rows) - 1; k >= 0 && rows[k].matter != markup.Front; k-- {
		if rows[k].matter == markup.Body {
			if rows[k].level != 1 || !m.book.Sections[rows[k].section].Plain {
				break
			}
			rows[k].apart = true
		}
	}
	lay.measure(rows)
	for k := range rows {
		parted := k > 0 && (rows[k].level == 0 && rows[k-1].level > 0 || rows[k].matter != rows[k-1].matter ||
			rows[k].apart && !rows[k-1].apart)
		if err := lay.add(&rows[k], parted); err != nil {
			return err
		}
	}
	// Where a few lines would else make a page of their own, the sink gives way.
	if over := c.rows() % c.block.Rows; c.rows() > c.block.Rows && over < c.sink() {
		c.raise(over)
	}
	return nil
}

// contentsLayout is how the contents stand: numbers in a column of their own,
// if they are short, then the titles, then the folios.
type contentsLayout struct {
	m       *maker
	c       *column
	size    length.Length
	column  length.Length // to the titles of what has a number; 0 where numbers run in
	figures bool          // numbers stand at the right of their column
	folios  length.Length // the widest of the folios
	room    length.Length // kept free for them
	leader  *fonts.Run    // a point; nil for none
}

// contentsRow is one entry of the contents.
type contentsRow struct {
	*listing
	pos    markup.Pos
	matter markup.Matter
	label  *furniture // the number; nil for none
	folio  *furniture
	text   *text // the title; nil for none
	figure bool  // the number is in figures or roman numerals
	apart  bool  // a piece behind all parts and chapters of the body: an epilogue
}

// prepare makes the parts of an entry.
func (cl *contentsLayout) prepare(r *contentsRow, l *listing, front int) (err error) {
	m := cl.m
	sec := m.book.Sections[l.section]
	*r = contentsRow{listing: l, pos: sec.Pos, matter: sec.Matter}
	page := m.plans[l.section].first + l.page + 1
	folio := strconv.Itoa(page)
	if l.section < front {
		folio = roman(page)
	}
	if r.folio, err = m.oneLine(folio, 0, m.g.words.figures, cl.size, 0, sec.Pos); err != nil {
		return err
	}
	face, err := m.set.words.face(0)
	if err != nil {
		return err
	}
	capped := face.Supports(fonts.SmallCaps)
	if number := strings.TrimSpace(markup.Plain(l.number)); number != "" {
		r.figure = !strings.Contains(number, " ") && strings.ToUpper(number) == number && len(number) < 8
		features, track := m.g.words.figures, length.Length(0)
		if capped && !r.figure {
			features, track = features|fonts.SmallCaps, cl.size.Scale(capsTrack, 1000)
		}
		if r.label, err = m.oneLine(number, 0, features, cl.size, track, sec.Pos); err != nil {
			return err
		}
	}
	if !said(l.title) {
		return nil
	}
	title := withoutNotes(l.title)
	if capped && l.level == 0 {
		for i := range title {
			if title[i].Style == 0 {
				title[i].Style = smallCaps
			}
		}
	}
	r.text, err = m.set.words.prepare(title, sec.Pos)
	return err
}

// measure finds the widths of the columns.
func (cl *contentsLayout) measure(rows []contentsRow) {
	cl.figures = true
	widest := length.Length(0)
	for i := range rows {
		r := &rows[i]
		cl.folios = max(cl.folios, r.folio.width)
		if r.level == 1 && r.label != nil {
			widest = max(widest, r.label.width)
			cl.figures = cl.figures && r.figure
		}
	}
	cl.room = cl.folios + cl.size*3/2
	if widest > 0 && widest <= cl.c.block.Measure*3/10 {
		cl.column = widest + cl.size*4/5
	}
	if cl.m.s.Contents.Leaders {
		if face, err := cl.m.set.words.face(0); err == nil {
			cl.leader = face.Shape(".", 0)
		}
	}
}

// add adds an entry, below a row of white where it is parted from the one
// before. A part stays with what follows.
func (cl *contentsLayout) add(r *contentsRow, parted bool) error {
	c := cl.c
	if parted {
		c.space()
	}
	sh := c.shape(inset{size: cl.size, role: Display}, ragged)
	sh.measure -= cl.room
	start := length.Length(0) // of the label
	switch {
	case r.level == 2:
		sh.left = cl.column + cl.size
		sh.measure -= sh.left
		sh.later = cl.size
	case r.level == 1 && cl.column > 0 && r.label != nil:
		sh.left = cl.column
		sh.measure -= sh.left
		sh.later = cl.size * 2
		if cl.figures {
			start = cl.column - cl.size*4/5 - r.label.width
		}
	default:
		sh.later = cl.size * 2
		if r.label == nil {
			break
		}
		sh.first = r.label.width + cl.size
		if r.text != nil && sh.first > sh.measure*3/5 { // a line of its own, the title below
			l := Line{Role: Display, Measure: sh.measure, Pos: r.pos, First: true}
			l.begin(r.label, 0)
			c.add(1, pages.Forbid, l)
			r.label, sh.first = nil, sh.later
		}
	}
	var lines []Line
	if r.text != nil && len(r.text.tokens) > 0 {
		var err error
		if lines, err = c.set.set(r.text, sh); err != nil {
			return err
		}
	} else {
		lines = []Line{{Role: Display, X: sh.left, Measure: sh.measure, Pos: r.pos}}
		sh.first = 0
	}
	if r.label != nil {
		lines[0].begin(r.label, start)
	}
	cl.finish(&lines[len(lines)-1], r.folio)
	for n := range lines {
		cost := pages.Forbid
		if n == len(lines)-1 && r.level > 0 {
			cost = 0
		}
		c.add(1, cost, lines[n])
	}
	return nil
}

// begin puts a label before the runs of a line, from x of the text block on.
func (l *Line) begin(f *furniture, x length.Length) {
	runs := make([]Run, 0, len(f.runs)+len(l.Runs))
	for _, r := range f.runs {
		r.X += x - l.X
		runs = append(runs, r)
	}
	if len(l.Runs) > 0 {
		rest := append([]Run(nil), l.Runs...)
		rest[0].Space = true
		runs = append(runs, rest...)
	}
	l.Runs, l.Labels = runs, len(f.runs)
}

// finish ends the last line of an entry with its folio, and with points that
// lead to it, which stand one below the other in all entries.
func (cl *contentsLayout) finish(l *Line, folio *furniture) {
	measure := cl.c.block.Measure
	runs := append([]Run(nil), l.Runs...)
	if cl.leader != nil && len(runs) > 0 {
		step := cl.size * 2 / 3
		width := scale(cl.size, cl.leader.Width, cl.leader.Face)
		from := l.X + end(runs) + cl.size/2
		last := int((cl.folios + cl.size/2 + step - 1) / step) // points are counted from the right edge
		count := 0
		for measure-step*length.Length(last+count)-width >= from {
			count++
		}
		if count > 1 {
			points := cl.leader.Face.Shape(strings.Repeat(".", count), 0)
			runs = append(runs, Run{X: measure - step*length.Length(last+count-1) - width - l.X, Size: cl.size, Track: step - width, Glyphs: points, Space: true, Added: true})
		}
	}
	for _, r := range folio.runs {
		r.X += measure - l.X - folio.width
		r.Space = true
		runs = append(runs, r)
	}
	l.Runs, l.Measure = runs, measure-l.X
}

// withoutNotes drops references to notes: a title in the contents has none.
func withoutNotes(ins []markup.Inline) []markup.Inline {
	var kept []markup.Inline
	for _, in := range ins {
		if in.Break {
			in = markup.Inline{Pos: in.Pos, Text: " "}
		}
		if in.Note == 0 {
			kept = append(kept, in)
		}
	}
	return kept
}
