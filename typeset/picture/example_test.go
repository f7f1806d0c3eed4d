package picture_test

import (
	"context"
	"fmt"

	"bodkin/typeset/length"
	"bodkin/typeset/picture"
)

func ExampleInspect() {
	info, err := picture.Inspect("testdata/turned.tif")
	fmt.Println(info.Format, info.Model, info.Width, info.Height, err)
	// Output: TIFF RGB 7 9 <nil>
}

func ExampleResolution() {
	info := picture.Info{Width: 3000, Height: 4800}
	fmt.Println(picture.Resolution(info, 5*length.Inch, 8*length.Inch))
	// Output: 600
}

func ExampleDecode() {
	img, err := picture.Decode(context.Background(), "testdata/fax.tif", picture.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(img.Model, img.Width, img.Height, len(img.Pix))
	// Output: bilevel 9 7 14
}
