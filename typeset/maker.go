package typeset

import (
	"errors"
	"fmt"
	"runtime"
	"slices"

	"bodkin/markup"
	"bodkin/typeset/length"
	"bodkin/typeset/pages"

	"golang.org/x/sync/errgroup"
)

// maker cuts columns into pages and puts the book together.
type maker struct {
	book    *markup.Book
	s       *Setting
	g       *galley
	block   Block
	columns []*column
	numbers []sectionNumber
	set     *setter
	breaker *pages.Breaker
	worker  *worker // who places all lines itself; nil for none

	plans []plan // of the sections
	all   []Page
}

// plan is how a section falls into pages.
type plan struct {
	first  int // index of its first page
	made   pages.Breaking
	blocks []pages.Block // of its column, with the ways that page turns have added
	fills  []fill
}

// count returns the pages of a section: one at the least.
func (p *plan) count() int { return max(1, len(p.made.Pages)) }

// shortest is the least number of lines on the last page of a chapter.
const shortest = 5

// make fills in the pages of l.
func (m *maker) make(l *Layout) error {
	m.plans = make([]plan, len(m.book.Sections))
	front := 0
	for front < len(m.book.Sections) && m.book.Sections[front].Matter == markup.Front {
		front++
	}
	// The body first: its folios stand in the contents, and it begins on a
	// recto whatever comes before.
	bodies, err := m.planBody(front, l)
	if err != nil {
		return err
	}
	fronts, err := m.planFront(front)
	if err != nil {
		return err
	}
	fronts += fronts % 2
	for i := front; i < len(m.plans); i++ {
		m.plans[i].first += fronts
	}
	m.all = make([]Page, m.s.Press.fill(fronts+bodies))
	for i := range m.all {
		m.all[i] = Page{Blank: true, Section: -1, Depth: m.block.Rows}
	}
	if err := m.fill(); err != nil {
		return err
	}
	label(m.all, fronts)
	if err := m.furnish(); err != nil {
		return err
	}
	l.Pages = m.all
	l.Entries = m.entries()
	return nil
}

// mostFronts is how many times the contents are made again at the most. They
// could go to and fro for ever only where a folio's width turns a line.
const mostFronts = 4

// planFront plans the first sections, the contents among them. A foreword
// that stands after the contents is listed in them, so they are made again
// until their own length is right.
func (m *maker) planFront(front int) (int, error) {
	firsts := func() []int {
		at := make([]int, front)
		for i := range at {
			at[i] = m.plans[i].first
		}
		return at
	}
	for n := 0; ; n++ {
		before := firsts()
		for i, sec := range m.book.Sections[:front] {
			if sec.Kind == markup.Contents {
				if err := m.contents(m.columns[i], front); err != nil {
					return 0, err
				}
			}
		}
		made, err := m.plan(0, front, false)
		if err != nil || slices.Equal(before, firsts()) || n == mostFronts {
			return made, err
		}
	}
}

// planBody plans the sections from front on. Where the fewest pages are
// wanted, it plans them both ways, to know what that saves, and to keep the
// other plan should the one chapter by chapter come to more.
func (m *maker) planBody(front int, l *Layout) (int, error) {
	even, err := m.plan(front, len(m.plans), false)
	if err != nil || m.s.Pages != FewestPages {
		return even, err
	}
	kept := append([]plan(nil), m.plans...)
	fewest, err := m.plan(front, len(m.plans), true)
	if err != nil {
		return 0, err
	}
	if fewest > even {
		m.plans, fewest = kept, even
	}
	l.Saved = even - fewest
	return fewest, nil
}

// plan breaks the sections of a range into pages, the first of them a recto,
// and returns how many pages they make.
func (m *maker) plan(from, to int, fewest bool) (int, error) {
	at := 0
	for i := from; i < to; i++ {
		p := &m.plans[i]
		at = m.begin(i, at)
		p.first = at
		err := m.pages(p, m.columns[i], pages.Options{Rows: m.block.Rows, Verso: at%2 == 1,
			Short: 1, Long: m.s.long(&m.block), LeastLast: shortest, Fewest: fewest, NoteRows: m.block.noteRows})
		if err != nil {
			if tall := (*pages.ErrTooTall)(nil); errors.As(err, &tall) && tall.Block < max(1, m.columns[i].opened) {
				return 0, fmt.Errorf("%v: the page has no room for its opening: %w; lower the sink, or set the title smaller",
					m.book.Sections[i].Pos, err)
			}
			return 0, fmt.Errorf("%v: %w", m.book.Sections[i].Pos, err)
		}
		at += p.count()
	}
	return at, nil
}

// fill places the lines of all sections on their pages, on as many cores as
// there are: each section has its own pages.
func (m *maker) fill() error {
	if m.worker != nil {
		m.worker.each(len(m.plans), func(i int) { m.section(i, m.set) })
		return nil
	}
	next := make(chan int, len(m.plans))
	for i := range m.plans {
		next <- i
	}
	close(next)
	var group errgroup.Group
	for range min(runtime.GOMAXPROCS(0), len(m.plans)) {
		group.Go(func() error {
			set := &setter{words: m.g.words.fork()}
			for i := range next {
				m.section(i, set)
			}
			return nil
		})
	}
	return group.Wait()
}

// section places the lines of a section.
func (m *maker) section(i int, set *setter) {
	c, p := m.columns[i], &m.plans[i]
	m.all[p.first] = Page{Section: i, Opening: true, Depth: m.block.Rows}
	at, item := 0, 0  // the block at hand, and how many items stand before it
	var placed []Line // of the block at hand, if it is a text
	begun := false    // with text, after the plates that come before it
	var rest []footLine
	if c.feet != nil {
		rest = c.feet.lines
	}
	for n, made := range p.made.Pages {
		page := &m.all[p.first+n]
		if made.Blank {
			continue
		}
		*page = Page{Depth: made.Depth, Torn: made.Torn, Lines: make([]Line, 0, made.To-made.From+2)}
		if made.Plate > 0 {
			*page = m.plate(p.fills[made.Plate-1].figure, p.first+n)
		}
		page.Section, page.Opening = i, n == 0 || !begun && made.Plate == 0
		begun = begun || made.Plate == 0
		row := 0
		for _, block := range made.Ahead {
			fig := p.fills[block].figure
			page.figure(fig, m.block.Baseline+length.Length(row)*m.block.Leading, m.left(p.first+n))
			row += ahead(p.blocks[block], p.made.Ways[block])
		}
		for k := made.From; k < made.To; k++ {
			items := p.blocks[at][p.made.Ways[at]].Items
			for k-item >= len(items) {
				item += len(items)
				at++
				placed = nil
				items = p.blocks[at][p.made.Ways[at]].Items
			}
			f := &p.fills[at]
			if f.text != nil && placed == nil {
				placed = f.placed(set, p.made.Ways[at])
			}
			top := m.block.Baseline + length.Length(row)*m.block.Leading
			for _, line := range f.on(p.made.Ways[at], k-item, placed, k == made.From && n > 0) {
				line.Y += top
				page.Lines = append(page.Lines, line)
			}
			if it := &items[k-item]; f.figure != nil && it.Rows > 0 && !it.Space {
				page.figure(f.figure, top, m.left(p.first+n))
			}
			row += items[k-item].Rows
		}
		if made.Notes > 0 {
			m.foot(page, rest, made.Notes)
			rest = rest[made.Notes:]
			if m.s.NoteNumbers == NumberedByPage {
				page.renumber()
			}
		}
	}
}

// ahead returns the rows that a way sends on to the next page.
func ahead(b pages.Block, way int) int {
	rows := 0
	for _, it := range b[way].Items {
		rows += it.Ahead
	}
	return rows
}

// placed returns the lines of a way of a text.
func (f *fill) placed(set *setter, way int) []Line {
	var lines []Line
	switch {
	case f.proof == nil:
		lines = set.place(f.text, way)
	case f.label == nil:
		return f.proof.placed(set, way)
	default:
		lines = slices.Clone(f.proof.placed(set, way))
	}
	f.hang(lines)
	return lines
}

// on returns the lines that stand on an item of a way.
func (f *fill) on(way, item int, placed []Line, head bool) []Line {
	switch {
	case f.text != nil:
		return placed[item : item+1]
	case f.hidden && !head:
		return nil
	}
	return f.lines[way][item]
}

// hang puts the label before the first line of a text.
func (f *fill) hang(lines []Line) {
	if f.label == nil {
		return
	}
	first := &lines[0]
	runs := make([]Run, 0, len(f.label)+len(first.Runs))
	for _, r := range f.label {
		r.X -= first.X
		runs = append(runs, r)
	}
	first.Runs, first.Labels, first.traits = append(runs, first.Runs...), first.Labels+len(f.label), nil
}
