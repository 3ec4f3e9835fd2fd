package constraints

// sensorCheck: do the motors have the position sensors that are asked for?
var sensorCheck = Check{
	Name:    "sensor",
	Subject: "position sensors",
	Meaning: "the motors have rotor position sensors, as is asked for",
	Scope:   on(OnMotor),
	Applies: func(p *Problem) bool { return p.Brief.Board.Sensored != nil && *p.Brief.Board.Sensored },
	Lists:   anyDrive,
	Needs:   needs("motor", "sensored"),
	Corner: func(b *Build) Outcome {
		switch has := b.Motor.Sensored; {
		case has == nil:
			return yesNo(Undecided)
		case *has:
			return yesNo(Pass)
		}
		return yesNo(Fail)
	},
}
