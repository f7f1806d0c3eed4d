package markup

import (
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
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
	kinds := []string{"written", "half-title", "title-page", "contents", "notes"}
	for _, sec := range b.Sections {
		fmt.Fprintf(&s, "\n%s %s, %s%s\n", sec.Pos, matters[sec.Matter], kinds[sec.Kind], particulars(sec))
		for _, in := range sec.Number {
			fmt.Fprintf(&s, "%4d   number %d: %q\n", in.Pos.Line, sec.Ordinal, in.Text)
		}
		dumpText(&s, 1, sec.Title)
		dumpBlocks(&s, 1, sec.Blocks)
		for i, n := range sec.Notes {
			fmt.Fprintf(&s, "%4d note %d (%s)\n", n.Pos.Line, i+1, n.Label)
			dumpBlocks(&s, 1, n.Blocks)
		}
	}
	return s.String()
}

// particulars are the fields of a section that are mostly empty.
func particulars(s *Section) string {
	var of []string
	if s.Piece != Chapter {
		of = append(of, []string{"", "part", "copyright", "dedication", "epigraph", "plate"}[s.Piece])
	}
	if s.Side != ByCustom {
		of = append(of, []string{"", "on recto", "on verso", "on either side"}[s.Side])
	}
	if s.Unlisted {
		of = append(of, "unlisted")
	}
	if s.Plain {
		of = append(of, "plain")
	}
	if s.Head != "" {
		of = append(of, fmt.Sprintf("head %q", s.Head))
	}
	if s.Language != "" {
		of = append(of, "in "+s.Language)
	}
	if len(of) == 0 {
		return ""
	}
	return ", " + strings.Join(of, ", ")
}

func dumpBlocks(s *strings.Builder, depth int, bs []Block) {
	for _, b := range bs {
		line := func(format string, args ...any) {
			fmt.Fprintf(s, "%4d %s%s\n", b.Position().Line, strings.Repeat("  ", depth), fmt.Sprintf(format, args...))
		}
		switch b := b.(type) {
		case *Paragraph:
			line("%s", []string{"paragraph", "dateline", "attribution", "salutation", "signature", "address"}[b.Use])
			dumpText(s, depth+1, b.Text)
		case *Heading:
			line("heading %d", b.Level)
			dumpText(s, depth+1, b.Text)
		case *Quotation:
			line("%s", []string{"quotation", "motto", "letter"}[b.Form])
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
		case *Verse:
			line("verse")
			for _, stanza := range b.Stanzas {
				fmt.Fprintf(s, "%4d %sstanza\n", stanza[0].Text[0].Pos.Line, strings.Repeat("  ", depth+1))
				for _, l := range stanza {
					fmt.Fprintf(s, "     %sindent %d\n", strings.Repeat("  ", depth+2), l.Indent)
					dumpText(s, depth+2, l.Text)
				}
			}
		case *Sign:
			line("sign")
			dumpTexts(s, depth+1, "line", b.Lines)
		case *Table:
			line("table %v", b.Columns)
			dumpTexts(s, depth+1, "head", b.Head)
			for _, row := range b.Rows {
				fmt.Fprintf(s, "     %srow\n", strings.Repeat("  ", depth+1))
				dumpTexts(s, depth+2, "cell", row)
			}
		case *Picture:
			line("picture %s %q place %d width %d", filepath.ToSlash(b.Path), b.Alt, b.Place, b.Width)
			dumpText(s, depth+1, b.Caption)
		}
	}
}

func dumpTexts(s *strings.Builder, depth int, name string, texts [][]Inline) {
	for _, text := range texts {
		fmt.Fprintf(s, "     %s%s\n", strings.Repeat("  ", depth), name)
		dumpText(s, depth+1, text)
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
		for i, name := range []string{"emphasis", "strong", "code", "caps", "inscribed", "raised", "lowered"} {
			if in.Style&(1<<i) != 0 {
				s.WriteString(" " + name)
			}
		}
		if in.Lang != "" {
			s.WriteString(" in " + in.Lang)
		}
		if in.Link != "" {
			s.WriteString(" -> " + in.Link)
		}
		s.WriteByte('\n')
	}
}

// Every form of Markdown, in one file, and all that a book can be made of.
func TestGolden(t *testing.T) {
	for _, c := range []struct {
		golden string
		src    Source
	}{
		{"testdata/sampler.txt", Source{
			Dir: "testdata", Title: "Sampler", Author: "A. Clerk",
			Front: []string{"half-title", "title-page", "contents"}, Body: []string{"sampler.md"},
		}},
		{"testdata/forms.txt", Source{
			Dir: "testdata/forms", Title: "Forms", Author: "A. Clerk",
			Front: []string{"half-title", "title-page", "front/02-Copyright.md", "front/Dedication.md", "front/epigraph.md", "contents on next", "front/map.md on verso"},
			Body:  []string{"book.md"}, Back: []string{"notes"},
		}},
	} {
		book, err := Load(context.Background(), c.src)
		if err != nil {
			t.Fatal(err)
		}
		if book.Modified.IsZero() {
			t.Error("no time of the last change")
		}
		got := dump(book)
		if *update {
			if err := os.WriteFile(c.golden, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(c.golden)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(string(want), got); d != "" {
			t.Error(d)
		}
	}
}
