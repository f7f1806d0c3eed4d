package shelf

import (
	"slices"

	"bodkin/typeset"
	"bodkin/typeset/length"
)

// Trim is a trim that books have.
type Trim struct {
	typeset.Trim
	Source   string // of the size
	Offered  bool   // by the printer
	OfferAs  string // how the printer writes it, where it is written otherwise
	Proposed bool   // by the author
}

// Label writes the size, and the name where the trim has one.
func (t *Trim) Label() string {
	if t.Name != "" {
		return t.Written() + " (" + t.Name + ")"
	}
	return t.Written()
}

// Written writes the size, as --trim takes it.
func (t *Trim) Written() string {
	return typeset.Trim{Width: t.Width, Height: t.Height}.String()
}

// common are the trims of novels and their neighbours. A name is one that
// typeset knows, so that its size stands in one place.
var common = []struct{ trim, source string }{
	{"mass-market", "American paperback, common practice (from memory)"},
	{"digest", "half of US Letter, common practice (from memory)"},
	{"trade", "American paperback, common practice (from memory)"},
	{"A-format", "British paperback, common practice (from memory)"},
	{"B-format", "British paperback, common practice (from memory); large crown octavo of BS 1413 (from memory)"},
	{"demy", "demy octavo of BS 1413 (from memory)"},
	{"royal", "royal octavo of BS 1413 (from memory)"},
	{"A6", "ISO 216"},
	{"A5", "ISO 216"},
	{"A4", "ISO 216"},
	{"125x176mm", "B6 of ISO 216"},
	{"176x250mm", "B5 of ISO 216"},
	{"123x186mm", "crown octavo of BS 1413 (from memory)"},
	{"189x246mm", "crown quarto of BS 1413 (from memory)"},
	{"120x190mm", "German paperback, common practice (from memory)"},
	{"115x180mm", "German paperback, common practice (from memory)"},
	{"125x190mm", "German paperback, common practice (from memory)"},
	{"135x215mm", "German paperback, common practice (from memory)"},
	{"5x7in", "common practice"},
	{"5x8in", "common practice"},
	{"5.25x8in", "common practice"},
	{"5.5x8.25in", "American paperback, common practice (from memory)"},
	{"6x8in", "common practice"},
	{"7x10in", "common practice"},
	{"7.5x9.25in", "common practice"},
	{"8x10in", "common practice"},
	{"8.5x11in", "US Letter"},
}

// alike is how near two trims are one: 6 in are sold as 152 mm and as 152.4
// mm, and no reader sees a millimetre. Common practice.
const alike = length.Inch * 5 / 127

// Known returns the common trims, those that a printer offers, and those that
// an author proposes. A trim that two of these have stands there once.
func Known(offered, proposed []typeset.Trim) []Trim {
	var known []Trim
	add := func(t typeset.Trim, source string) *Trim {
		if i := Index(known, t); i >= 0 {
			return &known[i]
		}
		known = append(known, Trim{Trim: t, Source: source})
		return &known[len(known)-1]
	}
	for _, c := range common {
		t, err := typeset.ParseTrim(c.trim)
		if err != nil {
			panic(err) // a slip in the table above
		}
		add(t, c.source)
	}
	for _, t := range offered {
		k := add(t, "the printer's terms")
		k.Offered = true
		if as := (&Trim{Trim: t}).Written(); as != k.Written() && k.OfferAs == "" {
			k.OfferAs = as
		}
	}
	for _, t := range proposed {
		add(t, "as asked for").Proposed = true
	}
	return known
}

// Index returns which of the trims is the given one, or -1.
func Index(known []Trim, t typeset.Trim) int {
	if i := slices.IndexFunc(known, func(k Trim) bool { return apart(k.Size(), t.Size()) <= alike/10 }); i >= 0 {
		return i
	}
	best, least := -1, alike+1
	for i := range known {
		if d := apart(known[i].Size(), t.Size()); d < least {
			best, least = i, d
		}
	}
	return best
}

// apart returns by how much two sizes differ, in width or in height,
// whichever differs more.
func apart(a, b typeset.Size) length.Length {
	return max(abs(a.Width-b.Width), abs(a.Height-b.Height))
}

func abs(l length.Length) length.Length { return max(l, -l) }
