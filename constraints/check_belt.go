package constraints

// beltCheck: is there a belt, or a chain, that puts the motor where the mount can hold it?
var beltCheck = Check{
	Name:    "belt",
	Subject: "belt or chain that fits",
	Meaning: "some belt of the profile, no wider than the narrower pulley, or chain of an even number of links, puts the centre distance inside the mount's range",
	Scope:   on(OnDrive),
	Applies: (*Problem).Belted,
	Lists:   belted,
	Alone:   true,
	Joins:   []Slot{SlotBelt}, // the belt that is named; where none is found, another catalog may help
	Corner:  func(b *Build) Outcome { return yesNo(b.Drive.belt) },
}
