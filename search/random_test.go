package search

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"gearsearch/constraints"
	"gearsearch/search/internal/randcat"
	"gearsearch/search/internal/walk"
)

// randomProblem makes the problem of a random catalog and brief.
var randomProblem = randcat.Problem

// TestFastEqualsPlain: the fast search finds the counts, the order and the
// bits of the plain one, with any number of workers.
func TestFastEqualsPlain(t *testing.T) {
	n := *catalogs
	if testing.Short() {
		n /= 10
	}
	problems, feasible, chained := 0, uint64(0), 0
	for seed := *firstOf; seed < *firstOf+uint64(n); seed++ {
		p, ok := randomProblem(t, seed, randcat.Small())
		if !ok {
			continue
		}
		problems++
		strict := seed%3 == 0
		tally, entries := plain(p, strict)
		feasible += tally.Feasible
		for _, e := range entries {
			if walk.Assemble(p, e.id).Drive.Chained() {
				chained++
			}
		}
		only, err := RankOnly(t.Context(), p, Options{Top: 2, Strict: strict})
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(entries[:min(2, len(entries))], only.ranked, cmp.AllowUnexported(entry{})); d != "" && len(entries)+len(only.ranked) > 0 {
			t.Fatalf("seed %d: builds without counting differ from the plain search (-plain +fast):\n%s", seed, d)
		}
		for _, o := range []Options{{}, {Top: 3, Workers: 1}, {Top: 20, Workers: 7}} {
			o.Strict = strict
			got, err := Rank(t.Context(), p, o)
			if err != nil {
				t.Fatal(err)
			}
			if !got.Complete {
				t.Fatalf("seed %d: not complete", seed)
			}
			if d := cmp.Diff(tally, got.Tally); d != "" {
				t.Fatalf("seed %d, %+v: counts differ from the plain search (-plain +fast):\n%s", seed, o, d)
			}
			want := entries
			if o.Top > 0 && len(want) > o.Top {
				want = want[:o.Top]
			}
			if d := cmp.Diff(want, got.ranked, cmp.AllowUnexported(entry{})); d != "" && len(want)+len(got.ranked) > 0 {
				t.Fatalf("seed %d, %+v: builds differ from the plain search (-plain +fast):\n%s", seed, o, d)
			}
		}
	}
	t.Logf("%d problems, %d feasible builds, %d of them with chains", problems, feasible, chained)
	if problems < n*2/3 || feasible == 0 || chained == 0 {
		t.Errorf("%d of %d random catalogs make a problem, with %d feasible builds, %d of them with chains: the test does not test", problems, n, feasible, chained)
	}
}

// TestBitsOfBuilds: a build made from its number has the bits of the same
// build made plainly, figure by figure.
func TestBitsOfBuilds(t *testing.T) {
	for seed := range uint64(40) {
		p, ok := randomProblem(t, seed, randcat.Small())
		if !ok {
			continue
		}
		eachBuild(p, func(b *constraints.Build, id uint64) {
			if id%17 != 0 {
				return
			}
			got := walk.Assemble(p, id)
			for _, f := range constraints.Figures() {
				if f.Word != nil {
					if f.Word(b) != f.Word(got) {
						t.Fatalf("seed %d build %d: %s is %q, plainly %q", seed, id, f.Name, f.Word(got), f.Word(b))
					}
					continue
				}
				if x, y := f.Value(b), f.Value(got); math.Float64bits(x) != math.Float64bits(y) && !(math.IsNaN(x) && math.IsNaN(y)) {
					t.Fatalf("seed %d build %d: %s is %v, plainly %v", seed, id, f.Name, y, x)
				}
				if math.IsInf(f.Value(b), 0) {
					t.Fatalf("seed %d build %d: %s is infinite", seed, id, f.Name)
				}
			}
		})
	}
}

// TestNearestIsNearest: no build is nearer to feasible than the one found.
func TestNearestIsNearest(t *testing.T) {
	tested, demoted := 0, 0
	for seed := range uint64(300) {
		p, ok := randomProblem(t, seed, randcat.Small())
		if !ok {
			continue
		}
		strict := seed%3 == 0
		tally, _ := plain(p, strict)
		if tally.Feasible > 0 {
			continue
		}
		tested++
		if len(p.Brief.Limit.Demote) > 0 {
			demoted++
		}
		best := near{miss: unreachable, id: math.MaxUint64}
		eachBuild(p, func(b *constraints.Build, id uint64) {
			m := miss{}
			for _, r := range b.Results() {
				if !r.Rejects(strict) {
					continue
				}
				if margin := r.MarginPct(r.Outcome); math.IsNaN(margin) || r.Verdict == constraints.Undecided {
					m.hard++
				} else {
					m.worst = math.Max(m.worst, -margin/100)
				}
			}
			if n := (near{m, id}); n.before(best) {
				best = n
			}
		})
		got, complete := Nearest(t.Context(), p, Options{Workers: 1 + int(seed%3), Strict: strict})
		if !complete || got == nil {
			t.Fatalf("seed %d: complete %v, %v", seed, complete, got)
		}
		if d := cmp.Diff(walk.Assemble(p, best.id).File().IDs, got.Build.File().IDs); d != "" {
			t.Errorf("seed %d: nearest differs (-plain +fast):\n%s", seed, d)
		}
		if len(got.Misses) == 0 {
			t.Errorf("seed %d: the nearest build misses nothing", seed)
		}
	}
	if tested < 10 || demoted < 5 {
		t.Errorf("only %d problems without a feasible build, %d with demoted checks", tested, demoted)
	}
}
