package copyfit

import (
	"errors"
	"unicode/utf8"

	"bodkin/fonts"
	"bodkin/typeset"
	"bodkin/typeset/length"
)

// letters are the letters of a face as this book uses them.
type letters struct {
	face       *fonts.Face // the regular one
	size       length.Length
	wide       length.Length // what so many characters take at that size
	characters int64
}

// errNoText is the complaint about a book without running text.
var errNoText = errors.New("the book has no running text that could be fitted")

// measure reads off a layout how wide a character of its text is, spaces among
// them, as lines are really set: over all its justified lines, or the others
// where it has none.
func measure(l *typeset.Layout) (*letters, error) {
	for _, justified := range []bool{true, false} {
		f := &letters{size: l.Setting.Size.Length}
		for i := range l.Pages {
			for k := range l.Pages[i].Lines {
				line := &l.Pages[i].Lines[k]
				if line.Role == typeset.Text && line.Justified == justified {
					f.add(line)
				}
			}
		}
		if f.face != nil && f.characters > 0 && f.wide > 0 {
			return f, nil
		}
	}
	return nil, errNoText
}

// add counts a line whose last letters are of the text's size.
func (f *letters) add(line *typeset.Line) {
	if len(line.Runs) == 0 {
		return
	}
	last := &line.Runs[len(line.Runs)-1]
	if last.Size != f.size {
		return
	}
	for i := range line.Runs {
		r := &line.Runs[i]
		f.characters += int64(utf8.RuneCountInString(r.Glyphs.Text))
		if r.Space {
			f.characters++
		}
		if f.face == nil && r.Size == f.size && r.Glyphs.Face.Style == fonts.Regular {
			f.face = r.Glyphs.Face
		}
	}
	f.wide += last.X + last.Width() - line.Runs[0].X
}

// width returns how wide a character is at a size: one at the least, so that
// it divides.
func (f *letters) width(size length.Length) length.Length {
	return max(1, f.wide.Scale(1, f.characters).Scale(int64(size), int64(f.size)))
}
