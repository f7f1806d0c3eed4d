package wordproc

import (
	"path"
	"slices"
	"strconv"
	"strings"
)

// write puts letters, with their spaces as the standard counts them: several
// are one, and those at the beginning none (part 3, 6.1.2).
func (r *odt) write(t []byte) {
	if r.b.look.Style&Hidden != 0 {
		if s := strings.TrimSpace(string(t)); s != "" {
			r.d.found(KindHidden, r.at.N, s)
		}
		return
	}
	from := 0
	for i, c := range t {
		if c != ' ' && c != '\t' && c != '\n' && c != '\r' {
			r.space = false
			continue
		}
		if r.space {
			r.b.clean(string(t[from:i]))
		} else {
			r.b.clean(string(t[from:i]))
			r.b.clean(" ")
			r.space = true
		}
		from = i + 1
	}
	r.b.clean(string(t[from:]))
	r.b.flush()
}

// inline reads the content of a paragraph or of a part of it.
func (r *odt) inline(s *scanner, look charLook, link string) error {
	return s.each(r.write, func(e element) error { return r.part(s, e, look, link) })
}

func (r *odt) part(s *scanner, e element, look charLook, link string) error {
	switch e.name {
	case "text:span":
		inner := r.styles.get("text", e.attr("text:style-name")).wholeChar.over(look)
		r.look(inner, link)
		err := r.inline(s, inner, link)
		r.look(look, link)
		return err
	case "text:a":
		to := e.attr("xlink:href")
		if strings.HasPrefix(to, "#") || strings.HasPrefix(to, "../") {
			to = ""
		}
		r.look(look, to)
		err := r.inline(s, look, to)
		r.look(look, link)
		return err
	case "text:s":
		n, err := strconv.Atoi(e.attr("text:c"))
		if err != nil || n < 1 {
			n = 1
		}
		r.b.write(strings.Repeat(" ", min(n, 200)))
		r.space = false
	case "text:tab":
		r.b.write(typedTab)
		r.space = false
	case "text:line-break":
		r.b.lineEnd()
		r.space = true
	case "text:soft-page-break", "text:bookmark", "text:bookmark-start", "text:bookmark-end",
		"text:reference-mark", "text:reference-mark-start", "text:reference-mark-end",
		"text:change", "text:change-start", "text:change-end", "office:annotation-end", "text:script",
		"text:toc-mark", "text:toc-mark-start", "text:toc-mark-end", "text:alphabetical-index-mark":
	case "text:note":
		return r.note(s)
	case "office:annotation":
		return r.comment(s)
	case "text:ruby":
		return s.each(nil, func(e element) error {
			if e.name == "text:ruby-base" {
				return r.inline(s, look, link)
			}
			t, err := s.text()
			r.d.found(KindRuby, r.at.N, t)
			return err
		})
	case "text:placeholder":
		t, err := s.text()
		r.d.found(KindPrompt, r.at.N, t)
		return err
	case "text:hidden-text", "text:hidden-paragraph":
		if isOn(e.attr("text:is-hidden"), false) {
			t, err := s.text()
			r.d.found(KindHidden, r.at.N, t)
			return err
		}
		return r.inline(s, look, link)
	case "draw:frame", "draw:custom-shape", "draw:rect", "draw:ellipse", "draw:g", "draw:a", "draw:line", "draw:polygon", "draw:path":
		return r.frame(s, e)
	case "text:meta", "text:ruby-base", "text:index-entry-link-start":
		return r.inline(s, look, link)
	default: // a field: its text is what it shows
		r.b.flush()
		before := len(r.b.buf)
		if err := r.inline(s, look, link); err != nil {
			return err
		}
		if shown := string(r.b.buf[min(before, len(r.b.buf)):]); strings.TrimSpace(shown) != "" {
			r.d.found(KindField, r.at.N, strings.TrimPrefix(e.name, "text:")+": "+shown)
		}
	}
	return nil
}

// note reads a text:note (part 3, 6.3).
func (r *odt) note(s *scanner) error {
	if r.inNote {
		t, err := s.text()
		r.d.found(KindNote, r.at.N, "a note inside a note: "+t)
		return err
	}
	note := &Note{}
	r.d.Notes = append(r.d.Notes, note)
	r.b.mark(Run{Note: len(r.d.Notes)})
	outer := *r
	r.inNote, r.out, r.lists, r.toc = true, &note.Paragraphs, nil, false
	err := s.each(nil, func(e element) error {
		switch e.name {
		case "text:note-citation":
			t, err := s.text()
			if t = strings.TrimSpace(t); strings.Trim(t, "0123456789ivxlcIVXLC") != "" {
				note.Mark = t
			}
			return err
		case "text:note-body":
			return r.blocks(s)
		}
		return nil
	})
	n, noted := r.n, r.noted
	*r = outer
	r.n, r.noted, r.space = n, noted, false
	return err
}

func (r *odt) comment(s *scanner) error {
	var words []string
	err := s.each(nil, func(e element) error {
		if !strings.HasPrefix(e.name, "text:") {
			return nil // who, and when
		}
		t, err := s.text()
		words = append(words, t)
		return err
	})
	n := 0
	if r.at != nil {
		n = r.at.N
	}
	r.d.found(KindComment, n, strings.Join(words, " "))
	return err
}

// frame reads a draw:frame: a picture, perhaps in several forms, or a text
// box; and the words in a drawn shape.
func (r *odt) frame(s *scanner, e element) error {
	width, _ := measure(e.attr("svg:width"))
	if p, ok := strings.CutSuffix(e.attr("style:rel-width"), "%"); ok && r.d.TextWidth > 0 {
		if n, err := strconv.Atoi(p); err == nil && 0 < n && n <= 100 {
			width = r.d.TextWidth * n / 100
		}
	}
	var forms []*Picture
	alt, object := "", false
	err := s.each(nil, func(e element) error {
		switch e.name {
		case "draw:image":
			pic := &Picture{Width: width}
			forms = append(forms, pic)
			if href := e.attr("xlink:href"); href != "" {
				pic.Name = href
				return nil
			}
			return s.each(nil, func(e element) error {
				if e.name == "office:binary-data" {
					t, err := s.text()
					pic.open = inBase64(t)
					return err
				}
				return nil
			})
		case "svg:desc", "svg:title":
			t, err := s.text()
			if t = strings.TrimSpace(t); alt == "" || e.name == "svg:desc" && t != "" {
				alt = t
			}
			return err
		case "draw:text-box", "text:p", "text:h", "text:list":
			return r.box(s, e)
		case "draw:object", "draw:object-ole":
			object = true
			if e.name == "draw:object" {
				return r.formula(s)
			}
		case "draw:frame", "draw:custom-shape", "draw:rect", "draw:g", "draw:a":
			return r.frame(s, e)
		}
		return nil
	})
	if err != nil || len(forms) == 0 {
		if object && err == nil {
			r.d.found(KindEmbedded, r.at.N, "an object without a picture")
		}
		return err
	}
	pic := forms[0]
	if i := slices.IndexFunc(forms, func(p *Picture) bool { return isRaster(p.Name) }); i >= 0 {
		pic = forms[i]
	}
	pic.Alt = alt
	r.picture(pic)
	return nil
}

func (r *odt) picture(pic *Picture) {
	switch part := path.Clean(strings.TrimPrefix(pic.Name, "./")); {
	case pic.open != nil:
		r.d.Pictures = append(r.d.Pictures, pic)
		r.b.mark(Run{Picture: len(r.d.Pictures)})
	case r.p != nil && r.p.has(part):
		r.b.mark(Run{Picture: r.d.picture(pic, r.p, part)})
	case strings.Contains(pic.Name, ":") || strings.HasPrefix(pic.Name, "/") || strings.HasPrefix(part, ".."):
		r.d.found(KindPicture, r.at.N, "it lies outside the document: "+pic.Name)
	default:
		r.d.found(KindPicture, r.at.N, "the package lacks "+pic.Name)
	}
}

// box reads paragraphs that follow the one that they hang on.
func (r *odt) box(s *scanner, e element) error {
	outer := *r
	var box []*Paragraph
	r.out, r.lists, r.page = &box, nil, false
	var err error
	if e.name == "draw:text-box" {
		err = r.blocks(s)
	} else {
		err = r.block(s, e)
	}
	n, noted, boxes := r.n, r.noted, append(outer.boxes, box...)
	*r = outer
	r.n, r.noted = n, noted
	for _, p := range box {
		p.Box = true
	}
	r.boxes = boxes
	return err
}

// formula writes the letters of a formula that stands in the document.
func (r *odt) formula(s *scanner) error {
	before := len(r.b.buf)
	var in func(e element) error
	in = func(e element) error {
		switch e.name {
		case "math:annotation":
			return nil
		case "math:mi", "math:mn", "math:mo", "math:mtext":
			return s.each(func(t []byte) { r.b.write(string(t)) }, in)
		}
		return s.each(nil, in)
	}
	err := s.each(nil, in)
	if len(r.b.buf) > before {
		r.d.found(KindFormula, r.at.N, string(r.b.buf[before:]))
	}
	return err
}

// isRaster tells the pictures that a book can take, by their names.
func isRaster(name string) bool {
	switch strings.ToLower(path.Ext(name)) {
	case ".png", ".jpg", ".jpeg", ".tif", ".tiff", ".webp":
		return true
	}
	return false
}
