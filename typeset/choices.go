package typeset

import (
	"fmt"
	"slices"
	"strings"
)

// The choices of a setting that are words. Each type lists its words in the
// order of its constants.
type (
	Figures  uint8 // the shape of figures in the text
	Opening  uint8 // how a chapter's first words are set
	Opens    uint8 // the page on which a chapter begins
	HeadText uint8 // what a running head holds
	Folios   uint8 // where page numbers stand
	PageAim  uint8 // what the page ends of a chapter aim at

	Notes       uint8 // where notes stand
	NoteNumbers uint8 // where their numbers begin again
)

const (
	OldStyle Figures = iota // with ascenders and descenders, where the face has them
	Lining                  // as tall as capitals
)

const (
	OpeningSmallCaps Opening = iota // in small capitals, where the face has them
	OpeningDropCap                  // after a capital of several lines
	OpeningPlain                    // as the rest of the text
)

const (
	OnNext  Opens = iota // the next page
	OnRecto              // the next recto
)

const (
	HeadNone    HeadText = iota
	HeadAuthor           // the book's author
	HeadTitle            // the book's title
	HeadChapter          // the chapter's title
	HeadPart             // the part's title
)

const (
	FolioFoot      Folios = iota // centred at the foot
	FolioFootOuter               // at the foot, towards the fore-edge
	FolioHeadOuter               // beside the running head, towards the fore-edge
	FolioNone
)

const (
	EvenPages   PageAim = iota // spreads and paragraphs as they are best
	FewestPages                // a page fewer wherever the rules allow
)

const (
	NotesAtFoot    Notes = iota // of the page that refers to them
	NotesAtChapter              // at the end of their chapter
)

const (
	NumberedByChapter NoteNumbers = iota
	NumberedByPage
)

var (
	notesWords       = []string{"foot", "chapter"}
	noteNumbersWords = []string{"chapter", "page"}

	pageAimWords  = []string{"even", "fewest"}
	figuresWords  = []string{"old-style", "lining"}
	openingWords  = []string{"small-caps", "drop-cap", "plain"}
	opensWords    = []string{"next", "recto"}
	headTextWords = []string{"none", "author", "title", "chapter", "part"}
	foliosWords   = []string{"foot", "foot-outer", "head-outer", "none"}
)

func (c PageAim) String() string  { return pageAimWords[c] }
func (c Figures) String() string  { return figuresWords[c] }
func (c Opening) String() string  { return openingWords[c] }
func (c Opens) String() string    { return opensWords[c] }
func (c HeadText) String() string { return headTextWords[c] }
func (c Folios) String() string   { return foliosWords[c] }

func (c PageAim) MarshalText() ([]byte, error)  { return []byte(c.String()), nil }
func (c Figures) MarshalText() ([]byte, error)  { return []byte(c.String()), nil }
func (c Opening) MarshalText() ([]byte, error)  { return []byte(c.String()), nil }
func (c Opens) MarshalText() ([]byte, error)    { return []byte(c.String()), nil }
func (c HeadText) MarshalText() ([]byte, error) { return []byte(c.String()), nil }
func (c Folios) MarshalText() ([]byte, error)   { return []byte(c.String()), nil }

func (c *PageAim) UnmarshalText(text []byte) error  { return choose(c, pageAimWords, text) }
func (c *Figures) UnmarshalText(text []byte) error  { return choose(c, figuresWords, text) }
func (c *Opening) UnmarshalText(text []byte) error  { return choose(c, openingWords, text) }
func (c *Opens) UnmarshalText(text []byte) error    { return choose(c, opensWords, text) }
func (c *HeadText) UnmarshalText(text []byte) error { return choose(c, headTextWords, text) }
func (c *Folios) UnmarshalText(text []byte) error   { return choose(c, foliosWords, text) }

func (c Notes) String() string                   { return notesWords[c] }
func (c Notes) MarshalText() ([]byte, error)     { return []byte(c.String()), nil }
func (c *Notes) UnmarshalText(text []byte) error { return choose(c, notesWords, text) }

func (c NoteNumbers) String() string                   { return noteNumbersWords[c] }
func (c NoteNumbers) MarshalText() ([]byte, error)     { return []byte(c.String()), nil }
func (c *NoteNumbers) UnmarshalText(text []byte) error { return choose(c, noteNumbersWords, text) }

// choose sets c to the place of text among the words.
func choose[T ~uint8](c *T, words []string, text []byte) error {
	i := slices.Index(words, string(text))
	if i < 0 {
		return fmt.Errorf("%q is not a choice here: write one of %s", text, strings.Join(words, ", "))
	}
	*c = T(i)
	return nil
}
