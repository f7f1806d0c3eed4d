package typeset

import "bodkin/fonts"

// hang is how much of a mark may stand in the margin, in units of a face.
type hang struct {
	units int32
	upem  int32
}

// rightHang and leftHang say how much of a mark stands outside the measure at
// a line's end and beginning, in thousandths of its advance: marks that are
// light against the margin hang the most. Common practice; the shares are our
// own, chosen by eye.
func rightHang(r rune) int32 {
	switch r {
	case '-', '‐', '.', ',':
		return 700
	case '’', '”', '\'', '"':
		return 600
	case ':', ';':
		return 300
	case '—', '–':
		return 250
	case '!', '?':
		return 150
	}
	return 0
}

func leftHang(r rune) int32 {
	switch r {
	case '‘', '“', '\'', '"', '’', '”':
		return 600
	case '„', '‚':
		return 500
	case '«', '»', '‹', '›':
		return 300
	}
	return 0
}

func hangOf(face *fonts.Face, r rune, share int32) hang {
	if share == 0 {
		return hang{}
	}
	g, ok := face.GID(r)
	if !ok {
		return hang{}
	}
	return hang{face.Advance(g) * share / 1000, int32(face.Upem)}
}

// hang returns how much of a mark of the part may hang, at the size of the text.
func (p *part) hang(r rune, share int32) hang {
	h := hangOf(p.run.Face, r, share)
	if p.per != 0 {
		h.units = h.units * p.per / 1000
	}
	return h
}
