package wordproc

import "testing"

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

// TestOutOfCapitals gives titles their small letters: the rule is common
// practice in English, and other languages keep what was typed.
func TestOutOfCapitals(t *testing.T) {
	for _, c := range [][3]string{
		{"en", "THE TIDE CLERK", "The Tide Clerk"},
		{"en-GB", "THE CLERK OF THE TIDES: A LIFE", "The Clerk of the Tides: A Life"},
		{"en", "WHAT WE LIVE FOR", "What We Live For"},
		{"en", "HALF-TIDE AT MR. HARROW’S, PART II", "Half-Tide at Mr. Harrow’s, Part II"},
		{"en", "HMS “GANNET”", "HMS “Gannet”"},
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
