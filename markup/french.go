package markup

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// point puts a space of its own kind before the point at i, as French does,
// in the place of one that was typed or where there is none.
func (p *paragraph) point(i int, gap string) {
	if i == 0 {
		return
	}
	r := p.rune(i)
	if r == ' ' && p.buf[i-1] == ' ' {
		if i > 1 && p.buf[i-2] != '\n' {
			p.edit(i-1, 1, gap)
		}
		return
	}
	next := p.next(i)
	switch after := classOf(next); {
	case after == word && next != '"' && next != '\'', after == opener, next == '/', next == '-': // 10:30, http://
		return
	case unicode.IsSpace(r), strings.ContainsRune(";:!?", r), classOf(r) == opener, classOf(r) == dash:
		return
	}
	p.edit(i, 0, gap)
}

// guillemet keeps the space inside « » typed by the author from breaking.
func (p *paragraph) guillemet(i int) {
	r, n := utf8.DecodeRune(p.buf[i:])
	switch {
	case r == '«' && i+n < len(p.buf) && p.buf[i+n] == ' ':
		p.edit(i+n, 1, p.inside)
	case r == '»' && i > 0 && p.buf[i-1] == ' ':
		p.edit(i-1, 1, p.inside)
	}
}
