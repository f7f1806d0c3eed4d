package picture

import (
	"encoding/binary"
	"errors"
	"fmt"
	"image"
	"io"
)

// mostPages bounds the walk through the directories of a file.
const mostPages = 1000

const group4 = 4 // the compression of line art (ITU-T T.6)

// readTIFF returns the directory of the one picture of a TIFF file. Smaller
// copies and masks beside it do not count.
func readTIFF(r io.ReaderAt) (directory, error) {
	order, at, err := readHeader(r)
	if err != nil {
		return directory{}, err
	}
	var main directory
	found := 0
	for seen := 0; at != 0 && seen < mostPages; seen++ {
		d, err := readDirectory(r, order, at)
		if err != nil {
			return directory{}, err
		}
		const reduced, mask = 1, 4
		if d.value(tagNewSubfileType, 0)&(reduced|mask) == 0 {
			if found++; found == 1 {
				main = d
			}
		}
		at = d.next
	}
	switch {
	case found == 0:
		return directory{}, errDirectory
	case found > 1:
		return directory{}, fmt.Errorf("the file has %d pages: save the one that is meant as a file of its own", found)
	}
	return main, nil
}

// Compressions of TIFF that can be read: none, Group 4, LZW, deflate (two
// numbers), PackBits.
var compressions = map[int]bool{1: true, group4: true, 5: true, 8: true, 32946: true, 32773: true}

func inspectTIFF(r io.ReaderAt, size int64) (Info, error) {
	d, err := readTIFF(r)
	if err != nil {
		return Info{}, err
	}
	info := Info{
		Width: d.value(tagWidth, 0), Height: d.value(tagHeight, 0),
		XPPI: d.ppi(tagXResolution), YPPI: d.ppi(tagYResolution),
		Bits: d.value(tagBits, 1), Orientation: d.value(tagOrientation, 1),
	}
	if err := checkSize(info.Width, info.Height); err != nil {
		return info, err
	}
	samples, compression := d.value(tagSamples, 1), d.value(tagCompression, 1)
	colours := 1
	switch d.value(tagPhotometric, 1) {
	case 0, 1:
		info.Model = Gray
		if info.Bits == 1 {
			info.Model = Bilevel
		}
	case 2:
		info.Model, colours = RGB, 3
		info.Alpha = samples == 4
	case 3:
		info.Model = Indexed
	case 5:
		info.Model, colours = CMYK, 4
	default:
		return info, errors.New("a TIFF in this colour space cannot be read: save it as gray, RGB or CMYK")
	}
	const lsbFirst = 2
	switch {
	case !compressions[compression]:
		return info, fmt.Errorf("a TIFF of compression %d cannot be read: save it with LZW, or as PNG", compression)
	case info.Bits != 1 && info.Bits != 8 && info.Bits != 16 || info.Bits == 1 && colours > 1:
		return info, fmt.Errorf("a TIFF of %d bits a sample cannot be read: save it with 8", info.Bits)
	case samples != colours && !info.Alpha:
		return info, errors.New("the TIFF has channels besides its colours: flatten it and save it again")
	case samples > 1 && d.value(tagPlanar, 1) != 1:
		return info, errors.New("the TIFF keeps its colours apart (planar): save it with interleaved pixels")
	case d.value(tagPredictor, 1) > 2 || d.value(tagSampleFormat, 1) != 1:
		return info, errors.New("the TIFF has numbers that are not whole: save it with 8 bits a sample")
	case d.value(tagFillOrder, 1) == lsbFirst && compression != group4:
		return info, errors.New("the TIFF has its bits in reverse order: save it again")
	}
	for _, bits := range d.values(tagBits, samples) {
		if int(bits) != info.Bits {
			return info, errors.New("the TIFF has colours of different depths: save it with 8 bits a sample")
		}
	}
	return info, d.checkEnds(size)
}

// checkEnds finds out whether all strips or tiles lie within the file.
func (d *directory) checkEnds(size int64) error {
	offsets, counts := uint16(tagStripOffsets), uint16(tagStripByteCounts)
	if d.entry(tagTileOffsets) != nil {
		offsets, counts = tagTileOffsets, tagTileByteCounts
	}
	const most = 1 << 20
	from, long := d.values(offsets, most), d.values(counts, most)
	if len(from) == 0 || len(from) != len(long) {
		return errDirectory
	}
	for i := range from {
		if int64(from[i])+int64(long[i]) > size {
			return errTruncated
		}
	}
	return nil
}

// plainTIFF has a decoder read the one picture of a TIFF file as if the file
// had nothing else, and CMYK as four samples of whatever meaning, which that
// decoder knows as RGB with alpha.
func plainTIFF[T any](decode func(io.Reader) (T, error)) func(io.ReaderAt, int64) (T, error) {
	return func(r io.ReaderAt, size int64) (T, error) {
		d, err := readTIFF(r)
		if err != nil {
			var none T
			return none, err
		}
		p := &plain{r: r, size: size, tail: d.plain()}
		p.head = append(p.head, "MM\x00\x2a"...)
		if d.order == binary.LittleEndian {
			p.head = append(p.head[:0], "II\x2a\x00"...)
		}
		if size > 1<<32-1-int64(len(p.tail)) {
			var none T
			return none, errors.New("larger than a TIFF may be")
		}
		p.head = d.order.AppendUint32(p.head, uint32(size))
		return decode(io.NewSectionReader(p, 0, size+int64(len(p.tail))))
	}
}

// plain returns the bytes of the directory with what the decoder needs.
func (d *directory) plain() []byte {
	var entries []byte
	cmyk := d.value(tagPhotometric, 1) == 5
	short := func(tag, value uint16) {
		entries = d.order.AppendUint16(entries, tag)
		entries = d.order.AppendUint16(entries, 3)
		entries = d.order.AppendUint32(entries, 1)
		entries = d.order.AppendUint16(entries, value)
		entries = append(entries, 0, 0)
	}
	for _, tag := range []uint16{tagWidth, tagHeight, tagBits, tagCompression, tagPhotometric, tagFillOrder,
		tagStripOffsets, tagSamples, tagRowsPerStrip, tagStripByteCounts, tagT6Options,
		tagPredictor, tagColorMap, tagTileWidth, tagTileLength, tagTileOffsets, tagTileByteCounts,
		tagExtraSamples, tagSampleFormat} {
		e := d.entry(tag)
		switch {
		case cmyk && tag == tagPhotometric:
			short(tag, 2)
		case cmyk && tag == tagExtraSamples:
			short(tag, 2)
		case tag == tagPhotometric && e == nil:
			short(tag, 1)
		case e != nil:
			entries = append(entries, e...)
		}
	}
	b := d.order.AppendUint16(nil, uint16(len(entries)/entrySize))
	return append(append(b, entries...), 0, 0, 0, 0)
}

// inks returns what the decoder took for RGB with alpha as the CMYK it is.
func inks(img image.Image) image.Image {
	switch m := img.(type) {
	case *image.NRGBA:
		return &image.CMYK{Pix: m.Pix, Stride: m.Stride, Rect: m.Rect}
	case *image.NRGBA64:
		pix := m.Pix[:len(m.Pix)/2]
		for i := range pix {
			pix[i] = to8(binary.BigEndian.Uint16(m.Pix[2*i:]))
		}
		return &image.CMYK{Pix: pix, Stride: m.Stride / 2, Rect: m.Rect}
	}
	return img
}

// plain reads a file with another header, and with a tail behind its end.
type plain struct {
	r    io.ReaderAt
	size int64
	head []byte
	tail []byte
}

func (p *plain) ReadAt(b []byte, at int64) (n int, err error) {
	for n < len(b) {
		pos := at + int64(n)
		var k int
		switch {
		case pos < int64(len(p.head)):
			k = copy(b[n:], p.head[pos:])
		case pos < p.size:
			k, err = p.r.ReadAt(b[n:min(int64(len(b)), int64(n)+p.size-pos)], pos)
			if k == 0 {
				return n, err
			}
		case pos < p.size+int64(len(p.tail)):
			k = copy(b[n:], p.tail[pos-p.size:])
		default:
			return n, io.EOF
		}
		n += k
	}
	return n, nil
}
