package search

import (
	"context"

	"gearsearch/catalog"
	"gearsearch/constraints"
)

// Missing is a part that the catalog lacks, and with which a build would be
// feasible.
type Missing struct {
	Slot constraints.Slot
	Like string // id of the part in play that it differs least from
	// Difference is its distance from that part: the sum of |ln| of the ratios
	// of their numbers, and a tenth for each other fact that differs.
	Difference float64
	Facts      []Fact // what matters of it, as keys of the catalog
	// Price and Mass (kg), of each piece, are assumed to be those of the part that it
	// is like, of a battery in proportion to its number of cells. NaN: not known.
	Price, Mass float64
	// Build is the best feasible build with the part, which has the id of the
	// part that it is like.
	Build Scored
}

// Fact is one key of a missing part. Value is a float64 in the key's unit, a
// string or a bool.
type Fact struct {
	Key     string
	Value   any
	Changed bool // differs from the part that it is like
}

// Wanted is the answer of Wants.
type Wanted struct {
	Missing  []Missing          // one for each slot in which a single part is missing, in the order of the slots
	Hopeless []constraints.Slot // that no part looked at opens anything in
	Complete bool               // false when ctx ended it early: slots are in neither list
}

// Wants finds, slot by slot, a part that would make a build of other catalog parts
// feasible: the one that differs least from a part in play, and of those that differ
// alike the one of the best build. Where a build is feasible already, nothing is
// missing. The problem must be one that NewProblem made.
//
// The parts looked at are variations on those in play:
//
//	battery       each cell of the catalog, 6 to 20 in series, as many in
//	              parallel as some pack has; wiring as of the pack it is like
//	controller    each, with 1, 1.25, 1.5, 2 or 3 times its currents, and with or
//	              without limits of volts and electrical rpm: those it needs are
//	              told
//	motor         each frame (can, shaft and pole pairs) rewound, in steps of 5
//	              rpm/V from half its lowest kv to twice its highest; see
//	              constraints.Rewound
//	gear_drive    each with ratios of 1.5 to 10 in steps of 0.1, or its own; with
//	              its own bore, or a plain one for a shaft of the motors; and
//	              with its own hub, or one of the wheels. One with a ratio of 1
//	              keeps it.
//	motor_pulley  each pair of profile and width, 10 to 24 teeth, for each shaft
//	              of the motors, clamped or with the motor's key
//	wheel_pulley  each pair of profile and width, 30 to 80 teeth, for each hub of
//	              the wheels
//	mount         each width of the range of centre distances, with or without
//	              idler as it is, from 40 to 240 mm in steps of 2 mm
//	belt          each pair of profile and width, with from half to twice the
//	              teeth of the profile's shortest and longest
//	wheel         each with diameters from 70 to 260 mm in steps of 5 mm
func Wants(ctx context.Context, p *constraints.Problem, o Options) *Wanted {
	r, err := RankOnly(ctx, p, Options{Top: 1, Workers: o.Workers, Strict: o.Strict})
	if err != nil || !r.Complete {
		return &Wanted{}
	}
	out := &Wanted{Complete: true}
	if r.Len() > 0 {
		return out
	}
	trials := trials(p)
	for i, t := range trials {
		if t.n == 0 {
			continue
		}
		m, complete := t.search(ctx, p, o)
		switch {
		case !complete:
			out.Complete = false
			return out
		case m == nil:
			out.Hopeless = append(out.Hopeless, t.slot)
		default:
			out.Missing = append(out.Missing, *m)
		}
		if o.Progress != nil {
			o.Progress(float64(i+1), float64(len(trials)))
		}
	}
	return out
}

// trials are the parts to try, slot by slot.
func trials(p *constraints.Problem) []trial {
	small, large, mounts := len(p.MotorPulleys), len(p.WheelPulleys), max(1, len(p.Mounts))
	return []trial{
		newTrial(constraints.SlotBattery, 0, wishedBatteries(p), constraints.OtherBatteries,
			func(b *constraints.Build) *catalog.Battery { return b.Battery.Battery }, (*catalog.Battery).Common, tellBattery),
		newTrial(constraints.SlotController, 0, wishedControllers(p), constraints.OtherControllers,
			func(b *constraints.Build) *catalog.Controller { return b.Controller.Controller }, (*catalog.Controller).Common, tellController),
		newTrial(constraints.SlotMotor, 0, wishedMotors(p), constraints.OtherMotors,
			func(b *constraints.Build) *catalog.Motor { return b.Motor.Motor }, (*catalog.Motor).Common, tellMotor),
		newTrial(constraints.SlotGearDrive, 1, wishedGears(p), constraints.OtherGearDrives,
			func(b *constraints.Build) *catalog.GearDrive { return b.Drive.Gear }, (*catalog.GearDrive).Common, tellGear),
		newTrial(constraints.SlotMotorPulley, large*mounts, wishedMotorPulleys(p), constraints.OtherMotorPulleys,
			func(b *constraints.Build) *catalog.Pulley { return b.Drive.MotorPulley }, (*catalog.Pulley).Common, tellMotorPulley),
		newTrial(constraints.SlotWheelPulley, small*mounts, wishedWheelPulleys(p), constraints.OtherWheelPulleys,
			func(b *constraints.Build) *catalog.Pulley { return b.Drive.WheelPulley }, (*catalog.Pulley).Common, tellWheelPulley),
		newTrial(constraints.SlotMount, small*large, wishedMounts(p), constraints.OtherMounts,
			func(b *constraints.Build) *catalog.Mount { return b.Drive.Mount }, (*catalog.Mount).Common, tellMount),
		newTrial(constraints.SlotBelt, small*large*mounts, wishedBelts(p), constraints.OtherBelts,
			func(b *constraints.Build) *catalog.Belt { return b.Drive.Belt }, (*catalog.Belt).Common, tellBelt),
		newTrial(constraints.SlotWheel, 0, wishedWheels(p), constraints.OtherWheels,
			func(b *constraints.Build) *catalog.Wheel { return b.Wheel.Wheel }, (*catalog.Wheel).Common, tellWheel),
	}
}
