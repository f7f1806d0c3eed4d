package flat

import (
	"bodkin/cmd/bodkin/internal/edition"
	"bodkin/typeset/length"
)

// The sizes of the template's words, in points.
const (
	large  = 36.0
	middle = 15.0
	small  = 11.0
)

// drawing is a template on its page. Places are those of the page.
type drawing struct {
	pen
	f edition.Flat
	l Labels
}

// at returns the places of the flat's parts from left to right: the edges of
// back, spine and front, inside what is around them.
func (d *drawing) at() (back, backEnd, spine, spineEnd, front, frontEnd length.Length) {
	back = margin + d.f.Around
	backEnd = back + d.f.Panel.Width
	spine = backEnd + d.f.Joint
	spineEnd = spine + d.f.Spine
	front = spineEnd + d.f.Joint
	return back, backEnd, spine, spineEnd, front, front + d.f.Panel.Width
}

func (d *drawing) draw() {
	f := &d.f
	back, backEnd, spine, spineEnd, front, frontEnd := d.at()
	top := margin + f.Around
	foot := top + f.Panel.Height
	right, bottom := margin+f.Width, margin+f.Height

	// What is cut off or folded in, then the parts that turn.
	d.area(margin, margin, f.Width, f.Around, faint)
	d.area(margin, foot, f.Width, f.Around, faint)
	d.area(margin, top, f.Around, f.Panel.Height, faint)
	d.area(frontEnd, top, f.Around, f.Panel.Height, faint)
	d.area(backEnd, top, front-backEnd, f.Panel.Height, ghost)

	d.frame(margin, margin, f.Width, f.Height, 0.4, solid)
	d.frame(back, top, frontEnd-back, f.Panel.Height, 1, solid)
	for _, x := range folds(backEnd, spine, spineEnd, front) {
		d.line(x, margin-length.Inch/4, x, bottom+length.Inch/4, 0.8, dashed)
	}
	s := f.Safety
	d.frame(back+s, top+s, f.Panel.Width-2*s, f.Panel.Height-2*s, 0.8, dotted)
	d.frame(front+s, top+s, f.Panel.Width-2*s, f.Panel.Height-2*s, 0.8, dotted)
	if f.Letters > 0 {
		d.frame(spine+f.Clear, top+s, f.Letters, f.Panel.Height-2*s, 0.8, dotted)
	}
	d.words(back, front, spine, top, bottom)
	if b := Barcode(*f); b.Width > 0 {
		d.frame(margin+b.X, margin+b.Y, b.Width, b.Height, 0.8, solid)
		d.centred(margin+b.X+b.Width/2, margin+b.Y+b.Height/2, middle, "barcode", 0, full)
		d.centred(margin+b.X+b.Width/2, margin+b.Y+b.Height/2+16*length.Point, small, "leave this white", 0, calm)
	}
	d.dimensions(back, backEnd, spine, spineEnd, front, frontEnd, top, foot, right, bottom)
}

// folds returns the places at which the cover turns, each once.
func folds(all ...length.Length) []length.Length {
	var at []length.Length
	for i, x := range all {
		if i == 0 || x != all[i-1] {
			at = append(at, x)
		}
	}
	return at
}

// words says what each part is.
func (d *drawing) words(back, front, spine, top, bottom length.Length) {
	f := &d.f
	mid := top + f.Panel.Height*2/5
	for _, p := range []struct {
		x    length.Length
		name string
	}{{back, "Back"}, {front, "Front"}} {
		x := p.x + f.Panel.Width/2
		d.centred(x, mid, large, p.name, 0, full)
		d.centred(x, mid+28*length.Point, middle, d.size(f.Panel.Width, f.Panel.Height), 0, full)
		d.centred(x, top+f.Safety+16*length.Point, small, "what matters stays inside the dots", 0, calm)
	}
	if f.Spine >= 12*length.Point {
		size := min(middle, f.Spine.Points()*0.6)
		words := "Spine"
		if f.Letters == 0 {
			words = "Spine: too narrow for lettering"
		}
		d.turned(spine+f.Spine/2, top+f.Panel.Height/2, size, words, full)
	}
	around := "bleed " + d.long(f.Around) + ": printed, then cut off"
	if f.Binding == edition.Case {
		around = "wrap " + d.long(f.Around) + ": folded in around the boards"
	}
	d.left(margin, margin-8*length.Point, small, around, calm)
}

// dimensions draws the measures around the cover and says what it is.
func (d *drawing) dimensions(back, backEnd, spine, spineEnd, front, frontEnd, top, foot, right, bottom length.Length) {
	f := &d.f
	y := bottom + length.Inch*7/16
	part := "back"
	if f.Binding == edition.Case {
		part = "board"
	}
	d.across(back, backEnd, y, middle, part+" "+d.long(f.Panel.Width))
	d.across(spine, spineEnd, y, middle, "spine "+d.long(f.Spine))
	if f.Binding != edition.Case {
		part = "front"
	}
	d.across(front, frontEnd, y, middle, part+" "+d.long(f.Panel.Width))
	if f.Joint > 0 {
		d.turned((backEnd+spine)/2, top+f.Panel.Height/2, small, "joint "+d.long(f.Joint), calm)
		d.turned((spineEnd+front)/2, top+f.Panel.Height/2, small, "joint "+d.long(f.Joint), calm)
	}
	d.across(margin, right, bottom+length.Inch*15/16, middle, "all "+d.long(f.Width))
	d.down(margin-length.Inch/3, top, foot, middle, "height "+d.long(f.Panel.Height))
	d.down(margin-length.Inch*5/6, margin, bottom, middle, "all "+d.long(f.Height))

	step := 18 * length.Point
	for _, line := range []struct {
		y    length.Length
		text string
		size float64
	}{
		{length.Inch / 2, d.l.Title, middle},
		{length.Inch/2 + step, d.l.Copy, small},
		{length.Inch/2 + 2*step, "Folds are dashed, and may miss their place by " + d.long(f.Tolerance) + ".", small},
		{bottom + margin - length.Inch/8, "The printer's own template decides. Hide or delete the layer " + Name + " before printing.", small},
	} {
		size, room := line.size, (f.Width + margin/2).Points()
		if w := d.width(line.text, size); w > room {
			size *= room / w
		}
		d.left(margin, line.y, size, line.text, full)
	}
}

func (d *drawing) long(l length.Length) string { return edition.Near(l, d.l.Unit).String() }

func (d *drawing) size(w, h length.Length) string { return d.long(w) + " × " + d.long(h) }
