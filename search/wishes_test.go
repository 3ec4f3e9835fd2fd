package search

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"gearsearch/constraints"
	"gearsearch/constraints/ease"
	"gearsearch/constraints/kittest"
	"gearsearch/search/internal/randcat"
	"gearsearch/search/internal/walk"
)

// droppings make the brief without a wish, by its key: as one would write it.
var droppings = map[string]func(b *constraints.Brief){
	"board.hanger_mm": func(b *constraints.Brief) { b.Board.Hanger = math.NaN() },
	"target.top_speed_kmh": func(b *constraints.Brief) {
		if b.Limit.ERPMRule == constraints.AtSpeed { // nothing is left to hold the rpm at
			b.Limit.Demote = append(b.Limit.Demote, "erpm", "top-speed")
		} else {
			b.Target.TopSpeed = math.NaN()
		}
	},
	"target.top_speed_max_kmh":  func(b *constraints.Brief) { b.Target.TopSpeedMax = math.NaN() },
	"target.climb_grade_pct":    func(b *constraints.Brief) { b.Target.ClimbGrade, b.Target.ClimbLength = math.NaN(), math.NaN() },
	"target.stop_m":             func(b *constraints.Brief) { b.Target.Stop = math.NaN() },
	"limit.winding_max_c":       func(b *constraints.Brief) { b.Limit.WindingMax = 400 },
	"limit.reserve_pct":         func(b *constraints.Brief) { b.Limit.Reserve = 0 },
	"target.hill_torque_nm":     func(b *constraints.Brief) { b.Target.HillTorque = math.NaN() },
	"target.launch_s":           func(b *constraints.Brief) { b.Target.LaunchTime = math.NaN() },
	"target.range_km":           func(b *constraints.Brief) { b.Target.Range = math.NaN() },
	"limit.erpm_ceiling":        func(b *constraints.Brief) { b.Limit.ERPMCeiling = math.NaN() },
	"limit.erpm_headroom_pct":   func(b *constraints.Brief) { b.Limit.ERPMHeadroom = 0 },
	"limit.price":               func(b *constraints.Brief) { b.Limit.Price = math.NaN() },
	"limit.mass_kg":             func(b *constraints.Brief) { b.Limit.Mass = math.NaN() },
	"limit.mesh_teeth":          func(b *constraints.Brief) { b.Limit.Demote = append(b.Limit.Demote, "mesh") },
	"limit.ground_clearance_mm": func(b *constraints.Brief) { b.Limit.GroundClearance = 0 },
	"limit.heat_factor": func(b *constraints.Brief) {
		if math.IsNaN(b.Target.ClimbLength) {
			b.Limit.Demote = append(b.Limit.Demote, "heat")
		} else { // the windings stay
			b.Limit.HeatFactor = math.Inf(1)
		}
	},
}

// plainFeasible counts feasible builds by looking at every one.
func plainFeasible(p *constraints.Problem, strict bool) uint64 {
	n := uint64(0)
	eachBuild(p, func(b *constraints.Build, _ uint64) {
		if !b.Rejected(strict) {
			n++
		}
	})
	return n
}

// TestWithoutEqualsPlain: what each wish costs is what a plain search counts of
// a problem made anew without it, on random catalogs, for any number of
// workers.
func TestWithoutEqualsPlain(t *testing.T) {
	t.Parallel()
	n := max(uint64(*catalogs)/4, 2_500) // each is counted plainly once for every wish, and some wishes are rare
	if testing.Short() {
		n /= 5
	}
	opened, closed := map[string]int{}, 0
	for seed := range n {
		sizes := few
		if seed%8 == 0 {
			sizes = randcat.Small() // many times the builds
		}
		p, ok := randomProblem(t, seed, sizes)
		if !ok {
			continue
		}
		strict := seed%3 == 0
		got := WithoutEach(t.Context(), p, Options{Workers: 1 + int(seed%3), Strict: strict})
		if !got.Complete {
			t.Fatalf("seed %d: not complete", seed)
		}
		base := plainFeasible(p, strict)
		if got.Feasible != base {
			t.Fatalf("seed %d: %d feasible, plainly %d", seed, got.Feasible, base)
		}
		for _, w := range got.Each {
			brief := p.Brief.Clone()
			droppings[w.Key](brief)
			q, err := constraints.NewProblem(p.Catalog, brief)
			if err != nil {
				t.Fatalf("seed %d: without %s: %v", seed, w.Key, err)
			}
			if want := int64(plainFeasible(q, strict)) - int64(base); w.More != want {
				t.Fatalf("seed %d, strict %t: %d more without %s, plainly %d", seed, strict, w.More, w.Key, want)
			}
			if w.More > 0 {
				opened[w.Key]++
			}
			if w.More < 0 {
				closed++
			}
		}
	}
	t.Log(opened, closed)
	if testing.Short() {
		return
	}
	for key := range droppings {
		if opened[key] == 0 {
			t.Errorf("no catalog has a build that only %s keeps out: the test does not test it", key)
		}
	}
	if closed == 0 {
		t.Error("no ceiling keeps builds below a greatest speed: the test does not test it")
	}
}

// TestWishLanesEqualLoops: on a market, lanes count what testing every pair that
// fits one by one does.
func TestWishLanesEqualLoops(t *testing.T) {
	t.Parallel()
	m := markets[0]
	if testing.Short() {
		m.Motors, m.Batteries = 4, 3
	}
	for _, brief := range []string{randcat.PlainStreetBrief, randcat.StreetBrief} {
		p := marketProblem(t, m, brief)
		count := func(least int) []uint64 {
			w := walk.NewWaived(p, ease.Wishes(p), false)
			w.Sizes.LaneLeast = least
			counts, complete := w.Count(t.Context(), 0, nil)
			if !complete {
				t.Fatal("not complete")
			}
			return counts
		}
		want := count(math.MaxInt)
		if d := cmp.Diff(want, count(walk.NewPlan(p, false).Sizes.LaneLeast)); d != "" {
			t.Errorf("counts differ from the loops (-loops +lanes):\n%s", d)
		}
		if want[0] == 0 || slices.Max(want) == want[0] {
			t.Errorf("%d: the test does not test", want)
		}
	}
}

// TestWishesAreConcessions: each wish is a key that a brief can give way on, in
// the same order and unit, and the other way round but for those that say how a
// target is meant.
func TestWishesAreConcessions(t *testing.T) {
	brief := `[board]
hanger_mm = 100
[target]
top_speed_kmh = 30
top_speed_max_kmh = 40
climb_grade_pct = 10
climb_length_m = 500
stop_m = 30
hill_torque_nm = 20
launch_speed_kmh = 10
launch_s = 5
range_km = 10
[limit]
erpm_ceiling = 60000
price = 1000
mass_kg = 20
`
	type key struct {
		Key, Unit    string
		PerSI, Value float64
	}
	p := textProblem(t, belted(oneBuild, ""), brief)
	p.Brief.Way = kittest.Hill()
	p, err := constraints.NewProblem(p.Catalog, p.Brief)
	if err != nil {
		t.Fatal(err)
	}
	var want, got []key
	for _, c := range ease.Concessions(p) {
		switch c.Key {
		case "target.climb_speed_kmh", "target.climb_length_m", "target.stop_from_kmh", "target.launch_speed_kmh", "target.cruise_kmh", "ride.stops_per_km":
		default:
			want = append(want, key{c.Key, c.Unit, c.PerSI, *c.Value(p.Brief)})
		}
	}
	for _, w := range ease.Wishes(p) {
		got = append(got, key{w.Key, w.Unit, w.PerSI, w.Value})
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("wishes are not the concessions (-concessions +wishes):\n%s", d)
	}
	if len(got) != len(droppings) || len(got) > walk.MostWaived {
		t.Errorf("%d wishes, %d tested, and room for %d", len(got), len(droppings), walk.MostWaived)
	}
}

// TestWishesLeftOut: what asks for nothing is no wish.
func TestWishesLeftOut(t *testing.T) {
	for _, c := range []struct {
		name, brief, key string
		want             bool
		why              string
	}{
		{"no price", "[target]\ntop_speed_kmh = 30\n", "limit.price", false, "the brief sets none"},
		{"a price", "[limit]\nprice = 30\n", "limit.price", true, "the brief sets it"},
		{"a demoted price", "[limit]\nprice = 30\ndemote = [\"price\"]\n", "limit.price", false, "it rejects nothing"},
		{"no headroom", "[limit]\nerpm_ceiling = 30000\nerpm_headroom_pct = 0\n", "limit.erpm_headroom_pct", false, "0 asks for nothing"},
		{"a level hill", "[target]\nclimb_grade_pct = 0\n", "target.climb_grade_pct", true, "the board must still hold the climb speed"},
		{"no climb", "[limit]\nprice = 30\n", "limit.heat_factor", false, "nothing gets hot"},
		{"one half of the climb demoted", "[target]\nclimb_grade_pct = 10\n[limit]\ndemote = [\"climb\"]\n", "target.climb_grade_pct", true, "the heat is left"},
	} {
		got := false
		for _, w := range ease.Wishes(textProblem(t, oneBuild, c.brief)) {
			got = got || w.Key == c.key
		}
		if got != c.want {
			t.Errorf("%s: %s is a wish: %t: %s", c.name, c.key, got, c.why)
		}
	}
}

// TestWithoutByHand: one build, and what keeps it out.
func TestWithoutByHand(t *testing.T) {
	for _, c := range []struct {
		name, brief string
		want        map[string]int64 // all others: 0
		why         string
	}{
		{"feasible", "[target]\ntop_speed_kmh = 10\n", nil, "nothing is to be opened"},
		{"too slow", "[target]\ntop_speed_kmh = 60\n", map[string]int64{"target.top_speed_kmh": 1}, "30.8 of 60 km/h"},
		{"two wishes", "[target]\ntop_speed_kmh = 60\nrange_km = 200\n", nil, "neither alone opens the build"},
		{"a climb", "[target]\nclimb_grade_pct = 60\nclimb_speed_kmh = 5\n", map[string]int64{"target.climb_grade_pct": 1}, "climb, heat and gear drive all fail, and all go with the grade"},
		{"headroom", "[limit]\nerpm_ceiling = 45000\n", map[string]int64{"limit.erpm_ceiling": 1, "limit.erpm_headroom_pct": 1}, "44 100 rpm are below the ceiling, not 5 % below"},
		{"below the ceiling", "[limit]\nerpm_ceiling = 44000\n", map[string]int64{"limit.erpm_ceiling": 1}, "44 100 rpm are above it, whatever the headroom"},
		{"a ceiling that holds the speed", "[target]\ntop_speed_max_kmh = 28\n[limit]\nerpm_ceiling = 30000\ndemote = [\"erpm\"]\n", map[string]int64{"limit.erpm_ceiling": -1}, "30.8 km/h without it"},
		{"at speed", "[target]\ntop_speed_kmh = 60\n[limit]\nerpm_rule = \"at-speed\"\nerpm_ceiling = 50000\n", map[string]int64{"target.top_speed_kmh": 1}, "without the target no rpm is held at it"},
	} {
		got := WithoutEach(t.Context(), textProblem(t, oneBuild, c.brief), Options{})
		for _, w := range got.Each {
			if w.More != c.want[w.Key] {
				t.Errorf("%s: %d more without %s, want %d: %s", c.name, w.More, w.Key, c.want[w.Key], c.why)
			}
		}
	}
}

// TestDearest: the dearest first, in the order of keys among equals, and none
// that costs nothing.
func TestDearest(t *testing.T) {
	w := Wishes{}
	for key, more := range []int64{5, 0, 7, -3, 5, 9} {
		w.Each = append(w.Each, Without{ease.Wish{Key: fmt.Sprint(key)}, more})
	}
	var got strings.Builder
	for _, x := range w.Dearest(4) {
		got.WriteString(x.Key)
	}
	if got.String() != "5204" {
		t.Errorf("the dearest are %s, want 5204", got.String())
	}
}

// TestWithoutInterrupted: what is cut short says so and claims nothing.
func TestWithoutInterrupted(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if w := WithoutEach(ctx, textProblem(t, oneBuild, "[limit]\nprice = 5\n"), Options{}); w.Complete || len(w.Each) > 0 {
		t.Errorf("complete %t, %d wishes", w.Complete, len(w.Each))
	}
	ctx, cancel = context.WithTimeout(t.Context(), 20*time.Millisecond)
	defer cancel()
	p := marketProblem(t, markets[2], randcat.StreetBrief)
	start := time.Now()
	if w := WithoutEach(ctx, p, Options{}); w.Complete {
		t.Error("a billion combinations in 20 ms: the test does not test")
	}
	if d := time.Since(start); d > 10*time.Second {
		t.Errorf("ended %v after its time", d)
	}
}

// BenchmarkWithoutEach counts what each wish of the demo and of markets costs.
func BenchmarkWithoutEach(b *testing.B) {
	run := func(name string, p *constraints.Problem) {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if w := WithoutEach(b.Context(), p, Options{}); !w.Complete {
					b.Fatal("not complete")
				}
			}
		})
	}
	run("demo", kittest.Demo(b, "harbour"))
	for _, brief := range []struct{ name, text string }{
		{"plain", randcat.PlainStreetBrief},
		{"full", randcat.StreetBrief},
	} {
		for _, m := range markets[:3] {
			run(fmt.Sprintf("brief=%s/combinations=%.1e", brief.name, m.Combinations()), marketProblem(b, m, brief.text))
		}
	}
}
