package wordproc

import (
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"
)

// A letter in a chapter is told by its first words and its last:
//
//	Thornwick, 10 May 1887     address and date: short lines, most at the right
//	My dear Captain,           salutation
//	the trunk is here.         text
//	Your obedient servant,     close
//	A. Pole                    signature
//	P.S. Do not open it.
//
// One whose paragraphs look otherwise than the text, or which has empty lines
// before and behind it, ends there, with or without a close.

var (
	closes = regexp.MustCompile(`(?i)^((very |ever |most |and )?(i (remain|am)|we (remain|are))\b|(ever |always |very |most )*(yours?|sincerely|faithfully|truly|respectfully|affectionately|fondly|cordially)\b|(with )?(all )?(my |our )?(deepest |warmest |best |kind |kindest |much |fond |fondest )?(love|regards|wishes|gratitude)\b|kisses\b|hochachtungsvoll|(mit )?(freundlichen|herzlichen|besten|lieben|vielen|liebe|viele|herzliche|beste) (grüßen|grüße|grüssen|grüsse|gruß)|herzlich(st)?\b|in liebe\b|(es grüßt )?(dein|deine|ihr|ihre|euer|eure)\b|(bien |cordialement |sincèrement )?(à toi|à vous)\b|cordialement|sincèrement|(ton|ta|votre)\b|je t.embrasse|veuillez agréer|un abrazo|(muchos )?saludos|atentamente|(tu|tuy[oa]|suy[oa])\b|un abbraccio|cordiali saluti|distinti saluti|(il |la )?(tu[oa]|vostr[oa]|su[oa])\b|atenciosamente|um abraço|(teu|tua|seu)\b|met vriendelijke groet|groetjes|liefs\b|(med )?vänliga hälsningar|din\b|z poważaniem|(twój|twoja)\b)`)
	adds   = regexp.MustCompile(`^(P\.\s?(P\.\s?)?S\b|PP?S\b|N\.\s?B\b)`)
	dated  = regexp.MustCompile(`(?i)[0-9]|^(mon|tues|wednes|thurs|fri|satur|sun)day\b|^(montag|dienstag|mittwoch|donnerstag|freitag|samstag|sonntag|lundi|mardi|mercredi|jeudi|vendredi|samedi|dimanche)\b`)
)

// salutations are the words with which letters begin, by language.
var salutations = func() map[string]*regexp.Regexp {
	all := map[string]*regexp.Regexp{}
	for lang, words := range map[string]string{
		"en": `((my|our) )?(own |very )?(dear|dearest|darling|beloved)|to whom it may concern`,
		"de": `((mein|meine|unser|unsere) )?(liebe[rs]?( \pL+, liebe[rs]?)?|liebste[rs]?|teure[rs]?)|sehr geehrter?|hochverehrter?`,
		"fr": `((mon|ma|mes) )?(bien |très )?(chère?s?|chers?)`,
		"es": `((mi|mis) )?(querid[oa]s?|estimad[oa]s?|apreciad[oa]s?)`,
		"it": `((mi[oa]|miei) )?(car[oaie]|carissim[oaie]|gentil[ei]|egregi[oa])`,
		"pt": `((meu|minha) )?(querid[oa]s?|car[oa]s?|estimad[oa]s?|prezad[oa]s?)`,
		"nl": `(beste|geachte|lieve)`,
		"sv": `(min |mina )?(kära|käre|bästa|bäste)`,
		"pl": `(mój |moja )?(drog[iaie]|kochan[yaie]|szanown[yaie])`,
	} {
		all[lang] = regexp.MustCompile(`(?i)^(` + words + `)(\PL[^,]{0,50})?[,:!]$`)
	}
	return all
}()

// The bounds of a letter.
const (
	maxAddress   = 6  // the lines above its salutation
	maxSignature = 3  // those below its close
	maxLetter    = 60 // paragraphs, where nothing else sets it off
	letterLine   = 60 // how long one of these lines may be, in letters
)

// stretch is a row of lines, from one to that behind the last.
type stretch struct{ from, to int }

// findLetters finds the letters in a piece, from its first line to its last.
func (m *Manuscript) findLetters(ls []*line) []stretch {
	var all []stretch
	least := following(ls, 0)
	for i := range ls {
		if i < least || !m.mayBeOfLetter(ls[i]) {
			continue
		}
		if s, ok := m.letterAt(ls, i, least); ok {
			all = append(all, s)
			if least = following(ls, s.to); least < 0 {
				break
			}
		}
	}
	return all
}

func (m *Manuscript) mayBeOfLetter(l *line) bool {
	return l.kind == textLine && !l.used && !l.stanza && l.Raw == "" && l.Item == nil && !l.Box && l.Level == 0
}

// letterAt finds the letter whose salutation is line i, if there is one; least is
// the first line that can be of it.
func (m *Manuscript) letterAt(ls []*line, i, least int) (stretch, bool) {
	from := m.addressAbove(ls, i, least)
	bare := from < i && isBareSalutation(ls[i].text)
	if !bare && !m.isSalutation(ls[i].text) {
		return stretch{}, false
	}
	apart := m.setApart(ls, i)
	most := maxLetter
	if from == least || apart != nil && !bare {
		most = len(ls) // it begins the chapter, or its look says where it ends
	}
	to, leave := m.bodyOf(ls, i, most, bare, apart)
	switch {
	case leave >= 0:
		to = m.signatureBelow(ls, leave)
	case apart != nil && to > i+1 && !bare:
		// it ends where the look ends
	case !bare && m.amongEmpty(ls, from, i):
		var ok bool
		if to, ok = m.toEmpty(ls, i); !ok {
			return stretch{}, false
		}
	default:
		return stretch{}, false
	}
	return stretch{from, to}, true
}

// bodyOf follows the text of a letter below its salutation at i, over so many
// paragraphs at the most, and returns the line behind it, and that of its leave;
// -1 where it takes none.
func (m *Manuscript) bodyOf(ls []*line, i, most int, bare bool, apart func(*line) bool) (to, leave int) {
	to = i + 1
	full := 0
	for k := i + 1; k < len(ls); k++ {
		l := ls[k]
		if l.kind == emptyLine {
			continue
		}
		if !m.mayBeOfLetter(l) || l.page || m.isSalutation(l.text) || apart != nil && !apart(l) {
			break
		}
		if full++; full > most {
			break
		}
		if full > 1 && (m.closesAt(ls, k) || bare && m.atRight(l) && isLineOf(l)) {
			return to, k
		}
		to = k + 1
	}
	return to, -1
}

// isSalutation tells a line that greets a reader, in the language of the book or,
// in two words or more, in another. What ends in an exclamation mark is speech in
// English, and in a word of another language.
func (m *Manuscript) isSalutation(s string) bool {
	r, _ := utf8.DecodeLastRuneInString(s)
	if len(s) > 200 || !strings.ContainsRune(",:!", r) {
		return false
	}
	own := primary(m.Language)
	if k := salutations[own]; k != nil && (r != '!' || own != "en") && k.MatchString(s) {
		return true
	}
	if !strings.ContainsRune(s, ' ') {
		return false
	}
	for lang, k := range salutations {
		if lang != own && (r != '!' || lang == "de" || lang == "pl") && k.MatchString(s) {
			return true
		}
	}
	return false
}

// greets tells a text that begins with a salutation.
func (m *Manuscript) greets(s string) bool {
	head, _, ok := strings.Cut(s, ",")
	return ok && m.isSalutation(head+",")
}

// isBareSalutation tells a few words with a comma, as "Aunt," is.
func isBareSalutation(s string) bool {
	r, _ := utf8.DecodeRuneInString(s)
	return unicode.IsUpper(r) && utf8.RuneCountInString(s) <= 30 && len(strings.Fields(s)) <= 3 && strings.HasSuffix(s, ",")
}

// isLineOf tells a short line, or several, that can be an address or a
// signature.
func isLineOf(l *line) bool {
	if hasMarks(l.Paragraph) || beginsSpeech(l.text) && !areCapitalised(undashed(l.text)) {
		return false
	}
	for s := range strings.SplitSeq(l.text, "\n") {
		if utf8.RuneCountInString(s) > letterLine {
			return false
		}
	}
	return !isSentence(l.text) || isAbbreviated(l.text)
}

// undashed is a signature without the dash that some write before it.
func undashed(s string) string { return strings.TrimLeft(s, "—–- ") }

// isAbbreviated tells a name that ends in a point: "L.", "M. Marrow, Esq."
func isAbbreviated(s string) bool {
	words := strings.Fields(s)
	for _, w := range words {
		if r, _ := utf8.DecodeRuneInString(w); !unicode.IsUpper(r) {
			return false
		}
	}
	return strings.HasSuffix(s, ".") && (len(words) > 1 && !(isUpper(s) && countLetters(s) > 3) || utf8.RuneCountInString(s) <= 2 || initials.MatchString(strings.ToLower(s)))
}

func (m *Manuscript) atRight(l *line) bool {
	return l.Align == End && m.profile.align != End || l.Left+l.First >= m.profile.left+m.profile.first+2880
}

// addressAbove returns the first line of the address and date above the
// salutation at i; i where there is none.
func (m *Manuscript) addressAbove(ls []*line, i, least int) int {
	from := i
	apart := m.setApart(ls, i)
	for k := i - 1; k >= least && from-k <= 2 && i-k <= maxAddress; k-- {
		l := ls[k]
		if l.kind == emptyLine {
			continue
		}
		if !m.mayBeOfLetter(l) || !isLineOf(l) || l.Align == Centre || entry.MatchString(l.text) && (apart == nil || strings.Contains(l.text, "\n")) || !m.atRight(l) && !dated.MatchString(l.text) && !strings.Contains(l.text, "\n") && (apart == nil || !apart(l)) {
			break
		}
		from = k
		if l.page {
			break
		}
	}
	return from
}

// isClose tells the line, or lines, with which a letter takes its leave.
func isClose(l *line) bool {
	if !closes.MatchString(l.text) || beginsSpeech(l.text) {
		return false
	}
	first, _, several := strings.Cut(l.text, "\n")
	n := utf8.RuneCountInString(first)
	return n <= letterLine && isLineOf(l) && (several || n <= 45)
}

// closesAt tells whether a letter takes its leave in line k: with a comma, in
// several lines, beside a name or above one.
func (m *Manuscript) closesAt(ls []*line, k int) bool {
	l := ls[k]
	if !isClose(l) {
		return false
	}
	if strings.HasSuffix(l.text, ",") || strings.Contains(l.text, "\n") {
		return true
	}
	if areCapitalised(l.text[len(closes.FindString(l.text)):]) && !strings.HasPrefix(l.text, "I ") {
		return true // I am Captain Marrow
	}
	next := following(ls, k+1)
	return next >= 0 && len(strings.Fields(l.text)) <= 4 && m.mayBeOfLetter(ls[next]) && !ls[next].page && isLineOf(ls[next]) && areCapitalised(ls[next].text)
}

// areCapitalised tells one to four words as those of a name.
func areCapitalised(s string) bool {
	words := strings.Fields(strings.TrimLeft(s, ", "))
	for _, w := range words {
		if r, _ := utf8.DecodeRuneInString(w); !unicode.IsUpper(r) && !particles[w] {
			return false
		}
	}
	return 1 <= len(words) && len(words) <= 4
}

// signatureBelow returns the line behind the signature and whatever was added
// below it. Line leave is the leave, or the signature.
func (m *Manuscript) signatureBelow(ls []*line, leave int) int {
	to, lines := leave+1, 0
	signed := strings.Contains(ls[leave].text, "\n") || !isClose(ls[leave])
	for k := leave + 1; k < len(ls); k++ {
		l := ls[k]
		if l.kind == emptyLine {
			if k+1 < len(ls) && ls[k+1].kind == emptyLine {
				break
			}
			continue
		}
		if !m.mayBeOfLetter(l) || l.page {
			break
		}
		r, _ := utf8.DecodeRuneInString(undashed(l.text))
		name := isLineOf(l) && unicode.IsUpper(r) && utf8.RuneCountInString(l.text) <= 45 && lines < maxSignature &&
			(m.atRight(l) || isClose(l) || !signed && l.Align != Centre)
		switch {
		case name:
			signed = signed || !isClose(l)
			lines++
		case adds.MatchString(l.text):
		default:
			return to
		}
		to = k + 1
	}
	return to
}

// setApart returns what tells that a paragraph looks as the letter does that
// begins at i, and as the text does not; nil where its look is the text's.
func (m *Manuscript) setApart(ls []*line, i int) func(l *line) bool {
	pr, first := m.profile, ls[i]
	next := following(ls, i+1)
	if next < 0 || !m.mayBeOfLetter(ls[next]) {
		return nil
	}
	body := ls[next]
	switch {
	case pr.slanted(first) && pr.slanted(body):
		return func(l *line) bool { return l.all(Emphasis) }
	case m.ownFace(first) && first.face() == body.face():
		return func(l *line) bool { return l.face() == first.face() }
	case body.Left >= pr.left+360:
		return func(l *line) bool { return l.Left >= pr.left+360 || m.atRight(l) && isLineOf(l) }
	case quoteStyle.MatchString(first.Style) && quoteStyle.MatchString(body.Style):
		return func(l *line) bool { return quoteStyle.MatchString(l.Style) || m.atRight(l) && isLineOf(l) }
	}
	return nil
}

// amongEmpty tells whether empty lines stand before the address or the
// salutation that are not the rule.
func (m *Manuscript) amongEmpty(ls []*line, from, i int) bool {
	return ls[from].after > m.profile.gap || from < i && ls[i].after > m.profile.gap
}

// toEmpty returns the line behind the first paragraph with empty lines behind
// it, where that is a short one, as a signature is.
func (m *Manuscript) toEmpty(ls []*line, i int) (int, bool) {
	full := 0
	for k := i + 1; k < len(ls); k++ {
		l := ls[k]
		if l.kind == emptyLine {
			continue
		}
		if !m.mayBeOfLetter(l) || full > maxLetter || l.page {
			return 0, false
		}
		if full > 1 && l.after > m.profile.gap {
			last := k - 1
			for ls[last].kind == emptyLine {
				last--
			}
			return last + 1, isLineOf(ls[last])
		}
		full++
	}
	return 0, false
}

// letter adds a letter as a block of its own.
func (c *composer) letter(ls []*line) {
	b := block{kind: letter}
	var first, last *line
	for _, l := range ls {
		if l.kind == emptyLine {
			continue
		}
		if first == nil {
			first = l
		}
		last = l
		b.paras = append(b.paras, l.Paragraph)
	}
	c.parted(letter, first, 0)
	c.bs = append(c.bs, b)
	c.previous = nil
	c.m.guess(false, first.Paragraph, "letter", "it has a salutation, and ends with "+quote(shorten(last.text)))
}
