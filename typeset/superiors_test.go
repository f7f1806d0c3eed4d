package typeset

import (
	"context"
	"testing"

	"bodkin/fonts"
	"bodkin/markup"
)

// TestSuperiors takes the glyphs that a face has drawn for it, where they can
// be read, and else raises smaller ones. Which faces have them was read with
// hb-shape --features=sups and sinf,subs.
func TestSuperiors(t *testing.T) {
	for _, c := range []struct {
		face, text string
		style      markup.Style
		drawn      fonts.Feature
	}{
		{"EB Garamond", "st", markup.Raised, fonts.Superior},
		{"EB Garamond", "12", markup.Raised, fonts.Superior},
		{"EB Garamond", "2", markup.Lowered, fonts.Inferior},
		{"EB Garamond", "st", markup.Raised | markup.Emphasis, fonts.Superior},
		{"Crimson Pro", "12", markup.Raised, fonts.Superior},
		{"Crimson Pro", "st", markup.Raised, 0},      // no letters
		{"Crimson Pro", "1st", markup.Raised, 0},     // not all of it
		{"Libre Baskerville", "2", markup.Raised, 0}, // parts of fractions, 0.4 of a figure
		{"Spectral", "ё", markup.Raised, 0},
	} {
		s, err := (&Resources{Faces: fonts.Embedded()}).setter("en-GB", galleyKey{family: c.face})
		if err != nil {
			t.Fatal(err)
		}
		text, err := s.prepare([]markup.Inline{{Text: "M"}, {Text: c.text, Style: c.style}}, markup.Pos{})
		if err != nil {
			t.Fatal(err)
		}
		if len(text.tokens) != 1 || len(text.tokens[0].w.parts) != 2 {
			t.Fatalf("%s in %s is no word of two parts", c.text, c.face)
		}
		p := text.tokens[0].w.parts[1]
		if !p.offLine() || p.add || p.run.Text != c.text {
			t.Errorf("%s in %s: %+v", c.text, c.face, p)
		}
		want := part{per: superSize, rise: superRise}
		if c.style&markup.Lowered != 0 {
			want.rise = -inferDrop
		}
		if c.drawn != 0 {
			want = part{}
		}
		if got := p.run.Features & (fonts.Superior | fonts.Inferior); got != c.drawn || p.per != want.per || p.rise != want.rise {
			t.Errorf("%s in %s: features %b, size %d, rise %d", c.text, c.face, got, p.per, p.rise)
		}
	}
}

// TestRaisedInkStandsHigh holds the ink of the set page against the line: that
// of superiors ends above the small letters, that of inferiors below the line
// or at its foot, in every face, drawn or not.
func TestRaisedInkStandsHigh(t *testing.T) {
	book := &markup.Book{Title: "T", Author: "A", Language: "en-US", Sections: []*markup.Section{{Matter: markup.Body,
		Blocks: []markup.Block{&markup.Paragraph{Text: []markup.Inline{{Text: "On the 1"}, {Text: "st", Style: markup.Raised}, {Text: " of May H"},
			{Text: "2", Style: markup.Lowered}, {Text: "O rose 10"}, {Text: "12", Style: markup.Raised | markup.Emphasis}, {Text: " grains."}}}}}}}
	lib := fonts.Embedded()
	for _, family := range lib.Families() {
		s := Default()
		s.Face = family.Name
		l, err := Compose(context.Background(), book, s, Resources{Faces: lib})
		if err != nil {
			t.Fatal(err)
		}
		seen := 0
		for _, p := range l.Pages {
			for _, line := range p.Lines {
				for _, r := range line.Runs {
					high, low := r.Glyphs.Text == "st" || r.Glyphs.Text == "12", r.Glyphs.Text == "2"
					if !high && !low {
						continue
					}
					seen++
					face := r.Glyphs.Face
					for _, g := range r.Glyphs.Glyphs {
						_, foot, _, top := face.Extents(g.ID)
						up := r.Rise + scale(r.Size, top, face)
						down := r.Rise + scale(r.Size, foot, face)
						small, figure := scale(s.Size.Length, int32(face.XHeight), face), scale(s.Size.Length, int32(face.CapHeight), face)
						if high && (up < small || down < figure/5) || low && (down > figure/50 || up > figure*3/4) {
							t.Errorf("%s: %s stands from %v to %v, small letters to %v", family.Name, r.Glyphs.Text, down, up, small)
						}
					}
				}
			}
		}
		if seen != 3 {
			t.Errorf("%s: %d of 3 stand above or below the line", family.Name, seen)
		}
	}
}
