package wordproc

import (
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"bodkin/markup"
	"bodkin/markup/numeral"
)

// front deals with what stands before the first opening, page by page, and
// returns the line behind what it has taken.
func (m *Manuscript) front(ls []*line, open []opening) int {
	end := startOf(open, 0, len(ls))
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
		case (len(open) == 0 || wordsIn(page) > 120 || holdsProse(page)) && !isFrontAhead(ls, pages[i+1:]):
			return pg[0]
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
		role, ok := frontNames[fold(o.headText())]
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

// pages divides the lines up to end where a page begins, or where the document
// has no page breaks, at three empty lines.
func (m *Manuscript) pages(ls []*line, end int) [][2]int {
	var all [][2]int
	from := 0
	for i := 1; i < end; i++ {
		if ls[i].PageBefore || ls[i].kind != emptyLine && ls[i].after >= 3+m.profile.gap && !broken(ls, i) {
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

// isFrontAhead tells whether one of the pages belongs to the front for sure: the
// book has not begun before it.
func isFrontAhead(ls []*line, pages [][2]int) bool {
	for _, pg := range pages {
		if page := ls[pg[0]:pg[1]]; isCopyright(page) || isDedication(page) {
			return true
		}
	}
	return false
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

var dedicates = regexp.MustCompile(`(?i)^[“"‘'*_]*(for|to|in (loving )?memory|dedicated|in memoriam|für|meiner|meinem|pour|à |para|a mi|per|a mia|voor|till|dla)\b`)

func isDedication(page []*line) bool {
	n := 0
	for _, l := range page {
		if l.used || l.kind == emptyLine {
			continue
		}
		if n == 0 && !dedicates.MatchString(l.text) || l.kind != textLine {
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

var byline = regexp.MustCompile(`(?i)^(?:written\s+)?(?:by|von|par|por|di|door|av|autor:?|author:?)\s+(\pL.{1,58})$`)

// bareBy are the words that stand alone above the name of an author.
var bareBy = set("by,written by,a novel by,von,par,por,di,door,av")

// isTitlePage tells a page with the title of the book: by a style, by the
// core properties, or by a line "by NAME" below a short one, in one line or
// two.
func (m *Manuscript) isTitlePage(page []*line, first bool) bool {
	if wordsIn(page) > 80 {
		return false
	}
	var lines []*line
	for _, l := range page {
		if !l.used && l.kind != emptyLine {
			lines = append(lines, l)
		}
	}
	for i, l := range lines {
		switch {
		case l.kind == titleLine, m.Title != "" && fold(l.text) == fold(m.Title), byline.MatchString(l.text) && i > 0,
			bareBy[fold(l.text)] && i > 0 && i+1 < len(lines) && short(lines[i+1].text):
			return true
		}
	}
	if !first || len(lines) == 0 {
		return false
	}
	l := lines[0]
	return l.kind == textLine && !endsSentence(l.text) && short(l.text) && !dedicates.MatchString(l.text) &&
		(l.Align == Centre && m.profile.align != Centre || m.profile.size > 0 && l.Size()*10 >= m.profile.size*12)
}

// titlePage takes title, subtitle and author from a page. What else is there
// goes into a file that is no part of the book.
func (m *Manuscript) titlePage(page []*line) {
	var lines []*line
	for _, l := range page {
		if !l.used && l.kind != emptyLine && l.kind != ornamentLine && l.kind != pictureLine && l.kind != tableLine {
			lines = append(lines, l)
		}
	}
	title := -1
	for i, l := range lines {
		if l.kind == titleLine || m.Title != "" && fold(l.text) == fold(m.Title) {
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
		if m.Title == "" || l.kind == titleLine && fold(m.Title) != fold(l.text) {
			m.Title = strings.Join(strings.Fields(l.text), " ")
		} else if fold(m.Title) == fold(l.text) {
			m.Title = strings.Join(strings.Fields(l.text), " ")
			why = "the document's properties give this title"
		}
		if plain := m.outOfCapitals(m.Title); plain != m.Title {
			m.Title, why = plain, why+"; it was typed in capitals, so see to its small letters"
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
		} else if l.kind == subtitleLine || i == title+1 && subtitleLike.MatchString(l.text) {
			if m.Subtitle == "" {
				m.Subtitle = strings.Join(strings.Fields(l.text), " ")
				take(l, "subtitle", "it follows the title")
			}
		} else if bareBy[fold(l.text)] {
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

// lesser are the words that have small letters in an English title, but for
// its first and last (common practice).
var lesser = set("a,an,the,and,but,or,nor,of,in,on,at,to,by,for,from,with,as,into")

// outOfCapitals gives a title that was typed in capitals its small letters:
// title page, running heads and catalogues have capitals of their own. Only
// English titles say by their place which letters are small.
func (m *Manuscript) outOfCapitals(title string) string {
	if primary(m.Language) != "en" || !isUpper(title) || countLetters(title) < 4 {
		return title
	}
	words := strings.Fields(title)
	for i, w := range words {
		low := strings.ToLower(w)
		bare := strings.TrimFunc(low, func(r rune) bool { return !markup.IsLetter(r) })
		_, form, number := numeral.Read("", strings.ToUpper(bare))
		opens := i == 0 || strings.HasSuffix(words[i-1], ":")
		switch {
		case number && form == numeral.Capitals && len(bare) > 1, !strings.ContainsAny(bare, "aeiouy") && !addresses[bare]:
			// II, and what is spoken letter by letter
		case lesser[bare] && !opens && i+1 < len(words):
			words[i] = low
		default:
			words[i] = capitalised(low)
		}
	}
	return strings.Join(words, " ")
}

// addresses are the words without a vowel that are spoken as words.
var addresses = set("mr,mrs,ms,dr,st,jr,sr")

// capitalised gives a word, and each part behind a hyphen, a capital.
func capitalised(word string) string {
	begins := true
	return strings.Map(func(r rune) rune {
		was := begins
		begins = begins && !markup.IsLetter(r) || r == '-' || r == '‐'
		if was {
			return unicode.ToTitle(r)
		}
		return r
	}, word)
}

var subtitleLike = regexp.MustCompile(`(?i)^(a|an|ein|eine|un|une|una) (\pL+ ){0,3}(novel|novella|mystery|romance|story|tale|thriller|memoir|roman|novela|romanzo|erzählung|récit)$`)

// frontPiece makes a piece of what is not used of a page.
func (m *Manuscript) frontPiece(page []*line, role Role, reason string) {
	p := &Piece{Matter: markup.Front, Role: role}
	var rest []*line
	for _, l := range page {
		if !l.used && l.kind != contentsLine {
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
