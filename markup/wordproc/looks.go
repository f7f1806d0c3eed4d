package wordproc

import "strings"

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
