package constraints

// usualClearance, mm, is asked for where a brief does not say.
const usualClearance = 12

// clearanceCheck: does the wheel pulley or gear drive stay off the ground?
var clearanceCheck = Check{
	Name:    "clearance",
	Subject: "ground clearance",
	Meaning: "the belt over the wheel pulley, the chain over the sprocket, or the gear drive, stays clear of the ground",
	Unit:    "mm",
	PerSI:   1000,
	Lower:   true,
	Scope:   on(OnDrive | OnWheel),
	Applies: always,
	Lists:   anyDrive,
	Needs:   append(needs("gear_drive", "outside_mm"), needs("profile", "pitch_line_mm")...),
	Corner:  func(b *Build) Outcome { return atLeast(b.clearance(), b.Problem.Brief.Limit.GroundClearance) },
	Tuned:   TunesWheel,
	Eased:   []Easing{{Key: "limit.ground_clearance_mm", At: (*Build).clearance, Floor: &offGroundCheck}},
}

// clearance is how far above the ground in m the wheel pulley's belt or the gear
// drive stays; below 0 where it does not.
func (b *Build) clearance() float64 { return b.Wheel.Radius - b.Drive.Outside }

// offGround is what is left of the check where the brief asks for no clearance.
var offGroundCheck = Check{
	Name: "ground", Meaning: "wheel pulley and gear drive stay off the ground", Unit: "mm", PerSI: mm, Lower: true,
	Scope:   on(OnDrive | OnWheel),
	Applies: always,
	Lists:   anyDrive,
	Corner:  func(b *Build) Outcome { return atLeast(b.clearance(), 0) },
}
