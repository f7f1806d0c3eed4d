package typeset

import (
	"time"

	"bodkin/fonts"
	"bodkin/markup"
	"bodkin/typeset/length"
)

// Layout is a book that has been set: the contract between composition and
// everything that looks at the result. PDF, pictures, counts and quality
// figures read it and nothing before it.
//
// Places on a page are measured from the top left corner of the trim, x to the
// right, y down. A Layout is not changed once it is made.
type Layout struct {
	Title, Author, Language string
	Modified                time.Time // of the newest input

	Setting Setting
	Trim    Size
	Block   Block // the text block of a recto
	Back    length.Length
	Bleed   length.Length // by which the paper exceeds the trim, to be cut off; 0 where no picture bleeds
	Pages   []Page
	Entries []Entry // for an outline: what a reader may want to turn to
	Saved   int     // pages that were saved because the fewest are wanted

	Unsettled bool     // no back margin agrees with the number of pages it makes: the larger was kept
	Lacking   []string // styles of the text that the family has no face for, as in "bold italic"
}

// Size is a width and a height.
type Size struct{ Width, Height length.Length }

// Block is where the text stands on a page: a rectangle as wide as the
// measure, on a grid of baselines.
type Block struct {
	Left     length.Length // the text's left edge on a recto
	Baseline length.Length // of the first line
	Leading  length.Length // from baseline to baseline
	Measure  length.Length // the width of a full line
	Rows     int           // baselines on a full page
	Ascender length.Length // what the block extends above the first baseline
}

// Entry is a place to turn to, and its page as an index in Layout.Pages.
type Entry struct {
	Title string
	Page  int
}

// Page is one side of a leaf. Page 0 of a Layout is a recto.
type Page struct {
	Label   string // what the page is called: "iv", "12"; shown or not
	Section int    // index in Book.Sections; -1 on blank pages
	Blank   bool   // nothing is printed on it
	Opening bool   // a section begins here
	Depth   int    // rows that its spread was given; Block.Rows unless it runs short or long
	Torn    bool   // it ends where it should not: nothing else was possible
	Lines   []Line // text first, in reading order, then notes, then running head and folio
	Notes   int    // how many of the lines are notes at its foot; they follow the text
	Plates  []Plate
}

// Plate is a picture on a page. It may reach past the trim, and on a spread
// it shows on two pages, a part on each.
type Plate struct {
	X, Y          length.Length // its top left corner
	Width, Height length.Length
	Clip          Box  // the part of the page that it may cover; the zero Box for all of it
	Bleeds        bool // it is meant to reach past the trim
	Picture       *markup.Picture
	PPI           int // its pixels to the inch, as it is printed
	Wanted        int // the least that printers ask for, by its kind: 300, or 600 where it is black and white
}

// Box is a rectangle on a page.
type Box struct{ X, Y, Width, Height length.Length }

// Role says what a line is for.
type Role uint8

const (
	Text     Role = iota // running text, quotations, lists
	Heading              // the title of a section, or a heading inside one
	Ornament             // a scene break
	NoteText             // a note
	Head                 // a running head
	Folio                // a page number
	Display              // a generated page: half-title, title page, contents
	Caption              // below a picture
)

func (r Role) String() string {
	return [...]string{"text", "heading", "ornament", "note", "head", "folio", "display", "caption"}[r]
}

// Line is one line of type.
type Line struct {
	Role    Role
	X       length.Length // the left edge of its measure
	Y       length.Length // its baseline
	Measure length.Length // the width it was set to
	Runs    []Run         // from left to right
	Labels  int           // how many of the runs stand before the measure: a label, a drop capital
	Pos     markup.Pos    // of its first letter; the file is empty for added lines

	// How the line was justified, for the quality figures.
	Justified bool          // word spaces were set to fill the measure
	Space     length.Length // its word space as set; 0 when it has none
	Natural   length.Length // the word space of its face and size
	Hyphen    bool          // ends in a hyphen that the program put in
	First     bool          // the first line of its paragraph
	Last      bool          // the last line of its paragraph
	Varied    int8          // its paragraph has so many lines more (or fewer) than it has at its best

	traits *traits // where it is shared with other layouts; nil otherwise
}

// Run is a stretch of glyphs in one face and size. It is placed from its line,
// so that layouts which differ only in where lines stand share their runs.
type Run struct {
	X      length.Length // of its origin, from its Line.X
	Rise   length.Length // how far it stands above the line's baseline
	Size   length.Length
	Track  length.Length // added after every glyph
	Widen  int32         // hundred-thousandths by which its glyphs and their advances are wider
	Note   int32         // the number in its section of the note that it refers to or is the label of; 0 for all others
	Glyphs *fonts.Run    // in font units, with the text they stand for
	Space  bool          // a word space stands before it
	Added  bool          // not in the manuscript: hyphens, numbers, ornaments
	Pos    markup.Pos    // where its text stands in the manuscript
}

// Width returns the advance of the run, tracking included.
func (r *Run) Width() length.Length {
	face := r.Glyphs.Face
	return r.widened(r.Size.Scale(int64(r.Glyphs.Width), int64(face.Upem)) +
		r.Track*length.Length(len(r.Glyphs.Glyphs)))
}

// Unwidened is the part of Widen that stands for glyphs as they are.
const Unwidened = 100_000

func (r *Run) widened(x length.Length) length.Length {
	if r.Widen == 0 {
		return x
	}
	return x.Scale(Unwidened+int64(r.Widen), Unwidened)
}

// Place is a glyph at its exact place.
type Place struct {
	Glyph *fonts.Glyph
	X, Y  length.Length // of its origin, from the page's top left corner
}

// Places calls yield for each glyph of the run, which is on line l. Each place
// is scaled once from the sum of the advances before it, so that rounding
// never adds up.
func (r *Run) Places(l *Line, yield func(Place) bool) {
	upem := int64(r.Glyphs.Face.Upem)
	var pen int64
	for i := range r.Glyphs.Glyphs {
		g := &r.Glyphs.Glyphs[i]
		x := l.X + r.X + r.widened(r.Size.Scale(pen+int64(g.DX), upem)+r.Track*length.Length(i))
		if !yield(Place{g, x, l.Y - r.Rise - r.Size.Scale(int64(g.DY), upem)}) {
			return
		}
		pen += int64(g.Advance)
	}
}

// Recto reports whether the page at index i lies on the right.
func Recto(i int) bool { return i%2 == 0 }

// BlockLeft returns the left edge of the text block on the page at index i:
// the margins mirror on facing pages.
func (l *Layout) BlockLeft(i int) length.Length { return l.Block.left(l.Trim, i) }

// Whole reports whether a line on the page at index i is a whole line of the
// block: it reaches to the right edge, begins at the left one or behind an
// indent, and has no label. Tables, signs and letters have others.
func (l *Layout) Whole(i int, line *Line) bool {
	left := l.BlockLeft(i)
	return line.Labels == 0 && line.X-left+line.Measure == l.Block.Measure && (line.First || line.X == left)
}

func (b *Block) left(trim Size, i int) length.Length {
	if Recto(i) {
		return b.Left
	}
	return trim.Width - b.Left - b.Measure
}
