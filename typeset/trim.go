package typeset

import (
	"fmt"
	"slices"
	"strings"

	"bodkin/typeset/length"
)

// Trim is the finished page as a person writes it: "5x8in", "129x198mm", or a
// name of the trade, "B-format".
type Trim struct {
	Width, Height length.Value
	Name          string // as written, when it was a name
}

// trims are the sizes that the trade calls by name.
var trims = []struct{ name, size, source string }{
	{"A4", "210x297mm", "ISO 216"},
	{"A5", "148x210mm", "ISO 216"},
	{"A6", "105x148mm", "ISO 216"},
	{"A-format", "110x178mm", "British paperback, common practice (from memory)"},
	{"B-format", "129x198mm", "British paperback, common practice (from memory)"},
	{"demy", "138x216mm", "demy octavo, common practice (from memory)"},
	{"royal", "156x234mm", "royal octavo, common practice (from memory)"},
	{"mass-market", "4.25x6.87in", "American paperback, common practice (from memory)"},
	{"digest", "5.5x8.5in", "half of US Letter, common practice (from memory)"},
	{"trade", "6x9in", "American paperback, common practice (from memory)"},
}

// The least and the most a page may measure: smaller than a miniature book,
// or beyond what a PDF page may be, is a slip of the pen.
const (
	leastTrim = 2 * length.Inch
	mostTrim  = 30 * length.Inch
)

// ParseTrim reads a width and a height joined by x, with the unit after the
// second or after both, or a name of the trade in any case.
func ParseTrim(s string) (Trim, error) {
	t := strings.TrimSpace(s)
	for _, named := range trims {
		if strings.EqualFold(t, named.name) {
			trim, err := ParseTrim(named.size)
			trim.Name = named.name
			return trim, err
		}
	}
	wide, high, found := strings.Cut(strings.NewReplacer("×", "x", "X", "x").Replace(t), "x")
	if !found {
		return Trim{}, fmt.Errorf("trim %q is neither a size, as in 5x8in or 129x198mm, nor one of %s", s, TrimNames())
	}
	height, err := length.Parse(high)
	if err != nil {
		return Trim{}, fmt.Errorf("trim %q: %w", s, err)
	}
	wide = strings.TrimSpace(wide)
	if !strings.HasSuffix(wide, "in") && !strings.HasSuffix(wide, "mm") && !strings.HasSuffix(wide, "pt") {
		wide += height.Unit.String()
	}
	width, err := length.Parse(wide)
	if err != nil {
		return Trim{}, fmt.Errorf("trim %q: %w", s, err)
	}
	for _, side := range []length.Value{width, height} {
		if side.Length < leastTrim || side.Length > mostTrim {
			return Trim{}, fmt.Errorf("trim %q: a side of %v is not a page; sides run from %v to %v",
				s, side, length.Value{Length: leastTrim, Unit: side.Unit}, length.Value{Length: mostTrim, Unit: side.Unit})
		}
	}
	return Trim{Width: width, Height: height}, nil
}

// TrimNames lists the named trims, sorted, for messages.
func TrimNames() string {
	names := make([]string, len(trims))
	for i, t := range trims {
		names[i] = t.name
	}
	slices.SortFunc(names, func(a, b string) int { return strings.Compare(strings.ToLower(a), strings.ToLower(b)) })
	return strings.Join(names, ", ")
}

// String writes the trim as it was written.
func (t Trim) String() string {
	if t.Name != "" {
		return t.Name
	}
	if t.Width.Unit != t.Height.Unit {
		return t.Width.String() + "x" + t.Height.String()
	}
	return strings.TrimSuffix(t.Width.String(), t.Width.Unit.String()) + "x" + t.Height.String()
}

// Size returns the trim's sides.
func (t Trim) Size() Size { return Size{t.Width.Length, t.Height.Length} }

// UnmarshalText reads t as ParseTrim does.
func (t *Trim) UnmarshalText(text []byte) error {
	parsed, err := ParseTrim(string(text))
	if err != nil {
		return err
	}
	*t = parsed
	return nil
}

// MarshalText writes t as String does.
func (t Trim) MarshalText() ([]byte, error) { return []byte(t.String()), nil }
