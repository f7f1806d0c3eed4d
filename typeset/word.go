package typeset

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"bodkin/fonts"
	"bodkin/markup"

	"github.com/go-text/typesetting/segmenter"
)

// word is what stands between two spaces: shaped, and with the places at which
// a line may divide it. All widths are in font units. A word knows no size, so
// that it serves for every setting of its face.
type word struct {
	parts []part
	cuts  []cut
	// Marks at the word's ends that may hang into the margins.
	hangLeft, hangRight hang
	id                  int32 // of its letters, small and without marks; 0 if they are fewer than two
	binding             binding
	stuck               bool // no line may begin with it, even after a space (UAX #14, LB13)
}

// part is a stretch of a word in one face. Most words have one.
type part struct {
	run   *fonts.Run
	pos   markup.Pos
	note  int32 // the number of the note in the section that it refers to; 0 for none
	add   bool  // not in the manuscript: a reference
	per   int32 // its size, in thousandths of the text's; 0 for the text's own
	rise  int32 // above the line of the text, in thousandths of the text's size
	guise guise // its letters look other than they are written
	track int32 // added after every glyph
	gap   int32 // what a slanted letter needs before the upright one that follows it
}

// mostMissing is how many missing characters are named.
const mostMissing = 20

// wordSetter shapes words and finds their cuts in one family of faces, and
// another for inscriptions. It keeps every word that it has made.
type wordSetter struct {
	res     *Resources
	faces   [4]*fonts.Face // by fonts.Style; loaded when first wanted
	family  string
	signs   [4]*fonts.Face // of inscriptions
	sign    string         // their family; empty sets them in small capitals
	figures fonts.Feature
	missing *[]error // characters that a face lacks, gathered while a book is prepared, so that all are named at once
	home    *tongue  // of the section at hand
	tongues *tongues
	ids     map[string]int32
	kerns   map[kernKey]int32
	points  []int
	letters []byte
	seg     segmenter.Segmenter
}

type kernKey struct {
	face *fonts.Face
	r    rune
}

// face returns the face for a style of text.
func (s *wordSetter) face(style markup.Style) (*fonts.Face, error) {
	i := fonts.Regular
	switch {
	case style&markup.Emphasis != 0 && style&markup.Strong != 0:
		i = fonts.BoldItalic
	case style&markup.Emphasis != 0:
		i = fonts.Italic
	case style&markup.Strong != 0:
		i = fonts.Bold
	}
	family, faces := s.family, &s.faces
	if style&markup.Inscribed != 0 && s.sign != "" {
		family, faces = s.sign, &s.signs
	}
	if faces[i] == nil {
		f, err := s.res.Faces.Face(family, i)
		if err != nil {
			return nil, err
		}
		faces[i] = f
	}
	return faces[i], nil
}

// signSize returns the size of a face, in thousandths of the text's, at which
// its small letters are as tall as those of the text, within reason: a face of
// signs is chosen for its shapes, and looks too large or too small otherwise.
// Common practice.
func (s *wordSetter) signSize(face *fonts.Face) int32 {
	text := s.faces[fonts.Regular]
	if face.Family == s.family || text == nil || text.XHeight <= 0 || face.XHeight <= 0 {
		return 1000
	}
	n := 1000 * int64(text.XHeight) * int64(face.Upem) / (int64(face.XHeight) * int64(text.Upem))
	return int32(min(max(n, 750), 1150))
}

// piece is a stretch of a word as the manuscript has it.
type piece struct {
	text  string
	style markup.Style
	lang  string // empty for that of the section
	pos   markup.Pos
	note  bool
}

// word returns the word that the pieces make. Words of one piece are made
// once.
func (s *wordSetter) word(pieces []piece) (*word, error) {
	if len(pieces) > 1 || pieces[0].note {
		return s.make(pieces)
	}
	tongue := s.tongue(pieces[0].lang)
	made := tongue.made[pieces[0].style]
	if made == nil {
		made = make(map[string]*word)
		tongue.made[pieces[0].style] = made
	}
	if w, found := made[pieces[0].text]; found {
		return w, nil
	}
	w, err := s.make(pieces)
	if err != nil {
		return nil, err
	}
	w.parts[0].pos = markup.Pos{} // it stands in many places
	made[pieces[0].text] = w
	return w, nil
}

func (s *wordSetter) make(pieces []piece) (*word, error) {
	made := new(struct {
		word
		first [1]part // beside its word, which is most often read with it
	})
	w := &made.word
	w.parts = made.first[:0]
	for _, p := range pieces {
		face, err := s.face(p.style)
		if err != nil {
			return nil, err
		}
		features, track, guise, per, rise := s.figures, int32(0), asWritten, int32(0), int32(0)
		switch {
		case p.note || p.style&(markup.Raised|markup.Lowered) != 0:
			features, per, rise = offLine(face, p.style, p.text)
		case p.style&^(markup.Emphasis|markup.Strong|markup.Code) != 0:
			per = s.signSize(face)
			if p.style&(smallCaps|markup.Caps) == 0 {
				break
			}
			features, guise = caps(face, p.style, features)
			track = int32(face.Upem) * capsTrack / 1000
			if p.style&spacedCaps == spacedCaps {
				track = int32(face.Upem) * spacedTrack / 1000
			}
			if guise == asCapitals {
				per = per * capitalsSize / 1000
			}
		}
		text := strings.ReplaceAll(p.text, softHyphen, "")
		if r, missing := face.Missing(guise.show(face, text)); missing {
			if s.missing == nil {
				return nil, missingGlyph(s.res.Faces, face, r, p.pos)
			}
			for _, r := range guise.show(face, text) {
				_, missing := face.Missing(string(r))
				known := slices.ContainsFunc(*s.missing, func(e error) bool { return e.(*MissingGlyph).Rune == r })
				if missing && !known && len(*s.missing) < mostMissing {
					*s.missing = append(*s.missing, missingGlyph(s.res.Faces, face, r, p.pos))
				}
			}
			return &word{parts: []part{{run: face.Shape("x", 0), pos: p.pos}}}, nil // nothing will be set
		}
		if strings.IndexFunc(text, rightToLeft) >= 0 {
			return nil, &markup.Error{Pos: p.pos, What: fmt.Sprintf("%q is written from right to left, which is not set yet", text)}
		}
		w.parts = append(w.parts, part{run: guise.shape(face, text, features), pos: p.pos, add: p.note, per: per, rise: rise, track: track, guise: guise})
		if p.note {
			n, _ := strconv.Atoi(p.text) // it was made from a number
			w.parts[len(w.parts)-1].note = int32(n)
		}
	}
	for i := range w.parts[1:] {
		w.parts[i].gap = slantGap(w.parts[i].run, w.parts[i+1].run)
	}
	s.divide(w, pieces)
	text := w.text()
	w.id, w.binding = s.id(text), bindingOf(text)
	first, last := &w.parts[0], &w.parts[len(w.parts)-1]
	if r, _ := utf8.DecodeRuneInString(first.run.Text); r != utf8.RuneError && !first.offLine() {
		w.hangLeft = first.hang(r, leftHang(r))
		w.stuck = stuck(first.run.Text, r)
	}
	if r, _ := utf8.DecodeLastRuneInString(last.run.Text); r != utf8.RuneError && !last.offLine() {
		w.hangRight = last.hang(r, rightHang(r))
	}
	return w, nil
}

// stuck reports whether a word that begins with r must not begin a line: a
// closing mark (UAX #14, LB13), or a dash that leads to nothing but such marks.
func stuck(text string, r rune) bool {
	if strings.ContainsRune("!?)]}/", r) || text == "»" {
		return true
	}
	rest := strings.TrimLeft(text, "—–…")
	return rest != text && strings.Trim(rest, "’”»!?.,;:)") == ""
}

// text returns the letters and marks of a word.
func (w *word) text() string {
	if len(w.parts) == 1 {
		return w.parts[0].run.Text
	}
	var b strings.Builder
	for i := range w.parts {
		if !w.parts[i].add {
			b.WriteString(w.parts[i].run.Text)
		}
	}
	return b.String()
}

// id returns the number of a word's letters: words that a reader takes for the
// same have the same.
func (s *wordSetter) id(word string) int32 {
	s.letters = s.letters[:0]
	n := 0
	for _, r := range word {
		if unicode.IsLetter(r) {
			s.letters = utf8.AppendRune(s.letters, unicode.ToLower(r))
			n++
		}
	}
	if n < 2 {
		return 0
	}
	id, found := s.ids[string(s.letters)]
	if !found {
		id = int32(len(s.ids) + 1)
		s.ids[string(s.letters)] = id
	}
	return id
}

// width returns the advance of the part, tracking and gap included.
func (p *part) width() int32 {
	return p.run.Width + p.track*int32(len(p.run.Glyphs)) + p.gap
}

// slantGap is what keeps the last letter of a slanted run from leaning into
// the first of an upright one: as much as its ink stands beyond its advance,
// less the room that the upright letter brings with it.
func slantGap(a, b *fonts.Run) int32 {
	if a.Face.ItalicAngle == 0 || b.Face.ItalicAngle != 0 || len(a.Glyphs) == 0 || len(b.Glyphs) == 0 {
		return 0
	}
	last, first := a.Glyphs[len(a.Glyphs)-1], b.Glyphs[0]
	_, _, right, _ := a.Face.Extents(last.ID)
	left, _, _, top := b.Face.Extents(first.ID)
	over := right - last.Advance
	if over <= 0 || int(top) < b.Face.XHeight*3/4 {
		return 0 // a point or a comma sits below the overhang
	}
	return max(0, over-left+int32(a.Face.Upem/50))
}

// softHyphen is the author's own mark of a place to divide a word.
const softHyphen = "\u00ad"

func rightToLeft(r rune) bool {
	return r >= 0x590 && unicode.In(r, unicode.Hebrew, unicode.Arabic, unicode.Syriac, unicode.Thaana, unicode.Nko)
}
