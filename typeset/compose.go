package typeset

import (
	"context"
	"errors"
	"fmt"
	"runtime"
	"slices"
	"sync"

	"bodkin/fonts"
	"bodkin/markup"
	"bodkin/typeset/length"
	"bodkin/typeset/pages"

	"github.com/go-text/typesetting/segmenter"
	"golang.org/x/sync/errgroup"
)

// Composer sets one book in many settings. Words are shaped and divided once
// for each family of faces and kept, so that a second setting shapes nothing
// but the few words that its line ends divide. It is safe for concurrent use.
type Composer struct {
	book  *markup.Book
	words int // in the book
	res   Resources

	mu      sync.Mutex
	galleys map[galleyKey]*galleyOnce
}

type galleyKey struct {
	family  string
	sign    string // family of inscriptions; empty for small capitals
	figures fonts.Feature
}

type galleyOnce struct {
	sync.Mutex
	g *galley
}

// NewComposer returns a composer of the book.
func NewComposer(book *markup.Book, res Resources) *Composer {
	if res.Faces == nil {
		res.Faces = fonts.Embedded()
	}
	return &Composer{book: book, words: book.Words(), res: res, galleys: make(map[galleyKey]*galleyOnce)}
}

// Compose sets the book. The error names what in the setting or in the
// manuscript cannot be set; a fault of the manuscript carries its place.
func Compose(ctx context.Context, book *markup.Book, s Setting, res Resources) (*Layout, error) {
	return NewComposer(book, res).Compose(ctx, s)
}

// Compose sets the book in a setting.
//
// Where the back margin is "auto", it depends on the number of pages and the
// number of pages on it: the book is set again until both agree (see
// Layout.Unsettled).
func (c *Composer) Compose(ctx context.Context, s Setting) (*Layout, error) {
	return c.compose(ctx, s, nil)
}

// compose sets the book: with a worker, on its core alone.
func (c *Composer) compose(ctx context.Context, s Setting, w *worker) (*Layout, error) {
	face, err := c.res.Faces.Face(s.Face, fonts.Regular)
	if err != nil {
		return nil, err
	}
	if len(c.book.Sections) == 0 {
		return nil, errors.New("the book has no text")
	}
	key := galleyKey{family: face.Family, figures: figures(&s)}
	if s.SignFace != "" {
		sign, err := c.res.Faces.Face(s.SignFace, fonts.Regular)
		if err != nil {
			return nil, fmt.Errorf("sign-face: %w", err)
		}
		key.sign = sign.Family
	}
	g, err := c.galley(ctx, key)
	if err != nil {
		return nil, err
	}
	if err := g.words.tongues.dict.whole; err != nil && s.Hyphenate {
		return nil, fmt.Errorf("language: %w; with hyphenate = false the book is set without hyphens", err)
	}
	guess, err := c.guess(&s, face)
	if err != nil {
		return nil, err
	}
	return s.settle(guess, func(back length.Length) (*Layout, error) {
		return c.layout(ctx, &s, g, face, back, w)
	})
}

// figures returns the features of running text.
func figures(s *Setting) fonts.Feature {
	if s.Figures == Lining {
		return fonts.Lining
	}
	return fonts.OldStyle
}

// galley returns the book as prepared in a family, from what is kept or anew.
func (c *Composer) galley(ctx context.Context, key galleyKey) (*galley, error) {
	c.mu.Lock()
	once := c.galleys[key]
	if once == nil {
		once = new(galleyOnce)
		c.galleys[key] = once
	}
	c.mu.Unlock()
	once.Lock()
	defer once.Unlock()
	if once.g != nil {
		return once.g, nil
	}
	g, err := c.res.prepare(ctx, c.book, key)
	if err == nil {
		once.g = g
	}
	return g, err
}

// guess estimates the number of pages, so that the first back margin tried is
// most often the last. A line holds some 2.2 letters to an em and a word some
// 5.7 letters with its space.
func (c *Composer) guess(s *Setting, face *fonts.Face) (int, error) {
	b, err := s.block(face, s.back())
	if err != nil {
		return 0, err
	}
	perPage := int64(b.Measure) * 22 / 10 / int64(s.Size.Length) * int64(b.Rows)
	return int(int64(c.words)*57/10/perPage) + 2*len(c.book.Sections)/3, nil
}

// layout sets the book with the given back margin.
func (c *Composer) layout(ctx context.Context, s *Setting, g *galley, face *fonts.Face, back length.Length, w *worker) (*Layout, error) {
	block, err := s.block(face, back)
	if err != nil {
		return nil, err
	}
	l := &Layout{
		Title: c.book.Title, Author: c.book.Author, Language: c.book.Language, Modified: c.book.Modified,
		Setting: *s, Trim: s.Trim.Size(), Block: block, Back: back, Lacking: g.lacking,
	}
	numbers, err := s.numbersOf(c.book)
	if err != nil {
		return nil, err
	}
	columns, err := c.columns(ctx, s, g, block, numbers, w)
	if err != nil {
		return nil, err
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	m := maker{book: c.book, s: s, g: g, block: block, columns: columns, numbers: numbers, worker: w}
	if w != nil {
		m.set, m.breaker = w.setter(g), &w.breaker
	} else {
		m.set, m.breaker = &setter{words: g.words.fork()}, new(pages.Breaker)
	}
	if err := m.make(l); err != nil {
		return nil, err
	}
	for i := range l.Pages {
		for k := range l.Pages[i].Plates {
			if l.Pages[i].Plates[k].Bleeds {
				l.Bleed = s.Bleed.Length
			}
		}
		left := l.BlockLeft(i)
		for j := range l.Pages[i].Lines {
			l.Pages[i].Lines[j].X += left
		}
	}
	return l, nil
}

// columns breaks the text of all sections into lines, on as many cores as
// there are. Sections do not depend on each other, so the result does not
// depend on the order of the work.
func (c *Composer) columns(ctx context.Context, s *Setting, g *galley, block Block, numbers []sectionNumber, w *worker) ([]*column, error) {
	columns := make([]*column, len(c.book.Sections))
	faults := make([]error, len(columns))
	gathered := slices.ContainsFunc(c.book.Sections, func(sec *markup.Section) bool { return sec.Kind == markup.Endnotes })
	one := func(i int, set *setter) {
		columns[i] = &column{ctx: ctx, set: set, s: s, block: block, p: &g.sections[i], plain: true, gathered: gathered,
			index: i, numbers: numbers, all: g.sections}
		if w != nil {
			columns[i].blocks, columns[i].fills = w.memory(i)
		}
		if faults[i] = columns[i].setFootnotes(c.book.Sections[i]); faults[i] == nil {
			faults[i] = columns[i].section(c.book, c.book.Sections[i])
		}
	}
	if w != nil {
		w.each(len(columns), func(i int) { one(i, w.setter(g)) })
		w.columns = columns
		return columns, errors.Join(distinct(faults)...)
	}
	group, ctx := errgroup.WithContext(ctx)
	next := make(chan int)
	group.Go(func() error {
		defer close(next)
		for i := range columns {
			select {
			case next <- i:
			case <-ctx.Done():
				return ctx.Err()
			}
		}
		return nil
	})
	for range runtime.GOMAXPROCS(0) {
		group.Go(func() error {
			set := &setter{words: g.words.fork()}
			for i := range next {
				one(i, set)
			}
			return nil
		})
	}
	if err := group.Wait(); err != nil {
		return nil, err
	}
	return columns, errors.Join(distinct(faults)...)
}

// distinct leaves out what has been said already: a fault of the setting shows
// in every chapter.
func distinct(faults []error) []error {
	var kept []error
	said := make(map[string]bool)
	for _, err := range faults {
		if err != nil && !said[err.Error()] {
			said[err.Error()] = true
			kept = append(kept, err)
		}
	}
	return kept
}

// fork returns a word setter for another goroutine: what was made is shared
// and only read, and nothing that is made later is added to it.
func (s *wordSetter) fork() *wordSetter {
	fork := *s
	fork.forget()
	fork.ids, fork.kerns = make(map[string]int32), make(map[kernKey]int32)
	fork.points, fork.letters, fork.seg = nil, nil, segmenter.Segmenter{}
	return &fork
}
