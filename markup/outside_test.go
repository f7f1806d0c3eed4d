package markup

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"html"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/renderer"
	"github.com/yuin/goldmark/util"
	"golang.org/x/text/unicode/norm"
)

// moduleDir is where a module of go.mod lies on this machine.
func moduleDir(t testing.TB, module string) string {
	t.Helper()
	out, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", module).Output()
	dir := strings.TrimSpace(string(out))
	if err != nil || dir == "" {
		missingHere(t, "the source of "+module+" is not at hand")
	}
	return dir
}

func missingHere(t testing.TB, why string) {
	t.Helper()
	if os.Getenv("CI") == "true" {
		t.Fatal(why)
	}
	t.Skip(why)
}

// rendering is goldmark's own HTML of a text, with notes (none inside another:
// goldmark cannot render that).
func rendering(md []byte) string {
	var b bytes.Buffer
	m := goldmark.New(goldmark.WithParser(parser.NewParser(
		parser.WithBlockParsers(blockParsers()...), // without code by indent
		parser.WithInlineParsers(inlineParsers()...),
		parser.WithParagraphTransformers(paragraphTransformers()...),
		parser.WithASTTransformers(util.Prioritized(extension.NewTableASTTransformer(), 0)),
	)), goldmark.WithExtensions(extension.Footnote, extension.NewTable()), goldmark.WithRendererOptions(
		renderer.WithNodeRenderers(util.Prioritized(through{}, 1))), goldmark.WithParserOptions(
		parser.WithBlockParsers(util.Prioritized(noteBlocks{extension.NewFootnoteBlockParser()}, 998))))
	if err := m.Convert(md, &b); err != nil {
		return err.Error()
	}
	return b.String()
}

// through renders what is inside nodes of our own.
type through struct{}

func (through) RegisterFuncs(r renderer.NodeRendererFuncRegisterer) {
	for _, kind := range []ast.NodeKind{kindFence, kindSpan, kindSpanOpener} {
		r.Register(kind, func(util.BufWriter, []byte, ast.Node, bool) (ast.WalkStatus, error) { return ast.WalkContinue, nil })
	}
}

var (
	noteMark = regexp.MustCompile(`<sup id="fnref\d*:\d+">.*?</sup>`)
	backlink = regexp.MustCompile(`<a href="#fnref\d*:\d+".*?</a>`)
	omitted  = regexp.MustCompile(`(?s)<!-->|<!--->|<!--.*?-->`)
	tags     = regexp.MustCompile(`(?s)<[^>]*>`)
)

// htmlLetters are the letters of an HTML text, canonically decomposed, so that
// it does not matter on which side of a tag an accent stands.
func htmlLetters(s string) string {
	s = noteMark.ReplaceAllString(s, "")
	s = backlink.ReplaceAllString(s, "")
	s = omitted.ReplaceAllString(s, "")
	s = tags.ReplaceAllString(s, "")
	return lettersOf(html.UnescapeString(s))
}

func lettersOf(s string) string {
	return strings.Map(func(r rune) rune {
		if IsLetter(r) {
			return r
		}
		return -1
	}, norm.NFD.String(s))
}

func bookLetters(b *Book) string {
	var s strings.Builder
	for r := range b.Letters(true) {
		s.WriteRune(r)
	}
	return lettersOf(s.String())
}

// reporter is what testing and rapid have in common.
type reporter interface {
	Errorf(format string, args ...any)
}

// checkFaults makes sure that err is made of positioned faults only, one line
// each.
func checkFaults(t reporter, err error, lines int) {
	for _, e := range each(err) {
		var f *Error
		switch {
		case !errors.As(e, &f):
			t.Errorf("not positioned: %v", e)
		case f.Pos.File == "" || f.Pos.Line < 0 || f.Pos.Line > lines:
			t.Errorf("outside the file: %v", e)
		case strings.ContainsAny(f.Error(), "\n\r"):
			t.Errorf("more than one line: %q", f.Error())
		}
	}
}

func each(err error) []error {
	if j, ok := err.(interface{ Unwrap() []error }); ok {
		return j.Unwrap()
	}
	return []error{err}
}

// The examples of the CommonMark specification (spec.json of its version 0.31,
// by way of goldmark's own tests) either keep all their letters, against the
// HTML that the specification gives, or are refused with the place named.
func TestCommonMarkSpecification(t *testing.T) {
	raw, err := os.ReadFile(filepath.Join(moduleDir(t, "github.com/yuin/goldmark"), "_test", "spec.json"))
	if err != nil {
		missingHere(t, err.Error())
	}
	var examples []struct {
		Markdown, HTML, Section string
		Example                 int
	}
	if err := json.Unmarshal(raw, &examples); err != nil {
		t.Fatal(err)
	}
	if len(examples) < 600 {
		t.Fatalf("only %d examples", len(examples))
	}
	set, refused := 0, map[string]int{}
	for _, ex := range examples {
		if ex.Example == 36 || ex.Example == 211 {
			continue // what an indented code block keeps, a paragraph reads: an entity, the address of a link
		}
		book, err := load(t, "en-US", ex.Markdown)
		if err != nil {
			checkFaults(t, err, strings.Count(ex.Markdown, "\n")+1)
			refused[ex.Section]++
			continue
		}
		set++
		if want, got := htmlLetters(ex.HTML), bookLetters(book); got != want {
			t.Errorf("example %d (%s)\n%s\n got %q\nwant %q", ex.Example, ex.Section, ex.Markdown, got, want)
		}
	}
	t.Logf("%d examples: %d set, refused by section: %v", len(examples), set, refused)
	if set < 380 {
		t.Errorf("only %d of %d examples are set", set, len(examples))
	}
}

// Tom Sawyer as one file, its chapters made into headings.
func tomSawyer(t testing.TB) []byte {
	t.Helper()
	raw, err := os.ReadFile(filepath.Join(moduleDir(t, "github.com/klauspost/compress"), "testdata", "Mark.Twain-Tom.Sawyer.txt"))
	if err != nil {
		missingHere(t, err.Error())
	}
	raw = bytes.ReplaceAll(raw, []byte("\r\n"), []byte("\n"))
	return regexp.MustCompile(`(?m)^(CHAPTER [IVXL]+)$`).ReplaceAll(raw, []byte("# $1"))
}

func writeBook(t testing.TB, text []byte) Source {
	t.Helper()
	file := filepath.Join(t.TempDir(), "tom-sawyer.md")
	if err := os.WriteFile(file, text, 0o600); err != nil {
		t.Fatal(err)
	}
	src, err := Discover(file)
	if err != nil {
		t.Fatal(err)
	}
	return src
}

func TestTomSawyer(t *testing.T) {
	raw := tomSawyer(t)
	book, err := Load(context.Background(), writeBook(t, raw))
	if err != nil {
		t.Fatal(err)
	}
	chapters := 0
	for _, s := range book.Sections {
		if s.Kind == Written && len(s.Number) > 0 {
			chapters++
		}
	}
	if chapters != 35 {
		t.Errorf("%d chapters, want 35", chapters)
	}
	if got, want := bookLetters(book), htmlLetters(rendering(raw)); got != want {
		t.Errorf("the letters differ from goldmark's rendering: %d, want %d", len(got), len(want))
	}
	// As wc -w counts, but for tokens without a letter and the # signs; a line
	// end beside a dash that is closed up to a word divides no words.
	want := 0
	joined := regexp.MustCompile(`([^\s-])(--)\n(\S)|([^\s-])\n(--)([^\s-])`).ReplaceAllString(string(raw), "$1$2$3$4$5$6")
	for _, w := range strings.Fields(joined) {
		if strings.IndexFunc(w, IsLetter) >= 0 {
			want++
		}
	}
	if got := book.Words(); got != want {
		t.Errorf("%d words, want %d", got, want)
	}
	if !utf8.ValidString(Plain(book.Sections[len(book.Sections)-1].Title)) {
		t.Error("bad title")
	}
	straight := 0
	for in := range book.inlines(true) {
		if in.Style&Code == 0 {
			straight += strings.Count(in.Text, `"`) + strings.Count(in.Text, "'")
		}
	}
	if straight > 0 {
		t.Errorf("%d straight marks are left", straight)
	}
}

func BenchmarkLoad(b *testing.B) {
	raw := tomSawyer(b)
	for _, c := range []struct {
		name string
		n    int
	}{{"once", 1}, {"tenTimes", 10}} {
		b.Run(c.name, func(b *testing.B) {
			src := writeBook(b, bytes.Repeat(raw, c.n))
			b.SetBytes(int64(len(raw) * c.n))
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Load(context.Background(), src); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
