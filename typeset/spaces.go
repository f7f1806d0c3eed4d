package typeset

import "math"

// Spaces is how the word spaces of justified lines are distributed, each line
// counted once. Evenly coloured pages have most of them in few steps.
type Spaces struct {
	Least     int `json:"least"`     // thousandths of an em
	Mean      int `json:"mean"`      // thousandths of an em
	Most      int `json:"most"`      // thousandths of an em
	Deviation int `json:"deviation"` // standard deviation, thousandths of an em

	// Twentieths[i] counts the lines with spaces of at least i and less than
	// i+1 twentieths of an em; the last counts all that are an em and wider.
	Twentieths [21]int `json:"twentieths"`
}

// tally adds up the word spaces of justified lines.
type tally struct {
	Spaces
	lines, sum, squares int64 // in thousandths of an em
}

// add counts a line with such word spaces.
func (t *tally) add(space int) {
	if t.lines == 0 || space < t.Least {
		t.Least = space
	}
	t.Most = max(t.Most, space)
	t.Twentieths[min(max(space/50, 0), len(t.Twentieths)-1)]++
	t.lines++
	t.sum += int64(space)
	t.squares += int64(space) * int64(space)
}

// spaces returns the distribution of what was added.
func (t *tally) spaces() Spaces {
	if n := t.lines; n > 0 {
		t.Mean = int((t.sum + n/2) / n)
		t.Deviation = int(math.Sqrt(float64(n*t.squares-t.sum*t.sum))/float64(n) + 0.5)
	}
	return t.Spaces
}
