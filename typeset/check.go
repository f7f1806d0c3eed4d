package typeset

import (
	"fmt"
	"iter"

	"bodkin/markup"
)

// Characters yields what is printed of the manuscript on the pages, spaces
// aside, in the order of markup.Book.Characters: of each section its number,
// title and text, then its captions, then the notes that stand with it. What
// the program adds (heads, folios, numbers, generated pages) is left out.
func (l *Layout) Characters() iter.Seq2[rune, markup.Pos] {
	return func(yield func(rune, markup.Pos) bool) {
		for from := 0; from < len(l.Pages); {
			to := from + 1
			for to < len(l.Pages) && (l.Pages[to].Section == l.Pages[from].Section || l.Pages[to].Blank) {
				to++
			}
			for _, in := range [...][2]Role{{Text, Heading}, {Caption, Caption}, {NoteText, NoteText}} {
				for i := from; i < to; i++ {
					if !l.Pages[i].characters(in, yield) {
						return
					}
				}
			}
			from = to
		}
	}
}

// characters yields what stands on the lines of two roles.
func (p *Page) characters(in [2]Role, yield func(rune, markup.Pos) bool) bool {
	for j := range p.Lines {
		line := &p.Lines[j]
		if line.Role != in[0] && line.Role != in[1] {
			continue
		}
		for k := range line.Runs {
			run := &line.Runs[k]
			if run.Added {
				continue
			}
			for _, r := range run.Glyphs.Text {
				if markup.IsPrinted(r) && !yield(r, run.Pos) {
					return false
				}
			}
		}
	}
	return true
}

// A LostText is the failure of a layout to hold the text of its manuscript.
// It is a fault of the program, not of the manuscript.
type LostText struct {
	Pos       markup.Pos // of the first character that differs
	Want, Got rune       // what the manuscript has, what the layout has; 0 past the end
}

func (e *LostText) Error() string {
	return fmt.Sprintf("%v: the pages do not hold the manuscript: %s where the manuscript has %s; this is a fault of the program, and nothing was written",
		e.Pos, named(e.Got), named(e.Want))
}

func named(r rune) string {
	if r == 0 {
		return "nothing"
	}
	return fmt.Sprintf("%q", r)
}

// Check compares the characters of a layout with those of its manuscript and
// returns a *LostText for the first difference.
func Check(book *markup.Book, l *Layout) error {
	next, stop := iter.Pull2(l.Characters())
	defer stop()
	for want, pos := range book.Characters(!l.Setting.writesNumbers()) {
		got, _, _ := next()
		if got != want {
			return &LostText{pos, want, got}
		}
	}
	if got, pos, more := next(); more {
		return &LostText{pos, 0, got}
	}
	return nil
}
