package edition

import (
	"strings"
	"testing"

	"bodkin/markup"
	"bodkin/typeset"
	"bodkin/typeset/length"
)

// A layout as Interior reads it: margins, back, the highest and the lowest
// line of its pages, and pictures.
func TestInterior(t *testing.T) {
	terms := load(t, demoTerms)
	value := func(s string) length.Value {
		v, err := length.Parse(s)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	for _, c := range []struct {
		name   string
		change func(*typeset.Layout)
		want   []string // each objection has one of them
	}{
		{"all is well", func(*typeset.Layout) {}, nil},
		{"outer margin", func(l *typeset.Layout) { l.Setting.Margins.ForeEdge = value("0.2in") },
			[]string{"margin: the outer margin is 0.2in, and Saltmarsh Printworks (invented) wants text to stay 0.25in from the trim; set the margin fore-edge to 0.25in or more"}},
		{"binding, for a thicker book", func(l *typeset.Layout) { l.Pages = make([]typeset.Page, 330) },
			[]string{"back: the margin at the binding is 0.5in, and Saltmarsh Printworks (invented) asks for 0.75in in a book of 330 pages"}},
		{"binding, for a book thicker than all steps", func(l *typeset.Layout) { l.Pages = make([]typeset.Page, 900) }, []string{"asks for 0.875in"}},
		// Two thirds of 11 pt above a baseline at 22 pt leave 14.7 pt, 3.3 less than a quarter of an inch.
		{"head", func(l *typeset.Layout) { l.Pages[1].Lines[0].Y = 22 * length.Point },
			[]string{"margin: the highest line stands 0.204in from the trim, and Saltmarsh Printworks (invented) wants 0.25in; widen the margin head by 0.046in"}},
		// A quarter of 11 pt below a baseline 18 pt above the trim leaves 15.25 pt.
		{"foot", func(l *typeset.Layout) { l.Pages[1].Lines[1].Y = l.Trim.Height - 18*length.Point },
			[]string{"margin: the lowest line stands 0.212in from the trim"}},
		{"bleed", func(l *typeset.Layout) { l.Bleed = value("3mm").Length },
			[]string{"bleed: pictures reach 0.118in past the trim, and Saltmarsh Printworks (invented) asks for 0.125in; set bleed = \"0.125in\""}},
		{"pictures", func(l *typeset.Layout) {
			l.Pages[1].Plates = []typeset.Plate{
				{Picture: &markup.Picture{Path: "art/quay.png"}, PPI: 299, Wanted: 300},
				{Picture: &markup.Picture{Path: "art/dog.png"}, PPI: 450, Wanted: 600},
				{Picture: &markup.Picture{Path: "art/fine.png"}, PPI: 300, Wanted: 300},
			}
		}, []string{"resolution: page 2: the picture quay.png has 299 pixels to the inch, and Saltmarsh Printworks (invented) asks for 300 in pictures",
			"dog.png has 450 pixels to the inch, and Saltmarsh Printworks (invented) asks for 600 in drawings in black and white"}},
	} {
		s := typeset.Default()
		l := &typeset.Layout{Setting: s, Trim: s.Trim.Size(), Back: length.Inch / 2, Pages: []typeset.Page{{}, {Label: "2", Lines: []typeset.Line{
			{Y: 60 * length.Point}, {Y: 500 * length.Point},
		}}}}
		c.change(l)
		got := terms.Interior(l)
		if len(got) != len(c.want) {
			t.Errorf("%s: %q", c.name, got)
			continue
		}
		for i, o := range got {
			if said := o.Code + ": " + o.String(); !strings.Contains(said, c.want[i]) {
				t.Errorf("%s: %q, want %q in it", c.name, said, c.want[i])
			}
		}
	}
	if got := (*Terms)(nil).Interior(&typeset.Layout{}); got != nil {
		t.Errorf("without terms: %v", got)
	}
}

// What terms ask of the pages goes into the setting.
func TestPress(t *testing.T) {
	terms := load(t, "testdata/pounds.toml")
	for binding, want := range map[string]int{Perfect: 4, Case: 16} {
		p, err := terms.Press(Choice{Binding: binding})
		if err != nil || p.Multiple != want || len(p.Back) != 3 || p.Safety != terms.Safety {
			t.Errorf("%s: %+v (%v), want a multiple of %d", binding, p, err, want)
		}
	}
	if p, err := (*Terms)(nil).Press(Choice{}); p != nil || err != nil {
		t.Errorf("without terms: %v, %v", p, err)
	}
}
