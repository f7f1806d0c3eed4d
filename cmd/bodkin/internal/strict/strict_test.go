package strict

import (
	"strings"
	"testing"

	"github.com/pelletier/go-toml/v2"
	"pgregory.net/rapid"
)

// The keys of a file and their lines, counted by eye.
func TestLinesOf(t *testing.T) {
	lines := LinesOf([]byte(`name = "x"
back = [
  { to = 150, margin = "0.5in" },
  # between
  { to = 300,
    margin = "0.6in" },
]
sizes = ["a",
  "b"]
[book]
title = "y"
"odd key" = 1

[[charge]]
copy = 1
[[charge]]
page = 2
[charge.more]
deep = 3
[setting.margins]
back = "auto"
dotted.key = 1
`))
	for key, want := range map[string]int{
		"name": 1, "back": 2, "back.0": 3, "back.0.to": 3, "back.0.margin": 3, "back.1.to": 5, "back.1.margin": 6,
		"sizes": 8, "sizes.0": 8, "sizes.1": 9, "book": 10, "book.title": 11, "book.odd key": 12,
		"charge.0": 14, "charge.0.copy": 15, "charge.1": 16, "charge.1.page": 17, "charge.1.more.deep": 19,
		"setting.margins": 20, "setting.margins.back": 21, "setting.margins.dotted.key": 22,
		"charge.1.nothing": 16, "back.1.nothing": 5, "nothing": 0, "": 0,
	} {
		if got := lines.Of(key); got != want {
			t.Errorf("%q is on line %d, want %d", key, got, want)
		}
	}
	if lines["charge.0.page"] != 0 {
		t.Error("a key that there is not has a line")
	}
}

// A number keeps the digits that were written, whether quoted or not.
func TestNumberKeepsItsDigits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.StringMatching(`(0|[1-9][0-9]{0,8})\.[0-9]{1,9}`).Draw(t, "number")
		var v struct {
			Bare   Number `toml:"bare"`
			Quoted Number `toml:"quoted"`
		}
		if err := toml.Unmarshal([]byte("bare = "+s+"\nquoted = \""+s+"\""), &v); err != nil {
			t.Fatal(err)
		}
		if v.Bare.String() != s || v.Quoted.String() != s || v.Bare.Rat().Cmp(v.Quoted.Rat()) != 0 {
			t.Fatalf("%s is read as %s and %s", s, v.Bare, v.Quoted)
		}
		decimals := len(s) - strings.IndexByte(s, '.') - 1
		if got := v.Bare.Rat().FloatString(decimals); got != s {
			t.Fatalf("%s has the value %s", s, got)
		}
	})
	for _, wrong := range []string{"", "-1", "+1", "1e3", "1,5", ".5", "5.", "0x10", "1_000", "inf", "1234567890", "1 2"} {
		if n, err := NumberOf(wrong); err == nil || n.Given() {
			t.Errorf("%q is read as %v (%v)", wrong, n, err)
		}
	}
}

func FuzzLines(f *testing.F) {
	f.Add("a = 1\n[[b]]\nc = { d = [1, { e = 2 }] }\n")
	f.Add("a.b.c = [[1],\n[2]]\n[a.d]\n")
	f.Fuzz(func(t *testing.T, text string) {
		var v map[string]any
		if toml.Unmarshal([]byte(text), &v) != nil {
			return
		}
		all := LinesOf([]byte(text))
		last := strings.Count(text, "\n") + 1
		for key, n := range all {
			if n < 1 || n > last {
				t.Errorf("%q is on line %d of %d", key, n, last)
			}
		}
		for key := range v {
			if all.Of(key) == 0 && !strings.Contains(key, ".") {
				t.Errorf("%q has no line", key)
			}
		}
	})
}
