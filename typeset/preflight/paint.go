package preflight

import (
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"
)

// ink is the kind of a colour space (ISO 32000-1, 8.6).
type ink uint8

const (
	gray ink = iota
	cmyk
	rgb
	managed // ICC, Lab and Cal spaces of other than gray
	spot    // Separation and DeviceN
	pattern
)

// paint is a colour.
type paint struct {
	ink ink
	v   [4]float64 // of gray (1 is white), RGB and CMYK; of a spot colour its tint
}

// black reports whether a reader takes the colour for black.
func (p paint) black() bool {
	switch p.ink {
	case gray:
		return p.v[0] < 0.2
	case rgb:
		return p.v[0] < 0.2 && p.v[1] < 0.2 && p.v[2] < 0.2
	case cmyk:
		return p.v[3] > 0.8 || p.v[0] > 0.6 && p.v[1] > 0.6 && p.v[2] > 0.6
	}
	return false
}

// rich reports whether a CMYK colour is black by several inks.
func (p paint) rich() bool {
	return p.ink == cmyk && p.black() && p.v[0]+p.v[1]+p.v[2] > 0.1
}

// total is how much ink a CMYK colour lays on, 1 being one ink in full.
func (p paint) total() float64 {
	if p.ink != cmyk {
		return 0
	}
	return p.v[0] + p.v[1] + p.v[2] + p.v[3]
}

// white reports whether the colour leaves the paper as it is.
func (p paint) white() bool {
	switch p.ink {
	case gray:
		return p.v[0] > 0.995
	case rgb:
		return p.v[0] > 0.995 && p.v[1] > 0.995 && p.v[2] > 0.995
	case cmyk:
		return p.total() < 0.005
	case spot:
		return p.v[0] < 0.005
	}
	return false
}

// space finds the kind of a colour space; in a palette, that of its colours.
func (d *document) space(o types.Object, resources types.Dict, depth int) ink {
	if depth > 6 {
		return managed
	}
	o = d.get(o)
	if n, ok := o.(types.Name); ok {
		switch n.Value() {
		case "DeviceGray", "G", "CalGray":
			return gray
		case "DeviceRGB", "RGB":
			return rgb
		case "DeviceCMYK", "CMYK":
			return cmyk
		case "Pattern":
			return pattern
		}
		if all := d.dict(resources["ColorSpace"]); all != nil {
			if named := all[n.Value()]; named != nil && d.name(named) != n.Value() {
				return d.space(named, resources, depth+1)
			}
		}
		return gray
	}
	a, _ := o.(types.Array)
	if len(a) == 0 {
		return gray
	}
	switch d.name(a[0]) {
	case "ICCBased":
		if len(a) > 1 {
			if n, _ := d.number(d.dict(a[1])["N"]); n == 1 {
				return gray
			}
		}
		return managed
	case "CalRGB", "Lab":
		return managed
	case "Separation", "DeviceN":
		if len(a) > 1 {
			if n := d.name(a[1]); n == "Black" || n == "None" {
				return gray
			}
		}
		return spot
	case "Indexed", "I":
		if len(a) > 1 {
			return d.space(a[1], resources, depth+1)
		}
	case "Pattern":
		return pattern
	}
	return d.space(a[0], resources, depth+1)
}

// colour returns a colour of a space by its components.
func colour(k ink, operands []any) paint {
	p := paint{ink: k}
	n := 0
	for _, o := range operands {
		if v, ok := o.(float64); ok && n < len(p.v) {
			p.v[n] = min(max(v, 0), 1)
			n++
		}
	}
	return p
}
