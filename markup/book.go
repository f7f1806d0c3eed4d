package markup

import (
	"fmt"
	"time"
)

// Pos is a place in the manuscript.
type Pos struct {
	File string // path relative to the book folder, with forward slashes
	Line int    // counted from 1; 0 when only the file is known
}

func (p Pos) String() string {
	if p.Line == 0 {
		return p.File
	}
	return fmt.Sprintf("%s:%d", p.File, p.Line)
}

// Error is a fault in the manuscript. Its text is one line that says where,
// what, and how to mend it.
type Error struct {
	Pos  Pos
	What string // what is wrong
	Mend string // how to mend it; may be empty
	Err  error  // the cause, if there is one
}

func (e *Error) Error() string {
	s := e.Pos.String() + ": " + e.What
	if e.Mend != "" {
		s += "; " + e.Mend
	}
	return s
}

func (e *Error) Unwrap() error { return e.Err }

// Book is a whole manuscript in reading order. It is not changed after Load.
type Book struct {
	Title, Subtitle, Author string
	Language                string // BCP 47
	Sections                []*Section
	Modified                time.Time // of the newest input
}

// Matter says which of the three parts of a book a section stands in.
type Matter uint8

const (
	Front Matter = iota
	Body
	Back
)

// Kind says what makes a section's text.
type Kind uint8

const (
	Written   Kind = iota // from a manuscript file
	HalfTitle             // generated: the title alone
	TitlePage             // generated: title, subtitle, author
	Contents              // generated: chapter titles and their folios
)

// Section is what opens a new page: a chapter, or a piece of front or back
// matter. One file makes one section, or one for each heading as high as the
// file's first.
type Section struct {
	Pos    Pos
	Matter Matter
	Kind   Kind
	Title  []Inline // the heading; empty when the file has none
	Blocks []Block
	Notes  []*Note // in the order of their references; Inline.Note is an index+1
}

// Block is one of *Paragraph, *Heading, *Quotation, *List, *SceneBreak,
// *Verbatim.
type Block interface {
	Position() Pos
	block()
}

type (
	// Paragraph is running text.
	Paragraph struct {
		Pos  Pos
		Text []Inline
	}

	// Heading is a heading inside a section. Level 1 is the first below the
	// section's own title, up to 5.
	Heading struct {
		Pos   Pos
		Level int
		Text  []Inline
	}

	// Quotation is set off from the text: a letter, a document, verse.
	Quotation struct {
		Pos    Pos
		Blocks []Block
	}

	// List has numbered items (from Start) or marked ones.
	List struct {
		Pos     Pos
		Ordered bool
		Start   int
		Tight   bool
		Items   []Item
	}

	// Item is one entry of a List.
	Item struct {
		Pos    Pos
		Blocks []Block
	}

	// SceneBreak is a pause inside a chapter.
	SceneBreak struct{ Pos Pos }

	// Verbatim keeps its lines, and their leading spaces, as they are typed.
	Verbatim struct {
		Pos   Pos
		Lines []Inline
	}

	// Note is set apart from the text that refers to it.
	Note struct {
		Pos    Pos
		Label  string // as typed in the manuscript
		Blocks []Block
	}
)

func (b *Paragraph) Position() Pos  { return b.Pos }
func (b *Heading) Position() Pos    { return b.Pos }
func (b *Quotation) Position() Pos  { return b.Pos }
func (b *List) Position() Pos       { return b.Pos }
func (b *SceneBreak) Position() Pos { return b.Pos }
func (b *Verbatim) Position() Pos   { return b.Pos }

func (*Paragraph) block()  {}
func (*Heading) block()    {}
func (*Quotation) block()  {}
func (*List) block()       {}
func (*SceneBreak) block() {}
func (*Verbatim) block()   {}

// Style is a set of the ways in which a stretch of text stands out. Emphasis
// inside emphasis has already been turned back to upright here.
type Style uint8

const (
	Emphasis Style = 1 << iota
	Strong
	Code // typed characters, kept as they are
)

// Inline is a stretch of text with one style on one source line, or a forced
// line end, or a reference to a note. A text is a flat list of them; the end
// of a source line inside a paragraph is a space at the end of the stretch.
type Inline struct {
	Pos   Pos
	Text  string // NFC, with typographer's marks; empty for Break and Note
	Style Style
	Break bool   // a forced line end
	Note  int    // a reference to Section.Notes[Note-1]; 0 for none
	Link  string // the address that the text leads to, if any
}

// Plain returns the text of ins without styles, a forced line end as a space.
func Plain(ins []Inline) string {
	var b []byte
	for _, in := range ins {
		if in.Break {
			b = append(b, ' ')
			continue
		}
		b = append(b, in.Text...)
	}
	return string(b)
}
