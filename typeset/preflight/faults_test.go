package preflight

import (
	"bytes"
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"bodkin/typeset"
	"bodkin/typeset/length"
)

// plan is a small PDF, written by hand, that a test can spoil.
type plan struct {
	version, catalog, info, trailer string
	box, trim, bleed, page          string // of all pages
	resources, content              string
	pages                           int
	own                             map[int]string // what else a page says, by its index
	contents                        map[int]string
	objects                         []string // from number 101 on
}

var font = `<</Type/Font/Subtype/TrueType/BaseFont/AAAAAA+Test/FirstChar 32/LastChar 126/Widths[` + widths + `]/FontDescriptor 102 0 R/Encoding/WinAnsiEncoding>>`

var widths = "250 " + strings.Repeat("500 ", 94)

func clean() *plan {
	return &plan{
		version: "1.4", pages: 4,
		catalog: `/OutputIntents[<</Type/OutputIntent/S/GTS_PDFX/OutputConditionIdentifier(CGATS TR 001)/RegistryName(http://www.color.org)/Info(x)>>]`,
		info:    `/Title(Low Water)/CreationDate(D:20260503)/ModDate(D:20260503)/Trapped/False/GTS_PDFXVersion(PDF/X-1a:2003)`,
		trailer: `/ID[<00112233445566778899AABBCCDDEEFF><00112233445566778899AABBCCDDEEFF>]`,
		box:     "0 0 378 594", bleed: "0 0 378 594", trim: "9 9 369 585",
		resources: "/Font<</F1 101 0 R>>",
		content:   "BT /F1 11 Tf 72 300 Td (Low water) Tj ET",
		own:       map[int]string{}, contents: map[int]string{},
		objects: []string{
			strings.Replace(font, "Widths[]", "Widths["+widths+"]", 1),
			"<</Type/FontDescriptor/FontName/AAAAAA+Test/Ascent 700/Descent -200/FontFile2 103 0 R>>",
			stream("", "a program"),
		},
	}
}

func stream(dict, content string) string {
	return fmt.Sprintf("<<%s/Length %d>>\nstream\n%s\nendstream", dict, len(content), content)
}

// write makes the file: object 1 is the catalog, 2 the tree of pages, 3 the
// information, then a page and its content in turn.
func (p *plan) write() []byte {
	var b bytes.Buffer
	offsets := map[int]int{}
	object := func(n int, text string) {
		offsets[n] = b.Len()
		fmt.Fprintf(&b, "%d 0 obj\n%s\nendobj\n", n, text)
	}
	fmt.Fprintf(&b, "%%PDF-%s\n%%\xe2\xe3\xcf\xd3\n", p.version)
	object(1, "<</Type/Catalog/Pages 2 0 R"+p.catalog+">>")
	var kids []string
	for i := range p.pages {
		n := 4 + 2*i
		kids = append(kids, fmt.Sprintf("%d 0 R", n))
		content, found := p.contents[i]
		if !found {
			content = p.content
		}
		boxes := "/MediaBox[" + p.box + "]"
		if p.trim != "" {
			boxes += "/TrimBox[" + p.trim + "]"
		}
		if p.bleed != "" {
			boxes += "/BleedBox[" + p.bleed + "]"
		}
		object(n, fmt.Sprintf("<</Type/Page/Parent 2 0 R%s/Resources<<%s>>/Contents %d 0 R%s%s>>", boxes, p.resources, n+1, p.page, p.own[i]))
		object(n+1, stream("", content))
	}
	object(2, fmt.Sprintf("<</Type/Pages/Count %d/Kids[%s]>>", p.pages, strings.Join(kids, " ")))
	object(3, "<<"+p.info+">>")
	for i, o := range p.objects {
		object(101+i, o)
	}
	numbers := []int{}
	for n := range offsets {
		numbers = append(numbers, n)
	}
	slices.Sort(numbers)
	start := b.Len()
	b.WriteString("xref\n0 1\n0000000000 65535 f \n")
	for _, n := range numbers {
		fmt.Fprintf(&b, "%d 1\n%010d 00000 n \n", n, offsets[n])
	}
	fmt.Fprintf(&b, "trailer\n<</Size %d/Root 1 0 R/Info 3 0 R%s>>\nstartxref\n%d\n%%%%EOF\n", 101+len(p.objects), p.trailer, start)
	return b.Bytes()
}

// picture is a picture object of so many pixels a side.
func pictureOf(pixels int, more string) string {
	return stream(fmt.Sprintf("/Type/XObject/Subtype/Image/Width %d/Height %[1]d%s", pixels, more), "0")
}

var ordered = Limits{Trim: typeset.Size{Width: 5 * length.Inch, Height: 8 * length.Inch}, Bleed: length.Inch / 8, Safety: length.Inch / 4, Back: []typeset.BackStep{{Margin: length.Value{Length: length.Inch * 3 / 8}}},
	Least: 2, Most: 100, Multiple: 2, PPI: 300, LinePPI: 600, Type: 6 * length.Point, Line: length.Point / 4}

// planted are faults, the code that each must have, and where it is.
var planted = []struct {
	name  string
	spoil func(*plan)
	code  string
	page  int
}{
	{"an action on opening", func(p *plan) { p.catalog += "/OpenAction<</S/JavaScript/JS(app.beep\\(\\))>>" }, "scripts", 0},
	{"a script by name", func(p *plan) { p.catalog += "/Names<</JavaScript<</Names[]>>>>" }, "scripts", 0},
	{"an attachment", func(p *plan) { p.catalog += "/Names<</EmbeddedFiles<</Names[]>>>>" }, "attachments", 0},
	{"a form", func(p *plan) { p.catalog += "/AcroForm<</Fields[101 0 R]>>" }, "form", 0},
	{"layers", func(p *plan) { p.catalog += "/OCProperties<</OCGs[101 0 R]/D<<>>>>" }, "layers", 0},
	{"too many pages", func(p *plan) { p.pages = 40; p.own = nil }, "pages-many", 0},
	{"an odd page", func(p *plan) { p.pages = 5 }, "pages-multiple", 0},
	{"blank pages inside", func(p *plan) { p.pages = 8; p.contents = map[int]string{2: "", 3: "", 4: ""} }, "pages-blank", 3},
	{"no claim", func(p *plan) { p.info = strings.Replace(p.info, "PDF/X-1a:2003", "", 1) }, "standard-none", 0},
	{"a later version", func(p *plan) { p.version = "1.6" }, "standard-version", 0},
	{"no output intent", func(p *plan) { p.catalog = "" }, "standard-intent", 0},
	{"an intent for something else", func(p *plan) { p.catalog = strings.Replace(p.catalog, "GTS_PDFX", "GTS_PDFA1", 1) }, "standard-intent", 0},
	{"an intent without registry", func(p *plan) { p.catalog = strings.Replace(p.catalog, "/RegistryName(http://www.color.org)", "", 1) }, "standard-intent", 0},
	{"no date of change", func(p *plan) { p.info = strings.Replace(p.info, "/ModDate(D:20260503)", "", 1) }, "standard-dates", 0},
	{"no title", func(p *plan) { p.info = strings.Replace(p.info, "/Title(Low Water)", "", 1) }, "standard-title", 0},
	{"trapped unknown", func(p *plan) { p.info = strings.Replace(p.info, "/Trapped/False", "/Trapped/Unknown", 1) }, "standard-trapped", 0},
	{"no identifier", func(p *plan) { p.trailer = "" }, "standard-identifier", 0},
	{"LZW", func(p *plan) {
		p.objects = append(p.objects, stream("/Filter/LZWDecode", "\x80\x0b\x60\x50\x22\x0c\x0c\x85\x01"))
	}, "standard-packing", 0},
	{"another title in the metadata", func(p *plan) {
		p.catalog += "/Metadata 104 0 R"
		p.objects = append(p.objects, stream("/Type/Metadata/Subtype/XML", `<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#"><rdf:Description xmlns:dc="http://purl.org/dc/elements/1.1/"><dc:title><rdf:Alt><rdf:li>High Water</rdf:li></rdf:Alt></dc:title></rdf:Description></rdf:RDF></x:xmpmeta>`))
	}, "standard-metadata", 0},
	{"another trim", func(p *plan) { p.box, p.bleed, p.trim = "0 0 414 666", "0 0 414 666", "9 9 405 657" }, "trim-differs", 1},
	{"no trim box", func(p *plan) { p.trim, p.bleed = "", "" }, "trim-unsaid", 1},
	{"a bleed inside the trim", func(p *plan) { p.bleed = "20 20 360 570" }, "boxes-crossed", 1},
	{"a turned page", func(p *plan) { p.own[2] = "/Rotate 90" }, "page-turned", 3},
	{"a unit of its own", func(p *plan) { p.own[1] = "/UserUnit 2" }, "page-scaled", 2},
	{"a note", func(p *plan) { p.own[3] = "/Annots[<</Type/Annot/Subtype/Text/Rect[100 100 120 120]>>]" }, "notes-on-page", 4},
	{"a link", func(p *plan) { p.own[0] = "/Annots[<</Type/Annot/Subtype/Link/Rect[100 100 120 120]>>]" }, "notes-on-page", 1},
	{"a colour to the edge without bleed", func(p *plan) {
		p.box, p.bleed, p.trim = "0 0 360 576", "", "0 0 360 576"
		p.contents[1] = "0.5 g 0 0 360 200 re f"
	}, "bleed-missing", 2},
	{"a picture that stops at the trim", func(p *plan) {
		p.resources += "/XObject<</I 104 0 R>>"
		p.objects = append(p.objects, pictureOf(2000, "/BitsPerComponent 8/ColorSpace/DeviceGray"))
		p.contents[0] = "q 200 0 0 200 169 100 cm /I Do Q"
	}, "bleed-missing", 1},
	{"a narrow bleed", func(p *plan) {
		p.box, p.bleed, p.trim = "0 0 364 580", "", "2 2 362 578"
		p.contents[2] = "0.5 g 100 0 264 100 re f"
	}, "bleed-narrow", 3},
	{"text over the edge", func(p *plan) { p.contents[1] = "BT /F1 11 Tf 350 300 Td (Low water) Tj ET" }, "text-cut", 2},
	{"text in a form over the edge", func(p *plan) {
		p.resources += "/XObject<</X 104 0 R>>"
		p.objects = append(p.objects, stream("/Type/XObject/Subtype/Form/BBox[0 0 400 100]/Matrix[1 0 0 1 300 0]/Resources<</Font<</F1 101 0 R>>>>", "BT /F1 11 Tf 40 50 Td (Low water) Tj ET"))
		p.contents[1] = "/X Do"
	}, "text-cut", 2},
	{"a folio in the safety", func(p *plan) { p.contents[3] = "BT /F1 9 Tf 180 18 Td (4) Tj ET" }, "text-in-safety", 4},
	{"text near the fore-edge", func(p *plan) {
		p.contents[0] = "BT /F1 11 Tf [(Low)-20000(water)] TJ ET BT /F1 11 Tf 340 300 Td (Low) Tj ET"
	}, "text-in-safety", 1},
	{"text near the back of a verso", func(p *plan) { p.contents[1] = "BT /F1 11 Tf 332 300 Td (Low) Tj ET" }, "text-in-back", 2},
	{"a line near the edge", func(p *plan) { p.contents[1] = "1 w 14 100 m 14 200 l S" }, "ink-in-safety", 2},
	{"a face that is not there", func(p *plan) { p.objects[1] = strings.Replace(p.objects[1], "/FontFile2 103 0 R", "", 1) }, "font-missing", 1},
	{"a standard face", func(p *plan) { p.objects[0] = "<</Type/Font/Subtype/Type1/BaseFont/Helvetica>>" }, "font-missing", 1},
	{"a drawn face", func(p *plan) {
		p.objects[0] = "<</Type/Font/Subtype/Type3/FontBBox[0 0 1 1]/FontMatrix[1 0 0 1 0 0]/CharProcs<<>>/Encoding<<>>/FirstChar 32/LastChar 126/Widths[" + strings.Repeat("0.5 ", 95) + "]>>"
	}, "font-drawn", 1},
	{"glyphs without letters", func(p *plan) {
		p.objects[0] = "<</Type/Font/Subtype/Type0/BaseFont/AAAAAA+Test/Encoding/Identity-H/DescendantFonts[<</Type/Font/Subtype/CIDFontType2/FontDescriptor 102 0 R/DW 500>>]>>"
	}, "font-unmapped", 1},
	{"small type", func(p *plan) { p.contents[2] = "q .5 0 0 .5 0 0 cm BT /F1 9 Tf 200 600 Td (Low) Tj ET Q" }, "type-small", 3},
	{"a hairline", func(p *plan) { p.contents[2] = "0 w 100 100 m 200 100 l S" }, "line-thin", 3},
	{"a hairline that is filled", func(p *plan) { p.contents[2] = "100 100 100 0.1 re f" }, "line-thin", 3},
	{"RGB text", func(p *plan) { p.contents[0] = "0 0 0 rg " + p.content }, "colour-rgb", 1},
	{"an RGB picture", func(p *plan) {
		p.resources += "/XObject<</I 104 0 R>>"
		p.objects = append(p.objects, pictureOf(900, "/BitsPerComponent 8/ColorSpace/DeviceRGB"))
		p.contents[0] = "q 200 0 0 200 80 100 cm /I Do Q"
	}, "colour-rgb", 1},
	{"an RGB palette", func(p *plan) {
		p.resources += "/XObject<</I 104 0 R>>"
		p.objects = append(p.objects, pictureOf(900, "/BitsPerComponent 8/ColorSpace[/Indexed/DeviceRGB 1<000000FFFFFF>]"))
		p.contents[0] = "q 200 0 0 200 80 100 cm /I Do Q"
	}, "colour-rgb", 1},
	{"an RGB picture in the content", func(p *plan) {
		p.contents[1] = "q 3 0 0 3 80 100 cm BI /W 20 /H 20 /BPC 8 /CS /RGB ID \x00\x01EIEI\x02 EI Q"
	}, "colour-rgb", 2},
	{"a managed colour", func(p *plan) {
		p.resources += "/ColorSpace<</C[/Lab<</WhitePoint[1 1 1]>>]>>"
		p.contents[1] = "/C cs 20 20 20 sc 100 100 50 50 re f"
	}, "colour-managed", 2},
	{"a spot colour", func(p *plan) {
		p.resources += "/ColorSpace<</C[/Separation/Brass/DeviceCMYK 101 0 R]>>"
		p.contents[1] = "/C cs 1 scn 100 100 50 50 re f"
	}, "colour-spot", 2},
	{"rich black", func(p *plan) { p.contents[1] = "0.6 0.4 0.4 1 k " + p.content }, "black-rich", 2},
	{"heavy ink", func(p *plan) { p.contents[1] = "0.9 0.9 0.9 0.9 k 100 100 50 50 re f" }, "ink-heavy", 2},
	{"something half transparent", func(p *plan) {
		p.resources += "/ExtGState<</G<</ca 0.5>>>>"
		p.contents[1] = "/G gs " + p.content
	}, "transparency", 2},
	{"colours that multiply", func(p *plan) {
		p.resources += "/ExtGState<</G<</BM[/Multiply]>>>>"
		p.contents[1] = "/G gs " + p.content
	}, "transparency", 2},
	{"a picture with a mask", func(p *plan) {
		p.resources += "/XObject<</I 104 0 R>>"
		p.objects = append(p.objects, pictureOf(900, "/BitsPerComponent 8/ColorSpace/DeviceGray/SMask 105 0 R"), pictureOf(900, "/BitsPerComponent 8/ColorSpace/DeviceGray"))
		p.contents[0] = "q 200 0 0 200 80 100 cm /I Do Q"
	}, "transparency", 1},
	{"a group", func(p *plan) { p.own[0] = "/Group<</S/Transparency/CS/DeviceGray>>" }, "transparency-group", 1},
	{"a coarse picture", func(p *plan) {
		p.resources += "/XObject<</I 104 0 R>>"
		p.objects = append(p.objects, pictureOf(600, "/BitsPerComponent 8/ColorSpace/DeviceGray"))
		p.contents[0] = "q 200 0 0 200 80 100 cm /I Do Q"
	}, "picture-coarse", 1},
	{"a poor picture", func(p *plan) {
		p.resources += "/XObject<</I 104 0 R>>"
		p.objects = append(p.objects, pictureOf(200, "/BitsPerComponent 8/ColorSpace/DeviceGray"))
		p.contents[0] = "q 0 200 -200 0 280 100 cm /I Do Q"
	}, "picture-poor", 1},
	{"coarse line art", func(p *plan) {
		p.resources += "/XObject<</I 104 0 R>>"
		p.objects = append(p.objects, pictureOf(1000, "/BitsPerComponent 1/ImageMask true"))
		p.contents[0] = "q 200 0 0 200 80 100 cm /I Do Q"
	}, "picture-coarse", 1},
	{"content that breaks off", func(p *plan) { p.contents[1] = p.content + " BT (Low wa" }, "content-damaged", 2},
	{"a form in itself", func(p *plan) {
		p.resources += "/XObject<</X 104 0 R>>"
		p.objects = append(p.objects, stream("/Type/XObject/Subtype/Form/BBox[0 0 400 100]/Resources<</XObject<</X 104 0 R>>>>", "/X Do"))
		p.contents[1] = p.content + " /X Do"
	}, "content-damaged", 2},
}

func check(t testing.TB, file []byte, l Limits) *Report {
	t.Helper()
	r, err := Check(context.Background(), bytes.NewReader(file), l)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func TestCleanFileHasNoFindings(t *testing.T) {
	p := clean()
	// What is no fault: a picture past the trim, white to the edge, gray by a
	// profile of gray, a link to a place beside the page, a destination.
	p.resources += "/XObject<</I 104 0 R>>/ColorSpace<</C[/ICCBased 105 0 R]>>"
	p.objects = append(p.objects, pictureOf(2000, "/BitsPerComponent 8/ColorSpace/DeviceGray"), stream("/N 1", "profile"))
	p.contents[0] = p.content + " q 400 0 0 210 -10 -5 cm /I Do Q 1 g 0 0 378 594 re f /C cs 0 sc " + p.content
	p.catalog += "/OpenAction[4 0 R/Fit]"
	p.own[1] = "/Annots[<</Subtype/Link/Rect[-50 -50 -10 -10]>>]"
	if r := check(t, p.write(), ordered); len(r.Findings) > 0 || len(r.Pages) != 4 || r.Standard != "PDF/X-1a:2003" {
		t.Errorf("%+v", r)
	}
}

func TestPlantedFaults(t *testing.T) {
	found := make(map[string]bool)
	for _, f := range planted {
		p := clean()
		f.spoil(p)
		l := ordered
		if f.code == "pages-many" {
			l.Most = 30
		}
		r := check(t, p.write(), l)
		hit := false
		for _, got := range r.Findings {
			if got.Code == f.code && got.Page == f.page {
				hit = true
			} else if got.Severity == Stops && got.Code != f.code {
				t.Errorf("%s: it stops by %s on page %d: %s", f.name, got.Code, got.Page, got.What)
			}
		}
		found[f.code] = true
		if !hit {
			t.Errorf("%s: no %s on page %d in %+v", f.name, f.code, f.page, r.Findings)
		}
	}
	few := ordered
	few.Least = 24
	for code, l := range map[string]Limits{"pages-few": few} {
		found[code] = true
		if r := check(t, clean().write(), l); len(r.Findings) != 1 || r.Findings[0].Code != code {
			t.Errorf("%s: %+v", code, r.Findings)
		}
	}
	odd := clean()
	odd.pages = 5
	free := ordered
	free.Multiple = 0
	found["pages-odd"] = true
	if r := check(t, odd.write(), free); len(r.Findings) != 1 || r.Findings[0].Code != "pages-odd" {
		t.Errorf("pages-odd: %+v", r.Findings)
	}
	mixed := clean()
	mixed.own[2] = ""
	text := bytes.Replace(mixed.write(), []byte("/TrimBox[9 9 369 585]"), []byte("/TrimBox[9 9 349 585]"), 1)
	found["sizes-mixed"] = true
	if r := check(t, text, Limits{}); !slices.ContainsFunc(r.Findings, func(f Finding) bool { return f.Code == "sizes-mixed" && f.Page == 1 }) {
		t.Errorf("sizes-mixed: %+v", r.Findings)
	}
	none := clean()
	none.pages = 0
	found["pages-none"] = true
	if r := check(t, none.write(), Limits{}); len(r.Findings) == 0 || r.Findings[0].Code != "pages-none" {
		t.Errorf("pages-none: %+v", r.Findings)
	}
	found["damaged"] = true
	for _, junk := range []string{"", "a letter", "%PDF-1.4\n%%EOF"} {
		if r := check(t, []byte(junk), Limits{}); len(r.Findings) != 1 || r.Findings[0].Code != "damaged" {
			t.Errorf("%q: %+v", junk, r.Findings)
		}
	}
	// encrypted is in TestEncrypted, too-large in TestBombs.
	found["encrypted"], found["too-large"] = true, true
	for _, k := range Codes() {
		if !found[k.Name] {
			t.Errorf("no fault of the code %s is planted", k.Name)
		}
		if k.What == "" || k.Mend == "" || k.Clause == "" {
			t.Errorf("%s says nothing", k.Name)
		}
	}
}
