package typeset

import (
	"fmt"
	"slices"

	"bodkin/markup"
	"bodkin/typeset/length"
	"bodkin/typeset/pages"
)

// table adds a small table, a row from the text, without rules: white space
// and the italics of its head tell what belongs together.
//
// Where all cells fit on one line each, every column is as wide as its widest
// cell and the table is centred. Otherwise it is as wide as the measure: a
// column whose widest cell takes no more than an even share of it has the
// width of that cell. The others have that of their longest word, and what is
// left is shared among them in proportion to what each lacks to its widest
// cell. Cells are ragged; what is turned over in one at the left is set in by
// half an em, so that the rows can be told apart.
//
// A table stays on one page if a page can hold it. A longer one is continued
// between two rows, its first two and its last two kept together; the head is
// not repeated. A row is never divided.
func (c *column) table(b *markup.Table, f inset) error {
	if len(b.Columns) == 0 {
		return nil
	}
	t := tabular{c: c, b: b, sh: c.shape(f, ragged)}
	if err := t.measure(); err != nil {
		return err
	}
	c.space()
	cells := c.p.blocks[b]
	rows := len(cells) / len(b.Columns)
	var items []pages.Item
	var lines [][]Line
	total := 0
	for r := range rows {
		row, depth, err := t.row(cells[r*len(b.Columns):][:len(b.Columns)])
		if err != nil {
			return err
		}
		if depth >= c.block.Rows {
			return &markup.Error{Pos: b.Pos, What: fmt.Sprintf("row %d of this table is %d lines high, and a page has %d", r+1, depth, c.block.Rows),
				Mend: "make several rows of it, or a list of the table"}
		}
		it := pages.Item{Rows: depth}
		if c.feet != nil {
			referLines(&it, row, c.feet.counts)
		}
		items, lines = append(items, it), append(lines, row)
		total += depth
	}
	for r := range items[:max(0, len(items)-1)] {
		if total <= c.block.Rows-1 || staysWithNext(r, len(items)) || b.Head != nil && r == 1 {
			items[r].Verso, items[r].Recto = pages.Forbid, pages.Forbid
		}
	}
	if len(items) > 0 {
		c.blocks = append(c.blocks, pages.Block{{Items: items}})
		c.fills = append(c.fills, fill{lines: [][][]Line{lines}})
	}
	c.space()
	c.plain = false
	return nil
}

// tabular is a table at work.
type tabular struct {
	c      *column
	b      *markup.Table
	sh     shape           // of a text as wide as the table may be
	lefts  []length.Length // of the columns, from the left edge of the table's measure
	widths []length.Length
}

// turnedIn is how far what is turned over in a cell is set in.
func (t *tabular) turnedIn() length.Length { return t.sh.size / 2 }

// measure finds the widths of the columns. The room between two is an em and a
// half, or an em where there is not as much.
func (t *tabular) measure() error {
	n := len(t.b.Columns)
	most := make([]length.Length, n)  // for cells of one line
	least := make([]length.Length, n) // for the longest word
	for i, cell := range t.c.p.blocks[t.b] {
		k := i % n
		natural, err := t.c.set.natural(cell, &t.sh)
		if err != nil {
			return err
		}
		most[k] = max(most[k], natural)
		least[k] = max(least[k], t.longestWord(cell, t.b.Columns[k]))
	}
	between := t.sh.size * 3 / 2
	room := t.sh.measure - length.Length(n-1)*between
	if sum(most) <= room {
		t.place(most, between, (room-sum(most))/2)
		return nil
	}
	if sum(least) > room {
		between = t.sh.size
		room = t.sh.measure - length.Length(n-1)*between
	}
	if lacking := sum(least) - room; lacking > 0 {
		return &markup.Error{Pos: t.b.Pos,
			What: fmt.Sprintf("the words of this table need %v, and a line has %v", tenth(t.sh.measure+lacking), tenth(t.sh.measure)),
			Mend: "leave out a column, shorten its longest words or show with soft hyphens where they may be divided, or set smaller"}
	}
	t.place(shares(least, most, room), between, 0)
	return nil
}

// shares returns the widths of columns that have room for their longest words,
// but not for their widest cells.
func shares(least, most []length.Length, room length.Length) []length.Length {
	widths := slices.Clone(least)
	spare, lack := room-sum(least), sum(most)-sum(least)
	// Columns that take no more than an even share, unless the longest words of
	// the others need it.
	done := make([]bool, len(widths))
	even, open := room, length.Length(len(widths))
	for again := true; again; {
		again = false
		for k, wide := range most {
			if done[k] || wide > even/open || wide-least[k] > spare {
				continue
			}
			done[k], again = true, true
			even, open = even-wide, open-1
			spare, lack = spare-(wide-least[k]), lack-(wide-least[k])
			widths[k] = wide
			if open == 0 {
				return widths
			}
		}
	}
	for k := range widths {
		if !done[k] {
			widths[k] += spare * (most[k] - least[k]) / lack
		}
	}
	return widths
}

// tenth writes a length in points, to a tenth.
func tenth(l length.Length) string {
	n := (l*10 + length.Point/2) / length.Point
	return decimal(int64(n)*100) + "pt"
}

// place sets the columns side by side.
func (t *tabular) place(widths []length.Length, between, left length.Length) {
	t.widths = widths
	for _, w := range widths {
		t.lefts = append(t.lefts, left)
		left += w + between
	}
}

func sum(all []length.Length) length.Length {
	var s length.Length
	for _, l := range all {
		s += l
	}
	return s
}

// longestWord returns the width that a cell needs at the least: that of its
// longest word, or of a part of one between two places where a line may end.
func (t *tabular) longestWord(cell *text, how markup.Align) length.Length {
	var longest, x length.Length
	turned := length.Length(0)
	for i := range cell.tokens {
		tok := &cell.tokens[i]
		joined := false
		switch {
		case i == 0:
		case tok.sep == sepFixed:
			return t.whole(cell) // rare: it is not divided at all
		case tok.sep == sepThin, tok.sep == sepNarrow, tok.sep == sepHair, tok.sep == sepBound, tok.w.stuck:
			joined = true
			x += t.sh.size / 3
		}
		if !joined {
			x = 0
			if i > 0 && how == markup.AlignLeft {
				turned = t.turnedIn()
			}
		}
		x = tok.w.pieces(t.sh.size, x, func(wide length.Length) { longest = max(longest, turned+wide) })
		longest = max(longest, turned+x)
	}
	return longest + roundings
}

// whole returns the width of a cell on one line.
func (t *tabular) whole(cell *text) length.Length {
	wide, err := t.c.set.natural(cell, &t.sh)
	if err != nil {
		return 0 // the face has been found before
	}
	return wide + t.turnedIn()
}

// pieces calls yield with the width of each part of a word that ends a line,
// with x before the first, and returns the width of the last.
func (w *word) pieces(size, x length.Length, yield func(length.Length)) length.Length {
	k := 0
	for j := range w.parts {
		p := &w.parts[j]
		done, em := int32(0), p.size(size)
		for ; k < len(w.cuts) && w.cuts[k].part == j; k++ {
			cut := &w.cuts[k]
			if !byAuthor.may(cut) {
				continue
			}
			yield(x + scale(em, cut.to-done+cut.before, p.run.Face))
			x, done = scale(em, cut.after, p.run.Face), cut.to
		}
		x += scale(em, p.width()-done, p.run.Face)
	}
	return x
}

// row sets the cells of a row, which stand beside each other, and returns how
// many rows of the grid they take.
func (t *tabular) row(cells []*text) ([]Line, int, error) {
	var all []Line
	depth := 1
	for k, cell := range cells {
		if len(cell.tokens) == 0 {
			continue
		}
		sh := t.sh
		sh.left += t.lefts[k]
		sh.measure = t.widths[k]
		switch t.b.Columns[k] {
		case markup.AlignCentre:
			sh.align = centred
		case markup.AlignRight:
			sh.align = rightward
		default:
			sh.later = t.turnedIn()
		}
		lines, err := t.c.set.set(cell, sh)
		if err != nil {
			return nil, 0, err
		}
		for i := range lines {
			lines[i].Y = length.Length(i) * t.c.block.Leading
		}
		all = append(all, lines...)
		depth = max(depth, len(lines))
	}
	return all, depth, nil
}
