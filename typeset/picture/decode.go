package picture

import (
	"context"
	"errors"
	"fmt"
	"image"
	"io"
)

// Options says how a picture is decoded. The zero value makes it gray.
type Options struct {
	Colour bool // colour becomes CMYK; what is gray stays gray
}

// Image is a picture as the press takes it, upright.
type Image struct {
	Width, Height int    // in pixels
	Model         Model  // Bilevel, Gray or CMYK
	Pix           []byte // rows from the top, each of Stride bytes

	// JPEG is the same picture as a baseline gray JPEG file without notes,
	// where its file is one; else nil.
	JPEG []byte
}

// Stride returns the bytes of a row. Gray has one byte a pixel, 255 for white;
// CMYK four, 255 for full ink; Bilevel one bit, 1 for white, the first pixel
// highest, and rows filled up to whole bytes.
func (m *Image) Stride() int {
	switch m.Model {
	case Bilevel:
		return (m.Width + 7) / 8
	case CMYK:
		return 4 * m.Width
	}
	return m.Width
}

// Image returns the picture for drawing: an *image.Gray or *image.CMYK, which
// share its pixels unless it is Bilevel.
func (m *Image) Image() image.Image {
	bounds := image.Rect(0, 0, m.Width, m.Height)
	switch m.Model {
	case CMYK:
		return &image.CMYK{Pix: m.Pix, Stride: m.Stride(), Rect: bounds}
	case Bilevel:
		gray := image.NewGray(bounds)
		for y := range m.Height {
			row := m.Pix[y*m.Stride():]
			for x := range m.Width {
				gray.Pix[y*gray.Stride+x] = -(row[x/8] >> (7 - x%8) & 1)
			}
		}
		return gray
	}
	return &image.Gray{Pix: m.Pix, Stride: m.Stride(), Rect: bounds}
}

// Decode reads the pixels of a picture file. An error names the file and says
// in one line what is wrong and how to mend it, or is that of ctx.
func Decode(ctx context.Context, path string, o Options) (*Image, error) {
	f, err := open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	img, err := decode(ctx, f, f.size, f.info, o)
	if err != nil {
		return nil, fmt.Errorf("picture %s: %w", path, err)
	}
	return img, nil
}

func decode(ctx context.Context, r io.ReaderAt, size int64, info Info, o Options) (*Image, error) {
	pixels, err := readPixels(cancelled{ctx, r}, size, info)
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	if err != nil {
		return nil, err
	}
	img := &Image{Width: info.Width, Height: info.Height, Model: Gray}
	if o.Colour && info.Model != Gray && info.Model != Bilevel {
		img.Model = CMYK
		img.Pix, err = toCMYK(ctx, pixels)
		img.Pix = turn(img.Pix, pixels.Bounds().Dx(), pixels.Bounds().Dy(), 4, info.Orientation)
	} else {
		img.Pix, err = toGray(ctx, pixels)
		img.Pix = turn(img.Pix, pixels.Bounds().Dx(), pixels.Bounds().Dy(), 1, info.Orientation)
	}
	if err != nil {
		return nil, err
	}
	if info.Model == Bilevel {
		img.pack()
	}
	if info.Format == JPEG && info.Model == Gray && info.Orientation == 1 {
		if img.JPEG, err = bareJPEG(r, size); err != nil {
			return nil, err
		}
	}
	return img, nil
}

// readPixels runs the decoder of a format. The decoders are the work of
// others, and the file that of a stranger: should one panic, the file is at fault.
func readPixels(r io.ReaderAt, size int64, info Info) (img image.Image, err error) {
	defer func() {
		if p := recover(); p != nil {
			err = unreadable(fmt.Errorf("%v", p))
		}
	}()
	img, err = decoders[info.Format].decode(r, size)
	if err != nil {
		return nil, unreadable(err)
	}
	width, height := info.Width, info.Height
	if info.Turned() {
		width, height = height, width
	}
	if b := img.Bounds(); b.Dx() != width || b.Dy() != height {
		return nil, unreadable(errors.New("they are more or fewer than the header says"))
	}
	if info.Format == TIFF && info.Model == CMYK {
		return inks(img), nil
	}
	return img, nil
}

// cancelled stops a reader when its context ends.
type cancelled struct {
	ctx context.Context
	io.ReaderAt
}

func (c cancelled) ReadAt(b []byte, at int64) (int, error) {
	if err := c.ctx.Err(); err != nil {
		return 0, err
	}
	return c.ReaderAt.ReadAt(b, at)
}

// pack makes a gray picture bilevel, unless it has a gray: transparency, or a
// palette, may have made one.
func (m *Image) pack() {
	for _, v := range m.Pix {
		if v != 0 && v != 255 {
			return
		}
	}
	packed := &Image{Width: m.Width, Height: m.Height, Model: Bilevel}
	stride := packed.Stride()
	packed.Pix = make([]byte, stride*m.Height)
	for y := range m.Height {
		for x, v := range m.Pix[y*m.Width:][:m.Width] {
			packed.Pix[y*stride+x/8] |= v & 0x80 >> (x % 8)
		}
	}
	*m = *packed
}

// turn puts rows of pixels, each of so many bytes, upright. width and height
// are those of the file.
func turn(pix []byte, width, height, bytes, orientation int) []byte {
	if pix == nil || orientation <= 1 {
		return pix
	}
	w, h := width, height
	if orientation >= 5 {
		w, h = h, w
	}
	turned := make([]byte, len(pix))
	for y := range h {
		for x := range w {
			fx, fy := x, y // in the file (TIFF 6.0, Orientation)
			if orientation >= 5 {
				fx, fy = y, x
			}
			switch orientation {
			case 2, 3, 7, 8:
				fx = width - 1 - fx
			}
			switch orientation {
			case 3, 4, 6, 7:
				fy = height - 1 - fy
			}
			copy(turned[(y*w+x)*bytes:][:bytes], pix[(fy*width+fx)*bytes:])
		}
	}
	return turned
}
