package markup

import (
	"bytes"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/yuin/goldmark/ast"
	extast "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/util"
	"golang.org/x/text/unicode/norm"
)

func itoa(n int) string { return strconv.Itoa(n) }

// nfc returns s in Normalization Form C (UAX #15).
func nfc(s string) string {
	for i := 0; i < len(s); i++ {
		if s[i] >= utf8.RuneSelf {
			return norm.NFC.String(s)
		}
	}
	return s
}

// textBuilder gathers the text of one paragraph: its bytes in one piece, so
// that quotation marks can be judged across changes of style, and the runs
// that they fall into.
type textBuilder struct {
	c    *chapter
	buf  []byte
	runs []run

	style Style
	link  string
	lang  string
	base  string // the language of the block, where it is not the section's
	lines bool   // every line end is a forced one
	tight int    // the length of buf behind which no space goes: a dash closes up to what follows
}

// run is a stretch of the paragraph that becomes one Inline.
type run struct {
	a, b    int // buf[a:b]
	in      Inline
	literal bool // not subject to typographer's marks
	fresh   bool // the next text begins a new run
}

// inlines returns the text of a paragraph or heading.
func (c *chapter) inlines(n ast.Node) []Inline {
	t := &c.text
	t.buf, t.runs, t.tight = t.buf[:0], t.runs[:0], 0
	t.children(n)
	text := t.finish()
	if h, ok := n.(*ast.Heading); ok && len(text) == 0 {
		c.fault(c.pos(h), "this heading has no text", "write it, or take the heading away")
	}
	return text
}

// lineTexts is inlines for a text in which every line end is a forced one.
func (c *chapter) lineTexts(n ast.Node) []Inline {
	c.text.lines = true
	text := c.inlines(n)
	c.text.lines = false
	return text
}

// children walks the inlines below n. It keeps its own stack: their nesting
// has no bound but the length of the paragraph.
func (t *textBuilder) children(n ast.Node) {
	type state struct {
		next  ast.Node
		style Style
		link  string
		lang  string
	}
	stack := []state{{next: n.FirstChild(), lang: t.base}}
	for len(stack) > 0 {
		top := &stack[len(stack)-1]
		n := top.next
		if n == nil {
			stack = stack[:len(stack)-1]
			continue
		}
		top.next = n.NextSibling()
		t.style, t.link, t.lang = top.style, top.link, top.lang
		if t.leaf(n) {
			continue
		}
		down := state{n.FirstChild(), top.style, top.link, top.lang}
		switch n := n.(type) {
		case *ast.Emphasis:
			if n.Level == 1 {
				down.style ^= Emphasis
			} else {
				down.style |= Strong
			}
		case *ast.Link:
			down.link = address(n.Destination)
		case *span:
			a := t.c.attributes(n.attributes, "a span", spanAttributes)
			if a.has(".caps") {
				down.style |= Caps
			}
			if a.has(".sign") {
				down.style |= Inscribed
			}
			if a.has(".raised") {
				down.style = down.style&^Lowered | Raised
			}
			if a.has(".lowered") {
				down.style = down.style&^Raised | Lowered
			}
			if lang, ok := a[langKey]; ok {
				down.lang = lang
			}
		}
		stack = append(stack, down)
	}
}

// leaf puts n into the text and reports whether that was all of it.
func (t *textBuilder) leaf(n ast.Node) bool {
	c := t.c
	switch n := n.(type) {
	case *ast.Text:
		t.source(n)
	case *ast.String: // a dash or an ellipsis of the typographer's
		at, dash := n.BaseInline.Pos(), n.Value
		apart := string(dash) == "–" && t.apart(at)
		closes := c.marks.american && (apart || string(dash) == "–" && t.breaksSpeech(at))
		switch {
		case closes:
			dash = []byte("—")
			t.trim()
		case string(dash) == "–" && c.marks.closed && (!apart || n.NextSibling() == nil) && closedUp(c.src, at):
			dash = []byte("—")
		}
		if string(dash) == "—" && at > 0 && c.src[at-1] == '\n' && !spaceAfterDash(c.src[at:]) {
			t.trim() // a line end before a dash is no space
		}
		t.begin(at, false)
		t.write(dash)
		if closes {
			t.tight = len(t.buf)
		}
	case *ast.CodeSpan:
		t.style |= Code
		for k := n.FirstChild(); k != nil; k = k.NextSibling() {
			seg := k.(*ast.Text).Segment
			t.begin(seg.Start, true)
			t.write(bytes.ReplaceAll(bytes.ReplaceAll(seg.Value(c.src), []byte("\n"), []byte(" ")), []byte("\t"), []byte(" ")))
		}
	case *ast.AutoLink:
		t.link = string(n.URL(c.src))
		if n.AutoLinkType == ast.AutoLinkEmail && !strings.HasPrefix(strings.ToLower(t.link), "mailto:") {
			t.link = "mailto:" + t.link
		}
		t.begin(n.Pos(), true)
		t.write(n.Label(c.src))
	case *extast.FootnoteLink:
		at := c.at(n.Pos())
		if k := c.refer(n.Index, at); k > 0 {
			t.tight = 0
			t.runs = append(t.runs, run{a: len(t.buf), b: len(t.buf), in: Inline{Pos: at, Note: k, Style: t.style}, fresh: true})
		}
	case *ast.RawHTML:
		c.rawHTML(n)
	case *ast.Image:
		c.fault(c.at(n.Pos()), "a picture stands in a line of text", "give it a paragraph of its own, with an empty line before and after it")
	case *ast.Emphasis, *ast.Link, *span:
		return false
	default:
		c.fault(c.at(n.Pos()), "this is not set yet ("+n.Kind().String()+")", "write it in other words")
	}
	return true
}

// closedUp reports whether the two hyphens at offset at stand close to what is
// around them, and not between figures: a typewriter's em dash.
func closedUp(src []byte, at int) bool {
	var before, after byte = '\n', '\n'
	if at > 0 {
		before = src[at-1]
	}
	if at+2 < len(src) {
		after = src[at+2]
	}
	figures := '0' <= before && before <= '9' && '0' <= after && after <= '9'
	return !figures && !(before == ' ' && after == ' ')
}

// apart reports whether the two hyphens at offset at stand between spaces, or
// a space and a line end, behind a word that they go on from. Where they begin
// a line and a sentence has ended before it, they may be those of dialogue or
// of an attribution.
func (t *textBuilder) apart(at int) bool {
	src, before := t.c.src, bytes.TrimSuffix(t.buf, []byte(" "))
	if len(before) == 0 || len(before) == len(t.buf) || before[len(before)-1] == '\n' ||
		at+2 < len(src) && src[at+2] != ' ' && src[at+2] != '\t' && src[at+2] != '\n' {
		return false
	}
	line := src[bytes.LastIndexByte(src[:at], '\n')+1 : at]
	if len(bytes.Trim(line, " \t>")) > 0 {
		return true
	}
	r, _ := utf8.DecodeLastRune(before)
	return unicode.IsLetter(r) || unicode.IsNumber(r) || r == ','
}

// breaksSpeech reports whether a speech breaks off at the two hyphens at offset
// at, a space before them and its closing mark behind ("She was --"), or sets
// in with them ("-- and then").
func (t *textBuilder) breaksSpeech(at int) bool {
	before, spaced := bytes.CutSuffix(t.buf, []byte(" "))
	last, _ := utf8.DecodeLastRune(before)
	next, _ := utf8.DecodeRune(t.c.src[min(at+2, len(t.c.src)):])
	if spaced {
		return len(before) > 0 && strings.ContainsRune("\"'”’?!", next)
	}
	return next == ' ' && strings.ContainsRune("\"'“‘", last)
}

// spaceAfterDash reports whether a space or a line end follows the hyphens that
// src begins with.
func spaceAfterDash(src []byte) bool {
	rest := bytes.TrimLeft(src, "-")
	return len(rest) == 0 || rest[0] == ' ' || rest[0] == '\n'
}

// endsClosedUp reports whether a line ends with a dash that stands close to the
// word before it: what follows on the next line stands close to it, too.
func endsClosedUp(buf []byte) bool {
	rest, found := bytes.CutSuffix(buf, []byte("—"))
	return found && len(rest) > 0 && rest[len(rest)-1] != ' '
}

// begin makes sure that the last run has the present style and address, and
// the line of offset.
func (t *textBuilder) begin(offset int, literal bool) {
	at := t.c.at(offset)
	if k := len(t.runs) - 1; k >= 0 {
		r := &t.runs[k]
		if !r.fresh && r.in.Style == t.style && r.in.Link == t.link && r.in.Lang == t.lang && r.literal == literal && r.in.Pos == at {
			return
		}
	}
	t.runs = append(t.runs, run{a: len(t.buf), b: len(t.buf), in: Inline{Pos: at, Style: t.style, Link: t.link, Lang: t.lang}, literal: literal})
}

func (t *textBuilder) write(b []byte) {
	t.buf = append(t.buf, b...)
	t.runs[len(t.runs)-1].b = len(t.buf)
}

// space puts a space, unless there is one or none is wanted.
func (t *textBuilder) space() {
	if n := len(t.buf); n > 0 && n != t.tight && t.buf[n-1] != ' ' && t.buf[n-1] != '\n' {
		t.buf = append(t.buf, ' ')
	}
	t.runs[len(t.runs)-1].b = len(t.buf)
}

// source puts a stretch of the manuscript, and the end of its line.
func (t *textBuilder) source(n *ast.Text) {
	seg := n.Segment
	t.begin(seg.Start, false)
	if n.IsRaw() {
		t.write(seg.Value(t.c.src))
	} else {
		t.decode(seg.Start, seg.Stop)
	}
	switch {
	case n.HardLineBreak(), t.lines && n.SoftLineBreak():
		t.trim()
		t.buf = append(t.buf, '\n')
		at := t.c.at(seg.Start)
		t.runs = append(t.runs, run{a: len(t.buf) - 1, b: len(t.buf), in: Inline{Pos: at, Break: true}, literal: true, fresh: true})
	case n.SoftLineBreak():
		if !endsClosedUp(t.buf) {
			t.space()
		}
		t.runs[len(t.runs)-1].fresh = true
	}
}

// trim takes a space off the end of the text.
func (t *textBuilder) trim() {
	n := len(t.buf)
	if n == 0 || t.buf[n-1] != ' ' {
		return
	}
	t.buf = t.buf[:n-1]
	for k := len(t.runs) - 1; k >= 0 && t.runs[k].b == n; k-- {
		t.runs[k].a, t.runs[k].b = min(t.runs[k].a, n-1), n-1
	}
}

// undefined reports a reference to a note that does not exist.
func (t *textBuilder) undefined(i int) {
	src := t.c.src
	if i+1 >= len(src) || src[i+1] != '^' {
		return
	}
	line := src[i+2:]
	if n := bytes.IndexByte(line, '\n'); n >= 0 {
		line = line[:n]
	}
	n := bytes.IndexByte(line, ']')
	if n < 0 || util.IsBlank(line[:n]) {
		return
	}
	label := oneLine(line[:n])
	if n+1 < len(line) && line[n+1] == ':' {
		t.c.fault(t.c.at(i), "note [^"+label+"] begins where no note can begin", "put an empty line before it")
		return
	}
	t.c.fault(t.c.at(i), "there is no note [^"+label+"] in this file",
		"write it as [^"+label+`]: text, or put \ before the [ if it is meant as typed`)
}

// oneLine makes part of the manuscript fit for a message.
func oneLine(b []byte) string {
	s := strings.Join(strings.Fields(strings.ToValidUTF8(string(b), "\uFFFD")), " ")
	if utf8.RuneCountInString(s) > 40 {
		s = string([]rune(s)[:39]) + "…"
	}
	return s
}

// finish sets the marks and cuts the text into inlines.
func (t *textBuilder) finish() []Inline {
	if n := len(t.runs); n > 0 && !t.runs[n-1].in.Break {
		t.trim()
	}
	for n := len(t.runs); n > 0 && t.runs[n-1].in.Break; n-- { // no break after the last line
		t.buf, t.runs = t.buf[:t.runs[n-1].a], t.runs[:n-1]
	}
	buf := t.c.marks.set(t.buf, t.runs, t.c.speech)
	text := string(buf)
	n := 0
	for _, r := range t.runs {
		if r.b > r.a || r.in.Note > 0 {
			n++
		}
	}
	if n == 0 {
		return nil
	}
	ins := make([]Inline, 0, n)
	for _, r := range t.runs {
		switch {
		case r.in.Break || r.in.Note > 0:
			ins = append(ins, r.in)
		case r.b > r.a:
			r.in.Text = nfc(text[r.a:r.b])
			ins = append(ins, r.in)
		}
	}
	return ins
}
