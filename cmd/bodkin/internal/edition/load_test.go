package edition

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bodkin/typeset"
)

const (
	starterTerms = "../../starter/printer.toml"
	demoTerms    = "../../../../testdata/tide-clerk/printer.toml"
)

func load(t testing.TB, path string) *Terms {
	t.Helper()
	terms, err := Load(path)
	if err != nil {
		t.Fatal(err)
	}
	return terms
}

func trim(t testing.TB, s string) typeset.Trim {
	t.Helper()
	made, err := typeset.ParseTrim(s)
	if err != nil {
		t.Fatal(err)
	}
	return made
}

// write writes terms: a template with the first of old replaced.
func write(t testing.TB, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "printer.toml")
	if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestTemplatesLoad(t *testing.T) {
	for _, path := range []string{starterTerms, demoTerms, "testdata/pounds.toml", "testdata/euros.toml"} {
		load(t, path)
	}
	text, err := os.ReadFile(starterTerms)
	if err != nil || !strings.Contains(string(text), "INVENTED") {
		t.Errorf("the starter's terms must say that they are invented (%v)", err)
	}
}

// One thing is wrong with each of these terms; the message says what, where,
// and how to mend it, in a line.
func TestFaultsNameTheLine(t *testing.T) {
	good, err := os.ReadFile("testdata/pounds.toml")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ name, old, new, want string }{
		{"unknown key", "safety   =", "saftey   =", ":7: the key saftey is not known; did you mean safety?"},
		{"unknown key of a stock", "bulk     =", "bulck    =", ":15: the key stock.bulck is not known; did you mean bulk?"},
		{"unknown key of a charge", "minimum =", "maximum =", "the key charge.maximum is not known; did you mean minimum?"},
		{"no name", "name     = \"Fen Lane Press (invented)\"\n", "", ":1: name is missing"},
		{"no safety", "safety   = \"6mm\"\n", "", ":1: safety is missing"},
		{"no currency", "currency = \"GBP\"\n", "", ":1: currency is missing: a charge needs it"},
		{"unknown currency", "GBP", "GBX", ":8: currency \"GBX\" is not a code of ISO 4217"},
		{"no trims", `["A-format", "B-format", "demy", "royal"]`, "[]", ":3: trims lists 0 sizes"},
		{"a trim twice", `["A-format", "B-format", `, `["A-format", "129x198mm", "B-format", `, ":3: the trim B-format is there twice"},
		{"not a trim", `"royal"]`, `"regal"]`, ":3: "},
		{"no least", "least = 48, ", "", ":9: pages.least is missing"},
		{"least over most", "least = 48", "least = 948", ":9: pages run from 948 to 900"},
		{"an odd multiple", "multiple = 4", "multiple = 3", ":9: pages.multiple is 3: a leaf has two pages"},
		{"no multiple between", "least = 48, most = 900, multiple = 4", "least = 49, most = 51, multiple = 4", ":9: pages: there is no multiple of 4"},
		{"overlapping steps", "{ to = 480", "{ to = 180", ":10: back: up to 180 pages overlaps"},
		{"a gap at the end of the steps", "{ to = 900", "{ to = 800", ":10: back: there is no margin for 801 to 900 pages"},
		{"margins that shrink", `margin = "18mm"`, `margin = "13mm"`, ":10: back: 13mm for thicker books is less"},
		{"a step without a margin", `{ to = 200, margin = "15mm" }`, `{ to = 200 }`, ":10: back.margin is missing"},
		{"thickness in two ways", "caliper  = \"0.112mm\"", "caliper  = \"0.112mm\"\nppi = 400", ":17: stock \"white 90\": its thickness must be known in one way, and it is in 2"},
		{"no thickness", "caliper  = \"0.112mm\"\n", "", ":17: stock \"white 90\": its thickness must be known in one way, and it is in 0"},
		{"bulk without grammage", "grammage = 80\n", "", ":12: stock \"bookwove 80\": a bulk needs the grammage"},
		{"a bulk that is a volume", "bulk     = 1.8", "bulk     = 18", ":12: stock \"bookwove 80\": its leaves would be 1.44mm thick"},
		{"a grammage of board", "grammage = 90", "grammage = 900", ":19: stock \"white 90\": 900 g/m2 is no book paper"},
		{"a stock twice", "white 90", "Bookwove 80", "the stock \"Bookwove 80\" is there twice"},
		{"a limit for a stock that there is not", "stock    = \"bookwove 80\"", "stock    = \"bookwove 81\"", ":23: limit: there is no stock \"bookwove 81\"; did you mean bookwove 80?"},
		{"a limit for all", "stock    = \"bookwove 80\"\nbinding  = \"case\"\n", "", ":22: limit: this is for all books"},
		{"limits for the same books", "[classes]", "[[limit]]\nbinding = \"case\"\nmost = 500\n[classes]", ":29: limit: it is for the same books as that of line 22"},
		{"a class of no trim", `large = ["demy", "royal"]`, `large = ["demy", "A4"]`, "classes: A4 is no trim of this printer"},
		{"a trim in no class", `large = ["demy", "royal"]`, `large = ["demy"]`, "the trim royal is in no class"},
		{"a class that there is not", `class   = "large"`, `class   = "larger"`, "charge: there is no class \"larger\""},
		{"two charges for a book", "[[charge]]\nbinding = \"case\"\nink     = \"black\"", "[[charge]]\nbinding = \"case\"", "charge: it overlaps that of line "},
		{"tiers that overlap", "copy    = \"4.10\"", "copy    = \"4.10\"\nto = 300\n[[charge]]\nbinding=\"case\"\nink=\"black\"\nfrom=300\ncopy=1", "books of 300 pages (bookwove 80, case, black, small) would have two"},
		{"tiers with a gap", "copy    = \"4.10\"", "copy    = \"4.10\"\nto = 300\n[[charge]]\nbinding=\"case\"\nink=\"black\"\nfrom=306\ncopy=1", "books of 304 pages (bookwove 80, case, black, small) have none"},
		{"tiers that end too soon", "copy    = \"4.10\"", "copy    = \"4.10\"\nto = 600", "books of 608 pages (bookwove 80, case, black, small) have none"},
		{"tiers that begin too late", "copy    = \"4.10\"", "copy    = \"4.10\"\nfrom = 100", "books of 96 pages (bookwove 80, case, black, small) have none"},
		{"a tier backwards", "copy    = \"4.10\"", "copy    = \"4.10\"\nfrom = 100\nto = 50", "charge: from 100 to 50 pages runs backwards"},
		{"a charge of nothing", "copy    = \"4.10\"\npage    = \"0.0125\"\n", "", "charge: what it comes to is missing"},
		{"an amount with a sign", "copy    = \"4.10\"", "copy    = \"£4.10\"", "\"£4.10\" is not a plain number"},
		{"no case", "[case]\nboard    = \"2.5mm\"\n", "[case]\n", "case.board is missing"},
		{"a board like a door", "board    = \"2.5mm\"", "board    = \"25mm\"", "case.board is 25mm: it runs from 0mm to 12.7mm"},
		{"an unknown basis", "\"discount\"", "\"royalty\"", "earnings.basis is \"royalty\": write share-after-charge"},
		{"a basis without its figure", "discount = \"55%\"\n", "", "earnings.discount is missing: the basis discount needs it"},
		{"a figure that the basis does not use", "discount = \"55%\"\n", "discount = \"55%\"\nshare = \"1%\"", "earnings.share: the basis discount has no use for it"},
		{"a share over all", "discount = \"55%\"", "discount = \"155%\"", "\"155%\" is more than all there is"},
		{"nothing for the author", "discount = \"55%\"", "discount = 1", "earnings.discount leaves the author nothing"},
		{"no unit", `bleed    = "3mm"`, `bleed    = "3"`, ":6: bleed: length \"3\" has no unit"},
		{"bleed under nothing", `bleed    = "3mm"`, `bleed    = "-3mm"`, ":6: bleed is -3mm: it runs from 0mm"},
		{"syntax", "[cover]", "[cover", ": "},
	} {
		text := strings.Replace(string(good), c.old, c.new, 1)
		if text == string(good) {
			t.Fatalf("%s: %q is not in the terms", c.name, c.old)
		}
		_, err := Load(write(t, text))
		switch {
		case err == nil:
			t.Errorf("%s: no error", c.name)
		case !strings.Contains(err.Error(), c.want):
			t.Errorf("%s: got %v, want %q in it", c.name, err, c.want)
		case strings.Contains(err.Error(), "\n") || !strings.Contains(err.Error(), "printer.toml:"):
			t.Errorf("%s: not one line with the file's name and a line: %q", c.name, err)
		}
	}
}

// Whatever the file, there is an error of one line, or terms by which a copy
// can be reckoned.
func FuzzTerms(f *testing.F) {
	for _, path := range []string{starterTerms, "testdata/pounds.toml", "testdata/euros.toml"} {
		text, err := os.ReadFile(path)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(text))
	}
	f.Fuzz(func(t *testing.T, text string) {
		terms, err := parse("printer.toml", []byte(text))
		if err != nil {
			if strings.Contains(err.Error(), "\n") {
				t.Errorf("the message has more than one line: %q", err)
			}
			return
		}
		for _, n := range []int{1, terms.Pages.Least, terms.Pages.Most, 10_000} {
			c, err := terms.Copy(terms.Trims[0], n, Choice{})
			if err != nil {
				t.Fatalf("%d pages: %v", n, err)
			}
			if c.Pages < n || c.Block <= 0 || c.Flat.Width <= 0 {
				t.Errorf("%d pages: %+v", n, c)
			}
		}
	})
}
