package wordproc

import (
	"bytes"
	"cmp"
	"context"
	"encoding/base64"
	"io"
	"strconv"
	"strings"
)

// odt reads OpenDocument Text (ISO/IEC 26300).
type odt struct {
	ctx context.Context
	p   *packed // nil for a document of one file
	d   *Document

	places
	styles *odtStyles
	out    *[]*Paragraph
	b      *builder
	at     *Paragraph
	boxes  []*Paragraph
	space  bool // the last character was a space, or there is none yet
	page   bool // the next paragraph begins on a page of its own
	toc    bool

	lists []odtList // that are open
	item  *Item     // of the next paragraph
}

type odtList struct {
	style  string
	number *Item // of the present item
	head   bool
}

// readODT reads an open package.
func readODT(ctx context.Context, p *packed, d *Document) error {
	r := &odt{ctx: ctx, p: p, d: d, styles: newODTStyles()}
	if p.has("META-INF/manifest.xml") {
		if err := p.xml("META-INF/manifest.xml", func(s *scanner, _ element) error {
			var in func(e element) error
			in = func(e element) error {
				if e.name == "manifest:encryption-data" {
					return &Error{File: p.name, What: "the document is protected by a password", Mend: "take the protection away where it was written, and save it again"}
				}
				return s.each(nil, in)
			}
			return s.each(nil, in)
		}); err != nil {
			return err
		}
	}
	for _, part := range []string{"meta.xml", "styles.xml", "content.xml"} {
		if !p.has(part) && part != "content.xml" {
			continue
		}
		if err := p.xml(part, r.document); err != nil {
			return err
		}
	}
	return nil
}

// flatPart stands for the name of a part in a document of one file.
const flatPart = "the document"

// isFlat tells a document of one file: OpenDocument without a package.
func isFlat(head []byte) bool {
	head = bytes.TrimLeft(bytes.TrimPrefix(head, []byte("\uFEFF")), " \t\r\n")
	return bytes.HasPrefix(head, []byte("<")) && bytes.Contains(head, []byte("urn:oasis:names:tc:opendocument:xmlns:office:1.0"))
}

func readFlatODT(ctx context.Context, name string, in io.ReaderAt, size int64, d *Document) error {
	if size > maxPart {
		return &Error{File: name, What: "the document is longer than 64 MiB", Mend: "divide it"}
	}
	r := &odt{ctx: ctx, d: d, styles: newODTStyles()}
	return scan(name, flatPart, io.NewSectionReader(in, 0, size), &d.load, r.document)
}

// document reads a root element: that of meta.xml, styles.xml or content.xml,
// or of all in one.
func (r *odt) document(s *scanner, _ element) error {
	r.d.Format = "OpenDocument Text"
	return s.each(nil, func(e element) error {
		switch e.name {
		case "office:meta":
			return r.meta(s)
		case "office:styles", "office:automatic-styles":
			return r.styles.read(s)
		case "office:master-styles":
			return r.furniture(s)
		case "office:body":
			r.d.TextWidth = r.styles.width
			return s.each(nil, func(e element) error {
				if e.name != "office:text" {
					return s.fault("the document holds a "+shorten(strings.TrimPrefix(e.name, "office:"))+", and no text", nil)
				}
				r.out = &r.d.Paragraphs
				return r.blocks(s)
			})
		}
		return nil
	})
}

func (r *odt) meta(s *scanner) error {
	editor := ""
	err := s.fields(map[string]*string{"dc:title": &r.d.Title, "meta:initial-creator": &r.d.Author, "dc:creator": &editor, "dc:language": &r.d.Language})
	if r.d.Author == "" {
		r.d.Author = editor
	}
	return err
}

// furniture lists what headers and footers say, once for each text.
func (r *odt) furniture(s *scanner) error {
	seen := map[string]bool{}
	var in func(e element) error
	in = func(e element) error {
		if strings.HasPrefix(e.name, "style:header") || strings.HasPrefix(e.name, "style:footer") {
			t, err := s.text()
			if t = strings.TrimSpace(t); t != "" && !seen[t] {
				seen[t] = true
				r.d.found(KindHeader, 0, t)
			}
			return err
		}
		return s.each(nil, in)
	}
	return s.each(nil, in)
}

// blocks reads what holds paragraphs.
func (r *odt) blocks(s *scanner) error {
	return s.each(nil, func(e element) error { return r.block(s, e) })
}

func (r *odt) block(s *scanner, e element) error {
	if err := cancelled(r.ctx); err != nil {
		return err
	}
	switch e.name {
	case "text:p", "text:h":
		return r.paragraph(s, e)
	case "text:list":
		return r.list(s, e)
	case "table:table":
		return r.table(s)
	case "text:section":
		if e.attr("text:display") == "none" {
			t, err := s.text()
			r.d.found(KindHidden, r.n+1, t)
			return err
		}
		return r.blocks(s)
	case "text:numbered-paragraph", "text:index-body", "text:index-title":
		return r.blocks(s)
	case "text:table-of-content", "text:alphabetical-index", "text:illustration-index", "text:table-index",
		"text:object-index", "text:user-index", "text:bibliography":
		outer := r.toc
		r.toc = e.name != "text:bibliography"
		err := r.blocks(s)
		r.toc = outer
		return err
	case "text:tracked-changes":
		return r.changes(s)
	case "draw:frame", "draw:custom-shape", "draw:rect", "draw:g", "draw:text-box", "draw:a":
		r.begin("")
		if err := r.frame(s, e); err != nil {
			return err
		}
		r.end()
		return nil
	case "office:annotation":
		return r.comment(s)
	}
	return nil
}

// changes lists the tracked changes (part 3, 5.5). What was deleted is kept
// here; what was inserted stands in the text.
func (r *odt) changes(s *scanner) error {
	return s.each(nil, func(e element) error { // changed-region
		return s.each(nil, func(e element) error {
			var b strings.Builder
			var in func(e element) error
			write := func(t []byte) { b.Write(t) }
			in = func(e element) error {
				if e.name == "office:change-info" {
					return nil
				}
				b.WriteByte(' ')
				return s.each(write, in)
			}
			switch e.name {
			case "text:deletion":
				err := s.each(nil, in)
				r.d.found(KindDeletion, 0, b.String())
				return err
			case "text:insertion":
				r.d.found(KindInsertion, 0, "")
			}
			return nil
		})
	})
}

// begin begins a paragraph of a style.
func (r *odt) begin(style string) {
	n := r.next()
	r.d.load.pieces++
	r.b = &builder{d: r.d, n: n}
	st := r.styles.get("paragraph", style)
	p := &Paragraph{N: n, Style: r.styles.named(st), Look: st.wholeChar.style, Contents: r.toc, PageBefore: r.page && !r.inNote}
	if !r.inNote {
		r.page = st.after
	}
	st.whole.put(p)
	if st.master && !r.inNote {
		p.PageBefore = true
	}
	if isContentsStyle(p.Style) || strings.HasPrefix(p.Style, "contents ") {
		p.Contents = true
	}
	r.at, r.boxes, r.space = p, nil, true
	r.look(st.wholeChar, "")
}

func (r *odt) look(c charLook, link string) {
	r.b.look = Run{Style: c.style, Size: c.size, Lang: c.lang, Face: c.face, Link: link}
}

func (r *odt) end() {
	r.at.Runs = r.b.finish()
	*r.out = append(*r.out, r.at)
	*r.out = append(*r.out, r.boxes...)
	r.boxes = nil
}

// paragraph reads a text:p or a text:h.
func (r *odt) paragraph(s *scanner, e element) error {
	outer := *r
	style := e.attr("text:style-name")
	r.begin(style)
	st := r.styles.get("paragraph", style)
	p := r.at
	if e.name == "text:h" {
		p.Level = 1
		if n, err := strconv.Atoi(e.attr("text:outline-level")); err == nil && 1 <= n {
			p.Level = min(n, 9)
		}
		if r.styles.outline != nil && !isOn(e.attr("text:is-list-header"), false) && len(r.lists) == 0 {
			p.Item = r.styles.numbers.item("outline", p.Level-1, cmp.Or(st.wholeChar.lang, "en"))
		}
	}
	if len(r.lists) > 0 {
		r.place(p, st)
	}
	if err := r.inline(s, st.wholeChar, ""); err != nil {
		return err
	}
	r.end()
	r.b, r.at, r.boxes, r.space = outer.b, outer.at, outer.boxes, outer.space
	return nil
}

// place makes the paragraph an entry of the list around it.
func (r *odt) place(p *Paragraph, st *odtStyle) {
	k := len(r.lists) - 1
	l := &r.lists[k]
	if l.number != nil {
		p.Item = &Item{Level: k, Ordered: l.number.Ordered, Number: l.number.Number, More: true}
		return
	}
	if l.head {
		return
	}
	style := l.style
	if st.list != "" {
		style = st.list
	}
	if p.Item = r.styles.numbers.item(style, k, cmp.Or(st.wholeChar.lang, "en")); p.Item == nil && r.styles.numbers.lists[style] == nil {
		p.Item = &Item{Level: k}
	}
	l.number = p.Item
}

func (r *odt) list(s *scanner, e element) error {
	style := e.attr("text:style-name")
	k := len(r.lists)
	if style == "" && k > 0 {
		style = r.lists[k-1].style
	}
	if k == 0 && !isOn(e.attr("text:continue-numbering"), false) && e.attr("text:continue-list") == "" {
		delete(r.styles.numbers.counts, style)
	}
	if k >= 9 {
		return r.blocks(s)
	}
	r.lists = append(r.lists, odtList{style: style})
	err := s.each(nil, func(e element) error {
		if e.name != "text:list-item" && e.name != "text:list-header" {
			return nil
		}
		r.lists[k].number, r.lists[k].head = nil, e.name == "text:list-header"
		return r.blocks(s)
	})
	r.lists = r.lists[:k]
	return err
}

// table reads a table:table. A cell that reaches over others has empty ones
// behind it.
func (r *odt) table(s *scanner) error {
	t := &Table{}
	at := &Paragraph{N: r.next(), PageBefore: r.page && !r.inNote, Table: t}
	r.page = false
	outer, lists := r.out, r.lists
	r.lists = nil
	var rows func(e element) error
	head := false
	rows = func(e element) error {
		switch e.name {
		case "table:table-header-rows":
			head = head || len(t.Rows) == 0
			return s.each(nil, rows)
		case "table:table-rows", "table:table-row-group":
			return s.each(nil, rows)
		case "table:table-row":
			var row []Cell
			err := s.each(nil, func(e element) error {
				if e.name != "table:table-cell" && e.name != "table:covered-table-cell" {
					return nil
				}
				var cell []*Paragraph
				r.out = &cell
				err := r.blocks(s)
				row = append(row, cell)
				r.d.load.pieces++
				if n, _ := strconv.Atoi(e.attr("table:number-columns-repeated")); n > 1 {
					for ; n > 1 && len(row) < maxColumns; n-- {
						row = append(row, nil)
						r.d.load.pieces++
					}
				}
				return err
			})
			r.d.load.pieces++
			t.Rows = append(t.Rows, row)
			return err
		}
		return nil
	}
	err := s.each(nil, rows)
	t.Head = head
	r.out, r.lists = outer, lists
	*outer = append(*outer, at)
	return err
}

// inBase64 keeps a picture that stands in the document itself, in base 64.
func inBase64(text string) func() (io.ReadCloser, error) {
	return func() (io.ReadCloser, error) {
		clean := strings.Map(func(r rune) rune {
			if r <= ' ' {
				return -1
			}
			return r
		}, text)
		return io.NopCloser(base64.NewDecoder(base64.StdEncoding, strings.NewReader(clean))), nil
	}
}
