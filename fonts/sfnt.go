package fonts

import (
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"slices"

	ot "github.com/go-text/typesetting/font/opentype"
)

// table is the content of one table of a font file. Its readers give zero
// beyond the end, so that a short table reads as one whose fields are not set.
type table []byte

func (t table) u8(i int) int {
	if i < 0 || i >= len(t) {
		return 0
	}
	return int(t[i])
}

func (t table) u16(i int) int {
	if i < 0 || i+2 > len(t) {
		return 0
	}
	return int(binary.BigEndian.Uint16(t[i:]))
}

func (t table) i16(i int) int { return int(int16(t.u16(i))) }

func (t table) u32(i int) uint32 {
	if i < 0 || i+4 > len(t) {
		return 0
	}
	return binary.BigEndian.Uint32(t[i:])
}

// Versions at the head of a font file (OpenType 1.9, "Table Directory").
const (
	flavorTrueType = 0x00010000
	flavorApple    = 0x74727565 // "true"
	flavorCFF      = 0x4F54544F // "OTTO"
)

// sfnt is an OpenType file cut into its tables. The tables share the file's bytes.
type sfnt struct {
	data    []byte
	flavor  uint32
	records []record
}

type record struct {
	tag         string
	offset, len uint32
}

// readSFNT reads the table directory and checks what everything else relies on:
// every table lies within the file, and those a face cannot do without are there.
func readSFNT(data []byte) (*sfnt, error) {
	head := table(data)
	if len(data) < 12 {
		return nil, errors.New("not a font: the file is too short")
	}
	f := &sfnt{data: data, flavor: head.u32(0)}
	switch f.flavor {
	case flavorTrueType, flavorApple, flavorCFF:
	default:
		switch string(data[:4]) {
		case "ttcf":
			return nil, errors.New("a font collection holds several fonts: split it into single .ttf or .otf files")
		case "wOFF", "wOF2":
			return nil, errors.New("a web font cannot be used: get the .ttf or .otf file of the same face")
		}
		return nil, errors.New("not a TrueType or OpenType font")
	}
	n := head.u16(4)
	if 12+16*n > len(data) {
		return nil, errors.New("the font is damaged: its table directory is cut off")
	}
	f.records = make([]record, n)
	for i := range f.records {
		d := head[12+16*i:]
		r := record{tag: string(d[:4]), offset: d.u32(8), len: d.u32(12)}
		if uint64(r.offset)+uint64(r.len) > uint64(len(data)) {
			return nil, fmt.Errorf("the font is damaged: table %q runs past the end of the file", r.tag)
		}
		f.records[i] = r
	}
	for _, need := range []struct {
		tag   string
		bytes int // up to the last field that is relied on
	}{{"head", 54}, {"maxp", 6}, {"cmap", 4}, {"hhea", 36}, {"hmtx", 4}, {"name", 6}} {
		if t := f.table(need.tag); t == nil {
			return nil, fmt.Errorf("the font is damaged: table %q is missing", need.tag)
		} else if len(t) < need.bytes {
			return nil, fmt.Errorf("the font is damaged: table %q is cut off", need.tag)
		}
	}
	switch {
	case f.table("CFF ") != nil:
	case f.table("glyf") != nil && f.table("loca") != nil:
	case f.table("CFF2") != nil:
		return nil, errors.New("its outlines are in the variable CFF2 format, which a PDF cannot hold: use a static .otf or .ttf file")
	default:
		return nil, errors.New("the font has no outlines (a bitmap or colour font cannot be printed)")
	}
	// OpenType 1.9, "head": magicNumber, and unitsPerEm between 16 and 16384.
	if h := f.table("head"); h.u32(12) != 0x5F0F3CF5 || h.u16(18) < 16 || h.u16(18) > 16384 {
		return nil, errors.New("the font is damaged: its head table makes no sense")
	}
	if f.numGlyphs() == 0 {
		return nil, errors.New("the font is damaged: it has no glyphs")
	}
	return f, nil
}

// table returns the content of the table, or nil if the file has none or an empty one.
func (f *sfnt) table(tag string) table {
	for _, r := range f.records {
		if r.tag == tag && r.len > 0 {
			end := r.offset + r.len
			return f.data[r.offset:end:end]
		}
	}
	return nil
}

func (f *sfnt) numGlyphs() int { return f.table("maxp").u16(4) }

// loader offers the named tables, and no others, to go-text's reader, so that a
// face that is only shaped never has its outlines parsed.
func (f *sfnt) loader(tags ...string) (*ot.Loader, error) {
	dir := make([]byte, 12, 12+16*len(f.records))
	n := 0
	for i, r := range f.records {
		if slices.Contains(tags, r.tag) {
			dir = append(dir, f.data[12+16*i:12+16*(i+1)]...)
			n++
		}
	}
	binary.BigEndian.PutUint32(dir, f.flavor)
	binary.BigEndian.PutUint16(dir[4:], uint16(n))
	return ot.NewLoader(io.NewSectionReader(overlay{dir, f.data}, 0, int64(len(f.data))))
}

// overlay reads as data whose first bytes are replaced by head.
type overlay struct{ head, data []byte }

func (o overlay) ReadAt(p []byte, off int64) (n int, err error) {
	if off < int64(len(o.head)) {
		n = copy(p, o.head[off:])
		off += int64(n)
	}
	if off < int64(len(o.data)) {
		n += copy(p[n:], o.data[off:])
	}
	if n < len(p) {
		err = io.EOF
	}
	return n, err
}

// namedTable is a table on its way into a new file.
type namedTable struct {
	tag     string
	content []byte
}

// writeSFNT puts tables together into a file: directory in order of tags,
// tables on four-byte boundaries, checksums and head.checkSumAdjustment as
// OpenType 1.9 ("Calculating Checksums") has them. The content of "head" is
// changed in place.
func writeSFNT(flavor uint32, tables []namedTable) []byte {
	slices.SortFunc(tables, func(a, b namedTable) int {
		if a.tag < b.tag {
			return -1
		}
		return 1
	})
	n := len(tables)
	size := 12 + 16*n
	for _, t := range tables {
		size += (len(t.content) + 3) &^ 3
	}
	out := make([]byte, 12+16*n, size)
	be := binary.BigEndian
	be.PutUint32(out, flavor)
	be.PutUint16(out[4:], uint16(n))
	log := 0
	for 2<<log <= n {
		log++
	}
	be.PutUint16(out[6:], uint16(16<<log))
	be.PutUint16(out[8:], uint16(log))
	be.PutUint16(out[10:], uint16(16*n-16<<log))
	adjust := -1
	for i, t := range tables {
		if t.tag == "head" && len(t.content) >= 12 {
			be.PutUint32(t.content[8:], 0)
			adjust = len(out) + 8
		}
		d := out[12+16*i:]
		copy(d, t.tag)
		be.PutUint32(d[4:], checksum(t.content))
		be.PutUint32(d[8:], uint32(len(out)))
		be.PutUint32(d[12:], uint32(len(t.content)))
		out = append(out, t.content...)
		for len(out)%4 != 0 {
			out = append(out, 0)
		}
	}
	if adjust >= 0 {
		be.PutUint32(out[adjust:], 0xB1B0AFBA-checksum(out))
	}
	return out
}

// checksum is the sum of b as big-endian 32-bit words, the last one filled up with zeros.
func checksum(b []byte) (sum uint32) {
	for len(b) >= 4 {
		sum += binary.BigEndian.Uint32(b)
		b = b[4:]
	}
	var last [4]byte
	copy(last[:], b)
	return sum + binary.BigEndian.Uint32(last[:])
}
