package typeset

import (
	"strings"
	"testing"
)

func TestAddresses(t *testing.T) {
	for _, c := range []struct{ word, want string }{
		{"https://tides.example/skerrow/low-water", "https://|tides|.example|/skerrow|/low|-water"},
		{"www.pellam-ducks.example", "www|.pellam|-ducks|.example"},
		{"(clerk.of.tides@skerrow.example)", "(clerk|.of|.tides@|skerrow|.example)"},
		{"a@b.example,", "a@|b|.example,"},
		{"end.Then", ""},
		{"me@home", ""},
		{"low-water", ""},
	} {
		got := ""
		if isAddress(c.word) {
			at := 0
			for _, cut := range append(addressCuts(c.word), len(c.word)) {
				got += "|" + c.word[at:cut]
				at = cut
			}
			got = strings.TrimPrefix(got, "|")
		}
		if got != c.want {
			t.Errorf("%s: %s, want %s", c.word, got, c.want)
		}
	}
}
