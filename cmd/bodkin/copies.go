package main

import (
	"errors"
	"fmt"
	"strconv"
	"time"

	"bodkin/cmd/bodkin/internal/edition"
	"bodkin/typeset"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// copyFlags say which copy spine and price are about: one of a book, with the
// pages that it really has in its setting, or one of so many pages without a
// book.
type copyFlags struct {
	setting settingFlags
	edition editionFlags
	pages   int
	aim     func(text string) error // sets the aim of page ends
}

// add declares the flags.
func (f *copyFlags) add(c *cobra.Command) {
	c.Flags().SortFlags = false
	c.Flags().Func("pages", "reckon with `N` pages, without a book; or the aim of page ends, even or fewest", func(text string) error {
		n, err := strconv.Atoi(text)
		if err != nil {
			return f.aim(text)
		}
		if n < 1 {
			return errors.New("a book has pages: write their number")
		}
		f.pages = n
		return nil
	})
	f.edition.add(c.Flags())
	setting := pflag.NewFlagSet("", pflag.ContinueOnError)
	f.setting.add(setting)
	f.aim = setting.Lookup("pages").Value.Set
	setting.VisitAll(func(flag *pflag.Flag) {
		if flag.Name != "pages" {
			c.Flags().AddFlag(flag)
		}
	})
}

// inPrint is a copy and where its pages come from.
type inPrint struct {
	name   string          // of the setting
	layout *typeset.Layout // nil without a book
	job    *job            // nil without a book
	offer
	trim typeset.Trim
	copy *edition.Copy

	title, author string
	inputs        []string
	modified      time.Time
}

// oneBook takes one BOOK, or none.
func oneBook(c *cobra.Command, args []string) error {
	if len(args) > 1 {
		return &callError{fmt.Errorf("%s takes one BOOK, and got %d", c.Name(), len(args))}
	}
	return nil
}

// make sets the book, or takes the pages that the call names.
func (f *copyFlags) make(c *cobra.Command, args []string) (*inPrint, error) {
	switch {
	case len(f.edition.printers) > 1:
		return nil, &callError{fmt.Errorf("%s reckons with one printer; castoff holds several against each other", c.Name())}
	case len(args) == 1 && f.pages != 0:
		return nil, &callError{errors.New("a BOOK has its own number of pages: leave out --pages, or the book")}
	case len(args) == 0 && f.pages == 0:
		return nil, &callError{fmt.Errorf("name a BOOK, or the number of pages: bodkin %s my-book, or bodkin %[1]s --pages 312 --trim 5x8in", c.Name())}
	case len(args) == 0:
		return f.withoutBook(c)
	}
	j, err := f.setting.load(c.Context(), args[0])
	if err != nil {
		return nil, err
	}
	done := showProgress(c.ErrOrStderr(), "setting "+args[0])
	defer done()
	return f.set(c, j, j.setting, f.setting.name)
}

// set sets the book of a job in the setting s, which book.toml has by that
// name, and makes a copy of it.
func (f *copyFlags) set(c *cobra.Command, j *job, s typeset.Setting, name string) (*inPrint, error) {
	p := &inPrint{name: name, title: j.book.Title, author: j.book.Author, job: j}
	var err error
	if p.offer, err = f.edition.of(j, name); err != nil {
		return nil, err
	}
	p.inputs, p.modified = j.inputs, j.modified
	s.Press = p.press
	if p.layout, err = j.composer.Compose(c.Context(), s); err != nil {
		return nil, err
	}
	p.trim = s.Trim
	if p.copy, err = p.offer.copy(p.trim, len(p.layout.Pages)); err != nil {
		return nil, err
	}
	return p, nil
}

// withoutBook makes a copy of as many pages as the call says.
func (f *copyFlags) withoutBook(c *cobra.Command) (*inPrint, error) {
	if f.setting.name != "" {
		return nil, &callError{errors.New("--setting is a setting of a book: name the book, and leave out --pages")}
	}
	s := typeset.Default()
	for _, change := range f.setting.changes {
		change(&s)
	}
	p := &inPrint{trim: s.Trim}
	var err error
	if p.offer, err = f.edition.of(nil, ""); err != nil {
		return nil, err
	}
	switch {
	case c.Flags().Changed("trim"):
	case p.terms == nil:
		return nil, &callError{errors.New("the trim is missing: write --trim 5x8in, or another")}
	default:
		p.trim = p.terms.Trims[0]
	}
	if p.copy, err = p.offer.copy(p.trim, f.pages); err != nil {
		return nil, &callError{err}
	}
	if p.terms != nil {
		p.inputs, p.modified = append(p.inputs, p.terms.Path), p.terms.Modified
	}
	return p, nil
}

// heading says what a report is about.
func (p *inPrint) heading() string {
	if p.layout == nil {
		return fmt.Sprintf("A book of %s at %s", count(p.copy.Pages, "page", "pages"), p.trim)
	}
	s := p.title
	if p.author != "" {
		s += ", " + p.author
	}
	if p.name != "" {
		s += ": " + p.name
	}
	return s
}
