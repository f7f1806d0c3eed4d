package wordproc

import "bodkin/markup"

// Manuscript is the book that was recognised in a document.
type Manuscript struct {
	Title, Subtitle, Author string
	Language                string // BCP 47

	Pieces  []*Piece
	Guesses []Guess
	Left    []Finding // words of the document that are in no chapter, besides the findings of the reader

	Changed []Change // looks that the chapters have in another form

	sides, faces counted // looks of paragraphs that have no place in the chapters

	doc       *Document
	ornaments int  // lines of them
	signed    bool // a page says who wrote it
	tooMany   int  // how many pieces it would have
	profile   profile
	left      Tally               // of what is in no chapter
	dropped   map[int]int         // its letters, by paragraph
	shorts    map[string]int      // the last of the short lines of a text
	headLevel int                 // of the heads of scenes
	titled    int                 // whether all numbers alone have a title below them: 1, or -1; 0 when nobody has looked
	files     map[int]pictureFile // by their numbers in the document
	pictures  []PictureFile
	spots     []Spot            // of the paragraphs, by their numbers
	copied    map[string]string // of a Markdown manuscript: the new names of its pictures
}

// Guess is something that was taken for what it looks like, with the reason,
// so that the author can check it.
type Guess struct {
	N      int    `json:"paragraph,omitempty"`
	What   string `json:"what"` // "chapter", "scene break", ...
	Text   string `json:"text,omitempty"`
	Reason string `json:"reason"`
	Sure   bool   `json:"sure"`           // the document says so itself: by a style, an outline level
	From   string `json:"from,omitempty"` // the document, where there are several: see Document.Place
	Spot
}

// SceneBreak is what a guess says of a scene break.
const SceneBreak = "scene break"

// Role says what a piece is in the book.
type Role uint8

const (
	Chapter Role = iota
	Part
	Copyright
	Dedication
	Epigraph
	Aside // kept in a file of its own that the book does not list
)

// Piece is what becomes one file.
type Piece struct {
	File   string // "chapters/01-the-long-ebb.md"
	Matter markup.Matter
	Role   Role
	Title  string // of its heading, for the report

	head   []*Paragraph // its heading: number, title
	blocks []block
	text   string // as Markdown
}

// blockKind says how a block is written.
type blockKind uint8

const (
	nothing    blockKind = iota
	prose                // one paragraph
	heading              // inside a piece
	sceneBreak           // * * *
	verse                // lines, by paragraph
	quotation            // paragraphs set off
	letter               // the same, with a salutation
	sign                 // lines in the middle
	dateline             // place and date below the heading
	list                 // items
	table                // one
	picture              // one or more
	raw                  // Markdown as it was written
)

// block is what stands between empty lines of a chapter.
type block struct {
	kind  blockKind
	level int    // of a heading, from 2
	held  bool   // its paragraphs are lines: of who says what, of a list that was typed
	why   string // it is one of those that stand out of the text; empty where that is no guess
	paras []*Paragraph

	caption *Paragraph // of a picture
}

func (m *Manuscript) guess(sure bool, p *Paragraph, what, reason string) {
	m.Guesses = append(m.Guesses, Guess{N: p.N, What: what, Text: shorten(p.shown()), Reason: reason, Sure: sure})
}

// drop leaves a paragraph out of the chapters.
func (m *Manuscript) drop(p *Paragraph, reason string) {
	if p.holdsText() {
		m.Left = append(m.Left, Finding{Kind: reason, N: p.N, Text: shorten(p.shown())})
	}
	if m.dropped == nil {
		m.dropped = map[int]int{}
	}
	if p.byName {
		return
	}
	t := tally(p.Text())
	m.left.add(t)
	m.dropped[p.N] += t.Letters
	for _, r := range p.Runs {
		if r.Note > 0 {
			for _, q := range noteParagraphs(m.doc.Notes[r.Note-1]) {
				m.drop(q, leftNote)
			}
		}
	}
}

// isDropped tells whether paragraph n, or a part of it, is in no chapter.
func (m *Manuscript) isDropped(n int) bool {
	_, ok := m.dropped[n]
	return ok
}

// shown is the text with the number that a list gives it.
func (p *Paragraph) shown() string {
	t := p.Text()
	if p.Item != nil && p.Level > 0 && p.Item.Label != "" {
		t = p.Item.Label + " " + t
	}
	return t
}
