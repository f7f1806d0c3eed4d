package markup

import (
	"bytes"
	"strings"

	"github.com/yuin/goldmark/ast"
)

// htmlBlock lets an author's remark pass and reports all other HTML.
func (c *chapter) htmlBlock(n *ast.HTMLBlock) {
	var raw []byte
	for i := range n.Lines().Len() {
		seg := n.Lines().At(i)
		raw = append(raw, seg.Value(c.src)...)
	}
	if n.HasClosure() {
		raw = append(raw, n.ClosureLine.Value(c.src)...)
	}
	c.html(raw, c.pos(n))
}

func (c *chapter) rawHTML(n *ast.RawHTML) {
	at := Pos{File: c.name}
	if n.Segments.Len() > 0 {
		at = c.at(n.Segments.At(0).Start)
	}
	c.html(n.Segments.Value(c.src), at)
}

// html reports what is in raw beside remarks.
func (c *chapter) html(raw []byte, at Pos) {
	for {
		space := raw
		raw = bytes.TrimLeft(raw, " \t\n")
		at.Line += bytes.Count(space[:len(space)-len(raw)], []byte("\n"))
		if len(raw) == 0 {
			return
		}
		if !bytes.HasPrefix(raw, []byte("<!--")) {
			break
		}
		n := bytes.Index(raw[2:], []byte("-->")) // <!--> is a whole remark (CommonMark 6.6)
		if n < 0 {
			c.fault(at, "the remark <!-- is never closed, and the rest of the file would not be printed", "write --> at its end")
			return
		}
		n += len("<!") + len("-->")
		at.Line += bytes.Count(raw[:n], []byte("\n"))
		raw = raw[n:]
	}
	if raw[0] != '<' {
		c.fault(at, "there is text in the line that ends a remark, and it would not be printed", "begin a new line after -->")
		return
	}
	tag := tagName(raw)
	if tag == "" {
		c.fault(at, "HTML is not set", `write what is meant in Markdown, or \< for the sign itself`)
		return
	}
	mend, ok := instead[tag]
	if !ok {
		mend = `take the tag away, or write \< for the sign itself`
	}
	c.fault(at, "HTML is not set (<"+tag+">)", mend)
}

func tagName(raw []byte) string {
	raw = bytes.TrimPrefix(raw[1:], []byte("/"))
	n := 0
	for n < len(raw) && n < 20 && ('a' <= raw[n]|0x20 && raw[n]|0x20 <= 'z' || n > 0 && ('0' <= raw[n] && raw[n] <= '9' || raw[n] == '-')) {
		n++
	}
	return strings.ToLower(string(raw[:n]))
}

// instead says how to write in Markdown what authors ask of HTML.
var instead = map[string]string{
	"i": "write *text*", "em": "write *text*", "cite": "write *text*",
	"b": "write **text**", "strong": "write **text**",
	"br":   `end the line with a backslash (\)`,
	"p":    "put an empty line between paragraphs",
	"div":  "take the tag away; an empty line divides paragraphs",
	"span": "write [text]{.caps} or [text]{lang=fr}", "font": "take the tag away", "u": "write *text*",
	"center": "take the tag away", "small": "take the tag away",
	"hr":         "write *** in a line of its own",
	"blockquote": "put > before each line",
	"a":          "write [text](address)",
	"img":        "write ![what it shows](picture.png) in a line of its own",
	"h1":         "write # before the heading", "h2": "write ## before the heading", "h3": "write ### before the heading",
	"ul": "put - before each item", "ol": "put 1. before each item", "li": "put - before each item",
	"pre": "put a line of ``` before and after it", "code": "put the text between `backticks`",
	"table": "write the table with | between its cells", "tr": "write the table with | between its cells", "td": "write the table with | between its cells",
	"sup": "write [text]{.raised}, or [^1] for a note", "sub": "write [text]{.lowered}", "q": "write quotation marks",
}
