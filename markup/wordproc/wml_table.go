package wordproc

import (
	"io"
	"strconv"
	"strings"
)

// maxColumns bounds the columns that a cell reaches over.
const maxColumns = 64

// table reads a w:tbl (17.4.37).
func (r *wml) table(s *scanner) error {
	r.endJoined()
	at := &Paragraph{N: r.next(), PageBefore: r.page && !r.inNote, Table: &Table{}}
	r.page = false
	outer := r.out
	defer func() { r.out = outer }()
	var rows func(e element) error
	rows = func(e element) error {
		switch e.name {
		case "w:tr":
			return r.row(s, at)
		case "w:sdt", "w:sdtContent", "w:customXml":
			return s.each(nil, rows)
		}
		return nil
	}
	err := s.each(nil, rows)
	*outer = append(*outer, at)
	return err
}

func (r *wml) row(s *scanner, at *Paragraph) error {
	t := at.Table
	var row []Cell
	removed := false
	var cells func(e element) error
	cells = func(e element) error {
		switch e.name {
		case "w:trPr":
			return s.each(nil, func(e element) error {
				switch e.name {
				case "w:tblHeader":
					t.Head = t.Head || len(t.Rows) == 0 && isOn(e.attr("w:val"), true)
				case "w:del":
					removed = true
				}
				return nil
			})
		case "w:tc":
			var cell []*Paragraph
			r.out = &cell
			span := 1
			err := s.each(nil, func(e element) error {
				switch e.name {
				case "w:tcPr":
					return s.each(nil, func(e element) error {
						if e.name == "w:gridSpan" {
							if n, err := strconv.Atoi(e.attr("w:val")); err == nil && n > 1 && n <= maxColumns {
								span = n
							}
						}
						return nil
					})
				}
				return r.block(s, e)
			})
			r.endJoined()
			r.d.load.pieces += span
			row = append(row, cell)
			for ; span > 1 && len(row) < maxColumns; span-- {
				row = append(row, nil)
			}
			return err
		case "w:sdt", "w:sdtContent", "w:customXml":
			return s.each(nil, cells)
		}
		return nil
	}
	if err := s.each(nil, cells); err != nil {
		return err
	}
	if removed {
		var words []string
		for _, c := range row {
			for _, p := range c {
				words = append(words, p.Text())
			}
		}
		r.d.found(KindDeletion, at.N, strings.Join(words, " "))
		return nil
	}
	r.d.load.pieces++
	t.Rows = append(t.Rows, row)
	return nil
}

// drawing reads pictures and text boxes: DrawingML (20.4) or its forerunner,
// VML (ISO/IEC 29500-4).
func (w *wmlParagraph) drawing(object bool) error {
	r, s := w.r, w.s
	pic := &Picture{}
	found := false
	var in func(e element) error
	in = func(e element) error {
		switch e.name {
		case "wp:extent":
			if n, err := strconv.Atoi(e.attr("cx")); err == nil {
				pic.Width = n / 635 // English metric units: 914400 to the inch
			}
		case "wp:docPr":
			if pic.Alt = e.attr("descr"); pic.Alt == "" {
				pic.Alt = e.attr("title")
			}
		case "v:shape", "v:rect":
			if isOn(e.attr("o:hr"), false) {
				w.para.said |= saysRuled
				w.para.ruled = true
			}
			if alt := e.attr("alt"); alt != "" {
				pic.Alt = alt
			}
			for part := range strings.SplitSeq(e.attr("style"), ";") {
				if k, v, _ := strings.Cut(part, ":"); strings.TrimSpace(k) == "width" {
					pic.Width, _ = measure(strings.TrimSpace(v))
				}
			}
		case "a:blip":
			found = true
			w.picture(pic, e.attr("r:embed"), e.attr("r:link"))
		case "v:imagedata":
			found = true
			w.picture(pic, e.attr("r:id"), "")
		case "w:txbxContent":
			return w.box()
		case "mc:AlternateContent":
			return alternatives(s, in)
		}
		return s.each(nil, in)
	}
	err := s.each(nil, in)
	if object && !found {
		r.d.found(KindEmbedded, w.p.N, "an object without a picture")
	}
	return err
}

// box reads the paragraphs of a text box, which follow the one that it hangs
// on.
func (w *wmlParagraph) box() error {
	r := w.r
	var box []*Paragraph
	outer, fields, joined, b := r.out, r.fields, r.joined, r.b
	r.out, r.fields, r.joined = &box, nil, nil
	err := r.blocks(w.s)
	r.out, r.fields, r.joined, r.b = outer, fields, joined, b
	for _, p := range box {
		p.Box = true
	}
	w.boxes = append(w.boxes, box...)
	return err
}

// picture puts a picture into the text: one of the package, by the identifier
// of its relationship, or one outside.
func (w *wmlParagraph) picture(pic *Picture, embedded, linked string) {
	r := w.r
	rel, ok := r.relations[embedded]
	if embedded == "" || !ok || rel.external {
		if out, ok := r.relations[linked]; ok && !(embedded != "" && rel.external) {
			rel = out
		}
		r.d.found(KindPicture, w.p.N, "it lies outside the document: "+rel.target)
		return
	}
	if !r.p.has(rel.target) {
		r.d.found(KindPicture, w.p.N, "the package lacks "+rel.target)
		return
	}
	one := *pic
	r.b.mark(Run{Picture: r.d.picture(&one, r.p, rel.target)})
}

// picture adds a picture of a package and returns its number.
func (d *Document) picture(pic *Picture, p *packed, part string) int {
	pic.Name = part
	pic.open = func() (io.ReadCloser, error) { return p.open(part, maxPicture) }
	d.Pictures = append(d.Pictures, pic)
	return len(d.Pictures)
}
