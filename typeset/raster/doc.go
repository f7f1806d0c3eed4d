// Package raster draws pages of a [typeset.Layout] as pictures.
//
// Every glyph is filled from its outline at its own place, to a fraction of a
// pixel, with the share of each pixel that ink covers as its gray. At 72 dots
// to the inch a pixel is a point:
//
//	img, err := raster.Page(layout, 0, raster.Options{DPI: 144})
//	...
//	err = raster.WritePNG(file, img)
//
// A picture of ink alone is an *image.Gray; with guides or marks, an
// *image.RGBA. The same layout and options give the same picture, however many
// cores there are. Processors of another kind may round a dot at an edge to
// the next gray.
package raster
