package typeset

import (
	"strings"

	"bodkin/fonts"
	"bodkin/markup"
)

// Superior letters and figures stand small and high: references to notes,
// ordinals, the ends of old abbreviations. Inferiors stand low. Where a face
// has none that serve, those of the text at superSize are raised by superRise
// or lowered by inferDrop, in thousandths of the text's size. Common practice.
const (
	superSize = 620
	superRise = 360
	inferDrop = 140
)

// offLine returns how a text above or below the line is set: with the features
// of glyphs that were drawn for it, or at another size and place.
func offLine(face *fonts.Face, style markup.Style, text string) (features fonts.Feature, per, rise int32) {
	drawn, rise := fonts.Superior, int32(superRise)
	if style&markup.Lowered != 0 {
		drawn, rise = fonts.Inferior, -inferDrop
	}
	if text = strings.ReplaceAll(text, softHyphen, ""); face.Covers(text, drawn) && legible(face, text, drawn) {
		return drawn, 0, 0
	}
	return fonts.Lining, superSize, rise
}

// legible reports whether the drawn glyphs are at least half as tall as those
// of the text. In some faces they are smaller: parts of fractions, which no
// reader makes out alone.
func legible(face *fonts.Face, text string, drawn fonts.Feature) bool {
	for _, r := range text {
		height := func(features fonts.Feature) (tallest int32) {
			for _, g := range face.Shape(string(r), features).Glyphs {
				_, foot, _, top := face.Extents(g.ID)
				tallest = max(tallest, top-foot)
			}
			return tallest
		}
		if 2*height(drawn) < height(fonts.Lining) {
			return false
		}
	}
	return true
}

// offLine reports whether the part stands above or below the line: nothing of
// it hangs.
func (p *part) offLine() bool {
	return p.note > 0 || p.rise != 0 || p.run.Features&(fonts.Superior|fonts.Inferior) != 0
}
