package main

import (
	"fmt"
	"io"
	"time"

	"bodkin/cmd/bodkin/internal/sheet"
	"bodkin/typeset/pdf"

	"github.com/spf13/pflag"
)

// sheetFlags are the flags by which a call asks for pages at true size, for
// the printer at home.
type sheetFlags struct {
	path  string // "" for none
	paper string // "" for that of the book's region
}

// add declares the flags.
func (s *sheetFlags) add(flags *pflag.FlagSet) {
	flags.StringVar(&s.path, "sheet", "", "also write `FILE.pdf` for your own printer: the trims and sample pages at actual size, to hold against your shelf")
	flags.StringVar(&s.paper, "paper", "", "the `PAPER` of --sheet: letter or a4; by itself that of the book's language, letter for en-US")
}

// check refuses what cannot be asked for, before any work is done.
func (s *sheetFlags) check(inputs []string) error {
	if s.path == "" {
		if s.paper != "" {
			return &callError{fmt.Errorf("--paper %s: it is the paper of --sheet FILE.pdf, which is not asked for", s.paper)}
		}
		return nil
	}
	if s.paper != "" {
		if _, err := sheet.ParsePaper(s.paper); err != nil {
			return &callError{fmt.Errorf("--paper: %w", err)}
		}
	}
	return output{s.path, ".pdf", "--sheet"}.check(inputs)
}

// write writes the file, if one is asked for. The notes say, a line each, which
// pages do not stand on the paper as they should.
func (s *sheetFlags) write(editions []sheet.Edition, date time.Time) (notes []string, err error) {
	if s.path == "" || len(editions) == 0 {
		return nil, nil
	}
	paper := sheet.PaperFor(editions[0].Layout.Language)
	if s.paper != "" {
		if paper, err = sheet.ParsePaper(s.paper); err != nil {
			return nil, &callError{fmt.Errorf("--paper: %w", err)}
		}
	}
	sheets, notes, err := sheet.Make(editions, paper)
	if err != nil {
		return nil, err
	}
	return notes, writeWhole(s.path, func(w io.Writer) error {
		return pdf.WriteSheets(w, sheets, pdf.Options{Date: date})
	})
}
