package constraints

import (
	"slices"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
)

// driveSlots are the slots that make up a drive.
var driveSlots = []Slot{SlotGearDrive, SlotMotorPulley, SlotWheelPulley, SlotMount, SlotBelt}

// DriveSlots lists the slots that make up a drive.
func DriveSlots() []Slot { return slices.Clone(driveSlots) }

// Free holds a build of a file and frees some of its slots: the problem has
// the file's part in every other slot, and in those what the brief's keep and
// avoid leave. Where only a pulley or a mount is freed the belt is chosen anew.
// The error is of type field.Problems: the build does not have a freed slot,
// or as from Find and NewProblem.
func Free(c *catalog.Catalog, brief *Brief, f *BuildFile, freed []Slot) (p *Problem, base *Build, err error) {
	var r field.Report
	b := brief.Clone()
	b.Board.Motors = []float64{float64(f.Motors)}
	drive := slices.ContainsFunc(freed, func(s Slot) bool { return slices.Contains(driveSlots, s) })
	for _, slot := range Slots() {
		switch inDrive := slices.Contains(driveSlots, slot); {
		case slices.Contains(freed, slot):
		case !inDrive:
			b.Keep[slot], b.Avoid[slot] = []string{f.IDs[slot]}, nil
		default:
			b.Keep[slot], b.Avoid[slot] = nil, nil
		}
	}
	whole := slices.Contains(freed, SlotGearDrive) && slices.Contains(freed, SlotMotorPulley)
	for _, slot := range freed {
		if slices.Contains(driveSlots, slot) && f.IDs[slot] == "" && !whole {
			r.Add(f.file, "free the whole drive to change its kind", "the build has no %s to change", slot)
		}
	}
	if err := r.Err(); err != nil {
		return nil, nil, err
	}
	if p, err = NewProblem(c, b); err != nil {
		return nil, nil, err
	}
	if base, err = p.Find(f); err != nil {
		return nil, nil, err
	}
	switch {
	case !drive:
		p.Drives = []*Drive{base.Drive}
	case slices.Equal(freed, []Slot{SlotBelt}):
		p.Drives = p.belts(base.Drive)
	case !whole:
		p.Drives = only(p.Drives, func(d *Drive) bool {
			for _, slot := range driveSlots {
				if slot != SlotBelt && !slices.Contains(freed, slot) && d.ID(slot) != f.IDs[slot] {
					return false
				}
			}
			return true
		})
	}
	return p, base, nil
}

// belts is a drive with each belt in play.
func (p *Problem) belts(d *Drive) []*Drive {
	var out []*Drive
	for _, belt := range p.Belts {
		out = append(out, p.namedBelt(d.MotorPulley, d.WheelPulley, d.Mount, belt))
	}
	return out
}

// Change is what it takes to turn one build into another.
type Change struct {
	Buy   []Line  // what the other has more of
	Leave []Line  // what it has less of
	Price float64 // of Buy, in lots as sold; NaN: not known
}

// ChangeTo is what it takes to turn b into the other build: parts that b has
// already cost nothing.
func (b *Build) ChangeTo(other *Build) Change {
	var c Change
	have, want := b.Lines(), other.Lines()
	pieces := func(lines []Line, id string) int {
		n := 0
		for _, l := range lines {
			if l.Part.ID == id {
				n += l.Pieces
			}
		}
		return n
	}
	for _, l := range want {
		if more := l.Pieces - pieces(have, l.Part.ID); more > 0 {
			bought := l
			if more < l.Pieces {
				bought = line(l.Slot, l.Part, more)
			}
			c.Buy = append(c.Buy, bought)
			c.Price += bought.Price
		}
	}
	for _, l := range have {
		if less := l.Pieces - pieces(want, l.Part.ID); less > 0 {
			l.Pieces = less
			c.Leave = append(c.Leave, l)
		}
	}
	return c
}
