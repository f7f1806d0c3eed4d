package wordproc

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bodkin/markup/markuptest"

	"github.com/google/go-cmp/cmp"
)

// TestPlainText: lines that were broken at a width are joined, and typed
// emphasis, verse and scene breaks are found.
func TestPlainText(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"broken lines", `CHAPTER I

The clerk of the tides kept his window until the light had gone
out of the harbour, and then a _little_ longer.

"No," he said.

* * *

It was *late* by the old clock that hung beside the door of the
office.

CHAPTER II

The end of it.
`, "== chapters/01-chapter-i.md\n# CHAPTER I\n\nThe clerk of the tides kept his window until the light had gone out of the harbour, and then a *little* longer.\n\n\"No,\" he said.\n\n* * *\n\nIt was *late* by the old clock that hung beside the door of the office.\n== chapters/02-chapter-ii.md\n# CHAPTER II\n\nThe end of it.\n"},
		{"a line a paragraph", "Chapter 1\n" + filler + "\n" + filler + "\n\n" + filler + "\nChapter 2\n" + filler + "\n",
			"== chapters/01-chapter-1.md\n# Chapter 1\n\n" + filler + "\n\n" + filler + "\n\n* * *\n\n" + filler + "\n== chapters/02-chapter-2.md\n# Chapter 2\n\n" + filler + "\n"},
		{"held lines", "Chapter 1\n\nThe clerk of the tides kept his window until the light had gone\nout of the harbour, and then a little longer.\n\n    Clerk in the window,\n      what do you say?\n    It wants an hour.\n\nThe clerk of the tides kept his window until the light had gone\nout of it.\n",
			"== chapters/01-chapter-1.md\n# Chapter 1\n\nThe clerk of the tides kept his window until the light had gone out of the harbour, and then a little longer.\n\n```verse\nClerk in the window,\n  what do you say?\nIt wants an hour.\n```\n\nThe clerk of the tides kept his window until the light had gone out of it.\n"},
		{"a typescript: paragraphs set in, no empty lines", "Chapter 1\n\n    The clerk of the tides kept his window until the light had\ngone out of the harbour, and then a little longer than that.\n    “Why?”\n    “No.”\n    He shook his head. “The boat has gone.”\n    The clerk of the tides kept his window until the light had\ngone out of it.\n                            * * *\n    The clerk of the tides kept his window until the light had\ngone out of it.\n    “Yes.”\n",
			"== chapters/01-chapter-1.md\n# Chapter 1\n\nThe clerk of the tides kept his window until the light had gone out of the harbour, and then a little longer than that.\n\n“Why?”\n\n“No.”\n\nHe shook his head. “The boat has gone.”\n\nThe clerk of the tides kept his window until the light had gone out of it.\n\n* * *\n\nThe clerk of the tides kept his window until the light had gone out of it.\n\n“Yes.”\n"},
		{"verse among paragraphs of a line each", "Chapter 1\n\n" + filler + "\n\nThe tide goes out on Tuesday\nand nobody will say\nwho left the door unfastened\nor took the key away\n\n" + filler + "\n\n" + filler + "\n",
			"== chapters/01-chapter-1.md\n# Chapter 1\n\n" + filler + "\n\n```verse\nThe tide goes out on Tuesday\nand nobody will say\nwho left the door unfastened\nor took the key away\n```\n\n" + filler + "\n\n" + filler + "\n"},
	} {
		k := take(t, "a.txt", []byte(c.text))
		if diff := cmp.Diff(c.want, k.text(t)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", c.name, diff)
		}
		if !k.compared.Equal() {
			t.Errorf("%s: %v", c.name, k.compared.Differences)
		}
	}
	k := take(t, "a.txt", []byte("Chapter 1\n\nIt\x92s late, \xE9t\xE9.\n"))
	if got := k.text(t); !strings.Contains(got, "It’s late, été.") || !strings.Contains(k.findings(), "Windows-1252") {
		t.Errorf("an old code page: %s%s", got, k.findings())
	}
}

// TestMarkdown: the chapters keep the lines of a manuscript as they are, with
// the notes and addresses that they refer to.
func TestMarkdown(t *testing.T) {
	in := "# Chapter One: Ebb\n\nA *word*[^a] and\na [page][p].\n\n```verse\nOne\n\n# no heading\n```\n\n* * *\n\n- item\n\n  more of it\n\n" +
		"# Chapter Two {.recto}\n\n\n> quoted\n\nSee [page][p][^b].\n\n## Inner\n\nEnd.\n\n[^a]: Note a.\n\n    More of a.\n\n[^b]: Note b.\n\n[p]: https://tides.example/\n"
	want := "== chapters/01-ebb.md\n# Chapter One: Ebb\n\nA *word*[^a] and\na [page][p].\n\n```verse\nOne\n\n# no heading\n```\n\n* * *\n\n- item\n\n  more of it\n\n[^a]: Note a.\n\n    More of a.\n\n[p]: https://tides.example/\n" +
		"== chapters/02-chapter-two.md\n# Chapter Two {.recto}\n\n> quoted\n\nSee [page][p][^b].\n\n## Inner\n\nEnd.\n\n[^b]: Note b.\n\n[p]: https://tides.example/\n"
	k := take(t, "a.md", []byte(in))
	if diff := cmp.Diff(want, k.text(t)); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	if !k.compared.Equal() {
		t.Errorf("%v", k.compared.Differences)
	}
	// pictures come along
	dir := t.TempDir()
	for name, text := range map[string]string{"my dial.png": dial(t), "c.md": "# Ebb\n\n![A dial](<my dial.png> \"The dial\"){width=50%}\n\n![](https://tides.example/a.png \n"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	k = takeFile(t, filepath.Join(dir, "c.md"), filepath.Join(dir, "book"))
	if got := k.text(t); !strings.Contains(got, "![A dial](../pictures/01-my-dial.png \"The dial\"){width=50%}") || len(k.saved.Written) != 2 {
		t.Errorf("pictures: %s%v", got, k.saved)
	}
	// headings that are only typed as such
	k = take(t, "b.md", []byte("**Chapter 1**\n\nOne.\n\n**Chapter 2**\n\nTwo.\n"))
	if want := "== chapters/01-chapter-1.md\n# Chapter 1\n\nOne.\n== chapters/02-chapter-2.md\n# Chapter 2\n\nTwo.\n"; k.text(t) != want || !k.compared.Equal() {
		t.Errorf("%d pieces:\n%s%v", len(k.m.Pieces), k.text(t), k.compared.Differences)
	}
}

// TestWholeBooksOfOneFile divides both real texts, of Markdown.
func TestWholeBooksOfOneFile(t *testing.T) {
	for _, c := range []struct {
		name     string
		text     markuptest.Text
		chapters int
	}{{"Tom Sawyer", markuptest.TomSawyer(t), 35}, {"Opticks", markuptest.Opticks(t), 0}} {
		k := takeFile(t, c.text.Path, t.TempDir())
		source, err := os.ReadFile(c.text.Path)
		if err != nil {
			t.Fatal(err)
		}
		want := c.chapters
		if want == 0 {
			want = strings.Count(string(source), "\n# ")
		}
		if len(k.m.Pieces) != want || !k.compared.Equal() || k.compared.Document.Letters != len([]rune(c.text.Letters)) {
			for _, p := range k.m.Pieces {
				t.Logf("%s", p.File)
			}
			t.Errorf("%s: %d pieces and not %d, %+v", c.name, len(k.m.Pieces), want, k.compared)
		}
	}
}
