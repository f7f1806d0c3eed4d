package markup

import (
	"bytes"
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
)

// breakSigns are what authors type alone on a line between two scenes.
const breakSigns = "#~•·*⁂§❦❧☙✦○◦–—_=+"

// mostSigns is how many of them make a scene break.
const mostSigns = 7

// isBreak tells whether a line is a scene break as authors type it.
func isBreak(line string) bool {
	signs := 0
	for _, r := range line {
		switch {
		case unicode.IsSpace(r):
		case strings.ContainsRune(breakSigns, r):
			signs++
		default:
			return false
		}
	}
	return 0 < signs && signs <= mostSigns
}

// longestUnderlined is how many letters an underlined heading has at the most.
const longestUnderlined = 60

// A look at what goldmark takes for a heading.
type headingLook uint8

const (
	trueHeading headingLook = iota
	bareMark                // # alone: a scene break in many a manuscript
	overDashes              // a paragraph that stands right above ---
	overEquals              // one that stands right above ===
)

// lookAt tells what a heading is. CommonMark takes any text above --- for one;
// authors also type --- for a scene break, right below the last line of a
// scene. What is short and ends as no sentence does is a heading.
func (c *chapter) lookAt(h *ast.Heading) headingLook {
	if _, attributed := h.AttributeString(attributeKey); attributed {
		return trueHeading
	}
	raw := bytes.TrimSpace(h.Lines().Value(c.src))
	if len(raw) == 0 || isBreak(string(raw)) {
		return bareMark
	}
	line, ok := h.AttributeString(underlineKey)
	if !ok {
		return trueHeading
	}
	seg := line.(text.Segment)
	overline := overDashes
	if bytes.HasPrefix(bytes.TrimSpace(seg.Value(c.src)), []byte("=")) {
		overline = overEquals
	}
	if holdsPictures(h, c.src) {
		return overline
	}
	r, _ := utf8.DecodeLastRune(bytes.TrimRight(afterSentence.ReplaceAll(raw, nil), " \t"))
	if h.Lines().Len() <= 2 && utf8.RuneCount(raw) <= longestUnderlined && !strings.ContainsRune(".?!…:,;-–—", r) {
		return trueHeading
	}
	return overline
}

// afterSentence is what may stand behind the point of a sentence: quotation
// marks, brackets, the end of an emphasis, references to notes.
var afterSentence = regexp.MustCompile(`(\[\^[^\[\]]*\]|["'”’“‘»«›‹)*_])+$`)

// unheaded makes blocks of what is no heading, and reports whether it is none.
func (c *chapter) unheaded(bs []Block, h *ast.Heading) ([]Block, bool) {
	switch c.lookAt(h) {
	case bareMark:
		return append(bs, &SceneBreak{c.pos(h)}), true
	case overDashes:
		line, _ := h.AttributeString(underlineKey)
		bs = c.paragraph(bs, h)
		return append(bs, &SceneBreak{c.at(line.(text.Segment).Start)}), true
	case overEquals:
		c.fault(c.pos(h), "the line of = below this paragraph would make it a heading",
			"leave an empty line between them, or write # before a heading")
		return bs, true
	}
	return bs, false
}

// bareList tells whether a list is a mark that stands alone, or several on one
// line: * or + or - - -.
func bareList(l *ast.List) bool {
	for !l.IsOrdered() && l.ChildCount() == 1 {
		inner := l.FirstChild().FirstChild()
		if inner == nil {
			return true
		}
		next, ok := inner.(*ast.List)
		if !ok || inner.NextSibling() != nil {
			return false
		}
		l = next
	}
	return false
}

// bareTildes tells whether the line at seg is nothing but ~~~ between empty
// lines: no fence, for what is between fences stands close to them.
func bareTildes(src []byte, seg text.Segment) bool {
	line := bytes.TrimSpace(seg.Value(src))
	if len(bytes.Trim(line, "~")) > 0 || len(line) > mostSigns || seg.Start > 0 && !afterBlank(src, seg.Start) {
		return false
	}
	next, _, _ := bytes.Cut(src[seg.Stop:], []byte("\n"))
	return len(bytes.TrimSpace(next)) == 0
}

// storied ends a note or a list at a paragraph that begins with a tab: that is
// how authors begin the paragraphs of their story. Four spaces go on with a
// note, as in CommonMark two or more do with the item of a list.
type storied struct{ parser.BlockParser }

func (s storied) Continue(n ast.Node, r text.Reader, pc parser.Context) parser.State {
	line, seg := r.PeekLine()
	switch pc.LastOpenedBlock().Node.(type) {
	case *ast.FencedCodeBlock, *fence: // its lines are as typed
		return s.BlockParser.Continue(n, r, pc)
	}
	if len(line) > 0 && line[0] == '\t' && afterBlank(r.Source(), seg.Start) && !listMark(bytes.TrimLeft(line, "\t ")) {
		return parser.Close
	}
	return s.BlockParser.Continue(n, r, pc)
}

// afterBlank tells whether a line begins at an offset, behind an empty one.
func afterBlank(src []byte, at int) bool {
	if at < 2 || src[at-1] != '\n' {
		return false
	}
	before := src[:at-1]
	before = before[bytes.LastIndexByte(before, '\n')+1:]
	return len(bytes.TrimSpace(before)) == 0
}

// listMark tells whether a line begins as an item of a list does.
func listMark(line []byte) bool {
	if len(line) > 1 && strings.IndexByte("-*+", line[0]) >= 0 {
		return line[1] == ' ' || line[1] == '\t'
	}
	n := digits(string(line))
	return n > 0 && n+1 < len(line) && (line[n] == '.' || line[n] == ')') && line[n+1] == ' '
}

// refuseHeadings reports headings in a note, which has none.
func (c *chapter) refuseHeadings(bs []Block) {
	for _, b := range bs {
		switch b := b.(type) {
		case *Heading:
			c.fault(b.Pos, "a heading cannot stand in a note", "write it as a paragraph, in **strong** letters")
		case *Quotation:
			c.refuseHeadings(b.Blocks)
		case *List:
			for _, item := range b.Items {
				c.refuseHeadings(item.Blocks)
			}
		}
	}
}
