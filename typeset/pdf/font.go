package pdf

import (
	"fmt"
	"strconv"
	"unicode/utf8"

	"bodkin/fonts"
)

// faces are the faces of a file in the order in which they are first used.
type faces struct {
	list   []*font
	byFace map[*fonts.Face]*font
	last   *font
}

// font returns the record of a face.
func (fs *faces) font(face *fonts.Face) *font {
	if fs.last != nil && fs.last.face == face {
		return fs.last
	}
	f := fs.byFace[face]
	if f == nil {
		if fs.byFace == nil {
			fs.byFace = make(map[*fonts.Face]*font)
		}
		f = &font{face: face, index: len(fs.list) + 1}
		f.space, _ = face.GID(' ')
		fs.byFace[face] = f
		fs.list = append(fs.list, f)
	}
	fs.last = f
	return f
}

// font is a face with the glyphs that are used of it, and what they say.
type font struct {
	face   *fonts.Face
	index  int
	space  fonts.GID              // 0 when the face has none
	glyphs []glyph                // by identifier, as far as they are used
	more   []map[fonts.GID]string // what glyphs say in the other voices
}

type glyph struct {
	used  bool
	width int32  // 10^-6 em, as the file gives it
	text  string // in the first voice; "" when it has none
}

// use marks a glyph as used.
func (f *font) use(g fonts.GID) *glyph {
	if int(g) >= len(f.glyphs) {
		f.glyphs = append(f.glyphs, make([]glyph, int(g)+1-len(f.glyphs))...)
	}
	u := &f.glyphs[g]
	if !u.used {
		u.used = true
		u.width = int32(roundDiv(int64(f.face.Advance(g))*1_000_000, int64(f.face.Upem)))
	}
	return u
}

// width returns the width of a used glyph in 10^-6 em.
func (f *font) width(g fonts.GID) int32 { return f.glyphs[g].width }

// voice marks a glyph as used and returns the voice, counted from 0, in which
// it stands for text.
func (f *font) voice(g fonts.GID, text string) int {
	u := f.use(g)
	if u.text == text {
		return 0
	}
	if u.text == "" {
		u.text = text
		return 0
	}
	for i, says := range f.more {
		switch says[g] {
		case text:
			return i + 1
		case "":
			says[g] = text
			return i + 1
		}
	}
	f.more = append(f.more, map[fonts.GID]string{g: text})
	return len(f.more)
}

// appendLetters gives out the letters of a cluster to its n glyphs: all to a
// single glyph; else one to each, and what is over to the first, which is the
// ligature if there is one. Read in order they are always the cluster's text.
// Where glyphs outnumber letters, those at the end get none.
func appendLetters(parts []string, text string, n int) []string {
	if n == 1 {
		return append(parts, text)
	}
	first := max(1, utf8.RuneCountInString(text)-n+1) // how many the first gets
	for at := range text {
		if first--; first < 0 {
			parts = append(parts, text[:at])
			return appendLetters(parts, text[at:], n-1)
		}
	}
	return append(parts, text)
}

// resource is the font's name in content streams.
func (f *font) resource(voice int) string {
	s := "F" + strconv.Itoa(f.index)
	if voice > 0 {
		s += "_" + strconv.Itoa(voice+1)
	}
	return s
}

// gids returns the used glyphs in order.
func (f *font) gids() []fonts.GID {
	var gids []fonts.GID
	for g := range f.glyphs {
		if f.glyphs[g].used {
			gids = append(gids, fonts.GID(g))
		}
	}
	return gids
}

// objects returns the objects of every face, numbered from next, and the
// resource dictionary that names them (ISO 32000-1, 9.6 to 9.10).
func (fs *faces) objects(next int) ([]object, string, error) {
	var objects []object
	add := func(d dict, stream []byte) string {
		o := object{num: next + len(objects), dict: d, stream: stream}
		objects = append(objects, o)
		return fmt.Sprintf("%d 0 R", o.num)
	}
	resources := []byte("<<")
	for _, f := range fs.list {
		gids := f.gids()
		if len(gids) == 0 {
			continue
		}
		program, err := f.face.Subset(gids)
		if err != nil {
			return nil, "", fmt.Errorf("embedding %s: %w", f.face.PostScriptName, err)
		}
		base := name(f.face.PostScriptName)
		if !f.face.NoSubset {
			base = name(f.face.SubsetTag(gids) + "+" + f.face.PostScriptName)
		}
		descriptor := f.descriptor(base)
		cid := dict{
			{"Type", []byte("/Font")},
			{"Subtype", []byte("/CIDFontType2")},
			{"BaseFont", []byte(base)},
			{"CIDSystemInfo", []byte("<</Registry(Adobe)/Ordering(Identity)/Supplement 0>>")},
		}
		if program.CFF {
			cid.set("Subtype", "/CIDFontType0")
			descriptor.set("FontFile3", add(dict{{"Subtype", []byte("/CIDFontType0C")}}, program.Data))
		} else {
			cid.set("CIDToGIDMap", "/Identity")
			descriptor.set("FontFile2", add(dict{{"Length1", strconv.AppendInt(nil, int64(len(program.Data)), 10)}}, program.Data))
		}
		cid.set("FontDescriptor", add(descriptor, nil))
		cid.set("W", f.widths(gids))
		descendant := add(cid, nil)
		for voice := range len(f.more) + 1 {
			font := add(dict{
				{"Type", []byte("/Font")},
				{"Subtype", []byte("/Type0")},
				{"BaseFont", []byte(base)},
				{"Encoding", []byte("/Identity-H")},
				{"DescendantFonts", []byte("[" + descendant + "]")},
				{"ToUnicode", []byte(add(dict{}, f.toUnicode(voice, gids)))},
			}, nil)
			resources = append(resources, "/"+f.resource(voice)+" "+font+"\n"...)
		}
	}
	return objects, string(append(resources, ">>"...)), nil
}

// descriptor returns the measures of the face in thousandths of an em.
func (f *font) descriptor(base string) dict {
	face := f.face
	scale := func(n int) []byte {
		return appendDecimal(nil, roundDiv(int64(n)*1000, int64(face.Upem)), 0)
	}
	box := []byte{'['}
	for i, n := range face.BBox {
		if i > 0 {
			box = append(box, ' ')
		}
		box = append(box, scale(n)...)
	}
	return dict{
		{"Type", []byte("/FontDescriptor")},
		{"FontName", []byte(base)},
		{"Flags", strconv.AppendInt(nil, int64(face.Flags), 10)},
		{"FontBBox", append(box, ']')},
		{"ItalicAngle", strconv.AppendFloat(nil, face.ItalicAngle, 'f', -1, 64)},
		{"Ascent", scale(face.Ascent)},
		{"Descent", scale(face.Descent)},
		{"CapHeight", scale(face.CapHeight)},
		{"StemV", scale(face.StemV)},
	}
}

// widths writes the widths of the glyphs, neighbours together, in thousandths
// of an em with as many decimals as they need, at most three.
func (f *font) widths(gids []fonts.GID) string {
	b := []byte{'['}
	for i, g := range gids {
		if i > 0 && g == gids[i-1]+1 {
			b = append(b, ' ')
		} else {
			if i > 0 {
				b = append(b, "]\n"...)
			}
			b = append(strconv.AppendInt(b, int64(g), 10), '[')
		}
		b = appendDecimal(b, int64(f.width(g)), 3)
	}
	return string(append(b, "]]"...))
}

// toUnicode writes the CMap of a voice (ISO 32000-1, 9.10.3).
func (f *font) toUnicode(voice int, gids []fonts.GID) []byte {
	says := func(g fonts.GID) string { return f.glyphs[g].text }
	if voice > 0 {
		says = func(g fonts.GID) string { return f.more[voice-1][g] }
	}
	var mapped []fonts.GID
	for _, g := range gids {
		if says(g) != "" {
			mapped = append(mapped, g)
		}
	}
	b := []byte(`/CIDInit /ProcSet findresource begin
12 dict begin
begincmap
/CIDSystemInfo <</Registry (Adobe) /Ordering (UCS) /Supplement 0>> def
/CMapName /Adobe-Identity-UCS def
/CMapType 2 def
1 begincodespacerange
<0000> <FFFF>
endcodespacerange
`)
	for len(mapped) > 0 {
		n := min(len(mapped), 100) // a block may not hold more
		b = fmt.Appendf(b, "%d beginbfchar\n", n)
		for _, g := range mapped[:n] {
			b = appendHex16(append(b, '<'), g)
			b = appendUTF16(append(b, "> <"...), says(g))
			b = append(b, ">\n"...)
		}
		b = append(b, "endbfchar\n"...)
		mapped = mapped[n:]
	}
	return append(b, "endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend"...)
}
