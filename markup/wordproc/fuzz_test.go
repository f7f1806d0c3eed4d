package wordproc

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"testing"
)

// fuzzed takes a document in. What is read can be written and read again, and
// its letters are all there, or else it is refused in one line.
func fuzzed(t *testing.T, name string, document []byte) {
	d, err := read(context.Background(), name, bytes.NewReader(document), int64(len(document)), Options{})
	if err != nil {
		var e *Error
		if !errors.As(err, &e) || bytes.ContainsRune([]byte(err.Error()), '\n') {
			t.Fatalf("the error is %q", err)
		}
		return
	}
	dir := t.TempDir()
	if d.Format == "Markdown" { // its letters are those of its file
		d.Name = filepath.Join(dir, "novel.md")
		if err := os.WriteFile(d.Name, document, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	_, compared, err := d.Recognise().Save(context.Background(), filepath.Join(dir, "book"), nil, false)
	if err != nil {
		if d.Format == "Markdown" {
			return // the manuscript has faults of its own
		}
		t.Fatal(err)
	}
	if !compared.Equal() {
		t.Fatalf("letters differ: %v", compared.Differences)
	}
}

func FuzzWML(f *testing.F) {
	for _, c := range constructs {
		f.Add(wHead + c.wml)
	}
	wml, _ := typed(unstyled)
	f.Add(wml)
	f.Fuzz(func(t *testing.T, body string) { fuzzed(t, "novel.docx", docxOf(t, body)) })
}

func FuzzODT(f *testing.F) {
	for _, c := range constructs {
		f.Add(oHead + c.odt)
	}
	_, odt := typed(unstyled)
	f.Add(odt)
	f.Fuzz(func(t *testing.T, body string) { fuzzed(t, "novel.odt", odtOf(t, body)) })
}

// FuzzPackage reads any bytes.
func FuzzPackage(f *testing.F) {
	f.Add(docxOf(f, wp("One.")))
	f.Add(odtOf(f, op("One.")))
	f.Add([]byte("# One\n\nTwo[^1].\n\n[^1]: Three.\n"))
	f.Add([]byte("CHAPTER I\n\nOne\ntwo _three_.\n"))
	f.Fuzz(func(t *testing.T, document []byte) { fuzzed(t, "novel", document) })
}
