package pdf

import (
	"bytes"
	"errors"
	"fmt"
	"io"

	"github.com/go-pdf/fpdf"

	"bodkin/typeset"
	"bodkin/typeset/length"
)

// Sheets is a file of paper for a printer at hand, on which pages of one or
// several layouts stand at their true size.
type Sheets struct {
	Title, Author, Language string
	List                    []Sheet
}

// Sheet is one side of a piece of paper. Places on it are measured from its
// top left corner, x to the right, y down.
type Sheet struct {
	Width, Height length.Length
	Rules         []Rule         // under all type
	Pages         []Placed       // in reading order
	Lines         []typeset.Line // of type that belongs to no page, read last
}

// Placed is a page of a layout, the top left corner of its trim at X and Y.
// It shows as it is when the book is cut: nothing of a picture past the trim.
type Placed struct {
	Layout *typeset.Layout
	Page   int // its index in Layout.Pages
	X, Y   length.Length
}

// Rule is a straight line, level or upright, whose ends are cut off square.
// Its weight lies half on either side.
type Rule struct {
	X0, Y0, X1, Y1 length.Length
	Weight         length.Length
	Gray           uint8 // of 255, which is white
}

var errPlaced = errors.New("there is no such page")

// WriteSheets writes sheets to w as a PDF 1.4 file, as Write does. Of o it
// uses Date, Colour and Plain.
func WriteSheets(w io.Writer, s *Sheets, o Options) error {
	var faces faces
	var plates plates
	laid, err := s.lay(&faces, &plates)
	if err != nil {
		return fmt.Errorf("pdf: %w", err)
	}
	about := document{title: s.Title, author: s.Author, language: s.Language, date: o.Date}
	file, err := finish(laid, about, o, &faces, &plates)
	if err != nil {
		return fmt.Errorf("pdf: %w", err)
	}
	if _, err := w.Write(file); err != nil {
		return fmt.Errorf("pdf: writing the file: %w", err)
	}
	return nil
}

// lay is the first pass, as the function of that name is for a layout.
func (s *Sheets) lay(faces *faces, plates *plates) ([]byte, error) {
	if len(s.List) == 0 {
		return nil, ErrEmpty
	}
	size := func(sh *Sheet) fpdf.SizeType { return fpdf.SizeType{Wd: sh.Width.Points(), Ht: sh.Height.Points()} }
	doc := fpdf.NewCustom(&fpdf.InitType{UnitStr: "pt", Size: size(&s.List[0])})
	doc.SetCompression(false)
	doc.SetAutoPageBreak(false, 0)
	for n := range s.List {
		sh := &s.List[n]
		if sh.Width <= 0 || sh.Height <= 0 || sh.Width > length.Max || sh.Height > length.Max {
			return nil, fmt.Errorf("sheet %d: %v by %v is not a sheet of paper", n+1, sh.Width, sh.Height)
		}
		doc.AddPageFormat("P", size(sh))
		b, err := sh.draw(faces, plates)
		if err != nil {
			return nil, fmt.Errorf("sheet %d: %w", n+1, err)
		}
		doc.RawWriteBuf(bytes.NewReader(b))
	}
	var b bytes.Buffer
	if err := doc.Output(&b); err != nil {
		return nil, fmt.Errorf("laying the sheets: %w", err)
	}
	return b.Bytes(), nil
}

// draw returns the content of a sheet.
func (sh *Sheet) draw(faces *faces, plates *plates) ([]byte, error) {
	var b []byte
	for i := range sh.Pages {
		p := &sh.Pages[i]
		if p.Layout == nil || p.Page < 0 || p.Page >= len(p.Layout.Pages) {
			return nil, fmt.Errorf("page %d: %w", p.Page+1, errPlaced)
		}
		trim := typeset.Box{Width: p.Layout.Trim.Width, Height: p.Layout.Trim.Height}
		var err error
		for k := range p.Layout.Pages[p.Page].Plates {
			if b, err = plates.draw(b, &p.Layout.Pages[p.Page].Plates[k], trim, p.X, p.Y, sh.Height); err != nil {
				return nil, fmt.Errorf("page %d, plate %d: %w", p.Page+1, k+1, err)
			}
		}
	}
	b = sh.rules(b)
	text := content{faces: faces, height: sh.Height}
	text.begin()
	for i := range sh.Pages {
		p := &sh.Pages[i]
		lines := p.Layout.Pages[p.Page].Lines
		for k := range lines {
			if err := text.line(&lines[k], p.X, p.Y); err != nil {
				return nil, fmt.Errorf("page %d, line %d: %w", p.Page+1, k+1, err)
			}
		}
	}
	for i := range sh.Lines {
		if err := text.line(&sh.Lines[i], 0, 0); err != nil {
			return nil, fmt.Errorf("line %d: %w", i+1, err)
		}
	}
	return append(b, text.b...), nil
}

// rules draws the rules (ISO 32000-1, 8.5.3).
func (sh *Sheet) rules(b []byte) []byte {
	b = append(b, "0 J\n"...) // whatever cap was set, square ends
	for _, r := range sh.Rules {
		b = append(appendDecimal(b, roundDiv(int64(r.Gray)*1000, 255), 3), " G "...)
		b = append(appendDecimal(b, points(r.Weight, 3), 3), " w "...)
		for i, v := range []length.Length{r.X0, sh.Height - r.Y0, r.X1, sh.Height - r.Y1} {
			b = append(appendDecimal(b, points(v, 3), 3), [...]string{" ", " m ", " ", " l S\n"}[i]...)
		}
	}
	return b
}
