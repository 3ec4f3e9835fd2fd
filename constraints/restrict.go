package constraints

import (
	"slices"
	"strings"

	"gearsearch/catalog"
)

// Edits that leave fewer parts in play.

// Keeping leaves in play, in one slot, the parts whose id is accepted. In the slots
// of a drive "" is the id of no part: that of a gear drive's motor pulley.
func Keeping(slot Slot, accepted func(id string) bool) Edit {
	return Edit{set: func(q *Problem) {
		switch slot {
		case SlotBattery:
			q.Batteries = only(q.Batteries, func(b *Battery) bool { return accepted(b.ID) })
		case SlotController:
			q.Controllers = only(q.Controllers, func(c *Controller) bool { return accepted(c.ID) })
		case SlotMotor:
			q.Motors = only(q.Motors, func(m *Motor) bool { return accepted(m.ID) })
		case SlotWheel:
			q.Wheels = only(q.Wheels, func(w *Wheel) bool { return accepted(w.ID) })
		default:
			q.Drives = only(q.Drives, func(d *Drive) bool { return accepted(d.ID(slot)) })
		}
	}}
}

// Only leaves these of the parts in play, prepared as they are.
func Only[P *Battery | *Controller | *Motor | *Drive | *Wheel](list ...P) Edit {
	return Edit{set: func(q *Problem) {
		switch list := any(list).(type) {
		case []*Battery:
			q.Batteries = list
		case []*Controller:
			q.Controllers = list
		case []*Motor:
			q.Motors = list
		case []*Drive:
			q.Drives = list
		case []*Wheel:
			q.Wheels = list
		}
	}}
}

// OneCount keeps one number of motors, which must be among the Counts.
func OneCount(motors int) Edit {
	return Edit{set: func(q *Problem) {
		i := slices.Index(q.Counts, motors)
		q.Counts = q.Counts[i : i+1]
		q.Controllers = mapped(q.Controllers, func(c Controller) *Controller {
			c.Price, c.Mass, c.Pieces = c.Price[i:i+1], c.Mass[i:i+1], c.Pieces[i:i+1]
			return &c
		})
		q.Motors = mapped(q.Motors, func(m Motor) *Motor {
			m.Price, m.Mass = m.Price[i:i+1], m.Mass[i:i+1]
			return &m
		})
		q.Drives = mapped(q.Drives, func(d Drive) *Drive {
			d.Price, d.Mass = d.Price[i:i+1], d.Mass[i:i+1]
			return &d
		})
	}}
}

// ID is the id of the drive's part in a slot, "" where it has none.
func (d *Drive) ID(slot Slot) string { return idOf(d.Part(slot)) }

// ID is the id of the build's part in a slot, "" where it has none.
func (b *Build) ID(slot Slot) string { return idOf(b.Part(slot)) }

// idOf is the id of a part, "" for none.
func idOf(part *catalog.Part) string {
	if part == nil {
		return ""
	}
	return part.ID
}

// Name is the ids of the drive's parts, the belt left out where none could be
// chosen, joined by " + ".
func (d *Drive) Name() string {
	var ids []string
	for _, slot := range DriveSlots() {
		if id := d.ID(slot); id != "" {
			ids = append(ids, id)
		}
	}
	return strings.Join(ids, " + ")
}
