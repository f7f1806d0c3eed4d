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
// Pictures lie under the type. They are as gray as they are printed, scaled by
// the Catmull-Rom kernel, and cut where the page is cut: the bleed is not seen.
//
// A picture of ink alone is an *image.Gray; with guides, marks or colours, an
// *image.RGBA. The same layout and options give the same picture, however many
// cores there are. Processors of another kind may round a dot at an edge to
// the next gray.
package raster
