package typeset

import (
	"fmt"
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bodkin/markup"
	"bodkin/typeset/length"
)

// inked writes a gray picture of the given size and returns its path.
func inked(t testing.TB, dir, name string, width, height int) string {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, width, height))
	for y := range height {
		for x := range width {
			img.SetGray(x, y, color.Gray{uint8((x ^ y) & 0xff)})
		}
	}
	f, err := os.Create(filepath.Join(dir, name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, img); err != nil {
		t.Fatal(err)
	}
	return f.Name()
}

// illustrated is a chapter of n paragraphs with a picture after each of those
// that are named.
func illustrated(t testing.TB, n int, after map[int]*markup.Picture) *markup.Book {
	t.Helper()
	sec := &markup.Section{Pos: markup.Pos{File: "a.md", Line: 1}, Matter: markup.Body, Title: []markup.Inline{{Text: "The Quay"}}}
	for i := range n {
		text := strings.Repeat(fmt.Sprintf("Line %d of the story goes on. ", i), 3+i%7*2)
		pos := markup.Pos{File: "a.md", Line: 2*i + 3}
		sec.Blocks = append(sec.Blocks, &markup.Paragraph{Pos: pos, Text: []markup.Inline{{Pos: pos, Text: strings.TrimSpace(text)}}})
		if p := after[i]; p != nil {
			p.Pos = markup.Pos{File: "a.md", Line: 2*i + 4}
			sec.Blocks = append(sec.Blocks, p)
		}
	}
	return &markup.Book{Title: "The Quay", Author: "A. Writer", Language: "en-GB", Sections: []*markup.Section{sec}}
}

// pageOf returns the index of the page on which a paragraph begins.
func pageOf(l *Layout, paragraph int) int {
	for i := range l.Pages {
		for j := range l.Pages[i].Lines {
			if line := &l.Pages[i].Lines[j]; line.Pos.Line == 2*paragraph+3 && line.First {
				return i
			}
		}
	}
	return -1
}

// A picture stands after the paragraph that it follows in the manuscript or at
// the head of the next page, within the text block, over no line; the lines
// around it keep to the grid and the spreads stay even.
func TestPicturesInText(t *testing.T) {
	dir := t.TempDir()
	wide, tall := inked(t, dir, "wide.png", 1800, 700), inked(t, dir, "tall.png", 600, 900)
	small := inked(t, dir, "small.png", 300, 200) // an inch by two thirds
	caption := []markup.Inline{{Text: "The quay at low water, from the office, as it was drawn by the clerk of that year in ink"}}
	pictures := map[int]*markup.Picture{}
	for i, p := range []*markup.Picture{{Path: wide}, {Path: tall, Caption: caption}, {Path: small}, {Path: wide, Width: 600, Caption: caption}, {Path: tall, Width: 1000}} {
		for k := i; k < 120; k += 31 {
			one := *p
			pictures[k*5/4+4] = &one
		}
	}
	book := illustrated(t, 160, pictures)
	for _, trim := range []string{"5x8in", "6x9in", "A-format"} {
		s := Default()
		s.Trim, _ = ParseTrim(trim)
		l := compose(t, NewComposer(book, Resources{}), s)
		inside(t, l)
		if err := Check(book, l); err != nil {
			t.Errorf("%s: %v", trim, err)
		}
		at := map[*markup.Picture]int{}
		for i := range l.Pages {
			page := &l.Pages[i]
			for k := range page.Plates {
				p := &page.Plates[k]
				at[p.Picture] = i
				left := l.BlockLeft(i)
				top, foot := l.Block.Baseline-l.Block.Ascender, l.Block.Baseline+length.Length(page.Depth-1)*l.Block.Leading
				if p.X < left || p.X+p.Width > left+l.Block.Measure || p.Y < top || p.Y+p.Height > foot {
					t.Errorf("%s, page %s: the picture at %v, %v leaves the text block", trim, page.Label, p.X, p.Y)
				}
				for j := range page.Lines {
					if y := page.Lines[j].Y; y > p.Y && y-l.Block.Ascender < p.Y+p.Height {
						t.Errorf("%s, page %s: line %d runs into the picture", trim, page.Label, j)
					}
				}
				if p.Picture.Path == small && p.Width != length.Inch {
					t.Errorf("%s: the small picture is %v wide: at 300 to the inch it is an inch", trim, p.Width)
				}
				if p.Picture.Width > 0 && p.Picture.Path == wide && p.Width != l.Block.Measure*600/1000 {
					t.Errorf("%s: the picture of 60%% is %v wide", trim, p.Width)
				}
			}
		}
		moved := 0
		for n, p := range pictures {
			page, found := at[p]
			if !found {
				t.Errorf("%s: the picture after paragraph %d is on no page", trim, n)
				continue
			}
			last, next := pageOf(l, n), pageOf(l, n+1)
			if page < last || page > last+2 {
				t.Errorf("%s: the picture after paragraph %d, which begins on page %d, is on page %d", trim, n, last, page)
			}
			if page > next {
				moved++
			}
		}
		q := l.Quality()
		t.Logf("%s: %d pages, %d of %d pictures moved to the next page, %+v", trim, len(l.Pages), moved, len(pictures), q)
		if q.Widows+q.Orphans+q.Torn+q.Stranded > 0 || q.Uneven > 1 {
			t.Errorf("%s: %+v", trim, q)
		}
	}
}

// Plates take pages of their own behind the page that mentions them, a spread
// a verso and its recto; the text goes on around them and nothing is lost.
func TestPlates(t *testing.T) {
	dir := t.TempDir()
	page, spread := inked(t, dir, "page.png", 1200, 1900), inked(t, dir, "spread.png", 3000, 2000)
	pictures := map[int]*markup.Picture{
		5:  {Path: page, Place: markup.FullPage, Caption: []markup.Inline{{Text: "The stairs"}}},
		20: {Path: page, Place: markup.Bleeding},
		40: {Path: spread, Place: markup.Spread},
		60: {Path: spread, Place: markup.Spread},
		61: {Path: page, Place: markup.Bleeding},
		99: {Path: page, Place: markup.Bleeding},
	}
	book := illustrated(t, 100, pictures)
	for _, back := range []bool{false, true} {
		s := Default()
		s.BleedBack = back
		l := compose(t, NewComposer(book, Resources{}), s)
		if err := Check(book, l); err != nil {
			t.Error(err)
		}
		inside(t, l)
		if l.Bleed != s.Bleed.Length {
			t.Errorf("the bleed is %v, the setting says %v", l.Bleed, s.Bleed)
		}
		at := map[*markup.Picture][]int{}
		for i := range l.Pages {
			p := &l.Pages[i]
			for k := range p.Plates {
				plate := &p.Plates[k]
				at[plate.Picture] = append(at[plate.Picture], i)
				if plate.Picture.Place == markup.FullPage {
					continue
				}
				// It covers the page to the edge of the bleed, but for the back.
				inner := length.Length(0)
				if back {
					inner = l.Bleed
				}
				left, right := l.Bleed, inner
				if Recto(i) {
					left, right = inner, l.Bleed
				}
				want := Box{X: -left, Y: -l.Bleed, Width: l.Trim.Width + left + right, Height: l.Trim.Height + 2*l.Bleed}
				if plate.Clip != want || !plate.Bleeds {
					t.Errorf("page %d: the plate covers %+v, want %+v", i, plate.Clip, want)
				}
				if plate.X > want.X || plate.Y > want.Y || plate.X+plate.Width < want.X+want.Width-1 || plate.Y+plate.Height < want.Y+want.Height-1 {
					t.Errorf("page %d: the plate %+v leaves a part of its page bare", i, *plate)
				}
			}
			for j := range p.Lines {
				if len(p.Plates) > 0 && (p.Lines[j].Role == Head || p.Lines[j].Role == Folio) && p.Plates[0].Bleeds {
					t.Errorf("page %d: %v over a plate", i, p.Lines[j].Role)
				}
			}
		}
		for n, p := range pictures {
			pages := at[p]
			want := 1
			if p.Place == markup.Spread {
				want = 2
			}
			if len(pages) != want {
				t.Errorf("the picture after paragraph %d is on %d pages", n, len(pages))
				continue
			}
			if want == 2 && (Recto(pages[0]) || pages[1] != pages[0]+1) {
				t.Errorf("the spread after paragraph %d is on the pages %v, counted from 0", n, pages)
			}
			if mention := pageOf(l, n); pages[0] <= mention || pages[0] > mention+4 {
				t.Errorf("the picture after paragraph %d, on page %d, is on page %d", n, mention, pages[0])
			}
		}
		if q := l.Quality(); q.Widows+q.Orphans+q.Torn > 0 || q.Uneven > 0 {
			t.Errorf("%+v", q)
			for _, f := range l.Findings() {
				if f.Kind == UnevenSpread {
					t.Log(f)
				}
			}
		}
	}
}

// Two pictures that wait for the head of one page stand one below the other.
func TestPicturesInARow(t *testing.T) {
	path := inked(t, t.TempDir(), "wide.png", 1800, 500)
	for n := range 40 {
		book := illustrated(t, 30, map[int]*markup.Picture{n % 20: {Path: path}})
		sec := book.Sections[0]
		for i, b := range sec.Blocks {
			if p, is := b.(*markup.Picture); is {
				second := *p
				sec.Blocks = append(sec.Blocks[:i+1:i+1], append([]markup.Block{&second}, sec.Blocks[i+1:]...)...)
				break
			}
		}
		s := Default()
		s.Size.Length += length.Length(n) * length.Point / 20
		l := compose(t, NewComposer(book, Resources{}), s)
		for i := range l.Pages {
			plates := l.Pages[i].Plates
			for k := range plates {
				for _, other := range plates[:k] {
					if plates[k].Box().And(other.Box()) != (Box{}) {
						t.Errorf("picture after paragraph %d, %v: two lie over each other on page %d", n%20, s.Size, i)
					}
				}
			}
		}
	}
}
