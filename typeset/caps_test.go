package typeset

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"bodkin/fonts"
	"bodkin/markup"
)

func TestCaps(t *testing.T) {
	for _, c := range []struct {
		face, text  string
		size        int32
		shown, slow string // what is drawn, in letters of the face; features
	}{
		{"EB Garamond", "No Entry", 1000, "", "smcp"},
		{"EB Garamond", "NO ENTRY", 1000, "", "c2sc"},
		{"Crimson Pro", "Straße", 850, "STRASSE", ""},
		{"Libre Baskerville", "No Entry", 850, "NO ENTRY", ""},
	} {
		lib := fonts.Embedded()
		s, err := (&Resources{Faces: lib}).setter("en-GB", galleyKey{family: c.face})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := s.face(0); err != nil {
			t.Fatal(err)
		}
		text, err := s.prepare([]markup.Inline{{Text: c.text, Style: markup.Caps}}, markup.Pos{})
		if err != nil {
			t.Fatal(err)
		}
		var letters, glyphs []string
		for _, tok := range text.tokens {
			p := &tok.w.parts[0]
			letters = append(letters, p.run.Text)
			if p.per != c.size {
				t.Errorf("%s in %s: size %d", c.text, c.face, p.per)
			}
			for i, g := range p.run.Glyphs {
				if int(g.Cluster) >= len(p.run.Text) || i > 0 && g.Cluster < p.run.Glyphs[i-1].Cluster {
					t.Errorf("%s in %s: glyph %d stands for letter %d", c.text, c.face, i, g.Cluster)
				}
				glyphs = append(glyphs, fmt.Sprint(g.ID))
			}
			if c.slow == "smcp" && p.run.Features&fonts.SmallCaps == 0 || c.slow == "c2sc" && p.run.Features&fonts.AllSmallCaps == 0 {
				t.Errorf("%s in %s: features %b", c.text, c.face, p.run.Features)
			}
		}
		if got := strings.Join(letters, " "); got != c.text {
			t.Errorf("%q became %q", c.text, got)
		}
		if c.shown != "" {
			face, _ := lib.Face(c.face, fonts.Regular)
			var want []string
			for _, r := range strings.ReplaceAll(c.shown, " ", "") {
				g, _ := face.GID(r)
				want = append(want, fmt.Sprint(g))
			}
			if fmt.Sprint(glyphs) != fmt.Sprint(want) {
				t.Errorf("%s in %s: glyphs %v, want %v", c.text, c.face, glyphs, want)
			}
		}
	}
}

func TestSignFace(t *testing.T) {
	book := chapter(&markup.Paragraph{Text: []markup.Inline{{Text: "The door said "}, {Text: "Keep out", Style: markup.Inscribed}, {Text: "."}}}, poster)
	c := NewComposer(book, Resources{})
	for _, sign := range []string{"", "Spectral", "libre baskerville", ""} {
		s := small()
		s.SignFace = sign
		l := compose(t, c, s)
		faces := make(map[string]string)
		for i := range l.Pages {
			for _, line := range l.Pages[i].text() {
				for _, r := range line.Runs {
					faces[r.Glyphs.Text] = r.Glyphs.Face.Family
				}
			}
		}
		want := map[string]string{"": "EB Garamond", "Spectral": "Spectral", "libre baskerville": "Libre Baskerville"}[sign]
		for _, word := range []string{"Keep", "Harbour", "gun"} {
			if faces[word] != want {
				t.Errorf("sign-face %q: %q in %s", sign, word, faces[word])
			}
		}
		if faces["door"] != "EB Garamond" {
			t.Errorf("sign-face %q: the text is in %s", sign, faces["door"])
		}
	}
	s := small()
	s.SignFace = "Libre Caslon Text"
	_, err := NewComposer(chapter(para(0, "Ὀδυσσεύς"), notice("Ὀδυσσεύς")), Resources{}).Compose(t.Context(), s)
	missing := (*MissingGlyph)(nil)
	if !errors.As(err, &missing) || missing.Face != "Libre Caslon Text Regular" {
		t.Errorf("%v", err)
	}
	s.SignFace = "Nonesuch"
	if _, err := c.Compose(t.Context(), s); err == nil || !strings.HasPrefix(err.Error(), "sign-face: ") {
		t.Errorf("%v", err)
	}
}
