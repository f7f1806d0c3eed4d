package report

import (
	"bytes"
	"context"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"testing"

	"bodkin/cmd/bodkin/internal/bookfile"
	"bodkin/markup"
	"bodkin/typeset"
	"bodkin/typeset/length"
)

// demo is the demonstration book in its own setting and in others, set once.
var demo = sync.OnceValues(func() (*Comparison, error) {
	file, err := bookfile.Load("../../../../testdata/tide-clerk")
	if err != nil {
		return nil, err
	}
	ctx := context.Background()
	book, err := markup.Load(ctx, file.Source)
	if err != nil {
		return nil, err
	}
	composer := typeset.NewComposer(book, typeset.Resources{})
	c := &Comparison{Title: book.Title, Author: book.Author, Language: book.Language, Words: book.Words(),
		Paper: "The thickness supposes a leaf of 0.128 mm."}
	for _, name := range []string{"", "roomy"} {
		s, err := file.Setting(name)
		if err != nil {
			return nil, err
		}
		l, err := composer.Compose(ctx, s)
		if err != nil {
			return nil, err
		}
		if name == "" {
			name = "book"
		}
		leaf := length.Inch.Scale(128, 25_400)
		c.Editions = append(c.Editions, Edition{Name: name, Layout: l, Spine: leaf * length.Length(len(l.Pages)/2)})
	}
	c.Figures = []Figure{
		{Name: "pages", Means: "both sides of each leaf", Cells: []Cell{{Value: "102"}, {Value: "94", Difference: "−8"}}},
		{Name: "size", Choice: true, Cells: []Cell{{Value: "11 pt"}, {Value: "11.5 pt", Difference: "+0.5 pt"}}},
	}
	c.Panels = []Panel{{Name: "A: 5 × 8 in", Sizes: []length.Length{10 * length.Point, 11 * length.Point}, Leadings: []length.Length{13 * length.Point, 14 * length.Point},
		Pages: [][]int{{90, 96}, {96, 102}}, Chosen: []Chosen{{Edition: 0, Leading: 1, Size: 1}}},
		{Name: "B: 5.5 × 8.5 in", Sizes: []length.Length{11*length.Point + length.Point/2}, Leadings: []length.Length{15 * length.Point, 16 * length.Point},
			Pages: [][]int{{94}, {0}}, Chosen: []Chosen{{Edition: 1, Leading: 0, Size: 0}}}}
	return c, nil
})

func demoPage(t testing.TB) (*Comparison, string) {
	t.Helper()
	c, err := demo()
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := Write(&b, c); err != nil {
		t.Fatal(err)
	}
	return c, b.String()
}

// element is what a test looks for in the page.
type element struct {
	name string
	attr map[string]string
}

// elements reads the page as XML, which is stricter than HTML: whatever is
// not closed or not escaped fails.
func elements(t *testing.T, page string) []element {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(page))
	d.Entity = xml.HTMLEntity
	var all []element
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			return all
		}
		if err != nil {
			t.Fatalf("the page is not well formed: %v", err)
		}
		if start, ok := tok.(xml.StartElement); ok {
			e := element{start.Name.Local, make(map[string]string)}
			for _, a := range start.Attr {
				e.attr[a.Name.Local] = a.Value
			}
			all = append(all, e)
		}
	}
}

func TestPageIsWellFormedAndSelfContained(t *testing.T) {
	_, page := demoPage(t)
	all := elements(t, page)
	ids := make(map[string]bool)
	for _, e := range all {
		if id, has := e.attr["id"]; has {
			if ids[id] {
				t.Errorf("the id %q stands twice", id)
			}
			ids[id] = true
		}
	}
	for _, e := range all {
		for _, key := range []string{"href", "src", "data", "action", "srcset", "poster"} {
			v, has := e.attr[key]
			if !has || strings.HasPrefix(v, "data:") {
				continue
			}
			if !strings.HasPrefix(v, "#") || !ids[v[1:]] {
				t.Errorf("<%s %s=%q> leads out of the page, or to nothing in it", e.name, key, v)
			}
		}
		for _, key := range []string{"aria-labelledby", "for", "aria-describedby"} {
			for _, id := range strings.Fields(e.attr[key]) {
				if !ids[id] {
					t.Errorf("<%s %s=%q>: there is no %q", e.name, key, e.attr[key], id)
				}
			}
		}
		if e.name == "script" {
			t.Error("there is a script")
		}
	}
	for _, m := range regexp.MustCompile(`url\([^)]*\)|@import|https?:`).FindAllString(page, -1) {
		if m != "url(#fold)" {
			t.Errorf("the page asks for %s", m)
		}
	}
	if len(page) > 1<<20 {
		t.Errorf("a page of two editions has %d bytes, a mebibyte at most", len(page))
	}
	t.Logf("%d bytes", len(page))
}

// What a screen reader goes by; WCAG 2.2, success criteria 1.1.1, 1.3.1,
// 2.4.1, 3.1.1 and 3.1.2.
func TestPageTellsAScreenReader(t *testing.T) {
	_, page := demoPage(t)
	count := make(map[string]int)
	heading := 0
	for _, e := range elements(t, page) {
		count[e.name]++
		switch e.name {
		case "html", "blockquote", "h1":
			if e.attr["lang"] == "" {
				t.Errorf("<%s> has no lang", e.name)
			}
		case "svg":
			if e.attr["role"] != "img" && e.attr["aria-hidden"] != "true" && e.attr["x"] == "" {
				t.Errorf("a drawing is neither a picture with a title nor hidden: %v", e.attr)
			}
			if e.attr["role"] == "img" && len(strings.Fields(e.attr["aria-labelledby"])) != 2 {
				t.Errorf("a drawing has no title and description: %v", e.attr)
			}
		case "th":
			if e.attr["scope"] == "" {
				t.Errorf("a head of a table has no scope")
			}
		case "section":
			if e.attr["aria-labelledby"] == "" {
				t.Error("a section has no name")
			}
		}
		if len(e.name) == 2 && e.name[0] == 'h' && e.name[1] >= '1' && e.name[1] <= '6' {
			level := int(e.name[1] - '0')
			if level > heading+1 {
				t.Errorf("<%s> follows a heading of level %d", e.name, heading)
			}
			heading = level
		}
	}
	for name, n := range map[string]int{"main": 1, "header": 1, "nav": 1, "h1": 1, "table": 3, "caption": 3, "title": 9} {
		if count[name] != n {
			t.Errorf("there are %d <%s>, not %d", count[name], name, n)
		}
	}
}

func TestWhatABookSaysIsEscaped(t *testing.T) {
	c, err := demo()
	if err != nil {
		t.Fatal(err)
	}
	evil := *c
	evil.Title, evil.Author, evil.Language = `<script>alert(1)</script> & "Sons"`, `</style><img src=x onerror=y>`, `en"><b>`
	evil.Paper, evil.Cautions = `<i>`, []string{`</li><script>`}
	evil.Editions = append([]Edition(nil), c.Editions...)
	evil.Editions[1].Name, evil.Editions[1].Says = `</title>"<x>`, []string{`a < b`}
	evil.Figures = []Figure{{Name: "<q>", Means: "&", Cells: []Cell{{Value: "<u>"}, {Value: "2", Doubt: "<s>"}}}}
	evil.Panels = append([]Panel(nil), c.Panels...)
	evil.Panels[0].Name = "<m>&"
	var b bytes.Buffer
	if err := Write(&b, &evil); err != nil {
		t.Fatal(err)
	}
	for _, e := range elements(t, b.String()) {
		switch e.name {
		case "script", "img", "x", "q", "u", "s", "m", "i":
			t.Errorf("<%s> came through", e.name)
		}
	}
	if !strings.Contains(b.String(), "&lt;script&gt;alert(1)&lt;/script&gt; &amp; ") {
		t.Error("the title is not there as it is written")
	}
}

func TestSameInSameOut(t *testing.T) {
	_, one := demoPage(t)
	_, two := demoPage(t)
	if one != two {
		t.Error("two pages of one comparison differ")
	}
}

// The passage has the same words in both editions, and they are the words of
// the manuscript's middle.
func TestSamePassage(t *testing.T) {
	c, err := demo()
	if err != nil {
		t.Fatal(err)
	}
	found, ok := Same([]*typeset.Layout{c.Editions[0].Layout, c.Editions[1].Layout})
	if !ok {
		t.Fatal("no passage was found")
	}
	for i, p := range found {
		if n := len(p.Lines); n < 5 || n > 20 {
			t.Errorf("edition %d: the passage has %d lines", i, n)
		}
		if !p.Lines[0].First || !p.Lines[len(p.Lines)-1].Last {
			t.Errorf("edition %d: the passage does not begin and end with paragraphs", i)
		}
		if n := len(c.Editions[i].Layout.Pages); p.Page < n/3 || p.Page > n*2/3 {
			t.Errorf("edition %d: page %d of %d is not the middle", i, p.Page+1, n)
		}
		if got, want := strings.Join(p.Paras, "\n"), strings.Join(found[0].Paras, "\n"); got != want {
			t.Errorf("edition %d says\n%s\nand the first says\n%s", i, got, want)
		}
	}
	if found[0].Lines[0].Pos != found[1].Lines[0].Pos {
		t.Error("the passages begin in two places")
	}
}

// Every glyph of a sample stands where the layout has it, to a fiftieth of a
// point: read back from the drawing's matrices.
func TestGlyphsStandWhereTheLayoutHasThem(t *testing.T) {
	c, err := demo()
	if err != nil {
		t.Fatal(err)
	}
	found, _ := Same([]*typeset.Layout{c.Editions[0].Layout, c.Editions[1].Layout})
	for i := range c.Editions {
		var g glyphs
		l := c.Editions[i].Layout
		got := places(t, string(c.Editions[i].sample(&g, i, &found[i], length.In)))
		var want [][2]float64
		for n, line := range found[i].Lines {
			dx := l.Block.Left - l.BlockLeft(found[i].Pages[n])
			dy := l.Block.Leading*length.Length(n+2) - line.Y
			for k := range line.Runs {
				r := &line.Runs[k]
				r.Places(line, func(at typeset.Place) bool {
					if len(r.Glyphs.Face.Outline(at.Glyph.ID)) > 0 {
						want = append(want, [2]float64{(at.X + dx).Points(), (at.Y + dy).Points()})
					}
					return true
				})
			}
		}
		if len(got) != len(want) {
			t.Fatalf("edition %d: %d glyphs are drawn, not %d", i, len(got), len(want))
		}
		for k := range want {
			if x, y := got[k][0]-want[k][0], got[k][1]-want[k][1]; x*x+y*y > 0.02*0.02 {
				t.Fatalf("edition %d, glyph %d: it is drawn at %v, not at %v", i, k, got[k], want[k])
			}
		}
	}
}

// places reads the places of used glyphs from a drawing.
func places(t *testing.T, svg string) (all [][2]float64) {
	var m [6]float64
	for _, e := range elements(t, svg) {
		switch e.name {
		case "g":
			if s, ok := strings.CutPrefix(e.attr["transform"], "matrix("); ok {
				for i, f := range strings.Fields(strings.TrimSuffix(s, ")")) {
					v, err := strconv.ParseFloat(f, 64)
					if err != nil {
						t.Fatal(err)
					}
					m[i] = v
				}
			}
		case "use":
			x, _ := strconv.ParseFloat("0"+e.attr["x"], 64)
			y, _ := strconv.ParseFloat("0"+e.attr["y"], 64)
			all = append(all, [2]float64{m[0]*x + m[2]*y + m[4], m[1]*x + m[3]*y + m[5]})
		}
	}
	return all
}

// A sample is as wide as its trim, in the millimetres of CSS.
func TestSamplesAreAtTrueSize(t *testing.T) {
	_, page := demoPage(t)
	for _, want := range []string{`id="sample-0" class="strip" width="127mm"`, `id="sample-1" class="strip" width="139.7mm"`} {
		if !strings.Contains(page, want) { // 5 in and 5.5 in
			t.Errorf("there is no %s", want)
		}
	}
}

func TestDecimal(t *testing.T) {
	for _, c := range []struct {
		n      int64
		places int
		want   string
	}{{0, 2, "0"}, {5, 2, "0.05"}, {-5, 2, "-0.05"}, {1200, 2, "12"}, {-12345, 3, "-12.345"}, {10, 1, "1"}} {
		if got := length.Decimal(c.n, c.places); got != c.want {
			t.Errorf("length.Decimal(%d, %d) is %s, not %s", c.n, c.places, got, c.want)
		}
	}
}

func TestTicks(t *testing.T) {
	for _, c := range []struct{ least, most int }{{94, 116}, {100, 100}, {2, 4}, {180, 912}, {3, 9000}, {24, 26}} {
		all := ticks(c.least, c.most, tickStep(c.most-c.least), 0)
		if all[0] > c.least || all[len(all)-1] < c.most || len(all) < 2 || len(all) > 8 {
			t.Errorf("from %d to %d the ticks are %v", c.least, c.most, all)
		}
	}
}

func TestWriteRefuses(t *testing.T) {
	c, err := demo()
	if err != nil {
		t.Fatal(err)
	}
	one, many, lame, odd := *c, *c, *c, *c
	one.Editions = c.Editions[:1]
	many.Editions = nil
	for range MostEditions + 1 {
		many.Editions = append(many.Editions, c.Editions[0])
	}
	lame.Editions = []Edition{c.Editions[0], {Name: "empty", Layout: &typeset.Layout{}}}
	odd.Figures = []Figure{{Name: "pages", Cells: []Cell{{Value: "1"}}}}
	for i, c := range []*Comparison{&one, &many, &lame, &odd} {
		if err := Write(io.Discard, c); err == nil {
			t.Errorf("case %d was written", i)
		}
	}
}

func ExampleWrite() {
	c, err := demo()
	if err != nil {
		fmt.Println(err)
		return
	}
	var page bytes.Buffer
	if err := Write(&page, c); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(strings.Count(page.String(), `role="img"`), "drawings,", strings.Count(page.String(), "<script"), "scripts")
	// Output: 8 drawings, 0 scripts
}

// The copies are drawn to one scale: fronts as large as they are, and along
// the line that goes back their thickness.
func TestSceneIsToScale(t *testing.T) {
	c, err := demo()
	if err != nil {
		t.Fatal(err)
	}
	var g glyphs
	svg, _, _ := c.scene(&g)
	var fronts, backs int
	for _, e := range elements(t, string(svg)) {
		switch e.attr["class"] {
		case "front":
			want := c.Editions[fronts].Layout.Trim
			if e.attr["width"] != pt(want.Width) || e.attr["height"] != pt(want.Height) {
				t.Errorf("front %d is %s by %s, not %s by %s", fronts, e.attr["width"], e.attr["height"], pt(want.Width), pt(want.Height))
			}
			fronts++
		case "spine":
			var x, y, dx, dy float64
			if _, err := fmt.Sscanf(e.attr["d"], "M%f %fl%f %f", &x, &y, &dx, &dy); err != nil {
				t.Fatal(err)
			}
			if deep, want := math.Hypot(dx, dy), c.Editions[backs].Spine.Points(); math.Abs(deep-want) > 0.02 {
				t.Errorf("spine %d is %.2f pt thick, not %.2f", backs, deep, want)
			}
			backs++
		}
	}
	if fronts != 2 || backs != 2 {
		t.Errorf("%d fronts and %d spines are drawn", fronts, backs)
	}
}
