package pdf

import (
	"bytes"
	"context"
	"testing"

	"bodkin/markup"
	"bodkin/markup/markuptest"
	"bodkin/typeset"
	"bodkin/typeset/internal/layouttest"
	"bodkin/typeset/length"
)

// novel sets Tom Sawyer (70 057 words).
func novel(tb testing.TB) *typeset.Layout {
	tb.Helper()
	book, err := markup.Load(context.Background(), markuptest.TomSawyer(tb).Source)
	if err != nil {
		tb.Fatal(err)
	}
	l, err := typeset.Compose(context.Background(), book, typeset.Default(), typeset.Resources{})
	if err != nil {
		tb.Fatal(err)
	}
	return l
}

// BenchmarkNovel is a whole novel from layout to bytes. Run it with -cpu 1.
func BenchmarkNovel(b *testing.B) {
	l := novel(b)
	var size int
	for b.Loop() {
		var w bytes.Buffer
		if err := Write(&w, l, Options{}); err != nil {
			b.Fatal(err)
		}
		size = w.Len()
	}
	b.ReportMetric(float64(len(l.Pages)), "pages")
	b.ReportMetric(float64(size), "bytes")
	b.ReportAllocs()
}

// BenchmarkPlate is a page of 5 by 8 in that is all picture, at 300 to the inch.
func BenchmarkPlate(b *testing.B) {
	l := set(b, sample, layouttest.Style{})
	layouttest.Bleed(l, 0, layouttest.Save(b, layouttest.Drawing(1575, 2475)), 9*length.Point)
	for b.Loop() {
		var w bytes.Buffer
		if err := Write(&w, l, Options{}); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportAllocs()
}
