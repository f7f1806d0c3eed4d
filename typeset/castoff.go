package typeset

import (
	"cmp"
	"context"
	"runtime"
	"slices"

	"bodkin/markup"
	"bodkin/typeset/length"
	"bodkin/typeset/pages"

	"golang.org/x/sync/errgroup"
)

// proof is what decides the lines of a paragraph. Two settings that agree in
// it for a text break it alike, whatever their leading, head, foot and depth:
// a broken text holds widths and words, and no place on a page.
type proof struct {
	t                                 *text // of one galley: it stands for family and figures
	size, measure, left, first, later length.Length
	role                              Role
	align                             align
	divide, hang, noted               bool
	widen                             Widen
	style                             markup.Style
}

// keptProof is a broken text that serves for several settings.
type keptProof struct {
	*broken
	block pages.Block
	lines [][]Line // of each way, once it was wanted
}

// mostProofs is when a worker forgets what it has kept: some fifty times the
// paragraphs of a novel.
const mostProofs = 200_000

// proof breaks a paragraph, or finds it among the proofs.
func (s *setter) proof(t *text, sh shape, noted bool) (*keptProof, error) {
	key := proof{t: t, size: sh.size, measure: sh.measure, left: sh.left, first: sh.first, later: sh.later, role: sh.role,
		align: sh.align, divide: sh.divide, hang: sh.hang, noted: noted, widen: sh.widen, style: sh.style}
	if k := s.kept[key]; k != nil {
		return k, nil
	}
	b, err := s.breaks(t, sh, sh.align == justified)
	if err != nil {
		return nil, err
	}
	if len(s.kept) >= mostProofs {
		clear(s.kept)
	}
	k := &keptProof{broken: b}
	s.kept[key] = k
	return k, nil
}

// Castoff sets the book in many settings, on as many cores as there are, and
// calls each with the place of a setting in the list and its layout, or why it
// cannot be set. The calls come in any order, from several goroutines; the
// layouts are those that Compose makes, in whatever order. A layout is not kept
// once each returns, and no more of them are alive than there are cores.
//
// Work is not done twice: the words of the book are prepared once for each
// family, and the lines of a paragraph are broken and placed once for all
// settings that agree in size and measure, so that those which differ only in
// leading, head, foot or depth are a matter of making pages. Each worker keeps
// the lines of the settings at hand alone, so memory does not grow with the
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
	// idle: to break the lines again costs no more than a setting.
	cores := runtime.GOMAXPROCS(0)
	most := max(1, (len(settings)+cores-1)/cores)
	var groups [][]int
	for n, i := range order {
		last := len(groups) - 1
		if n > 0 && byLines(&settings[order[n-1]], &settings[i]) == 0 && len(groups[last]) < most {
			groups[last] = append(groups[last], i)
			continue
		}
		groups = append(groups, []int{i})
	}
	work, ctx := errgroup.WithContext(ctx)
	next := make(chan []int)
	work.Go(func() error {
		defer close(next)
		for _, g := range groups {
			select {
			case next <- g:
			case <-ctx.Done():
				return context.Cause(ctx)
			}
		}
		return nil
	})
	for range min(cores, len(groups)) {
		work.Go(func() error {
			for g := range next {
				w := &worker{kept: make(map[proof]*keptProof)}
				for _, i := range g {
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

// worker sets one layout after the other, alone.
type worker struct {
	kept map[proof]*keptProof
	set  *setter // of the galley at hand
	g    *galley
}

// setter returns the worker's setter for a galley.
func (w *worker) setter(g *galley) *setter {
	if w.g != g {
		w.g, w.set = g, &setter{words: g.words.fork(), kept: w.kept}
	}
	return w.set
}

// byLines orders settings so that those with like lines stand together.
func byLines(a, b *Setting) int {
	return cmp.Or(cmp.Compare(a.Face, b.Face), cmp.Compare(a.SignFace, b.SignFace), cmp.Compare(a.Figures, b.Figures),
		cmp.Compare(a.Trim.Size().Width, b.Trim.Size().Width), cmp.Compare(a.Size.Length, b.Size.Length),
		cmp.Compare(a.Margins.ForeEdge.Length, b.Margins.ForeEdge.Length),
		cmp.Compare(a.Margins.Back.Value.Length, b.Margins.Back.Value.Length))
}
