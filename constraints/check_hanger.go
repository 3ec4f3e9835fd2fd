package constraints

import "math"

// hanger: is there room for the motors between the wheels?
var hanger = Check{
	Name:    "hanger",
	Meaning: "the motors of one truck fit side by side between its wheels",
	Unit:    "mm",
	PerSI:   1000,
	Scope:   on(OnMotor | OnCount | OnDrive),
	Applies: func(p *Problem) bool { return !math.IsNaN(p.Brief.Board.Hanger) },
	Lists:   anyDrive,
	Needs:   needs("motor", "can_length_mm"),
	Test: func(b *Build) Outcome {
		if b.Drive.Gear != nil && b.Drive.Gear.InWheel {
			return atMost(0, b.Problem.Brief.Board.Hanger)
		}
		return atMost(float64(min(b.Motors(), 2))*b.Motor.CanLength, b.Problem.Brief.Board.Hanger)
	},
}
