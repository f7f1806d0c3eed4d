package markup

import (
	"context"
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write the golden files anew")

// dump writes a book so that a person can read it: a line for each block and
// inline, with its line in the manuscript in front.
func dump(b *Book) string {
	var s strings.Builder
	fmt.Fprintf(&s, "book %q by %q, %s\n", b.Title, b.Author, b.Language)
	matters := []string{"front", "body", "back"}
	kinds := []string{"written", "half-title", "title-page", "contents"}
	for _, sec := range b.Sections {
		fmt.Fprintf(&s, "\n%s %s, %s\n", sec.Pos, matters[sec.Matter], kinds[sec.Kind])
		dumpText(&s, 1, sec.Title)
		dumpBlocks(&s, 1, sec.Blocks)
		for i, n := range sec.Notes {
			fmt.Fprintf(&s, "%4d note %d (%s)\n", n.Pos.Line, i+1, n.Label)
			dumpBlocks(&s, 1, n.Blocks)
		}
	}
	return s.String()
}

func dumpBlocks(s *strings.Builder, depth int, bs []Block) {
	for _, b := range bs {
		line := func(format string, args ...any) {
			fmt.Fprintf(s, "%4d %s%s\n", b.Position().Line, strings.Repeat("  ", depth), fmt.Sprintf(format, args...))
		}
		switch b := b.(type) {
		case *Paragraph:
			line("paragraph")
			dumpText(s, depth+1, b.Text)
		case *Heading:
			line("heading %d", b.Level)
			dumpText(s, depth+1, b.Text)
		case *Quotation:
			line("quotation")
			dumpBlocks(s, depth+1, b.Blocks)
		case *List:
			line("list ordered=%v start=%d tight=%v", b.Ordered, b.Start, b.Tight)
			for _, i := range b.Items {
				fmt.Fprintf(s, "%4d %sitem\n", i.Pos.Line, strings.Repeat("  ", depth+1))
				dumpBlocks(s, depth+2, i.Blocks)
			}
		case *SceneBreak:
			line("scene break")
		case *Verbatim:
			line("verbatim")
			dumpText(s, depth+1, b.Lines)
		}
	}
}

func dumpText(s *strings.Builder, depth int, ins []Inline) {
	for _, in := range ins {
		fmt.Fprintf(s, "%4d %s", in.Pos.Line, strings.Repeat("  ", depth))
		switch {
		case in.Break:
			s.WriteString("break")
		case in.Note > 0:
			fmt.Fprintf(s, "note %d", in.Note)
		default:
			fmt.Fprintf(s, "%q", in.Text)
		}
		for i, name := range []string{"emphasis", "strong", "code"} {
			if in.Style&(1<<i) != 0 {
				s.WriteString(" " + name)
			}
		}
		if in.Link != "" {
			s.WriteString(" -> " + in.Link)
		}
		s.WriteByte('\n')
	}
}

func TestGolden(t *testing.T) {
	book, err := Load(context.Background(), Source{
		Dir: "testdata", Title: "Sampler", Author: "A. Clerk",
		Front: []string{"half-title", "title-page", "contents"}, Body: []string{"sampler.md"},
	})
	if err != nil {
		t.Fatal(err)
	}
	if book.Modified.IsZero() {
		t.Error("no time of the last change")
	}
	const file = "testdata/sampler.txt"
	got := dump(book)
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(string(want), got); d != "" {
		t.Error(d)
	}
}
