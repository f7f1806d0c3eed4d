package preflight

import (
	"bytes"
	"fmt"
	"math"

	"bodkin/typeset/length"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"
)

// slack is how far boxes may be off, in points: what rounding makes of them.
const slack = 0.02

// page looks at the page at index i.
func (c *checker) page(i int, p *node) error {
	d, at := c.doc, i+1
	page := &c.report.Pages[i]
	var ok bool
	if page.Media, ok = d.box(p.media); !ok {
		c.find("boxes-crossed", at, nil, "the page says no size")
		page.Media = Box{0, 0, 612, 792}
	}
	c.boxes(i, p)
	if turned, _ := d.number(p.rotate); math.Mod(turned, 360) != 0 {
		c.find("page-turned", at, nil, fmt.Sprintf("by %.0f degrees", turned))
	}
	if u, ok := d.number(p.Dict["UserUnit"]); ok && u != 1 {
		c.find("page-scaled", at, nil, fmt.Sprintf("%g to the point", u))
	}
	for _, o := range d.array(p.Dict["Annots"]) {
		a := d.dict(o)
		kind := d.name(a["Subtype"])
		if b, ok := d.box(a["Rect"]); kind == "Popup" || kind == "PrinterMark" || kind == "TrapNet" || ok && b.within(page.Bleed).empty() {
			continue
		}
		c.find("notes-on-page", at, nil, kind)
	}
	if d.dict(p.Dict["AA"]) != nil {
		c.find("scripts", at, nil, "")
	}
	if d.name(d.dict(p.Dict["Group"])["S"]) == "Transparency" {
		c.find("transparency-group", at, nil, "")
	}
	content, err := c.content(p.Dict["Contents"])
	if err != nil {
		if c.ctx.Err() != nil {
			return err
		}
		c.find("content-damaged", at, nil, oneLine(err))
	}
	r := runner{c: c, page: at, path: nothing}
	r.g = graphics{ctm: unit, clip: page.Media, weight: 1, horizontal: 1}
	if err := r.run(content, p.resources, 0); err != nil {
		if c.ctx.Err() != nil || c.steps > mostSteps {
			return err
		}
		c.find("content-damaged", at, nil, oneLine(err))
	}
	page.marks = r.marks
	for k := range r.marks {
		c.ink(at, &r.marks[k])
		c.edges(i, &r.marks[k])
	}
	return nil
}

// content returns the streams of a page, one behind the other.
func (c *checker) content(o types.Object) ([]byte, error) {
	if o == nil {
		return nil, nil
	}
	parts := types.Array{o}
	if a := c.doc.array(o); a != nil {
		parts = a
	}
	var all bytes.Buffer
	for _, part := range parts {
		b, err := c.doc.decode(part)
		if err != nil {
			return all.Bytes(), err
		}
		if all.Len()+len(b) > mostStream {
			return all.Bytes(), fmt.Errorf("%w: the content of a page", errBounds)
		}
		all.Write(b)
		all.WriteByte('\n')
	}
	return all.Bytes(), nil
}

// boxes finds the page's boxes and looks at how they lie (ISO 32000-1,
// 14.11.2): the trim inside the bleed inside the medium.
func (c *checker) boxes(i int, p *node) {
	d, l, at := c.doc, &c.limits, i+1
	page := &c.report.Pages[i]
	trim, said := d.box(p.Dict["TrimBox"])
	if !said {
		trim, said = d.box(p.Dict["ArtBox"])
	}
	if !said {
		if !c.unsaid {
			c.unsaid = true
			c.find("trim-unsaid", at, nil, "")
		}
		if crop, ok := d.box(p.crop); ok {
			trim = crop
		} else {
			trim = page.Media
		}
		trim = c.inside(i, trim)
	}
	bleed, ok := d.box(p.Dict["BleedBox"])
	if !ok {
		bleed = page.Media
	}
	if !contains(page.Media, bleed) || !contains(bleed, trim) {
		c.find("boxes-crossed", at, nil, "")
	}
	page.Trim, page.Bleed = trim, bleed
	if l.Trim.Width > 0 {
		w, h := l.Trim.Width.Points(), l.Trim.Height.Points()
		if math.Abs(trim.X1-trim.X0-w) > 0.5 || math.Abs(trim.Y1-trim.Y0-h) > 0.5 {
			c.find("trim-differs", at, nil, fmt.Sprintf("%.3f × %.3f in, and %.3f × %.3f in were ordered", (trim.X1-trim.X0)/72, (trim.Y1-trim.Y0)/72, w/72, h/72))
		}
	}
}

// inside returns where the trim lies on a page that does not say it, but is
// larger than the trim by the bleed: on three sides or on four.
func (c *checker) inside(i int, b Box) Box {
	l := &c.limits
	bleed, w, h := l.Bleed.Points(), l.Trim.Width.Points(), l.Trim.Height.Points()
	near := func(a, b float64) bool { return math.Abs(a-b) < 0.5 }
	if bleed == 0 || w == 0 || !near(b.Y1-b.Y0, h+2*bleed) {
		return b
	}
	switch wide := b.X1 - b.X0; {
	case near(wide, w+2*bleed):
		return Box{b.X0 + bleed, b.Y0 + bleed, b.X1 - bleed, b.Y1 - bleed}
	case near(wide, w+bleed) && i%2 == 0: // a recto is bound at the left
		return Box{b.X0, b.Y0 + bleed, b.X1 - bleed, b.Y1 - bleed}
	case near(wide, w+bleed):
		return Box{b.X0 + bleed, b.Y0 + bleed, b.X1, b.Y1 - bleed}
	}
	return b
}

func contains(a, b Box) bool {
	return b.X0 >= a.X0-slack && b.Y0 >= a.Y0-slack && b.X1 <= a.X1+slack && b.Y1 <= a.Y1+slack
}

// ink looks at what a mark is made of.
func (c *checker) ink(at int, m *mark) {
	b, l := &m.box, &c.limits
	what := [...]string{"text", "a shape", "a line", "a picture"}[m.kind]
	switch m.paint.ink {
	case rgb:
		c.find("colour-rgb", at, b, what)
	case managed:
		c.find("colour-managed", at, b, what)
	case spot:
		c.find("colour-spot", at, b, what)
	}
	if m.paint.total() > 3.005 {
		c.find("ink-heavy", at, b, fmt.Sprintf("%.0f %% in %s", m.paint.total()*100, what))
	}
	switch m.kind {
	case letters:
		c.letters(at, m)
	case stroke:
		if l.Line > 0 && m.size < l.Line.Points()-0.005 {
			c.find("line-thin", at, b, fmt.Sprintf("%.2f pt", m.size))
		}
	case shape:
		if thin := min(b.X1-b.X0, b.Y1-b.Y0); l.Line > 0 && thin > 0 && thin < l.Line.Points()-0.005 && max(b.X1-b.X0, b.Y1-b.Y0) > 10 {
			c.find("line-thin", at, b, fmt.Sprintf("%.2f pt", thin))
		}
	case picture:
		c.picture(at, m)
	}
}

// letters looks at a piece of text and its face.
func (c *checker) letters(at int, m *mark) {
	f := m.face
	if m.paint.rich() {
		c.find("black-rich", at, &m.box, "")
	}
	if c.limits.Type > 0 && m.size < c.limits.Type.Points()-0.05 {
		c.find("type-small", at, &m.box, fmt.Sprintf("%.1f pt", m.size))
	}
	if f.told {
		return
	}
	f.told = true
	switch {
	case !f.embedded:
		c.find("font-missing", at, &m.box, f.name)
	case f.drawn:
		c.find("font-drawn", at, &m.box, f.name)
	}
	if !f.mapped {
		c.find("font-unmapped", at, &m.box, f.name)
	}
}

// picture looks at a picture in its printed size.
func (c *checker) picture(at int, m *mark) {
	if m.image.masked {
		c.find("transparency", at, &m.box, "a picture fades into the page")
	}
	wanted := c.limits.PPI
	if m.image.line {
		wanted = c.limits.LinePPI
	}
	if wanted == 0 || m.ppi == 0 {
		return
	}
	detail := fmt.Sprintf("%.0f, and %d are wanted", m.ppi, wanted)
	switch {
	case m.ppi < float64(wanted)/2-0.5:
		c.find("picture-poor", at, &m.box, detail)
	case m.ppi < float64(wanted)-0.5:
		c.find("picture-coarse", at, &m.box, detail)
	}
}

// edge is a side of the page as a mark lies to it, in points.
type edge struct {
	name  string
	off   float64 // from the trim inwards to the mark; negative where it reaches past it
	bleed float64 // how far the page goes on past the trim
	over  float64 // how far the mark goes on past the trim
	bound bool
}

// edges looks at where a mark lies.
func (c *checker) edges(i int, m *mark) {
	page, l, at := &c.report.Pages[i], &c.limits, i+1
	t, s, b := page.Trim, page.Bleed, m.box
	if b.within(t).empty() {
		return // in the margin around the trim: crop marks, the printer's own notes
	}
	recto := i%2 == 0
	sides := [4]edge{
		{"left", b.X0 - t.X0, t.X0 - s.X0, t.X0 - b.X0, recto},
		{"right", t.X1 - b.X1, s.X1 - t.X1, b.X1 - t.X1, !recto},
		{"foot", b.Y0 - t.Y0, t.Y0 - s.Y0, t.Y0 - b.Y0, false},
		{"head", t.Y1 - b.Y1, s.Y1 - t.Y1, b.Y1 - t.Y1, false},
	}
	for k := range sides {
		e := &sides[k]
		if m.kind == letters {
			c.text(at, m, e, k >= 2)
			continue
		}
		switch {
		case e.off < 0.5 && m.kind != stroke || e.off < -0.5:
			c.bleeds(at, m, e)
		case l.Safety > 0 && e.off < l.Safety.Points()-0.5 && !e.bound:
			c.find("ink-in-safety", at, &m.box, fmt.Sprintf("%s from the %s edge", show(e.off), e.name))
		}
	}
}

// text looks at how near letters come to an edge. At head and foot their box
// is as high as the face, so a part of it may be empty.
func (c *checker) text(at int, m *mark, e *edge, upright bool) {
	l, off := &c.limits, e.off
	if upright {
		off += m.size / 4
	} else {
		off += m.size / 20 // letters may lean out of their advance
	}
	switch {
	case off < -0.5:
		c.find("text-cut", at, &m.box, fmt.Sprintf("at the %s edge", e.name))
	case l.Safety > 0 && off < l.Safety.Points()-0.5:
		c.find("text-in-safety", at, &m.box, fmt.Sprintf("%s from the %s edge, and %s is wanted", show(e.off), e.name, show(l.Safety.Points())))
	case c.back > 0 && e.bound && off+m.size/3 < c.back.Points()-0.5: // marks may hang into the margin
		c.find("text-in-back", at, &m.box, fmt.Sprintf("%s from the bound edge, and %s is wanted", show(e.off), show(c.back.Points())))
	}
}

// bleeds looks at what reaches the trim: it should reach past it by the bleed,
// but for the bound edge, where there is none.
func (c *checker) bleeds(at int, m *mark, e *edge) {
	wanted := c.limits.Bleed.Points()
	switch {
	case e.bound:
	case e.bleed < 0.5:
		c.find("bleed-missing", at, &m.box, fmt.Sprintf("at the %s edge", e.name))
	case e.over < min(e.bleed, max(wanted, 1))-1:
		c.find("bleed-missing", at, &m.box, fmt.Sprintf("it ends %s past the %s edge", show(max(e.over, 0)), e.name))
	case wanted > 0 && e.bleed < wanted-0.1:
		c.find("bleed-narrow", at, &m.box, fmt.Sprintf("%s at the %s edge, and %s is wanted", show(e.bleed), e.name, show(wanted)))
	}
}

// show writes points for a person, in inches and millimetres.
func show(points float64) string {
	in := points / float64(length.Inch/length.Point)
	return fmt.Sprintf("%.2f in (%.1f mm)", in, in*25.4)
}
