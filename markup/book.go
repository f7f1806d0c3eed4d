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
	Inputs                  []string  // the files that it was read from, pictures among them, on this machine
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
	Endnotes              // generated: the notes of all chapters, gathered in the back
)

// Piece says what a written section is in the book, which decides how it
// looks and on which page it begins. A file's name says it (dedication.md), or
// its heading does (# The Ebb {.part}).
type Piece uint8

const (
	Chapter    Piece = iota // of the body; in front and back, a piece with a title as a foreword has it
	Part                    // the title of a part, alone on its recto
	Copyright               // small, at the foot of the title page's back
	Dedication              // some centred lines
	Epigraph                // a quotation that stands for the whole book
	Plate                   // pictures alone
)

// Side is the side of a leaf on which a section begins.
type Side uint8

const (
	ByCustom Side = iota // as the setting and the trade have it
	OnRecto
	OnVerso
	OnEither // the next page, whichever it is
)

// Section is what opens a new page: a chapter, or a piece of front or back
// matter. One file makes one section, or one for each heading as high as the
// file's first.
type Section struct {
	Pos      Pos
	Matter   Matter
	Kind     Kind
	Piece    Piece
	Side     Side
	Number   []Inline // what is written of its number, as in "Chapter One"; empty for none
	Ordinal  int      // the number that Number says; 0 for none
	Title    []Inline // the heading, its number aside; empty when there is none
	Head     string   // what the running head shows in place of the title; empty for the title
	Language string   // BCP 47, where it is not the book's
	Unlisted bool     // not in the contents
	Plain    bool     // the program gives it no number
	Blocks   []Block
	Notes    []*Note // in the order of their references; Inline.Note is an index+1
}

// Block is one of *Paragraph, *Heading, *Quotation, *List, *SceneBreak,
// *Verbatim, *Verse, *Sign, *Table, *Picture.
type Block interface {
	Position() Pos
	block()
}

// Use says what a paragraph is for.
type Use uint8

const (
	Running     Use = iota
	Dateline        // the place and date at the head of a chapter
	Attribution     // who said it, below a quotation
	Salutation      // of a letter: Dear Keeper,
	Signature       // of a letter: at the right
	Address         // of a letter: place, date, inside address, at the right
)

// Form says what a quotation is.
type Form uint8

const (
	Extract Form = iota // something quoted
	Motto               // before the text of a chapter, a part or the book: an epigraph
	Letter              // a letter or another document
)

type (
	// Paragraph is running text, or a line with a place of its own.
	Paragraph struct {
		Pos  Pos
		Use  Use
		Text []Inline
	}

	// Heading is a heading inside a section. Level 1 is the first below the
	// section's own title, up to 5.
	Heading struct {
		Pos   Pos
		Level int
		Text  []Inline
	}

	// Quotation is set off from the text.
	Quotation struct {
		Pos    Pos
		Form   Form
		Blocks []Block
	}

	// Verse keeps its lines.
	Verse struct {
		Pos     Pos
		Stanzas [][]VerseLine
	}

	// VerseLine is one line of verse.
	VerseLine struct {
		Indent int // spaces that it is typed in from the others
		Text   []Inline
	}

	// Sign is an inscription, line by line: what stands on a door or a stone.
	Sign struct {
		Pos   Pos
		Lines [][]Inline
	}

	// Table is a small table. Each row has as many cells as Columns.
	Table struct {
		Pos     Pos
		Columns []Align
		Head    [][]Inline // the cells of its head; nil for none
		Rows    [][][]Inline
	}

	// Picture is a picture file of the book folder.
	Picture struct {
		Pos     Pos
		Path    string // on this machine
		Alt     string // what it shows, for those who cannot see it
		Caption []Inline
		Place   Place
		Width   int // of a picture InText, in thousandths of the measure; 0: its own width
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

// Align says how the cells of a column stand.
type Align uint8

const (
	AlignLeft Align = iota
	AlignCentre
	AlignRight
)

// Place says where a picture stands.
type Place uint8

const (
	InText   Place = iota // between two paragraphs, or near them
	FullPage              // a page of its own, inside the margins
	Bleeding              // a page of its own, past the edges of the trim
	Spread                // two facing pages, past their edges
)

func (b *Paragraph) Position() Pos  { return b.Pos }
func (b *Heading) Position() Pos    { return b.Pos }
func (b *Quotation) Position() Pos  { return b.Pos }
func (b *List) Position() Pos       { return b.Pos }
func (b *SceneBreak) Position() Pos { return b.Pos }
func (b *Verbatim) Position() Pos   { return b.Pos }
func (b *Verse) Position() Pos      { return b.Pos }
func (b *Sign) Position() Pos       { return b.Pos }
func (b *Table) Position() Pos      { return b.Pos }
func (b *Picture) Position() Pos    { return b.Pos }

func (*Paragraph) block()  {}
func (*Heading) block()    {}
func (*Quotation) block()  {}
func (*List) block()       {}
func (*SceneBreak) block() {}
func (*Verbatim) block()   {}
func (*Verse) block()      {}
func (*Sign) block()       {}
func (*Table) block()      {}
func (*Picture) block()    {}

// Style is a set of the ways in which a stretch of text stands out. Emphasis
// inside emphasis has already been turned back to upright here.
type Style uint16

const (
	Emphasis Style = 1 << iota
	Strong
	Code      // typed characters, kept as they are
	Caps      // [text]{.caps}: in small capitals
	Inscribed // [text]{.sign}: in the face of signs
	Raised    // [text]{.raised}: small, above the line: superior letters and figures
	Lowered   // [text]{.lowered}: small, below it
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
	Lang  string // BCP 47, where it is not the section's: [mot]{lang=fr}
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
