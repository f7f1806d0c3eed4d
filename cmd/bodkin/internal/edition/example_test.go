package edition_test

import (
	"fmt"

	"bodkin/cmd/bodkin/internal/edition"
	"bodkin/typeset"
	"bodkin/typeset/length"
)

func ExampleTerms_Copy() {
	terms, err := edition.Load("../../starter/printer.toml")
	if err != nil {
		fmt.Println(err)
		return
	}
	trim, err := typeset.ParseTrim("5x8in")
	if err != nil {
		fmt.Println(err)
		return
	}
	list, err := terms.Money("13.99")
	if err != nil {
		fmt.Println(err)
		return
	}
	c, err := terms.Copy(trim, 309, edition.Choice{Binding: edition.Perfect, List: &list})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(c.Pages, "pages,", edition.Near(c.Block, length.In), "of paper, a spine of", edition.Near(c.Spine, length.In))
	fmt.Println("charge", edition.Show(*c.Charge), "earnings", edition.Show(*c.Earnings))
	// Output:
	// 310 pages, 0.781in of paper, a spine of 0.803in
	// charge $4.98 earnings $5.85
}

func ExampleTerms_ListFor() {
	terms, err := edition.Load("../../starter/printer.toml")
	if err != nil {
		fmt.Println(err)
		return
	}
	earn, err := terms.Money("4.25")
	if err != nil {
		fmt.Println(err)
		return
	}
	charge, err := terms.Money("4.72")
	if err != nil {
		fmt.Println(err)
		return
	}
	list, err := terms.ListFor(earn, charge)
	if err != nil {
		fmt.Println(err)
		return
	}
	ends, err := terms.ToEnd(list, ".99")
	fmt.Println(edition.Show(list), edition.Show(ends), err)
	// Output: $11.26 $11.99 <nil>
}
