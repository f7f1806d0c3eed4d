package markup_test

import (
	"context"
	"fmt"
	"log"
	"os"
	"path/filepath"

	"bodkin/markup"
)

func ExampleLoad() {
	dir, err := os.MkdirTemp("", "book")
	if err != nil {
		log.Fatal(err)
	}
	defer os.RemoveAll(dir)
	text := "# The Pilot\n\n\"'Twas *late*,\" she\nsaid.[^1]\n\n***\n\n[^1]: Past ten.\n"
	if err := os.WriteFile(filepath.Join(dir, "pilot.md"), []byte(text), 0o600); err != nil {
		log.Fatal(err)
	}
	src, err := markup.Discover(dir)
	if err != nil {
		log.Fatal(err)
	}
	book, err := markup.Load(context.Background(), src)
	if err != nil {
		log.Fatal(err)
	}
	for _, s := range book.Sections {
		if s.Kind != markup.Written {
			continue
		}
		fmt.Println(s.Pos, markup.Plain(s.Title))
		for _, b := range s.Blocks {
			if p, ok := b.(*markup.Paragraph); ok {
				for _, in := range p.Text {
					fmt.Printf("%s %q emphasis=%v note=%d\n", in.Pos, in.Text, in.Style&markup.Emphasis != 0, in.Note)
				}
			}
		}
	}
	fmt.Println(book.Words(), "words")
	// Output:
	// pilot.md:1 The Pilot
	// pilot.md:3 "“’Twas " emphasis=false note=0
	// pilot.md:3 "late" emphasis=true note=0
	// pilot.md:3 ",” she " emphasis=false note=0
	// pilot.md:4 "said." emphasis=false note=0
	// pilot.md:4 "" emphasis=false note=1
	// 8 words
}

func ExampleDiscover() {
	src, err := markup.Discover("testdata")
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println(src.Dir, src.Front, src.Body)
	// Output: testdata [half-title title-page] [sampler.md]
}

func ExampleBook_Letters() {
	book, err := markup.Load(context.Background(), markup.Source{Dir: "testdata", Body: []string{"sampler.md"}})
	if err != nil {
		log.Fatal(err)
	}
	n := 0
	for letter, pos := range book.Letters(true) {
		if n++; n > 3 {
			break
		}
		fmt.Printf("%c %s\n", letter, pos)
	}
	// Output:
	// B sampler.md:1
	// e sampler.md:1
	// f sampler.md:1
}
