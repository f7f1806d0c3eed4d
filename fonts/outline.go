package fonts

import (
	"errors"
	"math"

	ot "github.com/go-text/typesetting/font/opentype"
	"github.com/go-text/typesetting/font/opentype/tables"
)

// Point is a place in font units, y upwards.
type Point struct{ X, Y int32 }

// SegmentOp says how a segment gets to its last point.
type SegmentOp uint8

const (
	MoveTo SegmentOp = iota // Args[0]: start of a contour
	LineTo                  // Args[0]
	QuadTo                  // Args[0] control, Args[1] end: TrueType
	CubeTo                  // Args[0], Args[1] controls, Args[2] end: CFF
)

func (op SegmentOp) String() string {
	return [...]string{"MoveTo", "LineTo", "QuadTo", "CubeTo"}[op&3]
}

// A Segment is one step along a contour.
type Segment struct {
	Op   SegmentOp
	Args [3]Point
}

// Outline is the glyph's shape, in font units. Points that lie between units,
// such as those TrueType implies midway between two controls, are rounded.
// Every contour begins with a MoveTo and ends where it began; fill by the
// non-zero winding rule. A space, and a glyph that is damaged, has no segments.
func (f *Face) Outline(g GID) []Segment {
	var segs []Segment
	var err error
	if f.CFF {
		segs, err = f.outlineCFF(g)
	} else {
		segs, err = f.outlineTrueType(g)
	}
	if err != nil {
		return nil
	}
	return segs
}

// Extents is the box around the glyph's ink, all zero if it has none. For
// TrueType it is the box recorded with the glyph, for CFF that of its points.
func (f *Face) Extents(g GID) (xMin, yMin, xMax, yMax int32) {
	if !f.CFF {
		if d := table(f.glyphData(g)); len(d) >= 10 {
			return int32(d.i16(2)), int32(d.i16(4)), int32(d.i16(6)), int32(d.i16(8))
		}
		return 0, 0, 0, 0
	}
	first := true
	for _, s := range f.Outline(g) {
		for _, p := range s.Args[:s.points()] {
			if first {
				xMin, yMin, xMax, yMax, first = p.X, p.Y, p.X, p.Y, false
			}
			xMin, yMin, xMax, yMax = min(xMin, p.X), min(yMin, p.Y), max(xMax, p.X), max(yMax, p.Y)
		}
	}
	return xMin, yMin, xMax, yMax
}

// points is the number of Args in use.
func (s Segment) points() int {
	switch s.Op {
	case QuadTo:
		return 2
	case CubeTo:
		return 3
	}
	return 1
}

func (f *Face) outlineCFF(g GID) (segs []Segment, err error) {
	defer recovered(&err)
	c, err := f.cff()
	if err != nil {
		return nil, err
	}
	raw, _, err := c.LoadGlyph(g)
	if err != nil {
		return nil, err
	}
	var start, at Point
	closed := func() {
		if at != start {
			segs = append(segs, Segment{LineTo, [3]Point{start}})
		}
	}
	for _, s := range raw {
		seg := Segment{Op: SegmentOp(s.Op)}
		n := seg.points()
		for i, p := range s.Args[:n] {
			seg.Args[i] = Point{int32(math.Round(float64(p.X))), int32(math.Round(float64(p.Y)))}
		}
		if s.Op == ot.SegmentOpMoveTo {
			closed()
			start = seg.Args[0]
		}
		at = seg.Args[n-1]
		segs = append(segs, seg)
	}
	closed()
	return segs, nil
}

// glyphData is the glyph's description in table glyf, nil if it is empty.
func (f *Face) glyphData(g GID) []byte {
	if int(g) >= f.src.numGlyphs() {
		return nil
	}
	glyf, loca := f.src.table("glyf"), f.src.table("loca")
	var from, to uint64
	if f.src.table("head").u16(50) != 0 { // indexToLocFormat
		from, to = uint64(loca.u32(4*int(g))), uint64(loca.u32(4*int(g)+4))
	} else {
		from, to = 2*uint64(loca.u16(2*int(g))), 2*uint64(loca.u16(2*int(g)+2))
	}
	if from >= to || to > uint64(len(glyf)) {
		return nil
	}
	return glyf[from:to]
}

// contourPoint is a point of a TrueType contour, in 1/64 font unit so that the
// scaling of parts stays exact enough.
type contourPoint struct {
	x, y    int32
	on, end bool // on the curve; last of its contour
}

// A composite glyph may not grow beyond these; no real face comes near.
const (
	maxDepth  = 8
	maxPoints = 1 << 16
	maxParts  = 1 << 10
)

var errGlyph = errors.New("the font is damaged: a glyph makes no sense")

func (f *Face) outlineTrueType(g GID) (segs []Segment, err error) {
	defer recovered(&err)
	parts := 0
	points, err := f.contours(nil, g, 0, &parts)
	if err != nil {
		return nil, err
	}
	for len(points) > 0 {
		n := 1
		for n < len(points) && !points[n-1].end {
			n++
		}
		segs = appendContour(segs, points[:n])
		points = points[n:]
	}
	return segs, nil
}

// contours appends the glyph's points to points, those of its parts in their
// places (OpenType 1.9, "glyf": composite glyph description).
func (f *Face) contours(points []contourPoint, g GID, depth int, parts *int) ([]contourPoint, error) {
	data := f.glyphData(g)
	if data == nil {
		return points, nil
	}
	if *parts++; depth > maxDepth || *parts > maxParts {
		return nil, errGlyph
	}
	glyph, _, err := tables.ParseGlyph(data)
	if err != nil {
		return nil, err
	}
	base := len(points)
	switch d := glyph.Data.(type) {
	case tables.SimpleGlyph:
		if len(points)+len(d.Points) > maxPoints {
			return nil, errGlyph
		}
		for _, p := range d.Points {
			points = append(points, contourPoint{x: int32(p.X) << 6, y: int32(p.Y) << 6, on: p.Flag&1 != 0})
		}
		for _, e := range d.EndPtsOfContours {
			if int(e) >= len(d.Points) {
				return nil, errGlyph
			}
			points[base+int(e)].end = true
		}
	case tables.CompositeGlyph:
		for _, part := range d.Glyphs {
			from := len(points)
			if points, err = f.contours(points, part.GlyphIndex, depth+1, parts); err != nil {
				return nil, err
			}
			var m [4]int64 // 2.14 fixed
			for i, s := range part.Scale {
				m[i] = int64(s * (1 << 14))
			}
			for i := from; i < len(points); i++ {
				p := &points[i]
				x, y := int64(p.x), int64(p.y)
				p.x, p.y = int32((x*m[0]+y*m[2])>>14), int32((x*m[1]+y*m[3])>>14)
			}
			var dx, dy int32
			if part.IsAnchored() { // a point of this part goes onto one of those before
				at, own := part.ArgsAsIndices()
				if base+at >= from || from+own >= len(points) {
					return nil, errGlyph
				}
				dx, dy = points[base+at].x-points[from+own].x, points[base+at].y-points[from+own].y
			} else {
				tx, ty := part.ArgsAsTranslation()
				dx, dy = int32(tx)<<6, int32(ty)<<6
				if part.IsScaledOffsets() {
					dx = int32(float64(dx) * math.Hypot(float64(part.Scale[0]), float64(part.Scale[1])))
					dy = int32(float64(dy) * math.Hypot(float64(part.Scale[2]), float64(part.Scale[3])))
				}
			}
			for i := from; i < len(points); i++ {
				points[i].x += dx
				points[i].y += dy
			}
		}
	}
	return points, nil
}

// appendContour turns the points of one closed contour into segments. Between
// two controls in a row lies an implied point, midway.
func appendContour(segs []Segment, c []contourPoint) []Segment {
	round := func(p contourPoint) Point { return Point{(p.x + 32) >> 6, (p.y + 32) >> 6} }
	mid := func(p, q contourPoint) contourPoint { return contourPoint{x: (p.x + q.x) >> 1, y: (p.y + q.y) >> 1} }

	first := 0 // begin on the curve
	for first < len(c) && !c[first].on {
		first++
	}
	var start contourPoint
	if first == len(c) {
		first = 0
		start = mid(c[len(c)-1], c[0])
	} else {
		start = c[first]
		first++
	}
	segs = append(segs, Segment{MoveTo, [3]Point{round(start)}})
	at, control, curved := start, contourPoint{}, false
	to := func(p contourPoint) {
		switch {
		case curved:
			segs = append(segs, Segment{QuadTo, [3]Point{round(control), round(p)}})
		case round(p) != round(at):
			segs = append(segs, Segment{LineTo, [3]Point{round(p)}})
		}
		at, curved = p, false
	}
	for i := range c {
		p := c[(first+i)%len(c)]
		if p.on {
			to(p)
			continue
		}
		if curved {
			to(mid(control, p))
		}
		control, curved = p, true
	}
	to(start)
	return segs
}
