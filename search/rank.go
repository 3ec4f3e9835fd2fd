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
	// Apart is what tells designs apart: of each the best build is ranked. The zero
	// value ranks all builds.
	Apart Apart
	// Progress is called now and then with the combinations done and their
	// total, from another goroutine. Nil: not called.
	Progress func(done, total float64)
	// Sofar is called a few times a second with the best builds found until then, by
	// Rank and RankOnly where one worker searches, from its goroutine. What they stand
	// for is not counted. Nil: not called.
	Sofar func(*Result)
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
	Apart     Apart // what tells the ranked designs apart
	ranked    []entry
	alike     []uint64 // by ranked: feasible builds of its design; nil: not counted
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
	// StandsFor is how many feasible builds are of its design, itself included, on
	// a front or not; 0: not counted.
	StandsFor uint64
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
func (r *Result) Cut(n int) {
	r.ranked = r.ranked[:min(n, len(r.ranked))]
	r.alike = r.alike[:min(n, len(r.alike))]
}

// Counted is false where designs are told apart and ctx ended the count: the ranked
// builds then do not say how many they stand for.
func (r *Result) Counted() bool { return r.Apart.None() || len(r.alike) == len(r.ranked) }

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
	if r.alike != nil {
		s.StandsFor = r.alike[i]
	}
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

// Rank finds and ranks the feasible builds, or the best build of each design. When
// ctx ends, the best so far is returned with Complete false. The error is for a
// product of combinations too large to number, and a TooManyError for more builds
// than can be ranked.
func Rank(ctx context.Context, p *constraints.Problem, o Options) (*Result, error) {
	return rankBy(ctx, p, newScorer(p), o, MostRanked)
}

// rankBy is Rank by the score of a scorer, which may be that of another
// problem, with most builds at the most.
func rankBy(ctx context.Context, p *constraints.Problem, s *scorer, o Options, most int) (*Result, error) {
	if err := rankable(p, o.Top, most); err != nil {
		return nil, err
	}
	pl := walk.NewPlan(p, o.Strict)
	walking := newUntil(ctx)
	tops := newTops(pl, s, o, func() *ration { return newRation(most, walking.cancel) })
	for _, t := range tops {
		t.designs.tally()
	}
	sofar := func() *Result {
		return &Result{Problem: p, Apart: o.Apart, scorer: s, ranked: bestOf(tops, o.Top)}
	}
	t, complete := walk.All(o.shown(walking, sofar), pl, tops, o.Progress)
	r := sofar()
	r.Tally, r.Complete = t, complete
	if slices.ContainsFunc(tops, func(t *top) bool { return t.room.spent() }) || len(r.ranked) > most {
		return nil, &TooManyError{fmt.Sprintf("more builds are feasible than can be ranked at once, %d", most)}
	}
	if !r.tallied(tops) {
		r.count(ctx, walk.NewPlan(p, o.Strict), o)
	}
	return r, nil
}

// RankOnly ranks the builds that Rank ranks, without counting: it takes the
// electrical groups in the order of a bound on the score of their builds, and
// ends when no bound reaches the scores that are found already. o.Top must be
// above 0. Of the result's Tally only Combinations is set; what its builds stand
// for is counted all the same. The error is as from Rank.
func RankOnly(ctx context.Context, p *constraints.Problem, o Options) (*Result, error) {
	if err := rankable(p, o.Top, MostRanked); err != nil {
		return nil, err
	}
	pl, s := walk.NewPlan(p, o.Strict), newScorer(p)
	tops := newTops(pl, s, o, func() *ration { return nil })
	sofar := func() *Result {
		all, _ := p.Number()
		return &Result{Tally: Tally{Combinations: all}, Problem: p, Apart: o.Apart, scorer: s, ranked: bestOf(tops, o.Top)}
	}
	complete := walk.BestFirst(o.shown(ctx, sofar), pl, tops, tops[0].floor, s.microBound, o.Progress)
	r := sofar()
	r.Complete = complete
	r.count(ctx, walk.NewPlan(p, o.Strict), o)
	return r, nil
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

// top is a visitor that keeps the best n builds, or the best of each of the best n
// designs, all for 0.
type top struct {
	scorer  *scorer
	n       int
	entries []entry
	worst   entry // of the best n so far, once there are n
	full    bool
	news    int         // entries that came since the worst was found
	floor   *walk.Floor // shared by all workers; nil: this one sees every build
	room    *ration     // of all builds together, where n is 0; nil: no end
	designs *roster     // nil: every build is a design of its own
}

func newTop(s *scorer, n int, low *walk.Floor, room *ration) *top {
	return &top{scorer: s, n: n, floor: low, room: room}
}

// newTops makes a visitor for each worker that is to walk a plan, with room for all
// builds together, or for each worker's designs.
func newTops(pl *walk.Plan, s *scorer, o Options, room func() *ration) []*top {
	low := walk.NewFloor()
	if o.Apart.None() {
		shared := room()
		return walk.Crew(crew(o.Workers, o.Top), func() *top { return newTop(s, o.Top, low, shared) })
	}
	d := newDesigns(pl.Problem, o.Apart)
	parted := d.part(pl)
	return walk.Crew(crew(o.Workers, d.held(o.Top)), func() *top {
		t := newTop(s, o.Top, low, room())
		t.designs = newRoster(d, parted)
		return t
	})
}

// bestOf are the best n of what visitors kept, all for 0.
func bestOf(tops []*top, n int) []entry {
	var all []entry
	for _, t := range tops {
		all = append(all, t.entries...)
	}
	if roster := tops[0].designs; roster != nil {
		all = roster.bestEach(all)
	}
	return best(all, n)
}

// surplus is how many more than n entries are kept between two prunings.
func surplus(n int) int { return n/2 + 16 }

func (t *top) Visit(b *constraints.Build, id uint64) {
	e := newEntry(t.scorer, b, id)
	if t.full && t.worst.compare(e) <= 0 {
		return
	}
	if !t.put(e) || t.n == 0 {
		return
	}
	if t.news++; t.news >= surplus(t.n) && len(t.entries) >= t.n {
		t.prune()
	}
}

// put keeps a build, in the place of a worse one of its design if there is one, and
// reports whether it did.
func (t *top) put(e entry) bool {
	if t.designs == nil {
		return t.add(e)
	}
	design := t.designs.of(e.id)
	at, known := t.designs.places[design]
	if !known {
		kept := t.add(e)
		if kept {
			t.designs.places[design] = len(t.entries) - 1
		}
		return kept
	}
	better := e.compare(t.entries[at]) < 0
	if better {
		t.entries[at] = e
	}
	return better
}

// add adds an entry, if there is room for it.
func (t *top) add(e entry) bool {
	if t.n == 0 && !t.room.take() {
		return false
	}
	t.entries = append(t.entries, e)
	return true
}

// prune leaves the best n entries.
func (t *top) prune() {
	t.entries, t.news = best(t.entries, t.n), 0
	t.worst, t.full = t.entries[t.n-1], true
	if t.designs != nil {
		t.designs.renew(t.entries)
	}
	if t.floor != nil {
		t.floor.Raise(t.worst.score)
	}
}

// Enter notes the design of the next lane's builds, where all are of one.
func (t *top) Enter(base uint64, lot int) {
	if t.designs != nil {
		t.designs.enter(base, lot)
	}
}

// Count counts the feasible builds of the lane at hand for their design.
func (t *top) Count(_ uint64, _ int, feasible uint64) {
	if t.designs != nil {
		t.designs.count(feasible)
	}
}

// Passes reports that no build of a stretch of a lane comes among the best: n
// builds, or designs, are known that all score higher, or a build of the same
// design does.
func (t *top) Passes(b *constraints.Build, r *walk.Reach) bool {
	if t.floor == nil || t.n == 0 && t.designs == nil {
		return false
	}
	least := t.floor.Score()
	if t.designs != nil {
		if at, known := t.designs.here(); known {
			least = max(least, t.entries[at].score)
		}
	}
	return t.scorer.microBound(b, r) < least
}
