package markup

import (
	"bytes"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
)

// span is a stretch of a text with attributes: [mot]{lang=fr}.
type span struct {
	ast.BaseInline
	attributes text.Segment
}

var kindSpan = ast.NewNodeKind("Span")

func (*span) Kind() ast.NodeKind { return kindSpan }

func (s *span) Dump(source []byte, level int) { ast.DumpHelper(s, source, level, nil, nil) }

// spanOpener is the [ of a span whose ] has not been reached yet.
type spanOpener struct {
	ast.BaseInline
	at     int
	bottom *parser.Delimiter // the last delimiter before it
}

var kindSpanOpener = ast.NewNodeKind("SpanOpener")

func (*spanOpener) Kind() ast.NodeKind { return kindSpanOpener }

func (s *spanOpener) Dump(source []byte, level int) { ast.DumpHelper(s, source, level, nil, nil) }

// links reads spans beside links and pictures, and the attributes that follow
// these.
type links struct{ parser.InlineParser }

func (l links) Parse(parent ast.Node, block text.Reader, pc parser.Context) ast.Node {
	line, seg := block.PeekLine()
	switch line[0] {
	case '[':
		s := spansOf(parent, block, pc)
		if _, ok := s.closes[seg.Start]; ok {
			open := &spanOpener{at: seg.Start, bottom: pc.LastDelimiter()}
			s.open = append(s.open, open)
			block.Advance(1)
			return open
		}
	case ']':
		if n := spansOf(parent, block, pc).close(parent, line, seg, pc); n != nil {
			block.Advance(1 + n.attributes.Len())
			return n
		}
	}
	n := l.InlineParser.Parse(parent, block, pc)
	switch n := n.(type) {
	case *ast.Image:
		if seg, skip := attributesAhead(block, true); seg.Len() > 0 {
			n.SetAttributeString(attributeKey, seg)
			block.Advance(skip)
		}
	case *ast.Link:
		if seg, skip := attributesAhead(block, false); seg.Len() > 0 {
			s := &span{attributes: seg}
			s.SetPos(n.Pos())
			s.AppendChild(s, n)
			block.Advance(skip)
			return s
		}
	}
	return n
}

// attributesAhead returns the attributes at the reader's place, perhaps behind
// spaces, and how far they reach.
func attributesAhead(block text.Reader, spaces bool) (text.Segment, int) {
	line, seg := block.PeekLine()
	skip := 0
	for spaces && skip < len(line) && (line[skip] == ' ' || line[skip] == '\t') {
		skip++
	}
	n := braces(line[skip:])
	start := seg.Start - seg.Padding + skip
	return text.NewSegment(start, start+n), skip + n
}

// CloseBlock makes text of what was never closed.
func (l links) CloseBlock(parent ast.Node, block text.Reader, pc parser.Context) {
	s := spansOf(parent, block, pc)
	for _, o := range s.open {
		if o.Parent() != nil {
			ast.MergeOrReplaceTextSegment(o.Parent(), o, text.NewSegment(o.at, o.at+1))
		}
	}
	s.open = nil
	if c, ok := l.InlineParser.(parser.CloseBlocker); ok {
		c.CloseBlock(parent, block, pc)
	}
}

// spans are those of one block of text.
type spans struct {
	block  ast.Node
	closes map[int]int // the offset of the ] for that of the [
	open   []*spanOpener
}

var spansKey = parser.NewContextKey()

// spansOf returns the spans of a block. They are found once: a [ begins one
// where its ] has attributes behind it.
func spansOf(block ast.Node, r text.Reader, pc parser.Context) *spans {
	if s, ok := pc.Get(spansKey).(*spans); ok && s.block == block {
		return s
	}
	s := &spans{block: block}
	pc.Set(spansKey, s)
	lines := block.Lines()
	if lines.Len() == 0 {
		return s
	}
	src, start, end := r.Source(), lines.At(0).Start, lines.At(lines.Len()-1).Stop
	if bytes.Contains(src[start:end], []byte("]{")) {
		s.find(src, start, end)
	}
	return s
}

func (s *spans) find(src []byte, start, end int) {
	s.closes = map[int]int{}
	var open []int
	for i := start; i < end; i++ {
		switch src[i] {
		case '\\':
			i++
		case '`': // code binds closer than brackets (CommonMark 6.3)
			n := i
			for n < end && src[n] == '`' {
				n++
			}
			i = endOfCode(src, n, end, n-i) - 1
		case '[':
			open = append(open, i)
		case ']':
			if len(open) == 0 {
				continue
			}
			from := open[len(open)-1]
			open = open[:len(open)-1]
			if braces(src[i+1:end]) > 0 && (from == start || src[from-1] != '!') {
				s.closes[from] = i
			}
		}
	}
}

// endOfCode returns the offset behind the run of n backticks that closes the
// code that begins at i, or i where none does.
func endOfCode(src []byte, i, end, n int) int {
	for k := i; k < end; k++ {
		if src[k] != '`' {
			continue
		}
		from := k
		for k < end && src[k] == '`' {
			k++
		}
		if k-from == n {
			return k
		}
	}
	return i
}

// close makes the span that the ] at seg ends, or nil.
func (s *spans) close(parent ast.Node, line []byte, seg text.Segment, pc parser.Context) *span {
	k := len(s.open) - 1
	for k >= 0 && s.closes[s.open[k].at] != seg.Start {
		k--
	}
	if k < 0 || s.open[k].Parent() != parent {
		return nil
	}
	open := s.open[k]
	for _, o := range s.open[k+1:] {
		if o.Parent() != nil {
			ast.MergeOrReplaceTextSegment(o.Parent(), o, text.NewSegment(o.at, o.at+1))
		}
	}
	s.open = s.open[:k]
	var bottom ast.Node
	if open.bottom != nil {
		bottom = open.bottom
	}
	parser.ProcessDelimiters(bottom, pc)
	n := &span{attributes: text.NewSegment(seg.Start+1, seg.Start+1+braces(line[1:]))}
	n.SetPos(open.at)
	for c := open.NextSibling(); c != nil; {
		next := c.NextSibling()
		parent.RemoveChild(parent, c)
		n.AppendChild(n, c)
		c = next
	}
	parent.RemoveChild(parent, open)
	return n
}
