package main

import (
	"embed"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"

	"github.com/spf13/cobra"
)

// starter is the book that new writes.
//
//go:embed starter
var starter embed.FS

func newCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "new DIR",
		Short: "Write a small book folder to begin from",
		Long: `New writes a folder with a short book in it: a book.toml with every choice
explained, two chapters, and pages for the front and back. It can be set at
once with bodkin proof, and then be changed piece by piece into your own.

A folder that has something in it already is left alone.`,
		Example: "  bodkin new my-book\n  bodkin proof my-book",
		Args:    exactly("DIR"),
		RunE: func(c *cobra.Command, args []string) error {
			files, err := writeStarter(args[0])
			if err != nil {
				return err
			}
			for _, name := range files {
				fmt.Fprintln(c.OutOrStdout(), filepath.Join(args[0], name))
			}
			fmt.Fprintf(c.OutOrStdout(), "Now set it: bodkin proof %s\n", args[0])
			return nil
		},
	}
}

// writeStarter writes the starter's files below dir, which must be new or
// empty, and returns their names.
func writeStarter(dir string) (files []string, err error) {
	if dir == "" {
		return nil, &callError{errors.New("the name of the folder is empty; as in: bodkin new my-book")}
	}
	switch entries, err := os.ReadDir(dir); {
	case err == nil && len(entries) > 0:
		return nil, fmt.Errorf("%s is not empty: name a folder that is new, so that nothing is written over", dir)
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return nil, fmt.Errorf("%s cannot be used: %w", dir, err)
	}
	err = fs.WalkDir(starter, "starter", func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		under, err := filepath.Rel("starter", filepath.FromSlash(name))
		if err != nil {
			return err
		}
		if d.IsDir() {
			return os.MkdirAll(filepath.Join(dir, under), 0o777)
		}
		text, err := starter.ReadFile(path.Clean(name))
		if err != nil {
			return err
		}
		files = append(files, under)
		return writeWhole(filepath.Join(dir, under), func(w io.Writer) error {
			_, err := w.Write(text)
			return err
		})
	})
	if err != nil {
		return nil, fmt.Errorf("%s: %w", dir, err)
	}
	return files, nil
}
