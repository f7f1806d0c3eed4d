package wordproc

import (
	"strings"
	"testing"
)

// TestRepeated takes in documents of one thing again and again: nothing is lost
// of them, whatever they are taken for.
func TestRepeated(t *testing.T) {
	rep := strings.Repeat
	for name, body := range map[string]string{
		"chapters":             rep(wp("Chapter 1"), 40),
		"ornaments":            rep(wp("***"), 40) + wp("x"),
		"chapters and gaps":    rep(wp("")+wp("Chapter 1"), 40),
		"changes of look":      `<w:p>` + rep(ws("<w:i/>", "ab ")+ws(`<w:sz w:val="20"/>`, "cd")+ws("<w:b/>", "e"), 400) + `</w:p>`,
		"characters of markup": wp(rep("a*_[", 4000)),
		"marked words":         `<w:p>` + rep(ws("<w:b/><w:i/>", "a")+wr(" b "), 3000) + `</w:p>`,
		"line ends":            `<w:p><w:r>` + rep(`<w:t>x</w:t><w:br/>`, 100) + `</w:r></w:p>`,
		"verse":                wp(filler) + rep(wpp(`<w:pStyle w:val="Verse"/>`, "One line"), 40),
		"items of a low level": rep(wpp(`<w:numPr><w:ilvl w:val="1"/><w:numId w:val="1"/></w:numPr>`, "Inner"), 40),
		"headings":             rep(`<w:p><w:pPr><w:pStyle w:val="H2"/></w:pPr>`+wr("x")+`</w:p>`+wp("y"), 40),
		"headings alone":       rep(`<w:p><w:pPr><w:pStyle w:val="H2"/></w:pPr>`+wr("x")+`</w:p>`, 40),
		"tables in tables":     rep(`<w:tbl><w:tr><w:tc>`, 40) + wp("x") + rep(`</w:tc></w:tr></w:tbl>`, 40),
		"rows":                 `<w:tbl>` + rep(`<w:tr><w:tc>`+wp("x")+`</w:tc><w:tc>`+wp("y")+`</w:tc></w:tr>`, 100) + `</w:tbl>`,
		"contents":             wp("Contents") + rep(wp("Ebb 12"), 40) + wHead + wp("x"),
		"insertions":           `<w:p>` + rep(`<w:ins>`+wr("a")+`</w:ins>`, 40) + `</w:p>`,
		"deleted ends":         rep(`<w:p><w:pPr><w:rPr><w:del/></w:rPr></w:pPr>`+wr("abc ")+`</w:p>`, 40),
		"boxes in boxes":       rep(`<w:p>`+wr("o")+`<w:r><w:pict><v:textbox><w:txbxContent>`, 30) + wp("in") + rep(`</w:txbxContent></v:textbox></w:pict></w:r></w:p>`, 30),
		"contents alone":       rep(wpp(`<w:pStyle w:val="TOC1"/>`, "Ebb"), 4) + wp("x"),
		"titles":               rep(wpp(`<w:pStyle w:val="Title"/>`, "Ebb"), 2) + wp("x"),
		"signs alone":          wHead + wp("\uF04A a") + wp("\uF04A") + wp("\u00AD") + wp("b"),
	} {
		k := take(t, "a.docx", docxOf(t, body))
		if !k.compared.Equal() || k.compared.Document.Letters+k.compared.Lists.Letters != k.compared.Chapters.Letters+k.compared.Left.Letters {
			t.Errorf("%s: %+v", name, k.compared)
		}
	}
}
