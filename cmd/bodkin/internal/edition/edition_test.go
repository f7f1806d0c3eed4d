package edition

import (
	"fmt"
	"math/big"
	"strings"
	"testing"

	"bodkin/cmd/bodkin/internal/strict"
	"bodkin/typeset/length"

	"pgregory.net/rapid"
)

// fataler is what testing.TB and rapid.T share.
type fataler interface {
	Helper()
	Fatal(...any)
}

func number(t fataler, s string) strict.Number {
	t.Helper()
	n, err := strict.NumberOf(s)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

func mm(t testing.TB, s string) length.Length {
	t.Helper()
	v, err := length.Parse(s + "mm")
	if err != nil {
		t.Fatal(err)
	}
	return v.Length
}

// ISO 534: caliper in micrometres is grammage × bulk. The trade's form of it,
// pages × grammage × volume ÷ 20 000 with a volume of ten times the bulk, makes
// 320 pages of 80 g/m2 at volume 18 23.04 mm thick.
func TestThicknessByBulk(t *testing.T) {
	s := Stock{Grammage: number(t, "80"), Bulk: number(t, "1.8")}
	if got, want := s.Caliper(), mm(t, "0.144"); got != want {
		t.Errorf("the caliper is %v, want %v", got, want)
	}
	if got, want := s.Block(320), mm(t, "23.04"); got != want {
		t.Errorf("320 pages are %v thick, want %v", got, want)
	}
	rapid.Check(t, func(t *rapid.T) {
		pages := 2 * rapid.IntRange(1, 1000).Draw(t, "leaves")
		grammage, volume := rapid.IntRange(40, 150).Draw(t, "grammage"), rapid.IntRange(8, 30).Draw(t, "volume")
		s := Stock{Grammage: number(t, fmt.Sprint(grammage)), Bulk: number(t, fmt.Sprintf("%d.%d", volume/10, volume%10))}
		trade := big.NewRat(int64(pages*grammage*volume), 20_000) // mm
		units := trade.Mul(trade, big.NewRat(int64(length.Inch)*10, 254))
		if got, want := int64(s.Block(pages)), round(units); got != want {
			t.Fatalf("%d pages: %d units, by the trade's formula %d", pages, got, want)
		}
	})
}

// Pages to the inch are 2 × 25.4 mm ÷ caliper (common practice), and lead back
// to the caliper.
func TestPagesPerInchAndCaliperAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ppi := rapid.IntRange(150, 900).Draw(t, "ppi")
		byPPI := Stock{PPI: number(t, fmt.Sprint(ppi))}
		if got := byPPI.PagesPerInch(); got != ppi {
			t.Fatalf("%d pages to the inch come back as %d", ppi, got)
		}
		byCaliper := Stock{Leaf: length.Value{Length: byPPI.Caliper(), Unit: length.In}}
		if got := byCaliper.PagesPerInch(); got != ppi {
			t.Fatalf("a caliper of %v is %d pages to the inch, want %d", byPPI.Caliper(), got, ppi)
		}
		if got := byPPI.Block(ppi); got != length.Inch && ppi%2 == 0 {
			t.Fatalf("%d pages are %v, want an inch", ppi, got)
		}
	})
	// The example of design and template: 80 g/m2 with a bulk of 1.6 is a
	// caliper of 0.128 mm, and 397 pages to the inch.
	if got := Supposed().PagesPerInch(); got != 397 {
		t.Errorf("80 g/m2 with a bulk of 1.6 are %d pages to the inch, want 397", got)
	}
}

func TestSpineGrowsWithPages(t *testing.T) {
	for _, path := range []string{demoTerms, "testdata/pounds.toml", "testdata/euros.toml"} {
		terms := load(t, path)
		rapid.Check(t, func(t *rapid.T) {
			trim := rapid.SampledFrom(terms.Trims).Draw(t, "trim")
			choice := Choice{Stock: rapid.SampledFrom(terms.Stocks).Draw(t, "stock").Name,
				Binding: rapid.SampledFrom(terms.Bindings).Draw(t, "binding")}
			n := rapid.IntRange(1, 2000).Draw(t, "pages")
			less, err := terms.Copy(trim, n, choice)
			if err != nil {
				t.Fatal(err)
			}
			more, err := terms.Copy(trim, less.Pages+1, choice)
			if err != nil {
				t.Fatal(err)
			}
			if more.Spine <= less.Spine || more.Block <= less.Block || more.Flat.Width <= less.Flat.Width || less.Grams > 0 && more.Grams <= less.Grams {
				t.Fatalf("%d pages: %+v; %d pages: %+v", less.Pages, less, more.Pages, more)
			}
		})
	}
}

// Covers laid out by hand from the terms, common practice for what is added to
// what.
func TestFlats(t *testing.T) {
	pounds, dollars := load(t, "testdata/pounds.toml"), load(t, demoTerms)
	for _, c := range []struct {
		name          string
		terms         *Terms
		trim          string
		pages         int
		choice        Choice
		spine         string
		width, height string
	}{
		// 129 × 198 mm, 320 pages: 23.04 of paper, twice 0.28 of card; 3 of bleed.
		{"a paperback in millimetres", pounds, "B-format", 320, Choice{}, "23.6mm", "287.6mm", "204mm"},
		// Two boards of 2.5 beside 23.04 of paper; boards of 126 × 204; joints of 9; wraps of 15.
		{"a hardcover in millimetres", pounds, "B-format", 320, Choice{Binding: Case}, "28.04mm", "328.04mm", "234mm"},
		// 430 pages to the inch make an inch, and twice 0.011 of card.
		{"a paperback in inches", dollars, "5x8in", 430, Choice{Stock: "white"}, "1.022in", "11.272in", "8.25in"},
		// Boards of 5.875 × 9.25, 0.1 thick.
		{"a hardcover in inches", dollars, "6x9in", 430, Choice{Stock: "white", Binding: Case}, "1.2in", "14.95in", "10.5in"},
		// 80 g/m2 with a bulk of 1.6: 200 leaves of 0.128 mm.
		{"on supposed paper", nil, "A5", 400, Choice{}, "25.6mm", "327.6mm", "216mm"},
	} {
		made, err := c.terms.Copy(trim(t, c.trim), c.pages, c.choice)
		if err != nil {
			t.Fatal(err)
		}
		f := made.Flat
		unit := made.Trim.Width.Unit
		for _, m := range []struct {
			what string
			got  length.Length
			want string
		}{{"spine", made.Spine, c.spine}, {"width", f.Width, c.width}, {"height", f.Height, c.height}} {
			if got := Near(m.got, unit).String(); got != m.want {
				t.Errorf("%s: %s is %s, want %s", c.name, m.what, got, m.want)
			}
		}
	}
}

// A case-bound book whose trim is 5 × 8 in measures about 5.25 × 8.25 in;
// 5.5 × 8.5 gives about 5.75 across (common practice).
func TestCaseIsLargerThanItsTrim(t *testing.T) {
	terms := load(t, demoTerms)
	for _, c := range []struct {
		trim          string
		width, height length.Length
	}{{"5x8in", 525 * length.Inch / 100, 825 * length.Inch / 100}, {"5.5x8.5in", 575 * length.Inch / 100, 875 * length.Inch / 100}} {
		made, err := terms.Copy(trim(t, c.trim), 300, Choice{Binding: Case})
		if err != nil {
			t.Fatal(err)
		}
		about := func(a, b length.Length) bool { return max(a-b, b-a) <= length.Inch/20 }
		if o := made.Flat.Outer; !about(o.Width, c.width) || !about(o.Height, c.height) {
			t.Errorf("%s: the case is %v x %v, want about %v x %v", c.trim, o.Width, o.Height, c.width, c.height)
		}
	}
}

func TestLetteringFits(t *testing.T) {
	dollars, euros := load(t, demoTerms), load(t, "testdata/euros.toml")
	for _, c := range []struct {
		name  string
		terms *Terms
		pages int
		want  string
	}{
		{"fewer pages than the printer wants", dollars, 94, "0in"},
		{"as many", dollars, 96, "0.139in"}, // 48 leaves of 0.128 mm, two of card, less two sixteenths
		{"common practice: a quarter of an inch", euros, 78, "0in"},
		{"common practice: just over it", euros, 80, "0.127in"},
	} {
		made, err := c.terms.Copy(c.terms.Trims[0], c.pages, Choice{})
		if err != nil {
			t.Fatal(err)
		}
		if got := Near(made.Flat.Letters, length.In).String(); got != c.want {
			t.Errorf("%s: %d pages: letters of %s, want %s (spine %v)", c.name, c.pages, got, c.want, made.Spine)
		}
	}
}

// A4 is a sixteenth of a square metre (ISO 216): a leaf of 80 g/m2 weighs 5 g.
func TestWeight(t *testing.T) {
	s := grams(number(t, "80"), mm(t, "210"), mm(t, "297"))
	if got, _ := s.Float64(); got < 4.98 || got > 5.0 {
		t.Errorf("a leaf of A4 at 80 g/m2 weighs %v g, want 4.99", got)
	}
	// 160 leaves of 129 × 198 mm at 80 g/m2 are 326.9 g; the card is 281.6 × 198 at 250: 13.9.
	made, err := load(t, "testdata/pounds.toml").Copy(trim(t, "B-format"), 320, Choice{})
	if err != nil || made.Grams != 341 {
		t.Errorf("%d g (%v), want 341", made.Grams, err)
	}
}

func TestObjections(t *testing.T) {
	pounds, dollars := load(t, "testdata/pounds.toml"), load(t, demoTerms)
	low, err := dollars.Money("3.00")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name   string
		terms  *Terms
		trim   string
		pages  int
		choice Choice
		code   string // "" for none
		want   string
	}{
		{"all is well", pounds, "B-format", 320, Choice{}, "", ""},
		{"few", pounds, "B-format", 40, Choice{}, "few-pages", "40 pages are too few: Fen Lane Press (invented) takes 48 or more"},
		{"few on a stock in a binding", pounds, "B-format", 80, Choice{Binding: Case}, "few-pages", "these take them: perfect on bookwove 80, perfect on white 90, case on white 90"},
		{"many", pounds, "B-format", 1000, Choice{}, "many-pages", "1000 pages are too many: Fen Lane Press (invented) takes up to 900"},
		{"many on a stock in a binding", pounds, "B-format", 656, Choice{Binding: Case}, "many-pages", "takes up to 640 for case binding on bookwove 80"},
		{"the same on another", pounds, "B-format", 656, Choice{Binding: Case, Stock: "white 90"}, "", ""},
		{"a trim", dollars, "A5", 300, Choice{}, "trim", "does not offer the trim A5; take one of 5x8in, 5.25x8in, 5.5x8.5in, 6x9in"},
		{"a trim that is near enough", dollars, "152.4x228.6mm", 300, Choice{}, "", ""},
		{"a loss", dollars, "5x8in", 300, Choice{List: &low}, "loss", "at $3.00 each copy loses $1.21; the least list price that pays is $4.85"},
	} {
		made, err := c.terms.Copy(trim(t, c.trim), c.pages, c.choice)
		if err != nil {
			t.Fatal(err)
		}
		var code, said string
		for _, o := range made.Objections {
			code, said = o.Code, o.String()
		}
		if code != c.code || !strings.Contains(said, c.want) || len(made.Objections) > 1 {
			t.Errorf("%s: %q, want %s with %q", c.name, made.Objections, c.code, c.want)
		}
	}
	_, err = pounds.Copy(trim(t, "B-format"), 300, Choice{Stock: "bookwoven 80"})
	if err == nil || !strings.Contains(err.Error(), `has no stock "bookwoven 80"; did you mean bookwove 80?`) {
		t.Errorf("an unknown stock gives %v", err)
	}
}
