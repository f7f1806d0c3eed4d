package wordproc

import (
	"regexp"
	"strconv"
	"strings"

	"bodkin/markup"
)

// File is a file of the book folder.
type File struct {
	Name string // with forward slashes, from the book folder
	Data []byte
}

// writer writes one piece as Markdown.
type writer struct {
	m        *Manuscript
	b        strings.Builder
	french   bool
	entities bool // characters of markup as references: there are too many of them

	notes  []int       // of the document, in the order of their references here
	known  map[int]int // their numbers here
	inNote bool
	later  []*Paragraph // pictures that follow the block

	underlines, spaced, struck, capitals, lists, mended, foreign counted
}

// counted is how often something was changed, and where first.
type counted struct {
	n     int
	first Finding
}

func (w *writer) count(c *counted, p *Paragraph, text string) {
	if w.entities || strings.TrimSpace(text) == "" {
		return
	}
	if c.n++; c.n == 1 {
		c.first = Finding{N: p.N, Text: shorten(text)}
	}
}

func (c *counted) add(p *Paragraph) {
	if c.n++; c.n == 1 {
		c.first = Finding{N: p.N, Text: shorten(p.shown())}
	}
}

// The changes of look, as they are reported.
const (
	changedUnderline = "underlines that became emphasis"
	changedSpaced    = "letterspaced words that became emphasis"
	changedStruck    = "text that was struck out, and is not"
	changedCapitals  = "capitals by format that became small capitals"
	changedSides     = "lines at the right that are set as text"
	changedFaces     = "paragraphs in a face of their own, which the chapters do not have"
	changedLists     = "numbers of lists in letters or numerals that became figures"
	changedMarks     = "opening marks before elided words that became apostrophes"
	changedLanguage  = "stretches that the document marks as of another language, and that are divided by its rules"
)

// Files are the pieces, each as one Markdown file. The pictures are not among
// them (see [Manuscript.Pictures]).
func (m *Manuscript) Files() []File {
	files := make([]File, len(m.Pieces))
	for i, p := range m.Pieces {
		files[i] = File{p.File, []byte(p.text)}
	}
	return files
}

var remark = regexp.MustCompile(`(?s)<!--.*?-->`)

// write writes the pieces, and drops those of which nothing is left.
func (m *Manuscript) write() {
	kinds := [...]string{changedUnderline, changedSpaced, changedStruck, changedCapitals, changedLists, changedMarks, changedLanguage, changedSides, changedFaces}
	var sums [len(kinds)]counted
	var kept []*Piece
	for _, p := range m.Pieces {
		w := &writer{m: m, known: map[int]int{}, french: primary(m.Language) == "fr"}
		p.text = w.piece(p)
		for i, c := range [...]counted{w.underlines, w.spaced, w.struck, w.capitals, w.lists, w.mended, w.foreign} {
			if sums[i].n == 0 {
				sums[i].first = c.first
			}
			sums[i].n += c.n
		}
		if strings.TrimSpace(remark.ReplaceAllString(p.text, "")) != "" {
			kept = append(kept, p)
		}
	}
	m.Pieces = kept
	sums[len(kinds)-2], sums[len(kinds)-1] = m.sides, m.faces
	for i, kind := range kinds {
		if sums[i].n > 0 {
			m.Changed = append(m.Changed, Change{Kind: kind, Times: sums[i].n, N: sums[i].first.N, Text: sums[i].first.Text})
		}
	}
}

// Change is a look that the chapters have in another form.
type Change struct {
	Kind  string `json:"kind"`
	Times int    `json:"times"`
	N     int    `json:"paragraph"` // of the first
	Text  string `json:"text"`
	From  string `json:"from,omitempty"` // the document, where there are several: see Document.Place
	Spot
}

func (w *writer) piece(p *Piece) string {
	if len(p.head) > 0 {
		if text := w.headText(p); text != "" {
			w.b.WriteString("# " + text + "\n")
		}
		for _, h := range p.head {
			w.pictures(h, nil)
		}
	}
	for i := range p.blocks {
		before := w.b.Len()
		if before > 0 {
			w.b.WriteByte('\n')
		}
		at := w.b.Len()
		w.block(&p.blocks[i], i > 0 && p.blocks[i-1].kind == list)
		if w.b.Len() == at && before > 0 { // nothing came of it
			s := w.b.String()[:before]
			w.b.Reset()
			w.b.WriteString(s)
		}
		later := w.later
		w.later = nil
		for _, q := range later {
			w.pictures(q, nil)
		}
	}
	w.definitions()
	return w.b.String()
}

// headText is the heading of a piece: its number and its title in one line.
func (w *writer) headText(p *Piece) string {
	var parts []string
	for _, h := range p.head {
		if h.Raw != "" {
			parts = append(parts, h.Raw)
			continue
		}
		if bare := betweenSigns(h.Text()); bare != h.Text() && len(h.Runs) == 1 && h.Item == nil {
			if s, ok := says(w.m.Language, bare); ok && s.title == "" { // "- 7 -": the setting has its own signs
				parts = append(parts, string(w.escape(nil, bare, inHeading)))
				continue
			}
		}
		if t := w.headingText(h); t != "" {
			parts = append(parts, t)
		}
	}
	line := joined(w.m.Language, parts...)
	if len(p.head) == 1 && p.head[0].Raw != "" {
		if p.Role == Part && !strings.Contains(line, ".part") {
			if s, ok := says(w.m.Language, p.Title); !ok || !s.part {
				line += " {.part}"
			}
		}
		return line
	}
	line = ending(line)
	switch s, ok := says(w.m.Language, p.Title); {
	case p.Role == Part && (!ok || !s.part || !s.worded):
		line += " {.part}"
	case p.Role == Chapter && p.Matter == markup.Body && ok && s.part && s.worded:
		line += " {.chapter}"
	}
	return line
}

// wholeLooks are those that say nothing where all of a line has them: what the
// line is says it.
var wholeLooks = [...]Style{Emphasis, Strong, SmallCaps, Capitals, Underline, Spaced}

// headingText is the text of one heading, with the number that its list gives
// it.
func (w *writer) headingText(h *Paragraph) string {
	base := Style(0)
	for _, s := range wholeLooks {
		if h.all(s) {
			base |= s
		}
	}
	runs := h.Runs
	if base&Emphasis != 0 { // all of it: spans would make it upright among italics
		runs = make([]Run, len(h.Runs))
		for i, r := range h.Runs {
			r.Style |= Emphasis
			runs[i] = r
		}
	}
	var parts []string
	if h.Item != nil && h.Item.Label != "" && h.Item.Ordered {
		parts = append(parts, string(w.escape(nil, strings.TrimSpace(h.Item.Label), inHeading)))
	}
	for _, l := range w.spans(h, runs, base) {
		if t := w.markdown(l, inHeading); t != "" {
			if k := len(parts); k > 0 {
				_, ok := says(w.m.Language, parts[k-1])
				if (ok || t[0] >= '0' && t[0] <= '9') && !strings.ContainsAny(parts[k-1][len(parts[k-1])-1:], ".:") && !isWordAlone(w.m.Language, parts[k-1]) {
					parts[k-1] += ":"
				}
			}
			parts = append(parts, t)
		}
	}
	return strings.Join(parts, " ")
}

// text is a paragraph as lines of Markdown, without the ends of lines between
// paragraphs: "" where nothing is left of it.
func (w *writer) text(p *Paragraph, base Style) []string {
	lines := w.lines(p, base, inText)
	var out []string // paragraphs: two forced line ends part them
	var now []string
	for _, l := range lines {
		if l == "" {
			if len(now) > 0 {
				out = append(out, strings.Join(now, "\\\n"))
				now = nil
			}
			continue
		}
		now = append(now, beginning(l))
	}
	if len(now) > 0 {
		out = append(out, strings.Join(now, "\\\n"))
	}
	if hasPicture(p) {
		w.later = append(w.later, p)
	}
	return out
}

// maxSigns is how many characters of markup a paragraph may have before they
// are written as references; package markup allows 4000.
const maxSigns = 3000

func (w *writer) lines(p *Paragraph, base Style, in site) []string {
	write := func() (lines []string, signs int) {
		for _, l := range w.spans(p, p.Runs, base) {
			s := w.markdown(l, in)
			if bare, ok := strings.CutSuffix(s, `\\`); ok {
				s = bare + "&#92;" // the sign of a forced line end would stand beside it
			}
			signs += strings.Count(s, "*") + strings.Count(s, "_") + strings.Count(s, "[") + strings.Count(s, "]") + strings.Count(s, "`") + strings.Count(s, "<")
			lines = append(lines, s)
		}
		return
	}
	lines, signs := write()
	if signs > maxSigns {
		w.entities = true
		if lines, signs = write(); signs > maxSigns {
			plain := *p
			plain.Runs = nil
			for _, r := range p.Runs { // more changes of look than a reader can see
				r.Style, r.Lang, r.Link = 0, "", ""
				plain.Runs = append(plain.Runs, r)
			}
			p = &plain
			lines, _ = write()
		}
		w.entities = false
	}
	return lines
}

// refer numbers a reference to a note in the piece; 0 for a note without text.
func (w *writer) refer(note int, p *Paragraph) int {
	if n := w.known[note]; n > 0 {
		return n // written a second time, with fewer marks
	}
	full := false
	for _, q := range w.m.doc.Notes[note-1].Paragraphs {
		full = full || strings.TrimFunc(q.Text(), isBlank) != "" || q.Table != nil
	}
	if !full || w.inNote {
		if !w.entities {
			w.m.Left = append(w.m.Left, Finding{Kind: KindNote, N: p.N, Text: "note " + strconv.Itoa(note)})
		}
		return 0
	}
	w.notes = append(w.notes, note)
	w.known[note] = len(w.notes)
	return len(w.notes)
}

// definitions writes the notes at the end of the piece, and for a piece of
// Markdown those that it refers to.
func (w *writer) definitions() {
	w.inNote = true
	for i := 0; i < len(w.notes); i++ {
		mark := "[^" + strconv.Itoa(i+1) + "]: "
		first := true
		w.b.WriteByte('\n')
		for _, q := range noteParagraphs(w.m.doc.Notes[w.notes[i]-1]) {
			for _, t := range w.text(q, w.m.profile.look) {
				if !first {
					w.b.WriteString("\n    ")
				} else {
					w.b.WriteString(mark)
				}
				first = false
				w.b.WriteString(strings.ReplaceAll(t, "\n", "\n    ") + "\n")
			}
		}
		for _, q := range w.later {
			w.m.leavePictures(q, "a note cannot hold one")
		}
		w.later = nil
	}
	w.inNote = false
	w.references()
}

// noteParagraphs are the paragraphs of a note; those of its tables in order.
func noteParagraphs(n *Note) []*Paragraph {
	var all []*Paragraph
	for p := range everyParagraph(n.Paragraphs) {
		if p.Table == nil {
			all = append(all, p)
		}
	}
	return all
}

// labelled is a reference by a label.
var labelled = regexp.MustCompile(`\[(\^?[^\[\]]+)\]`)

// references adds the definitions that a piece of Markdown uses: its notes,
// and then its addresses.
func (w *writer) references() {
	if len(w.m.doc.references) == 0 {
		return
	}
	var notes, addresses []string
	done := map[string]bool{}
	texts := []string{w.b.String()}
	for i := 0; i < len(texts); i++ {
		for _, m := range labelled.FindAllStringSubmatch(texts[i], -1) {
			label := strings.ToLower(m[1])
			text := w.m.doc.references[label]
			if text == "" || done[label] {
				continue
			}
			done[label] = true
			texts = append(texts, text)
			if label[0] == '^' {
				notes = append(notes, text)
			} else {
				addresses = append(addresses, text)
			}
		}
	}
	for _, text := range append(notes, addresses...) {
		w.b.WriteString("\n" + text + "\n")
	}
}
