package fonts

import (
	"errors"
	"fmt"
	"strings"
	"sync"
	"sync/atomic"

	"github.com/go-text/typesetting/font"
	"github.com/go-text/typesetting/font/cff"
	ot "github.com/go-text/typesetting/font/opentype"
)

// Style is one of the four styles of a family.
type Style uint8

const (
	Regular Style = iota
	Italic
	Bold
	BoldItalic
)

// String is the style's name as a font menu shows it, "Bold Italic" for example.
func (s Style) String() string {
	switch s {
	case Regular:
		return "Regular"
	case Italic:
		return "Italic"
	case Bold:
		return "Bold"
	case BoldItalic:
		return "Bold Italic"
	}
	return fmt.Sprintf("Style(%d)", uint8(s))
}

// GID is a glyph's identifier in its face; 0 is the glyph for what the face lacks.
type GID = uint16

// Feature is a set of typographic choices beyond a face's defaults. Kerning and
// ligatures are always on. The zero value sets the face's own default figures.
type Feature uint16

const (
	SmallCaps    Feature = 1 << iota // small letters become small capitals (smcp)
	AllSmallCaps                     // capitals too (smcp, c2sc)
	OldStyle                         // old-style figures, proportional (onum, pnum)
	Lining                           // lining figures, proportional (lnum, pnum)
	Superior                         // raised and small, drawn for it (sups); see Covers
	Inferior                         // lowered and small (sinf, subs)

	features = 1<<iota - 1
)

// tags are the OpenType features behind f, without repetition.
func (f Feature) tags() []string {
	var tags []string
	if f&(SmallCaps|AllSmallCaps) != 0 {
		tags = append(tags, "smcp")
	}
	if f&AllSmallCaps != 0 {
		tags = append(tags, "c2sc")
	}
	if f&OldStyle != 0 {
		tags = append(tags, "onum")
	}
	if f&Lining != 0 {
		tags = append(tags, "lnum")
	}
	if f&(OldStyle|Lining) != 0 {
		tags = append(tags, "pnum")
	}
	if f&Superior != 0 {
		tags = append(tags, "sups")
	}
	if f&Inferior != 0 {
		tags = append(tags, "sinf", "subs")
	}
	return tags
}

// A Face is one family in one style. Its fields are measures in the face's own
// units and are not to be changed. All methods may be called from any goroutine.
type Face struct {
	Family         string
	Style          Style
	PostScriptName string // the name that goes into a PDF; only the letters a PDF name may have

	Upem int // units per em, 16 … 16384

	// Ascent, Descent (negative) and LineGap are the values by which word
	// processors space lines: those of table hhea, unless OS/2 sets
	// USE_TYPO_METRICS, which asks for sTypoAscender, sTypoDescender and
	// sTypoLineGap (OpenType 1.9, OS/2 fsSelection bit 7). The face's own line
	// height is Ascent − Descent + LineGap.
	Ascent, Descent, LineGap int

	// CapHeight and XHeight come from OS/2, or are measured from H and x.
	CapHeight, XHeight int

	// For the font descriptor of a PDF (ISO 32000-1, 9.8), in font units.
	ItalicAngle float64 // degrees counter-clockwise from the vertical; negative for an italic
	StemV       int     // see stemV
	Flags       int     // ISO 32000-1, table 123
	BBox        [4]int  // xMin, yMin, xMax, yMax of all glyphs together

	CFF      bool // the outlines are CFF charstrings, not TrueType
	NoSubset bool // the maker allows embedding of the whole font only; Subset then keeps all

	src     *sfnt
	shaping *font.Font // everything but the outlines
	pages   [256]atomic.Pointer[[256]GID]

	kept     [features + 1]kept
	shapings atomic.Int64
	pool     struct {
		sync.Mutex
		free []*shaper
	}

	cff       func() (*cff.CFF, error)
	smallCaps func() [2]bool // real small capitals: smcp, c2sc
}

// tables that shaping reads. Outlines join them only where marks have to be
// placed by their ink, because the face has no GPOS table.
var shapingTables = []string{
	"cmap", "head", "maxp", "OS/2", "hhea", "hmtx", "fvar",
	"GDEF", "GSUB", "GPOS", "kern", "morx", "kerx", "ankr", "feat", "trak", "ltag", "STAT",
}

// newFace reads a face from the bytes of its file, which it keeps and does not change.
func newFace(data []byte) (f *Face, err error) {
	defer recovered(&err)
	src, err := readSFNT(data)
	if err != nil {
		return nil, err
	}
	tags := shapingTables
	if src.table("GPOS") == nil {
		tags = append(tags[:len(tags):len(tags)], "glyf", "loca", "CFF ")
	}
	ld, err := src.loader(tags...)
	if err != nil {
		return nil, fmt.Errorf("the font is damaged: %w", err)
	}
	f = &Face{src: src}
	if f.shaping, err = font.NewFont(ld); err != nil {
		return nil, fmt.Errorf("the font is damaged: %w", err)
	}
	f.CFF = src.table("CFF ") != nil
	f.cff = sync.OnceValues(func() (c *cff.CFF, err error) {
		defer recovered(&err)
		return cff.Parse(src.table("CFF "))
	})
	f.smallCaps = sync.OnceValue(f.findSmallCaps)
	if err := f.readMetrics(); err != nil {
		return nil, err
	}
	return f, nil
}

// errDamaged stands for a fault in the tables that made a reader give up.
var errDamaged = errors.New("the font is damaged: its tables contradict each other")

// recovered turns a panic over a malformed table into an error.
func recovered(err *error) {
	if r := recover(); r != nil {
		*err = fmt.Errorf("%w (%v)", errDamaged, r)
	}
}

// GID returns the glyph the face's character map gives for r. It is the glyph
// before shaping; ok is false if there is none.
func (f *Face) GID(r rune) (g GID, ok bool) {
	if r < 0 || r > 0xFFFF {
		g = f.lookup(r)
		return g, g != 0
	}
	page := f.pages[r>>8].Load()
	if page == nil {
		page = new([256]GID)
		for i := range page {
			page[i] = f.lookup(r&^0xFF | rune(i))
		}
		f.pages[r>>8].Store(page)
	}
	g = page[r&0xFF]
	return g, g != 0
}

func (f *Face) lookup(r rune) (g GID) {
	defer func() { _ = recover() }() // a malformed map has no glyph for r
	id, ok := f.shaping.NominalGlyph(r)
	if !ok || int(id) >= f.src.numGlyphs() {
		return 0
	}
	return GID(id)
}

// Has reports whether the face's character map has r.
func (f *Face) Has(r rune) bool {
	_, ok := f.GID(r)
	return ok
}

// Missing returns the first character of text that would come out as the face's
// empty box. Characters that are never seen, such as the soft hyphen and the
// joiners, are not missed, nor are those that shaping replaces by what is there
// (a no-break space by a space, a letter by its parts).
func (f *Face) Missing(text string) (r rune, ok bool) {
	for _, r := range text {
		if f.Has(r) || ignorable(r) {
			continue
		}
		for _, g := range f.shape(string(r), 0).Glyphs {
			if g.ID == 0 {
				return r, true
			}
		}
	}
	return 0, false
}

// ignorable reports Default_Ignorable_Code_Point
// (Unicode 15.1, DerivedCoreProperties.txt; written out from memory).
func ignorable(r rune) bool {
	switch {
	case r < 0xAD:
		return false
	case r == 0xAD, r == 0x34F, r == 0x61C, r == 0x115F, r == 0x1160,
		r == 0x17B4, r == 0x17B5, 0x180B <= r && r <= 0x180F,
		0x200B <= r && r <= 0x200F, 0x202A <= r && r <= 0x202E, 0x2060 <= r && r <= 0x206F,
		r == 0x3164, 0xFE00 <= r && r <= 0xFE0F, r == 0xFEFF, r == 0xFFA0, 0xFFF0 <= r && r <= 0xFFF8,
		0x1BCA0 <= r && r <= 0x1BCA3, 0x1D173 <= r && r <= 0x1D17A, 0xE0000 <= r && r <= 0xE0FFF:
		return true
	}
	return false
}

// Supports reports whether the face itself has every feature of feat: its GSUB
// table lists them for Latin text, and for small capitals has the letters. A
// face whose only figures are old-style has no OldStyle feature. Superior and
// Inferior depend on the text: see Covers.
func (f *Face) Supports(feat Feature) bool {
	if feat&(SmallCaps|AllSmallCaps) != 0 {
		real := f.smallCaps()
		if !real[0] || feat&AllSmallCaps != 0 && !real[1] {
			return false
		}
	}
	return (feat&OldStyle == 0 || f.hasFeature("onum")) && (feat&Lining == 0 || f.hasFeature("lnum"))
}

// findSmallCaps looks whether smcp and c2sc really give other glyphs for letters;
// some faces list smcp for a dotless i alone.
func (f *Face) findSmallCaps() (real [2]bool) {
	real[0] = f.hasFeature("smcp") && f.Covers("aenxz", SmallCaps)
	real[1] = f.hasFeature("c2sc") && f.Covers("AENXZ", AllSmallCaps)
	return real
}

// Covers reports whether each character of text, alone, has a glyph of its own
// for the features: most faces have superior figures, and few superior letters.
func (f *Face) Covers(text string, feat Feature) bool {
	for _, r := range text {
		g, _ := f.GID(r)
		run := f.Shape(string(r), feat)
		if len(run.Glyphs) != 1 || run.Glyphs[0].ID == g || run.Glyphs[0].ID == 0 {
			return false
		}
	}
	return text != ""
}

// hasFeature reports whether GSUB has the feature with at least one lookup in
// the default language system of Latin script, or of the default script.
func (f *Face) hasFeature(tag string) bool {
	gsub := &f.shaping.GSUB
	i := -1
	for _, script := range []string{"latn", "DFLT", "dflt"} {
		if i = gsub.FindScript(ot.MustNewTag(script)); i >= 0 {
			break
		}
	}
	if i < 0 {
		return false
	}
	sys := gsub.Scripts[i].DefaultLangSys
	if sys == nil {
		return false
	}
	for _, j := range sys.FeatureIndices {
		if int(j) < len(gsub.Features) && gsub.Features[j].Tag == ot.MustNewTag(tag) {
			return len(gsub.Features[j].LookupListIndices) > 0
		}
	}
	return false
}

// Advance is the glyph's width before kerning (table hmtx).
func (f *Face) Advance(g GID) int32 {
	hmtx, n := f.src.table("hmtx"), f.src.table("hhea").u16(34)
	if int(g) >= f.src.numGlyphs() || n == 0 {
		return 0
	}
	return int32(hmtx.u16(4 * min(int(g), n-1)))
}

// pdfName keeps the characters of s that stand in a PostScript font name.
func pdfName(s string) string {
	return strings.Map(func(r rune) rune {
		if r <= ' ' || r >= 0x7F || strings.ContainsRune("[](){}<>/%", r) {
			return -1
		}
		return r
	}, s)
}
