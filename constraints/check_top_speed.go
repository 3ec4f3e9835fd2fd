package constraints

import "math"

// topSpeed: is the board fast enough?
var topSpeed = Check{
	Name:    "top-speed",
	Subject: "top speed, at least",
	Short:   "speed",
	Theme:   Ride,
	Figure:  "top_speed_kmh",
	Meaning: "the top speed on the flat reaches the target",
	Unit:    "km/h",
	PerSI:   3.6,
	Lower:   true,
	Scope:   on(OnAll),
	Applies: func(p *Problem) bool { return !math.IsNaN(p.Brief.Target.TopSpeed) },
	Lists:   anyDrive,
	Test: func(b *Build) Outcome {
		v, _ := b.TopSpeed()
		return atLeast(v, b.Problem.Brief.Target.TopSpeed)
	},
	Window: topSpeedWindow,
	Tuned:  TunesAll,
	Eased: []Easing{
		{Key: "target.top_speed_kmh", At: topSpeedOf},
		ceilingAt(func(b *Brief) float64 { return b.Target.TopSpeed }),
	},
}

// topSpeedMax: is the board slow enough?
var topSpeedMax = Check{
	Name:    "top-speed-max",
	Subject: "top speed, at most",
	Short:   "max.",
	Theme:   Ride,
	Figure:  "top_speed_kmh",
	Meaning: "the top speed on the flat stays at or below the maximum",
	Unit:    "km/h",
	PerSI:   3.6,
	Scope:   on(OnAll),
	Applies: func(p *Problem) bool { return !math.IsNaN(p.Brief.Target.TopSpeedMax) },
	Lists:   anyDrive,
	Test: func(b *Build) Outcome {
		v, _ := b.TopSpeed()
		return atMost(v, b.Problem.Brief.Target.TopSpeedMax)
	},
	Window: topSpeedMaxWindow,
	Tuned:  TunesAll,
	Eased:  []Easing{{Key: "target.top_speed_max_kmh", At: topSpeedOf}},
}

// topSpeedOf is the top speed, m/s.
func topSpeedOf(b *Build) float64 {
	v, _ := b.TopSpeed()
	return v
}
