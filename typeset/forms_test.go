package typeset

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bodkin/markup"
	"bodkin/typeset/length"

	"github.com/google/go-cmp/cmp"
)

// typed makes a text: _slanted_, {small capitals}, ^raised^, a number between daggers
// for a note, and an end of the line for a forced one.
func typed(s string) []markup.Inline {
	var ins []markup.Inline
	var style markup.Style
	pos := markup.Pos{File: "a.md", Line: 1}
	add := func(text string) {
		if text != "" {
			ins = append(ins, markup.Inline{Pos: pos, Text: text, Style: style})
		}
	}
	for s != "" {
		i := strings.IndexAny(s, "_{}^†\n")
		if i < 0 {
			add(s)
			break
		}
		add(s[:i])
		switch rest := s[i:]; {
		case rest[0] == '_':
			style ^= markup.Emphasis
			s = rest[1:]
		case rest[0] == '{' || rest[0] == '}':
			style ^= markup.Caps
			s = rest[1:]
		case rest[0] == '^':
			style ^= markup.Raised
			s = rest[1:]
		case rest[0] == '\n':
			ins = append(ins, markup.Inline{Pos: pos, Break: true})
			s = rest[1:]
		default:
			number, after, _ := strings.Cut(rest[len("†"):], "†")
			n := 0
			fmt.Sscan(number, &n)
			ins = append(ins, markup.Inline{Pos: pos, Note: n})
			s = after
		}
	}
	return ins
}

func para(use markup.Use, s string) *markup.Paragraph {
	return &markup.Paragraph{Pos: markup.Pos{File: "a.md", Line: 1}, Use: use, Text: typed(s)}
}

// poem makes a poem: an empty line ends a stanza, spaces before a line count.
func poem(s string) *markup.Verse {
	v := &markup.Verse{Pos: markup.Pos{File: "a.md", Line: 1}}
	for stanza := range strings.SplitSeq(s, "\n\n") {
		var lines []markup.VerseLine
		for line := range strings.SplitSeq(stanza, "\n") {
			text := strings.TrimLeft(line, " ")
			lines = append(lines, markup.VerseLine{Indent: len(line) - len(text), Text: typed(text)})
		}
		v.Stanzas = append(v.Stanzas, lines)
	}
	return v
}

// notice makes a sign of lines.
func notice(lines ...string) *markup.Sign {
	s := &markup.Sign{Pos: markup.Pos{File: "a.md", Line: 1}}
	for _, l := range lines {
		s.Lines = append(s.Lines, typed(l))
	}
	return s
}

// tableOf makes a table of rows, the cells of each between bars; the first row
// is its head, and columns are aligned as the letters l, c and r say.
func tableOf(columns string, rows ...string) *markup.Table {
	t := &markup.Table{Pos: markup.Pos{File: "a.md", Line: 7}}
	for _, c := range columns {
		t.Columns = append(t.Columns, map[rune]markup.Align{'l': markup.AlignLeft, 'c': markup.AlignCentre, 'r': markup.AlignRight}[c])
	}
	for i, row := range rows {
		var cells [][]markup.Inline
		for cell := range strings.SplitSeq(row, "|") {
			cells = append(cells, typed(strings.TrimSpace(cell)))
		}
		if i == 0 && row != "" {
			t.Head = cells
		} else if i > 0 {
			t.Rows = append(t.Rows, cells)
		}
	}
	return t
}

// chapter makes a book of one chapter.
func chapter(blocks ...markup.Block) *markup.Book {
	return &markup.Book{Title: "The Tide Clerk", Author: "Ines Marrow", Language: "en-GB", Sections: []*markup.Section{{
		Pos: markup.Pos{File: "a.md", Line: 1}, Matter: markup.Body, Title: typed("The Long Ebb"), Blocks: blocks}}}
}

const prose = "The harbour lay still under the moon, and nobody came to the counter of the tide office before the bells had rung for the second time that night; then the door opened, and the wind brought in the clerk."

// small is a setting of few letters, so that goldens are short.
func small() Setting {
	s := Default()
	s.Sink = 0
	return s
}

// sketch writes what stands on the pages of a layout, a line a line: what it
// is for, where its type begins and ends and its row, and what it says.
// Lengths are points, from the left edge of the text block.
func sketch(l *Layout) string {
	var b strings.Builder
	for i := range l.Pages {
		if len(l.Pages[i].text()) == 0 {
			continue
		}
		fmt.Fprintf(&b, "page %s, %.1f wide\n", l.Pages[i].Label, points(l.Block.Measure))
		for _, line := range l.Pages[i].text() {
			x, row := line.X-l.BlockLeft(i), (line.Y-l.Block.Baseline)/l.Block.Leading+1
			from, to := line.Runs[0].X, end(line.Runs)
			fmt.Fprintf(&b, "%-8v%2d %6.1f –%6.1f  %s\n", line.Role, row, points(x+from), points(x+to), line.text())
		}
	}
	return b.String()
}

func points(l length.Length) float64 { return float64(l) / float64(length.Point) }

// golden compares a text with a file of testdata, which UPDATE=1 writes anew.
func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", "forms", name+".txt")
	if os.Getenv("UPDATE") != "" {
		if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(got), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("%s (UPDATE=1 writes it anew):\n%s", path, diff)
	}
}

var ballad = poem("The keeper lit the lamp at nine,\n  the tide came in at ten,\nand nobody who crossed the bar\n  has crossed it back again.\n\nO call the clerk, and call the cook, and call the harbour master out of bed, for there is water on the stair,\n  and mend the broken chain.")

var poster = notice("Harbour Office", "No Entry", "after the evening gun")

var tides = tableOf("lcr", "Day|Moon|High water", "Monday|new|6.04", "Tuesday||6.51", "Wednesday, after the storm|waxing|17.38")

var wideTable = tableOf("llr", "Ship|What became of her|Year",
	"_Perpetua_|ran aground on the bar in fog with all her cargo of slates, and was broken up by the men of the town before the owners came|1868",
	"_Good Intent_|lost|1871")

func quoted(form markup.Form, blocks ...markup.Block) *markup.Quotation {
	return &markup.Quotation{Pos: markup.Pos{File: "a.md", Line: 1}, Form: form, Blocks: blocks}
}

var epistle = quoted(markup.Letter,
	para(markup.Address, "The Harbour Office\n3 May 1871"),
	para(markup.Salutation, "Dear Keeper,"),
	para(markup.Running, prose),
	para(markup.Running, "Pray burn this."),
	para(markup.Signature, "Yours faithfully,\nI. Marrow"))

// forms are the forms that a text can have, each with what stands around it.
var forms = []struct {
	name   string
	blocks []markup.Block
	set    func(*Setting)
}{
	{"verse", []markup.Block{para(0, prose), ballad, para(0, prose)}, nil},
	{"verse-quoted", []markup.Block{para(0, prose), quoted(markup.Extract, ballad, para(markup.Attribution, "— Harbour song")), para(0, prose)}, nil},
	{"motto", []markup.Block{para(0, prose), &markup.Heading{Level: 1, Text: typed("The Bar")}, quoted(markup.Motto, para(0, "No vessel shall pass the bar after the evening gun, whoever is her master."), para(markup.Attribution, "— Harbour Rules, 1871")), para(0, prose)}, nil},
	{"letter", []markup.Block{para(0, prose), epistle, para(0, prose)}, nil},
	{"letters-alone", []markup.Block{epistle, notice("The same to the same"), epistle}, nil},
	{"sign", []markup.Block{para(0, prose), poster, para(0, prose)}, nil},
	{"sign-face", []markup.Block{para(0, prose), poster, para(0, prose)}, func(s *Setting) { s.SignFace = "Libre Baskerville" }},
	{"sign-capitals", []markup.Block{para(0, prose), notice("KEEP OUT"), para(0, "The door said {NO ENTRY} and {No Entry} and {no entry}.")}, func(s *Setting) { s.Face = "Crimson Pro" }},
	{"table", []markup.Block{para(0, prose), tides, para(0, prose)}, nil},
	{"table-wide", []markup.Block{para(0, prose), wideTable, para(0, prose)}, nil},
	{"headings", []markup.Block{para(0, prose),
		&markup.Heading{Level: 1, Text: typed("The Bar and the Bell")}, para(0, prose),
		&markup.Heading{Level: 2, Text: typed("What the _Perpetua_ brought")}, para(0, prose),
		&markup.Heading{Level: 3, Text: typed("Slates")}, para(0, prose)}, nil},
}

// Where each form stands, as a person reads it from a sketch of its page.
func TestForms(t *testing.T) {
	for _, f := range forms {
		t.Run(f.name, func(t *testing.T) {
			s := small()
			if f.set != nil {
				f.set(&s)
			}
			book := chapter(f.blocks...)
			l := compose(t, NewComposer(book, Resources{}), s)
			if err := Check(book, l); err != nil {
				t.Error(err)
			}
			inside(t, l)
			golden(t, f.name, sketch(l))
		})
	}
}

// TestSignHeadsLetter: wherever a sign falls, the letter that it heads begins on
// its page.
func TestSignHeadsLetter(t *testing.T) {
	for n := range 30 {
		var blocks []markup.Block
		for range n {
			blocks = append(blocks, para(0, "The harbour lay still."))
		}
		book := chapter(append(blocks, notice("The same to the same"), epistle, para(0, prose))...)
		l := compose(t, NewComposer(book, Resources{}), small())
		page := func(what string) int {
			for i := range l.Pages {
				for _, line := range l.Pages[i].text() {
					if strings.HasPrefix(line.text(), what) {
						return i
					}
				}
			}
			t.Fatalf("%d lines before: %q is on no page", n, what)
			return 0
		}
		if a, b := page("The same"), page("The Harbour Office"); a != b {
			t.Errorf("%d lines before: the sign is on page %d, its letter on %d", n, a+1, b+1)
		}
	}
}

// TestMottoOfShortParagraphs: no line of a motto is turned over for the indent
// of its own paragraph.
func TestMottoOfShortParagraphs(t *testing.T) {
	book := chapter(quoted(markup.Motto, para(0, "Theo"), para(0, "One year later")), para(0, prose))
	l := compose(t, NewComposer(book, Resources{}), small())
	if s := sketch(l); !strings.Contains(s, "  One year later\n") || !strings.Contains(s, "  Theo\n") {
		t.Error(s)
	}
}
