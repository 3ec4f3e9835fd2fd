package search

import (
	"math"
	"slices"
	"strings"
	"testing"

	"gearsearch/constraints"
	"gearsearch/search/internal/randcat"
)

// TestIdealLooksFromOtherBases: of two packs the one that scores more never has
// the range, and the other has it and wants only another winding; likewise of
// two controllers the cheaper never climbs.
func TestIdealLooksFromOtherBases(t *testing.T) {
	big := "[[battery]]\nid = \"big\"\nseries = 10\nnominal_v = 36\nfull_v = 42\ncutoff_v = 30\ncapacity_ah = 30\nresistance_mohm = 80\ndischarge_a = 60\nprice = 300\n"
	weak := "[[controller]]\nid = \"weak\"\nmotor_current_a = 2\nmax_volts = 60\nbattery_current_a = 30\nmax_duty = 1\nefficiency = 1\nprice = 1\n"
	priced := strings.NewReplacer(`id = "b"`, "id = \"b\"\nprice = 10", `id = "c"`, "id = \"c\"\nprice = 200", "ratio = 3", "ratio = 3\nprice = 0", "kv = 150", "kv = 150\nprice = 0").Replace(oneBuild)
	tests := []struct {
		name, catalog, brief string
		slot                 constraints.Slot
		first, want          string
	}{
		{"battery", priced + big, "[target]\ntop_speed_kmh = 55\nrange_km = 45\n[weights]\nrange = 0\n", constraints.SlotBattery, "b", "big"},
		{"controller", priced + weak, "[target]\ntop_speed_kmh = 55\nclimb_grade_pct = 12\n[weights]\nclimb = 0\ncool = 0\n", constraints.SlotController, "weak", "c"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			p := textProblem(t, test.catalog, test.brief)
			base, _ := startFrom(t.Context(), p, Options{})
			if base.ID(test.slot) != test.first {
				t.Fatalf("the first base has %s: the test does not test", base.ID(test.slot))
			}
			frames, complete := Ideal(t.Context(), p, Bounds{KV: Span{100, 500}}, Options{})
			if f := frames[0]; !complete || !f.Works || f.Fits || f.Catalog.Build.ID(test.slot) != test.want || f.Bases < 2 || f.Left != 0 {
				t.Errorf("complete %v: from %s, works %v, fits %v, of %d bases, %d left", complete, f.Catalog.Build.ID(test.slot), f.Works, f.Fits, f.Bases, f.Left)
			}
		})
	}
}

// TestIdealMissesNothing: of a frame that is said not to do it, no build that
// passes what kv, reduction and wheel cannot mend does it on a grid of these.
func TestIdealMissesNothing(t *testing.T) {
	t.Parallel()
	const steps = 4
	seeds := uint64(60)
	if testing.Short() {
		seeds = 4
	}
	works, elsewhere, failing := 0, 0, 0
	for seed := range seeds {
		p, _ := hardened(t, seed, 2, false)
		if p == nil {
			continue
		}
		bounds := CatalogBounds(p)
		box := []interval{bounds.KV.or(Span{}), bounds.Reduction.or(Span{}), bounds.Wheel.or(Span{})}
		frames, complete := Ideal(t.Context(), p, Bounds{}, Options{})
		if !complete {
			t.Fatalf("seed %d: not complete", seed)
		}
		for _, f := range frames {
			switch {
			case f.Works:
				works++
				if f.Bases > 1 {
					elsewhere++
				}
				continue
			case f.Left > 0:
				t.Fatalf("seed %d: %d bases left", seed, f.Left)
			}
			failing++
			q := p.With(constraints.Keeping(constraints.SlotMotor, func(id string) bool { return slices.Contains(f.Motors, id) }))
			eachBuild(q, func(b *constraints.Build, id uint64) {
				if id%8 != seed%8 || slices.ContainsFunc(b.Results(), func(r constraints.Result) bool {
					return r.Rejects(false) && !slices.Contains(mendable(q), r.Check)
				}) {
					return
				}
				for i := range steps * steps * steps {
					x := []float64{float64(i % steps), float64(i / steps % steps), float64(i / steps / steps)}
					for d := range x {
						x[d] = box[d].at(x[d] / (steps - 1))
					}
					if tuned := b.Tuned(x[0], x[1], x[2]); !tuned.Rejected(false) {
						t.Errorf("seed %d: %v is said not to do it, and %s with %v does", seed, f.Motors, b.Drive.Name(), x)
						return
					}
				}
			})
		}
	}
	t.Logf("%d frames work, %d of them from another base; %d do not", works, elsewhere, failing)
	if !testing.Short() && (elsewhere == 0 || failing == 0) {
		t.Error("the test does not test")
	}
}

// TestNearestFitEachOther: the drives that are named as nearest fit the motor
// and the wheel that are named as nearest.
func TestNearestFitEachOther(t *testing.T) {
	t.Parallel()
	named := 0
	for seed := range uint64(6) {
		p, ok := randomProblem(t, seed, randcat.Small())
		if !ok {
			continue
		}
		frames, _ := Ideal(t.Context(), p, Bounds{}, Options{})
		for _, f := range frames {
			for _, d := range f.NearDrives {
				named++
				b := &constraints.Build{Problem: p}
				b.Electrify(p.Batteries[0], p.Controllers[0], f.NearMotor, 0)
				b.Roll(d, f.NearWheel)
				for _, r := range b.Results() {
					if slices.Contains([]string{"bore", "profile", "hub", "belt"}, r.Name) && r.Verdict == constraints.Fail {
						t.Errorf("seed %d: %s fails %s on %s with %s", seed, d.Name(), r.Name, f.NearMotor.ID, f.NearWheel.ID)
					}
				}
			}
			if len(f.NearDrives) > 0 || math.IsNaN(f.Wheel) {
				continue
			}
			for _, w := range p.Wheels {
				if drives := nearDrives(p, f.NearMotor, w, f.Ratio, 1); len(drives) > 0 {
					t.Errorf("seed %d: no drive is named, and %s fits %s with %s", seed, drives[0].Name(), f.NearMotor.ID, w.ID)
				}
			}
		}
	}
	if named == 0 {
		t.Error("no drive was named")
	}
}
