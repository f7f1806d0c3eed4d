package wordproc

import (
	"strconv"
	"strings"
)

// wmlStyle is a style of ISO/IEC 29500-1, 17.7.
type wmlStyle struct {
	name, kind, base string
	para             paraLook
	char             charLook

	wholePara paraLook // with what it is based on
	wholeChar charLook
	settled   bool
}

// wmlStyles are the styles of a document, by their identifiers.
type wmlStyles struct {
	byID     map[string]*wmlStyle
	defaults wmlStyle
	normal   string // the identifier of the default paragraph style
	text     string // of the default character style
}

func readWMLStyles(s *scanner) (*wmlStyles, error) {
	st := &wmlStyles{byID: map[string]*wmlStyle{}}
	err := s.each(nil, func(e element) error {
		switch e.name {
		case "w:docDefaults":
			return s.each(nil, func(element) error { // rPrDefault, pPrDefault
				return s.each(nil, func(e element) error { return st.defaults.read(s, e) })
			})
		case "w:style":
			s.load.pieces++
			style := &wmlStyle{kind: e.attr("w:type")}
			id := e.attr("w:styleId")
			if isOn(e.attr("w:default"), false) {
				switch style.kind {
				case "paragraph":
					st.normal = id
				case "character":
					st.text = id
				}
			}
			st.byID[id] = style
			return s.each(nil, func(e element) error {
				switch e.name {
				case "w:name":
					style.name = strings.ToLower(e.attr("w:val"))
				case "w:basedOn":
					style.base = e.attr("w:val")
				default:
					return style.read(s, e)
				}
				return nil
			})
		}
		return nil
	})
	return st, err
}

func (st *wmlStyle) read(s *scanner, e element) error {
	switch e.name {
	case "w:pPr":
		return s.each(nil, func(e element) error { return readParaLook(s, e, &st.para) })
	case "w:rPr":
		return s.each(nil, func(e element) error { readCharLook(e, &st.char); return nil })
	}
	return nil
}

// get returns a style with all that it is based on. An unknown one is the
// default.
func (st *wmlStyles) get(id, fallback string) *wmlStyle {
	style := st.byID[id]
	if style == nil {
		style = st.byID[fallback]
	}
	if style == nil {
		return &wmlStyle{}
	}
	return st.settle(style, 0)
}

func (st *wmlStyles) settle(style *wmlStyle, depth int) *wmlStyle {
	if style.settled {
		return style
	}
	style.settled = true // before its base, so that a circle ends
	style.wholePara, style.wholeChar = style.para, style.char
	if base := st.byID[style.base]; base != nil && base != style && depth < maxNesting {
		st.settle(base, depth+1)
		style.wholePara = style.para.over(base.wholePara)
		style.wholeChar = style.char.over(base.wholeChar)
	}
	return style
}

// toggles are the properties that cancel each other where a paragraph style
// and a character style both ask for them (17.7.3).
const toggles = Emphasis | Strong | SmallCaps | Capitals | Struck | Hidden

// letters is the look of letters: of the defaults, the paragraph's style and
// the run's style.
func (st *wmlStyles) letters(para, char *wmlStyle) charLook {
	below := para.wholeChar.over(st.defaults.char)
	out := char.wholeChar.over(below)
	out.style &^= Marked // a style's colour is its own
	both := para.wholeChar.style & char.wholeChar.style & toggles
	out.style &^= both
	return out
}

// isOn reads a value of ST_OnOff: the element alone is on.
func isOn(val string, alone bool) bool {
	switch val {
	case "":
		return alone
	case "0", "false", "off":
		return false
	}
	return true
}

func readCharLook(e element, c *charLook) {
	on := func(s Style) { c.say(s, isOn(e.attr("w:val"), true)) }
	switch e.name {
	case "w:i":
		on(Emphasis)
	case "w:b":
		on(Strong)
	case "w:smallCaps":
		on(SmallCaps)
	case "w:caps":
		on(Capitals)
	case "w:strike", "w:dstrike":
		on(Struck)
	case "w:vanish":
		on(Hidden)
	case "w:em": // marks beside letters, where italics are not the custom
		c.say(Emphasis, e.attr("w:val") != "none")
	case "w:u":
		v := e.attr("w:val")
		c.say(Underline, v != "none" && v != "")
	case "w:vertAlign":
		v := e.attr("w:val")
		c.say(Superscript, v == "superscript")
		c.say(Subscript, v == "subscript")
	case "w:position": // raised or lowered, in half-points: too little to be a superscript
	case "w:sz":
		if n, err := strconv.Atoi(e.attr("w:val")); err == nil && n > 0 && n < 4000 {
			c.size = n
		}
	case "w:spacing":
		if n, ok := twips(e, "w:val"); ok {
			c.say(Spaced, n >= leastSpaced)
		}
	case "w:highlight":
		c.say(Marked, e.attr("w:val") != "none")
	case "w:color":
		if isColour(e.attr("w:val")) {
			c.say(Marked, true)
		}
	case "w:rFonts":
		for _, name := range [...]string{"w:ascii", "w:asciiTheme"} {
			if v := e.attr(name); v != "" {
				c.face = faceNamed(v)
				break
			}
		}
	case "w:lang":
		if t := tag(e.attr("w:val")); t != "" {
			c.lang = t
		}
	}
}

func readParaLook(s *scanner, e element, p *paraLook) error {
	val := e.attr("w:val")
	switch e.name {
	case "w:outlineLvl":
		if n, err := strconv.Atoi(val); err == nil && 0 <= n && n <= 9 {
			p.said |= saysLevel
			p.level = (n + 1) % 10 // 9 is that of text
		}
	case "w:jc":
		p.said |= saysAlign
		p.align = Start
		switch val {
		case "center":
			p.align = Centre
		case "right", "end":
			p.align = End
		}
	case "w:ind":
		if n, ok := twips(e, "w:start", "w:left"); ok {
			p.said |= saysLeft
			p.left = n
		}
		if n, ok := twips(e, "w:end", "w:right"); ok {
			p.said |= saysRight
			p.right = n
		}
		if n, ok := twips(e, "w:firstLine"); ok {
			p.said |= saysFirst
			p.first = n
		}
		if n, ok := twips(e, "w:hanging"); ok && n != 0 {
			p.said |= saysFirst
			p.first = -n
		}
	case "w:spacing":
		if n, ok := twips(e, "w:before"); ok {
			p.said |= saysBefore
			p.before = n
		}
		if n, ok := twips(e, "w:after"); ok {
			p.said |= saysAfter
			p.after = n
		}
	case "w:pageBreakBefore":
		p.said |= saysPage
		p.page = isOn(val, true)
	case "w:pBdr":
		return s.each(nil, func(e element) error {
			if e.name == "w:top" || e.name == "w:bottom" {
				if v := e.attr("w:val"); v != "nil" && v != "none" && v != "" {
					p.said |= saysRuled
					p.ruled = true
				}
			}
			return nil
		})
	case "w:numPr":
		return s.each(nil, func(e element) error {
			switch e.name {
			case "w:numId":
				p.said |= saysList
				p.list = e.attr("w:val")
			case "w:ilvl":
				if n, err := strconv.Atoi(e.attr("w:val")); err == nil && 0 <= n && n < 9 {
					p.said |= saysDepth
					p.depth = n
				}
			}
			return nil
		})
	}
	return nil
}

// twips reads a measure: a number of twips, or a number with its unit, as the
// strict form of the standard has it.
func twips(e element, names ...string) (int, bool) {
	for _, name := range names {
		v := e.attr(name)
		if v == "" {
			continue
		}
		if n, err := strconv.Atoi(v); err == nil {
			return n, n > -1e6 && n < 1e6
		}
		return measure(v)
	}
	return 0, false
}

// measure reads a length with its unit, in twips.
func measure(v string) (int, bool) {
	n := strings.IndexFunc(v, func(r rune) bool { return (r < '0' || r > '9') && r != '.' && r != '-' && r != '+' })
	if n <= 0 {
		return 0, false
	}
	f, err := strconv.ParseFloat(v[:n], 64)
	if err != nil || f > 1e5 || f < -1e5 {
		return 0, false
	}
	switch v[n:] {
	case "pt":
		f *= 20
	case "in":
		f *= 1440
	case "cm":
		f *= 1440 / 2.54
	case "mm":
		f *= 144 / 2.54
	case "pc", "pi":
		f *= 240
	case "px":
		f *= 15
	default:
		return 0, false
	}
	if f < 0 {
		return int(f - 0.5), true
	}
	return int(f + 0.5), true
}
