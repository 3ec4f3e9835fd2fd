package catalog

import "math"

// Cost is the price of n pieces of the part in the catalog's currency: as many
// lots of SoldIn pieces as n takes, each at Price. It is 0 for a part that is
// owned, and for none; NaN when the price is not known.
func (p *Part) Cost(n int) float64 {
	if p.Owned || n <= 0 {
		return 0
	}
	lot := max(p.SoldIn, 1)
	return float64((n+lot-1)/lot) * p.Price
}

// PackPrice is the price of the pack: 0 when it is owned, else its own price where it
// has one, else the price of its cells, 0 if these are owned. NaN: not known.
func (b *Battery) PackPrice() float64 {
	if b.Owned || !math.IsNaN(b.Price) || b.Cell == nil {
		return b.Cost(1)
	}
	return b.Cell.Cost(b.Cells())
}
