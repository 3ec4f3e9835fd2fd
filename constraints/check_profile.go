package constraints

// profileCheck: do the two pulleys have the same teeth? A sprocket and a pulley do not.
var profileCheck = Check{
	Name:    "profile",
	Subject: "tooth profiles",
	Meaning: "both pulleys, or both sprockets, have the same tooth profile",
	Scope:   on(OnDrive),
	Applies: (*Problem).Belted,
	Lists:   pulleyed,
	Alone:   true,
	Joins:   []Slot{SlotMotorPulley, SlotWheelPulley},
	Corner: func(b *Build) Outcome {
		if b.Drive.MotorPulley.Profile.ID == b.Drive.WheelPulley.Profile.ID {
			return yesNo(Pass)
		}
		return yesNo(Fail)
	},
}
