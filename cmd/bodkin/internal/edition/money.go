package edition

import (
	"fmt"
	"math/big"
	"strings"

	"github.com/bojanz/currency"
)

// Money is a decimal amount in a currency.
type Money = currency.Amount

// Money reads a plain amount in the currency of the terms. It must have no
// more decimals than the currency has coins.
func (t *Terms) Money(amount string) (Money, error) {
	n, err := plainNumber(strings.TrimSpace(amount))
	if err != nil {
		return Money{}, err
	}
	minor := minor(n, t.Currency)
	if !minor.IsInt() {
		digits, _ := currency.GetDigits(t.Currency)
		return Money{}, fmt.Errorf("%q: an amount in %s has at most %d decimals", amount, t.Currency, digits)
	}
	return money(minor.Num(), t.Currency), nil
}

// Plain writes an amount as digits and a point, with the decimals of its
// currency: "4.25".
func Plain(m Money) string {
	digits, _ := currency.GetDigits(m.CurrencyCode())
	return m.RoundTo(digits, currency.RoundHalfUp).Number()
}

// Show writes an amount as a person reads it: "$4.25".
func Show(m Money) string {
	return currency.NewFormatter(currency.NewLocale("en")).Format(m.Round())
}

// money returns an amount of so many cents.
func money(cents *big.Int, code string) Money {
	m, err := currency.NewAmountFromBigInt(cents, code)
	if err != nil {
		return Money{} // the loader lets no such currency through
	}
	return m
}

// minor returns an amount of whole units in cents.
func minor(units *big.Rat, code string) *big.Rat {
	digits, _ := currency.GetDigits(code)
	scale := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(digits)), nil)
	return new(big.Rat).Mul(units, new(big.Rat).SetInt(scale))
}

// down rounds to the next smaller integer, up to the next larger. Div leaves a
// remainder that is not negative, and so rounds down.
func down(r *big.Rat) *big.Int { return new(big.Int).Div(r.Num(), r.Denom()) }

func up(r *big.Rat) *big.Int {
	q := down(new(big.Rat).Neg(r))
	return q.Neg(q)
}
