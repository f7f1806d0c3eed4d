package typeset

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bodkin/markup"

	"github.com/google/go-cmp/cmp"
)

// written loads a book from the texts of its files.
func written(t *testing.T, src markup.Source, files map[string]string) *markup.Book {
	t.Helper()
	src.Dir = t.TempDir()
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(src.Dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if src.Title == "" {
		src.Title, src.Author = "The Lamp Room", "I. Marrow"
	}
	return load(t, src)
}

// outlineOf draws the pages of a layout for a person to read: a line for each
// page with its label and its side, and below it the lines that are not
// running text, with the row they stand on; of running text the first line.
//
//	recto 3
//	   7 heading  Chapter One
//	   9 heading  The Dry Chair
//	  12 text     The chair of …
//	  36 folio    3
func outlineOf(l *Layout) string {
	var b strings.Builder
	for i := range l.Pages {
		p := &l.Pages[i]
		side := "verso"
		if Recto(i) {
			side = "recto"
		}
		fmt.Fprintf(&b, "%s %s", side, p.Label)
		if p.Blank {
			b.WriteString(" blank")
		}
		b.WriteByte('\n')
		texts := 0
		for j := range p.Lines {
			line := &p.Lines[j]
			if line.Role == Text {
				if texts++; texts > 1 {
					continue
				}
			}
			row := (line.Y-l.Block.Baseline+l.Block.Leading/2)/l.Block.Leading + 1
			switch line.Role {
			case Head:
				row = 0
			case Folio:
				row = 99
			}
			fmt.Fprintf(&b, "  %2d %-8s %s\n", row, line.Role, shorten(line.text(), 44))
		}
	}
	return b.String()
}

func someText(sentences int) string {
	return strings.Repeat("The tide came in and went out. ", sentences) + "\n"
}

// A book with every piece: where each stands, what has a folio, what is blank.
func TestAnatomy(t *testing.T) {
	book := written(t, markup.Source{
		Front: []string{"half-title", "title-page", "copyright.md", "dedication.md", "contents", "foreword.md"},
		Body:  []string{"ebb.md", "one.md", "two.md", "flood.md", "three.md"},
		Back:  []string{"notes", "about.md"},
	}, map[string]string{
		"copyright.md":  "Copyright 2026\n",
		"dedication.md": "For the keepers\n",
		"foreword.md":   "# Foreword\n\n" + someText(9),
		"ebb.md":        "# The Ebb {.part}\n\n> Water goes where it must.\n>\n> -- Rules\n",
		"one.md":        "# The Chair\n\n> Lost at the ebb.\n\n*Haven, 3 October*\n\n" + someText(3) + "\nA note.[^1]\n\n[^1]: Of the chair.\n",
		"two.md":        "# Interlude {.unnumbered}\n\n" + someText(3),
		"flood.md":      "# The Flood {.part}\n",
		"three.md":      "# The Dial\n\n" + someText(120) + "\nA note.[^b]\n\n[^b]: Of the dial.\n",
		"about.md":      "# About the Author\n\nShe lives.\n",
	})
	s := Default()
	s.Numbers, s.PartNumbers = "Chapter One", "Part One"
	s.Heads = Heads{Verso: HeadPart, Recto: HeadChapter}
	l := compose(t, NewComposer(book, Resources{}), s)
	if err := Check(book, l); err != nil {
		t.Error(err)
	}
	want, err := os.ReadFile("testdata/anatomy.txt")
	if os.Getenv("UPDATE") != "" {
		err = os.WriteFile("testdata/anatomy.txt", []byte(outlineOf(l)), 0o666)
		want = []byte(outlineOf(l))
	}
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), outlineOf(l)); diff != "" {
		t.Errorf("testdata/anatomy.txt (-want +got; UPDATE=1 writes it anew)\n%s", diff)
	}
	inside(t, l)
}

// The folios in the contents are those of the pages, over several pages of
// contents, with long titles and two levels; no title runs into their column,
// points stand one below the other, and no part stands last on a page.
func TestContents(t *testing.T) {
	files := map[string]string{}
	src := markup.Source{Front: []string{"contents"}, Body: []string{"*.md"}}
	for i := range 60 {
		if i%9 == 0 {
			files[fmt.Sprintf("%02d-a.md", i)] = fmt.Sprintf("# The part of %d {.part}\n", i)
		}
		title := fmt.Sprintf("The chapter of %d", i)
		if i%7 == 3 {
			title += ", in which the clerk asks a mender of clocks what brass can know of water, and hears it"
		}
		files[fmt.Sprintf("%02d-b.md", i)] = "# " + title + "\n\n" + someText(10+i) + "\n## Inside " + fmt.Sprint(i) + "\n\n" + someText(30)
	}
	files["99.md"] = "# Hidden {.unlisted}\n\n" + someText(3)
	book := written(t, src, files)
	for _, change := range []func(*Setting){
		func(s *Setting) { s.Contents.Leaders = true },
		func(s *Setting) { s.Contents.Leaders = true; s.Contents.Levels = 2; s.Numbers = "I" },
		func(s *Setting) {
			s.Numbers, s.PartNumbers, s.Face = "Chapter One", "Part One", "Libre Baskerville"
			s.Contents.Leaders = true
			s.Trim, _ = ParseTrim("A-format")
		},
	} {
		s := Default()
		change(&s)
		l := compose(t, NewComposer(book, Resources{}), s)
		titles := map[string]string{} // of headings: title -> label of its page
		for i := range l.Pages {
			for j := range l.Pages[i].Lines {
				if line := &l.Pages[i].Lines[j]; line.Role == Heading {
					titles[strings.TrimSuffix(line.text(), " in")] = l.Pages[i].Label
				}
			}
		}
		inContents, found := 0, 0
		for i := range l.Pages {
			p := &l.Pages[i]
			if p.Section != 0 {
				continue
			}
			inContents++
			text := p.text()
			if last := text[len(text)-1].text(); strings.Contains(strings.ToLower(last), "the part of") {
				t.Errorf("page %s of the contents ends with %q", p.Label, last)
			}
			for j := range text {
				line := &text[j]
				if strings.Contains(line.text(), "Hidden") {
					t.Errorf("%q is listed", line.text())
				}
				runs := line.Runs
				if line.X+runs[len(runs)-1].X+runs[len(runs)-1].Width() > l.BlockLeft(i)+l.Block.Measure+1 {
					t.Errorf("%q runs out of the block", line.text())
				}
				for k := 1; k < len(runs); k++ {
					if runs[k-1].X+runs[k-1].Width() > runs[k].X+runs[k].Size/4 {
						t.Errorf("%q: %q runs into %q", line.text(), runs[k-1].Glyphs.Text, runs[k].Glyphs.Text)
					}
					if strings.HasPrefix(runs[k].Glyphs.Text, "..") {
						step := s.Size.Length * 2 / 3
						right := l.BlockLeft(i) + l.Block.Measure - line.X - runs[k].X
						width := scale(s.Size.Length, runs[k].Glyphs.Face.Shape(".", 0).Width, runs[k].Glyphs.Face)
						if off := (right - width) % step; off > 8 && off < step-8 {
							t.Errorf("%q: its points are %v off the common grid", line.text(), off)
						}
					}
				}
				last := &runs[len(runs)-1]
				listed := line.X+last.X+last.Width() > l.BlockLeft(i)+l.Block.Measure-8 // it ends with a folio
				for title, label := range titles {
					name := strings.Fields(title)
					if !strings.HasPrefix(title, "The chapter of") && !strings.HasPrefix(title, "Inside") || !listed {
						continue
					}
					if words := strings.Fields(strings.ReplaceAll(line.text(), ".", " ")); containsInOrder(words, name) && len(words) > len(name) {
						found++
						if got := words[len(words)-1]; got != label {
							t.Errorf("%q is on page %s", line.text(), label)
						}
					}
				}
			}
		}
		if inContents < 2 || found < 30 {
			t.Errorf("%d pages of contents, %d titles found in them", inContents, found)
		}
	}
}

// containsInOrder reports whether part stands in words without a gap.
func containsInOrder(words, part []string) bool {
	for i := 0; i+len(part) <= len(words); i++ {
		if strings.Join(words[i:i+len(part)], " ") == strings.Join(part, " ") {
			return true
		}
	}
	return false
}

// On which side a section begins, by custom and where its heading says.
func TestSides(t *testing.T) {
	files := map[string]string{
		"copyright.md": "Copyright\n", "dedication.md": "For you\n", "epigraph.md": "> The sea.\n", "foreword.md": "# Foreword\n\nText.\n",
		"a.md": "# A\n\nText.\n", "b.md": "# B\n\nText.\n", "c.md": "# C {.recto}\n\nText.\n", "d.md": "# D {.verso}\n\nText.\n",
		"p.md": "# P {.part}\n", "e.md": "# E\n\nText.\n", "f.md": "# F {.next}\n\nText.\n", "z.md": "# Z\n\nText.\n", "y.md": "# Y\n\nText.\n",
	}
	for _, c := range []struct {
		front, body, back []string
		opens             Opens
		want              string // the sections by their first letter, - for a blank page
	}{
		{[]string{"half-title", "title-page", "copyright.md", "dedication.md", "epigraph.md", "contents", "foreword.md"}, []string{"a.md", "b.md"}, []string{"z.md", "y.md"}, OnNext,
			"H-TCF-T-C-F-" + "ABZY"},
		{[]string{"title-page", "contents"}, []string{"a.md", "c.md", "d.md", "b.md"}, nil, OnNext, "T-C-" + "A-CDB-"},
		{nil, []string{"p.md", "e.md", "b.md", "z.md"}, nil, OnNext, "P-EBZ-"},
		{nil, []string{"a.md", "b.md", "f.md"}, []string{"z.md", "y.md"}, OnRecto, "A-BFZ-Y-"},
		{nil, []string{"a.md", "p.md", "f.md"}, nil, OnNext, "A-PF"},
		{nil, []string{"d.md", "e.md"}, nil, OnNext, "-DE-"},
	} {
		book := written(t, markup.Source{Front: c.front, Body: c.body, Back: c.back}, files)
		s := Default()
		s.Opens = c.opens
		l := compose(t, NewComposer(book, Resources{}), s)
		var got strings.Builder
		for i := range l.Pages {
			p := &l.Pages[i]
			switch {
			case p.Blank:
				got.WriteByte('-')
				if len(p.Lines)+len(p.Plates) > 0 {
					t.Errorf("the blank page %s is not blank", p.Label)
				}
			case book.Sections[p.Section].Kind == markup.HalfTitle:
				got.WriteByte('H')
			default:
				got.WriteString(p.Lines[0].text()[:1])
			}
		}
		if got.String() != c.want {
			t.Errorf("%v %v %v: %s, want %s", c.front, c.body, c.back, &got, c.want)
		}
	}
}

// Titles of any length: balanced, whole words, the sizes their own, and what
// stands above the text begins at one height.
func TestOpenings(t *testing.T) {
	long := "In Which the Clerk Consults a Mender of Clocks, and Is Told That Brass Does Not Tell Lies"
	heights := map[string]bool{}
	for _, size := range []string{"9pt", "11pt", "14pt"} {
		for _, c := range []struct {
			heading string
			lines   int // of the title; 0: any
		}{
			{"# The Dry Chair", 1}, {"# " + long, 3}, {"# " + strings.Repeat("Heading words ", 29), 0}, {"# " + strings.Repeat("x", 400), 0},
			{"# A Night and a Day", 1}, {"# Extraordinary Circumstances of the Harbour", 2},
		} {
			book := written(t, markup.Source{Body: []string{"a.md"}}, map[string]string{"a.md": c.heading + "\n\n" + someText(60)})
			s := Default()
			if err := s.Size.UnmarshalText([]byte(size)); err != nil {
				t.Fatal(err)
			}
			l, err := Compose(context.Background(), book, s, Resources{})
			if err != nil {
				t.Errorf("%s: %v", shorten(c.heading, 40), err)
				continue
			}
			if err := Check(book, l); err != nil {
				t.Error(err)
			}
			var title []Line
			for _, line := range l.Pages[0].Lines {
				if line.Role == Heading {
					title = append(title, line)
				}
			}
			if c.lines == 0 {
				continue
			}
			if len(title) != c.lines {
				t.Errorf("%s, %q: %d lines, want %d", size, c.heading, len(title), c.lines)
			}
			if got := title[0].Runs[0].Size; got != s.headingSize() {
				t.Errorf("%s, %q: a title of %v", size, c.heading, got)
			}
			heights[fmt.Sprint(title[0].Y)] = true
			widest, narrowest := title[0].extent(), title[0].extent()
			for i := range title {
				widest, narrowest = max(widest, title[i].extent()), min(narrowest, title[i].extent())
				if title[i].Hyphen {
					t.Errorf("%q is divided", title[i].text())
				}
			}
			if narrowest < widest/2 {
				t.Errorf("%s, %q: lines from %v to %v", size, c.heading, narrowest, widest)
			}
		}
	}
}

// Settings that cannot be met are named by their keys.
func TestLengthsOfOpenings(t *testing.T) {
	book := madeOf(titled("One"))
	for want, change := range map[string]func(*Setting) error{
		"number-size 2pt":      func(s *Setting) error { return s.NumberSize.UnmarshalText([]byte("2pt")) },
		"subheading-size 90pt": func(s *Setting) error { return s.Subheading.UnmarshalText([]byte("90pt")) },
		"bleed 2in":            func(s *Setting) error { return s.Bleed.UnmarshalText([]byte("2in")) },
		"contents.levels 3":    func(s *Setting) error { s.Contents.Levels = 3; return nil },
		"ornament: ":           func(s *Setting) error { s.Ornament = "\u1234"; return nil },
	} {
		s := Default()
		if err := change(&s); err != nil {
			t.Fatal(err)
		}
		_, err := Compose(context.Background(), book, s, Resources{})
		if err == nil || !strings.HasPrefix(err.Error(), want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: %v", want, err)
		}
	}
}
