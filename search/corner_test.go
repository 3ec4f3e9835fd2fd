package search

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gearsearch/catalog"
	"gearsearch/constraints"
	"gearsearch/search/internal/randcat"
)

// specimen is a build with some of what is not known of it drawn: a resistance
// or no-load current from what stands in for it, and a limit of current where no
// part gives one. all draws everything.
func specimen(r *rand.Rand, b *constraints.Build, all bool) *constraints.Build {
	draw := func(x *float64, s constraints.Span) {
		if math.IsNaN(*x) && !s.None() && (all || r.IntN(2) == 0) {
			*x = s.Low + (s.High-s.Low)*[]float64{0, r.Float64(), 1}[r.IntN(3)]
		}
	}
	m, c, pack := *b.Motor.Motor, *b.Controller.Controller, *b.Battery.Battery
	resistance, noLoad := constraints.MotorSpans(&m)
	draw(&m.Resistance, resistance)
	draw(&m.NoLoadCurrent, noLoad)
	draw(&pack.Resistance, constraints.PackSpan(&pack))
	if math.IsNaN(m.PeakCurrent) && math.IsNaN(c.MotorCurrent) {
		draw(&c.MotorCurrent, constraints.Span{Low: 10, High: 120})
	}
	if math.IsNaN(c.BatteryCurrent) && math.IsNaN(pack.DischargeLimit()) {
		draw(&c.BatteryCurrent, constraints.Span{Low: 5, High: 60})
	}
	q := b.Problem.With(constraints.OtherMotors([]*catalog.Motor{&m}), constraints.OtherControllers([]*catalog.Controller{&c}), constraints.OtherBatteries([]*catalog.Battery{&pack}))
	out := &constraints.Build{Problem: q}
	out.Electrify(q.Batteries[0], q.Controllers[0], q.Motors[0], b.Count)
	out.Roll(b.Drive, b.Wheel)
	return out
}

// goesByEstimate are the checks that an estimate of the top speed decides where
// nothing is known of motor and currents.
var goesByEstimate = map[string]bool{"top-speed": true, "top-speed-max": true, "erpm": true, "range": true}

// nothingKnown reports whether neither a resistance of the motor, nor what stands in
// for it, nor any limit of current or power is known.
func nothingKnown(b *constraints.Build) bool {
	m, c := b.Motor.Drive, b.Controller.Drive
	return m.Resistance == 0 && m.PeakCurrent == 0 && m.MaxPower == 0 && c.MotorCurrent == 0 && c.BatteryCurrent == 0 && b.Battery.Pack.Discharge == 0
}

// TestSpecimensLieBetweenTheCorners: whatever is drawn for what is not known, a
// board is nowhere better than the best corner and nowhere worse than the worst,
// and what a check decides of a board with blanks it decides of each specimen. On a
// way that is not so: a board that is faster uphill takes more charge, and one that
// stalls sooner takes less. There the corners are what they are by definition.
func TestSpecimensLieBetweenTheCorners(t *testing.T) {
	seeds := uint64(400)
	if testing.Short() {
		seeds = 60
	}
	const slack = 1e-7
	tested, between, beyond, decided := 0, 0, 0, 0
	for seed := range seeds {
		p, ok := randomProblem(t, seed+70_000, randcat.Small())
		if !ok {
			continue
		}
		r := rand.New(rand.NewPCG(seed, 70))
		eachBuild(p, func(b *constraints.Build, id uint64) {
			if !b.Blank() || r.IntN(20) > 0 {
				return
			}
			all := r.IntN(2) == 0
			x := specimen(r, b, all)
			tested++
			for i, result := range x.Results() {
				was := b.Results()[i]
				if was.Verdict == constraints.Undecided || strings.HasPrefix(was.Name, "route") || goesByEstimate[was.Name] && nothingKnown(b) {
					continue
				}
				decided++
				if result.Verdict != was.Verdict {
					t.Fatalf("seed %d build %d: %s is %v with blanks (%v of %v), and %v of a specimen (%v of %v)", seed, id, was.Name,
						was.Verdict, was.Value, was.Limit, result.Verdict, result.Value, result.Limit)
				}
			}
			for _, f := range constraints.Figures() {
				if !f.Corners || f.Routed() || f.Word != nil || f.Better == constraints.Neither {
					continue
				}
				worst, best, got := f.Value(b), f.Value(b.Best()), f.Value(x)
				if math.IsNaN(got) {
					continue
				}
				sign := float64(f.Better)
				hair := slack * math.Abs(got)
				if !math.IsNaN(best) {
					beyond++
					if sign*(got-best) > hair {
						t.Fatalf("seed %d build %d: %s is %v of a specimen, better than the best corner's %v", seed, id, f.Name, got, best)
					}
				}
				if !math.IsNaN(worst) && b.ThrustKnown() && x.ThrustKnown() {
					between++
					if sign*(worst-got) > hair {
						t.Fatalf("seed %d build %d: %s is %v of a specimen, worse than the worst corner's %v", seed, id, f.Name, got, worst)
					}
				}
			}
		})
	}
	t.Logf("%d specimens, %d figures not better than the best corner's, %d not worse than the worst's, %d verdicts", tested, beyond, between, decided)
	if tested < 20*int(seeds)/10 || between < tested {
		t.Errorf("%d specimens, %d figures: the test does not test", tested, between)
	}
}
