package search

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"

	"gearsearch/constraints"
	"gearsearch/search/internal/walk"
)

// choice is one way to fill the shared electrical slots: a number for the part
// in each, alike in all problems, and 0 for what is not shared.
type choice struct{ battery, controller, motor, count int32 }

// electrical are the indices of an electrical group's parts.
type electrical struct{ battery, controller, motor, count int32 }

// rolling is one way to fill the shared slots of drive and wheel, with what remains
// of each problem.
type rolling []*remainder

// remainder is what remains of a problem once the shared slots of drive and wheel are
// filled.
type remainder struct {
	whole, problem *constraints.Problem
	drives, wheels []int32 // by index in problem, that in whole
	plan           *walk.Plan
	// By motor and number: its class, and its place there.
	groups []*walk.Groups
	places []int
	held   int // pairs in lanes, and motors with their numbers
}

// numbering gives names numbers from 1, alike in all problems.
type numbering map[string]int32

func (n numbering) of(name string) int32 {
	if _, ok := n[name]; !ok {
		n[name] = int32(len(n)) + 1
	}
	return n[name]
}

// electricals sorts a problem's electrical groups by the choice that they make,
// some of them where ctx ends first.
func electricals(ctx context.Context, p *constraints.Problem, slots []constraints.Slot, known numbering) map[choice][]electrical {
	number := func(slot constraints.Slot, id string) int32 {
		if !slices.Contains(slots, slot) {
			return 0
		}
		return known.of(id)
	}
	counted := slices.Contains(slots, constraints.SlotMotor) || slices.Contains(slots, constraints.SlotController)
	out := map[choice][]electrical{}
	for b, battery := range p.Batteries {
		if ctx.Err() != nil {
			break
		}
		for c, controller := range p.Controllers {
			for m, motor := range p.Motors {
				for n, count := range p.Counts {
					k := choice{
						battery:    number(constraints.SlotBattery, battery.ID),
						controller: number(constraints.SlotController, controller.ID),
						motor:      number(constraints.SlotMotor, motor.ID),
					}
					if counted {
						k.count = int32(count)
					}
					out[k] = append(out[k], electrical{int32(b), int32(c), int32(m), int32(n)})
				}
			}
		}
	}
	return out
}

// sorted are the drives and the wheels of a problem, by index, under the ids of
// their shared parts.
type sorted struct{ drives, wheels map[string][]int32 }

// sortRolling sorts a problem's drives and wheels by what they share.
func sortRolling(p *constraints.Problem, slots []constraints.Slot) sorted {
	s := sorted{map[string][]int32{}, map[string][]int32{}}
	for i, d := range p.Drives {
		var ids []string
		for _, slot := range constraints.DriveSlots() {
			if slices.Contains(slots, slot) {
				ids = append(ids, d.ID(slot))
			}
		}
		name := strings.Join(ids, "\x00")
		s.drives[name] = append(s.drives[name], int32(i))
	}
	for i, w := range p.Wheels {
		name := ""
		if slices.Contains(slots, constraints.SlotWheel) {
			name = w.ID
		}
		s.wheels[name] = append(s.wheels[name], int32(i))
	}
	return s
}

// rollings lists the ways to fill the shared slots of drive and wheel that all
// problems have.
func rollings(ctx context.Context, problems []*constraints.Problem, slots []constraints.Slot, strict bool) ([]rolling, error) {
	all := make([]sorted, len(problems))
	for i, p := range problems {
		all[i] = sortRolling(p, slots)
	}
	var out []rolling
	held := 0
	for _, drive := range slices.Sorted(maps.Keys(all[0].drives)) {
		for _, wheel := range slices.Sorted(maps.Keys(all[0].wheels)) {
			r := rollingOf(problems, all, drive, wheel, strict)
			for _, rest := range r {
				held += rest.held
			}
			switch {
			case held > mostSharePairs:
				return nil, &TooManyError{fmt.Sprintf("the shared drives and wheels leave more pairs and motors than are held, %d", mostSharePairs)}
			case ctx.Err() != nil:
				return out, nil
			case r != nil:
				out = append(out, r)
			}
		}
	}
	return out, nil
}

// rollingOf is what a shared drive and wheel leave of the problems; nil where a
// problem lacks them.
func rollingOf(problems []*constraints.Problem, all []sorted, drive, wheel string, strict bool) rolling {
	for _, s := range all {
		if s.drives[drive] == nil || s.wheels[wheel] == nil {
			return nil
		}
	}
	var r rolling
	for i, p := range problems {
		r = append(r, newRemainder(p, all[i].drives[drive], all[i].wheels[wheel], strict))
	}
	return r
}

// picked is the items of a list at those places.
func picked[T any](list []T, places []int32) []T {
	var out []T
	for _, i := range places {
		out = append(out, list[i])
	}
	return out
}

func newRemainder(p *constraints.Problem, drives, wheels []int32, strict bool) *remainder {
	q := p.With(constraints.Only(picked(p.Drives, drives)...), constraints.Only(picked(p.Wheels, wheels)...))
	r := &remainder{whole: p, problem: q, drives: drives, wheels: wheels, plan: walk.NewPlan(q, strict)}
	r.plan.Uncounted = true
	r.groups, r.places = make([]*walk.Groups, len(p.Motors)*len(p.Counts)), make([]int, len(p.Motors)*len(p.Counts))
	r.held = len(r.groups)
	for g := range r.plan.WholeGroups() {
		if r.held += int(g.Survivors); r.held > mostSharePairs {
			break // rollings tells
		}
		for place, member := range g.Members() {
			i := member.Motor*len(p.Counts) + member.Count
			r.groups[i], r.places[i] = g, place
		}
	}
	return r
}

// group is the class of an electrical group, and its number there.
func (r *remainder) group(e electrical) (g *walk.Groups, n int) {
	i := int(e.motor)*len(r.problem.Counts) + int(e.count)
	return r.groups[i], walk.GroupAt(r.problem, r.places[i], int(e.battery), int(e.controller))
}

// id is the number in the whole problem of a combination of the remainder.
func (r *remainder) id(id uint64) uint64 {
	c := walk.ChoicesOf(r.problem, id)
	c.Drive, c.Wheel = int(r.drives[c.Drive]), int(r.wheels[c.Wheel])
	return c.Number(r.whole)
}
