package paragraph_test

import (
	"fmt"

	"bodkin/typeset/length"
	"bodkin/typeset/paragraph"
)

// Words whose letters are ten wide, with spaces of ten that may stretch by
// five and shrink by three, in lines of 110.
func ExampleBreaker_Break() {
	words := []string{"of", "all", "the", "tides", "this", "was", "last"}
	var items []paragraph.Item
	for i, w := range words {
		if i > 0 {
			items = append(items, paragraph.Item{Kind: paragraph.Glue, Width: 10, Stretch: 5, Shrink: 3})
		}
		items = append(items, paragraph.Item{Kind: paragraph.Box, Width: length.Length(10 * len(w))})
	}
	items = append(items,
		paragraph.Item{Kind: paragraph.Glue, Stretch: paragraph.Fill},
		paragraph.Item{Kind: paragraph.Penalty, Cost: -paragraph.Forbid})

	var b paragraph.Breaker
	made, err := b.Break(items, paragraph.Options{Measures: []length.Length{110}, Tolerance: 2000})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, l := range made.Lines {
		fmt.Printf("%v %.2f\n", words[l.From/2:(l.To+1)/2], l.Ratio())
	}
	// Output:
	// [of all the] 1.00
	// [tides this] 2.00
	// [was last] 0.00
}
