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

// byWords are the words before the name of an author.
const byWords = `by|von|par|por|di|door|av`

var byline = regexp.MustCompile(`(?i)^(?:written\s+)?(?:` + byWords + `|autor:?|author:?)\s+(\pL.{1,58})$`)

// byWhom is the name in a line that says by whom a book is, "" where it says
// something else: "By the Grey Water" is a title.
func byWhom(s string) string {
	k := byline.FindStringSubmatch(s)
	if k == nil {
		return ""
	}
	all := spaced(k[1])
	if r, _ := utf8.DecodeRuneInString(s); unicode.IsLower(r) {
		return all
	}
	for name := range strings.SplitSeq(andWords.ReplaceAllString(all, "&"), "&") {
		bare, _, _ := strings.Cut(name, ",") // of a degree
		r, _ := utf8.DecodeRuneInString(bare)
		first := strings.ToLower(strings.Fields(bare + " -")[0])
		alone := !strings.Contains(bare, " ") && unicode.IsUpper(r)
		if !isName(bare) && !(isLowerName(bare) && !articles[first] && !lesser[first]) && !alone {
			return ""
		}
	}
	return all
}

// saysWho tells a line with the name of an author, alone or in a byline.
func saysWho(s string) bool { return isName(s) || byWhom(s) != "" }

// andWords are the words between two names.
var andWords = regexp.MustCompile(`(?i)\s*(?:&|,?\s(?:and|und|et|y|e|en|och|i)\s)\s*`)

// bareBy are the words that stand alone above the name of an author.
var bareBy = set("by,written by,a novel by,von,par,por,di,door,av")

// isTitlePage tells a page with the title of the book: by a style, by the core
// properties, or by a line "by NAME" below a short one, in one line or two. The
// first page of all can also be one of a few short lines, none a sentence.
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
		if s, ok := says(m.Language, m.inOneLine(l.text)); ok && s.worded {
			return false // a part or a chapter
		}
	}
	for i, l := range lines {
		switch {
		case l.kind == titleLine, m.Title != "" && fold(l.text) == fold(m.Title), byWhom(l.text) != "" && i > 0,
			bareBy[fold(l.text)] && i > 0 && i+1 < len(lines) && short(lines[i+1].text):
			return true
		}
	}
	if !first || len(lines) == 0 {
		return false
	}
	l := lines[0]
	counted := slices.ContainsFunc(lines, func(l *line) bool { return wordCount.MatchString(l.text) })
	return l.kind == textLine && !endsSentence(l.text) && short(l.text) && !m.dedicates(l.text) &&
		(m.profile.centred(l) || l.Align == Centre && counted || m.profile.larger(l, 12) || isBare(lines))
}

// unfolded is a page on which each line of a paragraph of several is one of its
// own; the title in one paragraph stays together, where no name ends it.
func unfolded(page []*line) []*line {
	var all []*line
	for _, l := range page {
		last := l.text[strings.LastIndexByte(l.text, '\n')+1:]
		if l.used || len(last) == len(l.text) || l.kind != textLine && (l.kind != titleLine || !saysWho(last)) {
			all = append(all, l)
			continue
		}
		for k, p := range l.atBreaks() {
			q := *l
			q.Paragraph, q.text = p, strings.TrimFunc(p.Text(), isBlank)
			if k > 0 {
				q.kind, q.after, q.page = textLine, 0, false
			}
			if q.text != "" || hasMarks(p) {
				all = append(all, &q)
			}
		}
	}
	return all
}

// isTitleAndName tells a paragraph of a title and the name of the author.
func (l *line) isTitleAndName() bool {
	_, by, ok := strings.Cut(l.text, "\n")
	by = strings.TrimSpace(by)
	return ok && saysWho(by)
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
	by := slices.IndexFunc(lines, func(l *line) bool {
		return bareBy[fold(l.text)] || byWhom(l.text) != "" || ofAndBy(l.text) != nil
	})
	if by < 1 {
		return -1
	}
	author := ""
	if name := byWhom(lines[by].text); name != "" {
		author = name
	} else if k := ofAndBy(lines[by].text); k != nil {
		author = k[2]
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
	s = spaced(s)
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
	title := m.titleAt(lines)
	if title >= 0 {
		m.takeTitle(lines[title])
	}
	m.belowTitle(lines, title)
	m.signed = m.signed || m.nameOn(lines, title)
	if m.hasText(page) {
		m.frontPiece(page, Aside, "more on the title page than title and author")
	} else {
		m.dropOrnaments(page)
	}
}

// titleAt is the line of a title page that is the title: the one with the style
// or the words of a title, the one above a line that says by whom, the one below
// a name; else the largest, else the first that is centred, else the first. -1
// is none.
func (m *Manuscript) titleAt(lines []*line) int {
	for i, l := range lines {
		if l.kind == titleLine || m.Title != "" && fold(l.text) == fold(m.Title) {
			return i
		}
	}
	if i := aboveBy(lines); i >= 0 {
		return i
	}
	if isBelowName(lines) {
		return 1
	}
	if len(lines) > 1 && byline.MatchString(lines[0].text) && isName(lines[1].text) {
		return 0 // By Moonlight
	}
	title := -1
	for i, l := range lines {
		if byWhom(l.text) == "" && (title < 0 || l.Size() > lines[title].Size() || l.Size() == lines[title].Size() && l.Align == Centre && lines[title].Align != Centre) {
			title = i
		}
	}
	return title
}

// isBelowName tells whether the first line is the name of the author, and the
// second, which looks like it, the title: it is in capitals, or has a subtitle
// below it, or is all that there is and no name.
func isBelowName(lines []*line) bool {
	if len(lines) < 2 || !isName(lines[0].text) || lines[0].Align != lines[1].Align || lines[0].Size() != lines[1].Size() {
		return false
	}
	title := lines[1].text
	if len(lines) == 2 {
		return !isName(title) && !noSubtitle.MatchString(title) && !subtitleLike.MatchString(title) && lines[0].outlook() == lines[1].outlook()
	}
	return !isUpper(lines[0].text) && (isUpper(title) || subtitleLike.MatchString(lines[2].text) && !isName(title))
}

// take takes a line off the page: book.toml has it.
func (m *Manuscript) take(l *line, what, reason string) {
	m.drop(l.Paragraph, leftTitle)
	m.guess(false, l.Paragraph, what, reason)
	l.used = true
}

func (m *Manuscript) takeTitle(l *line) {
	why := l.why
	if why == "" {
		why = "it stands out on the first page"
	}
	switch {
	case fold(m.Title) == fold(l.text):
		if isUpper(m.Title) {
			m.Title = spaced(l.text)
		}
		why = "the document's properties give this title"
	case m.Title != "":
		why += "; the document's properties have another, " + quote(shorten(m.Title))
		fallthrough
	default:
		m.Title = bareTitle(l.text)
	}
	if plain := m.outOfCapitals(m.Title); plain != m.Title {
		m.Title, why = plain, why+"; it was typed in capitals, so see to its small letters"
	}
	m.take(l, "title", why)
}

// belowTitle takes subtitle and author, where the lines say what they are.
func (m *Manuscript) belowTitle(lines []*line, title int) {
	for i, l := range lines {
		if l.used || title >= 0 && i < title {
			continue
		}
		var next *line
		if i+1 < len(lines) && !lines[i+1].used {
			next = lines[i+1]
		}
		name := byWhom(l.text)
		switch {
		case name != "":
			if fold(m.Author) != fold(name) {
				m.Author = name
			}
			m.take(l, "author", "it says by whom")
		case m.Author != "" && fold(l.text) == fold(m.Author):
			m.Author = spaced(l.text)
			m.take(l, "author", "the document's properties give this name")
		case l.kind == subtitleLine && m.Author == "" && isName(l.text) && !subtitleLike.MatchString(l.text) && i == len(lines)-1:
			m.Author = spaced(l.text)
			m.take(l, "author", "it looks like a name, and none stands below it")
		case l.kind == subtitleLine, i == title+1 && isSubtitle(l.text, lines[i+1:]):
			if m.Subtitle != "" {
				continue
			}
			m.Subtitle = spaced(l.text)
			m.take(l, "subtitle", "it follows the title")
			if k := endsInBy.FindStringSubmatch(m.Subtitle); k != nil && next != nil && isName(next.text) {
				m.Subtitle, m.Author = k[1], spaced(next.text)
				m.take(next, "author", "it stands below the word \"by\"")
			}
		case ofAndBy(l.text) != nil:
			k := ofAndBy(l.text)
			m.Subtitle, m.Author = k[1], k[2]
			m.take(l, "subtitle and author", "it says what the book is, and by whom")
		case bareBy[fold(l.text)]:
			m.drop(l.Paragraph, leftTitle)
			l.used = true
			if next != nil && short(next.text) {
				m.Author = spaced(next.text)
				m.take(next, "author", "it stands below the word "+quote(l.text))
			}
		}
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
		case number && form == numeral.Capitals && len(bare) > 1, !strings.ContainsAny(bare, "aeiouy") && !addresses[bare], initials.MatchString(low):
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

var (
	initials = regexp.MustCompile(`^[^\pL]*\pL(\.\pL)+\.?[^\pL]*$`)
	poetic   = set("o'er,o’er,o'clock,o’clock")
	ofFamily = regexp.MustCompile(`^[^\pL]*([od]['’]|mc)\pL`)
)

// capitalised gives a word a capital, and each part behind a hyphen, and what
// stands behind O’, D’ and Mc in the names of families.
func capitalised(word string) string {
	begins, family := true, -1
	if k := ofFamily.FindStringSubmatchIndex(word); k != nil && !poetic[word] {
		family = k[3]
	}
	var b strings.Builder
	for i, r := range word {
		was := begins || i == family
		begins = begins && !markup.IsLetter(r) || r == '-' || r == '‐'
		if was {
			r = unicode.ToTitle(r)
		}
		b.WriteRune(r)
	}
	return b.String()
}

var bothInOne = regexp.MustCompile(`(?i)^(.+?),? (?:` + byWords + `) (.+)$`)

// ofAndBy divides a line such as "A novel by Ines Marrow".
func ofAndBy(s string) []string {
	k := bothInOne.FindStringSubmatch(spaced(s))
	if k == nil || !subtitleLike.MatchString(k[1]) || !isName(k[2]) {
		return nil
	}
	return k
}

// endsInBy is a subtitle that leads to the author's name.
var endsInBy = regexp.MustCompile(`(?i)^(.+?),? (?:` + byWords + `)$`)

var subtitleLike = regexp.MustCompile(`(?i)^((a|an|ein|eine|un|une|una|um|uma|een|en) )?(\pL+ ){0,3}(novel|novella|mystery|romance|story|tale|thriller|memoir|roman|novela|romanzo|romance|erzählung|récit|powieść)$`)

// noSubtitle are words and signs that stand on a title page and are no part of
// the title.
var noSubtitle = regexp.MustCompile(`(?i)[@0-9]|\b(words|draft|chapter|manuscript|wörter|mots|palabras|parole)\b`)

// isSubtitle tells a line below a title that says what the book is: by its
// words, or because the name of the author is all that follows it.
func isSubtitle(s string, below []*line) bool {
	if subtitleLike.MatchString(s) {
		return true
	}
	return short(s) && !isName(s) && !noSubtitle.MatchString(s) && !bareBy[fold(s)] && byWhom(s) == "" && !endsSentence(s) &&
		len(below) > 0 && len(below) <= 2 && (saysWho(below[0].text) || bareBy[fold(below[0].text)])
}
