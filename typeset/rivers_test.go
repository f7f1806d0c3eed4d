package typeset

import (
	"testing"

	"bodkin/fonts"
	"bodkin/typeset/length"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// white is a word space: where it begins and how wide it is, in hundredths of
// an em.
type white struct{ from, wide int }

// whiteLayout is a page of lines with the given word spaces and black between.
func whiteLayout(t testing.TB, lines [][]white) *Layout {
	face, err := fonts.Embedded().Face("EB Garamond", fonts.Regular)
	if err != nil {
		t.Fatal(err)
	}
	const em = 1000 * length.Length(100) // so that a hundredth is a whole number
	l := &Layout{Block: Block{Leading: em, Measure: 40 * em, Rows: len(lines)}, Pages: []Page{{Opening: true}}}
	for n, spaces := range lines {
		line := Line{Justified: true, Y: em * length.Length(n), Measure: 40 * em, Natural: em / 4, Space: em / 4}
		at := 0
		for k := range len(spaces) + 1 {
			to := 4000
			if k < len(spaces) {
				to = spaces[k].from
			}
			glyphs := &fonts.Run{Face: face, Text: "m", Width: int32((to - at) * int(face.Upem) / 100)}
			line.Runs = append(line.Runs, Run{X: em * length.Length(at) / 100, Size: em, Glyphs: glyphs, Space: k > 0})
			if k < len(spaces) {
				at = to + spaces[k].wide
			}
		}
		l.Pages[0].Lines = append(l.Pages[0].Lines, line)
	}
	return l
}

// rivers returns the first line and the length of each.
func rivers(l *Layout) (found [][2]int) {
	for _, f := range l.Findings() {
		if f.Kind == River {
			found = append(found, [2]int{f.Line, f.Amount})
		}
	}
	return found
}

func TestRivers(t *testing.T) {
	for _, test := range []struct {
		name  string
		lines [][]white
		want  [][2]int
	}{
		{"four lines", [][]white{{{500, 30}}, {{500, 30}}, {{500, 30}}, {{500, 30}}}, [][2]int{{0, 4}}},
		{"three are few", [][]white{{{500, 30}}, {{500, 30}}, {{500, 30}}, {{900, 30}}}, nil},
		{"good spaces", [][]white{{{500, 29}}, {{500, 29}}, {{500, 29}}, {{500, 29}}}, nil},
		{"one good space", [][]white{{{500, 40}}, {{500, 40}}, {{505, 29}}, {{500, 40}}, {{500, 40}}}, nil},
		{"leaning as far as it may", [][]white{{{500, 30}}, {{510, 30}}, {{520, 30}}, {{530, 30}}, {{540, 30}}}, [][2]int{{0, 5}}},
		{"leaning too far", [][]white{{{500, 30}}, {{511, 30}}, {{522, 30}}, {{533, 30}}}, nil},
		{"wide and leaning too far", [][]white{{{500, 100}}, {{541, 100}}, {{582, 100}}, {{623, 100}}}, nil},
		{"wide and leaning", [][]white{{{500, 100}}, {{540, 100}}, {{580, 100}}, {{620, 100}}}, [][2]int{{0, 4}}},
		{"winding", [][]white{{{500, 35}}, {{510, 35}}, {{500, 35}}, {{510, 35}}}, [][2]int{{0, 4}}},
		{"two side by side", [][]white{{{500, 30}, {900, 30}}, {{500, 30}, {900, 30}}, {{500, 30}, {900, 30}}, {{500, 30}, {900, 30}}}, [][2]int{{0, 4}, {0, 4}}},
		{"one below the other", [][]white{{{500, 30}}, {{500, 30}}, {{500, 30}}, {{500, 30}}, {{900, 30}}, {{500, 30}}, {{500, 30}}, {{500, 30}}, {{500, 30}}},
			[][2]int{{0, 4}, {5, 4}}},
		{"a fork, the right arm longer", [][]white{{{500, 80}}, {{500, 80}}, {{500, 80}}, {{490, 30}, {540, 60}}, {{540, 60}}}, [][2]int{{0, 5}}},
	} {
		if diff := cmp.Diff(test.want, rivers(whiteLayout(t, test.lines))); diff != "" {
			t.Errorf("%s: -want +got:\n%s", test.name, diff)
		}
	}
}

// A line between, an empty row, or the next page ends a river.
func TestRiversEnd(t *testing.T) {
	lines := [][]white{{{500, 40}}, {{500, 40}}, {{500, 40}}, {{500, 40}}, {{500, 40}}, {{500, 40}}}
	l := whiteLayout(t, lines)
	l.Pages[0].Lines[3].Role = Ornament
	if got := rivers(l); got != nil {
		t.Errorf("through an ornament: %v", got)
	}
	l = whiteLayout(t, lines)
	for i := 3; i < 6; i++ {
		l.Pages[0].Lines[i].Y += l.Block.Leading
	}
	if got := rivers(l); got != nil {
		t.Errorf("through an empty row: %v", got)
	}
	l = whiteLayout(t, lines)
	l.Pages = append(l.Pages, Page{Opening: true, Section: 1, Lines: l.Pages[0].Lines[3:]})
	l.Pages[0].Lines = l.Pages[0].Lines[:3]
	if got := rivers(l); got != nil {
		t.Errorf("over the page: %v", got)
	}
}

// randomWhite draws a line of good spaces, at least an em and a half apart.
func randomWhite(t *rapid.T) []white {
	var spaces []white
	for at := rapid.IntRange(30, 200).Draw(t, "first"); at < 3900; at += rapid.IntRange(150, 500).Draw(t, "word") {
		spaces = append(spaces, white{at, rapid.IntRange(20, 29).Draw(t, "space")})
	}
	return spaces
}

// A river that is planted in sound lines is found where it is; a sound line
// between each two of its lines removes it.
func TestPlantedRiver(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		sound := rapid.SliceOfN(rapid.Custom(randomWhite), 0, 12).Draw(rt, "sound lines")
		n := rapid.IntRange(riverLines, 9).Draw(rt, "lines of the river")
		var planted [][]white
		at := 1000
		for range n {
			planted = append(planted, []white{{at, 35}})
			at += rapid.IntRange(-15, 15).Draw(rt, "aside")
		}
		begin := rapid.IntRange(0, len(sound)).Draw(rt, "place")
		lines := append(append(append([][]white(nil), sound[:begin]...), planted...), sound[begin:]...)
		if diff := cmp.Diff([][2]int{{begin, n}}, rivers(whiteLayout(t, lines))); diff != "" {
			rt.Fatalf("planted: -want +got:\n%s", diff)
		}
		var apart [][]white
		for _, line := range planted {
			apart = append(apart, line, randomWhite(rt))
		}
		if got := rivers(whiteLayout(t, apart)); got != nil {
			rt.Fatalf("with lines between: %v", got)
		}
	})
}

// The longest river is the longest chain that a search through all chains
// finds, and rivers share no space.
func TestLongestRiver(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		lines := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) []white {
			var spaces []white
			for at := rapid.IntRange(10, 40).Draw(t, "first"); len(spaces) < 4; {
				s := white{at, rapid.IntRange(25, 110).Draw(t, "space")}
				spaces = append(spaces, s)
				at += s.wide + rapid.IntRange(5, 60).Draw(t, "word")
			}
			return spaces
		}), 1, 10).Draw(rt, "lines")
		var chain func(n, k int) int
		chain = func(n, k int) int {
			s, longest := lines[n][k], 0
			if s.wide < riverWide {
				return 0
			}
			if n+1 < len(lines) {
				for m, b := range lines[n+1] {
					shared := min(s.from+s.wide, b.from+b.wide) - max(s.from, b.from)
					aside := 2*s.from + s.wide - 2*b.from - b.wide
					if shared >= riverShared && max(aside, -aside) <= 2*riverSlope {
						longest = max(longest, chain(n+1, m))
					}
				}
			}
			return longest + 1
		}
		want := 0
		for n := range lines {
			for k := range lines[n] {
				want = max(want, chain(n, k))
			}
		}
		if want < riverLines {
			want = 0
		}
		got, used := 0, make(map[[2]length.Length]bool)
		for _, f := range whiteLayout(t, lines).Findings() {
			if f.Kind != River {
				continue
			}
			got = max(got, f.Amount)
			for i, s := range f.Spaces {
				key := [2]length.Length{length.Length(f.Line + i), s.From}
				if used[key] {
					rt.Fatalf("two rivers share a space")
				}
				used[key] = true
			}
		}
		if got != want {
			rt.Fatalf("the longest river has %d lines, the longest chain %d", got, want)
		}
	})
}
