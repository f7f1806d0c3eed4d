package report

import (
	"strings"
	"unicode/utf8"

	"bodkin/markup"
	"bodkin/typeset"
)

// Passage is a stretch of whole paragraphs as it stands in one layout.
type Passage struct {
	Page  int // that its first line stands on, as an index in Layout.Pages
	Lines []*typeset.Line
	Pages []int // of each line
	Paras []string
}

// Same finds the passage to show: running text from one place of the
// manuscript that stands in every layout, of nine to thirteen lines in the first
// of them, most of which fill the measure, as near as may be to the middle of the book. It has the paragraphs
// that it has whole, so that its words are the same everywhere. Where no such
// passage is (a picture book), a shorter or longer one will do; ok is false
// where there is no paragraph in common at all.
func Same(layouts []*typeset.Layout) (same []Passage, ok bool) {
	all := make([][]paragraph, len(layouts))
	index := make([]map[markup.Pos]int, len(layouts))
	for i, l := range layouts {
		all[i] = paragraphs(l)
		index[i] = make(map[markup.Pos]int, len(all[i]))
		for k := range all[i] {
			if _, twice := index[i][all[i][k].pos]; !twice {
				index[i][all[i][k].pos] = k
			}
		}
	}
	if len(layouts) == 0 || len(all[0]) == 0 {
		return nil, false
	}
	for _, want := range []struct {
		least, most int
		full        bool
	}{{9, 13, true}, {9, 13, false}, {5, 20, false}, {1, 60, false}} {
		n := len(all[0])
		for step := range 2 * n { // the middle, then further and further from it
			at := n/2 + (step+1)/2
			if step%2 == 1 {
				at = n/2 - (step+1)/2
			}
			if at < 0 || at >= n {
				continue
			}
			count := stretch(all[0], at, want.least, want.most)
			if count == 0 || want.full && !full(all[0][at:at+count]) {
				continue
			}
			if found := everywhere(all, index, at, count); found != nil {
				return found, true
			}
		}
	}
	return nil, false
}

// paragraph is a paragraph of plain running text in a layout.
type paragraph struct {
	pos    markup.Pos
	lines  []*typeset.Line
	pages  []int
	joined bool // it follows the one before it with nothing between
}

// paragraphs returns the plain paragraphs of a layout in reading order: those
// that run the full measure, behind an indent, and have no notes.
func paragraphs(l *typeset.Layout) []paragraph {
	var found []paragraph
	var at *paragraph
	joined, section := false, -1
	for i := range l.Pages {
		p := &l.Pages[i]
		if p.Section != section {
			joined, at, section = false, nil, p.Section
		}
		for k := range p.Lines {
			line := &p.Lines[k]
			if line.Role == typeset.NoteText || line.Role == typeset.Head || line.Role == typeset.Folio {
				continue
			}
			if line.First || at == nil {
				at = &paragraph{joined: joined, pos: line.Pos}
				if !line.First || line.X <= l.BlockLeft(i) {
					at.pos = markup.Pos{} // of no use
				}
			}
			if !plain(l, i, line) {
				at.pos = markup.Pos{}
			}
			at.lines, at.pages = append(at.lines, line), append(at.pages, i)
			if line.Last {
				if joined = at.pos.File != ""; joined {
					found = append(found, *at)
				}
				at = nil
			}
		}
	}
	return found
}

// plain reports whether a line of a page is of running text as wide as the block,
// without a reference to a note.
func plain(l *typeset.Layout, page int, line *typeset.Line) bool {
	if line.Role != typeset.Text || line.Pos.File == "" || !l.Whole(page, line) {
		return false
	}
	for i := range line.Runs {
		if line.Runs[i].Note != 0 {
			return false
		}
	}
	return true
}

// stretch returns how many paragraphs from at on make from least to most lines.
func stretch(all []paragraph, at, least, most int) int {
	lines := 0
	for k := at; k < len(all) && (k == at || all[k].joined); k++ {
		lines += len(all[k].lines)
		if lines > most {
			return 0
		}
		if lines >= least {
			return k - at + 1
		}
	}
	return 0
}

// full reports whether paragraphs are prose, most lines of which fill the
// measure: they tell more of a setting than short ones.
func full(all []paragraph) bool {
	lines, filled := 0, 0
	for i := range all {
		for _, line := range all[i].lines {
			if lines++; line.Justified {
				filled++
			}
		}
	}
	return filled*3 >= lines*2
}

// everywhere gathers so many paragraphs from at on in all layouts; nil where
// one of them has not got them so.
func everywhere(all [][]paragraph, index []map[markup.Pos]int, at, count int) []Passage {
	made := make([]Passage, len(all))
	for i := range all {
		begin, found := index[i][all[0][at].pos]
		if !found || begin+count > len(all[i]) {
			return nil
		}
		for k := range count {
			p := &all[i][begin+k]
			if p.pos != all[0][at+k].pos || k > 0 && !p.joined {
				return nil
			}
			made[i].Lines, made[i].Pages = append(made[i].Lines, p.lines...), append(made[i].Pages, p.pages...)
			made[i].Paras = append(made[i].Paras, words(p.lines))
		}
		made[i].Page = made[i].Pages[0]
	}
	return made
}

// words returns the text of the lines of a paragraph, without the hyphens that
// divide words at line ends.
func words(lines []*typeset.Line) string {
	var b strings.Builder
	for n, line := range lines {
		spaced := false // the last mark of the line stands apart
		for i := range line.Runs {
			r := &line.Runs[i]
			if r.Added && line.Hyphen && i == len(line.Runs)-1 {
				break
			}
			if r.Space {
				b.WriteByte(' ')
			}
			if r.Glyphs.Text != "" {
				b.WriteString(r.Glyphs.Text)
				spaced = r.Space
			}
		}
		if n == len(lines)-1 || line.Hyphen {
			continue
		}
		// A line may end behind a hyphen or a dash with no space to follow.
		last, _ := utf8.DecodeLastRuneInString(b.String())
		if !strings.ContainsRune("-‐–—/", last) || spaced && strings.ContainsRune("–—", last) {
			b.WriteByte(' ')
		}
	}
	return b.String()
}
