package markup

import (
	"iter"
	"slices"
	"strings"
	"unicode"
)

// IsLetter tells which characters count as letters of a book: those that
// cannot be lost or added by any treatment of spaces and marks. They are the
// letters and numbers of Unicode.
func IsLetter(r rune) bool {
	if r < 0x80 {
		return 'a' <= r && r <= 'z' || 'A' <= r && r <= 'Z' || '0' <= r && r <= '9'
	}
	return unicode.IsLetter(r) || unicode.IsNumber(r)
}

// Letters yields the letters of the book's written sections in reading order,
// each with the place it comes from: of each section the number, the title,
// the blocks, then the captions of its pictures, and then its notes in the
// order of their references. A book with a section of Endnotes has all its
// notes there, chapter by chapter. What is generated (title pages, numbers of
// notes and list items) is no part of them.
//
// With numbers false, what is written of the sections' numbers is left out:
// the setting writes them.
func (b *Book) Letters(numbers bool) iter.Seq2[rune, Pos] { return b.those(numbers, IsLetter) }

// Characters yields all that is printed of the book's written sections, in the
// order of Letters: every character but spaces and those that are not seen
// (soft hyphens, joiners).
func (b *Book) Characters(numbers bool) iter.Seq2[rune, Pos] { return b.those(numbers, IsPrinted) }

func (b *Book) those(numbers bool, wanted func(rune) bool) iter.Seq2[rune, Pos] {
	return func(yield func(rune, Pos) bool) {
		for in := range b.inlines(numbers) {
			for _, r := range in.Text {
				if wanted(r) && !yield(r, in.Pos) {
					return
				}
			}
		}
	}
}

// IsPrinted tells which characters leave a mark on the page.
func IsPrinted(r rune) bool {
	return r > ' ' && r < 0x7f || r > 0x7f && !unicode.IsSpace(r) && !unicode.Is(unicode.Cf, r)
}

// Words counts the words of the written sections as word processors do: what
// stands between spaces and holds a letter.
func (b *Book) Words() int {
	n, inside := 0, false
	for in, first := range b.inlines(true) {
		if first || in.Break {
			inside = false
		}
		for _, r := range in.Text {
			switch {
			case unicode.IsSpace(r):
				inside = false
			case !inside && IsLetter(r):
				inside = true
				n++
			}
		}
	}
	return n
}

// inlines yields every inline of the written sections, and whether it is the
// first of its text.
func (b *Book) inlines(numbers bool) iter.Seq2[Inline, bool] {
	return func(yield func(Inline, bool) bool) {
		gathered := slices.ContainsFunc(b.Sections, func(s *Section) bool { return s.Kind == Endnotes })
		for _, s := range b.Sections {
			ok := true
			switch {
			case s.Kind == Endnotes:
				for _, of := range b.Sections {
					ok = ok && eachNote(of.Notes, yield)
				}
			case s.Kind != Written:
			case numbers && !eachText(s.Number, yield), !eachText(s.Title, yield), !eachBlock(s.Blocks, yield), !eachCaption(s.Blocks, yield):
				ok = false
			case !gathered:
				ok = eachNote(s.Notes, yield)
			}
			if !ok {
				return
			}
		}
	}
}

func eachNote(notes []*Note, yield func(Inline, bool) bool) bool {
	for _, n := range notes {
		if !eachBlock(n.Blocks, yield) {
			return false
		}
	}
	return true
}

// eachCaption goes through the captions of a section's pictures, which stand
// inside no other block.
func eachCaption(bs []Block, yield func(Inline, bool) bool) bool {
	for _, b := range bs {
		if p, ok := b.(*Picture); ok && !eachText(p.Caption, yield) {
			return false
		}
	}
	return true
}

func eachText(ins []Inline, yield func(Inline, bool) bool) bool {
	for i, in := range ins {
		if !yield(in, i == 0) {
			return false
		}
	}
	return true
}

func eachTexts(texts [][]Inline, yield func(Inline, bool) bool) bool {
	for _, text := range texts {
		if !eachText(text, yield) {
			return false
		}
	}
	return true
}

func eachBlock(bs []Block, yield func(Inline, bool) bool) bool {
	for _, b := range bs {
		ok := true
		switch b := b.(type) {
		case *Paragraph:
			ok = eachText(b.Text, yield)
		case *Heading:
			ok = eachText(b.Text, yield)
		case *Quotation:
			ok = eachBlock(b.Blocks, yield)
		case *List:
			for _, item := range b.Items {
				ok = ok && eachBlock(item.Blocks, yield)
			}
		case *Verbatim:
			for _, line := range b.Lines {
				ok = ok && yield(line, true)
			}
		case *Verse:
			for _, stanza := range b.Stanzas {
				for _, line := range stanza {
					ok = ok && eachText(line.Text, yield)
				}
			}
		case *Sign:
			ok = eachTexts(b.Lines, yield)
		case *Table:
			ok = eachTexts(b.Head, yield)
			for _, row := range b.Rows {
				ok = ok && eachTexts(row, yield)
			}
		}
		if !ok {
			return false
		}
	}
	return true
}

// sameLetters compares two names without regard to case, spaces and marks.
func sameLetters(a, b string) bool {
	only := func(s string) string {
		return strings.Map(func(r rune) rune {
			if !IsLetter(r) {
				return -1
			}
			return unicode.ToLower(r)
		}, s)
	}
	return only(a) == only(b)
}
