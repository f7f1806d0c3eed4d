package wordproc

import (
	"strconv"
	"strings"

	"bodkin/markup/numeral"
)

// numbering counts the paragraphs of lists as both standards describe it: a
// level begins anew when one above it counts.
type numbering struct {
	lists  map[string]*numberedList // by what a paragraph names
	counts map[string]*[9]int       // of what shares its count
}

type numberedList struct {
	shared string // lists of one value count together
	levels [9]listLevel
	from   [9]int // a start that the list says itself; 0 for none
	begun  [9]bool
}

type listLevel struct {
	format string // "decimal", "bullet", "none", ...
	text   string // "Chapter %1", with %n for the number of a level
	start  int
}

// item counts a paragraph and returns its place in the list; nil for none.
func (n *numbering) item(list string, level int, lang string) *Item {
	l := n.lists[list]
	if l == nil || level < 0 || level > 8 {
		return nil
	}
	c := n.counts[l.shared]
	if c == nil {
		c = new([9]int)
		if n.counts == nil {
			n.counts = map[string]*[9]int{}
		}
		n.counts[l.shared] = c
	}
	at := &l.levels[level]
	if l.from[level] > 0 && !l.begun[level] {
		c[level] = l.from[level]
		l.begun[level] = true
	} else if c[level] == 0 {
		c[level] = max(at.start, 1)
	} else {
		c[level]++
	}
	for k := level + 1; k < 9; k++ {
		c[k] = 0
	}
	it := &Item{Level: level, Number: c[level]}
	switch at.format {
	case "bullet":
		it.Label = at.text
	case "none", "":
		it.Label = at.text
		if !strings.Contains(at.text, "%") && strings.TrimSpace(at.text) == "" {
			return nil
		}
	default:
		it.Ordered = true
	}
	if strings.Contains(at.text, "%") {
		it.Label = ""
		for i := 0; i < len(at.text); i++ {
			if at.text[i] == '%' && i+1 < len(at.text) && '1' <= at.text[i+1] && at.text[i+1] <= '9' {
				k := int(at.text[i+1] - '1')
				it.Label += written(l.levels[k].format, max(c[k], max(l.levels[k].start, 1)), lang)
				i++
				continue
			}
			it.Label += string(at.text[i])
		}
	}
	it.Label = oneLine(strings.ToValidUTF8(it.Label, ""))
	return it
}

// written is a number in a format of ST_NumberFormat (ISO/IEC 29500-1,
// 17.18.59), or one of OpenDocument's.
func written(format string, n int, lang string) string {
	switch format {
	case "none", "bullet":
		return ""
	case "upperRoman", "I":
		if s := numeral.Roman(n); s != "" {
			return s
		}
	case "lowerRoman", "i":
		if s := numeral.Roman(n); s != "" {
			return strings.ToLower(s)
		}
	case "upperLetter", "A":
		return strings.ToUpper(letters(n))
	case "lowerLetter", "a":
		return letters(n)
	case "decimalZero":
		if n < 10 {
			return "0" + strconv.Itoa(n)
		}
	case "cardinalText":
		if s, ok := numeral.Write(lang, numeral.Cardinal, n); ok {
			return strings.ToUpper(s[:1]) + s[1:]
		}
	case "ordinalText":
		if s, ok := numeral.Write(lang, numeral.Ordinal, n); ok {
			return strings.ToUpper(s[:1]) + s[1:]
		}
	}
	return strconv.Itoa(n)
}

// letters counts a, b, ... z, aa, bb, as both standards do.
func letters(n int) string {
	if n < 1 || n > 26*20 {
		return strconv.Itoa(n)
	}
	return strings.Repeat(string(rune('a'+(n-1)%26)), (n-1)/26+1)
}

// readWMLNumbering reads the definitions of ISO/IEC 29500-1, 17.9.
func readWMLNumbering(s *scanner) (*numbering, error) {
	n := &numbering{lists: map[string]*numberedList{}}
	abstract := map[string]*[9]listLevel{}
	err := s.each(nil, func(e element) error {
		switch e.name {
		case "w:abstractNum":
			s.load.pieces += 9
			levels := new([9]listLevel)
			abstract[e.attr("w:abstractNumId")] = levels
			return s.each(nil, func(e element) error {
				if e.name != "w:lvl" {
					return nil
				}
				return readWMLLevel(s, e, levels)
			})
		case "w:num":
			s.load.pieces += 9
			l := &numberedList{}
			n.lists[e.attr("w:numId")] = l
			return s.each(nil, func(e element) error {
				switch e.name {
				case "w:abstractNumId":
					l.shared = e.attr("w:val")
					if levels := abstract[l.shared]; levels != nil {
						l.levels = *levels
					}
				case "w:lvlOverride":
					k, err := strconv.Atoi(e.attr("w:ilvl"))
					if err != nil || k < 0 || k > 8 {
						return nil
					}
					return s.each(nil, func(e element) error {
						switch e.name {
						case "w:startOverride":
							if v, err := strconv.Atoi(e.attr("w:val")); err == nil && v > 0 {
								l.from[k] = v
							}
						case "w:lvl":
							return readWMLLevel(s, e, &l.levels)
						}
						return nil
					})
				}
				return nil
			})
		}
		return nil
	})
	return n, err
}

func readWMLLevel(s *scanner, e element, levels *[9]listLevel) error {
	k, err := strconv.Atoi(e.attr("w:ilvl"))
	if err != nil || k < 0 || k > 8 {
		return nil
	}
	levels[k] = listLevel{format: "decimal", start: 1}
	return s.each(nil, func(e element) error {
		v := e.attr("w:val")
		switch e.name {
		case "w:start":
			if n, err := strconv.Atoi(v); err == nil && n >= 0 && n < 1e6 {
				levels[k].start = n
			}
		case "w:numFmt":
			levels[k].format = v
		case "w:lvlText":
			levels[k].text = v
		}
		return nil
	})
}
