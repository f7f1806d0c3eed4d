package numeral

import "strings"

var romanDigits = [...]struct {
	value  int
	letter string
}{
	{1000, "M"}, {900, "CM"}, {500, "D"}, {400, "CD"}, {100, "C"}, {90, "XC"},
	{50, "L"}, {40, "XL"}, {10, "X"}, {9, "IX"}, {5, "V"}, {4, "IV"}, {1, "I"},
}

// Roman writes n, from 1 to 3999, in roman numerals; "" for any other number.
func Roman(n int) string {
	if n < 1 || n > 3999 {
		return ""
	}
	var b strings.Builder
	for _, d := range romanDigits {
		for ; n >= d.value; n -= d.value {
			b.WriteString(d.letter)
		}
	}
	return b.String()
}

// parseRoman reads a roman numeral in its strict form, all in capitals or all
// in small letters.
func parseRoman(s string) (n int, ok bool) {
	capitals := strings.ToUpper(s)
	if capitals != s && strings.ToLower(s) != s || len(s) > len("MMMDCCCLXXXVIII") {
		return 0, false
	}
	rest := capitals
	for _, d := range romanDigits {
		for strings.HasPrefix(rest, d.letter) {
			rest = rest[len(d.letter):]
			n += d.value
		}
	}
	return n, rest == "" && Roman(n) == capitals
}
