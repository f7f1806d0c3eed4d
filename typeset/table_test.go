package typeset

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"bodkin/markup"
	"bodkin/typeset/length"

	"pgregory.net/rapid"
)

func TestLongTable(t *testing.T) {
	rows := []string{"Day|Water"}
	for n := range 90 {
		rows = append(rows, fmt.Sprintf("day %d|the water was so high that the office moved up by a floor, and nobody minded it but the clerk", n))
	}
	book := chapter(para(0, prose), tableOf("ll", rows...))
	l := compose(t, NewComposer(book, Resources{}), small())
	if err := Check(book, l); err != nil {
		t.Error(err)
	}
	inside(t, l)
	for i := range l.Pages {
		text := l.Pages[i].text()
		if l.Pages[i].Torn {
			t.Errorf("page %d is torn", i)
		}
		if len(text) > 0 && i > 0 && !strings.HasPrefix(text[0].text(), "day ") {
			t.Errorf("page %d begins inside a row: %q", i, text[0].text())
		}
	}
}

func TestTableFaults(t *testing.T) {
	for _, c := range []struct {
		table *markup.Table
		want  string
	}{
		{tableOf("lll", "a|b|c", strings.Repeat("unbreakable", 9)+"|"+strings.Repeat("immovable", 9)+"|c"), "the words of this table need 910pt, and a line has 288pt"},
		{tableOf("l", "a", strings.Repeat("word ", 900)), "row 2 of this table is"},
	} {
		_, err := NewComposer(chapter(c.table), Resources{}).Compose(t.Context(), small())
		fault := (*markup.Error)(nil)
		if !errors.As(err, &fault) || fault.Pos.Line != 7 || fault.Mend == "" || !strings.HasPrefix(fault.What, c.want) {
			t.Errorf("%v, want %q at line 7", err, c.want)
		}
	}
	// With soft hyphens it fits.
	soft := tableOf("lll", "a|b|c", strings.Repeat("unbreakable\u00ad", 9)+"|"+strings.Repeat("immovable\u00ad", 9)+"|c")
	book := chapter(soft)
	l := compose(t, NewComposer(book, Resources{}), small())
	if err := Check(book, l); err != nil {
		t.Error(err)
	}
	inside(t, l)
	if q := l.Quality(); q.Overfull > 0 || q.Hyphenated < 8 {
		t.Errorf("%+v", q)
	}
}

func TestShares(t *testing.T) {
	for _, c := range []struct {
		name        string
		least, most []length.Length
		room        length.Length
		want        []length.Length
	}{
		{"a short column keeps its width", []length.Length{10, 20}, []length.Length{30, 200}, 130, []length.Length{30, 100}},
		{"two long ones share by what they lack", []length.Length{10, 10}, []length.Length{110, 310}, 100, []length.Length{30, 70}},
		{"long words come first", []length.Length{10, 90}, []length.Length{40, 120}, 100, []length.Length{10, 90}},
		{"one column", []length.Length{10}, []length.Length{90}, 60, []length.Length{60}},
	} {
		got := shares(c.least, c.most, c.room)
		if fmt.Sprint(got) != fmt.Sprint(c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 6).Draw(t, "columns")
		least, most := make([]length.Length, n), make([]length.Length, n)
		for k := range n {
			least[k] = length.Length(rapid.Int64Range(1, 1<<22).Draw(t, "least"))
			most[k] = least[k] + length.Length(rapid.Int64Range(0, 1<<24).Draw(t, "more"))
		}
		if sum(most) == sum(least) {
			t.Skip("nothing to share")
		}
		room := length.Length(rapid.Int64Range(int64(sum(least)), int64(sum(most))-1).Draw(t, "room"))
		got := shares(least, most, room)
		for k := range got {
			if got[k] < least[k] || got[k] > most[k] {
				t.Fatalf("column %d has %d, of %d to %d", k, got[k], least[k], most[k])
			}
		}
		if s := sum(got); s > room || s < room-length.Length(n) {
			t.Fatalf("%d of %d", s, room)
		}
	})
}

func TestLowestLine(t *testing.T) {
	l := compose(t, NewComposer(chapter(para(0, "One."), tableOf("ll", "", strings.Repeat("many words ", 30)+"|few")), Resources{}), small())
	text := l.Pages[0].text()
	if last, row := text[len(text)-1].text(), l.rows(0); last != "few" || row < 11 {
		t.Errorf("%q ends the page on row %d", last, row)
	}
}
