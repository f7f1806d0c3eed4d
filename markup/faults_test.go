package markup

import (
	"strings"
	"testing"
)

// Every fault of a text is one line that says where, what, and how to mend it.
func TestFaults(t *testing.T) {
	for _, c := range [][2]string{
		{"", "a.md: the file is empty; write its text, or take it off the list"},
		{" \n\t\n", "a.md: the file is empty; write its text, or take it off the list"},
		{"<!-- later -->\n", "a.md: the file holds no text to set; write its text, or take it off the list"},
		{"\xEF\xBB\xBF", "a.md: the file is empty; write its text, or take it off the list"},
		{"\xFF\xFEx\x00", "a.md: the file is in UTF-16; save the file as UTF-8"},
		{"\xFE\xFF\x00x", "a.md: the file is in UTF-16; save the file as UTF-8"},
		{"one\ntwo\xE9\n", "a.md:2: byte 0xE9 is not UTF-8; save the file as UTF-8"},
		{"one\r\ntwo\rthree\xC0\x80\n", "a.md:3: byte 0xC0 is not UTF-8; save the file as UTF-8"},
		{"one\ntwo\x00\n", "a.md:2: there is a NUL in the text; delete it, or save the file as UTF-8"},
		{"one\n\fb\x07\n", "a.md:2: there is a form feed in the text; delete it; a heading opens a new page\n" +
			"a.md:2: there is a control character in the text (U+0007); delete it"},
		{"one\u2028two", "a.md:1: there is a separator in the text (U+2028); end a line with a backslash, or divide paragraphs with an empty line"},
		{"one\uFEFFtwo", "a.md:1: there is a byte-order mark inside the text (U+FEFF); delete it"},
		{"one\uFFFDtwo", "a.md:1: a character was lost when the file was converted (U+FFFD); type it again"},
		{"one\uFDD0two", "a.md:1: there is a code in the text that is no character (U+FDD0); delete it"},
		{"x\n\na &#7; b", "a.md:3: there is a control character in the text (U+0007); delete it"},
		{"x\n\na &#0; b", "a.md:3: a character was lost when the file was converted (U+FFFD); type it again"},
		{"x\n\n![a *map*](map.png)", "a.md:3: there is no picture \"map.png\" in the book folder; put it there, or correct the name"},
		{"#\n\nx", "a.md:1: this heading has no text; write it, or take the heading away"},
		{"x\n\nShe left the house on\nthe quay and never came\nback to it.\n===\n", "a.md:3: the line of = below this paragraph would make it a heading; leave an empty line between them, or write # before a heading"},
		{"x[^a]\n\n[^a]: y\n\n    # z\n", "a.md:5: a heading cannot stand in a note; write it as a paragraph, in **strong** letters"},
		{"one\ntwo <i>x</i>", "a.md:2: HTML is not set (<i>); write *text*"},
		{"a<br>\nb", "a.md:1: HTML is not set (<br>); end the line with a backslash (\\)"},
		{"x\n\n<div align=\"center\">\n\ny\n", "a.md:3: HTML is not set (<div>); take the tag away; an empty line divides paragraphs"},
		{"x\n\n<?php x ?>\n", "a.md:3: HTML is not set; write what is meant in Markdown, or \\< for the sign itself"},
		{"x\n\n<!-- a\nb --> lost\n", "a.md:4: there is text in the line that ends a remark, and it would not be printed; begin a new line after -->"},
		{"x\n\n<!-- a\n\ny\n", "a.md:3: the remark <!-- is never closed, and the rest of the file would not be printed; write --> at its end"},
		{"x[^a]\n\ny", "a.md:1: there is no note [^a] in this file; write it as [^a]: text, or put \\ before the [ if it is meant as typed"},
		{"x\n\n[^a]: y", "a.md:3: note [^a] is never referred to, and would not be printed; put [^a] where it belongs, or take the note away"},
		{"x[^a]\n\n[^a]:\n", "a.md:3: note [^a] has no text; write it after the colon"},
		{"x[^a]\n\n[^a]: y\n\n[^a]: z\n", "a.md:5: note [^a] is written a second time; give each note a label of its own"},
		{"x[^a]\n\ny[^a]\n\n[^a]: z\n", "a.md:3: note [^a] is referred to a second time (first in line 1); write the note again under a label of its own"},
		{"x\n\n[^a]: y[^a]\n", "a.md:3: note [^a] is referred to only from a note that is not printed; refer to it from the text, or take it away"},
		{"x[^a]\n\n[^a]: y\n    [^b]: z\n", "a.md:4: note [^b] begins where no note can begin; put an empty line before it"},
		{"x\n\n[Tom]: hello\n", "a.md:3: the address of [Tom] is never used, and this line would not be printed; take it away, or write \\[ if it is part of the text"},
		{"[x]\n\n[x]: /a\n\n[X]: /b\n", "a.md:5: the address of [X] is given a second time; take one away"},
		{"x\n\n" + strings.Repeat(">", 200) + "y", "a.md:3: quotations and lists are nested too deep here; take some of the > or list signs away, or put \\ before one that is meant as itself"},
		{"x\n\n" + strings.Repeat("- ", 200) + "y", "a.md:3: quotations and lists are nested too deep here; take some of the > or list signs away, or put \\ before one that is meant as itself"},
		{"x\n\n" + strings.Repeat("[", 5000), "a.md:3: this paragraph holds more than 4000 characters of markup; divide it, or put a backslash before each character that is meant as itself"},
		{"![a](b)\n\n<b>\n\nx[^y]\n\nz\x20[^y]: ok", "a.md:1: there is no picture \"b\" in the book folder; put it there, or correct the name\n" +
			"a.md:3: HTML is not set (<b>); write **text**\n" +
			"a.md:5: there is no note [^y] in this file; write it as [^y]: text, or put \\ before the [ if it is meant as typed\n" +
			"a.md:7: note [^y] begins where no note can begin; put an empty line before it"},
	} {
		_, err := load(t, "en", c[0])
		if err == nil {
			t.Errorf("%q: no error, want %s", c[0], c[1])
			continue
		}
		if got := err.Error(); got != c[1] {
			t.Errorf("%.80q\n got %s\nwant %s", c[0], got, c[1])
		}
		checkFaults(t, err, strings.Count(c[0], "\n")+2)
	}
}

// What looks like a fault and is none.
func TestAccepted(t *testing.T) {
	for _, c := range [][2]string{
		{"\uFEFFone", "one"},
		{"one\r\ntwo\rthree", "one two three"},
		{"a\tb  c", "a b c"},
		{"e\u0301 and e&#769;", "é and é"}, // NFC (UAX #15)
		{"a\u00A0b\u202Fc\u2009d\u00ADe\u200Bf\u2060g&nbsp;h", "a\u00A0b\u202Fc\u2009d\u00ADe\u200Bf\u2060g\u00A0h"},
		{"x <!-- remark --> y", "x y"},
		{"x <!-- re\nmark -->", "x"},
		{"<!-- a --> <!-- b -->\n\nx", "x"},
		{"<!---->\n\nx", "x"},
		{`a \< b \& c &amp; d`, "a < b & c & d"},
		{`\[^x] and [ ^x] and [^ ]`, "[^x] and [ ^x] and [^ ]"},
		{"1986\\. A great year", "1986. A great year"},
		{"~~a~~ | b\n", "~~a~~ | b"},
		{"a&nosuch; b & c &#xZ; &;", "a&nosuch; b & c &#xZ; &;"},
		{"x\\", `x\`},
		{"x  ", "x"},
	} {
		if got := textOf(t, "en", c[0]); got != c[1] {
			t.Errorf("%q\n got %q\nwant %q", c[0], got, c[1])
		}
	}
}
