package raster_test

import (
	"fmt"

	"bodkin/typeset/internal/layouttest"
	"bodkin/typeset/raster"
)

func ExamplePage() {
	layout, err := layouttest.Set("It began in the office by the fjord.", layouttest.Style{})
	if err != nil {
		fmt.Println(err)
		return
	}
	img, err := raster.Page(layout, 0, raster.Options{DPI: 72}) // 5 by 8 in
	fmt.Println(img.Bounds().Size(), err)
	// Output: (360,576) <nil>
}

func ExampleSpread() {
	layout, err := layouttest.Set("It began in the office by the fjord.", layouttest.Style{})
	if err != nil {
		fmt.Println(err)
		return
	}
	img, err := raster.Spread(layout, 0, raster.Options{DPI: 72, Guides: true})
	fmt.Println(img.Bounds().Size(), err)
	// Output: (720,576) <nil>
}
