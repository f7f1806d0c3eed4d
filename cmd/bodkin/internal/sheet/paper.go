package sheet

import (
	"fmt"
	"slices"
	"strings"

	"bodkin/typeset/length"
)

// Paper is what is in the printer, upright.
type Paper struct {
	Name          string
	Width, Height length.Length
	Unit          length.Unit // in which people who use it measure
}

// edge is what home printers leave white along each side of the paper, and a
// little more: 6 mm. Common practice; the widest usual is a quarter of an inch
// on one side.
var edge = mm(6)

// Letter is 8.5 by 11 in (ANSI/ASME Y14.1, size A).
func Letter() Paper {
	return Paper{"Letter", length.Inch * 17 / 2, 11 * length.Inch, length.In}
}

// A4 is 210 by 297 mm (ISO 216).
func A4() Paper { return Paper{"A4", mm(210), mm(297), length.Mm} }

// ParsePaper reads "letter" or "a4", in any case.
func ParsePaper(s string) (Paper, error) {
	for _, p := range []Paper{Letter(), A4()} {
		if strings.EqualFold(strings.TrimSpace(s), p.Name) {
			return p, nil
		}
	}
	return Paper{}, fmt.Errorf("paper %q: write letter or a4", s)
}

// letterRegions are where people print on Letter (Unicode CLDR, supplemental
// data, paperSize; from memory).
var letterRegions = []string{"BZ", "CA", "CL", "CO", "CR", "GT", "MX", "NI", "PA", "PH", "PR", "SV", "US", "VE"}

// PaperFor returns the paper of the region that a language tag names (BCP 47:
// "en-US"), A4 where it names none.
func PaperFor(language string) Paper {
	for i, part := range strings.FieldsFunc(language, func(r rune) bool { return r == '-' || r == '_' }) {
		if i > 0 && len(part) == 1 {
			break // an extension: what follows is no region
		}
		if i > 0 && slices.Contains(letterRegions, strings.ToUpper(part)) {
			return Letter()
		}
	}
	return A4()
}

// onSide returns the paper lying on its side.
func (p Paper) onSide() Paper {
	p.Width, p.Height = p.Height, p.Width
	return p
}

// mm returns n millimetres, to the nearest unit.
func mm(n int64) length.Length { return length.Inch.Scale(5*n, 127) }

// say writes a length for people: to a tenth of a millimetre, or a hundredth
// of an inch.
func say(l length.Length, unit length.Unit) string {
	if unit == length.In {
		n := int64(l.Scale(100, int64(length.Inch)))
		return hundredths(n) + " in"
	}
	return hundredths(int64(l.Scale(127*2, int64(length.Inch)))*10) + " mm"
}

// hundredths writes n/100 with no more decimals than it has.
func hundredths(n int64) string {
	return strings.TrimSuffix(strings.TrimRight(fmt.Sprintf("%d.%02d", n/100, n%100), "0"), ".")
}
