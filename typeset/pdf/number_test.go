package pdf

import (
	"testing"
	"time"

	"pgregory.net/rapid"
	"strconv"
)

func TestAppendDecimal(t *testing.T) {
	for _, test := range []struct {
		n      int64
		places int
		want   string
	}{
		{0, 3, "0"}, {0, 0, "0"}, {1000, 3, "1"}, {12500, 3, "12.5"}, {-3000, 3, "-3"},
		{250, 3, ".25"}, {-5, 3, "-.005"}, {1050, 3, "1.05"}, {7, 0, "7"}, {100, 0, "100"},
	} {
		if got := string(appendDecimal(nil, test.n, test.places)); got != test.want {
			t.Errorf("%d × 10^-%d: %s, want %s", test.n, test.places, got, test.want)
		}
	}
	// strconv reads back what was written.
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.Int64Range(-1e12, 1e12).Draw(t, "n")
		places := rapid.IntRange(0, 6).Draw(t, "places")
		got, err := strconv.ParseFloat(string(appendDecimal(nil, n, places)), 64)
		if want := float64(n) / float64(pow10[places]); err != nil || got != want {
			t.Fatalf("%v, %v; want %v", got, err, want)
		}
	})
}

func TestStrings(t *testing.T) {
	for _, test := range []struct{ got, want string }{
		{textString("The Tide Clerk"), "(The Tide Clerk)"},
		{textString(`a (b) \c`), `(a \(b\) \\c)`},
		{textString("Éa𝄞"), "<FEFF00C90061D834DD1E>"},
		{name("EBGaramond-Regular"), "/EBGaramond-Regular"},
		{name("A B#/("), "/A#20B#23#2F#28"},
		{date(time.Date(2026, 3, 4, 5, 6, 7, 0, time.UTC)), "(D:20260304050607Z)"},
		{date(time.Date(2026, 3, 4, 5, 6, 7, 0, time.FixedZone("", -5400))), "(D:20260304050607-01'30')"},
	} {
		if test.got != test.want {
			t.Errorf("%s, want %s", test.got, test.want)
		}
	}
}
