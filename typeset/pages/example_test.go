package pages_test

import (
	"fmt"

	"bodkin/typeset/pages"
)

// Two paragraphs of five lines on pages of eight rows: the second would end
// with its last line alone, but it can be set in four.
func ExampleBreak() {
	paragraph := func(n int) []pages.Item {
		items := make([]pages.Item, n)
		for i := range items {
			items[i].Rows = 1
			if i == 0 || i == n-2 {
				items[i].Verso, items[i].Recto = pages.Forbid, pages.Forbid
			}
		}
		return items
	}
	made, err := pages.Break([]pages.Block{
		{{Items: paragraph(4)}},
		{{Items: paragraph(5)}, {Items: paragraph(4), Cost: pages.OffDepth}},
		{{Items: paragraph(6)}},
	}, pages.Options{Rows: 8})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("ways", made.Ways)
	for _, p := range made.Pages {
		fmt.Printf("items %d to %d fill %d of %d rows\n", p.From, p.To, p.Rows, p.Depth)
	}
	// Output:
	// ways [0 1 0]
	// items 0 to 8 fill 8 of 8 rows
	// items 8 to 14 fill 6 of 8 rows
}
