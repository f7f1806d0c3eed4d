package main

import (
	"bytes"
	"context"
	"encoding"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"text/tabwriter"

	"bodkin/cmd/bodkin/internal/edition"
	"bodkin/cmd/bodkin/internal/strict"
	"bodkin/typeset"
	"bodkin/typeset/length"
	"bodkin/typeset/preflight"
	"bodkin/typeset/raster"

	"github.com/spf13/cobra"
)

func preflightCommand() *cobra.Command {
	var (
		p     preflighter
		json  bool
		codes bool
	)
	c := &cobra.Command{
		Use:   "preflight FILE.pdf",
		Short: "Find what a printer would object to in a PDF",
		Long: `Preflight looks at a PDF, whoever made it, as a printer does before it goes to
press: sizes and boxes of the pages, text near the trim, faces that are not in
the file, colours, transparency, coarse pictures, and whether it keeps what it
claims. It tells what stops the file and what to look at, on which pages, and how
to mend it. It returns 1 if anything stops the file.

With --printer it goes by your printer's terms; --trim is what you ordered.`,
		Example: `  bodkin preflight proof.pdf
  bodkin preflight interior.pdf --trim 5x8in --printer printer.toml
  bodkin preflight --codes`,
		Args: func(c *cobra.Command, args []string) error {
			if codes {
				return cobra.NoArgs(c, args)
			}
			return exactly("FILE.pdf")(c, args)
		},
		RunE: func(c *cobra.Command, args []string) error {
			if codes {
				if json {
					return writeJSON(c.OutOrStdout(), preflight.Codes())
				}
				return printCodes(c.OutOrStdout())
			}
			r, err := p.run(c.Context(), args[0])
			if err != nil {
				return err
			}
			if json {
				err = writeJSON(c.OutOrStdout(), r)
			} else {
				err = r.print(c.OutOrStdout())
			}
			if err == nil && !r.Ready {
				err = fmt.Errorf("%s would be refused as it is", args[0])
			}
			return err
		},
	}
	c.Flags().SortFlags = false
	text := func(to encoding.TextUnmarshaler, name, usage string) {
		c.Flags().Func(name, usage, func(s string) error { return to.UnmarshalText([]byte(s)) })
	}
	text(&p.trim, "trim", "the trim that was ordered, `WIDTHxHEIGHT`: 5x8in, 129x198mm, or "+typeset.TrimNames())
	text(&p.bleed, "bleed", "the printer's bleed, a `LENGTH` as in 0.125in")
	text(&p.safety, "safety", "how far text must stay from the trim, a `LENGTH` as in 0.25in")
	text(&p.back, "back", "how far text must stay from the bound edge, a `LENGTH`")
	c.Flags().StringVar(&p.printer, "printer", "", "a printer's terms, `FILE.toml`")
	c.Flags().StringVar(&p.choice.Stock, "stock", "", "the paper, a `NAME` as the terms have it")
	c.Flags().StringVar(&p.choice.Binding, "binding", "", "the `BINDING`, as the terms have it: perfect, case")
	c.Flags().StringVar(&p.picture, "picture", "", "also draw a page with its findings marked, `FILE`.png: places, not type")
	c.Flags().IntVar(&p.page, "page", 0, "the page that --picture draws, `N` counted from 1; the first with a finding if it is left out")
	c.Flags().IntVar(&p.dpi, "dpi", 100, "--picture has `N` dots an inch")
	c.Flags().BoolVar(&codes, "codes", false, "list all that preflight can find, and how it is mended")
	c.Flags().BoolVar(&json, "json", false, "print one JSON object; boxes in points")
	return c
}

// preflighter is what a call asks for.
type preflighter struct {
	trim                typeset.Trim
	bleed, safety, back length.Value
	printer             string
	choice              edition.Choice
	picture             string
	page, dpi           int
}

// preflightReport is what preflight prints; its JSON keys are stable.
type preflightReport struct {
	File     string              `json:"file"`
	Ready    bool                `json:"ready"` // nothing stops it
	Pages    int                 `json:"pages"`
	Width    float64             `json:"width"` // of the trim of the first page
	Height   float64             `json:"height"`
	Version  string              `json:"version"`
	Standard string              `json:"standard,omitempty"`
	Printer  string              `json:"printer,omitempty"`
	Findings []preflight.Finding `json:"findings"`

	unit  length.Unit
	terms string // path
}

func (p *preflighter) run(ctx context.Context, path string) (*preflightReport, error) {
	var terms *edition.Terms
	if p.printer != "" {
		var err error
		if terms, err = edition.Load(p.printer); err != nil {
			return nil, err
		}
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("%s: %w; correct the name", path, strict.Cause(err))
	}
	defer f.Close()
	if info, err := f.Stat(); err == nil && !info.Mode().IsRegular() {
		return nil, fmt.Errorf("%s: this is not a file", path)
	}
	if !isPDF(f) {
		return nil, fmt.Errorf("%s: this is no PDF; name the file that bodkin proof wrote", path)
	}
	limits, err := terms.Asks(p.trim.Size(), p.choice)
	if err != nil {
		return nil, &callError{err}
	}
	for _, own := range []struct {
		to   *length.Length
		from length.Value
	}{{&limits.Bleed, p.bleed}, {&limits.Safety, p.safety}} {
		if own.from.Length > 0 {
			*own.to = own.from.Length
		}
	}
	if p.back.Length > 0 {
		limits.Back = []typeset.BackStep{{Margin: p.back}}
	}
	found, err := preflight.Check(ctx, f, limits)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	if p.picture != "" {
		if err := p.draw(path, found, limits); err != nil {
			return nil, err
		}
	}
	r := reportPreflight(path, found, terms)
	if p.trim.Width.Length > 0 {
		r.unit = p.trim.Width.Unit
	}
	return r, nil
}

// isPDF tells whether the sign of a PDF stands among the first bytes of a file,
// as ISO 32000 has it. A file that has none of what follows is damaged.
func isPDF(f io.ReaderAt) bool {
	head := make([]byte, 1024)
	n, _ := f.ReadAt(head, 0)
	return bytes.Contains(head[:n], []byte("%PDF-"))
}

// draw writes the picture of a page.
func (p *preflighter) draw(path string, found *preflight.Report, limits preflight.Limits) error {
	if err := (output{p.picture, ".png", "--picture"}).check([]string{path, p.printer}); err != nil {
		return err
	}
	if p.dpi < 20 || p.dpi > 600 {
		return &callError{fmt.Errorf("--dpi %d: a picture has from 20 to 600 dots an inch", p.dpi)}
	}
	page := p.page
	if page == 0 {
		page = 1
		if i := slices.IndexFunc(found.Findings, func(f preflight.Finding) bool { return f.Box != nil }); i >= 0 {
			page = found.Findings[i].Page
		}
	}
	img, err := found.Draw(page, p.dpi, limits)
	if errors.Is(err, preflight.ErrPage) {
		return &callError{fmt.Errorf("--page %d: the file has pages 1 to %d", page, len(found.Pages))}
	} else if err != nil {
		return fmt.Errorf("%s: page %d: %w", path, page, err)
	}
	return writeWhole(p.picture, func(w io.Writer) error { return raster.WritePNG(w, img) })
}

// reportPreflight tells what was found in the file at path.
func reportPreflight(path string, found *preflight.Report, terms *edition.Terms) *preflightReport {
	r := &preflightReport{File: filepath.ToSlash(path), Ready: found.Ready(), Pages: len(found.Pages), Version: found.Version,
		Standard: found.Standard, Findings: found.Findings, unit: length.In}
	if r.Findings == nil {
		r.Findings = []preflight.Finding{}
	}
	if terms != nil {
		r.Printer, r.terms, r.unit = terms.Name, relative(terms.Path), terms.Bleed.Unit
	}
	if len(found.Pages) > 0 {
		t := found.Pages[0].Trim
		r.Width, r.Height = t.X1-t.X0, t.Y1-t.Y0
	}
	return r
}

// by says whose limits the file was held against.
func (r *preflightReport) by() string {
	if r.Printer != "" {
		return r.Printer
	}
	return "most printers"
}

// summary tells in a line or two whether the file is ready for the printer.
func (r *preflightReport) summary() []string {
	var codes [2][]string
	for _, f := range r.Findings {
		if of := &codes[f.Severity]; !slices.Contains(*of, f.Code) {
			*of = append(*of, f.Code)
		}
	}
	stops, look := codes[preflight.Stops], codes[preflight.Look]
	lines := []string{"nothing stops it, by the limits of " + r.by()}
	if len(stops) > 0 {
		lines[0] = fmt.Sprintf("NOT READY for %s: %s", r.by(), strings.Join(stops, ", "))
	}
	if len(look) > 0 {
		lines = append(lines, "to look at: "+strings.Join(look, ", "))
	}
	if len(r.Findings) > 0 {
		more := "bodkin preflight " + r.File
		if r.terms != "" {
			more += " --printer " + r.terms
		}
		lines = append(lines, more+" tells more")
	}
	return lines
}

// told is a finding with the pages on which it is.
type told struct {
	preflight.Finding
	pages []int
}

// gather puts findings of one code together, with the words of the first.
func gather(found []preflight.Finding) []told {
	var all []told
	for _, f := range found {
		i := slices.IndexFunc(all, func(t told) bool { return t.Code == f.Code })
		if i < 0 {
			all = append(all, told{Finding: f})
			i = len(all) - 1
		}
		if n := len(all[i].pages); f.Page > 0 && (n == 0 || all[i].pages[n-1] != f.Page) {
			all[i].pages = append(all[i].pages, f.Page)
		}
	}
	return all
}

// where names the pages.
func (t *told) where() string {
	switch n := len(t.pages); {
	case n == 0:
		return ""
	case n == 1:
		return fmt.Sprintf(", page %d", t.pages[0])
	case n > 12:
		return fmt.Sprintf(", on %d pages, the first of them %d", n, t.pages[0])
	}
	return ", " + strings.Replace(rowsOf(t.pages), "row", "page", 1)
}

func (r *preflightReport) print(w io.Writer) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s of %.4g × %.4g %v, PDF %s", r.File, count(r.Pages, "page", "pages"), r.in(r.Width), r.in(r.Height), r.unit, r.Version)
	if r.Standard != "" {
		fmt.Fprintf(&b, ", claims %s", r.Standard)
	}
	b.WriteByte('\n')
	for _, s := range []struct {
		severity preflight.Severity
		head     string
	}{{preflight.Stops, "Stops the file:"}, {preflight.Look, "To look at:"}} {
		headed := false
		for _, t := range gather(r.Findings) {
			if t.Severity != s.severity {
				continue
			}
			if !headed {
				fmt.Fprintf(&b, "\n%s\n", s.head)
				headed = true
			}
			fmt.Fprintf(&b, "  %s%s\n", t.Code, t.where())
			foldAt(&b, "      ", t.What)
			foldAt(&b, "      -> ", t.Mend)
		}
	}
	b.WriteByte('\n')
	if r.Ready {
		fmt.Fprintf(&b, "Nothing stops it, by the limits of %s.\n", r.by())
	}
	b.WriteString("The printer's own check decides. Order a physical proof before the first sale.\n")
	_, err := io.WriteString(w, b.String())
	return err
}

// in turns points into the unit of the report.
func (r *preflightReport) in(points float64) float64 {
	if r.unit == length.Mm {
		return points / 72 * 25.4
	}
	return points / 72
}

// printCodes prints the table of all that can be found.
func printCodes(w io.Writer) error {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	for _, k := range preflight.Codes() {
		fmt.Fprintf(t, "%s\t%v\t%s\n\t\t-> %s\n\t\t   %s\n", k.Name, k.Severity, k.What, k.Mend, k.Clause)
	}
	return t.Flush()
}
