package report

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// colours reads the custom properties of a block of the style.
func colours(css string) map[string]string {
	all := make(map[string]string)
	for _, m := range regexp.MustCompile(`--([a-z-]+): (#[0-9a-f]{3,6})\b`).FindAllStringSubmatch(css, -1) {
		all[m[1]] = m[2]
	}
	return all
}

// luminance and contrast are those of WCAG 2.2: relative luminance, contrast
// ratio.
func luminance(t *testing.T, hex string) float64 {
	hex = strings.TrimPrefix(hex, "#")
	if len(hex) == 3 {
		hex = hex[:1] + hex[:1] + hex[1:2] + hex[1:2] + hex[2:] + hex[2:]
	}
	var sum float64
	for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
		n, err := strconv.ParseUint(hex[2*i:2*i+2], 16, 8)
		if err != nil {
			t.Fatal(err)
		}
		c := float64(n) / 255
		if c <= 0.04045 {
			c /= 12.92
		} else {
			c = math.Pow((c+0.055)/1.055, 2.4)
		}
		sum += weight * c
	}
	return sum
}

func contrast(t *testing.T, a, b string) float64 {
	x, y := luminance(t, a), luminance(t, b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

// Text has a contrast of 4.5 at least (WCAG 2.2, 1.4.3, level AA), and what a
// drawing is understood by 3 (1.4.11), in light, in dark and on paper.
func TestContrast(t *testing.T) {
	if got := contrast(t, "#000", "#fff"); math.Abs(got-21) > 0.01 { // the standard's own figure
		t.Fatalf("black on white has %.2f, not 21", got)
	}
	style, err := files.ReadFile("page/style.css")
	if err != nil {
		t.Fatal(err)
	}
	print, err := files.ReadFile("page/print.css")
	if err != nil {
		t.Fatal(err)
	}
	light, rest, found := strings.Cut(string(style), "@media (prefers-color-scheme: dark)")
	if !found {
		t.Fatal("there is no dark style")
	}
	dark, _, _ := strings.Cut(rest, ".e0")
	for _, scheme := range []struct {
		name     string
		over     string
		editions string
	}{{"light", "", "abcdef"}, {"dark", dark, "abcdef"}, {"paper", string(print), "abcdef"}} {
		c := colours(light)
		for k, v := range colours(scheme.over) {
			c[k] = v
		}
		check := func(a, b string, least float64) {
			if c[a] == "" || c[b] == "" {
				t.Fatalf("%s: there is no colour %s or %s", scheme.name, a, b)
			}
			if got := contrast(t, c[a], c[b]); got < least {
				t.Errorf("%s: %s on %s has a contrast of %.2f, not %.1f", scheme.name, a, b, got, least)
			}
		}
		for _, pair := range [][2]string{{"ink", "ground"}, {"quiet", "ground"}, {"doubt", "ground"}, {"type", "sheet"}} {
			check(pair[0], pair[1], 4.5)
		}
		check("edge", "ground", 3)
		for _, e := range scheme.editions {
			check(string(e), "ground", 4.5) // names, and letters on their disc
			check("lettering", fmt.Sprintf("cover-%c", e), 4.5)
			check(fmt.Sprintf("cover-%c", e), "sheet", 3) // the bar in the margin
		}
	}
}
