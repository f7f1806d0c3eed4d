package markup

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// DefaultLanguage is that of a book that says none, as a BCP 47 tag.
const DefaultLanguage = "en-US"

// Source says which files make a book and what is known of it.
//
// An entry of Front, Body or Back is the name of a generated section
// ("half-title", "title-page", "contents", and in Back "notes"), or the path of
// a Markdown file relative to Dir with forward slashes, or a pattern as
// path.Match reads it. Behind it may stand the side on which it begins: "map.md
// on verso", "on recto", or "on next" for the next page whichever it is.
// A path that exists is taken as it stands, whatever characters it holds. A
// pattern gives its files in Natural order (2 before 10), passes over hidden
// files and folders, and, when it does not end in an extension of its own,
// takes only files that end in .md or .markdown.
type Source struct {
	Dir string // the book folder; no path may leave it

	// Title, when empty, is taken from the manuscript (see Load).
	Title, Subtitle, Author string

	Language string // BCP 47; empty is DefaultLanguage

	Front, Body, Back []string

	// Unfinished passes over what is still to be filled in on copyright pages.
	Unfinished bool
}

// generated are the sections that no file is needed for.
var generated = map[string]Kind{
	"half-title": HalfTitle,
	"title-page": TitlePage,
	"contents":   Contents,
	"notes":      Endnotes,
}

// companions are files about a folder, not chapters of a book.
var companions = []string{"readme", "license", "licence", "changelog", "contributing"}

// Discover finds the source of a book that has no description of its own.
// path is one Markdown file, or a folder: then every file in it that ends in
// .md or .markdown is a part of the body, in Natural order of their names.
// Hidden files, folders inside the folder, and the files that speak about a
// folder (README, LICENSE, CHANGELOG, CONTRIBUTING, in any case) are passed
// over. The front of such a book is a half-title and a title page.
//
// The error is an *Error with path as its file.
func Discover(path string) (Source, error) {
	src := Source{Language: DefaultLanguage, Front: []string{"half-title", "title-page"}}
	at := Pos{File: filepath.ToSlash(path)}
	info, err := os.Stat(path)
	if err != nil {
		return Source{}, missing(at, err)
	}
	if !info.IsDir() {
		if !info.Mode().IsRegular() {
			return Source{}, &Error{Pos: at, What: "this is not a file", Mend: "name a Markdown file or a folder of them"}
		}
		// The author named this very file: a link to it is no way out of a folder.
		real, err := filepath.EvalSymlinks(path)
		if err != nil {
			return Source{}, missing(at, err)
		}
		src.Dir, src.Body = filepath.Dir(real), []string{filepath.Base(real)}
		return src, nil
	}
	entries, err := os.ReadDir(path)
	if err != nil {
		return Source{}, missing(at, err)
	}
	src.Dir = path
	for _, e := range entries {
		if !e.IsDir() && isChapter(e.Name()) {
			src.Body = append(src.Body, e.Name())
		}
	}
	if len(src.Body) == 0 {
		mend := "put the chapters into it, with names that end in .md"
		for _, e := range entries {
			if ext := strings.ToLower(filepath.Ext(e.Name())); ext == ".docx" || ext == ".odt" {
				mend = "take its documents in first: bodkin intake " + path + " -o my-book"
			}
		}
		return Source{}, &Error{Pos: at, What: "there is no Markdown file in this folder", Mend: mend}
	}
	slices.SortFunc(src.Body, Natural)
	return src, nil
}

func missing(at Pos, err error) *Error {
	if os.IsNotExist(err) {
		return &Error{Pos: at, What: "there is no such file or folder", Mend: "correct the name", Err: err}
	}
	return &Error{Pos: at, What: "it cannot be read: " + cause(err), Mend: "see to its permissions", Err: err}
}

// cause is err without the path that the position gives already.
func cause(err error) string {
	if pe, ok := err.(*fs.PathError); ok {
		err = pe.Err
	}
	return strings.ReplaceAll(err.Error(), "\n", " ")
}

func isMarkdown(name string) bool {
	ext := strings.ToLower(filepath.Ext(name))
	return ext == ".md" || ext == ".markdown"
}

func isChapter(name string) bool {
	if strings.HasPrefix(name, ".") || !isMarkdown(name) {
		return false
	}
	stem := strings.ToLower(strings.TrimSuffix(name, filepath.Ext(name)))
	return !slices.Contains(companions, stem)
}

// Natural compares file names as a reader counts them: a run of digits by its
// value, all else letter by letter without regard to case.
func Natural(a, b string) int {
	x, y := a, b
	for x != "" && y != "" {
		m, n := digits(x), digits(y)
		if m > 0 && n > 0 {
			p, q := strings.TrimLeft(x[:m], "0"), strings.TrimLeft(y[:n], "0")
			if len(p) != len(q) {
				return len(p) - len(q)
			}
			if c := strings.Compare(p, q); c != 0 {
				return c
			}
			x, y = x[m:], y[n:]
			continue
		}
		r, i := utf8.DecodeRuneInString(x)
		s, j := utf8.DecodeRuneInString(y)
		if c := int(order(r)) - int(order(s)); c != 0 {
			return c
		}
		x, y = x[i:], y[j:]
	}
	if c := len(x) - len(y); c != 0 {
		return c
	}
	return strings.Compare(a, b)
}

// order puts the end of a folder's name before any letter, so that what is in
// a folder stays together.
func order(r rune) rune {
	if r == '/' {
		return 0
	}
	return unicode.ToLower(r)
}

func digits(s string) int {
	n := 0
	for n < len(s) && '0' <= s[n] && s[n] <= '9' {
		n++
	}
	return n
}

// titleFromName makes "the-tide_clerk.md" into "The Tide Clerk".
func titleFromName(name string) string {
	if isMarkdown(name) {
		name = strings.TrimSuffix(name, filepath.Ext(name))
	}
	words := strings.FieldsFunc(name, func(r rune) bool { return r == '-' || r == '_' || unicode.IsSpace(r) })
	t := strings.Join(words, " ")
	if t != strings.ToLower(t) {
		return t // it has capitals of its own
	}
	for i, w := range words {
		r, n := utf8.DecodeRuneInString(w)
		words[i] = string(unicode.ToTitle(r)) + w[n:]
	}
	return strings.Join(words, " ")
}

// Nearest returns the candidate that is fewest letters away from name, or ""
// when all are farther than a slip of the hand.
func Nearest(name string, candidates []string) string {
	best, least := "", max(1, len(name)/3)+1
	for _, c := range candidates {
		if d := distance(strings.ToLower(name), strings.ToLower(c)); d < least {
			best, least = c, d
		}
	}
	return best
}

// distance counts the letters to put in, take out, change or swap with their
// neighbour (optimal string alignment).
func distance(a, b string) int {
	var before, last []int
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(a); i++ {
		before, last, row = last, row, make([]int, len(b)+1)
		row[0] = i
		for j := 1; j <= len(b); j++ {
			d := last[j-1]
			if a[i-1] != b[j-1] {
				d++
			}
			row[j] = min(d, last[j]+1, row[j-1]+1)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
	}
	return row[len(b)]
}

func quoted(s string) string { return fmt.Sprintf("%q", s) }
