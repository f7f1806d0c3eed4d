package wordproc

import (
	"bufio"
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"sort"
	"strings"
)

// Ledger is the name of the file in a book folder that remembers what Save
// wrote last: a line for each file, as sha256sum writes and checks it. By it
// a file that the author has changed since is told from one that may be
// written again.
const Ledger = ".intake"

// maxFiles is how many pieces a book may have.
const maxFiles = 3000

// Saved says what Save did.
type Saved struct {
	Written   []string `json:"written"`
	Unchanged []string `json:"unchanged"` // the same bytes were there
	Removed   []string `json:"removed"`   // of an earlier intake, and not made any more
	Kept      []string `json:"kept"`      // beginnings that have been edited since
	Replaced  []string `json:"replaced"`  // where the edited files lie that force wrote over or removed
}

// EditedError lists the files that have been edited, or were there before, and
// would be written over or removed.
type EditedError struct {
	Dir   string
	Files []string
}

func (e *EditedError) Error() string {
	holds, them := "hold", "them"
	if len(e.Files) == 1 {
		holds, them = "holds", "it"
	}
	return fmt.Sprintf("%s: %s would be written over or removed, and %s what intake did not write: %s; name a new folder, or give --force, which keeps %s in the folder replaced",
		e.Dir, plural(len(e.Files), "file"), holds, strings.Join(e.Files, ", "), them)
}

// ForeignError lists the chapters in a folder that no intake wrote: they would
// be set in the book.
type ForeignError struct {
	Dir   string
	Files []string
}

func (e *ForeignError) Error() string {
	return fmt.Sprintf("%s: this folder has chapters of another book, which would be set among those of this one: %s; name a new folder, or give --force to leave them there",
		e.Dir, strings.Join(e.Files, ", "))
}

// Save writes a book folder: the pieces, the pictures and beginnings, which are
// files that the author goes on with, such as book.toml. First everything is
// written to a new folder beside dir and read again (see [Manuscript.Compare]);
// then the files take their places. A beginning that has been edited since an
// earlier intake is kept as it is. Any other file that has been edited is not
// written over or removed unless force is given, and is then moved into a folder
// replaced: else the error is an [*EditedError], and dir is as it was. It is a
// [*ForeignError] where dir has chapters and no intake was there before.
func (m *Manuscript) Save(ctx context.Context, dir string, beginnings []File, force bool) (*Saved, *Comparison, error) {
	if n := m.tooMany; n > maxFiles {
		return nil, nil, &Error{File: m.doc.Name, What: fmt.Sprintf("it falls into %d chapters, and no book has more than %d", n, maxFiles), Mend: "look at what its headings are"}
	}
	dir = filepath.Clean(dir)
	if info, err := os.Stat(dir); err == nil && !info.IsDir() {
		return nil, nil, &Error{File: dir, What: "this is a file, and a folder is wanted", Mend: "name another"}
	}
	parent := filepath.Dir(dir)
	if err := os.MkdirAll(parent, 0o777); err != nil {
		return nil, nil, &Error{File: dir, What: "it cannot be made: " + cause(err), Err: err}
	}
	temporary, err := os.MkdirTemp(parent, ".intake-*")
	if err != nil {
		return nil, nil, unwritable(dir, err)
	}
	defer os.RemoveAll(temporary)
	sums, err := m.writeAll(ctx, temporary, beginnings)
	if err != nil {
		return nil, nil, err
	}
	compared, err := m.Compare(ctx, temporary)
	if err != nil {
		return nil, nil, err
	}
	for i := range m.Guesses {
		m.Guesses[i].Spot = m.at(m.Guesses[i].N)
	}
	for i := range m.Changed {
		m.Changed[i].Spot = m.at(m.Changed[i].N)
	}
	begun := map[string]bool{}
	for _, f := range beginnings {
		begun[f.Name] = true
	}
	saved, err := settle(temporary, dir, sums, begun, force)
	return saved, compared, err
}

// writeAll writes all files below dir and returns their sums.
func (m *Manuscript) writeAll(ctx context.Context, dir string, beginnings []File) (map[string]string, error) {
	sums := map[string]string{}
	write := func(name string, fill func(io.Writer) error) error {
		if err := cancelled(ctx); err != nil {
			return err
		}
		path := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
			return err
		}
		f, err := os.Create(path)
		if err != nil {
			return err
		}
		sum := sha256.New()
		w := bufio.NewWriter(io.MultiWriter(f, sum))
		err = errors.Join(fill(w), w.Flush(), f.Close())
		sums[name] = hex.EncodeToString(sum.Sum(nil))
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		return nil
	}
	for _, f := range append(m.Files(), beginnings...) {
		if err := write(f.Name, func(w io.Writer) error { _, err := w.Write(f.Data); return err }); err != nil {
			return nil, err
		}
	}
	for _, p := range m.pictures {
		if err := write(p.Name, p.Write); err != nil {
			return nil, err
		}
	}
	return sums, nil
}

// settle moves what was written to its place.
func settle(temporary, dir string, sums map[string]string, begun map[string]bool, force bool) (*Saved, error) {
	old, err := readLedger(filepath.Join(dir, Ledger))
	if err != nil {
		return nil, err
	}
	if foreign := foreignChapters(dir, old, sums); len(foreign) > 0 && !force {
		return nil, &ForeignError{dir, foreign}
	}
	var edited []string
	var replaced []string // with force
	saved := &Saved{}
	for _, name := range sortedKeys(sums) {
		sum, err := sumOf(filepath.Join(dir, filepath.FromSlash(name)))
		switch {
		case errors.Is(err, fs.ErrNotExist):
			saved.Written = append(saved.Written, name)
		case err != nil:
			return nil, &Error{File: filepath.Join(dir, name), What: "it cannot be read: " + cause(err), Err: err}
		case sum == sums[name]:
			saved.Unchanged = append(saved.Unchanged, name)
		case begun[name] && old[name] != "" && sum != old[name]:
			saved.Kept = append(saved.Kept, name)
			sums[name] = old[name] // it is still an edited one
		case sum == old[name]:
			saved.Written = append(saved.Written, name)
		case force:
			saved.Written = append(saved.Written, name)
			replaced = append(replaced, name)
		default:
			edited = append(edited, name)
		}
	}
	for _, name := range sortedKeys(old) {
		if _, again := sums[name]; again {
			continue
		}
		switch sum, err := sumOf(filepath.Join(dir, filepath.FromSlash(name))); {
		case err != nil: // it is gone already
		case sum == old[name]:
			saved.Removed = append(saved.Removed, name)
		case force:
			replaced = append(replaced, name)
		default:
			edited = append(edited, name)
		}
	}
	if len(edited) > 0 {
		sort.Strings(edited)
		return nil, &EditedError{dir, edited}
	}
	var ledger bytes.Buffer
	for _, name := range sortedKeys(sums) {
		fmt.Fprintf(&ledger, "%s  %s\n", sums[name], name)
	}
	if err := os.WriteFile(filepath.Join(temporary, Ledger), ledger.Bytes(), 0o666); err != nil {
		return nil, err
	}
	if err := os.Chmod(temporary, 0o755); err != nil {
		return nil, err
	}
	if _, err := os.Lstat(dir); errors.Is(err, fs.ErrNotExist) {
		if err := os.Rename(temporary, dir); err != nil {
			return nil, unwritable(dir, err)
		}
		return saved, nil
	}
	if saved.Replaced, err = putAside(dir, replaced); err != nil {
		return nil, err
	}
	for _, name := range append(saved.Written, Ledger) {
		to := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(to), 0o777); err != nil {
			return nil, unwritable(to, err)
		}
		if err := os.Rename(filepath.Join(temporary, filepath.FromSlash(name)), to); err != nil {
			return nil, unwritable(to, err)
		}
	}
	for _, name := range saved.Removed {
		if err := os.Remove(filepath.Join(dir, filepath.FromSlash(name))); err != nil {
			return nil, &Error{File: filepath.Join(dir, name), What: "it cannot be removed: " + cause(err), Err: err}
		}
	}
	return saved, nil
}

// foreignChapters are those in a folder where no intake was before, and that
// this one does not write.
func foreignChapters(dir string, old, sums map[string]string) []string {
	var all []string
	if len(old) > 0 {
		return nil
	}
	entries, _ := os.ReadDir(filepath.Join(dir, chaptersDir))
	for _, e := range entries {
		name := chaptersDir + "/" + e.Name()
		if _, ours := sums[name]; !ours && strings.HasSuffix(e.Name(), ".md") {
			all = append(all, name)
		}
	}
	return all
}

// putAside moves files that somebody has edited into a folder that is not there
// yet, and returns their new names.
func putAside(dir string, names []string) ([]string, error) {
	if len(names) == 0 {
		return nil, nil
	}
	folder := "replaced"
	for k := 2; ; k++ {
		_, err := os.Lstat(filepath.Join(dir, folder))
		if errors.Is(err, fs.ErrNotExist) {
			break
		}
		if err != nil {
			return nil, unwritable(filepath.Join(dir, folder), err)
		}
		folder = fmt.Sprintf("replaced-%d", k)
	}
	var all []string
	for _, name := range names {
		to := filepath.Join(dir, folder, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(to), 0o777); err != nil {
			return nil, unwritable(to, err)
		}
		if err := os.Rename(filepath.Join(dir, filepath.FromSlash(name)), to); err != nil {
			return nil, unwritable(to, err)
		}
		all = append(all, folder+"/"+name)
	}
	return all, nil
}

// readLedger reads the sums of an earlier intake, by file; none where there
// was none. A name that leads out of the folder is passed over.
func readLedger(path string) (map[string]string, error) {
	b, err := os.ReadFile(path)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, &Error{File: path, What: "it cannot be read: " + cause(err), Err: err}
	}
	old := map[string]string{}
	for line := range strings.SplitSeq(string(b), "\n") {
		if sum, name, ok := strings.Cut(line, "  "); ok && isInside(name) {
			old[name] = sum
		}
	}
	return old, nil
}

func sumOf(path string) (string, error) {
	f, err := os.Open(path)
	if err != nil {
		return "", err
	}
	defer f.Close()
	sum := sha256.New()
	if _, err := io.Copy(sum, f); err != nil {
		return "", err
	}
	return hex.EncodeToString(sum.Sum(nil)), nil
}

func unwritable(path string, err error) error {
	return &Error{File: path, What: "it cannot be written: " + cause(err), Err: err}
}
