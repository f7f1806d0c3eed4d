package fonts

import (
	"fmt"
	"math"
	"testing"

	"golang.org/x/image/font"
	ximage "golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// What was read from the files of the families independently, before this
// package was written: the table of faces in the project's reference notes.
// "Roman only" small capitals are true here: Families speaks of the regular.
var faceTable = []struct {
	family              string
	smallCaps, oldStyle bool
	upem                int
	xHeight             float64 // of the em
	ascent, descent     int
}{
	{"EB Garamond", true, true, 1000, 0.400, 1007, -298},
	{"Alegreya", true, true, 1000, 0.452, 1016, -345},
	{"Literata", true, true, 1000, 0.507, 1177, -308},
	{"Source Serif 4", true, true, 1000, 0.475, 1036, -335},
	{"Libre Caslon Text", false, true, 1000, 0.530, 970, -260},
	{"Libre Baskerville", false, false, 1000, 0.530, 970, -270},
	{"Spectral", true, true, 1000, 0.450, 1059, -463},
	{"Crimson Pro", false, true, 1024, 0.420, 918, -220},
}

func TestFaceTable(t *testing.T) {
	lib := Embedded()
	families := map[string]Family{}
	for _, fam := range lib.Families() {
		families[fam.Name] = fam
	}
	if len(families) != len(faceTable) {
		t.Errorf("%d families, want %d", len(families), len(faceTable))
	}
	for _, want := range faceTable {
		f, err := lib.Face(want.family, Regular)
		if err != nil {
			t.Fatal(err)
		}
		if f.Upem != want.upem || f.Ascent != want.ascent || f.Descent != want.descent || f.LineGap != 0 ||
			math.Abs(float64(f.XHeight)/float64(f.Upem)-want.xHeight) > 0.0006 {
			t.Errorf("%s: upem %d, x-height %d, ascent %d, descent %d, gap %d; want %+v",
				want.family, f.Upem, f.XHeight, f.Ascent, f.Descent, f.LineGap, want)
		}
		fam := families[want.family]
		if f.Supports(SmallCaps) != want.smallCaps || fam.SmallCaps != want.smallCaps {
			t.Errorf("%s: small capitals %v, listed %v, want %v", want.family, f.Supports(SmallCaps), fam.SmallCaps, want.smallCaps)
		}
		if f.Supports(OldStyle) != want.oldStyle || fam.OldStyle != want.oldStyle {
			t.Errorf("%s: old-style figures %v, listed %v, want %v", want.family, f.Supports(OldStyle), fam.OldStyle, want.oldStyle)
		}
	}
	if f, _ := lib.Face("Source Serif 4", Italic); f.Supports(SmallCaps) {
		t.Error("Source Serif 4 italic has small capitals; the table says roman only")
	}
}

// What a font descriptor says of each face.
func TestDescriptor(t *testing.T) {
	lib := Embedded()
	for _, e := range embedded {
		for _, style := range e.styles {
			f, err := lib.Face(e.name, style)
			if err != nil {
				t.Fatal(err)
			}
			italic := style == Italic || style == BoldItalic
			if f.Style != style || f.Family != e.name || f.CFF || f.NoSubset {
				t.Errorf("%s %v: %s %v, CFF %v", e.name, style, f.Family, f.Style, f.CFF)
			}
			if (f.ItalicAngle < 0) != italic || (f.Flags&flagItalic != 0) != italic {
				t.Errorf("%s %v: italic angle %v, flags %b", e.name, style, f.ItalicAngle, f.Flags)
			}
			if f.Flags&flagSymbolic == 0 || f.Flags&flagSerif == 0 || f.Flags&flagFixedPitch != 0 {
				t.Errorf("%s %v: flags %b", e.name, style, f.Flags)
			}
			if bold := style == Bold || style == BoldItalic; bold != (f.StemV > f.Upem*120/1000) {
				t.Errorf("%s %v: stem %d", e.name, style, f.StemV)
			}
			if f.BBox[0] >= f.BBox[2] || f.BBox[1] >= f.BBox[3] || f.BBox[3] < f.CapHeight {
				t.Errorf("%s %v: box %v", e.name, style, f.BBox)
			}
			if f.PostScriptName == "" || f.PostScriptName != pdfName(f.PostScriptName) {
				t.Errorf("%s %v: PostScript name %q", e.name, style, f.PostScriptName)
			}
		}
	}
}

// golang.org/x/image/font/sfnt, another reader, agrees on names, heights,
// advances, glyphs and outlines.
func TestAgainstSFNT(t *testing.T) {
	lib := Embedded()
	for _, e := range embedded {
		for _, style := range e.styles {
			f, err := lib.Face(e.name, style)
			if err != nil {
				t.Fatal(err)
			}
			other, err := ximage.Parse(faceBytes(t, e.folder, e.file, style))
			if err != nil {
				t.Fatal(err)
			}
			t.Run(fmt.Sprint(e.name, " ", style), func(t *testing.T) { compareSFNT(t, f, other) })
		}
	}
}

func compareSFNT(t *testing.T, f *Face, other *ximage.Font) {
	t.Helper()
	var buf ximage.Buffer
	ppem := fixed.I(f.Upem) // one pixel is one font unit
	if name, err := other.Name(&buf, ximage.NameIDPostScript); err != nil || name != f.PostScriptName {
		t.Errorf("PostScript name %q, sfnt %q, %v", f.PostScriptName, name, err)
	}
	if int(other.UnitsPerEm()) != f.Upem || other.NumGlyphs() != f.src.numGlyphs() {
		t.Errorf("upem %d, sfnt %d", f.Upem, other.UnitsPerEm())
	}
	m, err := other.Metrics(&buf, ppem, font.HintingNone)
	if err != nil {
		t.Fatal(err)
	}
	if m.XHeight != fixed.I(f.XHeight) || m.CapHeight != fixed.I(f.CapHeight) {
		t.Errorf("x-height %d, cap height %d; sfnt %v, %v", f.XHeight, f.CapHeight, m.XHeight, m.CapHeight)
	}
	for _, r := range "AHIOaegimnoxz019.,;’“—éßøŁ" {
		g, _ := f.GID(r)
		if og, err := other.GlyphIndex(&buf, r); err != nil || og != ximage.GlyphIndex(g) {
			t.Errorf("%q is glyph %d, sfnt %d", r, g, og)
		}
	}
	for g := range GID(f.src.numGlyphs()) {
		adv, err := other.GlyphAdvance(&buf, ximage.GlyphIndex(g), ppem, font.HintingNone)
		if err != nil || adv != fixed.I(int(f.Advance(g))) {
			t.Fatalf("glyph %d advances %d, sfnt %v, %v", g, f.Advance(g), adv, err)
		}
		if g%7 != 0 && g > 300 {
			continue // a sample is enough of what is slow
		}
		segs, err := other.LoadGlyph(&buf, ximage.GlyphIndex(g), ppem, nil)
		if err != nil {
			continue // sfnt does not do every composite glyph
		}
		if why := differ(f.Outline(g), segs); why != "" {
			t.Fatalf("glyph %d: %s", g, why)
		}
		b, _, err := other.GlyphBounds(&buf, ximage.GlyphIndex(g), ppem, font.HintingNone)
		x0, y0, x1, y1 := f.Extents(g)
		if near := func(a int32, b fixed.Int26_6) bool { return math.Abs(float64(a)-float64(b)/64) <= 1.5 }; err == nil && !f.CFF &&
			!(near(x0, b.Min.X) && near(y0, -b.Max.Y) && near(x1, b.Max.X) && near(y1, -b.Min.Y)) {
			t.Fatalf("glyph %d: extents %d %d %d %d, sfnt %v", g, x0, y0, x1, y1, b)
		}
	}
}

// differ says how an outline differs from sfnt's, which has y downwards, other
// starting points and no closing lines: the points it passes are compared.
func differ(ours []Segment, theirs ximage.Segments) string {
	type pt struct{ x, y float64 }
	var a, b []pt
	for _, s := range ours {
		for _, p := range s.Args[:s.points()] {
			a = append(a, pt{float64(p.X), float64(p.Y)})
		}
	}
	for _, s := range theirs {
		n := 1
		switch s.Op {
		case ximage.SegmentOpQuadTo:
			n = 2
		case ximage.SegmentOpCubeTo:
			n = 3
		}
		for _, p := range s.Args[:n] {
			b = append(b, pt{float64(p.X) / 64, -float64(p.Y) / 64})
		}
	}
	within := func(p pt, in []pt) bool {
		for _, q := range in {
			if math.Abs(p.x-q.x) <= 1 && math.Abs(p.y-q.y) <= 1 {
				return true
			}
		}
		return false
	}
	for _, p := range a {
		if !within(p, b) {
			return fmt.Sprintf("point %v is not in sfnt's outline", p)
		}
	}
	for _, p := range b {
		if !within(p, a) {
			return fmt.Sprintf("sfnt's point %v is not in the outline", p)
		}
	}
	return ""
}
