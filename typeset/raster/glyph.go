package raster

import (
	"errors"
	"fmt"
	"image"
	"image/draw"
	"math"

	"golang.org/x/image/vector"

	"bodkin/fonts"
	"bodkin/typeset"
	"bodkin/typeset/length"
)

// printer fills glyphs into one picture.
type printer struct {
	scale    float64 // dots to a Length
	ink      *image.Alpha
	page     image.Rectangle // the part of ink that is the page at hand
	pen      vector.Rasterizer
	outlines map[outlineKey]outline

	last    image.Image // the picture that was read last
	lastKey pictureKey
}

type outlineKey struct {
	face *fonts.Face
	gid  fonts.GID
}

// outline is a glyph's shape in font units and the box of its points.
type outline struct {
	segments               []fonts.Segment
	left, foot, right, top int32
}

var errNoGlyphs = errors.New("a run has no face or no glyphs")

// run fills the glyphs of a run of line l, on a page whose left edge is at left.
func (p *printer) run(r *typeset.Run, l *typeset.Line, left length.Length) error {
	if r.Glyphs == nil || r.Glyphs.Face == nil || r.Glyphs.Face.Upem <= 0 {
		return errNoGlyphs
	}
	if r.Size <= 0 || r.Size > length.Max {
		return fmt.Errorf("type cannot have a size of %v", r.Size)
	}
	unit := p.scale * float64(r.Size) / float64(r.Glyphs.Face.Upem) // dots to a font unit
	wide := unit * float64(typeset.Unwidened+int(r.Widen)) / typeset.Unwidened
	var err error
	r.Places(l, func(at typeset.Place) bool {
		err = p.fill(p.outline(r.Glyphs.Face, at.Glyph.ID), wide, unit, float64(left+at.X)*p.scale, float64(at.Y)*p.scale)
		return err == nil
	})
	return err
}

// outline returns the shape of a glyph, which a page asks for many times.
func (p *printer) outline(face *fonts.Face, gid fonts.GID) outline {
	key := outlineKey{face, gid}
	o, ok := p.outlines[key]
	if ok {
		return o
	}
	o.segments = face.Outline(gid)
	o.left, o.foot = math.MaxInt32, math.MaxInt32
	o.right, o.top = math.MinInt32, math.MinInt32
	for _, s := range o.segments {
		for _, pt := range s.Args[:points(s.Op)] {
			o.left, o.right = min(o.left, pt.X), max(o.right, pt.X)
			o.foot, o.top = min(o.foot, pt.Y), max(o.top, pt.Y)
		}
	}
	if p.outlines == nil {
		p.outlines = make(map[outlineKey]outline)
	}
	p.outlines[key] = o
	return o
}

func points(op fonts.SegmentOp) int {
	switch op {
	case fonts.QuadTo:
		return 2
	case fonts.CubeTo:
		return 3
	}
	return 1
}

// fill fills a glyph with its origin at x, y, in dots, by the non-zero winding
// rule. The rasteriser is as small as the glyph: below 512 dots it calculates
// in whole numbers, and its time goes by its size.
func (p *printer) fill(o outline, wide, unit, x, y float64) error {
	if len(o.segments) == 0 {
		return nil
	}
	box := image.Rect(
		int(math.Floor(x+float64(o.left)*wide)), int(math.Floor(y-float64(o.top)*unit)),
		int(math.Ceil(x+float64(o.right)*wide)), int(math.Ceil(y-float64(o.foot)*unit)))
	if !box.Overlaps(p.page) {
		return nil
	}
	if box.Dx() > mostDots/box.Dy() {
		return fmt.Errorf("a glyph of %d by %d dots is too large: choose fewer dots to the inch", box.Dx(), box.Dy())
	}
	x, y = x-float64(box.Min.X), y-float64(box.Min.Y)
	at := func(pt fonts.Point) (float32, float32) {
		return float32(x + float64(pt.X)*wide), float32(y - float64(pt.Y)*unit)
	}
	p.pen.Reset(box.Dx(), box.Dy())
	for _, s := range o.segments {
		ax, ay := at(s.Args[0])
		switch s.Op {
		case fonts.MoveTo:
			p.pen.ClosePath()
			p.pen.MoveTo(ax, ay)
		case fonts.LineTo:
			p.pen.LineTo(ax, ay)
		case fonts.QuadTo:
			bx, by := at(s.Args[1])
			p.pen.QuadTo(ax, ay, bx, by)
		case fonts.CubeTo:
			bx, by := at(s.Args[1])
			cx, cy := at(s.Args[2])
			p.pen.CubeTo(ax, ay, bx, by, cx, cy)
		}
	}
	p.pen.ClosePath()
	if box.In(p.page) {
		p.pen.Draw(p.ink, box, image.Opaque, image.Point{})
		return nil
	}
	whole := image.NewAlpha(box) // the page's edge cuts it
	p.pen.Draw(whole, box, image.Opaque, image.Point{})
	cut := box.Intersect(p.page)
	draw.DrawMask(p.ink, cut, image.Opaque, image.Point{}, whole, cut.Min, draw.Over)
	return nil
}
