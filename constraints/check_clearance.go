package constraints

// clearance: does the wheel pulley or gear drive stay off the ground?
var clearance = Check{
	Name:    "clearance",
	Meaning: "the belt over the wheel pulley, or the gear drive, stays clear of the ground",
	Unit:    "mm",
	PerSI:   1000,
	Lower:   true,
	Scope:   on(OnDrive | OnWheel),
	Applies: always,
	Lists:   anyDrive,
	Needs:   append(needs("gear_drive", "outside_mm"), needs("profile", "pitch_line_mm")...),
	Test: func(b *Build) Outcome {
		return atLeast(b.Wheel.Radius-b.Drive.Outside, b.Problem.Brief.Limit.GroundClearance)
	},
}
