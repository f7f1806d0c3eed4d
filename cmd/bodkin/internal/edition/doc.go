// Package edition knows what becomes of pages once they are printed: the
// thickness of the block, the spine and the flat of the cover, what the
// printer charges for a copy, and what a list price leaves to the author.
//
// Everything comes from one file that the author copies from their own
// printer's price list and templates, the terms. No real printer's figures are
// in the program. An edition is a setting of the book together with a Choice
// from the terms; a Copy is one copy of it:
//
//	terms, _ := edition.Load("printer.toml")
//	list, _ := terms.Money("13.99")
//	c, _ := terms.Copy(trim, 309, edition.Choice{Binding: "perfect", List: &list})
//	c.Pages     // 310: filled to the printer's multiple
//	c.Block     // 155 leaves, each as thick as the stock
//	c.Spine     // the block, and what the cover adds
//	c.Charge    // 1.00 a copy and 0.012 a page: 4.72
//	c.Earnings  // 60 % of what 13.99 leaves after 4.72: 5.56
//
// Money is exact. It is rounded three times, and always said so: a charge to
// the nearest cent, earnings down to the cent, a list price that must reach
// some earnings up to the cent. So a list price found for some earnings earns
// them, and a cent less does not.
package edition
