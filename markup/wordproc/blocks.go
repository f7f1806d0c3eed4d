package wordproc

import (
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"

	"bodkin/markup"
)

// composer makes the blocks of a piece, line by line.
type composer struct {
	m        *Manuscript
	piece    *Piece
	bs       []block
	letters  []stretch // that are still to come
	over     bool      // the story is: no scene follows
	previous *line     // of text; nil behind anything else
}

// blocks makes the blocks of a piece.
func (m *Manuscript) blocks(ls []*line, piece *Piece) []block {
	end := len(ls) // of the story
	for end > 0 && (ls[end-1].used || ls[end-1].kind == emptyLine || ls[end-1].kind == ornamentLine || m.saysEnd(ls[end-1].text)) {
		end--
	}
	c := &composer{m: m, piece: piece}
	if piece.Role == Chapter {
		c.letters = m.findLetters(ls)
	}
	below := c.opening(ls)
	for i, l := range ls {
		if len(c.letters) > 0 && i == c.letters[0].from {
			below = c.letters[0].to
			c.letter(ls[i:below])
			c.letters = c.letters[1:]
		}
		if l.used || l.kind == emptyLine || i < below {
			continue
		}
		text := false
		switch l.kind {
		case ornamentLine:
			c.ornament(l, i < end)
		case tableLine:
			m.table(l.Paragraph, &c.bs)
		case pictureLine:
			c.add(picture, l.Paragraph)
		case headLine, titleLine, subtitleLine:
			c.heading(l)
		default:
			var next *line
			if k := following(ls, i+1); k >= 0 && ls[k].kind == textLine {
				next = ls[k]
			}
			c.over = i >= end
			text = c.text(l, next, min(l.after, i))
		}
		c.previous = nil
		if text {
			c.previous = l
		}
	}
	c.settle()
	return c.bs
}

func (c *composer) add(k blockKind, p *Paragraph) {
	c.bs = append(c.bs, block{kind: k, paras: []*Paragraph{p}})
}

// last is the block before, of no kind at the beginning.
func (c *composer) last() *block {
	if len(c.bs) == 0 {
		return &block{kind: nothing}
	}
	return &c.bs[len(c.bs)-1]
}

// ornament parts two scenes, where text stands before and behind it.
func (c *composer) ornament(l *line, more bool) {
	if k := c.last().kind; more && k != nothing && k != sceneBreak {
		c.bs = append(c.bs, block{kind: sceneBreak})
		c.m.guess(true, l.Paragraph, SceneBreak, l.why)
		if countLetters(l.text) > 0 {
			c.m.drop(l.Paragraph, "ornaments made of letters: the setting has its own")
		}
	} else {
		c.m.drop(l.Paragraph, leftOrnament)
	}
	for _, r := range l.Runs {
		if r.Picture > 0 {
			c.m.Left = append(c.m.Left, Finding{Kind: "pictures that are an ornament", N: l.N, Text: c.m.doc.Pictures[r.Picture-1].Name})
		}
	}
}

func (c *composer) heading(l *line) {
	level := 2
	if l.kind == headLine {
		level = min(max(l.Level-c.piece.level()+1, 2), 6)
	}
	c.bs = append(c.bs, block{kind: heading, level: level, paras: []*Paragraph{l.Paragraph}})
	c.m.guess(l.kind == headLine, l.Paragraph, "heading inside a chapter", l.why)
}

// level is the outline level of the piece's own heading.
func (p *Piece) level() int {
	for _, h := range p.head {
		if h.Level > 0 {
			return h.Level
		}
	}
	return 1
}

// text puts a paragraph into the block before or one of its own, with a scene
// break before it where one is due. next is the line of text that follows, nil
// for none; gap is how many empty lines precede it. It reports whether it is text,
// behind which a scene can end.
func (c *composer) text(l, next *line, gap int) bool {
	kind := raw
	if l.Raw == "" {
		kind = c.kindOf(l)
	}
	before := c.last()
	inChapter := c.piece.Role == Chapter
	switch {
	case kind == prose && (before.kind == quotation || before.kind == verse) && isSource(l.text) && l.Align != c.m.profile.align:
		kind = before.kind // who said it
	case l.scene && kind != raw && inChapter:
		c.sceneHead(l)
		return false
	case kind == prose && c.isSubheading(l, next, gap):
		c.subheading(l)
		return false
	case kind == prose && c.isSetOff(l, next, gap):
		kind = quotation
	}
	if before.kind == picture && before.caption == nil && (isCaption(l) || kind == sign && gap <= c.m.profile.gap && !isUpper(l.text) && !hasPicture(l.Paragraph)) {
		before.caption = l.Paragraph
		return true
	}
	if kind == prose && c.over && inChapter && !hasMarks(l.Paragraph) {
		kind = sign
	}
	if inChapter {
		c.parted(kind, l, gap)
		c.countLooks(kind, l)
	}
	c.put(kind, l, gap)
	return true
}

// parted ends a scene before a line, where its look or that of the page says so.
func (c *composer) parted(kind blockKind, l *line, gap int) {
	if kind != prose && kind != raw && kind != letter || c.over {
		return
	}
	reason := ""
	if before := c.last().kind; before == kind && kind != letter {
		reason = c.m.parts(c.previous, l, gap)
	} else if l.page {
		switch before {
		case prose, verse, quotation, letter, sign, list, table:
			reason = whyPage
		}
	}
	if reason != "" {
		c.bs = append(c.bs, block{kind: sceneBreak})
		c.m.guess(false, l.Paragraph, SceneBreak, reason)
	}
}

// countLooks counts what the chapters do not have of the look of a paragraph.
func (c *composer) countLooks(kind blockKind, l *line) {
	if kind != prose && !l.sided {
		return
	}
	if l.Align == End && c.m.profile.align != End {
		c.m.sides.add(l.Paragraph)
	}
	if c.m.ownFace(l) {
		c.m.faces.add(l.Paragraph)
	}
}

// put adds a paragraph to the block before, where both are of one, or as a block.
func (c *composer) put(kind blockKind, l *line, gap int) {
	before, usual := c.last(), c.m.profile.gap
	switch {
	case kind == prose, kind == raw, before.kind != kind,
		kind == quotation && gap > usual+1,
		kind == list && l.Item.Level == 0 && !l.Item.More && before.paras[0].Item.Ordered != l.Item.Ordered:
		c.add(kind, l.Paragraph)
		if setOff[kind] != "" {
			c.last().why = c.m.whySetOff(l)
		}
	case kind == verse && gap > 0, (kind == quotation || kind == sign) && gap > usual:
		before.paras = append(before.paras, nil, l.Paragraph) // a stanza ends
	default:
		before.paras = append(before.paras, l.Paragraph)
	}
	if kind == quotation && l.sided && c.piece.Role == Chapter {
		c.last().held = true
	}
}

// subheading adds a line in bold that names what follows.
func (c *composer) subheading(l *line) {
	if len(c.bs) == 0 && len(c.piece.head) > 0 && strings.IndexFunc(l.text, unicode.IsDigit) >= 0 {
		c.placeAndDate(l, "a short line in bold below the heading, with a figure in it") // a heading would be the chapter's title
		return
	}
	c.bs = append(c.bs, block{kind: heading, level: 2, paras: []*Paragraph{l.Paragraph}})
	c.m.guess(false, l.Paragraph, "heading inside a chapter", "a short line in bold that stands alone")
}

// setOff are the blocks that a paragraph is in for its look.
var setOff = map[blockKind]string{verse: "verse", quotation: "quotation", sign: "sign"}

// settle finds verse among the quotations and signs, says what stands out of the
// text, and takes scene breaks off the end.
func (c *composer) settle() {
	for c.last().kind == sceneBreak {
		c.bs = c.bs[:len(c.bs)-1]
	}
	for i := range c.bs {
		switch b := &c.bs[i]; {
		case b.kind == sign && areVerse(b.paras):
			b.kind, b.why = verse, "four short lines or more stand in the middle, one below the other"
		case b.kind != quotation:
		case b.held:
		case areEntries(b.paras):
			b.held = true
		case areLines(b.paras):
			b.kind, b.why = verse, "three short lines or more stand in from the text, one below the other"
		}
	}
	for i := range c.bs {
		if b := &c.bs[i]; b.why != "" {
			c.m.guess(false, b.paras[0], setOff[b.kind], b.why)
		}
	}
}

const whyPage = "a page begins here without a heading"

// parts tells why a scene ends between two paragraphs of text; "" when none
// does.
func (m *Manuscript) parts(a, b *line, gap int) string {
	pr := m.profile
	switch {
	case a == nil:
		return ""
	case b.page:
		return whyPage
	case gap > pr.gap:
		if pr.gap == 0 {
			return plural(gap, "empty line") + " among paragraphs that follow each other without"
		}
		return plural(gap, "empty line") + " where " + itoa(pr.gap) + " is the rule"
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
func (c *composer) kindOf(l *line) blockKind {
	pr := c.m.profile
	lines := strings.Split(l.text, "\n")
	longest := 0
	for _, s := range lines {
		longest = max(longest, utf8.RuneCountInString(strings.TrimSpace(s)))
	}
	deeper := l.Left >= pr.left+360
	centred := pr.centred(l)
	switch {
	case c.piece.Role == Copyright:
		return prose
	case verseStyle.MatchString(l.Style):
		return verse
	case len(lines) >= 3 && isMailHead(lines):
		return quotation
	case l.Item != nil && (l.Item.Label != "" || l.Item.Ordered || l.Item.More || l.Level == 0):
		return list
	case len(lines) >= 3 && centred && longest <= maxSign && isInscription(lines) && c.piece.Role <= Part && !hasMarks(l.Paragraph):
		return sign
	case len(lines) >= 3 && longest <= 64 && (deeper || l.Align != pr.align || pr.slanted(l) || len(lines) >= 4 && !beginsSpeech(l.text)):
		return verse
	case quoteStyle.MatchString(l.Style), l.Box:
		return quotation
	case l.stanza && c.piece.Role == Chapter && c.piece.Matter == markup.Body:
		return verse
	case l.inset, l.sided && c.piece.Role == Chapter, c.m.ownFace(l) && short(l.text) && entry.MatchString(l.text):
		return quotation
	case deeper && (l.Right >= pr.right+360 || l.Left+l.First >= pr.left+360) && l.Align != Centre:
		return quotation
	case c.piece.Role <= Part && centred && longest <= maxSign && !hasMarks(l.Paragraph):
		return sign
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
	case m.saysEnd(l.text):
		return "it says that this is the end"
	case l.Align == Centre:
		return "a short line stands in the middle"
	case l.stanza:
		return "short lines stand close, one below the other, that end as no sentence does"
	case l.sided:
		return "short lines stand at the left and at the right"
	case l.inset:
		return "it was typed in deeper than the text"
	case m.ownFace(l) && l.Left < m.profile.left+360:
		return "it has a face of its own"
	}
	if l.Left-m.profile.left < 20 {
		return "it stands alone among empty lines, and looks as no scene does"
	}
	return "it stands in from the text by " + itoa((l.Left-m.profile.left)/20) + " pt"
}

func isCaption(l *line) bool {
	return short(l.text) && (strings.Contains(l.Style, "caption") || strings.Contains(l.Style, "illustration") || strings.Contains(l.Style, "beschriftung") || strings.Contains(l.Style, "légende"))
}
