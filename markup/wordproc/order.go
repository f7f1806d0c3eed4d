package wordproc

import (
	"math"
	"regexp"
	"strings"
)

// noStory takes away the openings before the first number that only their look
// tells, and below which there is no text, as on a page in memory of somebody.
func noStory(ls []*line, open []opening) []opening {
	first, numbered := len(open), 0
	for i, o := range open {
		if o.numbers {
			first, numbered = min(first, i), numbered+1
		}
	}
	if numbered < 2 {
		return open
	}
	var kept []opening
	for i, o := range open {
		below := ls[o.end:startOf(open, i+1, len(ls))]
		if i >= first || o.part || o.sure || o.where() != nowhere || frontNames[fold(o.text)] != Chapter || contentsNames[fold(o.text)] || following(below, 0) < 0 || holdsProse(below) || wordsIn(below) > 120 {
			kept = append(kept, o)
			continue
		}
		for _, l := range o.head {
			if l.used = false; l.was != nil {
				*l = *l.was
			}
		}
	}
	return kept
}

// endWords are the words that end a book beside the English ones, by language.
var endWords = map[string]string{"de": "ende", "fr": "fin", "es": "fin", "it": "fine", "pt": "fim", "nl": "einde", "sv": "slut", "pl": "koniec"}

var saysEnd = regexp.MustCompile(`(?i)^(the end|(the )?end of (the )?(book|part|volume|novel)\b.{0,30}|to be continued( in .{1,30})?|end|finis|fin)$`)

// saysEnd tells a line that ends a book.
func (m *Manuscript) saysEnd(s string) bool {
	if len(s) > 100 {
		return false
	}
	s = strings.TrimRight(strings.Trim(s, "*_~ –—-"), ".!…")
	return saysEnd.MatchString(s) || s != "" && strings.EqualFold(s, endWords[primary(m.Language)])
}

// behindTheEnd returns the line with which a page begins behind one that says
// that the story ends, or with which the last page begins if all of it stands
// out of the text; to where there is none. The lines from there are those of the
// last chapter.
func (m *Manuscript) behindTheEnd(ls []*line, from, to int) int {
	for i := from; i < to; i++ {
		l := ls[i]
		if l.kind != textLine || !m.saysEnd(l.text) || countLetters(l.text) < 6 && !m.profile.centred(l) && !m.profile.slanted(l) && !isUpper(l.text) {
			continue // "Fin." can be somebody's name
		}
		for k := i + 1; k < to; k++ {
			if ls[k].kind != emptyLine && ls[k].page {
				return k
			}
		}
		break // a later one has no more behind it
	}
	if to < len(ls) { // there is a back already
		return to
	}
	last := to
	for i := from + 1; i < to; i++ {
		if ls[i].kind == textLine && ls[i].page {
			last = i
		}
	}
	if page := ls[last:to]; last < to && m.standsOut(page) && wordsIn(page) <= 150 {
		return last
	}
	return to
}

// standsOut tells a page all of whose lines stand in the middle or are in
// italics, and do not say that the story ends.
func (m *Manuscript) standsOut(page []*line) bool {
	for _, l := range page {
		if l.used || l.kind == emptyLine {
			continue
		}
		if l.kind != textLine || m.saysEnd(l.text) || !m.profile.centred(l) && !m.profile.slanted(l) {
			return false
		}
	}
	return true
}

// backFrom is the first opening of the back: one with a name from there, behind
// two chapters with numbers or more, where no number follows that goes on.
// Whatever follows belongs to it, such as the first chapters of another book.
func backFrom(open []opening) int {
	goesOn := make([]int, len(open)+1) // the highest number from there on
	for i := len(open) - 1; i >= 0; i-- {
		o := &open[i]
		goesOn[i] = goesOn[i+1]
		if o.where() == inBody || o.numbers && o.saying.part && o.saying.worded {
			goesOn[i] = math.MaxInt
		} else if o.numbers {
			goesOn[i] = max(goesOn[i], o.saying.n)
		}
	}
	numbered, most := 0, 0
	for i := range open {
		if w := open[i].where(); numbered >= 2 && (w == inBack || w == either) && goesOn[i] <= most {
			return i
		}
		if open[i].numbers && !open[i].saying.part {
			numbered, most = numbered+1, max(most, open[i].saying.n)
		}
	}
	return len(open)
}

// misnumbered lists chapters whose numbers do not follow each other, but for a
// new beginning in a new part.
func (m *Manuscript) misnumbered(open []opening) {
	last, known := 0, false
	for _, o := range open[:backFrom(open)] {
		if o.part {
			known = false
		}
		if !o.numbers || o.saying.part {
			continue
		}
		n, reason := o.saying.n, ""
		switch {
		case !known && n > 1 && last > 0 && n != last+1: // a part goes on or begins again
			reason = "the one before it is " + itoa(last)
		case !known || n == last+1:
		case n == last:
			reason = "the number comes twice"
		case n == last+2:
			reason = itoa(last+1) + " is missing before it"
		case n > last:
			reason = itoa(last+1) + " to " + itoa(n-1) + " are missing before it"
		default:
			reason = "it follows " + itoa(last)
		}
		if reason != "" {
			m.Guesses = append(m.Guesses, Guess{N: o.head[0].N, What: "number out of its order", Text: shorten(o.text), Reason: reason})
		}
		last, known = n, true
	}
}

// foldBack makes headings inside a piece of the back of those that stand on a
// lower level than the back's own.
func foldBack(open []opening) []opening {
	back := backFrom(open)
	if back == len(open) {
		return open
	}
	top := open[back].head[0].Level
	kept := open[:back:back]
	for _, o := range open[back:] {
		if o.head[0].Level > top {
			for _, l := range o.head {
				l.used = false
			}
			continue
		}
		o.part = o.part && o.saying.part
		kept = append(kept, o)
	}
	return kept
}
