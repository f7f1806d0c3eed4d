package main

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"text/tabwriter"

	"bodkin/cmd/bodkin/internal/edition"
	"bodkin/cmd/bodkin/internal/shelf"
	"bodkin/typeset"
	"bodkin/typeset/length"

	"github.com/spf13/cobra"
)

func shelfCommand() *cobra.Command {
	var (
		f    shelfFlags
		form bool
		json bool
	)
	c := &cobra.Command{
		Use:   "shelf SURVEY.csv",
		Short: "Find the trim that belongs on the genre's shelf",
		Long: `Shelf reads a survey, books that you measured in a shop or a library, and finds
the trim of each. It tells which trims are common, which of them belongs to your
book and why, and how far a book of it sticks out of the shelf. With -o it draws
the shelf to scale, with your book among the others.

Begin with a form to fill in:   bodkin shelf --form > survey.csv

The survey is comma-separated values, from any spreadsheet. Heights and widths
are over all, as 8.25, 8 1/4 or 8¼ in, 210 mm or 21 cm. From case-bound books the
squares of the boards are taken off.`,
		Example: `  bodkin shelf survey.csv
  bodkin shelf survey.csv --genre mystery --printer printer.toml -o shelf.svg
  bodkin shelf survey.csv --trim 5.25x8in,B-format`,
		Args: func(c *cobra.Command, args []string) error {
			if form {
				return cobra.NoArgs(c, args)
			}
			return exactly("SURVEY.csv")(c, args)
		},
		RunE: func(c *cobra.Command, args []string) error {
			if form {
				_, err := io.WriteString(c.OutOrStdout(), shelf.Form)
				return err
			}
			r, err := f.run(c, args[0])
			if err != nil {
				return err
			}
			if json {
				return writeJSON(c.OutOrStdout(), r.json())
			}
			return r.print(c.OutOrStdout())
		},
	}
	c.Flags().SortFlags = false
	c.Flags().StringSliceVar(&f.trims, "trim", nil, "the trims that you think of, `VALUES` as 5x8in,129x198mm, or "+typeset.TrimNames())
	c.Flags().StringVar(&f.genre, "genre", "", "look at the books of one `GENRE`")
	c.Flags().StringVar(&f.binding, "binding", "", "look at books in one `BINDING`, paperback or case, and at yours in the same")
	c.Flags().StringSliceVar(&f.printers, "printer", nil, "a printer's terms, `FILE.toml`, for the trims that it offers")
	c.Flags().StringVarP(&f.file, "output", "o", "", "draw the shelf to scale, `FILE.svg`")
	c.Flags().BoolVar(&form, "form", false, "print an empty survey to fill in")
	c.Flags().BoolVar(&json, "json", false, "print one JSON object; lengths in points")
	return c
}

type shelfFlags struct {
	trims, printers      []string
	genre, binding, file string
}

// shelfReport is what the command prints.
type shelfReport struct {
	*shelf.Report
	survey   *shelf.Survey
	genre    string
	printers []string // names
	picture  string
}

func (f *shelfFlags) run(c *cobra.Command, path string) (*shelfReport, error) {
	var proposed, offered []typeset.Trim
	for _, s := range f.trims {
		t, err := typeset.ParseTrim(s)
		if err != nil {
			return nil, &callError{err}
		}
		proposed = append(proposed, t)
	}
	var binding shelf.Binding
	if f.binding != "" {
		var err error
		if binding, err = shelf.ParseBinding(f.binding); err != nil {
			return nil, &callError{err}
		}
	}
	if f.file != "" {
		if err := (output{f.file, ".svg", "-o"}).check(append([]string{path}, f.printers...)); err != nil {
			return nil, err
		}
	}
	r := &shelfReport{genre: f.genre}
	for _, p := range f.printers {
		terms, err := edition.Load(strings.TrimSpace(p))
		if err != nil {
			return nil, err
		}
		offered = append(offered, terms.Trims...)
		r.printers = append(r.printers, terms.Name)
	}
	survey, err := shelf.Load(path)
	if err != nil {
		return nil, err
	}
	if r.survey, err = survey.Filter(f.genre, binding); err != nil {
		return nil, err
	}
	for _, remark := range survey.Remarks {
		fmt.Fprintln(c.ErrOrStderr(), remark)
	}
	if len(survey.Unused) > 0 {
		fmt.Fprintf(c.ErrOrStderr(), "%s: not used: %s\n", path, strings.Join(survey.Unused, ", "))
	}
	if r.Report, err = shelf.Judge(r.survey, shelf.Known(offered, proposed), binding); err != nil {
		return nil, err
	}
	if f.file != "" {
		if err := writeWhole(f.file, func(w io.Writer) error { return r.Draw(w, r.title()) }); err != nil {
			return nil, err
		}
		r.picture = filepath.ToSlash(f.file)
	}
	return r, nil
}

func (r *shelfReport) title() string {
	s := fmt.Sprintf("A shelf of %s", count(len(r.Books), "book", "books"))
	if r.genre != "" {
		s += ", " + r.genre
	}
	return s
}

// measured tells how finely, and by how much a book may so differ from its trim.
func (r *shelfReport) measured() string {
	inch, metric := false, false
	for i := range r.Books {
		if r.Books[i].OnInches() {
			inch = true
		} else {
			metric = true
		}
	}
	switch {
	case inch && metric && r.Inch != r.Metric:
		return "measured in inches " + r.Inch.String() + "\nmeasured in millimetres " + r.Metric.String()
	case inch:
		return "measured " + r.Inch.String()
	}
	return "measured " + r.Metric.String()
}

func (r *shelfReport) print(w io.Writer) error {
	fmt.Fprintf(w, "%s, %s\n%s\n\n", r.title(), r.survey.Name, r.measured())
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	unit := "inches"
	if r.Unit == length.Mm {
		unit = "mm"
	}
	heads := []string{"trim", unit, "books", "share", "paper", "case", "height", "or else"}
	if len(r.printers) > 0 {
		heads = append(heads, "printer")
	}
	fmt.Fprintln(t, strings.Join(heads, "\t"))
	row := func(trim *shelf.Trim, st shelf.Standing) {
		size, above, also := shelf.ShowTrim(trim.Trim, r.Unit), r.Binding.Over(trim.Trim).Height-r.Median, make([]string, len(st.Also))
		for i, a := range st.Also {
			also[i] = a.Label()
		}
		or := "-"
		if len(also) > 0 {
			or = fmt.Sprintf("%d: %s", st.Doubtful, strings.Join(also, ", "))
		}
		fmt.Fprintf(t, "%s\t%s\t%d\t%d %%\t%d\t%d\t%s\t%s", trim.Label(), strings.TrimSuffix(size, " "+r.Unit.String()), st.Books,
			shelf.Percent(st.Books, len(r.Books)), st.Paperback, st.Cased, withSign(shelf.Show(above, r.Unit)), or)
		if len(r.printers) > 0 {
			offer := "no"
			if trim.Offered {
				offer = "yes"
			}
			if trim.OfferAs != "" {
				offer += ", as " + trim.OfferAs
			}
			fmt.Fprint(t, "\t", offer)
		}
		fmt.Fprintln(t)
	}
	for _, st := range r.Standings {
		row(st.Trim, st)
	}
	for _, c := range r.Candidates {
		if c.Books == 0 {
			row(c.Trim, shelf.Standing{})
		}
	}
	if r.Unknown > 0 {
		fmt.Fprintf(t, "no known trim\t\t%d\t%d %%\n", r.Unknown, shelf.Percent(r.Unknown, len(r.Books)))
	}
	if err := t.Flush(); err != nil {
		return err
	}
	as := "a paperback"
	if r.Binding == shelf.Case {
		as = "a case-bound copy"
	}
	fmt.Fprintf(w, "height: of %s, above or below the middle of the shelf, %s; or else: books that another trim fits as well\n", as, shelf.Show(r.Median, r.Unit))
	if r.Unknown > 0 {
		fmt.Fprintln(w, "\nOf no known trim:")
		listed := 0
		for i := range r.Books {
			if p := &r.Books[i]; len(p.Fits) == 0 {
				if listed++; listed > mostListed {
					fmt.Fprintf(w, "  and %d more; --json lists all\n", r.Unknown-mostListed)
					break
				}
				name := p.Title
				if name != "" {
					name += ", "
				}
				fmt.Fprintf(w, "  %s:%d: %s%s wide, %s high; nearest is %s, %s off\n", r.survey.Name, p.Line, name, shelf.Show(p.Width.Length, r.Unit), shelf.Show(p.Height.Length, r.Unit),
					p.Nearest.Trim.Label(), shelf.Show(p.Nearest.Off, r.Unit))
			}
		}
	}
	fmt.Fprintln(w)
	if r.Belongs != nil {
		fmt.Fprintf(w, "%s belongs on this shelf.\n", r.Belongs.Label())
	} else {
		fmt.Fprintln(w, "No trim can be said to belong on this shelf.")
	}
	for _, s := range r.Reasons {
		fmt.Fprintln(w, "  + "+s)
	}
	for _, s := range r.Doubts {
		fmt.Fprintln(w, "  - "+s)
	}
	if len(r.Candidates) > 1 || len(r.Candidates) == 1 && r.Candidates[0].Trim != r.Belongs {
		fmt.Fprintln(w, "\nThe trims asked for:")
		for _, c := range r.Candidates {
			fmt.Fprintln(w, "  "+c.Says)
		}
	}
	if r.picture != "" {
		fmt.Fprintf(w, "\nThe shelf is drawn to scale in %s\n", r.picture)
	}
	_, err := fmt.Fprintln(w, "\n"+caution)
	return err
}

// mostListed is how many books of no known trim are listed.
const mostListed = 12

// withSign writes how a copy stands to the middle of the shelf.
func withSign(s string) string {
	switch {
	case strings.HasPrefix(s, "0 "):
		return "level"
	case strings.HasPrefix(s, "-"):
		return s
	}
	return "+" + s
}

// The forms of the report in JSON; the keys are stable.
type (
	shelfJSON struct {
		Survey     string           `json:"survey"`
		Genre      string           `json:"genre,omitempty"`
		Printers   []string         `json:"printers,omitempty"`
		Unit       string           `json:"unit"`
		Least      float64          `json:"least"`
		Median     float64          `json:"median"`
		Most       float64          `json:"most"`
		Trims      []shelfTrim      `json:"trims"`
		Unknown    int              `json:"unknown"`
		Doubtful   int              `json:"doubtful"`
		Belongs    string           `json:"belongs"`
		Reasons    []string         `json:"reasons"`
		Doubts     []string         `json:"doubts"`
		Candidates []shelfCandidate `json:"candidates"`
		Books      []shelfBook      `json:"books"`
		Remarks    []string         `json:"remarks,omitempty"`
		Picture    string           `json:"picture,omitempty"`
	}
	shelfTrim struct {
		Trim      string   `json:"trim"`
		Name      string   `json:"name,omitempty"`
		Source    string   `json:"source"`
		Width     float64  `json:"width"`
		Height    float64  `json:"height"`
		Books     int      `json:"books"`
		Paperback int      `json:"paperback"`
		Case      int      `json:"case"`
		Doubtful  int      `json:"doubtful"`
		Also      []string `json:"also,omitempty"`
		Offered   *bool    `json:"offered,omitempty"` // where terms are known
	}
	shelfCandidate struct {
		Trim    string  `json:"trim"`
		Books   int     `json:"books"`
		Height  float64 `json:"height"` // over all
		Above   float64 `json:"above"`  // the median
		Higher  int     `json:"higherThan"`
		Lower   int     `json:"lowerThan"`
		Says    string  `json:"says"`
		Offered *bool   `json:"offered,omitempty"`
	}
	shelfBook struct {
		Line    int      `json:"line"`
		Title   string   `json:"title,omitempty"`
		Genre   string   `json:"genre,omitempty"`
		Binding string   `json:"binding"`
		Width   float64  `json:"width"`
		Height  float64  `json:"height"`
		Trim    string   `json:"trim,omitempty"` // none: of no known trim
		Also    []string `json:"also,omitempty"`
		Nearest string   `json:"nearest"`
		Off     float64  `json:"off"` // from the nearest
	}
)

func (r *shelfReport) json() *shelfJSON {
	offered := func(t *shelf.Trim) *bool {
		if len(r.printers) == 0 {
			return nil
		}
		return &t.Offered
	}
	j := &shelfJSON{
		Survey: filepath.ToSlash(r.survey.Name), Genre: r.genre, Printers: r.printers, Unit: r.Unit.String(),
		Least: points(r.Least), Median: points(r.Median), Most: points(r.Most), Unknown: r.Unknown, Doubtful: r.Doubtful,
		Trims: []shelfTrim{}, Reasons: append([]string{}, r.Reasons...), Doubts: append([]string{}, r.Doubts...),
		Candidates: []shelfCandidate{}, Remarks: r.survey.Remarks, Picture: r.picture,
	}
	if r.Belongs != nil {
		j.Belongs = r.Belongs.Written()
	}
	for _, st := range r.Standings {
		t := shelfTrim{Trim: st.Trim.Written(), Name: st.Trim.Name, Source: st.Trim.Source, Width: points(st.Trim.Width.Length), Height: points(st.Trim.Height.Length),
			Books: st.Books, Paperback: st.Paperback, Case: st.Cased, Doubtful: st.Doubtful, Offered: offered(st.Trim)}
		for _, a := range st.Also {
			t.Also = append(t.Also, a.Written())
		}
		j.Trims = append(j.Trims, t)
	}
	for _, c := range r.Candidates {
		j.Candidates = append(j.Candidates, shelfCandidate{c.Trim.Written(), c.Books, points(c.Height), points(c.Above), c.Taller, c.Lower, c.Says, offered(c.Trim)})
	}
	for i := range r.Books {
		p := &r.Books[i]
		b := shelfBook{Line: p.Line, Title: p.Title, Genre: p.Genre, Binding: string(p.Binding), Width: points(p.Width.Length), Height: points(p.Height.Length),
			Nearest: p.Nearest.Trim.Written(), Off: points(p.Nearest.Off)}
		for k, fit := range p.Fits {
			if k == 0 {
				b.Trim = fit.Trim.Written()
				continue
			}
			b.Also = append(b.Also, fit.Trim.Written())
		}
		j.Books = append(j.Books, b)
	}
	return j
}
