package numeral_test

import (
	"encoding/json"
	"fmt"
	"os/exec"
	"strings"
	"testing"

	"bodkin/markup/markuptest"
	"bodkin/markup/numeral"

	"pgregory.net/rapid"
)

var tags = []string{"en-US", "en-GB", "de", "nl", "sv", "fr", "fr-BE", "fr-CH", "es", "it", "pt-PT", "pt-BR", "pl"}

// The independent implementations are the spellout rules of the Unicode CLDR
// as ICU runs them (Debian's python3-icu), and num2words (Debian's
// python3-num2words).
func TestAgainstICU(t *testing.T) {
	for _, c := range []struct {
		tag   string
		form  numeral.Form
		rules string
		alter *strings.Replacer // where the package follows another source, which its file names
	}{
		{"en-US", numeral.Cardinal, "en cardinal", nil},
		{"en-GB", numeral.Cardinal, "en cardinal-verbose", nil},
		{"en-US", numeral.Ordinal, "en ordinal", nil},
		{"en-GB", numeral.Ordinal, "en ordinal-verbose", nil},
		{"de", numeral.Cardinal, "de numbering", nil},
		{"de", numeral.Ordinal, "de ordinal", nil},
		{"de", numeral.Ordinal + 1, "de ordinal-r", nil},
		{"de", numeral.Ordinal + 2, "de ordinal-s", nil},
		{"nl", numeral.Cardinal, "nl numbering", nil},
		{"nl", numeral.Ordinal, "nl ordinal", nil},
		{"sv", numeral.Cardinal, "sv numbering", nil},
		{"sv", numeral.Ordinal, "sv ordinal-neuter", strings.NewReplacer("hundra ", "hundra")},
		{"fr", numeral.Cardinal, "fr numbering", strings.NewReplacer("-et-", " et ")},
		{"fr-BE", numeral.Cardinal, "fr_BE numbering", strings.NewReplacer("-et-", " et ", "quatre-vingt ", "quatre-vingt-")},
		{"fr-CH", numeral.Cardinal, "fr_CH numbering", strings.NewReplacer("-et-", " et ")},
		{"fr", numeral.Ordinal, "fr ordinal-masculine", strings.NewReplacer("cent-et-", "cent ", "vingt-et-unième", "vingt et unième",
			"quatre-vingt-et-", "quatre-vingt-", "-et-", " et ")},
		{"fr", numeral.Ordinal + 1, "fr ordinal-feminine", strings.NewReplacer("cent-et-", "cent ", "vingt-et-unième", "vingt et unième",
			"quatre-vingt-et-", "quatre-vingt-", "-et-", " et ")},
		{"es", numeral.Cardinal, "es numbering", nil},
		{"es", numeral.Ordinal, "es ordinal-masculine", strings.NewReplacer("decimoprimero", "undécimo", "decimosegundo", "duodécimo")},
		{"es", numeral.Ordinal + 1, "es ordinal-feminine", strings.NewReplacer("decimoprimera", "undécima", "decimosegunda", "duodécima")},
		{"es", numeral.Ordinal + 2, "es ordinal-masculine-adjective", nil},
		{"it", numeral.Cardinal, "it numbering", nil},
		{"it", numeral.Ordinal, "it ordinal-masculine", nil},
		{"it", numeral.Ordinal + 1, "it ordinal-feminine", nil},
		{"pt-BR", numeral.Cardinal, "pt numbering", nil},
		{"pt-PT", numeral.Cardinal, "pt_PT numbering", nil},
		{"pt-PT", numeral.Ordinal, "pt_PT ordinal-masculine", nil},
		{"pt-BR", numeral.Ordinal + 1, "pt ordinal-feminine", nil},
		{"pl", numeral.Cardinal, "pl numbering", nil},
	} {
		locale, rules, _ := strings.Cut(c.rules, " ")
		want := python(t, "python3-icu", fmt.Sprintf(`import icu, json
f = icu.RuleBasedNumberFormat(icu.URBNFRuleSetTag.SPELLOUT, icu.Locale(%q))
print(json.dumps([f.format(n, "%%spellout-%s").replace("\u00ad", "") for n in range(1, %d)]))`, locale, rules, numeral.MostWords+1))
		compare(t, c.tag, c.form, c.rules, want, c.alter)
	}
}

func TestAgainstNum2words(t *testing.T) {
	for _, c := range []struct {
		tag   string
		form  numeral.Form
		call  string
		alter *strings.Replacer
	}{
		// It keeps the s that quatre-vingts loses before -ième.
		{"fr", numeral.Ordinal, `lang="fr", ordinal=True`, strings.NewReplacer("vingtsième", "vingtième")},
		{"en-GB", numeral.Cardinal, `lang="en"`, nil},
		{"fr", numeral.Cardinal, `lang="fr"`, nil},
		// Its 16 lacks the accent (Ortografía de la lengua española; from memory).
		{"es", numeral.Cardinal, `lang="es"`, strings.NewReplacer("dieciseis", "dieciséis")},
		{"pt-PT", numeral.Cardinal, `lang="pt"`, nil},
	} {
		want := python(t, "python3-num2words", fmt.Sprintf(`import json
from num2words import num2words
print(json.dumps([num2words(n, %s) for n in range(1, %d)]))`, c.call, numeral.MostWords+1))
		compare(t, c.tag, c.form, c.call, want, c.alter)
	}
}

func compare(t *testing.T, tag string, form numeral.Form, source string, want []string, alter *strings.Replacer) {
	t.Helper()
	for i, w := range want {
		if alter != nil {
			w = alter.Replace(w)
		}
		if got, ok := numeral.Write(tag, form, i+1); !ok || got != w {
			t.Errorf("%s, form %d: %d is %q, and in %s %q", tag, form, i+1, got, source, w)
		}
	}
}

// python runs a script that prints a list of strings as JSON, with Debian's own python.
func python(t *testing.T, pkg, script string) []string {
	t.Helper()
	out, err := exec.Command("/usr/bin/python3", "-c", script).Output()
	markuptest.Need(t, pkg, err)
	var list []string
	if err := json.Unmarshal(out, &list); err != nil || len(list) != numeral.MostWords {
		t.Fatalf("%s: %d numbers, %v", pkg, len(list), err)
	}
	return list
}

// What is written in any form is read again as the same number, in any case
// and without its accents.
func TestReadsWhatItWrites(t *testing.T) {
	for _, tag := range tags {
		for n := 1; n <= numeral.MostWords; n++ {
			for form := numeral.Figures; ; form++ {
				s, ok := numeral.Write(tag, form, n)
				if !ok && form <= numeral.Ordinal {
					t.Errorf("%s: %d cannot be written in form %d", tag, n, form)
				}
				if !ok {
					break
				}
				if got, ok := numeral.Parse(tag, s); !ok || got != n {
					t.Errorf("%s: %q is read as %d, %v; it is %d", tag, s, got, ok, n)
				}
				if capitals := strings.ToUpper(s); form > numeral.Small {
					if got, ok := numeral.Parse(tag, capitals); !ok || got != n {
						t.Errorf("%s: %q is read as %d, %v; it is %d", tag, capitals, got, ok, n)
					}
				}
				// One is written otherwise in each form, so that it can show the form.
				if _, f, _ := numeral.Read(tag, s); n == 1 && f != form {
					t.Errorf("%s: %q is of form %d, not %d", tag, s, f, form)
				}
			}
		}
	}
}

func TestRead(t *testing.T) {
	for _, c := range []struct {
		tag, s string
		n      int // 0: no number
		form   numeral.Form
	}{
		{"en", "12", 12, numeral.Figures},
		{"en", "XII", 12, numeral.Capitals},
		{"en", "xii", 12, numeral.Small},
		{"en", "Twelve", 12, numeral.Cardinal},
		{"en", "TWENTY-ONE", 21, numeral.Cardinal},
		{"en", "Twenty One", 21, numeral.Cardinal},
		{"en", "One Hundred and One", 101, numeral.Cardinal},
		{"en", "one hundred one", 101, numeral.Cardinal},
		{"en", "Twelfth", 12, numeral.Ordinal},
		{"de", "Zwölf", 12, numeral.Cardinal},
		{"de", "DREISSIG", 30, numeral.Cardinal},
		{"de", "Erster", 1, numeral.Ordinal + 1},
		{"de", "hunderteins", 101, numeral.Cardinal},
		{"fr", "PREMIERE", 1, numeral.Ordinal + 1},
		{"fr", "vingt-et-un", 21, numeral.Cardinal},
		{"fr", "dix", 10, numeral.Cardinal}, // not 509
		{"fr-CH", "septante", 70, numeral.Cardinal},
		{"fr-CH", "soixante-dix", 70, numeral.Cardinal},
		{"es", "primer", 1, numeral.Ordinal + 2},
		{"it", "Prima", 1, numeral.Ordinal + 1},
		{"nl", "tweeëntwintig", 22, numeral.Cardinal},
		{"nl", "Eén", 1, numeral.Cardinal},
		{"pt-BR", "dezesseis", 16, numeral.Cardinal},
		{"pt-PT", "dezasseis", 16, numeral.Cardinal},
		{"sv", "tjugoett", 21, numeral.Cardinal},
		{"pl", "Pierwsza", 1, numeral.Ordinal + 1},
		{"tlh", "7", 7, numeral.Figures},
		{"tlh", "VII", 7, numeral.Capitals},

		{"en", "", 0, 0},
		{"en", "0", 0, 0},
		{"en", "07", 0, 0},
		{"en", "1984", 0, 0}, // a year
		{"en", "MIX", 0, 0},
		{"en", "CD", 0, 0},
		{"en", "IIII", 0, 0},
		{"en", "IC", 0, 0},
		{"en", "Xii", 0, 0},
		{"en", "VX", 0, 0},
		{"en", "the", 0, 0},
		{"en", "One Night", 0, 0},
		{"en", "eins", 0, 0},
		{"tlh", "one", 0, 0},
	} {
		n, form, ok := numeral.Read(c.tag, c.s)
		if n != c.n || ok != (c.n > 0) || form != c.form {
			t.Errorf("Read(%q, %q) = %d, %d, %v; want %d, %d", c.tag, c.s, n, form, ok, c.n, c.form)
		}
	}
}

// The strict form of roman numerals: reckoned anew from its digits, with each
// smaller one before a larger one taken away.
func TestRoman(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 3999).Draw(t, "n")
		s := numeral.Roman(n)
		values := map[rune]int{'I': 1, 'V': 5, 'X': 10, 'L': 50, 'C': 100, 'D': 500, 'M': 1000}
		sum, before := 0, 0
		for _, r := range s {
			v := values[r]
			if sum += v; before < v {
				sum -= 2 * before
			}
			before = v
		}
		if sum != n {
			t.Errorf("%s is %d, not %d", s, sum, n)
		}
		for _, wrong := range []string{"IIII", "VV", "XXXX", "LL", "CCCC", "DD", "MMMM", "IL", "IC", "VX", "XD"} {
			if strings.Contains(s, wrong) {
				t.Errorf("%d is written %s", n, s)
			}
		}
	})
	for _, c := range []struct {
		n    int
		want string
	}{{0, ""}, {-1, ""}, {4000, ""}, {1, "I"}, {4, "IV"}, {9, "IX"}, {14, "XIV"}, {40, "XL"}, {99, "XCIX"}, {399, "CCCXCIX"}, {1994, "MCMXCIV"}} {
		if got := numeral.Roman(c.n); got != c.want {
			t.Errorf("Roman(%d) = %q, want %q", c.n, got, c.want)
		}
	}
}

func FuzzRead(f *testing.F) {
	for _, s := range []string{"1", "XIV", "Twenty-One", "vingt et unième", "Eén", "ＸＩＩ", "1\u00ad", "--"} {
		f.Add("en", s)
		f.Add("fr-CH", s)
	}
	f.Fuzz(func(t *testing.T, tag, s string) {
		n, form, ok := numeral.Read(tag, s)
		if !ok {
			if n != 0 || form != 0 {
				t.Errorf("Read(%q, %q) is not ok and gives %d, %d", tag, s, n, form)
			}
			return
		}
		again, ok := numeral.Write(tag, form, n)
		if !ok {
			t.Fatalf("Read(%q, %q) gives %d in form %d, which cannot be written", tag, s, n, form)
		}
		if m, ok := numeral.Parse(tag, again); !ok || m != n {
			t.Errorf("Read(%q, %q) = %d, written %q, which is %d", tag, s, n, again, m)
		}
	})
}

func ExampleWrite() {
	n, form, _ := numeral.Read("fr", "première")
	next, _ := numeral.Write("fr", form, n+20)
	fmt.Println(n, next)
	// Output: 1 vingt et unième
}

func ExampleParse() {
	for _, s := range []string{"Twenty-One", "XXI", "21", "Tide"} {
		n, ok := numeral.Parse("en", s)
		fmt.Println(n, ok)
	}
	// Output:
	// 21 true
	// 21 true
	// 21 true
	// 0 false
}
