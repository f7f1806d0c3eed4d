package shelf

import (
	"bytes"
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"bodkin/cmd/bodkin/internal/edition"
	"bodkin/typeset/length"
)

// The room of the picture, on paper. It fits A4 and US Letter, lying.
const (
	millimetre = length.Inch * 5 / 127
	sheet      = 254 * millimetre // width
	margin     = 6 * millimetre
	beside     = 34 * millimetre // for the names of the lines across the shelf
	atLeast    = 19 * millimetre // a group, for the words below it
	between    = 3 * millimetre  // groups
	below      = 15 * millimetre // the books, for words
	around     = 52 * millimetre // the rows and the fronts, of all else
	page       = 206 * millimetre
	mostDrawn  = 240 // books
)

// spine is a book, or a candidate, that stands on the shelf.
type spine struct {
	title       string
	says        string // to who points at it, or listens
	class       string
	high, thick length.Length // of the book
	wide        length.Length
	candidate   int // from 1; 0: a book
}

// group is the books of one trim.
type group struct {
	head, name, books string
	high, wide        length.Length // of the trim; the groups stand in this order
	spines            []spine
}

// picture is the shelf that is being drawn.
type picture struct {
	bytes.Buffer
	r      *Report
	scale  int64 // books are drawn so many times smaller
	notes  []string
	groups []group
}

// Draw writes a picture of the shelf as SVG: the books as they stand, grouped
// by their trims, with the candidates among them, and the fronts of the most
// common trims. Everything is to one scale, which stands in the picture and is
// true in print.
func (r *Report) Draw(w io.Writer, title string) error {
	p := &picture{r: r}
	p.group()
	p.choose()
	rows := p.rows()
	tall := p.tall()
	var body bytes.Buffer
	y := margin + 13*millimetre
	for _, row := range rows {
		y += p.paper(tall) + 3*millimetre
		p.Reset()
		p.row(row, y)
		body.Write(p.Bytes())
		y += below
	}
	p.Reset()
	y = p.fronts(y + 7*millimetre)
	y = p.foot(y)
	body.Write(p.Bytes())
	p.Reset()
	p.head(title, y)
	body.WriteString("</svg>\n")
	p.Write(body.Bytes())
	_, err := w.Write(p.Bytes())
	return err
}

// paper returns the length that stands for a length of a book.
func (p *picture) paper(l length.Length) length.Length { return l.Scale(1, p.scale) }

// group puts the books in groups and the candidates among them.
func (p *picture) group() {
	r := p.r
	thick := r.thicknesses()
	at := make(map[*Trim]int)
	unknown := group{head: "no known trim", high: length.Max}
	add := func(t *Trim) *group {
		i, ok := at[t]
		if !ok {
			i = len(p.groups)
			at[t] = i
			size := t.Size()
			p.groups = append(p.groups, group{head: t.Written(), name: t.Name, high: size.Height, wide: size.Width})
		}
		return &p.groups[i]
	}
	drawn := make([]int, len(r.Books))
	for i := range drawn {
		drawn[i] = i
	}
	if n := len(drawn); n > mostDrawn {
		// In the order of their sizes, so that those drawn stand for the rest.
		slices.SortFunc(drawn, func(a, b int) int { return r.Books[a].compare(r.Books[b].Book) })
		for i := range mostDrawn {
			drawn[i] = drawn[i*n/mostDrawn]
		}
		drawn = drawn[:mostDrawn]
		p.notes = append(p.notes, fmt.Sprintf("Drawn are %d of the %d books, of all sizes.", mostDrawn, n))
	}
	for _, i := range drawn {
		b := &r.Books[i]
		g := &unknown
		class := "paperback"
		if b.Binding == Case {
			class = "case"
		}
		if len(b.Fits) > 0 {
			g = add(b.Fits[0].Trim)
		} else {
			class += " unknown"
		}
		title := b.Title
		if title == "" {
			title = fmt.Sprintf("line %d", b.Line)
		}
		g.spines = append(g.spines, spine{title: title, class: class, high: b.Height.Length, wide: b.Width.Length, thick: thick[i],
			says: fmt.Sprintf("%s: %s, %s × %s", title, b.Binding, r.show(b.Width.Length), r.show(b.Height.Length))})
	}
	p.groups = append(p.groups, unknown)
	for i := range p.groups {
		g := &p.groups[i]
		slices.SortStableFunc(g.spines, func(a, b spine) int {
			return cmp.Or(cmp.Compare(a.high, b.high), cmp.Compare(a.wide, b.wide), cmp.Compare(a.thick, b.thick), strings.Compare(a.title, b.title))
		})
		g.books = count(len(g.spines), "book", "books")
	}
	middle := median(thick)
	for i := range r.Candidates {
		c := &r.Candidates[i]
		size := r.Binding.Over(c.Trim.Trim)
		known := len(p.groups)
		g := add(c.Trim)
		if len(p.groups) > known {
			g = &p.groups[at[c.Trim]]
			g.books = "no book"
		}
		g.spines = append(g.spines, spine{title: c.Trim.Label(), says: c.Says, class: "candidate", candidate: i + 1, high: size.Height, wide: size.Width, thick: middle})
	}
	p.groups = slices.DeleteFunc(p.groups, func(g group) bool { return len(g.spines) == 0 })
	slices.SortStableFunc(p.groups, func(a, b group) int {
		return cmp.Or(cmp.Compare(a.high, b.high), cmp.Compare(a.wide, b.wide))
	})
}

// compare orders books by size, then by title.
func (b *Book) compare(c *Book) int {
	return cmp.Or(cmp.Compare(b.Height.Length, c.Height.Length), cmp.Compare(b.Width.Length, c.Width.Length),
		strings.Compare(b.Title, c.Title), cmp.Compare(b.Thickness, c.Thickness), cmp.Compare(b.Pages, c.Pages))
}

// thicknesses returns how thick each book is drawn: as measured, or as its
// pages make it on a supposed paper, or else like the middle of the others.
func (r *Report) thicknesses() []length.Length {
	thick := make([]length.Length, len(r.Books))
	var known []length.Length
	for i := range r.Books {
		b := &r.Books[i]
		switch {
		case b.Thickness > 0:
			thick[i] = b.Thickness
		case b.Pages > 0:
			thick[i] = edition.Supposed().Block(b.Pages)
			if b.Binding == Case {
				thick[i] += 2 * board
			}
			thick[i] = max(thick[i], leastThick)
		default:
			continue
		}
		known = append(known, thick[i])
	}
	middle := edition.Supposed().Block(supposedPages)
	if len(known) > 0 {
		middle = median(known)
	}
	for i := range thick {
		if thick[i] == 0 {
			thick[i] = middle
		}
	}
	return thick
}

// supposedPages is a novel of some 90 000 words. Common practice.
const supposedPages = 320

func median(l []length.Length) length.Length {
	l = slices.Sorted(slices.Values(l))
	return (l[(len(l)-1)/2] + l[len(l)/2]) / 2
}

// supposedPaper names the paper of books of which the pages alone are known.
func supposedPaper() string {
	s := edition.Supposed()
	return fmt.Sprintf("paper supposed to be of %s g/m2 with a bulk of %s", s.Grammage, s.Bulk)
}

// sayThickness tells where the thicknesses come from.
func (r *Report) sayThickness() string {
	var measured, pages, supposed int
	for i := range r.Books {
		switch b := &r.Books[i]; {
		case b.Thickness > 0:
			measured++
		case b.Pages > 0:
			pages++
		default:
			supposed++
		}
	}
	var parts []string
	if measured > 0 {
		parts = append(parts, fmt.Sprintf("of %d as measured", measured))
	}
	if pages > 0 {
		parts = append(parts, fmt.Sprintf("of %d from the pages, on %s", pages, supposedPaper()))
	}
	switch {
	case supposed == 0:
	case measured+pages == 0:
		parts = append(parts, fmt.Sprintf("supposed: %d pages on %s", supposedPages, supposedPaper()))
	default:
		parts = append(parts, fmt.Sprintf("of %d supposed to be like the middle of the others", supposed))
	}
	if len(r.Candidates) > 0 {
		parts = append(parts, "of your book like the middle of all")
	}
	return "Thickness " + strings.Join(parts, "; ") + "."
}

// choose chooses the scale: the largest, from a third on, at which everything
// stands on a page; or a quarter, where the rows are too many for any.
func (p *picture) choose() {
	for p.scale = 3; p.scale <= 6; p.scale++ {
		rows, tall := length.Length(len(p.rows())), p.paper(p.tall())
		if rows*(tall+below+3*millimetre)+tall+around <= page {
			return
		}
	}
	p.scale = 4
}

func (p *picture) tall() length.Length {
	tall := length.Length(0)
	for i := range p.groups {
		for k := range p.groups[i].spines {
			tall = max(tall, p.groups[i].spines[k].high)
		}
	}
	return tall
}

// rows breaks the groups into rows that the sheet has room for.
func (p *picture) rows() [][]group {
	const room = sheet - 2*margin - beside
	var rows [][]group
	var row []group
	x := length.Length(0)
	end := func() {
		if len(row) > 0 {
			rows = append(rows, row)
		}
		row, x = nil, 0
	}
	for _, g := range p.groups {
		if x > 0 && x+max(p.wide(g.spines), atLeast) > room {
			end()
		}
		rest := g
		for {
			n, wide := 0, length.Length(0)
			for n < len(rest.spines) && (n == 0 || wide+p.paper(rest.spines[n].thick) <= room) {
				wide += p.paper(rest.spines[n].thick)
				n++
			}
			part := rest
			part.spines = rest.spines[:n]
			row = append(row, part)
			x += max(wide, atLeast) + between
			if rest.spines = rest.spines[n:]; len(rest.spines) == 0 {
				break
			}
			rest.books = "continued"
			end()
		}
	}
	end()
	return rows
}

func (p *picture) wide(spines []spine) length.Length {
	wide := length.Length(0)
	for i := range spines {
		wide += p.paper(spines[i].thick)
	}
	return wide
}
