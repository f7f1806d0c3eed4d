package pdf

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

	"bodkin/markup/markuptest"
	"bodkin/typeset"
	"bodkin/typeset/internal/layouttest"
	"bodkin/typeset/length"
)

// TestPressFileSaysWhatItIs reads with pdfcpu what ISO 15930-4 asks of a file
// (the keys from memory), and that a file for reading claims nothing.
func TestPressFileSaysWhatItIs(t *testing.T) {
	l := set(t, sample, layouttest.Style{})
	l.Title = "Salt & Rope (α)"
	file := write(t, l, Options{Date: time.Date(2026, 5, 3, 12, 30, 15, 0, time.UTC)})
	if !bytes.HasPrefix(file, []byte("%PDF-1.4\n")) {
		t.Errorf("it begins with %q", file[:9])
	}
	ctx := open(t, file)
	info, err := ctx.DereferenceDict(*ctx.Info)
	if err != nil {
		t.Fatal(err)
	}
	for key, want := range map[string]string{
		"GTS_PDFXVersion": "(PDF/X-1a:2003)", "Trapped": "False",
		"CreationDate": "(D:20260503123015Z)", "ModDate": "(D:20260503123015Z)",
	} {
		if got := fmt.Sprint(info[key]); got != want {
			t.Errorf("%s is %s, want %s", key, got, want)
		}
	}
	if info["Title"] == nil || len(ctx.ID) != 2 {
		t.Errorf("title %v, identifier %v", info["Title"], ctx.ID)
	}
	root, err := ctx.Catalog()
	if err != nil {
		t.Fatal(err)
	}
	intents, err := ctx.DereferenceArray(root["OutputIntents"])
	if err != nil || len(intents) != 1 {
		t.Fatalf("output intents %v, %v", intents, err)
	}
	intent, err := ctx.DereferenceDict(intents[0])
	if err != nil {
		t.Fatal(err)
	}
	for key, want := range map[string]string{
		"S": "GTS_PDFX", "OutputConditionIdentifier": "(CGATS TR 001)", "RegistryName": "(http://www.color.org)",
	} {
		if got := fmt.Sprint(intent[key]); got != want {
			t.Errorf("the intent's %s is %s, want %s", key, got, want)
		}
	}
	if intent["Info"] == nil {
		t.Error("the intent has no Info, which one without a profile needs")
	}
	for name, o := range kinds {
		claims := bytes.Contains(write(t, l, o), []byte("GTS_PDFX"))
		if want := name == "press" || name == "colour" || name == "plain"; claims != want {
			t.Errorf("%s: it claims the standard: %v", name, claims)
		}
	}
}

// TestEveryPressFileHasTitleAndDate: the standard asks for both.
func TestEveryPressFileHasTitleAndDate(t *testing.T) {
	l := set(t, sample, layouttest.Style{})
	l.Title, l.Modified = "", time.Time{}
	out := markuptest.Tool(t, "pdfinfo", "-isodates", save(t, write(t, l, Options{})))
	for _, want := range []string{"Title:           Untitled\n", "CreationDate:    1970-01-01T", "Standard:      ISO 15930-4\n"} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
}

// TestMetadataAgreesWithInfo compares what the two say, as the XMP
// specification (ISO 16684-1) pairs their names.
func TestMetadataAgreesWithInfo(t *testing.T) {
	l := set(t, sample, layouttest.Style{})
	l.Title, l.Author, l.Language = `Salt & Rope <β> "x"`, "Ines Marrow", "en-GB"
	when := time.Date(2026, 5, 3, 12, 30, 15, 0, time.FixedZone("", 2*3600))
	file := write(t, l, Options{Date: when})
	ctx := open(t, file)
	root, err := ctx.Catalog()
	if err != nil {
		t.Fatal(err)
	}
	ref, ok := root["Metadata"].(types.IndirectRef)
	if !ok {
		t.Fatalf("the catalog's metadata is %v", root["Metadata"])
	}
	stream, _, err := ctx.DereferenceStreamDict(ref)
	if err != nil || stream.FilterPipeline != nil {
		t.Fatalf("the stream has filters %v, %v", stream.FilterPipeline, err)
	}
	var meta struct {
		Title       []string `xml:"RDF>Description>title>Alt>li"`
		Creator     []string `xml:"RDF>Description>creator>Seq>li"`
		Language    []string `xml:"RDF>Description>language>Bag>li"`
		CreateDate  string   `xml:"RDF>Description>CreateDate"`
		ModifyDate  string   `xml:"RDF>Description>ModifyDate"`
		CreatorTool string   `xml:"RDF>Description>CreatorTool"`
		Producer    string   `xml:"RDF>Description>Producer"`
		Trapped     string   `xml:"RDF>Description>Trapped"`
		Standard    string   `xml:"RDF>Description>GTS_PDFXVersion"`
	}
	if err := xml.Unmarshal(stream.Raw, &meta); err != nil {
		t.Fatalf("%v in\n%s", err, stream.Raw)
	}
	for what, pair := range map[string][2]string{
		"title":    {strings.Join(meta.Title, "|"), l.Title},
		"author":   {strings.Join(meta.Creator, "|"), l.Author},
		"language": {strings.Join(meta.Language, "|"), l.Language},
		"created":  {meta.CreateDate, "2026-05-03T12:30:15+02:00"},
		"modified": {meta.ModifyDate, "2026-05-03T12:30:15+02:00"},
		"tool":     {meta.CreatorTool, creator}, "producer": {meta.Producer, creator},
		"trapped": {meta.Trapped, "False"}, "standard": {meta.Standard, standard},
	} {
		if pair[0] != pair[1] {
			t.Errorf("%s is %q, want %q", what, pair[0], pair[1])
		}
	}
	out := markuptest.Tool(t, "pdfinfo", "-isodates", save(t, file))
	for _, want := range []string{"Title:           " + l.Title + "\n", "Author:          Ines Marrow\n", "Metadata Stream: yes\n", "CreationDate:    2026-05-03T12:30:15+02\n"} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
}

// TestInkIsBlackAlone has Ghostscript print the separations: gray pages have
// ink in black and in no other plate; pictures in colour have them all.
func TestInkIsBlackAlone(t *testing.T) {
	l := illustrated(t)
	sunset := image.NewRGBA(image.Rect(0, 0, 40, 40))
	draw.Draw(sunset, sunset.Rect, image.NewUniform(color.RGBA{R: 200, G: 90, B: 40, A: 255}), image.Point{}, draw.Src)
	layouttest.Show(l, 0, layouttest.Save(t, sunset), typeset.Box{X: 90 * length.Point, Y: 300 * length.Point, Width: 100 * length.Point, Height: 100 * length.Point})
	ink := func(o Options) [4]float64 {
		out := markuptest.Tool(t, "gs", "-q", "-dSAFER", "-dBATCH", "-dNOPAUSE", "-sDEVICE=inkcov", "-sOutputFile=-", save(t, write(t, l, o)))
		lines := regexp.MustCompile(`(?m)^ *([0-9.]+) +([0-9.]+) +([0-9.]+) +([0-9.]+) CMYK OK`).FindAllStringSubmatch(out, -1)
		if len(lines) != len(l.Pages) {
			t.Fatalf("%d of %d pages:\n%s", len(lines), len(l.Pages), out)
		}
		var sum [4]float64
		for _, line := range lines {
			for k := range sum {
				v, err := strconv.ParseFloat(line[k+1], 64)
				if err != nil {
					t.Fatal(err)
				}
				sum[k] += v
			}
		}
		return sum
	}
	if got := ink(Options{}); got[0]+got[1]+got[2] != 0 || got[3] == 0 {
		t.Errorf("cyan, magenta, yellow, black of gray pages: %v", got)
	}
	if got := ink(Options{Colour: true}); got[1] == 0 || got[2] == 0 || got[3] == 0 {
		t.Errorf("cyan, magenta, yellow, black of pages in colour: %v", got)
	}
}

// TestMostPPI has pdfimages measure pictures that were to be no finer than is
// asked, each at the widest that it is shown; black and white stays as it is.
func TestMostPPI(t *testing.T) {
	l := illustrated(t)
	resolutions := func(o Options) string {
		list := markuptest.Tool(t, "pdfimages", "-list", save(t, write(t, l, o)))
		var all []string
		for _, m := range regexp.MustCompile(`(?m)^ +(\d+) .* (\d+) +(\d+) +[0-9.]+[BKM] `).FindAllStringSubmatch(list, -1) {
			all = append(all, m[1]+":"+m[2]+"x"+m[3])
		}
		return strings.Join(all, " ")
	}
	as, finer := resolutions(Options{}), resolutions(Options{MostPPI: 5})
	if as == finer || len(strings.Fields(as)) != len(strings.Fields(finer)) {
		t.Fatalf("pictures of %s, and no finer than 5: %s", as, finer)
	}
	// That of the first page is shown wider on the fourth.
	for _, one := range strings.Fields(finer) {
		var page, x, y int
		if _, err := fmt.Sscanf(one, "%d:%dx%d", &page, &x, &y); err != nil || y > x+2 || x < 4 || x > 6 && page > 1 {
			t.Errorf("page %d has a picture of %d by %d pixels to the inch (%v)", page, x, y, err)
		}
	}
	if got := resolutions(Options{MostPPI: 5000}); got != as {
		t.Errorf("pictures that are coarse enough became %s, and were %s", got, as)
	}
}
