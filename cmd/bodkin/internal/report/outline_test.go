package report

import (
	"regexp"
	"strconv"
	"testing"

	"bodkin/fonts"
)

var pathStep = regexp.MustCompile(`[mlqcz]|-?[0-9]+`)

// read reads a path of relative steps back as segments.
func read(t *testing.T, path string) (all []fonts.Segment) {
	var at, begin fonts.Point
	tokens := pathStep.FindAllString(path, -1)
	for i := 0; i < len(tokens); {
		op := tokens[i]
		i++
		if op == "z" {
			at = begin // SVG 1.1, 8.3.3: closing moves the pen to the beginning
			continue
		}
		s := fonts.Segment{Op: map[string]fonts.SegmentOp{"m": fonts.MoveTo, "l": fonts.LineTo, "q": fonts.QuadTo, "c": fonts.CubeTo}[op]}
		n := map[string]int{"m": 1, "l": 1, "q": 2, "c": 3}[op]
		for k := range n {
			x, err := strconv.Atoi(tokens[i])
			if err != nil {
				t.Fatal(err)
			}
			y, err := strconv.Atoi(tokens[i+1])
			if err != nil {
				t.Fatal(err)
			}
			i += 2
			s.Args[k] = fonts.Point{X: at.X + int32(x), Y: at.Y + int32(y)}
		}
		at = s.Args[n-1]
		if op == "m" {
			begin = at
		}
		all = append(all, s)
	}
	return all
}

// The outlines of all embedded faces, TrueType and CFF, come back as they were.
func TestOutlinesComeBack(t *testing.T) {
	lib := fonts.Embedded()
	cff := 0
	for _, family := range lib.Families() {
		face, err := lib.Face(family.Name, fonts.Regular)
		if err != nil {
			t.Fatal(err)
		}
		if face.CFF {
			cff++
		}
		for _, r := range "AÅBQRagßœ&;?“—0123456789*" {
			gid, ok := face.GID(r)
			if !ok {
				continue
			}
			want := face.Outline(gid)
			got := read(t, outline(want))
			if len(got) != len(want) {
				t.Fatalf("%s %q: %d steps, not %d", family.Name, r, len(got), len(want))
			}
			for i := range want {
				if got[i] != want[i] {
					t.Fatalf("%s %q: step %d is %v, not %v", family.Name, r, i, got[i], want[i])
				}
			}
		}
	}
	t.Logf("%d families, %d with CFF outlines", len(lib.Families()), cff)
}
