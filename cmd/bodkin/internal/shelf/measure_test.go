package shelf

import (
	"strings"
	"testing"

	"bodkin/typeset/length"

	"pgregory.net/rapid"
)

// One inch is 25.4 mm (international inch), a centimetre ten of these.
func TestMeasure(t *testing.T) {
	const inch = length.Inch
	for _, c := range []struct {
		written string
		usual   unit
		want    length.Length
		unit    length.Unit
	}{
		{"8.25", inches, inch * 33 / 4, length.In},
		{"8,25", inches, inch * 33 / 4, length.In},
		{"8 1/4", inches, inch * 33 / 4, length.In},
		{"8-1/4", inches, inch * 33 / 4, length.In},
		{"8 - 1/4", inches, inch * 33 / 4, length.In},
		{"8–1/4", inches, inch * 33 / 4, length.In}, // en dash
		{"8¼", inches, inch * 33 / 4, length.In},
		{"8 ¼", inches, inch * 33 / 4, length.In},
		{"8-¼", inches, inch * 33 / 4, length.In},
		{"8\u00a01⁄4", inches, inch * 33 / 4, length.In}, // no-break space, fraction slash
		{"8 1/4 in", unit{}, inch * 33 / 4, length.In},
		{"8.25in", millimetres, inch * 33 / 4, length.In}, // the cell's own unit rules
		{`8 1/4"`, unit{}, inch * 33 / 4, length.In},
		{"8¼”", unit{}, inch * 33 / 4, length.In},
		{"8.25 inches", unit{}, inch * 33 / 4, length.In},
		{"8.25 IN.", unit{}, inch * 33 / 4, length.In},
		{"254mm", unit{}, inch * 10, length.Mm},
		{"25,4 cm", unit{}, inch * 10, length.Mm},
		{"25.4", centimetres, inch * 10, length.Mm},
		{"127 millimetres", unit{}, inch * 5, length.Mm},
		{"3/4", inches, inch * 3 / 4, length.In},
		{"⅞", inches, inch * 7 / 8, length.In},
		{".5", inches, inch / 2, length.In},
		{"8.", inches, 0, 0},
	} {
		got, err := measure(c.written, c.usual)
		if c.want == 0 {
			if err == nil {
				t.Errorf("%q is %v; want an error", c.written, got)
			}
			continue
		}
		if err != nil || got.Length != c.want || got.Unit != c.unit {
			t.Errorf("%q is %v (%d), %v; want %d %s", c.written, got, got.Length, err, c.want, c.unit)
		}
	}
}

func TestMeasureRefuses(t *testing.T) {
	for written, want := range map[string]string{
		"8.25":       "has no unit",
		"8 1/4":      "has no unit",
		"in":         "is not a measure",
		"8 1/0 in":   "is not a measure",
		"8 5/4 in":   "is not a measure",
		"8.2.5 in":   "is not a measure",
		"-8 in":      "is not a measure",
		"1e3 mm":     "is not a measure",
		"8 x 5 in":   "is not a measure",
		"8.5 1/4 in": "is not a measure",
		"12 pt":      "is not a measure",
		"about 8 in": "is not a measure",
	} {
		if v, err := measure(written, unit{}); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q is %v, %v; want an error with %q", written, v, err, want)
		}
	}
}

// A fraction is the decimal number that it stands for.
func TestFractionsAreDecimals(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		whole := rapid.IntRange(1, 19).Draw(t, "whole")
		of := rapid.SampledFrom([]int{2, 4, 8, 16}).Draw(t, "of")
		n := rapid.IntRange(1, of-1).Draw(t, "n")
		join := rapid.SampledFrom([]string{" ", "-", "  ", "–"}).Draw(t, "join")
		fraction := itoa(whole) + join + itoa(n) + "/" + itoa(of) + " in"
		decimals := itoa(whole) + "." + pad4(n*10000/of) + "in"
		a, errA := measure(fraction, unit{})
		b, errB := length.Parse(decimals) // the house's own reader
		if errA != nil || errB != nil || a != b {
			t.Fatalf("%q is %v (%v), %q is %v (%v)", fraction, a, errA, decimals, b, errB)
		}
	})
}

func itoa(n int) string { return length.Decimal(int64(n), 0) }

func pad4(n int) string { return strings.Repeat("0", 4-len(itoa(n))) + itoa(n) }
