package picture

import (
	"context"
	"fmt"
	"image"
	"image/color"
	"math"
	"sync"
)

// rgb is a colour at 16 bits a sample, opaque.
type rgb struct{ r, g, b uint16 }

// white is the paper.
const white = 0xffff

// onWhite lays a colour of 16 bits, not yet multiplied by its alpha, on white.
func onWhite(r, g, b, a uint32) rgb {
	lay := func(v uint32) uint16 { return uint16((v*a+white/2)/white + white - a) }
	return rgb{lay(r), lay(g), lay(b)}
}

// rows returns a function that reads row y of a colour picture.
func rows(img image.Image) (func(y int, row []rgb), error) {
	wide := func(v uint8) uint32 { return uint32(v) * 0x101 }
	opaque := func(r, g, b uint8) rgb { return rgb{uint16(r) * 0x101, uint16(g) * 0x101, uint16(b) * 0x101} }
	switch m := img.(type) {
	case *image.RGBA: // multiplied by alpha, as of color.RGBA
		return func(y int, row []rgb) {
			p := m.Pix[y*m.Stride:]
			for x := range row {
				paper := 255 - p[4*x+3]
				row[x] = opaque(addTo255(p[4*x], paper), addTo255(p[4*x+1], paper), addTo255(p[4*x+2], paper))
			}
		}, nil
	case *image.RGBA64:
		return func(y int, row []rgb) {
			for x := range row {
				c := m.RGBA64At(x, y)
				paper := white - uint32(c.A)
				lay := func(v uint16) uint16 { return uint16(min(white, uint32(v)+paper)) }
				row[x] = rgb{lay(c.R), lay(c.G), lay(c.B)}
			}
		}, nil
	case *image.NRGBA:
		return func(y int, row []rgb) {
			p := m.Pix[y*m.Stride:]
			for x := range row {
				row[x] = onWhite(wide(p[4*x]), wide(p[4*x+1]), wide(p[4*x+2]), wide(p[4*x+3]))
			}
		}, nil
	case *image.NRGBA64:
		return func(y int, row []rgb) {
			for x := range row {
				c := m.NRGBA64At(x, y)
				row[x] = onWhite(uint32(c.R), uint32(c.G), uint32(c.B), uint32(c.A))
			}
		}, nil
	case *image.YCbCr: // of JPEG
		return func(y int, row []rgb) {
			for x := range row {
				c := m.YCbCrAt(x, y)
				row[x] = opaque(color.YCbCrToRGB(c.Y, c.Cb, c.Cr))
			}
		}, nil
	case *image.Paletted:
		var palette [256]rgb
		for i, c := range m.Palette[:min(256, len(m.Palette))] {
			n := color.NRGBA64Model.Convert(c).(color.NRGBA64)
			palette[i] = onWhite(uint32(n.R), uint32(n.G), uint32(n.B), uint32(n.A))
		}
		return func(y int, row []rgb) {
			for x, i := range m.Pix[y*m.Stride:][:len(row)] {
				row[x] = palette[i]
			}
		}, nil
	case studio:
		return m.row, nil
	}
	return nil, fmt.Errorf("its pixels are of a kind (%T) that cannot be printed: save it as PNG", img)
}

func addTo255(v, more uint8) uint8 { return uint8(min(255, int(v)+int(more))) }

// toGray returns a picture as gray, a byte a pixel.
func toGray(ctx context.Context, img image.Image) ([]byte, error) {
	width, height := img.Bounds().Dx(), img.Bounds().Dy()
	pix := make([]byte, width*height)
	var fill func(y int, row []byte)
	switch m := img.(type) {
	case *image.Gray:
		fill = func(y int, row []byte) { copy(row, m.Pix[y*m.Stride:]) }
	case *image.Gray16:
		fill = func(y int, row []byte) {
			for x := range row {
				row[x] = to8(m.Gray16At(x, y).Y)
			}
		}
	case *image.CMYK:
		fill = func(y int, row []byte) {
			for x, p := 0, m.Pix[y*m.Stride:]; x < len(row); x, p = x+1, p[4:] {
				row[x] = grayOfCMYK(p[0], p[1], p[2], p[3])
			}
		}
	default:
		read, err := rows(img)
		if err != nil {
			return nil, err
		}
		l := luminance()
		colours := make([]rgb, width)
		fill = func(y int, row []byte) {
			read(y, colours)
			for x, c := range colours {
				row[x] = l.gray(c)
			}
		}
	}
	for y := range height {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		fill(y, pix[y*width:][:width])
	}
	return pix, nil
}

// toCMYK returns a colour picture as CMYK, four bytes a pixel.
func toCMYK(ctx context.Context, img image.Image) ([]byte, error) {
	width, height := img.Bounds().Dx(), img.Bounds().Dy()
	pix := make([]byte, 4*width*height)
	var fill func(y int, row []byte)
	if m, ok := img.(*image.CMYK); ok {
		fill = func(y int, row []byte) { copy(row, m.Pix[y*m.Stride:]) }
	} else {
		read, err := rows(img)
		if err != nil {
			return nil, err
		}
		colours := make([]rgb, width)
		fill = func(y int, row []byte) {
			read(y, colours)
			for x, c := range colours {
				copy(row[4*x:], cmykOf(c))
			}
		}
	}
	for y := range height {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		fill(y, pix[4*y*width:][:4*width])
	}
	return pix, nil
}

// to8 rounds a sample of 16 bits to 8.
func to8(v uint16) uint8 { return uint8((uint32(v)*255 + white/2) / white) }

// grayOfCMYK is DeviceCMYK as DeviceGray (ISO 32000-1, 10.3.3):
// 1 - min(1, 0.3 c + 0.59 m + 0.11 y + k).
func grayOfCMYK(c, m, y, k uint8) uint8 {
	ink := (30*int(c) + 59*int(m) + 11*int(y) + 100*int(k) + 50) / 100
	return uint8(255 - min(255, ink))
}

// cmykOf is DeviceRGB as DeviceCMYK (ISO 32000-1, 10.3.4), with all the black
// generated that the three have in common and as much removed from them.
func cmykOf(c rgb) []byte {
	cyan, magenta, yellow := 255-to8(c.r), 255-to8(c.g), 255-to8(c.b)
	k := min(cyan, magenta, yellow)
	return []byte{cyan - k, magenta - k, yellow - k, k}
}

// tables turn coded samples into linear light and back (IEC 61966-2-1).
type tables struct {
	light [1 << 16]uint32 // of a sample of 16 bits; full is white
	code  [1<<16 + 1]byte // of light, without its four lowest bits
}

// full is the linear light of white: enough steps for the darkest codes, in
// which the curve is steepest.
const full = 1 << 20

var luminance = sync.OnceValue(func() *tables {
	t := new(tables)
	for i := range t.light {
		v := float64(i) / white
		if v <= 0.04045 {
			v /= 12.92
		} else {
			v = math.Pow((v+0.055)/1.055, 2.4)
		}
		t.light[i] = uint32(math.Round(v * full))
	}
	for i := range t.code {
		v := float64(i) / float64(len(t.code)-1)
		if v <= 0.0031308 {
			v *= 12.92
		} else {
			v = 1.055*math.Pow(v, 1/2.4) - 0.055
		}
		t.code[i] = byte(math.Round(v * 255))
	}
	return t
})

// The weights of red, green and blue in luminance (ITU-R BT.709, 3.2), in
// ten-thousandths.
const red, green, blue = 2126, 7152, 722

// gray returns the gray of the same luminance.
func (t *tables) gray(c rgb) byte {
	y := (uint64(red)*uint64(t.light[c.r]) + green*uint64(t.light[c.g]) + blue*uint64(t.light[c.b]) + 5000) / 10_000
	return t.code[(y+8)>>4]
}

// studio is the picture of a lossy WebP file. Its samples are not those of
// JPEG: black is 16, white 235 (RFC 6386, 9.2, after ITU-R BT.601).
type studio struct {
	*image.YCbCr
	alpha  []byte // nil where it is opaque
	stride int
}

func (s studio) row(y int, row []rgb) {
	for x := range row {
		c := s.YCbCrAt(x, y)
		// BT.601, 3.5: 255/219 and 255/224, with the weights 0.299, 0.587, 0.114; times 65536.
		luma := 76309 * (int32(c.Y) - 16)
		cb, cr := int32(c.Cb)-128, int32(c.Cr)-128
		clip := func(v int32) uint32 { return uint32(min(255, max(0, (v+1<<15)>>16))) * 0x101 }
		r, g, b := clip(luma+104597*cr), clip(luma-25675*cb-53279*cr), clip(luma+132201*cb)
		a := uint32(white)
		if s.alpha != nil {
			a = uint32(s.alpha[y*s.stride+x]) * 0x101
		}
		row[x] = onWhite(r, g, b, a)
	}
}
