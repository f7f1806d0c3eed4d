package fonts

import (
	"github.com/go-text/typesetting/font"
	"github.com/go-text/typesetting/font/opentype/tables"
	"github.com/go-text/typesetting/harfbuzz"
)

// newHarfBuzz is harfbuzz.NewFont without a fault of go-text/typesetting v0.3.5.
//
// NewFont condenses the coverage of every lookup, and of each of its subtables,
// into three bit masks, by which it later skips what cannot apply. Its
// setDigest.addRange gives up as soon as one mask is full, although the two
// others may still lack bits: the ranges that follow are lost, and with them
// much of the kerning of most faces. (HarfBuzz itself, and go-text v0.3.0, look
// at each mask on its own.)
//
// Where that happens, a range that spans all glyphs comes first while NewFont
// reads: it fills the masks at once, and full masks skip nothing. For a subtable
// it stands in for the first range, for a lookup it belongs to a subtable put
// before the others. What applies is decided by the ranges themselves; they are
// put back, and the added subtable ends up covering nothing. The caller sees to
// it that nobody shapes with fnt meanwhile.
func newHarfBuzz(fnt *font.Font) *harfbuzz.Font {
	var undo []func()
	defer func() {
		for _, f := range undo {
			f()
		}
	}()
	widen := func(r *tables.RangeRecord) {
		real := *r
		*r = tables.RangeRecord{StartGlyphID: 0, EndGlyphID: 0xFFFF}
		undo = append(undo, func() { *r = real })
	}
	for i := range fnt.GSUB.Lookups {
		l := &fnt.GSUB.Lookups[i]
		if mend(l.Subtables, widen) {
			own, extra := l.Subtables, tables.GSUBLookup(nil)
			if _, reverse := own[0].(tables.ReverseChainSingleSubs); reverse { // the first tells how the lookup runs
				extra, _, _ = tables.ParseReverseChainSingleSubs(append([]byte{0, 1, 0, 10, 0, 0, 0, 0, 0, 0}, nothing...))
			} else {
				extra, _, _ = tables.ParseSingleSubs(append([]byte{0, 1, 0, 6, 0, 0}, nothing...))
			}
			widen(&extra.Cov().(tables.Coverage2).Ranges[0])
			l.Subtables = append([]tables.GSUBLookup{extra}, own...)
			undo = append(undo, func() { l.Subtables = own })
		}
	}
	for i := range fnt.GPOS.Lookups {
		l := &fnt.GPOS.Lookups[i]
		if mend(l.Subtables, widen) {
			own := l.Subtables
			extra, _, _ := tables.ParseSinglePos(append([]byte{0, 1, 0, 6, 0, 0}, nothing...))
			widen(&extra.Cov().(tables.Coverage2).Ranges[0])
			l.Subtables = append([]tables.GPOSLookup{extra}, own...)
			undo = append(undo, func() { l.Subtables = own })
		}
	}
	// A font.Face remembers glyphs and extents as it goes, so each HarfBuzz font has its own.
	return harfbuzz.NewFont(font.NewFace(fnt))
}

// nothing is a coverage table of one range that has no glyph of any font: no
// font has a glyph 65535. (OpenType 1.9, "Coverage Format 2".)
var nothing = []byte{0, 2, 0, 1, 0xFF, 0xFF, 0xFF, 0xFF, 0, 0}

// mend widens the subtables whose masks would lose glyphs, and reports whether
// those of the lookup, gathered over all subtables, would.
func mend[S interface{ Cov() tables.Coverage }](subtables []S, widen func(*tables.RangeRecord)) (lost bool) {
	var whole digest
	for _, s := range subtables {
		switch c := s.Cov().(type) {
		case tables.Coverage1:
			for _, g := range c.Glyphs {
				whole.add(g, g)
			}
		case tables.Coverage2:
			lost = whole.addAll(c.Ranges) || lost
			if new(digest).addAll(c.Ranges) {
				widen(&c.Ranges[0])
			}
		}
	}
	return lost
}

// digest is HarfBuzz's set digest (hb-set-digest.hh): each mask has a bit for
// the remainder by 64 of a glyph shifted right by 4, 0 and 6.
type digest [3]uint64

var digestShifts = [len(digest{})]int{4, 0, 6}

// addAll adds ranges and reports whether some came when a mask, but not every
// mask, was full.
func (d *digest) addAll(ranges []tables.RangeRecord) (lost bool) {
	for _, r := range ranges {
		full := 0
		for _, mask := range d {
			if mask == ^uint64(0) {
				full++
			}
		}
		lost = lost || 0 < full && full < len(d)
		d.add(r.StartGlyphID, r.EndGlyphID)
	}
	return lost
}

func (d *digest) add(from, to tables.GlyphID) {
	for i, shift := range digestShifts {
		a, b := from>>shift, to>>shift
		if b < a || b-a >= 63 {
			d[i] = ^uint64(0)
			continue
		}
		for ; a <= b; a++ {
			d[i] |= 1 << (a & 63)
		}
	}
}
