package wordproc

import (
	"context"
	"fmt"
	"io"
	"iter"
	"strings"
	"unique"

	"bodkin/markup"
)

// Document is what a word-processing document shows its reader, in reading
// order. It is not changed after [Read].
type Document struct {
	Name   string // the file's name, for messages
	Format string // "WordprocessingML", "OpenDocument Text", "Markdown" or "plain text"

	Title, Author string // the core properties; empty where they say nothing
	Language      string // BCP 47; that of most letters, else that of the properties
	heard         string // why the words say that it is another than the document does
	said          string // the language that the document says instead, and marks its text with

	Paragraphs []*Paragraph // tables stand among them
	Notes      []*Note      // in the order of their references
	Pictures   []*Picture
	Findings   []Finding // what a reader of the chapters will not see, and what was changed

	TextWidth int // between the margins of the page, in twips; 0 when it is not said

	references map[string]string // of Markdown: the definitions of addresses, by their label
	load       load
	starts     []start // where several documents begin that were joined
	last       int     // of their paragraphs so far
	lastNoted  int     // of their notes'
	close      func() error
}

// Close lets go of the file.
func (d *Document) Close() error {
	if d.close == nil {
		return nil
	}
	return d.close()
}

// Paragraph is one paragraph, or a table in its place. Lengths are in twips,
// twentieths of a point.
type Paragraph struct {
	N     int    // its number in the document, from 1; in notes from -1 down
	Style string // the name of its style, in small letters
	Level int    // outline level 1 to 9 of a heading, 0 for text

	Align              Align
	Left, Right, First int // indents; First is that of the first line, from Left
	Before, After      int // space above and below
	PageBefore         bool
	Ruled              bool  // there is a line above or below it
	Look               Style // what its style says of all its letters
	Item               *Item // of a list; nil for none
	Contents           bool  // it is part of a generated table of contents or index
	Box                bool  // it stands in a text box

	Runs  []Run
	Table *Table

	Raw  string // of a Markdown manuscript: its lines as they are written
	Line int    // where they begin; 0 in other documents

	byName bool // it is no paragraph of the document, but the name of its file
}

// Run is a stretch of text of one look, a forced line end, a reference to a
// note, or a picture.
type Run struct {
	Text    string // NFC
	Lang    string // BCP 47; empty when it is not said
	Link    string // the address that the text leads to
	Size    int    // half-points; 0 when it is not said
	Note    int    // Document.Notes[Note-1]
	Picture int    // Document.Pictures[Picture-1]
	Face    Face
	Style   Style
	Break   bool
}

// Face is a typeface: the zero Face is one that is not said.
type Face struct{ name unique.Handle[string] }

// faceNamed is the face of a name; one that no face has is none.
func faceNamed(name string) Face {
	if name == "" || len(name) > 64 {
		return Face{}
	}
	return Face{unique.Make(strings.ToLower(name))}
}

func (f Face) String() string {
	if f == (Face{}) {
		return ""
	}
	return f.name.Value()
}

// Style is a set of the ways in which letters stand out.
type Style uint16

const (
	Emphasis Style = 1 << iota
	Strong
	SmallCaps
	Capitals // capitals by their format, whatever was typed
	Underline
	Superscript
	Subscript
	Struck
	Hidden
	Spaced // letterspaced, by a point or more
	Marked // highlighted or in a colour of its own, and not by the style of its paragraph
)

// Align is how the lines of a paragraph stand.
type Align uint8

const (
	Start Align = iota // ragged or justified
	Centre
	End
)

// Item makes a paragraph an entry of a list.
type Item struct {
	Level   int    // from 0
	Ordered bool   // numbered
	Number  int    // of an ordered item
	Label   string // as it is shown: "3.", "Chapter 3", "•"
	More    bool   // a further paragraph of the item before
}

// Table has rows of cells. Cells that another one reaches over are empty.
type Table struct {
	Rows [][]Cell
	Head bool // the first row is its head
}

// Cell holds paragraphs.
type Cell []*Paragraph

// Note is a footnote or an endnote.
type Note struct {
	Paragraphs []*Paragraph
	Mark       string // the author's own mark; empty when it is a number
}

// Picture is a picture of the document.
type Picture struct {
	Name  string // its name in the package; empty when it lies outside
	Alt   string // what it shows
	Width int    // in twips; 0 when it is not said
	open  func() (io.ReadCloser, error)
}

// Finding is something that a person should know of: what it is, where, and
// the words there.
type Finding struct {
	Kind string `json:"kind"`
	N    int    `json:"paragraph,omitempty"` // 0 for the document as a whole; below 0 in a note
	Text string `json:"text,omitempty"`
	From string `json:"from,omitempty"` // the document, where there are several: see Document.Place
	Spot
}

// The kinds of findings of a reader.
const (
	KindComment   = "comments left out"
	KindDeletion  = "tracked deletions carried out"
	KindInsertion = "tracked insertions accepted"
	KindMove      = "tracked moves carried out"
	KindHeader    = "headers and footers left out"
	KindField     = "fields kept as the text they show"
	KindHidden    = "hidden text left out"
	KindSymbol    = "characters of symbol faces left out"
	KindLost      = "characters that no text can hold left out"
	KindMended    = "characters of an old code page mended"
	KindPicture   = "pictures left out"
	KindContents  = "contents and indexes left out"
	KindEmbedded  = "embedded objects left out"
	KindRuby      = "ruby annotations left out"
	KindPrompt    = "prompts of empty fields left out"
	KindFormula   = "formulas kept as plain letters"
	KindNote      = "notes without text left out"
	KindCapitals  = "capitals by format that became small capitals"
	KindEncoding  = "encoding"
)

func (d *Document) found(kind string, n int, text string) {
	d.load.pieces++
	d.Findings = append(d.Findings, Finding{Kind: kind, N: n, Text: shorten(text)})
}

// Text is the text of the runs, a forced line end as a line feed.
func (p *Paragraph) Text() string {
	if len(p.Runs) == 1 && !p.Runs[0].Break {
		return p.Runs[0].Text
	}
	var b strings.Builder
	for _, r := range p.Runs {
		if r.Break {
			b.WriteByte('\n')
		}
		b.WriteString(r.Text)
	}
	return b.String()
}

// everyParagraph yields paragraphs in reading order, those in the cells of a table
// behind the table itself.
func everyParagraph(ps []*Paragraph) iter.Seq[*Paragraph] {
	return func(yield func(*Paragraph) bool) {
		var walk func(ps []*Paragraph) bool
		walk = func(ps []*Paragraph) bool {
			for _, p := range ps {
				if !yield(p) {
					return false
				}
				if p.Table == nil {
					continue
				}
				for _, row := range p.Table.Rows {
					for _, c := range row {
						if !walk(c) {
							return false
						}
					}
				}
			}
			return true
		}
		walk(ps)
	}
}

// holdsText tells whether the paragraph has anything to set.
func (p *Paragraph) holdsText() bool {
	for _, r := range p.Runs {
		if r.Note > 0 || r.Picture > 0 || strings.TrimSpace(r.Text) != "" {
			return true
		}
	}
	return p.Table != nil || p.Raw != ""
}

// Size is that of most letters of the paragraph, in half-points; 0 when it is
// not said.
func (p *Paragraph) Size() int { return most(p.Runs, func(r Run) int { return r.Size }) }

// face is the typeface of most letters of a paragraph.
func (p *Paragraph) face() Face { return most(p.Runs, func(r Run) Face { return r.Face }) }

// all tells whether every letter of the paragraph has the look.
func (p *Paragraph) all(s Style) bool {
	some := false
	for _, r := range p.Runs {
		if strings.IndexFunc(r.Text, markup.IsLetter) < 0 {
			continue
		}
		if r.Style&s == 0 {
			return false
		}
		some = true
	}
	return some
}

// most returns the value that most letters have.
func most[T comparable](runs []Run, of func(Run) T) (best T) {
	if len(runs) == 1 {
		return of(runs[0])
	}
	count, top := map[T]int{}, 0
	for _, r := range runs {
		v := of(r)
		if count[v] += len(r.Text); count[v] > top {
			best, top = v, count[v]
		}
	}
	return best
}

// Error is a document that cannot be taken in. Its text is one line that says
// where, what, and how to mend it.
type Error struct {
	File, Part string // Part is the file inside a package, perhaps with a line
	What, Mend string
	Err        error
}

func (e *Error) Error() string {
	s := e.File
	if e.Part != "" {
		s += ": " + e.Part
	}
	s += ": " + e.What
	if e.Mend != "" {
		s += "; " + e.Mend
	}
	return s
}

func (e *Error) Unwrap() error { return e.Err }

// Options are the choices of a reading.
type Options struct {
	// Strict refuses a document with tracked changes.
	Strict bool

	// Language is the BCP 47 tag of the book where it is not what the document
	// says; empty for that.
	Language string
}

// strict is the refusal of tracked changes.
func (d *Document) strict() error {
	first, n := Finding{}, 0
	for _, f := range d.Findings {
		switch f.Kind {
		case KindDeletion, KindInsertion, KindMove:
			if n++; n == 1 {
				first = f
			}
		}
	}
	if n == 0 {
		return nil
	}
	return &Error{File: d.Name, What: fmt.Sprintf("the document has %s that nobody has settled yet, the first in paragraph %d (%q)", plural(n, "tracked change"), first.N, first.Text),
		Mend: "accept or reject them where the document was written, or leave out --strict to accept them all"}
}

func plural(n int, of string) string {
	if n == 1 {
		return "1 " + of
	}
	return fmt.Sprintf("%d %ss", n, of)
}

// shorten makes words fit for a message.
func shorten(s string) string {
	s = spaced(s)
	if r := []rune(s); len(r) > 60 {
		return string(r[:59]) + "…"
	}
	return s
}

// cancelled is the cause of a cancelled reading.
func cancelled(ctx context.Context) error {
	if ctx.Err() != nil {
		return context.Cause(ctx)
	}
	return nil
}
