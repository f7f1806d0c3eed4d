package copyfit

import (
	"fmt"
	"testing"

	"bodkin/typeset/length"

	"pgregory.net/rapid"
)

// page is a page as a compositor would call it out: size on leading in an
// old-style face (x-height 0.42 em), characters a line, and its block in
// hundredths.
func page(size, leading float64, characters, block int) Look {
	s := length.Length(size * float64(length.Point))
	return Look{Characters: characters * 10, XHeight: s.Scale(42, 100), Slender: 420, Leading: int(leading * 1000 / size), Block: block * 10,
		Margins: [3]length.Length{length.Inch / 2, length.Inch * 3 / 4, length.Inch * 3 / 4}}
}

func with(l Look, change func(*Look)) Look {
	change(&l)
	return l
}

func ExampleRate() {
	// The worked example of the package comment.
	fmt.Printf("%+v\n", Rate(Look{
		Characters: 670,
		XHeight:    4 * length.Point,
		Slender:    400,
		Leading:    1300,
		Block:      650,
		Margins:    [3]length.Length{length.Inch / 2, length.Inch / 2, length.Inch / 2},
		Steps:      Steps{Fewest: true, Leading: 4, Size: 4},
	}))
	// Output: {Total:840 Line:2 Type:80 Leading:3 Margins:6 Steps:69}
}

// The order in which a compositor puts pages. Each rule's source stands
// beside it; what has none is common practice.
func TestOrder(t *testing.T) {
	novel := page(11, 14, 63, 62)
	for _, c := range []struct {
		rule        string
		better, not Look
	}{
		{"66 characters are ideal (Bringhurst, 2.1.2)", page(11, 14, 66, 62), page(11, 14, 57, 62)},
		{"66 characters are ideal (Bringhurst, 2.1.2)", page(11, 14.5, 66, 62), page(11, 14.5, 74, 62)},
		{"45 are satisfactory, 40 are not (Bringhurst, 2.1.2)", page(11, 13.5, 45, 62), page(11, 13.5, 40, 62)},
		{"75 are satisfactory, 80 are not (Bringhurst, 2.1.2)", page(11, 15, 75, 62), page(11, 15, 80, 62)},
		{"within 45 to 75 is better than outside (Bringhurst, 2.1.2)", page(11, 14, 46, 62), page(11, 14, 80, 62)},
		{"long lines want more leading (Bringhurst, 2.2.1; Tinker)", page(11, 15, 75, 62), page(11, 13.5, 75, 62)},
		{"short lines want less (the same)", page(11, 13.5, 48, 62), page(11, 15.5, 48, 62)},
		{"no type set solid (Tinker)", page(10, 12, 66, 62), page(10, 10, 66, 62)},
		{"2 pt on 10 pt type is better than 4 (Tinker, from memory)", page(10, 12.5, 60, 62), page(10, 14.5, 60, 62)},
		{"11 pt rather than 9 pt in a novel", novel, page(9, 11.5, 63, 62)},
		{"10.5 pt is a smaller loss than 9.5 pt", page(10.5, 13.25, 66, 62), page(9.5, 12, 66, 62)},
		{"x-height counts, not size (Legge and Bigelow): 10 pt of a wide-open face reads as 12 pt of an old-style one",
			with(page(10, 13.5, 63, 62), func(l *Look) { l.XHeight, l.Slender = 5*length.Point, 500 }), page(9.5, 12, 63, 62)},
		{"large x-heights want more leading", with(page(11, 15, 63, 62), func(l *Look) { l.XHeight, l.Slender = 5*length.Point, 500 }),
			with(page(11, 13, 63, 62), func(l *Look) { l.XHeight, l.Slender = 5*length.Point, 500 })},
		{"margins are part of the page", novel, page(11, 14, 63, 78)},
		{"thumbs need half an inch", novel, with(novel, func(l *Look) { l.Margins[0] = length.Inch / 4 })},
		{"a little less leading before smaller type", page(11, 13.5, 63, 62), page(9.75, 13.5, 70, 62)},
		{"page ends before leading", with(novel, func(l *Look) { l.Steps.Fewest = true }), with(page(11, 13.75, 63, 62), func(l *Look) { l.Steps.Leading = 1 })},
		{"leading before margins", with(novel, func(l *Look) { l.Steps.Leading = 1 }), with(novel, func(l *Look) { l.Steps.HeadFoot = 1 })},
		{"margins before size", with(novel, func(l *Look) { l.Steps.ForeEdge = 1 }), with(novel, func(l *Look) { l.Steps.Size = 1 })},
		{"size before another face", with(novel, func(l *Look) { l.Steps.Size = 2 }), with(novel, func(l *Look) { l.Steps.Face = true })},
		{"another face before another trim", with(novel, func(l *Look) { l.Steps.Face = true }), with(novel, func(l *Look) { l.Steps.Trim = true })},
	} {
		if a, b := Rate(c.better), Rate(c.not); a.Total <= b.Total {
			t.Errorf("%s: %+v is not above %+v", c.rule, a, b)
		}
	}
	if s := Rate(novel); s.Total < 950 {
		t.Errorf("11 on 14 pt with 63 characters, a novel as they are, has %+v", s)
	}
}

// From 0.2 degrees at 40 cm reading is fluent; that is the x-height which the
// formula calls fluent: 2 × 400 mm × tan 0.1°, 1.396 mm, 3.96 pt.
func TestFluent(t *testing.T) {
	const want = 2 * 400 * 0.001745331 / 25.4 * 72 * 1000
	if fluent < want-50 || fluent > want+50 {
		t.Errorf("fluent is %d thousandths of a point, and 0.2 degrees at 40 cm are %.0f", fluent, want)
	}
}

func anyLook(t *rapid.T) Look {
	return Look{
		Characters: rapid.IntRange(100, 1500).Draw(t, "characters"),
		XHeight:    length.Length(rapid.Int64Range(int64(length.Point), 20*int64(length.Point)).Draw(t, "x-height")),
		Slender:    rapid.IntRange(300, 600).Draw(t, "slender"),
		Leading:    rapid.IntRange(700, 2500).Draw(t, "leading"),
		Block:      rapid.IntRange(100, 950).Draw(t, "block"),
		Margins:    [3]length.Length{anyMargin(t), anyMargin(t), anyMargin(t)},
		Metric:     rapid.Bool().Draw(t, "metric"),
		Steps:      Steps{Leading: rapid.IntRange(0, 20).Draw(t, "steps"), Size: rapid.IntRange(0, 10).Draw(t, "sizes")},
	}
}

func anyMargin(t *rapid.T) length.Length {
	return length.Length(rapid.Int64Range(0, 2*int64(length.Inch)).Draw(t, "margin"))
}

// The total is what the losses leave, each within its bound; and nothing that
// can only hurt or only help does the other.
func TestScoreProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := anyLook(t)
		s := Rate(l)
		if s.Total != max(0, 1000-s.Line-s.Type-s.Leading-s.Margins-s.Steps) || s.Total > 1000 {
			t.Fatalf("%+v does not add up", s)
		}
		for _, lost := range [][2]int{{s.Line, mostLine}, {s.Type, mostType}, {s.Leading, mostLeading}, {s.Margins, mostMargins}, {s.Steps, mostSteps}} {
			if lost[0] < 0 || lost[0] > lost[1] {
				t.Fatalf("%+v: %d is not within 0 to %d", s, lost[0], lost[1])
			}
		}
		by := rapid.IntRange(1, 300).Draw(t, "by")
		for _, c := range []struct {
			what  string
			worse Look
			holds bool
		}{
			{"smaller letters", with(l, func(l *Look) { l.XHeight = l.XHeight * 9 / 10 }), true},
			{"farther from the ideal leading", with(l, func(l *Look) {
				if l.Leading < ideal(*l) {
					l.Leading -= by
				} else {
					l.Leading += by
				}
			}), true},
			{"a fuller page", with(l, func(l *Look) { l.Block += by }), l.Block >= airy},
			{"a narrower margin", with(l, func(l *Look) { l.Margins[0] = l.Margins[0] * 9 / 10 }), true},
			{"a step more of leading", with(l, func(l *Look) { l.Steps.Leading++ }), true},
			{"a step more of size", with(l, func(l *Look) { l.Steps.Size++ }), true},
			{"another face", with(l, func(l *Look) { l.Steps.Face = true }), true},
		} {
			if worse := Rate(c.worse); c.holds && worse.Total > s.Total {
				t.Fatalf("%s raises %+v to %+v", c.what, s, worse)
			}
		}
		if a, b := line(l.Characters), line(l.Characters+by); l.Characters >= idealLine && a > b {
			t.Fatalf("lines of %d tenths lose %d, and longer ones %d", l.Characters, a, b)
		}
		if a, b := line(l.Characters), line(l.Characters-by); l.Characters <= idealLine && a > b {
			t.Fatalf("lines of %d tenths lose %d, and shorter ones %d", l.Characters, a, b)
		}
	})
}
