package typeset

import (
	"context"
	"errors"
	"runtime"
	"sync"

	"bodkin/fonts"
	"bodkin/markup"
	"bodkin/typeset/length"

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
	face, err := c.res.Faces.Face(s.Face, fonts.Regular)
	if err != nil {
		return nil, err
	}
	if len(c.book.Sections) == 0 {
		return nil, errors.New("the book has no text")
	}
	g, err := c.galley(ctx, galleyKey{face.Family, figures(&s)})
	if err != nil {
		return nil, err
	}
	guess, err := c.guess(&s, face)
	if err != nil {
		return nil, err
	}
	return s.settle(guess, func(back length.Length) (*Layout, error) {
		return c.layout(ctx, &s, g, face, back)
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
	g, err := c.res.prepare(ctx, c.book, key.family, key.figures)
	if err == nil {
		once.g = g
	}
	return g, err
}

// guess estimates the number of pages, so that the first back margin tried is
// most often the last. A line holds some 2.2 letters to an em and a word some
// 5.7 letters with its space.
func (c *Composer) guess(s *Setting, face *fonts.Face) (int, error) {
	b, err := s.block(face, s.back(0))
	if err != nil {
		return 0, err
	}
	perPage := int64(b.Measure) * 22 / 10 / int64(s.Size.Length) * int64(b.Rows)
	return int(int64(c.words)*57/10/perPage) + 2*len(c.book.Sections)/3, nil
}

// layout sets the book with the given back margin.
func (c *Composer) layout(ctx context.Context, s *Setting, g *galley, face *fonts.Face, back length.Length) (*Layout, error) {
	block, err := s.block(face, back)
	if err != nil {
		return nil, err
	}
	l := &Layout{
		Title: c.book.Title, Author: c.book.Author, Language: c.book.Language, Modified: c.book.Modified,
		Setting: *s, Trim: s.Trim.Size(), Block: block, Back: back, Lacking: g.lacking,
	}
	columns, err := c.columns(ctx, s, g, block)
	if err != nil {
		return nil, err
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	m := maker{book: c.book, s: s, g: g, block: block, columns: columns}
	if err := m.make(l); err != nil {
		return nil, err
	}
	for i := range l.Pages {
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
func (c *Composer) columns(ctx context.Context, s *Setting, g *galley, block Block) ([]*column, error) {
	columns := make([]*column, len(c.book.Sections))
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
	faults := make([]error, len(columns))
	for range runtime.GOMAXPROCS(0) {
		group.Go(func() error {
			set := &setter{words: g.words.fork()}
			for i := range next {
				columns[i] = &column{ctx: ctx, set: set, s: s, block: block, p: &g.sections[i], plain: true}
				faults[i] = columns[i].section(c.book, c.book.Sections[i])
			}
			return nil
		})
	}
	if err := group.Wait(); err != nil {
		return nil, err
	}
	return columns, errors.Join(faults...)
}

// fork returns a word setter for another goroutine: what was made is shared
// and only read, and nothing that is made later is added to it.
func (s *wordSetter) fork() *wordSetter {
	return &wordSetter{res: s.res, faces: s.faces, family: s.family, figures: s.figures, hyphens: s.hyphens,
		made: make(map[markup.Style]map[string]*word), ids: make(map[string]int32), kerns: make(map[kernKey]int32)}
}
