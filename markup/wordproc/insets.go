package wordproc

import (
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
	for i := 0; i < len(ls); {
		if !isLine(ls[i]) || i > 0 && ls[i-1].kind == textLine {
			i++
			continue
		}
		from, open := i, 0
		for i < len(ls) && isLine(ls[i]) && (i == from || !ls[i].page) {
			if !isSentence(ls[i].text) {
				open++
			}
			i++
		}
		if n := i - from; n >= fewestLines && 4*open >= 3*n && (i == len(ls) || ls[i].kind != textLine || ls[i].page) {
			for _, l := range ls[from:i] {
				l.stanza = true
			}
		}
	}
}

// fewestLines is how many lines a stanza has at the least that nothing sets in.
const fewestLines = 4
