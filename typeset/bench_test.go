package typeset

import (
	"context"
	"testing"

	"bodkin/fonts"
	"bodkin/markup"
	"bodkin/markup/markuptest"
)

// BenchmarkCold is parse to Layout, with nothing kept: faces are read, words
// are shaped and divided.
func BenchmarkCold(b *testing.B) {
	src := markuptest.TomSawyer(b).Source
	b.ReportAllocs()
	for b.Loop() {
		book, err := markup.Load(context.Background(), src)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := Compose(context.Background(), book, Default(), Resources{Faces: fonts.Embedded()}); err != nil {
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
