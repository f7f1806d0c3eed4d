package copyfit

import (
	"cmp"
	"context"
	"slices"
	"sync"

	"bodkin/typeset"
	"bodkin/typeset/length"
)

// Target is what is wanted of a book.
type Target struct {
	// Meets reports whether so many pages of a trim are wanted, and by how
	// many pages they miss what is wanted most: 0 where all are wanted alike.
	// Where they are not wanted, miss is how far the nearest are that are.
	Meets func(trim typeset.Trim, pages int) (meets bool, miss int)

	Least, Most int  // the pages that matter: hits have no others, and the frontier shows these
	Want        int  // how many hits to find
	Whole       bool // set the whole space, for the whole frontier
}

// nearness is what a page that a hit misses costs it, in points of the score.
const nearness = 8

// Set is a setting that was set.
type Set struct {
	Setting    typeset.Setting
	Steps      Steps
	Score      Score
	Pages      int
	Rows       int           // lines on a full page
	Characters int           // in a full line
	Back       length.Length // as it came out
	Meets      bool
	Miss       int

	Leading length.Length

	candidate int
	letters   *letters
}

// rank is what hits are ordered by.
func (s *Set) rank() int { return s.Score.Total - nearness*s.Miss }

// Result is what a search found.
type Result struct {
	Best     []Set // hits, best first
	Nearest  *Set  // nearest to a hit, where there is none
	Frontier []Set // the best to read at each number of pages, best first
	All      []Set // everything that was set, best first
	Of       int   // how many settings the space has
	Down     int   // the score down to which everything was set; 0: the whole space
}

// firstBatch is how many settings are set at once at first; then twice as
// many, and so on: settings with like lines are made together.
const firstBatch = 128

// Search finds the best hits of the space. After each setting that was set it
// calls step.
func (sp *Space) Search(ctx context.Context, c Composer, t Target, step func()) (*Result, error) {
	r := &Result{Of: len(sp.Candidates)}
	for from, batch := 0, firstBatch; from < len(sp.Candidates); batch *= 2 {
		to := min(from+batch, len(sp.Candidates))
		set, err := sp.set(ctx, c, t, from, to, step)
		if err != nil {
			return nil, err
		}
		r.All = append(r.All, set...)
		from = to
		if from < len(sp.Candidates) && !t.Whole && sure(r.All, t.Want, sp.Candidates[from].Bound) {
			r.Down = sp.Candidates[from].Bound + 1
			break
		}
	}
	slices.SortFunc(r.All, func(a, b Set) int { return cmp.Or(b.Score.Total-a.Score.Total, a.candidate-b.candidate) })
	r.Frontier = sp.frontier(r.All, t, r.Down)
	r.Best = best(r.All, t.Want)
	if len(r.Best) == 0 && len(r.All) > 0 {
		nearest := slices.MinFunc(r.All, func(a, b Set) int { return a.Miss - b.Miss })
		r.Nearest = &nearest
	}
	return r, nil
}

// set sets some of the candidates. What cannot be set is left out.
func (sp *Space) set(ctx context.Context, c Composer, t Target, from, to int, step func()) ([]Set, error) {
	settings := make([]typeset.Setting, to-from)
	for i := range settings {
		settings[i] = sp.Candidates[from+i].Setting
	}
	all := make([]*Set, len(settings))
	var mu sync.Mutex
	err := c.Castoff(ctx, settings, func(i int, l *typeset.Layout, err error) error {
		if err == nil {
			all[i] = sp.read(&sp.Candidates[from+i], l, t)
		}
		mu.Lock()
		defer mu.Unlock()
		step()
		return nil
	})
	if err != nil {
		return nil, err
	}
	var set []Set
	for i, s := range all {
		if s != nil {
			s.candidate = from + i
			set = append(set, *s)
		}
	}
	return set, nil
}

// read returns what a layout came to; nil where it is not within the limits.
func (sp *Space) read(c *Candidate, l *typeset.Layout, t Target) *Set {
	score, _, within := sp.rate(c, l.Back)
	if !within || l.Unsettled {
		return nil
	}
	s := &Set{Setting: c.Setting, Steps: c.Steps, Score: score, Pages: len(l.Pages), Rows: l.Block.Rows, Back: l.Back, Leading: l.Block.Leading, letters: c.letters,
		Characters: (c.letters.look(&c.Setting, l.Block, c.Steps).Characters + 5) / 10}
	s.Meets, s.Miss = t.Meets(c.Setting.Trim, s.Pages)
	s.Meets = s.Meets && s.Pages >= t.Least && s.Pages <= t.Most
	return s
}

// best returns the hits that rank highest, one of each trim, face and size:
// what differs from it in leading and margins alone is hardly another choice.
func best(all []Set, want int) []Set {
	var hits []*Set
	for i := range all {
		if all[i].Meets {
			hits = append(hits, &all[i])
		}
	}
	slices.SortFunc(hits, func(a, b *Set) int { return cmp.Or(b.rank()-a.rank(), a.candidate-b.candidate) })
	type choice struct {
		trim, face string
		size       length.Length
	}
	var kept []Set
	had := make(map[choice]bool)
	for _, h := range hits {
		of := choice{h.Setting.Trim.String(), h.Setting.Face, h.Setting.Size.Length}
		if !had[of] && len(kept) < want {
			had[of] = true
			kept = append(kept, *h)
		}
	}
	return kept
}

// sure reports whether nothing with a score up to bound can be among the best.
func sure(all []Set, want, bound int) bool {
	hits := best(all, want)
	return len(hits) == want && hits[want-1].rank() > bound
}

// Author returns the author's setting as it was set for the space.
func (sp *Space) Author(l *typeset.Layout, t Target) Set {
	look := sp.letters.look(&l.Setting, l.Block, Steps{})
	s := Set{Setting: l.Setting, Score: Rate(look), Pages: len(l.Pages), Rows: l.Block.Rows, Back: l.Back, Leading: l.Block.Leading,
		Characters: (look.Characters + 5) / 10, letters: sp.letters}
	s.Meets, s.Miss = t.Meets(s.Setting.Trim, s.Pages)
	return s
}
