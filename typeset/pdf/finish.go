package pdf

import (
	"bytes"
	"compress/zlib"
	"crypto/sha256"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"bodkin/typeset"
)

// document is what a file says of itself.
type document struct {
	title, author, language string
	date                    time.Time
	labels                  string // of its pages; "" for none
	metadata                int    // the object of the metadata, if there is any
	standard                string // that it conforms to; "" for none
}

// creator is the program that made the file.
const creator = "bodkin"

// documentOf is what the file of a layout says of itself.
func documentOf(l *typeset.Layout, o Options) document {
	d := document{title: l.Title, author: l.Author, language: l.Language, date: o.Date}
	if d.date.IsZero() {
		d.date = l.Modified
	}
	if o.Reading {
		d.labels = labels(l, o)
	}
	if o.press() {
		d = d.pressed()
	}
	return d
}

// finish is the second pass: it takes fpdf's file apart and writes it again
// with the faces, the pictures, the document information and the file
// identifier. Only one picture at a time is in memory with all its pixels.
func finish(laid []byte, about document, o Options, faces *faces, plates *plates) ([]byte, error) {
	objects, trailer, err := readObjects(laid)
	if err != nil {
		return nil, fmt.Errorf("reading the laid pages: %w", err)
	}
	fontObjects, fontResources, err := faces.objects(len(objects) + 1)
	if err != nil {
		return nil, err
	}
	images := len(objects) + len(fontObjects) + 1
	about.metadata = images + len(plates.files)
	media := objects[0].dict.get("MediaBox") // object 1 is the root of the pages, whose box is that of most
	for i := range objects {
		ob := &objects[i]
		switch ref := fmt.Sprintf("%d 0 R", ob.num); {
		case ob.num == 2: // the resources that all pages share
			ob.dict.set("Font", fontResources)
			ob.dict.set("XObject", plates.resources(images))
		case string(ob.dict.get("Type")) == "/Page":
			ob.dict = page(ob.dict, media)
		case ref == string(trailer.get("Root")):
			ob.dict = catalog(ob.dict, about)
		case ref == string(trailer.get("Info")):
			ob.dict = info(about)
		}
	}
	w := writer{plain: o.Plain}
	w.b = make([]byte, 0, len(laid)/2+1<<18)
	w.b = append(w.b, "%PDF-1.4\n%\xe2\xe3\xcf\xd3\n"...)
	for _, list := range [][]object{objects, fontObjects} {
		for _, ob := range list {
			w.object(ob)
		}
	}
	for i, pic := range plates.files {
		ob, err := imageObject(images+i, pic, plates.wide[i], o)
		if err != nil {
			return nil, err
		}
		w.object(ob)
	}
	if about.standard != "" {
		w.object(object{num: about.metadata, dict: dict{{"Type", []byte("/Metadata")}, {"Subtype", []byte("/XML")}},
			stream: metadata(about, w.b), bare: true})
	}
	w.end(trailer)
	return w.b, nil
}

// boxes are the page boundaries, from the outside in.
var boxes = []string{"MediaBox", "BleedBox", "TrimBox"}

// page gives a page its own MediaBox and puts its keys in a fixed order; fpdf
// writes boxes in any order, and the MediaBox once for all pages that have it.
func page(d dict, media []byte) dict {
	p := dict{{"Type", []byte("/Page")}, {"Parent", d.get("Parent")}}
	if d.get("MediaBox") == nil {
		d.set("MediaBox", string(media))
	}
	for _, box := range boxes {
		if v := d.get(box); v != nil {
			p.set(box, string(v))
		}
	}
	for _, e := range d {
		if e.key != "Group" && p.get(e.key) == nil {
			p = append(p, e)
		}
	}
	return p
}

// catalog is the root of the file.
func catalog(d dict, about document) dict {
	d = slices.DeleteFunc(d, func(e entry) bool { return e.key == "Names" })
	if about.language != "" {
		d.set("Lang", textString(about.language))
	}
	if about.labels != "" {
		d.set("PageLabels", about.labels)
		d.set("ViewerPreferences", "<</DisplayDocTitle true>>")
	}
	if about.standard != "" {
		d.set("OutputIntents", "["+string(intent().append(nil))+"]")
		d.set("Metadata", fmt.Sprintf("%d 0 R", about.metadata))
	}
	return d
}

// labels gives each page of the file the name of its page in the layout
// (ISO 32000-1, 12.4.2): figures in ranges, anything else one by one.
func labels(l *typeset.Layout, o Options) string {
	b := []byte("<</Nums[")
	next := -1 // the number that would continue the range
	for sheet, pages := range sheets(l, o) {
		var parts []string
		for _, i := range pages {
			if i >= 0 && l.Pages[i].Label != "" {
				parts = append(parts, l.Pages[i].Label)
			}
		}
		label := strings.Join(parts, "–")
		n, err := strconv.Atoi(label)
		switch {
		case err != nil || n < 1 || strconv.Itoa(n) != label:
			b = fmt.Appendf(b, "%d<</P%s>>\n", sheet, textString(label))
			next = -1
			continue
		case n != next:
			b = fmt.Appendf(b, "%d<</S/D/St %d>>\n", sheet, n)
		}
		next = n + 1
	}
	return string(append(b, "]>>"...))
}

// info is the document information dictionary (ISO 32000-1, 14.3.3).
func info(about document) dict {
	var d dict
	for _, e := range []struct{ key, value string }{
		{"Title", about.title}, {"Author", about.author}, {"Creator", creator}, {"Producer", creator},
		{"GTS_PDFXVersion", about.standard},
	} {
		if e.value != "" {
			d.set(e.key, textString(e.value))
		}
	}
	if !about.date.IsZero() {
		d.set("CreationDate", date(about.date))
		d.set("ModDate", date(about.date))
	}
	d.set("Trapped", "/False")
	return d
}

// writer writes the objects of a file one after the other.
type writer struct {
	b       []byte
	offsets []int // of object 1, 2 …
	plain   bool
	packer  *zlib.Writer
	packed  bytes.Buffer
}

// level is the compression of zlib. A novel of 70 000 words makes 726 kB at
// level 1, 585 at 4, 563 at 5, 561 at 6 and at 9; 5 and 6 take the least time.
const level = 6

func (w *writer) object(o object) {
	for len(w.offsets) < o.num {
		w.offsets = append(w.offsets, 0)
	}
	w.offsets[o.num-1] = len(w.b)
	w.b = fmt.Appendf(w.b, "%d 0 obj\n", o.num)
	if o.stream == nil {
		w.b = append(o.dict.append(w.b), "\nendobj\n"...)
		return
	}
	if !w.plain && !o.bare && o.dict.get("Filter") == nil {
		o.stream = w.pack(o.stream)
		o.dict.set("Filter", "/FlateDecode")
	}
	o.dict.set("Length", strconv.Itoa(len(o.stream)))
	w.b = append(o.dict.append(w.b), "\nstream\n"...)
	w.b = append(append(w.b, o.stream...), "\nendstream\nendobj\n"...)
}

// pack compresses b; the result holds until the next call.
func (w *writer) pack(b []byte) []byte {
	w.packed.Reset()
	if w.packer == nil {
		w.packer, _ = zlib.NewWriterLevel(&w.packed, level) // the level is valid
	}
	w.packer.Reset(&w.packed)
	w.packer.Write(b) // to memory: no error
	w.packer.Close()
	return w.packed.Bytes()
}

// end writes the cross-reference table and the trailer. The file identifier
// is the hash of all that stands before them.
func (w *writer) end(trailer dict) {
	hash := sha256.Sum256(w.b)
	start := len(w.b)
	w.b = fmt.Appendf(w.b, "xref\n0 %d\n0000000000 65535 f \n", len(w.offsets)+1)
	for _, offset := range w.offsets {
		if offset == 0 {
			w.b = append(w.b, "0000000000 00000 f \n"...)
			continue
		}
		w.b = fmt.Appendf(w.b, "%010d 00000 n \n", offset)
	}
	trailer.set("Size", strconv.Itoa(len(w.offsets)+1))
	trailer.set("ID", fmt.Sprintf("[<%X><%X>]", hash[:16], hash[:16]))
	w.b = append(trailer.append(append(w.b, "trailer\n"...)), '\n')
	w.b = fmt.Appendf(w.b, "startxref\n%d\n%%%%EOF\n", start)
}
