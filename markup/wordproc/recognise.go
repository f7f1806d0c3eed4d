package wordproc

import (
	"regexp"
	"strings"
	"unicode/utf8"

	"bodkin/markup"
)

// Recognise finds the book in a document: its title, its chapters, what stands
// before and behind them, and what the paragraphs are. The document is not
// changed.
func (d *Document) Recognise() *Manuscript {
	m := &Manuscript{Title: d.Title, Author: d.Author, Language: d.Language, doc: d}
	if m.Language == "" {
		m.Language = "en-US"
	}
	ls := m.lines()
	m.profile = profileOf(ls)
	open := m.openings(ls)
	m.dropContents(ls, &open)
	first := m.front(ls, open)
	m.chapters(ls, open, first)
	if m.Title == "" {
		m.Title = titleFromName(stem(d.Name))
	}
	m.gather()
	m.name()
	return m
}

// Reasons why words are in no chapter.
const (
	leftContents = "contents and indexes left out: the program makes its own"
	leftTitle    = "set on the title page, from book.toml"
	leftLabel    = "a heading that names what the page is"
)

// dropContents takes tables of contents out: those that were generated, and
// those that were typed, below a heading that says so.
func (m *Manuscript) dropContents(ls []*line, open *[]opening) {
	headings := map[string]bool{}
	for _, o := range *open {
		headings[fold(o.headText())] = true
		for _, l := range o.head {
			headings[fold(l.text)] = true
		}
	}
	var kept []opening
	for i, o := range *open {
		end := len(ls)
		if i+1 < len(*open) {
			end = (*open)[i+1].at
		}
		if !contentsNames[fold(o.headText())] {
			kept = append(kept, o)
			continue
		}
		for k := o.at; k < end; k++ {
			l := ls[k]
			if l.kind == empty || l.kind == contents || k < o.end || m.isListed(ls, k) || headings[listedKey(l.text)] || headings[fold(l.text)] || endsInPage(l.text) {
				m.drop(l.Paragraph, leftContents)
				l.used = true
			}
		}
	}
	*open = kept
	for i := 0; i < len(ls); i++ {
		l := ls[i]
		switch {
		case l.used:
		case l.kind == contents:
			m.drop(l.Paragraph, leftContents)
			l.used = true
		case (l.kind == text || l.kind == head) && contentsNames[fold(l.text)]:
			// typed, without a heading's style
			next := following(ls, i+1)
			if next < 0 || ls[next].kind != contents && !m.isListed(ls, next) && !headings[listedKey(ls[next].text)] {
				continue
			}
			m.drop(l.Paragraph, leftContents)
			l.used = true
			for k := next; k < len(ls) && !ls[k].used; k++ {
				t := ls[k]
				if t.kind == empty {
					continue
				}
				if t.kind != contents && !m.isListed(ls, k) && !(headings[listedKey(t.text)] && listedKey(t.text) != fold(t.text)) {
					break
				}
				m.drop(t.Paragraph, leftContents)
				t.used = true
			}
		}
	}
}

var pageAtEnd = regexp.MustCompile(`[.…\s]{2,}\s*([0-9]+|[ivxlc]+)$`)

func endsInPage(s string) bool { return pageAtEnd.MatchString(s) }

func (o *opening) headText() string {
	var s []string
	for _, l := range o.head {
		if t := strings.Join(strings.Fields(l.shown()), " "); t != "" {
			s = append(s, t)
		}
	}
	for i := range s[:max(len(s)-1, 0)] {
		if !strings.ContainsAny(s[i][len(s[i])-1:], ".:!?-") {
			s[i] += ":"
		}
	}
	return strings.Join(s, " ")
}

// where tells where an opening belongs by its name.
func (o *opening) where() place { return named(o.head[0].text) }

// chapters makes pieces of the openings and the text below them. The lines
// before the first have been dealt with, up to first.
func (m *Manuscript) chapters(ls []*line, open []opening, first int) {
	body0, body1 := len(open), -1 // the first and last opening of the body
	for i := range open {
		w := open[i].where()
		if w == nowhere || w == inBody {
			body0, body1 = min(body0, i), max(body1, i)
		}
	}
	if from, to := first, startOf(open, 0, len(ls)); from < to && m.hasText(ls[from:to]) {
		p := &Piece{Matter: markup.Body}
		p.blocks = m.blocks(ls[from:to], p)
		m.Pieces = append(m.Pieces, p)
	}
	for i := range open {
		o := &open[i]
		to := startOf(open, i+1, len(ls))
		p := &Piece{Matter: markup.Body, Title: o.headText()}
		w := o.where()
		switch {
		case w == inFront && i < body0, w == either && i < body0:
			p.Matter = markup.Front
		case w == inBack && i > body1, w == either && i > body1, w == inFront && i > body1:
			p.Matter = markup.Back
		}
		if o.part {
			p.Role = Part
		}
		for k, l := range o.head {
			p.head = append(p.head, l.Paragraph)
			if k > 0 {
				p.joins = append(p.joins, ": ")
			}
		}
		what := "chapter"
		switch {
		case o.part:
			what = "part"
		case p.Matter == markup.Front:
			what = "piece of the front"
		case p.Matter == markup.Back:
			what = "piece of the back"
		}
		m.Guesses = append(m.Guesses, Guess{o.head[0].N, what, shorten(p.Title), o.why, o.sure})
		p.blocks = m.blocks(ls[o.end:to], p)
		m.Pieces = append(m.Pieces, p)
	}
}

func startOf(open []opening, i, end int) int {
	if i < len(open) {
		return open[i].at
	}
	return end
}

func (m *Manuscript) hasText(ls []*line) bool {
	for _, l := range ls {
		if !l.used && l.kind != empty && l.kind != ornament {
			return true
		}
	}
	return false
}

// front deals with what stands before the first opening, page by page, and
// returns the line behind what it has taken.
func (m *Manuscript) front(ls []*line, open []opening) int {
	end := startOf(open, 0, len(ls))
	if len(open) > 0 {
		// a page that a heading names belongs here as well
		for i := range open {
			o := &open[i]
			if role := frontNames[fold(o.headText())]; role != 0 && i == 0 {
				m.namedPage(ls, o, startOf(open, i+1, len(ls)), Role(role))
			}
		}
	}
	pages := m.pages(ls, end)
	titled := false
	for i, pg := range pages {
		page := ls[pg[0]:pg[1]]
		if !m.hasText(page) {
			continue
		}
		switch {
		case isCopyright(page):
			m.frontPiece(page, Copyright, "it speaks of copyright, rights or an ISBN")
		case !titled && m.isTitlePage(page, i == 0 && len(open) > 0):
			m.titlePage(page)
			titled = true
		case isDedication(page):
			m.frontPiece(page, Dedication, "a page of a few lines that begins like one")
		case isEpigraph(page):
			m.frontPiece(page, Epigraph, "a page of a few lines with a source below them")
		case len(open) == 0 || wordsIn(page) > 120 || i+1 == len(pages) && wordsIn(page) > 60:
			return pg[0]
		default:
			m.frontPiece(page, Aside, "a page before the first chapter that is none of title, copyright, dedication, epigraph")
		}
	}
	return end
}

// frontNames are the headings that only say what the page is.
var frontNames = map[string]int{
	"dedication": int(Dedication), "widmung": int(Dedication), "dédicace": int(Dedication), "dedicatoria": int(Dedication), "dedica": int(Dedication), "dedicatória": int(Dedication),
	"epigraph": int(Epigraph), "motto": int(Epigraph), "épigraphe": int(Epigraph), "epígrafe": int(Epigraph), "epigrafe": int(Epigraph),
	"copyright": int(Copyright), "copyright page": int(Copyright), "impressum": int(Copyright),
}

func (m *Manuscript) namedPage(ls []*line, o *opening, to int, role Role) {
	for _, l := range o.head {
		m.drop(l.Paragraph, leftLabel)
	}
	m.frontPiece(ls[o.end:to], role, "its heading says so")
}

// pages divides the lines up to end where a page begins, or where the document
// has no page breaks, at three empty lines.
func (m *Manuscript) pages(ls []*line, end int) [][2]int {
	var all [][2]int
	from := 0
	for i := 1; i < end; i++ {
		if ls[i].PageBefore || ls[i].kind != empty && ls[i].after >= 3+m.profile.gap && !broken(ls, i) {
			all = append(all, [2]int{from, i})
			from = i
		}
	}
	if from < end {
		all = append(all, [2]int{from, end})
	}
	return all
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

var aboutRights = regexp.MustCompile(`(?i)©|\(c\)\s*\d{4}|\bcopyright\b|all rights reserved|\bISBN\b|alle rechte vorbehalten|tous droits réservés|todos los derechos|tutti i diritti|todos os direitos|alle rechten voorbehouden`)

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

var dedicates = regexp.MustCompile(`(?i)^[“"‘'*_]*(for|to|in (loving )?memory|dedicated|in memoriam|für|meiner|meinem|pour|à |para|a mi|per|a mia|voor|till|dla)\b`)

func isDedication(page []*line) bool {
	n := 0
	for _, l := range page {
		if l.used || l.kind == empty {
			continue
		}
		if n == 0 && !dedicates.MatchString(l.text) || l.kind != text {
			return false
		}
		n++
	}
	return 0 < n && n <= 6 && wordsIn(page) <= 60
}

var source = regexp.MustCompile(`^\s*(—|–|--|-\s)\s*\pL`)

func isEpigraph(page []*line) bool {
	n, by := 0, false
	for _, l := range page {
		if l.used || l.kind == empty {
			continue
		}
		if l.kind != text {
			return false
		}
		lines := strings.Split(l.text, "\n")
		by = source.MatchString(lines[len(lines)-1]) && (n > 0 || len(lines) > 1)
		n++
	}
	return by && wordsIn(page) <= 150
}

var byline = regexp.MustCompile(`(?i)^(?:written\s+)?(?:by|von|par|por|di|door|av|autor:?|author:?)\s+(\pL.{1,58})$`)

// isTitlePage tells a page with the title of the book: by a style, by the
// core properties, or by a line "by NAME" below a short one.
func (m *Manuscript) isTitlePage(page []*line, first bool) bool {
	if wordsIn(page) > 80 {
		return false
	}
	lines := 0
	for _, l := range page {
		if l.used || l.kind == empty {
			continue
		}
		lines++
		switch {
		case l.kind == bookTitle, m.Title != "" && fold(l.text) == fold(m.Title), byline.MatchString(l.text) && lines > 1:
			return true
		}
	}
	if !first || lines == 0 {
		return false
	}
	l := page[0]
	for _, l = range page {
		if !l.used && l.kind != empty {
			break
		}
	}
	return l.kind == text && !endsSentence(l.text) && short(l.text) && !dedicates.MatchString(l.text) &&
		(l.Align == Centre && m.profile.align != Centre || m.profile.size > 0 && l.Size()*10 >= m.profile.size*12)
}

// titlePage takes title, subtitle and author from a page. What else is there
// goes into a file that is no part of the book.
func (m *Manuscript) titlePage(page []*line) {
	var lines []*line
	for _, l := range page {
		if !l.used && l.kind != empty && l.kind != ornament && l.kind != pictures && l.kind != grid {
			lines = append(lines, l)
		}
	}
	title := -1
	for i, l := range lines {
		if l.kind == bookTitle || m.Title != "" && fold(l.text) == fold(m.Title) {
			title = i
			break
		}
	}
	if title < 0 {
		for i, l := range lines { // the largest, else the first that is centred, else the first
			if title < 0 || l.Size() > lines[title].Size() || l.Size() == lines[title].Size() && l.Align == Centre && lines[title].Align != Centre {
				if !byline.MatchString(l.text) {
					title = i
				}
			}
		}
	}
	take := func(l *line, what, reason string) {
		m.drop(l.Paragraph, leftTitle)
		m.guess(false, l.Paragraph, what, reason)
		l.used = true
	}
	if title >= 0 {
		l := lines[title]
		why := l.why
		if why == "" {
			why = "it stands out on the first page"
		}
		if m.Title == "" || l.kind == bookTitle && fold(m.Title) != fold(l.text) {
			m.Title = strings.Join(strings.Fields(l.text), " ")
		} else if fold(m.Title) == fold(l.text) {
			m.Title = strings.Join(strings.Fields(l.text), " ")
			why = "the document's properties give this title"
		}
		take(l, "title", why)
	}
	for i, l := range lines {
		if l.used || title >= 0 && i < title {
			continue
		}
		if k := byline.FindStringSubmatch(l.text); k != nil {
			if m.Author == "" || fold(m.Author) != fold(k[1]) {
				m.Author = strings.TrimSpace(k[1])
			}
			take(l, "author", "it says by whom")
		} else if m.Author != "" && fold(l.text) == fold(m.Author) {
			m.Author = strings.Join(strings.Fields(l.text), " ")
			take(l, "author", "the document's properties give this name")
		} else if l.kind == subtitle || i == title+1 && subtitleLike.MatchString(l.text) {
			if m.Subtitle == "" {
				m.Subtitle = strings.Join(strings.Fields(l.text), " ")
				take(l, "subtitle", "it follows the title")
			}
		} else if fold(l.text) == "by" || fold(l.text) == "von" || fold(l.text) == "par" {
			m.drop(l.Paragraph, leftTitle)
			l.used = true
			if i+1 < len(lines) && short(lines[i+1].text) && !lines[i+1].used {
				m.Author = strings.Join(strings.Fields(lines[i+1].text), " ")
				take(lines[i+1], "author", "it stands below the word "+quote(l.text))
			}
		}
	}
	if m.hasText(page) {
		m.frontPiece(page, Aside, "more on the title page than title and author")
	}
}

var subtitleLike = regexp.MustCompile(`(?i)^(a|an|ein|eine|un|une|una) (\pL+ ){0,3}(novel|novella|mystery|romance|story|tale|thriller|memoir|roman|novela|romanzo|erzählung|récit)$`)

// frontPiece makes a piece of what is not used of a page.
func (m *Manuscript) frontPiece(page []*line, role Role, reason string) {
	p := &Piece{Matter: markup.Front, Role: role}
	var rest []*line
	for _, l := range page {
		if !l.used && l.kind != contents {
			rest = append(rest, l)
		}
	}
	p.blocks = m.blocks(rest, p)
	if len(p.blocks) == 0 {
		return
	}
	what := map[Role]string{Copyright: "copyright page", Dedication: "dedication", Epigraph: "epigraph", Aside: "no part of the book"}[role]
	for _, l := range rest {
		if l.text != "" {
			m.guess(false, l.Paragraph, what, reason)
			break
		}
	}
	m.Pieces = append(m.Pieces, p)
}

// titleFromName makes "the-tide_clerk" into "The Tide Clerk".
func titleFromName(name string) string {
	f := strings.FieldsFunc(name, func(r rune) bool { return r == '-' || r == '_' || r == ' ' })
	t := strings.Join(f, " ")
	if t != strings.ToLower(t) {
		return t
	}
	for i, w := range f {
		r, n := utf8.DecodeRuneInString(w)
		f[i] = strings.ToUpper(string(r)) + w[n:]
	}
	return strings.Join(f, " ")
}
