package constraints

import (
	"gearsearch/catalog"
)

// Edits that put other parts in play in one slot, such as parts that are in no
// catalog. The lists must be in the order that breaks ties.

// OtherBatteries puts other packs in play. Those that the brief's charge leaves
// at or below their cut-off are left out.
func OtherBatteries(list []*catalog.Battery) Edit {
	return Edit{set: func(q *Problem) {
		q.Batteries = nil
		for _, b := range list {
			if !q.flat(b) {
				q.Batteries = append(q.Batteries, q.battery(b))
			}
		}
	}}
}

// OtherControllers puts other controllers in play.
func OtherControllers(list []*catalog.Controller) Edit {
	return Edit{set: func(q *Problem) { q.Controllers = prepared(list, q.controller) }}
}

// OtherMotors puts other motors in play.
func OtherMotors(list []*catalog.Motor) Edit {
	return Edit{set: func(q *Problem) { q.Motors = prepared(list, q.motor) }}
}

// OtherWheels puts other wheels in play.
func OtherWheels(list []*catalog.Wheel) Edit {
	return Edit{set: func(q *Problem) { q.Wheels = prepared(list, q.wheel) }}
}

// prepared is a list of parts, each prepared.
func prepared[T, P any](list []T, prepare func(T) P) []P {
	var out []P
	for _, x := range list {
		out = append(out, prepare(x))
	}
	return out
}

// OtherGearDrives puts other gear drives in play, and no belt drives.
func OtherGearDrives(list []*catalog.GearDrive) Edit {
	return Edit{renews: drivesDerived, set: func(q *Problem) {
		q.GearDrives, q.MotorPulleys, q.WheelPulleys = list, nil, nil
	}}
}

// OtherMotorPulleys puts other motor pulleys in play, and no gear drives.
func OtherMotorPulleys(list []*catalog.Pulley) Edit {
	return Edit{renews: drivesDerived, set: func(q *Problem) { q.MotorPulleys, q.GearDrives = list, nil }}
}

// OtherWheelPulleys puts other wheel pulleys in play, and no gear drives.
func OtherWheelPulleys(list []*catalog.Pulley) Edit {
	return Edit{renews: drivesDerived, set: func(q *Problem) { q.WheelPulleys, q.GearDrives = list, nil }}
}

// OtherMounts puts other mounts in play, and no gear drives. Without any mount
// there is no drive.
func OtherMounts(list []*catalog.Mount) Edit {
	e := Edit{set: func(q *Problem) { q.Mounts, q.GearDrives, q.Drives = list, nil, nil }}
	if len(list) > 0 {
		e.renews = drivesDerived
	}
	return e
}

// OtherBelts puts other belts in play, and no gear drives: each belt by itself
// on all pulleys and mounts, not the best of them. Drives on which it does not
// fit are left out.
func OtherBelts(list []*catalog.Belt) Edit {
	return Edit{set: func(q *Problem) {
		q.Belts, q.GearDrives, q.Drives = list, nil, nil
		if len(q.Mounts) == 0 {
			return
		}
		for _, small := range q.MotorPulleys {
			for _, large := range q.WheelPulleys {
				for _, f := range centres(small, large, list) {
					q.Drives = append(q.Drives, q.onMounts(small, large, f)...)
				}
			}
		}
	}}
}

// onMounts lists the drives of one belt on two pulleys, with each mount that it fits.
func (p *Problem) onMounts(small, large *catalog.Pulley, f fitted) []*Drive {
	var out []*Drive
	for _, mount := range p.Mounts {
		if d := p.beltDrive(small, large, mount, []fitted{f}); d.Belt != nil {
			out = append(out, d)
		}
	}
	return out
}
