package wordproc

import (
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"bodkin/markup"
)

// lineKind is what a paragraph is at first sight.
type lineKind uint8

const (
	textLine     lineKind = iota
	emptyLine             // nothing in it
	ornamentLine          // a scene break
	contentsLine          // of a generated table of contents
	headLine              // a heading by its style or outline level
	titleLine             // by its style
	subtitleLine          // by its style
	tableLine             // a table
	pictureLine           // pictures alone
)

// line is a paragraph of the document as the recogniser sees it.
type line struct {
	*Paragraph
	kind   lineKind
	text   string // without spaces around it
	why    string // it is no plain text
	byLook bool   // it is a heading, and only its look says so
	used   bool   // it has its place
	after  int    // the empty paragraphs before it
	page   bool   // it begins a page, or one of those does
	scene  bool   // it is the head of a scene
	stanza bool   // it is a line of verse that stands at the left, as the text does
	inset  bool   // it is one of several short lines that were typed in deeper than the text
	sided  bool   // it is one of several short lines that stand at the left and at the right
	was    *line  // before its look made a heading of it
}

// signs of scene breaks: those that package markup knows, and a few more.
const ornaments = "#~•·*⁂§❦❧☙✦○◦–—_=+-※✻✽✶★☆◆◇♦●■□▪†‡∗⸻|<>^/\\"

// isOrnament tells a line of nothing but signs.
func isOrnament(s string) bool {
	n, dashes := 0, 0
	for _, r := range s {
		switch {
		case unicode.IsSpace(r), r == '\u00AD', r == '.':
		case isSymbol(r), strings.ContainsRune(ornaments, r), unicode.In(r, unicode.So, unicode.Sm, unicode.Mn):
			n++
			if r == '—' || r == '–' || r == '-' {
				dashes++
			}
		default:
			return false
		}
	}
	if n == 1 && dashes == 1 && len(s) <= 3 {
		return strings.TrimSpace(s) == s
	}
	return 0 < n && n <= 80
}

// lettered are ornaments that are made of letters; only a centred one counts.
var lettered = regexp.MustCompile(`^([oO0]{1,9}|[xX]{1,9})$`)

// saysBreak tells the words that some type for an ornament.
var saysBreak = regexp.MustCompile(`(?i)^[\[(<*#~ –—-]+((scene|section|line)[ -]?)?break[\])>*#~ –—-]+$`)

// roman are the ornaments that number a chapter.
var roman = set("X,XX,XXX")

// isLettered tells an ornament such as oOo, or x x x.
func isLettered(s string) bool {
	return !roman[s] && lettered.MatchString(strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) || strings.ContainsRune(ornaments, r) {
			return -1
		}
		return r
	}, s))
}

// isBlank tells the spaces that people type as indents.
func isBlank(r rune) bool {
	return unicode.IsSpace(r) || r == '\u200B' || r == '\u2060' || r == '\u00AD'
}

// beginsSpeech tells a text that begins with a quotation mark, or with a dash as
// speech does in many languages, and not with an apostrophe.
func beginsSpeech(s string) bool {
	r, n := utf8.DecodeRuneInString(s)
	switch r {
	case '"', '“', '”', '„', '«', '»', '‹', '›', '‚', '—', '–', '-':
		return true
	case '\'', '‘':
		word, _ := elision(s[n:])
		return word == ""
	}
	return false
}

// lines looks at every paragraph once.
func (m *Manuscript) lines() []*line {
	d := m.doc
	all := make([]*line, 0, len(d.Paragraphs))
	usedPictures := map[string]int{}
	for _, p := range d.Paragraphs {
		for _, r := range p.Runs {
			if r.Picture > 0 {
				usedPictures[d.Pictures[r.Picture-1].Name]++
			}
		}
	}
	var paragraphs []*Paragraph
	for _, p := range d.Paragraphs {
		paragraphs = append(paragraphs, m.unforced(p)...)
	}
	for _, p := range paragraphs {
		l := &line{Paragraph: p, text: strings.TrimFunc(p.Text(), isBlank)}
		notes, pics, small := 0, 0, 0
		for _, r := range p.Runs {
			if r.Note > 0 {
				notes++
			}
			if r.Picture > 0 {
				pics++
				if pic := d.Pictures[r.Picture-1]; pic.Name != "" && usedPictures[pic.Name] >= 3 {
					small++
				}
			}
		}
		switch {
		case p.Table != nil:
			l.kind = tableLine
		case p.Contents:
			l.kind = contentsLine
		case pics > 0 && l.text == "" && notes == 0:
			l.kind = pictureLine
			if small == pics && !p.Box {
				l.kind, l.why = ornamentLine, "the same picture stands alone three times or more"
			}
		case l.text == "" && notes == 0 && !isNumberOnly(p):
			l.kind = emptyLine
			if p.Ruled {
				l.kind, l.why = ornamentLine, "a line is drawn here"
			}
		case isContentsTitle(p.Style) && p.Style != "":
			l.kind = contentsLine
		case notes == 0 && isOrnament(l.text):
			l.kind, l.why = ornamentLine, "a line of nothing but signs"
		case notes == 0 && p.Align == Centre && strings.Trim(l.text, ". \u00A0…") == "":
			l.kind, l.why = ornamentLine, "a line of nothing but points, centred"
		case notes == 0 && saysBreak.MatchString(l.text):
			l.kind, l.why = ornamentLine, "it says so"
		case notes == 0 && isLettered(l.text) && (p.Align == Centre || strings.Contains(l.text, " ") || strings.ContainsAny(l.text, "o") && strings.ContainsAny(l.text, "O0") && len(l.text) > 2):
			l.kind, l.why = ornamentLine, "an ornament made of letters"
		case p.isHead() && p.Raw == "" && utf8.RuneCountInString(l.text) > longestHead && isSentence(l.text):
			l.Paragraph = withLevel(p, 0)
			m.guess(false, p, "paragraph", "its style is that of a heading, but it is long and ends as a sentence does")
		case p.isHead():
			l.kind = headLine
			if p.Level == 0 {
				l.Paragraph = withLevel(p, headingStyle(p.Style))
			}
			l.why = "outline level " + itoa(p.Level)
			if p.Style != "" {
				l.why = "its style is " + quote(p.Style)
			}
			if p.Raw != "" {
				l.why = "it is a heading of level " + itoa(p.Level)
			}
		case isTitleStyle(p.Style):
			l.kind, l.why = titleLine, "its style is "+quote(p.Style)
		case isSubtitleStyle(p.Style):
			l.kind, l.why = subtitleLine, "its style is "+quote(p.Style)
		case isChapterStyle(p.Style) && short(l.text):
			l.kind, l.why = headLine, "its style is "+quote(p.Style)
			l.Paragraph = withLevel(p, 1)
		}
		all = append(all, l)
	}
	titles := 0
	for _, l := range all {
		if l.kind == titleLine {
			titles++
		}
	}
	if titles >= 3 { // many write their chapters' titles in this style
		for _, l := range all {
			if l.kind == titleLine {
				l.kind = headLine
				l.Paragraph = withLevel(l.Paragraph, 1)
			}
		}
	}
	gap, page := 0, false
	for _, l := range all {
		page = page || l.PageBefore
		l.after, l.page = gap, page
		if l.kind == emptyLine {
			gap++
		} else {
			gap, page = 0, false
		}
	}
	return all
}

// longLine is how many letters a line has that was not ended for its shape.
const longLine = 60

// unforced divides a paragraph of several long lines, which somebody ended by
// hand where paragraphs end; any other comes back as it is.
func (m *Manuscript) unforced(p *Paragraph) []*Paragraph {
	if p.Raw != "" || p.Table != nil || p.isHead() || verseStyle.MatchString(p.Style) || !slices.ContainsFunc(p.Runs, func(r Run) bool { return r.Break }) {
		return []*Paragraph{p}
	}
	all := p.atBreaks()
	long, full, longest := 0, 0, 0
	first, last := p, p // of the lines
	for _, q := range all {
		text := strings.TrimSpace(q.Text())
		if n := utf8.RuneCountInString(text); n > 0 {
			if full++; full == 1 {
				first = q
			}
			last = q
			if n > longLine {
				long++
			}
			longest = max(longest, n)
		}
	}
	head := strings.TrimSpace(first.Text())
	s, ok := says(m.Language, head)
	switch {
	case full >= 2 && ok && s.worded && short(head) && (longest > 80 || longest > 40 && isSentence(last.Text()) && first.all(Strong) != last.all(Strong)):
		m.guess(false, p, "paragraphs", "a heading and the text below it were one paragraph")
	case full >= 3 && 2*long > full:
		m.guess(false, p, "paragraphs", "lines that are long were ended by hand: each is a paragraph")
	default:
		return []*Paragraph{p}
	}
	return all
}

// atBreaks divides a paragraph where lines were ended by hand.
func (p *Paragraph) atBreaks() []*Paragraph {
	first := *p
	first.Runs = nil
	all := []*Paragraph{&first}
	for _, r := range p.Runs {
		if r.Break {
			q := *p
			q.Runs, q.PageBefore = nil, false
			all = append(all, &q)
			continue
		}
		q := all[len(all)-1]
		q.Runs = append(q.Runs, r)
	}
	return all
}

// isHead tells a paragraph that is a heading by its style or its outline level.
func (p *Paragraph) isHead() bool { return p.Level > 0 || headingStyle(p.Style) > 0 }

// isNumberOnly tells a heading that has no more than the number that a list gives
// it.
func isNumberOnly(p *Paragraph) bool {
	return p.isHead() && p.Item != nil && p.Item.Ordered && p.Item.Label != ""
}

// withLevel is a paragraph with another outline level. The document's own
// stays as it is.
func withLevel(p *Paragraph, level int) *Paragraph {
	q := *p
	q.Level = level
	return &q
}

var headingStyles = regexp.MustCompile(`^(?:heading|überschrift|titre|título|titolo|kop|rubrik|nagłówek)[ _]?([1-9])$`)

// headingStyle is the level of a heading by the name of its style; 0 for none.
func headingStyle(style string) int {
	if m := headingStyles.FindStringSubmatch(style); m != nil {
		return int(m[1][0] - '0')
	}
	return 0
}

func isContentsTitle(style string) bool {
	return style == "toc heading" || style == "contents heading"
}

func isTitleStyle(s string) bool { return titleStyles[s] }

func isSubtitleStyle(s string) bool {
	return s == "subtitle" || s == "untertitel" || s == "sous-titre" || s == "subtítulo" || s == "sottotitolo"
}

var titleStyles = set("title,book title,titel,titre,título,titolo")

func isChapterStyle(s string) bool {
	if strings.Contains(s, "text") || strings.Contains(s, "body") || strings.Contains(s, "first") {
		return false
	}
	for _, w := range []string{"chapter", "kapitel", "chapitre", "capítulo", "capitolo", "hoofdstuk", "rozdział"} {
		if strings.HasPrefix(s, w) {
			return true
		}
	}
	return false
}

// short tells a line that can be a heading.
func short(s string) bool { return utf8.RuneCountInString(s) <= 80 }

// countLetters is the number of letters in a text.
func countLetters(s string) int {
	n := 0
	for _, r := range s {
		if markup.IsLetter(r) {
			n++
		}
	}
	return n
}
