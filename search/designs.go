package search

import (
	"context"
	"math"
	"slices"
	"strings"

	"gearsearch/constraints"
	"gearsearch/search/internal/walk"
)

// designs numbers the designs of a problem. The number of a design is that of its
// first combination: of the least of those that it has, part by part.
type designs struct {
	apart   Apart
	problem *constraints.Problem
	drives  []int // by drive: the first that is alike
	lots    int   // ways to choose what tells designs apart in drive and wheel
}

func newDesigns(p *constraints.Problem, a Apart) *designs {
	d := &designs{apart: a, problem: p, drives: make([]int, len(p.Drives))}
	first := map[string]int{}
	for i, drive := range p.Drives {
		var ids []string
		for _, slot := range constraints.DriveSlots() {
			if a.By(slot) {
				ids = append(ids, drive.ID(slot))
			}
		}
		name := strings.Join(ids, "\x00")
		if _, known := first[name]; !known {
			first[name] = i
		}
		d.drives[i] = first[name]
	}
	if d.lots = len(first); a.By(constraints.SlotWheel) {
		d.lots *= len(p.Wheels)
	}
	return d
}

// choose takes of some choices those that tell designs apart, and of all others the
// first.
func (d *designs) choose(c walk.Choices) walk.Choices {
	own := walk.Choices{Drive: d.drives[c.Drive]}
	for _, x := range []struct {
		apart    bool
		to, from *int
	}{
		{d.apart.By(constraints.SlotBattery), &own.Battery, &c.Battery},
		{d.apart.By(constraints.SlotController), &own.Controller, &c.Controller},
		{d.apart.By(constraints.SlotMotor), &own.Motor, &c.Motor},
		{d.apart.motors, &own.Count, &c.Count},
		{d.apart.By(constraints.SlotWheel), &own.Wheel, &c.Wheel},
	} {
		if x.apart {
			*x.to = *x.from
		}
	}
	return own
}

// of is the design of a combination, by number.
func (d *designs) of(id uint64) uint64 {
	return d.choose(walk.ChoicesOf(d.problem, id)).Number(d.problem)
}

// lot is what a pair of drive and wheel adds to the number of a design: that of
// an electrical group is of the group's first combination.
func (d *designs) lot(drive, wheel int) int {
	if !d.apart.By(constraints.SlotWheel) {
		wheel = 0
	}
	return int(walk.PairNumber(d.problem, d.drives[drive], wheel))
}

// most is how many designs there can be.
func (d *designs) most() float64 {
	p, n := d.problem, float64(d.lots)
	for _, x := range []struct {
		apart   bool
		choices int
	}{
		{d.apart.By(constraints.SlotBattery), len(p.Batteries)},
		{d.apart.By(constraints.SlotController), len(p.Controllers)},
		{d.apart.By(constraints.SlotMotor), len(p.Motors)},
		{d.apart.motors, len(p.Counts)},
	} {
		if x.apart {
			n *= float64(x.choices)
		}
	}
	return n
}

// part makes a plan's lanes hold builds that are alike in drive and wheel as far
// as these tell designs apart, and reports whether they do: they do not where
// there would be far more lanes for it.
func (d *designs) part(pl *walk.Plan) bool {
	if d.lots == 1 {
		return true
	}
	if len(d.problem.Drives)*len(d.problem.Wheels) < d.lots*pl.Sizes.Lane {
		return false
	}
	pl.Lot = d.lot
	return true
}

// held is how many entries a visitor keeps at the most that keeps the best n
// designs, all for 0.
func (d *designs) held(n int) int {
	if n == 0 {
		return int(min(d.most(), MostRanked))
	}
	return n
}

// roster is the designs of a visitor's entries.
type roster struct {
	*designs
	places map[uint64]int // by design
	parted bool           // the builds of a lane are of one design
	home   uint64         // of the group at hand: its first combination
	group  uint64         // the design of that
	lane   uint64         // the design of the lane at hand

	counts map[uint64]uint64 // feasible builds by design; nil: not counted
	last   uint64            // the design counted last
	more   uint64            // its builds that are not in counts yet
}

// mostTallied is how many designs may be counted while builds are ranked, at some
// tens of bytes for each worker. Of more a second walk counts those that are listed.
const mostTallied = 1 << 16

// tally makes a visitor count its designs' builds, where lanes are of one design
// and the designs are few.
func (r *roster) tally() {
	if r != nil && r.parted && r.most() <= mostTallied {
		r.counts = map[uint64]uint64{}
	}
}

// count counts feasible builds of the lane at hand.
func (r *roster) count(feasible uint64) {
	if r.counts == nil || feasible == 0 {
		return
	}
	if r.lane != r.last {
		r.counts[r.last] += r.more
		r.last, r.more = r.lane, 0
	}
	r.more += feasible
}

// tallied takes what visitors counted while they ranked, and reports whether they
// did.
func (r *Result) tallied(tops []*top) bool {
	if !r.Complete || tops[0].designs == nil || tops[0].designs.counts == nil {
		return false
	}
	r.alike = make([]uint64, len(r.ranked))
	for _, t := range tops {
		d := t.designs
		d.counts[d.last] += d.more
		d.more = 0
		for i, e := range r.ranked {
			r.alike[i] += d.counts[d.of(e.id)]
		}
	}
	return true
}

func newRoster(d *designs, parted bool) *roster {
	return &roster{designs: d, places: map[uint64]int{}, parted: parted, home: math.MaxUint64}
}

// renew finds the places of entries that moved.
func (r *roster) renew(entries []entry) {
	clear(r.places)
	for i, e := range entries {
		r.places[r.of(e.id)] = i
	}
}

// enter says which lane is at hand.
func (r *roster) enter(base uint64, lot int) {
	if !r.parted {
		return
	}
	if base != r.home {
		r.home, r.group = base, r.of(base)
	}
	r.lane = r.group + uint64(lot)
}

// here is the place of the entry of the design at hand.
func (r *roster) here() (at int, known bool) {
	if !r.parted {
		return 0, false
	}
	at, known = r.places[r.lane]
	return at, known
}

// bestEach sorts entries and keeps the first of each design.
func (d *designs) bestEach(entries []entry) []entry {
	seen := make(map[uint64]bool, len(entries))
	return slices.DeleteFunc(best(entries, 0), func(e entry) bool {
		design := d.of(e.id)
		again := seen[design]
		seen[design] = true
		return again
	})
}

// count counts what the ranked builds stand for, by a new plan.
func (r *Result) count(ctx context.Context, pl *walk.Plan, o Options) {
	if r.Apart.None() || !r.Complete || len(r.ranked) == 0 {
		return
	}
	d := newDesigns(r.Problem, r.Apart)
	list := make([]uint64, len(r.ranked))
	for i, e := range r.ranked {
		list[i] = d.of(e.id)
	}
	if counts, complete := d.alike(ctx, pl, list, walk.Workers(o.Workers)); complete {
		r.alike = counts
	}
}

// alike counts the feasible builds of each of some designs, by a plan of which it
// walks the electrical groups and the pairs of drive and wheel of these alone.
// complete is false when ctx ended it early.
func (d *designs) alike(ctx context.Context, pl *walk.Plan, list []uint64, workers int) (counts []uint64, complete bool) {
	pairs := uint64(len(d.problem.Drives) * len(d.problem.Wheels))
	homes, lots := map[uint64]bool{}, map[int]bool{}
	places := make(map[uint64]int, len(list))
	for i, design := range list {
		places[design], homes[design/pairs], lots[int(design%pairs)] = i, true, true
	}
	pl.Only = func(c walk.Choices) bool { return homes[d.choose(c).Number(d.problem)/pairs] }
	pl.Lot = func(drive, wheel int) int {
		if lot := d.lot(drive, wheel); lots[lot] {
			return lot
		}
		return -1
	}
	crew := walk.Crew(workers, func() *census { return &census{d, places, make([]uint64, len(list))} })
	if d.fills(pl, len(lots)) {
		_, complete = walk.All(ctx, pl, crew, nil)
	} else {
		lot, each := pl.Lot, make([]singly, len(crew))
		pl.Lot = func(drive, wheel int) int { return min(0, lot(drive, wheel)) }
		for i, c := range crew {
			each[i].census = c
		}
		_, complete = walk.All(ctx, pl, each, nil)
	}
	for _, c := range crew[1:] {
		for i, n := range c.counts {
			crew[0].counts[i] += n
		}
	}
	return crew[0].counts, complete
}

// fills reports whether lanes of one lot each, of so many lots of a plan, hold as
// many pairs as are worth a window. Else it is quicker to look at the builds.
func (d *designs) fills(pl *walk.Plan, lots int) bool {
	left := 0
	for drive := range d.problem.Drives {
		for wheel := range d.problem.Wheels {
			if pl.Lot(drive, wheel) >= 0 {
				left++
			}
		}
	}
	return left >= lots*pl.Sizes.LaneLeast
}

// census is a visitor that counts the builds of some designs, lane by lane.
type census struct {
	*designs
	places map[uint64]int // by design
	counts []uint64       // by place
}

func (c *census) Visit(*constraints.Build, uint64)            {}
func (c *census) Passes(*constraints.Build, *walk.Reach) bool { return true }

func (c *census) Count(base uint64, lot int, feasible uint64) {
	if at, ok := c.places[c.of(base)+uint64(lot)]; ok {
		c.counts[at] += feasible
	}
}

// singly is a visitor that takes a census build by build.
type singly struct{ census *census }

func (s singly) Visit(_ *constraints.Build, id uint64) {
	if at, ok := s.census.places[s.census.of(id)]; ok {
		s.census.counts[at]++
	}
}
