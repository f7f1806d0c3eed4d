package preflight

import (
	"fmt"
	"math"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"
)

// kind is what a mark is.
type kind uint8

const (
	letters kind = iota
	shape        // filled
	stroke
	picture
)

// mark is something that leaves ink on a page.
type mark struct {
	kind  kind
	box   Box
	paint paint
	size  float64 // of letters; the weight of a stroke; in points
	face  *face
	image *pixels
	ppi   float64 // of a picture
}

// matrix is a transformation (ISO 32000-1, 8.3.3).
type matrix [6]float64

var unit = matrix{1, 0, 0, 1, 0, 0}

// times applies m first, then n.
func (m matrix) times(n matrix) matrix {
	return matrix{
		m[0]*n[0] + m[1]*n[2], m[0]*n[1] + m[1]*n[3],
		m[2]*n[0] + m[3]*n[2], m[2]*n[1] + m[3]*n[3],
		m[4]*n[0] + m[5]*n[2] + n[4], m[4]*n[1] + m[5]*n[3] + n[5],
	}
}

func (m matrix) at(x, y float64) (float64, float64) {
	return m[0]*x + m[2]*y + m[4], m[1]*x + m[3]*y + m[5]
}

// scale is by how much the matrix enlarges, on the whole.
func (m matrix) scale() float64 { return math.Sqrt(math.Abs(m[0]*m[3] - m[1]*m[2])) }

// box returns the box of a rectangle after the matrix.
func (m matrix) box(x0, y0, x1, y1 float64) Box {
	b := nothing
	for _, p := range [4][2]float64{{x0, y0}, {x1, y0}, {x0, y1}, {x1, y1}} {
		x, y := m.at(p[0], p[1])
		b = b.with(x, y)
	}
	return b
}

var nothing = Box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}

func (b Box) with(x, y float64) Box {
	return Box{min(b.X0, x), min(b.Y0, y), max(b.X1, x), max(b.Y1, y)}
}

func (b Box) within(c Box) Box {
	return Box{max(b.X0, c.X0), max(b.Y0, c.Y0), min(b.X1, c.X1), min(b.Y1, c.Y1)}
}

func (b Box) empty() bool { return !(b.X1 >= b.X0 && b.Y1 >= b.Y0) }

// graphics is the state of graphics and text (ISO 32000-1, 8.4 and 9.3).
type graphics struct {
	ctm          matrix
	clip         Box
	fill, stroke paint
	fillSpace    ink
	strokeSpace  ink
	weight       float64

	face                      *face
	size                      float64
	charSpace, wordSpace      float64
	horizontal, leading, rise float64
	render                    int
}

// runner runs the content of a page.
type runner struct {
	c     *checker
	page  int
	marks []mark

	g     graphics
	stack []graphics
	path  Box
	cut   bool // the path becomes a clip when it is painted
	text  matrix
	line  matrix
}

// Bounds of what is run.
const (
	mostStack = 256
	mostForms = 12 // inside each other
	mostSteps = 20_000_000
	mostMarks = 200_000 // of a page
)

// run runs content with the resources it has.
func (r *runner) run(content []byte, resources types.Dict, depth int) error {
	s := scanner{b: content}
	var operands []any
	floor := len(r.stack)
	for {
		v, err := s.next(0)
		if err != nil {
			return err
		}
		if v == nil {
			break
		}
		op, ok := v.(operator)
		if !ok {
			if len(operands) < mostOperands {
				operands = append(operands, v)
			}
			continue
		}
		if r.c.steps++; r.c.steps%4096 == 0 {
			if err := r.c.ctx.Err(); err != nil {
				return err
			}
		}
		if r.c.steps > mostSteps {
			return fmt.Errorf("%w: over %d operators", errBounds, mostSteps)
		}
		if op == "BI" {
			d, err := s.inline()
			if err != nil {
				return err
			}
			r.inline(d, resources)
		} else if err := r.do(op, operands, resources, depth, floor); err != nil {
			return err
		}
		operands = operands[:0]
	}
	if len(r.stack) > floor {
		r.g, r.stack = r.stack[floor], r.stack[:floor]
	}
	return nil
}

// n returns the i-th operand as a number.
func n(operands []any, i int) float64 {
	if i < len(operands) {
		if v, ok := operands[i].(float64); ok {
			return v
		}
	}
	return 0
}

func nameAt(operands []any, i int) string {
	if i < len(operands) {
		if v, ok := operands[i].(name); ok {
			return string(v)
		}
	}
	return ""
}

func matrixOf(o []any) matrix { return matrix{n(o, 0), n(o, 1), n(o, 2), n(o, 3), n(o, 4), n(o, 5)} }

// do obeys one operator.
func (r *runner) do(op operator, o []any, resources types.Dict, depth, floor int) error {
	g := &r.g
	switch op {
	case "q":
		if len(r.stack) >= mostStack+floor {
			return fmt.Errorf("%w: q without end", errBounds)
		}
		r.stack = append(r.stack, *g)
	case "Q":
		if len(r.stack) > floor {
			*g, r.stack = r.stack[len(r.stack)-1], r.stack[:len(r.stack)-1]
		}
	case "cm":
		g.ctm = matrixOf(o).times(g.ctm)
	case "w":
		g.weight = math.Abs(n(o, 0))
	case "gs":
		r.state(r.c.doc.dict(r.c.doc.dict(resources["ExtGState"])[nameAt(o, 0)]))
	case "m", "l":
		r.point(n(o, 0), n(o, 1))
	case "c":
		r.point(n(o, 0), n(o, 1))
		r.point(n(o, 2), n(o, 3))
		r.point(n(o, 4), n(o, 5))
	case "v", "y":
		r.point(n(o, 0), n(o, 1))
		r.point(n(o, 2), n(o, 3))
	case "re":
		x, y := n(o, 0), n(o, 1)
		r.point(x, y)
		r.point(x+n(o, 2), y)
		r.point(x, y+n(o, 3))
		r.point(x+n(o, 2), y+n(o, 3))
	case "W", "W*":
		r.cut = true
	case "S", "s":
		r.painted(false, true)
	case "f", "F", "f*":
		r.painted(true, false)
	case "B", "B*", "b", "b*":
		r.painted(true, true)
	case "n":
		r.painted(false, false)
	case "sh":
		r.shading(resources, nameAt(o, 0))
	case "Do":
		return r.object(resources, nameAt(o, 0), depth)
	default:
		if !r.colours(op, o, resources) {
			r.texts(op, o, resources)
		}
	}
	return nil
}

func (r *runner) point(x, y float64) { r.path = r.path.with(r.g.ctm.at(x, y)) }

// painted ends a path.
func (r *runner) painted(fill, line bool) {
	g := &r.g
	if fill {
		r.leave(mark{kind: shape, box: r.path, paint: g.fill})
	}
	if line {
		w := g.weight * g.ctm.scale()
		b := r.path
		r.leave(mark{kind: stroke, box: Box{b.X0 - w/2, b.Y0 - w/2, b.X1 + w/2, b.Y1 + w/2}, paint: g.stroke, size: w})
	}
	if r.cut && !r.path.empty() {
		g.clip = g.clip.within(r.path)
	}
	r.path, r.cut = nothing, false
}

// leave puts a mark on the page, as far as the clip lets it.
func (r *runner) leave(m mark) {
	m.box = m.box.within(r.g.clip)
	if m.box.empty() || len(r.marks) >= mostMarks {
		return
	}
	if m.image == nil && m.paint.white() {
		return
	}
	r.marks = append(r.marks, m)
}

// colours obeys the operators of colour and reports whether op is one.
func (r *runner) colours(op operator, o []any, resources types.Dict) bool {
	g := &r.g
	switch op {
	case "g":
		g.fillSpace, g.fill = gray, colour(gray, o)
	case "G":
		g.strokeSpace, g.stroke = gray, colour(gray, o)
	case "rg":
		g.fillSpace, g.fill = rgb, colour(rgb, o)
	case "RG":
		g.strokeSpace, g.stroke = rgb, colour(rgb, o)
	case "k":
		g.fillSpace, g.fill = cmyk, colour(cmyk, o)
	case "K":
		g.strokeSpace, g.stroke = cmyk, colour(cmyk, o)
	case "cs":
		g.fillSpace = r.c.doc.space(types.Name(nameAt(o, 0)), resources, 0)
		g.fill = first(g.fillSpace)
	case "CS":
		g.strokeSpace = r.c.doc.space(types.Name(nameAt(o, 0)), resources, 0)
		g.stroke = first(g.strokeSpace)
	case "sc", "scn":
		g.fill = colour(g.fillSpace, o)
	case "SC", "SCN":
		g.stroke = colour(g.strokeSpace, o)
	default:
		return false
	}
	return true
}

// first is the colour that a space begins with: black, or the full tint.
func first(k ink) paint {
	p := paint{ink: k}
	switch k {
	case cmyk:
		p.v[3] = 1
	case spot:
		p.v[0] = 1
	}
	return p
}

// state takes what a dictionary of graphics states sets (ISO 32000-1, 8.4.5).
func (r *runner) state(d types.Dict) {
	if d == nil {
		return
	}
	doc := r.c.doc
	if w, ok := doc.number(d["LW"]); ok {
		r.g.weight = math.Abs(w)
	}
	if f := doc.array(d["Font"]); len(f) == 2 {
		r.g.face = r.c.face(f[0])
		r.g.size, _ = doc.number(f[1])
	}
	for _, key := range []string{"ca", "CA"} {
		if v, ok := doc.number(d[key]); ok && v < 1 {
			r.c.find("transparency", r.page, nil, fmt.Sprintf("something covers by %.0f %% only", v*100))
		}
	}
	if d["SMask"] != nil && doc.name(d["SMask"]) != "None" {
		r.c.find("transparency", r.page, nil, "a soft mask")
	}
	mode := doc.name(d["BM"])
	if a := doc.array(d["BM"]); len(a) > 0 {
		mode = doc.name(a[0])
	}
	if mode != "" && mode != "Normal" && mode != "Compatible" {
		r.c.find("transparency", r.page, nil, "colours are blended ("+mode+")")
	}
}

func (r *runner) shading(resources types.Dict, key string) {
	doc := r.c.doc
	d := doc.dict(doc.dict(resources["Shading"])[key])
	if d == nil {
		return
	}
	r.leave(mark{kind: shape, box: r.g.clip, paint: paint{ink: doc.space(d["ColorSpace"], resources, 0), v: [4]float64{0.5, 0.5, 0.5, 0}}})
}

// object draws a picture, or runs a form (ISO 32000-1, 8.8).
func (r *runner) object(resources types.Dict, key string, depth int) error {
	doc := r.c.doc
	ref := doc.dict(resources["XObject"])[key]
	d := doc.dict(ref)
	switch doc.name(d["Subtype"]) {
	case "Image":
		r.show(r.c.image(ref, d, resources))
	case "Form":
		if depth >= mostForms {
			return fmt.Errorf("%w: forms inside forms", errBounds)
		}
		content, err := doc.decode(ref)
		if err != nil {
			return err
		}
		if doc.name(doc.dict(d["Group"])["S"]) == "Transparency" {
			r.c.find("transparency-group", r.page, nil, "")
		}
		saved := r.g
		if m := doc.numbers(d["Matrix"], 6); m != nil {
			r.g.ctm = matrix(m).times(r.g.ctm)
		}
		if b, ok := doc.box(d["BBox"]); ok {
			r.g.clip = r.g.clip.within(r.g.ctm.box(b.X0, b.Y0, b.X1, b.Y1))
		}
		own := doc.dict(d["Resources"])
		if own == nil {
			own = resources
		}
		err = r.run(content, own, depth+1)
		r.g = saved
		return err
	}
	return nil
}
