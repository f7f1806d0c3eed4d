package wordproc

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/binary"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

// TestRefusals refuses what is no document, or is one of mischief, in one line
// that says what and where.
func TestRefusals(t *testing.T) {
	deep := strings.Repeat("<w:sdt><w:sdtContent>", 3000)
	bomb := strings.Repeat("<w:p/>", 8<<20/6)
	many := func() []byte {
		var b bytes.Buffer
		z := zip.NewWriter(&b)
		for i := range maxEntries + 1 {
			if _, err := z.CreateHeader(&zip.FileHeader{Name: "a" + itoa(i), Method: zip.Store}); err != nil {
				t.Fatal(err)
			}
		}
		if err := z.Close(); err != nil {
			t.Fatal(err)
		}
		return b.Bytes()
	}
	encrypted := docxOf(t, wp("One."))
	for i := 0; i+46 < len(encrypted); i++ { // the flag of encryption in the directory (4.4.4 of the format's note)
		if bytes.HasPrefix(encrypted[i:], []byte("PK\x01\x02")) {
			binary.LittleEndian.PutUint16(encrypted[i+8:], binary.LittleEndian.Uint16(encrypted[i+8:])|1)
		}
	}
	stored := func(body string) []byte { // so that it grows no more than a text does
		return storedZip(t, part{"_rels/.rels", `<Relationships ` + relNames + `><Relationship Id="d" Type="` + relBase + `/officeDocument" Target="d.xml"/></Relationships>`},
			part{"d.xml", `<w:document ` + wmlNames + `><w:body>` + body + `</w:body></w:document>`})
	}
	flood := func(s string) string { return strings.Repeat(s, 48<<20/len(s)) }
	doc := func(xml string) []byte {
		return zipped(t, part{"_rels/.rels", `<Relationships ` + relNames + `><Relationship Id="d" Type="` + relBase + `/officeDocument" Target="d.xml"/></Relationships>`}, part{"d.xml", xml})
	}
	for _, c := range []struct {
		name string
		file []byte
		want string
	}{
		{"zip bomb", doc(`<w:document ` + wmlNames + `><w:body>` + bomb + `</w:body></w:document>`), "would grow from"},
		{"entities", doc(`<!DOCTYPE d [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;">]><w:document ` + wmlNames + `><w:body>` + wp("&b;") + `</w:body></w:document>`), "d.xml:1: it declares a document type"},
		{"outer entity", doc(`<!DOCTYPE d SYSTEM "file:///etc/passwd"><d/>`), "it declares a document type"},
		{"unknown entity", doc(`<w:document ` + wmlNames + `><w:body>` + wp("&b;") + `</w:body></w:document>`), "the XML is damaged"},
		{"nesting", doc(`<w:document ` + wmlNames + `><w:body>` + deep), "elements stand more than 200 deep"},
		{"a flood of paragraphs", stored(flood(`<w:p/>`)), "more than 200000 paragraphs"},
		{"a flood of looks", stored(`<w:p>` + flood(`<w:r><w:t>a</w:t></w:r><w:r><w:rPr><w:i/></w:rPr><w:t>b</w:t></w:r>`) + `</w:p>`), "more than 200000 paragraphs"},
		{"a flood of line ends", stored(`<w:p><w:r>` + flood(`<w:br/>`) + `</w:r></w:p>`), "more than 200000 paragraphs"},
		{"a flood of cells", stored(`<w:tbl><w:tr>` + flood(`<w:tc/>`) + `</w:tr></w:tbl>`), "more than 200000 paragraphs"},
		{"a flood of text", stored(`<w:p><w:r><w:t>` + flood(`ab `) + `</w:t></w:r></w:p>`), "is longer than 1 MiB"},
		{"a flood of texts", stored(flood(`<w:p><w:r><w:t>` + strings.Repeat("ab ", 100_000) + `</w:t></w:r></w:p>`)), "more than 16 MiB of text"},
		{"a flood of attributes", stored(`<w:p ` + flood(`a="" `) + `/>`), "is longer than 1 MiB"},
		{"a flood of styles", zipped(t, part{"content.xml", `<office:document-content ` + odtNames + `><office:automatic-styles>` + distinct(`<style:style style:name="P%d"/>`, 400_000) + `</office:automatic-styles></office:document-content>`}), "more than 200000 paragraphs"},
		{"spaces that grow", zipped(t, part{"content.xml", `<office:document-content ` + odtNames + `><office:body><office:text><text:p>` + distinct(`<text:s text:c="200" text:n="%d"/>a`, 100_000) + `</text:p></office:text></office:body></office:document-content>`}), "more than 16 MiB of text"},
		{"truncated XML", doc(`<w:document ` + wmlNames + `><w:body><w:p>`), "the XML is damaged"},
		{"path out", zipped(t, part{"_rels/.rels", ""}, part{"../../evil", "x"}), "leads out of the package"},
		{"path from the root", zipped(t, part{"/etc/passwd", "x"}), "leads out of the package"},
		{"path with backslashes", zipped(t, part{`..\evil`, "x"}), "leads out of the package"},
		{"relationship out", zipped(t, part{"_rels/.rels", `<Relationships ` + relNames + `><Relationship Id="d" Type="` + relBase + `/officeDocument" Target="../../../etc/passwd"/></Relationships>`}), "a relationship leads out of the package"},
		{"a part twice", zipped(t, part{"a", "x"}, part{"a", "y"}), "twice"},
		{"too many parts", many(), "the package has 10001 parts"},
		{"password", encrypted, "protected by a password"},
		{"password of OpenDocument", zipped(t, part{"mimetype", "application/vnd.oasis.opendocument.text"}, part{"META-INF/manifest.xml",
			`<manifest:manifest xmlns:manifest="urn:oasis:names:tc:opendocument:xmlns:manifest:1.0"><manifest:file-entry><manifest:encryption-data/></manifest:file-entry></manifest:manifest>`}, part{"content.xml", "x"}), "protected by a password"},
		{"spreadsheet", zipped(t, part{"mimetype", "application/vnd.oasis.opendocument.spreadsheet"}), "another kind: spreadsheet"},
		{"another package", zipped(t, part{"mimetype", "application/epub+zip"}), "no word-processing document"},
		{"a packed folder", zipped(t, part{"chapter.md", "x"}), "no word-processing document"},
		{"no document named", zipped(t, part{"_rels/.rels", `<Relationships ` + relNames + `/>`}), "names no document"},
		{"no content", zipped(t, part{"mimetype", "application/vnd.oasis.opendocument.text"}), "content.xml: this part of the package is missing"},
		{"damaged zip", append([]byte("PK\x03\x04"), make([]byte, 100)...), "the package is damaged"},
		{"binary document", []byte("\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1xxxx"), "binary form"},
		{"rich text", []byte(`{\rtf1 x}`), "rich text"},
		{"PDF", []byte("%PDF-1.7"), "this is a PDF"},
		{"no text", []byte("a\x00b"), "this is no text"},
		{"nothing", nil, "the file is empty"},
		{"an empty document", docxOf(t, wp("")), "the document holds no text"},
		{"another encoding", doc(`<?xml version="1.0" encoding="EBCDIC"?><a/>`), "encoding"},
	} {
		t.Run(c.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "novel.docx")
			if err := os.WriteFile(path, c.file, 0o666); err != nil {
				t.Fatal(err)
			}
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			d, err := Read(context.Background(), path, Options{})
			if err == nil {
				d.Close()
				t.Fatal("it was read")
			}
			if runtime.ReadMemStats(&after); after.TotalAlloc-before.TotalAlloc > 300<<20 {
				t.Errorf("the refusal took %d MiB, all in all", (after.TotalAlloc-before.TotalAlloc)>>20)
			}
			s := err.Error()
			if !strings.HasPrefix(s, path+": ") || !strings.Contains(s, c.want) || strings.Contains(s, "\n") || len(s) > len(path)+300 {
				t.Errorf("the error is %q, and should say %q in one line", s, c.want)
			}
		})
	}
}

// distinct is a text over and over, with a number that makes it pack badly.
func distinct(format string, n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, format, i*7919)
	}
	return b.String()
}

// TestTooManyChapters refuses a text that falls into more files than a book
// has, and writes none.
func TestTooManyChapters(t *testing.T) {
	dir := t.TempDir()
	text := strings.Repeat("# a\n\nb\n\n", maxFiles+1)
	d, err := read(context.Background(), "novel.md", strings.NewReader(text), int64(len(text)), Options{})
	if err != nil {
		t.Fatal(err)
	}
	_, _, err = d.Recognise().Save(context.Background(), filepath.Join(dir, "book"), nil, false)
	if err == nil || !strings.Contains(err.Error(), "it falls into 3001 chapters") {
		t.Errorf("the error is %v", err)
	}
	if left, _ := os.ReadDir(dir); len(left) > 0 {
		t.Errorf("something was written: %v", left)
	}
}

func TestStrict(t *testing.T) {
	path := filepath.Join(t.TempDir(), "novel.docx")
	body := wp("One.") + `<w:p><w:ins w:id="1" w:author="E">` + wr("very ") + `</w:ins>` + wr("late") + `<w:del w:id="2"><w:r><w:delText>ish</w:delText></w:r></w:del></w:p>`
	if err := os.WriteFile(path, docxOf(t, body), 0o666); err != nil {
		t.Fatal(err)
	}
	_, err := Read(context.Background(), path, Options{Strict: true})
	if want := `the document has 2 tracked changes that nobody has settled yet, the first in paragraph 2 ("very")`; err == nil || !strings.Contains(err.Error(), want) {
		t.Errorf("the error is %v", err)
	}
	d, err := Read(context.Background(), path, Options{})
	if err != nil {
		t.Fatal(err)
	}
	d.Close()
}

func TestCancelled(t *testing.T) {
	path := filepath.Join(t.TempDir(), "novel.docx")
	if err := os.WriteFile(path, docxOf(t, wp("One.")), 0o666); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Read(ctx, path, Options{}); err != context.Canceled {
		t.Errorf("the error is %v", err)
	}
}
