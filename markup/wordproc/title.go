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

var byline = regexp.MustCompile(`(?i)^(?:written\s+)?(?:by|von|par|por|di|door|av|autor:?|author:?)\s+(\pL.{1,58})$`)

// bareBy are the words that stand alone above the name of an author.
var bareBy = set("by,written by,a novel by,von,par,por,di,door,av")

// isTitlePage tells a page with the title of the book: by a style, by the
// core properties, or by a line "by NAME" below a short one, in one line or
// two.
func (m *Manuscript) isTitlePage(page []*line, first bool) bool {
	if wordsIn(page) > 80 || holdsProse(page) {
		return false
	}
	var lines []*line
	for _, l := range page {
		if !l.used && l.kind != emptyLine {
			lines = append(lines, l)
		}
	}
	for _, l := range lines {
		if s, ok := says(m.Language, inOneLine(l.text)); ok && s.worded {
			return false // a part or a chapter
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
	counted := slices.ContainsFunc(lines, func(l *line) bool { return wordCount.MatchString(l.text) })
	return l.kind == textLine && !endsSentence(l.text) && short(l.text) && !dedicates.MatchString(l.text) &&
		(l.Align == Centre && (m.profile.align != Centre || counted) || m.profile.size > 0 && l.Size()*10 >= m.profile.size*12 || isBare(lines))
}

// isBare tells a page of one to four short lines, none of them a sentence, that
// can be title and author.
func isBare(lines []*line) bool {
	for _, l := range lines {
		if l.kind != textLine || utf8.RuneCountInString(l.text) > longLine || isSentence(l.text) || endsSentence(l.text) || strings.Contains(l.text, "\n") || l.Align == End {
			return false
		}
	}
	return len(lines) <= 4
}

// aboveBy returns the title above a line that says by whom it is, where a first
// page has more than that: the largest line, or the first in capitals, or the
// first that is neither the name nor an address; -1 for none.
func aboveBy(lines []*line) int {
	by := slices.IndexFunc(lines, func(l *line) bool { return bareBy[fold(l.text)] || byline.MatchString(l.text) })
	if by < 1 {
		return -1
	}
	author := ""
	if k := byline.FindStringSubmatch(lines[by].text); k != nil {
		author = k[1]
	} else if by+1 < len(lines) {
		author = lines[by+1].text
	}
	best := -1
	for i, l := range lines[:by] {
		if noSubtitle.MatchString(l.text) || fold(l.text) == fold(author) {
			continue
		}
		if best < 0 || l.Size() > lines[best].Size() || l.Size() == lines[best].Size() && (isUpper(l.text) && !isUpper(lines[best].text)) {
			best = i
		}
	}
	return best
}

// wordCount is what a typescript says of its length on its first page.
var wordCount = regexp.MustCompile(`(?i)\d[\d., ]*(words|wörter|mots|palabras|parole|woorden)\b`)

// workingTitle is what authors write beside a title that is not settled.
var workingTitle = regexp.MustCompile(`(?i)^(?:working title|title|arbeitstitel|titel)\s*:\s*|\s*[(\[](?:working title|(?:\w+ )?(?:draft|version|fassung)(?: \w+)?)[)\]]$`)

// bareTitle is a title without what stands beside it.
func bareTitle(s string) string {
	s = strings.Join(strings.Fields(s), " ")
	if bare := workingTitle.ReplaceAllString(s, ""); bare != "" {
		return bare
	}
	return s
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
		title = aboveBy(lines)
	}
	if title < 0 && len(lines) > 2 && isName(lines[0].text) && !isUpper(lines[0].text) && lines[0].Align == lines[1].Align && lines[0].Size() == lines[1].Size() &&
		(isUpper(lines[1].text) || subtitleLike.MatchString(lines[2].text) && !isName(lines[1].text)) ||
		title < 0 && len(lines) == 2 && isName(lines[0].text) && !isName(lines[1].text) && !noSubtitle.MatchString(lines[1].text) && !subtitleLike.MatchString(lines[1].text) && lines[0].outlook() == lines[1].outlook() {
		title = 1 // below the name of its author
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
			m.Title = bareTitle(l.text)
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
		} else if l.kind == subtitleLine || i == title+1 && isSubtitle(l.text, lines[i+1:]) {
			if m.Subtitle == "" {
				m.Subtitle = strings.Join(strings.Fields(l.text), " ")
				take(l, "subtitle", "it follows the title")
			}
			if k := endsInBy.FindStringSubmatch(m.Subtitle); k != nil && i+1 < len(lines) && isName(lines[i+1].text) {
				m.Subtitle, m.Author = k[1], strings.Join(strings.Fields(lines[i+1].text), " ")
				take(lines[i+1], "author", "it stands below the word \"by\"")
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
	signed := slices.ContainsFunc(lines, func(l *line) bool { return l.used && m.Author != "" && strings.Contains(fold(l.text), fold(m.Author)) })
	for i, l := range lines {
		if !signed && i > title && !l.used && isName(l.text) {
			m.Author, signed = strings.Join(strings.Fields(l.text), " "), true
			take(l, "author", "it stands below the title and looks like a name")
		}
	}
	if left := unusedOf(lines); !signed && title >= 0 && len(left) == 1 && isLowerName(left[0].text) && m.Title == strings.ToLower(m.Title) {
		m.Author, signed = strings.Join(strings.Fields(left[0].text), " "), true
		take(left[0], "author", "it is the only other line of the page, in small letters as the title is")
	}
	if i := title - 1; !signed && i >= 0 && !lines[i].used && isName(lines[i].text) && lines[i].Align == lines[title].Align && (i == 0 || lines[i].Align == Centre) {
		m.Author, signed = strings.Join(strings.Fields(lines[i].text), " "), true
		take(lines[i], "author", "it stands above the title and looks like a name")
	}
	m.signed = m.signed || signed
	if m.hasText(page) {
		m.frontPiece(page, Aside, "more on the title page than title and author")
	} else {
		m.dropOrnaments(page)
	}
}

// whoseRights and whoseBooks are lines that name the author beside the title
// page.
var (
	whoseRights = regexp.MustCompile(`(?i)©|\(c\)|\bcopyright\b`)
	noName      = regexp.MustCompile(`(?i)©|\(c\)|\bcopyright\b|\ball rights reserved\b|\d{4}|\b(by|von|par|por)\b|[,.;:–-]+\s*$`)
	whoseBooks  = regexp.MustCompile(`(?i)^(?:also|(?:other )?books) by (.+)$`)
)

// authorElsewhere returns the name of the author that a line has of rights,
// before the first opening, or of other books; "" for none.
func authorElsewhere(ls []*line, front int) string {
	for i, l := range ls {
		if k := whoseBooks.FindStringSubmatch(l.text); k != nil && isName(k[1]) {
			return k[1]
		}
		if i >= front {
			continue
		}
		for s := range strings.SplitSeq(l.text, "\n") {
			if !whoseRights.MatchString(s) || !short(s) {
				continue
			}
			bare := strings.Trim(strings.Join(strings.Fields(noName.ReplaceAllString(s, " ")), " "), " .,")
			if isName(bare) {
				return bare
			}
		}
	}
	return ""
}

// authorship looks for the author where no title page names one.
func (m *Manuscript) authorship(ls []*line, front int) {
	if m.signed {
		return
	}
	switch name := authorElsewhere(ls, front); {
	case name != "" && fold(name) != fold(m.Author):
		m.Author = name
		m.Guesses = append(m.Guesses, Guess{What: "author", Text: name, Reason: "the copyright page, or the page of other books, names nobody else"})
	case name == "" && m.Author != "":
		m.Guesses = append(m.Guesses, Guess{What: "author", Text: m.Author, Reason: "only the document's properties say so: it can be whoever owns the machine"})
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

// endsInBy is a subtitle that leads to the author's name.
var endsInBy = regexp.MustCompile(`(?i)^(.+?),? (?:by|von|par|por|di|door|av)$`)

var (
	subtitleLike = regexp.MustCompile(`(?i)^((a|an|ein|eine|un|une|una|um|uma|een|en) )?(\pL+ ){0,3}(novel|novella|mystery|romance|story|tale|thriller|memoir|roman|novela|romanzo|romance|erzählung|récit|powieść)$`)
	noSubtitle   = regexp.MustCompile(`(?i)[@0-9]|\b(words|draft|chapter|manuscript|wörter|mots|palabras|parole)\b`)
)

// isSubtitle tells a line below a title that says what the book is: by its
// words, or because the name of the author is all that follows it.
func isSubtitle(s string, below []*line) bool {
	if subtitleLike.MatchString(s) {
		return true
	}
	return short(s) && !isName(s) && !noSubtitle.MatchString(s) && !bareBy[fold(s)] && !byline.MatchString(s) && !endsSentence(s) &&
		len(below) > 0 && len(below) <= 2 && (isName(below[0].text) || byline.MatchString(below[0].text) || bareBy[fold(below[0].text)])
}

// particles stand in names with a small letter.
var particles = set("de,du,des,da,dos,di,del,della,la,le,van,von,der,den,ter,zu,af,av,y,i")

// isName tells a line that can be the name of a person: two to four words with
// capitals and no word that titles have.
func isName(s string) bool {
	words := strings.Fields(s)
	if len(words) < 2 || len(words) > 5 || strings.ContainsAny(s, ",:;!?\"“”()0123456789@") {
		return false
	}
	capitals := 0
	for i, w := range words {
		low := strings.ToLower(w)
		r, _ := utf8.DecodeRuneInString(w)
		switch {
		case i > 0 && w == low && particles[w]:
		case !unicode.IsUpper(r), lesser[strings.Trim(low, ".")] && len(w) > 2, articles[low] && i == 0:
			return false
		default:
			capitals++
		}
	}
	return capitals >= 2
}

func unusedOf(lines []*line) []*line {
	return slices.DeleteFunc(slices.Clone(lines), func(l *line) bool { return l.used })
}

// isLowerName tells two to four words in small letters, as some write their
// names.
func isLowerName(s string) bool {
	n := len(strings.Fields(s))
	return 2 <= n && n <= 4 && s == strings.ToLower(s) && !noSubtitle.MatchString(s) && !endsSentence(s)
}

// articles begin titles, and no name.
var articles = set("the,a,an,der,die,das,ein,eine,le,la,les,un,une,el,los,las,una,il,lo,gli,o,os,as,um,uma,de,het,een,en,ett")
