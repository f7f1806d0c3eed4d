// Package markuptest makes manuscripts of the two real texts that every Go
// machine has, for tests and benchmarks. Both are out of copyright; they are
// read where they lie.
//
//   - Isaac Newton, Opticks (4th edition, 1730): 100 801 words of prose with
//     lists, tables and much emphasis, in the Go distribution.
//   - Mark Twain, The Adventures of Tom Sawyer (1876): a novel of 70 057 words
//     and 35 chapters with much dialogue, in the test data of the module
//     github.com/klauspost/compress.
package markuptest

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"bodkin/markup"

	_ "github.com/klauspost/compress" // so that the module with the novel is at hand
)

// Text is a manuscript in a temporary folder.
type Text struct {
	Source  markup.Source
	Path    string // of its one file
	Letters string // the letters of the original, as it lies in its file
}

// Need ends the test for the lack of what it needs from outside: as skipped
// on a person's machine, as failed where CI=true.
func Need(t testing.TB, what string, err error) {
	t.Helper()
	if err == nil {
		return
	}
	if os.Getenv("CI") == "true" {
		t.Fatalf("%s is not at hand: %v", what, err)
	}
	t.Skipf("%s is not at hand: %v", what, err)
}

// Tool runs a program from outside and returns all that it prints. The test
// ends where the program fails or is not at hand.
func Tool(t testing.TB, name string, args ...string) string {
	t.Helper()
	_, err := exec.LookPath(name)
	Need(t, name, err)
	out, err := exec.Command(name, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s %s: %v\n%s", name, strings.Join(args, " "), err, out)
	}
	return string(out)
}

// TomSawyer makes chapters of the novel.
func TomSawyer(t testing.TB) Text {
	t.Helper()
	dir, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "github.com/klauspost/compress").Output()
	Need(t, "the module github.com/klauspost/compress", err)
	text := read(t, filepath.Join(strings.TrimSpace(string(dir)), "testdata", "Mark.Twain-Tom.Sawyer.txt"))
	text = text[strings.Index(text, "\nCHAPTER I\n"):]
	return manuscript(t, "tom-sawyer.md", text, regexp.MustCompile(`(?m)^(CHAPTER [IVXL]+)$`),
		"The Adventures of Tom Sawyer", "Mark Twain")
}

// Opticks makes chapters of Newton's book: one for each of its parts.
func Opticks(t testing.TB) Text {
	t.Helper()
	root, err := exec.Command("go", "env", "GOROOT").Output()
	Need(t, "the Go distribution", err)
	text := read(t, filepath.Join(strings.TrimSpace(string(root)), "src", "testdata", "Isaac.Newton-Opticks.txt"))
	text = text[strings.Index(text, "\nOPTICKS:"):]
	return manuscript(t, "opticks.md", text, regexp.MustCompile(`(?m)^(OPTICKS:|THE [A-Z]+ BOOK OF OPTICKS|_PART [IV]+\._|SIR ISAAC NEWTON'S ADVERTISEMENTS)$`),
		"Opticks", "Isaac Newton")
}

func read(t testing.TB, path string) string {
	text, err := os.ReadFile(path)
	Need(t, filepath.Base(path), err)
	return strings.ReplaceAll(string(text), "\r\n", "\n")
}

var (
	indented = regexp.MustCompile(`(?m)^[ \t]+`)
	breaks   = regexp.MustCompile(`(?m)^\*( +\*)+$`)
	special  = regexp.MustCompile("[\\\\<>\\[\\]&`|~]")
	marked   = regexp.MustCompile(`(?m)^([-+]$|[-+] |[-=]+$|#|\d+[.)])`)
)

// manuscript writes a plain text as Markdown: chapters are headings, the
// indents of the typescript go, and what Markdown would read as marks is
// escaped, but for the emphasis between underscores.
func manuscript(t testing.TB, name, text string, chapter *regexp.Regexp, title, author string) Text {
	made := Text{Letters: Letters(text)}
	text = indented.ReplaceAllString(text, "")
	text = breaks.ReplaceAllString(text, "\x01")
	text = special.ReplaceAllString(text, `\$0`)
	text = strings.ReplaceAll(text, "*", `\*`)
	text = marked.ReplaceAllStringFunc(text, func(s string) string {
		if strings.IndexByte("-+=#", s[0]) >= 0 {
			return `\` + s
		}
		return s[:len(s)-1] + `\` + s[len(s)-1:] // the point after a number
	})
	text = strings.ReplaceAll(text, "\x01", "* * *")
	text = chapter.ReplaceAllString(text, "# $1\n")
	dir := t.TempDir()
	made.Path = filepath.Join(dir, name)
	if err := os.WriteFile(made.Path, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	made.Source = markup.Source{Dir: dir, Title: title, Author: author, Language: "en-US",
		Front: []string{"half-title", "title-page"}, Body: []string{name}}
	return made
}

// Letters returns the letters of a text alone.
func Letters(text string) string {
	return strings.Map(func(r rune) rune {
		if markup.IsLetter(r) {
			return r
		}
		return -1
	}, text)
}
