package copyfit

import (
	"bodkin/typeset"
	"bodkin/typeset/length"
)

// Look is what a reader meets on a page, and how far it is from what the
// author chose.
type Look struct {
	Characters int           // in a full line, in tenths
	XHeight    length.Length // of the text
	Slender    int           // the x-height in thousandths of the size
	Leading    int           // in thousandths of the size
	Block      int           // thousandths of the page that the text takes
	Margins    [3]length.Length
	Metric     bool // margins are counted in millimetres
	Steps      Steps
}

// Steps is how far a setting is from the one the author chose.
type Steps struct {
	Fewest   bool // page ends aim at the fewest pages, and did not before
	Leading  int  // quarter points
	ForeEdge int  // sixteenths of an inch, or millimetres
	HeadFoot int  // of head and foot together
	Size     int  // quarter points
	Face     bool
	Trim     bool
}

// Score is how well a setting reads: 1000, less the points lost.
type Score struct {
	Total   int `json:"total"`
	Line    int `json:"line"`    // lost by the length of lines
	Type    int `json:"type"`    // by small letters
	Leading int `json:"leading"` // by lines too close or too far apart
	Margins int `json:"margins"`
	Steps   int `json:"steps"` // by the way from the author's setting
}

// The most that each may lose; together less than 1000 and more than any book
// that can be read.
const (
	mostLine, mostType, mostLeading, mostMargins, mostSteps = 300, 350, 250, 200, 150
)

// Rate returns the score of a look. The package comment has the formula.
func Rate(l Look) Score {
	s := Score{Line: line(l.Characters), Type: size(l.XHeight), Leading: leading(l), Margins: margins(l), Steps: l.Steps.loss()}
	s.Total = max(0, 1000-s.Line-s.Type-s.Leading-s.Margins-s.Steps)
	return s
}

// The characters of a line, in tenths: Bringhurst, 2.1.2.
const leastLine, idealLine, mostOfLine = 450, 660, 750

func line(characters int) int {
	lost := 2 * distance(characters, idealLine)
	lost += 12 * (over(leastLine, characters) + over(characters, mostOfLine))
	return min(mostLine, lost/10)
}

// x-heights in thousandths of a point.
const fluent, usual = 4000, 4400

func size(x length.Length) int {
	thousandths := int(x.Scale(1000, int64(length.Point)))
	return min(mostType, over(usual, thousandths)/5+over(fluent, thousandths)/4)
}

// Leadings in thousandths of the size.
const tight, slack = 1150, 1450

// ideal returns the leading that lines of so many characters want.
func ideal(l Look) int {
	c := min(max(l.Characters, leastLine), mostOfLine)
	return min(max(1200+(c-leastLine)/2+l.Slender-420, tight), slack)
}

func leading(l Look) int {
	want := ideal(l)
	lost := 6*over(want, l.Leading) + 10*over(tight, l.Leading) + 3*over(l.Leading, want) + 6*over(l.Leading, slack)
	return min(mostLeading, lost/10)
}

// Blocks in thousandths of the page.
const airy, full, crowded = 500, 640, 720

func margins(l Look) int {
	lost := 6*over(l.Block, full) + 6*over(l.Block, crowded) + 2*over(airy, l.Block)
	lost /= 10
	for _, m := range l.Margins {
		lost += int(max(0, least(l.Metric)-m) * 3 / length.Point)
	}
	return min(mostMargins, lost)
}

// least returns the margin below which a thumb covers the text.
func least(metric bool) length.Length { return comfortable(metric).Length }

func comfortable(metric bool) length.Value {
	if metric {
		return length.Value{Length: (12 * length.Inch).Scale(5, 127), Unit: length.Mm}
	}
	return length.Value{Length: length.Inch / 2, Unit: length.In}
}

func (s Steps) loss() int {
	lost := 4*s.Leading + 6*s.ForeEdge + 8*s.HeadFoot + 12*s.Size
	for _, one := range []struct {
		is   bool
		lost int
	}{{s.Fewest, 5}, {s.Face, 40}, {s.Trim, 60}} {
		if one.is {
			lost += one.lost
		}
	}
	return min(mostSteps, lost)
}

// over returns by how much a exceeds b.
func over(a, b int) int { return max(0, a-b) }

func distance(a, b int) int { return max(a-b, b-a) }

// look returns what a reader meets on the pages of s with the block b.
func (f *letters) look(s *typeset.Setting, b typeset.Block, steps Steps) Look {
	trim, size := s.Trim.Size(), s.Size.Length
	depth := b.Ascender + length.Length(b.Rows-1)*b.Leading
	return Look{
		Characters: int(b.Measure.Scale(10, int64(f.width(size)))),
		XHeight:    size.Scale(int64(f.face.XHeight), int64(f.face.Upem)),
		Slender:    int(length.Length(1000).Scale(int64(f.face.XHeight), int64(f.face.Upem))),
		Leading:    int(b.Leading.Scale(1000, int64(size))),
		Block:      int(b.Measure.Scale(1000, int64(trim.Width)).Scale(int64(depth), int64(trim.Height))),
		Margins:    [3]length.Length{s.Margins.ForeEdge.Length, s.Margins.Head.Length, s.Margins.Foot.Length},
		Metric:     metric(s.Trim),
		Steps:      steps,
	}
}
