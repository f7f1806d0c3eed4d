package edition

import (
	"fmt"
	"path/filepath"

	"bodkin/typeset"
	"bodkin/typeset/length"
)

// Interior returns what the printer objects to in pages that have been set:
// text too near to the trim or to the binding, pictures whose bleed is not the
// printer's or that are too coarse.
func (t *Terms) Interior(l *typeset.Layout) []Objection {
	if t == nil {
		return nil
	}
	var c Copy
	t.edges(&c, l)
	t.binding(&c, l)
	if l.Bleed > 0 && !near(l.Bleed, t.Bleed.Length) {
		c.object("bleed", fmt.Sprintf("pictures reach %v past the trim, and %s asks for %v", Near(l.Bleed, t.Bleed.Unit), t.Name, t.Bleed),
			fmt.Sprintf("set bleed = \"%v\"", t.Bleed))
	}
	t.pictures(&c, l)
	return c.Objections
}

// edges finds text that stands in the printer's safety margin.
func (t *Terms) edges(c *Copy, l *typeset.Layout) {
	for _, e := range []struct {
		what, key string
		room      length.Length
	}{
		{"the outer margin", "fore-edge", l.Setting.Margins.ForeEdge.Length},
		{"the margin at the binding", "back", l.Back},
	} {
		if e.room < t.Safety.Length {
			c.object("margin", fmt.Sprintf("%s is %v, and %s wants text to stay %v from the trim", e.what, Near(e.room, t.Safety.Unit), t.Name, t.Safety),
				fmt.Sprintf("set the margin %s to %v or more", e.key, t.Safety))
		}
	}
	// What type takes up above and below its baseline: two thirds and a
	// quarter of its size, as typeset reckons for heads and folios.
	top, foot := l.Trim.Height, l.Trim.Height
	size := l.Setting.Size.Length
	for i := range l.Pages {
		for j := range l.Pages[i].Lines {
			y := l.Pages[i].Lines[j].Y
			top, foot = min(top, y-size*2/3), min(foot, l.Trim.Height-y-size/4)
		}
	}
	for _, e := range []struct {
		what, key string
		room      length.Length
	}{{"the highest line", "head", top}, {"the lowest line", "foot", foot}} {
		if e.room < t.Safety.Length && !near(e.room, t.Safety.Length) {
			c.object("margin", fmt.Sprintf("%s stands %v from the trim, and %s wants %v", e.what, Near(e.room, t.Safety.Unit), t.Name, t.Safety),
				fmt.Sprintf("widen the margin %s by %v", e.key, Near(t.Safety.Length-e.room, t.Safety.Unit)))
		}
	}
}

// binding finds a back margin that is less than the printer's for so many
// pages.
func (t *Terms) binding(c *Copy, l *typeset.Layout) {
	if len(t.Back) == 0 {
		return
	}
	b := typeset.BackFor(t.Back, len(l.Pages))
	if l.Back < b.Margin.Length && !near(l.Back, b.Margin.Length) {
		c.object("back", fmt.Sprintf("the margin at the binding is %v, and %s asks for %v in a book of %d pages", Near(l.Back, b.Margin.Unit), t.Name, b.Margin, len(l.Pages)),
			"set back = \"auto\", or to that much")
	}
}

// lineArt is the resolution that typeset wants of black and white pictures.
const lineArt = 600

// pictures finds those with fewer pixels to the inch than the printer takes.
func (t *Terms) pictures(c *Copy, l *typeset.Layout) {
	said := make(map[string]bool)
	for i := range l.Pages {
		for k := range l.Pages[i].Plates {
			p := &l.Pages[i].Plates[k]
			least, kind := t.Pictures.Picture, "pictures"
			if p.Wanted >= lineArt {
				least, kind = t.Pictures.Line, "drawings in black and white"
			}
			if p.PPI >= least || said[p.Picture.Path] {
				continue
			}
			said[p.Picture.Path] = true
			c.object("resolution", fmt.Sprintf("page %s: the picture %s has %d pixels to the inch, and %s asks for %d in %s", l.Pages[i].Label, filepath.Base(p.Picture.Path), p.PPI, t.Name, least, kind),
				"put in a larger file, or show it smaller")
		}
	}
}

// near reports whether two lengths are the same to a hundredth of a point.
func near(a, b length.Length) bool { return max(a-b, b-a) <= length.Point/100 }

// Near returns a length in a unit, rounded to what a person can measure: a
// thousandth of an inch, a hundredth of a millimetre, a tenth of a point. Inches
// that are written with a digit more, such as 0.0625in, keep it.
func Near(l length.Length, u length.Unit) length.Value {
	step := [...]int64{length.Pt: 720, length.In: 1000, length.Mm: 2540}[u]
	to := func(step int64) length.Length {
		return length.Inch.Scale(int64(l.Scale(step, int64(length.Inch))), step)
	}
	if u == length.In && l == to(10*step) {
		return length.Value{Length: l, Unit: u}
	}
	return length.Value{Length: to(step), Unit: u}
}
