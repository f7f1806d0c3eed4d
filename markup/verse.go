package markup

import (
	"bytes"
)

// verse makes the stanzas of a fence. A last line that begins with a dash is
// its attribution, where no other does.
func (c *chapter) verse(bs []Block, at Pos, f *fence) []Block {
	widths := map[int]int{}
	for _, in := range f.indents {
		widths[c.at(in.offset).Line] = in.width
	}
	v := &Verse{Pos: at}
	for n := f.FirstChild(); n != nil; n = n.NextSibling() {
		if lines := verseLines(c.lineTexts(n), widths); len(lines) > 0 {
			v.Stanzas = append(v.Stanzas, lines)
		}
	}
	if len(v.Stanzas) == 0 {
		return bs
	}
	by := v.attribution()
	v.level()
	if by == nil {
		return append(bs, v)
	}
	c.longDash(by)
	return append(bs, &Quotation{Pos: at, Blocks: []Block{v, by}})
}

// sign makes the lines of an inscription. An empty line among them is a line
// without text.
func (c *chapter) sign(at Pos, f *fence) *Sign {
	s := &Sign{Pos: at}
	for n := f.FirstChild(); n != nil; n = n.NextSibling() {
		if n != f.FirstChild() {
			s.Lines = append(s.Lines, nil)
		}
		for _, line := range splitLines(c.lineTexts(n)) {
			if len(line) > 0 {
				s.Lines = append(s.Lines, line)
			}
		}
	}
	for len(s.Lines) > 0 && len(s.Lines[len(s.Lines)-1]) == 0 {
		s.Lines = s.Lines[:len(s.Lines)-1]
	}
	return s
}

// splitLines divides a text at its forced line ends.
func splitLines(text []Inline) [][]Inline {
	var lines [][]Inline
	from := 0
	for i, in := range text {
		if in.Break {
			lines = append(lines, text[from:i:i])
			from = i + 1
		}
	}
	return append(lines, text[from:])
}

// verseLines makes the lines of a stanza. widths are the spaces before them,
// by line of the file.
func verseLines(text []Inline, widths map[int]int) []VerseLine {
	var lines []VerseLine
	for _, line := range splitLines(text) {
		if len(line) > 0 {
			lines = append(lines, VerseLine{widths[line[0].Pos.Line], line})
		}
	}
	return lines
}

// level takes from all lines the indent that they have in common.
func (v *Verse) level() {
	least := -1
	for _, s := range v.Stanzas {
		for _, l := range s {
			if least < 0 || l.Indent < least {
				least = l.Indent
			}
		}
	}
	for _, s := range v.Stanzas {
		for i := range s {
			s[i].Indent -= least
		}
	}
}

// attribution takes off a last line that begins with a dash, unless it is the
// only line or there are more of the kind.
func (v *Verse) attribution() *Paragraph {
	k := len(v.Stanzas) - 1
	last := v.Stanzas[k]
	line := last[len(last)-1]
	dashes, lines := 0, 0
	for _, s := range v.Stanzas {
		for _, l := range s {
			lines++
			if beginsWithDash(l.Text) {
				dashes++
			}
		}
	}
	if dashes != 1 || lines == 1 || !beginsWithDash(line.Text) {
		return nil
	}
	if v.Stanzas[k] = last[:len(last)-1]; len(v.Stanzas[k]) == 0 {
		v.Stanzas = v.Stanzas[:k]
	}
	return &Paragraph{Pos: line.Text[0].Pos, Use: Attribution, Text: line.Text}
}

// versify makes verse of the paragraphs of a quotation where every one has
// forced line ends and no other line ends.
func (c *chapter) versify(bs []Block) *Verse {
	if len(bs) == 0 {
		return nil
	}
	v := &Verse{Pos: bs[0].Position()}
	for _, b := range bs {
		p, ok := b.(*Paragraph)
		if !ok || !hasBreak(p.Text) || runsOn(p.Text) {
			return nil
		}
		widths := map[int]int{}
		for _, in := range p.Text {
			widths[in.Pos.Line] = c.quotedIndent(in.Pos.Line)
		}
		v.Stanzas = append(v.Stanzas, verseLines(p.Text, widths))
	}
	v.level()
	return v
}

// quotedIndent is the width of the spaces behind the last > that a line begins
// with.
func (c *chapter) quotedIndent(line int) int {
	src := c.line(line)
	prefix := src[:len(src)-len(bytes.TrimLeft(src, "> \t"))]
	spaces := prefix[bytes.LastIndexByte(prefix, '>')+1:]
	return len(expandTabs(string(spaces)))
}

// line returns the bytes of a line of the file.
func (c *chapter) line(n int) []byte {
	if n < 1 || n > len(c.lines) {
		return nil
	}
	end := len(c.src)
	if n < len(c.lines) {
		end = c.lines[n]
	}
	return bytes.TrimSuffix(c.src[c.lines[n-1]:end], []byte("\n"))
}

func hasBreak(text []Inline) bool {
	for _, in := range text {
		if in.Break {
			return true
		}
	}
	return false
}

// runsOn tells whether a text has a line end in the manuscript that is no
// forced one.
func runsOn(text []Inline) bool {
	for i := 1; i < len(text); i++ {
		if text[i].Pos.Line != text[i-1].Pos.Line && !text[i-1].Break {
			return true
		}
	}
	return false
}
