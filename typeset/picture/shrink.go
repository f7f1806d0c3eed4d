package picture

import (
	"image"

	"golang.org/x/image/draw"
)

// Shrunk returns the picture with fewer pixels, each ink for itself, by the
// cubic of Catmull and Rom over all pixels that go into one. A picture that is
// black and white stays as it is, since its edges would turn gray; so does one
// that has no more pixels than are wanted.
func (m *Image) Shrunk(width, height int) *Image {
	if m.Model == Bilevel || width < 1 || height < 1 || width >= m.Width && height >= m.Height {
		return m
	}
	width, height = min(width, m.Width), min(height, m.Height)
	inks := 1
	if m.Model == CMYK {
		inks = 4
	}
	small := &Image{Width: width, Height: height, Model: m.Model, Pix: make([]byte, width*height*inks)}
	from, to := image.NewGray(image.Rect(0, 0, m.Width, m.Height)), image.NewGray(image.Rect(0, 0, width, height))
	for ink := range inks {
		for i := range from.Pix {
			from.Pix[i] = m.Pix[i*inks+ink]
		}
		draw.CatmullRom.Scale(to, to.Rect, from, from.Rect, draw.Src, nil)
		for i, v := range to.Pix {
			small.Pix[i*inks+ink] = v
		}
	}
	return small
}
