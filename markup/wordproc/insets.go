package wordproc

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// typedIn marks the short lines, three together or more, before which more tabs
// or spaces were typed than before the text.
func (m *Manuscript) typedIn(ls []*line) {
	count := map[int]int{}
	for _, l := range ls {
		if l.kind == textLine && l.Raw == "" && utf8.RuneCountInString(l.text) > longLine {
			count[indent(l.tabbed())]++
		}
	}
	least := commonest(count) + 4
	from := 0
	for i := 0; i <= len(ls); i++ {
		if i < len(ls) && (ls[i].kind == emptyLine && i > from || ls[i].kind == textLine && ls[i].Raw == "" && ls[i].Align == m.profile.align && !ls[i].page &&
			utf8.RuneCountInString(ls[i].text) <= longLine && indent(ls[i].tabbed()) >= least && !beginsSpeech(ls[i].text)) {
			continue
		}
		to := i
		for to > from && ls[to-1].kind == emptyLine {
			to--
		}
		full := 0
		for _, l := range ls[from:to] {
			if l.kind == textLine {
				full++
			}
		}
		for _, l := range ls[from:to] {
			l.inset = full >= 3 && l.kind == textLine
		}
		from = i + 1
	}
}

// mailHeads marks the fields of a message, such as "To: all crews", in paragraphs
// of their own: three or more that begin with one of its words.
func (m *Manuscript) mailHeads(ls []*line) {
	isField := func(l *line) bool {
		return l.kind == textLine && l.Raw == "" && l.Item == nil && !hasMarks(l.Paragraph) && short(l.text) && mailField.MatchString(l.text)
	}
	for i := 0; i < len(ls); i++ {
		from, words := i, 0
		for i < len(ls) && isField(ls[i]) && (i == from || !ls[i].page) {
			word, _, _ := strings.Cut(ls[i].text, ":")
			if mailWords[fold(word)] {
				words++
			}
			i++
		}
		for _, l := range ls[from:i] {
			l.inset = words >= 3
		}
	}
}

var mailWords = set("from,to,cc,bcc,subject,re,date,sent,von,an,betreff,datum,de,à,objet,para,asunto,fecha,da,a,oggetto,data,assunto,aan,onderwerp,från,till,ämne,od,do,temat")

// onBothSides marks short lines of which several stand at the right, such as
// messages that are told apart by their sides.
func (m *Manuscript) onBothSides(ls []*line) {
	if m.profile.align == End {
		return
	}
	isShort := func(l *line) bool {
		return l.kind == textLine && l.Raw == "" && l.Item == nil && !hasMarks(l.Paragraph) && l.Align != Centre && utf8.RuneCountInString(l.text) <= longLine
	}
	for i := 0; i < len(ls); i++ {
		if ls[i].Align != End || !isShort(ls[i]) {
			continue
		}
		from, last, right := i, i, 1
		for k := i + 1; k < len(ls) && k-last <= 2 && isShort(ls[k]) && !ls[k].page; k++ {
			if ls[k].Align == End {
				last, right = k, right+1
			}
		}
		if i > 0 && isShort(ls[i-1]) && ls[i-1].all(Marked) && ls[i].all(Marked) {
			from--
		}
		for _, l := range ls[from : last+1] {
			l.sided = right >= 2 && last-from >= 2
		}
		i = last
	}
}

// tabbed is the text with the tabs and spaces that were typed before it; "" where
// there is nothing but them.
func (p *Paragraph) tabbed() string {
	for _, r := range p.Runs {
		if strings.TrimSpace(r.Text) != "" {
			return p.Text()
		}
	}
	return ""
}

// stanzas marks lines of verse at the left: rows of short lines with room above
// and below them, most of which end as no sentence does.
func (m *Manuscript) stanzas(ls []*line) {
	isLine := func(l *line) bool {
		return l.kind == textLine && l.Raw == "" && l.Item == nil && !l.Box && l.Level == 0 && l.Align == m.profile.align && !hasMarks(l.Paragraph) &&
			utf8.RuneCountInString(l.text) <= longLine && !strings.Contains(l.text, "\n") && !beginsSpeech(l.text) && strings.IndexFunc(l.text, unicode.IsDigit) < 0 &&
			!m.isSalutation(l.text) && !entry.MatchString(l.text) && !m.saysEnd(l.text)
	}
	var rows []row // of one poem
	settle := func() {
		n, open := 0, 0
		for _, r := range rows {
			n, open = n+r.to-r.from, open+r.open
		}
		together := len(rows) > 1 && n >= fewestOfRows && 4*open >= 3*n
		for _, r := range rows {
			if k := r.to - r.from; together || k >= fewestLines && 4*r.open >= 3*k || 2*r.open >= k && m.areSlanted(ls[r.from:r.to]) {
				for _, l := range ls[r.from:r.to] {
					l.stanza = true
				}
			}
		}
		rows = nil
	}
	for i := 0; i < len(ls); {
		if !isLine(ls[i]) || i > 0 && ls[i-1].kind == textLine && !ls[i].page {
			if ls[i].kind != emptyLine {
				if m.isSalutation(ls[i].text) {
					rows = nil // they are addresses
				}
				settle()
			}
			i++
			continue
		}
		r := row{from: i}
		for i < len(ls) && isLine(ls[i]) && (i == r.from || !ls[i].page) {
			if !isSentence(ls[i].text) {
				r.open++
			}
			i++
		}
		r.to = i
		if ls[r.from].page || ls[r.from].after > m.profile.gap+1 {
			settle()
		}
		if r.to-r.from >= 2 && (i == len(ls) || ls[i].kind != textLine || ls[i].page) {
			rows = append(rows, r)
		} else {
			settle()
		}
	}
	settle()
}

// areSlanted tells lines in italics, where the text is upright.
func (m *Manuscript) areSlanted(ls []*line) bool {
	return !slices.ContainsFunc(ls, func(l *line) bool { return !m.profile.slanted(l) })
}

// row is a row of short lines, and how many of them end as no sentence does.
type row struct{ from, to, open int }

// fewestLines is how many lines a stanza has at the least that nothing sets in, and
// fewestOfRows how many several have together, of two lines or more each.
const (
	fewestLines  = 4
	fewestOfRows = 6
)
