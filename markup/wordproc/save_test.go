package wordproc

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestSaveTwice writes the same bytes twice, never over edited files, and takes
// away what an earlier intake made and nobody edited.
func TestSaveTwice(t *testing.T) {
	dir := t.TempDir()
	book := filepath.Join(dir, "book")
	path := filepath.Join(dir, "novel.docx")
	save := func(force bool, chapters ...string) (*Saved, error) {
		t.Helper()
		body := ""
		for _, c := range chapters {
			body += `<w:p><w:pPr><w:pStyle w:val="H1"/></w:pPr>` + wr(c) + `</w:p>` + wp(filler)
		}
		if err := os.WriteFile(path, docxOf(t, body), 0o666); err != nil {
			t.Fatal(err)
		}
		d, err := Read(context.Background(), path, Options{})
		if err != nil {
			t.Fatal(err)
		}
		defer d.Close()
		saved, _, err := d.Recognise().Save(context.Background(), book, []File{{"book.toml", []byte("x")}}, force)
		return saved, err
	}
	read := func(name string) string {
		b, err := os.ReadFile(filepath.Join(book, name))
		if err != nil {
			return ""
		}
		return string(b)
	}
	saved, err := save(false, "Ebb", "Flood")
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff([]string{"book.toml", "chapters/01-ebb.md", "chapters/02-flood.md"}, saved.Written); diff != "" {
		t.Error(diff)
	}
	first := read("chapters/01-ebb.md")
	if saved, err = save(false, "Ebb", "Flood"); err != nil || len(saved.Written) > 0 || len(saved.Unchanged) != 3 || read("chapters/01-ebb.md") != first {
		t.Errorf("a second intake: %v, %v", saved, err)
	}
	// the document changes: nobody edited the chapters, so they follow it
	if saved, err = save(false, "Ebb", "Slack"); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(&Saved{Written: []string{"chapters/02-slack.md"}, Unchanged: []string{"book.toml", "chapters/01-ebb.md"}, Removed: []string{"chapters/02-flood.md"}}, saved); diff != "" {
		t.Error(diff)
	}
	if read("chapters/02-flood.md") != "" {
		t.Error("a chapter that is no more was left")
	}
	// an edited chapter
	if err := os.WriteFile(filepath.Join(book, "chapters/02-slack.md"), []byte("# Slack\n\nEdited.\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	_, err = save(false, "Ebb, anew", "Slack", "Flood")
	var edited *EditedError
	if !errors.As(err, &edited) || strings.Join(edited.Files, " ") != "chapters/02-slack.md" || !strings.Contains(err.Error(), "chapters/02-slack.md") {
		t.Fatalf("the error is %v", err)
	}
	if read("chapters/02-slack.md") != "# Slack\n\nEdited.\n" || read("chapters/03-flood.md") != "" || read("chapters/01-ebb.md") != first {
		t.Error("something was written all the same")
	}
	if saved, err = save(true, "Ebb, anew", "Slack", "Flood"); err != nil || !strings.Contains(read("chapters/02-slack.md"), filler) ||
		!slices.Equal(saved.Replaced, []string{"replaced/chapters/02-slack.md"}) || read("replaced/chapters/02-slack.md") != "# Slack\n\nEdited.\n" {
		t.Errorf("with force: %v, %v", saved, err)
	}
	// an edited one that is not made any more
	if err := os.WriteFile(filepath.Join(book, "chapters/03-flood.md"), []byte("# Flood\n\nEdited.\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	if _, err = save(false, "Ebb, anew", "Slack"); !errors.As(err, &edited) || read("chapters/03-flood.md") == "" {
		t.Errorf("an edited chapter that is no more: %v", err)
	}
	if saved, err = save(true, "Ebb, anew", "Slack"); err != nil || read("chapters/03-flood.md") != "" || read("replaced-2/chapters/03-flood.md") != "# Flood\n\nEdited.\n" {
		t.Errorf("with force: %v, %v", saved, err)
	}
	// a beginning is the author's once it has been edited
	if err := os.WriteFile(filepath.Join(book, "book.toml"), []byte("mine"), 0o666); err != nil {
		t.Fatal(err)
	}
	for _, force := range []bool{false, true, false} {
		saved, err = save(force, "Ebb", "Slack", "Neap")
		if err != nil || read("book.toml") != "mine" || len(saved.Kept) != 1 || read("chapters/03-neap.md") == "" {
			t.Errorf("an edited beginning: %v, %v, %q", saved, err, read("book.toml"))
		}
	}
	left, err := os.ReadDir(dir)
	if err != nil || len(left) != 2 {
		t.Errorf("something temporary was left: %v, %v", left, err)
	}
	// a folder with files of another's is not written over either
	other := filepath.Join(dir, "other")
	if err := os.MkdirAll(filepath.Join(other, "chapters"), 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(other, "chapters/01-ebb.md"), []byte("mine"), 0o666); err != nil {
		t.Fatal(err)
	}
	book = other
	var foreign *ForeignError
	if _, err := save(false, "Flood"); !errors.As(err, &foreign) || strings.Join(foreign.Files, " ") != "chapters/01-ebb.md" {
		t.Errorf("another's chapter: %v", err)
	}
	if _, err := save(false, "Ebb"); !errors.As(err, &edited) {
		t.Errorf("another's file: %v", err)
	}
	if err := os.WriteFile(filepath.Join(other, "book.toml"), []byte("mine"), 0o666); err != nil {
		t.Fatal(err)
	}
	if _, err := save(false, "Ebb"); !errors.As(err, &edited) || len(edited.Files) != 2 {
		t.Errorf("another's book.toml: %v", err)
	}
}

// TestCompareCounts sees text that the pieces have twice, or not at all, though
// the files say what the pieces do.
func TestCompareCounts(t *testing.T) {
	long := "A line of more letters than fit into one, which somebody ended by hand where his paragraphs end."
	document := docxOf(t, wp(filler)+`<w:p>`+wr(long)+`<w:r><w:br/></w:r>`+wr(long)+`<w:r><w:br/></w:r>`+wr(long)+`</w:p>`+wp("The end of it came late."))
	for _, c := range []struct {
		name  string
		spoil func(bs []block) []block
		want  []string
	}{
		{"nothing", func(bs []block) []block { return bs }, nil},
		{"a paragraph twice", func(bs []block) []block { return append(bs, bs[0]) }, []string{"paragraph 1"}},
		{"a paragraph lost", func(bs []block) []block { return bs[1:] }, []string{"paragraph 1"}},
		{"a line of a paragraph lost", func(bs []block) []block { return append(bs[:2:2], bs[3:]...) }, []string{"paragraph 2"}},
		{"a line of a paragraph twice", func(bs []block) []block { return append(bs, bs[2]) }, []string{"paragraph 2"}},
	} {
		k := take(t, "a.docx", document)
		p := k.m.Pieces[0]
		if len(p.blocks) != 5 {
			t.Fatalf("%d blocks", len(p.blocks))
		}
		p.blocks = c.spoil(p.blocks)
		k.m.write()
		if err := os.WriteFile(filepath.Join(k.dir, p.File), []byte(p.text), 0o666); err != nil {
			t.Fatal(err)
		}
		compared, err := k.m.Compare(context.Background(), k.dir)
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, d := range compared.Differences {
			at, _, _ := strings.Cut(d.String(), ":")
			got = append(got, at)
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", c.name, diff)
		}
	}
}
