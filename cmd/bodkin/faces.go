package main

import (
	"context"
	_ "embed"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"text/tabwriter"
	"time"

	"bodkin/fonts"
	"bodkin/markup"
	"bodkin/typeset"
	"bodkin/typeset/pdf"

	"github.com/spf13/cobra"
)

func facesCommand() *cobra.Command {
	var (
		folder, file string
		json         bool
	)
	c := &cobra.Command{
		Use:   "faces",
		Short: "List the faces at hand, with a specimen of each",
		Long: `Faces lists the families of type that a book can be set in: those that come with
the program, and your own from a folder. With -o it writes a specimen, a page
of text for each family at the same size, to compare how wide each one runs
and how it looks on paper.`,
		Example: "  bodkin faces\n  bodkin faces -o specimen.pdf\n  bodkin faces --fonts my-fonts",
		Args: func(c *cobra.Command, args []string) error {
			if len(args) > 0 {
				return &callError{fmt.Errorf("faces takes no argument; did you mean --fonts %s?", args[0])}
			}
			return nil
		},
		RunE: func(c *cobra.Command, _ []string) error {
			if file != "" {
				if err := (output{file, ".pdf", "-o"}).check(nil); err != nil {
					return err
				}
			}
			library := fonts.Embedded()
			if folder != "" {
				var err error
				if library, err = withFonts(library, folder); err != nil {
					return err
				}
			}
			r, err := listFaces(library)
			if err != nil {
				return err
			}
			if file != "" {
				when, err := date(time.Unix(0, 0))
				if err != nil {
					return &callError{err}
				}
				if err := writeSpecimen(c.Context(), file, library, when); err != nil {
					return err
				}
				r.Specimen = filepath.ToSlash(file)
			}
			if json {
				return writeJSON(c.OutOrStdout(), r)
			}
			return r.print(c.OutOrStdout())
		},
	}
	c.Flags().StringVarP(&file, "output", "o", "", "write a specimen, `FILE.pdf`")
	c.Flags().StringVar(&folder, "fonts", "", "a `FOLDER` of your own TrueType or OpenType faces")
	c.Flags().BoolVar(&json, "json", false, "print one JSON object")
	return c
}

// facesReport is what faces prints; its JSON keys are stable.
type facesReport struct {
	Faces    []faceReport `json:"faces"`
	Specimen string       `json:"specimen,omitempty"`
}

type faceReport struct {
	Name       string   `json:"name"`
	Styles     []string `json:"styles"`
	SmallCaps  bool     `json:"smallCapitals"`
	OldStyle   bool     `json:"oldStyleFigures"`
	Characters int      `json:"charactersPerLine"` // in the specimen's measure
	Embedded   bool     `json:"embedded"`
	Licence    string   `json:"licence"`
}

// specimenText is set in each family to see how wide it runs.
//
//go:embed specimen.md
var specimenText string

func listFaces(library *fonts.Library) (*facesReport, error) {
	r := new(facesReport)
	for _, f := range library.Families() {
		one := faceReport{Name: f.Name, SmallCaps: f.SmallCaps, OldStyle: f.OldStyle, Embedded: f.Embedded, Licence: f.Licence}
		for _, style := range f.Styles {
			one.Styles = append(one.Styles, style.String())
		}
		n, err := charactersPerLine(library, f.Name)
		if err != nil {
			return nil, err
		}
		one.Characters = n
		r.Faces = append(r.Faces, one)
	}
	return r, nil
}

// charactersPerLine reckons how many characters of the specimen's text stand
// in a line of 4 in at 11 pt, with word spaces of a quarter em.
func charactersPerLine(library *fonts.Library, family string) (int, error) {
	face, err := library.Face(family, fonts.Regular)
	if err != nil {
		return 0, err
	}
	characters, width := int64(0), int64(0)
	for _, word := range strings.Fields(specimenText) {
		characters += int64(len([]rune(word))) + 1
		width += int64(face.Shape(word, 0).Width) + int64(face.Upem)/4
	}
	return int(characters * int64(face.Upem) * 4 * 72 / (width * 11)), nil
}

func (r *facesReport) print(w io.Writer) error {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "face\tstyles\tsmall capitals\told-style figures\tcharacters in 4in at 11pt\tlicence")
	for _, f := range r.Faces {
		licence := f.Licence
		if !f.Embedded {
			licence = "your own"
		}
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%d\t%s\n", f.Name, strings.Join(f.Styles, ", "), yes(f.SmallCaps), yes(f.OldStyle), f.Characters, licence)
	}
	if err := t.Flush(); err != nil {
		return err
	}
	if r.Specimen != "" {
		_, err := fmt.Fprintf(w, "wrote %s\n", r.Specimen)
		return err
	}
	return nil
}

func yes(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

// writeSpecimen sets a page in each family and writes them as one PDF.
func writeSpecimen(ctx context.Context, path string, library *fonts.Library, when time.Time) error {
	var all *typeset.Layout
	for _, f := range library.Families() {
		book, err := specimenBook(ctx, f)
		if err != nil {
			return err
		}
		s := typeset.Default()
		s.Face, s.Sink, s.Heads = f.Name, 0, typeset.Heads{}
		s.Folios = typeset.FolioNone
		s.Margins.Back = typeset.Auto{Value: s.Margins.ForeEdge}
		l, err := typeset.Compose(ctx, book, s, typeset.Resources{Faces: library})
		if err != nil {
			return fmt.Errorf("specimen of %s: %w", f.Name, err)
		}
		if all == nil {
			all = l
			all.Title = "Faces"
			all.Pages = all.Pages[:1]
			continue
		}
		all.Pages = append(all.Pages, l.Pages[0])
	}
	return writeWhole(path, func(w io.Writer) error {
		return pdf.Write(w, all, pdf.Options{Date: when, Reading: true})
	})
}

// specimenBook is a book of one section under the family's name.
func specimenBook(ctx context.Context, f fonts.Family) (*markup.Book, error) {
	_, body, _ := strings.Cut(specimenText, "\n")
	sample := "# " + f.Name + "\n" + body + "\n*Italic,* **bold,** ***both;*** 1234567890 & (office, fjord, first).\n"
	dir, err := os.MkdirTemp("", "bodkin-*")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	if err := os.WriteFile(filepath.Join(dir, "specimen.md"), []byte(sample), 0o600); err != nil {
		return nil, err
	}
	return markup.Load(ctx, markup.Source{Dir: dir, Title: "Faces", Body: []string{"specimen.md"}})
}
