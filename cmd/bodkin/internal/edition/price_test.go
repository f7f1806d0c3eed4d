package edition

import (
	"fmt"
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

// basis returns terms that do nothing but turn list prices into earnings.
func basis(t fataler, kind, share, code string) *Terms {
	t.Helper()
	var s Share
	if err := s.UnmarshalText([]byte(share)); err != nil {
		t.Fatal(err)
	}
	b := Basis{Basis: kind, Share: s}
	if kind == Discount {
		b = Basis{Basis: kind, Discount: s}
	}
	return &Terms{Name: "Press", Currency: code, Earnings: b}
}

func amount(t fataler, terms *Terms, s string) Money {
	t.Helper()
	m, err := terms.Money(s)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// Common practice, as in the project's table of published figures: list 10.00
// and a charge of 6.00, with 60 % of what is left to the author, earns 2.40; a
// charge of 3.50 earns 3.90; so the first book's list price must be 12.50 to
// earn 3.90. The others are reckoned by hand.
func TestEarnings(t *testing.T) {
	for _, c := range []struct{ basis, share, code, list, charge, want string }{
		{ShareAfterCharge, "60%", "USD", "10.00", "6.00", "2.40"},
		{ShareAfterCharge, "0.6", "USD", "10.00", "3.50", "3.90"},
		{ShareAfterCharge, "60%", "USD", "12.50", "6.00", "3.90"},
		{ShareOfListLessCharge, "60%", "GBP", "9.99", "3.50", "2.49"}, // 5.994 − 3.50, down
		{Discount, "55%", "EUR", "14.95", "4.00", "2.72"},             // 6.7275 − 4.00, down
		{Discount, "55%", "EUR", "8.00", "4.00", "-0.40"},
		{ShareOfListLessCharge, "1%", "USD", "0.01", "0.00", "0.00"},
		{ShareOfListLessCharge, "60%", "JPY", "999", "301", "298"}, // 599.4 − 301: a yen has no coins
	} {
		terms := basis(t, c.basis, c.share, c.code)
		got, err := terms.Earn(amount(t, terms, c.list), amount(t, terms, c.charge))
		if err != nil || Plain(got) != c.want {
			t.Errorf("%s %s, list %s, charge %s: %s (%v), want %s", c.basis, c.share, c.list, c.charge, Plain(got), err, c.want)
		}
	}
	terms := basis(t, ShareAfterCharge, "60%", "USD")
	list, err := terms.ListFor(amount(t, terms, "3.90"), amount(t, terms, "6.00"))
	if err != nil || Plain(list) != "12.50" {
		t.Errorf("to earn 3.90 at a charge of 6.00 the list price is %s (%v), want 12.50", Plain(list), err)
	}
}

// A list price that is found for some earnings earns them, and a cent less
// does not.
func TestPriceAndEarningsAreInverse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kind := rapid.SampledFrom([]string{ShareAfterCharge, ShareOfListLessCharge, Discount}).Draw(t, "basis")
		terms := basis(t, kind, fmt.Sprintf("%d.%d%%", rapid.IntRange(1, 98).Draw(t, "share"), rapid.IntRange(0, 9).Draw(t, "tenth")),
			rapid.SampledFrom([]string{"USD", "GBP", "EUR", "JPY", "KWD"}).Draw(t, "currency"))
		cents := func(n int) Money { return money(big.NewInt(int64(n)), terms.Currency) }
		charge, wanted := cents(rapid.IntRange(1, 5000).Draw(t, "charge")), cents(rapid.IntRange(0, 5000).Draw(t, "wanted"))
		list, err := terms.ListFor(wanted, charge)
		if err != nil {
			t.Fatal(err)
		}
		earned, err := terms.Earn(list, charge)
		if err != nil {
			t.Fatal(err)
		}
		if n, err := earned.Cmp(wanted); err != nil || n < 0 {
			t.Fatalf("%v earns %v, less than %v (%v)", list, earned, wanted, err)
		}
		less, err := list.Sub(cents(1))
		if err != nil {
			t.Fatal(err)
		}
		if earned, err = terms.Earn(less, charge); err != nil {
			t.Fatal(err)
		}
		if n, err := earned.Cmp(wanted); err != nil || n >= 0 {
			t.Fatalf("%v earns %v, and %v was given for %v (%v)", less, earned, list, wanted, err)
		}
	})
}

func TestPricesEnd(t *testing.T) {
	terms := basis(t, Discount, "55%", "USD")
	for _, c := range []struct{ list, ending, want string }{
		{"12.50", ".99", "12.99"},
		{"12.99", "0.99", "12.99"},
		{"13.00", ".99", "13.99"},
		{"0.10", ".95", "0.95"},
		{"12.51", ".50", "13.50"},
		{"12.01", ".00", "13.00"},
	} {
		got, err := terms.ToEnd(amount(t, terms, c.list), c.ending)
		if err != nil || Plain(got) != c.want {
			t.Errorf("%s to end in %s: %s (%v), want %s", c.list, c.ending, Plain(got), err, c.want)
		}
	}
	for _, wrong := range []string{"1.99", "99", ".999", "x", ""} {
		if got, err := terms.ToEnd(amount(t, terms, "5.00"), wrong); err == nil {
			t.Errorf("an ending of %q gives %v", wrong, got)
		}
	}
}

func TestChargesByTierClassAndMinimum(t *testing.T) {
	pounds, dollars, euros := load(t, "testdata/pounds.toml"), load(t, demoTerms), load(t, "testdata/euros.toml")
	for _, c := range []struct {
		name   string
		terms  *Terms
		trim   string
		pages  int
		choice Choice
		want   string
	}{
		{"the lower tier", dollars, "5x8in", 120, Choice{}, "$2.60"},
		{"the upper tier", dollars, "5x8in", 124, Choice{}, "$2.65"},
		{"per page", dollars, "5x8in", 300, Choice{}, "$4.85"},
		{"the minimum", dollars, "5x8in", 80, Choice{Binding: Case}, "$7.00"},
		{"over the minimum", dollars, "5x8in", 300, Choice{Binding: Case}, "$10.00"},
		{"a small trim", pounds, "B-format", 320, Choice{}, "£3.89"},
		{"the minimum of a small trim", pounds, "A-format", 64, Choice{}, "£1.70"},
		{"a large trim", pounds, "demy", 320, Choice{}, "£4.63"},
		{"in colour", pounds, "demy", 320, Choice{Ink: "colour"}, "£11.02"},
		{"filled to the multiple", pounds, "demy", 317, Choice{}, "£4.63"},
		{"rounded half up", euros, "A5", 100, Choice{}, "€1.80"},
		{"half a cent", euros, "A5", 110, Choice{}, "€1.91"},              // 0.75 + 1.155 = 1.905
		{"numbers that are no text", euros, "A5", 202, Choice{}, "€2.95"}, // 1.15 + 1.7978
	} {
		made, err := c.terms.Copy(trim(t, c.trim), c.pages, c.choice)
		if err != nil {
			t.Fatal(err)
		}
		if made.Charge == nil || Show(*made.Charge) != c.want {
			t.Errorf("%s: %v, want %s", c.name, made.Charge, c.want)
		}
	}
}

func TestMoneyHasTheDecimalsOfItsCurrency(t *testing.T) {
	terms := basis(t, Discount, "55%", "USD")
	for in, want := range map[string]string{"13.99": "13.99", "13.9": "13.90", "13": "13.00", " .99 ": "0.99"} {
		if got := Plain(amount(t, terms, in)); got != want {
			t.Errorf("%q is %s, want %s", in, got, want)
		}
	}
	for _, in := range []string{"13.999", "-1", "$13", "1,5", "1e3", "", "1234567890"} {
		if got, err := terms.Money(in); err == nil {
			t.Errorf("%q is %v", in, got)
		}
	}
}
