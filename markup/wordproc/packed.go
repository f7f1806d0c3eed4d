package wordproc

import (
	"archive/zip"
	"errors"
	"fmt"
	"io"
	"os"
	"path"
	"path/filepath"
	"strings"
)

// The bounds of a package. A novel of a million words makes some 60 MiB of
// XML at its most wasteful, and packs ten- to fiftyfold.
const (
	maxEntries = 10_000
	maxPart    = 64 << 20  // of XML, unpacked
	maxPicture = 256 << 20 // of one picture
	maxPackage = 2 << 30   // of everything, unpacked
	maxRatio   = 250       // unpacked to packed, of a part over smallPart
	smallPart  = 1 << 20
)

// packed is an open package: a zip whose directory has been looked at.
type packed struct {
	name  string
	load  *load // of the document
	parts map[string]*zip.File
}

// openPackage reads the directory of a zip and refuses tricks: parts outside,
// parts twice, and more than the bounds allow. Nothing is unpacked for it.
func openPackage(name string, r io.ReaderAt, size int64, l *load) (*packed, error) {
	fault := func(part, what string, err error) error {
		return &Error{File: name, Part: part, What: what, Mend: "save the document again where it was written, and take in that copy", Err: err}
	}
	z, err := zip.NewReader(r, size)
	if err != nil && !errors.Is(err, zip.ErrInsecurePath) {
		return nil, fault("", "the package is damaged: "+err.Error(), err)
	}
	if len(z.File) > maxEntries {
		return nil, fault("", fmt.Sprintf("the package has %d parts, and no document has more than %d", len(z.File), maxEntries), nil)
	}
	p := &packed{name: name, load: l, parts: make(map[string]*zip.File, len(z.File))}
	var whole, stored uint64
	for _, f := range z.File {
		if strings.HasSuffix(f.Name, "/") && f.UncompressedSize64 == 0 {
			continue // a folder
		}
		shown := fmt.Sprintf("%.60q", f.Name)
		if !isInside(f.Name) {
			return nil, fault(shown, "the name of this part leads out of the package", nil)
		}
		if p.parts[f.Name] != nil {
			return nil, fault(shown, "this part is in the package twice", nil)
		}
		if f.Flags&1 != 0 {
			return nil, &Error{File: name, What: "the document is protected by a password", Mend: "take the protection away where it was written, and save it again"}
		}
		if f.Method != zip.Store && f.Method != zip.Deflate {
			return nil, fault(shown, "this part is packed in a way that the standards do not allow", nil)
		}
		if f.UncompressedSize64 > smallPart && f.UncompressedSize64/maxRatio > f.CompressedSize64 {
			return nil, fault(shown, fmt.Sprintf("this part would grow from %d to %d bytes, as no text does", f.CompressedSize64, f.UncompressedSize64), nil)
		}
		if f.UncompressedSize64 > maxPackage || f.CompressedSize64 > uint64(size) {
			return nil, fault(shown, "this part says that it is larger than a document can be", nil)
		}
		whole += f.UncompressedSize64
		stored += f.CompressedSize64
		p.parts[f.Name] = f
	}
	if whole > maxPackage || stored > uint64(size) {
		return nil, fault("", fmt.Sprintf("the package would grow from %d to %d bytes, more than a document can have", size, whole), nil)
	}
	return p, nil
}

// isInside tells whether a name stays in the package on every system.
func isInside(name string) bool {
	return name != "" && filepath.IsLocal(name) && path.Clean(name) == name &&
		!strings.ContainsAny(name, "\\\x00") && !strings.Contains(strings.Split(name, "/")[0], ":")
}

// open unpacks a part as it is read. A part that is not there is
// os.ErrNotExist.
func (p *packed) open(part string, most uint64) (io.ReadCloser, error) {
	f := p.parts[part]
	if f == nil {
		return nil, &Error{File: p.name, Part: part, What: "this part of the package is missing", Mend: "save the document again where it was written", Err: os.ErrNotExist}
	}
	if f.UncompressedSize64 > most {
		return nil, &Error{File: p.name, Part: part, What: fmt.Sprintf("this part has %d bytes, and at most %d are read", f.UncompressedSize64, most),
			Mend: "divide the document into two"}
	}
	r, err := f.Open()
	if err != nil {
		return nil, &Error{File: p.name, Part: part, What: "this part cannot be unpacked: " + err.Error(), Mend: "save the document again where it was written", Err: err}
	}
	return r, nil
}

func (p *packed) has(part string) bool { return p.parts[part] != nil }

// xml calls read with the root element of a part.
func (p *packed) xml(part string, read func(*scanner, element) error) error {
	r, err := p.open(part, maxPart)
	if err != nil {
		return err
	}
	defer r.Close()
	return scan(p.name, part, r, p.load, read)
}
