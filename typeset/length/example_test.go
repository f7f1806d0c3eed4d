package length_test

import (
	"fmt"

	"bodkin/typeset/length"
)

func ExampleParse() {
	v, err := length.Parse("129mm")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(v, "is", v.Length)
	_, err = length.Parse("11")
	fmt.Println(err)
	// Output:
	// 129mm is 365.6693pt
	// length "11" has no unit: write in, mm or pt after the number, as in 0.5in
}
