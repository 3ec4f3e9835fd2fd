package constraints

import "math"

// massCheck: can the board be carried?
var massCheck = Check{
	Name:    "mass",
	Subject: "mass of the board",
	Figure:  "mass_kg",
	Meaning: "the board with all parts weighs no more than the limit, without the rider",
	Unit:    "kg",
	PerSI:   1,
	Scope:   on(OnAll),
	Applies: func(p *Problem) bool { return !math.IsNaN(p.Brief.Limit.Mass) },
	Lists:   anyDrive,
	Needs:   massNeeds(),
	Corner:  func(b *Build) Outcome { return sumAtMost(b.mass, b.Problem.Brief.Limit.Mass) },
	Adds:    massAdds(),
	Eased:   []Easing{{Key: "limit.mass_kg", At: func(b *Build) float64 { return b.mass.Known }}},
}
