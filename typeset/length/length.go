// Package length is the one unit of measure of the house: an integer number
// of 65 536ths of a point, 72 points to the inch.
//
// Every decision about a line or a page is made in it, so that the same book
// breaks in the same places on every processor. What a person writes keeps
// its unit:
//
//	v, _ := length.Parse("129mm")
//	v.Length // 23 964 503 units, 365.67 pt
//	v.String() // "129mm"
package length

import (
	"fmt"
	"math/big"
	"math/bits"
	"strconv"
	"strings"
)

// Length is a distance in units of 1/65536 pt. It may be negative.
type Length int64

// The units a person may write. A point is the PostScript point, 1/72 in.
const (
	Point Length = 65536
	Inch  Length = 72 * Point
)

// Max is the longest length that Parse takes: 200 in, the largest page of
// PDF (ISO 32000-1, annex C).
const Max = 200 * Inch

// Points returns l in points. It is for output; nothing is decided by it.
func (l Length) Points() float64 { return float64(l) / float64(Point) }

// String writes l in points, with as few decimals as read back exactly, at
// most five.
func (l Length) String() string { return Value{l, Pt}.String() }

// Scale returns l × num ÷ den, rounded to the nearest unit, halves away from
// zero. The product may exceed 64 bits; the result may not. den > 0.
func (l Length) Scale(num, den int64) Length {
	neg := (l < 0) != (num < 0)
	a, b := magnitude(int64(l)), magnitude(num)
	hi, lo := bits.Mul64(a, b)
	lo, carry := bits.Add64(lo, uint64(den)/2, 0)
	q, _ := bits.Div64(hi+carry, lo, uint64(den))
	if neg {
		return -Length(q)
	}
	return Length(q)
}

func magnitude(n int64) uint64 {
	if n < 0 {
		return -uint64(n)
	}
	return uint64(n)
}

// Unit is a unit that a person writes.
type Unit uint8

const (
	Pt Unit = iota
	In
	Mm
)

func (u Unit) String() string { return [...]string{"pt", "in", "mm"}[u] }

// perUnit gives the exact number of Length units in one of u as a fraction.
func (u Unit) perUnit() (num, den int64) {
	switch u {
	case In:
		return int64(Inch), 1
	case Mm:
		return int64(Inch) * 5, 127 // 1 in = 25.4 mm = 127/5 mm
	}
	return int64(Point), 1
}

// Value is a length with the unit that it was written in.
type Value struct {
	Length Length
	Unit   Unit
}

// Parse reads a number and a unit: "0.6in", "15.24 mm", "11pt". A bare "0"
// needs no unit. The result is rounded to the nearest Length.
func Parse(s string) (Value, error) {
	t := strings.TrimSpace(s)
	for _, u := range []Unit{Pt, In, Mm} {
		number, found := strings.CutSuffix(t, u.String())
		if !found {
			continue
		}
		l, err := parseNumber(strings.TrimSpace(number), u)
		if err != nil {
			return Value{}, fmt.Errorf("length %q: %w", s, err)
		}
		return Value{l, u}, nil
	}
	if t == "0" {
		return Value{}, nil
	}
	return Value{}, fmt.Errorf("length %q has no unit: write in, mm or pt after the number, as in 0.5in", s)
}

func parseNumber(s string, u Unit) (Length, error) {
	digits := 0
	for i, r := range s {
		switch {
		case r >= '0' && r <= '9':
			digits++
		case r == '.' && strings.Count(s, ".") == 1:
		case r == '-' && i == 0:
		default:
			return 0, fmt.Errorf("%q is not a decimal number", s)
		}
	}
	if digits == 0 || digits > 18 {
		return 0, fmt.Errorf("%q is not a decimal number of at most 18 digits", s)
	}
	r, ok := new(big.Rat).SetString(s)
	if !ok {
		return 0, fmt.Errorf("%q is not a decimal number", s)
	}
	num, den := u.perUnit()
	r.Mul(r, big.NewRat(num, den))
	if new(big.Rat).Abs(r).Cmp(big.NewRat(int64(Max), 1)) > 0 {
		return 0, fmt.Errorf("it is longer than %v", Value{Max, In})
	}
	return roundRat(r), nil
}

// roundRat rounds to the nearest integer, halves away from zero.
func roundRat(r *big.Rat) Length {
	num, den := new(big.Int).Set(r.Num()), r.Denom()
	half := new(big.Int).Rsh(den, 1)
	if num.Sign() < 0 {
		num.Sub(num, half)
	} else {
		num.Add(num, half)
	}
	return Length(num.Quo(num, den).Int64())
}

// String writes v in its own unit with the fewest decimals, at most six, that
// Parse reads back as the same Length.
func (v Value) String() string {
	num, den := v.Unit.perUnit()
	r := new(big.Rat).Mul(big.NewRat(int64(v.Length), 1), big.NewRat(den, num))
	for places := 0; places < 6; places++ {
		s := trimmed(r, places)
		if l, err := parseNumber(s, v.Unit); err == nil && l == v.Length {
			return s + v.Unit.String()
		}
	}
	return trimmed(r, 6) + v.Unit.String()
}

func trimmed(r *big.Rat, places int) string {
	s := r.FloatString(places)
	if s == "-0" {
		return "0"
	}
	return s
}

// UnmarshalText reads v as Parse does, for book.toml and for flags.
func (v *Value) UnmarshalText(text []byte) error {
	parsed, err := Parse(string(text))
	if err != nil {
		return err
	}
	*v = parsed
	return nil
}

// MarshalText writes v as String does.
func (v Value) MarshalText() ([]byte, error) { return []byte(v.String()), nil }

// Ruled writes what a ruler shows of a length in a unit, without the unit:
// hundredths of an inch, tenths of a millimetre or of a point.
func (l Length) Ruled(u Unit) string {
	switch u {
	case In:
		return Decimal(int64(l.Scale(100, int64(Inch))), 2)
	case Mm:
		return Decimal(int64(l.Scale(254, int64(Inch))), 1)
	}
	return Decimal(int64(l.Scale(10, int64(Point))), 1)
}

// Decimal writes n units of the last of so many decimal places, without zeros
// at the end: 1250 with three places is 1.25.
func Decimal(n int64, places int) string {
	sign := ""
	if n < 0 {
		sign, n = "-", -n
	}
	digits := strconv.FormatInt(n, 10)
	for len(digits) <= places {
		digits = "0" + digits
	}
	whole, part := digits[:len(digits)-places], strings.TrimRight(digits[len(digits)-places:], "0")
	if part != "" {
		whole += "." + part
	}
	if whole == "0" {
		return whole
	}
	return sign + whole
}
