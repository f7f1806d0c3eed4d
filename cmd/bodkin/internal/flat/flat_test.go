package flat

import (
	"bytes"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"bodkin/cmd/bodkin/internal/edition"
	"bodkin/typeset"
	"bodkin/typeset/length"

	"github.com/pdfcpu/pdfcpu/pkg/api"
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/model"
)

// cover lays out a cover by the terms of an invented printer.
func cover(t testing.TB, terms, trim string, pages int, binding string) (edition.Flat, length.Unit) {
	t.Helper()
	var read *edition.Terms
	if terms != "" {
		var err error
		if read, err = edition.Load(terms); err != nil {
			t.Fatal(err)
		}
	}
	size, err := typeset.ParseTrim(trim)
	if err != nil {
		t.Fatal(err)
	}
	c, err := read.Copy(size, pages, edition.Choice{Binding: binding})
	if err != nil {
		t.Fatal(err)
	}
	return c.Flat, size.Width.Unit
}

func draw(t testing.TB, f edition.Flat, u length.Unit) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, f, Labels{Title: "The Tide Clerk", Copy: "102 pages on cream", Unit: u, Date: time.Unix(1e9, 0).UTC()}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

const (
	inches      = "../../../../testdata/tide-clerk/printer.toml"
	millimetres = "../edition/testdata/pounds.toml"
)

var covers = []struct {
	name, terms, trim string
	pages             int
	binding           string
	width, height     string // of the finished cover, reckoned by hand
}{
	// 5 + 5, and 444 pages: 222 leaves of 0.128 mm (1.1187 in) and two cards of 0.011 in.
	{"a paperback in inches", inches, "5x8in", 444, edition.Perfect, "11.14076in", "8in"},
	// 129 + 129, 23.04 of paper and two cards of 0.28.
	{"a paperback in millimetres", millimetres, "B-format", 320, edition.Perfect, "281.6mm", "198mm"},
	// Boards of 126 × 204, joints of 9, wraps of 15, 28.04 of spine; cut at the wrap.
	{"a hardcover in millimetres", millimetres, "B-format", 320, edition.Case, "328.04mm", "234mm"},
	// No terms: 200 leaves of 0.128 mm.
	{"on supposed paper", "", "A5", 400, edition.Perfect, "321.6mm", "210mm"},
}

// What another reader finds in the file is what was reckoned.
func TestDimensionsReadBack(t *testing.T) {
	for _, c := range covers {
		f, u := cover(t, c.terms, c.trim, c.pages, c.binding)
		file := draw(t, f, u)
		ctx, err := api.ReadAndValidate(bytes.NewReader(file), model.NewDefaultConfiguration())
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		all, err := ctx.PageBoundaries(nil)
		if err != nil || len(all) != 1 {
			t.Fatalf("%s: %d pages (%v)", c.name, len(all), err)
		}
		width, height := points(t, c.width), points(t, c.height)
		trim := all[0].TrimBox()
		if math.Abs(trim.Width()-width) > 0.011 || math.Abs(trim.Height()-height) > 0.011 {
			t.Errorf("%s: the TrimBox is %.3f × %.3f pt, want %.3f × %.3f", c.name, trim.Width(), trim.Height(), width, height)
		}
		wantTrim, wantBleed, _ := Boxes(f)
		around := 0.0
		if c.binding != edition.Case {
			around = 2 * f.Around.Points()
		}
		bleed := all[0].BleedBox()
		if math.Abs(bleed.Width()-width-around) > 0.011 || math.Abs(bleed.Height()-height-around) > 0.011 {
			t.Errorf("%s: the BleedBox is %.3f × %.3f pt, want %.3f more than the trim", c.name, bleed.Width(), bleed.Height(), around)
		}
		if math.Abs(trim.Width()-wantTrim.Width.Points()) > 0.011 || math.Abs(bleed.Width()-wantBleed.Width.Points()) > 0.011 {
			t.Errorf("%s: the boxes are not those of Boxes", c.name)
		}
	}
}

func points(t testing.TB, s string) float64 {
	t.Helper()
	v, err := length.Parse(s)
	if err != nil {
		t.Fatal(err)
	}
	return v.Length.Points()
}

// The folds that are drawn stand as far apart as the spine is wide.
func TestFoldsAreDrawnAtTheSpine(t *testing.T) {
	f, u := cover(t, millimetres, "B-format", 320, edition.Perfect)
	page := string(decoded(t, draw(t, f, u)))
	// A fold: an upright line over the whole height and beyond, x the same at both ends.
	upright := regexp.MustCompile(`(?m)^([0-9.]+) ([0-9.]+) m ([0-9.]+) ([0-9.]+) l S`)
	var at []float64
	for _, m := range upright.FindAllStringSubmatch(page, -1) {
		x, from, to := parse(t, m[1]), parse(t, m[2]), parse(t, m[4])
		if m[1] == m[3] && math.Abs(from-to) > f.Height.Points() {
			at = append(at, x)
		}
	}
	if len(at) != 2 || math.Abs(at[1]-at[0]-f.Spine.Points()) > 0.011 {
		t.Errorf("folds at %v, want two that are %.3f pt apart", at, f.Spine.Points())
	}
}

func parse(t testing.TB, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// decoded returns the content of the first page, as pdfcpu reads it.
func decoded(t testing.TB, file []byte) []byte {
	t.Helper()
	var text []byte
	err := api.ExtractContent(bytes.NewReader(file), nil, func(r io.Reader, _ int) (err error) {
		text, err = io.ReadAll(r)
		return err
	}, model.NewDefaultConfiguration())
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// All that is drawn is on the layer and in the spot colour (ISO 32000-1, 8.11
// and 8.6.6.4), so that a designer can drop it.
func TestEverythingIsOnTheLayer(t *testing.T) {
	f, u := cover(t, inches, "5x8in", 102, edition.Perfect)
	file := draw(t, f, u)
	if !bytes.Contains(file, []byte("/OCProperties")) || !bytes.Contains(file, []byte("/Separation /Template")) {
		t.Error("the file has no layer or no spot colour")
	}
	page := string(decoded(t, file))
	begin, end := strings.Index(page, "/OC /OC0 BDC"), strings.LastIndex(page, "EMC")
	if begin < 0 || end < begin {
		t.Fatal("nothing stands on the layer")
	}
	paint := regexp.MustCompile(`(?m)(^|\s)(f|S|B|re f|re S)$`)
	if paint.MatchString(page[:begin]) || paint.MatchString(page[end:]) {
		t.Error("something is painted outside the layer")
	}
	if regexp.MustCompile(`(?m)\s(rg|RG|k|K)\s*$`).MatchString(page[begin:end]) {
		t.Error("something is painted in another colour")
	}
	if bytes.Contains(file, []byte("/Type /Font\n")) {
		t.Error("the file wants a font")
	}
}

func TestSameInSameOut(t *testing.T) {
	f, u := cover(t, inches, "5x8in", 102, edition.Case)
	if !bytes.Equal(draw(t, f, u), draw(t, f, u)) {
		t.Error("two drawings of one cover differ")
	}
}

// A check by another program's eyes: on a picture of the page, the spine's
// tint is as wide as the spine.
func TestSpineMeasuresTrueOnAPicture(t *testing.T) {
	program, err := exec.LookPath("pdftoppm")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal(err)
		}
		t.Skip("pdftoppm is not installed")
	}
	f, u := cover(t, millimetres, "B-format", 320, edition.Perfect)
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "flat.pdf"), draw(t, f, u), 0o666); err != nil {
		t.Fatal(err)
	}
	const dpi = 144
	command := exec.Command(program, "-r", strconv.Itoa(dpi), "-gray", "flat.pdf", "flat")
	command.Dir = dir
	if out, err := command.CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	names, err := filepath.Glob(filepath.Join(dir, "*.pgm"))
	if err != nil || len(names) != 1 {
		t.Fatalf("%v (%v)", names, err)
	}
	width, pixels := readGray(t, names[0])
	// A row two inches below the head of the cover, where nothing is written.
	_, bleed, _ := Boxes(f)
	row := int((bleed.Y + 2*length.Inch).Points() * dpi / 72)
	left, right := -1, 0
	for x := range width {
		at := float64(x) * 72 / dpi
		near := at > (bleed.X+f.Around+length.Inch).Points() && at < (bleed.X+f.Width-f.Around-length.Inch).Points()
		if v := pixels[row*width+x]; near && v < 250 && v > 180 { // the tint, not a line
			if left < 0 {
				left = x
			}
			right = x
		}
	}
	want := f.Spine.Points() * dpi / 72
	if got := float64(right - left + 1); math.Abs(got-want) > 4 {
		t.Errorf("the spine is %v pixels wide, want %.1f", got, want)
	}
}

// readGray reads a binary PGM.
func readGray(t testing.TB, path string) (width int, pixels []byte) {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	head := regexp.MustCompile(`^P5\s+(\d+)\s+(\d+)\s+255\s`).FindSubmatch(data)
	if head == nil {
		t.Fatalf("%s is no PGM", path)
	}
	return int(parse(t, string(head[1]))), data[len(head[0]):]
}

func TestBarcodeStandsOnTheBack(t *testing.T) {
	for _, c := range covers {
		f, _ := cover(t, c.terms, c.trim, c.pages, c.binding)
		b := Barcode(f)
		if b.Width != length.Inch*7/4 || b.X < f.Around+f.Safety || b.X+b.Width > f.Around+f.Panel.Width-f.Safety || b.Y+b.Height > f.Height-f.Around-f.Safety {
			t.Errorf("%s: the barcode stands at %+v", c.name, b)
		}
	}
	if b := Barcode(edition.Flat{Panel: typeset.Size{Width: 2 * length.Inch, Height: 3 * length.Inch}}); b != (typeset.Box{}) {
		t.Errorf("a back without room has a barcode at %+v", b)
	}
}
