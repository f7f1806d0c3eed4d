package wordproc

import (
	"context"
	"encoding/xml"
	"os"
	"path/filepath"
	"runtime/metrics"
	"strings"
	"testing"

	"bodkin/markup/markuptest"
)

// bodies makes the text of Opticks, some 100 000 words, into the bodies of
// documents, each paragraph in five runs as programs write them.
func bodies(b *testing.B) (wml, odt string) {
	source, err := os.ReadFile(markuptest.Opticks(b).Path)
	if err != nil {
		b.Fatal(err)
	}
	var w, o, t strings.Builder
	for block := range strings.SplitSeq(string(source), "\n\n") {
		words := strings.Fields(strings.ReplaceAll(block, `\`, ""))
		if len(words) == 0 {
			continue
		}
		heading := words[0] == "#"
		if heading {
			words = words[1:]
			w.WriteString(`<w:p><w:pPr><w:pStyle w:val="H1"/></w:pPr>`)
			o.WriteString(`<text:h text:style-name="Heading_20_1" text:outline-level="1">`)
		} else {
			w.WriteString(`<w:p w:rsidR="00A1B2C3" w:rsidRDefault="00A1B2C3">`)
			o.WriteString(`<text:p text:style-name="Standard">`)
		}
		for i := 0; i < len(words); {
			k := min(i+max(len(words)/5, 1), len(words))
			t.Reset()
			if err := xml.EscapeText(&t, []byte(strings.Join(words[i:k], " ")+" ")); err != nil {
				b.Fatal(err)
			}
			italic, style := "", "T12"
			if i%2 == 1 {
				italic, style = "<w:i/>", "T1"
			}
			w.WriteString(`<w:r w:rsidRPr="00D4E5F6"><w:rPr>` + italic + `<w:szCs w:val="24"/></w:rPr><w:t xml:space="preserve">` + t.String() + `</w:t></w:r>`)
			o.WriteString(`<text:span text:style-name="` + style + `">` + t.String() + `</text:span>`)
			i = k
		}
		w.WriteString("</w:p>")
		if heading {
			o.WriteString("</text:h>")
		} else {
			o.WriteString("</text:p>")
		}
	}
	return w.String(), o.String()
}

// BenchmarkIntake takes in a document of 100 000 words, from its bytes on the
// disk to the compared folder. peak-MiB is all memory that the process has
// had from the system.
func BenchmarkIntake(b *testing.B) {
	wml, odt := bodies(b)
	for _, c := range []struct {
		name     string
		document []byte
	}{{"novel.docx", docxOf(b, wml)}, {"novel.odt", odtOf(b, odt)}} {
		b.Run(c.name, func(b *testing.B) {
			dir := b.TempDir()
			path := filepath.Join(dir, c.name)
			if err := os.WriteFile(path, c.document, 0o666); err != nil {
				b.Fatal(err)
			}
			words := 0
			for b.Loop() {
				d, err := Read(context.Background(), path, Options{})
				if err != nil {
					b.Fatal(err)
				}
				_, compared, err := d.Recognise().Save(context.Background(), filepath.Join(dir, "book"), nil, true)
				if err != nil || !compared.Equal() {
					b.Fatal(err, compared)
				}
				words = compared.Document.Words
				d.Close()
			}
			peak := []metrics.Sample{{Name: "/memory/classes/total:bytes"}}
			metrics.Read(peak)
			b.ReportMetric(float64(peak[0].Value.Uint64())/(1<<20), "peak-MiB")
			b.ReportMetric(float64(words), "words")
		})
	}
}
