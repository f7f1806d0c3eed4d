package main

import (
	"fmt"
	"io"
	"path/filepath"
	"text/tabwriter"

	"bodkin/cmd/bodkin/internal/edition"
	"bodkin/cmd/bodkin/internal/flat"
	"bodkin/typeset"
	"bodkin/typeset/length"

	"github.com/spf13/cobra"
)

func spineCommand() *cobra.Command {
	var (
		flags  copyFlags
		output string
		json   bool
	)
	c := &cobra.Command{
		Use:   "spine [BOOK]",
		Short: "Tell how wide the spine is, and draw the cover's template",
		Long: `Spine tells whoever draws the cover how large it must be: the thickness of the
pages on their paper, the width of the spine, and back, spine and front laid out
flat with their bleed. It sets the whole book to know its pages; without a book
it takes their number from --pages.

Paper, card, boards and bleed come from a printer's terms (--printer, or printer
in book.toml). Without them a common book paper is supposed.

With -o it draws the template at true size: trim, bleed, safety, folds, the
barcode's space and all dimensions, on one layer that can be hidden.`,
		Example: `  bodkin spine my-book
  bodkin spine my-book --setting roomy --binding case -o flat.pdf
  bodkin spine --pages 312 --trim 5x8in
  bodkin spine --pages 312 --trim 129x198mm --printer printer.toml --stock cream`,
		Args: oneBook,
		RunE: func(c *cobra.Command, args []string) error {
			p, err := flags.make(c, args)
			if err != nil {
				return err
			}
			r := reportSpine(p)
			if output != "" {
				if err := r.draw(p, output); err != nil {
					return err
				}
			}
			if json {
				return writeJSON(c.OutOrStdout(), r)
			}
			return r.print(c.OutOrStdout())
		},
	}
	c.Flags().StringVarP(&output, "output", "o", "", "draw the template of the cover, `FILE`.pdf")
	c.Flags().BoolVar(&json, "json", false, "print one JSON object; lengths in points")
	flags.add(c)
	return c
}

// spineReport is what spine prints; its JSON keys are stable, its lengths in
// points.
type spineReport struct {
	File   string  `json:"file,omitempty"`
	Title  string  `json:"title,omitempty"`
	Author string  `json:"author,omitempty"`
	Width  float64 `json:"width"` // of the trim
	Height float64 `json:"height"`

	Edition *copyReport `json:"edition"`
	Leaf    float64     `json:"leaf"` // its thickness
	Flat    flatReport  `json:"flat"`

	copy    *edition.Copy
	heading string
}

// flatReport is a cover laid out.
type flatReport struct {
	Width       float64  `json:"width"`
	Height      float64  `json:"height"`
	Bleed       float64  `json:"bleed,omitempty"` // of a paperback
	Wrap        float64  `json:"wrap,omitempty"`  // of a hardcover
	Front       float64  `json:"front"`           // width of the front, or of a board
	FrontHeight float64  `json:"frontHeight"`
	Joint       float64  `json:"joint,omitempty"`
	Board       float64  `json:"board,omitempty"` // thickness
	Square      float64  `json:"square,omitempty"`
	Outer       float64  `json:"outer"` // width of the closed book
	OuterHeight float64  `json:"outerHeight"`
	Safety      float64  `json:"safety"`
	Lettering   float64  `json:"lettering"` // how tall it may be; 0 where it does not fit
	Clear       float64  `json:"clear"`
	Tolerance   float64  `json:"tolerance"`
	Barcode     *boxOnly `json:"barcode,omitempty"`
}

// boxOnly is a rectangle, from the top left corner of the flat.
type boxOnly struct {
	X      float64 `json:"x"`
	Y      float64 `json:"y"`
	Width  float64 `json:"width"`
	Height float64 `json:"height"`
}

func reportSpine(p *inPrint) *spineReport {
	f := &p.copy.Flat
	r := &spineReport{Title: p.title, Author: p.author, Width: points(p.trim.Width.Length), Height: points(p.trim.Height.Length),
		Edition: reportCopy(p.terms, p.copy), Leaf: points(p.copy.Stock.Caliper()),
		Flat: flatReport{Width: points(f.Width), Height: points(f.Height), Front: points(f.Panel.Width), FrontHeight: points(f.Panel.Height),
			Joint: points(f.Joint), Board: points(f.Board), Square: points(f.Square), Outer: points(f.Outer.Width), OuterHeight: points(f.Outer.Height), Safety: points(f.Safety),
			Lettering: points(f.Letters), Clear: points(f.Clear), Tolerance: points(f.Tolerance)},
		copy: p.copy, heading: p.heading()}
	if f.Binding == edition.Case {
		r.Flat.Wrap = points(f.Around)
	} else {
		r.Flat.Bleed = points(f.Around)
	}
	if b := flat.Barcode(*f); b.Width > 0 {
		r.Flat.Barcode = &boxOnly{points(b.X), points(b.Y), points(b.Width), points(b.Height)}
	}
	return r
}

// draw writes the template.
func (r *spineReport) draw(p *inPrint, path string) error {
	if err := (output{path, ".pdf", "-o"}).check(p.inputs); err != nil {
		return err
	}
	when, err := date(p.modified)
	if err != nil {
		return &callError{err}
	}
	labels := flat.Labels{Title: p.heading(), Unit: r.Edition.unit, Date: when,
		Copy: fmt.Sprintf("%s on %s, %s; trim %s", count(p.copy.Pages, "page", "pages"), p.copy.Stock.Name, bound(p.copy.Binding), describeTrim(p.trim))}
	err = writeWhole(path, func(w io.Writer) error { return flat.Write(w, p.copy.Flat, labels) })
	if err != nil {
		return err
	}
	r.File = filepath.ToSlash(path)
	return nil
}

// both writes a length in the unit of the trim, and in the other one that a
// designer may work in.
func (r *spineReport) both(l length.Length) string {
	other := length.Mm
	if r.Edition.unit == length.Mm {
		other = length.In
	}
	return fmt.Sprintf("%s (%v)", r.Edition.long(l), edition.Near(l, other))
}

func (r *spineReport) size(s typeset.Size) string {
	return r.Edition.long(s.Width) + " x " + r.Edition.long(s.Height)
}

func (r *spineReport) print(w io.Writer) error {
	if _, err := fmt.Fprintln(w, r.heading); err != nil {
		return err
	}
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	row := func(name, format string, args ...any) {
		fmt.Fprintf(t, "  %s\t%s\n", name, fmt.Sprintf(format, args...))
	}
	c, f, long := r.copy, &r.copy.Flat, r.Edition.long
	row("pages", "%d, %s", c.Pages, bound(c.Binding))
	row("trim", "%s", describeTrim(c.Trim))
	row("paper", "%s: %d pages to the inch, a leaf is %.3fmm", c.Stock.Name, c.Stock.PagesPerInch(), points(c.Stock.Caliper())*25.4/72)
	if c.Supposed {
		row("", "this is supposed; the terms of your printer name its papers")
	}
	row("block", "%s thick: %d leaves", r.both(c.Block), c.Pages/2)
	adds := "as the block; the terms add nothing for the cover"
	switch {
	case c.Binding == edition.Case:
		adds = "the block and two boards"
	case c.Spine > c.Block:
		adds = "the block, and what the cover adds"
	case c.Supposed:
		adds = "as the block; the cover's card may add to it"
	}
	row("spine", "%s wide: %s", r.both(c.Spine), adds)
	if c.Binding == edition.Case {
		row("boards", "%s each, %s thick; squares of %s, joints of %s", r.size(f.Panel), long(f.Board), long(f.Square), long(f.Joint))
		row("flat", "%s wide, %s high, with a wrap of %s all round", r.both(f.Width), r.both(f.Height), long(f.Around))
		row("closed", "about %s", r.size(f.Outer))
	} else {
		row("flat", "%s wide, %s high, with a bleed of %s all round", r.both(f.Width), r.both(f.Height), long(f.Around))
	}
	r.lettering(row)
	row("folds", "may miss their place by %s: let no colour end exactly on one", long(f.Tolerance))
	if b := flat.Barcode(*f); b.Width > 0 {
		row("barcode", "%s, kept white at the foot of the back", r.size(typeset.Size{Width: b.Width, Height: b.Height}))
	}
	if c.Grams > 0 {
		row("weight", "about %d g", c.Grams)
	}
	printObjections(r.Edition.Objections, row)
	if r.File != "" {
		row("file", "%s", r.File)
	}
	if err := t.Flush(); err != nil {
		return err
	}
	_, err := fmt.Fprintln(w, "These are reckoned figures: your printer's own template decides. Order a physical proof before the first sale.")
	return err
}

// lettering says whether the title fits on the spine, and whose rule that is.
func (r *spineReport) lettering(row func(name, format string, args ...any)) {
	f := &r.copy.Flat
	whose := ""
	if f.Common {
		whose = " (common practice)"
	}
	switch {
	case f.Letters > 0:
		row("lettering", "fits, up to %s tall, %s from each fold%s", r.both(f.Letters), r.Edition.long(f.Clear), whose)
	case f.Least > r.copy.Pages:
		row("lettering", "none: the printer wants %d pages or more for it", f.Least)
	default:
		row("lettering", "none: the spine is under a quarter of an inch%s", whose)
	}
}
