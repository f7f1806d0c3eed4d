package preflight

import (
	"math"
	"slices"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"
)

// pixels is a picture of the file.
type pixels struct {
	width, height float64 // pixels
	line          bool    // black and white
	ink           ink
	masked        bool // it fades into what is below
}

// image reads the dictionary of a picture, once.
func (c *checker) image(o types.Object, d, resources types.Dict) *pixels {
	key := ""
	if ref, ok := o.(types.IndirectRef); ok {
		key = ref.String()
		if im := c.images[key]; im != nil {
			return im
		}
	}
	doc := c.doc
	im := new(pixels)
	im.width, _ = doc.number(d["Width"])
	im.height, _ = doc.number(d["Height"])
	bits, _ := doc.number(d["BitsPerComponent"])
	mask := d["ImageMask"] != nil && boolean(doc.get(d["ImageMask"]))
	im.line = mask || bits == 1
	if d["ColorSpace"] != nil {
		im.ink = doc.space(d["ColorSpace"], resources, 0)
	}
	im.masked = d["SMask"] != nil && doc.dict(d["SMask"]) != nil
	filters := []string{doc.name(d["Filter"])}
	for _, f := range doc.array(d["Filter"]) {
		filters = append(filters, doc.name(f))
	}
	if slices.Contains(filters, "JPXDecode") && d["ColorSpace"] == nil {
		im.ink = managed // it says itself
	}
	if key != "" {
		if c.images == nil {
			c.images = make(map[string]*pixels)
		}
		c.images[key] = im
	}
	return im
}

func boolean(o types.Object) bool {
	b, ok := o.(types.Boolean)
	return ok && b.Value()
}

// inline shows a picture that stands in the content itself.
func (r *runner) inline(d map[name]any, resources types.Dict) {
	value := func(long, short name) any {
		if v := d[long]; v != nil {
			return v
		}
		return d[short]
	}
	number := func(long, short name) float64 {
		v, _ := value(long, short).(float64)
		return v
	}
	im := &pixels{width: number("Width", "W"), height: number("Height", "H")}
	im.line = value("ImageMask", "IM") == name("true") || number("BitsPerComponent", "BPC") == 1
	switch s := value("ColorSpace", "CS").(type) {
	case name:
		im.ink = r.c.doc.space(types.Name(s), resources, 0)
	case []any:
		if len(s) > 1 {
			if base, ok := s[1].(name); ok {
				im.ink = r.c.doc.space(types.Name(base), resources, 0)
			}
		}
	}
	r.show(im)
}

// show puts a picture into the unit square of the space at hand.
func (r *runner) show(im *pixels) {
	m := mark{kind: picture, image: im, box: r.g.ctm.box(0, 0, 1, 1), paint: paint{ink: im.ink}}
	wide, high := math.Hypot(r.g.ctm[0], r.g.ctm[1]), math.Hypot(r.g.ctm[2], r.g.ctm[3])
	if wide > 0 && high > 0 && im.width > 0 && im.height > 0 {
		m.ppi = min(im.width*72/wide, im.height*72/high)
	}
	r.leave(m)
}
