package typeset

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"bodkin/markup"
)

// module returns the folder of a module that the tests read from.
func module(t testing.TB, path string) string {
	out, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", path).Output()
	dir := strings.TrimSpace(string(out))
	if err != nil || dir == "" {
		if os.Getenv("CI") == "true" {
			t.Fatalf("the module %s is not at hand: %v", path, err)
		}
		t.Skipf("the module %s is not at hand: %v", path, err)
	}
	return dir
}

// tomSawyer makes chapters of the novel that comes with a module (Mark Twain,
// 1876, out of copyright).
func tomSawyer(t testing.TB) *markup.Book {
	text, err := os.ReadFile(filepath.Join(module(t, "github.com/klauspost/compress"), "testdata/Mark.Twain-Tom.Sawyer.txt"))
	if err != nil {
		t.Fatal(err)
	}
	s := strings.ReplaceAll(string(text), "\r\n", "\n")
	s = s[strings.Index(s, "\nCHAPTER I\n"):]
	s = regexp.MustCompile(`(?m)^CHAPTER ([IVXL]+)$`).ReplaceAllString(s, "# Chapter $1")
	s = regexp.MustCompile(`(?m)^[ \t]+`).ReplaceAllString(s, "")
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "tom-sawyer.md"), []byte(s), 0o666); err != nil {
		t.Fatal(err)
	}
	book, err := markup.Load(context.Background(), markup.Source{Dir: dir, Body: []string{"tom-sawyer.md"},
		Title: "The Adventures of Tom Sawyer", Author: "Mark Twain", Language: "en-US"})
	if err != nil {
		t.Fatal(err)
	}
	return book
}

func TestCompose(t *testing.T) {
	book := tomSawyer(t)
	l, err := Compose(context.Background(), book, Default(), Resources{})
	if err != nil {
		t.Fatal(err)
	}
	if err := Check(book, l); err != nil {
		t.Error(err)
	}
	t.Logf("%d pages, %+v", len(l.Pages), l.Quality())
}
