package report

import (
	"fmt"
	"html/template"
	"strings"

	"bodkin/fonts"
	"bodkin/typeset"
	"bodkin/typeset/length"
)

// The copies stand upright and are seen from the left and from above: width
// and height are drawn as they are, the thickness is drawn at its own length
// along a line that rises by the angle of a triangle of sides 3, 4 and 5, so
// that its places are exact.
const (
	backX, backY = -4, -3 // per 5 of thickness: to the left, and up
)

// The room around a copy in the scene.
const (
	besideCopy = length.Inch * 2 / 3
	aboveCopy  = length.Inch / 3
)

// column is the part of the scene in which a copy stands.
type column struct {
	left, width length.Length
	front       length.Length // the left edge of the front
}

// columns shares the width of the scene among the copies. Each has room for
// the outline of the first, which stands behind it.
func (c *Comparison) columns() (columns []column, width, height length.Length) {
	first := c.Editions[0].outer()
	for i := range c.Editions {
		e := &c.Editions[i]
		deep := e.Spine * -backX / 5
		col := column{left: width, width: besideCopy*2 + deep + max(e.outer().Width, first.Width)}
		col.front = col.left + besideCopy + deep
		columns = append(columns, col)
		width += col.width
		height = max(height, first.Height, e.outer().Height+e.Spine*-backY/5)
	}
	return columns, width, height + aboveCopy
}

// scene draws all copies to one scale on one line. It gives the width that it
// may take, and the columns of a grid in which captions stand below their
// copies.
func (c *Comparison) scene(g *glyphs) (svg template.HTML, size, captions template.CSS) {
	columns, width, height := c.columns()
	const below = length.Inch * 5 / 4 // for the scale
	var d drawing
	var says, grid []string
	for i := range c.Editions {
		e := &c.Editions[i]
		says = append(says, fmt.Sprintf("%s, %s: %s.", letter(i), e.Name, e.size(c.unit())))
		grid = append(grid, "minmax(0,"+pt(columns[i].width)+"fr)")
	}
	d.picture("scene", "scene", "", fmt.Sprintf("0 0 %s %s", pt(width), pt(height+below)),
		"The copies side by side, to one scale", strings.Join(says, " "))
	d.add(`<path class="table" d="M0 %sh%s"/>`, pt(height), pt(width))
	first := c.Editions[0].outer()
	for i := range c.Editions {
		front := columns[i].front
		ghost := fmt.Sprintf(`width="%s" height="%s"/>`, pt(first.Width), pt(first.Height))
		unlike := c.Editions[i].outer() != first
		if unlike {
			d.add(`<rect class="ghost" x="%s" y="%s" %s`, pt(front), pt(height-first.Height), ghost)
		}
		c.Editions[i].copy(&d, g, i, front, height, c.Title, c.Author)
		if o := c.Editions[i].outer(); unlike { // over the front in a light line, which ends with it
			d.add(`<svg x="%s" y="%s" width="%s" height="%s"><rect class="ghost over" y="%s" %s</svg>`,
				pt(front), pt(height-o.Height), pt(o.Width), pt(o.Height), pt(o.Height-first.Height), ghost)
		}
	}
	d.scale(columns[0].left+besideCopy, height+length.Inch*3/4)
	d.WriteString("</svg>")
	// No higher than a window of common size.
	most := length.Decimal(int64(width.Scale(34*10, int64(height+below))), 1)
	return template.HTML(d.String()), template.CSS("max-width:" + most + "rem"), template.CSS("grid-template-columns:" + strings.Join(grid, " "))
}

// copy draws one copy with the foot of its front's left edge at x, y.
func (e *Edition) copy(d *drawing, g *glyphs, i int, x, y length.Length, title, author string) {
	w, h := e.outer().Width, e.outer().Height
	dx, dy := e.Spine*backX/5, e.Spine*backY/5
	top := y - h
	d.add(`<g class="copy e%d">`, i)
	d.add(`<path class="leaves" d="M%s %sh%sl%s %sh-%sz"/>`, pt(x), pt(top), pt(w), pt(dx), pt(dy), pt(w))
	for n := range length.Length(5) { // a few of the leaves
		back := n + 1
		d.add(`<path class="leaf" d="M%s %sh%s"/>`, pt(x+dx*back/6), pt(top+dy*back/6), pt(w))
	}
	d.add(`<path class="spine" d="M%s %sl%s %sv%sl%s %sz"/>`, pt(x), pt(top), pt(dx), pt(dy), pt(h), pt(-dx), pt(-dy))
	d.add(`<rect class="front" x="%s" y="%s" width="%s" height="%s"/>`, pt(x), pt(top), pt(w), pt(h))
	inset := w / 16
	d.add(`<rect class="frame" x="%s" y="%s" width="%s" height="%s"/>`, pt(x+inset), pt(top+inset), pt(w-2*inset), pt(h-2*inset))
	if face := e.face(); face != nil {
		d.WriteString(`<g class="lettering">`)
		p := pen{d: d, g: g}
		size := w / 9
		line := top + h*3/10
		for _, s := range broken(face, title, size, w-4*inset) {
			p.set(face, s, size, x+w/2, line, w-4*inset)
			line += size * 5 / 4
		}
		p.set(face, author, w/20, x+w/2, y-h/8, w-4*inset)
		e.spineTitle(d, g, face, title, x+dx/2, top+dy/2)
		d.WriteString("</g>")
	}
	d.WriteString("</g>")
}

// spineTitle letters the spine from its head downwards, where it is thick
// enough for letters. Below a quarter of an inch printers letter none (common
// practice). x, y is the middle of the spine's head.
func (e *Edition) spineTitle(d *drawing, g *glyphs, face *fonts.Face, title string, x, y length.Length) {
	if e.Spine < length.Inch/4 {
		return
	}
	h := e.outer().Height
	size := min(e.Spine*11/20, h/20)
	// The letters run down; their feet point to the back, along the spine.
	d.add(`<g transform="matrix(0 1 -.8 -.6 %s %s)">`, pt(x), pt(y))
	p := pen{d: d, g: g}
	p.set(face, title, size, h*2/5, size/3, h*3/5)
	d.WriteString("</g>")
}

// face returns the regular face of the edition's text.
func (e *Edition) face() *fonts.Face {
	for i := range e.Layout.Pages {
		for k := range e.Layout.Pages[i].Lines {
			line := &e.Layout.Pages[i].Lines[k]
			for n := range line.Runs {
				if r := &line.Runs[n]; line.Role == typeset.Text && r.Glyphs.Face.Style == fonts.Regular && !r.Added {
					return r.Glyphs.Face
				}
			}
		}
	}
	return nil
}

// broken breaks a title into lines no wider than most, where its words let it.
func broken(face *fonts.Face, title string, size, most length.Length) []string {
	var lines []string
	for _, word := range strings.Fields(title) {
		if n := len(lines); n > 0 {
			longer := lines[n-1] + " " + word
			if size.Scale(int64(face.Shape(longer, 0).Width), int64(face.Upem)) <= most {
				lines[n-1] = longer
				continue
			}
		}
		lines = append(lines, word)
	}
	return lines
}

// scale draws the scale of the scene: inches above the line, centimetres below.
func (d *drawing) scale(x, y length.Length) {
	d.add(`<g class="rule"><path class="bar" d="M%s %sh%s"/><path class="tick" d="`, pt(x), pt(y), pt(4*length.Inch))
	for n := range length.Length(5) {
		d.add("M%s %sv-8", pt(x+n*length.Inch), pt(y))
	}
	for n := range length.Length(11) {
		d.add("M%s %sv8", pt(x+(n*10*length.Inch).Scale(5, 127)), pt(y))
	}
	d.add(`"/></g><text x="%s" y="%s">4 in</text><text x="%s" y="%s" dominant-baseline="hanging">10 cm</text>`,
		pt(x+4*length.Inch+6*length.Point), pt(y-length.Point), pt(x+4*length.Inch+6*length.Point), pt(y+2*length.Point))
}
