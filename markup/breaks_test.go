package markup

import (
	"fmt"
	"strings"
	"testing"
)

// kindsOf names the blocks of the sections of a file.
func kindsOf(b *Book) string {
	var all []string
	for _, s := range b.Sections {
		if len(s.Title)+len(s.Number) > 0 {
			all = append(all, "#"+Plain(s.Number)+Plain(s.Title))
		}
		for _, block := range s.Blocks {
			name := strings.TrimPrefix(fmt.Sprintf("%T", block), "*markup.")
			if p, is := block.(*Paragraph); is {
				name = Plain(p.Text)
			}
			all = append(all, name)
		}
		for _, n := range s.Notes {
			all = append(all, fmt.Sprintf("note of %d", len(n.Blocks)))
		}
	}
	return strings.Join(all, " | ")
}

// What authors type between scenes and before paragraphs, as they type it.
func TestAsAuthorsType(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"# A\n\nx.\n\n#\n\ny.", "#A | x. | SceneBreak | y."},
		{"# A\n\nx.\n\n# # #\n\ny.", "#A | x. | SceneBreak | y."},
		{"# A\n\nx.\n\n~\n\ny.", "#A | x. | SceneBreak | y."},
		{"# A\n\nx.\n\n• • •\n\ny.", "#A | x. | SceneBreak | y."},
		{"# A\n\nx.\n\n⁂\n\ny.", "#A | x. | SceneBreak | y."},
		{"# A\n\nx.\n\n————————\n\ny.", "#A | x. | ———————— | y."},
		{"# A\n\nShe left.\n---\nHe stayed.", "#A | She left. | SceneBreak | He stayed."},
		{"# A\n\n\"She left,\" he said.\n---\n\ny.", "#A | “She left,” he said. | SceneBreak | y."},
		{"Chapter One\n===\n\nx.\n\nA Heading\n---\n\ny.", "#Chapter One | x. | Heading | y."},
		{"# A\n\nx[^1].\n\n[^1]: A note.\n\n\tThe story goes on.\n\n\tAnd on.", "#A | x. | The story goes on. | And on. | note of 1"},
		{"# A\n\nx[^1].\n\n[^1]: A note.\n\n    It goes on.\n\ny.", "#A | x. | y. | note of 2"},
		{"# A\n\n1. One\n\n\tThe story goes on.", "#A | List | The story goes on."},
		{"# A\n\n1. One\n\n   It goes on.\n\ny.", "#A | List | y."},
		{"# A\n\n- One\n\n\t- Two\n\ny.", "#A | List | y."},
		{"# A\n\n- | a | b |\n  |---|---|\n  | c | d |", "#A | List"},
	} {
		b, err := load(t, "en", c.text)
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		if got := kindsOf(b); got != c.want {
			t.Errorf("%q\n got %s\nwant %s", c.text, got, c.want)
		}
	}
	letter := "# A\n\n```letter\n14 Hope Street\nPellam\n3rd November 1911\n\nDear Rose,\n\nThe tide was late, and\nso were we.\n\nYour brother,\nTom\n```\n"
	b, err := load(t, "en", letter)
	if err != nil {
		t.Fatal(err)
	}
	got := ""
	for _, block := range b.Sections[0].Blocks[0].(*Quotation).Blocks {
		p := block.(*Paragraph)
		got += fmt.Sprintf("%d %q ", p.Use, splitLinesOf(p.Text))
	}
	want := `5 ["14 Hope Street" "Pellam" "3rd November 1911"] 3 ["Dear Rose,"] 0 ["The tide was late, and so were we."] 4 ["Your brother," "Tom"] `
	if got != want {
		t.Errorf("a letter as it is typed:\n got %s\nwant %s", got, want)
	}
	for text, want := range map[string]string{
		"PK\x03\x04xyz":   "a.md: the file is a document of a word processor",
		"{\\rtf1 text}":   "a.md: the file is a document in rich text",
		"%PDF-1.4 object": "a.md: the file is a PDF",
	} {
		if _, err := load(t, "en", text); err == nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%q: %v", text, err)
		}
	}
}

func splitLinesOf(text []Inline) (lines []string) {
	for _, line := range splitLines(text) {
		lines = append(lines, Plain(line))
	}
	return lines
}
