package typeset

import (
	"bodkin/markup"
	"bodkin/typeset/length"
	"bodkin/typeset/pages"
	"bodkin/typeset/picture"
)

// illustration is a picture as a block has it: where its parts stand, from the
// baseline of its first row and the left edge of the text block.
type illustration struct {
	of      *markup.Picture
	plate   Plate // in the text; empty for one on pages of its own
	caption []Line
	info    picture.Info
}

// picture inspects a picture and prepares its caption.
func (p *prepared) picture(s *wordSetter, b *markup.Picture) error {
	info, err := picture.Inspect(b.Path)
	if err != nil {
		return &markup.Error{Pos: b.Pos, What: err.Error(), Err: err}
	}
	if p.pictures == nil {
		p.pictures = make(map[*markup.Picture]picture.Info)
	}
	p.pictures[b] = info
	return p.text(s, b, b.Caption)
}

// The resolution at which a picture is printed at its own size: the least that
// printers ask for, of tone and of line. Common practice.
const (
	tonePPI = 300
	linePPI = 600
)

// ownWidth returns the width at which a picture has just the resolution that
// it is printed at.
func ownWidth(i picture.Info) length.Length {
	return length.Length(i.Width) * length.Inch / length.Length(wantedPPI(i))
}

// wantedPPI returns the resolution that a picture should have by its kind.
func wantedPPI(i picture.Info) int {
	if i.Model == picture.Bilevel {
		return linePPI
	}
	return tonePPI
}

// What it costs to move a picture to the head of the next page, so that the
// page it is mentioned on is filled with text.
const aheadCost = 2 * pages.OffDepth

// picture adds a picture with its caption: between two paragraphs, or at the
// head of the next page if it does not fit, or on pages of its own.
func (c *column) picture(b *markup.Picture, f inset) error {
	info := c.p.pictures[b]
	fig := &illustration{of: b, info: info}
	if b.Place != markup.InText {
		return c.fullPage(fig)
	}
	measure := c.block.Measure - f.left - f.right
	width := min(ownWidth(info), measure)
	if b.Width > 0 {
		width = measure * length.Length(b.Width) / 1000
	}
	captions, err := c.caption(b)
	if err != nil {
		return err
	}
	room := c.block.Rows - 1 // of a short page
	if len(c.fills) == c.opened {
		room -= c.rows() // it opens the chapter, and its title stands above
	}
	most := c.block.depth(room - len(captions))
	if room-len(captions) < 2 {
		return &markup.Error{Pos: b.Pos, What: "the page has no room for this picture with its caption", Mend: "shorten the caption, lower the sink, or put the picture further on"}
	}
	width, height := fit(info, width, most)
	rows := 1
	for c.block.depth(rows) < height {
		rows++
	}
	fig.plate = Plate{X: f.left + (measure-width)/2, Y: -c.block.Ascender + (c.block.depth(rows)-height)/2, Width: width, Height: height, Picture: b}
	fig.plate.resolve(info)
	for i, line := range captions {
		line.Y = length.Length(rows+i) * c.block.Leading
		fig.caption = append(fig.caption, line)
	}
	rows += len(captions)
	c.figure(fig, rows)
	c.plain = len(c.fills) == c.opened+1 // it opens the chapter: the text begins below
	return nil
}

// figure adds the block of a picture that stands in the text, a row of white
// above and below it.
func (c *column) figure(fig *illustration, rows int) {
	here := func(below int) []pages.Item {
		var items []pages.Item
		if !c.open() {
			items = append(items, pages.Item{Rows: 1, Space: true})
		}
		return append(items, pages.Item{Rows: rows}, pages.Item{Rows: below, Space: true})
	}
	block := pages.Block{{Items: here(1)}, {Items: here(2), Cost: pages.OffDepth}}
	if len(c.fills) > c.opened {
		block = append(block, pages.Way{Items: []pages.Item{{Ahead: rows + 1}}, Cost: aheadCost})
	}
	fl := fill{figure: fig}
	for _, w := range block {
		fl.lines = append(fl.lines, make([][]Line, len(w.Items)))
	}
	c.blocks, c.fills = append(c.blocks, block), append(c.fills, fl)
}

// caption breaks a picture's caption into lines: smaller, and centred.
func (c *column) caption(b *markup.Picture) ([]Line, error) {
	texts := c.p.blocks[b]
	if len(texts) == 0 || len(texts[0].tokens) == 0 {
		return nil, nil
	}
	f := c.body()
	f.role, f.size = Caption, f.size*noteSize/1000
	return c.set.set(texts[0], c.shape(f, centred))
}

// fullPage adds a picture on pages of its own.
func (c *column) fullPage(fig *illustration) error {
	var err error
	if fig.caption, err = c.caption(fig.of); err != nil {
		return err
	}
	if length.Length(len(fig.caption))*c.block.Leading > c.block.depth(c.block.Rows)/2 {
		return &markup.Error{Pos: fig.of.Pos, What: "the caption of this picture takes more than half of a page", Mend: "shorten it, or put it into the text"}
	}
	kind := pages.OnePage
	if fig.of.Place == markup.Spread {
		kind = pages.Spread
	}
	if len(fig.caption) > 0 && fig.of.Place != markup.FullPage {
		return &markup.Error{Pos: fig.of.Pos, What: "a picture that bleeds has no room for a caption", Mend: "take the caption away, or write {.page}"}
	}
	c.blocks = append(c.blocks, pages.Block{{Items: []pages.Item{{Plate: kind}}}})
	c.fills = append(c.fills, fill{figure: fig, lines: [][][]Line{{nil}}})
	return nil
}

// plate places a picture on the page at index i, which is its own; the
// second of a spread is a recto.
func (m *maker) plate(fig *illustration, i int) Page {
	p := Page{Depth: m.block.Rows}
	if fig.of.Place == markup.FullPage {
		room := m.block.depth(m.block.Rows - len(fig.caption))
		if len(fig.caption) > 0 {
			room -= m.block.Leading / 2
		}
		width, height := fit(fig.info, m.block.Measure, room)
		left := m.left(i)
		p.Plates = []Plate{{X: left + (m.block.Measure-width)/2, Y: m.block.Baseline - m.block.Ascender + (room-height)/2,
			Width: width, Height: height, Picture: fig.of}}
		p.Plates[0].resolve(fig.info)
		for n, line := range fig.caption {
			line.Y = m.block.last() - length.Length(len(fig.caption)-1-n)*m.block.Leading
			p.Lines = append(p.Lines, line)
		}
		return p
	}
	p.Plates = []Plate{m.bleeding(fig, i)}
	return p
}

// bleeding covers the page at index i, or the spread that it is half of, with
// a picture, past all edges that are cut. What the picture has too much in one
// direction is left out on both sides alike.
func (m *maker) bleeding(fig *illustration, i int) Plate {
	trim, bleed := m.s.Trim.Size(), m.s.Bleed.Length
	clip := m.s.paper(trim, bleed, i)
	whole := clip
	if fig.of.Place == markup.Spread {
		whole = Box{X: -bleed, Y: -bleed, Width: 2 * (trim.Width + bleed), Height: clip.Height}
		if Recto(i) {
			whole.X -= trim.Width
		}
	}
	width, height := whole.Width, whole.Width.Scale(int64(fig.info.Height), int64(fig.info.Width))
	if height < whole.Height {
		width, height = whole.Height.Scale(int64(fig.info.Width), int64(fig.info.Height)), whole.Height
	}
	plate := Plate{X: whole.X - (width-whole.Width)/2, Y: whole.Y - (height-whole.Height)/2, Width: width, Height: height,
		Clip: clip, Bleeds: true, Picture: fig.of}
	plate.resolve(fig.info)
	return plate
}

// fit returns the size of a picture that fills a room in one direction.
func fit(i picture.Info, width, height length.Length) (w, h length.Length) {
	w, h = width, width.Scale(int64(i.Height), int64(i.Width))
	if h > height {
		w, h = height.Scale(int64(i.Width), int64(i.Height)), height
	}
	return w, h
}

// left returns the left edge of the text block on the page at index i.
func (m *maker) left(i int) length.Length { return m.block.left(m.s.Trim.Size(), i) }

// resolve notes how fine a plate is printed, and how fine it should be.
func (p *Plate) resolve(i picture.Info) {
	p.Wanted = wantedPPI(i)
	p.PPI = picture.Resolution(i, p.Width, p.Height)
}

// figure puts a picture and its caption on a page whose text begins at left,
// from the baseline of its first row on.
func (p *Page) figure(fig *illustration, top, left length.Length) {
	plate := fig.plate
	plate.X += left
	plate.Y += top
	p.Plates = append(p.Plates, plate)
	for _, line := range fig.caption {
		line.Y += top
		p.Lines = append(p.Lines, line)
	}
}
