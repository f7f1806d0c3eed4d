package wordproc

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

func itoa(n int) string     { return strconv.Itoa(n) }
func quote(s string) string { return strconv.Quote(s) }

// opening is a line, or several, with which a piece begins.
type opening struct {
	at, end int // lines[at:end] are the heading, and empty lines in it
	head    []*line
	part    bool
	why     string
	sure    bool
	saying  saying
	numbers bool // saying holds
}

// openings finds where pieces begin, by what the document says itself and then
// by what lines look like.
func (m *Manuscript) openings(ls []*line) []opening {
	m.bookTitleAmongHeads(ls)
	top, partLevel := m.levels(ls)
	m.byLook(ls, top > 0)
	if top == 0 {
		top = 1
	}
	var all []opening
	for i := 0; i < len(ls); i++ {
		l := ls[i]
		if l.kind != headLine || l.Level > max(top, partLevel) {
			continue
		}
		s, ok := says(m.Language, inOneLine(l.shown()))
		o := opening{at: i, end: i + 1, head: []*line{l}, why: l.why, saying: s, numbers: ok, sure: !l.byLook}
		next := following(ls, i+1)
		o.part = ok && s.part && s.worded || partLevel > 0 && l.Level == partLevel && next >= 0 && ls[next].kind == headLine && ls[next].Level == top && !ok
		// a number alone, and the title in the next line
		if next >= 0 && (ok && s.title == "" || l.text == "") && !ls[next].PageBefore && m.isTitleOf(ls, i, next, o.part) {
			o.head = append(o.head, ls[next])
			o.end = next + 1
		}
		for k := o.at; k < o.end; k++ {
			ls[k].used = true
		}
		all = append(all, o)
		i = o.end - 1
	}
	return all
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
	if b.text == "" || !short(b.text) || ls[next].kind == ornamentLine {
		return false
	}
	if _, ok := says(m.Language, b.shown()); ok || named(b.text) != nowhere {
		return false
	}
	switch b.kind {
	case headLine, subtitleLine:
		return !part || b.Level == 0 || b.Level == a.Level
	case textLine:
		if endsSentence(b.text) || beginsWith(b.text, "\"'“‘-—") || next-i > 4 || strings.Contains(b.text, "\n") {
			return false
		}
		after := following(ls, next+1)
		if after < 0 || ls[after].kind == headLine && !part {
			return false
		}
		if b.all(Emphasis) && !a.all(Emphasis) {
			return m.slanted(ls) // else a dateline
		}
		bold := b.all(Strong) && m.profile.look&Strong == 0
		centred := b.Align == Centre && m.profile.align != Centre
		larger := m.profile.size > 0 && b.Size()*10 >= m.profile.size*11
		alike := b.Style == a.Style && b.Style != ls[after].Style
		alone := ls[after].after > m.profile.gap && next-i <= 1+m.profile.gap && !strings.ContainsAny(b.text, ",0123456789")
		return bold || larger || alike || alone || centred && (a.Align == Centre || a.kind == headLine)
	}
	return false
}

// slanted tells whether each chapter that has a number alone has a line in the
// middle below it that is in italics and no date: then these are their titles.
func (m *Manuscript) slanted(ls []*line) bool {
	if m.slants != 0 {
		return m.slants > 0
	}
	m.slants = -1
	bare, titled := 0, 0
	for i, l := range ls {
		if l.kind != headLine {
			continue
		}
		s, ok := says(m.Language, inOneLine(l.shown()))
		if !ok || s.part || s.title != "" {
			continue
		}
		bare++
		if next := following(ls, i+1); next >= 0 && ls[next].kind == textLine && ls[next].Align == Centre && ls[next].all(Emphasis) && short(ls[next].text) &&
			!strings.ContainsAny(ls[next].text, "\n,0123456789") && !isSentence(ls[next].text) {
			titled++
		}
	}
	if bare >= 2 && titled == bare {
		m.slants = 1
	}
	return m.slants > 0
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
		signed = signed || l.kind == textLine && (isName(l.text) || byline.MatchString(l.text))
		words += len(strings.Fields(l.text))
	}
	return false
}

// byLook makes headings of lines that look like them. Where the document has
// headings of its own, only a line with the word for chapter or part counts.
func (m *Manuscript) byLook(ls []*line, styled bool) {
	pr := m.profile
	type candidate struct {
		at     int
		points int
		why    []string
		says   saying
		number bool
		shouts bool // it is in capitals
	}
	var all []candidate
	numbered, paged := 0, false
	for i, l := range ls {
		if l.kind != textLine && l.kind != titleLine || !short(l.text) || strings.Count(l.text, "\n") > 1 || l.Item != nil && l.Item.Label == "" {
			continue
		}
		next := following(ls, i+1)
		if next < 0 {
			continue
		}
		one := inOneLine(l.text)
		if aboutRights.MatchString(one) {
			continue
		}
		c := candidate{at: i}
		c.says, c.number = says(m.Language, one)
		aside := named(one)
		if !c.number && aside == nowhere && (ls[next].kind != textLine || ls[next].PageBefore || broken(ls, next) || endsSentence(one) || strings.HasSuffix(one, "?”") || strings.HasSuffix(one, `?"`) || l.Box) {
			continue
		}
		add := func(points int, why string) { c.points += points; c.why = append(c.why, why) }
		switch {
		case c.number && c.says.worded:
			add(3, "it says "+quote(shorten(c.says.number)))
		case c.number && c.says.title == "":
			add(1, "it is a number alone")
		case c.number:
			add(1, "it begins with a number")
		case aside != nowhere:
			add(2, "it is the name of such a piece")
		}
		page := l.PageBefore || i == 0 || broken(ls, i)
		switch {
		case page && i > 0:
			add(2, "it begins a page")
		case page && c.number:
			add(2, "the document begins with it")
		}
		if l.Align == Centre && pr.align != Centre {
			add(1, "it is centred")
		}
		if size := l.Size(); pr.size > 0 && size*10 >= pr.size*12 {
			add(2, "it is larger than the text")
		}
		if l.all(Strong) && pr.look&Strong == 0 {
			add(1, "it is bold")
		}
		if isUpper(one) && countLetters(one) > 3 {
			add(1, "it is in capitals")
			c.shouts = true
		}
		if l.after >= pr.gap+2 {
			add(1, itoa(l.after)+" empty lines stand before it")
		}
		if ls[next].after >= pr.gap+1 {
			add(1, "an empty line stands after it")
		}
		if c.number && (c.says.worded || c.points >= 3) {
			numbered++
		}
		paged = paged || page && i > 0 && c.points >= 3
		all = append(all, c)
	}
	looks, accepted := alikes(ls, pr), map[outlook]bool{}
	// between chapters with numbers stand only such as look like them, or come
	// again: a page of a newspaper has a headline too
	from, to, ofNumbers := len(all), -1, map[outlook]bool{}
	for k, c := range all {
		if c.number && c.says.worded && c.points >= 3 {
			from, to = min(from, k), max(to, k)
			ofNumbers[ls[c.at].outlook()] = true
		}
	}
	for k, c := range all {
		l := ls[c.at]
		ok := false
		switch {
		case c.number && c.says.worded && c.says.title != "" && endsSentence(c.says.title) && c.points < 5:
			// Chapter 7 He remembered.
		case c.number && c.says.worded:
			ok = c.points >= 3 && !styled || c.points >= 5 && l.Raw == ""
		case styled:
			ok = false
		case c.number:
			ok = c.points >= 3
		default:
			// without a number it takes a new page, or a look of its own that
			// comes again: the less it stands out, the more often
			page := l.PageBefore || broken(ls, c.at)
			if from < k && k < to && named(l.text) == nowhere && !ofNumbers[l.outlook()] && looks[l.outlook()] < 2 {
				continue
			}
			named := named(l.text) != nowhere && (c.points > 3 || c.points == 3 && !c.shouts) // more than capitals
			ok = c.points >= 3 && page || named ||
				numbered == 0 && c.points >= 4 && looks[l.outlook()] >= 2 ||
				numbered == 0 && !paged && c.points >= 3 && looks[l.outlook()] >= 3
		}
		if !ok || m.isListed(ls, c.at) {
			continue
		}
		// a run of such lines with nothing between them is a table of contents
		if k+1 < len(all) && c.number && all[k+1].number && following(ls, c.at+1) == all[k+1].at && all[k+1].says.part == c.says.part && c.says.worded == all[k+1].says.worded {
			continue
		}
		l.kind = headLine
		l.Paragraph = withLevel(l.Paragraph, 1)
		l.byLook = true
		l.why = strings.Join(c.why, ", ")
		accepted[l.outlook()] = true
	}
	m.firstLine(ls, accepted)
}

// firstLine makes a heading of the first line where it looks as others do that
// begin a page: at the beginning nothing breaks the page.
func (m *Manuscript) firstLine(ls []*line, accepted map[outlook]bool) {
	i := following(ls, 0)
	if i < 0 || ls[i].kind != textLine || !short(ls[i].text) || endsSentence(ls[i].text) || !accepted[ls[i].outlook()] {
		return
	}
	next := following(ls, i+1)
	if next < 0 || ls[next].kind != textLine || ls[next].PageBefore || short(ls[next].text) && !endsSentence(ls[next].text) {
		return
	}
	l := ls[i]
	l.kind, l.byLook = headLine, true
	l.Paragraph = withLevel(l.Paragraph, 1)
	l.why = "the document begins with it, and it looks like other openings"
}

// broken tells whether a page ends between line i and the text before it.
func broken(ls []*line, i int) bool {
	for k := i - 1; k >= 0 && ls[k].kind == emptyLine; k-- {
		if ls[k].PageBefore {
			return true
		}
	}
	return false
}

// outlook is how a line looks from afar.
type outlook struct {
	align  Align
	size   int
	strong bool
	style  string
}

func (l *line) outlook() outlook { return outlook{l.Align, l.Size(), l.all(Strong), l.Style} }

// alikes counts the short lines of each look that is not that of the text.
func alikes(ls []*line, pr profile) map[outlook]int {
	count := map[outlook]int{}
	for _, l := range ls {
		if l.kind == textLine && short(l.text) {
			if o := l.outlook(); o.align != pr.align || o.size != pr.size || o.strong {
				count[o]++
			}
		}
	}
	return count
}

// isListed tells a line of a typed table of contents: it stands again further
// on, and it ends in the number of a page or is followed by its like.
func (m *Manuscript) isListed(ls []*line, i int) bool {
	if m.shorts == nil {
		m.shorts = map[string]int{}
		for k, l := range ls {
			if (l.kind == textLine || l.kind == headLine) && short(l.text) {
				m.shorts[fold(l.text)] = k
			}
		}
	}
	if m.shorts[fold(ls[i].text)] <= i && m.shorts[listedKey(ls[i].text)] <= i {
		return false
	}
	next := following(ls, i+1)
	return next >= 0 && short(ls[next].text) && (ls[next].kind == textLine || ls[next].kind == headLine) && !endsSentence(ls[next].text) && !m.leadsToText(ls, i)
}

// inOneLine is a heading of two lines as one: number and title stay apart.
func inOneLine(s string) string {
	head, rest, ok := strings.Cut(s, "\n")
	if !ok {
		return s
	}
	rest = strings.ReplaceAll(rest, "\n", " ")
	if head = strings.TrimRight(head, " "); head == "" || strings.ContainsAny(head[len(head)-1:], ".:-") {
		return head + " " + rest
	}
	return head + ": " + rest
}

// leadsToText tells a line below which text comes within three lines and no
// other opening: chapters that are numbered anew in each part stand again too.
func (m *Manuscript) leadsToText(ls []*line, i int) bool {
	for range 3 {
		i = following(ls, i+1)
		if i < 0 || ls[i].PageBefore || broken(ls, i) || ls[i].kind == contentsLine {
			return false
		}
		if !short(ls[i].text) {
			return true
		}
		if _, ok := says(m.Language, ls[i].shown()); ok {
			return false
		}
	}
	return false
}

// listedKey is a heading without leaders and the number of its page.
func listedKey(s string) string {
	t := strings.TrimRight(s, "0123456789ivxlc")
	if !strings.HasSuffix(t, " ") && !strings.HasSuffix(t, ".") && !strings.HasSuffix(t, "\u00A0") {
		t = s
	}
	return fold(strings.TrimRight(t, " .\u00A0…·"))
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
