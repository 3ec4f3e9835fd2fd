package constraints

import "math"

// climbCheck: does the board hold its speed on the target grade?
var climbCheck = Check{
	Name:    "climb",
	Subject: "thrust on the climb",
	Figure:  "climb_thrust_n",
	Meaning: "the thrust at the climb speed, grip included, holds the board on the target grade",
	Unit:    "N",
	PerSI:   1,
	Lower:   true,
	Scope:   on(OnAll),
	Applies: (*Problem).Climbs,
	Lists:   anyDrive,
	Needs:   thrustNeeds(),
	Corners: true,
	Corner: func(b *Build) Outcome {
		if !b.ThrustKnown() {
			return undecided(math.NaN(), b.ClimbNeed())
		}
		return atLeast(b.GrippedClimbThrust(), b.ClimbNeed())
	},
	Window: climbWindow,
	Tuned:  TunesAll,
	Eased:  []Easing{{Key: "target.climb_grade_pct", At: (*Build).gradeClimbed}, slowerClimb},
}

// hillTorqueCheck: do the wheels get the torque asked for?
var hillTorqueCheck = Check{
	Name:    "hill-torque",
	Subject: "torque at climb speed",
	Figure:  "hill_torque_nm",
	Meaning: "the torque at the climb speed, all wheels together, reaches the target",
	Unit:    "N.m",
	PerSI:   1,
	Lower:   true,
	Scope:   on(OnAll),
	Applies: func(p *Problem) bool { return !math.IsNaN(p.Brief.Target.HillTorque) },
	Lists:   anyDrive,
	Needs:   thrustNeeds(),
	Corners: true,
	Corner:  func(b *Build) Outcome { return atLeast(b.HillTorque(), b.Problem.Brief.Target.HillTorque) },
	Tuned:   TunesAll,
	Eased:   []Easing{{Key: "target.hill_torque_nm", At: (*Build).HillTorque}, slowerClimb},
}

// HillTorque is the torque in N·m at the climb speed, summed over the wheels,
// without the grip cap; NaN when the thrust is not known, or nothing bounds it.
func (b *Build) HillTorque() float64 {
	if !b.ThrustKnown() {
		return math.NaN()
	}
	return finite(b.ClimbThrust() * b.board.Radius)
}
