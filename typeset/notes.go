package typeset

import (
	"strconv"

	"bodkin/markup"
	"bodkin/typeset/length"
	"bodkin/typeset/pages"
)

// noteSize is the size of notes and captions, in thousandths of the text's.
const noteSize = 850

// noteLeading returns the leading of notes at the foot of a page.
func (b *Block) noteLeading() length.Length { return b.Leading.Scale(noteSize, 1000) }

// noteRows returns how many rows of the grid some lines of notes take, when
// the last of them stands on the page's last row: from the text to the first
// note there are a row and a half at least.
func (b *Block) noteRows(lines int) int {
	if lines == 0 {
		return 0
	}
	depth := b.Leading*3/2 + length.Length(lines-1)*b.noteLeading()
	return int((depth + b.Leading - 1) / b.Leading)
}

// footnotes are the notes of a section that stand at the foot of its pages.
type footnotes struct {
	lines  []footLine
	counts []int // lines of each note
}

// footLine is one row of a note: most often one line, more in a table, none
// between paragraphs that stand apart.
type footLine []Line

// setFootnotes breaks the notes of a section into lines.
func (c *column) setFootnotes(sec *markup.Section) error {
	if len(sec.Notes) == 0 || c.gathered || c.s.Notes != NotesAtFoot {
		return nil
	}
	c.feet = new(footnotes)
	labels, width, err := c.noteLabels(c.p.notes)
	if err != nil {
		return err
	}
	for i := range sec.Notes {
		one := &column{set: c.set, s: c.s, block: c.block, p: c.p, ctx: c.ctx}
		if err := one.labelledNotes(sec.Notes[i:i+1], labels[i:i+1], width); err != nil {
			return err
		}
		n := len(c.feet.lines)
		for at := range one.blocks {
			if err := c.feet.add(one, at); err != nil {
				return err
			}
		}
		c.feet.trim(n)
		c.feet.counts = append(c.feet.counts, len(c.feet.lines)-n)
	}
	return nil
}

// add adds the rows of a block of a note.
func (ft *footnotes) add(c *column, at int) error {
	f := &c.fills[at]
	var placed []Line
	if f.text != nil {
		placed = f.placed(c.set, 0)
	}
	for k, it := range c.blocks[at][0].Items {
		row := f.on(0, k, placed, false)
		for i := range row {
			if row[i].Y > 0 && f.text == nil {
				// A page might end between its lines.
				return &markup.Error{Pos: row[i].Pos, What: "a row of this table, which stands in a note, takes more than a line",
					Mend: "shorten it, or put the table into the text"}
			}
		}
		ft.lines = append(ft.lines, row)
		for range it.Rows - 1 {
			ft.lines = append(ft.lines, nil)
		}
	}
	return nil
}

// trim takes empty rows off the end of the lines from n on.
func (ft *footnotes) trim(n int) {
	for len(ft.lines) > n && len(ft.lines[len(ft.lines)-1]) == 0 {
		ft.lines = ft.lines[:len(ft.lines)-1]
	}
}

// notes adds the notes of a section below its text.
func (c *column) notes(notes []*markup.Note) error {
	if len(notes) == 0 || c.gathered || c.feet != nil {
		return nil
	}
	c.space()
	labels, width, err := c.noteLabels(c.p.notes)
	if err != nil {
		return err
	}
	return c.labelledNotes(notes, labels, width)
}

// noteFrame is the frame of notes.
func (c *column) noteFrame() inset {
	f := c.body()
	f.role, f.size = NoteText, f.size.Scale(noteSize, 1000)
	return f
}

// noteLabels sets the numbers of a section's notes, and returns the width of
// the widest: all notes are indented alike.
func (c *column) noteLabels(texts []*text) ([][]Run, length.Length, error) {
	labels := make([][]Run, len(texts))
	for i := range texts {
		var err error
		if labels[i], err = c.label(texts[i], c.noteFrame()); err != nil {
			return nil, 0, err
		}
		for k := range labels[i] {
			labels[i][k].Note = int32(i + 1)
		}
	}
	return labels, widest(labels), nil
}

// labelledNotes adds notes in smaller type, each with its label before it.
func (c *column) labelledNotes(notes []*markup.Note, labels [][]Run, widest length.Length) error {
	f := c.noteFrame()
	f.left = max(c.quoteIndent(), widest+f.size*2/5)
	for i, n := range notes {
		c.plain = true
		if err := c.labelled(labels[i], n.Blocks, f); err != nil {
			return err
		}
	}
	return nil
}

// refer finds the notes that each line of a way refers to.
func (b *broken) refer(items []pages.Item, spans []span, counts []int) {
	for i := range spans {
		sp := &spans[i]
		for t := sp.start.token; t <= sp.end.token; t++ {
			w := b.t.tokens[t].w
			for j := range w.parts {
				if w.parts[j].note == 0 || t == sp.start.token && !w.after(sp.start.cut, j) ||
					t == sp.end.token && sp.end.cut != whole && w.after(sp.end.cut, j) {
					continue
				}
				items[i].Notes = append(items[i].Notes, counts[w.parts[j].note-1])
			}
		}
	}
}

// after reports whether part j of a word stands after a cut.
func (w *word) after(cut int32, j int) bool {
	return cut == whole || j > w.cuts[cut].part || j == w.cuts[cut].part && w.cuts[cut].at == 0
}

// referLines finds the notes that given lines refer to.
func referLines(it *pages.Item, lines []Line, counts []int) {
	for i := range lines {
		for k := range lines[i].Runs {
			if n := lines[i].Runs[k].Note; n > 0 {
				it.Notes = append(it.Notes, counts[n-1])
			}
		}
	}
}

// foot puts the next n rows of notes at the foot of a page.
func (m *maker) foot(p *Page, rest []footLine, n int) {
	last := m.block.Baseline + length.Length(p.Depth-1)*m.block.Leading
	for k, row := range rest[:n] {
		for _, line := range row {
			line.Y += last - length.Length(n-1-k)*m.block.noteLeading()
			p.Lines = append(p.Lines, line)
			p.Notes++
		}
	}
}

// renumber numbers the references on a page, and the notes at its foot, from
// 1. A note that goes on from the page before has its number there.
func (p *Page) renumber() {
	next := 0
	number := make(map[int32]int)
	for i := range p.Lines {
		line := &p.Lines[i]
		for k := range line.Runs {
			n := line.Runs[k].Note
			if n == 0 {
				continue
			}
			if number[n] == 0 {
				next++
				number[n] = next
			}
			line.relabel(k, number[n])
		}
	}
}

// relabel puts another number in the place of one, and lets the spaces of the
// line take up the difference.
func (l *Line) relabel(k, number int) {
	runs := append([]Run(nil), l.Runs...) // they are shared with other layouts
	r := &runs[k]
	before := r.Width()
	text := strconv.Itoa(number)
	if k < l.Labels {
		text += "."
	}
	r.Glyphs = r.Glyphs.Face.Shape(text, r.Glyphs.Features)
	more := r.Width() - before
	l.Runs, l.traits = runs, nil
	if more == 0 || k < l.Labels {
		return
	}
	gaps := 0
	for i := range runs {
		if runs[i].Space {
			gaps++
		}
	}
	at := 0
	for i := range runs {
		if runs[i].Space {
			at++
		}
		if i > k {
			runs[i].X += more
		}
		if l.Justified && gaps > 0 {
			runs[i].X -= more * length.Length(at) / length.Length(gaps)
		}
	}
}
