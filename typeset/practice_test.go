package typeset

import (
	"math"
	"testing"

	"bodkin/fonts"
	"bodkin/markup/markuptest"
	"bodkin/typeset/length"
)

// Common practice, no source: a novel of 92 000 words at 5 × 8 in makes about
// 560 pages at 12 pt with line spacing 1.4 (a multiple of the face's own line
// height), about 460 at 10.5 pt, and about 388 at 10.5 pt with spacing 1.15:
// steps of 0.82 and 0.84, and 164, 200 and 237 words a page.
func TestStepsOfCommonPractice(t *testing.T) {
	book := load(t, markuptest.TomSawyer(t).Source)
	c := NewComposer(book, Resources{})
	words := book.Words()
	want := [3]int{164, 200, 237}
	nearest, how, steps := 1<<30, "", [2]float64{}
	for _, family := range fonts.Embedded().Families() {
		for _, margin := range []string{"0.5in", "0.625in", "0.75in"} {
			var n [3]int
			for i, step := range []struct{ size, leading string }{{"12pt", "1.4 lines"}, {"10.5pt", "1.4 lines"}, {"10.5pt", "1.15 lines"}} {
				s := Default()
				s.Face = family.Name
				for text, value := range map[string]interface{ UnmarshalText([]byte) error }{step.size: &s.Size, step.leading: &s.Leading,
					margin: &s.Margins.ForeEdge} {
					if err := value.UnmarshalText([]byte(text)); err != nil {
						t.Fatal(err)
					}
				}
				s.Margins.Head = length.Value{Length: s.Margins.ForeEdge.Length + length.Inch/8}
				s.Margins.Foot = s.Margins.Head
				n[i] = len(compose(t, c, s).Pages)
			}
			first, second := float64(n[1])/float64(n[0]), float64(n[2])/float64(n[1])
			off := 0
			for i := range n {
				d := words/n[i] - want[i]
				off += d * d
			}
			t.Logf("%s, fore-edge %s: %v pages, steps %.3f and %.3f, words a page %d, %d, %d",
				family.Name, margin, n, first, second, words/n[0], words/n[1], words/n[2])
			if off < nearest {
				nearest, how = off, family.Name+" with a fore-edge of "+margin
				steps = [2]float64{first, second}
			}
		}
	}
	t.Logf("nearest to 164, 200 and 237 words a page: %s", how)
	if math.Abs(steps[0]-0.82) > 0.04 || math.Abs(steps[1]-0.84) > 0.04 {
		t.Errorf("%s: steps %.3f and %.3f, want 0.82 and 0.84, each within 0.04", how, steps[0], steps[1])
	}
}
