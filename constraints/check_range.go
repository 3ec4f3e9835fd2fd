package constraints

import "math"

// rangeCheck: does the pack last?
var rangeCheck = Check{
	Name:    "range",
	Subject: "distance on a charge",
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
		fails := Outcome{Verdict: Fail, Value: math.NaN(), Limit: limit}
		if !b.OutrunsCruise() || !b.HoldsWind() {
			return fails
		}
		if b.electrical.R == 0 { // the winding resistance is not known
			return undecided(math.NaN(), limit)
		}
		if _, ok := b.Ridden(); !ok { // beyond the pack's power
			return fails
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
		{Key: "ride.stops_per_km", At: (*Build).stopsReached, Aside: true},
		{Key: "ride.ascent_m_per_km", At: (*Build).ascentReached, Aside: true},
		{Key: "ride.wind_kmh", Try: Downward},
		ceilingAt(func(b *Brief) float64 { return b.Target.Cruise }),
	},
}
