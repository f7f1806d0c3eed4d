package pdf

import (
	"bytes"
	"crypto/sha256"
	"encoding/xml"
	"fmt"
	"time"
)

// standard is what a file for the press conforms to: PDF/X-1a as ISO 15930-4
// has it. Gray and CMYK alone, all faces embedded, nothing transparent, boxes
// on every page and no marks of a reader; and a file that says so itself.
const standard = "PDF/X-1a:2003"

// condition is the printing condition that a file is made for: the registered
// characterisation that a printer of gray pages is most likely to take for
// granted (from memory). A gray page prints alike in all of them.
var condition = struct{ identifier, registry, info string }{
	"CGATS TR 001", "http://www.color.org", "SWOP (Publication) printing in USA. Offset lithography, CGATS TR 001",
}

// press reports whether the file is for a printer: pages as they are cut, with
// nothing over them that only a reader wants.
func (o Options) press() bool { return !o.Reading && !o.Spreads && !o.Guides }

// epoch dates the file of a book that has no date; the standard asks for one.
var epoch = time.Unix(0, 0).UTC()

// pressed completes what a file for the press says of itself: the standard
// asks for a title and a date.
func (d document) pressed() document {
	d.standard = standard
	if d.title == "" {
		d.title = "Untitled"
	}
	if d.date.IsZero() {
		d.date = epoch
	}
	return d
}

// intent is the output intent (ISO 32000-1, 14.11.5; ISO 15930-4, 6.2.2).
func intent() dict {
	var d dict
	d.set("Type", "/OutputIntent")
	d.set("S", "/GTS_PDFX")
	d.set("OutputCondition", textString(condition.info))
	d.set("OutputConditionIdentifier", textString(condition.identifier))
	d.set("RegistryName", textString(condition.registry))
	d.set("Info", textString(condition.info))
	return d
}

// metadata is the metadata stream (ISO 32000-1, 14.3.2), which says in XMP
// (ISO 16684-1) what the document information says. The identifier is made
// from the objects before it.
func metadata(about document, before []byte) []byte {
	id := sha256.Sum256(before)
	id[6], id[8] = id[6]&0x0F|0x80, id[8]&0x3F|0x80 // a UUID of version 8 (RFC 9562, 5.8)
	uuid := fmt.Sprintf("uuid:%x-%x-%x-%x-%x", id[:4], id[4:6], id[6:8], id[8:10], id[10:16])
	var b bytes.Buffer
	b.WriteString("<?xpacket begin=\"\ufeff\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n" +
		"<x:xmpmeta xmlns:x=\"adobe:ns:meta/\">\n<rdf:RDF xmlns:rdf=\"http://www.w3.org/1999/02/22-rdf-syntax-ns#\">\n" +
		"<rdf:Description rdf:about=\"\"" +
		" xmlns:dc=\"http://purl.org/dc/elements/1.1/\"" +
		" xmlns:xmp=\"http://ns.adobe.com/xap/1.0/\"" +
		" xmlns:xmpMM=\"http://ns.adobe.com/xap/1.0/mm/\"" +
		" xmlns:pdf=\"http://ns.adobe.com/pdf/1.3/\"" +
		" xmlns:pdfx=\"http://ns.adobe.com/pdfx/1.3/\">\n")
	element := func(name, value string) {
		fmt.Fprintf(&b, "<%s>", name)
		_ = xml.EscapeText(&b, []byte(value)) // to memory: no error
		fmt.Fprintf(&b, "</%s>\n", name)
	}
	within := func(name, list, attributes, value string) {
		fmt.Fprintf(&b, "<%s><rdf:%s><rdf:li%s>", name, list, attributes)
		_ = xml.EscapeText(&b, []byte(value))
		fmt.Fprintf(&b, "</rdf:li></rdf:%s></%s>\n", list, name)
	}
	element("dc:format", "application/pdf")
	within("dc:title", "Alt", ` xml:lang="x-default"`, about.title)
	if about.author != "" {
		within("dc:creator", "Seq", "", about.author)
	}
	if about.language != "" {
		within("dc:language", "Bag", "", about.language)
	}
	stamp := about.date.Format(time.RFC3339)
	element("xmp:CreateDate", stamp)
	element("xmp:ModifyDate", stamp)
	element("xmp:MetadataDate", stamp)
	element("xmp:CreatorTool", creator)
	element("xmpMM:DocumentID", uuid)
	element("xmpMM:InstanceID", uuid)
	element("pdf:Producer", creator)
	element("pdf:Trapped", "False")
	element("pdfx:GTS_PDFXVersion", about.standard)
	b.WriteString("</rdf:Description>\n</rdf:RDF>\n</x:xmpmeta>\n<?xpacket end=\"r\"?>")
	return b.Bytes()
}
