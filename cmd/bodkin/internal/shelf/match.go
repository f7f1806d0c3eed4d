package shelf

import (
	"cmp"
	"slices"

	"bodkin/typeset"
	"bodkin/typeset/length"
)

// Fit is a trim that a book may have.
type Fit struct {
	Trim *Trim
	Off  length.Length // by how much the book differs from it, in width or height, whichever is more
}

// Placed is a book with its trim.
type Placed struct {
	*Book
	Tolerance length.Length
	Fits      []Fit // the trims within the tolerance, the nearest first; none: no known trim
	Nearest   Fit   // of all trims
}

// Step is how finely a book seems to be measured.
type Step uint8

const (
	Fine Step = iota
	QuarterInch
	HalfCentimetre
	Centimetre
)

// String tells the step, and what it means for the trim.
func (s Step) String() string {
	return [...]string{
		"finely: a trim fits within a sixteenth of an inch (1.6 mm)",
		"to a quarter of an inch: a trim fits within an eighth (3.2 mm)",
		"to half a centimetre: a trim fits within 2.5 mm",
		"to a centimetre: a trim fits within 5 mm",
	}[s]
}

// cut is how truly books are cut: to a sixteenth of an inch. Common practice.
const cut = length.Inch / 16

// Tolerance returns by how much a book may differ from its trim: half a step,
// and at least what the knife may err.
func (s Step) Tolerance() length.Length {
	return [...]length.Length{cut, length.Inch / 8, length.Inch * 25 / 254, length.Inch * 25 / 127}[s]
}

// slack is what a measure may lose when it is written in another unit.
const slack = 4

// whole reports whether both sides of a book are whole multiples of num/den
// inches.
func whole(b *Book, num, den int64) bool {
	for _, l := range []length.Length{b.Width.Length, b.Height.Length} {
		n := l.Scale(den, int64(length.Inch)*num)
		if abs(n.Scale(int64(length.Inch)*num, den)-l) > slack {
			return false
		}
	}
	return true
}

// OnInches reports whether a book was measured on a scale of inches, by
// thirty-seconds or by hundredths, in whatever unit that was written down.
func (b *Book) OnInches() bool { return whole(b, 1, 32) || whole(b, 1, 100) }

// steps tells how finely the books of either scale were measured: the
// coarsest step of which all are multiples.
func steps(books []Book) (inch, metric Step) {
	inch, metric = QuarterInch, Centimetre
	for i := range books {
		b := &books[i]
		switch {
		case b.OnInches():
			if !whole(b, 1, 4) {
				inch = Fine
			}
		case metric == Centimetre && whole(b, 50, 127):
		case metric != Fine && whole(b, 25, 127):
			metric = HalfCentimetre
		default:
			metric = Fine
		}
	}
	return inch, metric
}

// place finds the trims that fit each of the books.
func place(books []Book, known []Trim) []Placed {
	inch, metric := steps(books)
	placed := make([]Placed, len(books))
	for i := range books {
		step := metric
		if books[i].OnInches() {
			step = inch
		}
		placed[i] = match(&books[i], known, step.Tolerance())
	}
	return placed
}

// block returns a book's size without what its case adds.
func (b *Book) block() typeset.Size {
	size := typeset.Size{Width: b.Width.Length, Height: b.Height.Length}
	if b.Binding == Case {
		size.Width -= square + hinge
		size.Height -= 2 * square
	}
	return size
}

// match finds the trims that fit one book.
func match(b *Book, known []Trim, tolerance length.Length) Placed {
	p := Placed{Book: b, Tolerance: tolerance}
	block := b.block()
	all := fits(block, known)
	if b.Binding == Case && all[0].Off > tolerance+slack {
		block.Width += hinge // boards that are flush with the back
		if flush := fits(block, known); flush[0].Off <= tolerance+slack {
			all = flush
		}
	}
	p.Nearest = all[0]
	for _, f := range all {
		if f.Off <= tolerance+slack {
			p.Fits = append(p.Fits, f)
		}
	}
	return p
}

// fits returns all trims, the nearest to a block first. They are held against
// each other in thousandths of an inch, so that trims that are equally near
// stay so when a measure is written in another unit.
func fits(block typeset.Size, known []Trim) []Fit {
	all := make([]Fit, len(known))
	for i := range known {
		all[i] = Fit{&known[i], apart(block, known[i].Size()).Scale(1000, int64(length.Inch)).Scale(int64(length.Inch), 1000)}
	}
	slices.SortStableFunc(all, func(a, b Fit) int { return cmp.Compare(a.Off, b.Off) })
	return all
}

// own finds the size that the most of the books of no known trim share, within
// their tolerance, and how many do. Of several the lowest, then the narrowest.
func (r *Report) own() (size typeset.Size, books int) {
	var blocks []typeset.Size
	tolerance := length.Length(0)
	for i := range r.Books {
		if p := &r.Books[i]; len(p.Fits) == 0 {
			blocks = append(blocks, p.block())
			tolerance = max(tolerance, p.Tolerance)
		}
	}
	if len(blocks) > mostOwn {
		return size, 0
	}
	slices.SortFunc(blocks, func(a, b typeset.Size) int {
		return cmp.Or(cmp.Compare(a.Height, b.Height), cmp.Compare(a.Width, b.Width))
	})
	for _, a := range blocks {
		n := 0
		for _, b := range blocks {
			if apart(a, b) <= tolerance+slack {
				n++
			}
		}
		if n > books {
			size, books = a, n
		}
	}
	return size, books
}

// mostOwn bounds the books that are held against each other.
const mostOwn = 1000
