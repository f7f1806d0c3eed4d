package typeset

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// repeatLetters is how many letters a word must have for its repetition at the
// edge of a text to be seen.
const repeatLetters = 2

// edges finds where the runs of a line's first word end, at a space behind its
// first letter, and where those of its last word begin.
func edges(runs []Run) (head, tail int) {
	found := false
	for head < len(runs) && !(found && runs[head].Space) {
		found = found || hasLetter(&runs[head])
		head++
	}
	found = false
	for tail = len(runs); tail > 0; {
		tail--
		if found = found || hasLetter(&runs[tail]); found && runs[tail].Space {
			break
		}
	}
	return head, tail
}

func hasLetter(r *Run) bool {
	return r.Rise == 0 && !r.Added && strings.IndexFunc(r.Glyphs.Text, letter) >= 0
}

// textOf returns what runs say of the manuscript.
func textOf(runs []Run) string {
	if len(runs) == 1 && runs[0].Rise == 0 && !runs[0].Added {
		return runs[0].Glyphs.Text
	}
	var b strings.Builder
	for i := range runs {
		r := &runs[i]
		if r.Rise != 0 || r.Added {
			continue
		}
		if r.Space {
			b.WriteByte(' ')
		}
		b.WriteString(r.Glyphs.Text)
	}
	return b.String()
}

func same(a, b string) bool {
	return len(a) >= repeatLetters && utf8.RuneCountInString(a) >= repeatLetters && strings.EqualFold(a, b)
}

func letter(r rune) bool {
	if r < utf8.RuneSelf {
		return 'a' <= r && r <= 'z' || 'A' <= r && r <= 'Z' || '0' <= r && r <= '9'
	}
	return unicode.IsLetter(r) || unicode.IsDigit(r) || unicode.IsMark(r)
}

// joins reports whether a mark between two letters leaves them one word.
func joins(r rune) bool { return r == '’' || r == '\'' || r == '-' || r == '‐' || r == '‑' }

// firstWordOf returns the first word of a text without its punctuation.
func firstWordOf(text string) string {
	begin, end := -1, 0
	for i := 0; i < len(text); {
		r, n := utf8.DecodeRuneInString(text[i:])
		if letter(r) {
			if begin < 0 {
				begin = i
			}
			end = i + n
		} else if begin >= 0 && !joins(r) {
			break
		}
		i += n
	}
	return text[max(begin, 0):end]
}

// lastWordOf returns the last word of a text without its punctuation.
func lastWordOf(text string) string {
	begin, end := 0, -1
	for i := len(text); i > 0; {
		r, n := utf8.DecodeLastRuneInString(text[:i])
		if letter(r) {
			if end < 0 {
				end = i
			}
			begin = i - n
		} else if end >= 0 && !joins(r) {
			break
		}
		i -= n
	}
	return text[begin:max(end, begin)]
}
