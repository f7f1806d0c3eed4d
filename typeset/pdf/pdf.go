package pdf

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"time"
	"unicode/utf16"

	"github.com/go-pdf/fpdf"

	"bodkin/typeset"
	"bodkin/typeset/length"
)

// Options says what is written besides the pages. The zero value makes a file
// for the press: pages of the trim, and the bleed where the layout has one,
// with nothing but type and gray pictures on them.
type Options struct {
	Date    time.Time     // of creation; the layout's own when zero
	Colour  bool          // pictures keep their colours, as CMYK
	MostPPI int           // finer pictures are written with so many pixels to the inch; 0: as they are
	Reading bool          // with an outline and page labels
	Spreads bool          // facing pages side by side, the first recto alone at the right
	Guides  bool          // with text block, grid, safety margin and trim under the text
	Safety  length.Length // the safety margin that guides show; 0 for none
	Plain   bool          // without compression, for a person to read
}

// ErrEmpty is the error for a layout without pages.
var ErrEmpty = errors.New("the layout has no pages")

// Write writes l to w as a PDF 1.4 file. The bytes depend on l and o alone.
// They are complete before the first is written, so a failure leaves nothing
// half done unless w itself fails.
func Write(w io.Writer, l *typeset.Layout, o Options) error {
	if err := check(l, o); err != nil {
		return fmt.Errorf("pdf: %w", err)
	}
	var faces faces
	var plates plates
	laid, err := lay(l, o, &faces, &plates)
	if err != nil {
		return fmt.Errorf("pdf: %w", err)
	}
	file, err := finish(laid, documentOf(l, o), o, &faces, &plates)
	if err != nil {
		return fmt.Errorf("pdf: %w", err)
	}
	if _, err := w.Write(file); err != nil {
		return fmt.Errorf("pdf: writing the file: %w", err)
	}
	return nil
}

func check(l *typeset.Layout, o Options) error {
	if l == nil || len(l.Pages) == 0 {
		return ErrEmpty
	}
	if l.Trim.Width <= 0 || l.Trim.Height <= 0 {
		return fmt.Errorf("the trim of %v by %v is not a page", l.Trim.Width, l.Trim.Height)
	}
	if l.Bleed < 0 || o.Safety < 0 {
		return fmt.Errorf("bleed %v, safety %v: neither may be negative", l.Bleed, o.Safety)
	}
	if s := sheetOf(l, o); s.width > length.Max || s.height > length.Max {
		return fmt.Errorf("a sheet of %v by %v is larger than a page of PDF may be, %v",
			s.width, s.height, length.Value{Length: length.Max, Unit: length.In})
	}
	return nil
}

// sheet is the shape of the file's pages: the trim, once or twice side by
// side, and the bleed around it. With spreads there is no bleed: the pages are
// as they are when the book is cut.
type sheet struct{ width, height, bleed length.Length }

func sheetOf(l *typeset.Layout, o Options) sheet {
	if o.Spreads {
		return sheet{2 * l.Trim.Width, l.Trim.Height, 0}
	}
	p := l.Paper(0)
	return sheet{p.Width, p.Height, l.Bleed}
}

// sheets returns the indices of the layout's pages on each page of the file,
// from left to right; -1 is an empty place.
func sheets(l *typeset.Layout, o Options) [][]int {
	var all [][]int
	if !o.Spreads {
		for i := range l.Pages {
			all = append(all, []int{i})
		}
		return all
	}
	for n := range l.Spreads() {
		s := l.Spread(n)
		all = append(all, []int{s.Verso, s.Recto})
	}
	return all
}

// lay is the first pass: it returns fpdf's file, uncompressed, and counts the
// glyphs that were used into faces.
func lay(l *typeset.Layout, o Options, faces *faces, plates *plates) ([]byte, error) {
	s := sheetOf(l, o)
	doc := fpdf.NewCustom(&fpdf.InitType{
		UnitStr: "pt",
		Size:    fpdf.SizeType{Wd: s.width.Points(), Ht: s.height.Points()},
	})
	doc.SetCompression(false)
	doc.SetAutoPageBreak(false, 0)
	entries := make(map[int][]string) // by page
	if o.Reading {
		for _, e := range l.Entries {
			entries[e.Page] = append(entries[e.Page], e.Title)
		}
	}
	text := content{faces: faces, height: s.height}
	for _, pages := range sheets(l, o) {
		doc.AddPage()
		trim := typeset.Box{Y: s.bleed, Width: s.width, Height: l.Trim.Height}
		if s.bleed > 0 {
			trim.X, trim.Width = -l.Paper(pages[0]).X, l.Trim.Width
			doc.SetPageBox("BleedBox", 0, 0, s.width.Points(), s.height.Points())
		}
		doc.SetPageBox("TrimBox", trim.X.Points(), trim.Y.Points(), trim.Width.Points(), trim.Height.Points())
		text.begin()
		for place, i := range pages {
			left := trim.X + l.Trim.Width*length.Length(place)
			if i < 0 {
				c := typeset.NoPage
				doc.SetFillColor(int(c.R), int(c.G), int(c.B))
				doc.Rect(left.Points(), 0, l.Trim.Width.Points(), l.Trim.Height.Points(), "F")
				doc.SetFillColor(0, 0, 0)
				continue
			}
			if err := drawPlates(doc, l, i, s, left, plates); err != nil {
				return nil, fmt.Errorf("page %d, %w", i+1, err)
			}
			if o.Guides {
				drawGuides(doc, l.Guides(i, o.Safety), left, s.bleed)
			}
			for _, title := range entries[i] {
				doc.Bookmark(bookmark(title), 0, 0)
			}
			for n := range l.Pages[i].Lines {
				if err := text.line(&l.Pages[i].Lines[n], left, s.bleed); err != nil {
					return nil, fmt.Errorf("page %d, line %d: %w", i+1, n+1, err)
				}
			}
		}
		if len(pages) > 1 {
			fold := typeset.Guide{Role: typeset.GuideFold, X0: l.Trim.Width, X1: l.Trim.Width, Y1: l.Trim.Height}
			drawGuides(doc, []typeset.Guide{fold}, 0, 0)
		}
		doc.RawWriteBuf(bytes.NewReader(text.b))
	}
	var b bytes.Buffer
	if err := doc.Output(&b); err != nil {
		return nil, fmt.Errorf("laying the pages: %w", err)
	}
	return b.Bytes(), nil
}

// drawPlates draws the pictures of the page at index i, under all else.
func drawPlates(doc *fpdf.Fpdf, l *typeset.Layout, i int, s sheet, left length.Length, plates *plates) error {
	paper := typeset.Box{Width: l.Trim.Width, Height: l.Trim.Height}
	if s.bleed > 0 {
		paper = l.Paper(i)
	}
	var b []byte
	var err error
	for n := range l.Pages[i].Plates {
		if b, err = plates.draw(b, &l.Pages[i].Plates[n], paper, left, s.bleed, s.height); err != nil {
			return fmt.Errorf("plate %d: %w", n+1, err)
		}
	}
	if len(b) > 0 {
		doc.RawWriteBuf(bytes.NewReader(b))
	}
	return nil
}

func drawGuides(doc *fpdf.Fpdf, guides []typeset.Guide, left, top length.Length) {
	role := typeset.GuideRole(255)
	for _, g := range guides {
		if g.Role != role {
			role = g.Role
			c := role.Color()
			doc.SetLineWidth(typeset.GuideWidth.Points())
			doc.SetDrawColor(int(c.R), int(c.G), int(c.B))
		}
		doc.Line((left + g.X0).Points(), (top + g.Y0).Points(), (left + g.X1).Points(), (top + g.Y1).Points())
	}
}

// bookmark encodes a title as fpdf wants it: the bytes of a text string.
func bookmark(s string) string {
	ascii := true
	for _, r := range s {
		ascii = ascii && r >= ' ' && r <= '~'
	}
	if ascii {
		return s
	}
	b := []byte("\xfe\xff")
	for _, u := range utf16.Encode([]rune(s)) {
		b = append(b, byte(u>>8), byte(u))
	}
	return string(b)
}
