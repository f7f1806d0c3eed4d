package fonts

import (
	"bytes"
	"encoding/binary"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode/utf16"

	"pgregory.net/rapid"
)

// faceBytes is the file of an embedded face.
func faceBytes(t testing.TB, folder, file string, style Style) []byte {
	t.Helper()
	b, err := data.ReadFile("data/" + folder + "/" + file + "_" + styleFiles[style] + ".ttf")
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// patched is a copy of a font in which change has edited the tables.
func patched(t testing.TB, font []byte, change func(tables map[string][]byte)) []byte {
	t.Helper()
	src, err := readSFNT(font)
	if err != nil {
		t.Fatal(err)
	}
	tables := map[string][]byte{}
	for _, r := range src.records {
		tables[r.tag] = slices.Clone(src.table(r.tag))
	}
	change(tables)
	var out []namedTable
	for tag, content := range tables {
		out = append(out, namedTable{tag, content})
	}
	return writeSFNT(src.flavor, out)
}

// nameTable is a table name with the given entries, as Windows has them (OpenType 1.9, "name").
func nameTable(entries map[uint16]string) []byte {
	be := binary.BigEndian
	ids := slices.Sorted(func(yield func(uint16) bool) {
		for id := range entries {
			if !yield(id) {
				return
			}
		}
	})
	head := be.AppendUint16(nil, 0)
	head = be.AppendUint16(head, uint16(len(ids)))
	head = be.AppendUint16(head, uint16(6+12*len(ids)))
	var text []byte
	for _, id := range ids {
		var s []byte
		for _, u := range utf16.Encode([]rune(entries[id])) {
			s = be.AppendUint16(s, u)
		}
		for _, v := range []int{3, 1, 0x409, int(id), len(s), len(text)} {
			head = be.AppendUint16(head, uint16(v))
		}
		text = append(text, s...)
	}
	return append(head, text...)
}

func write(t *testing.T, dir, name string, b []byte) {
	t.Helper()
	if err := os.WriteFile(filepath.Join(dir, name), b, 0o666); err != nil {
		t.Fatal(err)
	}
}

func TestWithRefuses(t *testing.T) {
	spectral := faceBytes(t, "spectral", "Spectral", Regular)
	fsType := func(v uint16) []byte {
		return patched(t, spectral, func(tb map[string][]byte) { binary.BigEndian.PutUint16(tb["OS/2"][8:], v) })
	}
	drop := func(tag string) []byte {
		return patched(t, spectral, func(tb map[string][]byte) { delete(tb, tag) })
	}
	collection := append([]byte("ttcf"), spectral[4:]...)
	for _, test := range []struct {
		file string
		data []byte
		want string
	}{
		{"a.ttf", []byte("Call me Ishmael. Some years ago"), "not a TrueType or OpenType font"},
		{"a.ttf", nil, "too short"},
		{"a.ttf", spectral[:len(spectral)/2], "damaged"},
		{"a.ttf", drop("cmap"), `table "cmap" is missing`},
		{"a.ttf", drop("hmtx"), `table "hmtx" is missing`},
		{"a.ttf", drop("glyf"), "no outlines"},
		{"a.ttf", patched(t, spectral, func(tb map[string][]byte) { tb["head"][12] = 0 }), "head table makes no sense"},
		{"a.ttf", patched(t, spectral, func(tb map[string][]byte) { tb["name"] = nameTable(nil) }), "no family name"},
		{"a.ttf", fsType(0x0002), "does not allow it to be embedded"},
		{"a.ttf", fsType(0x0202), "does not allow it to be embedded"},
		{"a.ttf", fsType(0x0208), "only bitmaps"},
		{"a.ttf", collection, "collection"},
		{"a.ttc", collection, "collection"},
		{"a.ttf", []byte("wOF2............"), "web font"},
		{"a.woff2", []byte("wOF2............"), "web font"},
		{"a.pfb", []byte("x"), "cannot be used"},
	} {
		dir := t.TempDir()
		write(t, dir, test.file, test.data)
		_, err := Embedded().With(dir)
		if err == nil {
			t.Errorf("%s: no error, want %q", test.file, test.want)
			continue
		}
		msg := err.Error()
		if !strings.Contains(msg, test.want) || !strings.Contains(msg, filepath.Join(dir, test.file)) || strings.Contains(msg, "\n") {
			t.Errorf("%s: %q, want one line with the file and %q", test.file, msg, test.want)
		}
	}
	if _, err := Embedded().With(filepath.Join(t.TempDir(), "none")); err == nil {
		t.Error("a folder that is not there: no error")
	}
}

func TestWithAccepts(t *testing.T) {
	spectral := faceBytes(t, "spectral", "Spectral", Regular)
	named := func(family, sub string, extra map[uint16]string, selection uint16, fsType uint16) []byte {
		return patched(t, spectral, func(tb map[string][]byte) {
			names := map[uint16]string{1: family, 2: sub, 6: strings.ReplaceAll(family+"-"+sub, " ", "")}
			for id, s := range extra {
				names[id] = s
			}
			tb["name"] = nameTable(names)
			binary.BigEndian.PutUint16(tb["OS/2"][62:], selection)
			binary.BigEndian.PutUint16(tb["OS/2"][8:], fsType)
		})
	}
	dir := t.TempDir()
	write(t, dir, "1.ttf", named("Harbour", "Regular", map[uint16]string{13: "For the crew only.\nAsk the mate."}, 0x40, 0))
	write(t, dir, "2.TTF", named("Harbour", "Bold Italic", nil, 0x21, 0x0008))
	write(t, dir, "3.ttf", named("Harbour Light", "Italic", map[uint16]string{16: "Harbour", 17: "Light Italic"}, 0x01, 0x0004))
	write(t, dir, "4.ttf", named("Harbour X", "Regular", map[uint16]string{16: "Harbour", 17: "Bold"}, 0x40, 0))
	write(t, dir, "5.ttf", named("Whole", "Regular", nil, 0x40, 0x0104))
	write(t, dir, "README.txt", []byte("not a font"))
	write(t, dir, "._1.ttf", []byte("what a file manager leaves"))
	if err := os.Mkdir(filepath.Join(dir, "deeper.ttf"), 0o777); err != nil {
		t.Fatal(err)
	}
	base := Embedded()
	lib, err := base.With(dir)
	if err != nil {
		t.Fatal(err)
	}
	if n, m := len(base.Families()), len(lib.Families()); n != len(embedded) || m != n+3 {
		t.Fatalf("%d families before, %d after", n, m)
	}
	for _, fam := range lib.Families() {
		switch fam.Name {
		case "Harbour":
			if want := []Style{Regular, Bold, BoldItalic}; !slices.Equal(fam.Styles, want) || fam.Embedded || fam.Licence != "For the crew only." || !fam.SmallCaps || !fam.OldStyle {
				t.Errorf("%+v", fam)
			}
		case "Harbour Light":
			if want := []Style{Italic}; !slices.Equal(fam.Styles, want) || fam.Licence != "" {
				t.Errorf("%+v", fam)
			}
		}
	}
	for _, test := range []struct {
		family string
		style  Style
		want   Style
	}{
		{"Harbour", Italic, Regular},
		{"Harbour", BoldItalic, BoldItalic},
		{"Harbour Light", Bold, Italic},
		{"harbour-light", Regular, Italic},
		{"Libre Caslon Text", BoldItalic, Bold},
		{"EBGaramond", Italic, Italic},
	} {
		f, err := lib.Face(test.family, test.style)
		if err != nil {
			t.Fatal(err)
		}
		if f.Style != test.want {
			t.Errorf("%s %v: got %v, want %v", test.family, test.style, f.Style, test.want)
		}
	}
	whole, _ := lib.Face("Whole", Regular)
	p, err := whole.Subset([]GID{5})
	if err != nil || !whole.NoSubset || len(p.Data) < len(spectral)/4 {
		t.Errorf("a font that may not be subset: NoSubset %v, %d bytes, %v", whole.NoSubset, len(p.Data), err)
	}

	write(t, dir, "6.ttf", named("Harbour", "Regular", nil, 0x40, 0))
	if _, err := base.With(dir); err == nil || !strings.Contains(err.Error(), "1.ttf") || !strings.Contains(err.Error(), "6.ttf") {
		t.Errorf("two files for one style: %v", err)
	}
}

// A family of the user's takes the place of an embedded one.
func TestWithReplaces(t *testing.T) {
	dir := t.TempDir()
	write(t, dir, "x.ttf", faceBytes(t, "spectral", "Spectral", Regular))
	lib, err := Embedded().With(dir)
	if err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(lib.Families(), func(f Family) bool { return f.Name == "Spectral" })
	if f := lib.Families()[i]; f.Embedded || len(f.Styles) != 1 || f.Licence != licenceOFL {
		t.Errorf("%+v", f)
	}
}

func TestFaceUnknown(t *testing.T) {
	for name, want := range map[string]string{
		"Garamond":    `"Garamond". Did you mean EB Garamond?`,
		"Spectrall":   "Did you mean Spectral?",
		"Libre":       "Did you mean Libre Baskerville or Libre Caslon Text?",
		"Nonexistent": `"Nonexistent". The faces at hand are Alegreya, Crimson Pro,`,
	} {
		_, err := Embedded().Face(name, Regular)
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %q", name, err, want)
		}
	}
}

func TestMissing(t *testing.T) {
	face, _ := Embedded().Face("Libre Baskerville", Regular)
	for text, want := range map[string]rune{
		"plain":                 0,
		"soft\u00ADhyphen":      0,
		"zero\u200Bwidth\u200D": 0,
		"no\u00A0break":         0,
		"thin\u2009space":       0,
		"Ἰλιάς":                 'Ἰ',
		"a漢字":                   '漢',
		"mark\uE123":            '\uE123',
		"😀":                     '😀',
	} {
		r, ok := face.Missing(text)
		if ok != (want != 0) || r != want {
			t.Errorf("%q: %U, %v; want %U", text, r, ok, want)
		}
	}
	if n := face.Shapings(); n != 0 {
		t.Errorf("Missing kept %d shapings", n)
	}
	greek := Embedded().FamiliesWith('Ω')
	if !slices.Contains(greek, "EB Garamond") || !slices.IsSorted(greek) {
		t.Errorf("families with Ω: %v", greek)
	}
	if got := Embedded().FamiliesWith('漢'); got != nil {
		t.Errorf("families with 漢: %v", got)
	}
}

// Every embedded family carries its own licence, whole.
func TestLicences(t *testing.T) {
	for _, fam := range Embedded().Families() {
		text, err := Embedded().LicenceText(fam.Name)
		if err != nil || fam.Licence != "SIL OFL 1.1" {
			t.Errorf("%s: %q, %v", fam.Name, fam.Licence, err)
		}
		for _, part := range []string{"Copyright ", "SIL OPEN FONT LICENSE Version 1.1", "PERMISSION & CONDITIONS", "DISCLAIMER"} {
			if !strings.Contains(text, part) {
				t.Errorf("%s: the licence lacks %q", fam.Name, part)
			}
		}
	}
}

// A font with a few bytes changed anywhere in it is refused or used, and never
// brings the program down.
func TestDamagedInside(t *testing.T) {
	for _, style := range []Style{Regular, Italic} {
		whole := faceBytes(t, "crimson-pro", "CrimsonPro", style)
		rapid.Check(t, func(t *rapid.T) {
			b := bytes.Clone(whole)
			for range rapid.IntRange(1, 60).Draw(t, "changes") {
				at := rapid.IntRange(0, len(b)-1).Draw(t, "at")
				b[at] = rapid.Byte().Draw(t, "byte")
			}
			face, err := open(b)
			if err != nil {
				return
			}
			for _, w := range []string{"office fjord", "AVATAR", "Ångström", "0123456789"} {
				for _, g := range face.Shape(w, SmallCaps).Glyphs {
					face.Outline(g.ID)
					face.Extents(g.ID)
				}
			}
			face.Subset([]GID{1, 2, 3, 50})
		})
	}
}

// FuzzOpen has any bytes opened as a font, and used if they can be.
func FuzzOpen(f *testing.F) {
	small := func(src []byte) []byte { // little enough to be mutated well
		face, err := newFace(src)
		if err != nil {
			f.Fatal(err)
		}
		var glyphs []GID
		for _, r := range "officefjord" {
			g, _ := face.GID(r)
			glyphs = append(glyphs, g)
		}
		p, err := face.Subset(glyphs)
		if err != nil {
			f.Fatal(err)
		}
		return patched(f, src, func(tb map[string][]byte) {
			cut := splitSFNT(p.Data)
			for tag := range tb {
				switch tag {
				case "glyf", "loca", "maxp", "hmtx", "hhea", "head":
					tb[tag] = cut[tag]
				case "GSUB", "GPOS", "GDEF", "OS/2", "cmap", "name", "post":
				default:
					delete(tb, tag)
				}
			}
		})
	}
	f.Add(small(faceBytes(f, "libre-caslon-text", "LibreCaslonText", Regular)))
	f.Add(small(faceBytes(f, "crimson-pro", "CrimsonPro", Italic)))
	f.Add([]byte("OTTO\x00\x01"))
	f.Add([]byte("ttcf"))
	f.Fuzz(func(t *testing.T, b []byte) {
		if len(b) > 1<<20 {
			return
		}
		kept := bytes.Clone(b)
		face, err := open(b)
		if err != nil {
			if strings.Contains(err.Error(), "\n") {
				t.Errorf("an error of more than one line: %q", err)
			}
			return
		}
		run := face.Shape("office fjord", 0)
		face.Shape("office fjord", SmallCaps|OldStyle)
		face.Missing("office fjord \u2011")
		face.Supports(SmallCaps | OldStyle)
		var glyphs []GID
		for _, g := range run.Glyphs {
			face.Outline(g.ID)
			face.Extents(g.ID)
			face.Advance(g.ID)
			if int(g.ID) < face.src.numGlyphs() {
				glyphs = append(glyphs, g.ID)
			}
		}
		if p, err := face.Subset(glyphs); err == nil && len(p.Data) > 2*len(b)+1<<20 {
			t.Errorf("a subset of %d bytes of a font of %d", len(p.Data), len(b))
		}
		if !bytes.Equal(kept, b) {
			t.Error("the font's bytes were changed")
		}
	})
}

// splitSFNT cuts a font program into its tables.
func splitSFNT(b []byte) map[string][]byte {
	t := table(b)
	out := map[string][]byte{}
	for i := range t.u16(4) {
		d := t[12+16*i:]
		o, n := d.u32(8), d.u32(12)
		out[string(d[:4])] = b[o : o+n]
	}
	return out
}
