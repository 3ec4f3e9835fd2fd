package search

import (
	"slices"
	"testing"

	"gearsearch/constraints"
	"gearsearch/constraints/ease"
)

// TestOtherMotorsCounted: the numbers of motors that open builds are those with
// which a problem made anew has enough, as many as are said, the best of which is
// shown; and they are tried only where they may help.
func TestOtherMotorsCounted(t *testing.T) {
	t.Parallel()
	n := uint64(400)
	if testing.Short() {
		n = 120
	}
	opened, shut := 0, 0
	for seed := range n {
		strict, builds := seed%4 == 0, 1+int(seed%3)
		p, _ := hardened(t, seed, int(seed%2), strict)
		if p == nil {
			continue
		}
		asked := p.Brief.Clone()
		asked.Board.Motors = [][]float64{{1}, {1, 2}, {4}}[seed/2%3]
		p, err := constraints.NewProblem(p.Catalog, asked)
		if err != nil {
			t.Fatal(err)
		}
		o := RelaxOptions{Options: Options{Strict: strict, Workers: 1 + int(seed%2)}, Builds: builds}
		without := Relax(t.Context(), p, o)
		o.Motors = true
		r := Relax(t.Context(), p, o)
		if !r.Complete || r.Feasible != without.Feasible {
			t.Fatalf("seed %d: complete %v, %d feasible of %d", seed, r.Complete, r.Feasible, without.Feasible)
		}
		found := map[int]Opening{}
		for _, opening := range r.Openings {
			if g := opening.Concessions[0]; g.Key == MotorsKey {
				found[int(g.To)] = opening
			}
		}
		tried := 0
		for _, motors := range constraints.MotorCounts() {
			opening, ok := found[motors]
			if r.Feasible >= uint64(builds) || slices.Contains(p.Counts, motors) {
				if ok {
					t.Errorf("seed %d: %d motors are an opening of %v, %d feasible", seed, motors, p.Counts, r.Feasible)
				}
				continue
			}
			tried++
			brief := p.Brief.Clone()
			brief.Board.Motors = []float64{float64(motors)}
			q, err := constraints.NewProblem(p.Catalog, brief)
			if err != nil {
				t.Fatal(err)
			}
			tally, entries := plain(q, strict)
			if ok != (tally.Feasible >= uint64(builds)) {
				t.Fatalf("seed %d: %d motors make %d builds feasible of %d, an opening: %v", seed, motors, tally.Feasible, builds, ok)
			}
			if !ok {
				continue
			}
			opened++
			best := ScoreBuild(opening.Relaxed)
			if opening.Feasible != tally.Feasible || micro(best.Score) != entries[0].score || opening.Relaxed.Motors() != motors {
				t.Errorf("seed %d: %d motors open %d builds, the best %v; want %d, %v", seed, motors, opening.Feasible, best.Score, tally.Feasible, entries[0].score)
			}
			if r.Pairs {
				t.Errorf("seed %d: pairs, and %d motors help alone", seed, motors)
			}
		}
		helpless := slices.ContainsFunc(r.Helpless, func(c ease.Concession) bool { return c.Key == MotorsKey })
		if helpless != (tried > 0 && len(found) == 0) {
			t.Errorf("seed %d: %d numbers of motors tried, %d help, helpless %v", seed, tried, len(found), helpless)
		}
		if helpless {
			shut++
		}
	}
	if opened < 5 || shut < 5 {
		t.Errorf("%d openings, helpless %d times: the test does not test", opened, shut)
	}
}

// TestOtherMotorsByHand: the nearest of the numbers asked for is what is given up.
func TestOtherMotorsByHand(t *testing.T) {
	for _, test := range []struct {
		counts   []int
		n        int
		from     float64
		cost     float64
		asksLess int
	}{
		{[]int{1}, 2, 1, 1, 1},
		{[]int{2}, 1, 2, 0.5, -1},
		{[]int{1, 2}, 4, 2, 1, 1},
		{[]int{1, 4}, 2, 1, 1, 1},
		{[]int{4}, 1, 4, 0.75, -1},
	} {
		g := givenMotors(test.counts, test.n)
		if g.From != test.from || g.Cost(g.From, g.To) != test.cost || g.Eases != test.asksLess || g.Key != MotorsKey {
			t.Errorf("%d for %v: %+v", test.n, test.counts, g)
		}
	}
}
