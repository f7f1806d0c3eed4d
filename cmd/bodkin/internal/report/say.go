package report

import (
	"fmt"
	"strings"

	"bodkin/typeset"
	"bodkin/typeset/length"
)

// about tells an edition's setting in a line.
func (e *Edition) about() string {
	s := &e.Layout.Setting
	return fmt.Sprintf("%s, %s %s on %s", trim(s.Trim), s.Face, spaced(s.Size.String()), leading(&s.Leading, e.Layout.Block.Leading))
}

// trim writes a trim as a sentence has it: "5 × 8 in", "B-format, 129 × 198 mm".
func trim(t typeset.Trim) string {
	w, h := t.Width, t.Height
	size := spaced(w.String()) + " × " + spaced(h.String())
	if w.Unit == h.Unit {
		size = strings.TrimSuffix(w.String(), w.Unit.String()) + " × " + spaced(h.String())
	}
	if t.Name != "" {
		return t.Name + ", " + size
	}
	return size
}

// spaced parts a number from its unit.
func spaced(s string) string {
	at := strings.LastIndexAny(s, "0123456789") + 1
	if unit := s[at:]; unit == "pt" || unit == "in" || unit == "mm" {
		return s[:at] + "\u00a0" + unit
	}
	return s
}

func leading(l *typeset.Leading, is length.Length) string {
	if l.Kind == typeset.Fixed {
		return spaced(l.String())
	}
	return fmt.Sprintf("%s (%s\u00a0pt)", l, pt(is))
}

// In writes a length in a unit, to what a ruler shows.
func In(l length.Length, u length.Unit) string { return l.Ruled(u) + "\u00a0" + u.String() }

// unit returns the unit in which copies are told of: that of the first trim,
// for all of them, so that they compare.
func (c *Comparison) unit() length.Unit { return c.Editions[0].Layout.Setting.Trim.Width.Unit }

// outer returns the sides of a copy.
func (e *Edition) outer() typeset.Size {
	if e.Outer != (typeset.Size{}) {
		return e.Outer
	}
	return e.Layout.Trim
}

// size tells how large a copy is.
func (e *Edition) size(u length.Unit) string {
	o := e.outer()
	wide, _, _ := strings.Cut(In(o.Width, u), "\u00a0")
	return fmt.Sprintf("%s\u00a0×\u00a0%s, %s\u00a0thick", wide, In(o.Height, u), In(e.Spine, u))
}

// thousands writes a number with a thin space at each thousand.
func thousands(n int) string {
	s := fmt.Sprint(n)
	for at := len(s) - 3; at > 0 && len(s) > 4; at -= 3 {
		s = s[:at] + "\u202f" + s[at:]
	}
	return s
}

// glance tells in a sentence or two how the edition at index i differs from
// the first.
func (c *Comparison) glance(i int) []string {
	e, first := &c.Editions[i], &c.Editions[0]
	n, was := len(e.Layout.Pages), len(first.Layout.Pages)
	var says []string
	switch {
	case i == 0:
		says = append(says, fmt.Sprintf("%d pages. The others are compared with it.", n))
	case n == was:
		says = append(says, fmt.Sprintf("%d pages, as many as %s.", n, letter(0)))
	default:
		says = append(says, fmt.Sprintf("%d pages, %s than %s.", n, much(n-was, was), letter(0)))
	}
	if i > 0 {
		if s := e.against(first, c.unit()); s != "" {
			says = append(says, s)
		}
	}
	return append(says, e.Says...)
}

// much says how many pages more or fewer, and what share of was that is.
func much(by, was int) string {
	word := "more"
	if by < 0 {
		by, word = -by, "fewer"
	}
	s := fmt.Sprintf("%d %s", by, word)
	if share := (by*200/was + 1) / 2; share > 0 {
		s += fmt.Sprintf(" (%d\u00a0%%)", share)
	}
	return s
}

// against says how the copy differs from another as an object.
func (e *Edition) against(o *Edition, u length.Unit) string {
	var parts []string
	say := func(by length.Length, more, less string) {
		word := more
		if by < 0 {
			by, word = -by, less
		}
		if s := In(by, u); !strings.HasPrefix(s, "0\u00a0") {
			parts = append(parts, s+" "+word)
		}
	}
	a, b := e.outer(), o.outer()
	say(a.Width-b.Width, "wider", "narrower")
	say(a.Height-b.Height, "taller", "shorter")
	say(e.Spine-o.Spine, "thicker", "thinner")
	switch n := len(parts); n {
	case 0:
		return "A copy is of the same size."
	case 1:
		return "A copy is " + parts[0] + "."
	default:
		return "A copy is " + strings.Join(parts[:n-1], ", ") + " and " + parts[n-1] + "."
	}
}
