package wordproc

import (
	"strconv"
	"strings"
)

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
		r.b.look = Run{Style: look.style, Size: look.size, Lang: look.lang, Face: look.face, Link: link}
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
			write(typedTab)
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
			return alternatives(s, child)
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
