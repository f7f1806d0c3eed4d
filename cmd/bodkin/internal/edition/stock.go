package edition

import (
	"math/big"

	"bodkin/cmd/bodkin/internal/strict"
	"bodkin/typeset/length"
)

// Stock is a paper. Its thickness is known in one of three ways: by the bulk
// of its grammage (ISO 534), by the caliper of a leaf, or by the pages that
// make an inch.
type Stock struct {
	Name     string        `toml:"name"`
	Grammage strict.Number `toml:"grammage"` // g/m2
	Bulk     strict.Number `toml:"bulk"`     // cm3/g
	Leaf     length.Value  `toml:"caliper"`  // thickness of a leaf, two pages
	PPI      strict.Number `toml:"ppi"`      // pages to the inch
	Cream    bool          `toml:"cream"`    // its shade, for pictures of the book
}

// Supposed is the paper of a book whose printer's terms are not known: 80 g/m2
// with a bulk of 1.6 cm3/g, common practice for novels. What is reckoned with
// it must say that it is supposed.
func Supposed() Stock {
	return Stock{Name: "a supposed book paper, 80 g/m2 with a bulk of 1.6", Grammage: common("80"), Bulk: common("1.6")}
}

// common is a number of common practice.
func common(n string) strict.Number {
	number, err := strict.NumberOf(n)
	if err != nil {
		panic(err) // it is written in this package
	}
	return number
}

// Caliper returns the thickness of one leaf.
func (s Stock) Caliper() length.Length { return s.Block(2) }

// PagesPerInch returns how many pages make an inch, to the nearest page.
func (s Stock) PagesPerInch() int {
	leaf := s.leaf()
	if leaf.Sign() <= 0 {
		return 0
	}
	return int(round(new(big.Rat).Quo(big.NewRat(2*int64(length.Inch), 1), leaf)))
}

// Block returns the thickness of so many pages, rounded once, so that many
// thin leaves are not each rounded.
func (s Stock) Block(pages int) length.Length {
	return length.Length(round(new(big.Rat).Mul(s.leaf(), big.NewRat(int64(pages), 2))))
}

// leaf returns the exact thickness of a leaf in units of length. By ISO 534
// the caliper in micrometres is grammage × bulk.
func (s Stock) leaf() *big.Rat {
	switch {
	case s.Leaf.Length > 0:
		return big.NewRat(int64(s.Leaf.Length), 1)
	case s.PPI.Given():
		if ppi := s.PPI.Rat(); ppi.Sign() > 0 {
			return ppi.Quo(big.NewRat(2*int64(length.Inch), 1), ppi)
		}
		return new(big.Rat)
	}
	micrometres := new(big.Rat).Mul(s.Grammage.Rat(), s.Bulk.Rat())
	return micrometres.Mul(micrometres, big.NewRat(int64(length.Inch), 25_400))
}

// grams returns the weight of a sheet of the given grammage and sides, in
// grams.
func grams(grammage strict.Number, width, height length.Length) *big.Rat {
	// a square metre is (10 000 / 254)² square inches
	perUnit := big.NewRat(254, 10_000*int64(length.Inch))
	w := new(big.Rat).Mul(big.NewRat(int64(width), 1), perUnit)
	h := new(big.Rat).Mul(big.NewRat(int64(height), 1), perUnit)
	return w.Mul(w, h).Mul(w, grammage.Rat())
}

// round returns the nearest integer to a number that is not negative, halves
// up.
func round(r *big.Rat) int64 {
	n := new(big.Int).Mul(r.Num(), big.NewInt(2))
	n.Add(n, r.Denom())
	return n.Quo(n, new(big.Int).Mul(r.Denom(), big.NewInt(2))).Int64()
}
