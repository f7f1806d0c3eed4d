package main

import (
	"errors"
	"fmt"
	"io"

	"bodkin/cmd/bodkin/internal/bookfile"
	"bodkin/typeset"

	"github.com/spf13/pflag"
)

// keepFlags are the flags by which a call keeps a setting under a name.
type keepFlags struct {
	name    string
	replace bool
}

// add declares the flags; what says which setting is kept.
func (k *keepFlags) add(flags *pflag.FlagSet, what string) {
	flags.StringVar(&k.name, "keep", "", "write "+what+" into book.toml as [settings.`NAME`]")
	flags.BoolVar(&k.replace, "replace", false, "--keep may change a setting that has the name already")
}

// check complains before anything is set of what could not be kept.
func (k *keepFlags) check(book string) error {
	switch {
	case k.name != "":
		if err := bookfile.MayKeep(book, k.name, k.replace); err != nil {
			return &callError{err}
		}
	case k.replace:
		return &callError{errors.New("--replace is for --keep NAME: name the setting that may be changed")}
	}
	return nil
}

// keep writes the setting into the book, and says on w how to use it.
func (k *keepFlags) keep(w io.Writer, book, what string, s typeset.Setting) error {
	if k.name == "" {
		return nil
	}
	if err := bookfile.Keep(book, k.name, s, k.replace); err != nil {
		return err
	}
	_, err := fmt.Fprintf(w, "Kept %s as [settings.%s]. To set the book in it: bodkin proof %s --setting %[2]s\n", what, k.name, book)
	return err
}
