package fonts

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/go-text/typesetting/font"
	"github.com/go-text/typesetting/font/cff"
	ximage "golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"pgregory.net/rapid"
)

// textGlyphs are the glyphs of a text, some of them composite, with ligatures.
func textGlyphs(f *Face) []GID {
	var out []GID
	for _, w := range strings.Fields("The office’s fjord — naïve Ångström, “déjà vu” & ½ 1,905 çÉñÖ Łódź") {
		for _, feat := range []Feature{0, SmallCaps, OldStyle} {
			for _, g := range f.Shape(w, feat).Glyphs {
				out = append(out, g.ID)
			}
		}
	}
	return out
}

// checkSFNT checks the form of a font file (OpenType 1.9, "Organization of an
// OpenType Font"): tables in order, on four-byte boundaries, checksums right.
func checkSFNT(t *testing.T, b []byte) {
	t.Helper()
	tb := table(b)
	last := ""
	for i := range tb.u16(4) {
		d := tb[12+16*i:]
		tag, sum, offset, n := string(d[:4]), d.u32(4), d.u32(8), d.u32(12)
		if tag <= last || offset%4 != 0 || int(offset+n) > len(b) {
			t.Errorf("table %q after %q at %d, %d bytes", tag, last, offset, n)
		}
		last = tag
		content := slices.Clone(b[offset : offset+n])
		if tag == "head" {
			copy(content[8:12], []byte{0, 0, 0, 0})
		}
		if checksum(content) != sum {
			t.Errorf("table %q: wrong checksum", tag)
		}
	}
	if checksum(b) != 0xB1B0AFBA {
		t.Errorf("checksum of the file %08X, want B1B0AFBA", checksum(b))
	}
}

// completed is a TrueType subset with the tables that general readers ask for
// and a PDF does not need.
func completed(t *testing.T, f *Face, p Program) []byte {
	t.Helper()
	tables := splitSFNT(p.Data)
	for _, tag := range []string{"cmap", "name", "post", "OS/2"} {
		tables[tag] = f.src.table(tag)
	}
	tables["post"] = append(slices.Clone(f.src.table("post"))[:32:32], nil...)
	copy(tables["post"], []byte{0, 3, 0, 0}) // without glyph names, whose number has changed
	var out []namedTable
	for tag, content := range tables {
		out = append(out, namedTable{tag, slices.Clone(content)})
	}
	return writeSFNT(flavorTrueType, out)
}

func TestSubsetTrueType(t *testing.T) {
	lib := Embedded()
	for _, e := range embedded {
		for _, style := range e.styles {
			t.Run(fmt.Sprint(e.name, " ", style), func(t *testing.T) {
				f, err := lib.Face(e.name, style)
				if err != nil {
					t.Fatal(err)
				}
				glyphs := textGlyphs(f)
				p, err := f.Subset(glyphs)
				if err != nil {
					t.Fatal(err)
				}
				checkSFNT(t, p.Data)
				if p.CFF || len(p.Data) > len(f.src.data)/2 {
					t.Errorf("CFF %v, %d bytes of %d", p.CFF, len(p.Data), len(f.src.data))
				}
				whole := completed(t, f, p)
				sub, err := newFace(whole)
				if err != nil {
					t.Fatal(err)
				}
				if _, err := font.ParseTTF(bytes.NewReader(whole)); err != nil {
					t.Fatal("go-text:", err)
				}
				other, err := ximage.Parse(whole)
				if err != nil {
					t.Fatal("x/image/font/sfnt:", err)
				}
				used := map[GID]bool{0: true}
				for _, g := range glyphs {
					used[g] = true
				}
				parts := map[GID]bool{}
				for g := range used {
					for _, part := range f.parts(g) {
						parts[part] = true
						for _, p := range f.parts(part) {
							parts[p] = true
						}
					}
				}
				n := sub.src.numGlyphs()
				var buf ximage.Buffer
				for g := range GID(n) {
					if sub.Advance(g) != f.Advance(g) {
						t.Fatalf("glyph %d: advance %d, was %d", g, sub.Advance(g), f.Advance(g))
					}
					want := f.Outline(g)
					if !used[g] && !parts[g] {
						want = nil
					}
					if got := sub.Outline(g); !slices.Equal(got, want) {
						t.Fatalf("glyph %d: used %v: %v, want %v", g, used[g], got, want)
					}
					if !used[g] {
						continue
					}
					if segs, err := other.LoadGlyph(&buf, ximage.GlyphIndex(g), fixed.I(f.Upem), nil); err == nil {
						if why := differ(want, segs); why != "" {
							t.Fatalf("glyph %d: sfnt: %s", g, why)
						}
					}
				}
				if last := slices.Max(glyphs); int(last) >= n {
					t.Errorf("glyph %d is cut off", last)
				}
			})
		}
	}
}

const gyreFolder = "/usr/share/texmf/fonts/opentype/public/tex-gyre"

// gyre are OpenType/CFF faces from the Debian package fonts-texgyre.
func gyre(t testing.TB) []string {
	files, err := filepath.Glob(gyreFolder + "/texgyre*.otf")
	if err == nil && len(files) == 0 {
		err = os.ErrNotExist
	}
	need(t, err, "the OpenType/CFF faces of fonts-texgyre")
	return files
}

func TestCFF(t *testing.T) {
	for _, file := range gyre(t) {
		t.Run(filepath.Base(file), func(t *testing.T) {
			b, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			f, err := open(b)
			if err != nil {
				t.Fatal(err)
			}
			if !f.CFF {
				t.Fatal("not CFF")
			}
			other, err := ximage.Parse(b)
			if err != nil {
				t.Fatal(err)
			}
			compareSFNT(t, f, other)

			glyphs := textGlyphs(f)
			p, err := f.Subset(glyphs)
			if err != nil || !p.CFF {
				t.Fatal(p.CFF, err)
			}
			if len(p.Data) > len(f.src.table("CFF "))*3/4 {
				t.Errorf("%d bytes of %d", len(p.Data), len(f.src.table("CFF ")))
			}
			c, err := cff.Parse(p.Data)
			if err != nil {
				t.Fatal("go-text:", err)
			}
			if len(c.Charstrings) != f.src.numGlyphs() {
				t.Fatalf("%d charstrings of %d", len(c.Charstrings), f.src.numGlyphs())
			}
			full, _ := f.cff()
			for g := range c.Charstrings {
				used := g == 0 || slices.Contains(glyphs, GID(g))
				segs, _, err := c.LoadGlyph(GID(g))
				if err != nil {
					t.Fatal(err)
				}
				want, _, _ := full.LoadGlyph(GID(g))
				if !used {
					want = nil
				}
				if !slices.Equal(segs, want) {
					t.Fatalf("glyph %d, used %v: outline changed", g, used)
				}
				if a, b := c.GlyphName(font.GID(g)), full.GlyphName(font.GID(g)); a != b {
					t.Fatalf("glyph %d is called %q, was %q", g, a, b)
				}
			}
			// The table in place of the old one: an OpenType font as before.
			again, err := newFace(patched(t, b, func(tb map[string][]byte) { tb["CFF "] = p.Data }))
			if err != nil {
				t.Fatal(err)
			}
			for _, g := range glyphs {
				if !slices.Equal(again.Outline(g), f.Outline(g)) {
					t.Fatalf("glyph %d: outline changed", g)
				}
			}
			if _, err := ximage.Parse(again.src.data); err != nil {
				t.Error("x/image/font/sfnt:", err)
			}
		})
	}
}

// The program and its tag depend on the set of glyphs alone.
func TestSubsetRepeats(t *testing.T) {
	f, _ := Embedded().Face("Crimson Pro", Regular)
	g, _ := Embedded().Face("Crimson Pro", Bold)
	rapid.Check(t, func(t *rapid.T) {
		glyphs := rapid.SliceOfN(rapid.Uint16Range(0, uint16(f.src.numGlyphs()-1)), 0, 40).Draw(t, "glyphs")
		mixed := append(slices.Clone(glyphs), glyphs...)
		slices.Reverse(mixed)
		a, err := f.Subset(glyphs)
		if err != nil {
			t.Fatal(err)
		}
		b, _ := f.Subset(mixed)
		if !bytes.Equal(a.Data, b.Data) {
			t.Fatal("the programs differ")
		}
		tag := f.SubsetTag(glyphs)
		if tag != f.SubsetTag(mixed) {
			t.Fatal("the tags differ")
		}
		if len(tag) != 6 || strings.Trim(tag, "ABCDEFGHIJKLMNOPQRSTUVWXYZ") != "" {
			t.Fatalf("tag %q", tag)
		}
		if tag == g.SubsetTag(glyphs) || tag == f.SubsetTag(append(mixed, 1234)) && !slices.Contains(mixed, 1234) {
			t.Fatal("the tag is that of another subset")
		}
	})
	if _, err := f.Subset([]GID{0xFFFF}); err == nil {
		t.Error("a glyph that is not there: no error")
	}
}

// A CID-keyed font gets its glyph identifiers for character identifiers. There
// is none at hand, so this one is made: a Top DICT with ROS, one Font DICT.
func TestSubsetCIDKeyed(t *testing.T) {
	file := gyre(t)[0]
	b, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	f, err := newFace(b)
	if err != nil {
		t.Fatal(err)
	}
	cid := cidKeyed(t, f.src.table("CFF "))
	used := make([]bool, f.src.numGlyphs())
	used[0], used[30], used[50] = true, true, true
	out, err := subsetCFF(cid, used)
	if err != nil {
		t.Fatal(err)
	}
	c, err := cff.Parse(out)
	if err != nil {
		t.Fatal(err)
	}
	full, _ := f.cff()
	for g := range used {
		segs, _, err := c.LoadGlyph(GID(g))
		if err != nil {
			t.Fatal(err)
		}
		want, _, _ := full.LoadGlyph(GID(g))
		if !used[g] {
			want = nil
		}
		if !slices.Equal(segs, want) {
			t.Errorf("glyph %d, used %v: outline changed", g, used[g])
		}
	}
	tops, _, _ := readIndex(out, mustEnd(t, out, 4))
	top, err := readDict(tops[0])
	if err != nil {
		t.Fatal(err)
	}
	at := top.offset(opCharset)
	if want := []byte{2, 0, 1}; !bytes.Equal(out[at:at+3], want) || table(out).u16(at+3) != len(used)-2 {
		t.Errorf("charset % x is not the identity", out[at:at+5])
	}
}

func mustEnd(t *testing.T, src table, at int) int {
	_, end, err := readIndex(src, at)
	if err != nil {
		t.Fatal(err)
	}
	return end
}

// cidKeyed turns a name-keyed CFF table into a CID-keyed one.
func cidKeyed(t *testing.T, src table) []byte {
	names, rest, _ := readIndex(src, 4)
	tops, rest, _ := readIndex(src, rest)
	sharedAt := rest
	rest = mustEnd(t, src, mustEnd(t, src, rest))
	top, err := readDict(tops[0])
	if err != nil {
		t.Fatal(err)
	}
	charstrings, _, err := readIndex(src, top.offset(opCharStrings))
	if err != nil {
		t.Fatal(err)
	}
	private := top.find(opPrivate).ints
	d := dict{
		{op: opROS, operands: []byte{139, 139, 139}},
		{op: opCharset, ints: []int{0}}, {op: opFDSelect, ints: []int{0}},
		{op: opCharStrings, ints: []int{0}}, {op: opFDArray, ints: []int{0}},
	}
	w := &cffWriter{}
	w.bytes(1, 0, 4, 4)
	w.index(names)
	topAt := len(w.data)
	w.index([][]byte{d.bytes()})
	w.bytes(src[sharedAt:rest]...)
	d.set(opCharset, len(w.data))
	n, err := charsetSize(src, top.offset(opCharset), len(charstrings))
	if err != nil {
		t.Fatal(err)
	}
	w.bytes(src[top.offset(opCharset) : top.offset(opCharset)+n]...)
	d.set(opFDSelect, len(w.data))
	w.bytes(3, 0, 1, 0, 0, 0, byte(len(charstrings)>>8), byte(len(charstrings)))
	d.set(opCharStrings, len(w.data))
	w.index(charstrings)
	fd := dict{{op: opPrivate, ints: private}}
	if err := w.private(src, fd); err != nil {
		t.Fatal(err)
	}
	d.set(opFDArray, len(w.data))
	w.index([][]byte{fd.bytes()})
	final := &cffWriter{}
	final.index([][]byte{d.bytes()})
	copy(w.data[topAt:], final.data)
	return w.data
}

func BenchmarkSubset(b *testing.B) {
	f, err := Embedded().Face("EB Garamond", Regular)
	if err != nil {
		b.Fatal(err)
	}
	glyphs := textGlyphs(f)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := f.Subset(glyphs); err != nil {
			b.Fatal(err)
		}
	}
}
