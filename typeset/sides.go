package typeset

import "bodkin/markup"

// side returns the side on which a section begins: where its heading says, or
// by custom. Title pages, dedication, contents, parts, and what opens the body
// and the back stand on rectos; the copyright page on the back of the title;
// a picture before the title page faces it.
func (m *maker) side(i int) markup.Side {
	sec := m.book.Sections[i]
	if sec.Side != markup.ByCustom {
		return sec.Side
	}
	var before, after *markup.Section
	if i > 0 {
		before = m.book.Sections[i-1]
	}
	if i+1 < len(m.book.Sections) {
		after = m.book.Sections[i+1]
	}
	switch {
	case sec.Piece == markup.Part:
		return markup.OnRecto
	case before != nil && before.Kind == markup.TitlePage && sec.Piece == markup.Copyright:
		return markup.OnVerso
	case sec.Piece == markup.Plate && after != nil && after.Kind == markup.TitlePage:
		return markup.OnVerso
	case before == nil || before.Matter != sec.Matter:
		return markup.OnRecto
	case sec.Piece == markup.Plate:
		return markup.OnEither
	case sec.Matter == markup.Front:
		return markup.OnRecto
	case before.Piece == markup.Part || m.s.Opens == OnRecto:
		return markup.OnRecto
	}
	return markup.OnEither
}

// begin returns the first page, from at on, that lies on the side on which a
// section begins.
func (m *maker) begin(i, at int) int {
	switch m.side(i) {
	case markup.OnRecto:
		return at + at%2
	case markup.OnVerso:
		return at + 1 - at%2
	}
	return at
}
