package pdf

import (
	"strconv"
	"time"
	"unicode/utf16"

	"bodkin/typeset/length"
)

// points returns l in units of 10^-places points, rounded to the nearest.
func points(l length.Length, places int) int64 {
	return int64(l.Scale(pow10[places], int64(length.Point)))
}

var pow10 = [...]int64{1, 10, 100, 1000, 10_000, 100_000, 1_000_000}

// appendDecimal writes n × 10^-places in the fewest bytes: 12.5, -3, .25.
func appendDecimal(b []byte, n int64, places int) []byte {
	if n < 0 {
		b = append(b, '-')
		n = -n
	}
	for places > 0 && n%10 == 0 {
		n /= 10
		places--
	}
	whole, part := n/pow10[places], n%pow10[places]
	if whole > 0 || places == 0 {
		b = strconv.AppendInt(b, whole, 10)
	}
	if places == 0 {
		return b
	}
	b = append(b, '.')
	for p := places - 1; part < pow10[p]; p-- {
		b = append(b, '0')
	}
	return strconv.AppendInt(b, part, 10)
}

const hexDigits = "0123456789ABCDEF"

func appendHex16(b []byte, n uint16) []byte {
	return append(b, hexDigits[n>>12], hexDigits[n>>8&15], hexDigits[n>>4&15], hexDigits[n&15])
}

// appendUTF16 writes s as hexadecimal UTF-16BE.
func appendUTF16(b []byte, s string) []byte {
	for _, r := range s {
		if r >= 0x10000 {
			hi, lo := utf16.EncodeRune(r)
			b = appendHex16(b, uint16(hi))
			r = lo
		}
		b = appendHex16(b, uint16(r))
	}
	return b
}

// textString writes a text string (ISO 32000-1, 7.9.2.2): printable ASCII as
// it is, all else as UTF-16 after a byte-order mark.
func textString(s string) string {
	b := []byte{'('}
	for i := range len(s) {
		switch c := s[i]; {
		case c < ' ' || c > '~':
			return string(append(appendUTF16([]byte("<FEFF"), s), '>'))
		case c == '(' || c == ')' || c == '\\':
			b = append(b, '\\', c)
		default:
			b = append(b, c)
		}
	}
	return string(append(b, ')'))
}

// name writes a name (ISO 32000-1, 7.3.5).
func name(s string) string {
	b := []byte{'/'}
	for i := range len(s) {
		c := s[i]
		if c <= ' ' || c > '~' || c == '#' || isDelimiter(c) {
			b = append(b, '#', hexDigits[c>>4], hexDigits[c&15])
			continue
		}
		b = append(b, c)
	}
	return string(b)
}

// date writes a date (ISO 32000-1, 7.9.4).
func date(t time.Time) string {
	zone := "Z"
	if _, offset := t.Zone(); offset != 0 {
		z := t.Format("-0700")
		zone = z[:3] + "'" + z[3:] + "'"
	}
	return t.Format("(D:20060102150405") + zone + ")"
}

// roundDiv returns n ÷ d rounded to the nearest, d > 0.
func roundDiv(n, d int64) int64 {
	if n < 0 {
		return -((-n + d/2) / d)
	}
	return (n + d/2) / d
}
