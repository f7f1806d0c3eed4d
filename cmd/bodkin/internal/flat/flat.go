package flat

import (
	"bytes"
	"fmt"
	"io"
	"regexp"
	"time"

	"bodkin/cmd/bodkin/internal/edition"
	"bodkin/fonts"
	"bodkin/typeset"
	"bodkin/typeset/length"

	"github.com/go-pdf/fpdf"
)

// Name is that of the layer and of the spot colour.
const Name = "Template"

// The spot colour's stand-in, and the tints of it that are used.
const (
	cyan, magenta, yellow, black = 90, 45, 25, 10

	full  byte = 100 // lines and words
	calm  byte = 60  // small words
	ghost byte = 14  // spine and joints
	faint byte = 7   // what is cut off or folded in
)

// margin is the room around the cover for the dimensions.
const margin = length.Inch * 3 / 2

// Labels are the words of a template.
type Labels struct {
	Title string
	Copy  string      // what the cover is for: pages, stock, binding
	Unit  length.Unit // of the dimensions
	Date  time.Time
}

// barcode is the space that is kept white for the book's number. It holds an
// EAN-13 at full size, 37.29 × 25.93 mm with its quiet zones (GS1 General
// Specifications, from memory), with the number in letters above it.
var barcode = typeset.Size{Width: length.Inch * 7 / 4, Height: length.Inch * 5 / 4}

// Barcode returns where on the flat, from its top left corner, the barcode
// stands: at the foot of the back, towards the spine. It is the zero Box where
// the back has no room for it.
func Barcode(f edition.Flat) typeset.Box {
	off := max(f.Safety, length.Inch/4)
	if barcode.Width+2*off > f.Panel.Width || barcode.Height+2*off > f.Panel.Height {
		return typeset.Box{}
	}
	return typeset.Box{X: f.Around + f.Panel.Width - off - barcode.Width, Y: f.Around + f.Panel.Height - off - barcode.Height,
		Width: barcode.Width, Height: barcode.Height}
}

// Boxes returns the TrimBox and the BleedBox of the template, and the size of
// its page. A hardcover's case is cut at the edge of its wrap, so that its two
// boxes are one.
func Boxes(f edition.Flat) (trim, bleed typeset.Box, page typeset.Size) {
	bleed = typeset.Box{X: margin, Y: margin, Width: f.Width, Height: f.Height}
	trim = bleed
	if f.Binding != edition.Case {
		trim = typeset.Box{X: margin + f.Around, Y: margin + f.Around, Width: f.Width - 2*f.Around, Height: f.Height - 2*f.Around}
	}
	return trim, bleed, typeset.Size{Width: f.Width + 2*margin, Height: f.Height + 2*margin}
}

// Write draws the template.
func Write(w io.Writer, f edition.Flat, l Labels) error {
	face, err := fonts.Embedded().Face("Source Serif 4", fonts.Regular)
	if err != nil {
		return err
	}
	trim, bleed, page := Boxes(f)
	doc := fpdf.NewCustom(&fpdf.InitType{UnitStr: "pt", Size: fpdf.SizeType{Wd: page.Width.Points(), Ht: page.Height.Points()}})
	doc.SetAutoPageBreak(false, 0)
	doc.SetCatalogSort(true)
	doc.SetCreationDate(l.Date)
	doc.SetModificationDate(l.Date)
	doc.SetProducer("bodkin", true)
	doc.SetTitle(l.Title+": template of the cover", true)
	doc.AddSpotColor(Name, cyan, magenta, yellow, black)
	layer := doc.AddLayer(Name, true)
	doc.AddPage()
	doc.SetPageBox("BleedBox", bleed.X.Points(), bleed.Y.Points(), bleed.Width.Points(), bleed.Height.Points())
	doc.SetPageBox("TrimBox", trim.X.Points(), trim.Y.Points(), trim.Width.Points(), trim.Height.Points())
	doc.BeginLayer(layer)
	d := drawing{pen: pen{doc: doc, face: face}, f: f, l: l}
	d.draw()
	doc.EndLayer()
	var file bytes.Buffer
	if err := doc.Output(&file); err != nil {
		return fmt.Errorf("the template cannot be drawn: %w", err)
	}
	_, err = w.Write(boxOrder.ReplaceAll(file.Bytes(), []byte("$2$1")))
	return err
}

// boxOrder finds the page's boxes where the bleed stands first: fpdf writes
// them in any order, and the same cover is to give the same bytes.
var boxOrder = regexp.MustCompile(`(/BleedBox \[[0-9. ]+\]\n)(/TrimBox \[[0-9. ]+\]\n)`)
