package typeset

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"bodkin/markup"
	"bodkin/typeset/length"
)

// lineOf returns the page of the first line of text that begins so, and its

// place among the lines of the page; it is an error if there is none.

func lineOf(t *testing.T, l *Layout, begins string) (page, line int) {
	t.Helper()
	for i := range l.Pages {
		for j := range l.Pages[i].text() {
			if strings.HasPrefix(l.Pages[i].Lines[j].text(), begins) {
				return i, j
			}
		}
	}
	t.Fatalf("no line begins with %q", begins)
	return 0, 0
}

// Short stanzas stay on a page, longer ones leave two lines on each, and no

// page begins with what is turned over.
func TestStanzasStay(t *testing.T) {
	var blocks []markup.Block
	sizes := []int{1, 2, 3, 4, 5, 6, 7, 9, 12, 30}
	for n := range 60 {
		var lines []string
		for k := range sizes[n*7%len(sizes)] {
			line := fmt.Sprintf("s%d.%d and the tide came in", n, k)
			if (n+k)%3 == 0 {
				line += ", and went out again over the bar, and came in, and went out, and nobody counted"
			}
			lines = append(lines, line)
		}
		if n%3 == 0 {
			blocks = append(blocks, para(0, prose))
		}
		blocks = append(blocks, poem(strings.Join(lines, "\n")+"\n\nand so on"))
	}
	book := chapter(blocks...)
	for _, trim := range []string{"5x8in", "A-format"} {
		s := small()
		s.Trim, _ = ParseTrim(trim)
		l := compose(t, NewComposer(book, Resources{}), s)
		if err := Check(book, l); err != nil {
			t.Error(err)
		}
		inside(t, l)
		for i := range l.Pages {
			if text := l.Pages[i].text(); len(text) > 0 && !text[0].First && !text[0].Justified && strings.HasPrefix(text[0].text(), "s") {
				t.Errorf("%s: page %d begins with %q, which is turned over", trim, i, text[0].text())
			}
			if l.Pages[i].Torn {
				t.Errorf("%s: page %d is torn", trim, i)
			}
		}
		for n := range 60 {
			size := sizes[n*7%len(sizes)]
			var on []int // the page of each line
			for k := range size {
				page, _ := lineOf(t, l, fmt.Sprintf("s%d.%d ", n, k))
				on = append(on, page)
			}
			for k := 1; k < size; k++ {
				if on[k] != on[k-1] && (size <= 4 || k == 1 || k == size-1) {
					t.Errorf("%s: stanza %d of %d lines is divided after %d", trim, n, size, k)
				}
			}
		}
	}
}

// What must stay with its neighbour does, wherever the page ends fall.
func TestKeptTogether(t *testing.T) {
	for before := range 34 {
		var blocks []markup.Block
		for n := range before {
			blocks = append(blocks, para(0, fmt.Sprintf("Line %d of the log.", n)))
		}
		rows := []string{"Number|What"}
		for n := range 12 {
			rows = append(rows, fmt.Sprintf("row%d|a thing that was on the counter of the office in the morning, and not at night", n))
		}
		blocks = append(blocks,
			quoted(markup.Extract, para(0, "Quoted words."), para(markup.Attribution, "— Somebody")),
			quoted(markup.Letter, para(markup.Address, "Address one\nAddress two\nAddress three\nAddress four\nAddress five"), para(markup.Salutation, "Dear Keeper,"),
				para(0, "Letter text."), para(markup.Signature, "Signed one\nSigned two")),
			notice("Notice one", "Notice two", "Notice three", "Notice four", "Notice five", "Notice six"),
			tableOf("ll", rows...),
			&markup.Heading{Level: 2, Text: typed("Subheading")}, para(0, prose))
		book := chapter(blocks...)
		l := compose(t, NewComposer(book, Resources{}), small())
		if err := Check(book, l); err != nil {
			t.Error(err)
		}
		inside(t, l)
		for _, kept := range [][]string{
			{"Quoted words.", "— Somebody"}, {"Address one", "Address two", "Address three", "Address four", "Address five", "Dear Keeper,", "Letter text.", "Signed one", "Signed two"},
			{"Notice one", "Notice two", "Notice three", "Notice four", "Notice five", "Notice six"},
			{"Number", "row0", "row1", "row2", "row11"}, {"Subheading", "The harbour"},
		} {
			for k := 1; k < len(kept); k++ {
				a, _ := lineOf(t, l, kept[k-1])
				from := a
				if kept[k] == "The harbour" {
					b := 0
					for i := range l.Pages {
						for _, line := range l.Pages[i].text() {
							if strings.HasPrefix(line.text(), kept[k]) {
								b = i
							}
						}
					}
					if a != b {
						t.Errorf("after %d lines: %q on page %d, its text on %d", before, kept[k-1], a, b)
					}
					continue
				}
				if b, _ := lineOf(t, l, kept[k]); b != from {
					t.Errorf("after %d lines: %q on page %d, %q on %d", before, kept[k-1], from, kept[k], b)
				}
			}
		}
	}
}

// A table that no page can hold goes on between two of its rows.

// Tables that cannot be set are refused with their place and a way out.

// Words of another language are divided as it divides them (by the patterns of

// the hyphen package, which has its own tests), those of a language that is

// not at hand not at all.

// One word in two languages is divided in each as that does.

// Small capitals, in faces that have them and in others: the letters stay

// those of the manuscript, whatever is drawn.

// Signs have their own face, which a composer keeps apart from none, and whose

// lack of a glyph is its own.

// Lines that are not justified are never loose, tight, runts or rivers.
func TestFormsAreNoFaults(t *testing.T) {
	s := small()
	s.Trim, _ = ParseTrim("A-format")
	short := quoted(markup.Letter, para(markup.Address, "The Harbour Office\n3 May 1871"), para(markup.Salutation, "Dear Keeper,"), para(markup.Signature, "Yours,\nI. M."))
	l := compose(t, NewComposer(chapter(ballad, poster, tides, wideTable, short,
		quoted(markup.Motto, para(0, prose), para(markup.Attribution, "— The harbour master, in a letter that nobody was meant to read, least of all the clerk")),
		&markup.Heading{Level: 1, Text: typed(strings.Repeat("A heading that is long ", 9))}), Resources{}), s)
	for _, f := range l.Findings() {
		switch f.Kind {
		case UnevenSpread, LongSpread, ShortSpread, ShortEnd:
		default:
			t.Errorf("%v: %q", f.Kind, f.Text)
		}
	}
}

// What is too long for everything is still set, on the grid and in the measure.
func TestAbsurdlyLong(t *testing.T) {
	word := strings.Repeat("unbreakable", 37)[:400]
	heading := strings.TrimSpace(strings.Repeat("A heading of a great many words ", 13)[:400])
	for _, v := range []struct{ face, trim, size string }{
		{"EB Garamond", "5x8in", "11pt"}, {"Libre Baskerville", "A-format", "12pt"}, {"Crimson Pro", "6x9in", "9pt"}, {"Spectral", "3x5in", "8pt"},
	} {
		s := small()
		s.Face = v.face
		s.Trim, _ = ParseTrim(v.trim)
		_ = s.Size.UnmarshalText([]byte(v.size))
		_ = s.Leading.UnmarshalText([]byte("127%"))
		deep := markup.Block(para(0, prose+" "+word))
		for range 9 {
			deep = quoted(markup.Extract, deep, quoted(markup.Letter, para(markup.Signature, word)))
		}
		blocks := []markup.Block{
			&markup.Heading{Level: 1, Text: typed(heading)}, para(0, word), &markup.Heading{Level: 3, Text: typed(word)}, poem(word + "\n      " + word + "\n\n" + strings.Repeat(" ", 90) + "deep"),
			notice(word, heading), quoted(markup.Motto, para(0, word), para(markup.Attribution, "— "+word)),
			quoted(markup.Letter, para(markup.Address, word+"\n"+word), para(markup.Salutation, word), para(markup.Signature, word)),
			quoted(markup.Extract, poster, ballad, wideTable), quoted(markup.Extract, &markup.List{Items: []markup.Item{{Blocks: []markup.Block{tides}}, {Blocks: []markup.Block{poem("Turn the lamp\nand burn the lamp")}}, {Blocks: []markup.Block{notice("Gone")}}}}),
			deep, &markup.Paragraph{Text: []markup.Inline{{Text: word, Style: markup.Caps}, {Text: " "}, {Text: word, Style: markup.Inscribed, Lang: "de"}}},
			poem(""), notice(), notice("", ""), tableOf("l", ""), tableOf("ll", "|", "|"), para(markup.Attribution, ""), para(0, "The end."),
		}
		book := chapter(blocks...)
		l, err := NewComposer(book, Resources{}).Compose(t.Context(), s)
		if err != nil {
			t.Errorf("%v: %v", v, err)
			continue
		}
		if err := Check(book, l); err != nil {
			t.Errorf("%v: %v", v, err)
		}
		inside(t, l)
		if q := l.Quality(); q.Overfull > 0 {
			t.Errorf("%v: %+v", v, q)
		}
	}
}

// Lists in lists, without end, are refused.
func TestDeepList(t *testing.T) {
	deep := markup.Block(para(0, "A word."))
	for range 30 {
		deep = &markup.List{Pos: markup.Pos{File: "a.md", Line: 7}, Tight: true, Items: []markup.Item{{Blocks: []markup.Block{deep}}}}
	}
	_, err := NewComposer(chapter(deep), Resources{}).Compose(t.Context(), small())
	fault := (*markup.Error)(nil)
	if !errors.As(err, &fault) || fault.Pos.Line != 7 || !strings.HasPrefix(fault.What, "this list stands so deep") {
		t.Error(err)
	}
}

// Notes that verse, signs and tables refer to stand at the foot of their pages.
func TestNotesOfForms(t *testing.T) {
	book := chapter(para(0, prose), poem("The keeper lit the lamp†1† at nine,\nthe tide came in at ten†2†"), para(0, prose),
		notice("No Entry†3†"), tableOf("ll", "Day|Water†4†", "Monday†5†|high†6†"),
		quoted(markup.Letter, para(markup.Address, "Here†7†"), para(markup.Salutation, "Dear†8† Keeper,"), para(markup.Signature, "I. M.†9†")), para(0, prose))
	for n := range 9 {
		book.Sections[0].Notes = append(book.Sections[0].Notes, &markup.Note{Label: fmt.Sprint(n + 1), Blocks: []markup.Block{para(0, fmt.Sprintf("Note %d.", n+1))}})
	}
	s := small()
	s.Trim, _ = ParseTrim("A-format")
	l := compose(t, NewComposer(book, Resources{}), s)
	if err := Check(book, l); err != nil {
		t.Error(err)
	}
	found := 0
	for i := range l.Pages {
		refers, has := make(map[int32]bool), make(map[int32]bool)
		for _, line := range l.Pages[i].text() {
			for _, r := range line.Runs {
				if r.Note > 0 && line.Role == NoteText {
					has[r.Note] = true
				} else if r.Note > 0 {
					refers[r.Note] = true
				}
			}
		}
		found += len(refers)
		if fmt.Sprint(refers) != fmt.Sprint(has) {
			t.Errorf("page %d refers to %v and has %v", i, refers, has)
		}
	}
	if found != 9 {
		t.Errorf("%d references", found)
	}
}

// Forms stand in notes at the foot as well, on the closer lines of notes.
func TestFormsInNotes(t *testing.T) {
	turned := chapter(para(0, prose+"†1†"))
	turned.Sections[0].Notes = []*markup.Note{{Label: "a", Blocks: []markup.Block{wideTable}}}
	if _, err := NewComposer(turned, Resources{}).Compose(t.Context(), small()); err == nil || !strings.Contains(err.Error(), "takes more than a line") {
		t.Errorf("a table with turned cells in a note: %v", err)
	}
	book := chapter(para(0, prose+"†1†"))
	book.Sections[0].Notes = []*markup.Note{{Label: "a", Blocks: []markup.Block{para(0, "See:"), tableOf("ll", "Day|Water", "Monday|high"), ballad, poster}}}
	l := compose(t, NewComposer(book, Resources{}), small())
	if err := Check(book, l); err != nil {
		t.Error(err)
	}
	first := length.Length(0)
	notes := 0
	for _, line := range l.Pages[0].text() {
		if line.Role != NoteText {
			continue
		}
		notes++
		if first == 0 {
			first = line.Y
		}
		leading := l.Block.noteLeading()
		row := (line.Y - first + leading/2) / leading
		if off := line.Y - first - row*leading; max(off, -off) > 64 {
			t.Errorf("%q is %v off the lines of its note", line.text(), off)
		}
	}
	if notes < 14 {
		t.Errorf("%d lines of notes", notes)
	}
}

// A page ends where its lowest line does, be it the last in reading order or

// not.

// Soft hyphens divide where the lines are ragged, and no-break spaces hold.

// Any forms in one another, in any setting, are set soundly or refused with

// one line that names their place.
