package main

import (
	"archive/zip"
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"bodkin/markup/markuptest"
)

// wordprocessing writes a package of WordprocessingML (ISO/IEC 29500) without styles, its
// chapters on new pages under centred lines, as authors type them.
func wordprocessing(t *testing.T, path, text string) {
	t.Helper()
	escape := strings.NewReplacer("&", "&amp;", "<", "&lt;")
	var body strings.Builder
	for _, paragraph := range regexp.MustCompile(`\n\s*\n`).Split(text, -1) {
		paragraph = strings.Join(strings.Fields(paragraph), " ")
		if paragraph == "" {
			continue
		}
		look := `<w:ind w:firstLine="360"/>`
		if title, is := strings.CutPrefix(paragraph, "# "); is {
			paragraph, look = title, `<w:pageBreakBefore/><w:jc w:val="center"/>`
		}
		fmt.Fprintf(&body, "<w:p><w:pPr>%s</w:pPr>", look)
		for i, run := range strings.Split(regexp.MustCompile(`\*([^*]+)\*`).ReplaceAllString(paragraph, "\x00$1\x00"), "\x00") {
			if run != "" {
				fmt.Fprintf(&body, `<w:r>%s<w:t xml:space="preserve">%s</w:t></w:r>`, []string{"", "<w:rPr><w:i/></w:rPr>"}[i%2], escape.Replace(run))
			}
		}
		body.WriteString("</w:p>")
	}
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, part := range [][2]string{
		{"[Content_Types].xml", `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/><Override PartName="/word/document.xml" ContentType="application/vnd.openxmlformats-officedocument.wordprocessingml.document.main+xml"/></Types>`},
		{"_rels/.rels", `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="r1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="word/document.xml"/></Relationships>`},
		{"word/document.xml", `<w:document xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main"><w:body>` + body.String() + `</w:body></w:document>`},
	} {
		w, err := z.Create(part[0])
		if err == nil {
			_, err = w.Write([]byte(part[1]))
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, b.Bytes(), 0o666); err != nil {
		t.Fatal(err)
	}
}

// A novel goes from a document to a proof in two calls: its chapters are found
// by their look alone, and the letters on the pages are those of the novel.
func TestDocumentToProof(t *testing.T) {
	dir := t.TempDir()
	tom := markuptest.TomSawyer(t)
	text, err := os.ReadFile(tom.Path)
	if err != nil {
		t.Fatal(err)
	}
	document, book, out := filepath.Join(dir, "tom.docx"), filepath.Join(dir, "book"), filepath.Join(dir, "out.pdf")
	wordprocessing(t, document, string(text))
	var stdout, stderr bytes.Buffer
	if code := run([]string{"intake", document, "-o", book}, &stdout, &stderr); code != 0 {
		t.Fatalf("exit %d: %s", code, &stderr)
	}
	if !regexp.MustCompile(`(?m)^ +found +35 chapters$`).Match(stdout.Bytes()) || !strings.Contains(stdout.String(), "letter by letter: equal") {
		t.Errorf("it tells\n%s", &stdout)
	}
	if what := regexp.MustCompile(`(?m)^  (sign|verse|quotation|letter|motto|place and date|heading inside a chapter): .*`).FindAllString(stdout.String(), -1); what != nil {
		t.Errorf("in a novel of plain text it takes for what it is not:\n%s", strings.Join(what, "\n"))
	}
	if code := run([]string{"proof", book, "-o", out}, new(bytes.Buffer), &stderr); code != 0 {
		t.Fatalf("exit %d: %s", code, &stderr)
	}
	compare(t, tom.Letters, printed(t, out, layoutOf(t, book)))

	// The same document gives the same bytes; what was edited is not lost.
	first := filepath.Join(book, "chapters", "01-chapter-i.md")
	before, err := os.ReadFile(first)
	if err != nil {
		t.Fatal(err)
	}
	again := filepath.Join(dir, "again")
	if code := run([]string{"intake", document, "-o", again}, new(bytes.Buffer), &stderr); code != 0 {
		t.Fatalf("exit %d: %s", code, &stderr)
	}
	if same, err := os.ReadFile(filepath.Join(again, "chapters", "01-chapter-i.md")); err != nil || !bytes.Equal(before, same) {
		t.Errorf("the same document gave other bytes (%v)", err)
	}
	edited := append(before, "\nA line of the author's own.\n"...)
	if err := os.WriteFile(first, edited, 0o666); err != nil {
		t.Fatal(err)
	}
	if code := run([]string{"intake", document, "-o", book}, new(bytes.Buffer), &stderr); code == 0 {
		t.Error("it wrote over a chapter that was edited")
	}
	if now, err := os.ReadFile(first); err != nil || !bytes.Equal(now, edited) {
		t.Errorf("the edited chapter is gone (%v)", err)
	}
}
