package wordproc

import (
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

func itoa(n int) string { return strconv.Itoa(n) }

func quote(s string) string { return strconv.Quote(s) }

// opening is a line, or several, with which a piece begins.
type opening struct {
	at, end int // lines[at:end] are the heading, and empty lines in it
	head    []*line
	part    bool
	why     string
	sure    bool
	text    string // of the heading, in one line
	saying  saying
	numbers bool // saying holds
}

// openings finds where pieces begin, by what the document says itself and then
// by what lines look like.
func (m *Manuscript) openings(ls []*line) []opening {
	m.bookTitleAmongHeads(ls)
	top, partLevel := m.levels(ls)
	m.byLook(ls, top > 0)
	m.sceneHeads(ls)
	if top == 0 {
		top = 1
	}
	var all []opening
	above := m.titlesAbove(ls)
	for i := 0; i < len(ls); i++ {
		l := ls[i]
		if l.kind != headLine || l.Level > max(top, partLevel) || above[i+1] {
			continue
		}
		s, ok, end := m.saying(ls, i)
		o := opening{at: i, end: end, head: []*line{l}, why: l.why, saying: s, numbers: ok, sure: !l.byLook}
		if end > i+1 {
			o.head = append(o.head, ls[end-1])
		}
		if above[i] {
			o.at = i - 1
			o.head = append(o.head, ls[i-1])
		}
		next := following(ls, end)
		o.part = ok && s.part && s.worded || partLevel > 0 && l.Level == partLevel && next >= 0 && ls[next].kind == headLine && ls[next].Level == top && !ok
		// a number alone, and the title in the next line
		if next >= 0 && !above[i] && (ok && s.title == "" || l.text == "") && !ls[next].page && m.isTitleOf(ls, end-1, next, o.part) {
			o.head = append(o.head, ls[next])
			o.end = next + 1
		}
		for k := o.at; k < o.end; k++ {
			ls[k].used = true
		}
		o.text = m.headText(o.head)
		all = append(all, o)
		i = o.end - 1
	}
	if !slices.ContainsFunc(all, func(o opening) bool { return !o.part && o.where() == nowhere }) {
		for i := range all {
			all[i].part = false // Act One, Act Two, and nothing below them
		}
	}
	return all
}

// titlesAbove finds the numbers of chapters, alone in a line, right above which a
// title or a name stands: at least half of them, and two.
func (m *Manuscript) titlesAbove(ls []*line) map[int]bool {
	above := map[int]bool{}
	numbers := 0
	for i, l := range ls {
		if l.kind != headLine || !l.byLook {
			continue
		}
		s, ok, _ := m.saying(ls, i)
		if !ok || !s.worded || s.part || s.title != "" {
			continue
		}
		numbers++
		if i == 0 || l.page || l.after > 0 {
			continue
		}
		t := ls[i-1]
		_, number := says(m.Language, t.text)
		begins := t.page || t.after > m.profile.gap || i == 1
		if (t.kind == textLine || t.kind == headLine && t.byLook) && begins && !number && short(t.text) && t.Align == l.Align && named(t.text) == nowhere &&
			!strings.Contains(t.text, "\n") && !isSentence(t.text) && !endsSentence(t.text) && !beginsSpeech(t.text) && m.isTitled(t.text) {
			above[i] = true
		}
	}
	if len(above) < 2 || 2*len(above) < numbers {
		return nil
	}
	return above
}

// following returns the next line with something in it, -1 at the end.
func following(ls []*line, i int) int {
	for ; i < len(ls); i++ {
		if ls[i].kind != emptyLine {
			return i
		}
	}
	return -1
}

// isTitleOf tells whether the line at next is the title of the chapter or part
// whose number stands alone at i.
func (m *Manuscript) isTitleOf(ls []*line, i, next int, part bool) bool {
	a, b := ls[i], ls[next]
	if b.text == "" || b.kind == ornamentLine || b.scene {
		return false
	}
	if pr := &m.profile; !short(b.text) && (len(b.text) > longestHead || isSentence(b.text) || !pr.centred(b) && !pr.bold(b) && !pr.larger(b, 11)) {
		return false // In which ...
	}
	if _, ok := says(m.Language, b.shown()); ok || named(b.text) != nowhere {
		return false
	}
	switch b.kind {
	case headLine, subtitleLine:
		return !part || b.Level == 0 || b.Level == a.Level
	case textLine:
		if endsSentence(b.text) || beginsSpeech(b.text) || next-i > 4 || strings.Contains(b.text, "\n") {
			return false
		}
		after := following(ls, next+1)
		if after < 0 || ls[after].kind == headLine && !part {
			return false
		}
		if b.all(Emphasis) && !a.all(Emphasis) {
			return b.Align == Centre && m.areTitled(ls) // else a dateline
		}
		pr := &m.profile
		centred := pr.centred(b)
		alike := b.Style == a.Style && b.Style != ls[after].Style
		alone := ls[after].after > m.profile.gap && next-i <= 1+m.profile.gap && m.isTitled(b.text) && !strings.ContainsAny(b.text, ",0123456789")
		return pr.bold(b) || pr.larger(b, 11) || alike || alone || m.areTitled(ls) || centred && (a.Align == Centre || a.kind == headLine)
	}
	return false
}

// areTitled tells whether each chapter that has a number alone has a short line
// below it that is no sentence and no date: then these are their titles, however
// they look.
func (m *Manuscript) areTitled(ls []*line) bool {
	if m.titled != 0 {
		return m.titled > 0
	}
	m.titled = -1
	bare, titled := 0, 0
	for i, l := range ls {
		if l.kind != headLine {
			continue
		}
		s, ok, end := m.saying(ls, i)
		if !ok || s.part || s.title != "" {
			continue
		}
		bare++
		next := following(ls, end)
		if next < 0 || ls[next].kind != textLine || next-end > 2 {
			return false
		}
		t := ls[next].text
		if short(t) && !strings.ContainsAny(t, "\n,0123456789") && !isSentence(t) && !endsSentence(t) && !beginsSpeech(t) && ls[next].Align != End && m.isTitled(t) {
			titled++
		}
	}
	if bare >= 2 && titled == bare {
		m.titled = 1
	}
	return m.titled > 0
}

// endsSentence tells a line that ends as a sentence does.
func endsSentence(s string) bool {
	s = strings.TrimRightFunc(s, func(r rune) bool { return unicode.In(r, unicode.Pf, unicode.Pi, unicode.Pe) || r == '"' || r == '\'' })
	r, _ := utf8.DecodeLastRuneInString(s)
	return strings.ContainsRune(".,;:…", r)
}

// levels finds the outline level of chapters, and that of parts above it; 0
// for none.
func (m *Manuscript) levels(ls []*line) (top, part int) {
	count := [10]int{}
	followed := [10]int{} // by a heading one or more levels below, with no text between
	numbers, parts := [10]int{}, [10]int{}
	for i, l := range ls {
		if l.kind != headLine || l.Level == 0 {
			continue
		}
		if named(l.text) != nowhere || contentsNames[fold(l.text)] {
			continue
		}
		count[l.Level]++
		if s, ok := says(m.Language, l.shown()); ok && s.part {
			parts[l.Level]++
		} else if ok {
			numbers[l.Level]++
		}
		if k := following(ls, i+1); k >= 0 && ls[k].kind == headLine && ls[k].Level > l.Level {
			followed[l.Level]++
		}
	}
	for l := 1; l < 10; l++ {
		if count[l] == 0 {
			continue
		}
		if top == 0 {
			top = l
			continue
		}
		// parts say so, or have nothing between their heading and the next, and
		// several chapters each
		said := 2*parts[top] >= count[top] && count[l] >= parts[top]
		if part == 0 && 2*numbers[top] < count[top] && (said || 2*followed[top] >= count[top] && 2*count[l] >= 3*count[top]) {
			part, top = top, l
		}
		break
	}
	return top, part
}

// bookTitleAmongHeads takes a heading that names the whole book out of the
// headings: it comes first, alone on its level, above several of the next.
func (m *Manuscript) bookTitleAmongHeads(ls []*line) {
	count := [10]int{}
	first := -1
	for i, l := range ls {
		if l.kind == headLine {
			count[l.Level]++
			if first < 0 {
				first = i
			}
		}
	}
	if first < 0 {
		return
	}
	l := ls[first]
	if count[l.Level] != 1 && m.isTitleBelowHead(ls, first) {
		l.kind, l.why = titleLine, "it is the first heading, with a name below it and no text"
		return
	}
	if count[l.Level] != 1 || named(l.text) != nowhere || contentsNames[fold(l.text)] {
		return
	}
	if _, ok := says(m.Language, l.shown()); ok {
		return
	}
	for k := l.Level + 1; k < 10; k++ {
		if count[k] > 0 {
			if count[k] >= 2 {
				l.kind = titleLine
				l.why = "it is the only heading of its level, above all others"
			}
			return
		}
	}
}

// isTitleBelowHead tells a first heading that is no chapter: by whom the book is
// stands below it, and nothing else.
func (m *Manuscript) isTitleBelowHead(ls []*line, first int) bool {
	if _, ok := says(m.Language, ls[first].shown()); ok || named(ls[first].text) != nowhere || frontNames[fold(ls[first].text)] != Chapter {
		return false
	}
	signed, words := false, 0
	for _, l := range ls[first+1:] {
		if l.kind == headLine {
			return signed && words <= 30
		}
		if l.kind == titleLine || l.kind == textLine && endsSentence(l.text) {
			return false
		}
		signed = signed || l.kind == textLine && saysWho(l.text)
		words += len(strings.Fields(l.text))
	}
	return false
}

// inOneLine is a heading of two lines as one.
func (m *Manuscript) inOneLine(s string) string {
	head, rest, ok := strings.Cut(s, "\n")
	if !ok {
		return s
	}
	return joined(m.Language, strings.TrimRight(head, " "), spaced(rest))
}

// joined makes one line of those of a heading: number and title stay apart.
func joined(lang string, parts ...string) string {
	var b strings.Builder
	for i, s := range parts {
		if i > 0 {
			if before := parts[i-1]; before != "" && !strings.ContainsAny(before[len(before)-1:], ".:!?-") && !strings.HasSuffix(before, "—") && !isWordAlone(lang, before) {
				b.WriteByte(':')
			}
			b.WriteByte(' ')
		}
		b.WriteString(s)
	}
	return b.String()
}

// saying reads line i as a number, or the word for a chapter or a part whose
// number stands in the next line. It returns the line behind.
func (m *Manuscript) saying(ls []*line, i int) (s saying, ok bool, end int) {
	text := m.inOneLine(ls[i].shown())
	if s, ok = says(m.Language, text); ok || !isWordAlone(m.Language, text) {
		return s, ok, i + 1
	}
	next := following(ls, i+1)
	if next < 0 || next-i > 2 || ls[next].page || ls[next].kind != textLine && ls[next].kind != headLine {
		return s, false, i + 1
	}
	if n, ok := says(m.Language, ls[next].shown()); ok && n.title == "" && !n.worded {
		if s, ok = says(m.Language, text+" "+ls[next].shown()); ok && s.worded && s.title == "" {
			return s, true, next + 1
		}
	}
	return saying{}, false, i + 1
}

func isUpper(s string) bool {
	letters := false
	for _, r := range s {
		if unicode.IsLower(r) {
			return false
		}
		letters = letters || unicode.IsUpper(r)
	}
	return letters
}
