package sheet

import (
	"fmt"
	"strings"

	"bodkin/fonts"
	"bodkin/typeset"
	"bodkin/typeset/length"
	"bodkin/typeset/pdf"
)

// captionFamily is a sturdy face for small sizes on a home printer.
const captionFamily = "Source Serif 4"

// hand sets captions: plain lines, unjustified.
type hand struct {
	families [][]*fonts.Face // in the order of preference; each by style
}

func newHand() (*hand, error) {
	library := fonts.Embedded()
	names := []string{captionFamily}
	for _, f := range library.Families() {
		if f.Name != captionFamily {
			names = append(names, f.Name)
		}
	}
	h := new(hand)
	for _, name := range names {
		var styles []*fonts.Face
		for _, style := range []fonts.Style{fonts.Regular, fonts.Bold, fonts.Italic} {
			face, err := library.Face(name, style)
			if err != nil {
				return nil, fmt.Errorf("captions: %w", err)
			}
			styles = append(styles, face)
		}
		h.families = append(h.families, styles)
	}
	return h, nil
}

// The styles of a caption, as indices in a family of the hand.
const (
	roman = iota
	bold
	italic
)

// span is a stretch of a caption in one style.
type span struct {
	style int
	text  string
}

// plain is a caption in roman alone.
func plain(text string) []span { return []span{{roman, text}} }

// together keeps words on one line, unless they are many.
func together(s string) string {
	if len(s) > 30 {
		return s
	}
	return strings.ReplaceAll(s, " ", noBreak)
}

const noBreak = "\u00a0"

// shape sets text in the first family that has all of it. What none has is
// set as "?": a caption is no part of the book.
func (h *hand) shape(s span) *fonts.Run {
	s.text = strings.ReplaceAll(s.text, noBreak, " ")
	for _, family := range h.families {
		if _, missing := family[s.style].Missing(s.text); !missing {
			return family[s.style].Shape(s.text, fonts.Lining)
		}
	}
	face := h.families[0][s.style]
	known := strings.Map(func(r rune) rune {
		if face.Has(r) {
			return r
		}
		return '?'
	}, s.text)
	return face.Shape(known, fonts.Lining)
}

// line sets spans in one line, and returns its width.
func (h *hand) line(size length.Length, spans []span) (typeset.Line, length.Length) {
	l := typeset.Line{Role: typeset.Caption}
	for _, s := range spans {
		if s.text == "" {
			continue
		}
		r := typeset.Run{X: l.Measure, Size: size, Glyphs: h.shape(s), Added: true}
		l.Measure += r.Width()
		l.Runs = append(l.Runs, r)
	}
	return l, l.Measure
}

// wrap parts spans into lines no wider than measure, at spaces; a single word
// may be wider.
func (h *hand) wrap(size, measure length.Length, spans []span) [][]span {
	var lines [][]span
	var at []span // the line at hand
	for _, s := range spans {
		for word := range strings.SplitAfterSeq(s.text, " ") {
			more := append(at[:len(at):len(at)], span{s.style, word})
			if _, width := h.line(size, trimmed(more)); width > measure && len(at) > 0 {
				lines = append(lines, joined(at))
				more = []span{{s.style, word}}
			}
			at = more
		}
	}
	return append(lines, joined(at))
}

// joined puts neighbours of one style together, so that they are shaped as one.
func joined(spans []span) []span {
	var all []span
	for _, s := range trimmed(spans) {
		if n := len(all); n > 0 && all[n-1].style == s.style {
			all[n-1].text += s.text
			continue
		}
		all = append(all, s)
	}
	return all
}

// trimmed takes the space off the end.
func trimmed(spans []span) []span {
	if n := len(spans); n > 0 {
		spans = append(spans[:n-1:n-1], span{spans[n-1].style, strings.TrimRight(spans[n-1].text, " ")})
	}
	return spans
}

// canvas is a sheet that is being drawn.
type canvas struct {
	pdf.Sheet
	hand *hand
}

func newCanvas(h *hand, p Paper) *canvas {
	return &canvas{Sheet: pdf.Sheet{Width: p.Width, Height: p.Height}, hand: h}
}

// hairline is what crop marks and rulers are drawn with.
const hairline = length.Point / 4

func (c *canvas) rule(x0, y0, x1, y1, weight length.Length) {
	c.Rules = append(c.Rules, pdf.Rule{X0: x0, Y0: y0, X1: x1, Y1: y1, Weight: weight})
}

// frame draws a rectangle; the middle of its rules is its edge.
func (c *canvas) frame(b typeset.Box, weight length.Length) {
	right, foot, half := b.X+b.Width, b.Y+b.Height, weight/2
	c.rule(b.X-half, b.Y, right+half, b.Y, weight)
	c.rule(b.X-half, foot, right+half, foot, weight)
	c.rule(b.X, b.Y, b.X, foot, weight)
	c.rule(right, b.Y, right, foot, weight)
}

// The ways in which a line stands at its x.
const (
	fromLeft = iota
	centred
	toRight
)

// text sets a line with its baseline at y.
func (c *canvas) text(x, y, size length.Length, stand int, spans []span) {
	l, width := c.hand.line(size, spans)
	l.X, l.Y = x-width*length.Length(stand)/2, y
	c.Lines = append(c.Lines, l)
}
