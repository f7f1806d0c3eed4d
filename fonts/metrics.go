package fonts

import (
	"fmt"

	"github.com/go-text/typesetting/font/opentype/tables"
)

// Offsets of fields, and their bits, in OpenType 1.9.
const (
	headCheckSum = 8 // checkSumAdjustment
	headUpem     = 18
	headBBox     = 36
	headMacStyle = 44
	macBold      = 1 << 0
	macItalic    = 1 << 1

	hheaAscender = 4

	os2WeightClass   = 4
	os2FsType        = 8
	os2FamilyClass   = 30
	os2Panose        = 32
	os2FsSelection   = 62
	os2TypoAscender  = 68
	os2XHeight       = 86
	os2CapHeight     = 88
	selItalic        = 1 << 0
	selBold          = 1 << 5
	selUseTypoMetric = 1 << 7

	postItalicAngle  = 4
	postIsFixedPitch = 12
)

// Identifiers in table name.
const (
	nameFamily        = 1
	nameSubfamily     = 2
	namePostScript    = 6
	nameLicence       = 13
	nameTypoFamily    = 16
	nameTypoSubfamily = 17
)

// Flags of a font descriptor (ISO 32000-1, table 123).
const (
	flagFixedPitch = 1 << 0
	flagSerif      = 1 << 1
	flagSymbolic   = 1 << 2
	flagItalic     = 1 << 6
)

// readMetrics fills in the face's fields from head, hhea, OS/2, post and name.
func (f *Face) readMetrics() error {
	head, hhea, os2, post := f.src.table("head"), f.src.table("hhea"), f.src.table("OS/2"), f.src.table("post")
	names, _, err := tables.ParseName(f.src.table("name"))
	if err != nil {
		return fmt.Errorf("the font is damaged: its name table cannot be read: %w", err)
	}
	f.Family, f.Style = familyAndStyle(names, os2, head)
	if f.Family == "" {
		return fmt.Errorf("the font has no family name")
	}
	if f.PostScriptName = pdfName(names.Name(namePostScript)); f.PostScriptName == "" {
		f.PostScriptName = pdfName(f.Family + "-" + f.Style.String())
	}

	f.Upem = head.u16(headUpem)
	for i := range f.BBox {
		f.BBox[i] = head.i16(headBBox + 2*i)
	}
	f.Ascent, f.Descent, f.LineGap = hhea.i16(hheaAscender), hhea.i16(hheaAscender+2), hhea.i16(hheaAscender+4)
	if os2.u16(os2FsSelection)&selUseTypoMetric != 0 || f.Ascent == 0 && f.Descent == 0 {
		f.Ascent, f.Descent, f.LineGap = os2.i16(os2TypoAscender), os2.i16(os2TypoAscender+2), os2.i16(os2TypoAscender+4)
	}
	if f.Descent > 0 { // some old fonts write it without the sign
		f.Descent = -f.Descent
	}
	if os2.u16(0) >= 2 {
		f.XHeight, f.CapHeight = os2.i16(os2XHeight), os2.i16(os2CapHeight)
	}
	if f.XHeight <= 0 {
		f.XHeight = f.measure('x')
	}
	if f.CapHeight <= 0 {
		f.CapHeight = f.measure('H')
	}

	f.ItalicAngle = float64(int32(post.u32(postItalicAngle))) / 65536 // 16.16 fixed
	f.StemV = stemV(os2.u16(os2WeightClass), f.Style, f.Upem)
	f.Flags = flagSymbolic // the glyphs of a subset go beyond the standard Latin set
	if hasSerifs(os2) {
		f.Flags |= flagSerif
	}
	if f.Style == Italic || f.Style == BoldItalic || f.ItalicAngle != 0 {
		f.Flags |= flagItalic
	}
	if post.u32(postIsFixedPitch) != 0 {
		f.Flags |= flagFixedPitch
	}
	f.NoSubset = os2.u16(os2FsType)&fsNoSubset != 0
	return nil
}

// hasSerifs goes by the PANOSE numbers, where 2 is Latin text and the second
// number tells serifs (2 … 10) from sans (11 …), or by IBM's family class.
func hasSerifs(os2 table) bool {
	if kind, serif := os2.u8(os2Panose), os2.u8(os2Panose+1); kind == 2 && serif >= 2 {
		return serif <= 10
	}
	class := os2.u8(os2FamilyClass)
	return 1 <= class && class <= 7 && class != 6
}

// measure is the height of a letter's ink, 0 if the face lacks it.
func (f *Face) measure(r rune) int {
	g, ok := f.GID(r)
	if !ok {
		return 0
	}
	_, _, _, top := f.Extents(g)
	return int(top)
}

// stemV estimates the width of the vertical stems from OS/2 usWeightClass, as
// 10 + 220 (w − 50)/900 thousandths of an em: common practice among makers of
// PDF, who rarely measure it. It matters only to a viewer that must substitute the face.
func stemV(weight int, style Style, upem int) int {
	if weight < 50 || weight > 1000 { // not a weight class
		weight = 400
		if style == Bold || style == BoldItalic {
			weight = 700
		}
	}
	return (10 + 220*(weight-50)/900) * upem / 1000
}

// familyAndStyle sorts a font into a family of at most four styles. The
// typographic names (16, 17) hold if the style is one of the four; any other
// style, "Semibold Italic" say, has a legacy family of its own (1, 2) by design.
func familyAndStyle(names tables.Name, os2, head table) (string, Style) {
	family, sub := names.Name(nameTypoFamily), names.Name(nameTypoSubfamily)
	if family != "" {
		if sub == "" {
			sub = names.Name(nameSubfamily)
		}
		switch sub {
		case "Regular", "Roman", "Normal", "Book":
			return family, Regular
		case "Italic":
			return family, Italic
		case "Bold":
			return family, Bold
		case "Bold Italic", "BoldItalic":
			return family, BoldItalic
		}
	}
	if legacy := names.Name(nameFamily); legacy != "" {
		family = legacy
	}
	mac := head.u16(headMacStyle)
	bold, italic := mac&macBold != 0, mac&macItalic != 0
	if len(os2) > os2FsSelection {
		sel := os2.u16(os2FsSelection)
		bold, italic = sel&selBold != 0, sel&selItalic != 0
	}
	switch {
	case bold && italic:
		return family, BoldItalic
	case bold:
		return family, Bold
	case italic:
		return family, Italic
	}
	return family, Regular
}

// Bits of OS/2 fsType (OpenType 1.9). In the first four, of which at most one
// may be set, versions before 3 let the least restrictive one count.
const (
	fsUsage      = 0x000F
	fsRestricted = 0x0002
	fsNoSubset   = 0x0100
	fsBitmapOnly = 0x0200
)

// embeddable says why the font must not be embedded, if that is so.
func (f *sfnt) embeddable() error {
	switch fsType := f.table("OS/2").u16(os2FsType); {
	case fsType&fsUsage == fsRestricted:
		return fmt.Errorf("its maker does not allow it to be embedded (OS/2 fsType 0x%04X, restricted licence): choose another face, or ask the maker for a licence to print", fsType)
	case fsType&fsBitmapOnly != 0:
		return fmt.Errorf("its maker allows only bitmaps of it to be embedded (OS/2 fsType 0x%04X): choose another face", fsType)
	}
	return nil
}
