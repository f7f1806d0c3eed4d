package wordproc

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// span is a stretch of text of one look, on its way to Markdown.
type span struct {
	text  string
	style Style // of those that Markdown has
	lang  string
	link  string
	note  int // a reference to a note of the piece, by its number there
}

// lineOf are the spans between two forced line ends.
type lineOf []span

// spans makes lines of the runs of a paragraph: with the looks that Markdown
// has, and without the spaces that were typed as indents. base is the look
// that says nothing here.
func (w *writer) spans(p *Paragraph, runs []Run, base Style) []lineOf {
	var lines []lineOf
	var now lineOf
	main := primary(w.m.Language)
	for _, r := range runs {
		switch {
		case r.Break:
			lines = append(lines, now)
			now = nil
			continue
		case r.Note > 0:
			if n := w.refer(r.Note, p); n > 0 {
				now = append(now, span{note: n})
			}
			continue
		case r.Picture > 0:
			continue
		}
		s := span{text: r.Text, link: r.Link}
		style := r.Style &^ base
		if base&Emphasis != 0 && r.Style&Emphasis == 0 {
			style |= Emphasis // upright among italics
		}
		if style&Underline != 0 {
			w.count(&w.underlines, p, r.Text)
			style |= Emphasis
		}
		if style&Spaced != 0 {
			w.count(&w.spaced, p, r.Text)
			style |= Emphasis
		}
		if style&Struck != 0 {
			w.count(&w.struck, p, r.Text)
		}
		if style&(SmallCaps|Capitals) != 0 {
			if style&SmallCaps == 0 {
				w.count(&w.capitals, p, r.Text)
			}
			style |= SmallCaps
		}
		s.style = style & (Emphasis | Strong | SmallCaps | Superscript | Subscript)
		if r.Lang != "" && primary(r.Lang) != main && primary(r.Lang) != w.m.doc.said && countLetters(r.Text) > 1 {
			s.lang = r.Lang
			w.count(&w.foreign, p, r.Lang+": "+r.Text)
		}
		s.text = w.keep(p, s.text)
		if s.text != "" {
			now = append(now, s)
		}
	}
	lines = append(lines, now)
	for i := range lines {
		lines[i] = lines[i].tidy()
	}
	return lines
}

// primary is the first part of a tag.
func primary(tag string) string {
	base, _, _ := strings.Cut(tag, "-")
	return base
}

// keep takes out the characters that only a symbol face can show, and mends
// the mark before an elided word.
func (w *writer) keep(p *Paragraph, s string) string {
	if strings.IndexFunc(s, isSymbol) >= 0 {
		for _, r := range s {
			if isSymbol(r) {
				w.m.Left = append(w.m.Left, Finding{Kind: KindSymbol, N: p.N, Text: "U+" + strings.ToUpper(strconv.FormatInt(int64(r), 16))})
			}
		}
		s = strings.Map(func(r rune) rune {
			if isSymbol(r) {
				return -1
			}
			return r
		}, s)
	}
	if w.m.profile.double && strings.Contains(s, "‘") {
		s = w.apostrophes(p, s)
	}
	return s
}

// elided are words that lose their beginning, and that no quotation of a
// single word is likely to be.
var elided = set("tis,twas,twere,twill,twould,tisn't,twasn't,em,til,cause,bout,neath,gainst,round")

// apostrophes mends ‘Twas, as programs type it, where speech has double marks.
func (w *writer) apostrophes(p *Paragraph, s string) string {
	var b strings.Builder
	for i, r := range s {
		if r != '‘' {
			b.WriteRune(r)
			continue
		}
		if word, rest := elision(s[i+len("‘"):]); word != "" && !strings.Contains(rest, "’") {
			w.count(&w.mended, p, "‘"+word)
			b.WriteRune('’')
			continue
		}
		b.WriteRune(r)
	}
	return b.String()
}

// elision is the word with which a text begins, and what follows it, if the word
// lost its beginning; "" if not.
func elision(s string) (word, rest string) {
	n := strings.IndexFunc(s, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '’' && r != '\'' })
	if n < 0 {
		n = len(s)
	}
	bare := strings.ReplaceAll(strings.ToLower(s[:n]), "’", "'")
	decade := len(bare) == 3 && bare[2] == 's' && bare[0] >= '0' && bare[0] <= '9'
	if !elided[bare] && !decade {
		return "", s
	}
	return s[:n], s[n:]
}

// tidy joins spans of one look, takes the spaces off both ends of the line,
// several together, and out of the looks that begin or end with them.
func (l lineOf) tidy() lineOf {
	var out lineOf
	space := true // none at the beginning
	var b []byte  // the text of the last span, on its way
	flush := func() {
		if k := len(out) - 1; k >= 0 && out[k].note == 0 {
			out[k].text += string(b)
		}
		b = b[:0]
	}
	for _, s := range l {
		if s.note > 0 {
			flush()
			out = append(out, s)
			space = false
			continue
		}
		if k := len(out) - 1; k < 0 || out[k].note > 0 || out[k].style != s.style || out[k].lang != s.lang || out[k].link != s.link {
			flush()
			out = append(out, s)
			out[len(out)-1].text = ""
		}
		for _, r := range s.text {
			if r == ' ' || r == '\t' || r == '\n' || space && len(out) == 1 && len(b) == 0 && isBlank(r) {
				if !space {
					b = append(b, ' ')
				}
				space = true
				continue
			}
			space = false
			b = utf8.AppendRune(b, r)
		}
		if k := len(out) - 1; len(b) == 0 && out[k].text == "" {
			out = out[:k]
		}
	}
	flush()
	for k := len(out) - 1; k >= 0 && out[k].note == 0; k-- {
		if out[k].text = strings.TrimRightFunc(out[k].text, isBlank); out[k].text != "" {
			break
		}
		out = out[:k]
	}
	return out.outward()
}

// outward moves what cannot begin or end an emphasis out of it: spaces, and
// marks beside a letter (CommonMark 6.2, left- and right-flanking).
func (l lineOf) outward() lineOf {
	var out lineOf
	put := func(s span) {
		if s.text == "" && s.note == 0 {
			return
		}
		if k := len(out) - 1; k >= 0 && s.note == 0 && out[k].note == 0 && out[k].style == s.style && out[k].lang == s.lang && out[k].link == s.link {
			out[k].text += s.text
			return
		}
		out = append(out, s)
	}
	for i, s := range l {
		if s.note > 0 || s.style&(Emphasis|Strong) == 0 {
			put(s)
			continue
		}
		var before, after rune = ' ', ' '
		if i > 0 {
			before = '.'
			if l[i-1].note == 0 {
				before, _ = utf8.DecodeLastRuneInString(l[i-1].text)
			}
		}
		if i+1 < len(l) {
			after = '.'
			if l[i+1].note == 0 {
				after, _ = utf8.DecodeRuneInString(l[i+1].text)
			}
		}
		nested := func(k int) bool { // two looks meet
			return 0 <= k && k < len(l) && l[k].note == 0 && l[k].style&(Emphasis|Strong) != 0
		}
		outside := func(r, beside rune, k int) bool {
			return unicode.IsSpace(r) || isMark(r) && (isWordish(beside) || nested(k) && !unicode.IsSpace(beside))
		}
		text := s.text
		head := 0
		for head < len(text) {
			r, n := utf8.DecodeRuneInString(text[head:])
			if !outside(r, before, i-1) {
				break
			}
			if unicode.IsSpace(r) {
				before = ' '
			}
			head += n
		}
		tail := len(text)
		for tail > head {
			r, n := utf8.DecodeLastRuneInString(text[:tail])
			if !outside(r, after, i+1) {
				break
			}
			if unicode.IsSpace(r) {
				after = ' '
			}
			tail -= n
		}
		plain := s
		plain.style &^= Emphasis | Strong
		plain.text = text[:head]
		put(plain)
		inner := s
		if inner.text = text[head:tail]; strings.IndexFunc(inner.text, isWord) < 0 {
			inner.style &^= Emphasis | Strong // marks alone
		}
		put(inner)
		plain.text = text[tail:]
		put(plain)
	}
	return out
}

// isMark tells punctuation as Markdown counts it, and what is written as a
// reference, which begins and ends with such.
func isMark(r rune) bool {
	return unicode.IsPunct(r) || unicode.IsSymbol(r) || r == '\u00AD' || r == '\u200B' || r == '\u2060'
}

// isWordish tells what is neither space nor mark.
func isWordish(r rune) bool { return !unicode.IsSpace(r) && !isMark(r) }

// markdown writes the spans of a line.
func (w *writer) markdown(l lineOf, in site) string {
	var b []byte
	var open []string // what is open, outermost first
	closed := false   // an emphasis was closed right before
	shut := func(to int) {
		for k := len(open) - 1; k >= to; k-- {
			b = append(b, open[k]...)
			closed = open[k][0] == '*'
		}
		open = open[:to]
	}
	for _, s := range l {
		if s.note > 0 {
			shut(0)
			b = bang(b)
			b = append(b, "[^"+strconv.Itoa(s.note)+"]"...)
			closed = false
			continue
		}
		var want []string // the closing marks of what is wanted
		if s.link != "" && isAddress(s.link) {
			want = append(want, "](<"+escapeAddress(s.link)+">)")
		}
		if s.lang != "" {
			want = append(want, "]{lang="+s.lang+"}")
		}
		if s.style&SmallCaps != 0 {
			want = append(want, "]{.caps}")
		}
		switch {
		case s.style&Superscript != 0:
			want = append(want, "]{.raised}")
		case s.style&Subscript != 0:
			want = append(want, "]{.lowered}")
		}
		if s.style&Strong != 0 {
			want = append(want, "**")
		}
		if s.style&Emphasis != 0 {
			want = append(want, "*")
		}
		same := 0
		for same < len(open) && same < len(want) && open[same] == want[same] {
			same++
		}
		shut(same)
		for _, o := range want[same:] {
			if o[0] == ']' {
				b = bang(b)
				b = append(b, '[')
				closed = false
			} else {
				if closed {
					b = append(b, "<!-- -->"...) // two runs of asterisks would be one
					closed = false
				}
				b = append(b, o...)
			}
			open = append(open, o)
		}
		closed = false
		b = w.escape(b, s.text, in)
	}
	shut(0)
	return string(b)
}

// bang keeps a ! before a bracket from making a picture of it.
func bang(b []byte) []byte {
	if n := len(b); n > 0 && b[n-1] == '!' {
		return append(b[:n-1], "&#33;"...)
	}
	return b
}

func isAddress(s string) bool {
	for _, scheme := range []string{"http://", "https://", "mailto:"} {
		if strings.HasPrefix(strings.ToLower(s), scheme) {
			return true
		}
	}
	return false
}

func escapeAddress(s string) string {
	return strings.Map(func(r rune) rune {
		if r <= ' ' || r == '<' || r == '>' || r == '\\' || unicode.IsControl(r) || r == utf8.RuneError {
			return -1
		}
		return r
	}, strings.ReplaceAll(s, "&", "&amp;"))
}
