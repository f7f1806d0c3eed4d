package sheet

import (
	"bodkin/typeset"
	"bodkin/typeset/length"
	"bodkin/typeset/pdf"
)

// block is something that stands in the column of the first sheet.
type block struct {
	depth func(width length.Length) length.Length
	draw  func(c *canvas, b typeset.Box)
	spare bool // it is left out where it has no room: it is said elsewhere
}

// The type of the column, its gaps, and the least that it may be wide.
const (
	titleSize    = length.Point * 17
	entrySize    = length.Point * 8
	entryLeading = length.Point * 11
)

var (
	blockGap    = mm(4)
	leastColumn = mm(75)
)

// paragraph is a block of lines.
func (m *maker) paragraph(size, leading length.Length, spans []span) block {
	wrap := func(width length.Length) [][]span { return m.hand.wrap(size, width, spans) }
	return block{
		depth: func(width length.Length) length.Length { return leading * length.Length(len(wrap(width))) },
		draw: func(c *canvas, b typeset.Box) {
			for n, line := range wrap(b.Width) {
				c.text(b.X, b.Y+size+leading*length.Length(n), size, fromLeft, line)
			}
		},
	}
}

// blocks returns what stands in the column: the title, the editions, and what
// is to be said.
func (m *maker) blocks() []block {
	first := m.editions[0].Layout
	blocks := []block{m.paragraph(titleSize, titleSize*5/4, plain(first.Title))}
	intro := "The trims at actual size, from one corner. Hold them against the books on your shelf."
	if len(m.editions) == 1 {
		intro = "The trim at actual size. Hold it against the books on your shelf."
	}
	for i := range m.editions {
		if m.editions[i].Spine > 0 {
			intro += " The gray bands are the spines, as thick as the copies: lay a book beside them."
			break
		}
	}
	blocks = append(blocks, m.paragraph(entrySize, entryLeading, plain(intro)))
	for i := range m.editions {
		blocks = append(blocks, m.entry(i))
	}
	for _, n := range m.notes {
		b := m.paragraph(entrySize, entryLeading, plain(m.say(n)+"."))
		b.spare = n.captioned
		blocks = append(blocks, b)
	}
	caution := m.paragraph(entrySize, entryLeading,
		[]span{{italic, "The printer’s own template and quote decide. Order a physical proof before the first sale."}})
	caution.spare = len(blocks) > 3
	return append(blocks, caution)
}

// entry is an edition: its spine as a band, and beside it what it is.
func (m *maker) entry(i int) block {
	e := &m.editions[i]
	says := [][]span{
		{{bold, letter(i) + "  " + e.Name}},
		plain(e.trim() + "  ·  " + e.kind()),
		plain(e.copy()),
	}
	lines := func(width length.Length) (all [][]span) {
		for _, spans := range says {
			all = append(all, m.hand.wrap(entrySize, width*2/3-mm(4), spans)...)
		}
		return all
	}
	text := func(width length.Length) length.Length {
		return entryLeading * length.Length(len(lines(width)))
	}
	return block{
		depth: func(width length.Length) length.Length { return max(e.Spine, text(width)) },
		draw: func(c *canvas, b typeset.Box) {
			if e.Spine > 0 {
				band := typeset.Box{X: b.X, Y: b.Y + (b.Height-e.Spine)/2, Width: b.Width / 3, Height: e.Spine}
				y := band.Y + band.Height/2
				c.Rules = append(c.Rules, pdf.Rule{X0: band.X, Y0: y, X1: band.X + band.Width, Y1: y, Weight: band.Height, Gray: 235})
				c.frame(band, hairline)
				if e.Spine >= entryLeading {
					c.text(band.X+band.Width/2, y+entrySize/3, entrySize, centred, []span{{bold, letter(i)}})
				}
			}
			y := b.Y + (b.Height-text(b.Width))/2 + entrySize
			for n, line := range lines(b.Width) {
				c.text(b.X+b.Width/3+mm(4), y+entryLeading*length.Length(n), entrySize, fromLeft, line)
			}
		},
	}
}
