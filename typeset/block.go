package typeset

import (
	"slices"

	"bodkin/fonts"
	"bodkin/typeset/length"
)

// TextBlock returns the text block that a recto has with the given back
// margin. The error says what in the setting leaves no page of text.
func (s *Setting) TextBlock(face *fonts.Face, back length.Length) (Block, error) {
	return s.block(face, back)
}

// Backs returns the back margins that books of least to most pages can have:
// the one that the setting names, or those that "auto" gives them.
func (s *Setting) Backs(least, most int) []length.Length {
	if !s.Margins.Back.Auto {
		return []length.Length{s.Margins.Back.Value.Length}
	}
	steps := s.backs()
	var backs []length.Length
	for i := step(steps, least); i <= step(steps, most); i++ {
		backs = append(backs, steps[i].Margin.Length)
	}
	return slices.Compact(backs)
}

// Long returns by how many lines a spread may run long in the block: one, where
// that leaves the folio clear of the text, or none.
func (s *Setting) Long(b *Block) int { return s.long(b) }
