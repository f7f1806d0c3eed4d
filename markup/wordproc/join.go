package wordproc

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"sort"
	"strings"

	"bodkin/markup"
)

// ReadAll reads a manuscript in several documents, such as one for each
// chapter, as one: each begins a page. A path may be a folder: its documents
// are read in the order of their names, 2 before 10. One path of one document
// is [Read].
//
// The error is that of Read.
func ReadAll(ctx context.Context, paths []string, o Options) (_ *Document, err error) {
	var files []string
	for _, p := range paths {
		more, err := documentsIn(p)
		if err != nil {
			return nil, err
		}
		files = append(files, more...)
	}
	if len(files) == 1 {
		return Read(ctx, files[0], o)
	}
	whole := &Document{Name: titleFolder(files)}
	var all []*Document
	defer func() {
		if err != nil {
			for _, d := range all {
				d.Close()
			}
		}
	}()
	for _, name := range files {
		d, err := Read(ctx, name, o)
		if err != nil {
			return nil, err
		}
		all = append(all, d)
		if d.Format == "Markdown" {
			return nil, &Error{File: name, What: "this is Markdown, and one of several documents", Mend: "take the others in without it, and put it into the folder of the chapters"}
		}
		whole.join(d)
		if err := whole.overload(); err != nil {
			return nil, err
		}
	}
	whole.speak()
	if err := whole.hear(o); err != nil {
		return nil, err
	}
	whole.close = func() error {
		var errs []error
		for _, d := range all {
			errs = append(errs, d.Close())
		}
		return errors.Join(errs...)
	}
	return whole, nil
}

// documentsIn are the documents that a path means: itself, or those of a
// folder.
func documentsIn(path string) ([]string, error) {
	info, err := os.Stat(path)
	if err != nil || !info.IsDir() {
		return []string{path}, nil // Read says what is wrong with it
	}
	entries, err := os.ReadDir(path)
	if err != nil {
		return nil, &Error{File: path, What: "it cannot be read: " + cause(err), Err: err}
	}
	var other error
	entries = slices.DeleteFunc(entries, func(e fs.DirEntry) bool {
		if e.IsDir() || strings.HasPrefix(e.Name(), ".") || strings.HasPrefix(e.Name(), "~$") {
			return true
		}
		switch ext := strings.ToLower(filepath.Ext(e.Name())); ext {
		case ".docx", ".odt", ".fodt", ".txt":
			return false
		case ".doc", ".docm", ".rtf", ".wpd", ".wps", ".sxw", ".html", ".htm":
			if other == nil {
				other = &Error{File: filepath.Join(path, e.Name()), What: "a document of this kind (" + ext + ") cannot be read, and the folder would be taken in without it", Mend: "save it as .docx or .odt, or move it out of the folder"}
			}
		}
		return true
	})
	if other != nil {
		return nil, other
	}
	if len(entries) == 0 {
		return nil, &Error{File: path, What: "there is no document in this folder", Mend: "name a .docx or .odt file, or a folder of them; a folder of Markdown is a book already: bodkin proof " + path}
	}
	slices.SortFunc(entries, func(a, b fs.DirEntry) int { return markup.Natural(a.Name(), b.Name()) })
	var files []string
	for _, e := range entries {
		files = append(files, filepath.Join(path, e.Name()))
	}
	return files, nil
}

// titleFolder is the folder that the first document lies in: its name may be
// that of the book.
func titleFolder(files []string) string {
	dir := filepath.Dir(files[0])
	if abs, err := filepath.Abs(dir); err == nil {
		return abs
	}
	return dir
}

// start is where a document begins in one that was joined.
type start struct {
	name  string
	n     int // of the last paragraph before it
	noted int // of the last paragraph of a note before it, from 0 down
}

// join adds a document to the end.
func (d *Document) join(o *Document) {
	s := start{name: o.Name}
	if k := len(d.starts); k > 0 {
		s.n, s.noted = d.last, d.lastNoted
	}
	d.starts = append(d.starts, s)
	switch {
	case d.Format == "":
		d.Format = o.Format
	case d.Format != o.Format:
		d.Format = "several formats"
	}
	if len(d.starts) == 1 {
		d.Title, d.Author, d.TextWidth = o.Title, o.Author, o.TextWidth
		d.Language, d.said, d.heard = o.Language, o.said, o.heard
	}
	if d.Title != o.Title {
		d.Title = "" // each has the title of its chapter
	}
	if placeholders[fold(d.Author)] {
		d.Author = o.Author
	}
	pictures, notes := len(d.Pictures), len(d.Notes)
	shift := func(n int) int {
		switch {
		case n > 0:
			d.last = max(d.last, n+s.n)
			return n + s.n
		case n < 0:
			d.lastNoted = min(d.lastNoted, n+s.noted)
			return n + s.noted
		}
		return 0
	}
	renumber := func(ps []*Paragraph) {
		for p := range everyParagraph(ps) {
			p.N = shift(p.N)
			for i := range p.Runs {
				if r := &p.Runs[i]; r.Note > 0 {
					r.Note += notes
				} else if r.Picture > 0 {
					r.Picture += pictures
				}
			}
		}
	}
	renumber(o.Paragraphs)
	for _, n := range o.Notes {
		renumber(n.Paragraphs)
	}
	for _, p := range o.Pictures {
		if p.Name != "" {
			p.Name = stem(o.Name) + "/" + p.Name // each package has names of its own
		}
	}
	if len(o.Paragraphs) > 0 {
		o.Paragraphs[0].PageBefore = true
	}
	for _, f := range o.Findings {
		f.N = shift(f.N)
		if f.N != 0 || !slices.Contains(d.Findings, f) {
			d.Findings = append(d.Findings, f)
		}
	}
	d.Paragraphs = append(d.Paragraphs, o.Paragraphs...)
	d.Notes = append(d.Notes, o.Notes...)
	d.Pictures = append(d.Pictures, o.Pictures...)
	d.load.letters += o.load.letters
	d.load.pieces += o.load.pieces
}

// Place tells in which of several documents a paragraph stands, by its number in
// a report, and its number there. The name is empty where there is one document.
func (d *Document) Place(n int) (name string, there int) {
	k := sort.Search(len(d.starts), func(i int) bool {
		return n > 0 && d.starts[i].n >= n || n < 0 && d.starts[i].noted <= n
	})
	if n == 0 || k == 0 {
		return "", n
	}
	s := d.starts[k-1]
	if n < 0 {
		return s.name, n - s.noted
	}
	return s.name, n - s.n
}

// orderedBy is the number that people give the names of files for their order.
var orderedBy = regexp.MustCompile(`^\d+(\s*[-–_.)]\s*|\s+)(\pL)`)

// untitled adds openings where a document begins without one, and holds text
// that is no page of the front: its name says what the chapter is.
func (m *Manuscript) untitled(ls []*line, open []opening) []opening {
	if len(m.doc.starts) < 2 {
		return open
	}
	at := map[int]string{} // lines that begin a document
	for k, i := 0, 0; k < len(m.doc.starts); k++ {
		for i < len(ls) && ls[i].N <= m.doc.starts[k].n {
			i++
		}
		at[i] = m.doc.starts[k].name
	}
	var begins []int
	for i := range at {
		begins = append(begins, i)
	}
	sort.Ints(begins)
	for k, i := range begins {
		end := len(ls)
		if k+1 < len(begins) {
			end = begins[k+1]
		}
		first := following(ls, i)
		if first < 0 || first >= end || slices.ContainsFunc(open, func(o opening) bool { return i <= o.at && o.at <= first }) {
			continue
		}
		text := ls[i:end]
		if isCopyright(text) || m.isDedication(text) || !holdsProse(text) && wordsIn(text) < 120 {
			continue
		}
		name := titleFromName(orderedBy.ReplaceAllString(stem(at[i]), "$2"))
		p := &Paragraph{N: ls[first].N, Level: 1, Runs: []Run{{Text: nfc(name)}}, PageBefore: true, byName: true}
		l := &line{Paragraph: p, kind: headLine, text: name, byLook: true, used: true}
		s, ok := says(m.Language, name)
		open = append(open, opening{at: i, end: i, head: []*line{l}, text: m.headText([]*line{l}), why: "the document has no heading: this is its name", saying: s, numbers: ok})
	}
	slices.SortStableFunc(open, func(a, b opening) int { return a.at - b.at })
	return open
}
