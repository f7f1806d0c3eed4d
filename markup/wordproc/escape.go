package wordproc

import (
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"
)

// site says where a text stands, for what must be escaped there.
type site uint8

const (
	inText site = iota
	inHeading
	inTable
	inTitle // of a picture, between quotation marks
)

// escape writes text so that Markdown takes each character for itself.
func (w *writer) escape(b []byte, text string, in site) []byte {
	sign := func(c byte) {
		if w.entities {
			b = append(b, "&#"...)
			b = strconv.AppendInt(b, int64(c), 10)
			b = append(b, ';')
			return
		}
		b = append(b, '\\', c)
	}
	for i := 0; i < len(text); {
		c := text[i]
		if c >= utf8.RuneSelf {
			r, n := utf8.DecodeRuneInString(text[i:])
			switch {
			case r == '\u00A0' && w.french && (besidePoint(text[i+n:]) || strings.HasSuffix(text[:i], "«")):
				b = append(b, text[i:i+n]...)
			case r == '\u00A0':
				b = append(b, "&nbsp;"...)
			case r == '\u00AD':
				b = append(b, "&shy;"...)
			case r == '\u200B' || r == '\u2060':
				b = append(b, "&#"+strconv.Itoa(int(r))+";"...)
			default:
				b = append(b, text[i:i+n]...)
			}
			i += n
			continue
		}
		switch c {
		case '*', '[', ']', '<', '\\', '`':
			sign(c)
		case '_':
			before, _ := utf8.DecodeLastRune(b)
			after, _ := utf8.DecodeRuneInString(text[i+1:])
			if w.entities || !isWord(before) || !isWord(after) {
				sign(c)
			} else {
				b = append(b, c)
			}
		case '|':
			sign(c)
		case '&':
			if reference.MatchString(text[i:]) {
				b = append(b, "&amp;"...)
			} else {
				b = append(b, c)
			}
		case '{':
			if in == inHeading {
				sign(c)
			} else {
				b = append(b, c)
			}
		case '"':
			if in == inTitle {
				sign(c)
			} else {
				b = append(b, c)
			}
		case '!':
			b = append(b, c)
			if in == inTitle && i+1 == len(text) {
				b = bang(b)
			}
		default:
			b = append(b, c)
		}
		i++
	}
	return b
}

var reference = regexp.MustCompile(`^&(#[0-9]{1,7}|#[xX][0-9a-fA-F]{1,6}|[A-Za-z][A-Za-z0-9]{1,31});`)

// besidePoint tells whether a point follows that has a space before it in
// French.
func besidePoint(s string) bool {
	r, _ := utf8.DecodeRuneInString(s)
	return strings.ContainsRune(";:!?»", r)
}

var (
	numberedLine = regexp.MustCompile(`^(\d{1,9})([.)])(\s|$)`)
	markedLine   = regexp.MustCompile(`^([-+])(\s|$)`)
	ruleLine     = regexp.MustCompile(`^(-[ \t]*)+$|^(=[ \t]*)+$`)
)

// beginning escapes what would mean something else at the beginning of a line.
func beginning(line string) string {
	if line == "" {
		return line
	}
	switch {
	case line[0] == '#', line[0] == '>', line[0] == '{':
		return `\` + line
	case strings.HasPrefix(line, "~~~"), strings.HasPrefix(line, "+++"), ruleLine.MatchString(line), markedLine.MatchString(line):
		return `\` + line
	}
	if m := numberedLine.FindStringSubmatch(line); m != nil {
		return m[1] + `\` + line[len(m[1]):]
	}
	return line
}

// ending escapes what would close a heading: # at its end.
func ending(line string) string {
	trimmed := strings.TrimRight(line, "#")
	if trimmed == line {
		return line
	}
	return line[:len(line)-1] + `\#`
}
