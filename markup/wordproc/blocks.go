package wordproc

import (
	"regexp"
	"strings"
	"unicode/utf8"
)

// blocks makes the blocks of a piece.
func (m *Manuscript) blocks(ls []*line, piece *Piece) []block {
	var bs []block
	add := func(k blockKind, p *Paragraph) { bs = append(bs, block{kind: k, paras: []*Paragraph{p}}) }
	last := func() *block {
		if len(bs) == 0 {
			return nil
		}
		return &bs[len(bs)-1]
	}
	pr := m.profile
	plain := piece.Role == Chapter // scenes are parted in text only
	var previous *line
	for i, l := range ls {
		if l.used || l.kind == empty {
			continue
		}
		gap := l.after
		if i < gap {
			gap = i
		}
		before := last()
		switch l.kind {
		case ornament:
			if before != nil && before.kind != sceneBreak && m.hasText(ls[i+1:]) {
				bs = append(bs, block{kind: sceneBreak})
				m.guess(true, l.Paragraph, "scene break", l.why)
			} else {
				m.drop(l.Paragraph, "an ornament that parts nothing")
			}
			m.keepPictures(l.Paragraph)
			previous = nil
			continue
		case grid:
			m.table(l.Paragraph, &bs)
			previous = nil
			continue
		case pictures:
			add(picture, l.Paragraph)
			previous = nil
			continue
		case head, bookTitle, subtitle:
			if l.Raw == "" || l.Level > 0 {
				level := 2
				if l.kind == head {
					level = min(max(l.Level-m.chapterLevel(piece)+1, 2), 6)
				}
				bs = append(bs, block{kind: heading, level: level, paras: []*Paragraph{l.Paragraph}})
				m.guess(l.kind == head, l.Paragraph, "heading inside a chapter", l.why)
				previous = nil
				continue
			}
		}
		if l.Raw != "" {
			if reason := m.parts(previous, l, gap, pr); reason != "" && before != nil && before.kind == raw {
				bs = append(bs, block{kind: sceneBreak})
				m.guess(false, l.Paragraph, "scene break", reason)
			}
			add(raw, l.Paragraph)
			previous = l
			continue
		}
		kind := m.kindOf(l)
		if before != nil && before.kind == picture && before.caption == nil && isCaption(l) {
			before.caption = l.Paragraph
			continue
		}
		if plain && kind == prose && before != nil && before.kind == prose && previous != nil {
			if reason := m.parts(previous, l, gap, pr); reason != "" {
				bs = append(bs, block{kind: sceneBreak})
				m.guess(false, l.Paragraph, "scene break", reason)
				before = last()
			}
		}
		switch {
		case kind == prose || before == nil || before.kind != kind, kind == quotation && gap > pr.gap+1:
			add(kind, l.Paragraph)
		case kind == list && l.Item.Level == 0 && before.paras[0].Item.Ordered != l.Item.Ordered && !l.Item.More:
			add(kind, l.Paragraph)
		default:
			if kind == verse && gap > 0 {
				before.paras = append(before.paras, nil) // a stanza ends
			}
			before.paras = append(before.paras, l.Paragraph)
		}
		if kind == verse || kind == quotation {
			if k := last(); len(k.paras) == 1 {
				what := "verse"
				if kind == quotation {
					what = "quotation"
				}
				m.guess(false, l.Paragraph, what, m.whySetOff(l))
			}
		}
		previous = l
	}
	for len(bs) > 0 && bs[len(bs)-1].kind == sceneBreak {
		bs = bs[:len(bs)-1]
	}
	for i := range bs {
		if bs[i].kind == quotation && isLetter(bs[i].paras) {
			bs[i].kind = letter
		}
	}
	return bs
}

// keepPictures is for the pictures of an ornament, which are not taken along.
func (m *Manuscript) keepPictures(p *Paragraph) {
	for _, r := range p.Runs {
		if r.Picture > 0 {
			m.Left = append(m.Left, Finding{"pictures that are an ornament", p.N, m.doc.Pictures[r.Picture-1].Name})
		}
	}
}

func (m *Manuscript) chapterLevel(piece *Piece) int {
	for _, h := range piece.head {
		if h.Level > 0 {
			return h.Level
		}
	}
	return 1
}

// parts tells why a scene ends between two paragraphs of text; "" when none
// does.
func (m *Manuscript) parts(a, b *line, gap int, pr profile) string {
	switch {
	case a == nil:
		return ""
	case gap > pr.gap:
		if pr.gap == 0 {
			return plural(gap, "empty line") + " among paragraphs that follow each other without"
		}
		return plural(gap, "empty line") + " where " + itoa(pr.gap) + " is the rule"
	case b.PageBefore:
		return "a page begins here without a heading"
	case a.After+b.Before >= pr.space+180 && a.After+b.Before >= 2*pr.space && a.After+b.Before >= 200:
		return "more space than between other paragraphs"
	}
	return ""
}

var (
	verseStyle = regexp.MustCompile(`verse|poem|poetry|lyric|song|stanza|gedicht|poésie|poema|poesia|preformatted`)
	quoteStyle = regexp.MustCompile(`quot|block text|extract|zitat|citation|citazione|citaat|\bcita\b|citat|cytat|letter|brief`)
)

// kindOf says what a paragraph of text is by its look.
func (m *Manuscript) kindOf(l *line) blockKind {
	pr := m.profile
	lines := strings.Split(l.text, "\n")
	longest := 0
	for _, s := range lines {
		longest = max(longest, utf8.RuneCountInString(strings.TrimSpace(s)))
	}
	deeper := l.Left >= pr.left+360
	switch {
	case verseStyle.MatchString(l.Style):
		return verse
	case l.Item != nil && (l.Item.Label != "" || l.Item.Ordered || l.Item.More || l.Level == 0):
		return list
	case len(lines) >= 3 && longest <= 64 && (deeper || l.Align != pr.align || l.all(Emphasis) && pr.look&Emphasis == 0 || len(lines) >= 4 && !strings.ContainsAny(l.text[:1], "\"“")):
		return verse
	case quoteStyle.MatchString(l.Style), l.Box:
		return quotation
	case deeper && (l.Right >= pr.right+360 || l.Left+l.First >= pr.left+360) && l.Align != Centre:
		return quotation
	}
	return prose
}

// whySetOff is the reason why a paragraph is no running text.
func (m *Manuscript) whySetOff(l *line) string {
	switch {
	case verseStyle.MatchString(l.Style), quoteStyle.MatchString(l.Style):
		return "its style is " + quote(l.Style)
	case l.Box:
		return "it stands in a text box"
	case strings.Contains(l.text, "\n"):
		return "its lines are short and end where the author ended them"
	}
	return "it stands in from the text by " + itoa((l.Left-m.profile.left)/20) + " pt"
}

func isCaption(l *line) bool {
	return short(l.text) && (strings.Contains(l.Style, "caption") || strings.Contains(l.Style, "illustration") || strings.Contains(l.Style, "beschriftung") || strings.Contains(l.Style, "légende"))
}

var salutes = regexp.MustCompile(`(?i)^(my )?(dear|dearest|beloved|lieber?|liebes|chère?|cher|querid[oa]|car[oa]|beste|lieve|kära|käre|sehr geehrte)\b.{0,50}[,:!—–]$`)

// isLetter tells a quotation that begins as letters do.
func isLetter(ps []*Paragraph) bool {
	if len(ps) < 2 {
		return false
	}
	for i, p := range ps {
		if i > 4 {
			return false
		}
		if p != nil && salutes.MatchString(strings.TrimSpace(p.Text())) {
			return true
		}
	}
	return false
}

// maxCell is how many letters the cell of a table may have: a table in a book
// is small.
const maxCell = 200

// table makes a table of a grid, or, where it only arranges text, paragraphs.
func (m *Manuscript) table(p *Paragraph, bs *[]block) {
	columns, cells, long := 0, 0, 0
	for _, row := range p.Table.Rows {
		columns = max(columns, len(row))
		for _, c := range row {
			text := 0
			for _, q := range c {
				text += countLetters(q.Text())
				if q.Table != nil || len(q.Runs) > 0 && q.Item != nil {
					long++
				}
				for _, r := range q.Runs {
					if r.Picture > 0 {
						long++
					}
				}
			}
			if len(c) > 0 && text > 0 {
				cells++
			}
			if text > maxCell || len(c) > 3 {
				long++
			}
		}
	}
	if cells == 0 && long == 0 {
		return
	}
	if columns < 2 || long > 0 {
		m.guess(false, p, "no table", "it has one column, or cells with more than a table in a book can hold: its text follows as paragraphs")
		m.flatten(p.Table, bs, 0)
		return
	}
	*bs = append(*bs, block{kind: table, paras: []*Paragraph{p}})
}

func (m *Manuscript) flatten(t *Table, bs *[]block, depth int) {
	for _, row := range t.Rows {
		for _, c := range row {
			for _, q := range c {
				switch {
				case q.Table != nil && depth < 20:
					m.flatten(q.Table, bs, depth+1)
				case !q.holdsText():
				case strings.TrimSpace(q.Text()) == "" && hasPicture(q):
					*bs = append(*bs, block{kind: picture, paras: []*Paragraph{q}})
				case q.Item != nil:
					if k := len(*bs) - 1; k >= 0 && (*bs)[k].kind == list {
						(*bs)[k].paras = append((*bs)[k].paras, q)
						continue
					}
					*bs = append(*bs, block{kind: list, paras: []*Paragraph{q}})
				default:
					*bs = append(*bs, block{kind: quotation, paras: []*Paragraph{q}})
				}
			}
		}
	}
}

func hasPicture(p *Paragraph) bool {
	for _, r := range p.Runs {
		if r.Picture > 0 {
			return true
		}
	}
	return false
}
