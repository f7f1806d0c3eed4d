package sheet

import (
	"slices"
	"strings"

	"bodkin/typeset"
	"bodkin/typeset/length"
	"bodkin/typeset/pdf"
)

// outline is a trim that one or several editions have.
type outline struct {
	typeset.Size
	editions []int
	trim     string
}

// letters lists what the editions are called by.
func (o *outline) letters() string {
	var all []string
	for _, i := range o.editions {
		all = append(all, letter(i))
	}
	return strings.Join(all, ", ")
}

// outlines returns the trims in the order of the editions.
func (m *maker) outlines() []outline {
	var all []outline
	for i := range m.editions {
		e := &m.editions[i]
		same := slices.IndexFunc(all, func(o outline) bool { return o.Size == e.Layout.Trim })
		if same < 0 {
			same = len(all)
			all = append(all, outline{Size: e.Layout.Trim, trim: e.trim()})
		}
		all[same].editions = append(all[same].editions, i)
	}
	return all
}

// front returns the first sheet: all trims from one corner, in them the spines
// and the bar by which the print is checked. What has no room in the smallest
// trim goes on to a sheet of its own.
func (m *maker) front() []pdf.Sheet {
	all := m.outlines()
	least, most := all[0].Size, all[0].Size // of widths and heights alike
	for _, o := range all {
		least = typeset.Size{Width: min(least.Width, o.Width), Height: min(least.Height, o.Height)}
		most = typeset.Size{Width: max(most.Width, o.Width), Height: max(most.Height, o.Height)}
	}
	paper := m.paper
	if side := paper.onSide(); !paper.shows(most) && side.shows(most) {
		paper = side
	}
	for _, o := range all {
		if i := o.editions[0]; !paper.shows(o.Size) && !slices.ContainsFunc(m.notes, func(n note) bool { return n.edition == i }) {
			m.note(i, false, "does not fit on %s from the corner of the others: its outline is open where the paper ends", paper.Name)
		}
	}
	c := newCanvas(m.hand, paper)
	for _, o := range all {
		c.outline(o.Size)
	}
	inside := typeset.Box{X: edge, Y: edge, Width: min(least.Width, paper.Width-2*edge), Height: min(least.Height, paper.Height-2*edge)}
	inside = inset(inside, mm(7))
	inside.Height -= mm(4) // for the label of the smallest
	bar, barred := c.room(all, inside)
	if !barred && inside.Width >= barWidth && inside.Height >= 3*barDepth(c, inside.Width) {
		bar, barred = inside, true
		bar.Height = barDepth(c, bar.Width)
		bar.Y += inside.Height - bar.Height
		inside.Height -= bar.Height + mm(5)
	}
	blocks := m.blocks()
	if barred {
		c.bar(bar)
	} else {
		blocks = append(blocks, block{depth: func(width length.Length) length.Length { return barDepth(c, width) }, draw: (*canvas).bar})
	}
	c.labels(all, []typeset.Box{bar, inside})

	sheets := []*canvas{c}
	zone := inside
	fresh := func() {
		c = newCanvas(m.hand, m.paper)
		sheets = append(sheets, c)
		zone = inset(typeset.Box{Width: m.paper.Width, Height: m.paper.Height}, edge+mm(10))
		if len(sheets) > 2 || zone.Width > inside.Width && inside.Width >= leastColumn {
			c.text(zone.X, zone.Y, titleSize, fromLeft, plain(m.editions[0].Layout.Title))
			zone.Y += mm(10)
			zone.Height -= mm(10)
		}
	}
	if zone.Width < leastColumn {
		fresh()
	}
	y := zone.Y
	for _, b := range blocks {
		depth := b.depth(zone.Width)
		if y > zone.Y && y+depth > zone.Y+zone.Height {
			if b.spare {
				continue
			}
			fresh()
			y, depth = zone.Y, b.depth(zone.Width)
		}
		b.draw(c, typeset.Box{X: zone.X, Y: y, Width: zone.Width, Height: depth})
		y += depth + blockGap
	}
	var list []pdf.Sheet
	for _, c := range sheets {
		list = append(list, c.Sheet)
	}
	return list
}

// room finds a place for the bar, as low on the paper as may be, where it
// crosses no outline: with its words beside it, or else above it.
func (c *canvas) room(all []outline, inside typeset.Box) (typeset.Box, bool) {
	step := mm(2)
	for _, width := range []length.Length{barWidth + mm(76), barWidth + mm(46), barWidth} {
		depth := barDepth(c, width)
		for y := c.Height - edge - depth; y >= edge; y -= step {
			for x := edge; x+width <= c.Width-edge; x += step {
				if b := (typeset.Box{X: x, Y: y, Width: width, Height: depth}); c.clear(b, all, []typeset.Box{inside}) {
					return b, true
				}
			}
		}
	}
	return typeset.Box{}, false
}

// shows reports whether an outline of the size is printed whole.
func (p Paper) shows(s typeset.Size) bool {
	return s.Width <= p.Width-2*edge && s.Height <= p.Height-2*edge
}

func inset(b typeset.Box, by length.Length) typeset.Box {
	return typeset.Box{X: b.X + by, Y: b.Y + by, Width: b.Width - 2*by, Height: b.Height - 2*by}
}

// outlineWeight is the weight of a trim's outline, half of it on either side.
const outlineWeight = length.Point / 2

// outline draws a trim from the common corner, as far as the paper goes.
func (c *canvas) outline(s typeset.Size) {
	right, foot, half := edge+s.Width, edge+s.Height, outlineWeight/2
	c.rule(edge-half, edge, min(right+half, c.Width), edge, outlineWeight)
	c.rule(edge, edge, edge, min(foot, c.Height), outlineWeight)
	if right < c.Width {
		c.rule(right, edge, right, min(foot, c.Height), outlineWeight)
	}
	if foot < c.Height {
		c.rule(edge-half, foot, min(right+half, c.Width), foot, outlineWeight)
	}
}

// labels names the outlines, each where it crosses nothing: in its lower right
// corner, below or beside it, or further along these edges.
func (c *canvas) labels(all []outline, taken []typeset.Box) {
	pad, depth := mm(1)+mm(1)/2, captionSize
	for _, o := range all {
		spans := []span{{bold, o.letters()}, {roman, "  " + o.trim}}
		_, width := c.hand.line(labelSize, spans)
		right, foot := min(edge+o.Width, c.Width-edge), min(edge+o.Height, c.Height-edge)
		places := []typeset.Box{
			{X: right - pad - width, Y: foot - pad - depth},
			{X: right - width, Y: foot + pad},
		}
		for up := range length.Length(30) {
			places = append(places, typeset.Box{X: right + pad, Y: foot - depth - up*depth*2})
		}
		for along := range length.Length(30) {
			x := right - pad - width - along*width/4
			places = append(places, typeset.Box{X: x, Y: foot - pad - depth}, typeset.Box{X: x, Y: foot + pad})
		}
		at := places[0]
		for _, p := range places {
			p.Width, p.Height = width, depth
			if c.clear(p, all, taken) {
				at = p
				break
			}
		}
		at.Width, at.Height = width, depth
		taken = append(taken, at)
		c.text(at.X, at.Y+depth, labelSize, fromLeft, spans)
	}
}

// labelSize is the size of the labels of outlines.
const labelSize = length.Point * 8

// clear reports whether a box crosses no outline, nothing that is taken, and
// not the edge of what is printed.
func (c *canvas) clear(b typeset.Box, all []outline, taken []typeset.Box) bool {
	if b.X < edge || b.Y < edge || b.X+b.Width > c.Width-edge || b.Y+b.Height > c.Height-edge {
		return false
	}
	b = inset(b, -mm(1)/2)
	none := typeset.Box{}
	for _, t := range taken {
		if b.And(t) != none {
			return false
		}
	}
	for _, o := range all {
		right, foot := edge+o.Width, edge+o.Height
		if b.And(typeset.Box{X: right, Y: edge, Width: 1, Height: o.Height}) != none ||
			b.And(typeset.Box{X: edge, Y: foot, Width: o.Width, Height: 1}) != none {
			return false
		}
	}
	return true
}
