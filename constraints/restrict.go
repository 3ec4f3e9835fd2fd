package constraints

import (
	"maps"
	"slices"
	"strings"
)

// Restrict returns the problem with fewer parts in play in one slot: those
// whose id keep accepts. For the slots of a drive, "" stands for none, so that
// a gear drive's motor pulley is "". What prices and masses are scored
// against, and which checks apply, stay as they are.
func (p *Problem) Restrict(slot Slot, keep func(id string) bool) *Problem {
	q := *p
	switch slot {
	case SlotBattery:
		q.Batteries = only(p.Batteries, func(b *Battery) bool { return keep(b.ID) })
	case SlotController:
		q.Controllers = only(p.Controllers, func(c *Controller) bool { return keep(c.ID) })
	case SlotMotor:
		q.Motors = only(p.Motors, func(m *Motor) bool { return keep(m.ID) })
	case SlotWheel:
		q.Wheels = only(p.Wheels, func(w *Wheel) bool { return keep(w.ID) })
	default:
		q.Drives = only(p.Drives, func(d *Drive) bool { return keep(d.ID(slot)) })
	}
	return &q
}

// RestrictCount returns the problem with one number of motors, which must be
// among its Counts, likewise.
func (p *Problem) RestrictCount(motors int) *Problem {
	q := *p
	i := slices.Index(p.Counts, motors)
	q.Counts, q.Shares = p.Counts[i:i+1], p.Shares[i:i+1]
	q.Controllers = mapped(p.Controllers, func(c Controller) *Controller {
		c.Price, c.Mass, c.Pieces = c.Price[i:i+1], c.Mass[i:i+1], c.Pieces[i:i+1]
		return &c
	})
	q.Motors = mapped(p.Motors, func(m Motor) *Motor {
		m.Price, m.Mass = m.Price[i:i+1], m.Mass[i:i+1]
		return &m
	})
	q.Drives = mapped(p.Drives, func(d Drive) *Drive {
		d.Price, d.Mass = d.Price[i:i+1], d.Mass[i:i+1]
		return &d
	})
	return &q
}

// Demoting returns the problem in which more checks, by name, only caution and
// never reject.
func (p *Problem) Demoting(checks ...string) *Problem {
	q := *p
	q.demoted = maps.Clone(p.demoted)
	for _, name := range checks {
		q.demoted[name] = true
	}
	return &q
}

// Without returns the problem without some checks, by name: they do not apply.
func (p *Problem) Without(checks ...string) *Problem {
	q := *p
	q.checks = only(p.checks, func(c *Check) bool { return !slices.Contains(checks, c.Name) })
	return &q
}

// ID is the id of the drive's part in a slot, "" where it has none.
func (d *Drive) ID(slot Slot) string {
	switch {
	case slot == SlotGearDrive && d.Gear != nil:
		return d.Gear.ID
	case slot == SlotMotorPulley && d.MotorPulley != nil:
		return d.MotorPulley.ID
	case slot == SlotWheelPulley && d.WheelPulley != nil:
		return d.WheelPulley.ID
	case slot == SlotMount && d.Mount != nil:
		return d.Mount.ID
	case slot == SlotBelt && d.Belt != nil:
		return d.Belt.ID
	}
	return ""
}

// ID is the id of the build's part in a slot, "" where it has none.
func (b *Build) ID(slot Slot) string {
	switch slot {
	case SlotBattery:
		return b.Battery.ID
	case SlotController:
		return b.Controller.ID
	case SlotMotor:
		return b.Motor.ID
	case SlotWheel:
		return b.Wheel.ID
	}
	return b.Drive.ID(slot)
}

// only is a copy of the list with the items that keep accepts.
func only[T any](list []T, keep func(T) bool) []T {
	var out []T
	for _, x := range list {
		if keep(x) {
			out = append(out, x)
		}
	}
	return out
}

// mapped is a list of changed copies.
func mapped[T any](list []*T, change func(T) *T) []*T {
	out := make([]*T, len(list))
	for i, x := range list {
		out[i] = change(*x)
	}
	return out
}

// Name is the ids of the drive's parts, the belt left out where none could be
// chosen, joined by " + ".
func (d *Drive) Name() string {
	var ids []string
	for _, slot := range []Slot{SlotGearDrive, SlotMotorPulley, SlotWheelPulley, SlotMount, SlotBelt} {
		if id := d.ID(slot); id != "" {
			ids = append(ids, id)
		}
	}
	return strings.Join(ids, " + ")
}
