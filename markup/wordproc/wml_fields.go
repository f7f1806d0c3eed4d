package wordproc

import (
	"strings"
)

// A complex field has an instruction and the text that it shows (17.16.18):
//
//	begin  instruction  separate  text  end

func (r *wml) fieldChar(kind string, p *Paragraph) {
	k := len(r.fields) - 1
	switch kind {
	case "begin":
		if k < maxNesting {
			r.fields = append(r.fields, wmlField{})
		}
	case "separate":
		if k >= 0 && !r.fields[k].result {
			f := &r.fields[k]
			f.result = true
			f.kind, f.link = fieldKind(string(f.instruction))
			if f.kind == "TOC" || f.kind == "INDEX" {
				p.Contents = true
			}
		}
	case "end":
		if k >= 0 {
			f := &r.fields[k]
			shown := string(f.shown)
			r.fields = r.fields[:k]
			r.foundField(f.kind, shown)
		}
	}
}

func (r *wml) instruct(t string) {
	if k := len(r.fields) - 1; k >= 0 && !r.fields[k].result && len(r.fields[k].instruction) < 4096 {
		r.fields[k].instruction = append(r.fields[k].instruction, t...)
	}
}

// shown keeps the first words that a field shows.
func (r *wml) shown(t string) {
	if k := len(r.fields) - 1; k >= 0 && len(r.fields[k].shown) < 200 {
		r.fields[k].shown = append(r.fields[k].shown, t...)
	}
}

// inInstruction tells whether what stands here is part of an instruction.
func (r *wml) inInstruction() bool {
	for i := range r.fields {
		if !r.fields[i].result {
			return true
		}
	}
	return false
}

// inContents tells whether a table of contents or an index goes on.
func (r *wml) inContents() bool {
	for i := range r.fields {
		if k := r.fields[i].kind; k == "TOC" || k == "INDEX" {
			return true
		}
	}
	return false
}

// cancelInstructions ends the instructions that a paragraph leaves open. They
// do not reach over its end, and a damaged one would hide the rest of the book.
func (r *wml) cancelInstructions() {
	for i := range r.fields {
		if !r.fields[i].result {
			r.fields = r.fields[:i]
			return
		}
	}
}

func (r *wml) endFields() { r.fields = nil }

// fieldLink is the address that the field around leads to.
func (r *wml) fieldLink() string {
	for i := len(r.fields) - 1; i >= 0; i-- {
		if r.fields[i].link != "" {
			return r.fields[i].link
		}
	}
	return ""
}

// foundField lists what a field shows, but for those that are no more than
// their text.
func (r *wml) foundField(kind, shown string) {
	switch kind {
	case "", "HYPERLINK", "TOC", "INDEX", "SYMBOL", "QUOTE", "EQ", "INCLUDEPICTURE":
		return
	}
	if strings.TrimSpace(shown) != "" {
		r.d.found(KindField, r.b.n, kind+": "+shown)
	}
}

// fieldKind reads the name of a field, and the address of a hyperlink.
func fieldKind(instruction string) (kind, link string) {
	f := strings.Fields(instruction)
	if len(f) == 0 {
		return "", ""
	}
	kind = strings.ToUpper(f[0])
	if kind == "HYPERLINK" && len(f) > 1 && !strings.HasPrefix(f[1], `\`) {
		link = strings.Trim(f[1], `"“”`)
	}
	return kind, link
}
