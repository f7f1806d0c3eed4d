package markup

import (
	"bytes"
	"slices"
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
)

// headings takes the attributes off the end of a heading.
type headings struct{ parser.BlockParser }

func (p headings) Close(n ast.Node, r text.Reader, pc parser.Context) {
	p.BlockParser.Close(n, r, pc)
	lines := n.Lines()
	if n.Parent() == nil || lines.Len() == 0 {
		return
	}
	src := r.Source()
	last := lines.At(lines.Len() - 1)
	last = last.TrimRightSpace(src)
	line := last.Value(src)
	for i := range line {
		if line[i] != '{' || i > 0 && line[i-1] == '\\' || braces(line[i:]) != len(line)-i || endsSpan(line[:i], line[i:]) {
			continue
		}
		at := last.Stop - (len(line) - i)
		n.(ast.Node).SetAttributeString(attributeKey, text.NewSegment(at, last.Stop))
		last.Stop = at
		last = last.TrimRightSpace(src)
		lines.Set(lines.Len()-1, last)
		return
	}
}

// endsSpan tells whether braces at the end of a heading are those of a span in
// it: they stand close behind a bracket, and say nothing that only a heading
// has.
func endsSpan(before, braces []byte) bool {
	n := len(before)
	if n < 2 || before[n-1] != ']' || before[n-2] == '\\' || bytes.IndexByte(before, '[') < 0 {
		return false
	}
	_, fields, _ := readBraces(braces)
	for _, f := range fields {
		if name, _, keyed := strings.Cut(f, "="); !slices.Contains(spanAttributes, f) && !(keyed && slices.Contains(spanAttributes, name+"=")) {
			return false
		}
	}
	return true
}

// underlines remembers the line below a heading that is one by it.
type underlines struct{ headings }

const underlineKey = "underline"

func (p underlines) Open(parent ast.Node, r text.Reader, pc parser.Context) (ast.Node, parser.State) {
	n, state := p.headings.Open(parent, r, pc)
	if n != nil {
		n.SetAttributeString(underlineKey, n.Lines().At(0))
	}
	return n, state
}

// headingAttrs reads the attributes of a heading.
func (c *chapter) headingAttrs(h *ast.Heading, known []string) attributes {
	seg, ok := h.AttributeString(attributeKey)
	if !ok {
		return nil
	}
	to := "a heading"
	if len(known) < len(headingAttributes) {
		to = "a heading inside a chapter"
	}
	return c.attributes(seg.(text.Segment), to, known)
}

// asksForSection tells whether a heading has an attribute that says so.
func (c *chapter) asksForSection(h *ast.Heading) bool {
	faults := c.faults
	a := c.headingAttrs(h, headingAttributes)
	c.faults = faults
	return a.has(".part") || a.has(".chapter")
}

// opens tells whether a heading opens a section: one as high as the first of
// the file, one right below a part, or one that says so.
func (c *chapter) opens(h *ast.Heading) bool {
	return h.Level <= c.top || c.part > 0 && h.Level <= c.part+1 || c.asksForSection(h)
}

// titles tells whether a heading is the title of a chapter whose number stands
// alone in the heading right above it.
func (c *chapter) titles(h *ast.Heading) bool {
	s := c.sec
	return s != nil && s.Piece == Chapter && len(s.Number) > 0 && len(s.Title) == 0 && len(s.Blocks) == 0 && h.Level == c.base+1
}

// openWith begins the section that a heading opens.
func (c *chapter) openWith(h *ast.Heading) {
	c.open(c.pos(h))
	c.base = h.Level
	a := c.headingAttrs(h, headingAttributes)
	s := c.sec
	if lang, ok := a[langKey]; ok && lang != c.language {
		s.Language = lang
		c.marks = c.marksOf(lang)
	}
	asked := 0
	for _, side := range [...]struct {
		name string
		side Side
	}{{".recto", OnRecto}, {".verso", OnVerso}, {".next", OnEither}} {
		if a.has(side.name) {
			s.Side = side.side
			asked++
		}
	}
	if asked > 1 {
		c.fault(s.Pos, "this heading asks for "+itoa(asked)+" sides", "keep one of {.recto}, {.verso}, {.next}")
	}
	if a.has(".part") && a.has(".chapter") {
		c.fault(s.Pos, "this heading is called both a part and a chapter", "keep one of {.part}, {.chapter}")
	}
	s.Plain, s.Unlisted = a.has(".unnumbered"), a.has(".unlisted")
	s.Head = c.marks.plain(a[headKey])
	c.setTitle(s, c.inlines(h), a)
	if a.has(".part") {
		s.Piece = Part
	}
	switch {
	case s.Piece == Part:
		c.part = h.Level
	case h.Level <= c.part:
		c.part = 0
	}
}

// look says whether a heading has a number, whether it is a part's, and
// whether it has attributes.
func (c *chapter) look(h *ast.Heading) (number, part, attributed bool) {
	faults := c.faults
	a := c.headingAttrs(h, headingAttributes)
	text := c.inlines(h)
	c.faults = faults
	n, ok := c.marks.number(headingText(text))
	return ok, a.has(".part") || ok && n.piece == Part, len(a) > 0
}

// heading is one inside a section.
func (c *chapter) heading(n *ast.Heading) *Heading {
	h := &Heading{Pos: c.pos(n), Level: min(max(n.Level-c.base, 1), 5)}
	outer := c.text.base
	if lang, ok := c.headingAttrs(n, []string{langKey})[langKey]; ok {
		c.text.base = lang
	}
	h.Text = c.inlines(n)
	c.text.base = outer
	return h
}
