package main

import (
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"bodkin/cmd/bodkin/internal/copyfit"
	"bodkin/typeset"
	"bodkin/typeset/length"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

func copyfitCommand() *cobra.Command {
	var (
		f           copyfitCall
		json, asCSV bool
	)
	c := &cobra.Command{
		Use:   "copyfit BOOK",
		Short: "Find the settings that make a wanted number of pages, and read best",
		Long: `Copyfit looks for settings in which the book makes as many pages as you want, or
costs or earns as much a copy, and shows the few that read best. Every setting
that it reports was really set.

Say what is wanted, one of
  --pages 240         240 pages, or as near below as the book comes
  --pages 230..240    anything between; ..240 is no more, 240.. no less
  --multiple 16       full signatures of 16 pages, so that no leaf is left over
  --as SETTING        as many pages as another setting of the book makes
  --charge 4.50       a copy for which the printer charges no more
  --earn 3.90         a copy that leaves you this much at its list price

It begins with what no reader sees: chapters that can end a page sooner do. Then
it brings lines closer together, narrows margins and, last, sets the type
smaller; or the other way, to make more pages. Readability is a number up to
1000: length of lines, size of letters, leading, margins, and how far all that is
from what you chose. Face and trim stay, unless you name several to try.`,
		Example: `  bodkin copyfit my-book --pages 240
  bodkin copyfit my-book --multiple 16 --least-size 10.5pt
  bodkin copyfit my-book --earn 3.90 --list 13.99 --printer printer.toml --trim 5x8in,5.5x8.5in
  bodkin copyfit my-book --pages ..220 --keep slim`,
		Args: exactly("BOOK"),
		RunE: func(c *cobra.Command, args []string) error {
			if json && asCSV {
				return &callError{errors.New("--json and --csv are two forms of one table: ask for one")}
			}
			r, err := f.run(c, args[0])
			if err != nil {
				return err
			}
			switch {
			case json:
				err = writeJSON(c.OutOrStdout(), r)
			case asCSV:
				err = r.csv(c.OutOrStdout())
			default:
				err = r.print(c.OutOrStdout())
			}
			if err != nil {
				return err
			}
			return f.keepIt(c, args[0], r)
		},
	}
	f.add(c)
	c.Flags().BoolVar(&asCSV, "csv", false, "print the settings as comma-separated values")
	c.Flags().BoolVar(&json, "json", false, "print one JSON object; lengths in points")
	return c
}

// mostCandidates is how many settings a search may have to look through. It
// sets few of them as a rule.
const mostCandidates = 50_000

// copyfitCall is what a call of the command asks for.
type copyfitCall struct {
	wish   wish
	limits copyfit.Limits
	trims  []string
	best   int
	whole  bool
	output string
	keep   keepFlags
	choose int

	setting settingFlags
	edition editionFlags
}

// add declares the flags.
func (f *copyfitCall) add(c *cobra.Command) {
	flags := c.Flags()
	flags.SortFlags = false
	single := pflag.NewFlagSet("", pflag.ContinueOnError)
	f.setting.add(single)
	flags.Func("pages", "what is wanted: `N` pages, or a range; or the aim of page ends now, even or fewest", func(text string) error {
		if text == "even" || text == "fewest" {
			return single.Lookup("pages").Value.Set(text)
		}
		f.wish.pages = text
		return nil
	})
	flags.IntVar(&f.wish.multiple, "multiple", 0, "full signatures of `N` pages")
	flags.StringVar(&f.wish.as, "as", "", "as many pages as the `SETTING` makes; book is that of [setting]")
	flags.StringVar(&f.wish.charge, "charge", "", "a charge of no more than this `AMOUNT`, as in 4.50")
	flags.StringVar(&f.wish.earn, "earn", "", "earnings of this `AMOUNT` or more at the list price, as in 3.90")

	l := &f.limits
	long := func(to *length.Value, name, unit, usage string) {
		flags.Func(name, usage, func(text string) error {
			if bare.MatchString(text) {
				text += unit
			}
			return to.UnmarshalText([]byte(text))
		})
	}
	long(&l.LeastSize, "least-size", "pt", "the smallest `SIZE` of type, as in 10pt (9pt if it is left out)")
	long(&l.MostSize, "most-size", "pt", "the largest `SIZE` of type (12pt)")
	leading := func(to **typeset.Leading, name, usage string) {
		flags.Func(name, usage, func(text string) error {
			if bare.MatchString(text) {
				text += "pt"
			}
			*to = new(typeset.Leading)
			return (*to).UnmarshalText([]byte(text))
		})
	}
	leading(&l.LeastLeading, "least-leading", "the closest `LEADING`, as in 120% of the size or 12.5pt (115%)")
	leading(&l.MostLeading, "most-leading", "the widest `LEADING` (145%)")
	flags.Func("characters", "the characters of a full line, `FROM..TO` (45..75)", func(text string) error {
		from, to, found := strings.Cut(text, "..")
		var err, err2 error
		l.LeastCharacters, err = strconv.Atoi(from)
		l.MostCharacters, err2 = strconv.Atoi(to)
		if !found || err != nil || err2 != nil || l.LeastCharacters < 20 || l.MostCharacters < l.LeastCharacters || l.MostCharacters > 150 {
			return fmt.Errorf("%q is not a range within 20..150, as in 45..75", text)
		}
		return nil
	})
	long(&l.LeastMargin, "least-margin", "", "the narrowest head, foot and outer margin, a `LENGTH` (0.5in or 12mm)")
	long(&l.MostMargin, "most-margin", "", "the widest of them, a `LENGTH` (an eighth of an inch more than now; a quarter where more pages are wanted)")
	flags.StringSliceVar(&f.trims, "trim", nil, "the trim, or several to try, `TRIMS` as in 5x8in,5.25x8in")
	flags.StringSliceVar(&l.Faces, "face", nil, "the face, or several to try, `NAMES` as in \"EB Garamond,Literata\"")

	flags.IntVar(&f.best, "best", 3, "show the best `N`")
	flags.BoolVar(&f.whole, "whole", false, "try every setting within the limits, so that the table of pages and readability goes to the end of them")
	flags.StringVarP(&f.output, "output", "o", "", "also write all settings that were tried, with what they came to, to `FILE.csv`")
	f.keep.add(flags, "the best setting")
	flags.IntVar(&f.choose, "choose", 1, "--keep writes number `N` of the best")
	f.edition.add(flags)
	single.VisitAll(func(one *pflag.Flag) {
		if flags.Lookup(one.Name) == nil {
			flags.AddFlag(one)
		}
	})
}

// bounded complains of limits that are no lengths for them.
func (f *copyfitCall) bounded(c *cobra.Command) error {
	if err := f.wish.check(); err != nil {
		return err
	}
	for name, v := range map[string]length.Value{"least-size": f.limits.LeastSize, "most-size": f.limits.MostSize,
		"least-margin": f.limits.LeastMargin, "most-margin": f.limits.MostMargin} {
		if c.Flags().Changed(name) && v.Length <= 0 {
			return &callError{fmt.Errorf("--%s %v: it must be more than nothing", name, v)}
		}
	}
	if f.limits.LeastSize.Length > 36*length.Point || f.limits.MostSize.Length > 36*length.Point {
		return &callError{errors.New("sizes for copyfit run up to 36pt")}
	}
	if f.limits.MostMargin.Length > 3*length.Inch {
		return &callError{fmt.Errorf("--most-margin %v: it runs up to 3in", f.limits.MostMargin)}
	}
	if len(f.edition.printers) > 1 {
		return &callError{errors.New("copyfit reckons with one printer; castoff holds several against each other")}
	}
	if f.best < 1 || f.best > 50 {
		return &callError{fmt.Errorf("--best %d: show from 1 to 50", f.best)}
	}
	if f.keep.name == "" && c.Flags().Changed("choose") {
		return &callError{errors.New("--choose says which setting to keep: add --keep NAME")}
	}
	if f.choose < 1 || f.choose > f.best {
		return &callError{fmt.Errorf("--choose %d: there are %d to choose from; show more with --best", f.choose, f.best)}
	}
	return nil
}

// load reads the book, its trims and faces, and what its printer asks.
func (f *copyfitCall) load(c *cobra.Command, path string) (*job, offer, error) {
	j, err := f.setting.load(c.Context(), path)
	if err != nil {
		return nil, offer{}, err
	}
	for _, text := range f.trims {
		trim, err := typeset.ParseTrim(text)
		if err != nil {
			return nil, offer{}, &callError{err}
		}
		f.limits.Trims = append(f.limits.Trims, trim)
	}
	if len(f.limits.Trims) == 1 {
		j.setting.Trim = f.limits.Trims[0]
	}
	if len(f.limits.Faces) == 1 {
		j.setting.Face = f.limits.Faces[0]
	}
	printer, err := f.edition.of(j, f.setting.name)
	if err != nil {
		return nil, printer, err
	}
	j.setting.Press = printer.press
	if printer.terms != nil {
		f.limits.Safety = printer.terms.Safety.Length
	}
	if p := j.setting.Press; p != nil && f.wish.multiple != 0 {
		open := *p // not filled, so that it shows what is left over
		open.Multiple = 2
		j.setting.Press = &open
	}
	if f.output != "" {
		if err := (output{f.output, ".csv", "-o"}).check(j.inputs); err != nil {
			return nil, printer, err
		}
	}
	return j, printer, f.keep.check(path)
}

func (f *copyfitCall) run(c *cobra.Command, path string) (*copyfitReport, error) {
	if err := f.bounded(c); err != nil {
		return nil, err
	}
	j, printer, err := f.load(c, path)
	if err != nil {
		return nil, err
	}
	own, err := j.composer.Compose(c.Context(), j.setting)
	if err != nil {
		return nil, fmt.Errorf("the book's own setting: %w", err)
	}
	t, err := f.wish.of(c.Context(), j, &f.edition, printer, f.limits.Trims, len(own.Pages))
	if err != nil {
		return nil, err
	}
	t.Want, t.Whole = f.best, f.whole
	space, err := copyfit.NewSpace(c.Context(), j.composer, own, f.limits, t.Target)
	if err != nil {
		return nil, err
	}
	if n := len(space.Candidates); n > mostCandidates {
		return nil, &callError{fmt.Errorf("these limits leave %s settings, and %s are the most: draw them closer, or try fewer trims and faces",
			thousands(n), thousands(mostCandidates))}
	}
	r := &copyfitReport{Title: j.book.Title, Author: j.book.Author, Words: j.book.Words(), Wanted: t.words,
		met: meets(t, own), fewer: !meets(t, own) && t.Least < len(own.Pages), space: space, printer: printer}
	if r.Now, err = r.row(space.Author(own, t.Target)); err != nil {
		return nil, err
	}
	if r.PageEnds, err = pageEnds(c, j, own, t); err != nil {
		return nil, err
	}
	bar := showSteps(c.ErrOrStderr(), len(space.Candidates), "setting")
	bar.sample = 0 // a search most often ends long before it has set them all
	defer bar.done()
	found, err := space.Search(c.Context(), j.composer, t.Target, bar.step)
	if err != nil {
		return nil, err
	}
	bar.done()
	if err := r.fill(found); err != nil {
		return nil, err
	}
	if f.output != "" {
		err = writeWhole(f.output, func(w io.Writer) error { return r.everything(w, found.All) })
	}
	return r, err
}

// pageEnds tells what the page ends alone come to, with the type as it is.
func pageEnds(c *cobra.Command, j *job, own *typeset.Layout, t *target) (*pageEndsReport, error) {
	s := j.setting
	if s.Pages == typeset.FewestPages {
		return &pageEndsReport{Pages: len(own.Pages), Fewest: true, Meets: meets(t, own)}, nil
	}
	s.Pages = typeset.FewestPages
	l, err := j.composer.Compose(c.Context(), s)
	if err != nil {
		return nil, err
	}
	return &pageEndsReport{Pages: len(l.Pages), Saved: len(own.Pages) - len(l.Pages), Meets: meets(t, l)}, nil
}

func meets(t *target, l *typeset.Layout) bool {
	is, _ := t.Meets(l.Setting.Trim, len(l.Pages))
	return is
}

// keepIt writes the setting that was chosen into book.toml.
func (f *copyfitCall) keepIt(c *cobra.Command, path string, r *copyfitReport) error {
	if len(r.Best) == 0 {
		return r.missed()
	}
	if f.keep.name == "" {
		return nil
	}
	if f.choose > len(r.Best) {
		return &callError{fmt.Errorf("--choose %d: %d were found; nothing was kept", f.choose, len(r.Best))}
	}
	return f.keep.keep(c.ErrOrStderr(), path, fmt.Sprintf("number %d", f.choose), r.Best[f.choose-1].set.Setting)
}
