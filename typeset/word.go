package typeset

import (
	"fmt"
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
	sup   bool  // a reference to a note: small and raised
	add   bool  // not in the manuscript
	track int32 // added after every glyph
	gap   int32 // what a slanted letter needs before the upright one that follows it
}

// cut is a place at which a line may divide a word.
type cut struct {
	part      int   // of the word
	at        int   // byte offset in the part's text
	to        int32 // width of the part up to here, in the word as a whole
	before    int32 // what the line that ends here gains: re-shaping, kerning, and the hyphen
	after     int32 // what the line that begins here gains: re-shaping
	hyphen    bool  // the program puts in a hyphen
	hard      bool  // after a hyphen that is typed
	shattered bool  // between any two letters, because the word fits no line
	hang      hang  // of what ends the line here
}

// hang is how much of a mark may stand in the margin, in units of a face.
type hang struct {
	units int32
	upem  int32
}

// wordSetter shapes words and finds their cuts in one family of faces. It
// keeps every word that it has made.
type wordSetter struct {
	res     *Resources
	faces   [4]*fonts.Face // by fonts.Style; loaded when first wanted
	family  string
	figures fonts.Feature
	hyphens hyphenator
	made    map[wordKey]*word
	ids     map[string]int32
	kerns   map[kernKey]int32
	points  []int
	letters []byte
	seg     segmenter.Segmenter
}

type wordKey struct {
	text  string
	style markup.Style
}

type kernKey struct {
	face *fonts.Face
	r    rune
}

// hyphenator is the part of hyphen.Dictionary that composition uses.
type hyphenator interface {
	Points(dst []int, word string) []int
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
	if s.faces[i] == nil {
		f, err := s.res.Faces.Face(s.family, i)
		if err != nil {
			return nil, err
		}
		s.faces[i] = f
	}
	return s.faces[i], nil
}

// piece is a stretch of a word as the manuscript has it.
type piece struct {
	text  string
	style markup.Style
	pos   markup.Pos
	note  bool
}

// word returns the word that the pieces make. Words of one piece are made
// once.
func (s *wordSetter) word(pieces []piece) (*word, error) {
	if len(pieces) > 1 || pieces[0].note {
		return s.make(pieces)
	}
	key := wordKey{pieces[0].text, pieces[0].style}
	if w, found := s.made[key]; found {
		return w, nil
	}
	w, err := s.make(pieces)
	if err != nil {
		return nil, err
	}
	w.parts[0].pos = markup.Pos{} // it stands in many places
	s.made[key] = w
	return w, nil
}

func (s *wordSetter) make(pieces []piece) (*word, error) {
	w := &word{parts: make([]part, 0, len(pieces))}
	for _, p := range pieces {
		face, err := s.face(p.style)
		if err != nil {
			return nil, err
		}
		features, track := s.figures, int32(0)
		switch {
		case p.note:
			features = fonts.Lining
		case p.style&smallCaps != 0:
			features |= fonts.SmallCaps
			track = int32(face.Upem) * capsTrack / 1000
		}
		text := strings.ReplaceAll(p.text, softHyphen, "")
		if r, missing := face.Missing(text); missing {
			return nil, missingGlyph(s.res.Faces, face, r, p.pos)
		}
		if strings.IndexFunc(text, rightToLeft) >= 0 {
			return nil, &markup.Error{Pos: p.pos, What: fmt.Sprintf("%q is written from right to left, which is not set yet", text)}
		}
		w.parts = append(w.parts, part{run: face.Shape(text, features), pos: p.pos, sup: p.note, add: p.note, track: track})
	}
	for i := range w.parts[1:] {
		w.parts[i].gap = slantGap(w.parts[i].run, w.parts[i+1].run)
	}
	s.divide(w, pieces)
	text := w.text()
	w.id, w.binding = s.id(text), bindingOf(text)
	first, last := w.parts[0], w.parts[len(w.parts)-1]
	if r, _ := utf8.DecodeRuneInString(first.run.Text); r != utf8.RuneError {
		w.hangLeft = hangOf(first.run.Face, r, leftHang(r))
		w.stuck = stuck(first.run.Text, r)
	}
	if r, _ := utf8.DecodeLastRuneInString(last.run.Text); r != utf8.RuneError && !last.sup {
		w.hangRight = hangOf(last.run.Face, r, rightHang(r))
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

// divide finds the cuts of a word. A change of style inside it makes no
// difference to where it may be divided.
func (s *wordSetter) divide(w *word, pieces []piece) {
	typed := pieces[0].text
	coded := pieces[0].style&markup.Code != 0
	if pieces[0].style&smallCaps != 0 {
		return // the few words that open a chapter stay whole
	}
	if len(pieces) > 1 || pieces[0].note {
		var b strings.Builder
		for _, p := range pieces {
			if !p.note {
				b.WriteString(p.text)
			}
			coded = coded || p.style&markup.Code != 0
		}
		typed = b.String()
	}
	s.points = s.points[:0]
	if !coded && s.hyphens != nil {
		s.points = s.hyphens.Points(s.points, typed)
	}
	plain := typed
	if soft := strings.Contains(typed, softHyphen); soft {
		for i, at := range s.points {
			s.points[i] -= strings.Count(typed[:at], softHyphen) * len(softHyphen)
		}
		plain = strings.ReplaceAll(typed, softHyphen, "")
	}
	hyphens, hard := s.points, s.opportunities(plain)
	if n := len(hyphens) + len(hard); n > 0 {
		w.cuts = make([]cut, 0, n)
	}
	part, begin := 0, 0 // the part at hand, and where it begins in plain
	for len(hyphens) > 0 || len(hard) > 0 {
		var c cut
		var at int
		if len(hard) > 0 && (len(hyphens) == 0 || hard[0] <= hyphens[0]) {
			if len(hyphens) > 0 && hard[0] == hyphens[0] {
				hyphens = hyphens[1:]
			}
			at, hard = hard[0], hard[1:]
		} else {
			at, hyphens, c.hyphen = hyphens[0], hyphens[1:], true
		}
		if at <= 0 || at >= len(plain) {
			continue
		}
		for w.parts[part].sup || begin+len(w.parts[part].run.Text) < at {
			if !w.parts[part].sup {
				begin += len(w.parts[part].run.Text)
			}
			part++
		}
		c.part, c.at = part, at-begin
		run := w.parts[part].run
		r := '-'
		if !c.hyphen {
			r, _ = utf8.DecodeLastRuneInString(plain[:at])
			c.hard = r == '-' || r == '‐'
		}
		c.hang = hangOf(run.Face, r, rightHang(r))
		s.measure(&c, &w.parts[part])
		w.cuts = append(w.cuts, c)
	}
}

// measure finds by how much the two sides of a cut differ from the word as a
// whole: a kern or a ligature that is lost, and the hyphen that is gained.
func (s *wordSetter) measure(c *cut, p *part) {
	run := p.run
	to, safe := run.WidthTo(c.at)
	c.to = to
	if !safe && c.at < len(run.Text) {
		c.before = run.Face.Shape(run.Text[:c.at], run.Features).Width - to
		c.after = run.Face.Shape(run.Text[c.at:], run.Features).Width - (run.Width - to)
	}
	if c.hyphen {
		r, _ := utf8.DecodeLastRuneInString(run.Text[:c.at])
		c.before += s.hyphenAfter(run.Face, r)
	}
	for i := range run.Glyphs {
		if p.track != 0 && int(run.Glyphs[i].Cluster) < c.at {
			c.to += p.track
		}
	}
}

// hyphenAfter returns the advance of a hyphen after r, kerned.
func (s *wordSetter) hyphenAfter(face *fonts.Face, r rune) int32 {
	key := kernKey{face, r}
	width, found := s.kerns[key]
	if !found {
		width = face.Shape(string(r)+"-", 0).Width - face.Shape(string(r), 0).Width
		s.kerns[key] = width
	}
	return width
}

// opportunities returns the byte offsets inside text at which a line may end
// without a hyphen, after UAX #14 with the tailoring that doc.go states.
func (s *wordSetter) opportunities(text string) []int {
	// What no letter follows is no place to divide a word.
	if strings.IndexFunc(strings.TrimRightFunc(text, isMarkRune), mayBreak) < 0 {
		return nil
	}
	var at []int
	s.seg.Init([]rune(text))
	offset := 0
	for lines := s.seg.LineIterator(); lines.Next(); {
		offset += len(string(lines.Line().Text))
		if offset < len(text) && allowed(text[:offset], text[offset:]) {
			at = append(at, offset)
		}
	}
	return at
}

// mayBreak reports whether UAX #14 may see a break beside r in a word.
func mayBreak(r rune) bool {
	switch {
	case r < 0x80:
		return r == '-' || r == '/' || r == '?' || r == '!' || r == '|' || r == '}' || r == ')' || r == ']'
	case r == '’' || r == '‘' || r == '“' || r == '”' || r == '\u2060':
		return false
	}
	return !unicode.Is(unicode.Latin, r) && !unicode.Is(unicode.Mn, r)
}

// allowed is the tailoring of UAX #14: a dash, an ellipsis or a hyphen stays
// with what stands before it, a line does not end within a run of them, and a
// hyphen keeps two letters with it on each side.
func allowed(before, after string) bool {
	last, _ := utf8.DecodeLastRuneInString(before)
	next, _ := utf8.DecodeRuneInString(after)
	switch {
	case strings.ContainsRune("—–…-‐⸺", next):
		return false
	case last == '—' || last == '…' || last == '⸺':
		// Not between an opening dash and the word that it opens.
		return strings.IndexFunc(before, isWordRune) >= 0
	case last == '-' || last == '‐' || last == '–':
		return trailing(strings.TrimRight(before, "-‐–")) >= 2 && leading(after) >= 2
	}
	return true
}

func isMarkRune(r rune) bool { return !isWordRune(r) }

func isWordRune(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }

func leading(s string) int {
	n := 0
	for _, r := range s {
		if !isWordRune(r) && !unicode.IsMark(r) {
			break
		}
		n++
	}
	return n
}

func trailing(s string) int {
	n := 0
	for len(s) > 0 {
		r, size := utf8.DecodeLastRuneInString(s)
		if !isWordRune(r) && !unicode.IsMark(r) {
			break
		}
		s = s[:len(s)-size]
		n++
	}
	return n
}

// rightHang and leftHang say how much of a mark stands outside the measure at
// a line's end and beginning, in thousandths of its advance: marks that are
// light against the margin hang the most. Common practice; the shares are our
// own, chosen by eye.
func rightHang(r rune) int32 {
	switch r {
	case '-', '‐', '.', ',':
		return 700
	case '’', '”', '\'', '"':
		return 600
	case ':', ';':
		return 300
	case '—', '–':
		return 250
	case '!', '?':
		return 150
	}
	return 0
}

func leftHang(r rune) int32 {
	switch r {
	case '‘', '“', '\'', '"', '’', '”':
		return 600
	case '„', '‚':
		return 500
	case '«', '»', '‹', '›':
		return 300
	}
	return 0
}

func hangOf(face *fonts.Face, r rune, share int32) hang {
	if share == 0 {
		return hang{}
	}
	g, ok := face.GID(r)
	if !ok {
		return hang{}
	}
	return hang{face.Advance(g) * share / 1000, int32(face.Upem)}
}
