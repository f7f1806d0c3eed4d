package report

import (
	"fmt"
	"html/template"

	"bodkin/typeset/length"
)

// widestStrip is the widest part of a page that is shown at true size: what a
// sheet of A4 or Letter has room for.
const widestStrip = 7 * length.Inch

// sample draws the passage at true size, as a strip of a recto from edge to
// edge; of a page that is wider than paper, as much as its text needs.
func (e *Edition) sample(g *glyphs, i int, of *Passage, u length.Unit) template.HTML {
	l := e.Layout
	left, width := length.Length(0), l.Trim.Width
	if width > widestStrip {
		aside := length.Inch / 8
		left, width = l.Block.Left-aside, l.Block.Measure+2*aside
	}
	above := l.Block.Leading * 2
	height := above + l.Block.Leading*length.Length(len(of.Lines)-1) + l.Block.Leading*3/2
	var d drawing
	d.picture(fmt.Sprintf("sample-%d", i), "strip", fmt.Sprintf(`width="%smm" height="%smm"`, mm(width), mm(height)),
		fmt.Sprintf("0 0 %s %s", pt(width), pt(height)),
		fmt.Sprintf("The passage in edition %s, %s, at true size", letter(i), e.Name),
		fmt.Sprintf("%d lines of %s, each %s long. The words are given as text below the samples.", len(of.Lines), e.about(), In(l.Block.Measure, u)))
	d.add(`<rect class="sheet" width="%s" height="%s"/>`, pt(width), pt(height))
	if left == 0 { // the binding's shadow, at the left of a recto
		d.add(`<rect fill="url(#fold)" width="%s" height="%s"/>`, pt(foldShade), pt(height))
	}
	d.WriteString(`<g class="type">`)
	p := pen{d: &d, g: g}
	for n, line := range of.Lines {
		y := above + l.Block.Leading*length.Length(n)
		p.line(line, l.Block.Left-l.BlockLeft(of.Pages[n])-left, y-line.Y)
	}
	d.WriteString("</g></svg>")
	return template.HTML(d.String())
}

// ruler draws a bar of 50 mm and one of 2 in, at true size.
func ruler() template.HTML {
	const side = length.Inch / 16 // so that the last tick is not cut
	fifty := (50 * length.Inch).Scale(5, 127)
	var d drawing
	width := 2*length.Inch + 2*side
	d.picture("ruler", "ruler", fmt.Sprintf(`width="%smm" height="%smm"`, mm(width), mm(length.Inch*5/8)),
		fmt.Sprintf("0 0 %s 45", pt(width)), "Ruler at true size", "The upper bar is 50 millimetres long, the lower bar 2 inches.")
	d.add(`<g class="rule"><path id="bar-mm" class="bar" d="M%s 16h%s"/><path class="tick" d="`, pt(side), pt(fifty))
	for n := range length.Length(51) {
		tall := 3
		if n%10 == 0 {
			tall = 7
		} else if n%5 == 0 {
			tall = 5
		}
		d.add("M%s 16v-%d", pt(side+(n*length.Inch).Scale(5, 127)), tall)
	}
	d.add(`"/><path id="bar-in" class="bar" d="M%s 28h%s"/><path class="tick" d="`, pt(side), pt(2*length.Inch))
	for n := range length.Length(17) {
		tall := 3
		if n%8 == 0 {
			tall = 7
		} else if n%4 == 0 {
			tall = 5
		}
		d.add("M%s 28v%d", pt(side+n*length.Inch/8), tall)
	}
	d.add(`"/></g><text x="%s" y="7">50 mm</text><text x="%s" y="43">2 in</text></svg>`, pt(side), pt(side))
	return template.HTML(d.String())
}
