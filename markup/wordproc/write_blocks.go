package wordproc

import (
	"strconv"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

func decompose(s string) string { return norm.NFD.String(s) }

// block writes one block, with a line end behind it.
func (w *writer) block(b *block, afterList bool) {
	switch b.kind {
	case sceneBreak:
		w.b.WriteString("* * *\n")
	case prose:
		w.paragraphs(b.paras, "", w.m.profile.look)
	case heading:
		p := b.paras[0]
		text := p.Raw
		if text == "" {
			text = ending(w.headingText(p))
		}
		if text != "" {
			w.b.WriteString(strings.Repeat("#", b.level) + " " + text + "\n")
		}
		w.pictures(p, nil)
	case quotation:
		if b.held {
			w.heldLines(b.paras)
			return
		}
		w.paragraphs(b.paras, "> ", 0)
	case letter:
		w.b.WriteString("```letter\n")
		w.paragraphs(b.paras, "", 0)
		w.b.WriteString("```\n")
	case verse:
		w.verse(b)
	case sign:
		w.sign(b.paras)
	case dateline:
		w.dateline(b.paras[0])
	case list:
		w.list(b, afterList)
	case table:
		w.table(b.paras[0])
	case picture:
		w.pictures(b.paras[0], b.caption)
	case raw:
		w.b.WriteString(w.m.withPictures(b.paras[0].Raw) + "\n")
	}
}

// paragraphs writes paragraphs with an empty line between them. In quotations
// the look of the style is the book's own.
func (w *writer) paragraphs(ps []*Paragraph, prefix string, base Style) {
	first := true
	for i, p := range ps {
		if p == nil {
			continue
		}
		look := base
		if prefix != "" {
			look = p.Look & (Emphasis | Strong)
		}
		for _, t := range w.text(p, look) {
			if !first {
				w.b.WriteString(strings.TrimRight(prefix, " ") + "\n")
			}
			first = false
			if rest, ok := strings.CutPrefix(t, `\- `); ok && prefix != "" && i > 0 && i == len(ps)-1 {
				t = "-- " + rest // who said it
			}
			w.b.WriteString(prefix + strings.ReplaceAll(t, "\n", "\n"+prefix) + "\n")
		}
	}
}

// heldLines writes short paragraphs of a quotation as the lines of one.
func (w *writer) heldLines(ps []*Paragraph) {
	var out []string
	for _, p := range ps {
		if p == nil {
			if k := len(out) - 1; k >= 0 && out[k] != "" {
				out = append(out, "")
			}
			continue
		}
		for _, l := range w.lines(p, p.Look&(Emphasis|Strong), inText) {
			if l != "" {
				out = append(out, beginning(l))
			}
		}
	}
	for i, l := range out {
		switch {
		case l == "":
			w.b.WriteString(">\n")
		case i+1 < len(out) && out[i+1] != "":
			w.b.WriteString("> " + l + "\\\n")
		default:
			w.b.WriteString("> " + l + "\n")
		}
	}
}

// verse writes lines in a fence. A paragraph of one line is a line of its
// stanza, one of several is a stanza.
func (w *writer) verse(b *block) {
	least, leastTyped := -1, -1
	for _, p := range b.paras {
		if p == nil {
			continue
		}
		if left := p.Left + max(p.First, 0); least < 0 || left < least {
			least = left
		}
		for l := range strings.SplitSeq(p.Text(), "\n") {
			if strings.TrimSpace(l) != "" && (leastTyped < 0 || indent(l) < leastTyped) {
				leastTyped = min(indent(l), 20)
			}
		}
	}
	var out []string
	gap := func() {
		if len(out) > 0 && out[len(out)-1] != "" {
			out = append(out, "")
		}
	}
	several := false
	for _, p := range b.paras {
		if p == nil {
			gap()
			continue
		}
		lines := w.lines(p, p.Look&(Emphasis|Strong), inText)
		if len(lines) > 1 || several {
			gap()
		}
		several = len(lines) > 1
		margin := min((p.Left+max(p.First, 0)-least)/120, 20)
		indents := typedIndents(p)
		for i, l := range lines {
			if l == "" {
				gap()
				continue
			}
			n := margin
			if i < len(indents) {
				n += max(indents[i]-leastTyped, 0)
			}
			out = append(out, strings.Repeat(" ", n)+l)
		}
		if hasPicture(p) {
			w.later = append(w.later, p)
		}
	}
	for len(out) > 0 && out[len(out)-1] == "" {
		out = out[:len(out)-1]
	}
	if len(out) == 0 {
		return
	}
	w.b.WriteString("```verse\n" + strings.Join(out, "\n") + "\n```\n")
}

// typedIndents are the spaces that the lines of a paragraph are typed in by.
func typedIndents(p *Paragraph) []int {
	var all []int
	for l := range strings.SplitSeq(p.Text(), "\n") {
		all = append(all, min(indent(l), 20))
	}
	return all
}

// list writes the items of a list, those of a deeper level below theirs.
func (w *writer) list(b *block, afterList bool) {
	var widths [10]int // of the marks, by level
	var numbers [10]int
	point := "."
	bullet := "-"
	if afterList { // another sign, so that it is another list
		point, bullet = ")", "+"
	}
	previous := -1
	for k, p := range b.paras {
		it := p.Item
		level := min(it.Level, previous+1, 8)
		if it.More {
			level = min(it.Level, max(previous, 0))
		}
		margin := 0
		for i := range level {
			margin += widths[i]
		}
		texts := w.text(p, w.m.profile.look)
		if len(texts) == 0 {
			continue
		}
		mark := bullet + " "
		if it.Ordered {
			n := it.Number
			if level <= previous && numbers[level] > 0 && n <= numbers[level] {
				n = numbers[level] + 1
			}
			numbers[level] = n
			if strings.IndexFunc(it.Label, unicode.IsLetter) >= 0 {
				w.count(&w.lists, p, it.Label)
			}
			mark = strconv.Itoa(n) + point + " "
		}
		indent := strings.Repeat(" ", margin)
		if it.More && previous >= 0 {
			indent += strings.Repeat(" ", widths[level])
			w.b.WriteByte('\n')
			mark = ""
		} else {
			if k > 0 && level > previous && previous >= 0 {
				numbers[level] = it.Number
			}
			widths[level] = len(mark)
			previous = level
		}
		for i := level + 1; i < 10; i++ {
			numbers[i] = 0
		}
		within := indent + strings.Repeat(" ", len(mark))
		for i, t := range texts {
			t = strings.ReplaceAll(t, "\n", "\n"+within)
			if i == 0 {
				w.b.WriteString(indent + mark + t + "\n")
				continue
			}
			w.b.WriteString("\n" + within + t + "\n")
		}
	}
}

// table writes a table of pipes.
func (w *writer) table(p *Paragraph) {
	t := p.Table
	columns := 0
	for _, row := range t.Rows {
		columns = max(columns, len(row))
	}
	aligned := make([]map[Align]int, columns)
	var rows [][]string
	for i, row := range t.Rows {
		cells := make([]string, columns)
		some := false
		for k, c := range row {
			var words []string
			for _, q := range c {
				for _, l := range w.lines(q, q.Look&(Emphasis|Strong), inTable) {
					if l != "" {
						words = append(words, l)
					}
				}
				if i > 0 || !t.Head {
					if aligned[k] == nil {
						aligned[k] = map[Align]int{}
					}
					if strings.TrimSpace(q.Text()) != "" {
						aligned[k][q.Align]++
					}
				}
			}
			cells[k] = strings.Join(words, " ")
			some = some || cells[k] != ""
		}
		if some {
			rows = append(rows, cells)
		} else if i == 0 && t.Head {
			rows = append(rows, cells)
		}
	}
	if len(rows) == 0 {
		return
	}
	if !t.Head {
		rows = append([][]string{make([]string, columns)}, rows...)
	}
	line := func(cells []string) { w.b.WriteString("| " + strings.Join(cells, " | ") + " |\n") }
	line(rows[0])
	marks := make([]string, columns)
	for k := range marks {
		marks[k] = ":--"
		switch a := aligned[k]; {
		case a[End] > a[Start]+a[Centre]:
			marks[k] = "--:"
		case a[Centre] > a[Start]+a[End]:
			marks[k] = ":-:"
		}
	}
	line(marks)
	for _, r := range rows[1:] {
		line(r)
	}
}

// usualWidth is that of the lines of a typescript whose page is not known, in
// twips: six and a half inches (common practice).
const usualWidth = 6*1440 + 720

// pictures writes the pictures of a paragraph, each by itself. The words
// beside them are the caption of the last.
func (w *writer) pictures(p, caption *Paragraph) {
	for _, r := range p.Runs {
		if r.Picture == 0 {
			continue
		}
		pic := w.m.doc.Pictures[r.Picture-1]
		at, ok := w.m.files[r.Picture]
		if w.b.Len() > 0 && !strings.HasSuffix(w.b.String(), "\n\n") {
			w.b.WriteByte('\n')
		}
		if !ok {
			continue
		}
		if at.unset {
			w.b.WriteString("<!-- " + strings.ReplaceAll(at.name, "--", "- -") + " cannot be set: export it as PNG and write ![what it shows](picture.png) here -->\n")
			continue
		}
		w.b.WriteString("![" + string(w.escape(nil, oneLine(pic.Alt), inTitle)) + "](../" + at.name)
		if caption != nil {
			var words []string
			for _, l := range w.lines(caption, caption.Look&(Emphasis|Strong), inTitle) {
				words = append(words, l)
			}
			w.b.WriteString(` "` + strings.Join(words, " ") + `"`)
			caption = nil
		}
		w.b.WriteString(")")
		width := w.m.doc.TextWidth
		if width == 0 {
			width = usualWidth
		}
		if pic.Width > 0 && pic.Width*100 < width*95 {
			w.b.WriteString("{width=" + strconv.Itoa(max(pic.Width*100/width, 1)) + "%}")
		}
		w.b.WriteByte('\n')
	}
}
