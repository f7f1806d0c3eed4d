package picture

import (
	"testing"

	"pgregory.net/rapid"
)

// A picture of one tone stays of that tone, whatever its size; one that is
// small enough, or black and white, is not touched.
func TestShrunk(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := &Image{Width: rapid.IntRange(1, 60).Draw(t, "width"), Height: rapid.IntRange(1, 60).Draw(t, "height"),
			Model: rapid.SampledFrom([]Model{Gray, CMYK}).Draw(t, "model")}
		tones := [4]byte{}
		inks := m.Stride() / m.Width
		for i := range inks {
			tones[i] = rapid.Byte().Draw(t, "tone")
		}
		for range m.Width * m.Height {
			m.Pix = append(m.Pix, tones[:inks]...)
		}
		w, h := rapid.IntRange(1, 80).Draw(t, "to width"), rapid.IntRange(1, 80).Draw(t, "to height")
		s := m.Shrunk(w, h)
		if w >= m.Width && h >= m.Height {
			if s != m {
				t.Fatal("a picture that is small enough was made anew")
			}
			return
		}
		if s.Width != min(w, m.Width) || s.Height != min(h, m.Height) || len(s.Pix) != s.Stride()*s.Height {
			t.Fatalf("%d × %d pixels in %d bytes, want %d × %d", s.Width, s.Height, len(s.Pix), w, h)
		}
		for i, v := range s.Pix {
			if d := int(v) - int(tones[i%inks]); d < -1 || d > 1 {
				t.Fatalf("ink %d is %d, and was %d", i%inks, v, tones[i%inks])
			}
		}
	})
	line := &Image{Width: 16, Height: 16, Model: Bilevel, Pix: make([]byte, 32)}
	if line.Shrunk(4, 4) != line {
		t.Error("black and white was made gray")
	}
	// Halves of two tones keep their means and their places.
	m := &Image{Width: 8, Height: 2, Model: Gray, Pix: []byte{0, 0, 0, 0, 200, 200, 200, 200, 0, 0, 0, 0, 200, 200, 200, 200}}
	if s := m.Shrunk(2, 1); s.Pix[0] > 30 || s.Pix[1] < 170 {
		t.Errorf("two halves became %v", s.Pix)
	}
}
