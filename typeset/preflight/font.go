package preflight

import (
	"math"
	"strings"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"
)

// face is a font of the file (ISO 32000-1, 9.5 to 9.8).
type face struct {
	name     string
	told     bool // what is wrong with it
	embedded bool
	drawn    bool // Type 3
	mapped   bool // its glyphs say which letters they are
	wide     bool // codes have two bytes
	widths   map[int]float64
	missing  float64      // the width of a code that has none
	unit     float64      // of widths, in the size: a thousandth but for Type 3
	spaces   map[int]bool // codes that leave no ink
	rise     float64      // of the highest letters, in the size
	drop     float64      // of the lowest, negative
}

// supposedWidth stands for that of letters whose width is not in the file: the
// fourteen standard faces need not give theirs.
const supposedWidth = 500

// face reads a font dictionary, once.
func (c *checker) face(o types.Object) *face {
	key := ""
	if ref, ok := o.(types.IndirectRef); ok {
		key = ref.String()
		if f := c.faces[key]; f != nil {
			return f
		}
	}
	d := c.doc.dict(o)
	f := c.readFace(d)
	if key != "" {
		if c.faces == nil {
			c.faces = make(map[string]*face)
		}
		c.faces[key] = f
	}
	return f
}

func (c *checker) readFace(d types.Dict) *face {
	doc := c.doc
	f := &face{name: doc.name(d["BaseFont"]), widths: make(map[int]float64), unit: 0.001, spaces: make(map[int]bool), rise: 0.75, drop: -0.25, missing: supposedWidth}
	if _, tag, found := strings.Cut(f.name, "+"); found {
		f.name = tag
	}
	described := d
	switch doc.name(d["Subtype"]) {
	case "Type3":
		f.drawn, f.embedded = true, true
		if m := doc.numbers(d["FontMatrix"], 6); m != nil {
			f.unit = math.Abs(m[0])
		}
		if f.name == "" {
			f.name = "without a name"
		}
	case "Type0":
		f.wide = true
		f.missing = 1000
		if kids := doc.array(d["DescendantFonts"]); len(kids) > 0 {
			described = doc.dict(kids[0])
			if w, ok := doc.number(described["DW"]); ok {
				f.missing = w
			}
			c.wideWidths(f, doc.array(described["W"]))
		}
	}
	if !f.wide {
		first, _ := doc.number(d["FirstChar"])
		for i, w := range doc.array(d["Widths"]) {
			if v, ok := doc.number(w); ok && i < 256 {
				f.widths[int(first)+i] = v
			}
		}
		f.spaces[' '] = true
	}
	if about := doc.dict(described["FontDescriptor"]); about != nil {
		for _, key := range []string{"FontFile", "FontFile2", "FontFile3"} {
			f.embedded = f.embedded || about[key] != nil && doc.dict(about[key]) != nil
		}
		if v, ok := doc.number(about["Ascent"]); ok && v > 300 && v < 1000 {
			f.rise = v / 1000
		}
		if v, ok := doc.number(about["Descent"]); ok && v < 0 && v > -500 {
			f.drop = v / 1000
		}
		if v, ok := doc.number(about["MissingWidth"]); ok && !f.wide {
			f.missing = v
		}
	}
	c.readMap(f, d)
	return f
}

// wideWidths reads the widths of a composite face (ISO 32000-1, 9.7.4.3).
func (c *checker) wideWidths(f *face, w types.Array) {
	for i := 0; i+1 < len(w); {
		first, ok := c.doc.number(w[i])
		if !ok {
			return
		}
		if list := c.doc.array(w[i+1]); list != nil {
			for k, o := range list {
				if v, ok := c.doc.number(o); ok {
					f.widths[int(first)+k] = v
				}
			}
			i += 2
			continue
		}
		last, ok := c.doc.number(w[i+1])
		if !ok || i+2 >= len(w) || last-first > 1<<16 {
			return
		}
		if v, ok := c.doc.number(w[i+2]); ok {
			for code := int(first); code <= int(last); code++ {
				f.widths[code] = v
			}
		}
		i += 3
	}
}

// readMap finds the codes of spaces in the map to Unicode (ISO 32000-1, 9.10.3).
func (c *checker) readMap(f *face, d types.Dict) {
	if d["ToUnicode"] == nil {
		// Latin letters by a known encoding say what they are.
		f.mapped = !f.wide && (d["Encoding"] != nil || !f.embedded) || f.drawn
		return
	}
	b, err := c.doc.decode(d["ToUnicode"])
	if err != nil {
		return
	}
	f.mapped = true
	s := scanner{b: b}
	var operands []any
	for {
		v, err := s.next(0)
		if err != nil || v == nil {
			return
		}
		op, ok := v.(operator)
		if !ok {
			if len(operands) < mostOperands*16 {
				operands = append(operands, v)
			}
			continue
		}
		switch op {
		case "endbfchar":
			for i := 0; i+1 < len(operands); i += 2 {
				f.space(operands[i], operands[i], operands[i+1])
			}
		case "endbfrange":
			for i := 0; i+2 < len(operands); i += 3 {
				f.space(operands[i], operands[i+1], operands[i+2])
			}
		}
		operands = operands[:0]
	}
}

// space notes the first of a range of codes if it stands for a space.
func (f *face) space(from, to, letters any) {
	a, ok1 := from.([]byte)
	b, ok2 := letters.([]byte)
	if !ok1 || !ok2 || len(b) != 2 || b[0] != 0 || b[1] != ' ' && b[1] != 0xA0 {
		return
	}
	f.spaces[codeFrom(a)] = true
}

func codeFrom(b []byte) int {
	n := 0
	for _, c := range b[:min(len(b), 4)] {
		n = n<<8 | int(c)
	}
	return n
}

// width returns the advance of a code, in the size.
func (f *face) width(code int) float64 {
	if w, ok := f.widths[code]; ok {
		return w * f.unit
	}
	return f.missing * f.unit
}
