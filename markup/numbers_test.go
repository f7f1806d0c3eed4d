package markup

import (
	"fmt"
	"testing"
)

// What a heading says of a number, by common practice in novels.
func TestNumbers(t *testing.T) {
	for _, c := range []struct{ lang, heading, want string }{
		// number alone: in figures, roman numerals and words
		{"en", "# 1", "1|1|"},
		{"en", "# 12.", "12|12|"},
		{"en", "# I", "1|I|"},
		{"en", "# XIV", "14|XIV|"},
		{"en", "# ii", "2|ii|"},
		{"en", "# One", "1|One|"},
		{"en", "# TWENTY-ONE", "21|TWENTY-ONE|"},
		{"en", "# *One*", "1|One|"},
		{"de", "# Einundzwanzig", "21|Einundzwanzig|"},
		{"fr", "# Vingt et un", "21|Vingt et un|"},

		// with its word
		{"en", "# Chapter One", "1|Chapter One|"},
		{"en", "# CHAPTER XXI", "21|CHAPTER XXI|"},
		{"en", "# Chapter the First", "1|Chapter the First|"},
		{"en", "# The Third Chapter", "3|The Third Chapter|"},
		{"en", "# Part Two", "part 2|Part Two|"},
		{"en", "# Book I", "part 1|Book I|"},
		{"de", "# Erstes Kapitel", "1|Erstes Kapitel|"},
		{"de", "# 3. Kapitel", "3|3. Kapitel|"},
		{"de", "# Teil I: Ebbe", "part 1|Teil I|Ebbe"},
		{"de", "# Zweiter Teil", "part 2|Zweiter Teil|"},
		{"fr", "# Première partie — Le reflux", "part 1|Première partie|Le reflux"},
		{"fr", "# Chapitre premier : La mer", "1|Chapitre premier|La mer"},
		{"fr", "# 2e partie", "part 2|2e partie|"},
		{"it", "# Parte prima", "part 1|Parte prima|"},
		{"it", "# Capitolo terzo. Il faro", "3|Capitolo terzo|Il faro"},
		{"es", "# Capítulo primero: El mar", "1|Capítulo primero|El mar"},
		{"es", "# Segunda parte", "part 2|Segunda parte|"},
		{"pt", "# Capítulo II – O mar", "2|Capítulo II|O mar"},
		{"nl", "# Hoofdstuk een", "1|Hoofdstuk een|"},
		{"nl", "# Eerste deel", "part 1|Eerste deel|"},
		{"sv", "# Första kapitlet", "1|Första kapitlet|"},
		{"pl", "# Rozdział pierwszy: Morze", "1|Rozdział pierwszy|Morze"},
		{"pl", "# Część druga", "part 2|Część druga|"},

		// and a title
		{"en", "# Chapter One: The Long Ebb", "1|Chapter One|The Long Ebb"},
		{"en", "# Chapter One -- The Long Ebb", "1|Chapter One|The Long Ebb"},
		{"en", "# Chapter One---The Long Ebb", "1|Chapter One|The Long Ebb"},
		{"en", "# Chapter 12 The Long Ebb", "12|Chapter 12|The Long Ebb"},
		{"en", "# Chapter One. The Long Ebb", "1|Chapter One|The Long Ebb"},
		{"en", "# 3: The *Long* Ebb", "3|3|The Long Ebb"},
		{"en", "# 3 - The Long Ebb", "3|3|The Long Ebb"},
		{"en", "# IV. The Long Ebb", "4|IV|The Long Ebb"},
		{"en", "# Two: 1984", "2|Two|1984"},
		{"en", "Chapter One\nThe Long Ebb\n===", "1|Chapter One|The Long Ebb"},
		{"en", "Chapter One\\\nThe Long Ebb\n===", "1|Chapter One|The Long Ebb"},
		{"en", "# Chapter One: \"Ebb\" at 10:30", "1|Chapter One|“Ebb” at 10:30"},

		// no number
		{"en", "# The Long Ebb", "0||The Long Ebb"},
		{"en", "# 1984", "0||1984"},
		{"en", "# 451", "0||451"},
		{"en", "# MIX", "0||MIX"},
		{"en", "# Li", "0||Li"},
		{"en", "# Seven Days", "0||Seven Days"},
		{"en", "# I Remember", "0||I Remember"},
		{"en", "# I, Clerk", "0||I, Clerk"},
		{"en", "# One. Two. Three", "0||One. Two. Three"},
		{"en", "# One---Two", "0||One—Two"},
		{"en", "# Second", "0||Second"},
		{"en", "# 10:30", "0||10:30"},
		{"en", "# 3 March", "0||3 March"},
		{"de", "# 3. März", "0||3. März"},
		{"en", "# Part of Me", "0||Part of Me"},
		{"en", "# Part I Played", "0||Part I Played"},
		{"en", "# Book of Days: One", "0||Book of Days: One"},
		{"en", "# Chapter", "0||Chapter"},
		{"en", "# Chapter Zero", "0||Chapter Zero"},
		{"de", "# Chapter One", "0||Chapter One"},
		{"en", "# Day One", "0||Day One"},

		// as the author says
		{"en", "# One {.unnumbered}", "plain 0||One"},
		{"en", "# Part Two: A Memory {.chapter}", "0||Part Two: A Memory"},
		{"en", "# The Ebb {.part}", "part 0||The Ebb"},
		{"en", "# I {.part}", "part 1|I|"},
		{"en", "# Chapitre premier : La mer {lang=fr}", "1|Chapitre premier|La mer"},

		// beside the chapters
		{"en", "# Prologue", "plain 0||Prologue"},
		{"en", "# EPILOGUE: The Mole", "plain 0||EPILOGUE: The Mole"},
		{"en", "# Interlude II", "plain 0||Interlude II"},
		{"en", "# Author's Note", "plain 0||Author’s Note"},
		{"en", "# Prologue {.chapter}", "0||Prologue"},
		{"en", "# Introduction to Drowning", "0||Introduction to Drowning"},
		{"de", "# Nachwort", "plain 0||Nachwort"},
		{"fr", "# Épilogue", "plain 0||Épilogue"},
	} {
		b, err := load(t, c.lang, c.heading+"\n\nx\n")
		if err != nil {
			t.Errorf("%s: %v", c.heading, err)
			continue
		}
		s := b.Sections[0]
		got := fmt.Sprintf("%d|%s|%s", s.Ordinal, Plain(s.Number), Plain(s.Title))
		if s.Plain {
			got = "plain " + got
		}
		if s.Piece == Part {
			got = "part " + got
		}
		if got != c.want {
			t.Errorf("%s %s\n got %s\nwant %s", c.lang, c.heading, got, c.want)
		}
	}
}

// No note is lost where a heading is divided.
func TestNotesOfHeadings(t *testing.T) {
	for _, c := range []struct {
		heading       string
		number, title int // notes
	}{
		{"# One[^a]", 1, 0},
		{"# One.[^a]", 1, 0},
		{"# One[^a]: Two[^b]", 1, 1},
		{"# One:[^a] Two", 0, 1},
		{"# The Ebb[^a]", 0, 1},
	} {
		text := c.heading + "\n\nx\n\n[^a]: y\n"
		if c.number+c.title == 2 {
			text += "\n[^b]: z\n"
		}
		b, err := load(t, "en", text)
		if err != nil {
			t.Fatal(err)
		}
		count := func(text []Inline) (n int) {
			for _, in := range text {
				if in.Note > 0 {
					n++
				}
			}
			return n
		}
		s := b.Sections[0]
		if n, m := count(s.Number), count(s.Title); n != c.number || m != c.title {
			t.Errorf("%s: %d and %d notes, want %d and %d", c.heading, n, m, c.number, c.title)
		}
	}
}

func TestParts(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"chapters below", "# Part One\n\n> m\n\n## A\n\nx\n\n### sub\n\n## B\n\nx\n\n# Part Two: T\n\n## C\n\nx\n\n# Epilogue\n\nx\n\n## sub",
			"body a.md:1 Part One (part)\nbody a.md:5 A\nbody a.md:11 B\nbody a.md:15 T (part)\nbody a.md:17 C\nbody a.md:21 Epilogue"},
		{"beside", "# Part One\n\n# 1\n\nx\n\n## sub\n\nx\n\n# 2\n\nx", "body a.md:1 Part One (part)\nbody a.md:3 1\nbody a.md:11 2"},
		{"by attribute", "# One\n\nx\n\n## The Ebb {.part}\n\n### A\n\nx", "body a.md:1 One\nbody a.md:5 The Ebb (part)\nbody a.md:7 A"},
		{"in a titled book", "# The Book\n\n## Part One\n\n### A\n\nx\n\n### B\n\nx", "body a.md:1 The Book\nbody a.md:3 Part One (part)\nbody a.md:5 A\nbody a.md:9 B"},
		{"number and title in two headings", "# Chapter One\n\n## The Ebb\n\nx\n\n### sub\n\n# Chapter Two\n\nx\n\n## sub", "body a.md:1 The Ebb\nbody a.md:9 Chapter Two"},
		{"alone", "# Part One", "body a.md:1 Part One (part)"},
	} {
		b, err := load(t, "en", c.text)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		got := ""
		for i, s := range b.Sections {
			if i > 0 {
				got += "\n"
			}
			got += "body " + s.Pos.String() + " " + firstOf(Plain(s.Title), Plain(s.Number))
			if s.Piece == Part {
				got += " (part)"
			}
		}
		if got != c.want {
			t.Errorf("%s: got\n%s\nwant\n%s", c.name, got, c.want)
		}
	}
}

func firstOf(a, b string) string {
	if a != "" {
		return a
	}
	return b
}
