package search

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"gearsearch/constraints"
	"gearsearch/constraints/kittest"
)

// plainWant puts the parts of a trial in the slot one by one, those that differ
// least first, and looks at every build: the difference at which the first is
// feasible, and the best score and price there.
func plainWant(of *constraints.Problem, t trial, strict bool) (difference float64, score, price int64, found bool) {
	price = math.MaxInt64
	for i := range t.n {
		if found && units(t.difference(i)) > units(difference) {
			break
		}
		q := of.With(t.with(i, i+1))
		eachBuild(q, func(b *constraints.Build, _ uint64) {
			if b.Rejected(strict) {
				return
			}
			s, p := micro(ScoreBuild(b).Score), micro(b.Price().Total())
			if !found || s > score || s == score && p < price {
				difference, score, price, found = t.difference(i), s, p, true
			}
		})
	}
	return difference, score, price, found
}

// TestWantsIsPlain: the part that is missing in a slot is the one that one
// finds by putting every part that is looked at into the slot by itself.
func TestWantsIsPlain(t *testing.T) {
	t.Parallel()
	n := uint64(230)
	if testing.Short() {
		n = 30
	}
	missing, hopeless := map[constraints.Slot]int{}, map[constraints.Slot]int{}
	for seed := range n {
		strict := seed%5 == 0
		p, _ := hardened(t, seed, 1+int(seed%2), strict)
		if p == nil {
			continue
		}
		if tally, _ := plain(p, strict); tally.Feasible > 0 {
			if w := Wants(t.Context(), p, Options{Strict: strict}); !w.Complete || len(w.Missing)+len(w.Hopeless) > 0 {
				t.Fatalf("seed %d: something is feasible, and %d parts are missing", seed, len(w.Missing))
			}
			continue
		}
		w := Wants(t.Context(), p, Options{Strict: strict, Workers: 1 + int(seed%3)})
		if !w.Complete {
			t.Fatalf("seed %d: not complete", seed)
		}
		at := 0
		for i, trial := range trials(p) {
			if (seed+uint64(i))%4 != 0 { // a quarter of the slots, for time
				continue
			}
			difference, score, price, found := plainWant(p, trial, strict)
			at = slices.IndexFunc(w.Missing, func(m Missing) bool { return m.Slot == trial.slot })
			switch {
			case trial.n == 0:
				if at >= 0 || slices.Contains(w.Hopeless, trial.slot) {
					t.Fatalf("seed %d: there is nothing to vary for %s", seed, trial.slot)
				}
			case !found:
				hopeless[trial.slot]++
				if at >= 0 || !slices.Contains(w.Hopeless, trial.slot) {
					t.Fatalf("seed %d: no %s opens anything, and one is missing", seed, trial.slot)
				}
			case at < 0:
				t.Fatalf("seed %d: a %s opens a build at a difference of %v, and none is missing", seed, trial.slot, difference)
			default:
				missing[trial.slot]++
				m := w.Missing[at]
				if math.Abs(m.Difference-difference) > 2*costUnit || micro(m.Build.Score) != score || micro(m.Build.Build.Price().Total()) != price {
					t.Fatalf("seed %d: %v: difference %v, score %v, price %v; plainly %v, %v, %v", seed, m.Facts, m.Difference,
						m.Build.Score, m.Build.Build.Price().Total(), difference, float64(score)/1e6, float64(price)/1e6)
				}
				trial.batch = 1
				again, _ := trial.search(t.Context(), p, Options{Strict: strict})
				if again == nil || !slices.Equal(again.Facts, m.Facts) || !same(again.Build.Build, m.Build.Build) {
					t.Fatalf("seed %d: %v, and in small batches %v", seed, m.Facts, again)
				}
				if m.Build.Build.Rejected(strict) || m.Like != m.Build.Build.ID(trial.slot) {
					t.Fatalf("seed %d: %v is rejected, or not like %s", seed, m.Facts, m.Like)
				}
				if len(m.Facts) == 0 || !slices.ContainsFunc(m.Facts, func(f Fact) bool { return f.Changed }) {
					t.Fatalf("seed %d: %s: nothing of it differs: %v", seed, m.Slot, m.Facts)
				}
			}
		}
	}
	t.Logf("missing %v, hopeless %v", missing, hopeless)
	if !testing.Short() && (len(missing) < 5 || len(hopeless) < 9) {
		t.Errorf("missing %v, hopeless %v: the test does not test", missing, hopeless)
	}
}

// TestWantsAlikeForAnyWorkers: the same answer, whatever the number of workers
// and of parts in a batch.
func TestWantsAlikeForAnyWorkers(t *testing.T) {
	t.Parallel()
	changes := []string{"target.climb_grade_pct=40", "target.range_km=70"}
	if testing.Short() {
		changes = changes[:1]
	}
	for _, change := range changes {
		p := kittest.Demo(t, "harbour", change, "keep.motor=ov-63m-145,hd-63-160", "keep.gear_drive=uw-street")
		var first *Wanted
		for _, workers := range []int{1, 5} {
			w := Wants(t.Context(), p, Options{Workers: workers})
			if first == nil {
				first = w
				continue
			}
			alike := cmp.Options{cmpopts.EquateNaNs(), cmp.Comparer(func(a, b Scored) bool { return a.Score == b.Score && same(a.Build, b.Build) })}
			if d := cmp.Diff(first, w, alike); d != "" {
				t.Errorf("%s, %d workers (-one +more):\n%s", change, workers, d)
			}
		}
	}
}

// TestWantsFacts: parts whose lack is plain to see, with what matters of them.
func TestWantsFacts(t *testing.T) {
	swap := func(text string, pairs ...string) string { return strings.NewReplacer(pairs...).Replace(text) }
	belts := belted(oneBuild, "")
	const cells = `[[cell]]
id = "e"
nominal_v = 3.6
full_v = 4.2
cutoff_v = 3
capacity_ah = 3
resistance_mohm = 20
discharge_a = 20
price = 5
mass_g = 50
[[battery]]
id = "pack"
series = 10
parallel = 3
cell = "e"
price = 300
wiring_mohm = 10
`
	tests := []struct {
		name       string
		catalog    string
		brief      string
		slot       constraints.Slot
		difference float64
		facts      string
		why        string
	}{
		{
			name: "bore", catalog: swap(belts, "teeth = 16\nbore_mm = 8", "teeth = 16\nwidth_mm = 15\nbore_mm = 10"), slot: constraints.SlotMotorPulley,
			difference: 0.1,
			facts:      "teeth 16, profile htd-5m, width_mm 15, bore_mm 8*, shaft_key plain*", why: "the shaft is 8 mm, the pulley 10 mm",
		},
		{
			name: "key", catalog: swap(belts, "shaft_mm = 8", "shaft_mm = 8\nshaft_key = \"flat\"", "teeth = 16\nbore_mm = 8", "teeth = 16\nbore_mm = 10\nshaft_key = \"keyway\""),
			slot: constraints.SlotMotorPulley, difference: 0.2,
			facts: "teeth 16, profile htd-5m, bore_mm 8*, shaft_key plain*", why: "clamped or with a flat differs alike, clamped comes first",
		},
		{
			name: "teeth", catalog: swap(belts, "teeth = 16\nbore_mm = 8", "teeth = 40\nbore_mm = 8"), brief: "[target]\ntop_speed_max_kmh = 49\n", slot: constraints.SlotMotorPulley,
			difference: math.Log(40.0 / 17),
			facts:      "teeth 17*, profile htd-5m, bore_mm 8, shaft_key plain*", why: "with a full pack 48 over 17 runs 47.4 km/h, 48 over 18 runs 49.7",
		},
		{
			name: "hub", catalog: swap(belts, "teeth = 48\nhub = \"h\"", "teeth = 48\nhub = \"other\""), slot: constraints.SlotWheelPulley,
			difference: 0.1,
			facts:      "teeth 48, profile htd-5m, hub h*", why: "the wheel has another hub",
		},
		{
			name: "belt", catalog: swap(belts, "teeth = 60", "teeth = 80"), slot: constraints.SlotBelt,
			difference: math.Log(80.0 / 69),
			facts:      "teeth 69*, profile htd-5m, width_mm 15", why: "69 teeth give 88.8 mm, 70 give 91.4",
		},
		{
			name: "mount", catalog: swap(belts, "centre_min_mm = 50\ncentre_max_mm = 90", "centre_min_mm = 80\ncentre_max_mm = 90"), slot: constraints.SlotMount,
			difference: math.Log(85.0 / 69),
			facts:      "centre_min_mm 64*, centre_max_mm 74*, idler false", why: "the belt gives 64.9 mm",
		},
		{
			name: "wheel", catalog: oneBuild, brief: "[limit]\nground_clearance_mm = 30\n", slot: constraints.SlotWheel, // outside size not given
			why: "the gear drive's size is not known, so nothing is missing",
		},
		{
			name: "wheel above the drive", catalog: swap(oneBuild, "ratio = 3", "ratio = 3\noutside_mm = 60"), brief: "[limit]\nground_clearance_mm = 22\n", slot: constraints.SlotWheel,
			difference: math.Log(1.05), facts: "diameter_mm 105*, hub h", why: "52.5 mm less 30 mm is 22.5 mm",
		},
		{
			name: "ratio", catalog: oneBuild, brief: "[target]\ntop_speed_max_kmh = 29.17\n", slot: constraints.SlotGearDrive,
			difference: math.Log(4.0 / 3), facts: "ratio 4*, bore_mm 8, hub h",
			why: "116 km/h of a full pack over the ratio, less losses, is at most 29.17",
		},
		{
			name: "gear for another shaft", catalog: swap(oneBuild, "shaft_mm = 8", "shaft_mm = 11"), slot: constraints.SlotGearDrive,
			difference: 0.1, facts: "ratio 3, bore_mm 11*, shaft_key plain*, hub h", why: "the bore is 8 mm",
		},
		{
			name: "series", catalog: swap(oneBuild, "[[battery]]", cells+"[[battery]]"), brief: "[target]\ntop_speed_kmh = 39\n[avoid]\nbattery = [\"b\"]\n", slot: constraints.SlotBattery,
			difference: math.Log(1.2), facts: "series 12*, parallel 3, cell e",
			why: "ten in series reach 32.8 km/h",
		},
		{
			name: "volts", catalog: swap(oneBuild, "max_volts = 60", "max_volts = 40"), slot: constraints.SlotController,
			difference: 0.1, facts: "max_volts 42*, motor_current_a 60, battery_current_a 30", why: "ten full cells",
		},
		{
			name: "electrical rpm", catalog: swap(oneBuild, "max_volts = 60", "max_volts = 60\nerpm_ceiling = 40000"), slot: constraints.SlotController,
			difference: 0.1,
			facts:      "erpm_ceiling 47000*, motor_current_a 60, battery_current_a 30", why: "44 100 rpm below 95 % of it is 46 421 rpm",
		},
		{
			name: "current", catalog: oneBuild, brief: "[target]\nhill_torque_nm = 24\nclimb_speed_kmh = 4\n[limit]\nheat_factor = 3\n", slot: constraints.SlotController,
			difference: math.Log(1.25),
			facts:      "motor_current_a 75*, battery_current_a 37.5*", why: "two motors of 60 A through 3:1 give 22.2 N·m, of 75 A 27.8",
		},
		{
			name: "winding", catalog: oneBuild, brief: "[target]\ntop_speed_max_kmh = 29.17\n", slot: constraints.SlotMotor,
			difference: math.Log(150.0 / 110),
			facts:      "kv 110*, resistance_mohm 92.975206612*, peak_current_a 58.666666667*, continuous_current_a 29.333333333*", why: "a slower winding is slower",
		},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			w := Wants(t.Context(), textProblem(t, test.catalog, test.brief), Options{})
			if !w.Complete {
				t.Fatal("not complete")
			}
			i := slices.IndexFunc(w.Missing, func(m Missing) bool { return m.Slot == test.slot })
			if test.facts == "" {
				if len(w.Missing)+len(w.Hopeless) > 0 {
					t.Errorf("%s: %v", test.why, w)
				}
				return
			}
			if i < 0 {
				t.Fatalf("%s: no %s is missing; hopeless are %v", test.why, test.slot, w.Hopeless)
			}
			m := w.Missing[i]
			var facts []string
			for _, f := range m.Facts {
				star := ""
				if f.Changed {
					star = "*"
				}
				facts = append(facts, fmt.Sprintf("%s %v%s", f.Key, f.Value, star))
			}
			if strings.Join(facts, ", ") != test.facts || math.Abs(m.Difference-test.difference) > 1e-9 {
				t.Errorf("%s:\n got %s, differing by %v\nwant %s, %v", test.why, strings.Join(facts, ", "), m.Difference, test.facts, test.difference)
			}
		})
	}
}

// TestWishes: how many parts are looked at, none that is there already, each
// with the price and mass of the part it is like.
func TestWishes(t *testing.T) {
	p := kittest.Demo(t, "harbour")
	count := func(list int, slot constraints.Slot, want int, why string) {
		if list != want {
			t.Errorf("%d parts for %s, want %d: %s", list, slot, want, why)
		}
	}
	count(len(wishedBatteries(p)), constraints.SlotBattery, 4*15*5, "four cells, 6 to 20 in series, 1 to 5 in parallel")
	count(len(wishedControllers(p)), constraints.SlotController, 6*5*4+5*2, "five currents, two limits or not; one controller has no ceiling to lift")
	count(len(wishedMotorPulleys(p)), constraints.SlotMotorPulley, 4*6*15, "four widths, six shafts with or without a key, 10 to 24 teeth")
	count(len(wishedMounts(p)), constraints.SlotMount, 4*101, "four kinds, 40 to 240 mm")
	count(len(wishedBelts(p)), constraints.SlotBelt, 3*(190-27+1)+2*(216-42+1), "three widths of 5 mm belts, two of 3 mm")
	for _, trial := range trials(p) {
		last := 0.0
		for i := range trial.n {
			d := trial.difference(i)
			if d < costUnit || units(d) < units(last) {
				t.Fatalf("%s: part %d differs by %v, the one before it by %v", trial.slot, i, d, last)
			}
			last = d
		}
	}
	for _, w := range wishedMotorPulleys(p) {
		// No real pulley is nearer than the one that it is said to be like.
		for _, real := range p.MotorPulleys {
			d := math.Abs(math.Log(float64(w.part.Teeth) / float64(real.Teeth)))
			for _, differs := range []bool{
				w.part.Profile != real.Profile, w.part.Width != real.Width, w.part.Bore != real.Bore, w.part.ShaftKey != real.ShaftKey,
			} {
				if differs {
					d += 0.1
				}
			}
			if d < w.difference-1e-12 || real == w.like && math.Abs(d-w.difference) > 1e-12 {
				t.Fatalf("a pulley of %d teeth differs from %s by %v, and is said to differ from %s by %v", w.part.Teeth, real.ID, d, w.like.ID, w.difference)
			}
		}
		if w.part.Price != w.like.Price && !math.IsNaN(w.like.Price) || w.part.Mass != w.like.Mass || w.part.Owned {
			t.Fatalf("price %v and mass %v of a pulley like %s", w.part.Price, w.part.Mass, w.like.ID)
		}
	}
	for _, w := range wishedBatteries(p) {
		more := w.part.Series * w.part.Parallel / (w.like.Series * packStrings(w.like))
		if math.Abs(w.part.PackPrice()-w.like.PackPrice()*more) > 1e-9 || w.part.Cell == nil {
			t.Fatalf("%v in series, %v in parallel cost %v, and %s costs %v", w.part.Series, w.part.Parallel, w.part.PackPrice(), w.like.ID, w.like.PackPrice())
		}
	}
	for _, w := range wishedMotors(p) {
		if got := w.part.Resistance * w.part.KV * w.part.KV; math.Abs(got-w.like.Resistance*w.like.KV*w.like.KV) > 1e-9 {
			t.Fatalf("%v rpm/V of %s has %v Ω", w.part.KV, w.like.ID, w.part.Resistance)
		}
	}
}

// TestWantsOfUnknown: where no shaft and no hub is known, the parts vary in what
// is; and where there is no belt drive, none is missing.
func TestWantsOfUnknown(t *testing.T) {
	bare := strings.NewReplacer("shaft_mm = 8\n", "", "bore_mm = 8\n", "", "hub = \"h\"\n", "").Replace
	p := textProblem(t, bare(belted(oneBuild, "")), "[target]\ntop_speed_max_kmh = 30\n")
	if got := len(wishedMotorPulleys(p)); got != 15 {
		t.Errorf("%d motor pulleys, want one for each number of teeth", got)
	}
	if got := len(wishedWheelPulleys(p)); got != 51 {
		t.Errorf("%d wheel pulleys, want one for each number of teeth", got)
	}
	w := Wants(t.Context(), p, Options{})
	for _, m := range w.Missing {
		unknown := slices.ContainsFunc(m.Facts, func(f Fact) bool {
			x, number := f.Value.(float64)
			return number && math.IsNaN(x)
		})
		if unknown || m.Slot == constraints.SlotMotorPulley && !slices.Equal(m.Facts, []Fact{{"teeth", 14.0, true}, {"profile", "htd-5m", false}}) {
			t.Errorf("%s: %v", m.Slot, m.Facts)
		}
	}
	p = textProblem(t, oneBuild, "[target]\ntop_speed_max_kmh = 29.17\n")
	w = Wants(t.Context(), p, Options{})
	for _, m := range w.Missing {
		if slices.Contains([]constraints.Slot{constraints.SlotBelt, constraints.SlotMount, constraints.SlotMotorPulley, constraints.SlotWheelPulley}, m.Slot) {
			t.Errorf("%s is missing: %v", m.Slot, m.Facts)
		}
	}
	if slices.Contains(w.Hopeless, constraints.SlotBelt) {
		t.Error("no belt was looked at, and belts are hopeless")
	}
}

// TestWantsInterrupted: what is cut short says so.
func TestWantsInterrupted(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	p := kittest.Demo(t, "harbour", "target.range_km=300")
	if w := Wants(ctx, p, Options{Strict: true, Progress: func(float64, float64) { cancel() }}); w.Complete || len(w.Missing)+len(w.Hopeless) > 8 {
		t.Errorf("complete %v, %d and %d slots", w.Complete, len(w.Missing), len(w.Hopeless))
	}
	if w := Wants(ctx, p, Options{Strict: true}); w.Complete || len(w.Missing)+len(w.Hopeless) > 0 {
		t.Errorf("complete %v, %d and %d slots", w.Complete, len(w.Missing), len(w.Hopeless))
	}
}
