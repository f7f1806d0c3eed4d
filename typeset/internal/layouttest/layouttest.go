// Package layouttest sets text without any art, so that what reads a Layout
// can be tested without what composes one: it fills lines until the next word
// does not fit, and pages until the next line does not.
package layouttest

import (
	"strings"
	"time"

	"bodkin/fonts"
	"bodkin/typeset"
	"bodkin/typeset/length"
)

const pt = length.Point

// Style is what Set needs to know. The zero value is EB Garamond at 11/14 pt.
type Style struct {
	Library *fonts.Library // embedded faces when nil
	Family  string
	Size    length.Length
	Track   length.Length
}

// Set sets paragraphs, which empty lines part, on pages of 5 by 8 in with a
// running head and a folio. *Words* between stars are italic, +Words+ between
// plus signs small capitals, and ^1 stands higher, in smaller type. A word
// of eight letters and more is divided where the line is full.
func Set(text string, s Style) (*typeset.Layout, error) {
	if s.Family == "" {
		s.Family = "EB Garamond"
	}
	if s.Size == 0 {
		s.Size = 11 * pt
	}
	lib := s.Library
	if lib == nil {
		lib = fonts.Embedded()
	}
	roman, err := lib.Face(s.Family, fonts.Regular)
	if err != nil {
		return nil, err
	}
	italic, err := lib.Face(s.Family, fonts.Italic)
	if err != nil {
		return nil, err
	}
	l := &typeset.Layout{
		Title: "The Long Ebb", Author: "A. Writer", Language: "en-GB",
		Modified: time.Date(2026, 1, 2, 3, 4, 5, 0, time.UTC),
		Trim:     typeset.Size{Width: 5 * length.Inch, Height: 8 * length.Inch},
		Block: typeset.Block{
			Left: 54 * pt, Baseline: 64 * pt, Leading: s.Size.Scale(14, 11),
			Measure: 5*length.Inch - 54*pt - 36*pt, Ascender: s.Size.Scale(int64(roman.Ascent), int64(roman.Upem)),
		},
		Entries: []typeset.Entry{{Title: "The Long Ebb"}},
	}
	l.Block.Rows = int((8*length.Inch - 54*pt - l.Block.Baseline) / l.Block.Leading)
	c := &compositor{l: l, style: s, roman: roman, italic: italic}
	for para := range strings.SplitSeq(text, "\n\n") {
		c.paragraph(strings.Fields(para))
	}
	c.furnish()
	return l, nil
}

type compositor struct {
	l             *typeset.Layout
	style         Style
	roman, italic *fonts.Face
	row           int
}

func (c *compositor) shape(word string) typeset.Run {
	r := typeset.Run{Size: c.style.Size, Track: c.style.Track, Space: true}
	switch n := len(word); {
	case n > 2 && word[0] == '*' && word[n-1] == '*':
		r.Glyphs = c.italic.Shape(word[1:n-1], 0)
	case n > 2 && word[0] == '+' && word[n-1] == '+':
		r.Glyphs = c.roman.Shape(word[1:n-1], fonts.AllSmallCaps)
	case n > 1 && word[0] == '^':
		r.Glyphs = c.roman.Shape(word[1:], fonts.Lining)
		r.Rise, r.Size, r.Space = r.Size/3, r.Size*2/3, false
	default:
		r.Glyphs = c.roman.Shape(word, fonts.OldStyle)
	}
	return r
}

func (c *compositor) paragraph(words []string) {
	measure := c.l.Block.Measure
	space := c.style.Size / 4
	hyphen := c.shape("-")
	hyphen.Space, hyphen.Added = false, true
	line := typeset.Line{Measure: measure, Natural: space, First: true}
	var width length.Length // of the line's words alone
	var spaces int
	for len(words) > 0 {
		r := c.shape(words[0])
		gap := length.Length(0)
		if len(line.Runs) == 0 {
			r.Space = false
		} else if r.Space {
			gap = space
		}
		if width+space*length.Length(spaces)+gap+r.Width() <= measure || len(line.Runs) == 0 {
			line.Runs = append(line.Runs, r)
			width += r.Width()
			if r.Space {
				spaces++
			}
			words = words[1:]
			continue
		}
		if w := words[0]; len(w) >= 8 && strings.Trim(w, "abcdefghijklmnopqrstuvwxyz") == "" {
			for at := len(w) - 3; at >= 2; at-- {
				part := c.shape(w[:at])
				if width+space*length.Length(spaces+1)+part.Width()+hyphen.Width() > measure {
					continue
				}
				line.Runs = append(line.Runs, part, hyphen)
				line.Hyphen = true
				width += part.Width() + hyphen.Width()
				spaces++
				words = append([]string{w[at:]}, words[1:]...)
				break
			}
		}
		line.Justified, line.Space = spaces > 0, space
		if spaces > 0 {
			line.Space = (measure - width) / length.Length(spaces)
		}
		c.add(line)
		line = typeset.Line{Measure: measure, Natural: space}
		width, spaces = 0, 0
	}
	if len(line.Runs) > 0 {
		line.Last, line.Space = true, space
		c.add(line)
	}
}

// add places a line's runs and puts it on the page.
func (c *compositor) add(line typeset.Line) {
	l := c.l
	if len(l.Pages) == 0 || c.row == l.Block.Rows {
		l.Pages = append(l.Pages, typeset.Page{Section: 0, Label: label(len(l.Pages) + 1)})
		c.row = 0
	}
	i := len(l.Pages) - 1
	line.X, line.Y = l.BlockLeft(i), l.Block.Baseline+l.Block.Leading*length.Length(c.row)
	var x length.Length
	for n := range line.Runs {
		r := &line.Runs[n]
		if r.Space {
			x += line.Space
		}
		r.X = x
		x += r.Width()
	}
	l.Pages[i].Lines = append(l.Pages[i].Lines, line)
	c.row++
}

// furnish adds a running head and a folio to every page.
func (c *compositor) furnish() {
	l := c.l
	for i := range l.Pages {
		p := &l.Pages[i]
		folio := c.shape(p.Label)
		folio.Space, folio.Added = false, true
		left := l.BlockLeft(i)
		folio.X = (l.Block.Measure - folio.Width()) / 2
		p.Lines = append(p.Lines, typeset.Line{
			Role: typeset.Folio, X: left, Y: l.Trim.Height - 30*pt, Measure: l.Block.Measure, Runs: []typeset.Run{folio}})
		head := typeset.Line{Role: typeset.Head, X: left, Y: 40 * pt, Measure: l.Block.Measure}
		var x length.Length
		for n, word := range strings.Fields(l.Title) {
			r := c.shape("+" + word + "+")
			if r.Space = n > 0; r.Space {
				x += c.style.Size / 4
			}
			r.Added, r.X = true, x
			x += r.Width()
			head.Runs = append(head.Runs, r)
		}
		p.Lines = append(p.Lines, head)
	}
}

func label(n int) string {
	if n < 10 {
		return string(rune('0' + n))
	}
	return label(n/10) + label(n%10)
}

// Text is the layout's text as a reader would copy it: a line of the layout a
// line of the text, words apart, and a soft hyphen where a line divides one.
func Text(l *typeset.Layout) string {
	var b strings.Builder
	for i := range l.Pages {
		for _, line := range l.Pages[i].Lines {
			for n, r := range line.Runs {
				if r.Space {
					b.WriteByte(' ')
				}
				if line.Hyphen && r.Added && n == len(line.Runs)-1 {
					b.WriteString("\u00ad")
					continue
				}
				b.WriteString(r.Glyphs.Text)
			}
			b.WriteByte('\n')
		}
	}
	return b.String()
}
