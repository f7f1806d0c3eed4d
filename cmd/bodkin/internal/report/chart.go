package report

import (
	"fmt"
	"html/template"
	"slices"
	"strings"

	"bodkin/typeset/length"
)

// Panel is one chart: pages against size, a line for each leading, for editions
// that agree in everything else.
type Panel struct {
	Name     string // what they agree in: "5 × 8 in, EB Garamond"
	Sizes    []length.Length
	Leadings []length.Length
	Pages    [][]int // of each leading and size; 0 where it cannot be set
	Fault    string  // why some cannot be set
	Chosen   []Chosen
}

// Chosen is an edition as a point of a panel.
type Chosen struct{ Edition, Leading, Size int } // indices

// chart is a panel as the page shows it.
type chart struct {
	Name    string
	Fault   string
	Drawing template.HTML
	Sizes   []string
	Rows    []chartRow
}

type chartRow struct {
	Leading string
	Cells   []chartCell
}

type chartCell struct {
	Pages  string
	Chosen string // letters of the editions here
}

// Where things stand in a chart, in its own units.
const (
	chartWidth, chartHeight = 360, 300
	chartLeft, chartRight   = 44, 64
	chartTop, chartFoot     = 32, 46
)

// extent returns the least and the most pages of a panel; ok is false where
// nothing of it can be set.
func (p *Panel) extent() (least, most int, ok bool) {
	least = 1 << 30
	for _, row := range p.Pages {
		for _, n := range row {
			if n > 0 {
				least, most = min(least, n), max(most, n)
			}
		}
	}
	return least, most, most > 0
}

// charts draws the panels. A page is as high in all of them, so that slopes
// compare; each begins where its own pages do.
func (c *Comparison) charts() []chart {
	step, span := 1, 0
	for i := range c.Panels {
		if least, most, ok := c.Panels[i].extent(); ok {
			step = max(step, tickStep(most-least))
		}
	}
	for i := range c.Panels {
		if least, most, ok := c.Panels[i].extent(); ok {
			span = max(span, len(ticks(least, most, step, 0)))
		}
	}
	var made []chart
	for i := range c.Panels {
		p := &c.Panels[i]
		least, most, ok := p.extent()
		if !ok {
			continue
		}
		one := chart{Name: p.Name, Fault: p.Fault, Drawing: p.draw(c, i, ticks(least, most, step, span))}
		for _, s := range p.Sizes {
			one.Sizes = append(one.Sizes, In(s, length.Pt))
		}
		for l := range p.Leadings {
			row := chartRow{Leading: In(p.Leadings[l], length.Pt)}
			for s := range p.Sizes {
				cell := chartCell{Pages: "–"}
				if n := p.Pages[l][s]; n > 0 {
					cell.Pages = fmt.Sprint(n)
				}
				cell.Chosen = p.chosen(l, s)
				row.Cells = append(row.Cells, cell)
			}
			one.Rows = append(one.Rows, row)
		}
		made = append(made, one)
	}
	return made
}

// chosen returns the letters of the editions at a point.
func (p *Panel) chosen(leading, size int) string {
	var letters []string
	for _, ch := range p.Chosen {
		if ch.Leading == leading && ch.Size == size {
			letters = append(letters, letter(ch.Edition))
		}
	}
	return strings.Join(letters, ", ")
}

// tickStep returns the round number of pages from one line of the grid to the
// next, so that there are six at most in a span.
func tickStep(span int) int {
	for _, step := range []int{2, 5, 10, 20, 50, 100, 200, 500, 1000} {
		if span/step <= 5 {
			return step
		}
	}
	return 2000
}

// ticks returns round numbers of pages from below least to above most, so many
// at least.
func ticks(least, most, step, atLeast int) []int {
	var all []int
	for n := (least - 1) / step * step; len(all) < max(2, atLeast) || all[len(all)-1] < most; n += step {
		all = append(all, n)
	}
	return all
}

// draw draws a panel.
func (p *Panel) draw(c *Comparison, i int, ticks []int) template.HTML {
	low, high := ticks[0], ticks[len(ticks)-1]
	y := func(pages int) int {
		return chartTop + (chartHeight-chartTop-chartFoot)*(high-pages)/(high-low)
	}
	x := func(size int) int { // by its length: steps need not be even
		span := int64(p.Sizes[len(p.Sizes)-1] - p.Sizes[0])
		if span == 0 {
			return (chartLeft + chartWidth - chartRight) / 2
		}
		return chartLeft + 8 + int(int64(p.Sizes[size]-p.Sizes[0])*(chartWidth-chartLeft-chartRight-8)/span)
	}
	var d drawing
	var says []string
	for _, ch := range p.Chosen {
		says = append(says, fmt.Sprintf("Edition %s, %s: %d pages at %s on %s.", letter(ch.Edition), c.Editions[ch.Edition].Name,
			p.Pages[ch.Leading][ch.Size], In(p.Sizes[ch.Size], length.Pt), In(p.Leadings[ch.Leading], length.Pt)))
	}
	says = append(says, "The table below the chart has all its figures.")
	d.picture(fmt.Sprintf("chart-%d", i), "chart", "", fmt.Sprintf("0 0 %d %d", chartWidth, chartHeight),
		"Pages by size and leading: "+p.Name, strings.Join(says, " "))
	for _, n := range ticks {
		d.add(`<path class="grid" d="M%d %dH%d"/><text class="pages" x="%d" y="%d">%d</text>`, chartLeft, y(n), chartWidth-chartRight, chartLeft-6, y(n)+4, n)
	}
	d.add(`<text class="axis" x="2" y="%d">pages</text>`, 12)
	for s := range p.Sizes {
		d.add(`<text class="size" x="%d" y="%d">%s</text>`, x(s), chartHeight-chartFoot+18, strings.TrimSuffix(In(p.Sizes[s], length.Pt), "\u00a0pt"))
	}
	d.add(`<text class="axis size" x="%d" y="%d">size of the type, in points</text>`, (chartLeft+chartWidth-chartRight)/2, chartHeight-8)
	p.lines(&d, x, y)
	p.points(&d, c, x, y)
	d.WriteString("</svg>")
	return template.HTML(d.String())
}

// lines draws a line for each leading, with its leading at its right end.
func (p *Panel) lines(d *drawing, x, y func(int) int) {
	type label struct {
		x, y int
		text string
	}
	var labels []label
	for l := range p.Leadings {
		class := "leading"
		if slices.ContainsFunc(p.Chosen, func(ch Chosen) bool { return ch.Leading == l }) {
			class += " taken"
		}
		path, op, lastX, last := "", "M", 0, 0
		for s := range p.Sizes {
			if n := p.Pages[l][s]; n > 0 {
				path += fmt.Sprintf("%s%d %d", op, x(s), y(n))
				op, lastX, last = "L", x(s), y(n)
				d.add(`<circle class="%s" cx="%d" cy="%d" r="1.8"/>`, class, x(s), y(n))
			} else {
				op = "M"
			}
		}
		if path != "" {
			d.add(`<path class="%s" d="%s"/>`, class, path)
			labels = append(labels, label{lastX + 8, last, "on " + In(p.Leadings[l], length.Pt)})
		}
	}
	// None stands on another, nor below the grid.
	const apart, foot = 13, chartHeight - chartFoot
	slices.SortStableFunc(labels, func(a, b label) int { return a.y - b.y })
	for k := 1; k < len(labels); k++ {
		labels[k].y = max(labels[k].y, labels[k-1].y+apart)
	}
	for k := len(labels) - 1; k >= 0; k-- {
		labels[k].y = min(labels[k].y, foot-apart*(len(labels)-1-k))
		d.add(`<text class="on" x="%d" y="%d">%s</text>`, labels[k].x, labels[k].y+4, labels[k].text)
	}
}

// points marks the chosen settings. Editions at one point share a label.
func (p *Panel) points(d *drawing, c *Comparison, x, y func(int) int) {
	var said []Chosen
	for _, ch := range p.Chosen {
		px, py := x(ch.Size), y(p.Pages[ch.Leading][ch.Size])
		if slices.ContainsFunc(said, func(o Chosen) bool { return o.Leading == ch.Leading && o.Size == ch.Size }) {
			continue
		}
		said = append(said, ch)
		// Lines rise to the right: above to the left and below to the right
		// is the most room.
		anchor, tx, ty := "end", px-8, py-8
		if px < chartLeft+40 {
			anchor, tx, ty = "start", px+8, py+17
		}
		d.add(`<g class="point e%d"><circle cx="%d" cy="%d" r="5.5"/><text x="%d" y="%d" text-anchor="%s">%s: %d</text></g>`,
			ch.Edition, px, py, tx, ty, anchor, p.chosen(ch.Leading, ch.Size), p.Pages[ch.Leading][ch.Size])
	}
}
