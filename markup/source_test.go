package markup

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// folderOf writes files (name, text, name, text ...) into a new folder.
func folderOf(t testing.TB, files ...string) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "the-tide_clerk")
	if err := os.Mkdir(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	for i := 0; i < len(files); i += 2 {
		p := filepath.Join(dir, filepath.FromSlash(files[i]))
		if err := os.MkdirAll(filepath.Dir(p), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(p, []byte(files[i+1]), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// outline is one line a section: its matter, place and title.
func outline(b *Book) string {
	var lines []string
	for _, s := range b.Sections {
		lines = append(lines, []string{"front", "body", "back"}[s.Matter]+" "+s.Pos.String()+" "+Plain(s.Number)+Plain(s.Title))
	}
	return strings.Join(lines, "\n")
}

func TestDiscover(t *testing.T) {
	dir := folderOf(t, "10-end.md", "x", "2-Middle.markdown", "x", "1-start.md", "x", "README.md", "x", "licence.MD", "x",
		".draft.md", "x", "notes.txt", "x", "part/3.md", "x", "ten [draft].md", "# Ten\n\nx")
	src, err := Discover(dir)
	if err != nil {
		t.Fatal(err)
	}
	if want := []string{"1-start.md", "2-Middle.markdown", "10-end.md", "ten [draft].md"}; !slices.Equal(src.Body, want) {
		t.Errorf("body %q, want %q", src.Body, want)
	}
	book, err := Load(context.Background(), src)
	if err != nil {
		t.Fatal(err)
	}
	if book.Title != "The Tide Clerk" || book.Language != "en-US" {
		t.Errorf("title %q, language %q", book.Title, book.Language)
	}
	want := "front half-title \nfront title-page \nbody 1-start.md:1 \nbody 2-Middle.markdown:1 \nbody 10-end.md:1 \nbody ten [draft].md:1 Ten"
	if got := outline(book); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}

	src, err = Discover(filepath.Join(dir, "10-end.md"))
	if err != nil || src.Dir == "" || !slices.Equal(src.Body, []string{"10-end.md"}) {
		t.Errorf("a single file: %+v, %v", src, err)
	}
	for _, path := range []string{filepath.Join(dir, "none.md"), filepath.Join(folderOf(t, "README.md", "x"))} {
		var e *Error
		if _, err := Discover(path); !errors.As(err, &e) || e.Mend == "" {
			t.Errorf("%s: %v", path, err)
		}
	}
}

func TestModified(t *testing.T) {
	dir := folderOf(t, "1.md", "x", "2.md", "x")
	old, young := time.Date(2020, 1, 2, 3, 4, 5, 0, time.UTC), time.Date(2021, 1, 2, 3, 4, 5, 0, time.UTC)
	for name, at := range map[string]time.Time{"1.md": young, "2.md": old} {
		if err := os.Chtimes(filepath.Join(dir, name), at, at); err != nil {
			t.Fatal(err)
		}
	}
	book, err := Load(context.Background(), Source{Dir: dir, Body: []string{"*.md"}})
	if err != nil {
		t.Fatal(err)
	}
	if !book.Modified.Equal(young) {
		t.Errorf("modified %v, want %v", book.Modified, young)
	}
}

func TestNaturalOrder(t *testing.T) {
	want := []string{"Chapter 1.md", "chapter 2.md", "chapter 02b.md", "chapter 10.md", "part1/2.md", "part1/10.md", "part2/1.md", "part10/1.md", "Épilogue.md"}
	got := slices.Clone(want)
	slices.Reverse(got)
	slices.SortFunc(got, Natural)
	if !slices.Equal(got, want) {
		t.Errorf("got %q\nwant %q", got, want)
	}
	// It is an order: antisymmetric, transitive, and equal only for equals.
	name := rapid.StringMatching(`[aB0-2/.]{0,6}`)
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := name.Draw(t, "a"), name.Draw(t, "b"), name.Draw(t, "c")
		sign := func(n int) int { return min(max(n, -1), 1) }
		if sign(Natural(a, b)) != -sign(Natural(b, a)) || (Natural(a, b) == 0) != (a == b) {
			t.Fatalf("%q %q: %d and %d", a, b, Natural(a, b), Natural(b, a))
		}
		if Natural(a, b) < 0 && Natural(b, c) < 0 && Natural(a, c) >= 0 {
			t.Fatalf("%q < %q < %q, but not %q < %q", a, b, c, a, c)
		}
	})
}

func TestSections(t *testing.T) {
	for _, c := range []struct {
		name, file, text string
		src              Source
		want, title      string
	}{
		{"a chapter", "the-end.md", "# One\n\ny\n\n## Sub\n\nx", Source{}, "body the-end.md:1 One", "The End"},
		{"a number and a title", "the-end.md", "# One\n\n## Sub\n\nx", Source{}, "body the-end.md:1 OneSub", "Sub"},
		{"a novel", "the-end.md", "# One\n\nx\n\n# Two\n\nx\n\n### Deep\n\n# Three", Source{},
			"body the-end.md:1 One\nbody the-end.md:5 Two\nbody the-end.md:11 Three", "The End"},
		{"text first", "the-end.md", "x\n\n## One\n\n# Two\n\n## Three\n\ny\n\n### Four", Source{},
			"body the-end.md:1 \nbody the-end.md:3 One\nbody the-end.md:5 Two\nbody the-end.md:7 Three", "The End"},
		{"no heading", "the-end.md", "x", Source{}, "body the-end.md:1 ", "The End"},
		{"name with capitals", "TheEnd_of it.md", "x", Source{}, "body TheEnd_of it.md:1 ", "TheEnd of it"},
		{"remark first", "a.md", "<!-- x -->\n\n# One\n\nx", Source{}, "body a.md:3 One", "A"},
		{"the book's title", "a.md", "# The *Tide* Clerk\n\n## One\n\nx\n\n## Two\n\nx", Source{Front: []string{"title-page"}},
			"front title-page \nbody a.md:3 One\nbody a.md:7 Two", "The Tide Clerk"},
		{"and author", "a.md", "# T\n\n*by A. Clerk*\n\n## One\n\nx\n\n## Two\n\nx", Source{Front: []string{"title-page"}},
			"front title-page \nbody a.md:5 One\nbody a.md:9 Two", "T"},
		{"no page for it", "a.md", "# T\n\n## One\n\nx\n\n## Two\n\nx", Source{},
			"body a.md:1 T\nbody a.md:3 One\nbody a.md:7 Two", "T"},
		{"given the same", "a.md", "# the tide clerk!\n\n## One\n\nx\n\n## Two\n\nx", Source{Title: "The Tide Clerk", Front: []string{"half-title"}},
			"front half-title \nbody a.md:3 One\nbody a.md:7 Two", "The Tide Clerk"},
		{"given another", "a.md", "# Part\n\n## One\n\nx\n\n## Two\n\nx", Source{Title: "T", Front: []string{"title-page"}},
			"front title-page \nbody a.md:1 Part\nbody a.md:3 One\nbody a.md:7 Two", "T"},
		{"text between", "a.md", "# One\n\nx\n\n## Sub\n\nx\n\n## Sub\n\nx", Source{Front: []string{"title-page"}},
			"front title-page \nbody a.md:1 One", "A"},
	} {
		c.src.Dir, c.src.Body = folderOf(t, c.file, c.text), []string{c.file}
		book, err := Load(context.Background(), c.src)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if got := outline(book); got != c.want || book.Title != c.title {
			t.Errorf("%s: title %q, want %q\n%s\nwant\n%s", c.name, book.Title, c.title, got, c.want)
		}
		if c.name == "and author" && book.Author != "A. Clerk" {
			t.Errorf("author %q", book.Author)
		}
	}
}

func TestHeadingLevels(t *testing.T) {
	book, err := load(t, "en", "## T\n\n### a\n\n#### b\n\n###### d\n\n> # q\n\n# U\n\n## Vale\n\n### w\n")
	if err != nil {
		t.Fatal(err)
	}
	var got []int
	for _, s := range book.Sections {
		for _, b := range s.Blocks {
			switch b := b.(type) {
			case *Heading:
				got = append(got, b.Level)
			case *Quotation:
				got = append(got, b.Blocks[0].(*Heading).Level)
			}
		}
	}
	if want := []int{1, 2, 4, 1, 1}; !slices.Equal(got, want) {
		t.Errorf("levels %v, want %v", got, want)
	}
}

// Each of these is a fault of the list, not of the text.
func TestSourceFaults(t *testing.T) {
	dir := folderOf(t, "one.md", "x", "two.md", "x", "sub/three.md", "x", "copyright.md", "x")
	outer := filepath.Join(filepath.Dir(dir), "secret.md")
	if err := os.WriteFile(outer, []byte("secret"), 0o644); err != nil {
		t.Fatal(err)
	}
	links := os.Symlink(outer, filepath.Join(dir, "link.md")) == nil &&
		os.Symlink(filepath.Dir(dir), filepath.Join(dir, "up")) == nil
	for _, c := range []struct {
		src  Source
		want string // the whole error
	}{
		{Source{Body: []string{"three.md"}}, `three.md: there is no such file in the book folder; correct the name`},
		{Source{Body: []string{"tow.md"}}, `tow.md: there is no such file in the book folder; did you mean "two.md"?`},
		{Source{Front: []string{"copyrigth.md"}, Body: []string{"one.md"}}, `copyrigth.md: there is no such file in the book folder; did you mean "copyright.md"?`},
		{Source{Body: []string{"sub/tree.md"}}, `sub/tree.md: there is no such file in the book folder; did you mean "sub/three.md"?`},
		{Source{Front: []string{"halftitle"}}, `halftitle: this is neither a file of the book folder nor a section that can be made; did you mean "half-title"?`},
		{Source{Front: []string{"colophon"}}, `colophon: this is neither a file of the book folder nor a section that can be made; the sections are contents, half-title, notes, title-page`},
		{Source{Body: []string{"chapters/*.md"}}, `chapters/*.md: the pattern matches no file; correct it, or put the chapters there`},
		{Source{Body: []string{"[a-.md"}}, `[a-.md: the pattern is malformed; close every [ with a ]`},
		{Source{Body: []string{"**/*.md"}}, `**/*.md: ** has no meaning in a pattern; give each folder a pattern of its own, like part1/*.md`},
		{Source{Body: []string{"../secret.md"}}, `../secret.md: the path leads out of the book folder; move the file into the folder and name it from there`},
		{Source{Body: []string{"sub/../../secret.md"}}, `sub/../../secret.md: the path leads out of the book folder; move the file into the folder and name it from there`},
		{Source{Body: []string{"/etc/passwd"}}, `/etc/passwd: the path leads out of the book folder; move the file into the folder and name it from there`},
		{Source{Body: []string{"link.md"}}, `link.md: the path leads out of the book folder; move the file into the folder and name it from there`},
		{Source{Body: []string{"up/secret.md"}}, `up/secret.md: the path leads out of the book folder; move the file into the folder and name it from there`},
		{Source{Body: []string{"sub"}}, `sub: this is a folder, and a file is wanted; write "sub/*.md" for the files in it`},
		{Source{Body: []string{"one.md", "./one.md"}}, `one.md: this file is listed twice; take one mention away, or make a pattern narrower`},
		{Source{Body: []string{"one.md", "*.md"}, Front: []string{"copyright.md"}}, `copyright.md: this file is listed twice; take one mention away, or make a pattern narrower
one.md: this file is listed twice; take one mention away, or make a pattern narrower`},
		{Source{Front: []string{"contents", "contents"}, Body: []string{"one.md"}}, `contents: this section is listed twice; take one away`},
		{Source{Body: []string{""}}, `"": an entry is empty; name a file or take the entry away`},
		{Source{Body: []string{"a\x00.md"}}, `"a\x00.md": the path holds a NUL; correct the name`},
		{Source{}, dir + `: the book has no text; list the chapters in its body`},
		{Source{Body: []string{"one.md"}, Language: "english"}, dir + `: language "english" is unknown; write a BCP 47 tag such as en-US, en-GB, de or fr`},
		{Source{Body: []string{"one.md"}, Language: "en_"}, dir + `: language "en_" is unknown; write a BCP 47 tag such as en-US, en-GB, de or fr`},
		{Source{Dir: dir + "/none", Body: []string{"one.md"}}, dir + `/none: there is no such file or folder; correct the name`},
	} {
		if c.src.Dir == "" {
			c.src.Dir = dir
		}
		if len(c.src.Body) > 0 && (c.src.Body[0] == "link.md" || strings.HasPrefix(c.src.Body[0], "up/")) {
			if !links {
				t.Log("no symbolic links on this system")
				continue
			}
		}
		if c.src.Body != nil && c.src.Body[0] == "one.md" && len(c.src.Body) == 2 && c.src.Body[1] == "*.md" {
			_ = os.Remove(filepath.Join(dir, "link.md")) // it would be one more fault
		}
		_, err := Load(context.Background(), c.src)
		if err == nil {
			t.Errorf("%+v: no error, want %s", c.src, c.want)
			continue
		}
		if got := filepath.ToSlash(err.Error()); got != filepath.ToSlash(c.want) {
			t.Errorf("got  %s\nwant %s", got, c.want)
		}
		checkFaults(t, err, 1)
	}
}

func TestTooLong(t *testing.T) {
	dir := folderOf(t, "one.md", "x")
	if err := os.Truncate(filepath.Join(dir, "one.md"), maxFile+1); err != nil {
		t.Skip(err)
	}
	_, err := Load(context.Background(), Source{Dir: dir, Body: []string{"one.md"}})
	if err == nil || err.Error() != "one.md: the file is longer than 64 MiB; divide it into chapters" {
		t.Error(err)
	}
}

func TestCancelled(t *testing.T) {
	ctx, cancel := context.WithCancelCause(context.Background())
	why := errors.New("enough")
	cancel(why)
	if _, err := Load(ctx, Source{Dir: folderOf(t, "one.md", "x"), Body: []string{"one.md"}}); err != why {
		t.Error(err)
	}
}

func TestUnreadable(t *testing.T) {
	if runtime.GOOS == "windows" || os.Geteuid() == 0 {
		t.Skip("permissions do not bind this user")
	}
	dir := folderOf(t, "one.md", "x")
	if err := os.Chmod(filepath.Join(dir, "one.md"), 0); err != nil {
		t.Fatal(err)
	}
	_, err := Load(context.Background(), Source{Dir: dir, Body: []string{"one.md"}})
	if err == nil || err.Error() != "one.md: it cannot be read: permission denied; see to its permissions" {
		t.Error(err)
	}
}
