package wordproc

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestSetOff finds what stands out of the text, and what it is.
func TestSetOff(t *testing.T) {
	for _, c := range []struct{ name, script, want, change string }{
		{"verse typed in deeper", "\t\tThe apple’s in the bough,\n\t\tthe worm is in the apple,\n\t\tand none to pick it now.", "```verse\nThe apple’s in the bough,\nthe worm is in the apple,\nand none to pick it now.\n```", ""},
		{"speech typed in deeper", "\t\t“No.”\n\t\t“Yes.”\n\t\t“No.”", "“No.”\n\n“Yes.”\n\n“No.”", ""},
		{"one line typed in deeper", "\t\tNobody came.", "Nobody came.", ""},
		{"verse at the left, with room around it", "\nThe tide comes in on Tuesday\nand leaves the boats behind\nthe keeper has a lantern\nand nothing on his mind\n\nthe keeper goes on Friday\nand leaves the light behind\nthe harbour has no pilot\nand nobody to mind\n",
			"```verse\nThe tide comes in on Tuesday\nand leaves the boats behind\nthe keeper has a lantern\nand nothing on his mind\n\nthe keeper goes on Friday\nand leaves the light behind\nthe harbour has no pilot\nand nobody to mind\n```", ""},
		{"verse that begins with an apostrophe", "\t\t‘Twas in the bough,\n\t\t’tis in the apple,\n\t\tand none to pick it now.", "```verse\n’Twas in the bough,\n’tis in the apple,\nand none to pick it now.\n```", changedMarks},
		{"speech in marks of other languages", "\t\t»Nein.«\n\t\t„Ja.“\n\t\t‘No.’", "»Nein.«\n\n„Ja.“\n\n‘No.’", ""},
		{"short stanzas at the left", "\nIt rained.\nand then nothing\nthe ferry comes at nine\n\nwith nobody aboard\nbut rain and a tin kettle\n\nyours if you can climb it\na green coat on a nail\n",
			"```verse\nIt rained.\nand then nothing\nthe ferry comes at nine\n\nwith nobody aboard\nbut rain and a tin kettle\n\nyours if you can climb it\na green coat on a nail\n```", ""},
		{"a line in capitals among empty ones", "\nKEEP OUT\n", "> KEEP OUT", ""},
		{"two lines in italics among empty ones", "\n_Oh the tide is turning\n_and the lamp is lit\n", "```verse\n*Oh the tide is turning*\n*and the lamp is lit*\n```", ""},
		{"short paragraphs among the text", "\tAnd then nothing\n\tSilence\n\tThe rain, the rain\n\tand again", "And then nothing\n\nSilence\n\nThe rain, the rain\n\nand again", ""},
		{"who says what", "|ROE: State your name.\n|ILEX: You know it.\n|ROE: (low) Say it.", "> ROE: State your name.\\\n> ILEX: You know it.\\\n> ROE: (low) Say it.", ""},
		{"a list that was typed", "|1. Rope\n|2. Tar\n|3. A bell, small", "> 1\\. Rope\\\n> 2\\. Tar\\\n> 3\\. A bell, small", ""},
		{"verse set in", "|The apple’s in the bough,\n|the worm is in the apple,\n|and none to pick it now.", "```verse\nThe apple’s in the bough,\nthe worm is in the apple,\nand none to pick it now.\n```", ""},
		{"a stone", "^HERE LIES\n^OBADIAH FENN\n^1702–1771\n^He held.", "```sign\nHERE LIES\nOBADIAH FENN\n1702–1771\nHe held.\n```", ""},
		{"a log in a face of its own", "=[14:31:07] JUNO: Nominal.\n=[14:31:09] ILEX: Define it.", "> \\[14:31:07\\] JUNO: Nominal.\\\n> \\[14:31:09\\] ILEX: Define it.", ""},
		{"messages on both sides", ">Are you there?\nNo.\n>Say where.", "> Are you there?\\\n> No.\\\n> Say where.", changedSides},
		{"one line at the right", ">Are you there?", "Are you there?", changedSides},
		{"a paragraph in a face of its own", "\t=FILLER", "FILLER", changedFaces},
	} {
		rest := "\tFILLER\n\tFILLER\n\tFILLER\n\tFILLER\n"
		wml, odt := typed("^Chapter 1\n" + rest + c.script + "\n" + rest + "/\n^Chapter 2\n\tFILLER")
		for name, document := range map[string][]byte{"a.docx": docxOf(t, wml), "a.odt": odtOf(t, odt)} {
			k := take(t, name, document)
			four := strings.Repeat("FILLER\n\n", 4)
			want := strings.ReplaceAll("== chapters/01-chapter-1.md\n# Chapter 1\n\n"+four+c.want+"\n\n"+four[:len(four)-1]+"== chapters/02-chapter-2.md\n# Chapter 2\n\nFILLER\n", "FILLER", filler)
			if diff := cmp.Diff(want, k.text(t)); diff != "" || !k.compared.Equal() {
				t.Errorf("%s, %s (-want +got):\n%s\n%v", c.name, name, diff, k.compared.Differences)
			}
			if got := len(k.m.Changed) > 0 && k.m.Changed[0].Kind == c.change; got != (c.change != "") || len(k.m.Changed) > 1 {
				t.Errorf("%s, %s: changed %v", c.name, name, k.m.Changed)
			}
		}
	}
}

// TestUnsettled lists what authors leave for later, and what no face can set.
func TestUnsettled(t *testing.T) {
	k := take(t, "a.docx", docxOf(t, wHead+wp("He came at [TK: when?] and TKTK and XXX of them.")+
		`<w:p>`+wr("It was ")+ws(`<w:highlight w:val="yellow"/>`, "in May")+wr(" or ")+ws(`<w:color w:val="C00000"/>`, "June")+wr(".")+`</w:p>`+
		`<w:p>`+ws(`<w:color w:val="333333"/>`, "Gray is no colour. Nor is [a bracket], or a Tk.")+`</w:p>`+wp("The sign 完 fell.")+wp("And 完 again.")+wp("He was Louis XXX, not Louis XXXX, and then XXX came. Inspector XXX nodded.")+
		`<w:tbl><w:tr><w:tc>`+wp("[CHECK this]")+`</w:tc></w:tr></w:tbl>`+`<w:p>`+wr("A note.")+`<w:r><w:footnoteReference w:id="2"/></w:r></w:p>`, part{"word/footnotes.xml", `<w:footnotes xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main"><w:footnote w:id="2">` + wp("See TK.") + `</w:footnote></w:footnotes>`}))
	var got []string
	for _, g := range k.m.Guesses {
		if g.What == "place left open" {
			got = append(got, g.Text)
		}
	}
	if diff := cmp.Diff([]string{"[TK: when?]", "TKTK", "XXX", "in May", "June", "XXXX", "XXX", "XXX", "[CHECK this]", "TK"}, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	unset := k.m.Unset(func(r rune) bool { return r < 0x3000 })
	if diff := cmp.Diff([]Finding{{Kind: KindGlyph, N: 5, Text: "完 (U+5B8C)", Spot: Spot{"chapters/01-ebb.md", 9}}}, unset); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}
