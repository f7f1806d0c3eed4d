package edition

import (
	"errors"
	"fmt"
	"math/big"
	"strings"

	"bodkin/cmd/bodkin/internal/strict"

	"github.com/bojanz/currency"
)

// Share is a part of a whole as it is written, "0.65" or "65%". The zero Share
// is one that is not given.
type Share struct{ text string }

// UnmarshalText reads a part between 0 and 1.
func (s *Share) UnmarshalText(text []byte) error {
	written := strings.TrimSpace(string(text))
	if _, err := strict.NumberOf(strings.TrimSuffix(written, "%")); err != nil {
		return fmt.Errorf("%q is not a share: write 0.65, or \"65%%\"", written)
	}
	if (Share{written}).rat().Cmp(big.NewRat(1, 1)) > 0 {
		return fmt.Errorf("%q is more than all there is: write 0.65, or \"65%%\"", written)
	}
	*s = Share{written}
	return nil
}

// MarshalText writes s as it was written.
func (s Share) MarshalText() ([]byte, error) { return []byte(s.text), nil }

func (s Share) rat() *big.Rat {
	number, percent := strings.CutSuffix(s.text, "%")
	n, err := strict.NumberOf(number)
	if err != nil {
		return new(big.Rat)
	}
	r := n.Rat()
	if percent {
		r.Mul(r, big.NewRat(1, 100))
	}
	return r
}

// Percent writes s as a percentage.
func (s Share) Percent() string {
	p := s.rat()
	text := p.Mul(p, big.NewRat(100, 1)).FloatString(2)
	return strings.TrimSuffix(strings.TrimRight(text, "0"), ".") + "%"
}

// The ways in which a list price becomes earnings.
const (
	ShareAfterCharge      = "share-after-charge"        // share × (list − charge)
	ShareOfListLessCharge = "share-of-list-less-charge" // share × list − charge
	Discount              = "discount"                  // list − discount × list − charge
)

// Basis is how a list price becomes earnings. Taxes are left out.
type Basis struct {
	Basis    string `toml:"basis"`
	Share    Share  `toml:"share"`    // the author's
	Discount Share  `toml:"discount"` // the trade's
}

// String says in words what an author keeps.
func (b Basis) String() string {
	switch b.Basis {
	case ShareAfterCharge:
		return b.Share.Percent() + " of what the list price leaves after the charge"
	case ShareOfListLessCharge:
		return b.Share.Percent() + " of the list price, less the charge"
	case Discount:
		return "the list price less a trade discount of " + b.Discount.Percent() + ", less the charge"
	}
	return "not known"
}

// slope returns a and b of earnings = a × list − b × charge.
func (b Basis) slope() (list, charge *big.Rat) {
	switch b.Basis {
	case ShareAfterCharge:
		return b.Share.rat(), b.Share.rat()
	case Discount:
		one := big.NewRat(1, 1)
		return one.Sub(one, b.Discount.rat()), big.NewRat(1, 1)
	}
	return b.Share.rat(), big.NewRat(1, 1)
}

// errBasis is the complaint where money is asked for and the terms say
// nothing of it.
var errBasis = errors.New("the printer's terms do not say how a list price becomes earnings: fill in [earnings]")

// Earn returns what the author keeps of a list price, rounded down to the
// cent. It is negative where a copy costs more than it brings.
func (t *Terms) Earn(list, charge Money) (Money, error) {
	if t == nil || t.Earnings.Basis == "" {
		return Money{}, errBasis
	}
	a, b := t.Earnings.slope()
	a.Mul(a, exact(list))
	return money(down(a.Sub(a, b.Mul(b, exact(charge)))), t.Currency), nil
}

// ListFor returns the least list price at which the author keeps at least
// earn, rounded up to the cent.
func (t *Terms) ListFor(earn, charge Money) (Money, error) {
	if t == nil || t.Earnings.Basis == "" {
		return Money{}, errBasis
	}
	a, b := t.Earnings.slope()
	need := b.Mul(b, exact(charge))
	need.Add(need, exact(earn))
	list := up(need.Quo(need, a))
	if list.Sign() < 0 {
		list = new(big.Int)
	}
	return money(list, t.Currency), nil
}

// ToEnd returns the least price from list up that ends as readers expect,
// with the given cents: 0.99 makes 12.50 into 12.99.
func (t *Terms) ToEnd(list Money, ending string) (Money, error) {
	n, err := plainNumber(strings.TrimSpace(ending))
	if err != nil {
		return Money{}, err
	}
	cents := minor(n, t.Currency)
	unit := minor(big.NewRat(1, 1), t.Currency).Num()
	if !cents.IsInt() || cents.Num().Cmp(unit) >= 0 {
		return Money{}, fmt.Errorf("%q is not how a price in %s ends: write .99", ending, t.Currency)
	}
	have := list.Round().BigInt()
	// the whole units that are needed: ⌈(have − cents) ÷ unit⌉
	over := new(big.Int).Sub(have, cents.Num())
	whole := up(new(big.Rat).SetFrac(over, unit))
	if whole.Sign() < 0 {
		whole = new(big.Int)
	}
	return money(whole.Mul(whole, unit).Add(whole, cents.Num()), t.Currency), nil
}

// exact returns an amount in cents.
func exact(m Money) *big.Rat {
	units, ok := new(big.Rat).SetString(m.Number())
	if !ok {
		return new(big.Rat)
	}
	return minor(units, m.CurrencyCode())
}

// plainNumber reads a number such as 13.99 or .99.
func plainNumber(s string) (*big.Rat, error) {
	if strings.HasPrefix(s, ".") {
		s = "0" + s
	}
	n, err := strict.NumberOf(s)
	if err != nil {
		return nil, fmt.Errorf("%q is not an amount of money: write digits and at most one point, as in 13.99", s)
	}
	return n.Rat(), nil
}

// known reports whether a currency code is one of ISO 4217.
func known(code string) bool { return currency.IsValid(code) }
