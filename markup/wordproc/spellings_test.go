package wordproc

import (
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/google/go-cmp/cmp"
)

// TestSpellings reads one text in all the ways that the standards allow a
// document to be written down.
func TestSpellings(t *testing.T) {
	want := chapterEbb + "It is *late*.\n"
	body := wHead + `<w:p>` + wr("It is ") + ws(`<w:i/>`, "late") + wr(".") + `</w:p>`
	strict := strings.NewReplacer(
		"http://schemas.openxmlformats.org/wordprocessingml/2006/main", "http://purl.oclc.org/ooxml/wordprocessingml/main",
		"http://schemas.openxmlformats.org/officeDocument/2006/relationships", "http://purl.oclc.org/ooxml/officeDocument/relationships")
	rels := func(target string) string {
		return `<Relationships ` + relNames + `><Relationship Id="d" Type="` + relBase + `/officeDocument" Target="` + target + `"/></Relationships>`
	}
	document := `<w:document ` + wmlNames + `><w:body>` + body + `</w:body></w:document>`
	styles := part{"t/_rels/d.xml.rels", `<Relationships ` + relNames + `><Relationship Id="s" Type="` + relBase + `/styles" Target="../s.xml"/></Relationships>`}
	utf16LE := func(s string) string {
		b := []byte{0xFF, 0xFE}
		for _, u := range utf16.Encode([]rune(s)) {
			b = append(b, byte(u), byte(u>>8))
		}
		return string(b)
	}
	odt := oHead + `<text:p>It is <text:span text:style-name="T1">late</text:span>.</text:p>`
	content := `<office:document-content ` + odtNames + `>` + odtAutomatic + `<office:body><office:text>` + odt + `</office:text></office:body></office:document-content>`
	for name, file := range map[string][]byte{
		"strict.docx": zipped(t, part{"_rels/.rels", strict.Replace(rels("t/d.xml"))}, part{"t/_rels/d.xml.rels", strict.Replace(styles.text)},
			part{"s.xml", strict.Replace(wmlStylesPart)}, part{"t/d.xml", strict.Replace(document)}),
		"prefix.docx": zipped(t, part{"_rels/.rels", rels("/t/d.xml")}, styles, part{"s.xml", wmlStylesPart},
			part{"t/d.xml", strings.NewReplacer("<w:", "<ns0:", "</w:", "</ns0:", "xmlns:w=", "xmlns:ns0=", " w:", " ns0:").Replace(document)}),
		"utf16.docx": zipped(t, part{"_rels/.rels", rels("t/d.xml")}, styles, part{"s.xml", wmlStylesPart},
			part{"t/d.xml", utf16LE(`<?xml version="1.0" encoding="UTF-16"?>` + document)}),
		"flat.fodt": []byte(`<?xml version="1.0"?><office:document ` + odtNames + ` office:mimetype="application/vnd.oasis.opendocument.text">` +
			odtAutomatic + `<office:body><office:text>` + odt + `</office:text></office:body></office:document>`),
		"template.ott": zipped(t, part{"mimetype", "application/vnd.oasis.opendocument.text-template"}, part{"content.xml", content}),
		"bare.odt":     zipped(t, part{"content.xml", content}),
	} {
		k := take(t, name, file)
		if diff := cmp.Diff(want, k.text(t)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", name, diff)
		}
	}
}
