package shelf

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"

	"bodkin/typeset/length"
)

// wellFormed reads a picture with encoding/xml, strictly.
func wellFormed(t testing.TB, svg []byte) (elements []xml.StartElement, words []string) {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(svg))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return elements, words
		}
		if err != nil {
			t.Fatalf("%v in\n%s", err, svg)
		}
		switch e := token.(type) {
		case xml.StartElement:
			elements = append(elements, e.Copy())
		case xml.CharData:
			if s := strings.TrimSpace(string(e)); s != "" {
				words = append(words, s)
			}
		}
	}
}

func attribute(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

func paperMM(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(strings.TrimSuffix(s, "mm"), 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// The picture's measures, read back from the file, are those of the books at
// the scale that it states; its unit is the millimetre of the page.
func TestDrawToScale(t *testing.T) {
	s, err := Read("s.csv", []byte("title;binding;height;width;unit;thickness\nA & <B>;paperback;8;5.25;in;1\nC;case;222;145;mm;32\nD;paperback;7.75;5.5;in;0.5\n"))
	if err != nil {
		t.Fatal(err)
	}
	r, err := Judge(s, Known(nil, trims(t, "6x9in")), "")
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := r.Draw(&b, `The "shelf" & more`); err != nil {
		t.Fatal(err)
	}
	elements, words := wellFormed(t, b.Bytes())
	root := elements[0]
	if w := attribute(root, "width"); attribute(root, "viewBox") != "0 0 "+strings.TrimSuffix(w, "mm")+" "+strings.TrimSuffix(attribute(root, "height"), "mm") || w != "254mm" {
		t.Errorf("the picture is %s wide with a view of %s", w, attribute(root, "viewBox"))
	}
	if high := paperMM(t, attribute(root, "height")); high > 210 {
		t.Errorf("%v mm are too high for a page", high)
	}
	text := strings.Join(words, "\n")
	if !strings.Contains(text, "Drawn at 1 : 4,") {
		t.Fatalf("no scale in\n%s", text)
	}
	const scale = 4
	// height and thickness in millimetres
	want := map[string][][2]float64{
		"paperback":         {{203.2, 25.4}},
		"case":              {{222, 32}},
		"paperback unknown": {{196.85, 12.7}},
		"candidate":         {{228.6, (25.4 + 25.4) / 2}}, // the middle of 0.5, 1 in and 32 mm
	}
	found := 0
	bottom := math.NaN()
	for _, e := range elements {
		class := attribute(e, "class")
		if e.Name.Local != "rect" || want[class] == nil || attribute(e, "height") == "5" { // a key
			continue
		}
		high, thick := paperMM(t, attribute(e, "height")), paperMM(t, attribute(e, "width"))
		if w := want[class][0]; math.Abs(high-w[0]/scale) > 0.02 || math.Abs(thick-w[1]/scale) > 0.02 {
			t.Errorf("%s is %v × %v mm; want %v at 1 : %d", class, thick, high, w, scale)
		}
		foot := paperMM(t, attribute(e, "y")) + high
		if !math.IsNaN(bottom) && math.Abs(foot-bottom) > 0.02 {
			t.Errorf("%s stands at %v, another at %v", class, foot, bottom)
		}
		bottom = foot
		found++
	}
	if found != 4 {
		t.Errorf("%d spines", found)
	}
	for _, w := range []string{"A & <B>", "6x9in (trade)", "no known trim", `The "shelf" & more`, "case-bound", "paperback"} {
		if !strings.Contains(text, w) {
			t.Errorf("no %q in\n%s", w, text)
		}
	}
	for _, outside := range []string{"href", "url(", "@import", "<script", "<image", "<foreignObject"} {
		if bytes.Contains(b.Bytes(), []byte(outside)) {
			t.Errorf("the picture asks for something: %s", outside)
		}
	}
	// Nothing reaches past the sheet.
	for _, e := range elements {
		if e.Name.Local == "rect" && attribute(e, "x") != "" {
			if right := paperMM(t, attribute(e, "x")) + paperMM(t, attribute(e, "width")); right > 254 {
				t.Errorf("%v reaches to %v", e, right)
			}
		}
	}
}

// Many books stand in several rows, and the most that are drawn are bounded.
func TestDrawMany(t *testing.T) {
	var rows strings.Builder
	rows.WriteString("title;height;width;unit;pages\n")
	for i := range 1000 {
		fmt.Fprintf(&rows, "Volume %d;%d;%d;mm;%d\n", i, 180+i%70, 110+i%50, 150+i%400)
	}
	s, err := Read("s.csv", []byte(rows.String()))
	if err != nil {
		t.Fatal(err)
	}
	r, err := Judge(s, Known(nil, nil), "")
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := r.Draw(&b, "A long shelf"); err != nil {
		t.Fatal(err)
	}
	elements, words := wellFormed(t, b.Bytes())
	spines, boards := 0, 0
	for _, e := range elements {
		class := attribute(e, "class")
		if e.Name.Local == "rect" && strings.HasPrefix(class, "paperback") && attribute(e, "height") != "5" {
			spines++
		}
		if class == "board" {
			boards++
		}
	}
	if spines != mostDrawn || boards < 3 || !strings.Contains(strings.Join(words, "\n"), "Drawn are 240 of the 1000 books") {
		t.Errorf("%d spines on %d boards", spines, boards)
	}
}

func TestShortened(t *testing.T) {
	for _, c := range []struct {
		room length.Length
		want string
	}{{100 * millimetre, "A Parish of Crows"}, {18 * millimetre, "A Parish…"}, {millimetre, ""}} {
		got := shortened("A Parish of Crows", 30, c.room)
		if got != c.want || estimate(got, 30) > c.room {
			t.Errorf("in %v: %q; want %q", c.room, got, c.want)
		}
	}
}
