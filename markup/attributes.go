package markup

import (
	"bytes"
	"slices"
	"strings"

	"github.com/yuin/goldmark/text"
	"golang.org/x/text/language"
)

// Attributes stand in braces behind a heading, a span, a picture or the word
// of a fence: {.part head="The Ebb" lang=fr}. A class is known by its name
// with the point (".part"), a key by its name with the sign ("lang=").
const (
	langKey  = "lang="
	headKey  = "head="
	widthKey = "width="
)

var (
	headingAttributes = []string{".part", ".chapter", ".unnumbered", ".unlisted", ".recto", ".verso", ".next", headKey, langKey}
	spanAttributes    = []string{".caps", ".sign", ".raised", ".lowered", langKey}
	pictureAttributes = []string{".page", ".bleed", ".spread", widthKey}
	fenceAttributes   = []string{langKey}

	allAttributes = slices.Concat(headingAttributes, spanAttributes, pictureAttributes)
)

// attributeKey is where a node of the syntax tree keeps the segment of its
// attributes.
const attributeKey = "attributes"

// longestBraces bounds the bytes between braces, so that a line of nothing but
// braces and quotation marks is still read in time that grows with its length.
const longestBraces = 400

// braces returns the length of the attributes that b begins with, and 0 where
// there are none: words in braces that do not look like attributes are text.
func braces(b []byte) int {
	n, fields, _ := readBraces(b)
	if !meant(fields) {
		return 0
	}
	return n
}

// readBraces divides what stands in the braces that b begins with at spaces
// that do not stand in quotation marks, and returns the length of it all, 0
// where the braces do not end in this line. A quotation mark that nothing
// closes counts as a letter, and whole is false.
func readBraces(b []byte) (n int, fields []string, whole bool) {
	if len(b) == 0 || b[0] != '{' {
		return 0, nil, true
	}
	b = b[:min(len(b), longestBraces)]
	if end := bytes.IndexByte(b, '\n'); end >= 0 {
		b = b[:end]
	}
	open, from := rune(0), 1
	field := func(end int) {
		if end > from {
			fields = append(fields, string(b[from:end]))
		}
		from = end + 1
	}
	for i, r := range string(b) {
		switch {
		case i == 0:
		case open != 0:
			if closes(open, r) {
				open = 0
			}
		case r == '"', r == '“', r == '„', r == '”':
			open = r
		case r == ' ', r == '\t':
			field(i)
		case r == '{':
			return 0, nil, true
		case r == '}':
			field(i)
			return i + 1, fields, true
		}
	}
	end := bytes.IndexByte(b, '}')
	if open == 0 || end < 0 {
		return 0, nil, true
	}
	return end + 1, strings.Fields(string(b[1:end])), false
}

// closes tells whether a quotation mark closes what another has opened.
func closes(open, r rune) bool {
	switch open {
	case '"':
		return r == '"'
	case '„':
		return r == '“' || r == '”'
	}
	return r == '”'
}

// meant tells whether what stands in braces is meant as attributes.
func meant(fields []string) bool {
	for _, f := range fields {
		if len(f) > 1 && (f[0] == '.' && f[1] != '.' || f[0] == '#') {
			return true
		}
		if key, _, ok := strings.Cut(f, "="); ok && isName(key) {
			return true
		}
		if slices.Contains(allAttributes, "."+f) {
			return true // the point has been forgotten
		}
	}
	return false
}

func isName(s string) bool {
	for _, r := range s {
		if (r < 'a' || r > 'z') && (r < 'A' || r > 'Z') && r != '-' {
			return false
		}
	}
	return s != ""
}

// attributes are those of one element, by name.
type attributes map[string]string

func (a attributes) has(name string) bool {
	_, ok := a[name]
	return ok
}

// attributes reads the braces in seg, which belong to something that knows
// the given names.
func (c *chapter) attributes(seg text.Segment, to string, known []string) attributes {
	found := attributes{}
	inner := strings.TrimSpace(string(seg.Value(c.src)))
	if inner == "" {
		return found
	}
	at := c.at(seg.Start)
	n, fields, whole := readBraces([]byte(inner))
	if n != len(inner) || !meant(fields) {
		c.fault(at, "what stands behind "+to+" is not read: "+oneLine([]byte(inner)), "write "+listOf(known)+", or nothing")
		return found
	}
	if !whole {
		c.fault(at, "a quotation mark is never closed in "+oneLine([]byte(inner)), "write one at the end of the words that it opens")
		return found
	}
	for _, f := range fields {
		name, value, keyed := strings.Cut(f, "=")
		if keyed {
			name += "="
		}
		if !slices.Contains(known, name) {
			mend := to + " can have " + listOf(known)
			bare := strings.Trim(name, ".#=")
			var names []string
			for _, k := range known {
				names = append(names, strings.Trim(k, ".="))
			}
			if near := Nearest(bare, names); near != "" {
				mend = "did you mean " + spelling(known[slices.Index(names, near)]) + "?"
			}
			c.fault(at, "{"+oneLine([]byte(f))+"} is not known for "+to, mend)
			continue
		}
		value = strings.Trim(value, `"“”„`)
		if keyed && value == "" {
			c.fault(at, "{"+name+"} says nothing", "write a value behind the sign")
			continue
		}
		if name == langKey {
			tag, err := language.Parse(value)
			if err != nil {
				c.fault(at, "language "+quoted(oneLine([]byte(value)))+" is unknown", "write a BCP 47 tag such as en-GB, de or fr")
				continue
			}
			value = tag.String()
		}
		found[name] = value
	}
	return found
}

// listOf names attributes for a message.
func listOf(known []string) string {
	var s []string
	for _, k := range known {
		s = append(s, spelling(k))
	}
	return strings.Join(s, ", ")
}

// spelling is how an author writes an attribute.
func spelling(name string) string {
	switch name {
	case langKey:
		return "{lang=fr}"
	case headKey:
		return `{head="Short title"}`
	case widthKey:
		return "{width=60%}"
	}
	return "{" + name + "}"
}
