package search

import (
	"cmp"
	"context"
	"math"
	"slices"
	"strings"

	"gearsearch/constraints"
)

// choice is one way to fill the shared slots: a number for the part in each,
// alike in all problems, and 0 for what is not shared.
type choice struct{ battery, controller, motor, count, drive, wheel int32 }

// level is a set's place in the ranking before its price: the number that it
// is ranked by, then the one among equals, in 1e-6 points.
type level struct{ first, second int64 }

func (l level) compare(o level) int {
	return cmp.Or(cmp.Compare(l.first, o.first), cmp.Compare(l.second, o.second))
}

// shareSearch is what the walks of the problems have in common.
type shareSearch struct {
	options  ShareOptions
	problems []*constraints.Problem
	scorers  []*scorer
	numbers  []*partNumbers
	electric bool // an electrical group has one choice
	// bests are the best scores by problem of each choice.
	bests map[choice][]int64
	floor level
	// kept are the builds by problem of each choice that can be in a set,
	// best first.
	kept map[choice][][]entry
	done float64 // combinations walked so far
}

// partNumbers number what a problem puts into shared slots, by the index of the
// part.
type partNumbers struct {
	battery, controller, motor, count, drive, wheel []int32
	// index is that of a battery, a controller or a motor.
	index map[any]int
}

func newShareSearch(problems []*constraints.Problem, slots []constraints.Slot, o ShareOptions) *shareSearch {
	s := &shareSearch{options: o, problems: problems, electric: true, bests: map[choice][]int64{}, kept: map[choice][][]entry{}}
	known := map[string]int32{}
	number := func(name string) int32 {
		if _, ok := known[name]; !ok {
			known[name] = int32(len(known)) + 1
		}
		return known[name]
	}
	shares := func(slot constraints.Slot) bool { return slices.Contains(slots, slot) }
	var drive []constraints.Slot
	for _, slot := range constraints.DriveSlots() {
		if shares(slot) {
			drive = append(drive, slot)
		}
	}
	s.electric = len(drive) == 0 && !shares(constraints.SlotWheel)
	for _, p := range problems {
		s.scorers = append(s.scorers, newScorer(p))
		n := &partNumbers{
			make([]int32, len(p.Batteries)), make([]int32, len(p.Controllers)), make([]int32, len(p.Motors)),
			make([]int32, len(p.Counts)), make([]int32, len(p.Drives)), make([]int32, len(p.Wheels)),
			map[any]int{},
		}
		s.numbers = append(s.numbers, n)
		for i, x := range p.Batteries {
			n.index[x] = i
		}
		for i, x := range p.Controllers {
			n.index[x] = i
		}
		for i, x := range p.Motors {
			n.index[x] = i
		}
		fill := func(slot constraints.Slot, list []int32, id func(i int) string) {
			for i := range list {
				if shares(slot) {
					list[i] = number(id(i))
				}
			}
		}
		fill(constraints.SlotBattery, n.battery, func(i int) string { return p.Batteries[i].ID })
		fill(constraints.SlotController, n.controller, func(i int) string { return p.Controllers[i].ID })
		fill(constraints.SlotMotor, n.motor, func(i int) string { return p.Motors[i].ID })
		fill(constraints.SlotWheel, n.wheel, func(i int) string { return p.Wheels[i].ID })
		if shares(constraints.SlotMotor) || shares(constraints.SlotController) {
			for i, count := range p.Counts {
				n.count[i] = int32(count)
			}
		}
		for i, d := range p.Drives {
			var ids []string
			for _, slot := range drive {
				ids = append(ids, d.ID(slot))
			}
			if len(drive) > 0 {
				n.drive[i] = number("drive\x00" + strings.Join(ids, "\x00"))
			}
		}
	}
	return s
}

// at is the choice that a problem's combination makes.
func (n *partNumbers) at(c choices) choice {
	return choice{n.battery[c.battery], n.controller[c.controller], n.motor[c.motor], n.count[c.count], n.drive[c.drive], n.wheel[c.wheel]}
}

// ofGroup is the choice that all combinations of a build's electrical group
// make, where nothing else is shared.
func (n *partNumbers) ofGroup(b *constraints.Build) choice {
	return choice{
		battery: n.battery[n.index[b.Battery]], controller: n.controller[n.index[b.Controller]],
		motor: n.motor[n.index[b.Motor]], count: n.count[b.Count],
	}
}

// level is that of a set with these scores.
func (s *shareSearch) level(scores []int64) level { return s.among(scores, 0, scores[0]) }

// among is the level of a choice's best set that has a build of a problem with
// a score.
func (s *shareSearch) among(bests []int64, problem int, score int64) level {
	worst, sum := score, score
	for i, best := range bests {
		if i != problem {
			worst, sum = min(worst, best), sum+best
		}
	}
	if s.options.Worst {
		return level{worst, sum}
	}
	return level{sum, 0}
}

// progress is that of a walk of one problem, of two for each.
func (s *shareSearch) progress(problem int) func(done, total float64) {
	show := s.options.Progress
	if show == nil {
		return nil
	}
	before, all := s.done, 0.0
	for _, p := range s.problems {
		all += 2 * p.Combinations()
	}
	s.done += s.problems[problem].Combinations()
	return func(done, _ float64) { show(before+done, all) }
}

// first walks a problem for the best score of each choice that the problems
// before it have builds with, and counts.
func (s *shareSearch) first(ctx context.Context, problem int) Tally {
	visitors := make([]visitor, workers(s.options.Workers))
	for i := range visitors {
		visitors[i] = &firstVisitor{shareSearch: s, problem: problem, best: map[choice]int64{}}
	}
	t, _ := walk(ctx, newPlan(s.problems[problem], s.options.Strict), visitors, s.progress(problem))
	for _, v := range visitors {
		for c, score := range v.(*firstVisitor).best {
			list := s.bests[c]
			if list == nil {
				list = slices.Repeat([]int64{math.MinInt64}, len(s.problems))
				s.bests[c] = list
			}
			list[problem] = max(list[problem], score)
		}
	}
	return t
}

// common forgets the choices that some problem has no build with.
func (s *shareSearch) common() {
	for c, list := range s.bests {
		if slices.Contains(list, math.MinInt64) {
			delete(s.bests, c)
		}
	}
}

// firstVisitor keeps the best score of each choice.
type firstVisitor struct {
	*shareSearch
	problem int
	best    map[choice]int64
}

func (v *firstVisitor) visit(b *constraints.Build, id uint64) {
	c := v.numbers[v.problem].at(choicesOf(v.problems[v.problem], id))
	if v.problem > 0 && v.bests[c] == nil {
		return
	}
	score := micro(v.scorers[v.problem].score(b))
	if best, ok := v.best[c]; !ok || score > best {
		v.best[c] = score
	}
}

// passes reports that a stretch of a lane has nothing better for its choice.
func (v *firstVisitor) passes(b *constraints.Build, r *reach) bool {
	if !v.electric {
		return false
	}
	c := v.numbers[v.problem].ofGroup(b)
	if v.problem > 0 && v.bests[c] == nil {
		return true
	}
	best, ok := v.best[c]
	return ok && micro(v.scorers[v.problem].bound(b, r)) <= best
}

// setFloor sets the level that as many choices reach as sets are wanted.
func (s *shareSearch) setFloor() {
	var levels []level
	for _, list := range s.bests {
		levels = append(levels, s.level(list))
	}
	slices.SortFunc(levels, func(a, b level) int { return b.compare(a) })
	s.floor = level{math.MinInt64, math.MinInt64}
	if n := s.options.Top; len(levels) >= n {
		s.floor = levels[n-1]
	}
}

// second walks a problem for the builds that can be in a set.
func (s *shareSearch) second(ctx context.Context, problem int) {
	pl := newPlan(s.problems[problem], s.options.Strict)
	pl.uncounted = true
	visitors := make([]visitor, workers(s.options.Workers))
	for i := range visitors {
		visitors[i] = &secondVisitor{shareSearch: s, problem: problem, lists: map[choice]*contenders{}}
	}
	walk(ctx, pl, visitors, s.progress(problem))
	all := map[choice]*contenders{}
	for _, v := range visitors {
		for c, list := range v.(*secondVisitor).lists {
			if all[c] == nil {
				all[c] = list
			} else {
				all[c].entries = append(all[c].entries, list.entries...)
			}
		}
	}
	for c, list := range all {
		if s.kept[c] == nil {
			s.kept[c] = make([][]entry, len(s.problems))
		}
		list.prune(s.options.Top)
		s.kept[c][problem] = list.entries
	}
}

// secondVisitor keeps the builds that can be in a set, by choice.
type secondVisitor struct {
	*shareSearch
	problem int
	lists   map[choice]*contenders
}

func (v *secondVisitor) visit(b *constraints.Build, id uint64) {
	c := v.numbers[v.problem].at(choicesOf(v.problems[v.problem], id))
	bests := v.bests[c]
	if bests == nil {
		return
	}
	e := newEntry(v.scorers[v.problem], b, id)
	if v.among(bests, v.problem, e.score).compare(v.floor) < 0 {
		return
	}
	list := v.lists[c]
	if list == nil {
		list = &contenders{}
		v.lists[c] = list
	}
	list.add(e, v.options.Top)
}

// passes reports that no build of a stretch of a lane can be in a set.
func (v *secondVisitor) passes(b *constraints.Build, r *reach) bool {
	if !v.electric {
		return false
	}
	bests := v.bests[v.numbers[v.problem].ofGroup(b)]
	return bests == nil || v.among(bests, v.problem, micro(v.scorers[v.problem].bound(b, r))).compare(v.floor) < 0
}

// contenders are the best n builds of a choice and all that tie with the last.
type contenders struct {
	entries []entry
	limit   int // of entries, until they are pruned again
}

func (c *contenders) add(e entry, n int) {
	c.entries = append(c.entries, e)
	if len(c.entries) >= max(c.limit, n+surplus(n)) {
		c.prune(n)
		c.limit = 2 * len(c.entries) // ties stay
	}
}

// prune sorts the entries and drops those that n score higher than.
func (c *contenders) prune(n int) {
	slices.SortFunc(c.entries, entry.compare)
	for i := n; i < len(c.entries); i++ {
		if c.entries[i].score < c.entries[n-1].score {
			c.entries = c.entries[:i]
			return
		}
	}
}
