package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"
	"text/tabwriter"

	"bodkin/cmd/bodkin/internal/edition"
	"bodkin/markup"
	"bodkin/typeset"
	"bodkin/typeset/length"
	"bodkin/typeset/pdf"
	"bodkin/typeset/preflight"
	"bodkin/typeset/raster"

	"github.com/spf13/cobra"
)

func proofCommand() *cobra.Command {
	var (
		flags settingFlags
		terms editionFlags
		p     proof
		keep  keepFlags
		json  bool
	)
	c := &cobra.Command{
		Use:   "proof BOOK",
		Short: "Set the book and write its pages as a PDF",
		Long: `Proof sets the whole book and writes the interior as a PDF of exactly the trim,
ready for the printer. It prints what the pages are: how many were set, how much
stands on each, and how well the lines and pages came out.

BOOK is a folder of Markdown chapters, a single Markdown file, or a folder with
a book.toml. Flags override what book.toml says.

With --quality it tells what a typesetter would mark on these pages, how much of
it there is in the whole book, and where; --picture then shows the marks.`,
		Example: `  bodkin proof my-book
  bodkin proof my-book --trim 5.25x8in --size 10.75pt -o small.pdf
  bodkin proof my-book --spreads -o for-reading.pdf
  bodkin proof my-book --quality --picture marked.png
  bodkin proof my-book --size 10.5pt --leading 13pt --keep slim`,
		Args: exactly("BOOK"),
		RunE: func(c *cobra.Command, args []string) error {
			if p.page != 0 && p.picture == "" {
				return &callError{fmt.Errorf("--page needs --picture FILE.png")}
			}
			if err := keep.check(args[0]); err != nil {
				return err
			}
			p.quality = p.quality || p.allPlaces
			done := showProgress(c.ErrOrStderr(), "setting "+args[0])
			r, err := p.run(c, args[0], &flags, &terms)
			done()
			if err != nil {
				return err
			}
			if err := keep.keep(c.ErrOrStderr(), args[0], "this setting", r.Setting); err != nil {
				return err
			}
			if json {
				return writeJSON(c.OutOrStdout(), r)
			}
			return r.print(c.OutOrStdout())
		},
	}
	c.Flags().StringVarP(&p.output, "output", "o", "proof.pdf", "the `FILE` to write")
	c.Flags().BoolVar(&p.spreads, "spreads", false, "show facing pages side by side: for reading, not for the printer")
	c.Flags().BoolVar(&p.reading, "reading", false, "write a plain PDF with an outline and page labels: for reading, not for the printer")
	c.Flags().BoolVar(&p.guides, "guides", false, "draw text block, grid, trim and safety over the pages: for looking, not for the printer")
	c.Flags().StringVar(&p.picture, "picture", "", "also draw a spread as a picture, `FILE`.png")
	c.Flags().IntVar(&p.page, "page", 0, "the spread that --picture draws is that of page `N`, counted from the first leaf; with --quality, the most marked one if it is left out")
	c.Flags().IntVar(&p.dpi, "dpi", 150, "--picture has `N` dots an inch")
	c.Flags().BoolVar(&p.quality, "quality", false, "tell what a typesetter would mark, how much of it there is and where")
	c.Flags().BoolVar(&p.allPlaces, "all-places", false, "as --quality, with every place, not the first twelve of a kind")
	c.Flags().BoolVar(&json, "json", false, "print one JSON object; lengths in points")
	keep.add(c.Flags(), "the setting that the flags make")
	flags.add(c.Flags())
	terms.add(c.Flags())
	return c
}

// proof is what a call of the command asks for.
type proof struct {
	output          string
	spreads, guides bool
	reading         bool
	picture         string
	page, dpi       int

	quality, allPlaces bool
}

// commonSafety is what guides show as the printer's safety margin where no
// terms say: a quarter of an inch, common practice.
const commonSafety = length.Inch / 4

func (p *proof) run(c *cobra.Command, path string, flags *settingFlags, ed *editionFlags) (*proofReport, error) {
	j, err := flags.load(c.Context(), path)
	if err != nil {
		return nil, err
	}
	printer, err := ed.of(j, flags.name)
	if err != nil {
		return nil, err
	}
	terms := printer.terms
	j.setting.Press = printer.press
	safety := commonSafety
	if terms != nil {
		safety = terms.Safety.Length
	}
	if err := (output{p.output, ".pdf", "-o"}).check(j.inputs); err != nil {
		return nil, err
	}
	if p.picture != "" {
		if err := (output{p.picture, ".png", "--picture"}).check(j.inputs); err != nil {
			return nil, err
		}
	}
	l, err := j.composer.Compose(c.Context(), j.setting)
	if err != nil {
		return nil, err
	}
	if err := typeset.Check(j.book, l); err != nil {
		return nil, err
	}
	when, err := date(j.modified)
	if err != nil {
		return nil, &callError{err}
	}
	if p.page < 0 || p.page > len(l.Pages) {
		return nil, &callError{fmt.Errorf("--page %d: the book has pages 1 to %d", p.page, len(l.Pages))}
	}
	var found []typeset.Finding
	if p.quality {
		found = l.Findings()
	}
	if p.picture != "" {
		at := p.page - 1
		switch {
		case p.page == 0 && p.quality:
			at = worst(l, found)
		case p.page == 0:
			at = firstText(l)
		}
		img, err := raster.Spread(l, at, raster.Options{DPI: p.dpi, Guides: p.guides, Safety: safety, Findings: found})
		if err != nil {
			return nil, &callError{err}
		}
		if err := writeWhole(p.picture, func(w io.Writer) error { return raster.WritePNG(w, img) }); err != nil {
			return nil, err
		}
	}
	var file bytes.Buffer
	err = pdf.Write(&file, l, pdf.Options{Date: when, Spreads: p.spreads, Reading: p.spreads || p.reading, Guides: p.guides, Safety: safety,
		Colour: l.Setting.Colour, MostPPI: l.Setting.MostPPI})
	if err != nil {
		return nil, err
	}
	checked, err := p.preflight(c.Context(), file.Bytes(), l, &printer)
	if err != nil {
		return nil, err
	}
	err = writeWhole(p.output, func(w io.Writer) error {
		_, err := w.Write(file.Bytes())
		return err
	})
	if err != nil {
		return nil, err
	}
	r := p.report(j, l, found)
	r.Preflight = checked
	made, err := printer.copy(l.Setting.Trim, len(l.Pages))
	if err != nil {
		return nil, err
	}
	r.Edition = reportCopy(terms, made)
	r.Edition.Objections = append(r.Edition.Objections, terms.Interior(l)...)
	if shown, _ := l.Pictures(); terms != nil && l.Setting.Colour && shown > 0 && made.Ink == "black" {
		r.Edition.Objections = append(r.Edition.Objections, edition.Objection{Code: "ink",
			What: "the pictures are in colour, and " + terms.Name + " prints this copy in black", Mend: "set colour = false, or take an ink of colours, if there is one"})
	}
	return r, nil
}

// preflight looks at the file as the printer will; one for reading is not
// meant for the printer.
func (p *proof) preflight(ctx context.Context, file []byte, l *typeset.Layout, printer *offer) (*preflightReport, error) {
	if p.spreads || p.guides || p.reading {
		return nil, nil
	}
	limits, err := printer.terms.Asks(l.Trim, printer.choice)
	if err != nil {
		return nil, &callError{err}
	}
	if printer.terms == nil {
		limits.Bleed = l.Bleed
	}
	found, err := preflight.Check(ctx, bytes.NewReader(file), limits)
	if err != nil {
		return nil, err
	}
	return reportPreflight(p.output, found, printer.terms), nil
}

// firstText returns the first page that is full of text: the one to show.
func firstText(l *typeset.Layout) int {
	for i := range l.Pages {
		if !l.Pages[i].Opening && len(l.Pages[i].Lines) >= l.Block.Rows {
			return i
		}
	}
	return 0
}

// proofReport is what proof prints; its JSON keys are stable.
type proofReport struct {
	File     string          `json:"file"`
	Picture  string          `json:"picture,omitempty"`
	ForUse   string          `json:"for"` // "press" or "reading"
	Title    string          `json:"title"`
	Author   string          `json:"author"`
	Language string          `json:"language"`
	Setting  typeset.Setting `json:"setting"`

	Width    float64 `json:"width"`
	Height   float64 `json:"height"`
	Back     float64 `json:"back"`
	ForeEdge float64 `json:"foreEdge"`
	Measure  float64 `json:"measure"`
	Size     float64 `json:"size"`
	Leading  float64 `json:"leading"`

	Words        int             `json:"words"`
	Counts       typeset.Counts  `json:"counts"`
	WordsPerPage int             `json:"wordsPerPage"`
	Quality      typeset.Quality `json:"quality"`
	Findings     *[]place        `json:"findings,omitempty"` // with --quality

	marks        *qualityReport
	Heard        string   `json:"heard,omitempty"`     // the language that the words are in, where the book says another
	Saved        int      `json:"saved"`               // pages, where the fewest are wanted
	Unsettled    bool     `json:"unsettled,omitempty"` // no back margin agrees with the number of pages
	LackingFaces []string `json:"lackingFaces,omitempty"`

	Pictures       int              `json:"pictures"`
	CoarsePictures []typeset.Coarse `json:"coarsePictures,omitempty"`

	Edition   *copyReport      `json:"edition"`             // what becomes of the pages in print
	Preflight *preflightReport `json:"preflight,omitempty"` // of a file for the press

	back length.Value // in the unit of the trim
}

func (p *proof) report(j *job, l *typeset.Layout, found []typeset.Finding) *proofReport {
	r := &proofReport{
		File: filepath.ToSlash(p.output), Picture: filepath.ToSlash(p.picture), ForUse: "press", Title: l.Title, Author: l.Author, Language: j.book.Language, Setting: l.Setting,
		Width: points(l.Trim.Width), Height: points(l.Trim.Height), Back: points(l.Back),
		ForeEdge: points(l.Setting.Margins.ForeEdge.Length), Measure: points(l.Block.Measure),
		Size: points(l.Setting.Size.Length), Leading: points(l.Block.Leading),
		Words: j.book.Words(), Counts: l.Counts(), Quality: l.Quality(),
		Saved: l.Saved, Unsettled: l.Unsettled, LackingFaces: l.Lacking,
		back: length.Value{Length: l.Back, Unit: l.Setting.Trim.Width.Unit},
	}
	if lang, _, _ := j.book.Heard(); markup.Mistaken(j.book.Language, lang) {
		r.Heard = lang
	}
	r.Pictures, r.CoarsePictures = l.Pictures()
	for i := range r.CoarsePictures {
		r.CoarsePictures[i].Path = relative(r.CoarsePictures[i].Path)
	}
	if p.quality {
		all := places(found)
		r.Findings = &all
		r.marks = &qualityReport{quality: r.Quality, found: found, most: mostPlaces, colours: p.picture != ""}
		if p.allPlaces {
			r.marks.most = len(found)
		}
	}
	if p.spreads || p.guides || p.reading {
		r.ForUse = "reading"
	}
	if r.Counts.Text > 0 {
		r.WordsPerPage = (r.Words + r.Counts.Text/2) / r.Counts.Text
	}
	return r
}

// points rounds a length to thousandths of a point, for people and JSON.
func points(l length.Length) float64 {
	return float64((int64(l)*1000+int64(length.Point)/2)/int64(length.Point)) / 1000
}

func (r *proofReport) print(w io.Writer) error {
	s := &r.Setting
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	row := func(name, format string, args ...any) {
		fmt.Fprintf(t, "  %s\t%s\n", name, fmt.Sprintf(format, args...))
	}
	title := r.Title
	if r.Author != "" {
		title += ", " + r.Author
	}
	fmt.Fprintln(t, title)
	row("trim", "%v", describeTrim(s.Trim))
	leading := s.Leading.String()
	if s.Leading.Kind != typeset.Fixed {
		leading += fmt.Sprintf(" (%v pt)", r.Leading)
	}
	row("type", "%s, %v on %s, lines of %v pt", s.Face, s.Size, leading, r.Measure)
	for _, style := range r.LackingFaces {
		row("", "the family has no %s face; another stands for it", style)
	}
	row("margins", "back %v, fore-edge %v, head %v, foot %v", r.back, s.Margins.ForeEdge, s.Margins.Head, s.Margins.Foot)
	saved := ""
	if s.Pages == typeset.FewestPages {
		saved = fmt.Sprintf("; %s saved", count(r.Saved, "page", "pages"))
	}
	row("pages", "%d: %d set, %d blank%s", r.Counts.Pages, r.Counts.Set, r.Counts.Blank, saved)
	if r.Unsettled {
		row("", "no back margin agrees with the number of pages it makes; the larger was kept")
	}
	r.Edition.print(row)
	row("words", "%s, %d a page", thousands(r.Words), r.WordsPerPage)
	if r.Heard != "" {
		row("language", "%s, but the words look like %s: it decides hyphens and quotation marks; write language = %q in book.toml", r.Language, r.Heard, r.Heard)
	}
	full := fmt.Sprintf("%d lines", r.Counts.Rows)
	if r.Counts.Characters > 0 {
		full += fmt.Sprintf(" of some %d characters", r.Counts.Characters)
	}
	row("a full page", "%s", full)
	q := &r.Quality
	row("lines", "%s: %s, %s, %s", thousands(q.Lines), count(q.Hyphenated, "hyphenated", "hyphenated"),
		count(q.Loose, "loose", "loose"), count(q.Overfull, "overfull", "overfull"))
	row("hyphens in a row", "%d at most", q.Ladder)
	row("page ends", "%s, %s, %s, %s", count(q.Widows, "widow", "widows"), count(q.Orphans, "orphan", "orphans"),
		count(q.Uneven, "uneven spread", "uneven spreads"), count(q.Short, "short last page", "short last pages"))
	if r.Pictures > 0 {
		row("pictures", "%d: %s than printers ask for", r.Pictures, strings.Replace(count(len(r.CoarsePictures), "coarser", "coarser"), "no ", "none ", 1))
	}
	coarse := r.CoarsePictures
	if slices.ContainsFunc(r.Edition.Objections, func(o edition.Objection) bool { return o.Code == "resolution" }) {
		coarse = nil // the printer's limits have told of them
	}
	for _, c := range coarse {
		row("", "page %s: %s has %d pixels to the inch, at least %d are wanted", c.Label, c.Path, c.PPI, c.Least)
	}
	if r.Picture != "" {
		row("picture", "%s", r.Picture)
	}
	row("file", "%s", r.File)
	if r.Preflight != nil {
		for i, line := range r.Preflight.summary() {
			row([]string{"preflight", ""}[min(i, 1)], "%s", line)
		}
		if r.Preflight.Ready && len(r.Edition.Objections) > 0 {
			row("", "but the objections above stand: they are to the book, and not to the file")
		}
	}
	if err := t.Flush(); err != nil {
		return err
	}
	note := caution
	if r.ForUse == "reading" {
		note = "This file is for reading; the printer wants the one without --spreads, --reading and --guides."
	}
	if _, err := fmt.Fprintln(w, note); err != nil || r.marks == nil {
		return err
	}
	return r.marks.print(w)
}
