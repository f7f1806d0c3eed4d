package typeset

import (
	"context"
	"fmt"
	"testing"

	"bodkin/fonts"
	"bodkin/markup"
	"bodkin/markup/markuptest"
	"bodkin/typeset/length"
	"bodkin/typeset/paragraph"
)

// counted is what is counted of both breakers.
type counted struct {
	lines, loose, hyphens, ladders, turns, widows, orphans, uneven, pages int
}

func (t *counted) add(o counted) {
	t.lines += o.lines
	t.loose += o.loose
	t.hyphens += o.hyphens
	t.ladders += o.ladders
	t.turns += o.turns
	t.widows += o.widows
	t.orphans += o.orphans
	t.uneven += o.uneven
	t.pages += o.pages
}

// String gives the rates per 10 000 lines.
func (t counted) String() string {
	rate := func(n int) float64 { return float64(n) * 10000 / float64(t.lines) }
	return fmt.Sprintf("loose %6.1f  hyphens %6.1f  ladders %5.1f  turns %4.1f  widows %5.1f  orphans %5.1f  uneven %4.1f",
		rate(t.loose), rate(t.hyphens), rate(t.ladders), rate(t.turns), rate(t.widows), rate(t.orphans), rate(t.uneven))
}

// firstFit sets the paragraphs of a book as a plain breaker does: each line
// takes what fits it at natural spaces, with a hyphen where one helps, and
// each page takes as many lines as it has rows.
func firstFit(t *testing.T, c *Composer, s Setting, block Block) counted {
	t.Helper()
	face, err := c.res.Faces.Face(s.Face, fonts.Regular)
	if err != nil {
		t.Fatal(err)
	}
	g, err := c.galley(context.Background(), galleyKey{family: face.Family, figures: figures(&s)})
	if err != nil {
		t.Fatal(err)
	}
	set := &setter{words: g.words.fork()}
	sum := counted{}
	for i, sec := range c.book.Sections {
		row := min(s.Sink, block.Rows/3) + 4
		for k, b := range sec.Blocks {
			p, is := b.(*markup.Paragraph)
			if !is {
				continue
			}
			col := &column{s: &s, block: block}
			sh := col.shape(col.body(), justified)
			sh.hang = false
			if k > 0 {
				sh.first = s.indent()
			}
			text := g.sections[i].blocks[p][0]
			if len(text.tokens) == 0 {
				continue
			}
			set.build(text, &sh, spacesOf(face, sh.size))
			lines := greedy(set.items, block.Measure, sh.first)
			run := 0
			for n, l := range lines {
				sum.lines++
				if !l.Filled && l.Short > l.Flex {
					sum.loose++
				}
				if l.hyphen {
					sum.hyphens++
					if run++; run == 3 {
						sum.ladders++
					}
				} else {
					run = 0
				}
				if row++; row > block.Rows {
					row = 1
					if sum.pages++; sum.pages%2 == 0 && n > 0 && lines[n-1].hyphen {
						sum.turns++
					}
					if n == len(lines)-1 && n > 0 {
						sum.widows++
					}
				}
				if row == block.Rows && n == 0 && len(lines) > 1 {
					sum.orphans++
				}
			}
		}
	}
	return sum
}

type greedyLine struct {
	paragraph.Line
	hyphen bool
}

func greedy(items []paragraph.Item, measure, indent length.Length) []greedyLine {
	var lines []greedyLine
	from := 0
	for from < len(items) {
		room := measure
		if len(lines) == 0 {
			room -= indent
		}
		var natural, stretch length.Length
		var fit greedyLine
		filled := false
		for i := from; i < len(items); i++ {
			it := items[i]
			legal := it.Kind == paragraph.Penalty && it.Cost < paragraph.Forbid ||
				it.Kind == paragraph.Glue && it.Cost < paragraph.Forbid && i > from && items[i-1].Kind == paragraph.Box
			if legal {
				short := room - natural - it.Before
				if short < 0 && fit.To > 0 {
					break
				}
				fit = greedyLine{paragraph.Line{From: from, To: i, Short: short, Flex: stretch, Filled: filled}, it.Flagged && it.Cost > -paragraph.Forbid}
				if it.Cost <= -paragraph.Forbid {
					break
				}
			}
			if it.Kind != paragraph.Penalty {
				natural += it.Width
				if it.Stretch == paragraph.Fill {
					filled = true
				} else {
					stretch += it.Stretch
				}
			}
		}
		lines = append(lines, fit)
		from = fit.To + 1
		for from < len(items) && items[from].Kind != paragraph.Box {
			from++
		}
	}
	return lines
}

// Over three trims, two faces and four sizes that keep to 45 to 75 characters a
// line, with both texts: nothing that a
// typesetter must not let pass (R. Bringhurst, The Elements of Typographic
// Style, §2.1.2, §2.4; The Chicago Manual of Style on word division and
// make-up), and a fifth at most of the loose lines that a plain breaker makes.
func TestAgainstFirstFit(t *testing.T) {
	if testing.Short() {
		t.Skip("48 settings of two books")
	}
	var both [2]counted
	for _, text := range []struct {
		name string
		markuptest.Text
	}{{"Tom Sawyer", markuptest.TomSawyer(t)}, {"Opticks", markuptest.Opticks(t)}} {
		c := NewComposer(load(t, text.Source), Resources{})
		var ours, plain, fewest counted
		for _, trim := range []string{"5x8in", "B-format", "6x9in"} {
			for _, face := range []string{"EB Garamond", "Source Serif 4"} {
				for _, size := range []string{"9.5pt", "10pt", "10.5pt", "11pt"} {
					s := Default()
					s.Face = face
					s.Leading = Leading{Kind: Percent, Thousandth: 1270}
					if err := s.Trim.UnmarshalText([]byte(trim)); err != nil {
						t.Fatal(err)
					}
					if err := s.Size.UnmarshalText([]byte(size)); err != nil {
						t.Fatal(err)
					}
					name := fmt.Sprintf("%s, %s, %s %s", text.name, trim, face, size)
					l := compose(t, c, s)
					one := sound(t, name, l)
					other := firstFit(t, c, s, l.Block)
					ours.add(one)
					plain.add(other)

					s.Pages = FewestPages
					f := compose(t, c, s)
					fewest.add(sound(t, name+", fewest pages", f))
					if len(f.Pages) > len(l.Pages) || len(f.Pages) == len(l.Pages) && f.Saved > 1 {
						t.Errorf("%s: the fewest pages are %d (saved %d), the others %d", name, len(f.Pages), f.Saved, len(l.Pages))
					}
				}
			}
		}
		both[0].add(ours)
		both[1].add(plain)
		t.Logf("%s, per 10 000 lines\n first fit  %v\n total fit  %v\n fewest     %v\n pages %d, with the fewest %d", text.name, plain, ours, fewest, ours.pages, fewest.pages)
	}
	if both[0].loose*5 > both[1].loose {
		t.Errorf("%d loose lines, %d of a plain breaker", both[0].loose, both[1].loose)
	}
}

// sound checks what must hold of every layout, and counts the rest.
func sound(t *testing.T, name string, l *Layout) counted {
	t.Helper()
	q := l.Quality()
	if q.Widows > 0 || q.Orphans > 0 || q.Overfull > 0 || q.Ladder > mostHyphens || q.Short > 0 || q.Stranded > 0 {
		t.Errorf("%s: %+v", name, q)
	}
	for _, f := range l.Findings() {
		if f.Kind == UnevenSpread {
			t.Logf("%s: uneven: page %s, %v: %s", name, f.Label, f.Pos, f.Reason)
		}
		if f.Kind == UnevenSpread && f.Reason == "" {
			t.Errorf("%s: an uneven spread without a reason at %v", name, f.Pos)
		}
	}
	return counted{lines: q.Lines, loose: q.Loose, hyphens: q.Hyphenated, ladders: q.Ladders, turns: q.Rectos, widows: q.Widows,
		orphans: q.Orphans, uneven: q.Uneven, pages: len(l.Pages)}
}
