package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"bodkin/cmd/bodkin/internal/bookfile"
	"bodkin/cmd/bodkin/internal/strict"
	"bodkin/fonts"
	"bodkin/markup"
	"bodkin/markup/wordproc"

	"github.com/spf13/cobra"
)

func intakeCommand() *cobra.Command {
	var (
		f    intakeFlags
		json bool
	)
	c := &cobra.Command{
		Use:   "intake DOCUMENT... -o DIR",
		Short: "Take a word-processing document into Markdown chapters",
		Long: `Intake reads a manuscript once and leaves a book folder that proofs at once: one
Markdown file for each chapter, pictures, and a book.toml. It reads documents of
ISO/IEC 29500 (.docx) and ISO/IEC 26300 (.odt), and one-file Markdown or plain
text. The document is only read. Several documents, or a folder of them, such as
one for each chapter, make one book in the order in which they are named; those
of a folder in that of their names.

Chapters are found by styles and outline levels, or where there are none by
their look: a new page, "Chapter 7", a short line that is centred or larger.
Scene breaks are found in all the ways that people make them. The report says
why each was taken for one, what was left out, and whether the letters of the
chapters, read again from the files, are those of the document.

A second intake into the same folder writes the same bytes. Chapters that you
have edited since are not written over: intake names them and writes nothing,
unless --force is given. A book.toml that you have edited is always kept.`,
		Example: `  bodkin intake novel.docx -o my-book
  bodkin proof my-book
  bodkin intake one-file-a-chapter -o my-book`,
		Args: atLeast("DOCUMENT"),
		RunE: func(c *cobra.Command, args []string) error {
			r, err := f.run(c, args)
			if err != nil {
				return err
			}
			if json {
				err = writeJSON(c.OutOrStdout(), r)
			} else {
				err = r.print(c.OutOrStdout())
			}
			if err == nil && !r.Equal {
				err = errors.New("the letters of the chapters are not those of the document; the differences are listed in the report")
			}
			return err
		},
	}
	c.Flags().SortFlags = false
	c.Flags().StringVarP(&f.dir, "output", "o", "", "the book folder to write, `DIR`")
	c.Flags().BoolVar(&f.strict, "strict", false, "refuse a document with tracked changes, instead of accepting them all")
	c.Flags().BoolVar(&f.force, "force", false, "write over files that have been edited since the last intake")
	c.Flags().StringVar(&f.language, "language", "", "the book's language, `TAG` such as en-GB, where it is not what the document says")
	c.Flags().BoolVar(&f.all, "all", false, "list every place and reason, not only the first few of each kind")
	c.Flags().BoolVar(&json, "json", false, "print one JSON object")
	return c
}

type intakeFlags struct {
	dir, language      string
	strict, force, all bool
}

func (f *intakeFlags) run(c *cobra.Command, documents []string) (*intakeReport, error) {
	if f.dir == "" {
		return nil, &callError{errors.New("intake needs the folder to write; as in: bodkin intake novel.docx -o my-book")}
	}
	document := strings.Join(documents, ", ")
	done := showProgress(c.ErrOrStderr(), "reading "+filepath.Base(documents[0]))
	defer done()
	d, err := wordproc.ReadAll(c.Context(), documents, wordproc.Options{Strict: f.strict, Language: f.language})
	if err != nil {
		return nil, err
	}
	defer d.Close()
	m := d.Recognise()
	begin, err := beginnings(m)
	if err != nil {
		return nil, err
	}
	saved, compared, err := m.Save(c.Context(), f.dir, begin, f.force)
	if err != nil {
		return nil, err
	}
	r := &intakeReport{Document: document, Format: d.Format, Folder: filepath.ToSlash(filepath.Clean(f.dir)), Title: m.Title, Subtitle: m.Subtitle, Author: m.Author, Language: m.Language,
		Notes: len(d.Notes), Pictures: len(m.Pictures()), Equal: compared.Equal(), Letters: compared,
		Guesses: append([]wordproc.Guess{}, m.Guesses...), Changed: append([]wordproc.Change{}, m.Changed...),
		Left: slices.Concat([]wordproc.Finding{}, m.Left, d.Findings), Unset: append([]wordproc.Finding{}, m.Unset(isInAnyFace())...), Files: saved, all: f.all}
	for _, p := range m.Pieces {
		r.Pieces = append(r.Pieces, intakePiece{p.File, p.Title, roleOf(p)})
	}
	r.noCopyright = !hasCopyright(m)
	r.locate(d)
	return r, nil
}

// isInAnyFace returns what tells whether one of the faces that come along has a
// character.
func isInAnyFace() func(rune) bool {
	library := fonts.Embedded()
	return func(r rune) bool { return len(library.FamiliesWith(r)) > 0 }
}

// roleOf says what a piece is in the report.
func roleOf(p *wordproc.Piece) string {
	switch {
	case p.Role == wordproc.Part:
		return "part"
	case p.Role == wordproc.Aside:
		return "aside"
	case p.Matter == markup.Front:
		return "front"
	case p.Matter == markup.Back:
		return "back"
	}
	return "chapter"
}

// The forms of a new book that a manuscript lacks.
const (
	copyrightForm = "front/copyright.md"
	termsForm     = "printer.toml"
)

func hasCopyright(m *wordproc.Manuscript) bool {
	return slices.ContainsFunc(m.Pieces, func(p *wordproc.Piece) bool { return p.Role == wordproc.Copyright })
}

// beginnings are the files that the author goes on with: book.toml, and the
// forms to fill in.
func beginnings(m *wordproc.Manuscript) ([]wordproc.File, error) {
	toml, err := starter.ReadFile("starter/" + bookfile.Name)
	if err != nil {
		return nil, err
	}
	all := []wordproc.File{{Name: bookfile.Name, Data: bookTOML(m, string(toml))}}
	forms := []string{termsForm}
	if !hasCopyright(m) {
		forms = append(forms, copyrightForm)
	}
	for _, name := range forms {
		form, err := starter.ReadFile("starter/" + name)
		if err != nil {
			return nil, err
		}
		all = append(all, wordproc.File{Name: name, Data: form})
	}
	return all, nil
}

// bookTOML describes the book that was taken in: what it is, and the setting
// that a new book has, with its explanations.
func bookTOML(m *wordproc.Manuscript, starter string) []byte {
	front, back := []string{"half-title", "title-page"}, []string{}
	var titled []string // pieces of the front that have a heading
	chapters, rights := 0, 0
	for _, p := range m.Pieces {
		switch {
		case p.Role == wordproc.Aside:
		case p.Role == wordproc.Copyright: // its place is behind the title page
			front = slices.Insert(front, 2+rights, p.File)
			rights++
		case p.Matter == markup.Front && p.Title != "":
			titled = append(titled, p.File)
		case p.Matter == markup.Front:
			front = append(front, p.File)
		case p.Matter == markup.Back:
			back = append(back, p.File)
		case p.Title != "":
			chapters++
		}
	}
	if chapters > 1 {
		front = append(front, "contents")
	}
	front = append(front, titled...)
	ours, setting, _ := strings.Cut(starter, "\n[setting]\n")
	intro, ours, _ := strings.Cut(ours, "[book]\n")
	var b strings.Builder
	line := func(key, value string) { fmt.Fprintf(&b, "%-8s = %s\n", key, value) }
	b.WriteString(intro + "[book]\n")
	line("title", strict.Quote(m.Title))
	if m.Subtitle != "" {
		line("subtitle", strict.Quote(m.Subtitle))
	}
	line("author", strict.Quote(m.Author))
	line("language", strict.Quote(m.Language)+" # decides hyphenation, quotation marks and words such as Contents")
	line("front", tomlList(front))
	if !hasCopyright(m) {
		fmt.Fprintf(&b, "# %s is a form: fill it in, then put it here, behind \"title-page\"\n", copyrightForm)
	}
	line("body", `["chapters/*.md"] # in the order of their names, 2 before 10`)
	line("back", tomlList(back))
	for option := range strings.Lines(ours) { // those that are left open
		key, _, is := strings.Cut(strings.TrimPrefix(option, "# "), "=")
		if is && strings.HasPrefix(option, "# ") && (m.Subtitle == "" || strings.TrimSpace(key) != "subtitle") {
			b.WriteString(option)
		}
	}
	b.WriteString("\n[setting]\n" + setting)
	return []byte(b.String())
}

func tomlList(list []string) string {
	quoted := make([]string, len(list))
	for i, s := range list {
		quoted[i] = strict.Quote(s)
	}
	return "[" + strings.Join(quoted, ", ") + "]"
}
