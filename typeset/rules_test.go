package typeset

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"bodkin/fonts"
	"bodkin/hyphen"
	"bodkin/markup"
	"bodkin/typeset/length"

	"pgregory.net/rapid"
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

// Tables that cannot be set are refused with their place and a way out.
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

// Words of another language are divided as it divides them (by the patterns of
// the hyphen package, which has its own tests), those of a language that is
// not at hand not at all.
func TestLanguages(t *testing.T) {
	french := "anticonstitutionnellement administration pharmaceutique révolutionnaire gouvernement établissement "
	fr, err := hyphen.Load("fr")
	if err != nil {
		t.Fatal(err)
	}
	fr = fr.WithMins(lettersBefore, lettersAfter)
	ins := func(lang string) []markup.Inline {
		return []markup.Inline{{Text: strings.Repeat(french, 40), Lang: lang}}
	}
	for _, c := range []struct {
		name          string
		inline, whole string
		divided       bool
	}{
		{"a stretch", "fr", "", true},
		{"a stretch in a section", "fr-CA", "de", true},
		{"a section", "", "fr", true},
		{"of no known language", "eo", "", false},
		{"a section of no known language", "", "mis", false},
		{"back to the section's", "fr", "eo", true},
	} {
		book := chapter(&markup.Paragraph{Text: ins(c.inline)})
		book.Sections[0].Language = c.whole
		l := compose(t, NewComposer(book, Resources{}), small())
		n := 0
		for i := range l.Pages {
			text := l.Pages[i].text()
			for j := range text {
				if !text[j].Hyphen {
					continue
				}
				n++
				before := lastWordOf([]byte(text[j].text()[:len(text[j].text())-1]))
				// The word that it begins, and whether French divides it there.
				found := false
				for _, w := range strings.Fields(french) {
					for _, at := range fr.Points(nil, w) {
						found = found || w[:at] == string(before)
					}
				}
				if !found {
					t.Errorf("%s: a line ends with %q-", c.name, before)
				}
			}
		}
		if (n > 0) != c.divided {
			t.Errorf("%s: %d lines end in hyphens", c.name, n)
		}
	}
}

// One word in two languages is divided in each as that does.
func TestWordOfTwoLanguages(t *testing.T) {
	s, err := (&Resources{Faces: fonts.Embedded()}).setter("en-GB", galleyKey{family: "EB Garamond"})
	if err != nil {
		t.Fatal(err)
	}
	text, err := s.prepare([]markup.Inline{{Text: "un"}, {Text: "Schifffahrtsgesellschaft", Lang: "de"}, {Text: "ly"}}, markup.Pos{})
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	w := text.tokens[0].w
	for _, c := range w.cuts {
		got = append(got, w.parts[c.part].run.Text[:c.at])
	}
	// After Duden: Schiff-fahrts-ge-sell-schaft.
	if want := "[Schiff Schifffahrts Schifffahrtsge Schifffahrtsgesell]"; fmt.Sprint(got) != want {
		t.Errorf("%v, want %v", got, want)
	}
}

// Small capitals, in faces that have them and in others: the letters stay
// those of the manuscript, whatever is drawn.
func TestCaps(t *testing.T) {
	for _, c := range []struct {
		face, text  string
		size        int32
		shown, slow string // what is drawn, in letters of the face; features
	}{
		{"EB Garamond", "No Entry", 1000, "", "smcp"},
		{"EB Garamond", "NO ENTRY", 1000, "", "c2sc"},
		{"Crimson Pro", "Straße", 850, "STRASSE", ""},
		{"Libre Baskerville", "No Entry", 850, "NO ENTRY", ""},
	} {
		lib := fonts.Embedded()
		s, err := (&Resources{Faces: lib}).setter("en-GB", galleyKey{family: c.face})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := s.face(0); err != nil {
			t.Fatal(err)
		}
		text, err := s.prepare([]markup.Inline{{Text: c.text, Style: markup.Caps}}, markup.Pos{})
		if err != nil {
			t.Fatal(err)
		}
		var letters, glyphs []string
		for _, tok := range text.tokens {
			p := &tok.w.parts[0]
			letters = append(letters, p.run.Text)
			if p.per != c.size {
				t.Errorf("%s in %s: size %d", c.text, c.face, p.per)
			}
			for i, g := range p.run.Glyphs {
				if int(g.Cluster) >= len(p.run.Text) || i > 0 && g.Cluster < p.run.Glyphs[i-1].Cluster {
					t.Errorf("%s in %s: glyph %d stands for letter %d", c.text, c.face, i, g.Cluster)
				}
				glyphs = append(glyphs, fmt.Sprint(g.ID))
			}
			if c.slow == "smcp" && p.run.Features&fonts.SmallCaps == 0 || c.slow == "c2sc" && p.run.Features&fonts.AllSmallCaps == 0 {
				t.Errorf("%s in %s: features %b", c.text, c.face, p.run.Features)
			}
		}
		if got := strings.Join(letters, " "); got != c.text {
			t.Errorf("%q became %q", c.text, got)
		}
		if c.shown != "" {
			face, _ := lib.Face(c.face, fonts.Regular)
			var want []string
			for _, r := range strings.ReplaceAll(c.shown, " ", "") {
				g, _ := face.GID(r)
				want = append(want, fmt.Sprint(g))
			}
			if fmt.Sprint(glyphs) != fmt.Sprint(want) {
				t.Errorf("%s in %s: glyphs %v, want %v", c.text, c.face, glyphs, want)
			}
		}
	}
}

// Signs have their own face, which a composer keeps apart from none, and whose
// lack of a glyph is its own.
func TestSignFace(t *testing.T) {
	book := chapter(&markup.Paragraph{Text: []markup.Inline{{Text: "The door said "}, {Text: "Keep out", Style: markup.Inscribed}, {Text: "."}}}, poster)
	c := NewComposer(book, Resources{})
	for _, sign := range []string{"", "Spectral", "libre baskerville", ""} {
		s := small()
		s.SignFace = sign
		l := compose(t, c, s)
		faces := make(map[string]string)
		for i := range l.Pages {
			for _, line := range l.Pages[i].text() {
				for _, r := range line.Runs {
					faces[r.Glyphs.Text] = r.Glyphs.Face.Family
				}
			}
		}
		want := map[string]string{"": "EB Garamond", "Spectral": "Spectral", "libre baskerville": "Libre Baskerville"}[sign]
		for _, word := range []string{"Keep", "Harbour", "gun"} {
			if faces[word] != want {
				t.Errorf("sign-face %q: %q in %s", sign, word, faces[word])
			}
		}
		if faces["door"] != "EB Garamond" {
			t.Errorf("sign-face %q: the text is in %s", sign, faces["door"])
		}
	}
	s := small()
	s.SignFace = "Libre Caslon Text"
	_, err := NewComposer(chapter(para(0, "Ὀδυσσεύς"), notice("Ὀδυσσεύς")), Resources{}).Compose(t.Context(), s)
	missing := (*MissingGlyph)(nil)
	if !errors.As(err, &missing) || missing.Face != "Libre Caslon Text Regular" {
		t.Errorf("%v", err)
	}
	s.SignFace = "Nonesuch"
	if _, err := c.Compose(t.Context(), s); err == nil || !strings.HasPrefix(err.Error(), "sign-face: ") {
		t.Errorf("%v", err)
	}
}

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
		refers, has := make(map[int]bool), make(map[int]bool)
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

// Soft hyphens divide where the lines are ragged, and no-break spaces hold.
func TestAuthorsSpaces(t *testing.T) {
	for _, how := range []align{ragged, centred, rightward} {
		set := &setter{words: nil}
		s, err := (&Resources{Faces: fonts.Embedded()}).setter("en-GB", galleyKey{family: "EB Garamond"})
		if err != nil {
			t.Fatal(err)
		}
		set.words = s
		text, err := s.prepare(typed("administra\u00adtion of the 3\u00a0000\u202f000\u00a0lamps"), markup.Pos{})
		if err != nil {
			t.Fatal(err)
		}
		lines, err := set.set(text, shape{size: 10 * length.Point, measure: 64 * length.Point, align: how})
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for i := range lines {
			got = append(got, lines[i].text())
		}
		if want := "administra-|tion of the|3 000000 lamps"; strings.Join(got, "|") != want {
			t.Errorf("%d: %q, want %q", how, strings.Join(got, "|"), want)
		}
	}
}

// Any forms in one another, in any setting, are set soundly or refused with
// one line that names their place.
func TestAnyForms(t *testing.T) {
	lib := fonts.Embedded()
	texts := rapid.SampledFrom([]string{"", "A word.", "— Rules", prose, "{NO ENTRY} {in} _{Caps}_", "one\ntwo", "I. M.", strings.Repeat("unbreakable", 3),
		"soft\u00adened", "a\u00a0b\u2009c", "“‘Nested’” …", strings.Repeat("word ", 60), "ﬁn ß Łódź"})
	uses := rapid.SampledFrom([]markup.Use{0, 0, markup.Attribution, markup.Signature, markup.Salutation, markup.Address, markup.Dateline})
	var block func(t *rapid.T, depth int) markup.Block
	blocks := func(t *rapid.T, depth int) []markup.Block {
		var all []markup.Block
		for range rapid.IntRange(0, 5).Draw(t, "blocks") {
			all = append(all, block(t, depth))
		}
		return all
	}
	block = func(t *rapid.T, depth int) markup.Block {
		kind := rapid.IntRange(0, 9).Draw(t, "kind")
		if depth == 0 {
			kind %= 7
		}
		switch kind {
		case 0:
			var lines []string
			for range rapid.IntRange(1, 14).Draw(t, "lines") {
				lines = append(lines, strings.Repeat(" ", rapid.IntRange(0, 9).Draw(t, "indent"))+strings.ReplaceAll(texts.Draw(t, "line"), "\n", " "))
			}
			return poem(strings.Join(lines, "\n"))
		case 1:
			return notice(rapid.SliceOfN(texts, 0, 11).Draw(t, "sign")...)
		case 2:
			columns := rapid.StringMatching("[lcr]{1,5}").Draw(t, "columns")
			rows := []string{strings.Repeat("|", len(columns)-1)}
			for range rapid.IntRange(0, 30).Draw(t, "rows") {
				var cells []string
				for range columns {
					cells = append(cells, texts.Draw(t, "cell"))
				}
				rows = append(rows, strings.Join(cells, "|"))
			}
			return tableOf(columns, rows...)
		case 3:
			return &markup.Heading{Level: rapid.IntRange(1, 5).Draw(t, "level"), Text: typed(texts.Draw(t, "heading"))}
		case 4:
			return &markup.SceneBreak{Pos: markup.Pos{File: "a.md", Line: 1}}
		case 5, 6:
			return para(uses.Draw(t, "use"), texts.Draw(t, "text"))
		case 7:
			l := &markup.List{Pos: markup.Pos{File: "a.md", Line: 1}, Tight: rapid.Bool().Draw(t, "tight"), Ordered: true}
			for range rapid.IntRange(1, 3).Draw(t, "items") {
				l.Items = append(l.Items, markup.Item{Blocks: blocks(t, depth-1)})
			}
			return l
		}
		return quoted(rapid.SampledFrom([]markup.Form{markup.Extract, markup.Motto, markup.Letter}).Draw(t, "form"), blocks(t, depth-1)...)
	}
	rapid.Check(t, func(rt *rapid.T) {
		book := chapter(append(blocks(rt, 3), blocks(rt, 2)...)...)
		s := Default()
		s.Face = rapid.SampledFrom([]string{"EB Garamond", "Libre Baskerville", "Source Serif 4"}).Draw(rt, "face")
		s.SignFace = rapid.SampledFrom([]string{"", "Spectral"}).Draw(rt, "sign")
		s.Trim, _ = ParseTrim(rapid.SampledFrom([]string{"5x8in", "3x5in", "A-format", "6x9in"}).Draw(rt, "trim"))
		s.Size.Length = length.Length(rapid.Int64Range(7, 14).Draw(rt, "size")) * length.Point
		s.Leading.Value.Length = s.Size.Length * 5 / 4
		s.Widen = Widen(rapid.SampledFrom([]int{0, 10}).Draw(rt, "widen"))
		s.Hang, s.Hyphenate = rapid.Bool().Draw(rt, "hang"), rapid.Bool().Draw(rt, "hyphenate")
		l, err := Compose(rt.Context(), book, s, Resources{Faces: lib})
		if err != nil {
			if strings.Contains(err.Error(), "\n") || !strings.Contains(err.Error(), "a.md:") && !strings.Contains(err.Error(), "margins") {
				rt.Fatal(err)
			}
			return
		}
		if err := Check(book, l); err != nil {
			rt.Fatal(err)
		}
		if q := l.Quality(); q.Overfull > 0 {
			rt.Fatalf("%+v", q)
		}
		for i := range l.Pages {
			left := l.BlockLeft(i)
			for _, line := range l.Pages[i].text() {
				row := (line.Y - l.Block.Baseline) / l.Block.Leading
				if off := line.Y - l.Block.Baseline - row*l.Block.Leading; line.Role == Text && (off != 0 || row < 0 || int(row) > l.Block.Rows) {
					rt.Fatalf("page %d: %q is %v off the grid", i, line.text(), off)
				}
				for k := line.Labels; k < len(line.Runs); k++ {
					r := &line.Runs[k]
					if x := line.X + r.X - left; x < -l.Setting.Size.Length || x+r.Width() > l.Block.Measure+l.Setting.Size.Length {
						rt.Fatalf("page %d: %q stands from %v to %v", i, line.text(), x, x+r.Width())
					}
				}
			}
		}
	})
}
