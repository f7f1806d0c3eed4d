package wordproc

import (
	"cmp"
	"maps"
	"slices"
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
	if j := r.joined; j != nil && j.out == r.out {
		// the paragraph before goes on here
		if !r.inNote {
			r.n--
		}
		w.p.N, w.p.PageBefore = j.p.N, j.p.PageBefore
		r.b, r.joined = j.b, nil
		return
	}
	r.endJoined()
	r.d.load.pieces++
	r.b = &builder{d: r.d, n: w.p.N}
}

// openEnd is a paragraph whose end was deleted: it goes on with the next.
type openEnd struct {
	p   *Paragraph
	b   *builder
	out *[]*Paragraph
}

// endJoined ends such a paragraph where none follows.
func (r *wml) endJoined() {
	if j := r.joined; j != nil {
		j.p.Runs = j.b.finish()
		*j.out = append(*j.out, j.p)
		r.joined = nil
	}
}

func (w *wmlParagraph) end() {
	r, p := w.r, w.p
	r.cancelInstructions()
	w.dress()
	if w.unmarked && len(w.boxes) == 0 {
		r.joined = &openEnd{p, r.b, r.out}
		return
	}
	if p.Runs = r.b.finish(); len(p.Runs) > 0 || w.removed.Len() == 0 || p.PageBefore {
		*r.out = append(*r.out, p)
	} // else all of it is deleted, and no empty line stays
	*r.out = append(*r.out, w.boxes...)
	w.boxes = nil
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
		p.Item = r.numbers.item(look.list, look.depth, cmp.Or(w.lang, r.styles.letters(w.style, &wmlStyle{}).lang, "en"))
	}
	if isContentsStyle(p.Style) {
		p.Contents = true
	}
	look.put(p)
}

// split ends the paragraph and begins another with the same look, at a page
// break in its middle.
func (w *wmlParagraph) split() {
	section, unmarked := w.section, w.unmarked
	w.section, w.unmarked = false, false
	w.end()
	w.section, w.unmarked = section, unmarked
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
	case "w:sdt":
		return r.control(s, func() error { return s.each(nil, w.child) })
	case "w:smartTag", "w:customXml", "w:dir", "w:bdo":
		return s.each(nil, w.child)
	case "w:commentRangeStart", "w:commentRangeEnd", "w:bookmarkStart", "w:bookmarkEnd", "w:proofErr":
		return nil
	case "m:oMath", "m:oMathPara":
		return w.formula()
	case "mc:AlternateContent":
		return alternatives(s, w.child)
	}
	return nil
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
	case "w:framePr":
		// a large first letter stands in a paragraph of its own
		if v := e.attr("w:dropCap"); v == "drop" || v == "margin" {
			w.unmarked = true
		}
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
