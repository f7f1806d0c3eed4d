package wordproc

import (
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"bodkin/markup"
)

// maxSign is how long a line in the middle may be: a longer one is text that
// happens to be centred.
const maxSign = 60

// The lines between a heading and its text, at their most.
const (
	maxOpening        = 12
	maxOpeningLetters = 800
	maxTeaser         = 200
	maxAlone          = 4 // of those that have the text's own look
)

// opening takes what stands between the heading of a chapter and its text, and
// out of the text's own lines: a motto, or place and date. It returns how many
// lines it has taken.
func (c *composer) opening(ls []*line) int {
	if len(c.piece.head) == 0 || c.piece.Role > Part {
		return 0
	}
	var apart []*line
	letters, moved, end := 0, 0, 0
	for i, l := range ls {
		if len(c.letters) > 0 && i == c.letters[0].from || l.scene && !l.used {
			break
		}
		if l.used || l.kind == emptyLine {
			continue
		}
		if l.kind != textLine || l.Raw != "" || hasMarks(l.Paragraph) || !c.standsApart(l) {
			break
		}
		if l.Align != c.m.profile.align {
			moved++
		}
		apart = append(apart, l)
		letters += utf8.RuneCountInString(l.text)
		end = i + 1
	}
	if len(apart) == 0 {
		return c.linesAlone(ls)
	}
	next := following(ls, end)
	if len(apart) > maxOpening || letters > maxOpeningLetters || next < 0 && c.piece.Role != Part {
		return 0
	}
	last := apart[len(apart)-1]
	lines := strings.Split(last.text, "\n")
	by := lines[len(lines)-1]
	sourced := isSource(by) && (len(apart) > 1 || len(lines) > 1) && (moved > 0 || !isSentence(by)) // speech begins with a dash too
	switch {
	case !sourced && moved == 0 && letters <= maxTeaser && next >= 0 && ls[next].after > c.m.profile.gap && isSentence(last.text) && !beginsSpeech(last.text) && c.m.areSlanted(apart):
		// a rule, a dream, a warning
	case !sourced && moved == 0:
		return c.linesAlone(ls) // else its look alone says what it is
	case len(apart) == 1 && len(lines) == 1 && short(last.text) && !isSentence(last.text):
		c.placeAndDate(last, whyBelowHead)
		return end
	}
	reason := "it stands between the heading and the text, out of the text's own lines"
	if sourced {
		reason = whySourced
	}
	c.motto(apart, reason)
	return end
}

// linesAlone takes a few lines with which the text begins, where an empty line
// parts them from the next and that is not the rule: they are no scene. Short ones
// that are no sentence are place and date; where the last says whose words the
// others are, they are a motto.
func (c *composer) linesAlone(ls []*line) int {
	from, to := following(ls, 0), 0
	var lines []*line
	letters := 0
	for i := from; i >= 0 && to == 0; i = following(ls, i+1) {
		l := ls[i]
		switch {
		case len(lines) > 0 && l.after > c.m.profile.gap:
			to = i
			continue
		case l.kind != textLine || l.used || l.scene || l.stanza || l.inset || l.sided || l.page && i > from || l.Raw != "" || l.Item != nil || hasMarks(l.Paragraph), len(lines) == maxAlone,
			len(c.letters) > 0 && c.letters[0].from == i:
			return 0
		}
		lines = append(lines, l)
		letters += utf8.RuneCountInString(l.text)
	}
	if to == 0 || ls[to].kind != textLine || ls[to].used || short(ls[to].text) && !isSentence(ls[to].text) {
		return 0
	}
	if n := len(lines); n > 1 && isSource(lines[n-1].text) && !isSentence(lines[n-1].text) && letters <= maxOpeningLetters {
		c.motto(lines, whySourced)
		return to
	}
	for _, l := range lines {
		if utf8.RuneCountInString(l.text) > maxSign || strings.Contains(l.text, "\n") || isSentence(l.text) || endsSentence(l.text) || beginsSpeech(l.text) {
			return 0
		}
	}
	for _, l := range lines {
		c.placeAndDate(l, whyBelowHead)
	}
	return to
}

const (
	whyBelowHead = "a short line that stands alone between the heading and the text"
	whySourced   = "it stands between the heading and the text, with its source below it"
)

// placeAndDate adds a line below a heading.
func (c *composer) placeAndDate(l *line, reason string) {
	c.add(dateline, l.Paragraph)
	c.m.guess(false, l.Paragraph, "place and date", reason)
}

// motto adds lines below a heading.
func (c *composer) motto(lines []*line, reason string) {
	for i, l := range lines {
		if i == 0 {
			c.add(quotation, l.Paragraph)
			continue
		}
		c.last().paras = append(c.last().paras, l.Paragraph)
	}
	c.m.guess(false, lines[0].Paragraph, "motto", reason)
}

// standsApart tells a paragraph that looks otherwise than the text.
func (c *composer) standsApart(l *line) bool {
	pr := c.m.profile
	return l.Align != pr.align || l.Left >= pr.left+360 || pr.slanted(l)
}

// isSubheading tells a line in bold that names what follows: it stands alone,
// begins with a capital or a figure, is no sentence, and has room around it or a
// figure in it, as a date has.
func (c *composer) isSubheading(l, next *line, gap int) bool {
	pr := c.m.profile
	bold := func(l *line) bool { return l != nil && l.all(Strong) }
	r, _ := utf8.DecodeRuneInString(l.text)
	if pr.look&Strong != 0 || !bold(l) || next == nil || bold(next) || bold(c.previous) || l.Align != pr.align || c.piece.Role != Chapter ||
		!short(l.text) || strings.Contains(l.text, "\n") || isSentence(l.text) || endsSentence(l.text) || !unicode.IsUpper(r) && !unicode.IsDigit(r) || hasMarks(l.Paragraph) {
		return false
	}
	above, below := l.Before, l.After+next.Before
	if c.previous != nil {
		above += c.previous.After
	}
	return len(c.bs) == 0 || gap > pr.gap || next.after > pr.gap || max(above, below) >= pr.space+60 || strings.IndexFunc(l.text, unicode.IsDigit) >= 0
}

var source = regexp.MustCompile(`^\s*(—|–|--|-\s)\s*\pL`)

// isSource tells a line that says whose words stand before it.
func isSource(s string) bool { return source.MatchString(s) && short(s) }

// isSentence tells a line that ends as speech or a sentence does; a place and
// date that end in a full point have a figure in them.
func isSentence(s string) bool {
	s = strings.TrimSpace(s)
	r, _ := utf8.DecodeLastRuneInString(s)
	if r == '.' {
		return strings.IndexFunc(s, unicode.IsDigit) < 0
	}
	return unicode.In(r, unicode.Pf, unicode.Pi) || strings.ContainsRune("?!…\"'—", r)
}

// hasMarks tells a paragraph with notes or pictures.
func hasMarks(p *Paragraph) bool {
	for _, r := range p.Runs {
		if r.Note > 0 || r.Picture > 0 {
			return true
		}
	}
	return false
}

// areVerse tells lines in the middle that are verse and no sign: four or more,
// with small letters and without figures.
func areVerse(ps []*Paragraph) bool {
	n := 0
	for _, p := range ps {
		if p == nil {
			continue
		}
		for l := range strings.SplitSeq(p.Text(), "\n") {
			if strings.IndexFunc(l, unicode.IsLower) < 0 || strings.IndexFunc(l, unicode.IsDigit) >= 0 {
				return false
			}
			n++
		}
	}
	return n >= 4
}

// dateline writes place and date, which are in emphasis.
func (w *writer) dateline(p *Paragraph) {
	slanted := *p
	slanted.Runs = make([]Run, len(p.Runs))
	for i, r := range p.Runs {
		r.Style = r.Style&^(Underline|Strong|Spaced) | Emphasis
		slanted.Runs[i] = r
	}
	w.paragraphs([]*Paragraph{&slanted}, "", 0)
}

// sign writes lines that stand in the middle. What all of them have for a look
// says no more than that, but for italics: those of a sign are no capitals.
func (w *writer) sign(ps []*Paragraph) {
	var base Style
	for _, s := range wholeLooks {
		base |= s
	}
	for _, p := range ps {
		if p == nil || strings.IndexFunc(p.Text(), markup.IsLetter) < 0 {
			continue
		}
		for _, s := range wholeLooks {
			if !p.all(s) || s == Emphasis && !isUpper(p.Text()) {
				base &^= s
			}
		}
	}
	w.b.WriteString("```sign\n")
	for _, p := range ps {
		if p == nil {
			w.b.WriteByte('\n')
			continue
		}
		for _, l := range w.lines(p, base, inText) {
			if l != "" {
				w.b.WriteString(l + "\n")
			}
		}
	}
	w.b.WriteString("```\n")
}

// isSetOff tells a short paragraph alone among empty lines, where scenes end at
// ornaments and not at empty lines: what was announced, or has a look of its own;
// or a line in capitals or italics alone among them, wherever scenes end.
func (c *composer) isSetOff(l, next *line, gap int) bool {
	usual := c.m.profile.gap
	if c.piece.Role != Chapter || c.previous == nil || next == nil || gap <= usual || next.after <= usual || beginsSpeech(l.text) {
		return false
	}
	n, slanted := utf8.RuneCountInString(l.text), c.m.profile.slanted(l)
	if n <= maxSign && (slanted || isUpper(l.text) && countLetters(l.text) > 3) {
		return true // KEEP OUT
	}
	return c.m.ornaments >= 2 && n <= 400 && !beginsSpeech(next.text) && (slanted || strings.HasSuffix(c.previous.text, ":") || c.m.greets(l.text))
}

// isInscription tells lines in the middle of which one is in capitals or has a
// figure in it: verse has neither.
func isInscription(lines []string) bool {
	return slices.ContainsFunc(lines, func(s string) bool {
		return countLetters(s) > 2 && isUpper(s) || strings.IndexFunc(s, unicode.IsDigit) >= 0
	})
}

// entry is a line that says who speaks, or when, or has a number.
var entry = regexp.MustCompile(`^\s*(\pL[\pL .’'-]{0,24}(\(.{1,20}\))?:\s|\(?\d{1,3}[.)]\s|[•·]\s|\[?\d{1,2}[:.]\d\d)`)

// areEntries tells paragraphs of nothing but such lines, two or more.
func areEntries(ps []*Paragraph) bool {
	n := 0
	for _, p := range ps {
		if p == nil {
			continue
		}
		if !short(p.Text()) || !entry.MatchString(p.Text()) || hasPicture(p) || p.Box {
			return false
		}
		n++
	}
	return n >= 2
}

var mailField = regexp.MustCompile(`^\s*\pL[\pL -]{0,20}:\s+\S`)

// isMailHead tells lines such as "To: all crews", which are no verse.
func isMailHead(lines []string) bool {
	for _, l := range lines {
		if !mailField.MatchString(l) {
			return false
		}
	}
	return true
}

// areLines tells three short paragraphs or more, of which no two make a line of
// text.
func areLines(ps []*Paragraph) bool {
	n, letters := 0, 0
	for _, p := range ps {
		if p == nil {
			continue
		}
		k := utf8.RuneCountInString(strings.TrimSpace(p.Text()))
		if k > 60 || p.Box || hasPicture(p) {
			return false
		}
		n++
		letters += k
	}
	return n >= 3 && letters <= 45*n
}
