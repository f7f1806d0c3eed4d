package markup

import (
	"iter"
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
// each with the place it comes from: of each section the title, the blocks,
// and then the notes in the order of their references. What is generated
// (title pages, numbers of notes and list items) is no part of them.
func (b *Book) Letters() iter.Seq2[rune, Pos] {
	return func(yield func(rune, Pos) bool) {
		for in := range b.inlines() {
			for _, r := range in.Text {
				if IsLetter(r) && !yield(r, in.Pos) {
					return
				}
			}
		}
	}
}

// Characters yields all that is printed of the book's written sections, in the
// order of Letters: every character but spaces and those that are not seen
// (soft hyphens, joiners).
func (b *Book) Characters() iter.Seq2[rune, Pos] {
	return func(yield func(rune, Pos) bool) {
		for in := range b.inlines() {
			for _, r := range in.Text {
				if IsPrinted(r) && !yield(r, in.Pos) {
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
	for in, first := range b.inlines() {
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
func (b *Book) inlines() iter.Seq2[Inline, bool] {
	return func(yield func(Inline, bool) bool) {
		for _, s := range b.Sections {
			if s.Kind != Written {
				continue
			}
			if !eachText(s.Title, yield) || !eachBlock(s.Blocks, yield) {
				return
			}
			for _, note := range s.Notes {
				if !eachBlock(note.Blocks, yield) {
					return
				}
			}
		}
	}
}

func eachText(ins []Inline, yield func(Inline, bool) bool) bool {
	for i, in := range ins {
		if !yield(in, i == 0) {
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
