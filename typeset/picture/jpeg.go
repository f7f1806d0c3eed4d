package picture

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
)

// Markers of JPEG (ISO/IEC 10918-1, table B.1), without their 0xFF.
const (
	markSOF0  = 0xc0 // baseline
	markSOF1  = 0xc1 // extended
	markSOF2  = 0xc2 // progressive
	markDHT   = 0xc4
	markSOF15 = 0xcf
	markRST0  = 0xd0
	markEOI   = 0xd9
	markSOS   = 0xda
	markDQT   = 0xdb
	markDRI   = 0xdd
	markAPP0  = 0xe0
	markAPP1  = 0xe1
	markAPP14 = 0xee
)

// segment is one of the parts before the pixels of a JPEG file.
type segment struct {
	mark     byte
	from, to int64 // its bytes, after marker and length
}

// segments reads the parts of a JPEG file up to and with the start of the
// scan.
func segments(r io.ReaderAt, size int64) ([]segment, error) {
	var all []segment
	var b [4]byte
	for at := int64(2); ; {
		if err := readAt(r, b[:2], at); err != nil {
			return nil, err
		}
		switch mark := b[1]; {
		case b[0] != 0xff || mark == 0:
			return nil, errors.New("its parts do not follow each other: save it again")
		case mark == 0xff: // fill
			at++
			continue
		case mark == markEOI || len(all) == 10_000:
			return nil, errors.New("the file has no pixels: save it again")
		}
		if err := readAt(r, b[:4], at); err != nil {
			return nil, err
		}
		long := int64(binary.BigEndian.Uint16(b[2:]))
		if long < 2 {
			return nil, errors.New("one of its parts has no length: save it again")
		}
		s := segment{b[1], at + 4, at + 2 + long}
		if s.to > size {
			return nil, errTruncated
		}
		all = append(all, s)
		if s.mark == markSOS {
			return all, nil
		}
		at = s.to
	}
}

func inspectJPEG(r io.ReaderAt, size int64) (Info, error) {
	all, err := segments(r, size)
	if err != nil {
		return Info{}, err
	}
	var info Info
	var notes exif
	adobe := false
	samples := 0
	for _, s := range all {
		b := make([]byte, min(s.to-s.from, 16))
		if err := readAt(r, b, s.from); err != nil {
			return info, err
		}
		switch {
		case s.mark == markAPP0 && bytes.HasPrefix(b, []byte("JFIF\x00")) && len(b) >= 12:
			x, y := uint32(binary.BigEndian.Uint16(b[8:])), uint32(binary.BigEndian.Uint16(b[10:]))
			switch b[7] {
			case 1:
				info.XPPI, info.YPPI = int(x), int(y)
			case 2:
				info.XPPI, info.YPPI = perInch(x, 1, 100, 254), perInch(y, 1, 100, 254)
			}
		case s.mark == markAPP1 && bytes.HasPrefix(b, []byte("Exif\x00\x00")) && notes == exif{}:
			notes = readExif(io.NewSectionReader(r, s.from+6, s.to-s.from-6))
		case s.mark == markAPP14 && bytes.HasPrefix(b, []byte("Adobe")) && len(b) >= 12:
			adobe = true
		case s.mark >= markSOF0 && s.mark <= markSOF2 && len(b) >= 6:
			info.Bits, samples = int(b[0]), int(b[5])
			info.Height, info.Width = int(binary.BigEndian.Uint16(b[1:])), int(binary.BigEndian.Uint16(b[3:]))
		case s.mark > markSOF2 && s.mark <= markSOF15 && s.mark != markDHT && s.mark != 0xc8 && s.mark != 0xcc:
			return info, errors.New("this rare kind of JPEG cannot be read: save it as a baseline JPEG, or as TIFF")
		}
	}
	switch samples {
	case 0:
		return info, errors.New("the file has no header: save it again")
	case 1:
		info.Model = Gray
	case 3:
		info.Model = RGB
	case 4:
		info.Model = CMYK
		if !adobe {
			return info, errors.New("this CMYK JPEG does not say whether 0 is paper or ink: save it as TIFF")
		}
	default:
		return info, fmt.Errorf("a JPEG of %d inks cannot be read: save it as gray, RGB or CMYK", samples)
	}
	if info.Bits != 8 {
		return info, fmt.Errorf("a JPEG of %d bits cannot be read: save it with 8", info.Bits)
	}
	info.Orientation = notes.orientation
	if info.XPPI == 0 || info.YPPI == 0 {
		info.XPPI, info.YPPI = notes.x, notes.y
	}
	return info, checkEnd(r, size, all[len(all)-1].to)
}

// checkEnd looks for the end of the picture in the last bytes of a file whose
// scan begins at from. Some cameras put more behind it.
func checkEnd(r io.ReaderAt, size, from int64) error {
	from = max(from, size-1<<16)
	tail := make([]byte, size-from)
	if err := readAt(r, tail, from); err != nil {
		return err
	}
	if !bytes.Contains(tail, []byte{0xff, markEOI}) {
		return errTruncated
	}
	return nil
}

// bareJPEG returns the file of a baseline gray JPEG with nothing in it but the
// picture; nil when it is of another kind.
func bareJPEG(r io.ReaderAt, size int64) ([]byte, error) {
	all, err := segments(r, size)
	if err != nil {
		return nil, err
	}
	bare := []byte{0xff, 0xd8}
	for _, s := range all {
		switch s.mark {
		case markSOF0, markDHT, markDQT, markDRI, markSOS:
			head := []byte{0xff, s.mark, 0, 0}
			binary.BigEndian.PutUint16(head[2:], uint16(s.to-s.from+2))
			bare = append(bare, head...)
			n := len(bare)
			bare = append(bare, make([]byte, s.to-s.from)...)
			if err := readAt(r, bare[n:], s.from); err != nil {
				return nil, err
			}
			// One component, and the sampling that it has alone.
			if s.mark == markSOF0 && (len(bare)-n != 9 || bare[n+7] != 0x11) {
				return nil, nil
			}
		case markSOF1, markSOF2:
			return nil, nil
		}
	}
	from := all[len(all)-1].to
	scan := make([]byte, size-from)
	if err := readAt(r, scan, from); err != nil {
		return nil, err
	}
	for i := 0; i+1 < len(scan); i++ {
		if scan[i] != 0xff {
			continue
		}
		switch mark := scan[i+1]; {
		case mark == markEOI:
			return append(bare, scan[:i+2]...), nil
		case mark == 0 || mark >= markRST0 && mark < markRST0+8:
			i++
		default:
			return nil, nil // a second scan, or fill
		}
	}
	return nil, errTruncated
}
