package main

import (
	"context"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"
	"sync"

	"bodkin/cmd/bodkin/internal/edition"
	"bodkin/cmd/bodkin/internal/report"
	"bodkin/typeset"
	"bodkin/typeset/length"
)

// page gathers what the page for a browser says.
func (r *comparison) page(ctx context.Context, progress io.Writer) (*report.Comparison, error) {
	c := &report.Comparison{Title: r.Title, Author: r.Author, Language: r.job.book.Language, Words: r.Words, Paper: r.thickness()}
	for _, e := range r.Editions {
		var objections []string
		for _, o := range e.copy.Objections {
			objections = append(objections, apart(o.String())+".")
		}
		c.Editions = append(c.Editions, report.Edition{Name: e.Name, Layout: e.layout, Spine: e.copy.Spine, Outer: e.copy.Flat.Outer, Says: e.says(), Objections: objections})
		if e.layout.Unsettled {
			c.Cautions = append(c.Cautions, e.Name+": no back margin agrees with the number of pages it makes; the larger was kept.")
		}
	}
	for _, row := range r.rows() {
		if row.choice && !row.differing {
			continue
		}
		f := report.Figure{Name: row.name, Means: row.means, Choice: row.choice}
		for i, cell := range row.cells {
			one := report.Cell{Value: apart(cell), Difference: apart(row.by[i])}
			for _, d := range r.Editions[i].Doubts {
				if doubted[d] == row.name {
					one.Doubt = d
				}
			}
			f.Cells = append(f.Cells, one)
		}
		c.Figures = append(c.Figures, f)
	}
	var err error
	c.Panels, err = r.panels(ctx, progress)
	return c, err
}

// doubted tells which figure a doubt is about.
var doubted = map[string]string{"short lines": "characters a line", "long lines": "characters a line", "small type": "size", "tight leading": "leading"}

// apart writes trims and lengths as a printed page has them: 5 × 8 in.
func apart(s string) string {
	s = sides.ReplaceAllString(s, "$1\u00a0×\u00a0$2")
	return units.ReplaceAllString(s, "$1\u00a0$2")
}

var (
	sides = regexp.MustCompile(`\b([0-9.]+(?:in|mm|pt)?)x([0-9])`)
	units = regexp.MustCompile(`([0-9])(pt|in|mm)\b`)
)

// thickness says what paper the drawings suppose.
func (r *comparison) thickness() string {
	var known []string
	for i, e := range r.Editions {
		if e.copy.Supposed {
			return "No printer’s terms are known, so the thickness is that of a common book paper: 80 g/m² with a bulk of 1.6 cm³/g."
		}
		if i > 0 && e.copy.Stock.Name == r.Editions[0].copy.Stock.Name {
			continue
		}
		known = append(known, "“"+e.copy.Stock.Name+"”")
	}
	return "The thickness is reckoned from the printer’s terms, on " + strings.Join(known, " and ") + "."
}

// says tells the money of an edition, and what a reader may find hard.
func (e *compared) says() []string {
	var said []string
	if e.copy.Charge != nil {
		s := fmt.Sprintf("A copy costs %s to print", edition.Show(*e.copy.Charge))
		if e.copy.Earnings != nil {
			s += fmt.Sprintf("; at %s it leaves you %s", edition.Show(*e.copy.List), edition.Show(*e.copy.Earnings))
		}
		said = append(said, s+".")
	}
	if len(e.Doubts) > 0 {
		said = append(said, "Some readers may find it hard: "+strings.Join(e.Doubts, ", ")+".")
	}
	return said
}

// What a chart shows: so many sizes and leadings, those of the editions among
// them, a step apart. Type for large print takes larger steps.
const (
	gridSizes, gridLeadings = 5, 4
	sizeStep, leadingStep   = length.Point / 2, length.Point
	largeType               = 14 * length.Point
)

// panels sets the book in a grid of sizes and leadings around the editions:
// one for all that agree in everything else.
func (r *comparison) panels(ctx context.Context, progress io.Writer) ([]report.Panel, error) {
	type key struct {
		setting typeset.Setting
		press   string // what the printer asks; a pointer would tell equals apart
	}
	var keys []key
	var panels []report.Panel
	var of [][]int // the editions of each
	for i, e := range r.Editions {
		k := key{setting: e.setting, press: fmt.Sprintf("%+v", e.setting.Press)}
		k.setting.Size, k.setting.Leading, k.setting.Press = length.Value{}, typeset.Leading{}, nil
		at := slices.Index(keys, k)
		if at < 0 {
			at = len(keys)
			keys, panels, of = append(keys, k), append(panels, report.Panel{}), append(of, nil)
		}
		of[at] = append(of[at], i)
	}
	var settings []typeset.Setting
	var cells []*int
	var at []int // the panel of each
	for n := range panels {
		p, large := &panels[n], length.Length(1)
		var letters []string
		for _, i := range of[n] {
			e := r.Editions[i]
			p.Sizes, p.Leadings = append(p.Sizes, e.setting.Size.Length), append(p.Leadings, e.layout.Block.Leading)
			letters = append(letters, string(rune('A'+i)))
			if e.setting.Size.Length >= largeType {
				large = 2
			}
		}
		p.Sizes, p.Leadings = around(p.Sizes, gridSizes, sizeStep*large, true), around(p.Leadings, gridLeadings, leadingStep*large, false)
		s := r.Editions[of[n][0]].setting
		p.Name = fmt.Sprintf("%s: %s, %s", strings.Join(letters, ", "), apart(describeTrim(s.Trim)), s.Face)
		for _, i := range of[n] {
			e := r.Editions[i]
			p.Chosen = append(p.Chosen, report.Chosen{Edition: i,
				Leading: slices.Index(p.Leadings, e.layout.Block.Leading), Size: slices.Index(p.Sizes, e.setting.Size.Length)})
		}
		for l := range p.Leadings {
			p.Pages = append(p.Pages, make([]int, len(p.Sizes)))
			for k := range p.Sizes {
				s.Size = length.Value{Length: p.Sizes[k]}
				s.Leading = typeset.Leading{Value: length.Value{Length: p.Leadings[l]}}
				settings, cells = append(settings, s), append(cells, &p.Pages[l][k])
				at = append(at, n)
			}
		}
	}
	bar := showSteps(progress, len(settings), "setting")
	defer bar.done()
	var mu sync.Mutex
	faults := make([]string, len(settings))
	err := r.job.composer.Castoff(ctx, settings, func(i int, l *typeset.Layout, err error) error {
		mu.Lock()
		defer mu.Unlock()
		if err != nil { // it has no point in the chart
			faults[i] = err.Error()
		} else {
			*cells[i] = len(l.Pages)
		}
		bar.step()
		return nil
	})
	for i, fault := range faults { // of the smallest setting that has one
		if p := &panels[at[i]]; p.Fault == "" && fault != "" {
			p.Fault = fault
		}
	}
	return panels, err
}

// mostSteps bounds what lies between editions that are far apart.
const mostSteps = 8

// around returns the lengths in order, each once, with more of them: a step
// apart in the gaps between them, then a step below and above in turn until
// there are so many.
func around(chosen []length.Length, n int, step length.Length, belowFirst bool) []length.Length {
	all := slices.Clone(chosen)
	slices.Sort(all)
	all = slices.Compact(all)
	for i := 1; i < len(all) && len(all) < mostSteps; i++ {
		if all[i]-all[i-1] >= step*3/2 {
			all = slices.Insert(all, i, all[i-1]+step)
		}
	}
	for below := belowFirst; len(all) < n; below = !below {
		if below && all[0] > 2*step {
			all = slices.Insert(all, 0, all[0]-step)
		} else {
			all = append(all, all[len(all)-1]+step)
		}
	}
	return all
}
