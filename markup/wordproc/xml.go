package wordproc

import (
	"bufio"
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"

	"golang.org/x/text/encoding/unicode"
	"golang.org/x/text/transform"
)

// maxNesting is how deep elements may stand in each other: a run in a table in
// a text box in a table has some thirty.
const maxNesting = 200

// prefixes are the names of the standards' namespaces here, whatever prefix a
// document chooses. ISO/IEC 29500 has two of each: transitional and strict.
var prefixes = map[string]string{
	"http://schemas.openxmlformats.org/wordprocessingml/2006/main":            "w",
	"http://purl.oclc.org/ooxml/wordprocessingml/main":                        "w",
	"http://schemas.openxmlformats.org/officeDocument/2006/relationships":     "r",
	"http://purl.oclc.org/ooxml/officeDocument/relationships":                 "r",
	"http://schemas.openxmlformats.org/package/2006/relationships":            "rel",
	"http://schemas.openxmlformats.org/package/2006/metadata/core-properties": "cp",
	"http://schemas.openxmlformats.org/drawingml/2006/main":                   "a",
	"http://purl.oclc.org/ooxml/drawingml/main":                               "a",
	"http://schemas.openxmlformats.org/drawingml/2006/wordprocessingDrawing":  "wp",
	"http://purl.oclc.org/ooxml/drawingml/wordprocessingDrawing":              "wp",
	"http://schemas.openxmlformats.org/drawingml/2006/picture":                "pic",
	"http://purl.oclc.org/ooxml/drawingml/picture":                            "pic",
	"http://schemas.openxmlformats.org/officeDocument/2006/math":              "m",
	"http://purl.oclc.org/ooxml/officeDocument/math":                          "m",
	"http://schemas.openxmlformats.org/markup-compatibility/2006":             "mc",
	"urn:schemas-microsoft-com:vml":                                           "v", // ISO/IEC 29500-4
	"urn:schemas-microsoft-com:office:office":                                 "o",
	"http://purl.org/dc/elements/1.1/":                                        "dc",
	"urn:oasis:names:tc:opendocument:xmlns:office:1.0":                        "office",
	"urn:oasis:names:tc:opendocument:xmlns:style:1.0":                         "style",
	"urn:oasis:names:tc:opendocument:xmlns:text:1.0":                          "text",
	"urn:oasis:names:tc:opendocument:xmlns:table:1.0":                         "table",
	"urn:oasis:names:tc:opendocument:xmlns:drawing:1.0":                       "draw",
	"urn:oasis:names:tc:opendocument:xmlns:xsl-fo-compatible:1.0":             "fo",
	"urn:oasis:names:tc:opendocument:xmlns:svg-compatible:1.0":                "svg",
	"urn:oasis:names:tc:opendocument:xmlns:meta:1.0":                          "meta",
	"urn:oasis:names:tc:opendocument:xmlns:manifest:1.0":                      "manifest",
	"http://www.w3.org/1999/xlink":                                            "xlink",
	"http://www.w3.org/XML/1998/namespace":                                    "xml",
	"http://www.w3.org/1998/Math/MathML":                                      "math",
}

// element is the start of an element. Its name is that of the standard, as in
// "w:p".
type element struct {
	name  string
	attrs []xml.Attr
	s     *scanner
}

// attr returns the value of an attribute, "" when it is not there. Where a
// vocabulary leaves attributes without a namespace, neither has the name one.
func (e element) attr(name string) string {
	for i := range e.attrs {
		if e.s.nameOf(e.attrs[i].Name) == name {
			return e.attrs[i].Value
		}
	}
	return ""
}

// scanner goes through a part once, from front to back, and keeps nothing.
type scanner struct {
	d          *xml.Decoder
	file, part string
	depth      int
	load       *load // of the document; a part of it is not read on when it is full
	meter      *meter
	names      map[xml.Name]string
}

// scan calls read with the root element.
func scan(file, part string, r io.Reader, l *load, read func(*scanner, element) error) error {
	s := &scanner{file: file, part: part, load: l, names: map[xml.Name]string{}}
	r, err := decoded(r)
	if err != nil {
		return s.fault("it cannot be read: "+err.Error(), err)
	}
	s.meter = &meter{r: r, most: maxToken}
	if part == flatPart {
		s.meter.most = maxFlatToken
	}
	s.d = xml.NewDecoder(s.meter)
	s.d.CharsetReader = func(label string, in io.Reader) (io.Reader, error) {
		switch strings.ToLower(label) {
		case "utf-8", "utf8", "us-ascii", "utf-16", "utf-16le", "utf-16be":
			return in, nil // decoded has seen to UTF-16
		}
		return nil, fmt.Errorf("the encoding %.20q is not one that the standards allow", label)
	}
	for {
		t, err := s.token()
		if err == io.EOF {
			return s.fault("there is no element in it", nil)
		}
		if err != nil {
			return err
		}
		if start, ok := t.(xml.StartElement); ok {
			return read(s, s.element(start))
		}
	}
}

// maxToken bounds what stands between two angle brackets, or outside them, in
// bytes: a tag with its attributes, the text of a run. In a document of one file
// it may be a picture in base 64.
const (
	maxToken     = 1 << 20
	maxFlatToken = 8 << 20
)

var errEndless = errors.New("no end of it")

// meter reads no more than most bytes for one token.
type meter struct {
	r       io.Reader
	n, most int
}

func (m *meter) Read(p []byte) (int, error) {
	if m.n > m.most {
		return 0, errEndless
	}
	n, err := m.r.Read(p)
	m.n += n
	return n, err
}

// decoded gives UTF-16 as UTF-8; both are allowed in a package.
func decoded(r io.Reader) (io.Reader, error) {
	b := bufio.NewReaderSize(r, 1<<16)
	mark, err := b.Peek(2)
	if err != nil && err != io.EOF {
		return nil, err
	}
	if bytes.Equal(mark, []byte{0xFF, 0xFE}) || bytes.Equal(mark, []byte{0xFE, 0xFF}) {
		return transform.NewReader(b, unicode.UTF16(unicode.LittleEndian, unicode.ExpectBOM).NewDecoder()), nil
	}
	return b, nil
}

func (s *scanner) fault(what string, err error) error {
	part := s.part
	if s.d != nil {
		line, _ := s.d.InputPos()
		part = fmt.Sprintf("%s:%d", part, line)
	}
	return &Error{File: s.file, Part: part, What: what, Mend: "save the document again where it was written, and take in that copy", Err: err}
}

// token returns the next token but for remarks. A document type would be the
// place for entities that grow without end; neither standard has one.
func (s *scanner) token() (xml.Token, error) {
	if what := s.load.full(); what != "" {
		return nil, &Error{File: s.file, Part: s.part, What: what, Mend: "divide it into two"}
	}
	for {
		s.meter.n = 0
		t, err := s.d.Token()
		if err == io.EOF {
			return nil, err
		}
		if errors.Is(err, errEndless) {
			return nil, s.fault(fmt.Sprintf("an element or a text in it is longer than %d MiB", s.meter.most>>20), err)
		}
		if err != nil {
			what := err.Error()
			var syntax *xml.SyntaxError
			if errors.As(err, &syntax) {
				what = syntax.Msg
			}
			return nil, s.fault("the XML is damaged: "+shorten(what), err)
		}
		switch t.(type) {
		case xml.Directive:
			return nil, s.fault("it declares a document type, which no document of the standards has", nil)
		case xml.StartElement:
			if s.depth++; s.depth > maxNesting {
				return nil, s.fault(fmt.Sprintf("elements stand more than %d deep in each other", maxNesting), nil)
			}
			return t, nil
		case xml.EndElement:
			s.depth--
			return t, nil
		case xml.CharData:
			return t, nil
		}
	}
}

func (s *scanner) nameOf(n xml.Name) string {
	if name, ok := s.names[n]; ok {
		return name
	}
	name := n.Local
	if prefix, ok := prefixes[n.Space]; ok {
		name = prefix + ":" + n.Local
	} else if n.Space != "" {
		name = "?:" + n.Local
	}
	if len(s.names) < 10_000 {
		s.names[n] = name
	}
	return name
}

func (s *scanner) element(t xml.StartElement) element {
	return element{s.nameOf(t.Name), t.Attr, s}
}

// each goes through the content of the element that began last. child sees
// each element in it, and may go through it with each in its turn; what it
// leaves is passed over. text sees the letters; it may be nil.
func (s *scanner) each(text func([]byte), child func(element) error) error {
	depth := s.depth
	for {
		t, err := s.token()
		if err == io.EOF {
			return s.fault("the XML ends too soon", io.ErrUnexpectedEOF)
		}
		if err != nil {
			return err
		}
		switch t := t.(type) {
		case xml.CharData:
			if text != nil {
				text(t)
			}
		case xml.EndElement:
			if s.depth < depth {
				return nil
			}
		case xml.StartElement:
			if child != nil {
				if err := child(s.element(t)); err != nil {
					return err
				}
			}
			for s.depth > depth {
				if err := s.skipTo(depth); err != nil {
					return err
				}
			}
		}
	}
}

func (s *scanner) skipTo(depth int) error {
	for s.depth > depth {
		if _, err := s.token(); err != nil {
			if err == io.EOF {
				return s.fault("the XML ends too soon", io.ErrUnexpectedEOF)
			}
			return err
		}
	}
	return nil
}

// text returns the letters of the element that began last, at any depth.
func (s *scanner) text() (string, error) {
	var b strings.Builder
	var in func(element) error
	write := func(t []byte) { b.Write(t) }
	in = func(element) error { return s.each(write, in) }
	err := s.each(write, in)
	return b.String(), err
}

// fields reads the texts of the elements that the element that began last
// holds, by their names, in one line each.
func (s *scanner) fields(to map[string]*string) error {
	return s.each(nil, func(e element) error {
		field := to[e.name]
		if field == nil {
			return nil
		}
		t, err := s.text()
		*field = oneLine(t)
		return err
	})
}
