package wordproc

import (
	"slices"
	"strings"
	"testing"
)

// TestTitlePages takes title, subtitle and author from what stands on the first
// page, in the ways that people type it.
func TestTitlePages(t *testing.T) {
	rest := "\n/\n^Chapter 1\n\tFILLER"
	for _, c := range []struct{ page, title, subtitle, author, aside string }{
		{"^Slack Water\n^Ines Marrow", "Slack Water", "", "Ines Marrow", ""},
		{"^Slack Water\n^A Novel in Three Crossings\n^Ines van der Marrow", "Slack Water", "A Novel in Three Crossings", "Ines van der Marrow", ""},
		{"^Slack Water\n^roman\n^by Ines Marrow", "Slack Water", "roman", "Ines Marrow", ""},
		{"^Slack Water\n^written by\n^Ines Marrow", "Slack Water", "", "Ines Marrow", ""},
		{"^Slack Water\n^The Second Tide\n^Ines Marrow", "Slack Water", "The Second Tide", "Ines Marrow", ""},
		{"^Slack Water\n^oOo\n^Ines Marrow", "Slack Water", "", "Ines Marrow", ""},
		{"^Slack Water\n^Third draft", "Slack Water", "", "", "Third draft\n"},
		{"^Slack Water\n^Ines Marrow\n^84,000 words", "Slack Water", "", "Ines Marrow", "84,000 words\n"},
		{"^Ines Marrow\n^SLACK WATER\n^a novel", "Slack Water", "a novel", "Ines Marrow", ""},
		{"^Slack Water\n^being a novel in letters, by\n^Ines Marrow", "Slack Water", "being a novel in letters", "Ines Marrow", ""},
		{"^Working title: SLACK WATER (third draft)\n^Ines Marrow\n^approx. 81,000 words", "Slack Water", "", "Ines Marrow", "approx. 81,000 words\n"},
		{"^SLACK WATER\n^A Novel\n\n\n\n\n^by\n^Ines Marrow", "Slack Water", "A Novel", "Ines Marrow", ""},
		{"^Slack Water\n\n\n\n\n\n\n^Ines Marrow\n/\n^For K.", "Slack Water", "", "Ines Marrow", ""},
		{"^Ines Marrow\n^1 Quay Street\n^about 80,000 words\n\n\n\n^SLACK WATER\n\n^by\n\n^Ines Marrow", "Slack Water", "", "Ines Marrow", "Ines Marrow\n\n1 Quay Street\n\nabout 80,000 words\n"},
		{"\n\n\n\n^Slack Water\n^Ines Marrow", "Slack Water", "", "Ines Marrow", ""},
		{"Slack Water\nInes Marrow", "Slack Water", "", "Ines Marrow", ""},
		{"^slack water\n^ines marrow", "slack water", "", "ines marrow", ""},
		{"^Slack Water\n/\n^© 2026 Ines Marrow\nAll rights reserved.", "Slack Water", "", "Ines Marrow", ""},
		{"^Slack Water\n/\n^Also by Ines Marrow\n^Neap", "Slack Water", "", "Ines Marrow", ""},
		{"^Slack Water<br>a novel<br>Ines Marrow", "Slack Water", "a novel", "Ines Marrow", ""},
		{"^SLACK WATER<br>Ines Marrow<br>third draft", "Slack Water", "", "Ines Marrow", "third draft\n"},
		{"^By the Grey Water\n^Ines Marrow", "By the Grey Water", "", "Ines Marrow", ""},
		{"^Slack Water\n^By Sea and by Land\n^Ines Marrow", "Slack Water", "By Sea and by Land", "Ines Marrow", ""},
		{"^Slack Water\n^Out Of Season\n^by Ines Marrow and Tom Oder", "Slack Water", "Out Of Season", "Ines Marrow and Tom Oder", ""},
		{"^By Moonlight\n^Ines Marrow", "By Moonlight", "", "Ines Marrow", ""},
		{"^Slack Water\n^by Ines Marrow with Tom Oder", "Slack Water", "", "Ines Marrow with Tom Oder", ""},
		{"Slack Water\nA novel by Ines Marrow", "Slack Water", "A novel", "Ines Marrow", ""},
		{"^Slack Water\n^by Marrow", "Slack Water", "", "Marrow", ""},
	} {
		wml, _ := typed(c.page + rest)
		k := take(t, "a.docx", docxOf(t, wml))
		aside := ""
		if k.m.Pieces[0].Role == Aside {
			aside = k.m.Pieces[0].text
		}
		if !k.compared.Equal() {
			t.Errorf("%q: %v", c.page, k.compared.Differences)
		}
		if k.m.Title != c.title || k.m.Subtitle != c.subtitle || k.m.Author != c.author || aside != c.aside {
			t.Errorf("%q: title %q, subtitle %q, author %q, aside %q", c.page, k.m.Title, k.m.Subtitle, k.m.Author, aside)
		}
	}
}

// TestPagesInFront tells the pages before the first chapter apart.
func TestPagesInFront(t *testing.T) {
	for _, c := range []struct{ page, file, text string }{
		{"^The sea is a bad clerk.\n^Proverb of the Saltings", "front/epigraph.md", "The sea is a bad clerk.\n\nProverb of the Saltings\n"},
		{">_The sea is a bad clerk:\n>_it balances nothing.\n>_Pilots’ Manual", "front/epigraph.md", "*The sea is a bad clerk:*\n\n*it balances nothing.*\n\n*Pilots’ Manual*\n"},
		{"^Also by Ines Marrow\n^Neap\n^Slack", "front/also-by-ines-marrow.md", "# Also by Ines Marrow\n\n```sign\nNeap\nSlack\n```\n"},
		{"^CAST OF CHARACTERS\nILEX – a pilot\nROE – her enemy", "front/cast-of-characters.md", "# CAST OF CHARACTERS\n\nILEX – a pilot\n\nROE – her enemy\n"},
		{"^Author’s Note\n\tFILLER\n\tFILLER", "front/authors-note.md", "# Author’s Note\n\nFILLER\n\nFILLER\n"},
		{"^A Note on Names\n\tFILLER\n\tFILLER", "front/a-note-on-names.md", "# A Note on Names\n\nFILLER\n\nFILLER\n"},
		{"© 2026 Ines Marrow\nQuay House\n1 Quay Street\nMarle", "front/copyright.md", "© 2026 Ines Marrow\n\nQuay House\n\n1 Quay Street\n\nMarle\n"},
		{"1. Auflage 2032\nAlle Rechte vorbehalten.", "front/copyright.md", "1\\. Auflage 2032\n\nAlle Rechte vorbehalten.\n"},
		{"^FILLER", "front/text.md", "FILLER\n"},
		{"\tFILLER\n/\n^To the sea, then", "front/text.md", "FILLER\n"},
		{"_For the tide returns what it has taken.\n>_— Song of the Saltings", "front/epigraph.md", "*For the tide returns what it has taken.*\n\n*— Song of the Saltings*\n"},
		{"À Élise, qui sait tout", "front/dedication.md", "À Élise, qui sait tout\n"},
		{"^TO THE READER.\n\tFILLER", "front/to-the-reader.md", "# TO THE READER.\n\nFILLER\n"},
		{"Bring a lamp\nand a rope", "aside/01-before-the-book.md", "Bring a lamp\n\nand a rope\n"},
	} {
		wml, odt := typed("^SLACK WATER\n^by Ines Marrow\n/\n" + c.page + "\n/\n^Chapter 1\n\tFILLER\n\tFILLER\n/\n^Chapter 2\n\tFILLER\n\tFILLER")
		for name, document := range map[string][]byte{"a.docx": docxOf(t, wml), "a.odt": odtOf(t, odt)} {
			k := take(t, name, document)
			p := k.m.Pieces[0]
			if want := strings.ReplaceAll(c.text, "FILLER", filler); p.File != c.file || p.text != want || len(k.m.Pieces) < 3 || !k.compared.Equal() {
				t.Errorf("%q, %s: %s\n%s", c.page, name, p.File, k.text(t))
			}
		}
	}
}

// TestTitleBelowHead takes a title and a dedication out of headings that look as
// those of chapters do.
func TestTitleBelowHead(t *testing.T) {
	head := func(s string) string { return `<w:p><w:pPr><w:pStyle w:val="H1"/></w:pPr>` + wr(s) + `</w:p>` }
	k := take(t, "a.docx", docxOf(t, head("Slack Water")+wp("Ines Marrow")+head("Dedication")+wp("For my mother")+head("Chapter 1")+wp(filler)+head("Chapter 2")+wp(filler)))
	if k.m.Title != "Slack Water" || k.m.Author != "Ines Marrow" || len(k.m.Pieces) != 3 || k.m.Pieces[0].Role != Dedication || !k.compared.Equal() {
		t.Errorf("%q, %q\n%s", k.m.Title, k.m.Author, k.text(t))
	}
}

// TestMarksOfTitlePage keeps a picture of the title page, and lists a note there.
func TestMarksOfTitlePage(t *testing.T) {
	notes := part{"word/footnotes.xml", `<w:footnotes ` + wmlNames + `><w:footnote w:id="2">` + wp("Not her name.") + `</w:footnote></w:footnotes>`}
	wml, _ := typed("^Slack Water<br>NOTE\n/\n^Chapter 1\n\tFILLER\n/\n^Chapter 2\n\tFILLER")
	wml = strings.Replace(wml, ">NOTE</w:t>", ">by Ines Marrow</w:t><w:footnoteReference w:id=\"2\"/>", 1)
	k := take(t, "a.docx", docxOf(t, wml, notes))
	if k.m.Title != "Slack Water" || k.m.Author != "Ines Marrow" || !k.compared.Equal() || !strings.Contains(k.findings(), leftNote+": Not her name.") {
		t.Errorf("%q, %q, %v\n%s", k.m.Title, k.m.Author, k.compared.Differences, k.findings())
	}
}

// TestUnfinishedRights takes in a copyright page with a place left open and with a
// picture, for which it has no room.
func TestUnfinishedRights(t *testing.T) {
	wml, _ := typed("^Slack Water\n^by Ines Marrow\n/\n© 2026 Ines Marrow\nPublished by [NAME OF THE HOUSE]\nPICTURE\n/\n^Chapter 1\n\tFILLER\n/\n^Chapter 2\n\tFILLER")
	wml = strings.Replace(wml, "PICTURE</w:t>", `Printed here</w:t></w:r><w:r><w:drawing><wp:inline><wp:docPr id="1" name="p" descr="A dial"/><a:blip r:embed="p"/></wp:inline></w:drawing>`, 1)
	k := take(t, "a.docx", docxOf(t, wml))
	want := "== front/copyright.md\n© 2026 Ines Marrow\n\nPublished by \\[NAME OF THE HOUSE\\]\n\nPrinted here\n== aside/01-before-the-book.md\n![A dial](../pictures/01-a-dial.png)\n"
	if got := k.text(t); !strings.Contains(got, want) || !k.compared.Equal() {
		t.Errorf("%v\n%s", k.compared.Differences, got)
	}
	if !slices.ContainsFunc(k.m.Guesses, func(g Guess) bool { return g.What == "place left open" && g.Text == "[NAME OF THE HOUSE]" }) {
		t.Errorf("the place left open is not listed: %v", k.m.Guesses)
	}
}

// TestTitleOfPage prefers the title that a page has to that of the properties,
// and says so.
func TestTitleOfPage(t *testing.T) {
	core := part{"docProps/core.xml", `<cp:coreProperties xmlns:cp="http://schemas.openxmlformats.org/package/2006/metadata/core-properties" xmlns:dc="http://purl.org/dc/elements/1.1/"><dc:title>Neap</dc:title></cp:coreProperties>`}
	for page, want := range map[string][2]string{
		"^SLACK WATER\n^by Ines Marrow\n/\n": {"Slack Water", `the document's properties have another, "Neap"`},
		"^NEAP\n^by Ines Marrow\n/\n":        {"Neap", "the document's properties give this title"},
	} {
		wml, _ := typed(page + "^Chapter 1\n\tFILLER\n/\n^Chapter 2\n\tFILLER")
		k := take(t, "a.docx", docxOf(t, wml, core))
		said := slices.ContainsFunc(k.m.Guesses, func(g Guess) bool { return g.What == "title" && strings.Contains(g.Reason, want[1]) })
		if k.m.Title != want[0] || !said {
			t.Errorf("%q: %q, %v", page, k.m.Title, k.m.Guesses)
		}
	}
}

// TestDoubtfulAuthor says so where nothing but the properties has the name.
func TestDoubtfulAuthor(t *testing.T) {
	core := part{"docProps/core.xml", `<cp:coreProperties xmlns:cp="http://schemas.openxmlformats.org/package/2006/metadata/core-properties" xmlns:dc="http://purl.org/dc/elements/1.1/"><dc:creator>Rosa Fitt</dc:creator></cp:coreProperties>`}
	for front, want := range map[string]string{"": "Rosa Fitt", "^SLACK WATER\n^by Ines Marrow\n/\n": "Ines Marrow", "Copyright © Rosa Fitt 2026\n/\n": "Rosa Fitt"} {
		wml, _ := typed(front + "^Chapter 1\n\tFILLER\n/\n^Chapter 2\n\tFILLER")
		k := take(t, "a.docx", docxOf(t, wml, core))
		doubted := slices.ContainsFunc(k.m.Guesses, func(g Guess) bool { return g.What == "author" && strings.Contains(g.Reason, "properties") })
		if k.m.Author != want || doubted != (front == "") {
			t.Errorf("%q: %q, doubted %v", front, k.m.Author, doubted)
		}
	}
}

// TestOutOfCapitals gives titles their small letters: the rule is common
// practice in English, and other languages keep what was typed.
func TestOutOfCapitals(t *testing.T) {
	for _, c := range [][3]string{
		{"en", "THE TIDE CLERK", "The Tide Clerk"},
		{"en-GB", "THE CLERK OF THE TIDES: A LIFE", "The Clerk of the Tides: A Life"},
		{"en", "WHAT WE LIVE FOR", "What We Live For"},
		{"en", "HALF-TIDE AT MR. HARROW’S, PART II", "Half-Tide at Mr. Harrow’s, Part II"},
		{"en", "HMS “GANNET”", "HMS “Gannet”"},
		{"en", "THE U.S. MARSHAL OF O’BRIEN", "The U.S. Marshal of O’Brien"},
		{"en", "I’M NOT “MCKAY”, D’ARCY-LEE", "I’m Not “McKay”, D’Arcy-Lee"},
		{"en", "’TIS ÉLAN", "’Tis Élan"},
		{"en", "The TIDE Clerk", "The TIDE Clerk"},
		{"en", "EBB", "EBB"}, // letters of a name as well as a word
		{"de", "DIE EBBE UND DER SCHREIBER", "DIE EBBE UND DER SCHREIBER"},
	} {
		m := &Manuscript{Language: c[0]}
		if got := m.outOfCapitals(c[1]); got != c[2] {
			t.Errorf("%s: %q", c[1], got)
		}
	}
}
