package search

import (
	"cmp"
	"context"
	"fmt"
	"iter"
	"slices"

	"gearsearch/constraints"
	"gearsearch/search/internal/walk"
)

// Options steer a search. The zero value ranks every feasible build on all
// processors.
type Options struct {
	Top     int  // builds to rank, MostRanked at the most; 0: every feasible one, of as many at the most
	Workers int  // 0: one for each processor; the result does not depend on it
	Strict  bool // what is undecided counts as failed
	// Progress is called now and then with the combinations done and their
	// total, from another goroutine. Nil: not called.
	Progress func(done, total float64)
}

// Tally counts what became of every combination.
type Tally = walk.Tally

// Result is the answer of Rank.
type Result struct {
	Tally
	Problem  *constraints.Problem
	Complete bool // false: interrupted, and the best so far
	// FrontSize is how many builds no other beats, of which Front ranks the
	// first; 0 for Rank.
	FrontSize int
	ranked    []entry
	scorer    *scorer
}

// Rejection is one check with the combinations counted under it.
type Rejection struct {
	Check *constraints.Check
	Count uint64
}

// Rejections lists the checks that apply, in order, with their counts.
func (r *Result) Rejections() []Rejection {
	out := make([]Rejection, len(r.Rejected))
	for i, c := range r.Problem.Checks() {
		out[i] = Rejection{c, r.Rejected[i]}
	}
	return out
}

// Scored is one ranked build.
type Scored struct {
	Rank   int // from 1
	Score  float64
	Scores []CriterionScore // of the criteria that apply, in order
	Build  *constraints.Build
}

// CriterionScore is what one criterion gives a build.
type CriterionScore struct {
	Criterion
	Score  float64 // in [0, 1]
	Weight float64
}

// Len is the number of ranked builds.
func (r *Result) Len() int { return len(r.ranked) }

// Cut drops the ranked builds behind the first n.
func (r *Result) Cut(n int) { r.ranked = r.ranked[:min(n, len(r.ranked))] }

// Builds yields the ranked builds, best first, each made anew.
func (r *Result) Builds() iter.Seq[Scored] {
	return func(yield func(Scored) bool) {
		for i := range r.ranked {
			if !yield(r.At(i)) {
				return
			}
		}
	}
}

// At makes the build at index i, from 0.
func (r *Result) At(i int) Scored {
	s := r.scorer.scored(walk.Assemble(r.Problem, r.ranked[i].id))
	s.Rank = i + 1
	return s
}

// ScoreBuild scores one build.
func ScoreBuild(b *constraints.Build) Scored { return newScorer(b.Problem).scored(b) }

// scored scores a build, criterion by criterion.
func (s *scorer) scored(b *constraints.Build) Scored {
	return s.scoredInto(b, nil)
}

// scoredInto is scored with the list of the scores of another build, which it
// changes; nil for none.
func (s *scorer) scoredInto(b *constraints.Build, scores []CriterionScore) Scored {
	if scores == nil {
		for i, c := range s.criteria {
			scores = append(scores, CriterionScore{c, 0, s.weights[i]})
		}
	}
	sum := 0.0
	for i := range scores {
		c := &scores[i]
		c.Score = c.Criterion.score(b)
		if c.Weight != 0 {
			sum += float64(c.Weight * c.Score)
		}
	}
	out := Scored{Scores: scores, Build: b}
	if s.total != 0 {
		out.Score = float64(100*sum) / s.total
	}
	return out
}

// Rank finds and ranks the feasible builds. When ctx ends, the best so far is
// returned with Complete false. The error is for a product of combinations
// too large to number, and a TooManyError for more builds than can be ranked.
func Rank(ctx context.Context, p *constraints.Problem, o Options) (*Result, error) {
	return rankBy(ctx, p, newScorer(p), o, MostRanked)
}

// rankBy is Rank by the score of a scorer, which may be that of another
// problem, with most builds at the most.
func rankBy(ctx context.Context, p *constraints.Problem, s *scorer, o Options, most int) (*Result, error) {
	if err := rankable(p, o.Top, most); err != nil {
		return nil, err
	}
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	room := newRation(most, cancel)
	low := walk.NewFloor()
	tops := walk.Crew(crew(o.Workers, o.Top), func() *top { return newTop(s, o.Top, low, room) })
	t, complete := walk.All(ctx, walk.NewPlan(p, o.Strict), tops, o.Progress)
	if room.spent() {
		return nil, &TooManyError{fmt.Sprintf("more builds are feasible than can be ranked at once, %d", most)}
	}
	return &Result{Tally: t, Problem: p, Complete: complete, scorer: s, ranked: bestOf(tops, o.Top)}, nil
}

// RankOnly ranks the builds that Rank ranks, without counting: it takes the
// electrical groups in the order of a bound on the score of their builds, and
// ends when no bound reaches the scores that are found already. o.Top must be
// above 0. Of the result's Tally only Combinations is set. The error is as from
// Rank.
func RankOnly(ctx context.Context, p *constraints.Problem, o Options) (*Result, error) {
	if err := rankable(p, o.Top, MostRanked); err != nil {
		return nil, err
	}
	s, low := newScorer(p), walk.NewFloor()
	tops := walk.Crew(crew(o.Workers, o.Top), func() *top { return newTop(s, o.Top, low, nil) })
	complete := walk.BestFirst(ctx, walk.NewPlan(p, o.Strict), tops, low, s.microBound, o.Progress)
	return &Result{
		Tally: Tally{Combinations: uint64(p.Combinations())}, Problem: p, Complete: complete, scorer: s, ranked: bestOf(tops, o.Top),
	}, nil
}

// entry is one build of a ranking: what its place depends on.
type entry struct {
	score int64 // rounded to 1e-6
	price int64 // rounded to 1e-6; unknown last
	id    uint64
}

func newEntry(s *scorer, b *constraints.Build, id uint64) entry {
	return entry{micro(s.score(b)), micro(b.Price().Total()), id}
}

// compare puts the higher score first, then the lower price, then the lower
// number.
func (e entry) compare(o entry) int {
	return cmp.Or(cmp.Compare(o.score, e.score), cmp.Compare(e.price, o.price), cmp.Compare(e.id, o.id))
}

// best sorts entries and keeps the first n, all for 0.
func best(entries []entry, n int) []entry {
	slices.SortFunc(entries, entry.compare)
	if n > 0 && len(entries) > n {
		entries = entries[:n]
	}
	return entries
}

// top is a visitor that keeps the best n builds, all for 0.
type top struct {
	scorer  *scorer
	n       int
	entries []entry
	worst   entry // of the best n so far, once there are n
	full    bool
	floor   *walk.Floor // shared by all workers; nil: this one sees every build
	room    *ration     // of all builds together, where n is 0; nil: no end
}

func newTop(s *scorer, n int, low *walk.Floor, room *ration) *top {
	return &top{scorer: s, n: n, floor: low, room: room}
}

// bestOf are the best n of what visitors kept, all for 0.
func bestOf(tops []*top, n int) []entry {
	var all []entry
	for _, t := range tops {
		all = append(all, t.entries...)
	}
	return best(all, n)
}

// surplus is how many more than n entries are kept between two prunings.
func surplus(n int) int { return n/2 + 16 }

func (t *top) Visit(b *constraints.Build, id uint64) {
	e := newEntry(t.scorer, b, id)
	if t.full && t.worst.compare(e) <= 0 || t.n == 0 && !t.room.take() {
		return
	}
	t.entries = append(t.entries, e)
	if t.n > 0 && len(t.entries)-t.n >= surplus(t.n) {
		t.entries = best(t.entries, t.n)
		t.worst, t.full = t.entries[t.n-1], true
		if t.floor != nil {
			t.floor.Raise(t.worst.score)
		}
	}
}

// passes reports that no build of a stretch of a lane comes among the best:
// n builds are known that all score higher.
func (t *top) Passes(b *constraints.Build, r *walk.Reach) bool {
	return t.floor != nil && t.n > 0 && t.scorer.microBound(b, r) < t.floor.Score()
}
