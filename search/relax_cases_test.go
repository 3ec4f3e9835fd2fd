package search

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/constraints"
	"gearsearch/constraints/ease"
)

// canned gives the motor of a catalog a can that is clear of the ground.
func canned(text string) string {
	return strings.Replace(text, "can_length_mm = 84", "can_length_mm = 84\ncan_diameter_mm = 40", 1)
}

// oneBuild is a catalog of one gear build and one belt build, of round numbers.
const oneBuild = `schema = 1
[[motor]]
id = "m"
kv = 150
pole_pairs = 7
resistance_mohm = 50
peak_current_a = 80
continuous_current_a = 40
shaft_mm = 8
can_length_mm = 84
[[controller]]
id = "c"
motor_current_a = 60
max_volts = 60
battery_current_a = 30
max_duty = 1
efficiency = 1
commutation = "six-step"
[[battery]]
id = "b"
series = 10
nominal_v = 36
full_v = 42
cutoff_v = 30
capacity_ah = 8
resistance_mohm = 80
discharge_a = 60
[[gear_drive]]
id = "g"
ratio = 3
bore_mm = 8
hub = "h"
max_torque_nm = 10
[[wheel]]
id = "w"
diameter_mm = 100
hub = "h"
price = 10
`

// belted turns the gear drive of oneBuild into two pulleys of 16 and 48 teeth
// with a belt of 60 around them, 5 mm pitch, on a mount, and a wheel above them.
func belted(text, mount string) string {
	head, _, _ := strings.Cut(text, "[[gear_drive]]")
	_, tail, _ := strings.Cut(text, "[[wheel]]")
	tail = strings.Replace(tail, "diameter_mm = 100", "diameter_mm = 120", 1)
	return head + `
[[pulley]]
id = "p"
side = "motor"
profile = "htd-5m"
teeth = 16
bore_mm = 8
[[pulley]]
id = "q"
side = "wheel"
profile = "htd-5m"
teeth = 48
hub = "h"
[[belt]]
id = "v"
profile = "htd-5m"
teeth = 60
width_mm = 15
[[mount]]
id = "o"
centre_min_mm = 50
centre_max_mm = 90
` + mount + "\n[[wheel]]" + tail
}

func textProblem(t testing.TB, catalogText, briefText string) *constraints.Problem {
	t.Helper()
	c, err := catalog.Read(field.Source{Name: "catalog.toml", Data: []byte(catalogText)})
	if err != nil {
		t.Fatal(err)
	}
	b, err := constraints.ReadBrief(field.Source{Name: "brief.toml", Data: []byte("schema = 1\n" + briefText)})
	if err != nil {
		t.Fatal(err)
	}
	p, err := constraints.NewProblem(c, b)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// TestRelaxByHand: concessions whose value can be worked out on paper.
func TestRelaxByHand(t *testing.T) {
	const rpm = 2 * math.Pi / 60
	wide := strings.Replace(oneBuild, "can_length_mm = 84", "", 1)
	tests := []struct {
		name    string
		catalog string
		brief   string
		strict  bool
		want    map[string]float64 // by key, in its unit; the rest is helpless
		pair    bool
		why     string
	}{
		{
			name: "hanger", brief: "[board]\nhanger_mm = 150", want: map[string]float64{"board.hanger_mm": 168},
			why: "two cans of 84 mm side by side",
		},
		{
			name: "hanger, length unknown", catalog: wide, brief: "[board]\nhanger_mm = 150", strict: true, want: map[string]float64{},
			why: "no hanger decides what is not known",
		},
		{
			name: "ceiling", brief: "[limit]\nerpm_ceiling = 45000", want: map[string]float64{
				"limit.erpm_ceiling":      150 * 42 * 7 / 0.95,
				"limit.erpm_headroom_pct": 100 * (1 - 150*42*7/45000.0),
			},
			why: "44 100 rpm at full charge, 5 % below the ceiling",
		},
		{
			name: "ceiling below the motor", brief: "[limit]\nerpm_ceiling = 40000", want: map[string]float64{"limit.erpm_ceiling": 150 * 42 * 7 / 0.95},
			why: "no headroom below 0",
		},
		{
			name: "the controller's own ceiling", catalog: strings.Replace(oneBuild, `id = "c"`, "id = \"c\"\nerpm_ceiling = 45000", 1),
			brief: "[limit]\nerpm_ceiling = 44500", want: map[string]float64{"limit.erpm_headroom_pct": 100 * (1 - 150*42*7/44500.0)},
			why: "a higher ceiling in the brief does not lift the controller's",
		},
		{
			name: "at speed", brief: "[target]\ntop_speed_kmh = 30\n[limit]\nerpm_rule = \"at-speed\"\nerpm_ceiling = 30000",
			want: map[string]float64{
				"target.top_speed_kmh": 3.6 * 30000 * 0.95 / 7 * rpm * 0.05 / 3,
				"limit.erpm_ceiling":   30 / 3.6 * 3 / 0.05 / rpm * 7 / 0.95,
			},
			why: "the target itself is what is held below the ceiling",
		},
		{
			name: "at speed, demoted", brief: "[target]\ntop_speed_kmh = 60\n[limit]\nerpm_rule = \"at-speed\"\nerpm_ceiling = 50000\ndemote = [\"erpm\"]",
			want: map[string]float64{"target.top_speed_kmh": math.NaN()},
			why:  "a demoted check is not eased, the speed itself still is",
		},
		{
			name: "ceiling holds the top speed", brief: "[target]\ntop_speed_kmh = 25\n[limit]\nerpm_ceiling = 20000\ndemote = [\"erpm\"]",
			want: map[string]float64{
				"target.top_speed_kmh": 3.6 * 20000 / 7 * rpm * 0.05 / 3,
				"limit.erpm_ceiling":   25 / 3.6 * 3 / 0.05 / rpm * 7,
			},
			why: "a higher ceiling is a higher top speed",
		},
		{
			name: "ceiling and greatest speed", brief: "[target]\ntop_speed_kmh = 15\ntop_speed_max_kmh = 20\n[limit]\nerpm_ceiling = 20000",
			want: map[string]float64{"target.top_speed_max_kmh": math.NaN(), "limit.erpm_ceiling": 150 * 42 * 7 / 0.95}, pair: true,
			why: "the ceiling that the free motor takes lets the board run faster than it may",
		},
		{
			name: "price", brief: "[limit]\nprice = 5", want: map[string]float64{"limit.price": 10},
			why: "one set of wheels; what else costs nothing is not known",
		},
		{
			name: "price, strictly", brief: "[limit]\nprice = 5", strict: true, want: map[string]float64{},
			why: "the other prices are not known",
		},
		{
			name: "mesh", catalog: belted(oneBuild, ""), brief: "[limit]\nmesh_teeth = 9", want: map[string]float64{"limit.mesh_teeth": 5},
			why: "C = 64.9 mm, wrap 133.8°: 5.9 teeth of 16",
		},
		{
			name: "idler", catalog: belted(oneBuild, "idler = true"), brief: "[limit]\nmesh_teeth = 9", want: nil,
			why: "an idler may add what is missing: undecided, and feasible",
		},
		{
			name: "idler, strictly", catalog: canned(belted(oneBuild, "idler = true")), brief: "[limit]\nmesh_teeth = 9", strict: true,
			want: map[string]float64{"limit.mesh_teeth": 5},
			why:  "without the idler it passes at the count",
		},
		{
			name: "belt of an idler, strictly", catalog: canned(belted(oneBuild, "idler = true")), brief: "[target]\nclimb_grade_pct = 40\n[limit]\nmesh_teeth = 0", strict: true,
			want: map[string]float64{"target.climb_grade_pct": math.NaN()},
			why:  "on a lesser hill the belt bears it without the idler's help",
		},
		{
			name: "no thrust known", catalog: strings.Replace(oneBuild, "resistance_mohm = 50", "", 1), brief: "[rider]\ndrag_area_m2 = 0.55\n[target]\ntop_speed_kmh = 60",
			want: map[string]float64{"target.top_speed_kmh": 33.046219447029536},
			why:  "without any resistance in the motor the sag of the pack alone holds it: (36 − 60 k v) / 0.16 A balance the load there",
		},
		{
			name: "cruise beyond the top speed", catalog: strings.Replace(oneBuild, "capacity_ah = 8", "", 1), brief: "[target]\nrange_km = 5\ncruise_kmh = 80",
			want: map[string]float64{"target.cruise_kmh": math.NaN()},
			why:  "at the top speed the range is no longer failed, but not known",
		},
		{
			name: "gear torque", brief: "[rider]\ndrag_area_m2 = 0.55\n[target]\nclimb_grade_pct = 60\nclimb_speed_kmh = 1.5\n[limit]\ndemote = [\"climb\", \"heat\"]",
			want: map[string]float64{"target.climb_grade_pct": gradeOf(85, 2*10/0.05, 1.5/3.6)},
			why:  "two wheels of 10 N·m on 50 mm",
		},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			text := test.catalog
			if text == "" {
				text = oneBuild
			}
			p := textProblem(t, text, test.brief+"\n")
			r := Relax(t.Context(), p, RelaxOptions{Options: Options{Strict: test.strict}})
			if !r.Complete || r.Pairs != test.pair {
				t.Fatalf("%s: complete %v, pairs %v", test.why, r.Complete, r.Pairs)
			}
			if test.want == nil {
				if r.Feasible != 1 || len(r.Openings)+len(r.Helpless) > 0 {
					t.Errorf("%s: %d feasible, %d openings, %d helpless", test.why, r.Feasible, len(r.Openings), len(r.Helpless))
				}
				return
			}
			got := map[string]float64{}
			for _, opening := range r.Openings {
				checkOpening(t, test.why, p, opening, 1, test.strict)
				for _, g := range opening.Concessions {
					got[g.Key] = g.To * g.PerSI
				}
			}
			for key, want := range test.want {
				if x, ok := got[key]; !ok || !math.IsNaN(want) && math.Abs(x-want) > 1e-8*math.Abs(want) {
					t.Errorf("%s: %s is %v (%v), want %v", test.why, key, x, ok, want)
				}
			}
			if len(got) != len(test.want) {
				t.Errorf("%s: got %v", test.why, got)
			}
		})
	}
}

// TestRelaxPairOfTwoBuilds: one of two builds climbs only more slowly than the other, and
// turns its wheels with more torque there than the other where that climbs just so. As
// slowly as the first must go the other has torque to spare: no more of the torque is
// conceded than both leave at that speed.
func TestRelaxPairOfTwoBuilds(t *testing.T) {
	low := `
[[gear_drive]]
id = "low"
ratio = 5
bore_mm = 8
hub = "k"
max_torque_nm = 20
[[wheel]]
id = "large"
diameter_mm = 120
hub = "k"
price = 10
`
	p := textProblem(t, oneBuild+low, "[target]\nclimb_grade_pct = 5\nclimb_speed_kmh = 40\nhill_torque_nm = 60\n")
	r := Relax(t.Context(), p, RelaxOptions{Builds: 2})
	if !r.Pairs || len(r.Openings) != 1 || r.Openings[0].Concessions[0].Key != "target.climb_speed_kmh" || r.Openings[0].Concessions[1].Key != "target.hill_torque_nm" {
		t.Fatalf("opened by %+v", r.Openings)
	}
	speed, torque := r.Openings[0].Concessions[0], r.Openings[0].Concessions[1]
	brief := p.Brief.Clone()
	brief.Target.ClimbSpeed = speed.To
	q, err := constraints.NewProblem(p.Catalog, brief)
	if err != nil {
		t.Fatal(err)
	}
	left := map[string]float64{} // N·m at the speed conceded, by wheel
	eachBuild(q, func(b *constraints.Build, _ uint64) {
		if (b.Drive.Gear.ID == "low") == (b.Wheel.ID == "large") {
			left[b.Wheel.ID] = b.HillTorque()
		}
	})
	if left["w"] < 2*left["large"] {
		t.Fatalf("the wheels are left %v N·m at %v m/s: the test does not test", left, speed.To)
	}
	if math.Abs(torque.To-left["large"]) > 1e-8*torque.To {
		t.Errorf("the torque gives way to %v N·m, where builds have %v at %v m/s", torque.To, left, speed.To)
	}
}

// gradeOf is the grade in percent on which a mass (kg) with urethane tyres on
// asphalt takes a force (N) at a speed (m/s), by halving.
func gradeOf(mass, force, v float64) float64 {
	low, high := 0.0, math.Pi/2
	for range 200 {
		theta := (low + high) / 2
		if mass*9.80665*(math.Sin(theta)+0.018*math.Cos(theta))+0.5*1.225*0.55*v*v < force {
			low = theta
		} else {
			high = theta
		}
	}
	return 100 * math.Tan(low)
}

// TestRelaxAlikeForAnyWorkers: the same bits, whatever the number of workers.
func TestRelaxAlikeForAnyWorkers(t *testing.T) {
	t.Parallel()
	for seed := range uint64(120) {
		strict := seed%4 == 0
		p, _ := hardened(t, seed, int(seed%4), strict)
		if p == nil {
			continue
		}
		var first *Relaxed
		for _, workers := range []int{1, 2, 7} {
			r := Relax(t.Context(), p, RelaxOptions{Options: Options{Strict: strict, Workers: workers}, Builds: 1 + int(seed%5)})
			if first == nil {
				first = r
				continue
			}
			alike := cmp.Options{
				cmpopts.IgnoreFields(ease.Concession{}, "Value"), cmpopts.IgnoreUnexported(ease.Concession{}),
				cmp.Comparer(func(a, b *constraints.Build) bool { return a.File().IDs == b.File().IDs }),
			}
			if d := cmp.Diff(first, r, alike); d != "" {
				t.Fatalf("seed %d, %d workers (-one +more):\n%s", seed, workers, d)
			}
		}
	}
}

// TestRelaxInterrupted: what is cut short says so and claims nothing.
func TestRelaxInterrupted(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	r := Relax(ctx, textProblem(t, oneBuild, "[limit]\nprice = 5\n"), RelaxOptions{})
	if r.Complete || len(r.Openings)+len(r.Helpless) > 0 {
		t.Errorf("complete %v, %d openings, %d helpless", r.Complete, len(r.Openings), len(r.Helpless))
	}
}

// TestPairsOfConcessionsHaveRoom: every pair of concessions has a number.
func TestPairsOfConcessionsHaveRoom(t *testing.T) {
	n := len(allConcessions)
	if room := 64 * len(attempts{}); n*(n-1)/2 > room {
		t.Errorf("%d pairs, and room for %d", n*(n-1)/2, room)
	}
}

// TestConcessionsAreKeys: each is a key of the brief, and together they are
// those that this package's tests know, in the order of the brief.
func TestConcessionsAreKeys(t *testing.T) {
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
[ride]
ascent_m_per_km = 10
wind_kmh = 10
[limit]
erpm_ceiling = 60000
price = 1000
mass_kg = 20
`
	var got []string
	for _, c := range ease.Concessions(textProblem(t, belted(oneBuild, ""), brief)) {
		got = append(got, c.Key)
		i := slices.IndexFunc(briefKeys(), func(k constraints.BriefKey) bool { return k.Section+"."+k.Key == c.Key })
		if i < 0 {
			t.Fatalf("a brief has no key %s", c.Key)
		}
		k := briefKeys()[i]
		if k.Per != c.PerSI || k.Unit != "" && k.Unit != c.Unit {
			t.Errorf("%s is in %q, %v per SI unit; the brief has %q, %v", c.Key, c.Unit, c.PerSI, k.Unit, k.Per)
		}
	}
	if d := cmp.Diff(allConcessions, got); d != "" {
		t.Errorf("concessions differ (-want +got):\n%s", d)
	}
}

// TestShownOpensToo: a value as it is shown asks for no more, is near, and is
// shown as itself.
func TestShownOpensToo(t *testing.T) {
	all := ease.Concessions(textProblem(t, oneBuild, "[target]\nclimb_grade_pct = 10\n[limit]\nprice = 1000\n"))
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.SampledFrom(all).Draw(t, "concession")
		x := math.Pow(10, rapid.Float64Range(-4, 6).Draw(t, "exponent"))
		digits := rapid.IntRange(2, 6).Draw(t, "digits")
		shown := c.Shown(x, digits)
		exact := x * c.PerSI
		if math.Abs(shown-exact) > 1.000001*math.Pow(10, 1-float64(digits))*exact {
			t.Fatalf("%s: %v is shown as %v", c.Key, exact, shown)
		}
		if float64(c.Eases)*shown < float64(c.Eases)*exact-2e-9*exact {
			t.Fatalf("%s: %v is shown as %v, which asks for more", c.Key, exact, shown)
		}
		if again := c.Shown(shown/c.PerSI, digits); again != shown {
			t.Fatalf("%s: %v is shown as %v", c.Key, shown, again)
		}
	})
	for _, c := range all {
		if got := c.Shown(0, 4); got != 0 {
			t.Errorf("%s: 0 is shown as %v", c.Key, got)
		}
	}
}
