package constraints

import (
	"slices"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
)

// Freed is what may change of a build.
type Freed struct {
	Slots  []Slot
	Motors bool // their number
}

// Scope are the choices that are freed, in part or whole.
func (f Freed) Scope() Scope {
	var s Scope
	if f.Motors {
		s |= OnCount
	}
	for _, slot := range f.Slots {
		s |= ScopeOf(slot)
	}
	return s
}

// Free holds the build of a file and frees some of it. The problem that it makes
// has the build's part in every slot that is held, whatever the brief keeps or
// avoids, and in the others what keep and avoid leave. A number of motors that is
// freed is each that the brief tries; where it tries none but the build's, each that
// there is. Prices and masses are scored as they are for the base alone, under the
// whole brief.
//
// A pulley or a mount changes together with its belt: the belt is chosen anew,
// from the base's and those that keep and avoid leave. With the belt alone
// freed, each belt is tried, whether it fits or not. To change the kind of
// drive, all of DriveSlots are freed.
//
// The error is of type field.Problems: a slot is freed that the kind of drive
// does not have, or as from NewProblem and Find.
func Free(c *catalog.Catalog, brief *Brief, f *BuildFile, freed Freed) (p *Problem, base *Build, err error) {
	all, err := NewBuildProblem(c, f.With(brief))
	if err != nil {
		return nil, nil, err
	}
	held := all.With(OneCount(f.Motors))
	if freed.Motors {
		if held, err = all.counting(f); err != nil {
			return nil, nil, err
		}
	}
	if base, err = held.Find(f); err != nil {
		return nil, nil, err
	}
	if slices.Contains(freed.Slots, SlotBattery) {
		if err := all.powered(); err != nil {
			return nil, nil, err
		}
	}
	free := func(slot Slot) bool { return slices.Contains(freed.Slots, slot) }
	kinds := slices.Compact(slices.Sorted(slices.Values(only(freed.Slots, func(s Slot) bool { return !s.Always() }))))
	whole := len(kinds) == len(DriveSlots())

	var r field.Report
	for _, slot := range kinds {
		if geared := slot == SlotGearDrive; !whole && geared != (base.Drive.Gear != nil) {
			r.Add(f.file, field.Missing, "free the whole drive to change its kind", "the build has no %s to change", slot)
		}
	}
	if err := r.Err(); err != nil {
		return nil, nil, err
	}

	var edits []Edit
	if !free(SlotBattery) {
		edits = append(edits, Only(base.Battery))
	}
	if !free(SlotController) {
		edits = append(edits, Only(base.Controller))
	}
	if !free(SlotMotor) {
		edits = append(edits, Only(base.Motor))
	}
	if !free(SlotWheel) {
		edits = append(edits, Only(base.Wheel))
	}
	switch {
	case whole:
	case len(kinds) == 0:
		edits = append(edits, Only(base.Drive))
	case base.Drive.Gear != nil:
		edits = append(edits, Keeping(SlotGearDrive, func(id string) bool { return id != "" }))
	case slices.Equal(kinds, []Slot{SlotBelt}):
		edits = append(edits, Only(base.Problem.belts(base.Drive)...))
	default:
		edits = append(edits, freePulleys(base.Drive, free))
	}
	return base.Problem.With(edits...), base, nil
}

// counting is the problem with each number of motors that may take the place of a
// file's, scored against what it is scored against itself.
func (p *Problem) counting(f *BuildFile) (*Problem, error) {
	if len(p.Counts) > 1 {
		return p, nil
	}
	brief := p.Brief.Clone()
	brief.Board.Motors = nil
	for _, n := range MotorCounts() {
		brief.Board.Motors = append(brief.Board.Motors, float64(n))
	}
	wide, err := NewBuildProblem(p.Catalog, brief)
	if err != nil {
		return nil, err
	}
	wide.PriceReference, wide.MassReference = p.PriceReference, p.MassReference
	return wide, nil
}

// FreeMore frees more choices of a build, each whole, in a problem that Free made
// of it.
func FreeMore(p *Problem, base *Build, more Scope) *Problem {
	q := base.Problem
	if more&OnBattery == 0 {
		q = q.With(Only(p.Batteries...))
	}
	if more&OnController == 0 {
		q = q.With(Only(p.Controllers...))
	}
	if more&OnMotor == 0 {
		q = q.With(Only(p.Motors...))
	}
	if more&OnDrive == 0 {
		q = q.With(Only(p.Drives...))
	}
	if more&OnWheel == 0 {
		q = q.With(Only(p.Wheels...))
	}
	return q
}

// freePulleys keeps the belt drives that differ from a given one in freed slots only.
func freePulleys(d *Drive, free func(Slot) bool) Edit {
	return Edit{renews: drivesDerived, set: func(q *Problem) {
		q.GearDrives = nil
		if !free(SlotMotorPulley) {
			q.MotorPulleys = []*catalog.Pulley{d.MotorPulley}
		}
		if !free(SlotWheelPulley) {
			q.WheelPulleys = []*catalog.Pulley{d.WheelPulley}
		}
		if !free(SlotMount) {
			q.Mounts = nil
			if d.Mount != nil {
				q.Mounts = []*catalog.Mount{d.Mount}
			}
		}
		if d.Belt != nil && !slices.Contains(q.Belts, d.Belt) {
			q.Belts = append(slices.Clone(q.Belts), d.Belt)
		}
	}}
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
	Price float64 // of Buy; NaN: not known
}

// ChangeTo is what it takes to turn b into the other build. Pieces that b has already
// cost nothing, and neither do those left over from a pack that had to be bought
// whole for b.
func (b *Build) ChangeTo(other *Build) Change {
	var c Change
	have, want := b.Lines(), other.Lines()
	for _, l := range want {
		if before := pieces(have, l.Part.ID); before < l.Pieces {
			if before > 0 {
				l = line(l.Slot, l.Part, l.Pieces-before)
				l.Price = l.Part.Cost(before+l.Pieces) - l.Part.Cost(before)
			}
			c.Buy = append(c.Buy, l)
			c.Price += l.Price
		}
	}
	for _, l := range have {
		if after := pieces(want, l.Part.ID); after == 0 {
			c.Leave = append(c.Leave, l)
		} else if after < l.Pieces {
			c.Leave = append(c.Leave, line(l.Slot, l.Part, l.Pieces-after))
		}
	}
	return c
}

// pieces is how many of a part there are. A part goes into one slot only.
func pieces(lines []Line, id string) int {
	for _, l := range lines {
		if l.Part.ID == id {
			return l.Pieces
		}
	}
	return 0
}

// Misfit is the first check by which the build can never be put together for
// something that it has and from has not, whatever a brief asks: a bore, a hub.
// ok is false where none fails so.
func (b *Build) Misfit(from *Build) (r Result, ok bool) {
	for _, r := range b.Results() {
		joined := func(s Slot) bool { return b.ID(s) != "" && b.ID(s) != from.ID(s) }
		if r.Verdict == Fail && !r.Demoted && slices.ContainsFunc(r.Check.Joins, joined) {
			return r, true
		}
	}
	return Result{}, false
}
