package markup

import (
	"context"
	"fmt"
	"strings"
	"testing"
)

// A book of thousands of notes in one file.
func BenchmarkLoadNotes(b *testing.B) {
	for _, n := range []int{1250, 5000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			var text, notes strings.Builder
			for i := range n {
				fmt.Fprintf(&text, "The tide was out, and the %d boats lay on the mud.[^%d] Nobody came.\n\n", i, i)
				fmt.Fprintf(&notes, "[^%d]: A note on the *boats*, of some length.\n\n", i)
			}
			src := writeBook(b, []byte(text.String()+notes.String()))
			for b.Loop() {
				if _, err := Load(context.Background(), src); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
