package pdf_test

import (
	"bytes"
	"fmt"

	"bodkin/typeset/internal/layouttest"
	"bodkin/typeset/length"
	"bodkin/typeset/pdf"
)

func ExampleWrite() {
	layout, err := layouttest.Set("It began in the office by the fjord.", layouttest.Style{})
	if err != nil {
		fmt.Println(err)
		return
	}
	var file bytes.Buffer
	if err := pdf.Write(&file, layout, pdf.Options{}); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s\n", file.Bytes()[:8])
	// Output: %PDF-1.4
}

func ExampleWriteSheets() {
	layout, err := layouttest.Set("It began in the office by the fjord.", layouttest.Style{})
	if err != nil {
		fmt.Println(err)
		return
	}
	letter := pdf.Sheet{Width: length.Inch * 17 / 2, Height: 11 * length.Inch}
	letter.Pages = []pdf.Placed{{
		Layout: layout,
		X:      (letter.Width - layout.Trim.Width) / 2,
		Y:      (letter.Height - layout.Trim.Height) / 2,
	}}
	var file bytes.Buffer
	if err := pdf.WriteSheets(&file, &pdf.Sheets{Title: "One page", List: []pdf.Sheet{letter}}, pdf.Options{}); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s\n", file.Bytes()[:8])
	// Output: %PDF-1.4
}
