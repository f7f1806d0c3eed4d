package wordproc

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// alike makes headings of short lines that look as the line at first does, with
// which the text begins, and as the text does not, where there are no others and
// they come three times or more, each with text below it.
func (m *Manuscript) alike(ls []*line, looks map[outlook]int, first int) bool {
	if first < 0 || ls[first].kind != textLine || aboutRights.MatchString(ls[first].text) {
		return false
	}
	look := ls[first].outlook()
	var all []*line
	for i := first; i < len(ls); i++ {
		l := ls[i]
		if l.kind != textLine || l.scene || l.outlook() != look || !short(l.text) {
			continue
		}
		next := following(ls, i+1)
		if endsSentence(l.text) || isSentence(l.text) || strings.Contains(l.text, "\n") || l.Raw != "" ||
			next < 0 || ls[next].kind != textLine || ls[next].outlook() == look {
			return false
		}
		all = append(all, l)
	}
	if len(all) < 3 || looks[look] < 3 {
		return false
	}
	for _, l := range all {
		m.openBy(l, "the text begins with a line of this look, which comes "+itoa(len(all))+" times")
	}
	return true
}

// alonePages makes headings of short lines alone on their pages, each before a page
// of text, that look the same and come three times or more.
func (m *Manuscript) alonePages(ls []*line) bool {
	groups := map[outlook][]*line{}
	for i, l := range ls {
		next := following(ls, i+1)
		if l.kind == textLine && l.page && next >= 0 && ls[next].page && isText(ls[next]) && short(l.text) && !endsSentence(l.text) && !isSentence(l.text) &&
			!aboutRights.MatchString(l.text) && l.Raw == "" {
			groups[l.outlook()] = append(groups[l.outlook()], l)
		}
	}
	found := false
	for _, all := range groups {
		if len(all) < 3 {
			continue
		}
		found = true
		for _, l := range all {
			m.openBy(l, "it stands alone on its page, as "+itoa(len(all))+" lines of this look do")
		}
	}
	return found
}

// beginsHead tells a line that is short and begins as headings do.
func beginsHead(s string) bool {
	r, _ := utf8.DecodeRuneInString(s)
	return utf8.RuneCountInString(s) <= longLine && (unicode.IsUpper(r) || unicode.IsTitle(r) || unicode.IsDigit(r) || unicode.In(r, unicode.Pi) || strings.ContainsRune("#§№", r))
}

// fewest is how many paragraphs of text stand between two openings that nothing
// but their shortness tells.
const fewest = 4

// shortest makes headings of short lines that are no sentence and no speech,
// where nothing else tells chapters: three or more, each alone among text, and
// the first of them before all of it.
func (m *Manuscript) shortest(ls []*line) bool {
	isHead := func(l *line) bool {
		return l.kind == textLine && l.Raw == "" && l.Item == nil && !l.Box && beginsHead(l.text) &&
			!endsSentence(l.text) && !isSentence(l.text) && !strings.Contains(l.text, "\n") && l.Align != End && !hasMarks(l.Paragraph) && m.isTitled(l.text) && !aboutRights.MatchString(l.text)
	}
	isProse := func(l *line) bool {
		return l.kind == textLine && !isHead(l) && (endsSentence(l.text) || isSentence(l.text))
	}
	var all []*line
	begin := behindRights(ls)
	text, since := 0, 0 // paragraphs of text, in all and behind the last heading
	previous := true    // the line before is text, or nothing is yet
	for i, l := range ls {
		if l.kind == emptyLine || i < begin {
			continue
		}
		if next := following(ls, i+1); isHead(l) && next >= 0 && isProse(ls[next]) && (previous || text == 0) {
			if text > 0 && len(all) == 0 || len(all) > 0 && since < fewest {
				return false // they are something else
			}
			all, since = append(all, l), 0
		}
		if previous = isProse(l); previous {
			text, since = text+1, since+1
		}
	}
	if len(all) < 3 {
		return false
	}
	for _, l := range all {
		m.openBy(l, "one of "+itoa(len(all))+" short lines that are no sentence, alone among the text; nothing else tells chapters")
	}
	return true
}

// behindRights is the line behind a page about rights, where the document begins
// with one.
func behindRights(ls []*line) int {
	const reach = 80 // lines
	begin, about := 0, false
	for i, l := range ls[:min(reach, len(ls))] {
		if about && (l.page || l.kind != emptyLine && l.after >= 3) {
			begin, about = i, false
		}
		about = about || l.kind == textLine && aboutRights.MatchString(l.text)
	}
	return begin
}

// isTitled tells a line that has the capitals of a title: in English of all its
// words but the lesser ones, elsewhere of the first.
func (m *Manuscript) isTitled(s string) bool {
	if primary(m.Language) != "en" {
		return true
	}
	for i, w := range strings.Fields(s) {
		if r, _ := utf8.DecodeRuneInString(w); unicode.IsLower(r) && (i == 0 || !lesser[strings.Trim(w, ".,:;!?")]) {
			return false
		}
	}
	return true
}

// firstLine makes a heading of the first line where it looks as others do that
// begin a page: at the beginning nothing breaks the page.
func (m *Manuscript) firstLine(ls []*line, accepted map[outlook]bool) {
	i := following(ls, 0)
	if i < 0 || ls[i].kind != textLine || !short(ls[i].text) || endsSentence(ls[i].text) || !accepted[ls[i].outlook()] || ls[i].isTitleAndName() || aboutRights.MatchString(ls[i].text) {
		return
	}
	next := following(ls, i+1)
	if next >= 0 && !ls[next].page {
		if s, ok := says(m.Language, ls[next].text); ok && s.title == "" || m.mayHeadScene(ls[next]) && when.MatchString(ls[next].text) {
			next = following(ls, next+1) // the head of a scene
		}
	}
	if next < 0 || ls[next].kind != textLine || ls[next].page {
		return
	}
	names := false
	for n := 0; short(ls[next].text) && !endsSentence(ls[next].text); n++ {
		l := ls[next]
		names = names || saysWho(l.text)
		next = following(ls, next+1)
		if l.Align != m.profile.align || l.outlook() == ls[i].outlook() || next < 0 || ls[next].page || n == 2 || n > 0 && names {
			return // a title page
		}
	}
	m.openBy(ls[i], "the document begins with it, and it looks like other openings")
}

// outlook is how a line looks from afar.
type outlook struct {
	align  Align
	size   int
	strong bool
	style  string
}

// outlook is that of the text, in a style.
func (pr *profile) outlook(style string) outlook {
	return outlook{pr.align, pr.size, pr.look&Strong != 0, style}
}

func (l *line) outlook() outlook { return outlook{l.Align, l.Size(), l.all(Strong), l.Style} }

// alikes counts the short lines of each look that is not that of the text.
func alikes(ls []*line, pr *profile) map[outlook]int {
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
