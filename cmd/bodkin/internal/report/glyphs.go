package report

import (
	"strconv"
	"strings"

	"bodkin/fonts"
	"bodkin/typeset"
	"bodkin/typeset/length"
)

// glyphs are the outlines that the drawings of a page share.
type glyphs struct {
	ids   map[glyphKey]string
	paths strings.Builder // in the order of their first use
}

type glyphKey struct {
	face *fonts.Face
	id   fonts.GID
}

// id returns the name by which a glyph is used; "" for one without ink.
func (g *glyphs) id(face *fonts.Face, gid fonts.GID) string {
	key := glyphKey{face, gid}
	if id, found := g.ids[key]; found {
		return id
	}
	if g.ids == nil {
		g.ids = make(map[glyphKey]string)
	}
	path := outline(face.Outline(gid))
	if path == "" {
		g.ids[key] = ""
		return ""
	}
	id := "g" + strconv.FormatInt(int64(len(g.ids)), 36)
	g.ids[key] = id
	g.paths.WriteString(`<path id="` + id + `" d="` + path + `"/>`)
	return id
}

// outline writes segments as an SVG path in font units, y upwards, each point
// from the one before it: that takes the fewest digits.
func outline(segments []fonts.Segment) string {
	var b []byte
	var at fonts.Point
	for i, s := range segments {
		n, op := 1, byte('l')
		switch s.Op {
		case fonts.MoveTo:
			op = 'm'
			if i > 0 {
				b = append(b, 'z')
			}
		case fonts.QuadTo:
			n, op = 2, 'q'
		case fonts.CubeTo:
			n, op = 3, 'c'
		}
		// After z the pen stands at the contour's beginning, which is where
		// the contour ended; see fonts.Face.Outline.
		b = append(b, op)
		for k, p := range s.Args[:n] {
			b = number(b, p.X-at.X, k > 0)
			b = number(b, p.Y-at.Y, true)
		}
		at = s.Args[n-1]
	}
	if len(b) > 0 {
		b = append(b, 'z')
	}
	return string(b)
}

// number appends a number, and a space before it where it needs one.
func number(b []byte, n int32, after bool) []byte {
	if after && n >= 0 {
		b = append(b, ' ')
	}
	return strconv.AppendInt(b, int64(n), 10)
}

// pen draws type. Glyphs that stand side by side in one face and size share a
// group, in which places are whole font units.
type pen struct {
	d    *drawing
	g    *glyphs
	open bool
	face *fonts.Face
	size length.Length
	wide int32
	x, y length.Length // where the group begins
}

// line draws a line at its place on the page, moved by dx, dy.
func (p *pen) line(l *typeset.Line, dx, dy length.Length) {
	for i := range l.Runs {
		r := &l.Runs[i]
		r.Places(l, func(at typeset.Place) bool {
			p.glyph(r.Glyphs.Face, at.Glyph.ID, r.Size, r.Widen, at.X+dx, at.Y+dy)
			return true
		})
	}
	p.end()
}

// glyph draws one glyph with its origin at x, y.
func (p *pen) glyph(face *fonts.Face, gid fonts.GID, size length.Length, wide int32, x, y length.Length) {
	id := p.g.id(face, gid)
	if id == "" {
		return
	}
	if !p.open || p.face != face || p.size != size || p.wide != wide {
		p.end()
		p.open, p.face, p.size, p.wide, p.x, p.y = true, face, size, wide, x, y
		// Seven places: a unit of the scale is then below a hundredth of a
		// point at the far end of a line.
		unit := size.Scale(10_000_000, int64(face.Upem)*int64(length.Point))
		p.d.add(`<g transform="matrix(%s 0 0 -%s %s %s)">`,
			length.Decimal(int64(unit.Scale(typeset.Unwidened+int64(wide), typeset.Unwidened)), 7), length.Decimal(int64(unit), 7), pt(x), pt(y))
	}
	upem := int64(face.Upem)
	along := (x - p.x).Scale(upem*typeset.Unwidened, int64(size)*(typeset.Unwidened+int64(wide)))
	up := (p.y - y).Scale(upem, int64(size))
	p.d.add(`<use href="#%s"`, id)
	if along != 0 {
		p.d.add(` x="%d"`, int64(along))
	}
	if up != 0 {
		p.d.add(` y="%d"`, int64(up))
	}
	p.d.WriteString("/>")
}

func (p *pen) end() {
	if p.open {
		p.d.WriteString("</g>")
		p.open = false
	}
}

// set draws words of the page's own choosing, centred on x, with their
// baseline at y, no wider than most; it returns the size that was taken.
func (p *pen) set(face *fonts.Face, text string, size, x, y, most length.Length) length.Length {
	run := face.Shape(text, 0)
	width := size.Scale(int64(run.Width), int64(face.Upem))
	if width > most && width > 0 {
		size = size.Scale(int64(most), int64(width))
		width = most
	}
	var at int64
	for i := range run.Glyphs {
		g := &run.Glyphs[i]
		p.glyph(face, g.ID, size, 0, x-width/2+size.Scale(at+int64(g.DX), int64(face.Upem)), y-size.Scale(int64(g.DY), int64(face.Upem)))
		at += int64(g.Advance)
	}
	p.end()
	return size
}
