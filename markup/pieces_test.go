package markup

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

func TestPieces(t *testing.T) {
	dir := folderOf(t, "front/dedication.md", "x", "03 - EPIGRAPH.MD", "> a\n>\n> -- B", "Copyright.markdown", "x", "plain.md", "x", "rights.md", "x", "m.png", "",
		"plates.md", "![a](m.png)\n\n![b](m.png){.page}\n![c](m.png)\n", "titled/copyright.md", "# Copyright\n\nx", "dedications.md", "x", "verse/epigraph.md", "```verse\na\nb\n```\n")
	for _, c := range []struct {
		front []string
		want  string
	}{
		{[]string{"front/dedication.md", "03 - EPIGRAPH.MD", "Copyright.markdown", "plain.md"}, "dedication epigraph copyright chapter"},
		{[]string{"title-page", "rights.md", "plain.md"}, "- copyright chapter"},
		{[]string{"title-page", "front/dedication.md"}, "- dedication"},
		{[]string{"title-page", "plates.md"}, "- plate"},
		{[]string{"title-page", "titled/copyright.md"}, "- chapter"},
		{[]string{"half-title", "rights.md", "dedications.md"}, "- chapter chapter"},
		{[]string{"verse/epigraph.md"}, "epigraph"},
	} {
		b, err := Load(context.Background(), Source{Dir: dir, Front: c.front})
		if err != nil {
			t.Errorf("%q: %v", c.front, err)
			continue
		}
		var got []string
		for _, s := range b.Sections {
			if s.Kind != Written {
				got = append(got, "-")
				continue
			}
			got = append(got, []string{"chapter", "part", "copyright", "dedication", "epigraph", "plate"}[s.Piece])
			if s.Piece == Epigraph && !isMotto(s.Blocks[0]) {
				t.Errorf("%q: %s", c.front, shapeOf(s.Blocks))
			}
		}
		if g := strings.Join(got, " "); g != c.want {
			t.Errorf("%q: %s, want %s", c.front, g, c.want)
		}
	}
}

func TestSides(t *testing.T) {
	dir := folderOf(t, "a.md", "# A\n\nx", "b.md", "# B {.next}\n\nx\n\n# C\n\nx", "d on recto", "x", "e/1.md", "x", "e/2.md", "x")
	b, err := Load(context.Background(), Source{Dir: dir, Front: []string{"contents on next"},
		Body: []string{"a.md on verso", "b.md  on recto", "d on recto", "e/*.md on recto"}})
	if err != nil {
		t.Fatal(err)
	}
	var got []Side
	for _, s := range b.Sections {
		got = append(got, s.Side)
	}
	if want := []Side{OnEither, OnVerso, OnEither, ByCustom, ByCustom, OnRecto, OnRecto}; !slices.Equal(got, want) {
		t.Errorf("sides %v, want %v", got, want)
	}
	for _, c := range [][2]string{
		{"a.md on vreso", `a.md on vreso: a page has no side "vreso"; did you mean "a.md on verso"?`},
		{"a.md on left", `a.md on left: a page has no side "left"; write "a.md on recto", "on verso" or "on next"`},
		{"c.md on verso", `c.md: there is no such file in the book folder; did you mean "a.md"?`},
		{"notes", `notes: the notes are gathered in the back of a book; list them in back`},
	} {
		_, err := Load(context.Background(), Source{Dir: dir, Body: []string{c[0]}})
		if err == nil || err.Error() != c[1] {
			t.Errorf("%s\n got %v\nwant %s", c[0], err, c[1])
		}
	}
}

// The order of the letters: number, title, text, captions, notes; or all
// notes in a section of their own.
func TestOrder(t *testing.T) {
	dir := folderOf(t, "m.png", "", "1.md", "# Chapter One: Ebb[^1]\n\na[^2]\n\n![alt](m.png \"cap\")\n\nb\n\n[^2]: note two[^3]\n\n[^1]: note one\n\n[^3]: note three\n",
		"2.md", "# II\n\n| c | d |\n|---|---|\n| e |\n\n```verse\nf\n```\n\n```sign\ng\n```\n\nh[^n]\n\n[^n]: last\n", "3.md", "z")
	read := func(numbers bool, back ...string) string {
		b, err := Load(context.Background(), Source{Dir: dir, Body: []string{"1.md", "2.md"}, Back: back})
		if err != nil {
			t.Fatal(err)
		}
		var s strings.Builder
		for r := range b.Characters(numbers) {
			s.WriteRune(r)
		}
		return s.String()
	}
	for _, c := range []struct{ got, want string }{
		{read(true, "3.md"), "ChapterOneEbbabcapnoteonenotetwonotethreeIIcdefghlastz"},
		{read(false, "3.md"), "Ebbabcapnoteonenotetwonotethreecdefghlastz"},
		{read(true, "notes", "3.md"), "ChapterOneEbbabcapIIcdefghnoteonenotetwonotethreelastz"},
		{read(false, "3.md", "notes"), "Ebbabcapcdefghznoteonenotetwonotethreelast"},
	} {
		if c.got != c.want {
			t.Errorf("got  %s\nwant %s", c.got, c.want)
		}
	}
	b, err := Load(context.Background(), Source{Dir: dir, Body: []string{"1.md", "2.md"}})
	if err != nil {
		t.Fatal(err)
	}
	if n := b.Words(); n != 3+1+1+1+2+2+2+1+1+1+1+1+1+1+1 {
		t.Errorf("%d words", n)
	}
	if _, err := Load(context.Background(), Source{Dir: dir, Body: []string{"3.md"}, Back: []string{"notes"}}); err == nil ||
		err.Error() != "notes: the book has no note to gather; take this section off the list" {
		t.Error(err)
	}
}

func TestPictures(t *testing.T) {
	dir := folderOf(t, "ch/1.md", "# A\n\n![a *map* of \"it\"](map.png \"The *Neck*, 'here' -- 1\\. caf&eacute;\"){.bleed}\n\n![](../pics/low%20water.png) {width=62.5%}\n\n![x](pics/dot.png){.spread}\n![y](<../pics/low water.png>){.page}\n\n[l]: map.png\n\n![l][]\n",
		"ch/map.png", "p", "pics/low water.png", "p", "pics/dot.png", "p")
	young := time.Date(2031, 1, 2, 3, 4, 5, 0, time.UTC)
	if err := os.Chtimes(filepath.Join(dir, "pics", "dot.png"), young, young); err != nil {
		t.Fatal(err)
	}
	b, err := Load(context.Background(), Source{Dir: dir, Body: []string{"ch/1.md"}})
	if err != nil {
		t.Fatal(err)
	}
	in := func(names ...string) string { return filepath.Join(append([]string{dir}, names...)...) }
	want := []Picture{
		{Path: in("ch", "map.png"), Alt: "a map of “it”", Place: Bleeding},
		{Path: in("pics", "low water.png"), Width: 625},
		{Path: in("pics", "dot.png"), Alt: "x", Place: Spread},
		{Path: in("pics", "low water.png"), Alt: "y", Place: FullPage},
		{Path: in("ch", "map.png"), Alt: "l"},
	}
	for i, b := range b.Sections[0].Blocks {
		p := *b.(*Picture)
		if i == 0 {
			if got := spelled(p.Caption); got != "The <i:Neck>, ‘here’—1. café" || p.Caption[0].Pos.Line != 3 {
				t.Errorf("caption %s at %v", got, p.Caption[0].Pos)
			}
		}
		if i >= len(want) {
			t.Fatalf("%d pictures", len(b.(*Picture).Path))
		}
		w := want[i]
		if p.Path != w.Path || p.Alt != w.Alt || p.Place != w.Place || p.Width != w.Width {
			t.Errorf("%+v\nwant %+v", p, w)
		}
	}
	if !b.Modified.Equal(young) {
		t.Errorf("modified %v", b.Modified)
	}
	if want := []string{in("ch", "1.md"), in("ch", "map.png"), in("pics", "low water.png"), in("pics", "dot.png")}; !slices.Equal(b.Inputs, want) {
		t.Errorf("inputs %q", b.Inputs)
	}
}

// TestMissingPictureAbove: a chapter in a folder names its pictures by ../, which
// leads out of its folder and not out of the book's.
func TestMissingPictureAbove(t *testing.T) {
	dir := folderOf(t, "chapters/a.md", "![a](../pictures/mpa.png)", "pictures/map.png", "p")
	_, err := Load(context.Background(), Source{Dir: dir, Body: []string{"chapters/a.md"}})
	if want := `chapters/a.md:1: there is no picture "../pictures/mpa.png" in the book folder; did you mean "map.png"?`; err == nil || err.Error() != want {
		t.Errorf("got %v\nwant %s", err, want)
	}
}

func TestPictureFaults(t *testing.T) {
	const alone = "; give it a paragraph of its own, with an empty line before and after it"
	for _, c := range [][2]string{
		{"![a](mpa.png)", `a.md:1: there is no picture "mpa.png" in the book folder; did you mean "map.png"?`},
		{"![a](none/x.png)", `a.md:1: there is no picture "none/x.png" in the book folder; put it there, or correct the name`},
		{"![a](../out.png)", `a.md:1: the path of the picture "../out.png" leads out of the book folder; move the file into the folder and name it from there`},
		{"![a](/etc/passwd)", `a.md:1: the path of the picture "/etc/passwd" leads out of the book folder; move the file into the folder and name it from there`},
		{"![a](link.png)", `a.md:1: the path of the picture "link.png" leads out of the book folder; move the file into the folder and name it from there`},
		{"![a](%2e%2e/out.png)", `a.md:1: the path of the picture "%2e%2e/out.png" leads out of the book folder; move the file into the folder and name it from there`},
		{"![a](sub)", `a.md:1: the picture "sub" is a folder; name a file in it`},
		{"![a]()", `a.md:1: the picture has no file; write its name: ![what it shows](picture.png)`},
		{"![a](https://a.example/b.png)", `a.md:1: the picture "https://a.example/b.png" is not a file of the book folder; save it there and name it: ![what it shows](picture.png)`},
		{"![a](//a.example/b.png)", `a.md:1: the picture "//a.example/b.png" is not a file of the book folder; save it there and name it: ![what it shows](picture.png)`},
		{"![a](data:image/png;base64,AA)", `a.md:1: the picture "data:image/png;base64,AA" is not a file of the book folder; save it there and name it: ![what it shows](picture.png)`},
		{"x\n\ny ![a](map.png) z", "a.md:3: a picture stands in a line of text" + alone},
		{"![a](map.png)\ny", "a.md:1: a picture stands in a line of text" + alone},
		{"# A ![a](map.png)", "a.md:1: a picture stands in a line of text" + alone},
		{"> ![a](map.png)", "a.md:1: a picture cannot stand inside a quotation, a list or a note; put it before or after, in a paragraph of its own"},
		{"- ![a](map.png)", "a.md:1: a picture cannot stand inside a quotation, a list or a note; put it before or after, in a paragraph of its own"},
		{"![a](my map.png)", `a.md:1: this picture is not read: [a](my map.png); write its address between < and >, and its caption between straight quotation marks: ![](<my map.png> "Caption")`},
		{"![a](map.png){.pag}", "a.md:1: {.pag} is not known for a picture; did you mean {.page}?"},
		{"![a](map.png){.page .bleed}", "a.md:1: a picture has one place, and this one is given 2; keep one of {.page}, {.bleed}, {.spread}"},
		{"![a](map.png){.page width=50%}", "a.md:1: a width is for pictures between paragraphs, and this one has pages of its own; take the width away, or the place"},
		{"![a](map.png){width=3in}", `a.md:1: width "3in" is none; write a part of the measure from 1% to 100%, as in {width=60%}`},
		{"![a](map.png){width=101%}", `a.md:1: width "101%" is none; write a part of the measure from 1% to 100%, as in {width=60%}`},
		{"![a](map.png \"b[^1]\")", "a.md:1: the words of a picture cannot refer to a note; put the note into the text, or its words into the caption"},
		{"![a](map.png \"b <b>c</b>\")", "a.md:1: HTML is not set (<b>); write **text**"},
	} {
		dir := folderOf(t, "a.md", c[0], "map.png", "p", "sub/x.png", "p")
		out := filepath.Join(filepath.Dir(dir), "out.png")
		if err := os.WriteFile(out, nil, 0o600); err != nil {
			t.Fatal(err)
		}
		if err := os.Symlink(out, filepath.Join(dir, "link.png")); err != nil && strings.Contains(c[0], "link") {
			t.Log(err)
			continue
		}
		_, err := Load(context.Background(), Source{Dir: dir, Body: []string{"a.md"}})
		if err == nil || err.Error() != c[1] {
			t.Errorf("%s\n got %v\nwant %s", c[0], err, c[1])
		}
	}
}

func TestTables(t *testing.T) {
	b, err := load(t, "en", "x\n\n| Day | \"Owed\" |  |\n|:---|---:|:-:|\n| `a\\|b` | 1 \\| 2 | *c* |\nd |\n\n> | |\n> |---|\n> | e |\n")
	if err != nil {
		t.Fatal(err)
	}
	row := func(cells [][]Inline) string {
		var s []string
		for _, c := range cells {
			s = append(s, spelled(c))
		}
		return strings.Join(s, ";")
	}
	table := b.Sections[0].Blocks[1].(*Table)
	if !slices.Equal(table.Columns, []Align{AlignLeft, AlignRight, AlignCentre}) || table.Pos.Line != 3 {
		t.Errorf("%v %v", table.Columns, table.Pos)
	}
	for i, want := range []string{"Day;“Owed”;", "<code:a|b>;1 | 2;<i:c>", "d;;"} {
		got := table.Head
		if i > 0 {
			got = table.Rows[i-1]
		}
		if row(got) != want || len(got) != 3 {
			t.Errorf("row %d: %s, want %s", i, row(got), want)
		}
	}
	table = b.Sections[0].Blocks[2].(*Quotation).Blocks[0].(*Table)
	if table.Head != nil || len(table.Rows) != 1 || row(table.Rows[0]) != "e" {
		t.Errorf("%+v", table)
	}
	const mend = `; add a column to its first lines, or write \| for a line that is part of the text`
	for _, c := range [][2]string{
		{"| a | b |\n|---|---|\n| c | d | e |", "a.md:3: this row has 3 cells, and the table 2 columns" + mend},
		{"> a | b\n> ---|---\n> c | d | e | f", "a.md:3: this row has 4 cells, and the table 2 columns" + mend},
		{"x[^1]\n\n[^1]: | a | b |\n    |---|---|\n    | c | d | e |", "a.md:5: this row has 3 cells, and the table 2 columns" + mend},
		{"x\n\n- | | b |\n  |---|---|\n  | | d | e |", "a.md:5: this row has 3 cells, and the table 2 columns" + mend},
		{"x\n\n- a | b\n  ---|---\n  c | d |\n  c | d | e", "a.md:6: this row has 3 cells, and the table 2 columns" + mend},
		{"| a |\n|---|\n| ![b](c.png) |", "a.md:3: a picture stands in a line of text; give it a paragraph of its own, with an empty line before and after it"},
	} {
		_, err := load(t, "en", c[0])
		if err == nil || err.Error() != c[1] {
			t.Errorf("%s\n got %v\nwant %s", c[0], err, c[1])
		}
	}
}

// Slips that Markdown would print.
func TestSlips(t *testing.T) {
	const front = "is not read; put title, author and language into book.toml and take these lines away"
	for _, c := range [][2]string{
		{"---\ntitle: A\ntags:\n  - b\n---\n\n# One\n", "a.md:1: the file begins with front matter (the lines between ---), which " + front},
		{"+++\ntitle = \"A\"\n[b]\nc = 1\n+++\nx", "a.md:1: the file begins with front matter (the lines between +++), which " + front},
		{"---\ntitle: A\n...\nx", "a.md:1: the file begins with front matter (the lines between ---), which " + front},
		{"#One\n\nx", `a.md:1: there is no space behind #, so this is no heading; write "# One", or \# for the sign itself`},
		{"x\n\n##The Ebb\ny", `a.md:3: there is no space behind ##, so this is no heading; write "## The Ebb", or \# for the sign itself`},
	} {
		_, err := load(t, "en", c[0])
		if err == nil || err.Error() != c[1] {
			t.Errorf("%q\n got %v\nwant %s", c[0], err, c[1])
		}
	}
	checkShapes(t, "en", []shapeCase{
		{"a break at the head", "---\n\nx\n\n---\n\ny", "break p(x) break p(y)"},
		{"speech between breaks", "***\n\nTom: no\n\n***\n", "break p(Tom: no) break"},
		{"a sign that is meant", "\\#One", "p(#One)"},
		{"in a sentence", "the #One", "p(the #One)"},
		{"an em dash", "— Oui.\n\n—Oui.", "p(— Oui.) p(—Oui.)"},
		{"an en dash", "– Tak.\n\n– Nie.", "p(– Tak.) p(– Nie.)"},
		{"hyphens", "-- Sí.\n\n--- No.", "p(— Sí.) p(— No.)"},
	})
}

// A copyright page is a form until it is filled in.
func TestCopyrightForm(t *testing.T) {
	const form = "*[TITLE]*\n\nCopyright © [YEAR] by [NAME OF THE AUTHOR’S HOUSE]\n\nISBN 978[1] and [sic]\n"
	dir := t.TempDir()
	for name, text := range map[string]string{"copyright.md": form, "letter.md": form} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	_, err := Load(context.Background(), Source{Dir: dir, Front: []string{"copyright.md"}, Body: []string{"letter.md"}})
	want := "copyright.md:1: [TITLE] is still to be filled in; write what is true of your book, or take the line away\n" +
		"copyright.md:3: [YEAR] is still to be filled in; write what is true of your book, or take the line away"
	if err == nil || err.Error() != want {
		t.Errorf("got %v\nwant %s", err, want)
	}
}

// A copyright page has no place for a picture; a file of nothing but pictures
// is a plate.
func TestPictureOnCopyrightPage(t *testing.T) {
	dir := folderOf(t, "copyright.md", "Copyright 1871\n\n![a mark](m.png)", "rights.md", "x\n\n![a mark](m.png){.page}", "plate.md", "![a mark](m.png)", "m.png", "", "1.md", "x")
	for _, c := range [][2]string{
		{"copyright.md", "copyright.md:3: a picture stands on the copyright page; put it into a file of its own, which makes it a plate, or take it away"},
		{"rights.md", "rights.md:3: a picture stands on the copyright page; put it into a file of its own, which makes it a plate, or take it away"},
		{"plate.md", ""},
	} {
		got := ""
		if _, err := Load(context.Background(), Source{Dir: dir, Front: []string{"title-page", c[0]}, Body: []string{"1.md"}}); err != nil {
			got = err.Error()
		}
		if got != c[1] {
			t.Errorf("%s\n got %s\nwant %s", c[0], got, c[1])
		}
	}
}
