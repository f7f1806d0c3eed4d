package wordproc

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestJoin takes in documents that have notes and pictures of the same names,
// in the order of their names; what has no heading has that of its file.
func TestJoin(t *testing.T) {
	dir := t.TempDir()
	folder := filepath.Join(dir, "the-tide_clerk")
	put := func(name string, document []byte) {
		t.Helper()
		if err := os.MkdirAll(folder, 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(folder, name), document, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	picture := `<w:p><w:r><w:drawing><wp:inline><wp:docPr id="1" name="p" descr="A dial"/><a:blip r:embed="p"/></wp:inline></w:drawing></w:r></w:p>`
	body := wp(filler) + `<w:p>` + wr("Past ten") + `<w:r><w:footnoteReference w:id="2"/></w:r></w:p>` + picture
	note := func(text string) part {
		return part{"word/footnotes.xml", `<w:footnotes ` + wmlNames + `><w:footnote w:id="2">` + wp(text) + `</w:footnote></w:footnotes>`}
	}
	put("00 title.docx", docxOf(t, wpp(wCentred, "The Tide Clerk")+wpp(wCentred, "by")+wpp(wCentred, "Ines Marrow")))
	put("01 Dedication.docx", docxOf(t, wp(filler)))
	put("01 Ebb.docx", docxOf(t, body, note("One.")))
	put("2_The Flood.docx", docxOf(t, wpp(wCentred, "Chapter Two")+body, note("Two.")))
	put("10.odt", odtOf(t, oHead+op("Past ten"+`<text:note text:note-class="footnote"><text:note-citation>1</text:note-citation><text:note-body><text:p>Ten.</text:p></text:note-body></text:note>`)))
	put("~$10.docx", []byte("a lock"))
	put("notes.pdf", []byte("%PDF"))
	d, err := ReadAll(context.Background(), []string{folder}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	m := d.Recognise()
	book := filepath.Join(dir, "book")
	_, compared, err := m.Save(context.Background(), book, nil, false)
	if err != nil {
		t.Fatal(err)
	}
	if !compared.Equal() || compared.Lists.Letters != 3 {
		t.Errorf("%v; %d letters of names", compared.Differences, compared.Lists.Letters)
	}
	k := &taken{dir: book, doc: d, m: m, compared: compared}
	want := strings.ReplaceAll(`== front/dedication.md
FILLER
== chapters/01-ebb.md
# Ebb

FILLER

Past ten[^1]

![A dial](../pictures/01-a-dial.png)

[^1]: One.
== chapters/02-chapter-two.md
# Chapter Two

FILLER

Past ten[^1]

![A dial](../pictures/02-a-dial.png)

[^1]: Two.
== chapters/03-ebb.md
# Ebb

Past ten[^1]

[^1]: Ten.
`, "FILLER", filler)
	if diff := cmp.Diff(want, k.text(t)); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	if m.Title != "The Tide Clerk" || m.Author != "Ines Marrow" || d.Format != "several formats" {
		t.Errorf("%q, %q, %q", m.Title, m.Author, d.Format)
	}
	for _, p := range d.Paragraphs {
		name, n := d.Place(p.N)
		if strings.HasPrefix(p.Text(), "Past ten") && filepath.Base(name) == "01 Ebb.docx" && n != 2 {
			t.Errorf("%q is paragraph %d of %s", p.Text(), n, name)
		}
	}
	for i, want := range []string{"01 Ebb.docx", "2_The Flood.docx", "10.odt"} {
		name, n := d.Place(d.Notes[i].Paragraphs[0].N)
		if filepath.Base(name) != want || n != -1 {
			t.Errorf("note %d stands in %s, as paragraph %d", i+1, name, n)
		}
	}
	if err := d.Close(); err != nil {
		t.Error(err)
	}
	put("11.docx", []byte("PK\x03\x04"))
	var e *Error
	if _, err := ReadAll(context.Background(), []string{folder}, Options{}); !errors.As(err, &e) || e.File != filepath.Join(folder, "11.docx") {
		t.Errorf("a damaged one: %v", err)
	}
}
