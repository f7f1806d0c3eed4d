package markup

import (
	"bytes"
	"strings"
	"unicode"
	"unicode/utf8"
)

// mark is what a straight ' or " has been found to be.
type mark uint8

const (
	opening mark = iota
	closing
	elision // an apostrophe
	measure // feet, inches, minutes, seconds
)

// edit replaces buf[at:at+n].
type edit struct {
	at, n int
	with  string
}

// paragraph is the state of the pass over one paragraph: every mark is judged
// by its neighbours first and by what stands open second.
type paragraph struct {
	*marks
	buf   []byte
	runs  []run
	edits []edit

	open   []byte // the quotations open now: '"' or '\'', outermost first
	last   int    // offset of the mark judged last, or -1
	lastAs mark
	ahead  [3]ahead

	speech     byte // the mark that speech begins with in this file, ' or "
	lastDouble int  // the offset of the last "; -1 for none
	lastClosed int  // that of the last ' that is likely to close a quotation; -1 for none, 0 until it is looked for
}

// set returns the text of a paragraph with typographer's marks, and moves its
// runs to it.
func (m *marks) set(buf []byte, runs []run, speech byte) []byte {
	if !bytes.ContainsAny(buf, `"'`) && !m.points && !m.colon && bytes.IndexByte(buf, 0xEF) < 0 {
		return buf
	}
	p := &paragraph{marks: m, buf: buf, runs: runs, last: -1, speech: speech, lastDouble: bytes.LastIndexByte(buf, '"')}
	for _, r := range runs {
		if r.literal {
			continue
		}
		for i := r.a; i < r.b; i++ {
			switch c := buf[i]; {
			case c == '"':
				p.judge(i, p.double(i))
			case c == '\'':
				p.judge(i, p.single(i))
			case c == 0xEF: // straightDouble, straightSingle
				if r, n := utf8.DecodeRune(buf[i:]); r == straightDouble {
					p.edit(i, n, `"`)
				} else if r == straightSingle {
					p.edit(i, n, "'")
				}
			case m.points && (c == ';' || c == '!' || c == '?'):
				p.point(i, narrowNoBreak)
			case m.colon && c == ':':
				p.point(i, noBreak)
			case m.inside != "" && c == 0xC2:
				p.guillemet(i)
			}
		}
	}
	return p.apply()
}

// plain sets the marks in a text without Markdown: a title of book.toml.
func (m *marks) plain(s string) string {
	s = strings.Join(strings.Fields(s), " ")
	return nfc(string(m.set([]byte(s), []run{{a: 0, b: len(s)}}, '"')))
}

func (p *paragraph) edit(at, n int, with string) {
	if k := len(p.edits); k > 0 && p.edits[k-1].at+p.edits[k-1].n > at {
		return // the space between two points has been dealt with
	}
	p.edits = append(p.edits, edit{at, n, with})
}

// apply writes the edited text and moves the runs.
func (p *paragraph) apply() []byte {
	if len(p.edits) == 0 {
		return p.buf
	}
	out := make([]byte, 0, len(p.buf)+4*len(p.edits))
	k := 0
	for i := range p.runs {
		r := &p.runs[i]
		from, start := r.a, len(out)
		for ; k < len(p.edits) && p.edits[k].at < r.b; k++ {
			e := p.edits[k]
			out = append(out, p.buf[from:e.at]...)
			out = append(out, e.with...)
			from = e.at + e.n
		}
		out = append(out, p.buf[from:r.b]...)
		r.a, r.b = start, len(out)
	}
	return out
}

// maxOpen is deeper than a reader can follow.
const maxOpen = 16

// judge records what the mark at i is and puts its character.
func (p *paragraph) judge(i int, as mark) {
	c := p.buf[i]
	pr, inside := p.marks.double, p.inside
	if c == '\'' {
		pr, inside = p.marks.single, ""
	}
	switch as {
	case opening:
		if len(p.open) < maxOpen {
			p.open = append(p.open, c)
		}
		p.edit(i, 1, pr.open+inside)
		if inside != "" && i+1 < len(p.buf) && p.buf[i+1] == ' ' {
			p.edit(i+1, 1, "")
		}
	case closing:
		for n := len(p.open) - 1; n >= 0; n-- {
			if p.open[n] == c {
				p.open = p.open[:n] // what was opened inside ends with it
				break
			}
		}
		if inside != "" && i > 0 && p.buf[i-1] == ' ' {
			p.edit(i-1, 1, "")
		}
		p.edit(i, 1, inside+pr.close)
	case elision:
		p.edit(i, 1, apostrophe)
	case measure: // stays straight: not every face has the primes
	}
	p.last, p.lastAs = i, as
}

func (p *paragraph) isOpen(c byte) bool { return bytes.IndexByte(p.open, c) >= 0 }

// double says what the " at i is.
func (p *paragraph) double(i int) mark {
	before, after := p.before(i), p.after(i)
	open := p.isOpen('"')
	if digit := isFigure(p.rune(i)); digit && (p.feet(i) || !open && after != word && after != opener) {
		return measure
	}
	switch {
	case before == space || before == opener:
		if open && (after == space || after == closer) && before == space {
			return closing
		}
		return opening
	case after == space || after == closer:
		return closing
	case before != dash && after == dash:
		return closing
	case open:
		return closing
	}
	return opening
}

// feet tells whether the number before the " at i is the inches of a measure
// such as 5'10".
func (p *paragraph) feet(i int) bool {
	if p.last < 0 || p.lastAs != measure || p.buf[p.last] != '\'' {
		return false
	}
	between := strings.TrimLeft(string(p.buf[p.last+1:i]), " ")
	return between != "" && strings.IndexFunc(between, func(r rune) bool { return !isFigure(r) }) < 0
}

// single says what the ' at i is.
func (p *paragraph) single(i int) mark {
	before, after := p.before(i), p.after(i)
	r, next := p.rune(i), p.next(i)
	open := p.isOpen('\'')
	inWord := before == word && (unicode.IsLetter(r) || unicode.IsNumber(r))
	switch {
	case inWord && unicode.IsLetter(next):
		return elision
	case isFigure(r) && isFigure(next):
		return measure
	case isFigure(r) && !open && (after == space || after == closer):
		return measure
	case before == space || before == opener:
		switch {
		case after == word:
			return p.lead(i)
		case after == space && !open:
			return elision
		case after == space, open && after == closer:
			return closing
		}
		return opening
	case before == dash && after == word, before == closer && after == word:
		if open && (before == closer || !p.starts(i)) {
			return closing
		}
		return p.lead(i)
	case !open:
		if before == dash && after == opener {
			return opening
		}
		return elision
	case inWord && after == space && p.look(i+1, definite):
		return elision // goin' home: the quotation closes later
	}
	return closing
}

// starts tells whether the mark at i, behind a dash, has what it could close
// still to come.
func (p *paragraph) starts(i int) bool { return p.look(i+1, likely) }

// lead says whether the ' at i, before a word and not behind one, opens a
// quotation or stands for something left out.
func (p *paragraph) lead(i int) mark {
	w := p.word(i + 1)
	end := i + 1 + len(w)
	w = strings.ToLower(strings.ReplaceAll(w, apostrophe, "'"))
	if n := digits(w); n > 0 {
		switch {
		case n == 2 && w[n:] == "s":
			return elision // '90s
		case n == 2 && w[n:] == "" && !p.look(end, likely):
			return elision // the summer of '45
		}
		return opening
	}
	stem, _, _ := strings.Cut(w, "'")
	switch {
	case p.doubtful[w] || p.doubtful[stem]:
		if p.look(end, likely) || p.rune(i) == 0 && !p.first[w] {
			return opening
		}
		return elision
	case p.elided[w] || p.elided[stem] && stem != "n":
		return elision
	case w == "n'", w == "a" && p.have(i):
		return elision // rock 'n' roll, he might 'a' known
	}
	// go 'tention: a small letter in the middle of a sentence, and nothing
	// that could close a quotation before the next one opens
	if r, _ := utf8.DecodeRuneInString(w); unicode.IsLower(r) && p.inSentence(i) && strings.HasPrefix(string(p.buf[i+1:]), string(r)) && !p.look(end, possible) {
		return elision
	}
	if first, _ := utf8.DecodeRune(p.buf[i+1:]); unicode.IsUpper(first) && p.dropped(i) && !p.closesAfter(end) {
		return elision
	}
	return opening
}

// dropped tells whether the ' at i stands where a name or a first word may
// have lost its beginning ('Arry, 'Allo), if no quotation is closed behind it:
// in a sentence, in speech that is closed in this paragraph, or at its
// beginning where speech has other marks.
func (p *paragraph) dropped(i int) bool {
	switch {
	case p.rune(i) == 0:
		return p.speech == '"'
	case p.inSentence(i):
		return true
	}
	return p.isOpen('"') && p.lastDouble > i
}

// closesAfter tells whether anywhere behind i a ' is likely to close a
// quotation.
func (p *paragraph) closesAfter(i int) bool {
	for k := len(p.buf) - 1; p.lastClosed == 0 && k > 0; k-- {
		if p.buf[k] != '\'' || p.after(k) == word {
			continue
		}
		before := classOf(p.rune(k))
		if before == closer || before == dash || before == word && !p.clipped(k) {
			p.lastClosed = k
		}
	}
	if p.lastClosed == 0 {
		p.lastClosed = -1
	}
	return p.lastClosed >= i
}

// have tells whether the word before i asks for a "have" that 'a' stands for.
func (p *paragraph) have(i int) bool {
	before := strings.ToLower(strings.TrimRight(string(p.buf[max(0, i-10):i]), " "))
	for _, w := range []string{"might", "must", "would", "could", "should", "'d", "’d"} {
		if strings.HasSuffix(before, w) {
			return true
		}
	}
	return false
}

// word returns the word at i, with apostrophes inside it and one after n.
func (p *paragraph) word(i int) string {
	k := i
	for k < len(p.buf) {
		r, n := utf8.DecodeRune(p.buf[k:])
		inner := (r == '\'' || r == '’') && k > i && (unicode.IsLetter(p.next(k+n-1)) || string(p.buf[i:k]) == "n" || string(p.buf[i:k]) == "N")
		if !unicode.IsLetter(r) && !unicode.IsDigit(r) && !inner {
			break
		}
		k += n
	}
	return string(p.buf[i:k])
}

// inSentence tells whether a letter comes before the space before i.
func (p *paragraph) inSentence(i int) bool {
	for i > 0 {
		r, n := utf8.DecodeLastRune(p.buf[:i])
		if !unicode.IsSpace(r) {
			return unicode.IsLetter(r)
		}
		i -= n
	}
	return false
}

// How sure a ' ahead must be to count as one that closes a quotation.
const (
	definite = iota // behind a point: so,'
	likely          // or behind a word that does not end like goin' or the boys'
	possible        // or behind any word
)

// ahead is the last answer of look: it holds for all offsets in [from, to).
type ahead struct {
	from, to int
	found    bool
}

// look tells whether a ' that closes a quotation comes after i, before another
// that opens one.
func (p *paragraph) look(i, sure int) bool {
	if a := p.ahead[sure]; a.from <= i && i < a.to {
		return a.found
	}
	found, k := false, i
	for ; k < len(p.buf); k++ {
		n := bytes.IndexByte(p.buf[k:], '\'')
		if n < 0 {
			k = len(p.buf)
			break
		}
		k += n
		before, after := classOf(p.rune(k)), p.after(k)
		if p.buf[max(k-1, 0)] == '"' {
			before = closer
			if after == word {
				before = opener
			}
		}
		if (before == space || before == opener || before == dash) && after == word {
			if w := strings.ToLower(p.word(k + 1)); p.elided[w] || w == "n'" || digits(w) == 2 {
				continue
			}
			break
		}
		if before == space || after == word {
			continue
		}
		if before == closer || before == dash || sure == possible || sure == likely && !p.clipped(k) {
			found = true
			break
		}
	}
	p.ahead[sure] = ahead{i, k, found}
	return found
}

// clipped tells whether the word before i may end in an apostrophe: goin',
// an', th', o', the boys'.
func (p *paragraph) clipped(i int) bool {
	tail := string(bytes.ToLower(p.buf[max(0, i-5):i]))
	for _, end := range []string{"in", "s", " an", " th", " o", " wi", " ol", " mos", " jus"} {
		if strings.HasSuffix(tail, end) {
			return true
		}
	}
	return false
}
