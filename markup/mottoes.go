package markup

import (
	"bytes"
	"strings"
	"unicode"
	"unicode/utf8"
)

// shape finds what the blocks of a quotation are: who said it, and verse.
func (c *chapter) shape(q *Quotation) {
	q.Blocks = c.attribute(q.Blocks)
	rest := q.Blocks
	n := len(rest)
	if n > 0 && use(rest[n-1]) == Attribution {
		rest = rest[:n-1]
	}
	if v := c.versify(rest); v != nil {
		q.Blocks = append([]Block{v}, q.Blocks[len(rest):]...)
	}
}

func use(b Block) Use {
	if p, ok := b.(*Paragraph); ok {
		return p.Use
	}
	return Running
}

// bare returns what a quotation of nothing but verse holds, for verse is set
// off by itself; any other block comes back as it is.
func bare(b Block) Block {
	if q, ok := b.(*Quotation); ok && q.Form == Extract && len(q.Blocks) == 1 {
		if v, ok := q.Blocks[0].(*Verse); ok {
			return v
		}
	}
	return b
}

// attribute makes an Attribution of the last paragraph of a quotation, or of
// its last line behind a forced line end, when it begins with a dash and
// nothing else does: in dialogue, many lines do.
func (c *chapter) attribute(bs []Block) []Block {
	if len(bs) == 0 {
		return bs
	}
	last, ok := bs[len(bs)-1].(*Paragraph)
	if !ok {
		return bs
	}
	dashes := 0
	for _, b := range bs {
		p, ok := b.(*Paragraph)
		if !ok {
			continue
		}
		for _, line := range splitLines(p.Text) {
			if beginsWithDash(line) {
				dashes++
			}
		}
	}
	if dashes != 1 {
		return bs
	}
	lines := splitLines(last.Text)
	switch k := len(lines) - 1; {
	case beginsWithDash(last.Text):
		if len(bs) == 1 {
			return bs // there is nothing that it could have been said of
		}
		last.Use = Attribution
		c.longDash(last)
	case k > 0 && beginsWithDash(lines[k]):
		by := &Paragraph{Pos: lines[k][0].Pos, Use: Attribution, Text: lines[k]}
		last.Text = last.Text[:len(last.Text)-len(lines[k])-1]
		c.longDash(by)
		return append(bs, by)
	}
	return bs
}

func beginsWithDash(text []Inline) bool {
	if len(text) == 0 {
		return false
	}
	r, n := utf8.DecodeRuneInString(text[0].Text)
	return unicode.Is(unicode.Pd, r) && r != '-' && strings.Trim(Plain(text)[n:], "-–— ") != ""
}

// longDash gives an attribution an em dash for the two hyphens that it was
// typed with, which elsewhere stand for an en dash.
func (c *chapter) longDash(p *Paragraph) {
	first := &p.Text[0]
	rest, ok := strings.CutPrefix(first.Text, "–")
	if ok && bytes.HasPrefix(bytes.TrimLeft(c.line(first.Pos.Line), "> \t*_"), []byte("--")) {
		first.Text = "—" + rest
	}
}

// settle finds what the first blocks of a section are, when the section is
// whole.
func (c *chapter) settle(s *Section) {
	headed := len(s.Title)+len(s.Number) > 0
	if s.Piece == Epigraph {
		c.epigraph(s)
	}
	i := 0
	for i < len(s.Blocks) && isPicture(s.Blocks[i]) {
		i++
	}
	if headed && s.Piece <= Part {
		k := i
		for k < len(s.Blocks) && isExtract(s.Blocks[k]) {
			k++
		}
		if k < len(s.Blocks) || s.Piece == Part { // a chapter that is one quotation is its own text
			for ; i < k; i++ {
				s.Blocks[i].(*Quotation).Form = Motto
			}
		}
		for i < len(s.Blocks) && isMotto(s.Blocks[i]) {
			i++
		}
		if i+1 < len(s.Blocks) && s.Piece == Chapter {
			if p, ok := s.Blocks[i].(*Paragraph); ok && isDateline(p.Text) {
				p.Use = Dateline
			}
		}
	}
	for i, b := range s.Blocks {
		s.Blocks[i] = bare(b)
	}
}

// epigraph makes mottoes of the quotations of the book's epigraph, or, where
// there are none, one of all its text.
func (c *chapter) epigraph(s *Section) {
	found := false
	for _, b := range s.Blocks {
		if isExtract(b) {
			b.(*Quotation).Form = Motto
		}
		found = found || isMotto(b)
	}
	if found || len(s.Blocks) == 0 {
		return
	}
	for _, b := range s.Blocks {
		switch b.(type) {
		case *Paragraph, *Verse:
		default:
			return
		}
	}
	q := &Quotation{Pos: s.Blocks[0].Position(), Form: Motto, Blocks: s.Blocks}
	c.shape(q)
	s.Blocks = []Block{q}
}

func isExtract(b Block) bool {
	q, ok := b.(*Quotation)
	return ok && q.Form == Extract
}

func isMotto(b Block) bool {
	q, ok := b.(*Quotation)
	return ok && q.Form == Motto
}

func isPicture(b Block) bool {
	_, ok := b.(*Picture)
	return ok
}

// isDateline tells a place and date from a first sentence in italics: it is
// one line of the manuscript, all emphasis, and no sentence. One that ends in
// a full point has a figure in it, as a date or an hour has.
func isDateline(text []Inline) bool {
	if hasBreak(text) || runsOn(text) {
		return false
	}
	for _, in := range text {
		if in.Note == 0 && in.Style&Emphasis == 0 && strings.TrimSpace(in.Text) != "" {
			return false
		}
	}
	s := strings.TrimSpace(Plain(text))
	r, _ := utf8.DecodeLastRuneInString(s)
	switch {
	case s == "", unicode.Is(unicode.Pf, r), unicode.Is(unicode.Pi, r), strings.ContainsRune(`?!…"'`, r):
		return false
	case r == '.':
		return strings.IndexFunc(s, unicode.IsDigit) >= 0
	}
	return true
}
