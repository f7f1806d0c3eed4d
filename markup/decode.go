package markup

import (
	"bytes"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/yuin/goldmark/util"
)

// decode puts src[i:end] with its escapes and references resolved (CommonMark
// 2.4, 2.5), tabs and runs of spaces as one space.
func (t *textBuilder) decode(i, end int) {
	src := t.c.src
	for i < end {
		k := i
		for k < end && !special[src[k]] {
			k++
		}
		if k > i {
			t.write(src[i:k])
			i = k
			continue
		}
		switch c := src[i]; c {
		case ' ', '\t', '\n':
			t.space()
			i++
		case '\\':
			if i+1 < end && util.IsPunct(src[i+1]) {
				i++
				c = src[i]
			}
			t.straight(rune(c))
			i++
		case '&':
			r, n := reference(src[i:end])
			for _, r := range r {
				t.referred(r, i)
			}
			if n == 0 {
				t.write(src[i : i+1])
				n = 1
			}
			i += n
		case '[':
			t.undefined(i)
			t.unreadPicture(i)
			t.write(src[i : i+1])
			i++
		}
	}
}

var special = [256]bool{' ': true, '\t': true, '\n': true, '\\': true, '&': true, '[': true}

// straight puts a character that the author has marked to stay as it is.
func (t *textBuilder) straight(r rune) {
	switch r {
	case '"':
		r = straightDouble
	case '\'':
		r = straightSingle
	}
	t.buf = utf8.AppendRune(t.buf, r)
	t.runs[len(t.runs)-1].b = len(t.buf)
}

// referred puts a character that a reference at src[i] stands for.
func (t *textBuilder) referred(r rune, i int) {
	if r == ' ' || r == '\t' || r == '\n' {
		t.space()
		return
	}
	if e := badRune(t.c.at(i), r); e != nil {
		t.c.faults = append(t.c.faults, e.(*Error))
		return
	}
	t.straight(r)
}

// reference reads the entity or numeric character reference at the start of b
// and returns what it stands for and its length, 0 if there is none.
func reference(b []byte) (string, int) {
	n := bytes.IndexByte(b[:min(len(b), 40)], ';') // the longest name has 33 letters
	if n < 2 {
		return "", 0
	}
	name := string(b[1:n])
	if name[0] != '#' {
		if e, ok := util.LookUpHTML5EntityByName(name); ok {
			return string(e.Characters), n + 1
		}
		return "", 0
	}
	base, most, num := 10, 7, name[1:]
	if num != "" && (num[0] == 'x' || num[0] == 'X') {
		base, most, num = 16, 6, num[1:]
	}
	v, err := strconv.ParseUint(num, base, 32)
	if err != nil || len(num) > most {
		return "", 0
	}
	r := rune(v)
	if v == 0 || !utf8.ValidRune(r) {
		r = utf8.RuneError
	}
	return string(r), n + 1
}

// address is a link's destination as a reader would type it.
func address(dest []byte) string {
	b := util.ResolveEntityNames(util.ResolveNumericReferences(util.UnescapePunctuations(dest)))
	return strings.ToValidUTF8(string(b), "\uFFFD")
}
