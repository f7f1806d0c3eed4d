package picture

import (
	"encoding/binary"
	"errors"
	"io"
)

// Tags of TIFF 6.0 and its later supplements.
const (
	tagNewSubfileType  = 254
	tagWidth           = 256
	tagHeight          = 257
	tagBits            = 258
	tagCompression     = 259
	tagPhotometric     = 262
	tagFillOrder       = 266
	tagStripOffsets    = 273
	tagOrientation     = 274
	tagSamples         = 277
	tagRowsPerStrip    = 278
	tagStripByteCounts = 279
	tagXResolution     = 282
	tagYResolution     = 283
	tagPlanar          = 284
	tagT6Options       = 293
	tagResolutionUnit  = 296
	tagPredictor       = 317
	tagColorMap        = 320
	tagTileWidth       = 322
	tagTileLength      = 323
	tagTileOffsets     = 324
	tagTileByteCounts  = 325
	tagExtraSamples    = 338
	tagSampleFormat    = 339
)

// directory is an image file directory (TIFF 6.0, section 2), which EXIF
// keeps its notes in as well.
type directory struct {
	r       io.ReaderAt
	order   byteOrder
	entries []byte // 12 bytes each
	next    int64  // where the next directory begins; 0 for none
}

// byteOrder is the order of the bytes of a number, read and written.
type byteOrder interface {
	binary.ByteOrder
	binary.AppendByteOrder
}

const entrySize = 12

var errDirectory = errors.New("the file's directory is broken: save it again")

// readHeader reads the eight bytes that begin a TIFF file: in which order the
// bytes of a number stand, and where the first directory is.
func readHeader(r io.ReaderAt) (byteOrder, int64, error) {
	var b [8]byte
	if err := readAt(r, b[:], 0); err != nil {
		return nil, 0, err
	}
	var order byteOrder
	switch string(b[:4]) {
	case "II\x2a\x00":
		order = binary.LittleEndian
	case "MM\x00\x2a":
		order = binary.BigEndian
	default:
		return nil, 0, errDirectory
	}
	return order, int64(order.Uint32(b[4:])), nil
}

func readDirectory(r io.ReaderAt, order byteOrder, at int64) (directory, error) {
	d := directory{r: r, order: order}
	var b [4]byte
	if err := readAt(r, b[:2], at); err != nil {
		return d, err
	}
	d.entries = make([]byte, entrySize*int(order.Uint16(b[:2]))) // below 1 MiB
	if err := readAt(r, d.entries, at+2); err != nil {
		return d, err
	}
	if readAt(r, b[:], at+2+int64(len(d.entries))) == nil { // some writers leave it out
		d.next = int64(order.Uint32(b[:]))
	}
	return d, nil
}

// entry returns the twelve bytes of a tag; nil where there is none.
func (d *directory) entry(tag uint16) []byte {
	for e := d.entries; len(e) > 0; e = e[entrySize:] {
		if d.order.Uint16(e) == tag {
			return e[:entrySize]
		}
	}
	return nil
}

// sizes of the types of values, from type 1: byte, ASCII, short, long, rational.
var sizes = [...]int64{1, 1, 2, 4, 8}

// values returns the whole numbers of a tag, at most so many; none where the
// tag is missing or not what it should be. A rational counts as two.
func (d *directory) values(tag uint16, most int) []uint32 {
	e := d.entry(tag)
	if e == nil {
		return nil
	}
	kind, count := d.order.Uint16(e[2:]), int64(d.order.Uint32(e[4:]))
	if kind < 1 || int(kind) > len(sizes) || count == 0 {
		return nil
	}
	size := sizes[kind-1]
	raw := e[8:12]
	if count*size > 4 {
		raw = make([]byte, min(count, int64(most))*size)
		if readAt(d.r, raw, int64(d.order.Uint32(e[8:]))) != nil {
			return nil
		}
	} else {
		raw = raw[:min(count, int64(most))*size]
	}
	var values []uint32
	for len(raw) > 0 {
		switch kind {
		case 1, 2:
			values, raw = append(values, uint32(raw[0])), raw[1:]
		case 3:
			values, raw = append(values, uint32(d.order.Uint16(raw))), raw[2:]
		default:
			values, raw = append(values, d.order.Uint32(raw)), raw[4:]
		}
	}
	return values
}

// value returns the first number of a tag, or what it stands for by default.
func (d *directory) value(tag uint16, otherwise uint32) int {
	if v := d.values(tag, 1); len(v) > 0 {
		return int(v[0])
	}
	return int(otherwise)
}

// ppi returns a resolution in pixels to the inch; 0 where none is stated.
func (d *directory) ppi(tag uint16) int {
	v := d.values(tag, 1)
	if len(v) != 2 {
		return 0
	}
	switch d.value(tagResolutionUnit, 2) {
	case 2:
		return perInch(v[0], v[1], 1, 1)
	case 3: // to the centimetre
		return perInch(v[0], v[1], 100, 254)
	}
	return 0
}

// exif is what counts of the notes that cameras leave (Exif 2.32, 4.6.4).
type exif struct{ orientation, x, y int }

// readExif reads EXIF notes. What is broken there is as good as missing: the
// picture is not.
func readExif(r io.ReaderAt) exif {
	order, at, err := readHeader(r)
	if err != nil {
		return exif{}
	}
	d, err := readDirectory(r, order, at)
	if err != nil {
		return exif{}
	}
	return exif{d.value(tagOrientation, 1), d.ppi(tagXResolution), d.ppi(tagYResolution)}
}
