package shelf

import (
	"fmt"
	"strconv"
	"strings"

	"bodkin/typeset"
	"bodkin/typeset/length"
)

// count writes a number and its noun.
func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

// Percent returns a share in whole per cent.
func Percent(n, of int) int { return (n*200/of + 1) / 2 }

// written writes a size as --trim takes it: to hundredths of an inch, or whole
// millimetres.
func (r *Report) written(size typeset.Size) string {
	if r.Unit == length.Mm {
		whole := func(l length.Length) int64 { return int64(l.Scale(127, 5*int64(length.Inch))) }
		return fmt.Sprintf("%dx%dmm", whole(size.Width), whole(size.Height))
	}
	wide, unit, _ := strings.Cut(r.show(size.Width), " ")
	high, _, _ := strings.Cut(r.show(size.Height), " ")
	return wide + "x" + high + unit
}

// sayAbove tells by how much something stands above or below the median.
func (r *Report) sayAbove(above length.Length) string {
	switch d := r.show(abs(above)); {
	case strings.HasPrefix(d, "0 "):
		return "level with the middle of the shelf"
	case above > 0:
		return d + " above the middle of the shelf"
	default:
		return d + " below the middle of the shelf"
	}
}

func (r *Report) sayCandidate(c *Candidate) string {
	n := len(r.Books)
	s := fmt.Sprintf("%s: ", c.Trim.Label())
	switch {
	case c.Books == n && n > 1:
		s += fmt.Sprintf("all %d books are of this trim", n)
	case c.Books == 0:
		s += "no book of the shelf is of this trim"
	default:
		s += fmt.Sprintf("%d of %s", c.Books, count(n, "book", "books"))
	}
	as := "a paperback"
	if r.Binding == Case {
		as = "a case-bound copy"
	}
	s += fmt.Sprintf("; %s stands %s", as, r.sayAbove(c.Above))
	switch level := n - c.Taller - c.Lower; {
	case c.Taller == n:
		s += ", above every book"
	case c.Lower == n:
		s += ", below every book"
	case level == n:
		s += ", as high as every book"
	default:
		var parts []string
		for _, p := range []struct {
			n    int
			what string
		}{{c.Taller, "above %d"}, {level, "level with %d"}, {c.Lower, "below %d"}} {
			if p.n > 0 {
				parts = append(parts, fmt.Sprintf(p.what, p.n))
			}
		}
		s += ", " + strings.Join(parts, ", ")
	}
	if r.terms && c.Trim.Offered {
		s += "; the printer offers it"
	} else if r.terms {
		s += "; the printer does not offer it"
	}
	return s + "."
}

// explain gives the reasons and the doubts.
func (r *Report) explain() {
	n := len(r.Books)
	because := func(format string, args ...any) { r.Reasons = append(r.Reasons, fmt.Sprintf(format, args...)) }
	but := func(format string, args ...any) { r.Doubts = append(r.Doubts, fmt.Sprintf(format, args...)) }
	defer func() {
		if size, books := r.own(); books >= 3 {
			at := r.written(size)
			but("%d books of no known trim have one of their own, about %s: --trim %s tells how yours would stand as one of them.", books, at, at)
		}
	}()
	if r.Belongs == nil {
		but("None of %s is of a known trim; the middle of their heights is %s.", count(n, "book", "books"), r.show(r.Median))
		return
	}
	top := &r.Standings[0]
	st := r.standing(r.Belongs)
	share := func(st *Standing) string {
		if st.Books == n {
			return fmt.Sprintf("%s measured, every one", count(n, "book", "books"))
		}
		return fmt.Sprintf("%d of the %d books, %d %%", st.Books, n, Percent(st.Books, n))
	}
	second := 0
	if len(r.Standings) > 1 {
		second = r.Standings[1].Books
	}
	switch {
	case r.instead:
		because("The most common trim of the shelf, %s with %d of %s, is not offered by the printer; of what it offers this is nearest, %s away at the most.",
			top.Trim.Label(), top.Books, count(n, "book", "books"), r.show(apart(top.Trim.Size(), r.Belongs.Size())))
	case st == top && st.Books > second:
		because("It is the most common trim of the shelf: %s.", share(st))
	case st == top:
		because("No trim of the shelf is more common: %s.", share(st))
	default:
		because("It is the most common trim of the shelf that the printer offers: %s.", share(st))
		because("%s is more common, with %d, and the printer does not offer it.", top.Trim.Label(), top.Books)
	}
	if r.terms && r.Belongs.Offered && st == top {
		because("The printer offers it.")
	}
	c := r.candidate(r.Belongs)
	as := "A paperback of it"
	if r.Binding == Case {
		as = "A case-bound copy of it"
	}
	because("%s stands %s high, %s.", as, r.show(c.Height), r.sayAbove(c.Above))

	if n < Few {
		but("Only %s measured: measure a dozen or more.", count(n, "book was", "books were"))
	}
	for i := range r.Standings {
		if s := &r.Standings[i]; s.Trim != r.Belongs && st != nil && s.Books <= st.Books && (st.Books-s.Books)*10 <= n {
			but("%s is nearly as common, with %s.", s.Trim.Label(), count(s.Books, "book", "books"))
			break
		}
	}
	if st != nil && !r.instead && st.Books*3 < n {
		but("Less than a third of the books are of this trim: the shelf agrees on none.")
	}
	if r.Unknown*4 > n {
		but("%s of no known trim.", count(r.Unknown, "book is", "books are"))
	}
	if st != nil && st.Doubtful > 0 {
		var also []string
		for _, t := range st.Also {
			also = append(also, t.Label())
		}
		but("%s of it may be of %s as well: measure those more finely.", count(st.Doubtful, "book", "books"), strings.Join(also, " or "))
	}
	if len(r.Genres) > 1 {
		but("The books are of %d genres, %s: --genre looks at one.", len(r.Genres), strings.Join(r.Genres, ", "))
	}
	if r.Supposed > 0 {
		but("The binding of %s is not given: supposed to be paperback.", count(r.Supposed, "book", "books"))
	}
	if !r.terms {
		but("Whether your printer offers it is not known: name the terms with --printer.")
	}
}
