package constraints

import "math"

// topSpeedCheck: is the board fast enough?
var topSpeedCheck = Check{
	Name:    "top-speed",
	Subject: "top speed, at least",
	Figure:  "top_speed_kmh",
	Meaning: "the top speed on the flat reaches the target",
	Unit:    "km/h",
	PerSI:   3.6,
	Lower:   true,
	Scope:   on(OnAll),
	Applies: func(p *Problem) bool { return !math.IsNaN(p.Brief.Target.TopSpeed) },
	Lists:   anyDrive,
	Needs:   thrustNeeds(),
	Corners: true,
	Corner: func(b *Build) Outcome {
		v, sure := b.judgedTopSpeed()
		return atLeast(v, b.Problem.Brief.Target.TopSpeed).onlyIf(sure)
	},
	Window: topSpeedWindow,
	Tuned:  TunesAll,
	Eased: []Easing{
		{Key: "target.top_speed_kmh", At: (*Build).SureTopSpeed},
		ceilingAt(func(b *Brief) float64 { return b.Target.TopSpeed }),
	},
}

// topSpeedMaxCheck: is the board slow enough?
var topSpeedMaxCheck = Check{
	Name:    "top-speed-max",
	Subject: "top speed, at most",
	Figure:  "top_speed_full_kmh",
	Meaning: "the top speed on the flat with a full pack stays at or below the maximum",
	Unit:    "km/h",
	PerSI:   3.6,
	Scope:   on(OnAll),
	Applies: func(p *Problem) bool { return !math.IsNaN(p.Brief.Target.TopSpeedMax) },
	Lists:   anyDrive,
	Needs:   thrustNeeds(),
	Speeds:  true,
	Corners: true,
	Corner: func(b *Build) Outcome {
		v, sure := b.judgedFullTopSpeed()
		return atMost(v, b.Problem.Brief.Target.TopSpeedMax).onlyIf(sure)
	},
	Window: topSpeedMaxWindow,
	Tuned:  TunesAll,
	Eased:  []Easing{{Key: "target.top_speed_max_kmh", At: (*Build).SureFullTopSpeed}},
}

// SureTopSpeed is the top speed that decides, m/s; NaN where it is not known.
func (b *Build) SureTopSpeed() float64 {
	v, sure := b.judgedTopSpeed()
	return unless(v, !sure)
}

// SureFullTopSpeed is the top speed with a full pack that decides, likewise.
func (b *Build) SureFullTopSpeed() float64 {
	v, sure := b.judgedFullTopSpeed()
	return unless(v, !sure)
}
