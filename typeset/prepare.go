package typeset

import (
	"context"
	"strconv"
	"strings"

	"bodkin/fonts"
	"bodkin/hyphen"
	"bodkin/markup"
)

// Resources are what composition needs beside a book and a setting.
type Resources struct {
	Faces      *fonts.Library // nil: the embedded faces
	Exceptions []string       // words with the author's own hyphens: "tide-clerk"
}

// galley is a book whose text is ready to be broken, in one family of faces
// and one kind of figures. It holds no measure and no size.
type galley struct {
	words    *wordSetter
	sections []prepared
	lacking  []string // styles that the family has no face for
}

// prepared is a section of a galley.
type prepared struct {
	title  *text
	blocks map[markup.Block][]*text // paragraphs and headings have one text, verbatim lines one each
	labels map[*markup.Item]*text   // of list items
	notes  []*text                  // labels of notes
	opened *opened                  // the first paragraph of a chapter
}

// The letters that stay before and after a hyphen, at the least (Bringhurst,
// §2.4.2).
const (
	lettersBefore = 2
	lettersAfter  = 3
)

// manyWords is room for the distinct words of a novel.
const manyWords = 1 << 13

// prepare makes the galley of a book.
func (res *Resources) prepare(ctx context.Context, book *markup.Book, family string, figures fonts.Feature) (*galley, error) {
	dict, err := hyphen.Load(book.Language)
	if err != nil {
		return nil, err
	}
	if len(res.Exceptions) > 0 {
		if dict, err = dict.WithExceptions(res.Exceptions); err != nil {
			return nil, err
		}
	}
	dict = dict.WithMins(lettersBefore, lettersAfter)
	s := &wordSetter{res: res, family: family, figures: figures, hyphens: dict,
		made: map[markup.Style]map[string]*word{0: make(map[string]*word, manyWords)}, ids: make(map[string]int32, manyWords), kerns: make(map[kernKey]int32)}
	if _, err := s.face(0); err != nil {
		return nil, err
	}
	g := &galley{words: s, sections: make([]prepared, len(book.Sections))}
	for i, sec := range book.Sections {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		p := &g.sections[i]
		p.blocks = make(map[markup.Block][]*text)
		if p.title, err = s.title(book, sec); err != nil {
			return nil, err
		}
		if err := p.add(ctx, s, sec.Blocks); err != nil {
			return nil, err
		}
		if sec.Matter == markup.Body && len(sec.Title) > 0 && len(sec.Blocks) > 0 {
			if first, is := sec.Blocks[0].(*markup.Paragraph); is && len(first.Text) > 0 {
				if p.opened, err = s.open(first); err != nil {
					return nil, err
				}
			}
		}
		for n, note := range sec.Notes {
			label, err := s.prepare([]markup.Inline{{Pos: note.Pos, Text: strconv.Itoa(n+1) + "."}}, note.Pos)
			if err != nil {
				return nil, err
			}
			p.notes = append(p.notes, label)
			if err := p.add(ctx, s, note.Blocks); err != nil {
				return nil, err
			}
		}
	}
	for want, face := range s.faces {
		if face != nil && face.Style != fonts.Style(want) {
			g.lacking = append(g.lacking, strings.ToLower(fonts.Style(want).String()))
		}
	}
	return g, nil
}

// title prepares the title of a section with lining figures, which stand as
// tall as its capitals.
func (s *wordSetter) title(book *markup.Book, sec *markup.Section) (*text, error) {
	title := sec.Title
	if sec.Kind == markup.HalfTitle || sec.Kind == markup.TitlePage {
		title = []markup.Inline{{Pos: sec.Pos, Text: book.Title}}
	}
	return s.lining(title, sec.Pos)
}

// lining prepares a text with figures as tall as capitals.
func (s *wordSetter) lining(ins []markup.Inline, pos markup.Pos) (*text, error) {
	tall := *s
	tall.figures = s.figures&^fonts.OldStyle | fonts.Lining
	tall.made = make(map[markup.Style]map[string]*word)
	t, err := tall.prepare(ins, pos)
	s.faces = tall.faces
	return t, err
}

// add prepares the texts of blocks.
func (p *prepared) add(ctx context.Context, s *wordSetter, blocks []markup.Block) error {
	for _, b := range blocks {
		err := ctx.Err()
		if err != nil {
			return err
		}
		switch b := b.(type) {
		case *markup.Paragraph:
			err = p.text(s, b, b.Text)
		case *markup.Heading:
			var t *text
			t, err = s.lining(b.Text, b.Pos)
			p.blocks[b] = []*text{t}
		case *markup.Quotation:
			err = p.add(ctx, s, b.Blocks)
		case *markup.List:
			err = p.list(ctx, s, b)
		case *markup.Verbatim:
			for i := range b.Lines {
				var t *text
				if t, err = s.asTyped(b.Lines[i]); err != nil {
					break
				}
				p.blocks[b] = append(p.blocks[b], t)
			}
		}
		if err != nil {
			return err
		}
	}
	return nil
}

func (p *prepared) text(s *wordSetter, b markup.Block, ins []markup.Inline) error {
	t, err := s.prepare(ins, b.Position())
	p.blocks[b] = append(p.blocks[b], t)
	return err
}

func (p *prepared) list(ctx context.Context, s *wordSetter, l *markup.List) error {
	if p.labels == nil {
		p.labels = make(map[*markup.Item]*text)
	}
	for i := range l.Items {
		item := &l.Items[i]
		label := "•"
		if l.Ordered {
			label = strconv.Itoa(l.Start+i) + "."
		}
		t, err := s.prepare([]markup.Inline{{Pos: item.Pos, Text: label}}, item.Pos)
		if err != nil {
			return err
		}
		p.labels[item] = t
		if err := p.add(ctx, s, item.Blocks); err != nil {
			return err
		}
	}
	return nil
}
