package constraints

import "math"

// launchCheck: does the board get going in time?
var launchCheck = Check{
	Name:    "launch",
	Subject: "time to launch speed",
	Figure:  "launch_s",
	Meaning: "the launch speed is reached from rest in time",
	Unit:    "s",
	PerSI:   1,
	Scope:   on(OnAll),
	Applies: func(p *Problem) bool { return !math.IsNaN(p.Brief.Target.LaunchTime) },
	Lists:   anyDrive,
	Needs:   thrustNeeds(),
	Corners: true,
	Corner: func(b *Build) Outcome {
		limit := b.Problem.Brief.Target.LaunchTime
		s := b.Launch()
		if math.IsNaN(s) && b.ThrustKnown() {
			return Outcome{Verdict: Fail, Value: s, Limit: limit} // never reached
		}
		return atMost(s, limit)
	},
	Tuned: TunesAll,
	Eased: []Easing{
		{Key: "target.launch_speed_kmh", Try: Downward},
		{Key: "target.launch_s", At: (*Build).Launch},
		ceilingAt(func(b *Brief) float64 { return b.Target.LaunchSpeed }),
	},
}
