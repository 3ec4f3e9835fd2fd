package constraints

import (
	"math"
	"slices"

	"gearsearch/catalog"
)

// boreCheck: does the motor pulley or gear drive go on the motor's shaft?
var boreCheck = Check{
	Name:    "bore",
	Subject: "shaft and bore",
	Meaning: "the motor pulley, sprocket or gear drive fits the motor's shaft, and a key that it needs is there",
	Scope:   on(OnMotor | OnDrive),
	Applies: always,
	Lists:   anyDrive,
	Alone:   true,
	Joins:   []Slot{SlotMotor, SlotMotorPulley, SlotGearDrive},
	Needs: []Need{
		{Kind: "motor", Key: "shaft_mm", Of: anyUnlisted(motorsOf)},
		{Kind: "motor", Key: "shaft_key", Of: somethingKeyed},
		{Kind: "pulley", Key: "bore_mm", Of: onSide(catalog.MotorSide)},
		{Kind: "sprocket", Key: "bore_mm", Of: onSide(catalog.MotorSide)},
		{Kind: "gear_drive", Key: "bore_mm", Of: unlisted(motorsOf)},
	},
	Corner: func(b *Build) Outcome {
		if gear := b.Drive.Gear; gear != nil {
			if gear.FitsMotors != nil {
				return yesNo(listed(gear.FitsMotors, b.Motor.ID))
			}
			return yesNo(shaftFits(b.Motor.Motor, gear.Bore, gear.ShaftKey))
		}
		pulley := b.Drive.MotorPulley
		return yesNo(shaftFits(b.Motor.Motor, pulley.Bore, pulley.ShaftKey))
	},
}

// listed passes when the list has the id.
func listed(list []string, id string) Verdict {
	if slices.Contains(list, id) {
		return Pass
	}
	return Fail
}

// shaftFits compares a bore (m) and the key that goes with it to a motor's
// shaft. What disagrees fails, even if something else is not given.
func shaftFits(m *catalog.Motor, bore float64, key catalog.ShaftKey) Verdict {
	verdict := Pass
	switch {
	case math.IsNaN(bore) || math.IsNaN(m.Shaft):
		verdict = Undecided
	case !equal(m.Shaft, bore):
		return Fail
	}
	if !keyed(key) {
		return verdict
	}
	switch m.ShaftKey {
	case key:
		return verdict
	case catalog.KeyUnknown:
		return Undecided
	default:
		return Fail
	}
}

// keyed reports whether a key must be on the shaft: a plain bore goes on any.
func keyed(key catalog.ShaftKey) bool { return key == catalog.KeyFlat || key == catalog.KeyKeyway }

// somethingKeyed reports whether something that needs a key may go on a motor's
// shaft.
func somethingKeyed(s *Stock, p *catalog.Part) bool {
	m, ok := catalog.ByID(s.Motors, p.ID)
	wants := func(bore float64, key catalog.ShaftKey) bool { return keyed(key) && shaftFits(m, bore, key) != Fail }
	return ok && (slices.ContainsFunc(s.AllPulleys(), func(x *catalog.Pulley) bool { return x.Side == catalog.MotorSide && wants(x.Bore, x.ShaftKey) }) ||
		slices.ContainsFunc(s.GearDrives, func(g *catalog.GearDrive) bool { return motorsOf(g) == nil && wants(g.Bore, g.ShaftKey) }))
}
