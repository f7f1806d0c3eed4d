package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"bodkin/cmd/bodkin/internal/strict"

	"github.com/schollz/progressbar/v3"
)

// output is a file that a call asks for.
type output struct {
	path, suffix string // "proof.pdf", ".pdf"
	flag         string // by which it was asked for
}

// check refuses what would write over something that is no earlier output: a
// file of another kind, one of the inputs, a folder, a device.
func (o output) check(inputs []string) error {
	if !strings.EqualFold(filepath.Ext(o.path), o.suffix) {
		return &callError{fmt.Errorf("%s %s: the file's name must end in %s", o.flag, o.path, o.suffix)}
	}
	there, err := os.Stat(o.path)
	if err != nil {
		return nil // it is not there; whether it can be made is seen when it is
	}
	if !there.Mode().IsRegular() {
		return &callError{fmt.Errorf("%s %s: this is not a file that can be written", o.flag, o.path)}
	}
	for _, in := range inputs {
		if info, err := os.Stat(in); err == nil && os.SameFile(info, there) {
			return &callError{fmt.Errorf("%s %s: this is a file of the book, which is never written to", o.flag, o.path)}
		}
	}
	return nil
}

// writeWhole writes a file so that it is there whole or not at all: to a
// temporary file beside it, which then takes its name.
func writeWhole(path string, write func(io.Writer) error) (err error) {
	temporary, err := os.CreateTemp(filepath.Dir(path), ".bodkin-*")
	if err != nil {
		return cannotWrite(path, err)
	}
	defer func() {
		if err != nil {
			temporary.Close()
			os.Remove(temporary.Name())
		}
	}()
	if err := write(temporary); err != nil {
		return err
	}
	if err := temporary.Chmod(0o644); err != nil {
		return cannotWrite(path, err)
	}
	if err := temporary.Close(); err != nil {
		return cannotWrite(path, err)
	}
	if err := os.Rename(temporary.Name(), path); err != nil {
		return cannotWrite(path, err)
	}
	return nil
}

// cannotWrite says which file could not be written, and not the temporary one
// that was to become it.
func cannotWrite(path string, err error) error {
	mend := ""
	if dir := filepath.Dir(path); errors.Is(err, fs.ErrNotExist) {
		mend = "; make the folder " + dir + " first"
	}
	return fmt.Errorf("%s cannot be written: %w%s", path, strict.Cause(err), mend)
}

// writeJSON writes one object with its keys in the order of v's fields.
func writeJSON(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(v)
}

// date is the date that a file carries: SOURCE_DATE_EPOCH where it is set
// (seconds since 1970, as reproducible-builds.org specifies), or that of the
// newest input.
func date(inputs ...time.Time) (time.Time, error) {
	if s := os.Getenv("SOURCE_DATE_EPOCH"); s != "" {
		seconds, err := strconv.ParseInt(s, 10, 64)
		if err != nil || seconds < 0 || seconds > 253402300799 {
			return time.Time{}, fmt.Errorf("SOURCE_DATE_EPOCH is %q: it must be a number of seconds since 1970", s)
		}
		return time.Unix(seconds, 0).UTC(), nil
	}
	var newest time.Time
	for _, t := range inputs {
		if t.After(newest) {
			newest = t
		}
	}
	return newest.UTC(), nil
}

func isTerminal(w io.Writer) bool {
	terminal, ok := w.(*os.File)
	if !ok {
		return false
	}
	info, err := terminal.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}

// showProgress shows on a terminal that work goes on, once it has gone on for
// a second. The function that it returns ends it.
func showProgress(w io.Writer, doing string) (done func()) {
	if !isTerminal(w) {
		return func() {}
	}
	end, ended := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(ended)
		select {
		case <-end:
			return
		case <-time.After(time.Second):
		}
		bar := progressbar.NewOptions(-1, progressbar.OptionSetWriter(w),
			progressbar.OptionSetDescription(doing), progressbar.OptionClearOnFinish())
		tick := time.NewTicker(100 * time.Millisecond)
		defer tick.Stop()
		for {
			select {
			case <-end:
				_ = bar.Finish() // a terminal that went away is no fault
				return
			case <-tick.C:
				_ = bar.Add(1)
			}
		}
	}()
	return func() {
		close(end)
		<-ended
	}
}
