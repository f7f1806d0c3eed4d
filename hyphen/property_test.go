package hyphen

import (
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
	"pgregory.net/rapid"
)

var loadAll = sync.OnceValue(func() map[string]*Dictionary {
	all := map[string]*Dictionary{}
	for _, tag := range Languages() {
		d, err := Load(tag)
		if err != nil {
			panic(err)
		}
		all[tag] = d
	}
	return all
})

func anyDictionary(t *rapid.T) *Dictionary {
	return loadAll()[rapid.SampledFrom(Languages()).Draw(t, "language")].WithMins(
		rapid.IntRange(1, 4).Draw(t, "before"), rapid.IntRange(1, 4).Draw(t, "after"))
}

// Letters of the languages, with some of what surrounds them.
var (
	alphabetOf = []rune("aaabcdeeefghiiijklmnooopqrsttuuuvwxyzàâäãåáąçćéèêëęíîïñńóôöõòłśßúùûüœźż")
	aWord      = rapid.StringOfN(rapid.SampledFrom(alphabetOf), 1, 30, -1)
	aToken     = rapid.StringOfN(rapid.SampledFrom(append([]rune("'’-.\u0301\u0308\u0331дЖ1“”ẞİ"), alphabetOf...)), 0, 40, -1)
)

// checkPoints checks what holds for the points of anything.
func checkPoints(t interface {
	Helper()
	Fatalf(string, ...any)
}, d *Dictionary, word string) {
	t.Helper()
	before, after := d.Mins()
	soft := strings.Contains(word, softHyphen)
	last := 0
	for _, p := range d.Points(nil, word) {
		if p <= last || p >= len(word) {
			t.Fatalf("%s %+q: a point at %d after %d", d.Tag(), word, p, last)
		}
		last = p
		if !utf8.RuneStart(word[p]) {
			t.Fatalf("%s %+q: point %d is inside a rune", d.Tag(), word, p)
		}
		if soft {
			if !strings.HasPrefix(word[p:], softHyphen) {
				t.Fatalf("%s %+q: point %d is at no soft hyphen", d.Tag(), word, p)
			}
			continue
		}
		if r, _ := utf8.DecodeRuneInString(word[p:]); !unicode.IsLetter(r) {
			t.Fatalf("%s %+q: point %d is before %q", d.Tag(), word, p, r)
		}
		back, ahead := lettersAround(word, p)
		if back < before || ahead < after {
			t.Fatalf("%s %+q: point %d has %d letters before and %d after, minima are %d and %d",
				d.Tag(), word, p, back, ahead, before, after)
		}
	}
}

// lettersAround counts letters to the nearest of what is neither a letter nor a mark.
func lettersAround(word string, p int) (back, ahead int) {
	count := func(rs []rune) (n int) {
		for _, r := range rs {
			switch {
			case r == 'ʼ':
				return n
			case unicode.IsLetter(r):
				n++
			case !unicode.IsMark(r):
				return n
			}
		}
		return n
	}
	// Composed first: a mark may be a letter to Unicode's properties once it is composed, and the other way round.
	rs := []rune(norm.NFC.String(word[:p]))
	slices.Reverse(rs)
	return count(rs), count([]rune(norm.NFC.String(word[p:])))
}

func TestPointsAreInPlace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		checkPoints(t, anyDictionary(t), aToken.Draw(t, "token"))
	})
}

// runesBefore turns byte offsets into numbers of letters in composed form.
func runesBefore(word string, points []int) []int {
	n := make([]int, len(points))
	for i, p := range points {
		n[i] = utf8.RuneCountInString(norm.NFC.String(word[:p]))
	}
	return n
}

func same(t *rapid.T, d *Dictionary, a, b string) {
	t.Helper()
	m, n := runesBefore(a, d.Points(nil, a)), runesBefore(b, d.Points(nil, b))
	if !slices.Equal(m, n) {
		t.Fatalf("%s: %+q has points %v, %+q has %v", d.Tag(), a, m, b, n)
	}
}

func TestCaseDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, word := anyDictionary(t), aWord.Draw(t, "word")
		same(t, d, word, strings.ToUpper(word))
		first := []rune(word)
		first[0] = unicode.ToTitle(first[0])
		same(t, d, word, string(first))
	})
}

func TestFormDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, word := anyDictionary(t), aToken.Draw(t, "word")
		same(t, d, norm.NFC.String(word), norm.NFD.String(word))
	})
}

func TestSurroundingsDoNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, a, b := anyDictionary(t), aWord.Draw(t, "a"), aWord.Draw(t, "b")
		between := rapid.SampledFrom([]string{"-", "‐", "—", "1", ". ", "”", "''", "\xff"}).Draw(t, "between")
		want := d.Points(nil, a)
		for _, p := range d.Points(nil, b) {
			want = append(want, len(a)+len(between)+p)
		}
		if got := d.Points(nil, a+between+b); !slices.Equal(got, want) {
			t.Fatalf("%s %+q: got %v, want %v", d.Tag(), a+between+b, got, want)
		}
	})
}

// An exception is obeyed and leaves other words as they are.
func TestExceptionsAreStable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := anyDictionary(t).WithMins(1, 1)
		word, other := aWord.Draw(t, "word"), aWord.Draw(t, "other")
		var want []int
		var exception strings.Builder
		for i, r := range word {
			if i > 0 && rapid.Bool().Draw(t, "hyphen") {
				want = append(want, i)
				exception.WriteByte('-')
			}
			exception.WriteRune(r)
		}
		e, err := d.WithExceptions([]string{exception.String()})
		if err != nil {
			t.Fatal(err)
		}
		if got := e.Points(nil, word); !slices.Equal(got, want) {
			t.Fatalf("%s: got %v, want %v", exception.String(), got, want)
		}
		if word != other && !slices.Equal(d.Points(nil, other), e.Points(nil, other)) {
			t.Fatalf("the exception %s changes %s", exception.String(), other)
		}
	})
}

// The trie gives what the definition of the method gives: every pattern tried at every place.
func TestTrieIsTheMethod(t *testing.T) {
	piece := rapid.StringOfN(rapid.SampledFrom([]rune("abcé'")), 1, 4, -1)
	rapid.Check(t, func(t *rapid.T) {
		type entry struct {
			letters []rune
			digits  []byte
		}
		var entries []entry
		var file strings.Builder
		seen := map[string]bool{}
		for range rapid.IntRange(1, 40).Draw(t, "patterns") {
			letters := piece.Draw(t, "letters")
			if rapid.Bool().Draw(t, "first") {
				letters = "." + letters
			}
			if rapid.Bool().Draw(t, "last") {
				letters += "."
			}
			if seen[letters] {
				continue
			}
			seen[letters] = true
			e := entry{[]rune(letters), make([]byte, len([]rune(letters))+1)}
			for i := range e.digits {
				outside := i == 0 && e.letters[0] == '.' || i == len(e.letters) && e.letters[i-1] == '.'
				if !outside && rapid.Bool().Draw(t, "digit") {
					e.digits[i] = byte(rapid.IntRange(1, 9).Draw(t, "value"))
				}
			}
			if slices.Max(e.digits) == 0 {
				continue
			}
			for i, d := range e.digits {
				if d > 0 {
					fmt.Fprint(&file, d)
				}
				if i < len(e.letters) {
					file.WriteRune(e.letters[i])
				}
			}
			file.WriteByte('\n')
			entries = append(entries, e)
		}
		if len(entries) == 0 {
			return
		}
		d, err := Parse("x-any", strings.NewReader(file.String()))
		if err != nil {
			t.Fatalf("%v in\n%s", err, file.String())
		}
		word := rapid.StringOfN(rapid.SampledFrom([]rune("abcéx")), 1, 12, -1).Draw(t, "word")
		rs := []rune("." + word + ".")
		levels := make([]byte, len(rs)+1)
		for _, e := range entries {
			for i := 0; i+len(e.letters) <= len(rs); i++ {
				if slices.Equal(rs[i:i+len(e.letters)], e.letters) {
					for k, n := range e.digits {
						levels[i+k] = max(levels[i+k], n)
					}
				}
			}
		}
		var want []int
		for i := 2; i < len(rs)-1; i++ {
			if levels[i]%2 == 1 {
				want = append(want, len(string(rs[1:i])))
			}
		}
		if got := d.WithMins(1, 1).Points(nil, word); !slices.Equal(got, want) {
			t.Fatalf("%s: got %v, want %v with\n%s", word, got, want, file.String())
		}
	})
}

func FuzzPoints(f *testing.F) {
	for _, word := range []string{
		"", "hyphenation", "L’ORDINATEUR", "e\u0301\u0302'e\u0301", "co\u00ADop-er\u00ADate", "\xff\xc3a", "ẞßﬁİıſK", "1a2b", "ʼaʼbʼ",
		"한국어", "\u1100\u1161", "क्षत्रिय", "\u0344a\u0340", "a\u00AD\u0301", strings.Repeat("aé", 100),
	} {
		f.Add(word, uint8(0), uint8(2), uint8(3))
	}
	all, tags := loadAll(), Languages()
	f.Fuzz(func(t *testing.T, word string, language, before, after uint8) {
		d := all[tags[int(language)%len(tags)]].WithMins(int(before), int(after))
		checkPoints(t, d, word)
		if got := d.Points([]int{7}, word); got[0] != 7 || !slices.Equal(got[1:], d.Points(nil, word)) {
			t.Fatalf("%+q: appended %v", word, got)
		}
	})
}
