package typeset

import (
	"fmt"

	"bodkin/fonts"
	"bodkin/typeset/length"
)

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
			s.Leading, s.Size, tenth(size*3/4))
	case b.Measure < leastEms*size:
		return b, fmt.Errorf("margins: %v and %v leave a line of %v on a page %v wide, and %v type needs %v; narrow the margins, or set smaller",
			length.Value{Length: back, Unit: s.Trim.Width.Unit}, m.ForeEdge, tenth(b.Measure), s.Trim.Width, s.Size,
			tenth(leastEms*size))
	case depth < (leastRows-1)*b.Leading:
		return b, fmt.Errorf("margins: %v at the head and %v at the foot leave fewer than %d lines on a page %v high; narrow them, or set smaller",
			m.Head, m.Foot, leastRows, s.Trim.Height)
	}
	b.Rows = int(depth/b.Leading) + 1
	switch {
	case s.Indent.Value.Length < 0 || s.indent() > b.Measure/2:
		return b, fmt.Errorf("indent %v: an indent runs from 0 to half of a line, here %v", s.Indent, tenth(b.Measure/2))
	case s.headingSize() < 4*length.Point || s.headingSize() > 144*length.Point:
		return b, fmt.Errorf("heading-size %v: titles run from 4pt to 144pt", s.HeadingSize)
	case s.numberSize() < 4*length.Point || s.numberSize() > 144*length.Point:
		return b, fmt.Errorf("number-size %v: the numbers of chapters run from 4pt to 144pt", s.NumberSize)
	case s.subheadingSize() < 4*length.Point || s.subheadingSize() > 72*length.Point:
		return b, fmt.Errorf("subheading-size %v: headings inside a chapter run from 4pt to 72pt", s.Subheading)
	case s.Bleed.Length < 0 || s.Bleed.Length > length.Inch:
		return b, fmt.Errorf("bleed %v: pictures reach from 0 to 1in past the trim", s.Bleed)
	case s.Contents.Levels < 1 || s.Contents.Levels > 2:
		return b, fmt.Errorf("contents.levels %d: write 1 for parts and chapters, or 2 for the headings inside chapters as well", s.Contents.Levels)
	case s.DropLines < 2 || s.DropLines > 4:
		return b, fmt.Errorf("drop-lines %d: a drop capital has from 2 to 4 lines beside it", s.DropLines)
	case s.Sink < 0 || s.Sink > b.Rows/2 && s.Sink != Default().Sink: // the default gives way
		return b, fmt.Errorf("sink %d: it runs from 0 to half of a page, here %d lines", s.Sink, b.Rows/2)
	case back < leastEdge || m.ForeEdge.Length < leastEdge:
		return b, fmt.Errorf("margins: %v and %v at the sides; text must stay %v from the edge of the paper, where the knife may err",
			length.Value{Length: back, Unit: s.Trim.Width.Unit}, m.ForeEdge, length.Value{Length: leastEdge, Unit: s.Trim.Width.Unit})
	case (s.Heads != Heads{} || s.Folios == FolioHeadOuter) && s.headRise(&b) < b.Leading*leastGap/100:
		return b, fmt.Errorf("margins: %v at the head leave no room for a running head; widen it, or set heads = { verso = \"none\", recto = \"none\" }", m.Head)
	case s.Folios != FolioNone && s.folioDrop(&b) < b.Leading*leastGap/100:
		return b, fmt.Errorf("margins: %v at the foot leave no room for a page number; widen it, or set folios = \"none\"", m.Foot)
	case b.Baseline-b.Ascender < leastEdge || trim.Height-b.last() < leastEdge:
		return b, fmt.Errorf("margins: %v and %v at head and foot; text must stay %v from the edge of the paper, where the knife may err",
			m.Head, m.Foot, length.Value{Length: leastEdge, Unit: s.Trim.Width.Unit})
	}
	return b, nil
}

// leastEdge is how near to the trim anything may be printed: an eighth of an
// inch. Common practice; most printers ask for a quarter.
const leastEdge = length.Inch / 8

// Where running heads and folios stand, in hundredths of the leading from the
// text: as far as they should be, and the least that tells them apart from it.
const (
	headGap  = 200
	folioGap = 240
	leastGap = 120
)

// last returns the baseline of the last line of a full page.
func (b *Block) last() length.Length { return b.Baseline + length.Length(b.Rows-1)*b.Leading }

// depth returns what so many rows hold, from the top of the first one's
// capitals to the baseline of the last.
func (b *Block) depth(rows int) length.Length {
	return b.Ascender + length.Length(rows-1)*b.Leading
}

// apart returns how far a head or a folio stands from the text: gap hundredths
// of the leading, or less where the room to the trim, its own height taken off,
// does not leave the safety margin as well.
func (s *Setting) apart(b *Block, gap, room length.Length) length.Length {
	return min(b.Leading*gap/100, max(room-s.Press.safety(), min(room-leastEdge, b.Leading*leastGap/100)))
}

// headRise returns by how much a running head stands above the first line.
func (s *Setting) headRise(b *Block) length.Length {
	return s.apart(b, headGap, b.Baseline-s.Size.Length*2/3)
}

// folioDrop returns by how much a folio at the foot stands below the last
// line of a full page.
func (s *Setting) folioDrop(b *Block) length.Length {
	return s.apart(b, folioGap, s.Trim.Size().Height-b.last()-s.Size.Length/4)
}

// long returns how many rows a spread may run long: one, where that leaves
// the folio clear of the text.
func (s *Setting) long(b *Block) int {
	drop := s.Trim.Size().Height - b.last() - leastEdge
	if s.Folios == FolioFoot || s.Folios == FolioFootOuter {
		drop = s.folioDrop(b)
	}
	if drop-b.Leading < b.Leading*leastGap/100 {
		return 0
	}
	return 1
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
		return max(18*length.Point, s.Size.Length)
	}
	return s.HeadingSize.Value.Length
}

// numberSize returns the size of a chapter's number that has a title below it.
func (s *Setting) numberSize() length.Length {
	if s.NumberSize.Auto {
		return 12 * length.Point
	}
	return s.NumberSize.Value.Length
}

// subheadingSize returns the size of a heading inside a chapter.
func (s *Setting) subheadingSize() length.Length {
	if s.Subheading.Auto {
		return 12 * length.Point
	}
	return s.Subheading.Value.Length
}
