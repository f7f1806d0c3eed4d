package wordproc

import "strings"

// maxCell is how many letters the cell of a table may have: a table in a book
// is small.
const maxCell = 200

// table makes a table of a grid, or, where it only arranges text, paragraphs.
func (m *Manuscript) table(p *Paragraph, bs *[]block) {
	columns, cells, long := 0, 0, 0
	for _, row := range p.Table.Rows {
		columns = max(columns, len(row))
		for _, c := range row {
			text := 0
			for _, q := range c {
				text += countLetters(q.Text())
				if q.Table != nil || len(q.Runs) > 0 && q.Item != nil {
					long++
				}
				for _, r := range q.Runs {
					if r.Picture > 0 {
						long++
					}
				}
			}
			if len(c) > 0 && text > 0 {
				cells++
			}
			if text > maxCell || len(c) > 3 {
				long++
			}
		}
	}
	if cells == 0 && long == 0 {
		return
	}
	if columns < 2 || long > 0 {
		m.guess(false, p, "no table", "it has one column, or cells with more than a table in a book can hold: its text follows as paragraphs")
		m.flatten(p.Table, bs)
		return
	}
	*bs = append(*bs, block{kind: table, paras: []*Paragraph{p}})
}

func (m *Manuscript) flatten(t *Table, bs *[]block) {
	for _, row := range t.Rows {
		for _, c := range row {
			first := len(*bs) // block of the cell
			for _, q := range c {
				switch {
				case q.Table != nil:
					m.flatten(q.Table, bs)
				case !q.holdsText():
				case strings.TrimSpace(q.Text()) == "" && hasPicture(q):
					*bs = append(*bs, block{kind: picture, paras: []*Paragraph{q}})
				case q.Item != nil:
					if k := len(*bs) - 1; k >= 0 && (*bs)[k].kind == list {
						(*bs)[k].paras = append((*bs)[k].paras, q)
						continue
					}
					*bs = append(*bs, block{kind: list, paras: []*Paragraph{q}})
				default:
					if k := len(*bs) - 1; k >= first && (*bs)[k].kind == quotation {
						(*bs)[k].paras = append((*bs)[k].paras, q)
						continue
					}
					*bs = append(*bs, block{kind: quotation, paras: []*Paragraph{q}})
				}
			}
		}
	}
}

func hasPicture(p *Paragraph) bool {
	for _, r := range p.Runs {
		if r.Picture > 0 {
			return true
		}
	}
	return false
}
