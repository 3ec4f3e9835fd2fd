package search

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"gearsearch/catalog"
	"gearsearch/constraints"
	"gearsearch/search/internal/randcat"
)

// blankEnds are the keys of a build's parts that a range stands in for, each with
// the build as it is with the key at either end, made of other catalog parts.
func blankEnds(b *constraints.Build) map[constraints.BlankKey][]*constraints.Build {
	p, out := b.Problem, map[constraints.BlankKey][]*constraints.Build{}
	add := func(key constraints.BlankKey, q *constraints.Problem) {
		end := &constraints.Build{Problem: q}
		battery, motor := b.Battery, b.Motor
		if key.Kind == "motor" {
			motor = q.Motors[0]
		} else {
			battery = q.Batteries[0]
		}
		end.Electrify(battery, b.Controller, motor, b.Count)
		end.Roll(b.Drive, b.Wheel)
		out[key] = append(out[key], end)
	}
	resistance, noLoad := constraints.MotorSpans(b.Motor.Motor)
	for _, x := range []float64{resistance.Low, resistance.High} {
		if m := *b.Motor.Motor; !resistance.None() {
			m.Resistance = x
			add(constraints.BlankKey{Kind: "motor", Key: "resistance_mohm", ID: m.ID}, p.With(constraints.OtherMotors([]*catalog.Motor{&m})))
		}
	}
	for _, x := range []float64{noLoad.Low, noLoad.High} {
		if m := *b.Motor.Motor; !noLoad.None() {
			m.NoLoadCurrent = x
			add(constraints.BlankKey{Kind: "motor", Key: "no_load_current_a", ID: m.ID}, p.With(constraints.OtherMotors([]*catalog.Motor{&m})))
		}
	}
	span := constraints.PackSpan(b.Battery.Battery)
	for _, x := range []float64{span.Low, span.High} {
		if pack := *b.Battery.Battery; !span.None() {
			key := constraints.BlankKey{Kind: "battery", Key: "resistance_mohm", ID: pack.ID}
			if pack.Cell != nil {
				key.Kind, key.ID = "cell", pack.Cell.ID
			}
			pack.Resistance = x
			add(key, p.With(constraints.OtherBatteries([]*catalog.Battery{&pack})))
		}
	}
	return out
}

// plainMeasures counts which keys decide which builds of some, one by one.
func plainMeasures(builds []*constraints.Build) []Measure {
	counts := map[constraints.BlankKey]uint64{}
	for _, b := range builds {
		open := func(b *constraints.Build) (names []string) {
			for _, r := range b.Results() {
				if r.Verdict == constraints.Undecided {
					names = append(names, r.Name)
				}
			}
			return names
		}
		now := open(b)
		for key, ends := range blankEnds(b) {
			left := slices.Concat(open(ends[0]), open(ends[1]))
			if len(now) > 0 && !slices.ContainsFunc(now, func(name string) bool { return slices.Contains(left, name) }) {
				counts[key]++
			}
		}
	}
	var out []Measure
	for key, n := range counts {
		out = append(out, Measure{key, n})
	}
	slices.SortFunc(out, func(a, b Measure) int { return a.compare(&b) })
	return out
}

// blankedProblem is a question about some of the demo parts, of which some do not
// give a key that a range stands in for.
func blankedProblem(t *testing.T, seed uint64) *constraints.Problem {
	t.Helper()
	r := rand.New(rand.NewPCG(seed, 12))
	c, err := catalog.Demo()
	if err != nil {
		t.Fatal(err)
	}
	blank := func(x *float64) {
		if r.IntN(2) == 0 {
			*x = math.NaN()
		}
	}
	for _, m := range c.Motors {
		blank(&m.Resistance)
		blank(&m.NoLoadCurrent)
	}
	for _, x := range c.Cells {
		blank(&x.Resistance)
	}
	for _, b := range c.Batteries {
		blank(&b.Resistance)
	}
	brief := constraints.DefaultBrief()
	brief.Target.TopSpeed = (20 + 25*r.Float64()) / 3.6
	brief.Target.ClimbGrade = 0.05 + 0.3*r.Float64()
	brief.Target.Range = (5 + 20*r.Float64()) * 1e3
	p, err := constraints.NewProblem(c, brief)
	if err != nil {
		t.Fatal(err)
	}
	for _, slot := range constraints.Slots() {
		if slot.Always() {
			p = p.With(constraints.Keeping(slot, func(string) bool { return r.IntN(3) == 0 }))
		}
	}
	return p
}

// TestToMeasureIsExact: which keys decide how many of all feasible builds is what
// looking at each of them gives, with any number of workers; and the same of the
// first builds where not all are looked at.
func TestToMeasureIsExact(t *testing.T) {
	t.Parallel()
	n := uint64(60)
	if testing.Short() {
		n = 15
	}
	found, kinds := 0, map[string]int{}
	for seed := range n {
		p := blankedProblem(t, seed)
		strict := seed%8 == 0
		r, err := Rank(t.Context(), p, Options{Strict: strict})
		if err != nil {
			t.Fatal(err)
		}
		var builds []*constraints.Build
		for s := range r.Builds() {
			builds = append(builds, s.Build)
		}
		want := plainMeasures(builds)
		for _, m := range want {
			found++
			kinds[m.Kind+"."+m.Key]++
		}
		for _, workers := range []int{1, 3} {
			got, complete := ToMeasure(t.Context(), r, 3, Options{Workers: workers, Strict: strict})
			if d := cmp.Diff(want, got.List); d != "" || !complete || got.Listed {
				t.Fatalf("seed %d, %d workers: complete %v, listed %v (-plain +fast):\n%s", seed, workers, complete, got.Listed, d)
			}
		}
		r.Unknown = MostMeasured + 1
		got, _ := ToMeasure(t.Context(), r, 3, Options{Strict: strict})
		if d := cmp.Diff(plainMeasures(builds[:min(3, len(builds))]), got.List); d != "" {
			t.Fatalf("seed %d: of the first three (-plain +fast):\n%s", seed, d)
		}
	}
	t.Logf("%d keys decide a build: %v", found, kinds)
	if found < 20 || len(kinds) < 3 {
		t.Errorf("only %d keys decide a build, of %v: the test does not test", found, kinds)
	}
}

// TestToMeasureEnds: an interrupt ends it, and what has nothing open has nothing
// to measure.
func TestToMeasureEnds(t *testing.T) {
	for seed := range uint64(2000) {
		p, ok := randomProblem(t, seed, randcat.Small())
		if !ok {
			continue
		}
		r, err := Rank(t.Context(), p, Options{})
		if err != nil {
			t.Fatal(err)
		}
		m, complete := ToMeasure(t.Context(), r, 0, Options{})
		if !complete || len(m.List) == 0 {
			continue
		}
		ctx, cancel := context.WithCancel(t.Context())
		cancel()
		if m, complete := ToMeasure(ctx, r, 0, Options{}); complete || m != nil {
			t.Errorf("interrupted it is complete: %+v", m)
		}
		r.Unknown = 0
		if m, complete := ToMeasure(t.Context(), r, 0, Options{}); !complete || len(m.List) > 0 {
			t.Errorf("with nothing undecided: %+v", m)
		}
		return
	}
	t.Error("no random catalog has a key to measure: the test does not test")
}

// TestFilledEndsAreTheCorners: with every blank at its low end a build is its own
// best corner, and with every one at its high end its worst.
func TestFilledEndsAreTheCorners(t *testing.T) {
	tested := 0
	for seed := range uint64(60) {
		p, ok := randomProblem(t, seed, randcat.Small())
		if !ok {
			continue
		}
		for _, m := range p.Motors {
			for _, f := range p.FillMotor(m) {
				tested++
				low, high := f.Ends[0].Drive, f.Ends[1].Drive
				switch f.Key {
				case "resistance_mohm":
					if low.Resistance != m.Best.Resistance || high.Resistance != m.Drive.Resistance {
						t.Errorf("seed %d, %s: %v to %v", seed, f.ID, low.Resistance, high.Resistance)
					}
				case "no_load_current_a":
					if low.NoLoadCurrent != m.Best.NoLoadCurrent || high.NoLoadCurrent != m.Drive.NoLoadCurrent {
						t.Errorf("seed %d, %s: %v to %v", seed, f.ID, low.NoLoadCurrent, high.NoLoadCurrent)
					}
				}
			}
		}
		for _, b := range p.Batteries {
			for _, f := range p.FillBattery(b) {
				tested++
				low, high := f.Ends[0].Pack.Resistance, f.Ends[1].Pack.Resistance
				if math.Abs(low-b.Best.Resistance) > 1e-12 || math.Abs(high-b.Pack.Resistance) > 1e-12 {
					t.Errorf("seed %d, %s: %v to %v", seed, f.ID, low, high)
				}
			}
		}
	}
	if tested < 50 {
		t.Errorf("only %d blanks: the test does not test", tested)
	}
}
