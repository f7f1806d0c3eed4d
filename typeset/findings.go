package typeset

import (
	"cmp"
	"fmt"
	"image/color"
	"slices"
	"strings"

	"bodkin/markup"
)

// FindingKind says what was found on a page. The kinds stand in the order of
// the harm they do, the worst first; the last ones are no faults, but choices
// that a reader of proofs wants to know.
type FindingKind uint8

const (
	OverfullLine   FindingKind = iota // wider than its measure, hanging marks aside
	TornPage                          // a page that ends where it should not: nothing else was possible
	Stranded                          // a heading or a scene break at the foot of a page
	Widow                             // the last line of a paragraph of several, at the head of a page
	Orphan                            // the first line of one, at the foot of a page
	ShortEnd                          // a section's last page, of fewer than five lines
	UnevenSpread                      // facing pages that end on unlike rows, section ends aside
	RectoHyphen                       // a page is turned in the middle of a word
	Ladder                            // more than two lines in a row that end in hyphens
	LooseLine                         // word spaces over half an em (Bringhurst, §2.1.1)
	River                             // word spaces that run together down the page: see riverLines
	Runt                              // the last line of a paragraph of several is a stub: see runtLetters
	RepeatedWord                      // a line begins or ends with the word of the line above
	TightLine                         // word spaces within a fiftieth of the least, a fifth of an em
	VersoHyphen                       // a word goes on at the head of the facing page
	LadderOfTwo                       // two lines in a row that end in hyphens
	LongParagraph                     // it has a line more than it has at its best
	ShortParagraph                    // it has a line fewer
	LongSpread                        // its pages are longer than the text block
	ShortSpread                       // its pages are shorter
	HyphenatedLine                    // it ends in a hyphen that the program put in
	kindEnd
)

// kind is what there is to say of a FindingKind.
type kind struct {
	name, one, many string
	meaning         string // one clause
	hue             string
	color           color.RGBA
}

// The inks of marks are those of old maps, six of them: one for each way in
// which a page can be wrong.
var (
	madder = color.RGBA{0xc4, 0x4a, 0x45, 0xff} // what must not be
	ochre  = color.RGBA{0xd9, 0xa4, 0x41, 0xff} // too wide
	sea    = color.RGBA{0x5b, 0x9b, 0xb5, 0xff} // white that runs together
	slate  = color.RGBA{0x6a, 0x70, 0xb0, 0xff} // too narrow
	plum   = color.RGBA{0xa0, 0x68, 0xa0, 0xff} // words and hyphens at line ends
	moss   = color.RGBA{0x86, 0xa8, 0x6b, 0xff} // choices, no faults
)

var kinds = [kindEnd]kind{
	OverfullLine:   {"overfull", "overfull line", "overfull lines", "text sticks out into the margin", "red", madder},
	TornPage:       {"torn", "torn page", "torn pages", "ends where it should not, because nothing else was possible", "red", madder},
	Stranded:       {"stranded", "stranded heading", "stranded headings", "a heading or scene break at the foot of a page, its text overleaf", "red", madder},
	Widow:          {"widow", "widow", "widows", "a paragraph's last line alone at the head of a page", "red", madder},
	Orphan:         {"orphan", "orphan", "orphans", "a paragraph's first line alone at the foot of a page", "red", madder},
	ShortEnd:       {"short", "short last page", "short last pages", "a chapter ends on a page of fewer than five lines", "red", madder},
	UnevenSpread:   {"uneven", "uneven spread", "uneven spreads", "two facing pages end on different lines", "red", madder},
	RectoHyphen:    {"hyphenRecto", "hyphen before a page turn", "hyphens before a page turn", "the reader turns the page in the middle of a word", "red", madder},
	Ladder:         {"ladder", "ladder", "ladders", "three or more lines in a row end in hyphens", "purple", plum},
	LooseLine:      {"loose", "loose line", "loose lines", "spaces between words wider than half the type size", "yellow", ochre},
	River:          {"river", "river", "rivers", "wide spaces meet from line to line and make a white streak", "light blue", sea},
	Runt:           {"runt", "runt", "runts", "a paragraph ends in a line of one short word", "purple", plum},
	RepeatedWord:   {"repeat", "repeated word", "repeated words", "a line begins or ends with the same word as the line above", "purple", plum},
	TightLine:      {"tight", "tight line", "tight lines", "spaces between words at their narrowest", "dark blue", slate},
	VersoHyphen:    {"hyphenVerso", "hyphen at the foot of a left page", "hyphens at the foot of left pages", "a word goes on at the head of the facing page", "purple", plum},
	LadderOfTwo:    {"ladderPair", "pair of hyphens", "pairs of hyphens", "two lines in a row end in hyphens, which is common", "purple", plum},
	LongParagraph:  {"paragraphLong", "paragraph run long", "paragraphs run long", "set a line longer than at its best, for the sake of the pages", "green", moss},
	ShortParagraph: {"paragraphShort", "paragraph run short", "paragraphs run short", "set a line shorter than at its best, for the sake of the pages", "green", moss},
	LongSpread:     {"spreadLong", "spread run long", "spreads run long", "its pages have a line more than the others", "green", moss},
	ShortSpread:    {"spreadShort", "spread run short", "spreads run short", "its pages have a line fewer than the others", "green", moss},
	HyphenatedLine: {"hyphen", "hyphenated line", "hyphenated lines", "a word is divided at the line's end", "purple", plum},
}

// FindingKinds returns all kinds, the most harmful first.
func FindingKinds() []FindingKind {
	all := make([]FindingKind, kindEnd)
	for i := range all {
		all[i] = FindingKind(i)
	}
	return all
}

// String returns the kind's name in JSON.
func (k FindingKind) String() string {
	if k >= kindEnd {
		return fmt.Sprintf("FindingKind(%d)", k)
	}
	return kinds[k].name
}

// MarshalText writes k as String does.
func (k FindingKind) MarshalText() ([]byte, error) { return []byte(k.String()), nil }

// Noun returns what n findings of the kind are called.
func (k FindingKind) Noun(n int) string {
	if n == 1 {
		return kinds[k].one
	}
	return kinds[k].many
}

// Meaning returns what the kind is, in one clause for people who do not set type.
func (k FindingKind) Meaning() string { return kinds[k].meaning }

// Color returns the ink in which findings of the kind are marked, and what
// people call it.
func (k FindingKind) Color() (color.RGBA, string) { return kinds[k].color, kinds[k].hue }

// Finding is something on a page that a typesetter would mark on the proofs.
type Finding struct {
	Kind FindingKind
	Page int // index in Layout.Pages
	Line int // index in Page.Lines, of the first line that it concerns
	Row  int // that line counted from the head of the page, from 1; the cells of a table side by side are one

	// Amount is how much of it there is, by its kind: lines of a Ladder,
	// LadderOfTwo, River or ShortEnd; word space in thousandths of an em of a
	// LooseLine or TightLine; letters of a Runt; how many rows the recto of an
	// UnevenSpread is longer; how many lines a paragraph, or rows a spread, is
	// longer than at its best, which is negative where it is shorter. 0 for
	// all others.
	Amount int
	Spaces []Span // of a River, a word space for each of its lines from Line on

	Chapter string     // the title of its section; empty when that has none
	Label   string     // what the page is called
	Pos     markup.Pos // of the line's first letter
	Text    string     // the line, shortened in the middle; of a RepeatedWord, the word alone
	Reason  string     // why it had to be, where the layout knows; empty otherwise
}

// longestText is how many characters of a line a Finding shows.
const longestText = 48

// Findings returns what a typesetter would mark, in reading order.
func (l *Layout) Findings() []Finding {
	var all []Finding
	w := inspector{l: l}
	w.inspect(func(f Finding) {
		p := &l.Pages[f.Page]
		f.Chapter, f.Label, f.Row = l.chapter(f.Page), p.Label, p.row(f.Line)
		line := &p.Lines[f.Line]
		f.Pos = line.Pos
		if f.Text == "" {
			f.Text = shorten(line.text(), longestText)
		}
		if f.Kind == UnevenSpread {
			f.Reason = l.unevenBecause(f)
		}
		all = append(all, f)
	})
	return all
}

// chapter returns the title of the section on the page at index i.
func (l *Layout) chapter(i int) string {
	n, _ := slices.BinarySearchFunc(l.Entries, i+1, func(e Entry, page int) int { return cmp.Compare(e.Page, page) })
	if n == 0 || l.Pages[l.Entries[n-1].Page].Section != l.Pages[i].Section {
		return ""
	}
	return l.Entries[n-1].Title
}

// unevenBecause returns why the short page of an uneven spread had to end
// where it does, as far as the lines that follow tell.
func (l *Layout) unevenBecause(f Finding) string {
	short, lack := f.Page, -f.Amount
	if f.Amount > 0 {
		short, lack = f.Page-1, f.Amount
	}
	if l.Pages[f.Page].Torn || l.Pages[f.Page-1].Torn {
		return "no better page end was possible"
	}
	next := l.Pages[short+1].text()
	if len(next) == 0 {
		return elsewhere
	}
	switch first := &next[0]; {
	case first.Role == Heading:
		return "a heading follows, which keeps with its text"
	case first.Role == Ornament:
		return "a scene break follows, which keeps with its text"
	case lack == 1 && first.First && !first.Last:
		return "one line more would be a paragraph's first, alone"
	case lack == 1 && !first.First && !first.Last && len(next) > 1 && next[1].Last:
		return "one line more would leave a paragraph's last, alone"
	}
	return elsewhere
}

// elsewhere is why a page end was chosen that is no fault of its own lines:
// those of a chapter are chosen together.
const elsewhere = "any other page ends of the chapter leave a greater fault"

// text returns what the line says.
func (l *Line) text() string {
	var b strings.Builder
	for i := range l.Runs {
		if l.Runs[i].Space {
			b.WriteByte(' ')
		}
		b.WriteString(l.Runs[i].Glyphs.Text)
	}
	return b.String()
}

// shorten leaves out the middle of a text of more than most characters, at
// spaces where it has them: what stands at the ends of a line is what makes it
// easy to find.
func shorten(s string, most int) string {
	r := []rune(s)
	if len(r) <= most {
		return s
	}
	head, tail := string(r[:most/2]), string(r[len(r)-most/2:])
	if i := strings.LastIndexByte(head, ' '); i > 0 {
		head = head[:i]
	}
	if i := strings.IndexByte(tail, ' '); i >= 0 {
		tail = tail[i+1:]
	}
	return head + " … " + tail
}

// row returns the number of the line at index j, as a reader counts them.
func (p *Page) row(j int) int {
	n := 1
	for k := range p.Lines[:j] {
		if p.Lines[k].Y < p.Lines[j].Y && !slices.ContainsFunc(p.Lines[:k], func(l Line) bool { return l.Y == p.Lines[k].Y }) {
			n++
		}
	}
	return n
}
