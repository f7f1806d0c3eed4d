package raster

import (
	"context"
	"errors"
	"image"
	"image/draw"
	"path/filepath"

	xdraw "golang.org/x/image/draw"

	"bodkin/markup"
	"bodkin/typeset"
	"bodkin/typeset/length"
	"bodkin/typeset/picture"
)

var errPlate = errors.New("a plate has no picture or no size")

// plate draws a plate on a page whose left edge is at left. The trim cuts it.
func (p *printer) plate(paper draw.Image, plate *typeset.Plate, trim typeset.Size, left length.Length, colour bool) error {
	if plate.Picture == nil || plate.Width <= 0 || plate.Height <= 0 {
		return errPlate
	}
	shown := plate.Shown(typeset.Box{Width: trim.Width, Height: trim.Height})
	if shown == (typeset.Box{}) {
		return nil
	}
	whole, part := p.rectangle(plate.Box(), left), p.rectangle(shown, left).Intersect(paper.Bounds())
	src, err := p.picture(plate.Picture, whole.Size(), colour)
	if err != nil {
		return err
	}
	scaled := image.NewRGBA(part)
	xdraw.CatmullRom.Scale(scaled, whole, src, src.Bounds(), draw.Src, nil)
	gray, ok := paper.(*image.Gray)
	if !ok {
		draw.Draw(paper, part, scaled, part.Min, draw.Src)
		return nil
	}
	for y := part.Min.Y; y < part.Max.Y; y++ {
		row, from := gray.Pix[gray.PixOffset(part.Min.X, y):], scaled.Pix[scaled.PixOffset(part.Min.X, y):]
		for x := range part.Dx() {
			row[x] = from[4*x] // red, green and blue are the same
		}
	}
	return nil
}

// rectangle rounds a box on a page to dots; it has one at least.
func (p *printer) rectangle(b typeset.Box, left length.Length) image.Rectangle {
	r := image.Rect(p.dots(left+b.X), p.dots(b.Y), p.dots(left+b.X+b.Width), p.dots(b.Y+b.Height))
	r.Max.X, r.Max.Y = max(r.Max.X, r.Min.X+1), max(r.Max.Y, r.Min.Y+1)
	return r
}

// picture reads a picture for drawing in a size. The last one is kept, since
// the other half of a spread shows it again.
func (p *printer) picture(pic *markup.Picture, size image.Point, colour bool) (image.Image, error) {
	key := pictureKey{filepath.Clean(pic.Path), size}
	if p.last != nil && p.lastKey == key {
		return p.last, nil
	}
	img, err := picture.Decode(context.Background(), pic.Path, picture.Options{Colour: colour})
	if err != nil {
		return nil, &markup.Error{Pos: pic.Pos, What: err.Error(), Err: err}
	}
	p.last, p.lastKey = reduce(img.Image(), size), key
	return p.last, nil
}

type pictureKey struct {
	path string
	size image.Point
}

// reduce averages squares of a picture that is far larger than it will be
// drawn, so that it stays at least twice as large: drawing takes memory for
// every row of its source.
func reduce(img image.Image, size image.Point) image.Image {
	b := img.Bounds()
	n := max(1, min(b.Dx()/size.X, b.Dy()/size.Y)/2)
	out := image.Rect(0, 0, (b.Dx()+n-1)/n, (b.Dy()+n-1)/n)
	switch img := img.(type) {
	case *image.Gray:
		if n == 1 {
			return img
		}
		return &image.Gray{Pix: average(img.Pix, b.Dx(), b.Dy(), 1, n), Stride: out.Dx(), Rect: out}
	case *image.CMYK:
		inks := average(img.Pix, b.Dx(), b.Dy(), 4, n)
		for i := 0; i < len(inks); i += 4 {
			// DeviceCMYK as DeviceRGB (ISO 32000-1, 10.3.5).
			k := int(inks[i+3])
			for c := i; c < i+3; c++ {
				inks[c] = uint8(255 - min(255, int(inks[c])+k))
			}
			inks[i+3] = 255
		}
		return &image.RGBA{Pix: inks, Stride: 4 * out.Dx(), Rect: out}
	}
	return img
}

// average returns the averages of squares of n by n pixels, of so many samples
// each; those at the right and at the foot may be smaller.
func average(pix []byte, width, height, samples, n int) []byte {
	w, h := (width+n-1)/n, (height+n-1)/n
	out := make([]byte, w*h*samples)
	for y := range h {
		rows := min(n, height-y*n)
		for x := range w {
			columns := min(n, width-x*n)
			for s := range samples {
				sum := rows * columns / 2
				for dy := range rows {
					at := ((y*n+dy)*width+x*n)*samples + s
					for range columns {
						sum += int(pix[at])
						at += samples
					}
				}
				out[(y*w+x)*samples+s] = uint8(sum / (rows * columns))
			}
		}
	}
	return out
}
