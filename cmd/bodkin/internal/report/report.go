package report

import (
	"bytes"
	"embed"
	"errors"
	"fmt"
	"html/template"
	"io"

	"bodkin/typeset"
	"bodkin/typeset/length"
)

// MostEditions is how many editions a page holds: each has a colour that can
// be told from the others.
const MostEditions = 6

// Comparison is what a page says of a book.
type Comparison struct {
	Title, Author, Language string
	Words                   int

	Editions []Edition // two at least; what differs is told from the first
	Figures  []Figure
	Panels   []Panel  // of the chart; none leaves it out
	Paper    string   // in a sentence, on what stock the thickness was reckoned
	Cautions []string // what must be said beyond the common cautions, a sentence or two each
}

// Edition is one setting of the book and the copy it makes.
type Edition struct {
	Name   string
	Layout *typeset.Layout
	Spine  length.Length // the thickness of a copy
	Outer  typeset.Size  // of a copy, closed: larger than the trim where a case reaches past the block; zero for the trim
	Says   []string      // what else is to be said of it, a sentence each

	Objections []string // of the printer, a sentence each
}

// Figure is a row of the table: one thing that was measured, in each edition.
type Figure struct {
	Name   string // "pages"
	Means  string // in a line, for one who has never made a book
	Choice bool   // it is a part of the setting, not what came of it
	Cells  []Cell // of each edition
}

// Cell is a figure of one edition, and by how much it differs from the first.
type Cell struct {
	Value, Difference string
	Doubt             string // why it may not serve; "" for no doubt
}

//go:embed page
var files embed.FS

var pageTemplate = template.Must(template.New("page.html").Funcs(template.FuncMap{
	"letter": letter,
	"inc":    func(n int) int { return n + 1 },
	"number": func(n int) string { return numbers[n] },
}).ParseFS(files, "page/*.html"))

// numbers are those of editions that a page can have, in words.
var numbers = [MostEditions + 1]string{2: "two", 3: "three", 4: "four", 5: "five", 6: "six"}

// letter names the edition at index i in drawings: A, B, …
func letter(i int) string { return string(rune('A' + i)) }

// page is what the template shows.
type page struct {
	*Comparison
	Style   template.CSS
	Glyphs  template.HTML
	Scene   template.HTML
	Wide    template.CSS // how wide the scene may be
	Columns template.CSS // of the captions below it
	Shown   []shown
	Words   []string // of the passage, a paragraph each
	Ruler   template.HTML
	Charts  []chart
	Count   string // of the words of the book
}

// shown is an edition as the page shows it.
type shown struct {
	Letter, Name string
	About        string   // its setting in a line
	Size         string   // of the copy: width, height and thickness
	Glance       []string // how it differs from the first
	Objections   []string
	Cut          bool // its page is too wide for the sample
	Short        bool // and so are its lines
	Sample       template.HTML
	Lines        int
	Spread       template.HTML
	SpreadSays   string
	SpreadWidth  template.CSS // a share of the widest, so that all have one scale
}

// Write writes the page. It fails where the comparison cannot be shown: fewer
// than two editions or too many, or a picture of the book that cannot be read.
func Write(w io.Writer, c *Comparison) error {
	if n := len(c.Editions); n < 2 || n > MostEditions {
		return fmt.Errorf("a page shows from 2 to %d editions, not %d", MostEditions, n)
	}
	for i := range c.Editions {
		if l := c.Editions[i].Layout; l == nil || len(l.Pages) == 0 {
			return errors.New("an edition has no pages: " + c.Editions[i].Name)
		}
	}
	for _, f := range c.Figures {
		if len(f.Cells) != len(c.Editions) {
			return fmt.Errorf("the figure %q is not of %d editions", f.Name, len(c.Editions))
		}
	}
	p, err := c.page()
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if err := pageTemplate.Execute(&b, p); err != nil {
		return fmt.Errorf("the page of the comparison: %w", err)
	}
	_, err = w.Write(b.Bytes())
	return err
}

// Chosen and Measured part the figures in two.
func (p *page) Chosen() []Figure   { return p.only(true) }
func (p *page) Measured() []Figure { return p.only(false) }

func (p *page) only(choice bool) []Figure {
	var some []Figure
	for _, f := range p.Figures {
		if f.Choice == choice {
			some = append(some, f)
		}
	}
	return some
}

func (c *Comparison) page() (*page, error) {
	p := &page{Comparison: c, Count: thousands(c.Words)}
	for _, name := range []string{"page/style.css", "page/drawings.css", "page/print.css"} {
		css, err := files.ReadFile(name)
		if err != nil {
			return nil, err
		}
		p.Style += template.CSS(css)
	}
	layouts := make([]*typeset.Layout, len(c.Editions))
	var widest length.Length
	for i := range c.Editions {
		layouts[i] = c.Editions[i].Layout
		widest = max(widest, layouts[i].Trim.Width)
	}
	passages, found := Same(layouts)
	if found {
		p.Words = passages[0].Paras
	}
	var g glyphs
	p.Scene, p.Wide, p.Columns = c.scene(&g)
	for i := range c.Editions {
		e := &c.Editions[i]
		s := shown{Letter: letter(i), Name: e.Name, About: e.about(), Size: e.size(c.unit()), Glance: c.glance(i), Objections: e.Objections}
		at := middle(e.Layout)
		var of *Passage
		if found {
			of = &passages[i]
			at = of.Page
			s.Cut, s.Short = e.Layout.Trim.Width > widestStrip, e.Layout.Block.Measure > widestStrip
			s.Sample = e.sample(&g, i, of, c.unit())
			s.Lines = len(of.Lines)
		}
		var err error
		if s.Spread, s.SpreadSays, err = e.spread(&g, i, at, of); err != nil {
			return nil, err
		}
		s.SpreadWidth = template.CSS(length.Decimal(int64(e.Layout.Trim.Width.Scale(10000, int64(widest))), 2) + "%")
		p.Shown = append(p.Shown, s)
	}
	p.Ruler = ruler()
	p.Charts = c.charts()
	p.Glyphs = template.HTML(g.paths.String())
	return p, nil
}

// middle returns a full page in the middle of a layout.
func middle(l *typeset.Layout) int {
	n := len(l.Pages)
	for step := range n {
		at := n/2 + (step+1)/2
		if step%2 == 1 {
			at = n/2 - (step+1)/2
		}
		if at >= 0 && at < n && !l.Pages[at].Blank && !l.Pages[at].Opening {
			return at
		}
	}
	return 0
}
