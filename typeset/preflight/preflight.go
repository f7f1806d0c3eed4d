package preflight

import (
	"context"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"bodkin/typeset"
	"bodkin/typeset/length"
)

// Limits are what a printer takes. What is zero is not looked at.
type Limits struct {
	Trim         typeset.Size
	Bleed        length.Length      // how far what bleeds reaches past the trim
	Safety       length.Length      // how far text stays from the trim
	Back         []typeset.BackStep // how far it stays from the bound edge, by the number of pages
	Least, Most  int                // pages
	Multiple     int                // of pages
	PPI, LinePPI int                // pixels to the inch: in gray and colour, and in black and white
	Type         length.Length      // the smallest
	Line         length.Length      // the thinnest
}

// Common are the limits of most printers, where none are known: common
// practice.
func Common() Limits {
	return Limits{PPI: 300, LinePPI: 600, Type: 6 * length.Point, Line: length.Point / 4}
}

// Box is a rectangle on a page, in points from the lower left corner of its
// user space, as the file has them.
type Box struct {
	X0 float64 `json:"x0"`
	Y0 float64 `json:"y0"`
	X1 float64 `json:"x1"`
	Y1 float64 `json:"y1"`
}

// Finding is what is wrong at a place.
type Finding struct {
	Code     string   `json:"code"`
	Severity Severity `json:"severity"`
	Page     int      `json:"page,omitempty"` // from 1; 0 for the file
	What     string   `json:"what"`
	Mend     string   `json:"mend"`
	Box      *Box     `json:"box,omitempty"`
}

// Report is what was found in a file.
type Report struct {
	Pages    []Page    `json:"pages"`
	Version  string    `json:"version"`            // of PDF
	Standard string    `json:"standard,omitempty"` // that it claims
	Findings []Finding `json:"findings"`           // what stops first, then by page
}

// Page is a page as the file has it.
type Page struct {
	Media Box `json:"media"`
	Bleed Box `json:"bleed"`
	Trim  Box `json:"trim"`

	marks []mark
}

// Ready reports whether nothing stops the file.
func (r *Report) Ready() bool {
	return !slices.ContainsFunc(r.Findings, func(f Finding) bool { return f.Severity == Stops })
}

// Check looks at a PDF. The error is ctx's, or one of reading r; all that is
// wrong with the file itself is in the report.
func Check(ctx context.Context, r io.ReadSeeker, limits Limits) (*Report, error) {
	c := &checker{ctx: ctx, limits: limits, report: new(Report), said: make(map[string]int)}
	if err := c.run(r); err != nil {
		if ctx.Err() != nil {
			return nil, context.Cause(ctx)
		}
		switch {
		case errors.Is(err, errLocked):
			c.find("encrypted", 0, nil, "")
		case errors.Is(err, errBounds):
			c.find("too-large", 0, nil, oneLine(err))
		default:
			c.find("damaged", 0, nil, oneLine(err))
		}
	}
	slices.SortStableFunc(c.report.Findings, func(a, b Finding) int {
		if a.Severity != b.Severity {
			return int(b.Severity) - int(a.Severity)
		}
		return a.Page - b.Page
	})
	return c.report, nil
}

// checker looks at one file.
type checker struct {
	ctx    context.Context
	limits Limits
	report *Report
	said   map[string]int // findings of a code, by page
	doc    *document
	back   length.Length // the limit for as many pages as the file has
	faces  map[string]*face
	images map[string]*pixels
	steps  int  // operators run
	unsaid bool // a page without a TrimBox was found
}

var (
	errLocked = errors.New("it is protected by a password")
	errBounds = errors.New("it is larger than any book")
)

// mostOfACode bounds the findings of one code on one page: the first few tell
// enough.
const mostOfACode = 3

// find notes a finding; detail says more than its code does.
func (c *checker) find(code string, page int, at *Box, detail string) {
	key := fmt.Sprint(code, page)
	if c.said[key]++; c.said[key] > mostOfACode {
		return
	}
	k := codeOf(code)
	f := Finding{Code: code, Severity: k.Severity, Page: page, What: k.What, Mend: k.Mend, Box: at}
	if detail != "" {
		f.What += ": " + detail
	}
	for _, same := range c.report.Findings {
		if same.Code == f.Code && same.Page == f.Page && same.What == f.What {
			return
		}
	}
	c.report.Findings = append(c.report.Findings, f)
}

// run reads the file and looks at all of it. A fault of the reader that is
// deeper than an error is damage, too.
func (c *checker) run(r io.ReadSeeker) (err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("it cannot be read: %v", p)
		}
	}()
	if c.doc, err = open(c.ctx, r); err != nil {
		return err
	}
	c.report.Version = c.doc.version()
	c.file()
	pages, err := c.doc.pages(c.ctx)
	if err != nil {
		return err
	}
	if len(pages) == 0 {
		c.find("pages-none", 0, nil, "")
		return nil
	}
	if len(c.limits.Back) > 0 {
		c.back = typeset.BackFor(c.limits.Back, len(pages)).Margin.Length
	}
	c.report.Pages = make([]Page, len(pages))
	for i := range pages {
		if err := c.ctx.Err(); err != nil {
			return err
		}
		if err := c.page(i, &pages[i]); err != nil {
			return err
		}
	}
	c.book()
	return nil
}

func oneLine(err error) string {
	s := strings.Join(strings.Fields(err.Error()), " ")
	if len(s) > 200 {
		s = strings.ToValidUTF8(s[:200], "") + " …"
	}
	return s
}
