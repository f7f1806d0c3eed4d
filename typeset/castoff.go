package typeset

import (
	"cmp"
	"context"
	"runtime"
	"slices"

	"bodkin/typeset/pages"

	"golang.org/x/sync/errgroup"
)

// Castoff sets the book in many settings, on as many cores as there are, and
// calls each with the place of a setting in the list and its layout, or why it
// cannot be set. The calls come in any order, from several goroutines; the
// layouts are those that Compose makes, in whatever order. A layout is not kept
// once each returns, and no more of them are alive than there are cores.
//
// Work is not done twice: see the package comment for what settings share. Only
// the lines of the settings at hand are kept, so memory does not grow with the
// number of settings.
//
// It returns early, with the cause, when ctx is done or each returns an error.
func (c *Composer) Castoff(ctx context.Context, settings []Setting, each func(i int, l *Layout, err error) error) error {
	order := make([]int, len(settings))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return byLines(&settings[i], &settings[j]) })
	// Settings of like lines go to one worker, unless that leaves the others
	// idle. Then they share the lines.
	cores := runtime.GOMAXPROCS(0)
	most := max(1, (len(settings)+cores-1)/cores)
	var groups []group
	for n, i := range order {
		last := len(groups) - 1
		like := n > 0 && byLines(&settings[order[n-1]], &settings[i]) == 0
		if like && len(groups[last].settings) < most {
			groups[last].settings = append(groups[last].settings, i)
			continue
		}
		groups = append(groups, group{settings: []int{i}, like: like})
	}
	work, ctx := errgroup.WithContext(ctx)
	next := make(chan group)
	work.Go(func() error {
		defer close(next)
		var shared *proofs
		for _, g := range groups {
			if !g.like {
				shared = &proofs{kept: make(map[proof]*keptProof)}
			}
			g.proofs = shared
			select {
			case next <- g:
			case <-ctx.Done():
				return context.Cause(ctx)
			}
		}
		return nil
	})
	workers := min(cores, len(groups))
	for n := range workers {
		work.Go(func() error {
			w := &worker{turn: n, of: workers}
			for g := range next {
				w.proofs = g.proofs
				for _, i := range g.settings {
					l, err := c.compose(ctx, settings[i], w)
					if ctx.Err() != nil {
						return context.Cause(ctx)
					}
					if err := each(i, l, err); err != nil {
						return err
					}
				}
			}
			return nil
		})
	}
	return work.Wait()
}

// group are settings of like lines, for one worker.
type group struct {
	settings []int
	like     bool // as those of the group before
	proofs   *proofs
}

// worker sets one layout after the other, alone.
type worker struct {
	turn, of int // its number among the workers
	proofs   *proofs
	set      *setter // of the galley at hand
	g        *galley
	breaker  pages.Breaker
	columns  []*column // of the layout before: their memory serves again
}

// setter returns the worker's setter for a galley.
func (w *worker) setter(g *galley) *setter {
	if w.g != g {
		w.g, w.set = g, &setter{words: g.words.fork()}
	}
	w.set.proofs = w.proofs
	return w.set
}

// each calls do for n sections. Workers begin at different ones, so that those
// who share proofs do not wait for each other.
func (w *worker) each(n int, do func(i int)) {
	for k := range n {
		do((k + w.turn*n/w.of) % n)
	}
}

// memory returns the memory of a column of the layout before.
func (w *worker) memory(i int) ([]pages.Block, []fill) {
	if i >= len(w.columns) {
		return nil, nil
	}
	return w.columns[i].blocks[:0], w.columns[i].fills[:0]
}

// byLines orders settings so that those with like lines stand together.
func byLines(a, b *Setting) int {
	return cmp.Or(cmp.Compare(a.Face, b.Face), cmp.Compare(a.SignFace, b.SignFace), cmp.Compare(a.Figures, b.Figures),
		cmp.Compare(a.Trim.Size().Width, b.Trim.Size().Width), cmp.Compare(a.Size.Length, b.Size.Length),
		cmp.Compare(a.Margins.ForeEdge.Length, b.Margins.ForeEdge.Length),
		cmp.Compare(a.Margins.Back.Value.Length, b.Margins.Back.Value.Length))
}
