package search

import (
	"math"
	"testing"

	"gearsearch/constraints"
)

// TestSlips: grip is the reason where no build passes the check of the climb, and
// one does on tyres that never slip, found build by build.
func TestSlips(t *testing.T) {
	t.Parallel()
	n := uint64(300)
	if testing.Short() {
		n = 60
	}
	slipped, weak, held := 0, 0, 0
	for seed := range n {
		p, ok := randomProblem(t, seed, few)
		if !ok || !p.Climbs() {
			continue
		}
		brief := p.Brief.Clone()
		brief.Ground.Grip = []float64{0.02, 0.2, 1}[seed%3]
		brief.Target.ClimbGrade *= float64(1 + seed%5)
		brief.Limit.Demote = nil
		q, err := constraints.NewProblem(p.Catalog, brief)
		if err != nil {
			continue
		}
		strict := seed%4 == 0
		climb := func(edits ...constraints.Edit) (some bool) {
			eachBuild(q.With(edits...), func(b *constraints.Build, _ uint64) {
				for _, r := range b.Results() {
					some = some || r.Name == "climb" && !r.Rejects(strict)
				}
			})
			return some
		}
		passes, free := climb(), climb(constraints.Unslipping())
		b, complete := Slips(t.Context(), q, Options{Strict: strict, Workers: 1 + int(seed%2)})
		if !complete || (b != nil) != (!passes && free) {
			t.Fatalf("seed %d: passes %v, without slip %v; says %v, complete %v", seed, passes, free, b != nil, complete)
		}
		switch {
		case b != nil:
			slipped++
			if grip := b.Board().GripThrust(q.Theta); !(grip < b.ClimbNeed()) || math.IsInf(grip, 1) {
				t.Errorf("seed %d: the wheels hold %v N of %v N", seed, grip, b.ClimbNeed())
			}
		case passes:
			held++
		default:
			weak++
		}
	}
	if slipped < 5 || weak < 1 || held < 5 {
		t.Errorf("%d slip, %d are too weak, %d climb: the test does not test", slipped, weak, held)
	}
}
