package wordproc

import (
	"context"
	"path/filepath"
	"strings"

	"bodkin/markup"
)

// compareSource is Compare for a manuscript of one Markdown file: its letters
// are those that package markup finds in it as it is.
func (m *Manuscript) compareSource(ctx context.Context, dir string) (*Comparison, error) {
	whole, err := markup.Load(ctx, markup.Source{Dir: filepath.Dir(m.doc.Name), Title: "-", Author: "-", Language: m.Language, Body: []string{filepath.Base(m.doc.Name)}})
	if err != nil {
		return nil, err
	}
	c := &Comparison{Left: m.left}
	var in []placed
	dropped := m.droppedLines()
	for r, pos := range whole.Letters(true) {
		c.Document.Letters++
		if !dropped[pos.Line] {
			in = append(in, placed{r, int32(pos.Line)})
		}
	}
	c.Document.Words = whole.Words()
	all := &markup.Book{}
	for _, p := range m.Pieces {
		book, err := m.load(ctx, dir, p)
		if err != nil {
			return nil, err
		}
		c.Chapters.Words += book.Words()
		all.Sections = append(all.Sections, book.Sections...)
	}
	c.compare("", in, all, func(int, Spot) {}) // its paragraphs are told by their lines already
	return c, nil
}

// droppedLines are the lines of the manuscript that are in no chapter.
func (m *Manuscript) droppedLines() map[int]bool {
	lines := map[int]bool{}
	for _, p := range m.doc.Paragraphs {
		if m.isDropped(p.N) {
			for k := range strings.Count(p.Raw, "\n") + 1 {
				lines[p.Line+k] = true
			}
		}
	}
	return lines
}
