package fonts

import (
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"github.com/go-text/typesetting/font/opentype/tables"
)

// A Library is the set of faces at hand. It does not change; it may be used
// from any goroutine.
type Library struct {
	families map[string]*family
}

// Family describes a family of a library.
type Family struct {
	Name     string
	Styles   []Style // in the order of the constants
	Embedded bool    // comes with the program
	Licence  string  // short name, "SIL OFL 1.1"; for the user's own fonts what the file says, if anything

	// Whether its regular has real small capitals, and old-style figures.
	SmallCaps, OldStyle bool
}

type family struct {
	info    Family
	faces   [4]*entry
	licence func() string
}

// entry is a face that is read when it is first asked for.
type entry struct {
	file string
	load func() (*Face, error)
	once sync.Once
	face *Face
	err  error
}

func (e *entry) get() (*Face, error) {
	e.once.Do(func() { e.face, e.err = e.load() })
	return e.face, e.err
}

// maxFile bounds the size of a font file; the largest text faces have a few megabytes.
const maxFile = 64 << 20

// With adds the fonts in a folder: files ending in .ttf or .otf, not those in
// folders below it; files that are plainly no fonts are passed over. A family
// named like one that is there already takes its place as a whole.
//
// The first file, in order of names, that is not a font, is damaged, or must
// not be embedded, and any two files for the same style of a family, are an
// error that names the file and the reason.
func (l *Library) With(dir string) (*Library, error) {
	list, err := os.ReadDir(dir)
	if err != nil {
		return nil, fmt.Errorf("fonts: cannot read the font folder: %w", err)
	}
	added := map[string]*family{}
	for _, d := range list {
		name := d.Name()
		if d.IsDir() || strings.HasPrefix(name, ".") {
			continue
		}
		path := filepath.Join(dir, name)
		switch strings.ToLower(filepath.Ext(name)) {
		case ".ttf", ".otf":
		case ".ttc", ".otc":
			return nil, fmt.Errorf("%s: a font collection holds several fonts: split it into single .ttf or .otf files", path)
		case ".woff", ".woff2":
			return nil, fmt.Errorf("%s: a web font cannot be used: get the .ttf or .otf file of the same face", path)
		case ".pfb", ".pfa", ".dfont":
			return nil, fmt.Errorf("%s: this kind of font cannot be used: get the .ttf or .otf file of the same face", path)
		default:
			continue
		}
		if err := addFile(added, path); err != nil {
			return nil, fmt.Errorf("%s: %w", path, err)
		}
	}
	out := &Library{families: maps.Clone(l.families)}
	for name, fam := range added {
		fam.describe()
		out.families[name] = fam
	}
	return out, nil
}

// addFile opens one font file and puts its face among the families.
func addFile(families map[string]*family, path string) error {
	data, err := readFile(path)
	if err != nil {
		return err
	}
	face, err := open(data)
	if err != nil {
		return err
	}
	fam := families[face.Family]
	if fam == nil {
		fam = &family{info: Family{Name: face.Family}}
		families[face.Family] = fam
	}
	if other := fam.faces[face.Style]; other != nil {
		return fmt.Errorf("this file and %s are both %q %v: keep one of them", filepath.Base(other.file), face.Family, face.Style)
	}
	e := &entry{file: path, load: func() (*Face, error) { return face, nil }}
	fam.faces[face.Style] = e
	return nil
}

func readFile(path string) ([]byte, error) {
	info, err := os.Stat(path)
	if err == nil {
		switch {
		case !info.Mode().IsRegular():
			err = fmt.Errorf("not a file")
		case info.Size() > maxFile:
			err = fmt.Errorf("the file is too large for a font (%d MB)", info.Size()>>20)
		}
	}
	var data []byte
	if err == nil {
		data, err = os.ReadFile(path)
	}
	if pe, ok := err.(*fs.PathError); ok {
		err = pe.Err // the caller names the file
	}
	return data, err
}

// open reads a font that is not the program's own: it must be whole, shape its
// own letters, and allow embedding.
func open(data []byte) (f *Face, err error) {
	if f, err = newFace(data); err != nil {
		return nil, err
	}
	if err := f.src.embeddable(); err != nil {
		return nil, err
	}
	const sample = "The quick brown fox, 1234567890; AVATAR office"
	if _, err := new(shaper).shape(f, sample, 0); err != nil {
		return nil, err
	}
	if f.CFF {
		if _, err := f.cff(); err != nil {
			return nil, fmt.Errorf("the font is damaged: %w", err)
		}
	}
	return f, nil
}

// describe fills in the Family of the user's faces.
func (fam *family) describe() {
	var lead *Face
	for style, e := range fam.faces {
		if e == nil {
			continue
		}
		fam.info.Styles = append(fam.info.Styles, Style(style))
		if lead == nil {
			lead, _ = e.get()
		}
	}
	names, _, _ := tables.ParseName(lead.src.table("name"))
	text := names.Name(nameLicence)
	fam.licence = func() string { return text }
	if strings.Contains(text, "SIL Open Font License") {
		fam.info.Licence = licenceOFL
	} else if line, _, _ := strings.Cut(strings.TrimSpace(text), "\n"); line != "" {
		if r := []rune(line); len(r) > 60 {
			line = string(r[:59]) + "…"
		}
		fam.info.Licence = line
	}
	fam.info.SmallCaps, fam.info.OldStyle = lead.Supports(SmallCaps), lead.Supports(OldStyle)
}

// names are the families' names in order.
func (l *Library) names() []string { return slices.Sorted(maps.Keys(l.families)) }

// Families lists the families in order of their names.
func (l *Library) Families() []Family {
	var out []Family
	for _, name := range l.names() {
		info := l.families[name].info
		info.Styles = slices.Clone(info.Styles)
		out = append(out, info)
	}
	return out
}

// LicenceText is the licence under which a family is used, whole for an
// embedded one, else what the font file says; empty if it says nothing.
func (l *Library) LicenceText(family string) (string, error) {
	fam, err := l.find(family)
	if err != nil {
		return "", err
	}
	return fam.licence(), nil
}

// instead lists, for each style, what is taken where a family lacks it.
var instead = [4][]Style{
	Regular:    {Regular, Italic, Bold, BoldItalic},
	Italic:     {Italic, Regular, BoldItalic, Bold},
	Bold:       {Bold, Regular, BoldItalic, Italic},
	BoldItalic: {BoldItalic, Bold, Italic, Regular},
}

// Face returns a face, reading it when it is first asked for. Case, spaces and
// hyphens of the family's name do not matter. A family that lacks the style
// gives the nearest one it has (bold italic: bold, italic, regular; italic and
// bold: regular first); nothing is slanted or emboldened by machine, and
// Face.Style tells what was given. An unknown family is an error that names
// those spelt most like it, and all there are.
func (l *Library) Face(family string, style Style) (*Face, error) {
	fam, err := l.find(family)
	if err != nil {
		return nil, err
	}
	if style > BoldItalic {
		return nil, fmt.Errorf("fonts: %q has no style %v", family, style)
	}
	for _, s := range instead[style] {
		if e := fam.faces[s]; e != nil {
			f, err := e.get()
			if err != nil {
				return nil, fmt.Errorf("fonts: %s %v: %w", fam.info.Name, s, err)
			}
			return f, nil
		}
	}
	return nil, fmt.Errorf("fonts: %q has no faces", family)
}

func (l *Library) find(name string) (*family, error) {
	if fam := l.families[name]; fam != nil {
		return fam, nil
	}
	names := l.names()
	for _, n := range names {
		if plainName(n) == plainName(name) {
			return l.families[n], nil
		}
	}
	near := nearest(name, names)
	hint := ""
	if len(near) > 0 {
		hint = fmt.Sprintf(" Did you mean %s?", strings.Join(near, " or "))
	}
	return nil, fmt.Errorf("fonts: there is no face called %q.%s The faces at hand are %s", name, hint, strings.Join(names, ", "))
}

// plainName is a name without what people vary in it.
func plainName(s string) string {
	return strings.NewReplacer(" ", "", "-", "", "_", "").Replace(strings.ToLower(s))
}

// nearest are the names that begin like name or are a few typing errors away.
func nearest(name string, names []string) []string {
	var near []string
	p := plainName(name)
	for _, n := range names {
		q := plainName(n)
		if len(p) >= 3 && strings.Contains(q, p) || distance(p, q) <= max(2, len(q)/4) {
			near = append(near, n)
		}
	}
	return near
}

// distance is the Levenshtein distance of two strings, in bytes.
func distance(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			cost := diagonal
			if a[i] != b[j] {
				cost = 1 + min(diagonal, row[j], row[j+1])
			}
			diagonal, row[j+1] = row[j+1], cost
		}
	}
	return row[len(b)]
}

// FamiliesWith names, in order, the families whose regular has r. A face that
// cannot be read has nothing.
func (l *Library) FamiliesWith(r rune) []string {
	var out []string
	for _, name := range l.names() {
		if f, err := l.Face(name, Regular); err == nil && f.Has(r) {
			out = append(out, name)
		}
	}
	return out
}
