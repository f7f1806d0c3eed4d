package markup

import (
	"context"
	"errors"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"time"

	"github.com/yuin/goldmark/ast"
	extast "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/parser"
	"golang.org/x/text/language"
)

// Load reads and parses the whole of a book. The manuscript is only read, and
// only inside src.Dir.
//
// When the manuscript has faults, the error joins one *Error for each of them
// in reading order, so that they can all be mended at once. When ctx is
// cancelled, the error is its cause.
//
// A title that src does not give is found so:
//   - a body of one file, whose first heading is its only heading of level 1,
//     stands before at least two of level 2, and has nothing between itself
//     and the first of them (but a line "by NAME"): that heading is the title
//     of the book, NAME its author, and the headings of level 2 open sections.
//     Where a title page or half-title shows the title, the heading is set
//     there only;
//   - a body of one file with one section: the title of that section;
//   - else the name of the file or folder: "the-tide_clerk.md" is "The Tide Clerk".
func Load(ctx context.Context, src Source) (*Book, error) {
	book := &Book{Title: src.Title, Subtitle: src.Subtitle, Author: src.Author, Language: src.Language}
	if book.Language == "" {
		book.Language = DefaultLanguage
	}
	tag, err := language.Parse(book.Language)
	if err != nil {
		return nil, &Error{Pos: Pos{File: filepath.ToSlash(filepath.Clean(src.Dir))}, What: "language " + quoted(book.Language) + " is unknown",
			Mend: "write a BCP 47 tag such as en-US, en-GB, de or fr", Err: err}
	}
	dir, err := openFolder(src.Dir)
	if err != nil {
		return nil, err
	}
	defer dir.root.Close()

	entries, faults := dir.resolve(src)
	l := newLoader(book, tag)
	l.dir, l.single, l.front, l.unfinished = dir, isSingle(entries), showsTitle(entries), src.Unfinished
	for _, e := range entries {
		if ctx.Err() != nil {
			return nil, context.Cause(ctx)
		}
		if e.kind != Written {
			book.Sections = append(book.Sections, &Section{Pos: Pos{File: e.name}, Matter: e.matter, Kind: e.kind, Side: e.side})
			continue
		}
		faults = append(faults, l.file(e)...)
	}
	if len(faults) == 0 {
		faults = noNotes(book)
	}
	if len(faults) > 0 {
		return nil, errors.Join(faults...)
	}
	for _, known := range []*string{&book.Title, &book.Subtitle, &book.Author} {
		*known = l.marks.plain(*known)
	}
	if book.Title == "" {
		book.Title = fallbackTitle(src, entries, book)
	}
	return book, nil
}

// noNotes is the fault of a book that gathers its notes and has none.
func noNotes(b *Book) []error {
	var at *Section
	for _, s := range b.Sections {
		if len(s.Notes) > 0 {
			return nil
		}
		if s.Kind == Endnotes {
			at = s
		}
	}
	if at == nil {
		return nil
	}
	return []error{&Error{Pos: at.Pos, What: "the book has no note to gather", Mend: "take this section off the list"}}
}

// loader carries what the files of a book have in common.
type loader struct {
	dir        *folder
	parser     parser.Parser
	book       *Book
	marks      *marks
	others     map[string]*marks // of the languages of single sections
	single     bool              // the body is one file
	unfinished bool              // what is still to be filled in is no fault
	front      shown
}

func newLoader(book *Book, tag language.Tag) *loader {
	return &loader{parser: newParser(), book: book, marks: marksFor(tag), others: map[string]*marks{}}
}

// marksOf returns the marks of a language.
func (l *loader) marksOf(lang string) *marks {
	if lang == l.book.Language {
		return l.marks
	}
	m := l.others[lang]
	if m == nil {
		m = marksFor(language.Make(lang))
		l.others[lang] = m
	}
	return m
}

// shown says what of the title the generated sections print.
type shown struct{ title, author bool }

func showsTitle(entries []entry) (s shown) {
	for _, e := range entries {
		s.title = s.title || e.kind == HalfTitle || e.kind == TitlePage
		s.author = s.author || e.kind == TitlePage
	}
	return s
}

func isSingle(entries []entry) bool {
	n := 0
	for _, e := range entries {
		if e.matter == Body && e.kind == Written {
			n++
		}
	}
	return n == 1
}

// file reads one file and adds its sections to the book.
func (l *loader) file(e entry) []error {
	raw, modified, err := l.dir.read(e.name)
	if err != nil {
		return []error{err}
	}
	l.input(l.dir.path(e.name), modified)
	return l.chapter(e, raw)
}

// input records a file that the book is made of, once.
func (l *loader) input(file string, modified time.Time) {
	if !slices.Contains(l.book.Inputs, file) {
		l.book.Inputs = append(l.book.Inputs, file)
	}
	if modified.After(l.book.Modified) {
		l.book.Modified = modified
	}
}

// chapter parses the bytes of a file.
func (l *loader) chapter(e entry, raw []byte) []error {
	text, faults := clean(e.name, raw)
	if faults != nil {
		return faults
	}
	doc, tooDeep, err := parse(l.parser, e.name, text)
	if err != nil {
		return []error{err}
	}
	if fault := frontMatter(e.name, text); fault != nil {
		return []error{fault}
	}
	c := newChapter(e, text, l.marks)
	c.dir, c.language, c.marksOf = l.dir, l.book.Language, l.marksOf
	if tooDeep >= 0 {
		return []error{&Error{Pos: c.at(tooDeep), What: "quotations and lists are nested too deep here",
			Mend: `take some of the > or list signs away, or put \ before one that is meant as itself`}}
	}
	var title *bookTitle
	if l.single && e.matter == Body {
		title = l.bookTitle(c, doc)
	}
	c.read(doc, title)
	c.namePiece(e)
	c.copyrightPages(l.unfinished)
	for _, s := range c.sections {
		c.settle(s)
	}
	for _, p := range c.inputs {
		l.input(p.file, p.modified)
	}
	for _, f := range c.faults {
		faults = append(faults, f)
	}
	l.book.Sections = append(l.book.Sections, c.sections...)
	return faults
}

// bookTitle is the heading of level 1 that names the whole book.
type bookTitle struct {
	heading, byline ast.Node
	shown           bool // set on a generated page and not here
}

var by = regexp.MustCompile(`(?is)^by\s+(\S.*)$`)

// bookTitle looks for such a heading, and takes the names from it that are
// wanting.
func (l *loader) bookTitle(c *chapter, doc ast.Node) *bookTitle {
	var heads []*ast.Heading
	var text []ast.Node // between the first two headings
	for n := doc.FirstChild(); n != nil; n = n.NextSibling() {
		switch k := n.(type) {
		case *ast.Heading:
			if c.lookAt(k) != trueHeading {
				if len(heads) == 1 {
					text = append(text, n)
				}
				continue
			}
			heads = append(heads, k)
		case *ast.HTMLBlock, *ast.LinkReferenceDefinition, *extast.FootnoteList:
		default:
			if len(heads) == 0 {
				return nil
			}
			if len(heads) == 1 {
				text = append(text, n)
			}
		}
	}
	if len(heads) < 3 || heads[0].Level != 1 || heads[1].Level != 2 {
		return nil
	}
	if number, part, attributed := c.look(heads[0]); number || part || attributed {
		return nil
	}
	second := 0
	for _, h := range heads[1:] {
		if h.Level == 1 {
			return nil
		}
		if h.Level == 2 {
			second++
			if _, part, _ := c.look(h); part {
				second++ // one part with its chapters is enough
			}
		}
	}
	if second < 2 || len(text) > 1 || hasNote(heads[0]) {
		return nil
	}
	t := &bookTitle{heading: heads[0]}
	author := ""
	if len(text) == 1 {
		if text[0].Kind() != ast.KindParagraph || hasNote(text[0]) {
			return nil
		}
		m := by.FindStringSubmatch(strings.TrimSpace(c.plain(text[0])))
		if m == nil {
			return nil
		}
		author, t.byline = m[1], text[0]
	}
	title := strings.TrimSpace(c.plain(heads[0]))
	if title == "" {
		return nil
	}
	if l.book.Title == "" {
		l.book.Title = title
	}
	if l.book.Author == "" {
		l.book.Author = author
	}
	t.shown = l.front.title && sameLetters(l.book.Title, title) &&
		(t.byline == nil || l.front.author && sameLetters(l.book.Author, author))
	return t
}

func hasNote(n ast.Node) bool {
	found := false
	_ = ast.Walk(n, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if n.Kind() == extast.KindFootnoteLink {
			found = true
			return ast.WalkStop, nil
		}
		return ast.WalkContinue, nil
	})
	return found
}

// plain is the text of a paragraph; its faults are found when it is read
// in its turn.
func (c *chapter) plain(n ast.Node) string {
	faults := c.faults
	s := Plain(c.inlines(n))
	c.faults = faults
	return s
}

func fallbackTitle(src Source, entries []entry, book *Book) string {
	name := ""
	if isSingle(entries) {
		var body []*Section
		for _, s := range book.Sections {
			if s.Matter == Body && s.Kind == Written {
				body = append(body, s)
				name = s.Pos.File
			}
		}
		if len(body) == 1 {
			if t := strings.TrimSpace(Plain(body[0].Title)); t != "" {
				return t
			}
		}
	}
	if name == "" {
		if dir, err := filepath.Abs(src.Dir); err == nil {
			name = filepath.ToSlash(dir)
		}
	}
	name = name[strings.LastIndex(name, "/")+1:]
	if t := titleFromName(name); t != "" {
		return t
	}
	return "Untitled"
}
