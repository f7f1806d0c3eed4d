package shelf

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"bodkin/markup"
	"bodkin/typeset"
	"bodkin/typeset/length"
)

// Report is what a survey says.
type Report struct {
	Books     []Placed    // in the order of the survey
	Unit      length.Unit // that most were measured in
	Standings []Standing  // the trims that books have, the most common first
	Unknown   int         // books of no known trim
	Doubtful  int         // books that another trim fits as well
	Supposed  int         // books whose binding the survey leaves out
	Genres    []string    // sorted; of the books that name one
	Inch      Step        // how finely books on the scale of inches were measured,
	Metric    Step        // and how finely those on that of millimetres

	Least, Median, Most length.Length // heights of the books as they stand

	Binding    Binding     // that the candidates are thought to have
	Belongs    *Trim       // the trim to take; nil: nothing speaks for one
	Candidates []Candidate // the proposed trims, or else the one that belongs
	Reasons    []string    // why it belongs, as sentences
	Doubts     []string    // what speaks against being sure

	terms   bool // of a printer are known
	instead bool // what belongs is the nearest offered to the most common
}

// Standing is how common a trim is.
type Standing struct {
	Trim             *Trim
	Books            int
	Paperback, Cased int
	Doubtful         int     // of the books, those that another trim fits as well
	Also             []*Trim // the others
	off              length.Length
}

// Candidate is a trim that the author may take, and how a copy of it would
// stand on the shelf.
type Candidate struct {
	Trim   *Trim
	Books  int           // of this trim
	Height length.Length // over all
	Above  length.Length // its height less the median; negative: it is lower
	Taller int           // books that it is higher than
	Lower  int           // books that it is lower than
	Says   string        // the same as a sentence
}

// Few is the number of books below which a survey says little.
const Few = 12

// Filter returns the survey with the books of a genre and a binding alone; ""
// is any.
func (s *Survey) Filter(genre string, binding Binding) (*Survey, error) {
	f := *s
	f.Books = nil
	var there []string
	for i := range s.Books {
		b := &s.Books[i]
		if b.Genre != "" {
			there = append(there, b.Genre)
		}
		if (genre == "" || strings.EqualFold(b.Genre, genre)) && (binding == "" || b.Binding == binding) {
			f.Books = append(f.Books, *b)
		}
	}
	if len(f.Books) > 0 {
		return &f, nil
	}
	there = distinct(there)
	switch best := markup.Nearest(genre, there); {
	case genre != "" && len(there) == 0:
		return nil, fmt.Errorf("%s names no genres; fill in its column genre", s.Name)
	case genre != "" && !slices.ContainsFunc(there, func(t string) bool { return strings.EqualFold(t, genre) }):
		if best != "" {
			return nil, fmt.Errorf("%s has no books of the genre %q; did you mean %s?", s.Name, genre, best)
		}
		return nil, fmt.Errorf("%s has no books of the genre %q; it has %s", s.Name, genre, strings.Join(there, ", "))
	case genre != "":
		return nil, fmt.Errorf("%s has no books of the genre %q that are bound as %s", s.Name, genre, binding)
	}
	return nil, fmt.Errorf("%s has no books that are bound as %s", s.Name, binding)
}

// distinct sorts names and drops those that differ in their case alone.
func distinct(names []string) []string {
	slices.SortFunc(names, func(a, b string) int {
		return cmp.Or(strings.Compare(strings.ToLower(a), strings.ToLower(b)), strings.Compare(a, b))
	})
	return slices.CompactFunc(names, strings.EqualFold)
}

// Judge finds the trim of each book and says which trim belongs among them.
// known is what Known gives. The candidates are thought to be bound as binding
// says; "" is as a paperback. The answer does not depend on the order of the
// books or on the unit in which they were measured.
func Judge(s *Survey, known []Trim, binding Binding) (*Report, error) {
	switch {
	case len(s.Books) == 0:
		return nil, errors.New("there are no books to judge by")
	case len(known) == 0:
		return nil, errors.New("there are no trims to choose from")
	}
	if binding == "" {
		binding = Paperback
	}
	r := &Report{Unit: s.Unit(), Binding: binding}
	r.Inch, r.Metric = steps(s.Books)
	r.Books = place(s.Books, known)
	r.terms = slices.ContainsFunc(known, func(t Trim) bool { return t.Offered })
	r.count(known)
	r.heights()
	r.choose(known)
	return r, nil
}

// count counts the books of each trim.
func (r *Report) count(known []Trim) {
	of := make(map[*Trim]*Standing)
	for i := range r.Books {
		p := &r.Books[i]
		if p.Supposed {
			r.Supposed++
		}
		if p.Genre != "" {
			r.Genres = append(r.Genres, p.Genre)
		}
		if len(p.Fits) == 0 {
			r.Unknown++
			continue
		}
		st := of[p.Fits[0].Trim]
		if st == nil {
			st = &Standing{Trim: p.Fits[0].Trim}
			of[st.Trim] = st
		}
		st.Books++
		st.off += p.Fits[0].Off
		if p.Binding == Case {
			st.Cased++
		} else {
			st.Paperback++
		}
		if len(p.Fits) > 1 {
			r.Doubtful++
			st.Doubtful++
			for _, f := range p.Fits[1:] {
				if !slices.Contains(st.Also, f.Trim) {
					st.Also = append(st.Also, f.Trim)
				}
			}
		}
	}
	r.Genres = distinct(r.Genres)
	order := make(map[*Trim]int, len(known))
	for i := range known {
		order[&known[i]] = i
		if st := of[&known[i]]; st != nil {
			r.Standings = append(r.Standings, *st)
		}
	}
	for i := range r.Standings {
		slices.SortFunc(r.Standings[i].Also, func(a, b *Trim) int { return cmp.Compare(order[a], order[b]) })
	}
	// Of trims that are equally common, the one whose books fit it best.
	slices.SortStableFunc(r.Standings, func(a, b Standing) int {
		return cmp.Or(cmp.Compare(b.Books, a.Books), cmp.Compare(a.Doubtful, b.Doubtful), cmp.Compare(a.off, b.off))
	})
}

// heights finds how high the books stand. Of an even number the median is the
// mean of the middle two.
func (r *Report) heights() {
	h := make([]length.Length, len(r.Books))
	for i := range r.Books {
		h[i] = r.Books[i].Height.Length
	}
	slices.Sort(h)
	n := len(h)
	r.Least, r.Median, r.Most = h[0], (h[(n-1)/2]+h[n/2])/2, h[n-1]
}

// standing returns how common a trim is; nil for one that no book has.
func (r *Report) standing(t *Trim) *Standing {
	for i := range r.Standings {
		if r.Standings[i].Trim == t {
			return &r.Standings[i]
		}
	}
	return nil
}

// candidate tells how a copy of a trim would stand.
func (r *Report) candidate(t *Trim) Candidate {
	c := Candidate{Trim: t, Height: r.Binding.Over(t.Trim).Height}
	if st := r.standing(t); st != nil {
		c.Books = st.Books
	}
	c.Above = c.Height - r.Median
	for i := range r.Books {
		switch d := c.Height - r.Books[i].Height.Length; {
		case d > slack:
			c.Taller++
		case d < -slack:
			c.Lower++
		}
	}
	c.Says = r.sayCandidate(&c)
	return c
}

// choose finds the trim that belongs: the most common, or where a printer's
// terms are known the most common that it offers, or the nearest to the most
// common that it offers.
func (r *Report) choose(known []Trim) {
	var offered []*Trim
	for i := range known {
		if known[i].Offered {
			offered = append(offered, &known[i])
		}
	}
	if len(r.Standings) > 0 {
		top := &r.Standings[0]
		r.Belongs = top.Trim
		if len(offered) > 0 && !top.Trim.Offered {
			r.Belongs = nil
			for i := range r.Standings {
				if st := &r.Standings[i]; st.Trim.Offered && st.Books*2 >= top.Books {
					r.Belongs = st.Trim
					break
				}
			}
			if r.Belongs == nil {
				near := func(t *Trim) length.Length { return apart(t.Size(), top.Trim.Size()) }
				r.instead = true
				r.Belongs = slices.MinFunc(offered, func(a, b *Trim) int { return cmp.Compare(near(a), near(b)) })
			}
		}
	}
	for i := range known {
		if known[i].Proposed {
			r.Candidates = append(r.Candidates, r.candidate(&known[i]))
		}
	}
	if len(r.Candidates) == 0 && r.Belongs != nil {
		r.Candidates = append(r.Candidates, r.candidate(r.Belongs))
	}
	r.explain()
}

func (r *Report) show(l length.Length) string { return Show(l, r.Unit) }

// Show writes a length in a unit as a ruler shows it: to hundredths of an inch
// or tenths of a millimetre.
func Show(l length.Length, u length.Unit) string { return l.Ruled(u) + " " + u.String() }

// ShowTrim writes a trim in a unit, without its name.
func ShowTrim(t typeset.Trim, u length.Unit) string {
	size := t.Size()
	return size.Width.Ruled(u) + " × " + Show(size.Height, u)
}
