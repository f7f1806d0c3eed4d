package typeset

import (
	"fmt"
	"strconv"
	"strings"

	"bodkin/fonts"
	"bodkin/typeset/length"
)

// Setting is every choice that decides a layout. Its fields are the keys of
// [setting] in book.toml.
type Setting struct {
	Trim    Trim         `toml:"trim" json:"trim"`
	Face    string       `toml:"face" json:"face"`
	Size    length.Value `toml:"size" json:"size"`
	Leading Leading      `toml:"leading" json:"leading"`
	Margins Margins      `toml:"margins" json:"margins"`

	Indent      Auto    `toml:"indent" json:"indent"`             // of a paragraph's first line; auto: one em
	Hyphenate   bool    `toml:"hyphenate" json:"hyphenate"`       // divide words at line ends
	Pages       PageAim `toml:"pages" json:"pages"`               // what the page ends of a chapter aim at
	Widen       Widen   `toml:"widen" json:"widen"`               // how much wider or narrower the letters of a line may be
	Hang        bool    `toml:"hang" json:"hang"`                 // marks at line ends stand a little in the margin
	Figures     Figures `toml:"figures" json:"figures"`           // in the text
	Opening     Opening `toml:"opening" json:"opening"`           // how a chapter's first words are set
	DropLines   int     `toml:"drop-lines" json:"drop-lines"`     // lines beside a drop capital
	Opens       Opens   `toml:"opens" json:"opens"`               // where a chapter begins
	Sink        int     `toml:"sink" json:"sink"`                 // lines left empty above a chapter's title
	HeadingSize Auto    `toml:"heading-size" json:"heading-size"` // of a chapter's title; auto: 18pt, whatever the text's size
	SceneBreak  string  `toml:"scene-break" json:"scene-break"`   // its ornament; "" leaves a blank line
	Heads       Heads   `toml:"heads" json:"heads"`               // running heads
	Folios      Folios  `toml:"folios" json:"folios"`             // where page numbers stand

	Numbers     Numbers      `toml:"numbers" json:"numbers"`                 // of chapters, as the first would be written: "Chapter One", "1", "I"; "" leaves them as written
	PartNumbers Numbers      `toml:"part-numbers" json:"part-numbers"`       // of parts: "Part One"
	NumberSize  Auto         `toml:"number-size" json:"number-size"`         // of a chapter's number; auto: 12pt, whatever the text's size
	Subheading  Auto         `toml:"subheading-size" json:"subheading-size"` // of headings inside a chapter; auto: 12pt
	Ornament    string       `toml:"ornament" json:"ornament"`               // between a chapter's title and its text; "" for none
	Contents    Contents     `toml:"contents" json:"contents"`               // how the contents are set
	Notes       Notes        `toml:"notes" json:"notes"`                     // where notes stand
	NoteNumbers NoteNumbers  `toml:"note-numbers" json:"note-numbers"`       // from 1 in each chapter, or on each page
	SignFace    string       `toml:"sign-face" json:"sign-face"`             // family of signs and inscriptions; "" sets them in small capitals
	Bleed       length.Value `toml:"bleed" json:"bleed"`                     // by how much pictures reach past the trim, where one does
	BleedBack   bool         `toml:"bleed-back" json:"bleed-back"`           // at the back edge as well

	Colour  bool `toml:"colour" json:"colour"`     // pictures keep their colours, as CMYK; else they are gray
	MostPPI int  `toml:"most-ppi" json:"most-ppi"` // the most pixels to the inch of a picture in print; 0: as many as it has

	Press *Press `toml:"-" json:"-"` // what the printer asks of the pages; nil for none
}

// Contents says how the contents are set.
type Contents struct {
	Leaders bool `toml:"leaders" json:"leaders"` // points lead to the folios
	Levels  int  `toml:"levels" json:"levels"`   // 1: parts and chapters; 2: the headings inside chapters as well
}

// Margins are the four margins. Head and foot are measured to the text block;
// running heads and folios stand inside them.
type Margins struct {
	Back     Auto         `toml:"back" json:"back"` // auto: grows with the number of pages
	ForeEdge length.Value `toml:"fore-edge" json:"fore-edge"`
	Head     length.Value `toml:"head" json:"head"`
	Foot     length.Value `toml:"foot" json:"foot"`
}

// Heads says what the running heads of versos and rectos hold.
type Heads struct {
	Verso HeadText `toml:"verso" json:"verso"`
	Recto HeadText `toml:"recto" json:"recto"`
}

// Default is the setting of a book that says nothing: a digest-sized novel in
// an old-style face, with margins that printers take.
func Default() Setting {
	must := func(s string) length.Value {
		v, err := length.Parse(s)
		if err != nil {
			panic(err)
		}
		return v
	}
	trim, err := ParseTrim("5x8in")
	if err != nil {
		panic(err)
	}
	return Setting{
		Trim:    trim,
		Face:    "EB Garamond",
		Size:    must("11pt"),
		Leading: Leading{Kind: Fixed, Value: must("14pt")},
		Margins: Margins{
			Back:     Auto{Auto: true},
			ForeEdge: must("0.5in"),
			Head:     must("0.75in"),
			Foot:     must("0.75in"),
		},
		Indent:      Auto{Auto: true},
		Hyphenate:   true,
		Hang:        true,
		Figures:     OldStyle,
		Opening:     OpeningSmallCaps,
		DropLines:   3,
		Opens:       OnNext,
		Sink:        6,
		HeadingSize: Auto{Auto: true},
		SceneBreak:  "* * *",
		Heads:       Heads{Verso: HeadAuthor, Recto: HeadTitle},
		Folios:      FolioFoot,
		NumberSize:  Auto{Auto: true},
		Subheading:  Auto{Auto: true},
		Contents:    Contents{Levels: 1},
		Bleed:       must("0.125in"),
	}
}

// Auto is a length, or "auto": the program finds it.
type Auto struct {
	Auto  bool
	Value length.Value
}

func (a Auto) String() string {
	if a.Auto {
		return "auto"
	}
	return a.Value.String()
}

// UnmarshalText reads a length or the word auto.
func (a *Auto) UnmarshalText(text []byte) error {
	if strings.TrimSpace(string(text)) == "auto" {
		*a = Auto{Auto: true}
		return nil
	}
	v, err := length.Parse(string(text))
	if err != nil {
		return err
	}
	*a = Auto{Value: v}
	return nil
}

// MarshalText writes a as String does.
func (a Auto) MarshalText() ([]byte, error) { return []byte(a.String()), nil }

// Widen is how much wider or narrower than they are drawn the letters of a line
// may be set, so that its spaces are nearer to those of its neighbours: in
// thousandths, at most 15, which no reader sees.
type Widen int64

func (w Widen) String() string { return decimal(int64(w)*100) + "%" }

// UnmarshalText reads a percentage from 0% to 1.5%.
func (w *Widen) UnmarshalText(text []byte) error {
	number, found := strings.CutSuffix(strings.TrimSpace(string(text)), "%")
	n, err := thousandths(number)
	if !found || err != nil || n > 1500 || n%100 != 0 {
		return fmt.Errorf("%q: letters may be set wider by 0%% to 1.5%%, in steps of 0.1%%", text)
	}
	*w = Widen(n / 100)
	return nil
}

// MarshalText writes w as String does.
func (w Widen) MarshalText() ([]byte, error) { return []byte(w.String()), nil }

// decimal writes a number of thousandths.
func decimal(thousandths int64) string { return length.Decimal(thousandths, 3) }

// LeadingKind says how a leading is given.
type LeadingKind uint8

const (
	Fixed    LeadingKind = iota // a length
	Percent                     // of the size
	Multiple                    // of the face's own line height
)

// Leading is the distance from baseline to baseline: "14pt", "127%" of the
// size, or "1.2 lines", a multiple of the face's own line height, as word
// processors count.
type Leading struct {
	Kind       LeadingKind
	Value      length.Value // of Fixed
	Thousandth int64        // of Percent (1270 for 127%) and Multiple (1200 for 1.2 lines)
}

// At returns the leading for type of the given size. The line height of a
// face is its ascent, descent and line gap together.
func (l Leading) At(size length.Length, face *fonts.Face) length.Length {
	switch l.Kind {
	case Percent:
		return size.Scale(l.Thousandth, 1000)
	case Multiple:
		height := int64(face.Ascent - face.Descent + face.LineGap)
		return size.Scale(height*l.Thousandth, int64(face.Upem)*1000)
	}
	return l.Value.Length
}

func (l Leading) String() string {
	switch l.Kind {
	case Percent:
		return decimal(l.Thousandth*100) + "%"
	case Multiple:
		return decimal(l.Thousandth) + " lines"
	}
	return l.Value.String()
}

// UnmarshalText reads the three forms of a leading.
func (l *Leading) UnmarshalText(text []byte) error {
	s := strings.TrimSpace(string(text))
	if number, found := strings.CutSuffix(s, "%"); found {
		n, err := thousandths(number)
		if err != nil || n%100 != 0 {
			return fmt.Errorf("leading %q is not a percentage with at most one decimal, as in 127%%", s)
		}
		*l = Leading{Kind: Percent, Thousandth: n / 100}
		return nil
	}
	if number, found := strings.CutSuffix(s, "lines"); found {
		n, err := thousandths(number)
		if err != nil {
			return fmt.Errorf("leading %q is not a number of lines with at most three decimals, as in 1.2 lines", s)
		}
		*l = Leading{Kind: Multiple, Thousandth: n}
		return nil
	}
	v, err := length.Parse(s)
	if err != nil {
		return fmt.Errorf("leading: %w (or 127%% of the size, or 1.2 lines)", err)
	}
	*l = Leading{Kind: Fixed, Value: v}
	return nil
}

// MarshalText writes l as String does.
func (l Leading) MarshalText() ([]byte, error) { return []byte(l.String()), nil }

// thousandths reads a decimal number below 1000 with at most three decimals.
func thousandths(s string) (int64, error) {
	whole, part, _ := strings.Cut(strings.TrimSpace(s), ".")
	if len(part) > 3 || len(whole) > 3 || whole == "" {
		return 0, strconv.ErrSyntax
	}
	n, err := strconv.ParseUint(whole+part+"000"[len(part):], 10, 32)
	return int64(n), err
}
