package wordproc

import (
	"bytes"
	"cmp"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"bodkin/markup"
)

// Read reads the document at path: a package of WordprocessingML or of
// OpenDocument Text, Markdown, or plain text. What it is, is told from its
// bytes. The document holds the file open for its pictures until it is closed.
//
// The error is an [*Error], or the cause of a cancelled ctx.
func Read(ctx context.Context, path string, o Options) (_ *Document, err error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, &Error{File: path, What: "it cannot be opened: " + cause(err), Mend: "correct the name", Err: err}
	}
	defer func() {
		if err != nil {
			f.Close()
		}
	}()
	info, err := f.Stat()
	if err != nil {
		return nil, &Error{File: path, What: "it cannot be read: " + cause(err), Err: err}
	}
	if !info.Mode().IsRegular() {
		return nil, &Error{File: path, What: "this is not a file", Mend: "name a document"}
	}
	d, err := read(ctx, path, f, info.Size(), o)
	if err != nil {
		return nil, err
	}
	d.close = f.Close
	return d, nil
}

// cause is err without the path that stands before it already.
func cause(err error) string {
	if pe, ok := err.(*os.PathError); ok {
		err = pe.Err
	}
	return strings.ReplaceAll(err.Error(), "\n", " ")
}

// maxText bounds a manuscript of one text file, in bytes.
const maxText = maxLetters

// signs are the first bytes of files that are no manuscript.
var signs = []struct{ mark, what, mend string }{
	{"\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1", "the document is in a binary form that no open standard describes, or protected by a password", "save it as .docx or .odt, without a password"},
	{"{\\rtf", "the document is in rich text", "save it as .docx or .odt"},
	{"%PDF", "this is a PDF", "take in the document that it was made from"},
}

func read(ctx context.Context, name string, r io.ReaderAt, size int64, o Options) (*Document, error) {
	head := make([]byte, min(size, 4096))
	if _, err := r.ReadAt(head, 0); err != nil && err != io.EOF {
		return nil, &Error{File: name, What: "it cannot be read: " + cause(err), Err: err}
	}
	for _, s := range signs {
		if bytes.HasPrefix(head, []byte(s.mark)) {
			return nil, &Error{File: name, What: s.what, Mend: s.mend}
		}
	}
	if size == 0 {
		return nil, &Error{File: name, What: "the file is empty: nothing was ever written to it", Mend: "save the document again, or name the one with the manuscript"}
	}
	d := &Document{Name: name}
	var err error
	switch {
	case bytes.HasPrefix(head, []byte("PK")):
		err = d.unpack(ctx, r, size)
	case isFlat(head):
		err = readFlatODT(ctx, name, r, size, d)
	case size > maxText:
		err = &Error{File: name, What: fmt.Sprintf("the text is longer than %d MiB", maxText>>20), Mend: "divide it"}
	default:
		b := make([]byte, size)
		if _, err := r.ReadAt(b, 0); err != nil && err != io.EOF {
			return nil, &Error{File: name, What: "it cannot be read: " + cause(err), Err: err}
		}
		if err = readText(name, b, d); err == nil {
			err = d.overload()
		}
	}
	if err != nil {
		return nil, err
	}
	if o.Strict {
		if err := d.strict(); err != nil {
			return nil, err
		}
	}
	d.speak()
	if err := d.hear(o); err != nil {
		return nil, err
	}
	for _, p := range d.Paragraphs {
		if p.holdsText() {
			return d, nil
		}
	}
	return nil, &Error{File: name, What: "the document holds no text", Mend: "name the one with the manuscript"}
}

// unpack reads a package.
func (d *Document) unpack(ctx context.Context, r io.ReaderAt, size int64) error {
	p, err := openPackage(d.Name, r, size, &d.load)
	if err != nil {
		return err
	}
	kind := ""
	if p.has("mimetype") {
		f, err := p.open("mimetype", 200)
		if err != nil {
			return err
		}
		b, _ := io.ReadAll(f) // what cannot be read is no kind
		f.Close()
		kind = strings.TrimSpace(string(b))
	}
	const opendocument = "application/vnd.oasis.opendocument."
	switch {
	case strings.HasPrefix(kind, opendocument+"text"), kind == "" && p.has("content.xml") && !p.has("[Content_Types].xml"):
		return readODT(ctx, p, d)
	case strings.HasPrefix(kind, opendocument):
		return &Error{File: d.Name, What: "this is a document of another kind: " + shorten(strings.TrimPrefix(kind, opendocument)), Mend: "name the one with the manuscript"}
	case kind != "":
		return &Error{File: d.Name, What: "this is a package of " + shorten(kind) + ", and no word-processing document", Mend: "name a .docx or an .odt file"}
	case p.has("_rels/.rels"):
		return readWML(ctx, p, d)
	}
	return &Error{File: d.Name, What: "this packed file holds no word-processing document", Mend: "name a .docx or an .odt file, and not a folder that was packed"}
}

// hear settles the language by the words, or by what is asked for.
func (d *Document) hear(o Options) error {
	said := cmp.Or(d.Language, markup.DefaultLanguage)
	if tag, reason := d.spoken(said); tag != "" {
		if d.Language != "" {
			reason = "the document says " + d.Language + ", but " + reason
		}
		d.said, d.Language, d.heard = primary(d.Language), tag, reason
	}
	if o.Language != "" {
		d.said, d.heard = primary(cmp.Or(d.said, d.Language)), ""
		if d.Language = tag(o.Language); d.Language == "" {
			return &Error{File: d.Name, What: "language " + quote(shorten(o.Language)) + " is unknown", Mend: "give a BCP 47 tag such as en-US, en-GB, de or fr"}
		}
	}
	return nil
}

// speak settles the language: that of most letters, if they say one.
func (d *Document) speak() {
	d.Language = tag(d.Language)
	count, top := map[string]int{}, 0
	for _, p := range d.Paragraphs {
		for _, r := range p.Runs {
			if r.Lang == "" || r.Text == "" {
				continue
			}
			if count[r.Lang] += len(r.Text); count[r.Lang] > top {
				top = count[r.Lang]
			}
		}
	}
	for _, lang := range sortedKeys(count) {
		if count[lang] == top {
			d.Language = lang
			return
		}
	}
}

// stem is the name of a file without folder and ending.
func stem(name string) string {
	base := filepath.Base(name)
	return strings.TrimSuffix(base, filepath.Ext(base))
}
