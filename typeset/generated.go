package typeset

import (
	"strconv"

	"bodkin/markup"
	"bodkin/typeset/length"
	"bodkin/typeset/pages"
)

// titlePage adds a half-title (the title alone) or a title page.
func (c *column) titlePage(book *markup.Book, sec *markup.Section) error {
	c.empty(c.sink())
	size := c.s.headingSize()
	if sec.Kind == markup.HalfTitle {
		return c.title(c.p.title, size, Display)
	}
	if err := c.title(c.p.title, size*3/2, Display); err != nil {
		return err
	}
	for _, under := range []struct {
		text string
		size length.Length
	}{{book.Subtitle, size * 4 / 5}, {book.Author, size * 4 / 5}} {
		if under.text == "" {
			continue
		}
		t, err := c.set.words.lining([]markup.Inline{{Pos: sec.Pos, Text: under.text}}, sec.Pos)
		if err != nil {
			return err
		}
		c.empty(2)
		if err := c.title(t, under.size, Display); err != nil {
			return err
		}
	}
	return nil
}

// contentsWord is the heading of the contents, by language.
var contentsWord = map[string]string{
	"de": "Inhalt", "es": "Índice", "fr": "Table des matières", "it": "Indice", "nl": "Inhoud",
	"pl": "Spis treści", "pt": "Índice", "sv": "Innehåll",
}

// contents makes the contents: the titles of the sections with the folios of
// the pages on which they begin, as the plans have them. front is the number
// of sections in front matter.
func (m *maker) contents(c *column, front int) error {
	c.set, c.plain, c.blocks, c.fills = &m.set, true, nil, nil
	word, found := contentsWord[primary(m.book.Language)]
	if !found {
		word = "Contents"
	}
	pos := markup.Pos{File: "book.toml"}
	heading, err := m.set.words.lining([]markup.Inline{{Pos: pos, Text: word}}, pos)
	if err != nil {
		return err
	}
	c.empty(c.sink())
	if err := c.title(heading, m.s.headingSize(), Display); err != nil {
		return err
	}
	c.empty(2)
	for i, sec := range m.book.Sections {
		if len(sec.Title) == 0 {
			continue
		}
		t, err := m.set.words.prepare(withoutNotes(sec.Title), sec.Pos)
		if err != nil {
			return err
		}
		if len(t.tokens) == 0 {
			continue
		}
		folio := strconv.Itoa(m.plans[i].first + 1)
		if i < front {
			folio = roman(m.plans[i].first + 1)
		}
		number, err := m.oneLine(folio, 0, m.g.words.figures, m.s.Size.Length, 0, sec.Pos)
		if err != nil {
			return err
		}
		sh := c.shape(inset{size: m.s.Size.Length, role: Display}, ragged)
		room := 3 * sh.size // kept free for the folio
		sh.measure -= room
		sh.later = sh.size
		lines, err := m.set.set(t, sh)
		if err != nil {
			return err
		}
		last := &lines[len(lines)-1]
		for _, r := range number.runs {
			r.X += c.block.Measure - last.X - number.width
			r.Space = true
			last.Runs = append(last.Runs[:len(last.Runs):len(last.Runs)], r)
		}
		last.Measure += room
		for n := range lines {
			cost := pages.Forbid
			if n == len(lines)-1 {
				cost = 0
			}
			c.add(1, cost, lines[n])
		}
	}
	return nil
}

// withoutNotes drops references to notes: a title in the contents has none.
func withoutNotes(ins []markup.Inline) []markup.Inline {
	var kept []markup.Inline
	for _, in := range ins {
		if in.Break {
			in = markup.Inline{Pos: in.Pos, Text: " "}
		}
		if in.Note == 0 {
			kept = append(kept, in)
		}
	}
	return kept
}

// primary returns the language of a BCP 47 tag.
func primary(tag string) string {
	for i, r := range tag {
		if r == '-' || r == '_' {
			return tag[:i]
		}
	}
	return tag
}
