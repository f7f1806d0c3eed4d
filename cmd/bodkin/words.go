package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"unicode/utf8"

	"bodkin/typeset"
)

// wide is how many letters stand in a line of the terminal.
const wide = 100

// caution stands below every report whose figures a printer may reckon otherwise.
const caution = "The printer's own template and quote decide. Order a physical proof before the first sale."

// relative shortens a path to one from the folder at hand, where it leads below
// it.
func relative(path string) string {
	here, err := os.Getwd()
	if err != nil {
		return filepath.ToSlash(path)
	}
	if rel, err := filepath.Rel(here, path); err == nil && filepath.IsLocal(rel) {
		path = rel
	}
	return filepath.ToSlash(path)
}

func describeTrim(t typeset.Trim) string {
	size := typeset.Trim{Width: t.Width, Height: t.Height}.String()
	if t.Name != "" {
		return t.Name + ", " + size
	}
	return size
}

func count(n int, one, many string) string {
	switch n {
	case 0:
		return "no " + many
	case 1:
		return "1 " + one
	}
	return thousands(n) + " " + many
}

// thousands writes n with a thin gap at each thousand.
func thousands(n int) string {
	s := fmt.Sprint(n)
	var b strings.Builder
	for i, r := range s {
		if i > 0 && (len(s)-i)%3 == 0 && len(s) > 4 {
			b.WriteByte(' ')
		}
		b.WriteRune(r)
	}
	return b.String()
}

// rowsOf names rows: "as it is, rows 2 to 5 and 8".
func rowsOf(rows []int) string {
	var names []string
	own := rows[0] == 0
	if own {
		rows = rows[1:]
	}
	for i := 0; i < len(rows); {
		k := i
		for k+1 < len(rows) && rows[k+1] == rows[k]+1 {
			k++
		}
		switch k - i {
		case 0:
			names = append(names, strconv.Itoa(rows[i]))
		case 1:
			names = append(names, strconv.Itoa(rows[i]), strconv.Itoa(rows[k]))
		default:
			names = append(names, fmt.Sprintf("%d to %d", rows[i], rows[k]))
		}
		i = k + 1
	}
	s := "row "
	if len(rows) > 1 {
		s = "rows "
	}
	s += strings.Join(names, ", ")
	switch {
	case own && len(rows) == 0:
		return "the book as it is now"
	case own:
		return "the book as it is now, " + s
	}
	return s
}

// fold writes a sentence in lines that a terminal holds.
func fold(b *strings.Builder, s string) { foldAt(b, "", s) }

// foldAt writes one behind an indent, to which its other lines are indented.
func foldAt(b *strings.Builder, indent, s string) {
	rest := strings.Repeat(" ", max(2, len(indent)))
	b.WriteString(indent)
	n := len(indent)
	for i, word := range strings.Fields(s) {
		k := utf8.RuneCountInString(word)
		switch {
		case i > 0 && n+1+k > wide:
			b.WriteString("\n" + rest)
			n = len(rest)
		case i > 0:
			b.WriteByte(' ')
			n++
		}
		b.WriteString(word)
		n += k
	}
	b.WriteByte('\n')
}
