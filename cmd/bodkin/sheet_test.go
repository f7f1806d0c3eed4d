package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestSheetFlags: what cannot be asked for is a fault of the call, and nothing
// is written.
func TestSheetFlags(t *testing.T) {
	dir := t.TempDir()
	for _, c := range []struct{ flags, want string }{
		{"--paper a4", "--paper a4: it is the paper of --sheet FILE.pdf"},
		{"--sheet DIR/s.pdf --paper legal", `paper "legal": write letter or a4`},
		{"--sheet DIR/s.png", "must end in .pdf"},
		{"--sheet DIR", "must end in .pdf"},
	} {
		args := append([]string{"compare", "../../testdata/tide-clerk", "roomy"}, strings.Fields(strings.ReplaceAll(c.flags, "DIR", dir))...)
		var out, errs bytes.Buffer
		if code := run(args, &out, &errs); code != exitCall || !strings.Contains(errs.String(), c.want) || out.Len() > 0 {
			t.Errorf("%s: exit %d, %q; want %q", c.flags, code, errs.String(), c.want)
		}
	}
	if files, _ := os.ReadDir(dir); len(files) > 0 {
		t.Errorf("written: %v", files)
	}
}

// TestSheetFile: the demonstration book is American, so its sheets are Letter;
// --paper says otherwise; the same call gives the same bytes.
func TestSheetFile(t *testing.T) {
	t.Setenv("SOURCE_DATE_EPOCH", "1700000000")
	write := func(flags ...string) []byte {
		path := filepath.Join(t.TempDir(), "shelf.pdf")
		var out, errs bytes.Buffer
		if code := run(append([]string{"compare", "../../testdata/tide-clerk", "roomy", "--sheet", path}, flags...), &out, &errs); code != 0 {
			t.Fatalf("exit %d: %s", code, errs.String())
		}
		if !strings.Contains(out.String(), path) {
			t.Errorf("the report does not name %s:\n%s", path, out.String())
		}
		b, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	letter, a4 := write(), write("--paper", "A4")
	if !bytes.Contains(letter, []byte("/MediaBox [0 0 612.00 792.00]")) {
		t.Error("the sheets of an American book are not Letter")
	}
	if !bytes.Contains(a4, []byte("/MediaBox [0 0 595.28 841.89]")) {
		t.Error("the sheets on A4 are not A4")
	}
	if !bytes.Equal(letter, write()) {
		t.Error("two files of one call differ")
	}
}
