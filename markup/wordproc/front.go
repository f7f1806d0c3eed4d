package wordproc

import (
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"bodkin/markup"
)

// front deals with what stands before the first opening, page by page, and
// returns the line behind what it has taken.
func (m *Manuscript) front(ls []*line, open []opening) int {
	end := startOf(open, 0, len(ls))
	pages := m.pages(ls, end)
	sure, rights := m.lastSure(ls, pages)
	titled, begun := false, false
	for i, pg := range pages {
		page := ls[pg[0]:pg[1]]
		lines := page
		if !titled {
			lines = unfolded(page)
		}
		if !m.hasText(page) {
			m.dropOrnaments(page)
			continue
		}
		first := !begun
		begun = true
		switch {
		case isCopyright(page):
			m.frontPiece(page, Copyright, "it speaks of copyright, rights or an ISBN")
		case !titled && m.isTitlePage(lines, first && len(open) > 0):
			m.titlePage(lines)
			titled = true
		case isEpigraph(page):
			m.frontPiece(page, Epigraph, "a page of a few lines with a source below them")
		case m.isDedication(page):
			m.frontPiece(page, Dedication, "a page of a few lines that begins like one")
		case m.isQuoted(page):
			m.frontPiece(page, Epigraph, "a page of a few lines out of the text's own, the last of them no sentence")
		case m.isNamedPage(page):
			m.namedPage(page)
		case len(open) > 0 && m.standsOut(page) && holdsProse(page) && wordsIn(page) <= 250:
			m.frontPiece(page, Chapter, "a page before the first chapter, all of it in the middle or in italics")
		case len(open) == 0, (wordsIn(page) > 120 || holdsProse(page)) && i >= sure, wordsIn(page) > 250 && i >= rights:
			return pg[0]
		case wordsIn(page) > 120 || holdsProse(page):
			m.frontPiece(page, Chapter, "a page of text, with a page of the front behind it")
		default:
			m.frontPiece(page, Aside, "a page before the first chapter that is none of title, copyright, dedication, epigraph")
		}
	}
	return end
}

// frontNames are the headings that only say what the page is.
var frontNames = map[string]Role{
	"dedication": Dedication, "widmung": Dedication, "dédicace": Dedication, "dedicatoria": Dedication, "dedica": Dedication, "dedicatória": Dedication,
	"epigraph": Epigraph, "motto": Epigraph, "épigraphe": Epigraph, "epígrafe": Epigraph, "epigrafe": Epigraph,
	"copyright": Copyright, "copyright page": Copyright, "impressum": Copyright,
}

// namedPages makes pieces of the pages in front whose headings only say what
// they are, and returns the other openings.
func (m *Manuscript) namedPages(ls []*line, open []opening) []opening {
	for i := 0; i < len(open); {
		o := &open[i]
		role, ok := frontNames[fold(o.text)]
		if !ok {
			if w := o.where(); w != inFront && w != either {
				break
			}
			i++
			continue
		}
		for _, l := range o.head {
			m.drop(l.Paragraph, leftLabel)
		}
		page := ls[o.end:startOf(open, i+1, len(ls))]
		m.frontPiece(page, role, "its heading says so")
		for _, l := range page {
			l.used = true
		}
		open = slices.Delete(open, i, i+1)
	}
	return open
}

// pages divides the lines up to end where a page begins, or where there are no
// page breaks, at three empty lines.
func (m *Manuscript) pages(ls []*line, end int) [][2]int {
	var all [][2]int
	from := 0
	breaks := slices.ContainsFunc(ls[min(1, end):end], func(l *line) bool { return l.PageBefore })
	for i := 1; i < end; i++ {
		if ls[i].PageBefore || !breaks && ls[i].kind != emptyLine && ls[i].after >= 3+m.profile.gap {
			all = append(all, [2]int{from, i})
			from = i
		}
	}
	if from < end {
		all = append(all, [2]int{from, end})
	}
	if len(all) > 0 {
		if k := m.belowByline(ls, all[0]); k > 0 {
			all = append([][2]int{{all[0][0], k}, {k, all[0][1]}}, all[1:]...)
		}
	}
	for !breaks && len(all) > 1 && wordsIn(ls[all[0][0]:all[0][1]]) <= 30 && m.isNameOnly(ls[all[1][0]:all[1][1]]) {
		all[1][0] = all[0][0] // a title page with much room in it
		all = all[1:]
	}
	return all
}

// belowByline returns the line with which the text begins below a title and the
// name of the author, where these stand on its page; 0 where they do not.
func (m *Manuscript) belowByline(ls []*line, page [2]int) int {
	titled, signed := false, false
	for i := page[0]; i < page[1]; i++ {
		l := ls[i]
		switch {
		case l.kind == emptyLine:
		case signed && l.after > m.profile.gap:
			return i
		case l.kind != textLine && l.kind != titleLine, l.used, !short(l.text), endsSentence(l.text):
			return 0
		case byWhom(l.text) != "" && titled:
			signed = true
		case signed, titled && bareBy[fold(l.text)]:
		default:
			titled = true
		}
	}
	return 0
}

// isNameOnly tells a few lines that say by whom a book is.
func (m *Manuscript) isNameOnly(page []*line) bool {
	named := false
	for _, l := range page {
		switch {
		case l.kind == emptyLine:
		case l.kind != textLine || l.used || m.dedicates(l.text) && byWhom(l.text) == "":
			return false
		default:
			named = named || saysWho(l.text) || bareBy[fold(l.text)]
		}
	}
	return named && wordsIn(page) <= 12
}

func wordsIn(page []*line) int {
	n := 0
	for _, l := range page {
		if !l.used {
			n += len(strings.Fields(l.text))
		}
	}
	return n
}

var aboutRights = regexp.MustCompile(`(?i)©|\(c\)\s*\d{4}|^copyright\b|\bcopyright\b.{0,60}\d{4}|all rights reserved|\bISBN\b|\bthis is a work of fiction\b|^\d+\. (auflage|ausgabe)\b|alle rechte vorbehalten|tous droits réservés|todos los derechos|tutti i diritti|todos os direitos|alle rechten voorbehouden`)

// lastSure is the last of the pages that belongs to the front by its look, and the
// last that is about rights; -1 where none does. What stands before it belongs
// there too.
func (m *Manuscript) lastSure(ls []*line, pages [][2]int) (sure, rights int) {
	sure, rights = -1, -1
	for i, pg := range pages {
		page := ls[pg[0]:pg[1]]
		if isCopyright(page) {
			sure, rights = i, i
		} else if m.isDedication(page) {
			sure = i
		}
	}
	return sure, rights
}

// holdsProse tells whether there is a sentence of running text.
func holdsProse(page []*line) bool {
	for _, l := range page {
		if !l.used && l.kind == textLine && utf8.RuneCountInString(l.text) > 80 && endsSentence(l.text) {
			return true
		}
	}
	return false
}

func isCopyright(page []*line) bool {
	if wordsIn(page) > 600 {
		return false
	}
	for _, l := range page {
		if !l.used && aboutRights.MatchString(l.text) {
			return true
		}
	}
	return false
}

var dedicates = regexp.MustCompile(`(?i)^[“"‘'*_]*(for|to|in (loving )?memory|dedicated|in memoriam|für|meiner|meinem|pour|à|para|a mi|per|a mia|voor|aan|till|tillägnad|tillägnas|dla|mojej|mojemu|ai|alla|agli|ao|aos|a mis|a la memoria)(\PL|$)`)

// dedicates tells a line that begins as a dedication does.
func (m *Manuscript) dedicates(s string) bool {
	if dedicates.MatchString(s) {
		return true
	}
	switch primary(m.Language) {
	case "it", "es", "pt":
		return toSomebody.MatchString(s)
	}
	return false
}

var toSomebody = regexp.MustCompile(`^A \pL`)

func (m *Manuscript) isDedication(page []*line) bool {
	n := 0
	for _, l := range page {
		if l.used || l.kind == emptyLine {
			continue
		}
		if n == 0 && !m.dedicates(l.text) || l.kind != textLine {
			return false
		}
		n++
	}
	return 0 < n && n <= 6 && wordsIn(page) <= 60
}

func isEpigraph(page []*line) bool {
	n, by := 0, false
	for _, l := range page {
		if l.used || l.kind == emptyLine {
			continue
		}
		if l.kind != textLine {
			return false
		}
		lines := strings.Split(l.text, "\n")
		by = isSource(lines[len(lines)-1]) && (n > 0 || len(lines) > 1)
		n++
	}
	return by && wordsIn(page) <= 150
}

// isQuoted tells an epigraph whose source has no dash before it: what was said,
// and whose it is, all of it out of the text's own lines.
func (m *Manuscript) isQuoted(page []*line) bool {
	var lines []string
	quoted := false // the line before begins as what was said does
	for _, l := range page {
		if l.used || l.kind == emptyLine {
			continue
		}
		apart := l.Align != m.profile.align || l.all(Emphasis) || beginsSpeech(l.text)
		if l.kind != textLine || !apart && !quoted {
			return false
		}
		quoted = beginsSpeech(l.text)
		lines = append(lines, strings.Split(l.text, "\n")...)
	}
	n := len(lines)
	if n < 2 || n > 12 || wordsIn(page) > 80 {
		return false
	}
	source := strings.TrimSpace(lines[n-1])
	r, _ := utf8.DecodeRuneInString(source)
	return short(source) && unicode.IsUpper(r) && !isSentence(source) && !endsSentence(source) && isSentence(lines[n-2])
}

// isNamedPage tells a page that begins with the name of a piece in front.
func (m *Manuscript) isNamedPage(page []*line) bool {
	i := following(page, 0)
	return i >= 0 && !page[i].used && page[i].kind == textLine && (named(page[i].text) == either || named(page[i].text) == inFront) && m.hasText(page[i+1:])
}

// namedPage makes a piece of the front of such a page.
func (m *Manuscript) namedPage(page []*line) {
	l := page[following(page, 0)]
	l.used = true
	p := &Piece{Matter: markup.Front, Title: l.text, head: []*Paragraph{l.Paragraph}}
	p.blocks = m.blocks(page, p)
	m.guess(false, l.Paragraph, "piece of the front", "a page before the first chapter that begins with such a name")
	m.Pieces = append(m.Pieces, p)
}

// frontPiece makes a piece of what is not used of a page; the pictures of a
// copyright page, which has no room for them, go aside.
func (m *Manuscript) frontPiece(page []*line, role Role, reason string) {
	rest := slices.DeleteFunc(unusedOf(page), func(l *line) bool { return l.kind == contentsLine })
	if role != Copyright {
		m.addFront(rest, role, reason)
		return
	}
	var text, pictures []*line
	for _, l := range rest {
		if !hasPicture(l.Paragraph) {
			text = append(text, l)
			continue
		}
		of, picture := l.apart()
		if of != nil {
			text = append(text, of)
		}
		pictures = append(pictures, picture)
	}
	m.addFront(text, role, reason)
	m.addFront(pictures, Aside, "a picture on the copyright page, which has no room for one")
}

// addFront adds a piece of lines, where anything comes of them.
func (m *Manuscript) addFront(ls []*line, role Role, reason string) {
	p := &Piece{Matter: markup.Front, Role: role}
	p.blocks = m.blocks(ls, p)
	if len(p.blocks) == 0 {
		return
	}
	what := map[Role]string{Copyright: "copyright page", Dedication: "dedication", Epigraph: "epigraph", Aside: "no part of the book", Chapter: "piece of the front"}[role]
	at := max(0, slices.IndexFunc(ls, func(l *line) bool { return l.text != "" }))
	m.guess(false, ls[at].Paragraph, what, reason)
	m.Pieces = append(m.Pieces, p)
}

// apart divides a line into its text, nil where it has none, and its pictures.
func (l *line) apart() (text, pictures *line) {
	of := func(picture bool) *line {
		p, q := *l.Paragraph, *l
		p.Runs = nil
		for _, r := range l.Runs {
			if r.Picture > 0 == picture {
				p.Runs = append(p.Runs, r)
			}
		}
		q.Paragraph = &p
		return &q
	}
	pictures = of(true)
	pictures.kind, pictures.text = pictureLine, ""
	if l.kind == pictureLine {
		return nil, pictures
	}
	return of(false), pictures
}
