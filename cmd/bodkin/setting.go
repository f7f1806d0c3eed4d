package main

import (
	"context"
	"encoding"
	"fmt"
	"strconv"
	"time"

	"bodkin/cmd/bodkin/internal/bookfile"
	"bodkin/fonts"
	"bodkin/markup"
	"bodkin/typeset"

	"github.com/spf13/pflag"
)

// settingFlags are the flags by which a call changes the book's setting.
type settingFlags struct {
	name    string // of a [settings.NAME]
	fonts   string // folder
	changes []func(*typeset.Setting)
}

// add declares the flags.
func (f *settingFlags) add(flags *pflag.FlagSet) {
	flags.SortFlags = false
	flags.StringVar(&f.name, "setting", "", "use the setting that book.toml has as [settings.`NAME`]")
	change(f, flags, "trim", "the finished page, `WIDTHxHEIGHT`: 5x8in, 129x198mm, or "+typeset.TrimNames(),
		func(s *typeset.Setting) encoding.TextUnmarshaler { return &s.Trim })
	flags.Func("face", "the `NAME` of the face; bodkin faces lists them", func(text string) error {
		f.changes = append(f.changes, func(s *typeset.Setting) { s.Face = text })
		return nil
	})
	change(f, flags, "size", "the size of the type, a `LENGTH` as in 11pt",
		func(s *typeset.Setting) encoding.TextUnmarshaler { return &s.Size })
	change(f, flags, "leading", "from line to line, a `LENGTH` as in 14pt; or 127% of the size, or \"1.2 lines\" as word processors count",
		func(s *typeset.Setting) encoding.TextUnmarshaler { return &s.Leading })
	change(f, flags, "back", "the margin at the binding, a `LENGTH`, or auto: it grows with the number of pages",
		func(s *typeset.Setting) encoding.TextUnmarshaler { return &s.Margins.Back })
	change(f, flags, "fore-edge", "the outer margin, a `LENGTH`",
		func(s *typeset.Setting) encoding.TextUnmarshaler { return &s.Margins.ForeEdge })
	change(f, flags, "head", "the margin above the text, a `LENGTH`",
		func(s *typeset.Setting) encoding.TextUnmarshaler { return &s.Margins.Head })
	change(f, flags, "foot", "the margin below the text, a `LENGTH`",
		func(s *typeset.Setting) encoding.TextUnmarshaler { return &s.Margins.Foot })
	change(f, flags, "indent", "of a paragraph's first line, a `LENGTH`, or auto: one em",
		func(s *typeset.Setting) encoding.TextUnmarshaler { return &s.Indent })
	change(f, flags, "figures", "the `SHAPE` of figures in the text: old-style or lining",
		func(s *typeset.Setting) encoding.TextUnmarshaler { return &s.Figures })
	change(f, flags, "opening", "how a chapter's first words are set, a `FORM`: small-caps, drop-cap or plain",
		func(s *typeset.Setting) encoding.TextUnmarshaler { return &s.Opening })
	change(f, flags, "opens", "the `PAGE` on which a chapter begins: next or recto",
		func(s *typeset.Setting) encoding.TextUnmarshaler { return &s.Opens })
	change(f, flags, "numbers", "number the chapters, with `THIS` as that of the first: \"Chapter One\", 1, I",
		func(s *typeset.Setting) encoding.TextUnmarshaler { return &s.Numbers })
	change(f, flags, "notes", "the `PLACE` of notes: foot (of the page) or chapter (its end)",
		func(s *typeset.Setting) encoding.TextUnmarshaler { return &s.Notes })
	change(f, flags, "folios", "the `PLACE` of page numbers: foot, foot-outer, head-outer or none",
		func(s *typeset.Setting) encoding.TextUnmarshaler { return &s.Folios })
	flags.Func("hyphenate", "divide words at line ends: `true|false`", func(text string) error {
		divide, err := strconv.ParseBool(text)
		if err != nil {
			return fmt.Errorf("write true or false")
		}
		f.changes = append(f.changes, func(s *typeset.Setting) { s.Hyphenate = divide })
		return nil
	})
	flags.Func("colour", "pictures keep their colours, as CMYK: `true|false`", func(text string) error {
		colour, err := strconv.ParseBool(text)
		if err != nil {
			return fmt.Errorf("write true or false")
		}
		f.changes = append(f.changes, func(s *typeset.Setting) { s.Colour = colour })
		return nil
	})
	change(f, flags, "widen", "how much wider or narrower letters may be set for evener spaces, a `PERCENTAGE` up to 1.5%",
		func(s *typeset.Setting) encoding.TextUnmarshaler { return &s.Widen })
	change(f, flags, "pages", "what page ends `AIM` at: even, or fewest, a page less wherever the rules allow",
		func(s *typeset.Setting) encoding.TextUnmarshaler { return &s.Pages })
	flags.StringVar(&f.fonts, "fonts", "", "a `FOLDER` of your own TrueType or OpenType faces")
}

// change declares a flag that sets one value of a setting. The text is read
// at once, so that a wrong one is a fault of the call.
func change(f *settingFlags, flags *pflag.FlagSet, name, usage string, value func(*typeset.Setting) encoding.TextUnmarshaler) {
	flags.Func(name, usage, func(text string) error {
		if err := value(new(typeset.Setting)).UnmarshalText([]byte(text)); err != nil {
			return err
		}
		f.changes = append(f.changes, func(s *typeset.Setting) {
			_ = value(s).UnmarshalText([]byte(text)) // it was read before
		})
		return nil
	})
}

// withFonts adds the author's own faces. A folder without any is a mistake.
func withFonts(library *fonts.Library, dir string) (*fonts.Library, error) {
	more, err := library.With(dir)
	if err != nil {
		return nil, err
	}
	for _, f := range more.Families() {
		if !f.Embedded {
			return more, nil
		}
	}
	return nil, fmt.Errorf("%s: there are no fonts here: put .ttf or .otf files into the folder itself", dir)
}

// job is a book that is about to be set.
type job struct {
	book     *markup.Book
	setting  typeset.Setting
	composer *typeset.Composer
	modified time.Time // of the newest input
	inputs   []string  // paths of all files read
	file     *bookfile.File
	faces    *fonts.Library
}

// named returns the setting that a call names, and its name in book.toml: ""
// for that of [setting], which a call names ownSetting.
func (j *job) named(name string) (typeset.Setting, string, error) {
	if _, other := j.file.Settings[ownSetting]; name == ownSetting && !other {
		name = ""
	}
	s, err := j.file.Setting(name)
	return s, name, err
}

// load reads the book at path and finds the setting that the flags ask for.
func (f *settingFlags) load(ctx context.Context, path string) (*job, error) {
	file, err := bookfile.Load(path)
	if err != nil {
		return nil, err
	}
	j := &job{file: file}
	if j.setting, err = file.Setting(f.name); err != nil {
		return nil, &callError{err}
	}
	for _, change := range f.changes {
		change(&j.setting)
	}
	library := fonts.Embedded()
	for _, dir := range []string{file.Fonts, f.fonts} {
		if dir == "" {
			continue
		}
		if library, err = withFonts(library, dir); err != nil {
			return nil, err
		}
	}
	j.faces = library
	if j.book, err = markup.Load(ctx, file.Source); err != nil {
		return nil, err
	}
	j.inputs = append(file.Inputs, j.book.Inputs...)
	j.modified = j.book.Modified
	if file.Modified.After(j.modified) {
		j.modified = file.Modified
	}
	j.composer = typeset.NewComposer(j.book, typeset.Resources{Faces: library, Exceptions: file.Hyphens})
	return j, nil
}
