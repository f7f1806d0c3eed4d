package wordproc

import (
	"strconv"
	"strings"
)

// odtStyle is a style of OpenDocument 1.3 part 3, 16.2.
type odtStyle struct {
	name, family, parent string
	para                 paraLook
	char                 charLook
	percent              int  // a size in percent of the parent's; 0 for none
	master               bool // it names a page layout: it begins on a new page
	after                bool // a page ends after it
	list                 string

	whole     paraLook
	wholeChar charLook
	settled   bool
}

// odtStyles are the styles of a document, by family and name.
type odtStyles struct {
	byName   map[string]*odtStyle
	defaults map[string]*odtStyle // by family
	numbers  *numbering
	outline  *numberedList
	width    int
}

func newODTStyles() *odtStyles {
	return &odtStyles{byName: map[string]*odtStyle{}, defaults: map[string]*odtStyle{}, numbers: &numbering{lists: map[string]*numberedList{}}}
}

// read reads an element with styles in it: office:styles, or
// office:automatic-styles.
func (st *odtStyles) read(s *scanner) error {
	return s.each(nil, func(e element) error {
		switch e.name {
		case "style:style", "style:default-style":
			return st.style(s, e)
		case "text:list-style":
			s.load.pieces += 9
			l := &numberedList{shared: e.attr("style:name")}
			st.numbers.lists[l.shared] = l
			return readODTLevels(s, l)
		case "text:outline-style":
			st.outline = &numberedList{shared: "outline"}
			st.numbers.lists["outline"] = st.outline
			return readODTLevels(s, st.outline)
		case "style:page-layout":
			return s.each(nil, func(e element) error {
				if e.name == "style:page-layout-properties" && st.width == 0 {
					page, _ := measure(e.attr("fo:page-width"))
					left, _ := measure(e.attr("fo:margin-left"))
					right, _ := measure(e.attr("fo:margin-right"))
					st.width = max(page-left-right, 0)
				}
				return nil
			})
		}
		return nil
	})
}

func (st *odtStyles) style(s *scanner, e element) error {
	s.load.pieces++
	style := &odtStyle{family: e.attr("style:family"), parent: e.attr("style:parent-style-name"), list: e.attr("style:list-style-name")}
	name := e.attr("style:name")
	style.name = e.attr("style:display-name")
	if style.name == "" {
		style.name = strings.ReplaceAll(name, "_20_", " ")
	}
	style.name = strings.ToLower(style.name)
	style.master = e.attr("style:master-page-name") != ""
	if n, err := strconv.Atoi(e.attr("style:default-outline-level")); err == nil && 1 <= n && n <= 9 {
		style.para.said |= saysLevel
		style.para.level = n
	}
	if e.name == "style:default-style" {
		st.defaults[style.family] = style
	} else {
		st.byName[style.family+" "+name] = style
	}
	return s.each(nil, func(e element) error {
		switch e.name {
		case "style:text-properties":
			style.letters(e)
		case "style:paragraph-properties":
			style.paragraph(e)
		}
		return nil
	})
}

func (st *odtStyle) letters(e element) {
	c := &st.char
	for i := range e.attrs {
		v := e.attrs[i].Value
		switch e.s.nameOf(e.attrs[i].Name) {
		case "fo:font-style":
			c.say(Emphasis, v == "italic" || v == "oblique")
		case "fo:font-weight":
			n, _ := strconv.Atoi(v)
			c.say(Strong, v == "bold" || n >= 600)
		case "fo:font-variant":
			c.say(SmallCaps, v == "small-caps")
		case "fo:text-transform":
			c.say(Capitals, v == "uppercase")
		case "style:text-underline-style", "style:text-underline-type":
			c.say(Underline, v != "none")
		case "style:text-line-through-style", "style:text-line-through-type":
			c.say(Struck, v != "none")
		case "text:display":
			c.say(Hidden, v == "none")
		case "style:text-position":
			raised, _, _ := strings.Cut(v, " ")
			n, _ := strconv.Atoi(strings.TrimSuffix(raised, "%"))
			c.say(Superscript, raised == "super" || n > 0)
			c.say(Subscript, raised == "sub" || n < 0)
		case "fo:font-size":
			if p, ok := strings.CutSuffix(v, "%"); ok {
				st.percent, _ = strconv.Atoi(p)
			} else if n, ok := measure(v); ok && n > 0 {
				c.size = n / 10
			}
		case "fo:letter-spacing":
			if n, ok := measure(v); ok {
				c.say(Spaced, n >= leastSpaced)
			}
		case "fo:background-color":
			if st.family == "text" {
				c.say(Marked, isColour(v))
			}
		case "fo:color":
			if isColour(v) && st.family == "text" {
				c.say(Marked, true)
			}
		case "style:font-name", "fo:font-family":
			c.face = faceNamed(strings.Trim(v, "'"))
		case "fo:language":
			if country := e.attr("fo:country"); country != "" && country != "none" {
				v += "-" + country
			}
			if t := tag(v); t != "" {
				c.lang = t
			}
		}
	}
}

func (st *odtStyle) paragraph(e element) {
	p := &st.para
	length := func(v string, bit paraBit, to *int) {
		if n, ok := measure(v); ok {
			p.said |= bit
			*to = n
		}
	}
	for i := range e.attrs {
		v := e.attrs[i].Value
		switch e.s.nameOf(e.attrs[i].Name) {
		case "fo:text-align":
			p.said |= saysAlign
			p.align = Start
			switch v {
			case "center":
				p.align = Centre
			case "end", "right":
				p.align = End
			}
		case "fo:margin":
			length(v, saysLeft, &p.left)
			length(v, saysRight, &p.right)
			length(v, saysBefore, &p.before)
			length(v, saysAfter, &p.after)
		case "fo:margin-left":
			length(v, saysLeft, &p.left)
		case "fo:margin-right":
			length(v, saysRight, &p.right)
		case "fo:text-indent":
			length(v, saysFirst, &p.first)
		case "fo:margin-top":
			length(v, saysBefore, &p.before)
		case "fo:margin-bottom":
			length(v, saysAfter, &p.after)
		case "fo:break-before":
			p.said |= saysPage
			p.page = v == "page" || strings.HasSuffix(v, "-page")
		case "fo:break-after":
			st.after = v == "page"
		case "fo:border", "fo:border-top", "fo:border-bottom":
			p.said |= saysRuled
			p.ruled = v != "none" && v != "" || p.ruled
		}
	}
}

// get returns a style with its parents and the defaults of its family.
func (st *odtStyles) get(family, name string) *odtStyle {
	style := st.byName[family+" "+name]
	if style == nil {
		style = &odtStyle{family: family, name: strings.ToLower(strings.ReplaceAll(name, "_20_", " "))}
	}
	return st.settle(style, 0)
}

func (st *odtStyles) settle(style *odtStyle, depth int) *odtStyle {
	if style.settled {
		return style
	}
	style.settled = true
	below := &odtStyle{}
	if parent := st.byName[style.family+" "+style.parent]; parent != nil && parent != style && depth < maxNesting {
		below = st.settle(parent, depth+1)
		style.master = style.master || below.master
		style.after = style.after || below.after
		if style.list == "" {
			style.list = below.list
		}
	} else if d := st.defaults[style.family]; d != nil && d != style {
		below = &odtStyle{whole: d.para, wholeChar: d.char}
	}
	if style.percent > 0 && style.percent < 1000 {
		style.char.size = below.wholeChar.size * style.percent / 100
	}
	style.whole = style.para.over(below.whole)
	if !style.para.says(saysPage) {
		style.whole.page = below.whole.page
	}
	style.wholeChar = style.char.over(below.wholeChar)
	return style
}

// named is the name of the style that an automatic one stands for: what the
// author chose.
func (st *odtStyles) named(style *odtStyle) string {
	for depth := 0; depth < maxNesting && isAutomatic(style.name); depth++ {
		parent := st.byName[style.family+" "+style.parent]
		if parent == nil {
			break
		}
		style = parent
	}
	return style.name
}

// isAutomatic tells the names that programs give to automatic styles: letters
// and a number.
func isAutomatic(name string) bool {
	rest := strings.TrimLeft(name, "abcdefghijklmnopqrstuvwxyz")
	return len(name)-len(rest) <= 3 && rest != "" && strings.Trim(rest, "0123456789") == ""
}

// readODTLevels reads the levels of a list (16.30, 16.34).
func readODTLevels(s *scanner, l *numberedList) error {
	return s.each(nil, func(e element) error {
		k, err := strconv.Atoi(e.attr("text:level"))
		if err != nil || k < 1 || k > 9 {
			return nil
		}
		at := listLevel{format: "decimal", start: 1}
		switch e.name {
		case "text:list-level-style-bullet", "text:list-level-style-image":
			at.format, at.text = "bullet", e.attr("text:bullet-char")
		case "text:list-level-style-number", "text:outline-level-style":
			at.format = e.attr("style:num-format")
			if at.format == "1" {
				at.format = "decimal"
			}
			if n, err := strconv.Atoi(e.attr("text:start-value")); err == nil && n > 0 {
				at.start = n
			}
			if at.format == "" {
				at.format = "none"
				at.text = e.attr("style:num-prefix") + e.attr("style:num-suffix")
				break
			}
			levels := 1
			if n, err := strconv.Atoi(e.attr("text:display-levels")); err == nil && 1 < n && n <= k {
				levels = n
			}
			for i := k - levels + 1; i <= k; i++ {
				if i > k-levels+1 {
					at.text += "."
				}
				at.text += "%" + strconv.Itoa(i)
			}
			at.text = strings.ReplaceAll(e.attr("style:num-prefix"), "%", "") + at.text + strings.ReplaceAll(e.attr("style:num-suffix"), "%", "")
		default:
			return nil
		}
		l.levels[k-1] = at
		return nil
	})
}
