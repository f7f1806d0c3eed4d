package strict

import (
	"fmt"
	"math/big"
	"regexp"
	"strings"
)

// Number is a decimal number as it is written, so that no digit of a price is
// lost: 0.012 or "0.012". The zero Number is one that is not given.
type Number struct{ text string }

var decimal = regexp.MustCompile(`^[0-9]{1,9}(\.[0-9]{1,9})?$`)

// NumberOf reads a decimal number that is not negative.
func NumberOf(s string) (Number, error) {
	s = strings.TrimSpace(s)
	if !decimal.MatchString(s) {
		return Number{}, fmt.Errorf("%q is not a plain number: write digits and at most one point, as in 0.012", s)
	}
	return Number{s}, nil
}

// UnmarshalText reads a number as NumberOf does.
func (n *Number) UnmarshalText(text []byte) error {
	var err error
	*n, err = NumberOf(string(text))
	return err
}

// MarshalText writes n as it was written.
func (n Number) MarshalText() ([]byte, error) { return []byte(n.text), nil }

// String writes n as it was written; "" where it is not given.
func (n Number) String() string { return n.text }

// Given reports whether there is a number.
func (n Number) Given() bool { return n.text != "" }

// Rat returns n's exact value; 0 where it is not given.
func (n Number) Rat() *big.Rat {
	if r, ok := new(big.Rat).SetString(n.text); ok {
		return r
	}
	return new(big.Rat)
}
