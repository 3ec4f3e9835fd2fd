package walk

import (
	"math"
	"testing"

	"gearsearch/constraints"
	"gearsearch/search/internal/randcat"
)

// TestGroupsEndsCoverTheirLanes: what the pairs of a group have at best is the
// best of its lanes in each respect, whichever lane has it.
func TestGroupsEndsCoverTheirLanes(t *testing.T) {
	differ := 0
	for seed := range uint64(300) {
		p, ok := randcat.Problem(t, seed+90_000, randcat.Small())
		if !ok {
			continue
		}
		pl := NewPlan(p, false)
		pl.Sizes.Lane = 2
		hubs := pl.hubs()
		for _, c := range pl.fitClasses() {
			g := pl.groups(c, hubs)
			if len(g.lanes) == 0 {
				continue
			}
			best := func(what string, got float64, of func(r *Reach) float64, most bool) {
				want := of(&g.lanes[0].ends)
				for _, l := range g.lanes {
					if x := of(&l.ends); x != want {
						differ++
						if (x > want) == most {
							want = x
						}
					}
				}
				if got != want {
					t.Errorf("seed %d: the best %s is %v, the group has %v", seed, what, want, got)
				}
			}
			best("efficiency", g.Ends.Light.Efficiency, func(r *Reach) float64 { return r.Light.Efficiency }, true)
			best("rolling resistance", g.Ends.Light.Crr, func(r *Reach) float64 { return r.Light.Crr }, false)
			best("mass on the lane", g.Ends.Light.Mass, func(r *Reach) float64 { return r.Light.Mass }, false)
			best("low gearing", g.Ends.Low, func(r *Reach) float64 { return r.Low }, false)
			best("high gearing", g.Ends.High, func(r *Reach) float64 { return r.High }, true)
			best("price", g.Ends.Price, func(r *Reach) float64 { return r.Price }, false)
			best("mass", g.Ends.Mass, func(r *Reach) float64 { return r.Mass }, false)
			best("mesh", float64(g.Ends.Mesh), func(r *Reach) float64 { return float64(r.Mesh) }, true)
			best("gear drive", float64(bit(g.Ends.Gear)), func(r *Reach) float64 { return float64(bit(r.Gear)) }, true)
		}
	}
	if differ < 1000 {
		t.Errorf("only %d lanes differ from the first of their group", differ)
	}
}

// TestLeastKnown: where a drive or a wheel is not known, neither is the sum.
func TestLeastKnown(t *testing.T) {
	known, missing := constraints.Sum{Known: 2}, constraints.Sum{Known: 1, Missing: true}
	for _, tt := range []struct {
		why          string
		x            float64
		drive, wheel constraints.Sum
		want         float64
	}{
		{"the first that is known", math.Inf(1), known, known, 4},
		{"a lesser one", 5, known, known, 4},
		{"a greater one", 3, known, known, 3},
		{"the drive is not known", math.Inf(1), missing, known, math.Inf(1)},
		{"the wheel is not known", math.Inf(1), known, missing, math.Inf(1)},
	} {
		if got := leastKnown(tt.x, tt.drive, tt.wheel); got != tt.want {
			t.Errorf("%s: %g, want %g", tt.why, got, tt.want)
		}
	}
}
