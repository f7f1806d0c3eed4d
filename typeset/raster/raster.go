package raster

import (
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"io"
	"math"

	"bodkin/typeset"
	"bodkin/typeset/length"
)

// Options says how a page is drawn.
type Options struct {
	DPI    int           // dots to the inch, LeastDPI to MostDPI
	Guides bool          // with text block, grid, safety margin and trim under the text
	Safety length.Length // the safety margin that guides show; 0 for none
	Colour bool          // pictures keep their colours, as they are printed in CMYK

	// Findings are marked in colour under the text, those on the pages drawn.
	Findings []typeset.Finding
}

// The dots to the inch that make sense: below, type is a smudge; above, a
// picture shows nothing that a press could print.
const (
	LeastDPI = 18
	MostDPI  = 2400
)

// mostDots is how many dots a picture may have; a gray one of them takes 128 MiB.
const mostDots = 1 << 27

// Page draws the page at index i of l.
func Page(l *typeset.Layout, i int, o Options) (image.Image, error) {
	if err := check(l, i, o); err != nil {
		return nil, err
	}
	return drawPages(l, []int{i}, o)
}

// Spread draws the spread that holds the page at index i: a verso and the
// recto that faces it. The first recto stands alone at the right, as it does
// in a book. Where a spread has no page, its place is gray.
func Spread(l *typeset.Layout, i int, o Options) (image.Image, error) {
	if err := check(l, i, o); err != nil {
		return nil, err
	}
	s := l.Spread((i + 1) / 2)
	return drawPages(l, []int{s.Verso, s.Recto}, o)
}

// WritePNG writes a picture as PNG.
func WritePNG(w io.Writer, img image.Image) error {
	if err := png.Encode(w, img); err != nil {
		return fmt.Errorf("raster: writing the picture: %w", err)
	}
	return nil
}

func check(l *typeset.Layout, i int, o Options) error {
	switch {
	case l == nil || i < 0 || i >= len(l.Pages):
		n := 0
		if l != nil {
			n = len(l.Pages)
		}
		return fmt.Errorf("raster: there is no page %d in a layout of %d", i+1, n)
	case o.DPI < LeastDPI || o.DPI > MostDPI:
		return fmt.Errorf("raster: %d dots to the inch cannot be drawn: choose %d to %d", o.DPI, LeastDPI, MostDPI)
	case l.Trim.Width <= 0 || l.Trim.Height <= 0 || l.Trim.Width > length.Max || l.Trim.Height > length.Max:
		return fmt.Errorf("raster: the trim of %v by %v is not a page", l.Trim.Width, l.Trim.Height)
	}
	return nil
}

// drawPages draws pages side by side; -1 is an empty place.
func drawPages(l *typeset.Layout, pages []int, o Options) (image.Image, error) {
	p := printer{scale: float64(o.DPI) / float64(length.Inch)}
	size := image.Rect(0, 0, p.dots(l.Trim.Width*length.Length(len(pages))), p.dots(l.Trim.Height))
	if size.Dx()*size.Dy() > mostDots {
		return nil, fmt.Errorf("raster: a picture of %d by %d dots is too large: choose fewer dots to the inch", size.Dx(), size.Dy())
	}
	p.ink = image.NewAlpha(size)
	for place, i := range pages {
		if i < 0 {
			continue
		}
		left := l.Trim.Width * length.Length(place)
		p.page = image.Rect(p.dots(left), 0, p.dots(left+l.Trim.Width), size.Dy())
		for n := range l.Pages[i].Lines {
			line := &l.Pages[i].Lines[n]
			for r := range line.Runs {
				if err := p.run(&line.Runs[r], line, left); err != nil {
					return nil, fmt.Errorf("raster: page %d, line %d: %w", i+1, n+1, err)
				}
			}
		}
	}
	plates := 0
	for _, i := range pages {
		if i >= 0 {
			plates += len(l.Pages[i].Plates)
		}
	}
	coloured := o.Guides || len(o.Findings) > 0 || o.Colour && plates > 0
	if !coloured && len(pages) == 1 && plates == 0 {
		return inked(p.ink), nil
	}
	var paper draw.Image = image.NewGray(size)
	if coloured {
		paper = image.NewRGBA(size)
	}
	draw.Draw(paper, size, image.White, image.Point{}, draw.Src)
	for place, i := range pages {
		left := l.Trim.Width * length.Length(place)
		if i < 0 {
			empty := image.Rect(p.dots(left), 0, p.dots(left+l.Trim.Width), size.Dy())
			draw.Draw(paper, empty, image.NewUniform(typeset.NoPage), image.Point{}, draw.Src)
			continue
		}
		for n := range l.Pages[i].Plates {
			if err := p.plate(paper, &l.Pages[i].Plates[n], l.Trim, left, o.Colour); err != nil {
				return nil, fmt.Errorf("raster: page %d, plate %d: %w", i+1, n+1, err)
			}
		}
		if o.Guides {
			for _, g := range l.Guides(i, o.Safety) {
				p.guide(paper, g, left)
			}
		}
		page := image.Rect(p.dots(left), 0, p.dots(left+l.Trim.Width), size.Dy())
		for _, m := range l.Marks(i, o.Findings) {
			p.mark(paper, m, left, page)
		}
	}
	if len(pages) > 1 {
		p.guide(paper, typeset.Guide{Role: typeset.GuideFold, X0: l.Trim.Width, X1: l.Trim.Width, Y1: l.Trim.Height}, 0)
	}
	if gray, ok := paper.(*image.Gray); ok {
		for i, a := range p.ink.Pix {
			gray.Pix[i] = uint8(int(gray.Pix[i]) * (255 - int(a)) / 255)
		}
		return gray, nil
	}
	draw.DrawMask(paper, size, image.Black, image.Point{}, p.ink, image.Point{}, draw.Over)
	return paper, nil
}

// inked returns the picture of black ink on white paper.
func inked(ink *image.Alpha) *image.Gray {
	for i, a := range ink.Pix {
		ink.Pix[i] = 255 - a
	}
	return &image.Gray{Pix: ink.Pix, Stride: ink.Stride, Rect: ink.Rect}
}

// dots rounds a length to whole dots.
func (p *printer) dots(l length.Length) int { return int(math.Round(float64(l) * p.scale)) }

// guide draws a rule, one dot wide, or as wide as it should be where dots are
// finer than that.
func (p *printer) guide(paper draw.Image, g typeset.Guide, left length.Length) {
	wide := max(1, p.dots(typeset.GuideWidth))
	x0, y0 := p.dots(left+g.X0)-wide/2, p.dots(g.Y0)-wide/2
	x1, y1 := p.dots(left+g.X1)-wide/2+wide, p.dots(g.Y1)-wide/2+wide
	b := paper.Bounds()
	x0, y0 = min(x0, b.Max.X-wide), min(y0, b.Max.Y-wide) // an edge at the far side still shows
	r := image.Rect(x0, y0, x1, y1).Intersect(b)
	draw.Draw(paper, r, image.NewUniform(color.Color(g.Role.Color())), image.Point{}, draw.Src)
}

// shade is how much of its ink a mark has over words, in 255ths: the letters
// stay the darkest thing on the page.
const shade = 0x60

// mark fills a mark on a page whose left edge is at left; the page's edge cuts it.
func (p *printer) mark(paper draw.Image, m typeset.Mark, left length.Length, page image.Rectangle) {
	ink, _ := m.Kind.Color()
	fill := color.NRGBA{ink.R, ink.G, ink.B, 0xff}
	if m.Shade {
		fill.A = shade
	}
	x0, y0 := p.dots(left+m.X0), p.dots(m.Y0)
	x1, y1 := max(p.dots(left+m.X1), x0+1), max(p.dots(m.Y1), y0+1)
	draw.Draw(paper, image.Rect(x0, y0, x1, y1).Intersect(page), image.NewUniform(fill), image.Point{}, draw.Over)
}
