package markup

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// maxFile is far past any novel (the longest have some 13 million letters)
// and small enough that a wrong file does not fill the memory.
const maxFile = 64 << 20

// entry is a line of a Source after its patterns have been opened out.
type entry struct {
	matter Matter
	kind   Kind
	name   string // path relative to the folder, or the generated name
	side   Side

	afterTitle bool // of the front, right behind the title page
}

// folder is the book folder. Nothing outside it can be read.
type folder struct {
	root *os.Root
	dir  string
}

func openFolder(dir string) (*folder, error) {
	if dir == "" {
		dir = "."
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, missing(Pos{File: filepath.ToSlash(dir)}, err)
	}
	return &folder{root, dir}, nil
}

// resolve lists the sections and files of src in reading order, and the
// faults it found on the way.
func (f *folder) resolve(src Source) ([]entry, []error) {
	var entries []entry
	var faults []error
	seen := map[string]bool{}
	add := func(m Matter, names []string) {
		for _, name := range names {
			name, side, err := f.entrySide(name)
			if err != nil {
				faults = append(faults, err)
				continue
			}
			if kind, ok := generated[name]; ok {
				if kind == Endnotes && m != Back {
					faults = append(faults, &Error{Pos: Pos{File: name}, What: "the notes are gathered in the back of a book", Mend: "list them in back"})
				}
				if seen[name] {
					faults = append(faults, &Error{Pos: Pos{File: name}, What: "this section is listed twice", Mend: "take one away"})
				}
				seen[name] = true
				entries = append(entries, entry{matter: m, kind: kind, name: name, side: side})
				continue
			}
			files, err := f.expand(name)
			if err != nil {
				faults = append(faults, err)
				continue
			}
			for _, file := range files {
				if seen[file] {
					faults = append(faults, &Error{Pos: Pos{File: file}, What: "this file is listed twice",
						Mend: "take one mention away, or make a pattern narrower"})
					continue
				}
				seen[file] = true
				n := len(entries)
				after := m == Front && n > 0 && entries[n-1].kind == TitlePage
				entries = append(entries, entry{matter: m, kind: Written, name: file, side: side, afterTitle: after})
			}
		}
	}
	add(Front, src.Front)
	add(Body, src.Body)
	add(Back, src.Back)
	if len(entries) == 0 && len(faults) == 0 {
		faults = append(faults, &Error{Pos: Pos{File: filepath.ToSlash(f.dir)}, What: "the book has no text",
			Mend: "list the chapters in its body"})
	}
	return entries, faults
}

// expand returns the files that one entry stands for.
func (f *folder) expand(name string) ([]string, error) {
	at := Pos{File: name}
	if strings.TrimSpace(name) == "" {
		return nil, &Error{Pos: Pos{File: `""`}, What: "an entry is empty", Mend: "name a file or take the entry away"}
	}
	if strings.ContainsRune(name, 0) {
		return nil, &Error{Pos: Pos{File: quoted(name)}, What: "the path holds a NUL", Mend: "correct the name"}
	}
	local := filepath.FromSlash(name)
	if !filepath.IsLocal(local) {
		return nil, outside(at, nil)
	}
	clean := path.Clean(filepath.ToSlash(local))
	if _, err := f.root.Lstat(clean); err == nil {
		return []string{clean}, nil
	} else if escapes(err) {
		return nil, outside(at, err)
	}
	if !strings.ContainsAny(name, "*?[") {
		return nil, f.absent(name)
	}
	if strings.Contains(name, "**") {
		return nil, &Error{Pos: at, What: "** has no meaning in a pattern", Mend: "give each folder a pattern of its own, like part1/*.md"}
	}
	matches, err := fs.Glob(f.root.FS(), clean)
	if err != nil {
		return nil, &Error{Pos: at, What: "the pattern is malformed", Mend: "close every [ with a ]", Err: err}
	}
	any := path.Ext(clean) != "" && !strings.ContainsAny(path.Ext(clean), "*?[")
	files := slices.DeleteFunc(matches, func(m string) bool {
		if hidden(m) && !hidden(clean) || !any && !isMarkdown(m) {
			return true
		}
		info, err := f.root.Stat(m)
		return err == nil && info.IsDir()
	})
	if len(files) == 0 {
		return nil, &Error{Pos: at, What: "the pattern matches no file", Mend: "correct it, or put the chapters there"}
	}
	slices.SortFunc(files, Natural)
	return files, nil
}

func hidden(name string) bool {
	return strings.HasPrefix(name, ".") || strings.Contains(name, "/.")
}

// absent makes the error for a name that is neither a file nor a generated
// section.
func (f *folder) absent(name string) error {
	e := &Error{Pos: Pos{File: name}, What: "there is no such file in the book folder", Mend: "correct the name", Err: fs.ErrNotExist}
	var near []string
	for g := range generated {
		near = append(near, g)
	}
	slices.Sort(near)
	if path.Ext(name) == "" && !strings.Contains(name, "/") {
		e.What = "this is neither a file of the book folder nor a section that can be made"
		e.Mend = "the sections are " + strings.Join(near, ", ")
	}
	if d, err := fs.ReadDir(f.root.FS(), path.Dir(path.Clean(name))); err == nil {
		for _, file := range d {
			near = append(near, path.Join(path.Dir(path.Clean(name)), file.Name()))
		}
	}
	if n := Nearest(name, near); n != "" {
		e.Mend = "did you mean " + quoted(n) + "?"
	}
	return e
}

func outside(at Pos, err error) error {
	return &Error{Pos: at, What: "the path leads out of the book folder", Mend: "move the file into the folder and name it from there", Err: err}
}

// escapes tells whether os.Root refused a path because a link leads outside.
// The error has no exported value.
func escapes(err error) bool {
	var pe *fs.PathError
	return errors.As(err, &pe) && strings.Contains(pe.Err.Error(), "escapes")
}

// read returns the bytes of a file of the folder, and when it was changed.
func (f *folder) read(name string) ([]byte, time.Time, error) {
	at := Pos{File: name}
	fail := func(err error) ([]byte, time.Time, error) {
		if escapes(err) {
			return nil, time.Time{}, outside(at, err)
		}
		return nil, time.Time{}, missing(at, err)
	}
	info, err := f.root.Stat(name)
	switch {
	case err != nil:
		return fail(err)
	case info.IsDir():
		return nil, time.Time{}, &Error{Pos: at, What: "this is a folder, and a file is wanted", Mend: "write " + quoted(name+"/*.md") + " for the files in it"}
	case !info.Mode().IsRegular():
		return nil, time.Time{}, &Error{Pos: at, What: "this is not a file", Mend: "name a Markdown file"}
	case info.Size() > maxFile:
		return nil, time.Time{}, tooLong(at)
	}
	r, err := f.root.Open(name)
	if err != nil {
		return fail(err)
	}
	defer r.Close()
	b := make([]byte, 0, info.Size()+1)
	for { // as io.ReadAll does, but from a buffer of the right size
		n, err := r.Read(b[len(b):cap(b)])
		b = b[:len(b)+n]
		if err == io.EOF {
			return b, info.ModTime(), nil
		}
		if err != nil {
			return fail(err)
		}
		if len(b) > maxFile {
			return nil, time.Time{}, tooLong(at)
		}
		if len(b) == cap(b) {
			b = append(b, 0)[:len(b)]
		}
	}
}

func tooLong(at Pos) error {
	return &Error{Pos: at, What: "the file is longer than 64 MiB", Mend: "divide it into chapters"}
}
