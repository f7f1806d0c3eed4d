package markup

import (
	"context"
	"fmt"
	"slices"
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
		{"# A\n\nx.\n\n*\n\ny.", "#A | x. | SceneBreak | y."},
		{"# A\n\nx.\n\n+ + +\n\ny.", "#A | x. | SceneBreak | y."},
		{"# A\n\nx.\n\n- y\n-\n\nz.", "#A | x. | List | z."},
		{"# A\n\nx.\n\n~~~\n\ny.\n\n~~~\n\nz.", "#A | x. | SceneBreak | y. | SceneBreak | z."},
		{"# A\n\nx.\n\n~~~\ny.\n\n~~~\n\nz.", "#A | x. | Verbatim | z."},
		{"# A\n\nShe left.[^1]\n---\ny.\n\n[^1]: n", "#A | She left. | SceneBreak | y. | note of 1"},
		{"# A\n\n*“She left.”*\n---\ny.", "#A | “She left.” | SceneBreak | y."},
		{"# A\n\n\"Wait--\"\n---\ny.", "#A | “Wait—” | SceneBreak | y."},
		{"# A\n\nShe went home in the dark and did not look at the sea once more\n---\ny.",
			"#A | She went home in the dark and did not look at the sea once more | SceneBreak | y."},
		{"# A\n\n1. x\n\n   ```\n\n\ty\n   ```\n\nz", "#A | List | z"},
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
	inside, err := load(t, "en", "> She left.\n> ---\n> y.\n\n- # She left.\n  ---\n  x")
	if err != nil {
		t.Fatal(err)
	}
	q, l := inside.Sections[0].Blocks[0].(*Quotation), inside.Sections[0].Blocks[1].(*List)
	if got := kindsOf(&Book{Sections: []*Section{{Blocks: append(q.Blocks, l.Items[0].Blocks...)}}}); got != "She left. | SceneBreak | y. | Heading | SceneBreak | x" {
		t.Errorf("inside a quotation and a list: %s", got)
	}
	if at := q.Blocks[1].Position().Line; at != 2 {
		t.Errorf("the scene break is in line %d", at)
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

// The lines of a dedication and of an epigraph hold as they are typed; those of
// running prose, and of any other file, do not.
func TestHeldLines(t *testing.T) {
	long := "This line is one of prose that an editor has broken at its margin,\nand goes on."
	dir := folderOf(t, "dedication.md", "For my mother,\nwho read it first.\n\n"+long, "epigraph.md", "> To sea, to sea!\n> The calm is over.\n> -- Harbour Rules",
		"motto/epigraph.md", "```motto\nTo sea, to sea!\nThe calm is over.\n```", "1.md", "To sea, to sea!\nThe calm is over.")
	b, err := Load(context.Background(), Source{Dir: dir, Front: []string{"dedication.md", "epigraph.md", "motto/epigraph.md"}, Body: []string{"1.md"}})
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, s := range b.Sections {
		for _, block := range s.Blocks {
			if q, ok := block.(*Quotation); ok {
				for _, v := range q.Blocks {
					switch v := v.(type) {
					case *Verse:
						for _, line := range v.Stanzas[0] {
							got = append(got, "verse: "+Plain(line.Text))
						}
					case *Paragraph:
						got = append(got, "by: "+Plain(v.Text))
					}
				}
				continue
			}
			got = append(got, strings.Join(splitLinesOf(block.(*Paragraph).Text), " / "))
		}
	}
	want := []string{"For my mother, / who read it first.", strings.ReplaceAll(long, "\n", " "),
		"verse: To sea, to sea!", "verse: The calm is over.", "by: — Harbour Rules", "verse: To sea, to sea!", "verse: The calm is over.",
		"To sea, to sea! The calm is over."}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%q\nwant\n%q", got, want)
	}
}

// A spaced double hyphen is a closed-up em dash in the English of America (The
// Chicago Manual of Style on dashes, from memory) and a spaced en dash in that
// of Britain (common practice), wherever the line ends in the file.
func TestSpacedHyphens(t *testing.T) {
	for _, c := range [][3]string{
		{"word -- word", "word—word", "word – word"},
		{"word --  word", "word—word", "word – word"},
		{"word --\nword\n-- word", "word—word—word", "word – word – word"},
		{"*word* -- *word*", "word—word", "word – word"},
		{"word -- \"no\" -- word", "word—“no”—word", "word – “no” – word"},
		{"-- She left.\\\n-- So did he.", "— She left. — So did he.", "— She left. — So did he."},
		{"She left.\n-- Harbour Rules", "She left. — Harbour Rules", "She left. — Harbour Rules"},
		{"She was --", "She was—", "She was —"},
		{`"She was --" he said. "Was --?"`, "“She was—” he said. “Was—?”", "“She was —” he said. “Was —?”"},
		{`"-- and then," she said.`, "“—and then,” she said.", "“— and then,” she said."},
	} {
		for i, languages := range [][]string{{"en", "en-US", "en-CA"}, {"en-GB", "en-AU"}} {
			for _, lang := range languages {
				if got, want := textOf(t, lang, c[0]), c[1+i]; got != want {
					t.Errorf("%s: %q\n got %q\nwant %q", lang, c[0], got, want)
				}
			}
		}
	}
}

func splitLinesOf(text []Inline) (lines []string) {
	for _, line := range splitLines(text) {
		lines = append(lines, Plain(line))
	}
	return lines
}
