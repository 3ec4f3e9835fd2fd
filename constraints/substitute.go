package constraints

import (
	"gearsearch/catalog"
	"gearsearch/drive"
)

// The problem with other parts in play in one slot, such as parts that are in
// no catalog. Those of the other slots, what prices and masses are scored
// against, and which checks apply, stay as they are. The lists must be sorted
// as ties are to be broken.

// WithBatteries puts other packs in play. Those that the brief's charge leaves
// at or below their cut-off are left out.
func (p *Problem) WithBatteries(list []*catalog.Battery) *Problem {
	q := *p
	q.Batteries = nil
	for _, b := range list {
		if cutoff := b.CutoffVolts(); !drive.AtMost(p.chargeVolts(b), cutoff) { // an unknown cut-off, too
			q.Batteries = append(q.Batteries, p.battery(b))
		}
	}
	return &q
}

// WithControllers puts other controllers in play.
func (p *Problem) WithControllers(list []*catalog.Controller) *Problem {
	q := *p
	q.Controllers = nil
	for _, c := range list {
		q.Controllers = append(q.Controllers, p.controller(c))
	}
	return &q
}

// WithMotors puts other motors in play.
func (p *Problem) WithMotors(list []*catalog.Motor) *Problem {
	q := *p
	q.Motors = nil
	for _, m := range list {
		q.Motors = append(q.Motors, p.motor(m))
	}
	return &q
}

// WithWheels puts other wheels in play.
func (p *Problem) WithWheels(list []*catalog.Wheel) *Problem {
	q := *p
	q.Wheels = nil
	for _, w := range list {
		q.Wheels = append(q.Wheels, p.wheel(w))
	}
	return &q
}

// WithGearDrives puts other gear drives in play, and no belt drives.
func (p *Problem) WithGearDrives(list []*catalog.GearDrive) *Problem {
	q := *p
	q.GearDrives, q.MotorPulleys, q.WheelPulleys, q.Drives = list, nil, nil, nil
	q.makeDrives()
	return &q
}

// WithMotorPulleys puts other motor pulleys in play, and no gear drives.
func (p *Problem) WithMotorPulleys(list []*catalog.Pulley) *Problem {
	q := *p
	q.MotorPulleys, q.GearDrives, q.Drives = list, nil, nil
	q.makeDrives()
	return &q
}

// WithWheelPulleys puts other wheel pulleys in play, and no gear drives.
func (p *Problem) WithWheelPulleys(list []*catalog.Pulley) *Problem {
	q := *p
	q.WheelPulleys, q.GearDrives, q.Drives = list, nil, nil
	q.makeDrives()
	return &q
}

// WithMounts puts other mounts in play, and no gear drives.
func (p *Problem) WithMounts(list []*catalog.Mount) *Problem {
	q := *p
	q.Mounts, q.GearDrives, q.Drives = list, nil, nil
	if len(list) > 0 {
		q.makeDrives()
	}
	return &q
}

// WithBelts puts other belts in play, and no gear drives: each belt by itself
// on all pulleys and mounts, not the best of them. Drives on which it does not
// fit are left out.
func (p *Problem) WithBelts(list []*catalog.Belt) *Problem {
	q := *p
	q.Belts, q.GearDrives, q.Drives = list, nil, nil
	if len(p.Mounts) == 0 {
		return &q
	}
	for _, small := range p.MotorPulleys {
		for _, large := range p.WheelPulleys {
			for _, f := range centres(small, large, list) {
				for _, mount := range p.Mounts {
					if d := q.beltDrive(small, large, mount, []fitted{f}); d.Belt != nil {
						q.Drives = append(q.Drives, d)
					}
				}
			}
		}
	}
	return &q
}
