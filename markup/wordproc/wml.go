package wordproc

import (
	"context"
	"net/url"
	"path"
	"strings"
)

// The relationships of a package that are followed (ISO/IEC 29500-1, 15.2),
// by the end of their type, which transitional and strict form share.
const (
	relDocument  = "/officeDocument"
	relCore      = "/core-properties"
	relStyles    = "/styles"
	relNumbering = "/numbering"
	relFootnotes = "/footnotes"
	relEndnotes  = "/endnotes"
	relComments  = "/comments"
	relHeader    = "/header"
	relFooter    = "/footer"
)

// relation is what a part refers to.
type relation struct {
	kind, target string
	external     bool
}

// relations reads what a part refers to, by identifier. Targets inside the
// package come as names of parts.
func (p *packed) relations(part string) (map[string]relation, error) {
	dir, base := path.Split(part)
	rels := path.Join(dir, "_rels", base+".rels")
	all := map[string]relation{}
	if !p.has(rels) {
		return all, nil
	}
	err := p.xml(rels, func(s *scanner, _ element) error {
		return s.each(nil, func(e element) error {
			if e.name != "rel:Relationship" {
				return nil
			}
			r := relation{kind: e.attr("Type"), target: e.attr("Target"), external: strings.EqualFold(e.attr("TargetMode"), "External")}
			if !r.external {
				target := r.target
				if u, err := url.PathUnescape(target); err == nil && !p.has(path.Join(dir, target)) {
					target = u
				}
				if strings.HasPrefix(target, "/") {
					target = path.Clean(target[1:])
				} else {
					target = path.Join(dir, target)
				}
				if !isInside(target) && !strings.HasPrefix(r.target, "#") {
					return s.fault("a relationship leads out of the package: "+shorten(r.target), nil)
				}
				r.target = target
			}
			p.load.pieces++
			all[e.attr("Id")] = r
			return nil
		})
	})
	return all, err
}

// wml reads a package of WordprocessingML.
type wml struct {
	ctx  context.Context
	p    *packed
	d    *Document
	main string // the part with the text

	styles    *wmlStyles
	numbers   *numbering
	relations map[string]relation // of the part that is being read
	comments  map[string]string
	notes     map[string]*Note // by kind and identifier
	pictures  map[string]int   // by part

	places
	out     *[]*Paragraph // where paragraphs go
	b       *builder
	fields  []wmlField
	page    bool // the next paragraph begins on a page of its own
	section int  // where in the text the present section begins
	joined  *openEnd
}

// wmlField is a complex field (17.16.18) that has begun.
type wmlField struct {
	instruction []byte
	result      bool
	kind, link  string
	shown       []byte
}

// readWML reads the document of an open package.
func readWML(ctx context.Context, p *packed, d *Document) error {
	r := &wml{ctx: ctx, p: p, d: d, styles: &wmlStyles{}, numbers: &numbering{}, notes: map[string]*Note{}, pictures: map[string]int{}}
	root, err := p.relations("")
	if err != nil {
		return err
	}
	core := ""
	for _, rel := range root {
		switch {
		case strings.HasSuffix(rel.kind, relDocument):
			r.main = rel.target
		case strings.HasSuffix(rel.kind, relCore):
			core = rel.target
		}
	}
	if r.main == "" || !p.has(r.main) {
		return &Error{File: p.name, What: "the package names no document", Mend: "save the document again where it was written"}
	}
	if core != "" && p.has(core) {
		if err := r.core(core); err != nil {
			return err
		}
	}
	if err := r.parts(); err != nil {
		return err
	}
	d.Format = "WordprocessingML"
	r.out = &d.Paragraphs
	err = p.xml(r.main, func(s *scanner, e element) error {
		if e.name != "w:document" {
			return s.fault("this is a "+shorten(e.name)+", and no text", nil)
		}
		return s.each(nil, func(e element) error {
			if e.name != "w:body" {
				return nil
			}
			return r.blocks(s)
		})
	})
	r.endFields()
	return err
}

func (r *wml) core(part string) error {
	return r.p.xml(part, func(s *scanner, _ element) error {
		return s.fields(map[string]*string{"dc:title": &r.d.Title, "dc:creator": &r.d.Author, "dc:language": &r.d.Language})
	})
}

// parts reads what the text refers to before the text itself.
func (r *wml) parts() error {
	rels, err := r.p.relations(r.main)
	if err != nil {
		return err
	}
	find := func(kind string) string {
		for _, rel := range rels {
			if strings.HasSuffix(rel.kind, kind) && !rel.external && r.p.has(rel.target) {
				return rel.target
			}
		}
		return ""
	}
	if part := find(relStyles); part != "" {
		if err := r.p.xml(part, func(s *scanner, _ element) (err error) { r.styles, err = readWMLStyles(s); return }); err != nil {
			return err
		}
	}
	if part := find(relNumbering); part != "" {
		if err := r.p.xml(part, func(s *scanner, _ element) (err error) { r.numbers, err = readWMLNumbering(s); return }); err != nil {
			return err
		}
	}
	if part := find(relComments); part != "" {
		if err := r.readComments(part); err != nil {
			return err
		}
	}
	for _, kind := range []string{relFootnotes, relEndnotes} {
		if part := find(kind); part != "" {
			if err := r.readNotes(part); err != nil {
				return err
			}
		}
	}
	if err := r.furniture(rels); err != nil {
		return err
	}
	r.relations = rels
	return nil
}

func (r *wml) readComments(part string) error {
	r.comments = map[string]string{}
	return r.p.xml(part, func(s *scanner, _ element) error {
		return s.each(nil, func(e element) error {
			if e.name != "w:comment" {
				return nil
			}
			r.d.load.pieces++
			id := e.attr("w:id")
			t, err := paragraphsText(s)
			r.comments[id] = t
			return err
		})
	})
}

// furniture lists what headers and footers say, once for each text.
func (r *wml) furniture(rels map[string]relation) error {
	seen := map[string]bool{}
	for _, id := range sortedKeys(rels) {
		rel := rels[id]
		if !strings.HasSuffix(rel.kind, relHeader) && !strings.HasSuffix(rel.kind, relFooter) || rel.external || !r.p.has(rel.target) {
			continue
		}
		if err := r.p.xml(rel.target, func(s *scanner, _ element) error {
			t, err := paragraphsText(s)
			if t = strings.TrimSpace(t); t != "" && !seen[t] {
				seen[t] = true
				r.d.found(KindHeader, 0, t)
			}
			return err
		}); err != nil {
			return err
		}
	}
	return nil
}

// paragraphsText is the plain text of the paragraphs in the element that began
// last.
func paragraphsText(s *scanner) (string, error) {
	var b strings.Builder
	var in func(element) error
	write := func(t []byte) { b.Write(t) }
	in = func(e element) error {
		switch e.name {
		case "w:t", "w:delText":
			return s.each(write, nil)
		case "w:p", "w:tab", "w:br":
			b.WriteByte(' ')
		case "mc:Fallback":
			return nil
		}
		return s.each(nil, in)
	}
	err := s.each(nil, in)
	return strings.TrimSpace(b.String()), err
}

// readNotes reads footnotes or endnotes (17.11). Those with a type are the
// lines that separate them from the text.
func (r *wml) readNotes(part string) error {
	rels, err := r.p.relations(part)
	if err != nil {
		return err
	}
	outer := r.relations
	r.relations, r.inNote = rels, true
	defer func() { r.relations, r.inNote = outer, false }()
	return r.p.xml(part, func(s *scanner, _ element) error {
		return s.each(nil, func(e element) error {
			if e.name != "w:footnote" && e.name != "w:endnote" {
				return nil
			}
			if t := e.attr("w:type"); t != "" && t != "normal" {
				return nil
			}
			r.d.load.pieces++
			note := &Note{}
			r.notes[e.name+" "+e.attr("w:id")] = note
			r.out = &note.Paragraphs
			defer func() { r.out = nil }()
			return r.blocks(s)
		})
	})
}

// blocks reads paragraphs and tables, through what may stand around them.
func (r *wml) blocks(s *scanner) error {
	err := s.each(nil, func(e element) error { return r.block(s, e) })
	r.endJoined()
	return err
}

func (r *wml) block(s *scanner, e element) error {
	if err := cancelled(r.ctx); err != nil {
		return err
	}
	switch e.name {
	case "w:p":
		return r.paragraph(s)
	case "w:tbl":
		return r.table(s)
	case "w:sdt":
		return r.control(s, func() error { return r.blocks(s) })
	case "w:customXml", "w:smartTag", "w:ins", "w:moveTo":
		return r.blocks(s)
	case "w:del", "w:moveFrom":
		t, err := paragraphsText(s)
		r.d.found(KindDeletion, r.n+1, t)
		return err
	case "mc:AlternateContent":
		return alternatives(s, func(e element) error { return r.block(s, e) })
	case "w:sectPr":
		_, err := r.endSection(s)
		return err
	case "w:altChunk":
		r.d.found(KindEmbedded, r.n+1, "a document inside the document")
	}
	return nil
}

// alternatives reads the first of the contents that are offered for each other
// (ISO/IEC 29500-3).
func alternatives(s *scanner, child func(element) error) error {
	taken := false
	return s.each(nil, func(e element) error {
		if taken || e.name != "mc:Choice" && e.name != "mc:Fallback" {
			return nil
		}
		taken = true
		return s.each(nil, child)
	})
}

// control reads a content control (17.5.2): what stands in it, unless that is
// no more than a prompt for what should.
func (r *wml) control(s *scanner, content func() error) error {
	prompt := false
	return s.each(nil, func(e element) error {
		switch e.name {
		case "w:sdtPr":
			return s.each(nil, func(e element) error {
				prompt = prompt || e.name == "w:showingPlcHdr" && isOn(e.attr("w:val"), true)
				return nil
			})
		case "w:sdtContent":
			if !prompt {
				return content()
			}
			t, err := paragraphsText(s)
			r.d.found(KindPrompt, r.n, t)
			return err
		}
		return nil
	})
}

// endSection reads the properties of the section that ends here: they say how
// it began.
func (r *wml) endSection(s *scanner) (page bool, err error) {
	kind, width, left, right := "nextPage", 0, 0, 0
	err = s.each(nil, func(e element) error {
		switch e.name {
		case "w:type":
			kind = e.attr("w:val")
		case "w:pgSz":
			width, _ = twips(e, "w:w")
		case "w:pgMar":
			left, _ = twips(e, "w:left")
			right, _ = twips(e, "w:right")
		}
		return nil
	})
	if w := width - left - right; r.d.TextWidth == 0 && w > 0 {
		r.d.TextWidth = w
	}
	page = kind != "continuous" && kind != "nextColumn"
	if ps := r.d.Paragraphs; page && r.section > 0 && r.section < len(ps) {
		ps[r.section].PageBefore = true
	}
	r.section = len(r.d.Paragraphs)
	return page, err
}
