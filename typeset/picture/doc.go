// Package picture reads picture files for print.
//
// # The model
//
// A picture is met twice. When the pages are made, only its shape matters:
// [Inspect] reads the header of the file and whatever else tells its shape,
// never a pixel, and refuses at once what could not be printed later. When the
// pages are written, [Decode] reads its pixels in the one form that the press
// takes: 8-bit gray, or 1 bit where the file has no more, or 8-bit CMYK.
//
//	info, err := picture.Inspect("map.png")
//	// PNG, 3000 by 4800 pixels, upright: a camera that was held on its side
//	// has its note of that (EXIF orientation) applied to width and height.
//	ppi := picture.Resolution(info, 5*length.Inch, 8*length.Inch) // 600
//	img, err := picture.Decode(ctx, "map.png", picture.Options{})
//
// The formats are PNG, JPEG (gray, RGB, CMYK), TIFF and WebP. A file holds one
// picture: anything animated, or of several pages, is refused, and so is a
// picture of more than [MostPixels], whatever its file claims.
//
// # Gray
//
// A colour becomes the gray of the same luminance. Its red, green and blue,
// taken as sRGB, are made linear, weighed 0.2126, 0.7152 and 0.0722, and the
// sum is coded as sRGB again (IEC 61966-2-1; the weights are those of ITU-R
// BT.709). Weighing the coded values instead is quicker and darkens saturated
// colours: red would become 54 of 255, while its lightness (L* 53) is that of
// 127. Where red, green and blue are the same, nothing changes.
//
// CMYK becomes gray as ISO 32000-1, 10.3.3 says: black and 0.3 of the cyan,
// 0.59 of the magenta, 0.11 of the yellow are taken from white. Colour becomes
// CMYK by the same standard, 10.3.4, with all the black that red, green and
// blue have in common, so that no place takes more than 200 % of ink.
//
// What is transparent is laid on white, as the file codes it. Profiles and
// other notes in the file are neither applied nor passed on.
package picture
