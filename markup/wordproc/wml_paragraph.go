package wordproc

import (
	"maps"
	"slices"
	"strconv"
	"strings"
	"unicode"
)

func sortedKeys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }

// wmlParagraph is a paragraph on its way.
type wmlParagraph struct {
	r     *wml
	s     *scanner
	p     *Paragraph
	style *wmlStyle
	para  paraLook
	lang  string

	boxes    []*Paragraph // of the text boxes in it, which follow it
	section  bool         // a section ends with it
	unmarked bool         // its end is deleted: it goes on with the next
	deleted  int          // how many deletions surround what is being read
	removed  strings.Builder
}

// paragraph reads a w:p (17.3.1.22). A page break in it makes two.
func (r *wml) paragraph(s *scanner) error {
	outer := r.b
	defer func() { r.b = outer }()
	w := &wmlParagraph{r: r, s: s, style: r.styles.get(r.styles.normal, "")}
	w.begin()
	if err := s.each(nil, w.child); err != nil {
		return err
	}
	w.end()
	return nil
}

func (w *wmlParagraph) begin() {
	r := w.r
	w.p = &Paragraph{N: r.next(), Contents: r.inContents(), PageBefore: r.page && !r.inNote}
	if !r.inNote {
		r.page = false
	}
	r.b = &builder{d: r.d}
	if j := r.joined; j != nil && r.out != nil && len(*r.out) > 0 && (*r.out)[len(*r.out)-1] == j {
		// the paragraph before goes on here: its text comes first
		*r.out = (*r.out)[:len(*r.out)-1]
		if !r.inNote {
			r.n--
		}
		w.p.N, w.p.PageBefore = j.N, j.PageBefore
		for _, run := range j.Runs {
			if run.Text == "" {
				r.b.mark(run)
				continue
			}
			look := run
			look.Text = ""
			r.b.look = look
			r.b.write(run.Text)
		}
		r.b.look = Run{}
	}
	r.joined = nil
	r.b.n = w.p.N
}

// next numbers a paragraph: those of the text from 1 up, those of notes from
// -1 down.
func (r *wml) next() int {
	if r.inNote {
		r.noted--
		return r.noted
	}
	r.n++
	return r.n
}

func (w *wmlParagraph) end() {
	r, p := w.r, w.p
	r.cancelInstructions()
	w.dress()
	p.Runs = r.b.finish()
	*r.out = append(*r.out, p)
	*r.out = append(*r.out, w.boxes...)
	w.boxes = nil
	if w.unmarked {
		r.joined = p
	}
	if w.section && !r.inNote {
		r.sectionEnds()
	}
}

// dress gives the paragraph the look of its style and its own.
func (w *wmlParagraph) dress() {
	r, p := w.r, w.p
	look := w.para.over(w.style.wholePara).over(r.styles.defaults.para)
	p.Style = w.style.name
	p.Look = r.styles.letters(w.style, &wmlStyle{}).style
	if look.says(saysList) && look.list != "0" {
		p.Item = r.numbers.item(look.list, look.depth, w.lang)
	}
	if isContentsStyle(p.Style) {
		p.Contents = true
	}
	look.put(p)
}

// split ends the paragraph and begins another with the same look, at a page
// break in its middle.
func (w *wmlParagraph) split() {
	section := w.section
	w.section = false
	w.end()
	w.section = section
	w.r.page = true
	w.begin()
}

func (r *wml) sectionEnds() { r.section = len(r.d.Paragraphs) }

// child reads what stands in a paragraph, through what may stand around runs.
func (w *wmlParagraph) child(e element) error {
	r, s := w.r, w.s
	switch e.name {
	case "w:pPr":
		return s.each(nil, w.property)
	case "w:r":
		return w.run()
	case "w:hyperlink":
		link := ""
		if rel, ok := r.relations[e.attr("r:id")]; ok && rel.external {
			link = rel.target
		}
		outer := w.link()
		w.setLink(link)
		err := s.each(nil, w.child)
		w.setLink(outer)
		return err
	case "w:fldSimple":
		kind, link := fieldKind(e.attr("w:instr"))
		before := len(r.b.buf)
		outer := w.link()
		if link != "" {
			w.setLink(link)
		}
		if kind == "TOC" || kind == "INDEX" {
			w.p.Contents = true
		}
		err := s.each(nil, w.child)
		w.setLink(outer)
		if before <= len(r.b.buf) {
			r.foundField(kind, string(r.b.buf[before:]))
		}
		return err
	case "w:ins", "w:moveTo":
		before := len(r.b.buf)
		err := s.each(nil, w.child)
		if before < len(r.b.buf) {
			kind := KindInsertion
			if e.name == "w:moveTo" {
				kind = KindMove
			}
			r.d.found(kind, w.p.N, string(r.b.buf[before:]))
		}
		return err
	case "w:del", "w:moveFrom":
		w.removed.Reset()
		w.deleted++
		err := s.each(nil, w.child)
		w.deleted--
		if e.name == "w:del" && w.deleted == 0 {
			r.d.found(KindDeletion, w.p.N, w.removed.String())
		}
		return err
	case "w:sdt", "w:sdtContent", "w:smartTag", "w:customXml", "w:dir", "w:bdo", "w:txbxContent":
		return s.each(nil, w.child)
	case "w:commentRangeStart", "w:commentRangeEnd", "w:bookmarkStart", "w:bookmarkEnd", "w:proofErr":
		return nil
	case "m:oMath", "m:oMathPara":
		return w.formula()
	case "mc:AlternateContent":
		return w.alternatives(w.child)
	}
	return nil
}

// alternatives reads the first of the contents that are offered for each
// other (ISO/IEC 29500-3).
func (w *wmlParagraph) alternatives(child func(element) error) error {
	taken := false
	return w.s.each(nil, func(e element) error {
		if taken || e.name != "mc:Choice" && e.name != "mc:Fallback" {
			return nil
		}
		taken = true
		return w.s.each(nil, child)
	})
}

func (w *wmlParagraph) link() string        { return w.r.b.look.Link }
func (w *wmlParagraph) setLink(link string) { w.r.b.look.Link = link }

// property reads one of the paragraph's own.
func (w *wmlParagraph) property(e element) error {
	r, s := w.r, w.s
	switch e.name {
	case "w:pStyle":
		w.style = r.styles.get(e.attr("w:val"), r.styles.normal)
	case "w:sectPr":
		w.section = true
		// What it says holds for the paragraphs up to this one.
		return w.endSection()
	case "w:rPr":
		return s.each(nil, func(e element) error {
			switch e.name {
			case "w:del", "w:moveFrom":
				w.unmarked = true
			case "w:lang":
				w.lang = tag(e.attr("w:val"))
			}
			return nil
		})
	case "w:pPrChange", "w:numberingChange":
		return nil // how it was before
	default:
		return readParaLook(s, e, &w.para)
	}
	return nil
}

// endSection ends a section with this paragraph, which may be all of it.
func (w *wmlParagraph) endSection() error {
	r := w.r
	if r.inNote {
		return nil
	}
	from := r.section
	page, err := r.endSection(w.s)
	r.section = from // until the paragraph ends
	if page && from > 0 && from == len(r.d.Paragraphs) {
		w.p.PageBefore = true
	}
	return err
}

// run reads a w:r (17.3.2.25).
func (w *wmlParagraph) run() error {
	r, s := w.r, w.s
	var own charLook
	char := &wmlStyle{}
	ready := false
	ownMark := false // the author's own mark of a note follows
	prepare := func() {
		if ready {
			return
		}
		ready = true
		look := own.over(r.styles.letters(w.style, char))
		link := w.link()
		if l := r.fieldLink(); l != "" {
			link = l
		}
		r.b.look = Run{Style: look.style, Size: look.size, Lang: look.lang, Link: link}
	}
	outer := w.link()
	defer func() { r.b.look = Run{Link: outer} }()
	hidden := func() bool { return r.b.look.Style&Hidden != 0 }
	write := func(t string) {
		prepare()
		switch {
		case w.deleted > 0:
			w.removed.WriteString(t)
		case r.inInstruction():
		case hidden():
			r.d.found(KindHidden, w.p.N, t)
		case ownMark:
			r.ownMark(t)
		default:
			r.shown(t)
			r.b.write(t)
		}
	}
	var child func(e element) error
	child = func(e element) error {
		switch e.name {
		case "w:rPr":
			return s.each(nil, func(e element) error {
				if e.name == "w:rStyle" {
					char = r.styles.get(e.attr("w:val"), r.styles.text)
				} else {
					readCharLook(e, &own)
				}
				return nil
			})
		case "w:t":
			return s.each(func(t []byte) { write(string(t)) }, nil)
		case "w:delText":
			return s.each(func(t []byte) { w.removed.Write(t) }, nil)
		case "w:tab", "w:ptab":
			write(" ")
			return nil
		case "w:noBreakHyphen":
			write("\u2011")
			return nil
		case "w:softHyphen":
			write("\u00AD")
			return nil
		case "w:sym":
			write(symbol(e.attr("w:char")))
			return nil
		case "w:instrText":
			return s.each(func(t []byte) { r.instruct(string(t)) }, nil)
		case "w:fldChar":
			if w.deleted == 0 {
				r.fieldChar(e.attr("w:fldCharType"), w.p)
			}
			return nil
		}
		if w.deleted > 0 {
			return nil
		}
		prepare()
		if hidden() {
			return nil
		}
		switch e.name {
		case "w:br", "w:cr":
			switch e.attr("w:type") {
			case "page":
				if r.inNote || r.out != &r.d.Paragraphs {
					return nil
				}
				if r.b.empty() && len(w.boxes) == 0 {
					w.p.PageBefore = true
				} else {
					look := r.b.look
					w.split()
					r.b.look = look
				}
			case "column":
			default:
				r.b.lineEnd()
			}
		case "w:footnoteReference", "w:endnoteReference":
			ownMark = isOn(e.attr("w:customMarkFollows"), false)
			r.note(e, ownMark)
		case "w:commentReference":
			r.d.found(KindComment, w.p.N, r.comments[e.attr("w:id")])
		case "w:drawing", "w:pict", "w:object":
			return w.drawing(e.name == "w:object")
		case "w:ruby":
			return w.s.each(nil, func(e element) error {
				switch e.name {
				case "w:rubyBase":
					return s.each(nil, w.child)
				case "w:rt":
					t, err := paragraphsText(s)
					r.d.found(KindRuby, w.p.N, t)
					return err
				}
				return nil
			})
		case "mc:AlternateContent":
			return w.alternatives(child)
		}
		return nil
	}
	return s.each(nil, child)
}

// symbol is the character that a w:sym names, in hexadecimal. Faces of symbols
// have theirs in a private area.
func symbol(char string) string {
	n, err := strconv.ParseUint(char, 16, 32)
	if err != nil || n == 0 {
		return ""
	}
	return string(rune(n))
}

// note puts a reference to a note.
func (r *wml) note(e element, own bool) {
	kind := strings.TrimSuffix(e.name, "Reference")
	note := r.notes[kind+" "+e.attr("w:id")]
	if note == nil || r.inNote {
		r.d.found(KindNote, r.b.n, "a reference that leads nowhere")
		return
	}
	for i, known := range r.d.Notes {
		if known == note {
			r.d.found(KindNote, r.b.n, "a second reference to note "+strconv.Itoa(i+1))
			return
		}
	}
	r.d.Notes = append(r.d.Notes, note)
	r.b.mark(Run{Note: len(r.d.Notes)})
}

// ownMark keeps the author's mark of the last note, which the chapters number.
func (r *wml) ownMark(t string) {
	if k := len(r.d.Notes); k > 0 {
		r.d.Notes[k-1].Mark += strings.TrimSpace(t)
	}
}

// formula writes the letters of a formula in their order.
func (w *wmlParagraph) formula() error {
	r, s := w.r, w.s
	before := len(r.b.buf)
	var in func(element) error
	in = func(e element) error {
		if e.name == "m:t" {
			return s.each(func(t []byte) { r.b.write(string(t)) }, nil)
		}
		return s.each(nil, in)
	}
	err := s.each(nil, in)
	r.d.found(KindFormula, w.p.N, string(r.b.buf[before:]))
	return err
}

// isContentsStyle tells the styles that both standards' documents give to the
// lines of a table of contents.
func isContentsStyle(name string) bool {
	if name == "table of contents" || name == "table of figures" {
		return true
	}
	rest, ok := strings.CutPrefix(name, "toc ")
	if !ok {
		rest, ok = strings.CutPrefix(name, "toc")
	}
	return ok && rest != "" && strings.IndexFunc(rest, func(r rune) bool { return !unicode.IsDigit(r) }) < 0
}
