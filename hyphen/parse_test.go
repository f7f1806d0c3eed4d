package hyphen

import (
	"bytes"
	"errors"
	"io"
	"slices"
	"strings"
	"testing"
	"testing/iotest"
)

func TestParse(t *testing.T) {
	text := "\uFEFF# a comment\r\n" +
		"% another\r\n" +
		":minima  3 4\r\n" +
		"a1b\r\n" +
		"\r\n" +
		"  .c1d \r\n" +
		"e1f.\r\n" +
		"g’1h\r\n" +
		"g'1h\n" + // the same again
		"I1J\n" +
		"e\u03011k\n" +
		":exceptions\n" +
		"tide-clerk\n" +
		":patterns\n" +
		"l1m\n"
	d, err := Parse("x-any", strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	if before, after := d.Mins(); before != 3 || after != 4 || d.Tag() != "x-any" {
		t.Errorf("got %d, %d, %q", before, after, d.Tag())
	}
	d = d.WithMins(1, 1)
	for word, want := range map[string]string{
		"xabx": "xa-bx", "cd": "c-d", "xcd": "xcd", "ef": "e-f", "efx": "efx", "g'h": "g'h", "xij": "xi-j", "xIJ": "xI-J",
		"ék": "é-k", "e\u0301k": "e\u0301-k", "tideclerk": "tide-clerk", "lm": "l-m",
	} {
		if got := hyphenated(d, word); got != want {
			t.Errorf("got %s, want %s", got, want)
		}
	}
}

// The greatest digit wins, and odd digits divide: Liang, chapter 2.
func TestLevels(t *testing.T) {
	d, err := Parse("x-any", strings.NewReader("a1b\na2bc\n.a3bc\na4bcd.\n"))
	if err != nil {
		t.Fatal(err)
	}
	d = d.WithMins(1, 1)
	for _, want := range []string{"a-b", "xabc", "a-bcx", "abcd", "xa-b"} {
		if got := hyphenated(d, strings.ReplaceAll(want, "-", "")); got != want {
			t.Errorf("got %s, want %s", got, want)
		}
	}
}

func TestParseErrors(t *testing.T) {
	long := strings.Repeat("a", maxPattern)
	for _, test := range []struct{ text, want string }{
		{"", "no pattern and no exception in the file"},
		{"# nothing\n:patterns\n", "no pattern and no exception in the file"},
		{"a1b\nab", `line 2: "ab": no digit from 1 to 9, so that it says nothing; a word with its hyphens belongs under :exceptions`},
		{"a0b", `line 1: "a0b": no digit from 1 to 9, so that it says nothing; a word with its hyphens belongs under :exceptions`},
		{"a12b", `line 1: "a12b": two digits in a row`},
		{"1", `line 1: "1": no letter`},
		{".1.", `line 1: ".1.": no letter`},
		{"a.1b", `line 1: "a.1b": a "." stands at the ends of a pattern only, with no digit outside`},
		{"1.a", `line 1: "1.a": a "." stands at the ends of a pattern only, with no digit outside`},
		{"a1-b", `line 1: "a1-b": '-' is neither a letter nor a digit nor "."`},
		{"a1 b", `line 1: "a1 b": ' ' is neither a letter nor a digit nor "."`},
		{"a1b\n\na1\xff", `line 3: not UTF-8; save the file as UTF-8`},
		{"# \xff\n:\xff", `line 2: ":\xff": no such directive; there are :minima, :patterns and :exceptions`},
		{long + "1a", "line 1: \"" + long[:40] + "…\": longer than 100 letters"},
		{"a1b\nb1c\n\na2b", "line 4: the same letters as in line 1 with other digits; keep one of the two"},
		{":pattern", `line 1: ":pattern": no such directive; there are :minima, :patterns and :exceptions`},
		{":minima 2", `line 1: ":minima 2": :minima takes two numbers from 1 to 100, letters before and after a hyphen`},
		{":minima 0 2", `line 1: ":minima 0 2": :minima takes two numbers from 1 to 100, letters before and after a hyphen`},
		{":minima 2 2\n:minima 2 2", `line 2: :minima is stated twice`},
		{":exceptions\na-b\nc1d", `line 3: "c1d": '1' is no letter; write one word of letters, with hyphens where it may be divided`},
		{":exceptions\nre-cord\nrec-ord", `line 3: "rec-ord": the same word is divided in another way before; keep one of the two`},
	} {
		_, err := Parse("x-any", strings.NewReader(test.text))
		if err == nil || err.Error() != test.want {
			t.Errorf("%q: got %v, want %s", test.text, err, test.want)
		}
	}
	if _, err := Parse("x-any", iotest.ErrReader(io.ErrUnexpectedEOF)); !errors.Is(err, io.ErrUnexpectedEOF) {
		t.Errorf("got %v", err)
	}
}

// A script with more letters than Latin ones has.
func TestParseLargeAlphabet(t *testing.T) {
	var text strings.Builder
	const first, n = '一', 5000
	for r := rune(first); r < first+n; r++ {
		text.WriteString(string(r) + "1" + string(r+1) + "\n")
	}
	d, err := Parse("x-any", strings.NewReader(text.String()))
	if err != nil {
		t.Fatal(err)
	}
	word := string([]rune{first + 10, first + 11, first + 30, first + 4000, first + 4001})
	if diff := d.WithMins(1, 1).Points(nil, word); !slices.Equal(diff, []int{3, 12}) {
		t.Errorf("got %v", diff)
	}
}

func FuzzParse(f *testing.F) {
	f.Add([]byte("# comment\n:minima 2 3\n:patterns\n.ach4\nhen5at\n1na\n:exceptions\nas-so-ciate\n"), "associate")
	f.Add([]byte("a1b\na1b\n2’2\ne\u03011"), "e\u0301a’b")
	f.Add([]byte("a1.\n.1a\n..\n9"), "aaaa")
	for _, l := range shelf[3:6] {
		text, err := data.ReadFile("data/" + l.file + ".txt")
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text[:2000], "")
	}
	f.Fuzz(func(t *testing.T, text []byte, word string) {
		d, err := Parse("x-any", bytes.NewReader(text))
		if err != nil {
			return
		}
		checkPoints(t, d.WithMins(1, 1), word)
		checkPoints(t, d, word)
	})
}
