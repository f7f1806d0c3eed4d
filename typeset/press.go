package typeset

import (
	"slices"

	"bodkin/typeset/length"
)

// Press is what a printer asks of the pages.
type Press struct {
	Multiple int          // the number of pages is filled to a multiple of it; 0 is 2, a leaf
	Back     []BackStep   // what back = "auto" gives, by the number of pages; none: bodkin's own steps
	Safety   length.Value // how far what must not be cut stays from the trim; 0 is a quarter of an inch
}

// BackStep is the back margin of books of up to so many pages. The last of
// several serves for thicker books as well.
type BackStep struct {
	To     int          `toml:"to" json:"to"`
	Margin length.Value `toml:"margin" json:"margin"`
}

// BackFor returns the step of a book of so many pages; there is at least one.
func BackFor(steps []BackStep, pages int) BackStep { return steps[step(steps, pages)] }

// fill returns n, filled to what the press takes: at least to a leaf.
func (p *Press) fill(n int) int {
	multiple := 2
	if p != nil && p.Multiple > 0 {
		multiple = p.Multiple
	}
	if multiple%2 == 1 {
		multiple *= 2
	}
	return (n + multiple - 1) / multiple * multiple
}

// safety returns how far from the trim heads and folios stay where they can:
// a quarter of an inch unless the printer says otherwise. Common practice.
func (p *Press) safety() length.Length {
	if p == nil || p.Safety.Length <= 0 {
		return length.Inch / 4
	}
	return p.Safety.Length
}

// ownBacks are the back margins that "auto" gives where no printer says: the
// thicker a block, the more of each page its binding hides (common practice).
// Each step is ten signatures of 16 pages.
var ownBacks = func() []BackStep {
	eighths := func(n int64) length.Value { return length.Value{Length: length.Inch.Scale(n, 8), Unit: length.In} }
	return []BackStep{{160, eighths(4)}, {320, eighths(5)}, {480, eighths(6)}, {640, eighths(7)}, {960, eighths(8)}}
}()

// backs returns the margins that "auto" gives by the number of pages.
func (s *Setting) backs() []BackStep {
	if s.Press != nil && len(s.Press.Back) > 0 {
		return s.Press.Back
	}
	return ownBacks
}

// back returns the back margin; of a thin book, where it depends on the pages.
func (s *Setting) back() length.Length {
	if !s.Margins.Back.Auto {
		return s.Margins.Back.Value.Length
	}
	return s.backs()[0].Margin.Length
}

// step returns the index of the margin for a number of pages.
func step(steps []BackStep, pages int) int {
	for i := range steps {
		if pages <= steps[i].To {
			return i
		}
	}
	return len(steps) - 1
}

// settle lays a book out with the back margin that suits the pages it makes,
// beginning with that for a guess. The pages of each margin tell the next, until
// one tells itself: the fixed point. Where there are several, that of the
// first step is taken, so that the guess does not matter. Where there is none,
// margins that lead to each other go round for ever; then the largest of those
// is kept, and the layout is marked.
func (s *Setting) settle(guess int, lay func(back length.Length) (*Layout, error)) (*Layout, error) {
	if !s.Margins.Back.Auto {
		return lay(s.Margins.Back.Value.Length)
	}
	steps := s.backs()
	tried := make([]*Layout, len(steps))
	settles := func(at int) (bool, error) {
		if tried[at] == nil {
			l, err := lay(steps[at].Margin.Length)
			if err != nil {
				return false, err
			}
			tried[at] = l
		}
		return step(steps, len(tried[at].Pages)) == at, nil
	}
	var round []int
	for at := step(steps, guess); ; at = step(steps, len(tried[at].Pages)) {
		round = append(round, at)
		settled, err := settles(at)
		if err != nil {
			return nil, err
		}
		again := slices.Index(round, step(steps, len(tried[at].Pages)))
		if !settled && again < 0 {
			continue
		}
		for i := range steps {
			if i == at || settled && (i > at || !s.mayMake(steps[i].To, tried[at], steps[i].Margin.Length)) {
				continue
			}
			first, err := settles(i)
			if err != nil {
				return nil, err
			}
			if first {
				return tried[i], nil
			}
		}
		if settled {
			return tried[at], nil
		}
		kept := slices.MaxFunc(round[again:], func(i, j int) int { return int(steps[i].Margin.Length - steps[j].Margin.Length) })
		tried[kept].Unsettled = true
		return tried[kept], nil
	}
}

// mayMake reports whether the book of l, with another back margin, might come
// down to so many pages. Pages go down as the measure goes up; a twentieth and
// four of them are more than what else changes with it.
func (s *Setting) mayMake(pages int, l *Layout, back length.Length) bool {
	room := s.Trim.Size().Width - s.Margins.ForeEdge.Length
	if back < leastEdge || back >= room {
		return false
	}
	return int64(len(l.Pages))*int64(room-l.Back)/int64(room-back)*19/20-4 <= int64(pages)
}
