package flat

import (
	"bodkin/fonts"
	"bodkin/typeset/length"

	"github.com/go-pdf/fpdf"
)

// pen draws lines, areas and words in tints of the template's colour. Words
// are drawn as outlines, so that the file needs no font.
type pen struct {
	doc  *fpdf.Fpdf
	face *fonts.Face
}

// area fills a rectangle.
func (p *pen) area(x, y, w, h length.Length, tint byte) {
	p.doc.SetFillSpotColor(Name, tint)
	p.doc.Rect(x.Points(), y.Points(), w.Points(), h.Points(), "F")
}

// The ways in which lines are drawn, as dashes in points.
var (
	solid  = []float64{}
	dashed = []float64{9, 5}
	dotted = []float64{1.5, 3.5}
)

func (p *pen) line(x1, y1, x2, y2 length.Length, width float64, dash []float64) {
	p.stroke(width, dash)
	p.doc.Line(x1.Points(), y1.Points(), x2.Points(), y2.Points())
}

func (p *pen) frame(x, y, w, h length.Length, width float64, dash []float64) {
	p.stroke(width, dash)
	p.doc.Rect(x.Points(), y.Points(), w.Points(), h.Points(), "D")
}

func (p *pen) stroke(width float64, dash []float64) {
	p.doc.SetDrawSpotColor(Name, full)
	p.doc.SetLineWidth(width)
	p.doc.SetDashPattern(dash, 0)
}

// width returns how wide text is at a size in points.
func (p *pen) width(text string, size float64) float64 {
	var sum int32
	for _, g := range p.face.Shape(text, fonts.Lining).Glyphs {
		sum += g.Advance
	}
	return float64(sum) * size / float64(p.face.Upem)
}

// centred writes text centred on x, its baseline on y, turned about that point
// by degrees counter-clockwise.
func (p *pen) centred(x, y length.Length, size float64, text string, turn float64, tint byte) {
	p.write(x.Points(), y.Points(), -p.width(text, size)/2, size, text, turn, tint)
}

// turned writes text that reads downwards, as on a spine, its middle on x, y.
func (p *pen) turned(x, y length.Length, size float64, text string, tint byte) {
	p.centred(x-length.Length(size*0.3*float64(length.Point)), y, size, text, -90, tint)
}

// left writes text from x on.
func (p *pen) left(x, y length.Length, size float64, text string, tint byte) {
	p.write(x.Points(), y.Points(), 0, size, text, 0, tint)
}

func (p *pen) write(x, y, shift, size float64, text string, turn float64, tint byte) {
	if turn != 0 {
		p.doc.TransformBegin()
		p.doc.TransformRotate(turn, x, y)
		defer p.doc.TransformEnd()
	}
	p.doc.SetFillSpotColor(Name, tint)
	at, scale := x+shift, size/float64(p.face.Upem)
	for _, g := range p.face.Shape(text, fonts.Lining).Glyphs {
		p.glyph(g, at, y, scale)
		at += float64(g.Advance) * scale
	}
}

// glyph fills the outline of a glyph whose origin is at x, y.
func (p *pen) glyph(g fonts.Glyph, x, y, scale float64) {
	segments := p.face.Outline(g.ID)
	if len(segments) == 0 {
		return
	}
	at := func(q fonts.Point) (float64, float64) {
		return x + float64(q.X+g.DX)*scale, y - float64(q.Y+g.DY)*scale
	}
	for _, s := range segments {
		ax, ay := at(s.Args[0])
		switch s.Op {
		case fonts.MoveTo:
			p.doc.MoveTo(ax, ay)
		case fonts.LineTo:
			p.doc.LineTo(ax, ay)
		case fonts.QuadTo:
			bx, by := at(s.Args[1])
			p.doc.CurveTo(ax, ay, bx, by)
		case fonts.CubeTo:
			bx, by := at(s.Args[1])
			cx, cy := at(s.Args[2])
			p.doc.CurveBezierCubicTo(ax, ay, bx, by, cx, cy)
		}
	}
	p.doc.DrawPath("F")
}

// arrow is how long the heads and ticks of dimension lines are, in points.
const arrow = 5

// across draws a dimension line from x1 to x2 at y, with the text in its
// middle, or beneath where the line is too short for it.
func (p *pen) across(x1, x2, y length.Length, size float64, text string) {
	const gap = 4
	room, need := (x2 - x1).Points(), p.width(text, size)+2*gap
	middle := (x1 + x2) / 2
	a, b, h := x1.Points(), x2.Points(), y.Points()
	p.stroke(0.6, solid)
	p.doc.Line(a, h-arrow, a, h+arrow)
	p.doc.Line(b, h-arrow, b, h+arrow)
	if need+4*arrow > room {
		p.doc.Line(a, h, b, h)
		p.centred(middle, y+length.Length(float64(length.Point)*(size+arrow+2)), size, text, 0, full)
		return
	}
	p.doc.Line(a, h, middle.Points()-need/2, h)
	p.doc.Line(middle.Points()+need/2, h, b, h)
	p.heads(a, h, 1, 0)
	p.heads(b, h, -1, 0)
	p.centred(middle, y+length.Length(float64(length.Point)*size*0.34), size, text, 0, full)
}

// down draws a dimension line from y1 to y2 at x, its text turned.
func (p *pen) down(x, y1, y2 length.Length, size float64, text string) {
	need := p.width(text, size) + 8
	middle := (y1 + y2) / 2
	a, b, v := y1.Points(), y2.Points(), x.Points()
	p.stroke(0.6, solid)
	p.doc.Line(v-arrow, a, v+arrow, a)
	p.doc.Line(v-arrow, b, v+arrow, b)
	p.doc.Line(v, a, v, middle.Points()-need/2)
	p.doc.Line(v, middle.Points()+need/2, v, b)
	p.heads(v, a, 0, 1)
	p.heads(v, b, 0, -1)
	p.centred(x+length.Length(float64(length.Point)*size*0.34), middle, size, text, 90, full)
}

// heads draws the head of an arrow that points against the direction.
func (p *pen) heads(x, y, dx, dy float64) {
	for _, side := range []float64{-1, 1} {
		p.doc.Line(x, y, x+arrow*dx+side*arrow/2*dy, y+arrow*dy+side*arrow/2*dx)
	}
}
