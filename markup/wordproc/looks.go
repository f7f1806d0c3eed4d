package wordproc

import (
	"slices"
	"strings"
	"unicode"
)

// candidate is a line that can be an opening by its look.
type candidate struct {
	at     int
	end    int // the line behind it, and behind its number
	points int
	why    []string
	says   saying
	number bool // says holds
	shouts bool // it is in capitals
	ends   bool // it ends as a sentence or as speech does
	like   bool // it has the word for chapter, and no number that is known
	page   bool // it begins a page
	plain  bool // it looks as the text does, and has no room around it
	alone  bool // empty lines stand before and behind it that are not the rule
}

func (c *candidate) add(points int, why string) {
	c.points += points
	c.why = append(c.why, why)
}

// crowd is what the candidates are like together: one that stands out as others
// do is more likely to open a chapter.
type crowd struct {
	all       []candidate
	numbered  int              // with a number, for sure
	paged     int              // begin a page, above text
	from, to  int              // the first and the last with the word for chapter
	ofNumbers map[outlook]bool // how those look
	looks     map[outlook]int  // of all short lines
	alone     int              // stand alone, without a number
	bare      int              // are numbers alone
	firstHead int              // by its style: the line
	counts    map[int]bool     // the candidates whose numbers go on from one to the next
}

// byLook makes headings of lines that look like them. Where the document has
// headings of its own, only a line with the word for a chapter or part counts, or one
// that begins a page and is a number alone or the name of a piece.
func (m *Manuscript) byLook(ls []*line, styled bool) {
	cr := m.candidates(ls)
	cr.firstHead = slices.IndexFunc(ls, func(l *line) bool { return l.kind == headLine })
	cr.numberedScenes(ls)
	cr.counting(ls)
	accepted := map[outlook]bool{}
	var opened []int // their lines
	numbered := false
	for k, c := range cr.all {
		if !m.opens(ls, cr, k, styled) || m.isListed(ls, c.end-1) {
			continue
		}
		// a run of such lines with nothing between them is a table of contents
		if cr.listed(ls, k) {
			if next := cr.all[k+1]; next.says.part == c.says.part && c.says.worded == next.says.worded && c.ends == next.ends {
				continue
			}
		}
		l := ls[c.at]
		m.openBy(l, strings.Join(c.why, ", "))
		accepted[l.outlook()] = true
		opened, numbered = append(opened, c.at), numbered || c.number
	}
	switch {
	case styled:
	case len(opened) == 0:
		_ = m.alike(ls, cr.looks, following(ls, 0)) || m.alonePages(ls) || m.shortest(ls)
	case len(opened) == 1 && !numbered: // the first, which begins the page behind the title's
		l := ls[opened[0]]
		one := *l
		*l = *l.was
		if m.alike(ls, cr.looks, opened[0]) || m.shortest(ls) {
			return
		}
		*l = one
	}
	m.firstLine(ls, accepted)
}

// longestHead is how many bytes the longest heading has.
const longestHead = 300

// hasChapterWord tells a line that begins or ends with the word for a chapter.
func (m *Manuscript) hasChapterWord(s string) bool {
	f := strings.FieldsFunc(s, func(r rune) bool { return unicode.IsSpace(r) || strings.ContainsRune(".,:;—–!?", r) })
	if len(f) < 2 {
		return false
	}
	for _, w := range []string{f[0], f[len(f)-1]} {
		if part, known := wordFor(m.Language, w); known && !part {
			return true
		}
	}
	return false
}

// mayBeWorded tells a line that has the word for a chapter or a part where a
// heading has it.
func (m *Manuscript) mayBeWorded(s string) bool {
	f := strings.FieldsFunc(s, func(r rune) bool { return unicode.IsSpace(r) || strings.ContainsRune(",:;—–!?-", r) })
	for i, w := range f {
		if i < 8 || i == len(f)-1 {
			if isWordAlone(m.Language, w) || isWordAlone(m.Language, strings.TrimSuffix(w, ".")) {
				return true
			}
		}
	}
	return false
}

// isAboveText tells a line below which text comes within four lines, on its page.
func isAboveText(ls []*line, i int) bool {
	for range 4 {
		if i = following(ls, i+1); i < 0 || ls[i].page {
			return false
		}
		if !short(ls[i].text) {
			return true
		}
	}
	return false
}

// openBy makes a heading of a line.
func (m *Manuscript) openBy(l *line, why string) {
	was := *l
	l.was = &was
	l.kind, l.byLook, l.why = headLine, true, why
	l.Paragraph = withLevel(l.Paragraph, 1)
}

// candidates gives points to all lines that can be openings.
func (m *Manuscript) candidates(ls []*line) *crowd {
	pr := &m.profile
	cr := &crowd{ofNumbers: map[outlook]bool{}, looks: alikes(ls, pr)}
	behind, begun := 0, false
	for i, l := range ls {
		begun = begun || l.kind == textLine && !short(l.text)
		if i < behind {
			continue // a number below its word
		}
		if l.kind != textLine && l.kind != titleLine || len(l.text) > longestHead || !short(l.text) && !m.mayBeWorded(l.text) || len(strings.FieldsFunc(l.text, func(r rune) bool { return r == '\n' })) > 2 || l.Item != nil && l.Item.Label == "" {
			continue
		}
		one := m.inOneLine(l.text)
		if !begun && l.isTitleAndName() {
			continue
		}
		c := candidate{at: i, page: l.page || i == 0}
		c.says, c.number, c.end = m.saying(ls, i)
		next := following(ls, c.end)
		if next < 0 {
			continue
		}
		place := named(one)
		c.ends = endsSentence(one) || strings.HasSuffix(one, "?”") || strings.HasSuffix(one, `?"`)
		c.like = !c.number && m.hasChapterWord(one)
		switch {
		case !short(l.text) && !c.like && !(c.number && c.says.worded), aboutRights.MatchString(one),
			!c.number && !begun && !c.page && m.dedicates(one):
			continue
		case c.number || place != nowhere:
		case ls[next].kind != textLine || ls[next].page || l.Box || c.ends && l.outlook() == pr.outlook(l.Style):
			continue // no text below it, or text itself
		}
		behind = c.end
		switch {
		case c.number && c.says.worded:
			c.add(3, "it says "+quote(shorten(c.says.number)))
		case c.number && c.says.title == "":
			c.add(1, "it is a number alone")
		case c.number:
			c.add(1, "it begins with a number")
		case place != nowhere:
			c.add(2, "it is the name of such a piece")
		}
		page := c.page
		switch {
		case page && i > 0:
			c.add(2, "it begins a page")
		case page && c.number:
			c.add(2, "the document begins with it")
		}
		if pr.centred(l) {
			c.add(1, "it is centred")
		}
		if pr.larger(l, 12) {
			c.add(2, "it is larger than the text")
		}
		if pr.bold(l) {
			c.add(1, "it is bold")
		}
		if isUpper(one) && countLetters(one) > 3 {
			c.add(1, "it is in capitals")
			c.shouts = true
		}
		if l.after >= pr.gap+2 {
			c.add(1, itoa(l.after)+" empty lines stand before it")
		}
		if ls[next].after >= pr.gap+1 {
			c.add(1, "an empty line stands after it")
		}
		c.alone = (l.after >= pr.gap+2 || page) && ls[next].after >= pr.gap+1 && !c.number && !c.ends && beginsHead(one)
		c.plain = l.outlook() == pr.outlook(l.Style) && !page && l.after < pr.gap+2 && ls[next].after <= pr.gap
		cr.all = append(cr.all, c)
	}
	cr.leaveStrays(ls)
	cr.measure(ls)
	return cr
}

// leaveStrays takes out the words for a chapter in the story: lines that look as
// the text does, and whose number none goes before or behind that looks so too; or
// that go on as a sentence does.
func (cr *crowd) leaveStrays(ls []*line) {
	type numbered struct {
		outlook
		part bool
		n    int
	}
	look := func(c candidate, n int) numbered { return numbered{ls[c.at].outlook(), c.says.part, n} }
	known := map[numbered]bool{}
	for _, c := range cr.all {
		if c.number && c.says.worded {
			known[look(c, c.says.n)] = true
		}
	}
	cr.all = slices.DeleteFunc(cr.all, func(c candidate) bool {
		if !c.number || !c.says.worded || !c.plain {
			return false
		}
		return c.says.title != "" && (c.ends || isSentence(ls[c.at].text)) || !known[look(c, c.says.n-1)] && !known[look(c, c.says.n+1)]
	})
}

// measure counts what the candidates have.
func (cr *crowd) measure(ls []*line) {
	for k, c := range cr.all {
		if c.alone {
			cr.alone++
		}
		if c.number && !c.says.worded && c.says.title == "" {
			cr.bare++
		}
		if c.number && (c.says.worded || c.points >= 3) {
			cr.numbered++
		}
		if c.number && c.says.worded && c.points >= 3 {
			if cr.to = k; len(cr.ofNumbers) == 0 {
				cr.from = k
			}
			cr.ofNumbers[ls[c.at].outlook()] = true
		}
		if c.page && c.at > 0 && c.points >= 3 && isAboveText(ls, c.at) {
			cr.paged++
		}
	}
}

// counting finds numbers that look the same and go on from one to the next, three
// or more, with text between them: nothing but chapters does so through a whole
// text. Few others may stand among them.
func (cr *crowd) counting(ls []*line) {
	cr.counts = map[int]bool{}
	if len(cr.ofNumbers) > 0 {
		return
	}
	type look struct {
		outlook
		titled bool
	}
	groups := map[look][]int{}
	for k, c := range cr.all {
		if c.number && !c.says.part && (c.says.title == "" || !c.ends && !cr.listed(ls, k) && !cr.listed(ls, k-1)) {
			o := look{ls[c.at].outlook(), c.says.title != ""}
			groups[o] = append(groups[o], k)
		}
	}
	for _, g := range groups {
		var chain []int
		for _, k := range g {
			c := cr.all[k]
			if len(chain) == 0 {
				if c.says.n <= 1 {
					chain = append(chain, k)
				}
				continue
			}
			last := cr.all[chain[len(chain)-1]]
			if c.says.n == last.says.n+1 && (c.says.title == "" || textBetween(ls[last.end:c.at]) >= fewest) {
				chain = append(chain, k)
			}
		}
		if len(chain) < 3 || 4*len(chain) < 3*len(g) {
			continue
		}
		first, last := cr.all[chain[0]].says.n, cr.all[chain[len(chain)-1]].says.n
		for _, k := range chain {
			cr.counts[k] = true
			if cr.all[k].points >= 3 {
				continue // it needs no other reason
			}
			cr.all[k].why = append(cr.all[k].why, "the numbers go on from "+itoa(first)+" to "+itoa(last))
		}
	}
}

// listed tells a number right below which the next one stands.
func (cr *crowd) listed(ls []*line, k int) bool {
	return k >= 0 && k+1 < len(cr.all) && cr.all[k].number && cr.all[k+1].number && following(ls, cr.all[k].end) == cr.all[k+1].at
}

// textBetween is the number of paragraphs among lines.
func textBetween(ls []*line) int {
	n := 0
	for _, l := range ls {
		if l.kind == textLine {
			n++
		}
	}
	return n
}

// opens tells whether candidate k has enough of an opening.
func (m *Manuscript) opens(ls []*line, cr *crowd, k int, styled bool) bool {
	c := cr.all[k]
	l := ls[c.at]
	switch {
	case c.number && c.says.worded && c.says.title != "" && endsSentence(c.says.title) && c.points < 5:
		return false // Chapter 7 He remembered.
	case c.number && c.says.worded:
		return c.points >= 3 && !styled || c.points >= 5 && l.Raw == ""
	case styled: // one that nobody gave a style
		w := named(l.text)
		return c.page && c.points >= 4 && l.Raw == "" && (w == inBody || c.at > cr.firstHead && (w != nowhere || c.number && c.says.title == ""))
	case c.number && c.says.title == "" && !c.page && (len(cr.ofNumbers) > 0 || cr.bare < 2):
		return false // a number of the story
	case c.number:
		return c.points >= 3 || cr.counts[k]
	}
	// between chapters with numbers stand only such as look like them, or come
	// again: a page of a newspaper has a headline too
	named := named(l.text) != nowhere
	if c.like && cr.ofNumbers[l.outlook()] && (c.page || l.after >= m.profile.gap+2 || c.points >= 2) {
		return true // Chapter Three and a Half
	}
	if (c.ends || !short(l.text)) && !named {
		return cr.numbered == 0 && c.points >= 3 && c.page && cr.looks[l.outlook()] >= 3
	}
	if cr.from < k && k < cr.to && !named && !cr.ofNumbers[l.outlook()] && cr.looks[l.outlook()] < 2 {
		return false
	}
	// without a number it takes a new page, or a look of its own that comes
	// again: the less it stands out, the more often
	apart := c.page || l.after >= m.profile.gap+2 || l.outlook() != m.profile.outlook(l.Style) || c.shouts // else a word of the story
	named = named && apart && (c.points > 3 || c.points == 3 && !c.shouts)                                 // more than capitals
	return c.points >= 3 && c.page && c.at > 0 || named ||
		cr.numbered == 0 && c.alone && cr.alone >= 3 ||
		cr.numbered == 0 && c.points >= 4 && cr.looks[l.outlook()] >= 2 ||
		cr.numbered == 0 && cr.paged < 2 && c.points >= 3 && cr.looks[l.outlook()] >= 3
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
	if next < 0 || !short(ls[next].text) || ls[next].kind != textLine && ls[next].kind != headLine {
		return false
	}
	t := ls[next].text
	if beginsSpeech(t) || isSentence(t) && m.shorts[fold(t)] <= next {
		return false
	}
	return !endsSentence(t) && !m.leadsToText(ls, i)
}

// leadsToText tells a line below which text comes within three lines and no
// other opening: chapters that are numbered anew in each part stand again too.
func (m *Manuscript) leadsToText(ls []*line, i int) bool {
	for range 3 {
		i = following(ls, i+1)
		if i < 0 || ls[i].page || ls[i].kind == contentsLine {
			return false
		}
		if t := ls[i].text; !short(t) || beginsSpeech(t) || isSentence(t) && m.shorts[fold(t)] <= i {
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
