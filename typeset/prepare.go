package typeset

import (
	"context"
	"errors"
	"slices"
	"strconv"
	"strings"

	"bodkin/fonts"
	"bodkin/markup"
	"bodkin/typeset/picture"
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
	title    *text
	blocks   map[markup.Block][]*text // paragraphs, headings and captions have one text; lines of verse, signs and verbatim, and cells, one each
	labels   map[*markup.Item]*text   // of list items
	notes    []*text                  // labels of notes
	opened   *opened                  // the first paragraph of a chapter
	pictures map[*markup.Picture]picture.Info
}

// manyWords is room for the distinct words of a novel.
const manyWords = 1 << 13

// prepare makes the galley of a book.
func (res *Resources) prepare(ctx context.Context, book *markup.Book, key galleyKey) (*galley, error) {
	s, err := res.setter(book.Language, key)
	if err != nil {
		return nil, err
	}
	if _, err := s.face(0); err != nil {
		return nil, err
	}
	var missing []error
	s.missing = &missing
	g := &galley{words: s, sections: make([]prepared, len(book.Sections))}
	for i, sec := range book.Sections {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		s.speak(sec.Language)
		if err := g.sections[i].section(ctx, s, book, sec); err != nil {
			return nil, err
		}
	}
	if len(missing) > 0 {
		return nil, errors.Join(missing...)
	}
	s.missing = nil
	s.speak("")
	for want, face := range s.faces {
		if face != nil && face.Style != fonts.Style(want) {
			g.lacking = append(g.lacking, strings.ToLower(fonts.Style(want).String()))
		}
	}
	return g, nil
}

// setter returns a word setter that has made no words yet.
func (res *Resources) setter(language string, key galleyKey) (*wordSetter, error) {
	dict := &dictionaries{language: language, exceptions: res.Exceptions, all: make(map[string]hyphenator)}
	hyphens, err := dict.load(language)
	if none := (*noPatterns)(nil); errors.As(err, &none) {
		dict.whole, hyphens = err, nil // it can be set without hyphens
	} else if err != nil {
		return nil, err
	}
	dict.all[language] = hyphens
	home := &tongue{tag: language, hyphens: hyphens,
		made: map[markup.Style]map[string]*word{0: make(map[string]*word, manyWords)}}
	return &wordSetter{res: res, family: key.family, sign: key.sign, figures: key.figures, home: home,
		tongues: &tongues{of: map[string]*tongue{language: home}, dict: dict},
		ids:     make(map[string]int32, manyWords), kerns: make(map[kernKey]int32)}, nil
}

// section prepares the texts of a section.
func (p *prepared) section(ctx context.Context, s *wordSetter, book *markup.Book, sec *markup.Section) error {
	var err error
	p.blocks = make(map[markup.Block][]*text)
	if p.title, err = s.title(book, sec); err != nil {
		return err
	}
	if err := p.add(ctx, s, sec.Blocks); err != nil {
		return err
	}
	if first := opener(sec); first != nil {
		if p.opened, err = s.open(first); err != nil {
			return err
		}
	}
	for n, note := range sec.Notes {
		label, err := s.prepare([]markup.Inline{{Pos: note.Pos, Text: strconv.Itoa(n+1) + "."}}, note.Pos)
		if err != nil {
			return err
		}
		p.notes = append(p.notes, label)
		if err := p.add(ctx, s, note.Blocks); err != nil {
			return err
		}
	}
	return nil
}

// opener returns the paragraph with which the text of a chapter begins, what
// stands above it aside; nil where the chapter begins with something else.
func opener(sec *markup.Section) *markup.Paragraph {
	if sec.Matter != markup.Body || sec.Piece == markup.Part || len(sec.Title)+len(sec.Number) == 0 {
		return nil
	}
	for _, b := range sec.Blocks {
		switch b := b.(type) {
		case *markup.Picture:
		case *markup.Quotation:
			if b.Form != markup.Motto {
				return nil
			}
		case *markup.Paragraph:
			if b.Use == markup.Running && len(b.Text) > 0 {
				return b
			}
			if b.Use != markup.Dateline {
				return nil
			}
		default:
			return nil
		}
	}
	return nil
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
	tall.forget()
	t, err := tall.prepare(ins, pos)
	s.faces, s.signs = tall.faces, tall.signs
	return t, err
}

// subheading prepares a heading inside a chapter: the first level in small
// capitals, where the face has them, the others in italics.
func (s *wordSetter) subheading(b *markup.Heading) (*text, error) {
	face, err := s.face(0)
	if err != nil {
		return nil, err
	}
	if b.Level <= 1 && face.Supports(fonts.SmallCaps) {
		return s.lining(styled(b.Text, func(st markup.Style) markup.Style { return st | mixedCaps | markup.Caps }), b.Pos)
	}
	return s.lining(styled(b.Text, slant), b.Pos)
}

// slant sets upright text in italics, and what stands out in it upright.
func slant(st markup.Style) markup.Style { return st ^ markup.Emphasis }

// styled returns a text with other styles.
func styled(ins []markup.Inline, style func(markup.Style) markup.Style) []markup.Inline {
	made := slices.Clone(ins)
	for i := range made {
		made[i].Style = style(made[i].Style)
	}
	return made
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
			t, err = s.subheading(b)
			p.blocks[b] = []*text{t}
		case *markup.Quotation:
			err = p.add(ctx, s, b.Blocks)
		case *markup.Picture:
			err = p.picture(s, b)
		case *markup.List:
			err = p.list(ctx, s, b)
		case *markup.Verse:
			err = p.verse(s, b)
		case *markup.Sign:
			err = p.sign(s, b)
		case *markup.Table:
			err = p.table(s, b)
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

// text adds a text to those of a block.
func (p *prepared) text(s *wordSetter, b markup.Block, ins []markup.Inline) error {
	t, err := s.prepare(ins, b.Position())
	p.blocks[b] = append(p.blocks[b], t)
	return err
}

// verse prepares the lines of a poem, one stanza after the other.
func (p *prepared) verse(s *wordSetter, b *markup.Verse) error {
	for _, stanza := range b.Stanzas {
		for i := range stanza {
			if err := p.text(s, b, stanza[i].Text); err != nil {
				return err
			}
		}
	}
	return nil
}

// sign prepares the lines of an inscription.
func (p *prepared) sign(s *wordSetter, b *markup.Sign) error {
	style := markup.Inscribed
	if s.sign == "" {
		style = inscribed(b)
	}
	for _, line := range b.Lines {
		line = styled(line, func(st markup.Style) markup.Style { return st | style })
		if err := p.text(s, b, line); err != nil {
			return err
		}
	}
	return nil
}

// table prepares the cells of a table, row by row, those of its head in
// italics.
func (p *prepared) table(s *wordSetter, b *markup.Table) error {
	for _, cell := range b.Head {
		if err := p.text(s, b, styled(cell, slant)); err != nil {
			return err
		}
	}
	for _, row := range b.Rows {
		for _, cell := range row {
			if err := p.text(s, b, cell); err != nil {
				return err
			}
		}
	}
	return nil
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
