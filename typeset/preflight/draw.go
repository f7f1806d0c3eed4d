package preflight

import (
	"errors"
	"image"
	"image/color"
	"image/draw"
	"math"
)

// The colours of a picture: of paper around the trim and inside it, of marks,
// of the edges, and of findings.
var (
	around   = color.RGBA{0xE4, 0xE1, 0xDA, 0xFF}
	paper    = color.RGBA{0xFF, 0xFF, 0xFF, 0xFF}
	textBar  = color.RGBA{0xC9, 0xCC, 0xD1, 0xFF}
	solid    = color.RGBA{0x9A, 0xA0, 0xA8, 0xFF}
	imageBox = color.RGBA{0xB7, 0xC6, 0xB9, 0xFF}
	trimEdge = color.RGBA{0x20, 0x24, 0x2C, 0xFF}
	safeEdge = color.RGBA{0x4C, 0x7D, 0xA8, 0xFF}
	stopping = color.RGBA{0xB3, 0x26, 0x1E, 0xFF}
	looking  = color.RGBA{0xD9, 0x8A, 0x00, 0xFF}
)

// ErrPage is the error for a page that the file does not have.
var ErrPage = errors.New("the file has no such page")

// mostPixels bounds a side of a picture.
const mostPixels = 20_000

// Draw draws what lies where on a page, counted from 1, and marks its
// findings: text as bars, pictures and shapes as boxes, the trim and the
// safety margin as lines; what stops the file is framed in red, what to look
// at in ochre. It shows places, not type.
func (r *Report) Draw(page, dpi int, l Limits) (*image.RGBA, error) {
	if page < 1 || page > len(r.Pages) {
		return nil, ErrPage
	}
	p := &r.Pages[page-1]
	s := float64(dpi) / 72
	wide, high := (p.Media.X1-p.Media.X0)*s, (p.Media.Y1-p.Media.Y0)*s
	if !(wide >= 1 && high >= 1 && wide <= mostPixels && high <= mostPixels) {
		return nil, errors.New("the page has no size that can be drawn")
	}
	img := image.NewRGBA(image.Rect(0, 0, int(math.Ceil(wide)), int(math.Ceil(high))))
	place := func(b Box) image.Rectangle {
		b = b.within(p.Media)
		return image.Rect(int((b.X0-p.Media.X0)*s), int((p.Media.Y1-b.Y1)*s), int(math.Ceil((b.X1-p.Media.X0)*s)), int(math.Ceil((p.Media.Y1-b.Y0)*s)))
	}
	fill := func(b image.Rectangle, c color.RGBA) {
		draw.Draw(img, b, image.NewUniform(c), image.Point{}, draw.Src)
	}
	frame := func(b image.Rectangle, weight int, c color.RGBA) {
		fill(image.Rect(b.Min.X, b.Min.Y, b.Max.X, b.Min.Y+weight), c)
		fill(image.Rect(b.Min.X, b.Max.Y-weight, b.Max.X, b.Max.Y), c)
		fill(image.Rect(b.Min.X, b.Min.Y, b.Min.X+weight, b.Max.Y), c)
		fill(image.Rect(b.Max.X-weight, b.Min.Y, b.Max.X, b.Max.Y), c)
	}
	thin := max(1, dpi/100)
	fill(img.Rect, around)
	fill(place(p.Trim), paper)
	for _, layer := range []kind{picture, shape, stroke, letters} {
		for i := range p.marks {
			if m := &p.marks[i]; m.kind == layer {
				fill(place(m.box), [...]color.RGBA{textBar, solid, solid, imageBox}[m.kind])
			}
		}
	}
	if safe := l.Safety.Points(); safe > 0 {
		frame(place(Box{p.Trim.X0 + safe, p.Trim.Y0 + safe, p.Trim.X1 - safe, p.Trim.Y1 - safe}), thin, safeEdge)
	}
	frame(place(p.Trim), thin, trimEdge)
	for _, severity := range []Severity{Look, Stops} {
		for _, f := range r.Findings {
			if f.Page == page && f.Box != nil && f.Severity == severity {
				frame(place(*f.Box).Inset(-3*thin).Intersect(img.Rect), 2*thin, [...]color.RGBA{looking, stopping}[severity])
			}
		}
	}
	return img, nil
}
