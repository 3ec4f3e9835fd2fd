package constraints

import "math"

// priceCheck: is the build within the budget?
var priceCheck = Check{
	Name:    "price",
	Subject: "price of all parts",
	Figure:  "price",
	Meaning: "all parts together cost no more than the limit",
	Unit:    "price",
	PerSI:   1,
	Scope:   on(OnAll),
	Applies: func(p *Problem) bool { return !math.IsNaN(p.Brief.Limit.Price) },
	Lists:   anyDrive,
	Needs:   priceNeeds(),
	Corner:  func(b *Build) Outcome { return sumAtMost(b.price, b.Problem.Brief.Limit.Price) },
	Adds:    priceAdds(),
	Eased:   []Easing{{Key: "limit.price", At: func(b *Build) float64 { return b.price.Known }}},
}

// sumAtMost holds a sum to an upper limit. A sum with missing addends fails
// when what is known exceeds the limit already, and is undecided otherwise.
func sumAtMost(s Sum, limit float64) Outcome {
	o := atMost(s.Known, limit)
	if s.Missing && o.Verdict == Pass {
		return undecided(math.NaN(), limit)
	}
	return o
}
