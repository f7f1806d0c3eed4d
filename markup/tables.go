package markup

import (
	"bytes"

	"github.com/yuin/goldmark/ast"
	extast "github.com/yuin/goldmark/extension/ast"
)

// table makes a Table of goldmark's. Rows with too few cells have been filled
// up; cells beyond the columns of the head would be dropped, and are an error.
func (c *chapter) table(n *extast.Table) *Table {
	t := &Table{Pos: c.at(n.Pos())}
	for _, a := range n.Alignments {
		align := AlignLeft
		switch a {
		case extast.AlignCenter:
			align = AlignCentre
		case extast.AlignRight:
			align = AlignRight
		}
		t.Columns = append(t.Columns, align)
	}
	for row := n.FirstChild(); row != nil; row = row.NextSibling() {
		at := c.at(row.Pos())
		if cells := countCells(c.rowOf(row, at)); cells > len(t.Columns) && row.Pos() >= 0 {
			c.fault(at, "this row has "+itoa(cells)+" cells, and the table "+itoa(len(t.Columns))+" columns",
				`add a column to its first lines, or write \| for a line that is part of the text`)
		}
		texts, some := c.cells(row)
		if _, head := row.(*extast.TableHeader); !head {
			t.Rows = append(t.Rows, texts)
			continue
		}
		t.Pos = at
		if some {
			t.Head = texts
		}
	}
	return t
}

// rowOf returns the line of a row, without the mark of the list item or note
// that it may begin.
func (c *chapter) rowOf(row ast.Node, at Pos) []byte {
	line := c.line(at.Line)
	cell := row.FirstChild()
	if cell == nil || cell.Lines().Len() == 0 || at.Line < 1 {
		return line
	}
	from := cell.Lines().At(0).Start - c.lines[at.Line-1]
	if from < 0 || from > len(line) {
		return line
	}
	if head := bytes.TrimRight(line[:from], " \t"); bytes.HasSuffix(head, []byte("|")) {
		from = len(head) - 1 // an empty cell lies at its end
	}
	return line[from:]
}

// cells returns the texts of a row, and whether there is any.
func (c *chapter) cells(row ast.Node) (texts [][]Inline, some bool) {
	for cell := row.FirstChild(); cell != nil; cell = cell.NextSibling() {
		text := c.inlines(cell)
		some = some || len(text) > 0
		texts = append(texts, text)
	}
	return texts, some
}

// countCells counts the cells of a line as goldmark divides it: at every |
// that has no backslash before it.
func countCells(line []byte) int {
	from, to := 0, len(line)
	for from < to && (line[from] == ' ' || line[from] == '\t' || line[from] == '>') {
		from++
	}
	for to > from && (line[to-1] == ' ' || line[to-1] == '\t') {
		to--
	}
	if from < to && line[from] == '|' {
		from++
	}
	if from < to && line[to-1] == '|' && (to-2 < from || line[to-2] != '\\') {
		to--
	}
	n := 1
	for i := from; i < to; i++ {
		if line[i] == '|' && line[i-1] != '\\' {
			n++
		}
	}
	return n
}
