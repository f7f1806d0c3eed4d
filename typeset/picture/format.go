package picture

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
	"io"

	"golang.org/x/image/tiff"
	"golang.org/x/image/webp"
)

// decoders read the pixels of each format.
var decoders = map[Format]struct {
	config func(r io.ReaderAt, size int64) (image.Config, error)
	decode func(r io.ReaderAt, size int64) (image.Image, error)
}{
	PNG:  {whole(png.DecodeConfig), whole(png.Decode)},
	JPEG: {whole(jpeg.DecodeConfig), whole(jpeg.Decode)},
	TIFF: {plainTIFF(tiff.DecodeConfig), plainTIFF(tiff.Decode)},
	WebP: {whole(webp.DecodeConfig), whole(decodeWebP)},
}

// whole has a decoder read a file from its first byte.
func whole[T any](decode func(io.Reader) (T, error)) func(io.ReaderAt, int64) (T, error) {
	return func(r io.ReaderAt, size int64) (T, error) { return decode(io.NewSectionReader(r, 0, size)) }
}

// others are formats that are known well enough to say what to do about them,
// by bytes at an offset.
var others = []struct {
	at         int
	magic, say string
}{
	{0, "GIF8", "a GIF has too few colours for print and may move: export it as PNG or TIFF"},
	{0, "%PDF", "this is a PDF: export its page as PNG or TIFF at 600 ppi"},
	{0, "%!PS", "this is PostScript: export it as PNG or TIFF at 600 ppi"},
	{0, "8BPS", "this is a layered working file: export it as TIFF"},
	{0, "BM", "this is a bitmap (BMP): export it as PNG or TIFF"},
	{0, "\xff\x0a", "this is JPEG XL: export it as PNG or TIFF"},
	{4, "JXL ", "this is JPEG XL: export it as PNG or TIFF"},
	{4, "jP  ", "this is JPEG 2000: export it as PNG or TIFF"},
	{4, "ftyp", "this is HEIF or AVIF, or a film: export it as PNG or TIFF"},
	{0, "II\x2b\x00", "this is BigTIFF: export it as TIFF or PNG"},
	{0, "MM\x00\x2b", "this is BigTIFF: export it as TIFF or PNG"},
}

// formatOf tells a format by the beginning of a file.
func formatOf(head []byte) (Format, error) {
	has := func(at int, magic string) bool {
		return len(head) >= at && bytes.HasPrefix(head[at:], []byte(magic))
	}
	switch {
	case has(0, pngSignature):
		return PNG, nil
	case has(0, "\xff\xd8"):
		return JPEG, nil
	case has(0, "II\x2a\x00"), has(0, "MM\x00\x2a"):
		return TIFF, nil
	case has(0, "RIFF") && has(8, "WEBP"):
		return WebP, nil
	}
	for _, o := range others {
		if has(o.at, o.magic) {
			return 0, fmt.Errorf("%s", o.say)
		}
	}
	text := bytes.TrimLeft(bytes.TrimPrefix(head, []byte("\xef\xbb\xbf")), " \t\r\n")
	if bytes.HasPrefix(text, []byte("<")) && bytes.Contains(text, []byte("<svg")) {
		return 0, fmt.Errorf("this is an SVG drawing: export it as PNG or TIFF at 600 ppi")
	}
	for _, magic := range []string{pngSignature, "RIFF"} {
		if n := len(head); n < len(magic) && magic[:n] == string(head) {
			return 0, errTruncated
		}
	}
	return 0, errFormat
}
