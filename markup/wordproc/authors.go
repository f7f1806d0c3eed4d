package wordproc

import (
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

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
			bare := strings.Trim(spaced(noName.ReplaceAllString(s, " ")), " .,")
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

// particles stand in names with a small letter.
var particles = set("de,du,des,da,dos,di,del,della,la,le,van,von,der,den,ter,zu,af,av,y,i")

// isName tells a line that can be the name of a person: two to five words with
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
		case !unicode.IsUpper(r), lesser[strings.Trim(low, ".")] && len(strings.Trim(low, ".")) > 1, articles[low] && i == 0:
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

// nameOn takes the name of the author from a title page where no words say whose
// it is, and tells whether the page has it at all.
func (m *Manuscript) nameOn(lines []*line, title int) bool {
	if m.Author != "" && slices.ContainsFunc(lines, func(l *line) bool { return l.used && strings.Contains(fold(l.text), fold(m.Author)) }) {
		return true
	}
	sign := func(l *line, reason string) bool {
		m.Author = spaced(l.text)
		m.take(l, "author", reason)
		return true
	}
	for i, l := range lines {
		if i > title && !l.used && isName(l.text) {
			return sign(l, "it stands below the title and looks like a name")
		}
	}
	if left := unusedOf(lines); title >= 0 && len(left) == 1 && isLowerName(left[0].text) && m.Title == strings.ToLower(m.Title) {
		return sign(left[0], "it is the only other line of the page, in small letters as the title is")
	}
	if i := title - 1; i >= 0 && !lines[i].used && isName(lines[i].text) && lines[i].Align == lines[title].Align && (i == 0 || lines[i].Align == Centre) {
		return sign(lines[i], "it stands above the title and looks like a name")
	}
	return false
}
