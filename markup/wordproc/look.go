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

// paraParts are the parts of a look that can be said apart.
var paraParts = [...]struct {
	bit  paraBit
	copy func(to *paraLook, from *paraLook)
}{
	{saysLevel, func(to, from *paraLook) { to.level = from.level }},
	{saysAlign, func(to, from *paraLook) { to.align = from.align }},
	{saysLeft, func(to, from *paraLook) { to.left = from.left }},
	{saysRight, func(to, from *paraLook) { to.right = from.right }},
	{saysFirst, func(to, from *paraLook) { to.first = from.first }},
	{saysBefore, func(to, from *paraLook) { to.before = from.before }},
	{saysAfter, func(to, from *paraLook) { to.after = from.after }},
	{saysPage, func(to, from *paraLook) { to.page = from.page }},
	{saysRuled, func(to, from *paraLook) { to.ruled = from.ruled }},
	{saysList, func(to, from *paraLook) { to.list = from.list }},
	{saysDepth, func(to, from *paraLook) { to.depth = from.depth }},
}

// over is p on top of what lies below it.
func (p paraLook) over(below paraLook) paraLook {
	for _, part := range paraParts {
		if p.says(part.bit) {
			part.copy(&below, &p)
		}
	}
	below.said |= p.said
	return below
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
