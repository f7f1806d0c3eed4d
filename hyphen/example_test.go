package hyphen_test

import (
	"fmt"
	"log"
	"strings"

	"bodkin/hyphen"
)

func ExampleDictionary_Points() {
	d, err := hyphen.Load("en-US")
	if err != nil {
		log.Fatal(err)
	}
	var points []int
	for _, word := range strings.Fields("“Considerable daughters’ well-meaning,” hy\u00ADphenation") {
		points = d.Points(points[:0], word)
		fmt.Println(word, points)
	}
	// Output:
	// “Considerable [6 9 11]
	// daughters’ [5]
	// well-meaning,” [9]
	// hy­phenation [2]
}

func ExampleDictionary_WithExceptions() {
	d, err := hyphen.Load("en-US")
	if err != nil {
		log.Fatal(err)
	}
	own, err := d.WithExceptions([]string{"aston-ished", "young-est", "Pendragon"})
	if err != nil {
		log.Fatal(err)
	}
	for _, word := range []string{"astonished", "youngest", "Pendragon’s"} {
		fmt.Println(word, d.Points(nil, word), own.Points(nil, word))
	}
	_, err = d.WithExceptions([]string{"tide clerk"})
	fmt.Println(err)
	// Output:
	// astonished [2 5] [5]
	// youngest [] [5]
	// Pendragon’s [3] []
	// hyphenation exception "tide clerk": ' ' is no letter; write one word of letters, with hyphens where it may be divided
}

func ExampleDictionary_WithMins() {
	d, err := hyphen.Load("en-US")
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println(d.Points(nil, "hyphenation"), d.WithMins(3, 3).Points(nil, "hyphenation"))
	// Output: [2 6] [6]
}

func ExampleLoad() {
	d, err := hyphen.Load("de-AT")
	if err != nil {
		log.Fatal(err)
	}
	before, after := d.Mins()
	fmt.Println(d.Tag(), before, after)
	_, err = hyphen.Load("tlh")
	fmt.Println(err)
	// Output:
	// de 2 2
	// no hyphenation patterns for language "tlh"; there are de, en-GB, en-US, es, fr, it, nl, pl, pt-BR, pt-PT, sv
}

func ExampleParse() {
	// The patterns that divide one word, from Liang's thesis.
	patterns := `
# pattern, a line each
hy3ph
he2n
hena4
hen5at
1na
n2at
1tio
2io
o2n
:exceptions
ta-ble
`
	d, err := hyphen.Parse("en", strings.NewReader(patterns))
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println(d.Points(nil, "hyphenation"), d.Points(nil, "table"))
	_, err = hyphen.Parse("en", strings.NewReader("hy3ph\nhe2n\nhy-phen\n"))
	fmt.Println(err)
	// Output:
	// [2 6] [2]
	// line 3: "hy-phen": '-' is neither a letter nor a digit nor "."
}

func ExampleLicence() {
	text, err := hyphen.Licence("pt")
	if err != nil {
		log.Fatal(err)
	}
	for line := range strings.Lines(text) {
		if strings.Contains(line, "copyright:") {
			fmt.Print(strings.TrimPrefix(line, "% "))
		}
	}
	// Output: copyright: Copyright (C) 1987, 1994, 1996, 2015 Pedro J. de Rezende, 1996, 2015 J. Joao Dias Almeida
}
