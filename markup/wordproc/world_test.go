package wordproc

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"bodkin/markup/markuptest"

	"github.com/google/go-cmp/cmp"
)

// python is Debian's, whose libraries the tests use.
const python = "/usr/bin/python3"

// independent is the text of a document as other readers find it: python3-docx
// for WordprocessingML, python3-odf for OpenDocument.
func independent(t testing.TB, paths ...string) []string {
	t.Helper()
	command := exec.Command(python, append([]string{"testdata/letters.py"}, paths...)...)
	var said strings.Builder
	command.Stderr = &said
	out, err := command.Output()
	if err != nil && strings.Contains(said.String(), paths[0][strings.LastIndexByte(paths[0], '.'):]+": ") {
		t.Fatal(said.String()) // a document that the other reader cannot read
	}
	markuptest.Need(t, "python3-docx or python3-odf", err)
	return strings.Split(string(out), "\f")
}

// TestConstructsAsOthersReadThem compares the letters of every construct with
// those that other readers find.
func TestConstructsAsOthersReadThem(t *testing.T) {
	dir := t.TempDir()
	var paths []string
	for i, c := range constructs {
		for name, document := range map[string][]byte{"docx": docxOf(t, wHead+c.wml, c.parts...), "odt": odtOf(t, oHead+c.odt, c.odtParts...)} {
			path := filepath.Join(dir, fmt.Sprintf("%03d.%s", i, name))
			if err := os.WriteFile(path, document, 0o666); err != nil {
				t.Fatal(err)
			}
			paths = append(paths, path)
		}
	}
	slices.Sort(paths)
	for i, text := range independent(t, paths...) {
		c := constructs[i/2]
		d, err := Read(context.Background(), paths[i], Options{})
		if err != nil {
			t.Fatal(err)
		}
		d.Close()
		theirs, ours := markuptest.Letters(nfc(text)), markuptest.Letters(d.whole())
		if c.apart == "order" {
			theirs, ours = sorted(theirs), sorted(ours)
		}
		if theirs != ours && c.apart != "seen" {
			t.Errorf("%s, %s: another reader finds %q, this one %q", c.name, filepath.Ext(paths[i]), theirs, ours)
		}
	}
}

func sorted(s string) string {
	r := []rune(s)
	slices.Sort(r)
	return string(r)
}

// whole is the text of a document as it was read: paragraphs, then notes.
func (d *Document) whole() string {
	var b strings.Builder
	var walk func(ps []*Paragraph)
	walk = func(ps []*Paragraph) {
		for _, p := range ps {
			if p.Table != nil {
				for _, row := range p.Table.Rows {
					for _, c := range row {
						walk(c)
					}
				}
			}
			b.WriteString(p.Text() + "\n")
		}
	}
	walk(d.Paragraphs)
	for _, n := range d.Notes {
		walk(n.Paragraphs)
	}
	return b.String()
}

// TestDocumentsOfLibraries takes in what general-purpose libraries wrote: the
// npm package docx 9.15.2 (make_rich.mjs) and python3-odf 1.4.2
// (make_rich.py). Their letters are those that other readers find.
func TestDocumentsOfLibraries(t *testing.T) {
	for _, name := range []string{"rich.docx", "rich.odt"} {
		t.Run(name, func(t *testing.T) {
			path := "testdata/" + name
			k := takeFile(t, path, t.TempDir())
			for _, d := range k.compared.Differences {
				t.Errorf("letters differ: %v", d)
			}
			want, err := os.ReadFile(path + ".md")
			if os.Getenv("UPDATE") != "" {
				err = os.WriteFile(path+".md", []byte(k.text(t)), 0o666)
			}
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(string(want), k.text(t)); diff != "" {
				t.Errorf("the chapters (-want +got):\n%s", diff)
			}
			if k.m.Title != "The Borrowed Tide" || k.m.Subtitle != "A Novel" || k.m.Author != "Ines Marrow" {
				t.Errorf("the book is %q, %q, by %q", k.m.Title, k.m.Subtitle, k.m.Author)
			}
			if diff := cmp.Diff(markuptest.Letters(independent(t, path)[0]), markuptest.Letters(k.doc.whole())); diff != "" {
				t.Errorf("letters of another reader (-) and of this one (+):\n%s", diff)
			}
		})
	}
}
