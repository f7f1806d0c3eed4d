package typeset

import "bodkin/markup"

// Counts are the plain figures of a layout.
type Counts struct {
	Pages      int `json:"pages"`      // all of them, as the printer counts
	Set        int `json:"set"`        // pages with something on them
	Blank      int `json:"blank"`      // pages with nothing on them
	Text       int `json:"text"`       // pages with running text
	Rows       int `json:"lines"`      // lines on a full page
	Characters int `json:"characters"` // in a full line, with its spaces, on average
}

// Counts counts pages and what stands on them.
func (l *Layout) Counts() Counts {
	c := Counts{Pages: len(l.Pages), Rows: l.Block.Rows}
	lines, characters := 0, 0
	for i := range l.Pages {
		p := &l.Pages[i]
		if p.Blank || len(p.Lines)+len(p.Plates) == 0 {
			c.Blank++
		}
		text := false
		for j := range p.Lines {
			line := &p.Lines[j]
			text = text || line.Role == Text
			if line.Justified && line.Role == Text {
				lines++
				if line.traits != nil {
					characters += int(line.traits.characters)
				} else {
					characters += line.characters()
				}
			}
		}
		if text {
			c.Text++
		}
	}
	c.Set = c.Pages - c.Blank
	if lines > 0 {
		c.Characters = (characters + lines/2) / lines
	}
	return c
}

// Coarse is a picture that is printed with fewer pixels to the inch than
// printers ask for.
type Coarse struct {
	Path  string `json:"picture"`
	Label string `json:"label"` // of the first page that shows it so
	Page  int    `json:"page"`  // counted from 1
	PPI   int    `json:"ppi"`
	Least int    `json:"least"`
}

// Pictures returns how many pictures the pages show, a spread counted once,
// and those that are coarse, in the order of their pages.
func (l *Layout) Pictures() (shown int, coarse []Coarse) {
	seen := make(map[*markup.Picture]bool)
	for i := range l.Pages {
		for k := range l.Pages[i].Plates {
			p := &l.Pages[i].Plates[k]
			if seen[p.Picture] {
				continue
			}
			seen[p.Picture] = true
			shown++
			if p.PPI < p.Wanted {
				coarse = append(coarse, Coarse{p.Picture.Path, l.Pages[i].Label, i + 1, p.PPI, p.Wanted})
			}
		}
	}
	return shown, coarse
}
