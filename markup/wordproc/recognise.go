package wordproc

import (
	"regexp"
	"strings"
	"unicode/utf8"

	"bodkin/markup"
)

// Recognise finds the book in a document: its title, its chapters, what stands
// before and behind them, and what the paragraphs are. The document is not
// changed. One with more chapters than a book has makes a Manuscript without
// pieces, which [Manuscript.Save] refuses.
func (d *Document) Recognise() *Manuscript {
	m := &Manuscript{Title: d.Title, Author: d.Author, Language: d.Language, doc: d}
	if m.Language == "" {
		m.Language = markup.DefaultLanguage
	}
	if d.heard != "" {
		m.Guesses = append(m.Guesses, Guess{What: "language", Text: m.Language, Reason: d.heard})
	}
	if placeholders[fold(m.Author)] {
		m.Author = ""
	}
	ls := m.lines()
	m.profile = profileOf(ls)
	for _, l := range ls {
		if l.kind == ornamentLine {
			m.ornaments++
		}
	}
	m.typedIn(ls)
	m.mailHeads(ls)
	m.onBothSides(ls)
	m.stanzas(ls)
	open := foldBack(noStory(ls, m.untitled(ls, m.openings(ls))))
	if m.tooMany = len(open); m.tooMany > maxFiles {
		return m // Save says so
	}
	m.dropContents(ls, &open)
	open = m.namedPages(ls, open)
	m.headLevel = m.sceneLevel(ls, open)
	first := m.front(ls, open)
	m.authorship(ls, startOf(open, 0, len(ls)))
	m.chapters(ls, open, first)
	m.misnumbered(open)
	if m.Title == "" {
		m.Title = titleFromName(stem(d.Name))
		m.Guesses = append(m.Guesses, Guess{What: "title", Text: m.Title, Reason: "no page gives one, so it is the name of the file: write the right one in book.toml"})
	}
	m.unsettled()
	m.gather()
	m.write()
	m.name()
	return m
}

// placeholders are what programs write where nobody has given a name.
var placeholders = set("user,users,admin,administrator,owner,author,unknown,unknown author,default,default user,pc,home,windows user,autor,auteur,benutzer,python-docx,un-named")

// Reasons why words are in no chapter.
const (
	leftContents = "contents and indexes left out: the program makes its own"
	leftTitle    = "set on the title page, from book.toml"
	leftLabel    = "a heading that names what the page is"
	leftNote     = "notes to what is not set from the chapters"
	leftOrnament = "an ornament that parts nothing"
)

// dropContents takes tables of contents out: those that were generated, and
// those that were typed, below a heading that says so.
func (m *Manuscript) dropContents(ls []*line, open *[]opening) {
	headings := map[string]bool{}
	for _, o := range *open {
		headings[fold(o.text)] = true
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
		if !contentsNames[fold(o.text)] {
			kept = append(kept, o)
			continue
		}
		for k := o.at; k < end; k++ {
			l := ls[k]
			if l.kind == emptyLine || l.kind == contentsLine || k < o.end || m.isListed(ls, k) || headings[listedKey(l.text)] || headings[fold(l.text)] || endsInPage(l.text) {
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
		case l.kind == contentsLine:
			m.drop(l.Paragraph, leftContents)
			l.used = true
		case (l.kind == textLine || l.kind == headLine) && contentsNames[fold(l.text)]:
			// typed, without a heading's style
			next := following(ls, i+1)
			if next < 0 || ls[next].kind != contentsLine && !m.isListed(ls, next) && !headings[listedKey(ls[next].text)] {
				continue
			}
			m.drop(l.Paragraph, leftContents)
			l.used = true
			for k := next; k < len(ls) && !ls[k].used; k++ {
				t := ls[k]
				if t.kind == emptyLine {
					continue
				}
				if t.kind != contentsLine && !m.isListed(ls, k) && !endsInPage(t.text) && !(headings[listedKey(t.text)] && listedKey(t.text) != fold(t.text)) {
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

// headText is the text of a heading of one line or several.
func (m *Manuscript) headText(head []*line) string {
	var s []string
	for _, l := range head {
		for t := range strings.SplitSeq(l.shown(), "\n") {
			if t = spaced(t); t != "" {
				s = append(s, t)
			}
		}
	}
	return joined(m.Language, s...)
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
	back := backFrom(open)
	if from, to := first, startOf(open, 0, len(ls)); from < to {
		if p := (&Piece{Matter: markup.Body}); m.hasText(ls[from:to]) {
			p.blocks = m.blocks(ls[from:to], p)
			m.Pieces = append(m.Pieces, p)
			if len(open) > 0 {
				l := ls[from:to][following(ls[from:to], 0)]
				m.guess(false, l.Paragraph, "text before the first chapter", "no page of the front that is known, and no heading above it")
			}
		} else {
			m.dropOrnaments(ls[from:to])
		}
	}
	for i := range open {
		o := &open[i]
		to := startOf(open, i+1, len(ls))
		p := &Piece{Matter: markup.Body, Title: o.text}
		w := o.where()
		switch {
		case i < body0 && w != nowhere && w != inBody:
			p.Matter = markup.Front
		case i >= back, w == inBack && i > body1, w == either && i > body1, w == inFront && i > body1:
			p.Matter = markup.Back
		}
		if o.part {
			p.Role = Part
		}
		for _, l := range o.head {
			h := l.Paragraph
			if l.byLook && h.Raw != "" { // typed as strong text: a heading is so of itself
				plain := *h
				plain.Raw = strings.Trim(h.Raw, "*_ ")
				h = &plain
			}
			p.head = append(p.head, h)
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
		m.Guesses = append(m.Guesses, Guess{N: o.head[0].N, What: what, Text: shorten(p.Title), Reason: o.why, Sure: o.sure})
		end := to
		if i == min(back-1, body1) { // the last of the story
			end = m.behindTheEnd(ls, o.end, to)
		}
		p.blocks = m.blocks(ls[o.end:end], p)
		m.Pieces = append(m.Pieces, p)
		if end < to {
			more := &Piece{Matter: markup.Back}
			m.guess(false, ls[following(ls, end)].Paragraph, "piece of the back", "a page behind the end of the story, without a heading")
			more.blocks = m.blocks(ls[end:to], more)
			m.Pieces = append(m.Pieces, more)
		}
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
		if !l.used && l.kind != emptyLine && l.kind != ornamentLine {
			return true
		}
	}
	return false
}

// dropOrnaments leaves out the ornaments of a page with nothing else on it.
func (m *Manuscript) dropOrnaments(page []*line) {
	for _, l := range page {
		if !l.used && l.kind == ornamentLine {
			m.drop(l.Paragraph, leftOrnament)
			l.used = true
		}
	}
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
