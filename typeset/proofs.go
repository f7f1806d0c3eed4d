package typeset

import (
	"sync"

	"bodkin/markup"
	"bodkin/typeset/length"
	"bodkin/typeset/pages"
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

// proofs are the broken texts that serve for several settings. Workers share
// them, whoever comes first breaks a text.
type proofs struct {
	sync.Mutex
	kept map[proof]*keptProof
}

// mostProofs is when they are forgotten: some fifty times the paragraphs of a
// novel.
const mostProofs = 200_000

// keptProof is a text that is broken once and whose lines are placed once. What
// it holds is not changed then.
type keptProof struct {
	once sync.Once
	*broken
	block pages.Block
	ways  []keptWay
	err   error
}

// keptWay is a way of a broken text, placed when it is first wanted.
type keptWay struct {
	once  sync.Once
	lines []Line
}

// proof breaks a paragraph of a section whose notes have so many lines, or finds
// it among the proofs.
func (s *setter) proof(t *text, sh *shape, notes []int) (*keptProof, error) {
	k := s.proofs.of(proof{t: t, size: sh.size, measure: sh.measure, left: sh.left, first: sh.first, later: sh.later, role: sh.role,
		align: sh.align, divide: sh.divide, hang: sh.hang, noted: notes != nil, widen: sh.widen, style: sh.style})
	k.once.Do(func() {
		k.broken, k.err = s.breaks(t, *sh, sh.align == justified)
		if k.err == nil {
			k.notes = notes
			k.block, k.ways = k.broken.block(), make([]keptWay, len(k.broken.ways))
		}
	})
	return k, k.err
}

func (p *proofs) of(key proof) *keptProof {
	p.Lock()
	defer p.Unlock()
	k := p.kept[key]
	if k == nil {
		if len(p.kept) >= mostProofs {
			clear(p.kept)
		}
		k = new(keptProof)
		p.kept[key] = k
	}
	return k
}

// placed returns the lines of a way. They know their traits.
func (k *keptProof) placed(set *setter, way int) []Line {
	kept := &k.ways[way]
	kept.once.Do(func() {
		kept.lines = set.place(k.broken, way)
		if kept.lines[0].running() {
			set.look(kept.lines)
		}
	})
	return kept.lines
}
