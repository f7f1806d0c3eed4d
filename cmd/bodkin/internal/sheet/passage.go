package sheet

import (
	"strings"

	"bodkin/markup"
	"bodkin/typeset"
	"bodkin/typeset/length"
)

// place is where a paragraph begins in a layout.
type place struct {
	page, line int
	cost       int // how far down the page, in thousandths of a full one, and more if not all of it is plain text
}

// passage finds the text page to show: a paragraph that begins on a full page
// of running text in every layout, as near to the head of it as may be, so that
// the pages have most of their words in common, and better on plain pages. It returns a place for each
// layout, and the words that begin the paragraph; nil where there is none.
func passage(layouts []*typeset.Layout) ([]place, string) {
	for _, fullness := range []int{900, 500, 1} {
		begins := make([]map[markup.Pos]place, len(layouts))
		for i, l := range layouts {
			begins[i] = paragraphs(l, fullness)
		}
		var best []place
		least := 0
		l := layouts[0]
		for p := range l.Pages {
			for k := range l.Pages[p].Lines {
				pos := l.Pages[p].Lines[k].Pos
				if at, ok := begins[0][pos]; !ok || at.page != p || at.line != k {
					continue
				}
				var all []place
				cost := 0
				for i := range layouts {
					if at, ok := begins[i][pos]; ok {
						all = append(all, at)
						cost = max(cost, at.cost)
					}
				}
				if len(all) == len(layouts) && (best == nil || cost < least) {
					best, least = all, cost
				}
			}
		}
		if best != nil {
			return best, beginning(&l.Pages[best[0].page].Lines[best[0].line])
		}
	}
	return nil, ""
}

// paragraphs returns where paragraphs begin on pages of running text, counted
// in figures, that are full to so many thousandths.
func paragraphs(l *typeset.Layout, fullness int) map[markup.Pos]place {
	begins := make(map[markup.Pos]place)
	for i := range l.Pages {
		p := &l.Pages[i]
		rows, extra, running := 0, 0, !p.Opening && len(p.Plates) == 0 && p.Label != "" && p.Label[0] >= '0' && p.Label[0] <= '9'
		for k := range p.Lines {
			switch p.Lines[k].Role {
			case typeset.Text:
				rows++
				if !l.Whole(i, &p.Lines[k]) {
					extra = 250
				}
			case typeset.Ornament, typeset.NoteText:
				extra = 250
			case typeset.Head, typeset.Folio:
			default:
				running = false
			}
		}
		if !running || rows*1000 < fullness*l.Block.Rows {
			continue
		}
		for k := range p.Lines {
			line := &p.Lines[k]
			if line.Role != typeset.Text || !line.First || line.Pos.File == "" || !l.Whole(i, line) {
				continue
			}
			if _, twice := begins[line.Pos]; !twice {
				begins[line.Pos] = place{i, k, extra + int((line.Y-l.Block.Baseline)*1000/(l.Block.Leading*length.Length(l.Block.Rows)))}
			}
		}
	}
	return begins
}

// beginning returns the first words of a line.
func beginning(l *typeset.Line) string {
	var b strings.Builder
	words := 1
	for i := range l.Runs {
		r := &l.Runs[i]
		if r.Added && l.Hyphen && i == len(l.Runs)-1 {
			break
		}
		if r.Space {
			if words++; words > 5 {
				break
			}
			b.WriteByte(' ')
		}
		b.WriteString(r.Glyphs.Text)
	}
	return b.String()
}

// opening returns the page on which a section begins; -1 where none does. With
// a section below 0 it is the first opening that has running text.
func opening(l *typeset.Layout, section int) int {
	for i := range l.Pages {
		p := &l.Pages[i]
		if !p.Opening || section >= 0 && p.Section != section {
			continue
		}
		for k := range p.Lines {
			if section >= 0 || p.Lines[k].Role == typeset.Text {
				return i
			}
		}
	}
	return -1
}
