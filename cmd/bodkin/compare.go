package main

import (
	"context"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"

	"bodkin/cmd/bodkin/internal/report"
	"bodkin/cmd/bodkin/internal/sheet"
	"bodkin/markup"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// ownSetting is what a call says for the setting of [setting], unless the
// book has one of that name.
const ownSetting = "book"

func compareCommand() *cobra.Command {
	var (
		p    compareCall
		json bool
	)
	c := &cobra.Command{
		Use:   "compare BOOK A B ...",
		Short: "Hold two or more settings of the book against each other",
		Long: `Compare sets the whole book in each of the settings that it is given and prints
how they differ: in pages, in what stands on a page, in the copy they make.
With -o it writes a page for a browser that shows the copies to one scale, the
same words in each at true size, an open spread of each, and what other sizes
and leadings would come to. It is one file and needs no network.

A setting is one of
  roomy                              a name: [settings.roomy] in book.toml
  book                               the book's own, [setting]
  "size=10.5pt leading=13pt"         changes of the book's own
  "roomy size=11pt"                  changes of another
  "small: size=10pt trim=5.25x8in"   with a label before a colon
The keys are ` + strings.Join(adHocKeys(), ", ") + `.
One setting alone is compared with the book's own.`,
		Example: `  bodkin compare my-book roomy
  bodkin compare my-book book roomy "small: size=10pt leading=12.5pt" -o comparison.html
  bodkin compare my-book "trim=5x8in" "trim=5.5x8.5in" --printer printer.toml --list 13.99
  bodkin compare my-book roomy --sheet shelf.pdf`,
		Args: func(c *cobra.Command, args []string) error {
			if len(args) < 2 {
				return &callError{fmt.Errorf("compare takes a BOOK and at least one setting, and got %d; as in: bodkin compare my-book roomy", len(args))}
			}
			return nil
		},
		RunE: func(c *cobra.Command, args []string) error {
			r, err := p.run(c, args[0], args[1:])
			if err != nil {
				return err
			}
			if json {
				return writeJSON(c.OutOrStdout(), r)
			}
			return r.print(c.OutOrStdout())
		},
	}
	c.Flags().SortFlags = false
	c.Flags().StringVarP(&p.output, "output", "o", "", "also write `FILE.html`, a page that shows the editions")
	p.sheet.add(c.Flags())
	p.edition.add(c.Flags())
	c.Flags().StringVar(&p.fonts, "fonts", "", "a `FOLDER` of your own TrueType or OpenType faces")
	c.Flags().BoolVar(&json, "json", false, "print one JSON object; lengths in points")
	return c
}

// compareCall is what a call of the command asks for.
type compareCall struct {
	output  string
	sheet   sheetFlags
	edition editionFlags
	fonts   string
}

func (p *compareCall) run(c *cobra.Command, path string, args []string) (*comparison, error) {
	named, err := readNamed(args)
	if err != nil {
		return nil, &callError{err}
	}
	flags := settingFlags{fonts: p.fonts}
	j, err := flags.load(c.Context(), path)
	if err != nil {
		return nil, err
	}
	r := &comparison{Title: j.book.Title, Author: j.book.Author, Words: j.book.Words(), job: j}
	for _, n := range named {
		e, err := p.edit(j, n)
		if err != nil {
			return nil, err
		}
		r.Editions = append(r.Editions, e)
	}
	if p.output != "" {
		if err := (output{p.output, ".html", "-o"}).check(j.inputs); err != nil {
			return nil, err
		}
		if n := len(r.Editions); n > report.MostEditions {
			return nil, &callError{fmt.Errorf("-o %s: a page shows %d editions at most, and these are %d", p.output, report.MostEditions, n)}
		}
	}
	if err := p.sheet.check(j.inputs); err != nil {
		return nil, err
	}
	if err := r.set(c.Context(), c.ErrOrStderr()); err != nil {
		return nil, err
	}
	return r, p.write(c, r)
}

// write writes the files that were asked for.
func (p *compareCall) write(c *cobra.Command, r *comparison) error {
	if p.output != "" {
		page, err := r.page(c.Context(), c.ErrOrStderr())
		if err != nil {
			return err
		}
		if err := writeWhole(p.output, func(w io.Writer) error { return report.Write(w, page) }); err != nil {
			return err
		}
		r.File = p.output
	}
	if p.sheet.path == "" {
		return nil
	}
	when, err := date(r.job.modified)
	if err != nil {
		return &callError{err}
	}
	var editions []sheet.Edition
	for _, e := range r.Editions {
		editions = append(editions, sheet.Edition{Name: e.Name, Layout: e.layout, Spine: e.copy.Spine, Stock: e.copy.Stock.Name})
	}
	if r.notes, err = p.sheet.write(editions, when); err != nil {
		return err
	}
	r.Sheet = p.sheet.path
	return nil
}

// named is an edition as a call names it.
type named struct {
	label   string
	setting string // of book.toml; "" where the call names none
	changes []assignment
}

type assignment struct{ key, value string }

// readNamed reads the settings of a call. One alone is compared with the
// book's own.
func readNamed(args []string) ([]named, error) {
	var all []named
	if len(args) == 1 {
		all = append(all, named{label: ownSetting, setting: ownSetting})
	}
	for _, arg := range args {
		n, err := readOne(arg)
		if err != nil {
			return nil, err
		}
		if slices.ContainsFunc(all, func(o named) bool { return o.label == n.label }) {
			return nil, fmt.Errorf("%q stands here twice: compare it with another setting, or label one, as in \"wider: trim=5.5x8.5in\"", n.label)
		}
		all = append(all, n)
	}
	return all, nil
}

// assigned finds the keys of a list of assignments. A value reaches to the
// next key, so that it may hold spaces: face=EB Garamond size=11pt.
var assigned = regexp.MustCompile(`(?:^|\s)([a-z][a-z-]*)\s*=\s*`)

// readOne reads one: an optional label and colon, an optional name, changes.
func readOne(arg string) (named, error) {
	s := strings.TrimSpace(arg)
	n := named{label: s}
	if first := strings.IndexAny(s, "=:"); first >= 0 && s[first] == ':' {
		n.label, s = strings.TrimSpace(s[:first]), strings.TrimSpace(s[first+1:])
	}
	keys := assigned.FindAllStringSubmatchIndex(s, -1)
	n.setting = s
	if len(keys) > 0 {
		n.setting = strings.TrimSpace(s[:keys[0][0]])
	}
	for i, at := range keys {
		end := len(s)
		if i+1 < len(keys) {
			end = keys[i+1][0]
		}
		value := strings.Trim(strings.TrimSpace(s[at[1]:end]), `"'`)
		n.changes = append(n.changes, assignment{s[at[2]:at[3]], value})
	}
	switch {
	case n.label == "" || s == "":
		return n, fmt.Errorf("%q names no setting: write a name, as in roomy, or changes, as in \"size=10.5pt leading=13pt\"", arg)
	case len(n.label) > 60:
		return n, fmt.Errorf("%q is long for the head of a column: label it, as in \"small: size=10pt\"", n.label)
	case strings.ContainsAny(n.setting, "="):
		return n, fmt.Errorf("%q: write each change as key=value, as in size=10.5pt", arg)
	}
	return n, nil
}

// adHocFlags are the keys that a call can change, as flags.
func adHocFlags() (*settingFlags, *pflag.FlagSet) {
	flags, set := new(settingFlags), pflag.NewFlagSet("", pflag.ContinueOnError)
	flags.add(set)
	return flags, set
}

func adHocKeys() []string {
	var keys []string
	_, set := adHocFlags()
	set.VisitAll(func(f *pflag.Flag) {
		if f.Name != "setting" && f.Name != "fonts" {
			keys = append(keys, f.Name)
		}
	})
	return keys
}

// edit makes an edition from what a call names.
func (p *compareCall) edit(j *job, n named) (*compared, error) {
	e := &compared{Name: n.label}
	var of string
	var err error
	if e.setting, of, err = j.named(n.setting); err != nil {
		return nil, &callError{fmt.Errorf("%w; %q is the book's own, and changes are written as \"size=10.5pt leading=13pt\"", err, ownSetting)}
	}
	flags, set := adHocFlags()
	for _, c := range n.changes {
		if keys := adHocKeys(); !slices.Contains(keys, c.key) {
			hint := "; the keys are " + strings.Join(keys, ", ")
			if best := markup.Nearest(c.key, keys); best != "" {
				hint = "; did you mean " + best + "?"
			}
			return nil, &callError{fmt.Errorf("%s: the key %s is not known%s", n.label, c.key, hint)}
		}
		if err := set.Set(c.key, c.value); err != nil {
			where := n.label
			if text := c.key + "=" + c.value; !strings.Contains(where, text) {
				where += ": " + text
			}
			return nil, &callError{fmt.Errorf("%s: %w", where, faultOf(err))}
		}
	}
	for _, change := range flags.changes {
		change(&e.setting)
	}
	if e.printer, err = p.edition.of(j, of); err != nil {
		return nil, err
	}
	e.setting.Press = e.printer.press
	return e, nil
}

// faultOf takes off what a set of flags says before a fault: it names flags, and
// these are keys.
func faultOf(err error) error {
	for {
		u, ok := err.(interface{ Unwrap() error })
		if !ok || u.Unwrap() == nil {
			return err
		}
		if _, flag := err.(*pflag.InvalidValueError); !flag {
			return err
		}
		err = u.Unwrap()
	}
}

// set sets the book in every edition.
func (r *comparison) set(ctx context.Context, progress io.Writer) error {
	bar := showSteps(progress, len(r.Editions), "edition")
	defer bar.done()
	for _, e := range r.Editions {
		var err error
		if e.layout, err = r.job.composer.Compose(ctx, e.setting); err != nil {
			return fmt.Errorf("%s: %w", e.Name, err)
		}
		if e.copy, err = e.printer.copy(e.setting.Trim, len(e.layout.Pages)); err != nil {
			return fmt.Errorf("%s: %w", e.Name, err)
		}
		e.measure(r)
		bar.step()
	}
	return nil
}
