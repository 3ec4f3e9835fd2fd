package constraints

import (
	"math"

	"gearsearch/catalog"
	"gearsearch/drive"
)

// stopCheck: do the motors alone stop the board in time?
var stopCheck = Check{
	Name:    "stop",
	Subject: "stop by the motors",
	Figure:  "stop_m",
	Meaning: "the motors alone stop the board on the flat within the distance, at 90 % charge",
	Unit:    "m",
	PerSI:   1,
	Scope:   on(OnAll),
	Applies: func(p *Problem) bool { return !math.IsNaN(p.Brief.Target.Stop) },
	Lists:   anyDrive,
	Needs: append(motorLimitNeeds[:],
		Need{Kind: "cell", Key: "charge_a", Of: GoesByCell(func(b *catalog.Battery) float64 { return b.Charge })},
		Need{Kind: "battery", Key: "charge_a", Of: WithoutCell}),
	Corners: true,
	Decide: func(b *Build) Outcome {
		s, limit := b.stopAt(stopCharge), b.Problem.Brief.Target.Stop
		o := undecided(s.Long, limit)
		switch {
		case !drive.AtMost(s.Short, limit):
			o.Verdict = Fail
		case drive.AtMost(s.Long, limit):
			o.Verdict = Pass
		}
		if math.IsNaN(o.Value) {
			o.Value = s.Short
		}
		if o.Value = finite(o.Value); s.Coasts() {
			o.Row = &rollOutRow
		}
		return o
	},
	Tuned: TunesAll,
	Eased: []Easing{
		{Key: "target.stop_m", At: shortestStop(stopCharge), Strictly: stopMetres(stopCharge)},
		{Key: "target.stop_from_kmh", Try: Downward},
	},
}

// rollOutRow is stopCheck where the pack takes nothing, as it is shown: such a board
// is not stopped, it rolls out.
var rollOutRow = Check{
	Name:    "stop",
	Subject: "rolling out, unbraked",
	Figure:  "stop_m",
	Meaning: "rolling out on the flat ends within the distance, since the pack takes nothing",
	Unit:    "m",
	PerSI:   1,
}
