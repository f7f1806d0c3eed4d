package picture

import (
	"encoding/binary"
	"errors"
	"fmt"
	"io"
)

const pngSignature = "\x89PNG\r\n\x1a\n"

// mostChunks bounds the walk through a file: 8 GiB in chunks of 8 KiB.
const mostChunks = 1 << 20

var errChunks = errors.New("the file has too many parts to be a picture: save it again")

// inspectPNG reads the head of every chunk, and what those hold that matter
// (ISO/IEC 15948, clauses 5 and 11).
func inspectPNG(r io.ReaderAt, size int64) (Info, error) {
	var info Info
	var exifInfo exif
	var buf [1024]byte
	at := int64(len(pngSignature))
	for n := 0; ; n++ {
		if n == mostChunks {
			return info, errChunks
		}
		if err := readAt(r, buf[:8], at); err != nil {
			return info, err
		}
		long, name := int64(binary.BigEndian.Uint32(buf[:4])), string(buf[4:8])
		at += 8
		if long > size-at-4 { // a checksum follows
			return info, errTruncated
		}
		if n == 0 && (name != "IHDR" || long != 13) {
			return info, errors.New("the file has no header: save it again")
		}
		b := buf[:min(long, int64(len(buf)))]
		switch name {
		case "IHDR", "PLTE", "pHYs", "acTL":
			if err := readAt(r, b, at); err != nil {
				return info, err
			}
		}
		switch {
		case n == 0:
			w, h := binary.BigEndian.Uint32(b), binary.BigEndian.Uint32(b[4:])
			if w > 1<<31-1 || h > 1<<31-1 {
				return info, errors.New("the header gives an impossible size: save it again")
			}
			info.Width, info.Height, info.Bits = int(w), int(h), int(b[8])
			info.Alpha = b[9]&4 != 0
			switch b[9] {
			case 0, 4:
				info.Model = Gray
				if info.Bits == 1 {
					info.Model = Bilevel
				}
			case 2, 6:
				info.Model = RGB
			case 3:
				info.Model = Indexed
			default:
				return info, fmt.Errorf("there is no PNG of colour type %d: save it again", b[9])
			}
			if err := checkSize(info.Width, info.Height); err != nil {
				return info, err
			}
		case name == "PLTE" && info.Model == Indexed && info.Bits == 1:
			if p := string(b); p == "\x00\x00\x00\xff\xff\xff" || p == "\xff\xff\xff\x00\x00\x00" {
				info.Model = Bilevel
			}
		case name == "tRNS":
			info.Alpha = true
		case name == "pHYs" && long == 9 && b[8] == 1:
			info.XPPI = perInch(binary.BigEndian.Uint32(b), 1, 10_000, 254)
			info.YPPI = perInch(binary.BigEndian.Uint32(b[4:]), 1, 10_000, 254)
		case name == "acTL" && long == 8 && binary.BigEndian.Uint32(b) != 1:
			return info, errors.New("the picture moves (APNG): export one frame of it as PNG")
		case name == "eXIf":
			exifInfo = readExif(io.NewSectionReader(r, at, long))
			info.Orientation = exifInfo.orientation
		case name == "IEND":
			if info.XPPI == 0 {
				info.XPPI, info.YPPI = exifInfo.x, exifInfo.y
			}
			return info, nil
		}
		at += long + 4
	}
}

// perInch returns num ÷ den pixels in a unit as pixels to the inch, when an
// inch is inch ÷ units of it; 0 when that is no resolution.
func perInch(num, den uint32, units, inch int64) int {
	if den == 0 {
		return 0
	}
	n := (2*int64(num)*inch/int64(den) + units) / (2 * units)
	if n > 100_000 {
		return 0
	}
	return int(n)
}
