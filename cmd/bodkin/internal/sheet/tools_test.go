package sheet

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"bodkin/cmd/bodkin/internal/bookfile"
	"bodkin/markup"
	"bodkin/typeset"
	"bodkin/typeset/length"
	"bodkin/typeset/pdf"
)

// demo composes the demonstration book.
var demo = sync.OnceValues(func() (*typeset.Composer, error) {
	file, err := bookfile.Load("../../../../testdata/tide-clerk")
	if err != nil {
		return nil, err
	}
	book, err := markup.Load(context.Background(), file.Source)
	if err != nil {
		return nil, err
	}
	return typeset.NewComposer(book, typeset.Resources{}), nil
})

// edition sets the demonstration book in a trim.
func edition(t *testing.T, name, trim string, change func(*typeset.Setting)) Edition {
	t.Helper()
	composer, err := demo()
	if err != nil {
		t.Fatal(err)
	}
	s := typeset.Default()
	if s.Trim, err = typeset.ParseTrim(trim); err != nil {
		t.Fatal(err)
	}
	if change != nil {
		change(&s)
	}
	l, err := composer.Compose(t.Context(), s)
	if err != nil {
		t.Fatal(err)
	}
	// 0.128 mm a leaf.
	return Edition{Name: name, Layout: l, Spine: mm(1).Scale(128*int64(len(l.Pages)), 2000), Stock: "cream 80 gsm"}
}

func size(pt int64) func(*typeset.Setting) {
	return func(s *typeset.Setting) {
		s.Size = length.Value{Length: length.Length(pt) * length.Point}
		s.Leading = typeset.Leading{Kind: typeset.Percent, Thousandth: 1300}
	}
}

// made makes the file of sheets and saves it where programs can read it, or in
// the folder SHEET_DIR to be looked at.
func made(t *testing.T, p Paper, editions ...Edition) (sheets *pdf.Sheets, notes []string, path string) {
	t.Helper()
	sheets, notes, err := Make(editions, p)
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := pdf.WriteSheets(&b, sheets, pdf.Options{}); err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	if keep := os.Getenv("SHEET_DIR"); keep != "" {
		dir = keep
	}
	path = filepath.Join(dir, strings.ReplaceAll(t.Name(), "/", "-")+"-"+p.Name+".pdf")
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	return sheets, notes, path
}
