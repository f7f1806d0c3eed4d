package bookfile

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"time"

	"bodkin/cmd/bodkin/internal/strict"
	"bodkin/typeset"
)

// Keep writes a setting into the book.toml of the book at path, which is the
// path that Load takes, as [settings.NAME]: the keys in which it is not as the
// house setting. All else in the file stays as it is, byte for byte, its
// comments and line ends too. A folder without a book.toml gets one that means
// what the folder meant. What the press asks of the pages is not kept.
//
// The book may have a setting of that name only if it is to be replaced; then
// the values of its keys are changed where they stand. The file is there whole
// or not at all, and it is written only if it reads back as just that setting,
// with everything else as before.
func Keep(path, name string, s typeset.Setting, replace bool) error {
	return keep(path, name, &s, replace)
}

// MayKeep tells whether Keep could write a setting of that name, so that nobody
// waits for one that cannot be kept.
func MayKeep(path, name string, replace bool) error { return keep(path, name, nil, replace) }

var bareName = regexp.MustCompile(`^[a-z0-9][a-z0-9-]{0,39}$`)

// keep writes s; nil stands for any setting, and nothing is written.
func keep(path, name string, s *typeset.Setting, replace bool) error {
	if !bareName.MatchString(name) {
		return fmt.Errorf("a setting cannot be called %q: write small letters a to z, figures and hyphens, as in pocket-2", name)
	}
	file, text, err := described(path)
	if err != nil {
		return err
	}
	mark, body := []byte(nil), text
	if bytes.HasPrefix(text, []byte("\ufeff")) {
		mark, body = text[:3], text[3:]
	}
	before, err := parse(file, body, time.Time{})
	if err != nil {
		return err
	}
	wanted := before.House
	if s != nil {
		wanted = writable(*s)
	}
	d := readDocument(body, name)
	if err := d.keep(before, name, &wanted, replace); err != nil {
		var at *faultAt
		if errors.As(err, &at) {
			return fmt.Errorf("%s:%d: %w", file, d.lineOf(at.at), err)
		}
		return fmt.Errorf("%s: %w", file, err)
	}
	check := func(text []byte) error {
		after, err := parse(file, bytes.TrimPrefix(text, []byte("\ufeff")), time.Time{})
		if err != nil {
			return fmt.Errorf("the setting %s could not be kept, and nothing was written: with it, %w", name, err)
		}
		if after.Settings[name] != wanted || !sameBut(before, after, name) {
			return fmt.Errorf("%s: the setting %s cannot be kept in this file, and nothing was written; write it under [settings.%s] by hand", file, name, name)
		}
		return nil
	}
	text = append(mark, d.edited()...)
	if s == nil {
		return check(text)
	}
	return replaceFile(file, text, check)
}

// cannotWrite says of a file that it is as it was, and why.
func cannotWrite(path string, err error) error {
	return fmt.Errorf("%s cannot be written, and is as it was: %w", path, strict.Cause(err))
}

// described returns the path and the text of the book.toml of a book; the text
// of one that is not there yet says what the folder means.
func described(path string) (file string, text []byte, err error) {
	info, err := os.Stat(path)
	switch {
	case err == nil && !info.IsDir() && filepath.Ext(path) != ".toml":
		return "", nil, fmt.Errorf("%s is a single file, which has no settings: move it into a folder of its own and name that, or write a book.toml there with the lines [book] and body = [%s]",
			path, strict.Quote(filepath.Base(path)))
	case err == nil && info.IsDir():
		file = filepath.Join(path, Name)
		if _, err := os.Lstat(file); err != nil {
			text, err = plain(path)
			return file, text, err
		}
	default:
		file = path
	}
	if _, _, err := strict.Read(file); err != nil {
		return "", nil, err
	}
	text, err = os.ReadFile(file)
	return file, text, err
}

// plain writes the book.toml of a folder that has none.
func plain(path string) ([]byte, error) {
	f, err := Load(path)
	if err != nil {
		return nil, err
	}
	list := func(names []string) string {
		for i, n := range names {
			names[i] = strict.Quote(n)
		}
		return strings.Join(names, ", ")
	}
	return fmt.Appendf(nil, "# What the book is, and settings of it; bodkin new writes one with every key explained.\n\n"+
		"[book]\nfront = [%s]\nbody  = [%s]   # the chapters in their order; or [\"*.md\"]\n",
		list(slices.Clone(f.Source.Front)), list(slices.Clone(f.Source.Body))), nil
}

// faultAt is what is wrong at a place in a document.
type faultAt struct {
	at   int
	what string
}

func (f *faultAt) Error() string { return f.what }

// keep edits the document so that the setting called name is s.
func (d *document) keep(before *File, name string, s *typeset.Setting, replace bool) error {
	wanted := differing(&before.House, s)
	old, found := before.Settings[name]
	if !found {
		return d.add(name, wanted)
	}
	own := []string{"settings", name}
	if !replace {
		return &faultAt{d.first(own), fmt.Sprintf("the book has a setting called %s already: choose another name, or replace it with --replace", name)}
	}
	for _, k := range d.keys {
		if slices.Equal(k.path, own) { // name = { … }
			return d.rewrite(k, inline(wanted))
		}
	}
	return d.change(own, differing(&before.House, &old), wanted)
}

// first returns where the first key or head of own stands.
func (d *document) first(own []string) int {
	at := len(d.text)
	for _, h := range d.heads {
		if under(h.path, own) {
			at = min(at, h.from)
		}
	}
	for _, k := range d.keys {
		if under(k.path, own) {
			at = min(at, k.from)
		}
	}
	return at
}

// under reports whether path is table, or a key of it.
func under(path, table []string) bool {
	return len(path) >= len(table) && slices.Equal(path[:len(table)], table)
}

const inOneLine = "settings is a table in one line, to which nothing can be added: write each setting as a table of its own, under a head such as [settings.roomy]"

// add puts a new table behind the other settings, or behind the house setting,
// or at the end.
func (d *document) add(name string, keys []key) error {
	for _, k := range d.keys {
		if len(k.path) == 1 && k.table {
			return &faultAt{k.from, inOneLine}
		}
	}
	at := len(d.text)
	for _, of := range []string{"setting", "settings"} {
		for _, h := range d.heads {
			if under(h.path, []string{of}) {
				at = h.end
			}
		}
	}
	widest := 0
	for _, k := range keys {
		widest = max(widest, len(k.name))
	}
	lines := []string{"[settings." + name + "]"}
	for _, k := range keys {
		lines = append(lines, fmt.Sprintf("%-*s = %s", widest, k.name, k.text()))
	}
	if at > 0 {
		lines = append([]string{""}, lines...)
	}
	if at < len(d.text) && len(bytes.TrimSpace(d.text[at:d.lineEnd(at)])) > 0 {
		lines = append(lines, "")
	}
	d.insert(at, lines...)
	return nil
}

// rewrite puts another value in the place of one.
func (d *document) rewrite(k place, text string) error {
	if k.table && bytes.ContainsAny(d.text[k.value:k.to], "\n\r") {
		return &faultAt{k.from, fmt.Sprintf("the table %s runs over several lines, in which comments would be lost: write it in one line, or under a head of its own", strings.Join(k.path, "."))}
	}
	d.edits = append(d.edits, edit{k.value, k.to, text})
	return nil
}

// change turns the keys of a table from what was to what is wanted: in their
// places where they stand, and behind them where they do not.
func (d *document) change(own []string, was, wanted []key) error {
	left := slices.ContainsFunc(d.heads, func(h head) bool { return under(h.path, own) })
	for _, k := range d.keys {
		if !under(k.path, own) {
			continue
		}
		if k.inside {
			return &faultAt{k.from, inOneLine}
		}
		is, wants := valueOf(was, k.path[2:]...), valueOf(wanted, k.path[2:]...)
		switch {
		case is == wants:
			left = true
		case wants == "":
			d.remove(k)
		default:
			left = true
			if err := d.rewrite(k, wants); err != nil {
				return err
			}
		}
	}
	var lines []key
	for _, k := range wanted {
		table := slices.Concat(own, []string{k.name})
		switch {
		case slices.ContainsFunc(d.keys, func(p place) bool { return slices.Equal(p.path, table) }):
		case k.parts != nil && d.first(table) < len(d.text): // dotted, or under a head
			var parts []key
			for _, part := range k.parts {
				if !slices.ContainsFunc(d.keys, func(p place) bool { return slices.Equal(p.path, append(slices.Clone(table), part.name)) }) {
					parts = append(parts, part)
				}
			}
			d.append(table, parts)
		default:
			lines = append(lines, k)
		}
	}
	if len(wanted) == 0 && !left { // it was made of dotted keys alone, and none of them is left
		d.append(own[:1], []key{{name: own[1], value: "{}"}})
	}
	d.append(own, lines)
	return nil
}

// append writes keys into a table that is there: below its head, or as its
// dotted keys are written, or before the heads of the tables in it.
func (d *document) append(table []string, keys []key) {
	if len(keys) == 0 {
		return
	}
	at, before := -1, ""
	for _, k := range d.keys {
		if h := d.heads[k.head]; under(k.path, table) && !under(h.path, table) {
			at, before = d.lineEnd(k.to), strings.Join(table[len(h.path):], ".")+"."
		}
	}
	for _, h := range d.heads {
		if slices.Equal(h.path, table) {
			at, before = h.end, ""
		}
	}
	var lines []string
	for _, k := range keys {
		lines = append(lines, before+k.name+" = "+k.text())
	}
	if at < 0 {
		at = d.first(table)
		lines = slices.Concat([]string{"[" + strings.Join(table, ".") + "]"}, lines, []string{""})
	}
	d.insert(at, lines...)
}

// sameBut reports whether two files say the same but for the setting of that
// name.
func sameBut(a, b *File, name string) bool {
	without := func(f *File) File {
		rest := *f
		rest.Settings = make(map[string]typeset.Setting)
		for n, s := range f.Settings {
			if n != name {
				rest.Settings[n] = s
			}
		}
		return rest
	}
	return reflect.DeepEqual(without(a), without(b))
}

// replaceFile puts text in the place of the file at path, or of the file that
// it is a link to, once check agrees to what was written. It keeps the file's
// permissions; a file that may not be written to is left alone.
func replaceFile(path string, text []byte, check func([]byte) error) error {
	real, mode := path, os.FileMode(0o644)
	if _, err := os.Lstat(path); err == nil {
		if real, err = filepath.EvalSymlinks(path); err != nil {
			return cannotWrite(path, err)
		}
		now, err := os.OpenFile(real, os.O_WRONLY, 0)
		if err != nil {
			return cannotWrite(path, err)
		}
		info, err := now.Stat()
		now.Close()
		if err != nil {
			return cannotWrite(path, err)
		}
		mode = info.Mode().Perm()
	}
	temporary, err := os.CreateTemp(filepath.Dir(real), ".bodkin-*")
	if err != nil {
		return cannotWrite(path, err)
	}
	defer os.Remove(temporary.Name()) // which is gone where all went well
	_, err = temporary.Write(text)
	if err := errors.Join(err, temporary.Chmod(mode), temporary.Close()); err != nil {
		return cannotWrite(path, err)
	}
	written, err := os.ReadFile(temporary.Name())
	if err != nil {
		return cannotWrite(path, err)
	}
	if err := check(written); err != nil {
		return err
	}
	if err := os.Rename(temporary.Name(), real); err != nil {
		return cannotWrite(path, err)
	}
	return nil
}
