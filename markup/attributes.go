package markup

import (
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
	spanAttributes    = []string{".caps", ".sign", langKey}
	pictureAttributes = []string{".page", ".bleed", ".spread", widthKey}
	fenceAttributes   = []string{langKey}

	allAttributes = slices.Concat(headingAttributes, spanAttributes, pictureAttributes)
)

// attributeKey is where a node of the syntax tree keeps the segment of its
// attributes.
const attributeKey = "attributes"

// braces returns the length of the attributes that b begins with, and 0 where
// there are none: words in braces that do not look like attributes are text.
func braces(b []byte) int {
	if len(b) == 0 || b[0] != '{' {
		return 0
	}
	inQuotes := false
	for i := 1; i < len(b); i++ {
		switch c := b[i]; {
		case c == '\n', c == '{' && !inQuotes:
			return 0
		case c == '"':
			inQuotes = !inQuotes
		case c == '}' && !inQuotes:
			if !meant(string(b[1:i])) {
				return 0
			}
			return i + 1
		}
	}
	return 0
}

// meant tells whether what stands in braces is meant as attributes.
func meant(inner string) bool {
	fields := attributeFields(inner)
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

// attributeFields divides the inside of the braces at spaces that do not
// stand in quotation marks.
func attributeFields(inner string) []string {
	var fields []string
	var field strings.Builder
	closing := rune(0)
	for _, r := range inner {
		switch {
		case closing != 0:
			if r == closing {
				closing = 0
			}
		case r == '"':
			closing = '"'
		case r == '“', r == '„':
			closing = '”'
		case r == ' ', r == '\t':
			if field.Len() > 0 {
				fields = append(fields, field.String())
				field.Reset()
			}
			continue
		}
		field.WriteRune(r)
	}
	if field.Len() > 0 {
		fields = append(fields, field.String())
	}
	return fields
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
	if braces([]byte(inner)) != len(inner) {
		c.fault(at, "what stands behind "+to+" is not read: "+oneLine([]byte(inner)), "write "+listOf(known)+", or nothing")
		return found
	}
	inner = inner[1 : len(inner)-1]
	for _, f := range attributeFields(inner) {
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
