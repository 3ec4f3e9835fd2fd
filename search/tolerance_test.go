package search

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"gearsearch/constraints"
	"gearsearch/search/internal/randcat"
	"gearsearch/search/internal/walk"
)

// TestVariationsAreStratified: of n draws, one lies in each n-th of the range
// of each quantity: a Latin hypercube (McKay, Beckman and Conover, 1979).
func TestVariationsAreStratified(t *testing.T) {
	tolerance := constraints.Tolerance{KV: 0.05, Mass: 5, Rolling: 0.3, Drag: 0.15, PackResistance: 0.2, Efficiency: 0.02, Wheel: 0.015, Stance: 0.05, Grip: 0.15, Wind: 1.4}
	for _, n := range []int{1, 2, 7, 500} {
		list := slices.Collect(variations(tolerance, n, rand.NewPCG(4, 0)))
		for _, quantity := range []struct {
			name  string
			width float64
			of    func(v constraints.Variation) float64
		}{
			{"kv", tolerance.KV, func(v constraints.Variation) float64 { return v.KV }},
			{"mass", tolerance.Mass, func(v constraints.Variation) float64 { return v.Mass }},
			{"rolling", tolerance.Rolling, func(v constraints.Variation) float64 { return v.Rolling }},
			{"drag", tolerance.Drag, func(v constraints.Variation) float64 { return v.Drag }},
			{"pack resistance", tolerance.PackResistance, func(v constraints.Variation) float64 { return v.PackResistance }},
			{"efficiency", tolerance.Efficiency, func(v constraints.Variation) float64 { return v.Efficiency }},
			{"wheel", tolerance.Wheel, func(v constraints.Variation) float64 { return v.Wheel }},
			{"stance", tolerance.Stance, func(v constraints.Variation) float64 { return v.Stance }},
			{"grip", tolerance.Grip, func(v constraints.Variation) float64 { return v.Grip }},
			{"wind", tolerance.Wind, func(v constraints.Variation) float64 { return v.Wind }},
		} {
			var strata []int
			for _, v := range list {
				strata = append(strata, int(math.Floor((quantity.of(v)/quantity.width+1)/2*float64(n))))
			}
			slices.Sort(strata)
			for i, s := range strata {
				if s != i {
					t.Fatalf("%s, %d draws: strata %v", quantity.name, n, strata)
				}
			}
		}
	}
}

// TestNoToleranceIsNominal: without tolerances every draw has the bits of the
// build itself.
func TestNoToleranceIsNominal(t *testing.T) {
	for seed := range uint64(60) {
		p, ok := randomProblem(t, seed, randcat.Small())
		if !ok {
			continue
		}
		p.Brief.Vary = constraints.Tolerance{}
		eachBuild(p, func(b *constraints.Build, id uint64) {
			if (id+seed)%61 != 0 {
				return
			}
			r := Robust(t.Context(), b, 3, seed, false)
			if rejected := b.Rejected(false); rejected != (r.Share == 0) || !rejected != (r.Share == 1) {
				t.Fatalf("seed %d build %d: rejected %v, and share %v", seed, id, rejected, r.Share)
			}
			for i, result := range b.Results() {
				want := 0.0
				if result.Verdict == constraints.Pass {
					want = 1
				}
				if r.Checks[i].Name != result.Name || r.Checks[i].Share != want {
					t.Fatalf("seed %d build %d: %s is %v, passed in %v", seed, id, result.Name, result.Verdict, r.Checks[i].Share)
				}
			}
			for _, f := range r.Figures {
				x := f.Value(b)
				for _, q := range []float64{f.Low, f.Middle, f.High} {
					if math.Float64bits(q) != math.Float64bits(x) && !(math.IsNaN(x) && math.IsNaN(q)) {
						t.Fatalf("seed %d build %d: %s is %v, with no tolerance %v", seed, id, f.Name, x, q)
					}
				}
				if want := 1.0; math.IsNaN(x) == (f.Known == want) {
					t.Fatalf("seed %d build %d: %s is %v, and known in %v", seed, id, f.Name, x, f.Known)
				}
			}
		})
	}
}

// specimenCatalog is a catalog of one build, with the numbers that vary.
func specimenCatalog(kv, resistance, efficiency, diameter, rolling float64) string {
	return fmt.Sprintf(`schema = 1
[[motor]]
id = "m"
kv = %v
pole_pairs = 7
resistance_mohm = 60
no_load_current_a = 0.9
peak_current_a = 80
continuous_current_a = 30
shaft_mm = 8
mass_g = 700
[[controller]]
id = "c"
erpm_ceiling = 60000
max_volts = 60
motor_current_a = 60
battery_current_a = 25
[[battery]]
id = "b"
series = 10
nominal_v = 36
full_v = 42
cutoff_v = 30
capacity_ah = 8
resistance_mohm = %v
discharge_a = 60
mass_g = 2500
[[gear_drive]]
id = "g"
ratio = 3
efficiency = %v
bore_mm = 8
hub = "h"
max_torque_nm = 30
outside_mm = 60
[[wheel]]
id = "w"
diameter_mm = %v
rolling_resistance = %v
hub = "h"
`, kv, resistance, efficiency, diameter, rolling)
}

// specimenBrief is a brief that specimens miss now and then, with the numbers
// that vary.
func specimenBrief(mass, drag float64) string {
	return fmt.Sprintf(`[rider]
mass_kg = %v
drag_area_m2 = %v
[target]
top_speed_kmh = 32.4
climb_grade_pct = 12
launch_speed_kmh = 20
launch_s = 1.74
range_km = 16.9
[limit]
erpm_headroom_pct = 20
ground_clearance_mm = 19.9
heat_factor = 0.76
`, mass, drag)
}

// slipperyBrief is likewise one on ground without much grip, against a wind.
func slipperyBrief(share, grip, wind float64) string {
	return fmt.Sprintf(`[board]
rear_share = %v
lean = 0
[ground]
grip = %v
[target]
climb_grade_pct = 10
range_km = 11.2
[ride]
wind_kmh = %v
`, share, grip, wind)
}

// TestRobustIsTheShareOfSpecimens: with one quantity varied at a time, shares
// and quantiles are those of catalogs and briefs written anew with the number
// of each draw.
func TestRobustIsTheShareOfSpecimens(t *testing.T) {
	t.Parallel()
	const (
		kv, resistance, efficiency, diameter, rolling = 160.0, 90.0, 0.94, 100.0, 0.02
		mass, drag                                    = 80.0, 0.55
		share, grip, wind                             = 0.6, 0.19, 3.0
		draws                                         = 200
	)
	tests := []struct {
		name  string
		vary  constraints.Tolerance
		again func(v constraints.Variation) (catalogText, briefText string)
	}{
		{"kv", constraints.Tolerance{KV: 0.05}, func(v constraints.Variation) (string, string) {
			return specimenCatalog(kv*(1+v.KV), resistance, efficiency, diameter, rolling), specimenBrief(mass, drag)
		}},
		{"mass", constraints.Tolerance{Mass: 9}, func(v constraints.Variation) (string, string) {
			return specimenCatalog(kv, resistance, efficiency, diameter, rolling), specimenBrief(mass+v.Mass, drag)
		}},
		{"rolling", constraints.Tolerance{Rolling: 0.4}, func(v constraints.Variation) (string, string) {
			return specimenCatalog(kv, resistance, efficiency, diameter, rolling*(1+v.Rolling)), specimenBrief(mass, drag)
		}},
		{"drag", constraints.Tolerance{Drag: 0.2}, func(v constraints.Variation) (string, string) {
			return specimenCatalog(kv, resistance, efficiency, diameter, rolling), specimenBrief(mass, drag*(1+v.Drag))
		}},
		{"pack resistance", constraints.Tolerance{PackResistance: 0.5}, func(v constraints.Variation) (string, string) {
			return specimenCatalog(kv, resistance*(1+v.PackResistance), efficiency, diameter, rolling), specimenBrief(mass, drag)
		}},
		{"efficiency", constraints.Tolerance{Efficiency: 0.1}, func(v constraints.Variation) (string, string) {
			return specimenCatalog(kv, resistance, math.Min(1, efficiency+v.Efficiency), diameter, rolling), specimenBrief(mass, drag)
		}},
		{"wheel", constraints.Tolerance{Wheel: 0.02}, func(v constraints.Variation) (string, string) {
			return specimenCatalog(kv, resistance, efficiency, diameter*(1+v.Wheel), rolling), specimenBrief(mass, drag)
		}},
		{"stance", constraints.Tolerance{Stance: 0.1}, func(v constraints.Variation) (string, string) {
			return specimenCatalog(kv, resistance, efficiency, diameter, rolling), slipperyBrief(share+v.Stance, grip, wind)
		}},
		{"grip", constraints.Tolerance{Grip: 0.2}, func(v constraints.Variation) (string, string) {
			return specimenCatalog(kv, resistance, efficiency, diameter, rolling), slipperyBrief(share, grip*(1+v.Grip), wind)
		}},
		{"wind", constraints.Tolerance{Wind: 5}, func(v constraints.Variation) (string, string) { // m/s: now and then from behind
			return specimenCatalog(kv, resistance, efficiency, diameter, rolling), slipperyBrief(share, grip, math.Abs(wind+v.Wind*3.6))
		}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			p := textProblem(t, first(test.again(constraints.Variation{})), second(test.again(constraints.Variation{})))
			p.Brief.Vary = test.vary
			const seed = 12
			got := Robust(t.Context(), walk.Assemble(p, 0), draws, seed, false)
			share, passes := 0.0, map[string]float64{}
			values := map[string][]float64{}
			for v := range variations(test.vary, draws, rand.NewPCG(seed, 0)) {
				b := walk.Assemble(textProblem(t, first(test.again(v)), second(test.again(v))), 0)
				if !b.Rejected(false) {
					share += 1.0 / draws
				}
				for _, r := range b.Results() {
					if r.Verdict == constraints.Pass {
						passes[r.Name] += 1.0 / draws
					}
				}
				for _, f := range constraints.Figures() {
					if f.Word == nil && !math.IsNaN(f.Value(b)) {
						values[f.Name] = append(values[f.Name], f.Value(b))
					}
				}
			}
			if math.Abs(got.Share-share) > 1e-12 {
				t.Errorf("share %v, want %v", got.Share, share)
			}
			if share == 0 || share == 1 {
				t.Errorf("share %v: the test does not test", share)
			}
			for _, c := range got.Checks {
				if math.Abs(c.Share-passes[c.Name]) > 1e-12 {
					t.Errorf("%s passes in %v, want %v", c.Name, c.Share, passes[c.Name])
				}
			}
			for _, f := range got.Figures {
				list := values[f.Name]
				if known := float64(len(list)) / draws; math.Abs(f.Known-known) > 1e-12 {
					t.Errorf("%s is known in %v, want %v", f.Name, f.Known, known)
				}
				if len(list) == 0 {
					continue
				}
				slices.Sort(list)
				for _, q := range []struct{ share, got float64 }{{0.05, f.Low}, {0.5, f.Middle}, {0.95, f.High}} {
					// The least value that so large a share does not pass.
					want := list[int(math.Ceil(q.share*float64(len(list))-1e-9))-1]
					if math.Abs(q.got-want) > 1e-9*math.Abs(want) {
						t.Errorf("%s: quantile %v is %v, want %v", f.Name, q.share, q.got, want)
					}
				}
			}
		})
	}
}

func first(a, _ string) string  { return a }
func second(_, b string) string { return b }

// TestRobustIsReproducible: one seed, one answer; another, another.
func TestRobustIsReproducible(t *testing.T) {
	p := textProblem(t, specimenCatalog(160, 90, 0.94, 100, 0.02), specimenBrief(80, 0.55))
	b := walk.Assemble(p, 0)
	alike := cmp.Options{
		cmpopts.IgnoreFields(CheckShare{}, "Check"), cmpopts.IgnoreFields(FigureSpread{}, "Figure"), cmpopts.EquateNaNs(),
	}
	if d := cmp.Diff(Robust(t.Context(), b, 100, 7, false), Robust(t.Context(), b, 100, 7, false), alike); d != "" {
		t.Errorf("one seed, two answers:\n%s", d)
	}
	if cmp.Equal(Robust(t.Context(), b, 100, 7, false), Robust(t.Context(), b, 100, 8, false), alike) {
		t.Error("two seeds, one answer")
	}
	if got := Robust(t.Context(), b, 0, 7, false); got.Draws != 1 || got.Share != 0 && got.Share != 1 {
		t.Errorf("no draws: %d draws, share %v", got.Draws, got.Share)
	}
}

// TestVariedStaysPhysical: no rider without mass, no efficiency above 1.
func TestVariedStaysPhysical(t *testing.T) {
	p := textProblem(t, specimenCatalog(160, 90, 0.94, 100, 0.02), specimenBrief(10, 0.55))
	b := walk.Assemble(p, 0)
	light := b.Varied(constraints.Variation{Mass: -50, Efficiency: +0.2})
	if got := light.TotalMass() - light.Mass().Known; math.Abs(got-1) > 1e-12 {
		t.Errorf("the rider weighs %v kg", got)
	}
	if light.Drive.Efficiency != 1 || b.Varied(constraints.Variation{Efficiency: -2}).Drive.Efficiency != 0.05 {
		t.Errorf("efficiency %v and %v", light.Drive.Efficiency, b.Varied(constraints.Variation{Efficiency: -2}).Drive.Efficiency)
	}
	poor := walk.Assemble(textProblem(t, specimenCatalog(160, 90, 0.03, 100, 0.02), specimenBrief(80, 0.55)), 0)
	if got := poor.Varied(constraints.Variation{}).Drive.Efficiency; got != 0.03 {
		t.Errorf("without variation, an efficiency of 0.03 is %v", got)
	}
	if b.Drive.Efficiency != 0.94 || p.Brief.Rider.Mass != 10 {
		t.Error("a variation changes the build that it varies")
	}
}

// TestRobustEachIsRobust: several builds are varied as each by itself, with any
// number of workers; what there is no time for is left out.
func TestRobustEachIsRobust(t *testing.T) {
	p := textProblem(t, specimenCatalog(190, 50, 0.97, 97, 0.02), specimenBrief(80, 0.6))
	p.Brief.Vary.Mass = 0.1
	b := walk.Assemble(p, 0)
	alike := cmp.Options{
		cmpopts.IgnoreFields(CheckShare{}, "Check"), cmpopts.IgnoreFields(FigureSpread{}, "Figure"), cmpopts.EquateNaNs(),
	}
	want := Robust(t.Context(), b, 100, 7, false)
	for _, workers := range []int{1, 3} {
		done := 0.0
		got := RobustEach(t.Context(), []*constraints.Build{b, b, b, b}, 100, 7, Options{Workers: workers, Progress: func(n, _ float64) { done = n }})
		if d := cmp.Diff([]Robustness{want, want, want, want}, got, alike); d != "" || done != 4 {
			t.Errorf("%d workers, %g done (-alone +together):\n%s", workers, done, d)
		}
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if got := RobustEach(ctx, []*constraints.Build{b}, 100, 7, Options{}); len(got) != 1 || got[0].Draws != 0 {
		t.Errorf("no time: %+v", got)
	}
}
