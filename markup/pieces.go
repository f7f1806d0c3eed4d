package markup

import (
	"path"
	"regexp"
	"strings"
)

// pieceOf says what an untitled file is by its name, whatever folder it is in
// and whatever figures sort it: front/03-dedication.md.
func pieceOf(name string) Piece {
	stem := strings.ToLower(strings.TrimSuffix(path.Base(name), path.Ext(name)))
	switch strings.TrimLeft(stem, "0123456789 -_.") {
	case "dedication":
		return Dedication
	case "epigraph":
		return Epigraph
	case "copyright":
		return Copyright
	}
	return Chapter
}

// namePiece gives the first section of a file its side and, if it has no
// title, says what piece it is.
func (c *chapter) namePiece(e entry) {
	if len(c.sections) == 0 {
		return
	}
	s := c.sections[0]
	if s.Side == ByCustom {
		s.Side = e.side
	}
	if len(s.Title)+len(s.Number) > 0 {
		return
	}
	s.Piece = pieceOf(e.name)
	plates := len(s.Blocks) > 0
	for _, b := range s.Blocks {
		plates = plates && isPicture(b)
	}
	switch {
	case plates:
		s.Piece = Plate
	case s.Piece == Chapter && e.afterTitle:
		s.Piece = Copyright
	}
}

// blank is a place of a form that is still to be filled: [YOUR NAME].
var blank = regexp.MustCompile(`\[\p{Lu}[\p{Lu}\p{Nd}’' /-]+\]`)

// Unfilled is the first place of a form in a text that is still to be filled in, such
// as [YOUR NAME]; "" for none.
func Unfilled(text string) string { return blank.FindString(text) }

// copyrightPages reports what is still to be filled in on copyright pages, unless
// they are unfinished, and pictures, for which they have no place.
func (c *chapter) copyrightPages(unfinished bool) {
	for _, s := range c.sections {
		if s.Piece != Copyright {
			continue
		}
		for _, b := range s.Blocks {
			if isPicture(b) {
				c.fault(b.Position(), "a picture stands on the copyright page", "put it into a file of its own, which makes it a plate, or take it away")
			}
		}
		eachBlock(s.Blocks, func(in Inline, _ bool) bool {
			if left := Unfilled(in.Text); left != "" && !unfinished {
				c.fault(in.Pos, left+" is still to be filled in", "write what is true of your book, or take the line away")
			}
			return true
		})
	}
}

// sided divides an entry such as "map.md on verso".
var sided = regexp.MustCompile(`^(.*\S)\s+on\s+([a-z]+)$`)

var sides = map[string]Side{"recto": OnRecto, "verso": OnVerso, "next": OnEither}

// entrySide returns the name of an entry without its side, and the side.
func (f *folder) entrySide(name string) (string, Side, error) {
	m := sided.FindStringSubmatch(name)
	if m == nil {
		return name, ByCustom, nil
	}
	if _, err := f.root.Lstat(name); err == nil {
		return name, ByCustom, nil // a file that is called so
	}
	side, ok := sides[m[2]]
	if !ok {
		mend := `write "` + m[1] + ` on recto", "on verso" or "on next"`
		if near := Nearest(m[2], []string{"recto", "verso", "next"}); near != "" {
			mend = `did you mean "` + m[1] + " on " + near + `"?`
		}
		return name, ByCustom, &Error{Pos: Pos{File: name}, What: "a page has no side " + quoted(m[2]), Mend: mend}
	}
	return m[1], side, nil
}
