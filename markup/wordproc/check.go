package wordproc

import (
	"context"
	"fmt"
	"sort"
	"strings"
	"unicode"

	"bodkin/markup"
)

// Tally counts a text: words are what stands between spaces and holds a letter
// or a figure.
type Tally struct {
	Words   int `json:"words"`
	Letters int `json:"letters"`
}

func (t *Tally) add(o Tally) { t.Words += o.Words; t.Letters += o.Letters }

// tally counts the words and letters of a text.
func tally(s string) (t Tally) {
	inside := false
	for _, r := range s {
		switch {
		case unicode.IsSpace(r):
			inside = false
		case markup.IsLetter(r):
			t.Letters++
			if !inside {
				inside = true
				t.Words++
			}
		}
	}
	return t
}

// Difference is a place where the chapters do not say what the document says.
type Difference struct {
	File     string `json:"file"`
	Line     int    `json:"line"`
	N        int    `json:"paragraph"`
	Document string `json:"document"` // the letters there
	Chapters string `json:"chapters"`
	From     string `json:"from,omitempty"` // the document, where there are several: see Document.Place
}

func (d Difference) String() string {
	at := "in a note"
	if d.N > 0 {
		at = "paragraph " + itoa(d.N)
	}
	if d.From != "" {
		at = d.From + ", " + at
	}
	if d.File != "" {
		at = fmt.Sprintf("%s:%d, %s", d.File, d.Line, at)
	}
	return fmt.Sprintf("%s: the document has %q, the chapters have %q", at, d.Document, d.Chapters)
}

// Comparison holds the words and letters of the document against those of the
// files that were written, as package markup reads them.
type Comparison struct {
	Document    Tally        `json:"document"`
	Chapters    Tally        `json:"chapters"`
	Left        Tally        `json:"left"`   // of what was left out and is listed
	Lists       Tally        `json:"labels"` // of numbers that lists made and names of files, which headings have
	Differences []Difference `json:"differences,omitempty"`
	More        int          `json:"more,omitempty"` // differences beyond those listed
}

// Equal tells whether nothing was lost and nothing added.
func (c *Comparison) Equal() bool { return len(c.Differences) == 0 }

// maxDifferences is how many are listed.
const maxDifferences = 50

// placed is a letter with its place: its paragraph in the document, or its line
// in a file.
type placed struct {
	r rune
	n int32
}

// fileFrom says from which letter on they are those of a file.
type fileFrom struct {
	at   int
	name string
}

// Compare reads the book folder dir, as Files wrote it, and holds its letters
// against those of the document, one by one. The pieces that the book does not
// list are compared as well.
func (m *Manuscript) Compare(ctx context.Context, dir string) (*Comparison, error) {
	if m.doc.Format == "Markdown" {
		return m.compareSource(ctx, dir)
	}
	c := &Comparison{Document: m.doc.tally(), Left: m.left}
	counted := map[int]int{} // letters, by paragraph
	for _, p := range m.Pieces {
		book, err := m.load(ctx, dir, p)
		if err != nil {
			return nil, err
		}
		in := m.letters(p)
		for _, l := range in {
			counted[int(l.n)]++
		}
		c.Chapters.Words += book.Words()
		c.compare(p.File, in, book, m.spot)
	}
	for n, t := range m.labels() {
		c.Lists.add(t)
		counted[n] -= t.Letters
	}
	m.misplaced(c, counted)
	return c, nil
}

// compare holds letters against a file. After a difference it looks for the
// next place where both go on alike.
// found is told the file and line of each letter that is in both.
func (c *Comparison) compare(file string, in []placed, book *markup.Book, found func(n int, s Spot)) {
	var outs []placed    // by their lines
	var files []fileFrom // that they come from
	for r, pos := range book.Letters(true) {
		if k := len(files); k == 0 || files[k-1].name != pos.File {
			files = append(files, fileFrom{len(outs), pos.File})
		}
		outs = append(outs, placed{r, int32(pos.Line)})
	}
	c.Chapters.Letters += len(outs)
	n := int32(0) // the paragraph at hand
	for i, k := 0, 0; i < len(in) || k < len(outs); {
		if i < len(in) && k < len(outs) && in[i].r == outs[k].r {
			if in[i].n != n {
				n = in[i].n
				found(int(n), Spot{fileAt(files, k), int(outs[k].n)})
			}
			i, k = i+1, k+1
			continue
		}
		if c.More > maxDifferences {
			return // it is another text
		}
		a, b := resume(len(in)-i, len(outs)-k, func(x, y int) bool { return in[i+x].r == outs[k+y].r })
		d := Difference{File: file}
		if len(outs) > 0 {
			at := min(k, len(outs)-1)
			d.Line, d.File = int(outs[at].n), fileAt(files, at)
		}
		if i < len(in) {
			d.N = int(in[i].n)
		} else if i > 0 {
			d.N = int(in[i-1].n)
		}
		var x, y strings.Builder
		for _, l := range in[i : i+a] {
			x.WriteRune(l.r)
		}
		for _, l := range outs[k : k+b] {
			y.WriteRune(l.r)
		}
		d.Document, d.Chapters = shorten(x.String()), shorten(y.String())
		c.differ(d)
		i, k = i+a, k+b
	}
}

// fileAt is the file of the letter at i.
func fileAt(files []fileFrom, i int) string {
	k := sort.Search(len(files), func(k int) bool { return files[k].at > i })
	if k == 0 {
		return ""
	}
	return files[k-1].name
}

func (c *Comparison) differ(d Difference) {
	if len(c.Differences) == maxDifferences {
		c.More++
		return
	}
	c.Differences = append(c.Differences, d)
}

// resume finds the least steps on either side after which sixteen letters are
// alike; all that is left where none are.
func resume(n, m int, alike func(i, k int) bool) (int, int) {
	const run, reach = 16, 3000
	for sum := 1; sum <= min(n+m, reach); sum++ {
		for i := 0; i <= sum; i++ {
			k := sum - i
			if i > n || k > m {
				continue
			}
			same := 0
			for same < run && i+same < n && k+same < m && alike(i+same, k+same) {
				same++
			}
			if same == run || same > 0 && i+same == n && k+same == m || i == n && k == m {
				return i, k
			}
		}
	}
	return n, m
}

// letters are those that a piece must have, in the order of markup.Letters:
// heading, blocks, captions, notes. They are taken from the document and from
// nothing that was written.
func (m *Manuscript) letters(p *Piece) []placed {
	var all []placed
	put := func(n int, s string) {
		for _, r := range s {
			if markup.IsLetter(r) {
				all = append(all, placed{r, int32(n)})
			}
		}
	}
	var notes []int
	known := map[int]bool{}
	paragraph := func(q *Paragraph, inNote bool) {
		for _, r := range q.Runs {
			put(q.N, r.Text)
			if r.Note > 0 && !inNote && !known[r.Note] {
				known[r.Note] = true
				notes = append(notes, r.Note)
			}
		}
	}
	ofHeading := func(q *Paragraph) {
		if q.Item != nil && q.Item.Ordered {
			put(q.N, q.Item.Label)
		}
		paragraph(q, false)
	}
	for _, h := range p.head {
		ofHeading(h)
	}
	var captions []*Paragraph
	for _, b := range p.blocks {
		for _, q := range b.paras {
			switch {
			case q == nil:
			case b.kind == heading:
				ofHeading(q)
			case q.Table != nil:
				for _, row := range q.Table.Rows {
					for _, cell := range row {
						for _, x := range cell {
							paragraph(x, false)
						}
					}
				}
			default:
				paragraph(q, false)
			}
		}
		if b.caption != nil {
			captions = append(captions, b.caption)
		}
	}
	for _, q := range captions {
		paragraph(q, false)
	}
	for i := 0; i < len(notes); i++ {
		for _, q := range noteParagraphs(m.doc.Notes[notes[i]-1]) {
			paragraph(q, true)
		}
	}
	return all
}

// tally counts all that the document shows.
func (d *Document) tally() (t Tally) {
	for p := range everyParagraph(d.Paragraphs) {
		t.add(tally(p.Text()))
	}
	for _, n := range d.Notes {
		for p := range everyParagraph(n.Paragraphs) {
			t.add(tally(p.Text()))
		}
	}
	return t
}

// labels counts, by paragraph, the numbers that lists make for headings, and the
// headings that are names of files.
func (m *Manuscript) labels() map[int]Tally {
	all := map[int]Tally{}
	add := func(p *Paragraph) {
		t := all[p.N]
		if p.byName {
			t.add(tally(p.Text()))
		}
		if p.Item != nil && p.Item.Ordered {
			t.add(tally(p.Item.Label))
		}
		all[p.N] = t
	}
	for _, p := range m.Pieces {
		for _, h := range p.head {
			add(h)
		}
		for _, b := range p.blocks {
			if b.kind == heading {
				add(b.paras[0])
			}
		}
	}
	return all
}

// load reads the file of a piece.
func (m *Manuscript) load(ctx context.Context, dir string, p *Piece) (*markup.Book, error) {
	// the book has a name, so that no heading is taken for it
	src := markup.Source{Dir: dir, Title: "-", Author: "-", Language: m.Language, Body: []string{p.File}, Unfinished: true}
	switch {
	case p.Matter == markup.Front && p.Role != Aside:
		src.Front, src.Body = src.Body, nil
	case p.Matter == markup.Back:
		src.Back, src.Body = src.Body, nil
	}
	book, err := markup.Load(ctx, src)
	if err != nil {
		return nil, fmt.Errorf("what was written cannot be read again: %w", err)
	}
	return book, nil
}

// misplaced names the paragraphs of which the pieces have fewer letters than the
// document, or more, and that were not left out. A note can be called twice.
func (m *Manuscript) misplaced(c *Comparison, counted map[int]int) {
	hold := func(p *Paragraph, before string, times int) {
		text := p.Text()
		n := tally(text).Letters
		switch want := n - m.dropped[p.N]; {
		case counted[p.N] == want*times:
		case counted[p.N] > want*times:
			c.differ(Difference{N: p.N, Document: before + shorten(text), Chapters: before + shorten(text) + " (more than once)"})
		case counted[p.N] == 0:
			c.differ(Difference{N: p.N, Document: before + shorten(text)})
		default:
			c.differ(Difference{N: p.N, Document: before + shorten(text), Chapters: "a part of it"})
		}
	}
	for p := range everyParagraph(m.doc.Paragraphs) {
		if p.Table == nil {
			hold(p, "", 1)
		}
	}
	for i, n := range m.doc.Notes {
		for _, p := range noteParagraphs(n) {
			times := 1
			if k := tally(p.Text()).Letters; k > 0 && counted[p.N] > k {
				times = counted[p.N] / k
			}
			hold(p, "note "+itoa(i+1)+": ", times)
		}
	}
}
