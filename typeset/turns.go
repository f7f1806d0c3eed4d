package typeset

import (
	"slices"

	"bodkin/typeset/pages"
)

// mostTurns is how many times a chapter is broken into pages again for the
// sake of its page turns.
const mostTurns = 4

// pages breaks a column into pages. Where a recto still ends in a hyphen, its
// paragraph is broken again without it, in as many lines if that can be, and
// the chapter once more.
func (m *maker) pages(p *plan, c *column, opt pages.Options) error {
	p.blocks, p.fills = c.blocks, c.fills
	for range mostTurns {
		made, err := m.breaker.Break(p.blocks, opt)
		if err != nil {
			return err
		}
		p.made = made
		if !p.mend(m.set, opt.Verso) {
			return nil
		}
	}
	return nil
}

// mend adds ways to the paragraphs that end a recto in a hyphen, and reports
// whether there are any.
func (p *plan) mend(set *setter, verso bool) bool {
	found := false
	at, begin := 0, 0 // a block, and how many items stand before it
	for n, page := range p.made.Pages {
		if page.To == page.From || (n%2 == 0) == verso {
			continue
		}
		for page.To > begin+len(p.blocks[at][p.made.Ways[at]].Items) {
			begin += len(p.blocks[at][p.made.Ways[at]].Items)
			at++
		}
		way, line := p.made.Ways[at], page.To-1-begin
		b := p.fills[at].text
		if b == nil || !b.ways[way][line].hyphen {
			continue
		}
		more := set.undivided(b, line)
		if more == b {
			continue
		}
		if !found {
			p.blocks, p.fills = slices.Clone(p.blocks), slices.Clone(p.fills)
		}
		p.blocks[at], p.fills[at].text, p.fills[at].proof, found = more.block(), more, nil, true
	}
	return found
}
