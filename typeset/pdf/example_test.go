package pdf_test

import (
	"bytes"
	"fmt"

	"bodkin/typeset/internal/layouttest"
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
