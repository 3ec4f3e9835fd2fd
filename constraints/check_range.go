package constraints

import "math"

// rangeCheck: does the pack last?
var rangeCheck = Check{
	Name:    "range",
	Subject: "distance on a charge",
	Short:   "range",
	Theme:   Ride,
	Figure:  "range_km",
	Meaning: "the usable energy lasts the distance at the cruise speed, and the board can cruise at it",
	Unit:    "km",
	PerSI:   0.001,
	Lower:   true,
	Scope:   on(OnAll),
	Applies: func(p *Problem) bool { return !math.IsNaN(p.Brief.Target.Range) },
	Lists:   anyDrive,
	Needs:   append(thrustNeeds(), Need{Kind: "battery", Key: "capacity_ah", Of: WithoutCell}),
	Corners: true,
	Corner: func(b *Build) Outcome {
		limit := b.Problem.Brief.Target.Range
		if !b.OutrunsCruise() {
			return Outcome{Fail, math.NaN(), limit}
		}
		if b.electrical.R == 0 { // the winding resistance is not known
			return undecided(math.NaN(), limit)
		}
		if _, ok := b.Cruise(); !ok { // beyond the pack's power
			return Outcome{Fail, math.NaN(), limit}
		}
		_, sure := b.judgedTopSpeed()
		o := atLeast(b.Range(), limit)
		return o.onlyIf(sure || o.Verdict == Fail)
	},
	Window: rangeWindow,
	Tuned:  TunesAll,
	Eased: []Easing{
		{Key: "target.range_km", At: (*Build).Range},
		{Key: "target.cruise_kmh", Try: OfCruise},
		ceilingAt(func(b *Brief) float64 { return b.Target.Cruise }),
	},
}
