package sheet_test

import (
	"context"
	"fmt"

	"bodkin/cmd/bodkin/internal/bookfile"
	"bodkin/cmd/bodkin/internal/sheet"
	"bodkin/markup"
	"bodkin/typeset"
)

func ExampleMake() {
	file, err := bookfile.Load("../../../../testdata/tide-clerk")
	if err != nil {
		fmt.Println(err)
		return
	}
	book, err := markup.Load(context.Background(), file.Source)
	if err != nil {
		fmt.Println(err)
		return
	}
	setting := typeset.Default()
	if setting.Trim, err = typeset.ParseTrim("8.5x8.5in"); err != nil {
		fmt.Println(err)
		return
	}
	layout, err := typeset.Compose(context.Background(), book, setting, typeset.Resources{})
	if err != nil {
		fmt.Println(err)
		return
	}
	sheets, notes, err := sheet.Make([]sheet.Edition{{Name: "square", Layout: layout}}, sheet.A4())
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(len(sheets.List), "sheets")
	for _, n := range notes {
		fmt.Println(n)
	}
	// Output:
	// 3 sheets
	// A, 8.5 × 8.5 in, is 5.9 mm wider than A4, and its sides run off the paper; all of its type shows, at actual size
}
