package wordproc

import (
	"bytes"
	"context"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

const (
	wCentred = `<w:jc w:val="center"/>`
	wPage    = `<w:p><w:r><w:br w:type="page"/></w:r></w:p>`
)

// unstyled is a typescript without a single style, in either format. Lines
// that begin with ^ are centred, with > at the right, with | set in; / begins a page; _ in
// front of the words is italics, = another face, + twice the size; tabs indent,
// and <br> ends a line by hand.
const unstyled = `^THE TIDE CLERK

^A Novel

^by

^Ines Marrow

^Approx. 84,000 words
/
Copyright © 2026 by Ines Marrow
All rights reserved.
/
^To whoever trims the wick
/
^Contents
Prologue 1
Chapter One 4
Chapter Two 19
/
^Prologue

	It began with a light.
	FILLER
/
^Chapter One
^The Long Ebb

	FILLER
	“No,” he said.
^#
	FILLER
	Then he slept.

	FILLER
/
^Chapter Two
^Slack Water

	FILLER
^***
	FILLER
	Chapter Three was never written, he said.
/
^About the Author
Ines Marrow lives by the water.`

// typed makes both formats of it.
func typed(script string) (wml, odt string) {
	page := false
	for line := range strings.SplitSeq(strings.ReplaceAll(script, "FILLER", filler), "\n") {
		if line == "/" {
			page = true
			wml += wPage
			continue
		}
		props, style := "", "Standard"
		if rest, ok := strings.CutPrefix(line, "^"); ok {
			line, props, style = rest, wCentred, "P2"
			if page {
				style = "P4"
			}
		} else if rest, ok := strings.CutPrefix(line, ">"); ok {
			line, props, style = rest, `<w:jc w:val="end"/>`, "P7"
			if page {
				style = "P9"
			}
		} else if rest, ok := strings.CutPrefix(line, "|"); ok {
			line, props, style = rest, `<w:ind w:left="720" w:right="720"/>`, "P3"
		} else if page {
			style = "P1"
		}
		page = false
		indent, ospace := "", ""
		for strings.HasPrefix(line, "\t") {
			line = line[1:]
			indent += `<w:r><w:tab/></w:r>`
			ospace += `<text:tab/>`
		}
		look, olook := "", ""
		if rest, ok := strings.CutPrefix(line, "_"); ok {
			line, look, olook = rest, `<w:i/>`, "T1"
		} else if rest, ok := strings.CutPrefix(line, "="); ok {
			line, look, olook = rest, `<w:rFonts w:ascii="Script"/>`, "T13"
		} else if rest, ok := strings.CutPrefix(line, "+"); ok {
			line, look, olook = rest, `<w:sz w:val="48"/>`, "T14"
		}
		wml += `<w:p><w:pPr>` + props + `</w:pPr>` + indent + ws(look, line) + `</w:p>`
		if olook != "" {
			line = osp(olook, line)
		}
		odt += `<text:p text:style-name="` + style + `">` + ospace + line + `</text:p>`
	}
	return strings.ReplaceAll(wml, "<br>", `</w:t><w:br/><w:t>`), strings.ReplaceAll(odt, "<br>", `<text:line-break/>`)
}

// TestWithoutStyles finds title page, copyright, dedication, contents,
// chapters and scenes by their look alone.
func TestWithoutStyles(t *testing.T) {
	want := strings.ReplaceAll(`== aside/01-before-the-book.md
Approx. 84,000 words
== front/copyright.md
Copyright © 2026 by Ines Marrow

All rights reserved.
== front/dedication.md
To whoever trims the wick
== chapters/01-prologue.md
# Prologue

It began with a light.

FILLER
== chapters/02-the-long-ebb.md
# Chapter One: The Long Ebb

FILLER

“No,” he said.

* * *

FILLER

Then he slept.

* * *

FILLER
== chapters/03-slack-water.md
# Chapter Two: Slack Water

FILLER

* * *

FILLER

Chapter Three was never written, he said.
== back/about-the-author.md
# About the Author

Ines Marrow lives by the water.
`, "FILLER", filler)
	wml, odt := typed(unstyled)
	for name, document := range map[string][]byte{"a.docx": docxOf(t, wml), "a.odt": odtOf(t, odt)} {
		k := take(t, name, document)
		if diff := cmp.Diff(want, k.text(t)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", name, diff)
		}
		if !k.compared.Equal() {
			t.Errorf("%s: %v", name, k.compared.Differences)
		}
		if k.m.Title != "The Tide Clerk" || k.m.Author != "Ines Marrow" || k.m.Subtitle != "A Novel" {
			t.Errorf("%s: %q, %q, %q", name, k.m.Title, k.m.Subtitle, k.m.Author)
		}
		for _, g := range k.m.Guesses {
			if g.Reason == "" {
				t.Errorf("%s: no reason why paragraph %d is a %s", name, g.N, g.What)
			}
		}
	}
}

// TestTypescript takes in a manuscript in the form that agents ask for (common
// practice): name and address, number of words, the title in the middle of the
// first page, mottoes and dates below the headings.
func TestTypescript(t *testing.T) {
	script := `Ines Marrow
14 Quay Street
ines@tides.example
>Approx. 92,000 words




^THE TIDE CLERK
^by
^Ines Marrow
/
^CHAPTER ONE

>The sea keeps no accounts.
>— Harbor Rules

	FILLER
	FILLER
^KEEP OUT
	He read it twice.
^Here lies
^Thomas Clerk
^1801–1871
	FILLER
/
^CHAPTER TWO
^The Flood

>March 3, 1871.

	FILLER
^come home, come home
^the tide is late
^the light is out
^and so am I

	FILLER
^THE END`
	want := strings.ReplaceAll(`== aside/01-before-the-book.md
Ines Marrow

14 Quay Street

ines@tides.example

Approx. 92,000 words
== chapters/01-chapter-one.md
# CHAPTER ONE

> The sea keeps no accounts.
>
> — Harbor Rules

FILLER

FILLER

~~~sign
KEEP OUT
~~~

He read it twice.

~~~sign
Here lies
Thomas Clerk
1801–1871
~~~

FILLER
== chapters/02-the-flood.md
# CHAPTER TWO: The Flood

*March 3, 1871.*

FILLER

~~~verse
come home, come home
the tide is late
the light is out
and so am I
~~~

FILLER

~~~sign
THE END
~~~
`, "FILLER", filler)
	want = strings.ReplaceAll(want, "~~~", "```")
	wml, odt := typed(script)
	for name, document := range map[string][]byte{"a.docx": docxOf(t, wml), "a.odt": odtOf(t, odt)} {
		k := take(t, name, document)
		if diff := cmp.Diff(want, k.text(t)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", name, diff)
		}
		if !k.compared.Equal() {
			t.Errorf("%s: %v", name, k.compared.Differences)
		}
		if k.m.Title != "The Tide Clerk" || k.m.Author != "Ines Marrow" {
			t.Errorf("%s: %q, %q", name, k.m.Title, k.m.Author)
		}
	}
}

// TestLanguageIsHeard takes a text for what its words are in, where the document
// says another language or none; and what the document marks with the wrong one
// is no foreign text.
func TestLanguageIsHeard(t *testing.T) {
	german := strings.Repeat("Der Schreiber hielt sein Fenster offen, bis das Licht aus dem Hafen war, und dann noch ein wenig länger, und er sagte nichts. ", 4)
	swedish := strings.Repeat("Skrivaren höll sitt fönster öppet till dess att ljuset var borta från hamnen, och sedan en liten stund till, men han sade inte något om det. ", 4)
	english := strings.Repeat(filler+" He said that it was late. ", 4)
	marked := func(text, lang string) []byte {
		return docxOf(t, wHead+`<w:p>`+ws(`<w:lang w:val="`+lang+`"/>`, text)+ws(`<w:lang w:val="fr-FR"/>`, "soufflé glacé")+`</w:p>`)
	}
	for _, c := range []struct {
		name, want string
		document   []byte
		options    Options
		heard      bool
	}{
		{"a.txt", "de", []byte("Kapitel 1\n\n" + german), Options{}, true},
		{"a.txt", "en-US", []byte("Chapter 1\n\n" + english), Options{}, false},
		{"a.txt", "en-US", []byte("Chapter 1\n\nEbb."), Options{}, false},
		{"a.txt", "nl", []byte("Chapter 1\n\n" + english), Options{Language: "nl"}, false},
		{"a.docx", "de", marked(german, "en-US"), Options{}, true},
		{"a.docx", "de-CH", marked(german, "de-CH"), Options{}, false},
		{"a.docx", "sv", marked(swedish, "en-US"), Options{}, true},
		{"a.docx", "da-DK", marked(swedish, "da-DK"), Options{}, false}, // which is like it
		{"a.docx", "en-GB", marked(english, "en-GB"), Options{}, false},
		{"a.docx", "de-AT", marked(german, "en-US"), Options{Language: "de-AT"}, false},
	} {
		d, err := read(context.Background(), c.name, bytes.NewReader(c.document), int64(len(c.document)), c.options)
		if err != nil {
			t.Fatal(err)
		}
		m := d.Recognise()
		heard := slices.ContainsFunc(m.Guesses, func(g Guess) bool { return g.What == "language" })
		if m.Language != c.want || heard != c.heard {
			t.Errorf("%s in %s: %q, heard: %v", c.name, c.want, m.Language, heard)
		}
		_, text, _ := strings.Cut(string(m.Files()[0].Data), "\n") // below the heading
		if c.name == "a.docx" && (!strings.Contains(text, "[soufflé glacé]{lang=fr-FR}") || strings.Count(text, "{lang=") != 1) {
			t.Errorf("%s in %s:\n%s", c.name, c.want, text)
		}
	}
}
