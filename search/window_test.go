package search

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gearsearch/constraints"
	"gearsearch/search/internal/randcat"
	"gearsearch/search/internal/walk"
)

// TestWindowsAgreeWithChecks: on every build of random problems, a window
// with a little more demanded holds only gearings with its inner verdict, one
// with a little less leaves out only gearings with its outer verdict, and a sum
// well within or beyond its limit has the verdict it says.
func TestWindowsAgreeWithChecks(t *testing.T) {
	seen := map[string]map[string]int{}
	note := func(check, what string) {
		if seen[check] == nil {
			seen[check] = map[string]int{}
		}
		seen[check][what]++
	}
	for seed := range uint64(250) {
		p, ok := randomProblem(t, seed, randcat.Small())
		if !ok {
			continue
		}
		eachBuild(p, func(b *constraints.Build, id uint64) {
			if (id+seed)%7 != 0 {
				return
			}
			half := &constraints.Build{Problem: p}
			half.Electrify(b.Battery, b.Controller, b.Motor, b.Count)
			rest := &constraints.Build{Problem: p, Count: b.Count, Drive: b.Drive, Wheel: b.Wheel}
			x := b.Drive.Reduction / b.Wheel.Radius
			for i, c := range slices.Repeat(p.Checks(), 2) {
				if !c.Lists(b.Drive) || c.Corner == nil {
					continue
				}
				b, half := b, half
				if i >= len(p.Checks()) { // the other corner
					b, half = b.Best(), half.Best()
				}
				verdict := c.Corner(b).Verdict
				if c.Window != nil && c.Scope(p)&constraints.OnWheel != 0 {
					inner := c.Window(half, b.Lane(), 1+walk.Slack)
					outer := c.Window(half, b.Lane(), 1-walk.Slack)
					if inner.Low <= x && x <= inner.High && verdict != inner.Inside {
						t.Fatalf("seed %d build %d: %s is %v in a window %+v that says %v", seed, id, c.Name, verdict, inner, inner.Inside)
					}
					if (x < outer.Low || x > outer.High) && verdict != outer.Outside {
						t.Fatalf("seed %d build %d: %s is %v outside a window %+v that says %v", seed, id, c.Name, verdict, outer, outer.Outside)
					}
					note(c.Name, verdict.String())
				}
				if c.Adds != nil {
					value, missing := c.Adds.Electrical(half)
					r := c.Adds.Rolling(rest)
					want := r.Within
					sum, limit := value+r.Value, c.Adds.Limit(p)
					near := func(sum, value float64) bool {
						return math.Abs(sum-limit) <= walk.Slack*(math.Abs(value)+math.Abs(limit)+1)
					}
					if !math.IsInf(value, 0) && near(sum, value) {
						continue
					}
					if sum > limit {
						want = r.Beyond
					} else if missing && want == constraints.Pass {
						want = constraints.Undecided
					}
					if more := c.Doubts; more != nil && want == constraints.Pass {
						value, _ := more.Electrical(half)
						r := more.Rolling(rest)
						if !math.IsInf(value, 0) && near(value+r.Value, value) {
							continue
						}
						if value+r.Value > limit { // never of an infinity less another
							want = r.Beyond
						}
					}
					if verdict != want {
						t.Fatalf("seed %d build %d: %s is %v, its sum %v of %v says %v", seed, id, c.Name, verdict, sum, limit, want)
					}
					note(c.Name, verdict.String())
				}
			}
		})
	}
	for _, name := range []string{"erpm", "can", "price", "mass", "top-speed", "top-speed-max", "climb", "heat", "belt-load", "gear-torque", "range"} {
		if seen[name]["pass"] == 0 || seen[name]["fail"] == 0 {
			t.Errorf("%s was %v: the test does not test both verdicts", name, seen[name])
		}
	}
}

// TestWindowsHoldForLanes: outside the window of a lane's lightest and easiest
// corner no build of the lane passes, and inside that, or the core, of its heaviest and
// hardest one all do, by how much rolling resistance, mass and efficiency differ between.
func TestWindowsHoldForLanes(t *testing.T) {
	t.Parallel()
	held := map[string]int{}
	for seed := range uint64(200) {
		p, ok := randomProblem(t, seed, randcat.Small())
		if !ok {
			continue
		}
		r := rand.New(rand.NewPCG(seed, 33))
		more := func(by float64) float64 { return 1 + by*r.Float64() }
		eachBuild(p, func(b *constraints.Build, id uint64) {
			for _, c := range p.Checks() {
				if c.Window == nil && c.Core == nil || !c.Lists(b.Drive) || c.Scope(p)&constraints.OnWheel == 0 {
					continue
				}
				light, heavy := b.Lane(), b.Lane()
				if r.IntN(2) == 0 {
					light.Crr /= more(1)
					heavy.Crr *= more(1)
				}
				light.Mass /= more(0.1)
				heavy.Mass *= more(0.1)
				light.Efficiency *= more(0.02)
				heavy.Efficiency /= more(0.02)
				light.CrrTo, heavy.CrrTo = heavy.Crr, light.Crr
				light.Press, heavy.Press = heavy.Mass, light.Mass
				turn := b.Drive.Reduction / b.Wheel.Radius
				light.Turn, heavy.Turn = turn*more(2), turn*more(2)
				for _, strict := range []bool{false, true} {
					corner := c.Rules(b, strict)
					if c.Core != nil {
						core := c.Core(corner, heavy, 1+walk.Slack)
						switch v := c.Corner(corner).Verdict; {
						case turn < core.Low || turn > core.High:
						case v != constraints.Pass:
							t.Fatalf("seed %d build %d: %s is %v at %v, in the heavy lane's core %v", seed, id, c.Name, v, turn, core)
						default:
							held[c.Name]++
						}
						continue
					}
					inside := func(g constraints.Gearings) bool { return turn >= g.Low && turn <= g.High }
					outer, inner := c.Window(corner, light, 1-walk.Slack), c.Window(corner, heavy, 1+walk.Slack)
					verdict := c.Corner(corner).Verdict
					switch {
					case math.IsNaN(outer.Low), math.IsNaN(inner.Low):
						t.Fatalf("seed %d build %d: %s has the windows %v and %v", seed, id, c.Name, outer, inner)
					case !inside(outer) && verdict != outer.Outside:
						t.Fatalf("seed %d build %d: %s is %v at %v, outside the light lane's %v", seed, id, c.Name, verdict, turn, outer)
					case inside(inner) && verdict != inner.Inside:
						t.Fatalf("seed %d build %d: %s is %v at %v, inside the heavy lane's %v", seed, id, c.Name, verdict, turn, inner)
					}
					held[c.Name]++
				}
			}
		})
	}
	for _, name := range []string{"erpm", "top-speed", "top-speed-max", "climb", "heat", "range", "launch"} {
		if held[name] < 1000 {
			t.Errorf("%s was looked at %d times: the test does not test", name, held[name])
		}
	}
}
