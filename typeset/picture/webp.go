package picture

import (
	"encoding/binary"
	"errors"
	"image"
	"io"

	"golang.org/x/image/webp"
)

// inspectWebP reads the head of every chunk (RFC 9649, 2.4 to 2.7). A WebP
// file states no resolution but in EXIF notes.
func inspectWebP(r io.ReaderAt, size int64) (Info, error) {
	info := Info{Bits: 8, Model: RGB}
	var b [10]byte
	if err := readAt(r, b[:8], 0); err != nil {
		return info, err
	}
	end := 8 + int64(binary.LittleEndian.Uint32(b[4:]))
	if end > size {
		return info, errTruncated
	}
	for at, n := int64(12), 0; at < end; n++ {
		if n == mostChunks {
			return info, errChunks
		}
		if err := readAt(r, b[:8], at); err != nil {
			return info, err
		}
		name, long := string(b[:4]), int64(binary.LittleEndian.Uint32(b[4:]))
		at += 8
		if long > size-at {
			return info, errTruncated
		}
		switch name {
		case "VP8X":
			if err := readAt(r, b[:1], at); err != nil {
				return info, err
			}
			if b[0]&2 != 0 {
				return info, errors.New("the picture moves (animated WebP): export one frame of it as PNG")
			}
			info.Alpha = b[0]&16 != 0
		case "VP8L":
			if err := readAt(r, b[:5], at); err != nil {
				return info, err
			}
			info.Alpha = b[4]&0x10 != 0
		case "EXIF":
			from := at
			if long > 6 && readAt(r, b[:6], at) == nil && string(b[:6]) == "Exif\x00\x00" {
				from += 6 // not by the standard, but usual
			}
			notes := readExif(io.NewSectionReader(r, from, at+long-from))
			info.Orientation, info.XPPI, info.YPPI = notes.orientation, notes.x, notes.y
		}
		at += long + long&1
	}
	config, err := whole(webp.DecodeConfig)(r, size)
	if err != nil {
		return info, unreadable(err)
	}
	info.Width, info.Height = config.Width, config.Height
	return info, nil
}

// decodeWebP reads the pixels of a WebP file; those of a lossy one as what
// they are.
func decodeWebP(r io.Reader) (image.Image, error) {
	img, err := webp.Decode(r)
	switch m := img.(type) {
	case *image.YCbCr:
		return studio{YCbCr: m}, err
	case *image.NYCbCrA:
		return studio{&m.YCbCr, m.A, m.AStride}, err
	}
	return img, err
}
