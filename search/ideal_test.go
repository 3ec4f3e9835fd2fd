package search

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"gearsearch/constraints"
	"gearsearch/constraints/kittest"
	"gearsearch/search/internal/randcat"
	"gearsearch/search/internal/walk"
)

// TestMaximisePublished: the best ratios of a handbook of the theory of
// machines come out (Khurmi & Gupta, Theory of Machines).
func TestMaximisePublished(t *testing.T) {
	tests := []struct {
		name  string
		f     func(g float64) float64
		ratio float64 // as published
		exact float64 // from setting the derivative to 0
		most  float64
		round float64 // of the published value of most
	}{
		{
			// A hoist or shaft: T = 100 N·m on inertias of 2 and 32 kg·m².
			// α = T G / (I₂ + G² I₁), greatest at √(I₂/I₁).
			name: "Ex. 3.14", ratio: 4, exact: 4, most: 6.25, round: 1e-9,
			f: func(g float64) float64 { return 100 * g / (32 + 2*g*g) },
		},
		{
			// A car of 1500 kg up a grade of 0.25: 200 N·m at the engine, wheels
			// of 0.3 m, 300 N of resistance, efficiency 0.85. The book rounds to
			// G 22; the exact one follows from its own formula.
			name: "Ex. 3.15", ratio: 22, exact: 21.77, most: 1.38, round: 5e-3,
			f: func(g float64) float64 {
				return (0.85*200*g/0.3 - 300 - 1500*9.81*0.25) / (1500 + (8+0.85*g*g)/0.09)
			},
		},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			x, most := maximise(func(x []float64) float64 { return test.f(x[0]) }, []interval{{1, 60}})
			if math.Abs(x[0]-test.exact) > 0.01 || math.Round(x[0]) != test.ratio {
				t.Errorf("ratio %v, published %v, exact %v", x[0], test.ratio, test.exact)
			}
			if math.Abs(most-test.most) > test.round || most != test.f(x[0]) {
				t.Errorf("acceleration %v rad/s² or m/s², published %v", most, test.most)
			}
		})
	}
}

// TestMaximiseKeepsToTheBox: no point outside is looked at, the result is not
// worse than any that was, and the same question has the same answer.
func TestMaximiseKeepsToTheBox(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var box []interval
		var peak []float64
		for range rapid.IntRange(1, 3).Draw(t, "variables") {
			low := rapid.Float64Range(0.001, 100).Draw(t, "low")
			width := rapid.SampledFrom([]float64{0, 1e-9, 1, 50}).Draw(t, "width")
			box = append(box, interval{low, low + width})
			peak = append(peak, rapid.Float64Range(-10, 160).Draw(t, "peak"))
		}
		seen := math.Inf(-1)
		f := func(x []float64) float64 {
			if !inside(x, box) {
				t.Fatalf("%v lies outside %v", x, box)
			}
			v := 0.0
			for i := range x {
				v -= math.Abs(x[i] - peak[i])
			}
			seen = math.Max(seen, v)
			return v
		}
		x, v := maximise(f, box)
		if v < seen-1e-7 || v != f(x) { // a step of the simplex may end so little below its best corner
			t.Fatalf("%v at %v, and %v was seen", v, x, seen)
		}
		again, _ := maximise(f, box)
		if !slices.Equal(x, again) {
			t.Fatalf("%v, then %v", x, again)
		}
		for i := range x { // the nearest point of the box to the peak
			if want := math.Min(math.Max(peak[i], box[i].low), box[i].high); math.Abs(x[i]-want) > 1e-3*(box[i].high-box[i].low)+1e-9 {
				t.Fatalf("%v of %v, want %v", x[i], box[i], want)
			}
		}
	})
}

// gridBest looks for the best score on a grid of n steps of kv, reduction and
// diameter, then on finer ones around the best. It counts a build that a check
// rejects which the three may mend as nothing.
func gridBest(base *constraints.Build, box []interval, n, levels int, strict bool) float64 {
	mendable := func(name string) bool {
		switch name {
		case "bore", "sensor", "profile", "hub", "belt", "mesh", "hanger", "voltage", "price", "mass":
			return false
		}
		return true
	}
	best := math.Inf(-1)
	zoom, at := slices.Clone(box), []float64{0, 0, 0}
	for range levels {
		for i := range (n + 1) * (n + 1) * (n + 1) {
			x := make([]float64, 3)
			for d, share := range []int{i % (n + 1), i / (n + 1) % (n + 1), i / (n + 1) / (n + 1)} {
				x[d] = zoom[d].low + (zoom[d].high-zoom[d].low)*float64(share)/float64(n)
			}
			b := base.Tuned(x[0], x[1], x[2])
			if slices.ContainsFunc(b.Problem.Checks(), func(c *constraints.Check) bool {
				return mendable(c.Name) && c.Lists(b.Drive) && constraints.Result{Check: c, Outcome: c.Test(b), Demoted: b.Problem.Demoted(c)}.Rejects(strict)
			}) {
				continue
			}
			if score := ScoreBuild(b).Score; score > best {
				best = score
				copy(at, x)
			}
		}
		if math.IsInf(best, -1) {
			return best // there is nothing to look around
		}
		for d := range zoom {
			step := 2 * (zoom[d].high - zoom[d].low) / float64(n)
			zoom[d] = interval{math.Max(box[d].low, at[d]-step), math.Min(box[d].high, at[d]+step)}
		}
	}
	return best
}

// TestIdealIsTheGrids: the ideal scores what a dense grid finds, to 0.1 %.
func TestIdealIsTheGrids(t *testing.T) {
	t.Parallel()
	type question struct {
		name string
		p    *constraints.Problem
	}
	const two = "keep.motor=ov-63m-145,ov-63m-180,hd-63-125,hd-63-160,hd-63-200"
	questions := []question{{"harbour", kittest.Demo(t, "harbour", two)}}
	if !testing.Short() {
		questions = append(questions,
			question{"lastmile", kittest.Demo(t, "lastmile", two)},
			question{"trail", kittest.Demo(t, "trail", "keep.motor=hd-50-200,qn-hub-75")},
			question{"steep", kittest.Demo(t, "harbour", "target.climb_grade_pct=24", "limit.price=900", "keep.motor=hd-63-160")},
			question{"fast", kittest.Demo(t, "trail", "target.top_speed_kmh=45", "keep.motor=ov-63l-100")})
		for seed := uint64(0); len(questions) < 10; seed++ {
			if p, ok := randomProblem(t, seed, few); ok {
				questions = append(questions, question{fmt.Sprintf("random %d", seed), p})
			}
		}
	}
	compared := 0
	for _, q := range questions {
		frames, complete := Ideal(t.Context(), q.p, Bounds{}, Options{})
		if !complete {
			t.Fatalf("%s: not complete", q.name)
		}
		catalog := CatalogBounds(q.p)
		box := []interval{catalog.KV.or(Span{}), catalog.Reduction.or(Span{}), catalog.Wheel.or(Span{})}
		for _, f := range frames[:min(2, len(frames))] {
			want := gridBest(f.Catalog.Build, box, 12, 5, false)
			if math.IsInf(want, -1) {
				if f.Works {
					t.Errorf("%s, %v: works, and no point of the grid does", q.name, f.Motors)
				}
				continue
			}
			compared++
			if math.Abs(f.Ideal.Score-want) > 1e-3*want {
				t.Errorf("%s, %v: ideal %v at %v rpm/V, %v, %v m; the grid finds %v", q.name, f.Motors, f.Ideal.Score, f.KV, f.Ratio, f.Wheel, want)
			}
		}
	}
	if compared < len(questions)/2 {
		t.Errorf("%d of %d questions compared", compared, len(questions))
	}
}

// TestMovesAreTheBestOfOne: each move is where a fine row of values of that
// quantity alone scores most, and gains what it says.
func TestMovesAreTheBestOfOne(t *testing.T) {
	t.Parallel()
	const n = 1500
	p := kittest.Demo(t, "lastmile", "keep.motor=hd-50-200,hd-63-125,qn-hub-60")
	frames, _ := Ideal(t.Context(), p, Bounds{}, Options{})
	for _, f := range frames {
		base, s, checks := f.Catalog.Build, newScorer(p), mendable(p)
		checks = slices.DeleteFunc(checks, func(c *constraints.Check) bool { return !c.Lists(base.Drive) })
		catalog := CatalogBounds(p)
		for _, m := range f.Moves {
			i := slices.Index(quantities[:], m.Name)
			box := []Span{catalog.KV, catalog.Reduction, catalog.Wheel}[i]
			at := func(to float64) *constraints.Build {
				x := []float64{base.Motor.KV, base.Drive.Reduction, base.Wheel.Diameter}
				x[i] = to
				return base.Tuned(x[0], x[1], x[2])
			}
			most := worth(s, base, checks, false)
			for step := range n + 1 {
				most = math.Max(most, worth(s, at(box.Low+(box.High-box.Low)*float64(step)/n), checks, false))
			}
			if got := worth(s, at(m.To), checks, false); got < most-2*sameWorth {
				t.Errorf("%v: %s to %v is worth %v, the best of a row %v", f.Motors, m.Name, m.To, got, most)
			}
			if gain := ScoreBuild(at(m.To)).Score - f.Catalog.Score; math.Abs(m.Gain-gain) > 1e-9 || m.Feasible == at(m.To).Rejected(false) {
				t.Errorf("%v: %s to %v gains %v, feasible %v; want %v, %v", f.Motors, m.Name, m.To, m.Gain, m.Feasible, gain, !at(m.To).Rejected(false))
			}
		}
	}
}

// TestIdealWithinBounds: bounds that are given hold, on either side of the
// catalog's; what is not given is the catalog's; and the answer does not depend
// on the workers.
func TestIdealWithinBounds(t *testing.T) {
	t.Parallel()
	p := kittest.Demo(t, "harbour", "keep.motor=hd-63-160,qn-hub-75")
	catalog := CatalogBounds(p)
	nan := math.NaN()
	tests := []struct {
		name   string
		bounds Bounds
		want   Bounds
	}{
		{"none", Bounds{}, catalog},
		{"unset", Bounds{KV: newSpan(), Reduction: Span{nan, nan}}, catalog},
		{"kv", Bounds{KV: Span{90, 140}}, Bounds{Span{90, 140}, catalog.Reduction, catalog.Wheel}},
		{"low end", Bounds{KV: Span{Low: 140}}, Bounds{Span{140, catalog.KV.High}, catalog.Reduction, catalog.Wheel}},
		{"high end", Bounds{Wheel: Span{High: 0.1}}, Bounds{catalog.KV, catalog.Reduction, Span{catalog.Wheel.Low, 0.1}}},
		{"low end beyond the catalog", Bounds{KV: Span{Low: 400}}, Bounds{Span{400, 400}, catalog.Reduction, catalog.Wheel}},
		{"high end below the catalog", Bounds{Reduction: Span{High: 0.5}}, Bounds{catalog.KV, Span{0.5, 0.5}, catalog.Wheel}},
		{"beyond the catalog", Bounds{Wheel: Span{0.3, 0.35}}, Bounds{catalog.KV, catalog.Reduction, Span{0.3, 0.35}}},
	}
	if testing.Short() {
		tests = tests[4:6]
	}
	for _, test := range tests {
		var first string
		for _, workers := range []int{1, 3} {
			frames, complete := Ideal(t.Context(), p, test.bounds, Options{Workers: workers})
			if !complete || len(frames) != 2 {
				t.Fatalf("%s: %d frames, complete %v", test.name, len(frames), complete)
			}
			var all strings.Builder
			for _, f := range frames {
				for _, q := range []struct {
					x    float64
					span Span
				}{{f.KV, test.want.KV}, {f.Ratio, test.want.Reduction}, {f.Wheel, test.want.Wheel}} {
					if q.x < q.span.Low || q.x > q.span.High {
						t.Errorf("%s: %v of %v lies outside %v", test.name, q.x, f.Motors, q.span)
					}
				}
				fmt.Fprintln(&all, f.Motors, f.KV, f.Ratio, f.Wheel, f.Ideal.Score, f.Moves)
			}
			if first == "" {
				first = all.String()
			}
			if d := cmp.Diff(first, all.String()); d != "" {
				t.Errorf("%s: %d workers differ from one:\n%s", test.name, workers, d)
			}
		}
	}
}

// TestIdealSaysWhatItCannotMend: a can that is too long for the hanger stays
// too long, whatever its winding.
func TestIdealSaysWhatItCannotMend(t *testing.T) {
	p := textProblem(t, oneBuild, "[board]\nhanger_mm = 150\n[target]\ntop_speed_kmh = 30\n")
	frames, complete := Ideal(t.Context(), p, Bounds{}, Options{})
	if !complete || len(frames) != 1 || frames[0].Works || frames[0].Fits {
		t.Errorf("complete %v, %+v", complete, frames)
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if frames, complete := Ideal(ctx, p, Bounds{}, Options{}); complete || len(frames) > 0 {
		t.Errorf("interrupted: complete %v, %d frames", complete, len(frames))
	}
}

// TestIdealStartsFromWhatCanBeMended: of two packs that do not do, one costs a
// little too much and the other is far too slow, which another winding mends.
func TestIdealStartsFromWhatCanBeMended(t *testing.T) {
	dear := "[[battery]]\nid = \"dear\"\nseries = 20\nnominal_v = 72\nfull_v = 84\ncapacity_ah = 8\ndischarge_a = 60\nprice = 291\n"
	text := strings.Replace(oneBuild, "max_volts = 60", "max_volts = 90\nprice = 0", 1) + dear
	text = strings.NewReplacer("kv = 150", "kv = 150\nprice = 0", `id = "b"`, "id = \"b\"\nprice = 200", "ratio = 3", "ratio = 3\nprice = 0").Replace(text)
	p := textProblem(t, text, "[target]\ntop_speed_kmh = 50\n[limit]\nprice = 300\n")
	near, _ := Nearest(t.Context(), p, Options{})
	if near.Build.Battery.ID != "dear" {
		t.Fatalf("nearest is %s: the test does not test", near.Build.Battery.ID)
	}
	frames, _ := Ideal(t.Context(), p, Bounds{KV: Span{100, 500}}, Options{})
	if f := frames[0]; f.Catalog.Build.Battery.ID != "b" || !f.Works || f.Fits {
		t.Errorf("starts from %s, works %v, fits %v", f.Catalog.Build.Battery.ID, f.Works, f.Fits)
	}
}

// TestIdealMovesLittle: where another winding alone is as good as anything,
// the drive and the wheel stay.
func TestIdealMovesLittle(t *testing.T) {
	p := textProblem(t, oneBuild, "[target]\ntop_speed_kmh = 30\n[weights]\nprice = 0\nmass = 0\n")
	frames, _ := Ideal(t.Context(), p, Bounds{KV: Span{50, 300}, Reduction: Span{1, 9}, Wheel: Span{0.08, 0.2}}, Options{})
	f := frames[0]
	if f.Ratio != 3 || f.Wheel != 0.1 || f.KV == 150 {
		t.Errorf("ideal %v rpm/V, %v, %v m, want another kv alone", f.KV, f.Ratio, f.Wheel)
	}
	if v, _ := f.Ideal.Build.TopSpeed(); math.Abs(v*3.6-31.5) > 0.01 {
		t.Errorf("top speed %v km/h, want 5 %% above the target", v*3.6)
	}
	if f.NearMotor.ID != "m" || f.NearWheel.ID != "w" || len(f.NearDrives) != 1 {
		t.Errorf("nearest %s, %s, %d drives", f.NearMotor.ID, f.NearWheel.ID, len(f.NearDrives))
	}
}

// TestFrames: motors of one can are one frame; a motor whose can is not known
// is a frame of its own.
func TestFrames(t *testing.T) {
	var motors strings.Builder
	for id, can := range map[string]string{
		"f1": "can_diameter_mm = 63\ncan_length_mm = 74", "f2": "can_diameter_mm = 63\ncan_length_mm = 74", "f3": "can_diameter_mm = 63\ncan_length_mm = 84",
		"f4": "can_diameter_mm = 63", "f5": "can_diameter_mm = 63", "f6": "",
	} {
		fmt.Fprintf(&motors, "[[motor]]\nid = %q\nkv = 100\n%s\n", id, can)
	}
	p := textProblem(t, oneBuild+motors.String(), "[avoid]\nmotor = [\"m\"]\n")
	want := [][]string{{"f1", "f2"}, {"f3"}, {"f4"}, {"f5"}, {"f6"}}
	if d := cmp.Diff(want, frameGroups(p)); d != "" {
		t.Errorf("frames differ (-want +got):\n%s", d)
	}
}

// TestRewind: twice the kv is half the turns of twice the copper: a quarter of
// the resistance, twice the currents, and so the same torque for the same heat,
// the same idling losses and the same power.
func TestRewind(t *testing.T) {
	p := textProblem(t, strings.Replace(oneBuild, "kv = 150", "kv = 150\nno_load_current_a = 1.2\nmax_power_w = 2000", 1), "[target]\nclimb_grade_pct = 10\n")
	b := walk.Assemble(p, 0)
	twice := b.Tuned(2*b.Motor.KV, 2*b.Drive.Reduction, b.Wheel.Diameter)
	for name, pair := range map[string][2]float64{
		"kv":                 {twice.Motor.KV, 300},
		"resistance":         {twice.Motor.Resistance, 0.0125},
		"no-load current":    {twice.Motor.NoLoadCurrent, 2.4},
		"peak current":       {twice.Motor.PeakCurrent, 160},
		"continuous current": {twice.Motor.ContinuousCurrent, 80},
		"power":              {twice.Motor.MaxPower, 2000},
		"torque at the peak": {twice.Motor.PeakCurrent / twice.Motor.KV, b.Motor.PeakCurrent / b.Motor.KV},
		"heat at the peak":   {twice.Motor.PeakCurrent * twice.Motor.PeakCurrent * twice.Motor.Resistance, 80 * 80 * 0.05},
		"idling loss":        {twice.Motor.NoLoadCurrent / twice.Motor.KV, b.Motor.NoLoadCurrent / b.Motor.KV},
		// The same torque at the wheel through twice the reduction takes half
		// of it at the shaft, idling apart, and half of twice the amperes.
		"climb current": {twice.ClimbCurrent() - 2.4, b.ClimbCurrent() - 1.2},
		"mass":          {twice.TotalMass(), b.TotalMass()},
	} {
		if math.Abs(pair[0]-pair[1]) > 1e-12*math.Abs(pair[1]) {
			t.Errorf("%s is %v, want %v", name, pair[0], pair[1])
		}
	}
	same := b.Tuned(b.Motor.KV, b.Drive.Reduction, b.Wheel.Diameter)
	for _, f := range constraints.Figures() {
		if f.Word == nil && math.Float64bits(f.Value(same)) != math.Float64bits(f.Value(b)) && !math.IsNaN(f.Value(b)) {
			t.Errorf("tuned to itself, %s is %v, not %v", f.Name, f.Value(same), f.Value(b))
		}
	}
	if b.Motor.KV != 150 || b.Wheel.Diameter != 0.1 || b.Drive.Reduction != 3 {
		t.Error("tuning changes the build that it starts from")
	}
}

// TestNearDrives: the drives that fit, nearest first, one of each reduction.
func TestNearDrives(t *testing.T) {
	for seed := range uint64(80) {
		p, ok := randomProblem(t, seed, randcat.Small())
		if !ok {
			continue
		}
		m, w := p.Motors[0], p.Wheels[0]
		want := map[float64]bool{}
		for _, d := range p.Drives {
			b := &constraints.Build{Problem: p}
			b.Electrify(p.Batteries[0], p.Controllers[0], m, 0)
			b.Roll(d, w)
			wrong := slices.ContainsFunc(b.Results(), func(r constraints.Result) bool {
				return slices.Contains([]string{"bore", "sensor", "profile", "hub", "belt"}, r.Name) && r.Verdict == constraints.Fail
			})
			if !wrong {
				want[d.Reduction] = true
			}
		}
		got := nearDrives(p, m, w, 3, 100)
		last := 0.0
		for _, d := range got {
			if !want[d.Reduction] {
				t.Errorf("seed %d: %s does not fit, or its reduction is there twice", seed, d.Name())
			}
			delete(want, d.Reduction)
			if far := math.Abs(math.Log(d.Reduction / 3)); far < last {
				t.Errorf("seed %d: %s is nearer than the one before it", seed, d.Name())
			} else {
				last = far
			}
		}
		if len(want) > 0 {
			t.Errorf("seed %d: reductions %v are missing", seed, want)
		}
		if few := nearDrives(p, m, w, 3, 1); len(few) != min(1, len(got)) || len(few) > 0 && few[0] != got[0] {
			t.Errorf("seed %d: the nearest is not the first", seed)
		}
	}
}
