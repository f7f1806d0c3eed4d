package typeset

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"bodkin/fonts"
	"bodkin/markup/markuptest"
)

// BenchmarkCold is parse to Layout, with nothing kept: faces are read, words
// are shaped and divided.
func BenchmarkCold(b *testing.B) {
	src := markuptest.TomSawyer(b).Source
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Compose(context.Background(), load(b, src), Default(), Resources{Faces: fonts.Embedded()}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkSecond is another setting of a book that has been set once.
func BenchmarkSecond(b *testing.B) {
	book := load(b, markuptest.TomSawyer(b).Source)
	c := NewComposer(book, Resources{})
	s := Default()
	if _, err := c.Compose(context.Background(), s); err != nil {
		b.Fatal(err)
	}
	s.Size.Length = s.Size.Length * 21 / 20
	b.ReportAllocs()
	for b.Loop() {
		if _, err := c.Compose(context.Background(), s); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkColdTenfold is BenchmarkCold with the text ten times over.
func BenchmarkColdTenfold(b *testing.B) {
	text := markuptest.TomSawyer(b)
	src := text.Source
	src.Body = nil
	chapters, err := os.ReadFile(text.Path)
	if err != nil {
		b.Fatal(err)
	}
	for i := range 10 {
		name := fmt.Sprintf("part-%d.md", i)
		if err := os.WriteFile(filepath.Join(src.Dir, name), chapters, 0o666); err != nil {
			b.Fatal(err)
		}
		src.Body = append(src.Body, name)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Compose(context.Background(), load(b, src), Default(), Resources{Faces: fonts.Embedded()}); err != nil {
			b.Fatal(err)
		}
	}
}
