package constraints

import "math"

// hangerCheck: is there room for the motors between the wheels?
var hangerCheck = Check{
	Name:    "hanger",
	Subject: "room on the hanger",
	Meaning: "the motors of one truck fit side by side between its wheels",
	Unit:    "mm",
	PerSI:   1000,
	Scope:   on(OnMotor | OnCount | OnDrive),
	Applies: func(p *Problem) bool { return !math.IsNaN(p.Brief.Board.Hanger) },
	Lists:   anyDrive,
	Needs:   needs("motor", "can_length_mm"),
	Corner:  func(b *Build) Outcome { return atMost(b.acrossTruck(), b.Problem.Brief.Board.Hanger) },
	Eased:   []Easing{{Key: "board.hanger_mm", At: (*Build).acrossTruck}},
}

// acrossTruck is the room in m that the motors of one truck take between its
// wheels, side by side.
func (b *Build) acrossTruck() float64 {
	if b.Drive.inWheel() {
		return 0
	}
	return float64(min(b.Motors(), 2)) * b.Motor.CanLength
}
