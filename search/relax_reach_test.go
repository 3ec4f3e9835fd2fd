package search

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"gearsearch/constraints"
	"gearsearch/constraints/ease"
	"gearsearch/search/internal/walk"
)

// TestReach: at the value none of the concession's checks rejects the build,
// a little nearer to the brief's one does, and where there is none one does all
// the way.
func TestReach(t *testing.T) {
	t.Parallel()
	reached, beyond := map[string]int{}, map[string]int{}
	for seed := range uint64(250) {
		strict := seed%3 == 0
		p, ids := hardened(t, seed, int(seed%3), strict)
		if len(ids) > 40 {
			ids = ids[:40]
		}
		if p == nil {
			continue
		}
		for _, c := range ease.Concessions(p) {
			from, last := *c.Value(p.Brief), lastValue(t, c)
			rejected := func(b *constraints.Build, x float64) bool {
				brief := p.Brief.Clone()
				*c.Value(brief) = x
				return slices.ContainsFunc(b.Under(brief).Results(), func(r constraints.Result) bool {
					return slices.Contains(c.Checks, r.Name) && r.Rejects(strict)
				})
			}
			for _, id := range ids {
				b := walk.Assemble(p, id)
				x, ok := c.Reach(b, math.Inf(c.Eases), strict)
				if !ok {
					beyond[c.Key]++
					for _, y := range append(between(c.Key, from, last), last) {
						if !rejected(b, y) {
							t.Fatalf("seed %d build %d: %s is passed at %v, and not reached", seed, id, c.Key, y)
						}
					}
					continue
				}
				if rejected(b, x) {
					t.Fatalf("seed %d build %d: %s of %v is reached and rejects", seed, id, c.Key, x)
				}
				if x == from {
					continue
				}
				reached[c.Key]++
				nearer := x - float64(c.Eases)*1e-6*math.Max(math.Abs(x), math.Abs(from))
				for _, y := range append(between(c.Key, from, nearer), nearer) {
					if float64(c.Eases)*y >= float64(c.Eases)*from && !rejected(b, y) {
						t.Fatalf("seed %d build %d: %s is passed at %v, before %v", seed, id, c.Key, y, x)
					}
				}
				if _, within := c.Reach(b, nearer, strict); within {
					t.Fatalf("seed %d build %d: %s of %v is within %v", seed, id, c.Key, x, nearer)
				}
			}
		}
	}
	for _, key := range allConcessions {
		always := []string{ // there is always a value, or nearly so
			"board.hanger_mm", "limit.price", "limit.mass_kg", "limit.mesh_teeth", "target.launch_s", "target.top_speed_kmh", "target.top_speed_max_kmh",
		}
		if reached[key] == 0 || beyond[key] == 0 && !slices.Contains(always, key) {
			t.Errorf("%s was reached %d times, and %d times not", key, reached[key], beyond[key])
		}
	}
}

// TestUnderIsANewProblem: a build under another brief has the figures, verdicts
// and score that it has in a problem made anew from that brief.
func TestUnderIsANewProblem(t *testing.T) {
	tested := 0
	for seed := range uint64(120) {
		p, ok := randomProblem(t, seed, few)
		if !ok {
			continue
		}
		r := rand.New(rand.NewPCG(seed, 15))
		brief := p.Brief.Clone()
		all := ease.Concessions(p)
		for range 3 {
			c := all[r.IntN(len(all))]
			low, high := bounds(t, c)
			*c.Value(brief) = math.Min(math.Max(*c.Value(brief)*(0.5+r.Float64()), low+1e-3), high)
		}
		brief.Rider.Mass, brief.Ground.Grip = 70+20*r.Float64(), 0.3+r.Float64()
		brief.Target.Charge = constraints.Charge{Word: []string{"full", "nominal"}[seed%2], Volts: math.NaN()}
		q, err := constraints.NewProblem(p.Catalog, brief)
		if err != nil {
			continue
		}
		eachBuild(p, func(b *constraints.Build, id uint64) {
			if (id+seed)%13 != 0 {
				return
			}
			tested++
			got, want := b.Under(brief), walk.Assemble(q, id)
			for _, f := range constraints.Figures() {
				if f.Word == nil && math.Float64bits(f.Value(got)) != math.Float64bits(f.Value(want)) && !(math.IsNaN(f.Value(got)) && math.IsNaN(f.Value(want))) {
					t.Fatalf("seed %d build %d: %s is %v, anew %v", seed, id, f.Name, f.Value(got), f.Value(want))
				}
			}
			for i, r := range got.Results() {
				if anew := want.Results()[i]; r.Verdict != anew.Verdict || r.Name != anew.Name {
					t.Fatalf("seed %d build %d: %s is %v, anew %s is %v", seed, id, r.Name, r.Verdict, anew.Name, anew.Verdict)
				}
			}
			if x, y := ScoreBuild(got).Score, ScoreBuild(want).Score; math.Abs(x-y) > 1e-12 {
				t.Fatalf("seed %d build %d: scores %v, anew %v", seed, id, x, y)
			}
		})
	}
	if tested < 500 {
		t.Errorf("only %d builds", tested)
	}
}

// TestRelaxCruise: where the range falls short at the cruise speed and at a
// crawl, and where the pack cannot give the power, the speed is the greatest
// that a fine row of problems made anew finds.
func TestRelaxCruise(t *testing.T) {
	idling := strings.Replace(oneBuild, "kv = 150", "kv = 150\nno_load_current_a = 12", 1)
	weak := strings.NewReplacer("capacity_ah = 8\n", "", "resistance_mohm = 80", "resistance_mohm = 1300").Replace(oneBuild)
	both := strings.NewReplacer("kv = 150", "kv = 150\nno_load_current_a = 12", "resistance_mohm = 80", "resistance_mohm = 1300").Replace(oneBuild)
	tests := []struct{ name, catalog, brief string }{
		{"valley below the power", both, "[target]\nrange_km = 4.9\ncruise_kmh = 28\ncharge = 'full'\n"},
		{"valley", idling, "[target]\nrange_km = 6.3\ncruise_kmh = 29\n"},
		{"power", weak, "[target]\nrange_km = 5\ncruise_kmh = 28\ncharge = 'full'\n"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			p := textProblem(t, test.catalog, test.brief)
			passes := func(kmh float64) bool {
				brief := p.Brief.Clone()
				brief.Target.Cruise = kmh / 3.6
				q, err := constraints.NewProblem(p.Catalog, brief)
				if err != nil {
					t.Fatal(err)
				}
				return !walk.Assemble(q, 0).Rejected(false)
			}
			const step = 0.01
			want := 0.0
			for v := p.Brief.Target.Cruise * 3.6; v >= 1 && want == 0; v -= step {
				if passes(v) {
					want = v
				}
			}
			if want == 0 || test.name != "power" && passes(1) {
				t.Fatalf("passes at %v, at a crawl %v: the test does not test", want, passes(1))
			}
			r := Relax(t.Context(), p, RelaxOptions{})
			i := slices.IndexFunc(r.Openings, func(o Opening) bool { return o.Concessions[0].Key == "target.cruise_kmh" })
			if i < 0 {
				t.Fatal("a slower cruise does not help")
			}
			if got := r.Openings[i].Concessions[0].To * 3.6; got < want-1e-9 || got > want+step {
				t.Errorf("cruise %v, the row finds %v", got, want)
			}
		})
	}
}

// TestRelaxWhatClosesAgain: a ceiling that lets one build reach the top speed
// lets another run too fast. Of three, the first two are never open together.
func TestRelaxWhatClosesAgain(t *testing.T) {
	gear := func(id string, ratio float64) string {
		return fmt.Sprintf("[[gear_drive]]\nid = %q\nratio = %v\nbore_mm = 8\nhub = \"h\"\n", id, ratio)
	}
	p := textProblem(t, oneBuild+gear("g2", 3.6)+gear("g3", 3.9),
		"[target]\ntop_speed_kmh = 20\ntop_speed_max_kmh = 22\n[limit]\nerpm_ceiling = 15000\ndemote = [\"erpm\"]\n")
	ceiling := func(ratio float64) float64 { return 20 / 3.6 * ratio / 0.05 * 60 / (2 * math.Pi) * 7 }
	for builds, want := range map[int]float64{1: ceiling(3), 2: ceiling(3.9), 3: math.NaN()} {
		r := Relax(t.Context(), p, RelaxOptions{Builds: builds})
		got := math.NaN()
		for _, opening := range r.Openings {
			if g := opening.Concessions[0]; g.Key == "limit.erpm_ceiling" && !r.Pairs {
				got = g.To
				checkOpening(t, "ceiling", p, opening, builds, false)
			}
		}
		if math.Abs(got-want) > 1e-9*want || math.IsNaN(got) != math.IsNaN(want) {
			t.Errorf("%d builds open at a ceiling of %v, want %v", builds, got, want)
		}
	}
}
