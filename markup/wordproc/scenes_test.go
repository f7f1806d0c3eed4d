package wordproc

import (
	"strings"
	"testing"
)

// TestScenes takes the heads of scenes for headings inside a chapter, whatever
// they look like, and the empty lines around them for no scene breaks.
func TestScenes(t *testing.T) {
	for _, c := range []struct {
		name, script string
		want         []string // the headings, the scene breaks and what is below the headings of chapters
	}{
		{"numbers in chapters with names, at the left", "/@^The Long Ebb@@1.@@>FILLER@@2.@@>FILLER@/@^Slack Water@@1.@@>FILLER@@2.@@>FILLER",
			[]string{"# The Long Ebb", "## 1.", "## 2.", "# Slack Water", "## 1.", "## 2."}},
		{"numbers in chapters with names, in the middle", "/@^The Long Ebb@^1@>FILLER@^2@>FILLER@/@^Slack Water@^1@>FILLER@^2@>FILLER",
			[]string{"# The Long Ebb", "## 1", "## 2", "# Slack Water", "## 1", "## 2"}},
		{"times and places in italics", "/@^Chapter 1@_Tuesday, 4:15 a.m.@>FILLER@@_Tuesday, noon@@>FILLER@/@^Chapter 2@_Wednesday, noon@>FILLER@@_The quay, 1:05 p.m.@>FILLER",
			[]string{"# Chapter 1", "### Tuesday, 4:15 a.m.", "### Tuesday, noon", "# Chapter 2", "### Wednesday, noon", "### The quay, 1:05 p.m."}},
		{"dates in chapters with names", "/@^Ebb@@3 January@@>FILLER@@9 January@@>FILLER@/@^Flood@@3 March@@>FILLER@@9 March@@>FILLER",
			[]string{"# Ebb", "## 3 January", "## 9 January", "# Flood", "## 3 March", "## 9 March"}},
		{"signs are none", "/@^Chapter 1@>FILLER@^KEEP OUT@>FILLER@^NO LANDING@>FILLER@^KEEP OFF@>FILLER@/@^Chapter 2@>FILLER", []string{"# Chapter 1", "# Chapter 2"}},
		{"short speech is none", "/@^Chapter 1@>FILLER@@>No.@@>FILLER@/@^Chapter 2@>FILLER", []string{"# Chapter 1", "* * *", "* * *", "# Chapter 2"}},
		{"one paragraph alone, where scenes end at ornaments", "/@^Chapter 1@>FILLER@^***@>FILLER@@>The gate is shut.@@>FILLER@^***@>FILLER@/@^Chapter 2@>FILLER",
			[]string{"# Chapter 1", "* * *", "* * *", "* * *", "* * *", "# Chapter 2"}},
		{"one paragraph set off, where scenes end at ornaments", "/@^Chapter 1@>FILLER@^***@>FILLER@>It said:@@>The gate is shut.@@>FILLER@^***@>FILLER@/@^Chapter 2@>FILLER",
			[]string{"# Chapter 1", "* * *", "> The gate is shut.", "* * *", "# Chapter 2"}},
		{"ornaments of other signs and of words", "/@^Chapter 1@>FILLER@^◊@>FILLER@^~ ♥ ~@>FILLER@[break]@>FILLER@/@^Chapter 2@>FILLER",
			[]string{"# Chapter 1", "* * *", "* * *", "* * *", "# Chapter 2"}},
		{"small numerals", "/@^The Long Ebb@@i.@@>FILLER@@ii.@@>FILLER@/@^Slack Water@>FILLER@@ii.@@>FILLER@@iii.@@>FILLER", []string{"# The Long Ebb", "## i.", "## ii.", "# Slack Water", "## ii.", "## iii."}},
		{"numbers from the second scene on", "/@^The Long Ebb@>FILLER@@^2@@>FILLER@/@^Slack Water@>FILLER@@^2@@>FILLER@@^3@@>FILLER", []string{"# The Long Ebb", "## 2", "# Slack Water", "## 2", "## 3"}},
		{"a page in memory of somebody", "/@^The Tides@^by Ines Marrow@/@^In loving memory of Pim Oder@^1940 – 2031@/@^Chapter 1@>FILLER@/@^Chapter 2@>FILLER", []string{"# Chapter 1", "# Chapter 2"}},
		{"a line in the middle of a last page", "/@^Chapter 1@>FILLER@/@^Chapter 2@>FILLER@/@^Ines Marrow lives on a quay with a goose.", []string{"# Chapter 1", "# Chapter 2"}},
		{"words that stand out in the story", "/@^Chapter 1@>FILLER@_She knows@>FILLER@_Run@>FILLER@_Never again@>FILLER@/@^Chapter 2@>FILLER", []string{"# Chapter 1", "*She knows*", "*Run*", "*Never again*", "# Chapter 2"}},
		{"scenes that begin with a word", "/@^Chapter 1@>FILLER@@>Later@>FILLER@@>Later still@>FILLER@@>After that@>FILLER@/@^Chapter 2@>FILLER", []string{"# Chapter 1", "* * *", "* * *", "* * *", "# Chapter 2"}},
		{"short lines in a story without chapters", ">It rained@>FILLER@>FILLER@>And then nothing@>FILLER@>FILLER@>Silence@>FILLER@>FILLER", nil},
		{"a first chapter whose text begins shortly", "^+Marta@>It rained@>FILLER@/@^+Pim@>FILLER@/@^+Ines@>FILLER", []string{"# Marta", "# Pim", "# Ines"}},
		{"a word that names pieces, in the story", "/@^Chapter 1@>FILLER@>Thanks@@>FILLER@/@^Chapter 2@>FILLER", []string{"# Chapter 1", "* * *", "# Chapter 2"}},
		{"a number in the story", "/@^Chapter One@>FILLER@@@>Seven@@@>FILLER@/@^Chapter Two@>FILLER", []string{"# Chapter One", "* * *", "* * *", "# Chapter Two"}},
		{"chapters that begin with a short line", "/@^Chapter 1@>It rained@>FILLER@/@^Chapter 2@>Nothing moved@>FILLER", []string{"# Chapter 1", "# Chapter 2"}},
		{"words that hold the name of a month or a day", "/@^Chapter 1@>FILLER@_A Generous Offer@>FILLER@_The Montage@>FILLER@_Mustard@>FILLER@_A Miserable Journey@>FILLER@/@^Chapter 2@>FILLER",
			[]string{"# Chapter 1", "*A Generous Offer*", "*The Montage*", "*Mustard*", "*A Miserable Journey*", "# Chapter 2"}},
		{"a page behind an end that is none", "/@^Chapter 1@>FILLER@^The End@/@>FILLER@/@^Chapter 2@>FILLER@Slut.@/@>FILLER", []string{"# Chapter 1", "* * *", "# Chapter 2", "* * *"}},
		{"a page that begins with a letter", "/@^Chapter 1@>FILLER@/@Dear Ann,@>FILLER@Yours ever,@Pole@/@^Chapter 2@>FILLER", []string{"# Chapter 1", "* * *", "# Chapter 2"}},
		{"times of day in German", "/@^Chapter 1@_Montagmorgen@>FILLER@@_Mitternacht@>FILLER@/@^Chapter 2@_Freitagabend@>FILLER@@_Samstagnacht@>FILLER", []string{"# Chapter 1", "### Montagmorgen", "### Mitternacht", "# Chapter 2", "### Freitagabend", "### Samstagnacht"}},
		{"signs among empty lines", "/@^Chapter 1@>FILLER@@^KEEP OUT@@>FILLER@@^NO FIRES@@>FILLER@@^GONE FISHING@@>FILLER@/@^Chapter 2@>FILLER", []string{"# Chapter 1", "# Chapter 2"}},
		{"names of those who tell", "/@^Chapter 1@^Mara@>FILLER@@^Tobin@>FILLER@/@^Chapter 2@^Tobin@>FILLER@@^Mara@>FILLER", []string{"# Chapter 1", "### Mara", "### Tobin", "# Chapter 2", "### Tobin", "### Mara"}},
		{"place and date below a title", "/@^Ebb@_Mara@_London, 1921@@>FILLER@/@^Flood@_Tobin@_Marle, 1922@@>FILLER", []string{"# Ebb", "*Mara*", "*London, 1921*", "# Flood", "*Tobin*", "*Marle, 1922*"}},
		{"a motto that looks as the text", "/@^Ebb@>The sea keeps no accounts.@>— Harbor Rules@@>FILLER@/@^Flood@>FILLER", []string{"# Ebb", "> The sea keeps no accounts.", ">", "> — Harbor Rules", "# Flood"}},
		{"a sentence in italics below a heading", "/@^Ebb@_Rule one: never look back.@@>FILLER@/@^Flood@>FILLER", []string{"# Ebb", "> *Rule one: never look back.*", "# Flood"}},
		{"verse below a heading", "/@^Chapter 1@@The tide goes out on Tuesday@and nobody will say@@who left the door unfastened@or took the key away@@and then it rained@on all of us alike@@>FILLER@/@^Chapter 2@>FILLER", []string{"# Chapter 1", "# Chapter 2"}},
		{"an end between signs", "/@^Chapter 1@>FILLER@/@^Chapter 2@>FILLER@@^-END-@/@Dear reader, I thank you for every page.", []string{"# Chapter 1", "# Chapter 2"}},
	} {
		wml, odt := typed(strings.NewReplacer("@", "\n", ">FILLER", "\tFILLER\n\tFILLER\n\tFILLER", ">", "\t").Replace(c.script))
		for name, document := range map[string][]byte{"a.docx": docxOf(t, wml), "a.odt": odtOf(t, odt)} {
			k := take(t, name, document)
			var got []string
			text := k.text(t)
			for l := range strings.Lines(text) {
				l = strings.TrimSpace(l)
				if strings.HasPrefix(l, "#") || strings.HasPrefix(l, "*") || strings.HasPrefix(l, ">") {
					got = append(got, l)
				}
			}
			if strings.Join(got, "|") != strings.Join(c.want, "|") || !k.compared.Equal() {
				t.Errorf("%s, %s: %q\n%s", c.name, name, got, text)
			}
			if c.name == "a page in memory of somebody" && !strings.Contains(text, "== front/dedication.md\n") || c.name == "a line in the middle of a last page" && !strings.Contains(text, "== back/text.md\n") {
				t.Errorf("%s, %s:\n%s", c.name, name, text)
			}
			if c.name == "an end between signs" && !strings.Contains(text, "== back/text.md\nDear reader") {
				t.Errorf("%s, %s: a page behind the end is none of the back\n%s", c.name, name, text)
			}
		}
	}
}
