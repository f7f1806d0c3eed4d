// Package flat draws the template of a book's cover at true size: back, spine
// and front laid out side by side, with what is cut off or folded in, the room
// that is safe, the place of the barcode, and the dimensions.
//
// The drawing is one page of a PDF. Its TrimBox is the finished cover, its
// BleedBox what is printed; around them is room for the dimensions:
//
//	err := flat.Write(w, c.Flat, flat.Labels{Title: "The Tide Clerk", Unit: length.In})
//
// Everything stands on one layer (optional content, ISO 32000-1, 8.11) named
// Template and in one spot colour of that name, so that a designer can hide,
// lock or drop it by either.
package flat
