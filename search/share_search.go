package search

import (
	"cmp"
	"context"
	"math"
	"slices"
	"sync"
	"sync/atomic"

	"gearsearch/constraints"
	"gearsearch/search/internal/walk"
)

// level is a set's place in the ranking before its price: the number that it
// is ranked by, then the one among equals, in 1e-6 points.
type level struct{ first, second int64 }

func (l level) compare(o level) int {
	return cmp.Or(cmp.Compare(l.first, o.first), cmp.Compare(l.second, o.second))
}

// shareSearch is a search for sets.
type shareSearch struct {
	options  ShareOptions
	problems []*constraints.Problem
	scorers  []*scorer
	rollings []rolling
	choices  [][][]electrical // by choice that all problems have, and problem
	floor    atomic.Pointer[level]
	done     atomic.Uint64 // combinations, for the progress
	room     *ration       // spent when too many builds tie

	mu    sync.Mutex
	found []ranked // the best so far
}

func newShareSearch(ctx context.Context, problems []*constraints.Problem, slots []constraints.Slot, o ShareOptions) (*shareSearch, error) {
	rolls, err := rollings(ctx, problems, slots, o.Strict)
	if err != nil {
		return nil, err
	}
	s := &shareSearch{options: o, problems: problems, rollings: rolls}
	s.floor.Store(&level{math.MinInt64, math.MinInt64})
	known := numbering{}
	var sorted []map[choice][]electrical
	for _, p := range problems {
		s.scorers = append(s.scorers, newScorer(p))
		sorted = append(sorted, electricals(ctx, p, slots, known))
	}
	for k := range sorted[0] {
		var lists [][]electrical
		for _, m := range sorted {
			if m[k] != nil {
				lists = append(lists, m[k])
			}
		}
		if len(lists) == len(problems) {
			s.choices = append(s.choices, lists)
		}
	}
	return s, nil
}

// level is that of a set with these scores.
func (s *shareSearch) level(scores []int64) level { return s.among(scores, 0, scores[0]) }

// among is the level of the best set that has a build of the given score for
// one problem, and the given scores for the others.
func (s *shareSearch) among(others []int64, problem int, score int64) level {
	worst, sum := score, score
	for i, x := range others {
		if i != problem {
			worst, sum = min(worst, x), sum+x
		}
	}
	if s.options.Worst {
		return level{worst, sum}
	}
	return level{sum, 0}
}

// below reports whether a level is below that of n sets.
func (s *shareSearch) below(l level) bool { return l.compare(*s.floor.Load()) < 0 }

// bounded is a choice with bounds on the scores by problem.
type bounded struct {
	level  level
	choice int
	scores []int64
}

// search finds the best sets.
func (s *shareSearch) search(ctx context.Context) {
	all := s.combinations()
	defer walk.Report(&s.done, all, s.options.Progress)()
	n := walk.Workers(s.options.Workers)
	if len(s.rollings) == 1 {
		r := s.rollings[0]
		list := s.bounds(ctx, r, n)
		walk.Each(ctx, n, len(list), func(i int) {
			s.try(ctx, r, &list[i])
			s.done.Add(uint64(all / 2 / float64(len(list))))
		})
		return
	}
	// There are many ways to fill the shared slots of drive and wheel, each
	// with all choices: the best choice of each way gives the order in which to
	// take them.
	bests := make([]level, len(s.rollings))
	order := make([]int, len(s.rollings))
	walk.Each(ctx, n, len(s.rollings), func(i int) {
		bests[i], order[i] = level{math.MinInt64, math.MinInt64}, i
		if list := s.bounds(ctx, s.rollings[i], 1); len(list) > 0 {
			bests[i] = list[0].level
		}
		s.done.Add(uint64(all / 4 / float64(len(order))))
	})
	slices.SortFunc(order, func(a, b int) int { return bests[b].compare(bests[a]) })
	walk.Each(ctx, n, len(order), func(i int) {
		r := order[i]
		if bests[r].first != math.MinInt64 && !s.below(bests[r]) {
			list := s.bounds(ctx, s.rollings[r], 1)
			for j := range list {
				s.try(ctx, s.rollings[r], &list[j])
			}
		}
		s.done.Add(uint64(all / 4 / float64(len(order))))
	})
}

// combinations are those to search, as many again as those to count.
func (s *shareSearch) combinations() float64 {
	all := 0.0
	for _, p := range s.problems {
		all += 2 * p.Combinations()
	}
	return all
}

// bounds lists the choices that may have a set, those with the highest bounds
// first.
func (s *shareSearch) bounds(ctx context.Context, r rolling, workers int) []bounded {
	list := make([]bounded, len(s.choices))
	const block = 64
	walk.Each(ctx, workers, (len(list)+block-1)/block, func(i int) {
		builds := make([]*constraints.Build, len(r))
		for p, rest := range r {
			builds[p] = &constraints.Build{Problem: rest.problem}
		}
		for c := i * block; c < min(len(list), (i+1)*block); c++ {
			x := bounded{choice: c, scores: make([]int64, len(r))}
			for p, rest := range r {
				x.scores[p] = math.MinInt64
				for _, e := range s.choices[c][p] {
					x.scores[p] = max(x.scores[p], s.bound(builds[p], rest, p, e))
				}
				if x.scores[p] == math.MinInt64 {
					x.scores = nil // no pair fits
					break
				}
			}
			if x.scores != nil {
				x.level = s.level(x.scores)
			}
			list[c] = x
		}
	})
	list = slices.DeleteFunc(list, func(x bounded) bool { return x.scores == nil })
	slices.SortFunc(list, func(a, b bounded) int { return b.level.compare(a.level) })
	return list
}

// bound is a score that no build of an electrical group passes; MinInt64 where
// no pair of drive and wheel fits it.
func (s *shareSearch) bound(b *constraints.Build, rest *remainder, problem int, e electrical) int64 {
	g, _ := rest.group(e)
	if g.Survivors == 0 {
		return math.MinInt64
	}
	p := rest.problem
	b.Electrify(p.Batteries[e.battery], p.Controllers[e.controller], p.Motors[e.motor], int(e.count))
	return s.scorers[problem].microBound(b, &g.Ends)
}

// try looks for the sets of a choice, unless it can have none that counts.
func (s *shareSearch) try(ctx context.Context, r rolling, x *bounded) {
	scores := slices.Clone(x.scores) // bounds, or bests once they are known
	lists := make([][]entry, len(r))
	for p := range r {
		if s.below(s.level(scores)) {
			return
		}
		lists[p] = s.builds(ctx, r[p], p, s.choices[x.choice][p], scores)
		if len(lists[p]) == 0 || ctx.Err() != nil {
			return
		}
		scores[p] = lists[p][0].score
	}
	s.keep(s.sets(ctx, lists))
}

// keep puts sets to the best.
func (s *shareSearch) keep(sets []ranked) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.found = bestSets(append(s.found, sets...), s.options.Top)
	if len(s.found) == s.options.Top {
		floor := s.found[len(s.found)-1].level
		s.floor.Store(&floor)
	}
}

// builds are the builds of a choice that can be in a set, best first, where the
// other builds of the set have at most these scores.
func (s *shareSearch) builds(ctx context.Context, rest *remainder, problem int, members []electrical, others []int64) []entry {
	type member struct {
		electrical
		bound int64
	}
	b := &constraints.Build{Problem: rest.problem}
	var list []member
	for _, e := range members {
		if bound := s.bound(b, rest, problem, e); bound != math.MinInt64 {
			list = append(list, member{e, bound})
		}
	}
	slices.SortStableFunc(list, func(a, b member) int { return cmp.Compare(b.bound, a.bound) })
	v := &shareVisitor{shareSearch: s, rest: rest, problem: problem, others: others, list: contenders{n: s.options.Top}}
	w := walk.NewWorker(ctx, rest.plan, v)
	for _, m := range list {
		if v.lost(m.bound) || ctx.Err() != nil {
			break // so are all that follow
		}
		g, n := rest.group(m.electrical)
		w.Group(g, n)
	}
	v.list.prune()
	return v.list.entries
}

// shareVisitor keeps the builds of a choice that can be in a set.
type shareVisitor struct {
	*shareSearch
	rest    *remainder
	problem int
	others  []int64
	list    contenders
}

// lost reports whether a build with a score is in no set that counts.
func (v *shareVisitor) lost(score int64) bool {
	return score < v.list.least() || v.below(v.among(v.others, v.problem, score))
}

func (v *shareVisitor) Visit(b *constraints.Build, id uint64) {
	if e := newEntry(v.scorers[v.problem], b, id); !v.lost(e.score) {
		e.id = v.rest.id(id)
		v.list.add(e)
		if v.list.pruned > mostTied {
			v.room.take()
		}
	}
}

func (v *shareVisitor) Passes(b *constraints.Build, r *walk.Reach) bool {
	return v.lost(v.scorers[v.problem].microBound(b, r))
}

// contenders are the best n builds and all that tie with the last.
type contenders struct {
	n       int
	entries []entry
	pruned  int // how many there were after the last pruning
}

// least is a score that at least n builds are known to reach.
func (c *contenders) least() int64 {
	if c.pruned < c.n {
		return math.MinInt64
	}
	return c.entries[c.n-1].score
}

func (c *contenders) add(e entry) {
	c.entries = append(c.entries, e)
	if len(c.entries) >= max(c.n, 2*c.pruned)+surplus(c.n) { // ties stay
		c.prune()
	}
}

// prune sorts the entries and drops each that n entries outscore.
func (c *contenders) prune() {
	slices.SortFunc(c.entries, entry.compare)
	for i := c.n; i < len(c.entries); i++ {
		if c.entries[i].score < c.entries[c.n-1].score {
			c.entries = c.entries[:i]
			break
		}
	}
	c.pruned = len(c.entries)
}

// count counts what becomes of a problem's combinations by itself.
func (s *shareSearch) count(ctx context.Context, problem int) Tally {
	p := s.problems[problem]
	var progress func(done, total float64)
	if show := s.options.Progress; show != nil {
		all, before := s.combinations(), s.combinations()/2
		for _, q := range s.problems[:problem] {
			before += q.Combinations()
		}
		progress = func(done, _ float64) { show(before+done, all) }
	}
	t, _ := walk.Count(ctx, walk.NewPlan(p, s.options.Strict), s.options.Workers, progress)
	return t
}
