package main

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"bodkin/markup/markuptest"
)

// typedParagraph is a paragraph as make_book.py takes it.
type typedParagraph struct {
	Heading bool     `json:"heading"`
	Runs    [][2]any `json:"runs"` // text, and whether it is in italics
}

var (
	escaped    = regexp.MustCompile(`\\([[:punct:]])`)
	underlined = regexp.MustCompile(`_[^_]+_`)
)

// typescript takes the Markdown of a text apart: its headings, and its
// paragraphs with what stands between underscores in italics.
func typescript(t *testing.T, text markuptest.Text) (all []typedParagraph, chapters int) {
	t.Helper()
	source, err := os.ReadFile(text.Path)
	if err != nil {
		t.Fatal(err)
	}
	for block := range strings.SplitSeq(string(source), "\n\n") {
		block = strings.Join(strings.Fields(block), " ")
		if block == "" {
			continue
		}
		p := typedParagraph{}
		if block, p.Heading = strings.CutPrefix(block, "# "); p.Heading {
			chapters++
		}
		block = escaped.ReplaceAllString(block, "$1")
		from := 0
		for _, m := range underlined.FindAllStringIndex(block, -1) {
			p.Runs = append(p.Runs, [2]any{block[from:m[0]], false}, [2]any{block[m[0]+1 : m[1]-1], true})
			from = m[1]
		}
		p.Runs = append(p.Runs, [2]any{block[from:], false})
		all = append(all, p)
	}
	return all, chapters
}

// TestIntakeOfBooks makes documents of both real texts with python3-docx and
// python3-odf, takes them in, and sets them: all letters arrive on the pages,
// and Tom Sawyer has its 35 chapters.
func TestIntakeOfBooks(t *testing.T) {
	const tools = "../../markup/wordproc/testdata/"
	for name, text := range map[string]markuptest.Text{"tom-sawyer": markuptest.TomSawyer(t), "opticks": markuptest.Opticks(t)} {
		paragraphs, chapters := typescript(t, text)
		if name == "tom-sawyer" && chapters != 35 {
			t.Fatalf("the test makes %d chapters", chapters)
		}
		b, err := json.Marshal(paragraphs)
		if err != nil {
			t.Fatal(err)
		}
		dir := t.TempDir()
		book := filepath.Join(dir, "book.json")
		if err := os.WriteFile(book, b, 0o666); err != nil {
			t.Fatal(err)
		}
		for _, format := range []string{".docx", ".odt"} {
			t.Run(name+format, func(t *testing.T) {
				document := filepath.Join(dir, name+format)
				out, err := exec.Command("/usr/bin/python3", tools+"make_book.py", book, document).CombinedOutput()
				if err != nil {
					t.Log(string(out))
				}
				markuptest.Need(t, "python3-docx or python3-odf", err)
				out, err = exec.Command("/usr/bin/python3", tools+"letters.py", document).Output()
				markuptest.Need(t, "python3-docx or python3-odf", err)
				if markuptest.Letters(string(out)) != text.Letters {
					t.Fatal("the document has not the letters of the text")
				}
				folder := filepath.Join(dir, name+strings.TrimPrefix(format, "."))
				var stdout, stderr bytes.Buffer
				if code := run([]string{"intake", document, "-o", folder, "--json"}, &stdout, &stderr); code != 0 {
					t.Fatalf("intake returns %d: %s", code, stderr.String())
				}
				var r struct {
					Pieces  []struct{ Role string }
					Equal   bool
					Letters struct{ Document, Chapters struct{ Letters int } }
				}
				if err := json.Unmarshal(stdout.Bytes(), &r); err != nil {
					t.Fatal(err)
				}
				letters := len([]rune(text.Letters))
				if len(r.Pieces) != chapters || !r.Equal || r.Letters.Document.Letters != letters || r.Letters.Chapters.Letters != letters {
					t.Errorf("%d pieces, not %d; equal: %v, %d letters in and %d out, not %d", len(r.Pieces), chapters, r.Equal, r.Letters.Document.Letters, r.Letters.Chapters.Letters, letters)
				}
				stdout.Reset()
				if code := run([]string{"proof", folder, "-o", filepath.Join(dir, name+".pdf")}, &stdout, &stderr); code != 0 {
					t.Fatalf("proof returns %d: %s", code, stderr.String())
				}
			})
		}
	}
}
