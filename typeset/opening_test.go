package typeset

import (
	"context"
	"strings"
	"testing"

	"bodkin/fonts"
	"bodkin/typeset/length"
)

// walk calls yield for points on the ink's edge of a run's first glyph, from
// its origin, y upwards: curves by repeated division of their controls (de
// Casteljau), not by the polynomial that the program uses.
func walk(r *Run, yield func(x, y length.Length)) {
	var begin, pen fonts.Point
	at := func(x, y float64) {
		yield(length.Length(x*float64(r.Size)/float64(r.Glyphs.Face.Upem)), length.Length(y*float64(r.Size)/float64(r.Glyphs.Face.Upem)))
	}
	curve := func(controls ...fonts.Point) {
		const steps = 10
		for i := 0; i <= steps; i++ {
			var xs, ys []float64
			for _, c := range controls {
				xs, ys = append(xs, float64(c.X)), append(ys, float64(c.Y))
			}
			for t := float64(i) / steps; len(xs) > 1; xs, ys = xs[:len(xs)-1], ys[:len(ys)-1] {
				for k := range xs[1:] {
					xs[k] += (xs[k+1] - xs[k]) * t
					ys[k] += (ys[k+1] - ys[k]) * t
				}
			}
			at(xs[0], ys[0])
		}
		pen = controls[len(controls)-1]
	}
	for _, s := range r.Glyphs.Face.Outline(r.Glyphs.Glyphs[0].ID) {
		switch s.Op {
		case fonts.MoveTo:
			curve(pen, begin)
			begin, pen = s.Args[0], s.Args[0]
		case fonts.LineTo:
			curve(pen, s.Args[0])
		case fonts.QuadTo:
			curve(pen, s.Args[0], s.Args[1])
		case fonts.CubeTo:
			curve(pen, s.Args[0], s.Args[1], s.Args[2])
		}
	}
	curve(pen, begin)
}

// begins lists how chapters begin: with letters that reach below the line,
// above it and to the right, after a mark, and as words of their own.
var begins = []string{"A lantern", "Jetsam and", "Quite early", "Wind came", "The harbour", "Low water", "Évelyne was", "Åsa waited",
	"Çelik the", "Ill winds", "“Who goes", "“Ah the", "I had", "“I am", "Fog hid", "Yes and", "Onward they", "Extra lamps", "Karl was", "Sea wind"}

// openedBy composes a chapter that begins with some words and returns its lines
// of text.
func openedBy(t *testing.T, face, begin string, lines int) []Line {
	t.Helper()
	tail := " stood on the quay where the pilots jolly played their long games, and nobody by the fire gave a fig for the tide," +
		" although the bell had rung and rung again from the church on the hill, which could be heard in the boats, once and twice before the lamps were brought. The clerk wrote it down in the book that hung by the door."
	s := Default()
	s.Face, s.Opening, s.DropLines = face, OpeningDropCap, lines
	l, err := Compose(context.Background(), short(t, "# One\n\n"+begin+tail+"\n"), s, Resources{})
	if err != nil {
		t.Fatal(err)
	}
	var text []Line
	for _, line := range l.Pages[0].Lines {
		if line.Role == Text {
			text = append(text, line)
		}
	}
	return text
}

// A drop capital stands on the baseline of its last line, is as tall as the
// capitals of the first, and touches nothing: not the words beside it, not the
// line under its tail, not the mark before it.
func TestDropCapitals(t *testing.T) {
	for _, family := range fonts.Embedded().Families() {
		for _, lines := range []int{2, 3} {
			for _, begin := range begins {
				text := openedBy(t, family.Name, begin, lines)
				first := &text[0]
				if first.Labels == 0 {
					t.Errorf("%s, %d lines, %q: no drop capital", family.Name, lines, begin)
					continue
				}
				drop := &first.Runs[first.Labels-1]
				leading := text[1].Y - first.Y
				if got := first.Y - drop.Rise; got != text[lines-1].Y {
					t.Errorf("%s, %d lines, %q: stands at %v, its last line at %v", family.Name, lines, begin, got, text[lines-1].Y)
				}
				face := drop.Glyphs.Face
				tall, want := scale(drop.Size, int32(face.CapHeight), face), leading*length.Length(lines-1)+scale(first.size(), int32(face.CapHeight), face)
				if off := tall - want; max(off, -off) > length.Point/20 {
					t.Errorf("%s, %d lines, %q: %v tall, want %v", family.Name, lines, begin, tall, want)
				}
				touch := ""
				walk(drop, func(x, y length.Length) {
					x, y = first.X+drop.X+x, first.Y-drop.Rise-y
					for i := range text[:lines+1] {
						for k := range text[i].Runs[:min(first.Labels+2, len(text[i].Runs))] {
							if r := &text[i].Runs[k]; r != drop && inkAt(&text[i], r, x, y) {
								touch = text[i].text()
							}
						}
					}
				})
				if touch != "" {
					t.Errorf("%s, %d lines, %q: touches %q", family.Name, lines, begin, touch)
				}
			}
		}
	}
}

// inkAt reports whether a point of a page is in the box of a glyph of a run.
func inkAt(l *Line, r *Run, x, y length.Length) bool {
	face := r.Glyphs.Face
	pen := l.X + r.X
	if x < pen-r.Size || x > pen+r.Width()+r.Size || y < l.Y-r.Rise-2*r.Size || y > l.Y-r.Rise+r.Size {
		return false
	}
	for _, g := range r.Glyphs.Glyphs {
		left, low, right, high := face.Extents(g.ID)
		if pen+scale(r.Size, left, face) <= x && x <= pen+scale(r.Size, right, face) &&
			l.Y-r.Rise-scale(r.Size, high, face) <= y && y <= l.Y-r.Rise-scale(r.Size, low, face) {
			return true
		}
		pen += scale(r.Size, g.Advance, face)
	}
	return false
}

// A letter that is a word stands apart from the next; in a longer word it
// stands close.
func TestWordOfOneLetter(t *testing.T) {
	for _, face := range []string{"EB Garamond", "Libre Baskerville"} {
		gap := func(begin string) length.Length {
			first := openedBy(t, face, begin, 3)[0]
			return first.X
		}
		apart, close := gap("I had"), gap("Ihad")
		if more := apart - close; more < 11*length.Point/5 {
			t.Errorf("%s: %v more after a word, less than the least word space", face, more)
		}
	}
}

// Lines do not go into the bowl of a C or between the serifs of an I: beside a
// letter of three lines the middle one is not the one that begins farthest left.
func TestHollowCapitals(t *testing.T) {
	for _, family := range fonts.Embedded().Families() {
		for _, letter := range strings.Split("C E G I K S X Z", " ") {
			text := openedBy(t, family.Name, letter+"he", 4)
			at := func(i int) length.Length { return text[i].X }
			if at(1) < min(at(0), at(3)) || at(2) < min(at(0), at(3)) {
				t.Errorf("%s, %s: lines begin at %v, %v, %v, %v", family.Name, letter, at(0), at(1), at(2), at(3))
			}
		}
	}
}
