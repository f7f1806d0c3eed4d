package typeset

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"bodkin/fonts"
	"bodkin/markup"
)

// cut is a place at which a line may divide a word.
type cut struct {
	part      int   // of the word
	at        int   // byte offset in the part's text
	to        int32 // width of the part up to here, in the word as a whole
	before    int32 // what the line that ends here gains: re-shaping, kerning, and the hyphen
	after     int32 // what the line that begins here gains: re-shaping
	hyphen    bool  // the program puts in a hyphen
	soft      bool  // where the author wants it
	hard      bool  // after a hyphen that is typed
	shattered bool  // between any two letters, because the word fits no line
	hang      hang  // of what ends the line here
}

// ends reports whether the line that is cut here ends in a hyphen.
func (c *cut) ends() bool { return c.hyphen || c.hard }

// divide finds the cuts of a word. A change of style inside it makes no
// difference to where it may be divided.
func (s *wordSetter) divide(w *word, pieces []piece) {
	typed := pieces[0].text
	coded, mixed := pieces[0].style&markup.Code != 0, false
	if pieces[0].style&smallCaps != 0 {
		return // the few words that open a chapter stay whole
	}
	if len(pieces) > 1 || pieces[0].note {
		var b strings.Builder
		for _, p := range pieces {
			if !p.note {
				b.WriteString(p.text)
				mixed = mixed || p.lang != pieces[0].lang
			}
			coded = coded || p.style&markup.Code != 0
		}
		typed = b.String()
	}
	s.points = s.points[:0]
	address := isAddress(typed)
	switch hyphens := s.tongue(pieces[0].lang).hyphens; {
	case coded, address:
	case mixed:
		s.pointsOf(pieces)
	case hyphens != nil:
		s.points = hyphens.Points(s.points, typed)
	case strings.Contains(typed, softHyphen):
		s.points = softOnly.Points(s.points, typed)
	}
	plain := typed
	soft := strings.Contains(typed, softHyphen)
	if soft {
		for i, at := range s.points {
			s.points[i] -= strings.Count(typed[:at], softHyphen) * len(softHyphen)
		}
		plain = strings.ReplaceAll(typed, softHyphen, "")
	}
	hyphens, hard := s.points, s.opportunities(plain)
	if address {
		hard = addressCuts(plain)
	}
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
			at, hyphens, c.hyphen, c.soft = hyphens[0], hyphens[1:], true, soft
		}
		if at <= 0 || at >= len(plain) {
			continue
		}
		for w.parts[part].add || begin+len(w.parts[part].run.Text) < at {
			if !w.parts[part].add {
				begin += len(w.parts[part].run.Text)
			}
			part++
		}
		c.part, c.at = part, at-begin
		r := '-'
		if !c.hyphen {
			r, _ = utf8.DecodeLastRuneInString(plain[:at])
			c.hard = r == '-' || r == '‐'
		}
		if !w.parts[part].offLine() {
			c.hang = w.parts[part].hang(r, rightHang(r))
		}
		s.measure(&c, &w.parts[part])
		w.cuts = append(w.cuts, c)
	}
}

// pointsOf finds the places to divide a word of several languages, each part
// by its own.
func (s *wordSetter) pointsOf(pieces []piece) {
	offset := 0
	for _, p := range pieces {
		if p.note {
			continue
		}
		if hyphens := s.tongue(p.lang).hyphens; hyphens != nil {
			n := len(s.points)
			s.points = hyphens.Points(s.points, p.text)
			for i := range s.points[n:] {
				s.points[n+i] += offset
			}
		}
		offset += len(p.text)
	}
}

// measure finds by how much the two sides of a cut differ from the word as a
// whole: a kern or a ligature that is lost, and the hyphen that is gained.
func (s *wordSetter) measure(c *cut, p *part) {
	run := p.run
	to, safe := run.WidthTo(c.at)
	c.to = to
	if !safe && c.at < len(run.Text) {
		c.before = p.shape(run.Text[:c.at]).Width - to
		c.after = p.shape(run.Text[c.at:]).Width - (run.Width - to)
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
