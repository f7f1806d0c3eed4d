package preflight

import (
	"math"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"
)

// texts obeys the operators of text (ISO 32000-1, 9.3 and 9.4).
func (r *runner) texts(op operator, o []any, resources types.Dict) {
	g := &r.g
	switch op {
	case "BT":
		r.text, r.line = unit, unit
	case "Tc":
		g.charSpace = n(o, 0)
	case "Tw":
		g.wordSpace = n(o, 0)
	case "Tz":
		g.horizontal = n(o, 0) / 100
	case "TL":
		g.leading = n(o, 0)
	case "Ts":
		g.rise = n(o, 0)
	case "Tr":
		g.render = int(n(o, 0))
	case "Tf":
		if f := r.c.doc.dict(resources["Font"])[nameAt(o, 0)]; f != nil {
			g.face = r.c.face(f)
		}
		g.size = n(o, 1)
	case "Td":
		r.move(n(o, 0), n(o, 1))
	case "TD":
		g.leading = -n(o, 1)
		r.move(n(o, 0), n(o, 1))
	case "Tm":
		r.text = matrixOf(o)
		r.line = r.text
	case "T*":
		r.move(0, -g.leading)
	case "Tj":
		r.showAll(o)
	case "'":
		r.move(0, -g.leading)
		r.showAll(o)
	case "\"":
		g.wordSpace, g.charSpace = n(o, 0), n(o, 1)
		r.move(0, -g.leading)
		r.showAll(o[min(2, len(o)):])
	case "TJ":
		if len(o) > 0 {
			if a, ok := o[0].([]any); ok {
				r.showAll(a)
			}
		}
	}
}

func (r *runner) move(x, y float64) {
	r.line = matrix{1, 0, 0, 1, x, y}.times(r.line)
	r.text = r.line
}

// showAll sets strings, and moves the pen by the numbers between them.
func (r *runner) showAll(a []any) {
	g := &r.g
	if g.face == nil {
		return
	}
	m := mark{kind: letters, face: g.face, paint: g.fill, box: nothing}
	if g.render == 1 {
		m.paint = g.stroke
	}
	whole := r.text.times(g.ctm)
	// The size is as high as the letters stand, whatever their width.
	m.size = math.Abs(g.size) * math.Hypot(whole[2], whole[3])
	for _, v := range a {
		switch v := v.(type) {
		case float64:
			r.advance(-v / 1000 * g.size * g.horizontal)
		case []byte:
			m.box = r.string(v, m.box)
		}
	}
	if g.render != 3 && g.render != 7 && !m.box.empty() {
		r.leave(m)
	}
}

func (r *runner) advance(x float64) {
	r.text = matrix{1, 0, 0, 1, x, 0}.times(r.text)
}

// string moves the pen over a string and returns b with its letters.
func (r *runner) string(s []byte, b Box) Box {
	g := &r.g
	step := 1
	if g.face.wide {
		step = 2
	}
	for i := 0; i+step <= len(s); i += step {
		code := codeFrom(s[i : i+step])
		w := g.face.width(code)
		if !g.face.spaces[code] {
			at := r.text.times(g.ctm)
			l := at.box(0, g.rise+g.face.drop*g.size, w*g.size*g.horizontal, g.rise+g.face.rise*g.size)
			b = b.with(l.X0, l.Y0).with(l.X1, l.Y1)
		}
		x := w*g.size + g.charSpace
		if step == 1 && code == ' ' {
			x += g.wordSpace
		}
		r.advance(x * g.horizontal)
	}
	return b
}
