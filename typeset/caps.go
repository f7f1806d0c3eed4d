package typeset

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"bodkin/fonts"
	"bodkin/markup"
)

// Styles of small capitals beside markup.Caps. They are no styles of the
// manuscript.
const (
	smallCaps markup.Style = 1 << 15 // the words that open a chapter
	lowCaps   markup.Style = 1 << 14 // capitals are small as well: nothing else would show that the text stands out
	mixedCaps markup.Style = 1 << 13 // capitals are not small
)

// Small capitals are opened by capsTrack, in thousandths of an em. Where a
// face has none, capitals of capitalsSize, in thousandths of the text's size,
// stand for them. Common practice.
const (
	capsTrack    = 30
	capitalsSize = 850
)

// dress returns how a stretch of text in small capitals or in the manner of
// signs is set. Signs without a face of their own are set in small capitals. A
// text that is typed in capitals throughout is set in small ones throughout.
func (s *wordSetter) dress(style markup.Style, text string) markup.Style {
	if style&markup.Inscribed != 0 && s.sign == "" {
		style = style&^markup.Inscribed | markup.Caps
	}
	if style&markup.Caps != 0 && style&(lowCaps|mixedCaps) == 0 && strings.IndexFunc(text, unicode.IsLower) < 0 {
		style |= lowCaps
	}
	return style
}

// inscribed returns the style of small capitals that suits all lines of a
// sign.
func inscribed(b *markup.Sign) markup.Style {
	for _, line := range b.Lines {
		if strings.IndexFunc(markup.Plain(line), unicode.IsLower) >= 0 {
			return markup.Caps | mixedCaps
		}
	}
	return markup.Caps | lowCaps
}

// caps returns how small capitals are made in a face, with the features of
// running text.
func caps(face *fonts.Face, style markup.Style, text fonts.Feature) (fonts.Feature, guise) {
	switch {
	case style&smallCaps != 0:
		return text | fonts.SmallCaps, asWritten
	case !face.Supports(fonts.SmallCaps):
		return text&^fonts.OldStyle | fonts.Lining, asCapitals
	case style&lowCaps == 0:
		return text | fonts.SmallCaps, asWritten
	case face.Supports(fonts.AllSmallCaps):
		return text | fonts.AllSmallCaps, asWritten
	}
	return text | fonts.SmallCaps, asSmall
}

// guise is in which letters a text is shown. The run that shows it still
// stands for the letters of the manuscript.
type guise uint8

const (
	asWritten  guise = iota
	asCapitals       // capitals, a little smaller: the face has no small capitals
	asSmall          // small letters, which the face turns into small capitals
)

// shape shapes a text, or a piece of one, as the part is shaped.
func (p *part) shape(text string) *fonts.Run { return p.guise.shape(p.run.Face, text, p.run.Features) }

func (g guise) shape(face *fonts.Face, text string, features fonts.Feature) *fonts.Run {
	if g == asWritten {
		return face.Shape(text, features)
	}
	shown := g.show(face, text)
	run := *face.Shape(shown, features)
	if shown == text {
		return &run
	}
	// Clusters are counted in the text as it is written.
	written := make([]uint32, 0, len(shown))
	for at, r := range text {
		for range len(g.letter(face, r)) {
			written = append(written, uint32(at))
		}
	}
	run.Text = text
	run.Glyphs = append([]fonts.Glyph(nil), run.Glyphs...)
	for i := range run.Glyphs {
		run.Glyphs[i].Cluster = written[run.Glyphs[i].Cluster]
	}
	return &run
}

// show returns the letters in which a text is shown.
func (g guise) show(face *fonts.Face, text string) string {
	if g == asWritten {
		return text
	}
	var b strings.Builder
	for _, r := range text {
		b.WriteString(g.letter(face, r))
	}
	return b.String()
}

// letter returns the letters in which one is shown: itself, where the face has
// no other.
func (g guise) letter(face *fonts.Face, r rune) string {
	other := unicode.ToLower(r)
	if g == asCapitals {
		if r == 'ß' {
			return "SS"
		}
		other = unicode.ToUpper(r)
	}
	if !face.Has(other) || utf8.RuneLen(other) < 0 {
		other = r
	}
	return string(other)
}
