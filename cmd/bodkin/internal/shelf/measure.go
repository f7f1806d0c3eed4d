package shelf

import (
	"errors"
	"fmt"
	"math/big"
	"regexp"
	"strings"

	"bodkin/typeset/length"
)

// unit is a unit that a ruler has. The zero unit is none.
type unit struct {
	per  *big.Rat    // units of length in one
	show length.Unit // in which such measures are shown
	name string
}

var (
	inches      = unit{big.NewRat(int64(length.Inch), 1), length.In, "in"}
	millimetres = unit{big.NewRat(int64(length.Inch)*5, 127), length.Mm, "mm"}
	centimetres = unit{big.NewRat(int64(length.Inch)*50, 127), length.Mm, "cm"}
)

// units are the ways in which units are written, the longest first.
var units = []struct {
	written string
	unit    unit
}{
	{"millimetres", millimetres}, {"millimeters", millimetres}, {"millimetre", millimetres}, {"millimeter", millimetres}, {"mm.", millimetres}, {"mm", millimetres},
	{"centimetres", centimetres}, {"centimeters", centimetres}, {"centimetre", centimetres}, {"centimeter", centimetres}, {"cm.", centimetres}, {"cm", centimetres},
	{"inches", inches}, {"inch", inches}, {"ins", inches}, {"in.", inches}, {"in", inches}, {"″", inches}, {"”", inches}, {"''", inches}, {"′′", inches}, {`"`, inches},
}

// unitOf reads a unit that stands alone.
func unitOf(s string) (unit, bool) {
	s = strings.ToLower(strings.TrimSpace(s))
	for _, u := range units {
		if s == u.written {
			return u.unit, true
		}
	}
	return unit{}, false
}

// cutUnit takes the unit off the end of a measure.
func cutUnit(s string) (string, unit) {
	low := strings.ToLower(s)
	for _, u := range units {
		if strings.HasSuffix(low, u.written) && len(low) == len(s) {
			return strings.TrimSpace(s[:len(s)-len(u.written)]), u.unit
		}
	}
	return s, unit{}
}

// fractions are the fractions that have a character of their own.
var fractions = map[rune]string{
	'½': "1/2", '¼': "1/4", '¾': "3/4", '⅛': "1/8", '⅜': "3/8", '⅝': "5/8", '⅞': "7/8",
	'⅓': "1/3", '⅔': "2/3", '⅕': "1/5", '⅖': "2/5", '⅗': "3/5", '⅘': "4/5", '⅙': "1/6", '⅚': "5/6", '⅒': "1/10",
}

var (
	decimalForm  = regexp.MustCompile(`^([0-9]{0,5})(?:[.,]([0-9]{1,6}))?$`)
	fractionForm = regexp.MustCompile(`^(?:([0-9]{1,5})(?: *[-–+] *| +))?([0-9]{1,4}) */ *([0-9]{1,4})$`)
)

var (
	errNoUnit = errors.New("has no unit: write in, mm or cm after the number, or in a column with the head unit")
	errNumber = errors.New("is not a measure: write a number and its unit, as in 8.25in, 8 1/4 in or 210 mm")
)

// measure reads what a person reads off a ruler: 8.25, 8,25, 8 1/4, 8-1/4,
// 8¼, with a unit after it, or in usual where there is none.
func measure(s string, usual unit) (length.Value, error) {
	number, u := cutUnit(strings.TrimSpace(s))
	if u.per == nil {
		u = usual
	}
	n, ok := numberOf(number)
	switch {
	case !ok:
		return length.Value{}, fmt.Errorf("%q %w", s, errNumber)
	case u.per == nil:
		return length.Value{}, fmt.Errorf("%q %w", s, errNoUnit)
	}
	n.Mul(n, u.per)
	return length.Value{Length: nearest(n), Unit: u.show}, nil
}

// numberOf reads a decimal number or a fraction.
func numberOf(s string) (*big.Rat, bool) {
	var b strings.Builder
	for _, r := range s {
		switch f := fractions[r]; {
		case f != "":
			b.WriteString(" " + f)
		case r == '⁄' || r == '∕': // fraction slash, division slash
			b.WriteByte('/')
		case r == '\u00a0' || r == '\u2009' || r == '\u202f':
			b.WriteByte(' ')
		default:
			b.WriteRune(r)
		}
	}
	s = strings.TrimSpace(b.String())
	if m := decimalForm.FindStringSubmatch(s); m != nil && m[1]+m[2] != "" {
		return new(big.Rat).SetString("0" + m[1] + "." + m[2] + "0")
	}
	m := fractionForm.FindStringSubmatch(s)
	if m == nil {
		return nil, false
	}
	f, ok := new(big.Rat).SetString(m[2] + "/" + m[3])
	if !ok {
		return nil, false // over nothing
	}
	if m[1] != "" {
		whole, _ := new(big.Rat).SetString(m[1])
		if f.Cmp(big.NewRat(1, 1)) >= 0 {
			return nil, false // 8 5/4
		}
		f.Add(f, whole)
	}
	return f, true
}

// nearest rounds a number that is not negative to the nearest length.
func nearest(r *big.Rat) length.Length {
	n := new(big.Int).Lsh(r.Num(), 1)
	n.Add(n, r.Denom())
	return length.Length(n.Quo(n, new(big.Int).Lsh(r.Denom(), 1)).Int64())
}
