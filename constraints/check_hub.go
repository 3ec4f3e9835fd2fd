package constraints

import (
	"slices"

	"gearsearch/catalog"
)

// hubCheck: does the wheel pulley or gear drive bolt to the wheel?
var hubCheck = Check{
	Name:    "hub",
	Subject: "hub of the wheel",
	Meaning: "the wheel pulley, sprocket or gear drive goes on the wheel's hub",
	Scope:   on(OnDrive | OnWheel),
	Applies: always,
	Lists:   anyDrive,
	Alone:   true,
	Joins:   []Slot{SlotWheelPulley, SlotGearDrive, SlotWheel},
	Needs: []Need{
		{Kind: "pulley", Key: "hub", Of: onSide(catalog.WheelSide)},
		{Kind: "sprocket", Key: "hub", Of: onSide(catalog.WheelSide)},
		{Kind: "gear_drive", Key: "hub", Of: unlisted(wheelsOf)},
		{Kind: "wheel", Key: "hub", Of: anyUnlisted(wheelsOf)},
	},
	Corner: func(b *Build) Outcome {
		gear := b.Drive.Gear
		if gear == nil {
			return yesNo(hubsMeet(b.Drive.WheelPulley.Hubs, b.Wheel.Hubs))
		}
		if gear.FitsWheels != nil {
			return yesNo(listed(gear.FitsWheels, b.Wheel.ID))
		}
		return yesNo(hubsMeet(gear.Hubs, b.Wheel.Hubs))
	},
}

// hubsMeet passes when two lists have a hub in common; an empty list means that none
// was given.
func hubsMeet(a, b []string) Verdict {
	if len(a) == 0 || len(b) == 0 {
		return Undecided
	}
	for _, name := range a {
		if slices.Contains(b, name) {
			return Pass
		}
	}
	return Fail
}
