package markup

import (
	"bytes"
	"slices"
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"
)

// The words behind a fence that say what is in it.
const (
	verseFence  = "verse"
	letterFence = "letter"
	signFence   = "sign"
	mottoFence  = "motto"
)

var fenceForms = []string{letterFence, mottoFence, signFence, verseFence}

// fence is what stands between two fences of such a word. A letter or a motto
// holds blocks; verse and sign hold lines, a text block for each stanza.
type fence struct {
	ast.BaseBlock
	form       string
	attributes text.Segment // what follows the word
	sign       byte         // ` or ~
	length     int          // of the fence
	closed     bool

	indents []lineIndent
	gap     bool // an empty line came last
}

// lineIndent is the width of the spaces before a line.
type lineIndent struct{ offset, width int }

var kindFence = ast.NewNodeKind("Fence")

func (*fence) Kind() ast.NodeKind { return kindFence }

func (f *fence) Dump(source []byte, level int) {
	ast.DumpHelper(f, source, level, map[string]string{"form": f.form}, nil)
}

func (f *fence) holdsLines() bool { return f.form == verseFence || f.form == signFence }

// formFences opens them; all other fences are left to goldmark.
type formFences struct{}

func (formFences) Trigger() []byte { return []byte{'~', '`'} }

func (formFences) Open(parent ast.Node, r text.Reader, pc parser.Context) (ast.Node, parser.State) {
	line, seg := r.PeekLine()
	pos := pc.BlockOffset()
	if pos < 0 {
		return nil, parser.NoChildren
	}
	i := pos
	for i < len(line) && line[i] == line[pos] {
		i++
	}
	f := &fence{sign: line[pos], length: i - pos}
	if f.length < 3 || f.sign == '`' && bytes.IndexByte(line[i:], '`') >= 0 {
		return nil, parser.NoChildren
	}
	i += util.TrimLeftSpaceLength(line[i:])
	k := i
	for k < len(line) && ('a' <= line[k]|0x20 && line[k]|0x20 <= 'z') {
		k++
	}
	f.form = strings.ToLower(string(line[i:k]))
	if k < len(line) && line[k] != '{' && !util.IsSpace(line[k]) || !slices.Contains(fenceForms, f.form) {
		return nil, parser.NoChildren
	}
	start := seg.Start - seg.Padding
	f.attributes = text.NewSegment(start+k, start+len(bytes.TrimRight(line, " \t\n")))
	r.AdvanceToEOL()
	if f.holdsLines() {
		return f, parser.NoChildren
	}
	return f, parser.HasChildren
}

func (formFences) Continue(n ast.Node, r text.Reader, pc parser.Context) parser.State {
	f := n.(*fence)
	line, seg := r.PeekLine()
	width, pos := util.IndentWidth(line, r.LineOffset())
	if width < 4 && f.closes(line[min(pos, len(line)):]) {
		f.closed = true
		r.AdvanceToEOL()
		return parser.Close
	}
	if !f.holdsLines() {
		return parser.Continue | parser.HasChildren
	}
	if util.IsBlank(line) {
		f.gap = true
	} else {
		stanza, _ := f.LastChild().(*ast.TextBlock)
		start := seg.Start - seg.Padding + pos
		if stanza == nil || f.gap {
			stanza = ast.NewTextBlock()
			stanza.SetPos(start)
			f.AppendChild(f, stanza)
		}
		f.gap = false
		f.indents = append(f.indents, lineIndent{start, width})
		stanza.Lines().Append(text.NewSegment(start, seg.Stop))
	}
	r.AdvanceToEOL()
	return parser.Continue | parser.NoChildren
}

// closes tells whether a line, from its first letter, is the closing fence.
func (f *fence) closes(line []byte) bool {
	i := 0
	for i < len(line) && line[i] == f.sign {
		i++
	}
	return i >= f.length && util.IsBlank(line[i:])
}

func (formFences) Close(ast.Node, text.Reader, parser.Context) {}
func (formFences) CanInterruptParagraph() bool                 { return true }
func (formFences) CanAcceptIndentedLine() bool                 { return false }

// codeFences remembers whether a fenced code block was closed.
type codeFences struct{ parser.BlockParser }

const closedKey = "closed"

func (p codeFences) Open(parent ast.Node, r text.Reader, pc parser.Context) (ast.Node, parser.State) {
	if _, seg := r.PeekLine(); parent.Kind() == ast.KindDocument && bareTildes(r.Source(), seg) {
		return nil, parser.NoChildren
	}
	return p.BlockParser.Open(parent, r, pc)
}

func (p codeFences) Continue(n ast.Node, r text.Reader, pc parser.Context) parser.State {
	state := p.BlockParser.Continue(n, r, pc)
	if state&parser.Continue == 0 {
		n.SetAttributeString(closedKey, []byte("true"))
	}
	return state
}

// fence turns the inside of a fence into blocks.
func (c *chapter) fence(bs []Block, f *fence) []Block {
	at := c.at(f.Pos())
	if !f.closed {
		c.neverClosed(at, strings.Repeat(string(f.sign), f.length))
	}
	attrs := c.attributes(f.attributes, f.form, fenceAttributes)
	outer := c.text.base
	if lang, ok := attrs[langKey]; ok {
		c.text.base = lang
	}
	before, faults := len(bs), len(c.faults)
	switch f.form {
	case verseFence:
		bs = c.verse(bs, at, f)
	case signFence:
		if s := c.sign(at, f); len(s.Lines) > 0 {
			bs = append(bs, s)
		}
	default:
		outer := c.inLetter
		c.inLetter = f.form == letterFence
		q := &Quotation{Pos: at, Blocks: c.blocks(f)}
		c.inLetter = outer
		if f.form == letterFence {
			q.Form = Letter
			q.letter()
		} else {
			q.Form = Motto
			c.shape(q)
		}
		if len(q.Blocks) > 0 {
			bs = append(bs, q)
		}
	}
	c.text.base = outer
	if len(bs) == before && len(c.faults) == faults {
		c.fault(at, "there is nothing in this "+f.form, "write its lines, or take the fences away")
	}
	return bs
}

func (c *chapter) neverClosed(at Pos, fence string) {
	c.fault(at, "the fence "+fence+" is never closed, and all that follows would be taken for its text", "write a line of "+fence+" at its end")
}
