package hyphen

import "fmt"

// A trie holds the patterns in a double array (J. Aoe, "An Efficient Digital Search Algorithm by Using a Double-Array
// Structure", IEEE Transactions on Software Engineering 15, 1989). All nodes are cells of one slice. The child of node
// s by symbol c is cell base(s)+c, provided that this cell names s as its parent. A step is thus one addition and one
// comparison whatever the size of the alphabet, and the children of different nodes interleave without gaps worth
// speaking of: the German set, the largest, has 34 633 cells and fewer than one in a hundred free. Sorted edges would take a search at each step, and a bit set of
// children would limit the alphabet.
type trie struct {
	cells  []cell
	levels []levels
}

type cell struct {
	base   int32
	parent int32 // noParent if the cell is free
	levels int32 // index into trie.levels, 0 if no pattern ends here
}

// levels are the digits of a pattern without the zeros at either end: digits[i] belongs before the letter skip+i, counted
// from the beginning of the match. Sets of patterns use few distinct levels, so that they are shared.
type levels struct {
	skip   int
	digits string // bytes 0 to 9
}

const (
	root     = int32(0)
	noParent = int32(-1)
)

// rate raises out to the levels of all patterns that occur in syms. out[i] is the level before symbol i; it has one
// element more than syms.
func (t *trie) rate(syms []symbol, out []uint8) {
	cells := t.cells
	for i := range syms {
		s := root
		for _, c := range syms[i:] {
			next := cells[s].base + int32(c)
			if int(next) >= len(cells) || cells[next].parent != s {
				break
			}
			s = next
			if l := cells[s].levels; l != 0 {
				lv := &t.levels[l]
				at := out[i+lv.skip:]
				for k := range len(lv.digits) {
					at[k] = max(at[k], lv.digits[k])
				}
			}
		}
	}
}

// A pattern waiting to be packed. It has no pointers, since it is much moved about.
type pattern struct {
	begin, end int32 // of its symbols in packer.arena
	levels     int32 // index into trie.levels
	line       int32 // of the file, for messages
}

// A packer lays out patterns as a trie.
type packer struct {
	trie
	arena []symbol
	next  []int32 // where to look for a free cell from this one on; itself if it is free
	spare []pattern
	count []int32
}

// pack makes a trie of patterns, which it reorders, over symbols less than the given number. Two patterns of the same
// symbols must have the same levels.
func pack(patterns []pattern, arena []symbol, shared []levels, symbols int) (trie, error) {
	p := &packer{
		arena: arena,
		next:  make([]int32, 0, len(arena)/2+symbols), // about right for sets that share beginnings
		spare: make([]pattern, len(patterns)),
		count: make([]int32, symbols+1),
	}
	p.levels = shared
	p.cells = make([]cell, 0, cap(p.next))
	p.grow(1)
	p.cells[root].parent = root
	p.next[root] = 1
	if len(patterns) == 0 {
		return p.trie, nil
	}
	return p.trie, p.node(root, patterns, 0)
}

// grow makes n cells available at least.
func (p *packer) grow(n int) {
	for len(p.cells) < n {
		p.next = append(p.next, int32(len(p.cells)))
		p.cells = append(p.cells, cell{parent: noParent})
	}
}

// node gives children to the node s, which all of the patterns reach after depth symbols. It recurses as deep as the
// longest pattern.
func (p *packer) node(s int32, patterns []pattern, depth int32) error {
	if len(patterns) == 1 { // the usual end of a branch: a chain
		q := patterns[0]
		for i := q.begin + depth; i < q.end; i++ {
			s = p.place(s, p.arena[i:i+1]) + int32(p.arena[i])
		}
		p.cells[s].levels = q.levels
		return nil
	}
	patterns = p.group(patterns, depth)
	for first := patterns[0]; len(patterns) > 0 && p.key(patterns[0], depth) == 0; patterns = patterns[1:] {
		if again := patterns[0]; again.levels != first.levels {
			return fmt.Errorf("line %d: the same letters as in line %d with other digits; keep one of the two",
				max(again.line, first.line), min(again.line, first.line))
		}
		p.cells[s].levels = first.levels
	}
	if len(patterns) == 0 {
		return nil
	}
	var buf [64]symbol
	children := buf[:0]
	for i, q := range patterns {
		if c := p.arena[q.begin+depth]; i == 0 || c != children[len(children)-1] {
			children = append(children, c)
		}
	}
	base := p.place(s, children)
	for _, c := range children {
		n := 0
		for n < len(patterns) && p.arena[patterns[n].begin+depth] == c {
			n++
		}
		if err := p.node(base+int32(c), patterns[:n], depth+1); err != nil {
			return err
		}
		patterns = patterns[n:]
	}
	return nil
}

// key is the symbol of a pattern at depth plus one, or zero if the pattern ends there.
func (p *packer) key(q pattern, depth int32) int {
	if q.begin+depth == q.end {
		return 0
	}
	return int(p.arena[q.begin+depth]) + 1
}

// group sorts patterns by their key at depth: one step of a radix sort.
func (p *packer) group(patterns []pattern, depth int32) []pattern {
	if len(patterns) < 16 { // by insertion
		for i := 1; i < len(patterns); i++ {
			q := patterns[i]
			j, k := i, p.key(q, depth)
			for ; j > 0 && k < p.key(patterns[j-1], depth); j-- {
				patterns[j] = patterns[j-1]
			}
			patterns[j] = q
		}
		return patterns
	}
	clear(p.count)
	for _, q := range patterns {
		p.count[p.key(q, depth)]++
	}
	at := int32(0)
	for k, n := range p.count {
		p.count[k] = at
		at += n
	}
	for _, q := range patterns {
		k := p.key(q, depth)
		p.spare[p.count[k]] = q
		p.count[k]++
	}
	copy(patterns, p.spare)
	return patterns
}

// place finds room for the children of s, which are in ascending order, claims it, and returns the base.
func (p *packer) place(s int32, children []symbol) int32 {
	first, last := int(children[0]), int(children[len(children)-1])
search:
	for at := p.free(first + 1); ; at = p.free(at + 1) {
		p.grow(at - first + last + 1)
		for _, c := range children[1:] {
			if p.cells[at-first+int(c)].parent != noParent {
				continue search
			}
		}
		base := int32(at - first)
		p.cells[s].base = base
		for _, c := range children {
			p.cells[base+int32(c)].parent = s
			p.next[base+int32(c)]++
		}
		return base
	}
}

// free returns the first free cell from at on, which need not exist yet.
func (p *packer) free(at int) int {
	for at < len(p.next) && int(p.next[at]) != at {
		if n := p.next[at]; int(n) < len(p.next) {
			p.next[at] = p.next[n] // halve the way for those who come later
		}
		at = int(p.next[at])
	}
	return at
}
