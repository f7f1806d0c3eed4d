package markup

import (
	"bytes"
	"slices"
	"sort"
	"strings"

	"github.com/yuin/goldmark/ast"
	extast "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/util"
)

// chapter turns the syntax tree of one file into sections.
type chapter struct {
	name     string
	src      []byte
	lines    []int // offset of the first byte of each line
	near     int   // the line that was asked for last
	matter   Matter
	dir      *folder // nil in a text without a folder
	language string  // of the book
	marks    *marks  // of the section
	marksOf  func(lang string) *marks
	speech   byte // the mark that speech begins with, ' or "
	faults   []*Error

	sections []*Section
	sec      *Section // the last of sections
	top      int      // the level of the first heading
	part     int      // the level of the part's title that chapters stand under; 0 for none
	base     int      // the level of the title of sec
	depth    int      // of the quotations, lists and notes around a block

	inputs []input // the pictures

	notes   []*noteState // by goldmark's index, less one
	pending []*noteState // referred to by sec, not built yet

	text textBuilder

	holds    bool // the lines of short paragraphs hold: in a dedication, an epigraph
	inLetter bool
}

// noteState is a note of the file on its way to a section.
type noteState struct {
	def  *extast.Footnote
	note *Note // set by the first reference
	pos  Pos   // of that reference
}

func newChapter(e entry, src []byte, marks *marks) *chapter {
	c := &chapter{name: e.name, src: src, matter: e.matter, marks: marks}
	piece := pieceOf(e.name)
	c.holds = piece == Dedication || piece == Epigraph
	c.lines = append(make([]int, 0, bytes.Count(src, []byte("\n"))+1), 0)
	for i := 0; ; {
		n := bytes.IndexByte(src[i:], '\n')
		if n < 0 {
			break
		}
		i += n + 1
		c.lines = append(c.lines, i)
	}
	c.text.c = c
	c.speech = '"'
	begins := func(mark string) int {
		n := bytes.Count(src, []byte("\n"+mark))
		if bytes.HasPrefix(src, []byte(mark)) {
			n++
		}
		return n
	}
	if begins("'") > begins(`"`) {
		c.speech = '\''
	}
	return c
}

// at is the position of a byte of the file.
func (c *chapter) at(offset int) Pos {
	if offset < 0 {
		return Pos{File: c.name}
	}
	for k := c.near; k < len(c.lines) && k < c.near+3; k++ { // most questions go forward by little
		if c.lines[k] <= offset && (k+1 == len(c.lines) || offset < c.lines[k+1]) {
			c.near = k
			return Pos{c.name, k + 1}
		}
	}
	c.near = sort.SearchInts(c.lines, offset+1) - 1
	return Pos{c.name, c.near + 1}
}

// fault records what is wrong, once for a line: an element that is opened and
// closed there is one fault to mend.
func (c *chapter) fault(at Pos, what, mend string) {
	made := &Error{Pos: at, What: what, Mend: mend}
	if n := len(c.faults); n > 0 && c.faults[n-1].Error() == made.Error() {
		return
	}
	c.faults = append(c.faults, made)
}

// read goes through a whole file. With a front that can show it, title is the
// heading that names the book: it and the line with the author's name are
// left to the title page.
func (c *chapter) read(doc ast.Node, title *bookTitle) {
	c.findNotes(doc)
	for n := doc.FirstChild(); n != nil && c.top == 0; n = n.NextSibling() {
		if h, ok := n.(*ast.Heading); ok && c.lookAt(h) == trueHeading {
			c.top = h.Level
		}
	}
	if title != nil {
		c.top = 2
	}
	for n := doc.FirstChild(); n != nil; n = n.NextSibling() {
		if title != nil && title.shown && (n == title.heading || n == title.byline) {
			continue
		}
		h, ok := n.(*ast.Heading)
		if ok && c.sec == nil && c.lookAt(h) == bareMark {
			c.inlines(h) // nothing stands before it that it could part from what follows
			continue
		}
		ok = ok && c.lookAt(h) == trueHeading
		if ok && c.opens(h) {
			c.openWith(h)
			continue
		} else if ok && c.titles(h) {
			c.sec.Title = c.inlines(h)
			c.base = h.Level
			continue
		}
		fresh := c.sec == nil
		if fresh {
			c.open(c.pos(n))
			c.base = max(c.top, 1) - 1
		}
		c.unspaced(n)
		c.sec.Blocks = c.block(c.sec.Blocks, n)
		if fresh && len(c.sec.Blocks) == 0 {
			c.sections, c.sec = nil, nil
		}
	}
	c.close()
	c.reportNotes()
	if c.sec == nil && len(c.faults) == 0 {
		c.fault(Pos{File: c.name}, "the file holds no text to set", "write its text, or take it off the list")
	}
	slices.SortStableFunc(c.faults, func(a, b *Error) int { return a.Pos.Line - b.Pos.Line })
}

// open begins a section.
func (c *chapter) open(at Pos) {
	c.close()
	c.marks = c.marksOf(c.language)
	c.sec = &Section{Pos: at, Matter: c.matter}
	c.sections = append(c.sections, c.sec)
}

// close builds the notes of the section that ends. They may refer to more.
func (c *chapter) close() {
	if c.sec == nil {
		return
	}
	for i := 0; i < len(c.pending); i++ {
		s := c.pending[i]
		s.note.Blocks = c.blocks(s.def)
		c.refuseHeadings(s.note.Blocks)
		if len(s.note.Blocks) == 0 {
			c.fault(s.note.Pos, "note [^"+oneLine(s.def.Ref)+"] has no text", "write it after the colon")
		}
	}
	c.pending = c.pending[:0]
}

// pos is the position of a block, which for some kinds is that of its text.
func (c *chapter) pos(n ast.Node) Pos {
	if l := n.Lines(); l.Len() > 0 && n.Kind() != ast.KindFencedCodeBlock && n.Kind() != kindFence {
		return c.at(l.At(0).Start)
	}
	return c.at(n.Pos())
}

// blocks are those inside a quotation, a list, a letter or a note.
func (c *chapter) blocks(parent ast.Node) []Block {
	c.depth++
	defer func() { c.depth-- }()
	var bs []Block
	for n := parent.FirstChild(); n != nil; n = n.NextSibling() {
		bs = c.block(bs, n)
	}
	for i, b := range bs {
		bs[i] = bare(b)
	}
	return bs
}

// block puts what a node makes behind bs: a block, several pictures, or
// nothing.
func (c *chapter) block(bs []Block, n ast.Node) []Block {
	switch n := n.(type) {
	case *ast.Paragraph, *ast.TextBlock:
		return c.paragraph(bs, n)
	case *ast.Heading:
		var none bool
		if bs, none = c.unheaded(bs, n); !none {
			bs = append(bs, c.heading(n))
		}
	case *ast.Blockquote:
		q := &Quotation{Pos: c.pos(n), Blocks: c.blocks(n)}
		if c.shape(q); len(q.Blocks) > 0 {
			bs = append(bs, q)
		}
	case *ast.List:
		if bareList(n) {
			return append(bs, &SceneBreak{c.pos(n)})
		}
		bs = append(bs, c.list(n))
	case *ast.ThematicBreak:
		bs = append(bs, &SceneBreak{c.pos(n)})
	case *fence:
		bs = c.fence(bs, n)
	case *ast.CodeBlock, *ast.FencedCodeBlock:
		c.checkFence(n)
		if v := c.verbatim(n); v != nil {
			bs = append(bs, v)
		}
	case *extast.Table:
		bs = append(bs, c.table(n))
	case *ast.HTMLBlock:
		c.htmlBlock(n)
	case *ast.LinkReferenceDefinition, *extast.FootnoteList:
		// the one names addresses, the other has been taken by findNotes
	default:
		c.fault(c.pos(n), "this is not set yet ("+n.Kind().String()+")", "write it in other words")
	}
	return bs
}

// paragraph makes a block of a paragraph: pictures, a scene break, or text.
func (c *chapter) paragraph(bs []Block, n ast.Node) []Block {
	if holdsPictures(n, c.src) {
		return c.pictures(bs, n)
	}
	at, read := c.pos(n), c.inlines
	if c.areHeld(n.Lines()) {
		read = c.lineTexts
	}
	text := read(n)
	switch {
	case len(text) == 1 && text[0].Note == 0 && isBreak(text[0].Text):
		bs = append(bs, &SceneBreak{at})
	case len(text) > 0:
		bs = append(bs, &Paragraph{Pos: at, Text: text})
	}
	return bs
}

func (c *chapter) list(n *ast.List) *List {
	l := &List{Pos: c.pos(n), Ordered: n.IsOrdered(), Tight: n.IsTight}
	if l.Ordered {
		l.Start = n.Start
	}
	for i := n.FirstChild(); i != nil; i = i.NextSibling() {
		l.Items = append(l.Items, Item{Pos: c.pos(i), Blocks: c.blocks(i)})
	}
	return l
}

// verbatim keeps the lines of a code block. A tab reaches to the next fourth
// column, as CommonMark 2.2 counts.
func (c *chapter) verbatim(n ast.Node) *Verbatim {
	v := &Verbatim{Pos: c.pos(n)}
	for i := range n.Lines().Len() {
		seg := n.Lines().At(i)
		line := strings.TrimSuffix(string(seg.Value(c.src)), "\n")
		if strings.Contains(line, "\t") {
			line = expandTabs(line)
		}
		v.Lines = append(v.Lines, Inline{Pos: c.at(seg.Start), Text: nfc(line), Style: Code})
	}
	if len(v.Lines) == 0 {
		return nil
	}
	return v
}

func expandTabs(line string) string {
	var b strings.Builder
	column := 0
	for _, r := range line {
		if r != '\t' {
			b.WriteRune(r)
			column++
			continue
		}
		for ok := true; ok; ok = column%4 != 0 {
			b.WriteByte(' ')
			column++
		}
	}
	return b.String()
}

// findNotes takes stock of the notes that the file defines, wherever they stand.
func (c *chapter) findNotes(doc ast.Node) {
	var defs []*extast.Footnote
	used, named := map[string]bool{}, map[string]*ast.LinkReferenceDefinition{}
	var links []*ast.LinkReferenceDefinition
	_ = ast.Walk(doc, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		switch n := n.(type) {
		case *extast.Footnote:
			defs = append(defs, n)
		case *ast.LinkReferenceDefinition:
			links = append(links, n)
		case *ast.Link:
			if n.Reference != nil {
				used[util.ToLinkReference(n.Reference.Value)] = true
			}
		case *ast.Image:
			if n.Reference != nil {
				used[util.ToLinkReference(n.Reference.Value)] = true
			}
		}
		return ast.WalkContinue, nil
	})
	for _, l := range links {
		key, label := util.ToLinkReference(l.Label), oneLine(l.Label)
		switch first := named[key]; {
		case first != nil:
			c.fault(c.pos(l), "the address of ["+label+"] is given a second time", "take one away")
		case !used[key]:
			c.fault(c.pos(l), "the address of ["+label+"] is never used, and this line would not be printed",
				`take it away, or write \[ if it is part of the text`)
		}
		if named[key] == nil {
			named[key] = l
		}
	}
	labels := map[string]bool{}
	for _, d := range defs {
		key, label := string(d.Ref), oneLine(d.Ref)
		switch {
		case labels[key]:
			c.fault(c.at(d.Pos()), "note [^"+label+"] is written a second time", "give each note a label of its own")
		case d.Index < 0:
			c.fault(c.at(d.Pos()), "note [^"+label+"] is never referred to, and would not be printed",
				"put [^"+label+"] where it belongs, or take the note away")
		}
		labels[key] = true
		if d.Index > 0 {
			for len(c.notes) < d.Index {
				c.notes = append(c.notes, nil)
			}
			c.notes[d.Index-1] = &noteState{def: d}
		}
	}
}

// reportNotes finds the notes that only they themselves, or notes like them,
// refer to.
func (c *chapter) reportNotes() {
	for _, s := range c.notes {
		if s != nil && s.note == nil {
			c.fault(c.at(s.def.Pos()), "note [^"+oneLine(s.def.Ref)+"] is referred to only from a note that is not printed",
				"refer to it from the text, or take it away")
		}
	}
}

// refer returns the number in its section of the note with goldmark's index.
func (c *chapter) refer(index int, at Pos) int {
	if index < 1 || index > len(c.notes) || c.notes[index-1] == nil || c.sec == nil {
		c.fault(at, "this note has no text", "write it as [^label]: text, with empty lines around it")
		return 0
	}
	s := c.notes[index-1]
	if s.note != nil {
		c.fault(at, "note [^"+oneLine(s.def.Ref)+"] is referred to a second time (first in line "+itoa(s.pos.Line)+")",
			"write the note again under a label of its own")
		return 0
	}
	s.pos = at
	s.note = &Note{Pos: c.at(s.def.Pos()), Label: nfc(string(s.def.Ref))}
	c.sec.Notes = append(c.sec.Notes, s.note)
	c.pending = append(c.pending, s)
	return len(c.sec.Notes)
}
