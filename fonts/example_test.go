package fonts_test

import (
	"fmt"

	"bodkin/fonts"
)

func ExampleFace_Shape() {
	face, err := fonts.Embedded().Face("EB Garamond", fonts.Regular)
	if err != nil {
		fmt.Println(err)
		return
	}
	run := face.Shape("office", 0)
	for _, g := range run.Glyphs {
		fmt.Printf("%d from byte %d: %d\n", g.ID, g.Cluster, g.Advance)
	}
	fmt.Println("together", run.Width, "of", face.Upem)
	// Output:
	// 485 from byte 0: 495
	// 949 from byte 1: 776
	// 425 from byte 4: 387
	// 435 from byte 5: 390
	// together 2048 of 1000
}

func ExampleRun_WidthTo() {
	face, _ := fonts.Embedded().Face("EB Garamond", fonts.Regular)
	run := face.Shape("office", 0)
	for _, at := range []int{1, 2, 4, 5} {
		width, safe := run.WidthTo(at)
		fmt.Println(run.Text[:at], width, safe)
	}
	// Output:
	// o 495 true
	// of 1271 false
	// offi 1271 true
	// offic 1658 false
}

func ExampleLibrary_Families() {
	for _, fam := range fonts.Embedded().Families()[:3] {
		fmt.Println(fam.Name, fam.Styles, fam.Licence, fam.SmallCaps)
	}
	// Output:
	// Alegreya [Regular Italic Bold Bold Italic] SIL OFL 1.1 true
	// Crimson Pro [Regular Italic Bold Bold Italic] SIL OFL 1.1 false
	// EB Garamond [Regular Italic Bold Bold Italic] SIL OFL 1.1 true
}

func ExampleLibrary_Face() {
	_, err := fonts.Embedded().Face("Spectrall", fonts.Regular)
	fmt.Println(err)
	// Output:
	// fonts: there is no face called "Spectrall". Did you mean Spectral? The faces at hand are Alegreya, Crimson Pro, EB Garamond, Libre Baskerville, Libre Caslon Text, Literata, Source Serif 4, Spectral
}

func ExampleLibrary_With() {
	_, err := fonts.Embedded().With("no such folder")
	fmt.Println(err)
	// Output:
	// fonts: cannot read the font folder: open no such folder: no such file or directory
}

func ExampleFace_Missing() {
	face, _ := fonts.Embedded().Face("Spectral", fonts.Italic)
	r, ok := face.Missing("the letter 龍")
	fmt.Printf("%c %U %v\n", r, r, ok)
	// Output:
	// 龍 U+9F8D true
}

func ExampleFace_Outline() {
	face, _ := fonts.Embedded().Face("Libre Baskerville", fonts.Regular)
	g, _ := face.GID('l')
	for _, s := range face.Outline(g)[:3] {
		fmt.Println(s.Op, s.Args[0])
	}
	x0, y0, x1, y1 := face.Extents(g)
	fmt.Println(x0, y0, x1, y1)
	// Output:
	// MoveTo {209 830}
	// LineTo {209 156}
	// QuadTo {209 106}
	// 20 0 298 830
}

func ExampleFace_Subset() {
	face, _ := fonts.Embedded().Face("Alegreya", fonts.Regular)
	var glyphs []fonts.GID
	for _, g := range face.Shape("Bodkin", 0).Glyphs {
		glyphs = append(glyphs, g.ID)
	}
	program, err := face.Subset(glyphs)
	fmt.Println(len(program.Data) < 40_000, program.CFF, err)
	fmt.Println(face.SubsetTag(glyphs) + "+" + face.PostScriptName)
	// Output:
	// true false <nil>
	// VWRTER+Alegreya-Regular
}
