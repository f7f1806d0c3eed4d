package wordproc

import (
	"archive/zip"
	"bytes"
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// A part of a package that a test makes.
type part struct{ name, text string }

func zipped(t testing.TB, parts ...part) []byte {
	t.Helper()
	return packedBy(t, zip.Deflate, parts)
}

// storedZip packs nothing: a part that repeats itself is no bomb by its ratio.
func storedZip(t testing.TB, parts ...part) []byte {
	t.Helper()
	return packedBy(t, zip.Store, parts)
}

func packedBy(t testing.TB, method uint16, parts []part) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, p := range parts {
		by := method
		if p.name == "mimetype" {
			by = zip.Store
		}
		w, err := z.CreateHeader(&zip.FileHeader{Name: p.name, Method: by})
		if err == nil {
			_, err = w.Write([]byte(p.text))
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

const (
	wmlNames = `xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships" ` +
		`xmlns:wp="http://schemas.openxmlformats.org/drawingml/2006/wordprocessingDrawing" xmlns:a="http://schemas.openxmlformats.org/drawingml/2006/main" ` +
		`xmlns:pic="http://schemas.openxmlformats.org/drawingml/2006/picture" xmlns:mc="http://schemas.openxmlformats.org/markup-compatibility/2006" ` +
		`xmlns:m="http://schemas.openxmlformats.org/officeDocument/2006/math" xmlns:v="urn:schemas-microsoft-com:vml" xmlns:o="urn:schemas-microsoft-com:office:office"`
	relNames = `xmlns="http://schemas.openxmlformats.org/package/2006/relationships"`
	relBase  = `http://schemas.openxmlformats.org/officeDocument/2006/relationships`

	odtNames = `xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" xmlns:style="urn:oasis:names:tc:opendocument:xmlns:style:1.0" ` +
		`xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0" xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" ` +
		`xmlns:draw="urn:oasis:names:tc:opendocument:xmlns:drawing:1.0" xmlns:fo="urn:oasis:names:tc:opendocument:xmlns:xsl-fo-compatible:1.0" ` +
		`xmlns:svg="urn:oasis:names:tc:opendocument:xmlns:svg-compatible:1.0" xmlns:xlink="http://www.w3.org/1999/xlink" ` +
		`xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:meta="urn:oasis:names:tc:opendocument:xmlns:meta:1.0" xmlns:math="http://www.w3.org/1998/Math/MathML" office:version="1.3"`
)

const wmlStylesPart = `<w:styles ` + wmlNames + `>
<w:docDefaults><w:rPrDefault><w:rPr><w:sz w:val="24"/><w:lang w:val="en-US"/></w:rPr></w:rPrDefault></w:docDefaults>
<w:style w:type="paragraph" w:default="1" w:styleId="Normal"><w:name w:val="Normal"/></w:style>
<w:style w:type="paragraph" w:styleId="H1"><w:name w:val="heading 1"/><w:basedOn w:val="Normal"/><w:pPr><w:outlineLvl w:val="0"/></w:pPr><w:rPr><w:b/></w:rPr></w:style>
<w:style w:type="paragraph" w:styleId="H2"><w:name w:val="heading 2"/><w:basedOn w:val="Normal"/><w:pPr><w:outlineLvl w:val="1"/></w:pPr></w:style>
<w:style w:type="paragraph" w:styleId="Quote"><w:name w:val="Quote"/><w:rPr><w:i/></w:rPr></w:style>
<w:style w:type="paragraph" w:styleId="Verse"><w:name w:val="Verse"/></w:style>
<w:style w:type="paragraph" w:styleId="Caption"><w:name w:val="caption"/></w:style>
<w:style w:type="paragraph" w:styleId="Title"><w:name w:val="Title"/></w:style>
<w:style w:type="paragraph" w:styleId="TOC1"><w:name w:val="toc 1"/></w:style>
<w:style w:type="character" w:styleId="Emph"><w:name w:val="Emphasis"/><w:rPr><w:i/></w:rPr></w:style>
</w:styles>`

const wmlNumberingPart = `<w:numbering ` + wmlNames + `>
<w:abstractNum w:abstractNumId="0"><w:lvl w:ilvl="0"><w:start w:val="1"/><w:numFmt w:val="decimal"/><w:lvlText w:val="%1."/></w:lvl><w:lvl w:ilvl="1"><w:numFmt w:val="bullet"/><w:lvlText w:val="•"/></w:lvl></w:abstractNum>
<w:abstractNum w:abstractNumId="1"><w:lvl w:ilvl="0"><w:start w:val="1"/><w:numFmt w:val="cardinalText"/><w:lvlText w:val="Chapter %1"/></w:lvl></w:abstractNum>
<w:abstractNum w:abstractNumId="3"><w:lvl w:ilvl="0"><w:start w:val="1"/><w:numFmt w:val="lowerLetter"/><w:lvlText w:val="%1)"/></w:lvl></w:abstractNum>
<w:abstractNum w:abstractNumId="2"><w:lvl w:ilvl="0"><w:numFmt w:val="bullet"/><w:lvlText w:val="•"/></w:lvl></w:abstractNum>
<w:num w:numId="1"><w:abstractNumId w:val="0"/></w:num><w:num w:numId="2"><w:abstractNumId w:val="1"/></w:num><w:num w:numId="3"><w:abstractNumId w:val="2"/></w:num><w:num w:numId="4"><w:abstractNumId w:val="3"/></w:num>
</w:numbering>`

// docxOf makes a package of WordprocessingML with a body.
func docxOf(t testing.TB, body string, more ...part) []byte {
	t.Helper()
	rel := func(id, kind, target string) string {
		return `<Relationship Id="` + id + `" Type="` + relBase + "/" + kind + `" Target="` + target + `"/>`
	}
	rels := rel("s", "styles", "styles.xml") + rel("n", "numbering", "numbering.xml") + rel("p", "image", "media/dial.png") +
		`<Relationship Id="l" Type="` + relBase + `/hyperlink" Target="https://tides.example/" TargetMode="External"/>` +
		`<Relationship Id="x" Type="` + relBase + `/image" Target="file:///etc/passwd" TargetMode="External"/>`
	for _, p := range more {
		switch base := strings.TrimSuffix(strings.TrimPrefix(p.name, "word/"), ".xml"); base {
		case "footnotes", "endnotes", "comments":
			rels += rel(base, base, base+".xml")
		case "header1":
			rels += rel(base, "header", base+".xml")
		}
	}
	parts := []part{
		{"[Content_Types].xml", `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>` +
			`<Default Extension="xml" ContentType="application/xml"/><Default Extension="png" ContentType="image/png"/>` +
			`<Override PartName="/word/document.xml" ContentType="application/vnd.openxmlformats-officedocument.wordprocessingml.document.main+xml"/>` +
			`<Override PartName="/docProps/core.xml" ContentType="application/vnd.openxmlformats-package.core-properties+xml"/></Types>`},
		{"docProps/core.xml", `<cp:coreProperties xmlns:cp="http://schemas.openxmlformats.org/package/2006/metadata/core-properties"/>`},
		{"_rels/.rels", `<Relationships ` + relNames + `>` + rel("d", "officeDocument", "word/document.xml") +
			`<Relationship Id="c" Type="http://schemas.openxmlformats.org/package/2006/relationships/metadata/core-properties" Target="docProps/core.xml"/></Relationships>`},
		{"word/_rels/document.xml.rels", `<Relationships ` + relNames + `>` + rels + `</Relationships>`},
		{"word/styles.xml", wmlStylesPart},
		{"word/numbering.xml", wmlNumberingPart},
		{"word/media/dial.png", dial(t)},
		{"word/document.xml", `<?xml version="1.0" encoding="UTF-8"?><w:document ` + wmlNames + `><w:body>` + body + `</w:body></w:document>`},
	}
	for _, p := range more {
		if i := slices.IndexFunc(parts, func(q part) bool { return q.name == p.name }); i >= 0 {
			parts = slices.Delete(parts, i, i+1) // the test has its own
		}
	}
	return zipped(t, append(parts, more...)...)
}

const odtStylesPart = `<office:document-styles ` + odtNames + `><office:styles>
<style:default-style style:family="paragraph"><style:text-properties fo:font-size="12pt" fo:language="en" fo:country="US"/></style:default-style>
<style:style style:name="Standard" style:family="paragraph"/>
<style:style style:name="Heading_20_1" style:display-name="Heading 1" style:family="paragraph" style:default-outline-level="1"><style:text-properties fo:font-weight="bold"/></style:style>
<style:style style:name="Quotations" style:family="paragraph"><style:text-properties fo:font-style="italic"/></style:style>
<style:style style:name="Verse" style:family="paragraph"/>
<style:style style:name="Caption" style:family="paragraph"/>
<style:style style:name="Title" style:family="paragraph"/>
<style:style style:name="Emphasis" style:family="text"><style:text-properties fo:font-style="italic"/></style:style>
<text:list-style style:name="L1"><text:list-level-style-number text:level="1" style:num-format="1" style:num-suffix="."/><text:list-level-style-bullet text:level="2" text:bullet-char="•"/></text:list-style>
<text:list-style style:name="L3"><text:list-level-style-number text:level="1" style:num-format="a" style:num-suffix=")"/></text:list-style>
<text:list-style style:name="L2"><text:list-level-style-bullet text:level="1" text:bullet-char="•"/></text:list-style>
</office:styles></office:document-styles>`

const odtAutomatic = `<office:automatic-styles>
<style:style style:name="T1" style:family="text"><style:text-properties fo:font-style="italic"/></style:style>
<style:style style:name="T2" style:family="text"><style:text-properties fo:font-weight="bold"/></style:style>
<style:style style:name="T3" style:family="text"><style:text-properties fo:font-variant="small-caps"/></style:style>
<style:style style:name="T4" style:family="text"><style:text-properties style:text-underline-style="solid"/></style:style>
<style:style style:name="T5" style:family="text"><style:text-properties style:text-position="super 58%"/></style:style>
<style:style style:name="T6" style:family="text"><style:text-properties style:text-position="sub 58%"/></style:style>
<style:style style:name="T7" style:family="text"><style:text-properties fo:text-transform="uppercase"/></style:style>
<style:style style:name="T8" style:family="text"><style:text-properties fo:language="fr" fo:country="FR"/></style:style>
<style:style style:name="T9" style:family="text"><style:text-properties text:display="none"/></style:style>
<style:style style:name="T10" style:family="text"><style:text-properties fo:font-style="italic" fo:font-weight="bold"/></style:style>
<style:style style:name="T11" style:family="text"><style:text-properties style:text-line-through-style="solid"/></style:style>
<style:style style:name="T12" style:family="text"><style:text-properties fo:font-style="normal"/></style:style>
<style:style style:name="T15" style:family="text"><style:text-properties fo:letter-spacing="2pt"/></style:style>
<style:style style:name="T16" style:family="text"><style:text-properties fo:letter-spacing="0.2pt"/></style:style>
<style:style style:name="T14" style:family="text"><style:text-properties fo:font-size="24pt"/></style:style>
<style:style style:name="T13" style:family="text"><style:text-properties style:font-name="Script"/></style:style>
<style:style style:name="P1" style:family="paragraph" style:parent-style-name="Standard"><style:paragraph-properties fo:break-before="page"/></style:style>
<style:style style:name="P2" style:family="paragraph" style:parent-style-name="Standard"><style:paragraph-properties fo:text-align="center"/></style:style>
<style:style style:name="P3" style:family="paragraph" style:parent-style-name="Standard"><style:paragraph-properties fo:margin-left="0.5in" fo:margin-right="0.5in"/></style:style>
<style:style style:name="P8" style:family="paragraph" style:parent-style-name="Standard"><style:paragraph-properties fo:margin-left="0.75in" fo:margin-right="0.5in"/></style:style>
<style:style style:name="P4" style:family="paragraph" style:parent-style-name="Standard"><style:paragraph-properties fo:text-align="center" fo:break-before="page"/></style:style>
<style:style style:name="P5" style:family="paragraph" style:parent-style-name="Standard"><style:paragraph-properties fo:border-bottom="0.5pt solid #000000"/></style:style>
<style:style style:name="P6" style:family="paragraph" style:parent-style-name="Standard"><style:paragraph-properties fo:margin-top="24pt"/></style:style>
<style:style style:name="P9" style:family="paragraph" style:parent-style-name="Standard"><style:paragraph-properties fo:text-align="end" fo:break-before="page"/></style:style>
<style:style style:name="P7" style:family="paragraph" style:parent-style-name="Standard"><style:paragraph-properties fo:text-align="end"/></style:style>
</office:automatic-styles>`

// odtOf makes a package of OpenDocument Text with a body.
func odtOf(t testing.TB, body string, more ...part) []byte {
	t.Helper()
	parts := []part{
		{"mimetype", "application/vnd.oasis.opendocument.text"},
		{"META-INF/manifest.xml", `<manifest:manifest xmlns:manifest="urn:oasis:names:tc:opendocument:xmlns:manifest:1.0">` +
			`<manifest:file-entry manifest:full-path="/" manifest:media-type="application/vnd.oasis.opendocument.text"/>` +
			`<manifest:file-entry manifest:full-path="styles.xml" manifest:media-type="text/xml"/><manifest:file-entry manifest:full-path="content.xml" manifest:media-type="text/xml"/></manifest:manifest>`},
		{"styles.xml", odtStylesPart},
		{"Pictures/dial.png", dial(t)},
		{"content.xml", `<?xml version="1.0" encoding="UTF-8"?><office:document-content ` + odtNames + `>` + odtAutomatic +
			`<office:body><office:text>` + body + `</office:text></office:body></office:document-content>`},
	}
	return zipped(t, append(parts, more...)...)
}

// dial is a picture of the demonstration book.
func dial(t testing.TB) string {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("testdata", "dial.png"))
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// taken is a document after intake.
type taken struct {
	dir      string
	doc      *Document
	m        *Manuscript
	saved    *Saved
	compared *Comparison
}

// take writes a document and takes it in.
func take(t testing.TB, name string, document []byte) *taken {
	t.Helper()
	dir := t.TempDir()
	path := filepath.Join(dir, name)
	if err := os.WriteFile(path, document, 0o666); err != nil {
		t.Fatal(err)
	}
	return takeFile(t, path, filepath.Join(dir, "book"))
}

func takeFile(t testing.TB, path, to string) *taken {
	t.Helper()
	d, err := Read(context.Background(), path, Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { d.Close() })
	m := d.Recognise()
	saved, compared, err := m.Save(context.Background(), to, nil, false)
	if err != nil {
		t.Fatal(err)
	}
	if c := compared; c.Equal() && c.Document.Letters-c.Left.Letters+c.Lists.Letters != c.Chapters.Letters {
		t.Errorf("the letters differ: %+v", c)
	}
	return &taken{to, d, m, saved, compared}
}

// text is what all pieces say, in the order of the book.
func (k *taken) text(t testing.TB) string {
	t.Helper()
	var b strings.Builder
	for _, p := range k.m.Pieces {
		text, err := os.ReadFile(filepath.Join(k.dir, filepath.FromSlash(p.File)))
		if err != nil {
			t.Fatal(err)
		}
		b.WriteString("== " + p.File + "\n" + string(text))
	}
	return b.String()
}

// findings are the kinds of what was left out or changed.
func (k *taken) findings() string {
	var all []string
	for _, f := range append(k.m.Left, k.doc.Findings...) {
		all = append(all, f.Kind+": "+f.Text)
	}
	for _, c := range k.m.Changed {
		all = append(all, c.Kind+": "+c.Text)
	}
	return strings.Join(all, "\n")
}
