package preflight

import (
	"bytes"
	"compress/zlib"
	"context"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"bodkin/markup"
	"bodkin/markup/markuptest"
	"bodkin/typeset"
	"bodkin/typeset/internal/layouttest"
	"bodkin/typeset/length"
	"bodkin/typeset/pdf"
)

// proofs are files of ours: of a novel, in gray, with pictures, in colour.
func proofs(t testing.TB) map[string][]byte {
	files := make(map[string][]byte)
	write := func(name string, l *typeset.Layout, o pdf.Options) {
		var b bytes.Buffer
		o.Date = time.Date(2026, 5, 3, 0, 0, 0, 0, time.UTC)
		if err := pdf.Write(&b, l, o); err != nil {
			t.Fatal(err)
		}
		files[name] = b.Bytes()
	}
	book := func(src markup.Source) *typeset.Layout {
		b, err := markup.Load(context.Background(), src)
		if err != nil {
			t.Fatal(err)
		}
		l, err := typeset.Compose(context.Background(), b, typeset.Default(), typeset.Resources{})
		if err != nil {
			t.Fatal(err)
		}
		return l
	}
	write("novel", book(markuptest.TomSawyer(t).Source), pdf.Options{})
	write("treatise", book(markuptest.Opticks(t).Source), pdf.Options{})
	write("pictures", book(markup.Source{Dir: "../../testdata/night-ferry", Title: "The Night Ferry", Language: "en-US", Body: []string{"spreads/*.md"}}), pdf.Options{})
	l, err := layouttest.Set("It began in the office by the fjord.", layouttest.Style{})
	if err != nil {
		t.Fatal(err)
	}
	write("page", l, pdf.Options{})
	write("guides", l, pdf.Options{Guides: true, Reading: true})
	return files
}

// Our own files have nothing that stops them; pages with guides are in the
// colours of a screen, and say so.
func TestOurProofs(t *testing.T) {
	five := Limits{Trim: typeset.Size{Width: 5 * length.Inch, Height: 8 * length.Inch}, Bleed: length.Inch / 8, Safety: length.Inch / 4, Back: []typeset.BackStep{{Margin: length.Value{Length: length.Inch / 2}}},
		Multiple: 2, PPI: 300, LinePPI: 600, Type: 6 * length.Point, Line: length.Point / 4}
	for name, file := range proofs(t) {
		l := five
		if name == "page" {
			l.Multiple = 0
		}
		r := check(t, file, l)
		for _, f := range r.Findings {
			odd := name == "page" && f.Code == "pages-odd"
			if name == "guides" && (f.Code == "colour-rgb" || f.Code == "standard-none" || f.Code == "pages-multiple" || f.Code == "line-thin" || f.Code == "ink-in-safety") || odd {
				continue
			}
			t.Errorf("%s: %s on page %d: %s", name, f.Code, f.Page, f.What)
		}
		if name == "guides" && r.Ready() {
			t.Error("the colours of the guides are not found")
		}
	}
}

// TestOthersFiles looks at what general programs make of a page. Each is a
// sheet of Letter or A4 for an office, and none of them is a book's page.
func TestOthersFiles(t *testing.T) {
	dir := t.TempDir()
	path := func(name string) string { return filepath.Join(dir, name) }
	if err := os.WriteFile(path("a.html"), []byte("<html><body><h1 style='color:#c00'>Low water</h1><p>The clerk <a href='https://tides.example/'>wrote</a>.</p><div style='opacity:.5;background:#08f;width:80px;height:80px'></div></body></html>"), 0o666); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path("a.ps"), []byte("%!PS\n/Helvetica findfont 20 scalefont setfont 72 600 moveto (Low water) show 0.05 setlinewidth 72 500 moveto 300 500 lineto stroke showpage\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path("p.txt"), []byte("%%MediaBox 0 0 360 576\n%%Font F Times-Roman\nBT /F 12 Tf 72 400 Td (Low water) Tj ET\n1 0 0 rg 0 0 360 100 re f\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	red := image.NewRGBA(image.Rect(0, 0, 300, 480))
	draw.Draw(red, red.Rect, image.NewUniform(color.RGBA{R: 200, A: 255}), image.Point{}, draw.Src)
	var painted bytes.Buffer
	if err := png.Encode(&painted, red); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path("red.png"), painted.Bytes(), 0o666); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path("ours.pdf"), clean().write(), 0o666); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name string
		make []string
		want []string
	}{
		{"a browser", []string{"chromium", "--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer", "--print-to-pdf=" + path("out.pdf"), path("a.html")},
			[]string{"trim-differs", "colour-rgb", "transparency", "standard-none", "notes-on-page"}},
		{"a PostScript interpreter", []string{"gs", "-q", "-dBATCH", "-dNOPAUSE", "-dSAFER", "-sDEVICE=pdfwrite", "-sOutputFile=" + path("out.pdf"), path("a.ps")},
			[]string{"trim-differs", "line-thin", "trim-unsaid", "standard-none"}},
		{"a PDF toolkit", []string{"mutool", "create", "-o", path("out.pdf"), path("p.txt")}, []string{"colour-rgb", "bleed-missing", "font-missing"}},
		{"a graphics library", []string{"pdftocairo", "-pdf", path("ours.pdf"), path("out.pdf")}, []string{"standard-none"}},
		{"a picture", []string{"mutool", "convert", "-o", path("out.pdf"), path("red.png")}, []string{"colour-rgb", "picture-poor", "bleed-missing", "standard-none"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			os.Remove(path("out.pdf"))
			markuptest.Tool(t, c.make[0], c.make[1:]...)
			file, err := os.ReadFile(path("out.pdf"))
			if err != nil {
				t.Fatal(err)
			}
			r := check(t, file, ordered)
			for _, want := range c.want {
				if !slices.ContainsFunc(r.Findings, func(f Finding) bool { return f.Code == want }) {
					t.Errorf("no %s in %+v", want, r.Findings)
				}
			}
			if slices.ContainsFunc(r.Findings, func(f Finding) bool { return f.Code == "damaged" || f.Code == "content-damaged" }) {
				t.Errorf("it is taken for damaged: %+v", r.Findings)
			}
		})
	}
}

// A password is found, whether or not one is needed to read; and what qpdf
// writes anew, in streams of objects, is read as before.
func TestEncrypted(t *testing.T) {
	dir := t.TempDir()
	in, out := filepath.Join(dir, "in.pdf"), filepath.Join(dir, "out.pdf")
	if err := os.WriteFile(in, clean().write(), 0o666); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{
		{"--encrypt", "", "owner", "256", "--", in, out}, {"--encrypt", "user", "owner", "256", "--", in, out},
		{"--encrypt", "", "owner", "128", "--use-aes=y", "--", in, out},
	} {
		markuptest.Tool(t, "qpdf", args...)
		file, err := os.ReadFile(out)
		if err != nil {
			t.Fatal(err)
		}
		if r := check(t, file, Limits{}); r.Ready() || r.Findings[0].Code != "encrypted" {
			t.Errorf("%v: %+v", args[:3], r.Findings)
		}
	}
	markuptest.Tool(t, "qpdf", "--object-streams=generate", in, out)
	file, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	r := check(t, file, ordered)
	if len(r.Findings) != 1 || r.Findings[0].Code != "standard-version" { // object streams came with PDF 1.5
		t.Errorf("written anew: %+v", r.Findings)
	}
}

// Files that are made to do harm end in a finding, soon.
func TestBombs(t *testing.T) {
	for name, spoil := range map[string]func(*plan){
		"an endless loop of forms": func(p *plan) {
			p.resources += "/XObject<</X 104 0 R>>"
			p.objects = append(p.objects, stream("/Type/XObject/Subtype/Form/BBox[0 0 1 1]/Resources<</XObject<</X 104 0 R>>>>", strings.Repeat("/X Do ", 50)))
			p.contents[0] = strings.Repeat("/X Do ", 50)
		},
		"a tower of forms": func(p *plan) {
			all := ""
			for i := range 9 {
				all += fmt.Sprintf("/X%d %d 0 R", i, 104+i)
			}
			p.resources += "/XObject<<" + all + ">>"
			for i := range 9 {
				p.objects = append(p.objects, stream("/Type/XObject/Subtype/Form/BBox[0 0 1 1]/Resources<</XObject<<"+all+">>>>", strings.Repeat(fmt.Sprintf("/X%d Do ", min(i+1, 8)), 40)))
			}
			p.contents[0] = "/X0 Do"
		},
		"brackets":  func(p *plan) { p.contents[0] = strings.Repeat("[", 1_000_000) },
		"states":    func(p *plan) { p.contents[0] = strings.Repeat("q ", 1_000_000) },
		"page tree": func(p *plan) { p.catalog += "/Pages 1 0 R" },
		"huge number": func(p *plan) {
			p.contents[0] = "1e308 0 0 1e308 0 0 cm 1e308 1e308 m 1e308 1e308 l S BT /F1 1e308 Tf (a) Tj ET"
		},
		"huge box": func(p *plan) { p.box = "0 0 99999999999999999999 1e40" },
		"zeros without end": func(p *plan) {
			var packed bytes.Buffer
			z := zlib.NewWriter(&packed)
			for range 300 {
				z.Write(make([]byte, 1<<20)) // to memory: no error
			}
			z.Close()
			p.resources += "/XObject<</X 104 0 R>>"
			p.objects = append(p.objects, stream("/Type/XObject/Subtype/Form/BBox[0 0 1 1]/Filter/FlateDecode", packed.String()))
			p.contents[0] = "/X Do"
		},
		"xref": func(p *plan) { p.trailer += "/Prev 9" },
	} {
		begun := time.Now()
		r := check(t, func() []byte { p := clean(); spoil(p); return p.write() }(), ordered)
		if took := time.Since(begun); took > 5*time.Second {
			t.Errorf("%s: it took %v", name, took)
		}
		if harmless := name == "huge number" || name == "xref" || name == "page tree"; r.Ready() && !harmless {
			t.Errorf("%s: nothing stops it: %+v", name, r.Findings)
		}
	}
	tower := clean()
	tower.pages = 1
	all := "/X 104 0 R/Y 105 0 R/Z 106 0 R"
	for range 3 {
		tower.objects = append(tower.objects, stream("/Type/XObject/Subtype/Form/BBox[0 0 1 1]/Resources<</XObject<<"+all+">>>>", strings.Repeat("0 0 m ", 200_000)+"/X Do /Y Do /Z Do"))
	}
	tower.resources += "/XObject<<" + all + ">>"
	tower.contents[0] = "/X Do"
	if r := check(t, tower.write(), Limits{}); r.Ready() {
		t.Errorf("a tower of forms passes: %+v", r.Findings)
	}
}

// Whatever becomes of a file on its way, it ends in findings or passes, soon
// and in bounded memory.
func TestMutations(t *testing.T) {
	seeds := [][]byte{clean().write()}
	ours := proofs(t)
	seeds = append(seeds, ours["page"], ours["guides"], ours["pictures"])
	for _, f := range planted[:20] {
		p := clean()
		f.spoil(p)
		seeds = append(seeds, p.write())
	}
	r := rand.New(rand.NewPCG(7, 15930))
	const mutations = 1500
	longest, peak := time.Duration(0), uint64(0)
	for n := range mutations {
		file := mutate(r, seeds[n%len(seeds)])
		if n%50 == 0 {
			file = mutate(r, ours["novel"])
		}
		begun := time.Now()
		if _, err := Check(context.Background(), bytes.NewReader(file), ordered); err != nil {
			t.Fatalf("mutation %d: %v", n, err)
		}
		longest = max(longest, time.Since(begun))
		if n%100 == 0 {
			var m runtime.MemStats
			runtime.ReadMemStats(&m)
			peak = max(peak, m.HeapSys)
		}
	}
	t.Logf("%d mutations, the longest took %v; heap %d MB", mutations, longest, peak>>20)
	if longest > 5*time.Second || peak > 512<<20 {
		t.Errorf("the longest took %v; heap %d MB", longest, peak>>20)
	}
}

// mutate spoils a file in one of the ways in which files are spoiled.
func mutate(r *rand.Rand, file []byte) []byte {
	b := bytes.Clone(file)
	for range 1 + r.IntN(4) {
		if len(b) < 10 {
			break
		}
		at := r.IntN(len(b))
		switch r.IntN(7) {
		case 0:
			b = b[:at]
		case 1:
			b[at] ^= 1 << r.IntN(8)
		case 2: // a number
			if i := bytes.IndexAny(b[at:], "0123456789"); i >= 0 {
				b[at+i] = "0123456789-."[r.IntN(12)]
			}
		case 3: // a longer one
			b = slices.Insert(b, at, []byte("99999999999")[:1+r.IntN(10)]...)
		case 4: // a piece twice
			end := min(len(b), at+1+r.IntN(200))
			b = slices.Insert(b, at, bytes.Clone(b[at:end])...)
		case 5:
			b = slices.Delete(b, at, min(len(b), at+1+r.IntN(60)))
		case 6: // one word for another
			words := []string{"/Kids", "/Parent", "/Length", "obj", "endobj", "stream", "xref", "<<", ">>", "[", "0 R", "/Contents", "/Filter/FlateDecode"}
			b = bytes.Replace(b, []byte(words[r.IntN(len(words))]), []byte(words[r.IntN(len(words))]), 1)
		}
	}
	return b
}

func TestStops(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Check(ctx, bytes.NewReader(clean().write()), ordered); !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: %v", err)
	}
}

func FuzzCheck(f *testing.F) {
	f.Add(clean().write())
	for _, one := range planted {
		p := clean()
		one.spoil(p)
		f.Add(p.write())
	}
	f.Fuzz(func(t *testing.T, file []byte) {
		if _, err := Check(context.Background(), bytes.NewReader(file), ordered); err != nil {
			t.Fatal(err)
		}
	})
}

func FuzzContent(f *testing.F) {
	for _, one := range planted {
		p := clean()
		one.spoil(p)
		f.Add(p.content)
		for _, c := range p.contents {
			f.Add(c)
		}
	}
	f.Add("BI /W 1 ID x EI <61 6> Tj [(a\\(b)\\053 -1e3 << /A [/B] >>] TJ %")
	f.Fuzz(func(t *testing.T, content string) {
		p := clean()
		p.pages = 2
		p.contents[0] = content
		check(t, p.write(), ordered)
	})
}

// The novel, as one file.
func BenchmarkCheck(b *testing.B) {
	file := proofs(b)["novel"]
	b.SetBytes(int64(len(file)))
	for b.Loop() {
		check(b, file, ordered)
	}
}
