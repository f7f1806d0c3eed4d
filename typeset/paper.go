package typeset

import "bodkin/typeset/length"

// Paper returns what the page at index i is printed on, before it is cut: the
// trim, and on every side the bleed, at the back edge only where the setting
// says so. All pages have paper of one size.
func (l *Layout) Paper(i int) Box { return l.Setting.paper(l.Trim, l.Bleed, i) }

func (s *Setting) paper(trim Size, bleed length.Length, i int) Box {
	back := length.Length(0)
	if s.BleedBack {
		back = bleed
	}
	b := Box{X: -bleed, Y: -bleed, Width: trim.Width + bleed + back, Height: trim.Height + 2*bleed}
	if Recto(i) {
		b.X = -back
	}
	return b
}

// Box returns where the picture would stand if nothing cut it.
func (p *Plate) Box() Box { return Box{p.X, p.Y, p.Width, p.Height} }

// Shown returns the part of the plate that shows on paper.
func (p *Plate) Shown(paper Box) Box {
	b := p.Box().And(paper)
	if p.Clip != (Box{}) {
		b = b.And(p.Clip)
	}
	return b
}

// And returns what two boxes share; the zero Box when that is nothing.
func (b Box) And(c Box) Box {
	x, y := max(b.X, c.X), max(b.Y, c.Y)
	w, h := min(b.X+b.Width, c.X+c.Width)-x, min(b.Y+b.Height, c.Y+c.Height)-y
	if w <= 0 || h <= 0 {
		return Box{}
	}
	return Box{x, y, w, h}
}
