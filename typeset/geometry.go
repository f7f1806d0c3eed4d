package typeset

import (
	"fmt"

	"bodkin/fonts"
	"bodkin/typeset/length"
)

// backs are the back margins that "auto" gives by the number of pages: the
// thicker a block, the more of each page its binding hides. Common practice;
// a printer's own table decides.
var backs = []struct {
	most   int // pages
	margin length.Length
}{
	{150, length.Inch / 2},
	{300, length.Inch * 5 / 8},
	{500, length.Inch * 3 / 4},
	{700, length.Inch * 7 / 8},
	{0, length.Inch},
}

// back returns the back margin for a book of the given number of pages.
func (s *Setting) back(pages int) length.Length {
	if !s.Margins.Back.Auto {
		return s.Margins.Back.Value.Length
	}
	for _, b := range backs {
		if pages <= b.most {
			return b.margin
		}
	}
	return backs[len(backs)-1].margin
}

// The least that makes a page of text: characters a line are some two to an
// em, so ten ems are twenty.
const (
	leastEms  = 10
	leastRows = 8
)

// block returns the text block of a recto, with the given back margin.
func (s *Setting) block(face *fonts.Face, back length.Length) (Block, error) {
	size, m := s.Size.Length, s.Margins
	trim := s.Trim.Size()
	b := Block{
		Left:     back,
		Leading:  s.Leading.At(size, face),
		Measure:  trim.Width - back - m.ForeEdge.Length,
		Ascender: size.Scale(int64(face.CapHeight), int64(face.Upem)),
	}
	b.Baseline = m.Head.Length + b.Ascender
	depth := trim.Height - m.Head.Length - m.Foot.Length - b.Ascender
	switch {
	case size < 4*length.Point || size > 72*length.Point:
		return b, fmt.Errorf("size %v: type for reading runs from 4pt to 72pt", s.Size)
	case b.Leading < size*3/4:
		return b, fmt.Errorf("leading %v: lines of %v type would run into each other; set at least %v",
			s.Leading, s.Size, length.Value{Length: size * 3 / 4})
	case back < 0 || m.ForeEdge.Length < 0 || m.Head.Length < 0 || m.Foot.Length < 0:
		return b, fmt.Errorf("margins: none may be negative")
	case b.Measure < leastEms*size:
		return b, fmt.Errorf("margins: %v and %v leave a line of %v on a page %v wide, and %v type needs %v; narrow the margins, or set smaller",
			length.Value{Length: back, Unit: s.Trim.Width.Unit}, m.ForeEdge, length.Value{Length: b.Measure}, s.Trim.Width, s.Size,
			length.Value{Length: leastEms * size})
	case depth < (leastRows-1)*b.Leading:
		return b, fmt.Errorf("margins: %v at the head and %v at the foot leave fewer than %d lines on a page %v high; narrow them, or set smaller",
			m.Head, m.Foot, leastRows, s.Trim.Height)
	}
	b.Rows = int(depth/b.Leading) + 1
	return b, nil
}

// indent returns the indent of a paragraph's first line.
func (s *Setting) indent() length.Length {
	if s.Indent.Auto {
		return s.Size.Length
	}
	return s.Indent.Value.Length
}

// headingSize returns the size of a section's title.
func (s *Setting) headingSize() length.Length {
	if s.HeadingSize.Auto {
		return 18 * length.Point
	}
	return s.HeadingSize.Value.Length
}
