package wordproc

import (
	"strconv"
	"strings"

	"golang.org/x/text/language"
)

// charLook is what a style or a run says of its letters.
type charLook struct {
	said, style Style // the bits that are said, and what they are
	size        int   // half-points; 0 unsaid
	lang        string
	face        Face
}

func (c *charLook) say(s Style, on bool) {
	c.said |= s
	c.style &^= s
	if on {
		c.style |= s
	}
}

// over is c on top of what lies below it.
func (c charLook) over(below charLook) charLook {
	below.style = below.style&^c.said | c.style
	below.said |= c.said
	if c.size > 0 {
		below.size = c.size
	}
	if c.lang != "" {
		below.lang = c.lang
	}
	if c.face != (Face{}) {
		below.face = c.face
	}
	return below
}

// leastSpaced is from when on letters are letterspaced, in twips: less is a
// correction.
const leastSpaced = 20

// isColour tells a colour, as RRGGBB, that stands out from black and gray.
func isColour(v string) bool {
	n, err := strconv.ParseUint(strings.TrimPrefix(v, "#"), 16, 24)
	if err != nil {
		return false
	}
	r, g, b := n>>16&0xFF, n>>8&0xFF, n&0xFF
	return max(r, g, b)-min(r, g, b) >= 0x60
}

// paraLook is what a style or a paragraph says of itself: only what has its
// bit in said.
type paraLook struct {
	said               paraBit
	level              int
	align              Align
	left, right, first int
	before, after      int
	page, ruled        bool
	list               string // the list it belongs to; "" for none
	depth              int    // its level in it, from 0
}

type paraBit uint16

const (
	saysLevel paraBit = 1 << iota
	saysAlign
	saysLeft
	saysRight
	saysFirst
	saysBefore
	saysAfter
	saysPage
	saysRuled
	saysList
	saysDepth
)

func (p paraLook) says(b paraBit) bool { return p.said&b != 0 }

// over is p on top of what lies below it.
func (p paraLook) over(below paraLook) paraLook {
	out := below
	out.said |= p.said
	if p.says(saysLevel) {
		out.level = p.level
	}
	if p.says(saysAlign) {
		out.align = p.align
	}
	if p.says(saysLeft) {
		out.left = p.left
	}
	if p.says(saysRight) {
		out.right = p.right
	}
	if p.says(saysFirst) {
		out.first = p.first
	}
	if p.says(saysBefore) {
		out.before = p.before
	}
	if p.says(saysAfter) {
		out.after = p.after
	}
	if p.says(saysPage) {
		out.page = p.page
	}
	if p.says(saysRuled) {
		out.ruled = p.ruled
	}
	if p.says(saysList) {
		out.list = p.list
	}
	if p.says(saysDepth) {
		out.depth = p.depth
	}
	return out
}

// put gives a paragraph its look.
func (p paraLook) put(to *Paragraph) {
	to.Level, to.Align = p.level, p.align
	to.Left, to.Right, to.First = p.left, p.right, p.first
	to.Before, to.After = p.before, p.after
	to.PageBefore = to.PageBefore || p.page
	to.Ruled = p.ruled
}

// tag returns a language in its usual spelling, "" for none.
func tag(s string) string {
	s = strings.TrimSpace(s)
	if s == "" || strings.EqualFold(s, "none") || strings.EqualFold(s, "zxx") || strings.EqualFold(s, "und") || strings.EqualFold(s, "x-none") {
		return ""
	}
	t, err := language.Parse(s)
	if err != nil {
		return ""
	}
	return t.String()
}
