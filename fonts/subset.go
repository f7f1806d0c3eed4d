package fonts

import (
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"slices"

	"github.com/go-text/typesetting/font/opentype/tables"
)

// A Program is a font program ready to be embedded in a PDF. TrueType is a
// complete font file for FontFile2 of a CIDFontType2, where CIDToGIDMap is
// Identity. CFF is the bare table for FontFile3 with subtype CIDFontType0C,
// whose CIDs are glyph identifiers (ISO 32000-1, 9.7.4.2): unlike the subtype
// OpenType it is allowed in every version of PDF that printers ask for.
type Program struct {
	Data []byte
	CFF  bool
}

// Subset makes the program that holds the glyphs, their parts, and glyph 0.
// Glyph identifiers stay as they are; other outlines are emptied. It depends on
// the face and the set of glyphs alone: neither order nor repetition matters.
// If the maker allows only the whole font (Face.NoSubset), all glyphs stay.
func (f *Face) Subset(glyphs []GID) (p Program, err error) {
	defer recovered(&err)
	for _, g := range glyphs {
		if int(g) >= f.src.numGlyphs() {
			return Program{}, fmt.Errorf("fonts: %s has no glyph %d", f.PostScriptName, g)
		}
	}
	if f.CFF {
		data, err := subsetCFF(f.src.table("CFF "), f.used(glyphs))
		if err != nil {
			return Program{}, fmt.Errorf("fonts: %s: %w", f.PostScriptName, err)
		}
		return Program{Data: data, CFF: true}, nil
	}
	return Program{Data: f.subsetTrueType(f.used(glyphs))}, nil
}

// used marks the glyphs that stay, without regard to parts.
func (f *Face) used(glyphs []GID) []bool {
	used := make([]bool, f.src.numGlyphs())
	used[0] = true
	for _, g := range glyphs {
		used[g] = true
	}
	if f.NoSubset {
		for g := range used {
			used[g] = true
		}
	}
	return used
}

// subsetTrueType keeps the tables of ISO 32000-1, 9.9: glyf, head, hhea, hmtx,
// loca and maxp, and cvt, fpgm and prep where there are any. Glyphs beyond the
// last one used are cut off.
func (f *Face) subsetTrueType(used []bool) []byte {
	var queue []GID
	for g, u := range used {
		if u {
			queue = append(queue, GID(g))
		}
	}
	last := 0
	for len(queue) > 0 { // add the parts of composite glyphs
		g := queue[len(queue)-1]
		queue = queue[:len(queue)-1]
		last = max(last, int(g))
		for _, part := range f.parts(g) {
			if int(part) < len(used) && !used[part] {
				used[part] = true
				queue = append(queue, part)
			}
		}
	}
	n := last + 1

	be := binary.BigEndian
	var glyf []byte
	offsets := make([]uint32, 0, n+1)
	for g := range n {
		offsets = append(offsets, uint32(len(glyf)))
		if used[g] {
			glyf = append(glyf, f.glyphData(GID(g))...)
			for len(glyf)%4 != 0 {
				glyf = append(glyf, 0)
			}
		}
	}
	offsets = append(offsets, uint32(len(glyf)))
	short := len(glyf) <= 2*0xFFFF
	var loca []byte
	for _, o := range offsets {
		if short {
			loca = be.AppendUint16(loca, uint16(o/2))
		} else {
			loca = be.AppendUint32(loca, o)
		}
	}

	head := slices.Clone(f.src.table("head"))
	be.PutUint16(head[50:], 1)
	if short {
		be.PutUint16(head[50:], 0)
	}
	maxp := slices.Clone(f.src.table("maxp"))
	be.PutUint16(maxp[4:], uint16(n))
	hhea := slices.Clone(f.src.table("hhea"))
	hmtx := f.src.table("hmtx")
	long := min(hhea.u16(34), n) // numberOfHMetrics; the rest have side bearings only
	be.PutUint16(hhea[34:], uint16(long))
	hmtx = hmtx[:min(4*long+2*(n-long), len(hmtx))]

	out := []namedTable{{"glyf", glyf}, {"head", head}, {"hhea", hhea}, {"hmtx", hmtx}, {"loca", loca}, {"maxp", maxp}}
	for _, tag := range []string{"cvt ", "fpgm", "prep"} {
		if t := f.src.table(tag); t != nil {
			out = append(out, namedTable{tag, t})
		}
	}
	return writeSFNT(flavorTrueType, out)
}

// parts are the glyphs a composite glyph is made of.
func (f *Face) parts(g GID) []GID {
	d := table(f.glyphData(g))
	if d.i16(0) >= 0 { // numberOfContours
		return nil
	}
	c, _, err := tables.ParseCompositeGlyph(d[min(10, len(d)):])
	if err != nil {
		return nil
	}
	var out []GID
	for _, p := range c.Glyphs {
		out = append(out, p.GlyphIndex)
	}
	return out
}

// SubsetTag is the tag of six capital letters that ISO 32000-1, 9.6.4, puts
// before the name of a subset, "QXKPLA" in QXKPLA+Face-Regular. It depends on
// the face and the set of glyphs.
func (f *Face) SubsetTag(glyphs []GID) string {
	set := slices.Clone(glyphs)
	slices.Sort(set)
	h := sha256.New()
	fmt.Fprintf(h, "%s %08x %d", f.PostScriptName, f.src.table("head").u32(headCheckSum), len(f.src.data))
	for _, g := range slices.Compact(set) {
		h.Write([]byte{byte(g >> 8), byte(g)})
	}
	n := binary.BigEndian.Uint64(h.Sum(nil))
	var tag [6]byte
	for i := range tag {
		tag[i] = 'A' + byte(n%26)
		n /= 26
	}
	return string(tag[:])
}
