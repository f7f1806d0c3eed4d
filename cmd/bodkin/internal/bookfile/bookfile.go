// Package bookfile finds out what a person means by BOOK: one Markdown file, a
// folder of them, or a folder with a book.toml that says more.
//
//	[book]            what the manuscript is: markup.Source, fonts, hyphens
//	[setting]         the house setting: typeset.Setting over its defaults
//	[settings.roomy]  a variation: the house setting with some keys changed
//
// A series file holds a [setting] that the books of a series share; it stands
// between the defaults and a book's own [setting].
package bookfile

import (
	"errors"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"bodkin/cmd/bodkin/internal/strict"
	"bodkin/markup"
	"bodkin/typeset"

	"github.com/pelletier/go-toml/v2"
)

// Name is the name of the file that describes a book.
const Name = "book.toml"

// File is what is known of a book before its text is read.
type File struct {
	Source   markup.Source
	House    typeset.Setting            // the setting of [setting]
	Settings map[string]typeset.Setting // the variations, by name
	Fonts    string                     // folder of the author's own faces; "" for none
	Hyphens  []string                   // words with the author's own hyphens
	Printers []string                   // paths of the terms of the printers
	Edition  Edition                    // what [edition] takes from a printer's terms
	Editions map[string]Edition         // the same of the variations, by name: over that of the book
	Inputs   []string                   // paths of the files that describe the book
	Modified time.Time                  // of the newest of the files that describe the book; zero without one
}

// Edition is what the author takes from a printer's terms: "" where it is left
// to what the terms offer first.
type Edition struct {
	Stock   string        `toml:"stock"`
	Binding string        `toml:"binding"`
	Ink     string        `toml:"ink"`
	List    strict.Number `toml:"list"` // price
}

// table is the shape of book.toml.
type table struct {
	Book struct {
		Title    string   `toml:"title"`
		Subtitle string   `toml:"subtitle"`
		Author   string   `toml:"author"`
		Language string   `toml:"language"`
		Front    []string `toml:"front"`
		Body     []string `toml:"body"`
		Back     []string `toml:"back"`
		Series   string   `toml:"series"`
		Fonts    string   `toml:"fonts"`
		Hyphens  []string `toml:"hyphens"`
		Printer  any      `toml:"printer"` // a text or a list of them
	} `toml:"book"`
	Setting  typeset.Setting            `toml:"setting"`
	Settings map[string]typeset.Setting `toml:"settings"`
	Edition  Edition                    `toml:"edition"`
	Editions map[string]Edition         `toml:"editions"`
}

// series is the shape of a series file.
type series struct {
	Setting typeset.Setting `toml:"setting"`
}

// Load reads the description of the book at path: a Markdown file, a folder,
// or a book.toml. An error names the file and the line.
func Load(path string) (*File, error) {
	info, err := os.Stat(path)
	if err == nil && info.IsDir() {
		described := filepath.Join(path, Name)
		if _, err := os.Lstat(described); err == nil {
			return read(described)
		}
	} else if err == nil && filepath.Ext(path) == ".toml" {
		return read(path)
	}
	src, err := markup.Discover(path)
	if err != nil {
		return nil, err
	}
	return &File{Source: src, House: typeset.Default()}, nil
}

func read(path string) (*File, error) {
	text, modified, err := strict.Read(path)
	if err != nil {
		return nil, err
	}
	return parse(path, text, modified)
}

// parse reads the text of the file at path, which was written last at modified.
func parse(path string, text []byte, modified time.Time) (_ *File, err error) {
	f := &File{Modified: modified, Inputs: []string{path}}
	dir := filepath.Dir(path)
	house := typeset.Default()
	if err := f.series(path, text, &house); err != nil {
		return nil, err
	}
	t := table{Setting: house}
	if err := decode(path, text, &t); err != nil {
		return nil, err
	}
	f.House = t.Setting
	if f.Settings, err = variations(path, text, f.House); err != nil {
		return nil, err
	}
	b := &t.Book
	if len(b.Body) == 0 {
		return nil, fmt.Errorf("%s: [book] has no body: name the chapters, as in body = [\"chapters/*.md\"]", path)
	}
	f.Source = markup.Source{Dir: dir, Title: b.Title, Subtitle: b.Subtitle, Author: b.Author, Language: b.Language,
		Front: b.Front, Body: b.Body, Back: b.Back}
	f.Hyphens = b.Hyphens
	if f.Printers, err = printers(b.Printer); err != nil {
		return nil, fmt.Errorf("%s:%d: %w", path, strict.LinesOf(text).Of("book.printer"), err)
	}
	for i, name := range f.Printers {
		f.Printers[i] = filepath.Join(dir, filepath.FromSlash(name))
	}
	f.Edition, f.Editions = t.Edition, t.Editions
	for _, name := range slices.Sorted(maps.Keys(f.Editions)) {
		if _, found := f.Settings[name]; !found {
			return nil, fmt.Errorf("%s:%d: [editions.%s] is for a setting that there is not: write [settings.%s] as well, be it empty",
				path, strict.LinesOf(text).Of("editions."+name), name, name)
		}
	}
	if b.Fonts != "" {
		f.Fonts = filepath.Join(dir, filepath.FromSlash(b.Fonts))
	}
	return f, nil
}

// printers reads the key printer: a path, or a list of them.
func printers(v any) ([]string, error) {
	var all []string
	list, ok := v.([]any)
	if !ok && v != nil {
		list = []any{v}
	}
	for _, one := range list {
		name, ok := one.(string)
		if !ok || name == "" {
			return nil, errors.New("book.printer takes the name of a file, as in \"printer.toml\", or a list of them")
		}
		all = append(all, name)
	}
	return all, nil
}

// series reads the setting of the series that a book names into house.
func (f *File) series(path string, text []byte, house *typeset.Setting) error {
	var named struct {
		Book struct {
			Series string `toml:"series"`
		} `toml:"book"`
	}
	// Faults are reported when the whole file is read.
	if toml.Unmarshal(text, &named) != nil || named.Book.Series == "" {
		return nil
	}
	shared := filepath.Join(filepath.Dir(path), filepath.FromSlash(named.Book.Series))
	text, modified, err := strict.Read(shared)
	if err != nil {
		return fmt.Errorf("%s: series: %w", path, err)
	}
	f.Inputs = append(f.Inputs, shared)
	if modified.After(f.Modified) {
		f.Modified = modified
	}
	s := series{Setting: *house}
	if err := decode(shared, text, &s); err != nil {
		return err
	}
	*house = s.Setting
	return nil
}

// variations reads each named setting over a copy of the house setting. The
// file has been read once before, so that only what cannot be placed in it is
// wrong here.
func variations(path string, text []byte, house typeset.Setting) (map[string]typeset.Setting, error) {
	var raw struct {
		Settings map[string]map[string]any `toml:"settings"`
	}
	if err := toml.Unmarshal(text, &raw); err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	all := make(map[string]typeset.Setting, len(raw.Settings))
	for _, name := range slices.Sorted(maps.Keys(raw.Settings)) {
		own, err := toml.Marshal(raw.Settings[name])
		if err != nil {
			return nil, fmt.Errorf("%s: setting %s: %w", path, name, err)
		}
		s := house
		if err := toml.Unmarshal(own, &s); err != nil {
			return nil, fmt.Errorf("%s: setting %s: %w", path, name, err)
		}
		all[name] = s
	}
	return all, nil
}

// Setting returns the setting of that name; the house setting for "".
func (f *File) Setting(name string) (typeset.Setting, error) {
	if name == "" {
		return f.House, nil
	}
	if s, found := f.Settings[name]; found {
		return s, nil
	}
	if len(f.Settings) == 0 {
		return typeset.Setting{}, fmt.Errorf("the book has no setting %q: book.toml names them as [settings.%s]", name, name)
	}
	return typeset.Setting{}, fmt.Errorf("the book has no setting %q; it has %s", name,
		strings.Join(slices.Sorted(maps.Keys(f.Settings)), ", "))
}

// EditionOf returns what the author takes from a printer's terms for the
// setting of that name; "" is the house setting.
func (f *File) EditionOf(name string) Edition {
	e, own := f.Edition, f.Editions[name]
	for _, c := range []struct{ to, from *string }{{&e.Stock, &own.Stock}, {&e.Binding, &own.Binding}, {&e.Ink, &own.Ink}} {
		if *c.from != "" {
			*c.to = *c.from
		}
	}
	if own.List.Given() {
		e.List = own.List
	}
	return e
}
