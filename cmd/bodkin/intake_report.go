package main

import (
	"fmt"
	"io"
	"maps"
	"path/filepath"
	"slices"
	"strings"

	"bodkin/markup/wordproc"
)

// intakeReport is what intake prints; its JSON keys are stable.
type intakeReport struct {
	Document string `json:"document"`
	Format   string `json:"format"`
	Folder   string `json:"folder"`
	Title    string `json:"title"`
	Subtitle string `json:"subtitle,omitempty"`
	Author   string `json:"author,omitempty"`
	Language string `json:"language"`

	Pieces   []intakePiece `json:"pieces"`
	Notes    int           `json:"notes"`
	Pictures int           `json:"pictures"`

	Equal   bool                 `json:"equal"`
	Letters *wordproc.Comparison `json:"letters"`
	Guesses []wordproc.Guess     `json:"guesses"`
	Changed []wordproc.Change    `json:"changed"`
	Left    []wordproc.Finding   `json:"left"`
	Unset   []wordproc.Finding   `json:"unset"` // characters that no face at hand has
	Files   *wordproc.Saved      `json:"files"`

	noCopyright bool
	all         bool
}

// intakePiece is a file of the book.
type intakePiece struct {
	File  string `json:"file"`
	Title string `json:"title,omitempty"`
	Role  string `json:"role"` // chapter, part, front, back; aside for what the book does not list
}

// locate gives the places of the report the names of their documents, where
// there are several.
func (r *intakeReport) locate(d *wordproc.Document) {
	at := func(n *int, from *string) {
		*from, *n = d.Place(*n)
		*from = filepath.Base(*from)
		if *from == "." {
			*from = ""
		}
	}
	for i := range r.Guesses {
		at(&r.Guesses[i].N, &r.Guesses[i].From)
	}
	for i := range r.Left {
		at(&r.Left[i].N, &r.Left[i].From)
	}
	for i := range r.Unset {
		at(&r.Unset[i].N, &r.Unset[i].From)
	}
	for i := range r.Changed {
		at(&r.Changed[i].N, &r.Changed[i].From)
	}
	for i := range r.Letters.Differences {
		at(&r.Letters.Differences[i].N, &r.Letters.Differences[i].From)
	}
}

func (r *intakeReport) of(role string) int {
	n := 0
	for _, p := range r.Pieces {
		if p.Role == role {
			n++
		}
	}
	return n
}

func (r *intakeReport) print(w io.Writer) error {
	var b strings.Builder
	name := r.Title
	if r.Author != "" {
		name += ", " + r.Author
	}
	fmt.Fprintln(&b, name)
	row := func(label, format string, args ...any) {
		fmt.Fprintf(&b, "  %-16s  %s\n", label, fmt.Sprintf(format, args...))
	}
	row("document", "%s (%s, %s)", r.Document, r.Format, r.Language)
	files := count(len(r.Files.Written), "file written", "files written")
	if n := len(r.Files.Unchanged); n > 0 {
		files += ", " + thousands(n) + " as before"
	}
	if n := len(r.Files.Removed); n > 0 {
		files += ", " + thousands(n) + " of an earlier intake removed (" + strings.Join(r.Files.Removed, ", ") + ")"
	}
	if n := len(r.Files.Kept); n > 0 {
		files += ", " + strings.Join(r.Files.Kept, " and ") + " kept as edited since"
	}
	row("folder", "%s: %s", r.Folder, files)
	if len(r.Files.Replaced) > 0 {
		row("replaced", "what you had edited lies in %s", strings.Join(r.Files.Replaced, ", "))
	}
	chapters := count(r.of("chapter"), "chapter", "chapters")
	for _, other := range []struct{ role, one, many string }{
		{"part", "part", "parts"}, {"front", "piece in front", "pieces in front"}, {"back", "piece behind", "pieces behind"},
		{"aside", "file that is no part of the book", "files that are no part of the book"}} {
		if n := r.of(other.role); n > 0 {
			chapters += ", " + count(n, other.one, other.many)
		}
	}
	breaks := 0
	for _, g := range r.Guesses {
		if g.What == wordproc.SceneBreak {
			breaks++
		}
	}
	if breaks > 0 {
		chapters += ", " + count(breaks, "scene break", "scene breaks")
	}
	if r.Notes > 0 {
		chapters += ", " + count(r.Notes, "note", "notes")
	}
	if r.Pictures > 0 {
		chapters += ", " + count(r.Pictures, "picture", "pictures")
	}
	row("found", "%s", chapters)
	l := r.Letters
	row("in the document", "%s words, %s letters", thousands(l.Document.Words), thousands(l.Document.Letters))
	if l.Lists.Letters > 0 {
		row("added", "%s letters: numbers of lists and names of files, in headings", thousands(l.Lists.Letters))
	}
	if l.Left.Letters > 0 {
		row("left out", "%s words, %s letters, listed below", thousands(l.Left.Words), thousands(l.Left.Letters))
	}
	row("in the files", "%s words, %s letters, as read again", thousands(l.Chapters.Words), thousands(l.Chapters.Letters))
	if r.Equal {
		row("compared", "letter by letter: equal")
	} else {
		row("compared", "letter by letter: %s", count(len(l.Differences)+l.More, "difference", "differences"))
		for _, d := range l.Differences {
			fmt.Fprintf(&b, "    %s\n", d)
		}
	}
	r.guesses(&b)
	r.findings(&b)
	r.unset(&b)
	r.lacks(&b)
	fmt.Fprintf(&b, "\nNow set it: bodkin proof %s\n", r.Folder)
	_, err := io.WriteString(w, b.String())
	return err
}

// unset names the characters for which proof will ask for a face.
func (r *intakeReport) unset(b *strings.Builder) {
	if len(r.Unset) == 0 {
		return
	}
	var all []string
	for _, f := range r.Unset {
		all = append(all, spot(f.Spot, f.From, f.N)+saidThere(f.Text))
	}
	b.WriteString("\nCannot be set yet\n")
	r.places(b, r.Unset[0].Kind, all)
	foldAt(b, "  ", "put a face that has them into a folder and name it with --fonts, or write something else")
}

// lacks names what a book needs and the document does not say.
func (r *intakeReport) lacks(b *strings.Builder) {
	var all []string
	if r.Author == "" {
		all = append(all, "the author: write the name in book.toml")
	}
	if r.noCopyright {
		all = append(all, copyrightForm+" is a form for the copyright page: fill it in, then list it behind \"title-page\" in the front of book.toml")
	}
	if len(all) == 0 {
		return
	}
	b.WriteString("\nThe document does not say\n")
	for _, what := range all {
		foldAt(b, "  ", what)
	}
}

// fewPlaces is how many places of a kind are listed without --all.
const fewPlaces = 6

// places lists what was found of a kind.
func (r *intakeReport) places(b *strings.Builder, kind string, all []string) {
	fmt.Fprintf(b, "  %s: %s\n", kind, times(len(all)))
	for i, place := range all {
		if i == fewPlaces && !r.all && len(all) > fewPlaces+1 {
			fmt.Fprintf(b, "    and %s more (--all lists them)\n", thousands(len(all)-i))
			return
		}
		foldAt(b, "    ", place)
	}
}

// guesses lists what was taken for what, with the reason; what the document
// says itself only when all is asked for.
func (r *intakeReport) guesses(b *strings.Builder) {
	places := map[string][]string{}
	var order []string
	for _, g := range r.Guesses {
		if g.Sure && !r.all {
			continue
		}
		if places[g.What] == nil {
			order = append(order, g.What)
		}
		places[g.What] = append(places[g.What], spot(g.Spot, g.From, g.N)+saidThere(g.Text)+": "+g.Reason)
	}
	if len(order) > 0 {
		b.WriteString("\nTaken for what it looks like; please check\n")
	}
	for _, what := range order {
		r.places(b, what, places[what])
	}
}

// findings lists what was changed and what was left out.
func (r *intakeReport) findings(b *strings.Builder) {
	if len(r.Changed) > 0 {
		b.WriteString("\nChanged\n")
	}
	for _, c := range r.Changed {
		fmt.Fprintf(b, "  %s: %s\n    first in %s%s\n", c.Kind, times(c.Times), spot(c.Spot, c.From, c.N), saidThere(c.Text))
	}
	places := map[string][]string{}
	for _, f := range r.Left {
		places[f.Kind] = append(places[f.Kind], paragraph(f.From, f.N)+saidThere(f.Text))
	}
	if len(places) > 0 {
		b.WriteString("\nLeft out, or not as it was\n")
	}
	for _, kind := range slices.Sorted(maps.Keys(places)) {
		r.places(b, kind, places[kind])
	}
}

// spot says where something stands: in the chapters, or where it is in none of
// them, in the document.
func spot(s wordproc.Spot, from string, n int) string {
	if s.File != "" {
		return fmt.Sprintf("%s:%d", s.File, s.Line)
	}
	return paragraph(from, n)
}

// paragraph says where something stands in the document.
func paragraph(from string, n int) string {
	if from != "" {
		from += ", "
	}
	switch {
	case n == 0:
		return from + "the document"
	case n < 0:
		return from + "a note"
	}
	return fmt.Sprintf("%sparagraph %d", from, n)
}

func times(n int) string {
	if n == 1 {
		return "once"
	}
	return thousands(n) + " times"
}

// saidThere quotes the words of a place.
func saidThere(text string) string {
	if text == "" {
		return ""
	}
	return ", “" + text + "”"
}
