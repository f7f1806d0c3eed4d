package length

import (
	"math/big"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// One inch is 25.4 mm (international inch) and 72 pt, the unit of a PDF page (ISO
// 32000-1, 8.3.2.3).
func TestParse(t *testing.T) {
	for _, c := range []struct {
		in   string
		want Length
		out  string
	}{
		{"1in", 72 * 65536, "1in"},
		{"25.4mm", 72 * 65536, "25.4mm"},
		{"72pt", 72 * 65536, "72pt"},
		{"0.5 in", 36 * 65536, "0.5in"},
		{" 10.75pt ", 704512, "10.75pt"},
		{"129mm", 23964503, "129mm"},
		{"-3pt", -3 * 65536, "-3pt"},
		{".5in", 36 * 65536, "0.5in"},
		{"0", 0, "0pt"},
		{"0mm", 0, "0mm"},
		{"4.25in", 306 * 65536, "4.25in"},
	} {
		got, err := Parse(c.in)
		if err != nil || got.Length != c.want || got.String() != c.out {
			t.Errorf("Parse(%q) = %d, %q, %v; want %d, %q", c.in, got.Length, got, err, c.want, c.out)
		}
	}
}

func TestParseRefuses(t *testing.T) {
	for in, want := range map[string]string{
		"":                         "no unit",
		"11":                       "no unit",
		"5cm":                      "no unit",
		"in":                       "decimal number",
		"1.2.3in":                  "decimal number",
		"1e3pt":                    "decimal number",
		"5 5in":                    "decimal number",
		"--5in":                    "decimal number",
		"201in":                    "longer than 200in",
		"-9999mm":                  "longer than 200in",
		"０.5in":                    "decimal number",
		"1/2in":                    "decimal number",
		"Infin":                    "decimal number",
		"0x10pt":                   "decimal number",
		"1_000pt":                  "decimal number",
		"+1pt":                     "decimal number",
		"9999999999999999999999pt": "decimal number",
	} {
		if v, err := Parse(in); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("Parse(%q) = %v, %v; want an error with %q", in, v, err, want)
		}
	}
}

// A length written in its unit reads back as itself to within the millionth
// of the unit that String writes, and what a person can write reads back
// exactly.
func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		unit := Unit(rapid.IntRange(0, 2).Draw(t, "unit"))
		digits := rapid.Int64Range(0, 200_000).Draw(t, "thousandths")
		v, err := Parse(new(big.Rat).SetFrac64(digits, 1000).FloatString(3) + unit.String())
		if err != nil {
			t.Fatal(err)
		}
		back, err := Parse(v.String())
		if err != nil || back != v {
			t.Fatalf("%v reads back as %v (%v)", v, back, err)
		}
	})
}

func TestScale(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := rapid.Int64Range(-1<<40, 1<<40).Draw(t, "l")
		den := rapid.Int64Range(1, 1<<40).Draw(t, "den")
		num := rapid.Int64Range(-den, den).Draw(t, "num")
		exact := big.NewRat(l, 1)
		exact.Mul(exact, big.NewRat(num, den))
		if got, want := Length(l).Scale(num, den), roundRat(exact); got != want {
			t.Fatalf("%d × %d ÷ %d = %d, exactly %s", l, num, den, got, exact.FloatString(3))
		}
	})
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"0.5in", "129mm", "11pt", "-0", "1.999999999999in", "5x8in"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		v, err := Parse(s)
		if err != nil {
			if strings.ContainsAny(err.Error(), "\n\r") {
				t.Errorf("the message for %q has more than one line", s)
			}
			return
		}
		if v.Length > Max || v.Length < -Max {
			t.Errorf("%q is %v", s, v)
		}
		back, err := Parse(v.String())
		if err != nil {
			t.Fatalf("%q is written as %q, which is refused: %v", s, v, err)
		}
		// Six decimals of an inch are 4.7 units apart.
		if d := back.Length - v.Length; d > 3 || d < -3 {
			t.Errorf("%q is %d, written as %q, read back as %d", s, v.Length, v, back.Length)
		}
	})
}

func TestDecimal(t *testing.T) {
	for _, c := range []struct {
		n      int64
		places int
		want   string
	}{{1250, 3, "1.25"}, {-1250, 3, "-1.25"}, {5, 2, "0.05"}, {-5, 2, "-0.05"}, {0, 3, "0"}, {7, 0, "7"}, {700, 2, "7"}} {
		if got := Decimal(c.n, c.places); got != c.want {
			t.Errorf("%d with %d places is %s, want %s", c.n, c.places, got, c.want)
		}
	}
}
