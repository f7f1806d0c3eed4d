package wordproc

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestChapterOpenings finds them in the ways that people type them.
func TestChapterOpenings(t *testing.T) {
	two := func(a, b string) string { return "/\n" + a + "\n\tFILLER\n\tFILLER\n/\n" + b + "\n\tFILLER\n\tFILLER" }
	for _, c := range []struct {
		name, script string
		want         []string
	}{
		{"words", two("Chapter Seven", "Chapter Eight"), []string{"Chapter Seven", "Chapter Eight"}},
		{"figures with titles", two("^CHAPTER 7: THE EBB", "^CHAPTER 8: SLACK"), []string{"CHAPTER 7: THE EBB", "CHAPTER 8: SLACK"}},
		{"numbers alone", two("^7", "^8"), []string{"7", "8"}},
		{"roman numerals", two("^VII", "^VIII"), []string{"VII", "VIII"}},
		{"roman numerals that could be ornaments", two("^X", "^XX") + "\n^oo-O-oo\n\tFILLER\n^x x x\n\tFILLER", []string{"X", "XX"}},
		{"numbers between signs", two("^- 7 -", "^~ 8 ~") + "\n/\n^— IX —\n\tFILLER\n/\n^10.\n\tFILLER\n/\n^#11\n\tFILLER\n/\n^* 12 *\n\tFILLER", []string{"- 7 -", "~ 8 ~", "— IX —", "10.", "#11", "* 12 *"}},
		{"titles among empty lines", "^The Wall\n\n\tFILLER\n\tFILLER\n\n\n\n^The Lamp\n\n\tFILLER\n\tFILLER\n\n\n\n^The Ledger\n\n\tFILLER", []string{"The Wall", "The Lamp", "The Ledger"}},
		{"names without a number", "^Chapter 1\n\tFILLER\n\tCONCLUSION\n\tFILLER\n/\n^CONCLUSION\n\tFILLER", []string{"Chapter 1", "CONCLUSION"}},
		{"numbers anew in each part, names below them", "/\n^PART ONE\n/\n^Chapter 1\n^ANSA\n\tFILLER\n/\n^Chapter 2\n^BRAM\n\tFILLER\n/\n^PART TWO\n/\n^Chapter 1\n^ANSA\n\tFILLER\n/\n^Chapter 2\n^BRAM\n\tFILLER",
			[]string{"PART ONE", "Chapter 1: ANSA", "Chapter 2: BRAM", "PART TWO", "Chapter 1: ANSA", "Chapter 2: BRAM"}},
		{"an excerpt behind the back", two("^Chapter 1", "^Chapter 2") + "\n/\n^Acknowledgments\n\tFILLER\n/\n^An Excerpt from Neap\n\tFILLER", []string{"Chapter 1", "Chapter 2", "Acknowledgments", "An Excerpt from Neap"}},
		{"a page of a newspaper", two("^Chapter 1", "^Chapter 2") + "\n/\n^=THE MARLE GAZETTE\n^Friday, 3 June\n\tFILLER\n/\n\tFILLER\n/\n^Chapter 3\n\tFILLER", []string{"Chapter 1", "Chapter 2", "THE MARLE GAZETTE", "Chapter 3"}},
		{"a larger page of a newspaper", two("^Chapter 1", "^Chapter 2") + "\n/\n^+THE MARLE GAZETTE\n^Friday, 3 June\n\tFILLER\n/\n\tFILLER\n/\n^Chapter 3\n\tFILLER", []string{"Chapter 1", "Chapter 2", "Chapter 3"}},
		{"titles below numbers, the text in the middle", "/\n^ONE\n^The Bell\n\n^FILLER\n^FILLER\n/\n^TWO\n^The Ferry\n\n^FILLER\n^FILLER\n/\n^THREE\n^The Far Side\n\n^FILLER", []string{"ONE: The Bell", "TWO: The Ferry", "THREE: The Far Side"}},
		{"numbers alone that count, in the middle", "^1\n\tFILLER\n\tFILLER\n^2\n\tFILLER\n^3\n\tFILLER", []string{"1", "2", "3"}},
		{"numbers alone that count, at the left", "1\n\tFILLER\n\tFILLER\n2\n\tFILLER\n3\n\tFILLER", []string{"1", "2", "3"}},
		{"numbers of scenes", "/\n^The Long Ebb\n\t1\n\tFILLER\n\t2\n\tFILLER\n\t3\n\tFILLER\n/\n^Slack Water\n\t1\n\tFILLER\n\t2\n\tFILLER", []string{"The Long Ebb", "Slack Water"}},
		{"titles of one look and nothing else", "+The Long Ebb\n\tFILLER\n\tFILLER\n+Slack Water\n\tFILLER\n+Pears\n\tFILLER", []string{"The Long Ebb", "Slack Water", "Pears"}},
		{"titles below words and numbers, as the text", "Chapter 1\nThe Long Ebb\n\tFILLER\nChapter 2\nSlack Water\n\tFILLER\nChapter 3\nPears\n\tFILLER", []string{"Chapter 1: The Long Ebb", "Chapter 2: Slack Water", "Chapter 3: Pears"}},
		{"the word, the number and the title in lines of their own", "^CHAPTER\n^ONE\n^The Ebb\n\n\tFILLER\n\tFILLER\n/\n^CHAPTER\n^TWO\n^Slack\n\n\tFILLER", []string{"CHAPTER ONE: The Ebb", "CHAPTER TWO: Slack"}},
		{"number and title in one paragraph", two("^Chapter 7<br><br>The Ebb", "^Chapter<br>8<br>"), []string{"Chapter 7: The Ebb", "Chapter 8"}},
		{"the word and the number", "^Part\n^I\n/\n^Chapter\n\n^1\n\tFILLER\n/\n^Chapter\n\n^2\n\tFILLER\n\tChapter\n\tFILLER", []string{"Part I", "Chapter 1", "Chapter 2"}},
		{"names above the numbers", "/\n^MARA\n^Chapter 1\n\tFILLER\n\tFILLER\n/\n^TOBIN\n^Chapter 2\n\tFILLER\n/\n^MARA\n^Chapter 3\n\tFILLER", []string{"Chapter 1: MARA", "Chapter 2: TOBIN", "Chapter 3: MARA"}},
		{"a heading and its text in one paragraph", two("Chapter 7<br><br>FILLER<br>FILLER", "Chapter 8<br>FILLER"), []string{"Chapter 7", "Chapter 8"}},
		{"chapters behind a title page, in bold or in the middle alone", "^Slack Water\n^by Ines Marrow\n/\n^The Mill\n" + strings.Repeat("\tFILLER\n", 5) + "\n^The Weir\n" + strings.Repeat("\tFILLER\n", 5) + "\n^The Rope\n\tFILLER", []string{"The Mill", "The Weir", "The Rope"}},
		{"numbers with titles that count", "1. The Mill\n" + strings.Repeat("\tFILLER\n", 5) + "2. The Weir\n" + strings.Repeat("\tFILLER\n", 5) + "\t1\n\tFILLER\n3. The Rope\n\tFILLER\n\t1. Rope\n\t2. Tar\n\t3. Nails\n\tFILLER", []string{"1. The Mill", "2. The Weir", "3. The Rope"}},
		{"a number in the story, among numbers", "1\n\tFILLER\n\n2\n\tFILLER\n\n1\n\tFILLER\n\n3\n\tFILLER\n\n4\n\tFILLER", []string{"1", "2", "3", "4"}},
		{"titles alone on their pages", "^Slack Water\n^by Ines Marrow\n/\nCopyright © 2026 Ines Marrow\n/\n^The Mill\n/\n\tFILLER\n\tFILLER\n/\n^The Weir\n/\n\tFILLER\n/\n^The Rope\n/\n\tFILLER", []string{"", "The Mill", "The Weir", "The Rope"}},
		{"long titles below the numbers", "/\n^Chapter 1\n^In which the ferryman is late and Mara reads a letter that was meant for somebody else\n\tFILLER\n/\n^Chapter 2\n^Slack\n\tFILLER", []string{"Chapter 1: In which the ferryman is late and Mara reads a letter that was meant for somebody else", "Chapter 2: Slack"}},
		{"a part with nothing but a line in italics", "/\n^Chapter 1\n\tFILLER\n/\n^Chapter 2\n\tFILLER\n/\n^Part Two\n_Nobody came.", []string{"Chapter 1", "Chapter 2", "Part Two"}},
		{"the word for a chapter in the story", "^1\n\tFILLER\n\tAct One, he thought. Curtain.\n\tChapter Twelve.\n\tFILLER\n^2\n\tFILLER\n^3\n\tFILLER", []string{"1", "2", "3"}},
		{"heads that come again, above speech", "/\n^Mara\n\n\t“Why?”\n\t“No!”\n\t“Why?”\n\tFILLER\n/\n^Tobin\n\n\t“Why?”\n\t“No!”\n\t“Why?”\n\tFILLER\n/\n^Mara\n\n\tFILLER\n/\n^Tobin\n\n\tFILLER", []string{"Mara", "Tobin", "Mara", "Tobin"}},
		{"short heads behind a page about rights", "Copyright © 2026 Ines Marrow\nAll rights reserved. No part of this may be copied.\n\n\n\n\nThe Mill\n\n" + strings.Repeat("\tFILLER\n", 5) + "\n\n\n\nThe Weir\n\n" + strings.Repeat("\tFILLER\n", 5) + "\n\n\n\nThe Rope\n\n\tFILLER", []string{"", "The Mill", "The Weir", "The Rope"}},
		{"speech below one of the numbers", "Chapter 1\nThe Long Ebb\n\tFILLER\nChapter 2\n“Slack water”\n\tFILLER", []string{"Chapter 1", "Chapter 2"}},
		{"titles that stand alone at the left", "The Bell\n\n\tFILLER\n\tFILLER\n\n\n\nThe Rope\n\n\tFILLER\n\tFILLER\n\n\n\nThe Lamp\n\n\tFILLER", []string{"The Bell", "The Rope", "The Lamp"}},
		{"nothing but short lines among empty ones", "The Bell\n\n" + strings.Repeat("FILLER\n\n", 5) + "The Rope\n\n" + strings.Repeat("FILLER\n\n", 5) + "The Lamp\n\n" + strings.Repeat("FILLER\n\n", 5), []string{"The Bell", "The Rope", "The Lamp"}},
		{"acts", two("^Act One", "^Act Two"), []string{"Act One", "Act Two"}},
		{"a long title, a half and the last", two("^Chapter the First, in which a goose is bought and nobody, least of all the goose, is asked about the price", "^Chapter Two and a Half") + "\n/\n^Chapter the Third\n\tFILLER\n/\n^The Last Chapter\n\tFILLER",
			[]string{"Chapter the First, in which a goose is bought and nobody, least of all the goose, is asked about the price", "Chapter Two and a Half", "Chapter the Third", "The Last Chapter"}},
		{"titles in italics", "/\n^I.\n^_In Which a Trunk Arrives\n\tFILLER\n/\n^II.\n^_In Which It Is Opened\n>_Harwich, 3 May\n\tFILLER", []string{"I. In Which a Trunk Arrives", "II. In Which It Is Opened"}},
		{"places in italics", "/\n^I.\n^_Harwich, May\n\tFILLER\n/\n^II.\n^_Marle, June\n\tFILLER", []string{"I.", "II."}},
		{"words alone", two("^Seven", "^Eight"), []string{"Seven", "Eight"}},
		{"titles alone", two("^The Long Ebb", "^Slack Water"), []string{"The Long Ebb", "Slack Water"}},
		{"parts and chapters", "/\n^Part One\n^Ebb\n/\n^Chapter 1\n\tFILLER\n/\n^Chapter 2\n\tFILLER\n/\n^Part Two\n^Flood\n/\n^Chapter 3\n\tFILLER",
			[]string{"Part One: Ebb", "Chapter 1", "Chapter 2", "Part Two: Flood", "Chapter 3"}},
		{"no new pages", "^Chapter 1\n\tFILLER\n\n\n^Chapter 2\n\tFILLER", []string{"Chapter 1", "Chapter 2"}},
		{"speech is none", "/\n^Chapter 1\n\tFILLER\n\tSeven\n\tFILLER\n\tNo\n\tFILLER", []string{"Chapter 1"}},
	} {
		wml, odt := typed(c.script)
		for name, document := range map[string][]byte{"a.docx": docxOf(t, wml), "a.odt": odtOf(t, odt)} {
			k := take(t, name, document)
			var got []string
			for _, p := range k.m.Pieces {
				got = append(got, p.Title)
			}
			if text := k.text(t); c.name == "an excerpt behind the back" && strings.Contains(text, "chapters/03") {
				t.Errorf("the back is no back:\n%s", text)
			}
			if text := k.text(t); c.name == "numbers between signs" && (!strings.Contains(text, "\n# 7\n") || !strings.Contains(text, "\n# IX\n") || !k.compared.Equal()) {
				t.Errorf("the signs are left:\n%s", text)
			}
			if diff := cmp.Diff(c.want, got); diff != "" {
				t.Errorf("%s, %s (-want +got):\n%s\n%s", c.name, name, diff, k.text(t))
			}
		}
	}
}

// TestMisnumbered lists chapters whose numbers do not go on.
func TestMisnumbered(t *testing.T) {
	for script, want := range map[string]string{
		"1 2 3 4":         "",
		"1 2 4 5":         "3 is missing before it",
		"1 2 6":           "3 to 5 are missing before it",
		"1 2 2 3":         "the number comes twice",
		"1 3 2":           "2 is missing before it; it follows 3",
		"7 8 9":           "", // a part of a book
		"p 1 2 p 1 2":     "",
		"p 1 2 p 3 4":     "",
		"p 1 2 p 4":       "the one before it is 2",
		"1 2 b 1 2":       "", // the first chapters of another book
		"1 2 3 e b 1 2 3": "",
	} {
		typescript := ""
		for f := range strings.FieldsSeq(script) {
			head := map[string]string{"p": "Part " + strconv.Itoa(strings.Count(typescript, "Part")+1), "b": "Acknowledgments", "e": "Epilogue"}[f]
			if head == "" {
				head = "Chapter " + f
			}
			typescript += "/\n^" + head + "\n"
			if f != "p" {
				typescript += "\tFILLER\n\tFILLER\n"
			}
		}
		wml, _ := typed(typescript)
		var got []string
		for _, g := range take(t, "a.docx", docxOf(t, wml)).m.Guesses {
			if g.What == "number out of its order" {
				got = append(got, g.Reason)
			}
		}
		if s := strings.Join(got, "; "); s != want {
			t.Errorf("%s: %q, want %q", script, s, want)
		}
	}
}

// TestHeadingLevels: parts above chapters, a book's title above all, numbers
// from a list.
func TestHeadingLevels(t *testing.T) {
	h := func(level int, text string) string {
		return fmt.Sprintf(`<w:p><w:pPr><w:outlineLvl w:val="%d"/></w:pPr>%s</w:p>`, level-1, wr(text))
	}
	numbered := func(text string) string {
		return `<w:p><w:pPr><w:pStyle w:val="H1"/><w:numPr><w:numId w:val="2"/></w:numPr></w:pPr>` + wr(text) + `</w:p>`
	}
	for _, c := range []struct {
		name, body, want string
	}{
		{"parts by their level", h(1, "Ebb") + h(2, "The Pilot") + wp("a") + h(2, "The Clerk") + wp("b") + h(1, "Flood") + h(2, "The Rock") + wp("c"),
			"# Ebb {.part}\n|# The Pilot\n\na\n|# The Clerk\n\nb\n|# Flood {.part}\n|# The Rock\n\nc\n"},
		{"a date below each title", h(1, "The Pilot") + h(2, "1871") + wp("a") + h(1, "The Clerk") + h(2, "1874") + wp("b"),
			"# The Pilot\n\n## 1871\n\na\n|# The Clerk\n\n## 1874\n\nb\n"},
		{"praise before the copyright page", wp(strings.Repeat(filler+" ", 8)) + wPage + wp("Copyright © 2026 Ines Marrow") + wPage + h(1, "The Pilot") + wp("a"),
			strings.TrimSpace(strings.Repeat(filler+" ", 8)) + "\n|Copyright © 2026 Ines Marrow\n|# The Pilot\n\na\n"},
		{"parts with mottoes, an epilogue and the first pages of another book", h(1, "Part I: Ebb") + `<w:p><w:pPr><w:jc w:val="center"/></w:pPr>` + wr("Down is up, refused.") + `</w:p>` + h(2, "0") + wp("a") + h(3, "ROE") + wp("b") + h(2, "1") + wp("c") +
			h(1, "Part II: Flood") + `<w:p><w:pPr><w:jc w:val="center"/></w:pPr>` + wr("Up is down.") + `</w:p>` + h(2, "2") + wp(filler) + h(1, "Epilogue") + wp("d") + h(1, "Acknowledgments") + wp("e") + h(1, "From Neap") + h(2, "1") + wp("f"),
			"# Part I: Ebb\n\n> Down is up, refused.\n|# 0\n\na\n\n## ROE\n\nb\n|# 1\n\nc\n|# Part II: Flood\n\n> Up is down.\n|# 2\n\n" + filler + "\n|# Epilogue\n\nd\n|# Acknowledgments\n\ne\n|# From Neap\n\n## 1\n\nf\n"},
		{"a title above all", h(1, "The Tide Clerk") + h(2, "The Pilot") + wp("a") + h(2, "The Clerk") + wp("b"),
			"# The Pilot\n\na\n|# The Clerk\n\nb\n"},
		{"number and title", h(1, "Chapter One") + h(2, "The Pilot") + wp("a") + h(1, "Chapter Two") + h(2, "The Clerk") + wp("b"),
			"# Chapter One: The Pilot\n\na\n|# Chapter Two: The Clerk\n\nb\n"},
		{"a number and a line break", `<w:p><w:pPr><w:pStyle w:val="H1"/></w:pPr><w:r><w:t>Chapter One</w:t><w:br/><w:t>The Pilot</w:t></w:r></w:p>` + wp("a"),
			"# Chapter One: The Pilot\n\na\n"},
		{"numbers from a list", numbered("The Pilot") + wp("a") + numbered("The Clerk") + wp("b"),
			"# Chapter One: The Pilot\n\na\n|# Chapter Two: The Clerk\n\nb\n"},
		{"a style that was forgotten", h(1, "The Pilot") + wp(filler) + h(1, "The Clerk") + wp(filler) + wPage + `<w:p><w:pPr>` + wCentred + `</w:pPr>` + wr("Epilogue") + `</w:p>` + wp(filler),
			"# The Pilot\n\n" + filler + "\n|# The Clerk\n\n" + filler + "\n|# Epilogue\n\n" + filler + "\n"},
		{"a style that was given to text", h(1, "The Pilot") + h(1, strings.Repeat(filler+" ", 4)) + wp(filler), "# The Pilot\n\n" + strings.TrimSpace(strings.Repeat(filler+" ", 4)) + "\n\n" + filler + "\n"},
		{"nothing but numbers from a list", numbered("") + wp("a") + numbered("") + wp("b"), "# Chapter One\n\na\n|# Chapter Two\n\nb\n"},
		{"named pages in front", h(1, "Dedication") + wp("For K.") + h(1, "Preface") + wp("a") + h(1, "The Pilot") + wp("b") + h(1, "Afterword") + wp("c"),
			"For K.\n|# Preface\n\na\n|# The Pilot\n\nb\n|# Afterword\n\nc\n"},
		{"no heading at all", wp("a") + wp("b"), "a\n\nb\n"},
		{"text before the first chapter", wp(strings.Repeat(filler+" ", 8)) + h(1, "The Pilot") + wp("a"),
			strings.TrimSpace(strings.Repeat(filler+" ", 8)) + "\n|# The Pilot\n\na\n"},
		{"signs in a heading", h(1, "C# {.part} #") + wp("a"), "# C# \\{.part} \\#\n\na\n"},
	} {
		k := take(t, "a.docx", docxOf(t, c.body))
		var got []string
		for _, p := range k.m.Pieces {
			text, err := os.ReadFile(filepath.Join(k.dir, p.File))
			if err != nil {
				t.Fatal(err)
			}
			got = append(got, string(text))
		}
		if diff := cmp.Diff(c.want, strings.Join(got, "|")); diff != "" {
			t.Errorf("%s (-want +got):\n%s", c.name, diff)
		}
		if !k.compared.Equal() {
			t.Errorf("%s: %v", c.name, k.compared.Differences)
		}
	}
}
