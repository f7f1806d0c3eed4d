package hyphen

import (
	"testing"
)

func BenchmarkLoad(b *testing.B) {
	for _, tag := range Languages() {
		b.Run(tag, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Load(tag); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkPoints(b *testing.B) {
	words := []struct{ tag, word string }{
		{"en-US", "hyphenation"},
		{"en-US", "the"},
		{"en-US", "“Considerable,”"},
		{"fr", "l’extraordinaire"},
		{"de", "Straßenbahnhaltestelle"},
		{"pl", "konstantynopolitańczykowianeczka"},
	}
	for _, w := range words {
		b.Run(w.tag+"/"+w.word, func(b *testing.B) {
			d, err := Load(w.tag)
			if err != nil {
				b.Fatal(err)
			}
			b.ReportAllocs()
			var dst []int
			for b.Loop() {
				dst = d.Points(dst[:0], w.word)
			}
		})
	}
}
