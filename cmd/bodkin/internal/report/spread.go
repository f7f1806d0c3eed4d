package report

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"html/template"
	"image/jpeg"

	"bodkin/typeset"
	"bodkin/typeset/length"
	"bodkin/typeset/raster"
)

// foldShade is how far the shadow of the binding reaches into a page.
const foldShade = length.Inch / 3

// spread draws the two facing pages of which one is at index at, and says
// which they are. A bar in the margin marks the passage, where there is one.
func (e *Edition) spread(g *glyphs, i, at int, of *Passage) (template.HTML, string, error) {
	l := e.Layout
	s := l.Spread((at + 1) / 2)
	w, h := l.Trim.Width, l.Trim.Height
	const edge = 2 * length.Point // so that the trim's line is whole
	says := "page " + l.Pages[at].Label
	if s.Verso >= 0 && s.Recto >= 0 {
		says = fmt.Sprintf("pages %s and %s", l.Pages[s.Verso].Label, l.Pages[s.Recto].Label)
	}
	var d drawing
	d.picture(fmt.Sprintf("spread-%d", i), fmt.Sprintf("spread e%d", i), "",
		fmt.Sprintf("-2 -2 %s %s", pt(2*w+2*edge), pt(h+2*edge)),
		fmt.Sprintf("An open spread of edition %s, %s", letter(i), e.Name),
		fmt.Sprintf("%s, each %s.", says, trim(l.Setting.Trim)))
	for side, n := range []int{s.Verso, s.Recto} {
		if n < 0 {
			continue
		}
		left := w * length.Length(side)
		d.add(`<rect class="sheet" x="%s" width="%s" height="%s"/>`, pt(left), pt(w), pt(h))
		if side == 1 {
			d.add(`<rect fill="url(#fold)" x="%s" width="%s" height="%s"/>`, pt(left), pt(foldShade), pt(h))
		} else {
			d.add(`<rect fill="url(#fold)" transform="matrix(-1 0 0 1 %s 0)" width="%s" height="%s"/>`, pt(w), pt(foldShade), pt(h))
		}
		if err := d.plates(l, n, left); err != nil {
			return "", "", err
		}
		d.WriteString(`<g class="type">`)
		p := pen{d: &d, g: g}
		for k := range l.Pages[n].Lines {
			p.line(&l.Pages[n].Lines[k], left, 0)
		}
		d.WriteString("</g>")
		if of != nil {
			d.mark(l, n, left, of)
		}
		d.add(`<rect class="trim" x="%s" width="%s" height="%s"/>`, pt(left), pt(w), pt(h))
	}
	d.WriteString("</svg>")
	return template.HTML(d.String()), says, nil
}

// mark draws the bar beside the lines of the passage, in the outer margin.
func (d *drawing) mark(l *typeset.Layout, n int, left length.Length, of *Passage) {
	var top, foot length.Length
	any := false
	for k, line := range of.Lines {
		if of.Pages[k] != n {
			continue
		}
		if !any {
			top, any = line.Y, true
		}
		foot = line.Y
	}
	if !any {
		return
	}
	aside := l.Setting.Size.Length * 6 / 5
	x := l.BlockLeft(n) + l.Block.Measure + aside
	if !typeset.Recto(n) {
		x = l.BlockLeft(n) - aside
	}
	top -= l.Block.Ascender
	d.add(`<path class="mark" d="M%s %sv%s"/>`, pt(left+x), pt(top), pt(foot-top))
}

// platesDPI is how fine pictures are in a spread: as much as a screen shows of
// it at twice its dots.
const platesDPI = 110

// plates draws the pictures of a page below its type.
func (d *drawing) plates(l *typeset.Layout, n int, left length.Length) error {
	if len(l.Pages[n].Plates) == 0 {
		return nil
	}
	bare := *l
	bare.Pages = []typeset.Page{l.Pages[n]}
	bare.Pages[0].Lines = nil
	img, err := raster.Page(&bare, 0, raster.Options{DPI: platesDPI})
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: 72}); err != nil {
		return fmt.Errorf("a picture of page %s: %w", l.Pages[n].Label, err)
	}
	d.add(`<image class="plates" x="%s" width="%s" height="%s" preserveAspectRatio="none" href="data:image/jpeg;base64,%s"/>`,
		pt(left), pt(l.Trim.Width), pt(l.Trim.Height), base64.StdEncoding.EncodeToString(b.Bytes()))
	return nil
}
