package typeset_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"bodkin/markup"
	"bodkin/typeset"
)

// A chapter becomes pages; the lines of a page hold runs of glyphs that know
// the text they stand for and its place in the manuscript.
func ExampleCompose() {
	dir, err := os.MkdirTemp("", "example")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(dir)
	text := "# The Long Ebb\n\nShe waited until the water had gone out of sight, and then she went after it with a lantern.\n"
	if err := os.WriteFile(filepath.Join(dir, "one.md"), []byte(text), 0o600); err != nil {
		fmt.Println(err)
		return
	}
	ctx := context.Background()
	book, err := markup.Load(ctx, markup.Source{Dir: dir, Title: "Tides", Body: []string{"one.md"}})
	if err != nil {
		fmt.Println(err)
		return
	}
	l, err := typeset.Compose(ctx, book, typeset.Default(), typeset.Resources{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(l.Counts().Pages, "pages")
	for _, line := range l.Pages[0].Lines {
		for _, run := range line.Runs {
			if run.Space {
				fmt.Print(" ")
			}
			fmt.Print(run.Glyphs.Text)
		}
		fmt.Println("  ", strings.TrimSuffix(fmt.Sprint(line.Role, " ", line.Pos), " "))
	}
	// Output:
	// 2 pages
	// The Long Ebb   heading one.md:1
	// She waited until the water had gone out of sight, and then she   text one.md:3
	// went after it with a lantern.   text one.md:3
	// 1   folio
}
