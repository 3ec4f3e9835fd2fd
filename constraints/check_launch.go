package constraints

import (
	"math"

	"gearsearch/drive"
)

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
	Core:  launchCore,
	Tuned: TunesAll,
	Eased: []Easing{
		{Key: "target.launch_speed_kmh", Try: Downward},
		{Key: "target.launch_s", At: (*Build).Launch},
		ceilingAt(func(b *Brief) float64 { return b.Target.LaunchSpeed }),
	},
}

// launchCore is Core of launchCheck. Where the wheels grip, a lighter board is the slower
// one, since less weight presses them to the road; where they need not, a heavier one is.
func launchCore(b *Build, lane Lane, demand float64) drive.Window {
	if !b.ThrustKnown() {
		return noGearing
	}
	p := b.Problem
	v := p.Brief.Target.LaunchSpeed
	board := drive.Board{
		Electrical: &b.electrical, Reduction: 1, Radius: 1, Efficiency: lane.Efficiency,
		Mass: lane.Mass + b.massE.Known, Crr: lane.Crr, DragArea: p.DragArea, AirDensity: p.AirDensity,
		Hold: p.hold(b.Count, lane.Crr),
	}
	board.Hold.Drive *= (lane.Press + b.massE.Known) / board.Mass
	w := board.LaunchWindow(v, p.Brief.Target.LaunchTime/demand)
	if !math.IsNaN(b.Controller.Ceiling) {
		w.High = math.Min(w.High, board.ERPMSpeed(b.Controller.Ceiling)/(v*demand))
	}
	return w
}
