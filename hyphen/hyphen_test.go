package hyphen

import (
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
)

func load(t testing.TB, tag string) *Dictionary {
	t.Helper()
	d, err := Load(tag)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// hyphenated shows the points of a word.
func hyphenated(d *Dictionary, word string) string { return insert(word, d.Points(nil, word)) }

// F. M. Liang, "Word Hy-phen-a-tion by Com-put-er", Stanford 1983; the words from memory, the fourteen exceptions
// as they stand in the plain set.
func TestLiang(t *testing.T) {
	d := load(t, "en-US")
	for _, want := range []string{
		"hy-phen-ation",
		"su-per-cal-ifrag-ilis-tic-ex-pi-ali-do-cious",
		"as-so-ciate", "as-so-ciates", "dec-li-na-tion", "oblig-a-tory", "phil-an-thropic", "present", "presents",
		"project", "projects", "reci-procity", "re-cog-ni-zance", "ref-or-ma-tion", "ret-ri-bu-tion", "ta-ble",
	} {
		if got := hyphenated(d, strings.ReplaceAll(want, "-", "")); got != want {
			t.Errorf("got %s, want %s", got, want)
		}
	}
}

// The hyphens of the paragraph set in D. E. Knuth and M. F. Plass, "Breaking Paragraphs into Lines", Software: Practice
// and Experience 11 (1981), were put in before these patterns existed. Those that two letters before and three after
// allow, and that the patterns find too:
func TestFrogKing(t *testing.T) {
	d := load(t, "en-US")
	for _, want := range []string{"wish-ing", "daugh-ters", "beau-ti-ful", "it-self", "when-ever", "for-est", "foun-tain"} {
		if got := hyphenated(d, strings.ReplaceAll(want, "-", "")); got != want {
			t.Errorf("got %s, want %s", got, want)
		}
	}
}

func TestOriginalSet(t *testing.T) {
	d := load(t, "en-US")
	n := 0
	for _, c := range d.trie.cells {
		if c.levels != 0 {
			n++
		}
	}
	if n != 4447 { // the count of the plain set
		t.Errorf("%d patterns, want 4447", n)
	}
	if n := len(d.exceptions.points); n != 14 {
		t.Errorf("%d exceptions, want 14", n)
	}
}

// What a word is, by the package comment.
func TestWords(t *testing.T) {
	for _, test := range []struct{ tag, word, want string }{
		{"en-US", "", ""},
		{"en-US", "a", "a"},
		{"en-US", "...", "..."},
		{"en-US", "HYPHENATION", "HY-PHEN-ATION"},
		{"en-US", "Hyphenation", "Hy-phen-ation"},
		{"en-US", "“hyphenation,”", "“hy-phen-ation,”"},
		{"en-US", "(hyphenation)2024", "(hy-phen-ation)2024"},
		{"en-US", "2hyphenation3hyphenation", "2hy-phen-ation3hy-phen-ation"},
		{"en-US", "hyphenation/daughters", "hy-phen-ation/daugh-ters"},
		{"en-US", "hyphenation—daughters", "hy-phen-ation—daugh-ters"},
		{"en-US", "\xffhyphenation\xc3", "\xffhy-phen-ation\xc3"},

		// Exceptions are looked up in the same way.
		{"en-US", "‘Table’s", "‘Ta-ble’s"},
		{"en-US", "PRESENT.", "PRESENT."},

		// English patterns have no apostrophe.
		{"en-US", "daughters'", "daugh-ters'"},
		{"en-US", "'daughters'", "'daugh-ters'"},
		{"en-US", "daughter's", "daugh-ter's"},
		{"en-US", "daughter’s", "daugh-ter’s"},
		{"en-US", "daughterʼs", "daugh-terʼs"},
		{"en-US", "rock’n’hyphenation", "rock’n’hy-phen-ation"},
		{"en-US", "hyphenation''daughters", "hy-phen-ation''daugh-ters"},

		// French ones have.
		{"fr", "l'ordinateur", "l'or-di-na-teur"},
		{"fr", "L’ORDINATEUR", "L’OR-DI-NA-TEUR"},
		{"fr", "l'ami", "l'ami"},
		{"fr", "aujourd'hui", "au-jourd'hui"},
		{"fr", "«aujourd’hui»", "«au-jourd’hui»"},
		{"it", "nell'acqua", "nell'ac-qua"},
		{"it", "nell’acqua", "nell’ac-qua"},

		// Soft hyphens are the author's.
		{"en-US", "hyphen\u00ADation", "hyphen-\u00ADation"},
		{"en-US", "a\u00ADb", "a-\u00ADb"},
		{"en-US", "hy\u00AD\u00ADphenation", "hy-\u00AD\u00ADphenation"},
		{"en-US", "\u00ADhyphenation\u00AD", "\u00ADhyphenation\u00AD"},
		{"en-US", "hyphenation-\u00ADdaugh\u00ADters", "hyphenation-\u00ADdaugh-\u00ADters"},
		{"fr", "e\u00AD\u0301", "e\u00AD\u0301"},

		// Hard hyphens part words.
		{"en-US", "mother-in-law", "mother-in-law"},
		{"en-US", "hyphenation-daughters", "hy-phen-ation-daugh-ters"},
		{"en-US", "hyphenation‐daughters", "hy-phen-ation‐daugh-ters"},
		{"en-US", "-hyphenation-", "-hy-phen-ation-"},

		// Composed and decomposed letters; letters that no pattern has.
		{"de", "österreich", "ös-ter-reich"},
		{"de", "o\u0308sterreich", "o\u0308s-ter-reich"},
		{"de", "ÖSTERREICH", "ÖS-TER-REICH"},
		{"de", "O\u0308STERREICH", "O\u0308S-TER-REICH"},
		{"de", "STRAẞENBAHN", "STRA-ẞEN-BAHN"},
		{"en-US", "daughte\u0331rs", "daugh-te\u0331rs"}, // e with macron below: no composed form
		{"en-US", "daughteрs", "daugh-teрs"},             // a Cyrillic letter
		{"en-US", "\u0301hyphenation", "\u0301hy-phen-ation"},
	} {
		if got := hyphenated(load(t, test.tag), test.word); got != test.want {
			t.Errorf("%s %+q: got %+q, want %+q", test.tag, test.word, got, test.want)
		}
	}
}

// In both forms of Unicode the points are those of the same letters.
func TestMarksCountForNothing(t *testing.T) {
	d := load(t, "en-US").WithMins(3, 4)
	for _, word := range []string{"hyphenation", "h\u0331y\u0331phenation", "hyphenatio\u0331n\u0331"} {
		if got := strings.ReplaceAll(hyphenated(d, word), "\u0331", ""); got != "hyphen-ation" {
			t.Errorf("%+q: got %s", word, got)
		}
	}
}

func TestMins(t *testing.T) {
	d, err := Parse("x-any", strings.NewReader("a1\nb1\nc1\n:exceptions\nca-b-ca"))
	if err != nil {
		t.Fatal(err)
	}
	if before, after := d.Mins(); before != 2 || after != 3 {
		t.Errorf("got %d, %d", before, after)
	}
	for _, test := range []struct {
		before, after int
		word, want    string
	}{
		{1, 1, "abcabc", "a-b-c-a-b-c"},
		{2, 2, "abcabc", "ab-c-a-bc"},
		{2, 3, "abcabc", "ab-c-abc"},
		{4, 3, "abcabc", "abcabc"},
		{0, -4, "abcabc", "a-b-c-a-b-c"},
		{2, 3, "abc'abca", "abc'abca"},
		{2, 2, "abc'abca", "abc'ab-ca"},
		{1, 2, "abca-abc", "a-b-ca-a-bc"},
		{3, 1, "cabca", "cab-ca"}, // an exception
		{1, 3, "cabca", "ca-bca"},
	} {
		m := d.WithMins(test.before, test.after)
		if got := hyphenated(m, test.word); got != test.want {
			t.Errorf("minima %d, %d: got %s, want %s", test.before, test.after, got, test.want)
		}
	}
	if before, after := d.WithMins(0, -4).Mins(); before != 1 || after != 1 {
		t.Errorf("got %d, %d", before, after)
	}
	if before, after := d.Mins(); before != 2 || after != 3 {
		t.Errorf("WithMins changed its receiver to %d, %d", before, after)
	}
}

func TestPointsAppends(t *testing.T) {
	got := load(t, "en-US").Points([]int{-1}, "ta\u0301ble hyphenation")
	if diff := cmp.Diff([]int{-1, 10, 14}, got); diff != "" {
		t.Error(diff)
	}
}

func TestExceptions(t *testing.T) {
	d, err := load(t, "en-US").WithExceptions([]string{
		"tide-clerk", "Aston-ished", "daughters", "o'clock-tower", "Ca\u0301-diz", "ta-b-le"})
	if err != nil {
		t.Fatal(err)
	}
	for word, want := range map[string]string{
		"tideclerk":      "tide-clerk",
		"TIDECLERKS":     "TIDE-CLERKS", // another word, left to the patterns
		"tideclerk’s":    "tide-clerk’s",
		"“Astonished!”":  "“Aston-ished!”",
		"daughters":      "daughters",
		"daughter":       "daugh-ter",
		"step-DAUGHTERS": "step-DAUGHTERS",
		"o’clocktower":   "o’clock-tower",
		"cádiz":          "cá-diz",
		"ca\u0301diz":    "ca\u0301-diz",
		"table":          "ta-b-le", // the list goes before what the dictionary has
		"project":        "project",
	} {
		if got := hyphenated(d.WithMins(2, 2), word); got != want {
			t.Errorf("%s: got %s, want %s", word, got, want)
		}
	}
	if got := hyphenated(load(t, "fr"), "l'ordinateur"); got != "l'or-di-na-teur" {
		t.Error(got)
	}
	fr, err := load(t, "fr").WithExceptions([]string{"ordi-nateur", "aujour-d'hui"})
	if err != nil {
		t.Fatal(err)
	}
	for word, want := range map[string]string{
		"l’ordinateur": "l’ordi-nateur",
		"aujourd’hui":  "aujourd’hui", // one letter before the apostrophe
		"aujourd":      "au-jourd",
	} {
		if got := hyphenated(fr, word); got != want {
			t.Errorf("%s: got %s, want %s", word, got, want)
		}
	}
	if got := hyphenated(load(t, "en-US"), "daughters"); got != "daugh-ters" {
		t.Errorf("WithExceptions changed its receiver: %s", got)
	}
}

func TestExceptionErrors(t *testing.T) {
	d := load(t, "en-US")
	for _, test := range []struct {
		words []string
		want  string
	}{
		{[]string{""}, `hyphenation exception "": it has no letter`},
		{[]string{"fine", "-tide"}, `hyphenation exception "-tide": a hyphen has a letter before it; write one hyphen where the word may be divided`},
		{[]string{"tide--clerk"}, `hyphenation exception "tide--clerk": a hyphen has a letter before it; write one hyphen where the word may be divided`},
		{[]string{"tide-"}, `hyphenation exception "tide-": a hyphen has a letter after it; write one hyphen where the word may be divided`},
		{[]string{"tide clerk"}, `hyphenation exception "tide clerk": ' ' is no letter; write one word of letters, with hyphens where it may be divided`},
		{[]string{"tide\xff"}, `hyphenation exception "tide\xff": '�' is no letter; write one word of letters, with hyphens where it may be divided`},
		{[]string{"tides'"}, `hyphenation exception "tides'": an apostrophe has a letter after it`},
		{[]string{"'tis"}, `hyphenation exception "'tis": an apostrophe has a letter before it`},
		{[]string{"tide'-s"}, `hyphenation exception "tide'-s": a hyphen cannot stand beside an apostrophe`},
		{[]string{"tide-\u0301s"}, "hyphenation exception \"tide-\u0301s\": a combining mark has a letter before it"},
		{[]string{"re-cord", "rec-ord"}, `hyphenation exception "rec-ord": the same word is divided in another way before; keep one of the two`},
	} {
		_, err := d.WithExceptions(test.words)
		if err == nil || err.Error() != test.want {
			t.Errorf("%q: got %v, want %s", test.words, err, test.want)
		}
	}
	if _, err := d.WithExceptions([]string{"re-cord", "RE-CORD", "re\u00ADcord", "re‐cord"}); err != nil {
		t.Errorf("the same again: %v", err)
	}
}

// Points takes no memory for words of a text.
func TestNoAllocation(t *testing.T) {
	dst := make([]int, 0, 100)
	for _, test := range []struct{ tag, word string }{
		{"en-US", "“Hyphenation’s-daughters,”"},
		{"en-US", "hyphen\u00ADation"},
		{"en-US", "дочери"}, // unknown to the patterns
		{"fr", "l’extraordinaire"},
		{"de", "Rindfleischetikettierungsüberwachungsaufgabenübertragungsgesetz"[1:]}, // 62 letters
		{"pl", "KONSTANTYNOPOLITAŃCZYKOWIANECZKA"},
	} {
		d := load(t, test.tag)
		if n := testing.AllocsPerRun(100, func() { dst = d.Points(dst[:0], test.word) }); n != 0 {
			t.Errorf("%s: %v allocations", test.word, n)
		}
	}
}

func TestAbsurdWords(t *testing.T) {
	const n = 100_000
	d := load(t, "en-US")
	want := d.Points(nil, strings.Repeat("hyphenation", 3))
	want = slices.DeleteFunc(want, func(p int) bool { return p < 11 || p >= 22 }) // those of one in the midst
	points := d.Points(nil, strings.Repeat("hyphenation", n/11))
	for i, at := 0, 11; at < n-22; at += 11 {
		for points[i] < at {
			i++
		}
		for _, p := range want {
			if points[i] != p-11+at {
				t.Fatalf("got a point at %d, want %d", points[i], p-11+at)
			}
			i++
		}
	}
	for name, word := range map[string]string{
		"marks":        "e" + strings.Repeat("\u0301", n),
		"decomposed":   strings.Repeat("e\u0301b", n),
		"apostrophes":  strings.Repeat("a'", n),
		"hyphens":      strings.Repeat("-", n),
		"soft hyphens": strings.Repeat("a\u00AD", n),
		"not UTF-8":    strings.Repeat("a\xff", n),
	} {
		last := 0
		for _, p := range d.Points(nil, word) {
			if p <= last || p >= len(word) || !utf8.RuneStart(word[p]) {
				t.Fatalf("%s: a point at %d after %d", name, p, last)
			}
			last = p
		}
	}
}
