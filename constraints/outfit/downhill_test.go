package outfit

import (
	"math"
	"testing"

	"gearsearch/constraints/outfit/outfittest"
	"gearsearch/drive"

	"pgregory.net/rapid"
)

// By hand, for the kit at 12 km/h: a full pack takes nothing; the motors' 1 A at
// no load holds 2 × 0.0636620 × 3/0.05/0.96 = 7.958 N, the air 3.743 N, of 833.565 N
// of weight, and rolling 0.018 of it: sin θ − 0.018 cos θ = 0.014037, 3.2044 %. At
// 0.9 the volts would allow (42 − 40.53) V / 0.1 Ω = 14.7 A, the cells 2 × 4 A.
func TestDownhillByHand(t *testing.T) {
	d := outfitOf(t).Downhill
	near(t, "speed", d.Speed, 12/3.6, 1e-12)
	full, most, half := d.Slopes[0], d.Slopes[1], d.Slopes[2]
	near(t, "full", full.Grade, 0.032044, 1e-4)
	near(t, "current at 0.9", most.Intake.Current, 8, 1e-12)
	near(t, "volts at 0.9", most.Intake.OpenCircuit, 40.53, 1e-12)
	near(t, "pack current at 0.9", most.PackCurrent, 8, 1e-9)
	near(t, "volts at half", half.Intake.OpenCircuit, 36.414, 1e-12)
	if full.By != drive.BatteryCurrent || !full.Intake.Full || most.Intake.Full {
		t.Errorf("limits %+v, %+v", full, most)
	}
	// From 25 km/h a full pack only rolls out: 15.0 N of rolling, 0.3369 v² of air.
	v := 25 / 3.6
	near(t, "from", d.From, v, 1e-12)
	near(t, "rolling out", d.Stops[0].Long, 85/(2*0.336875)*math.Log(1+0.336875*v*v/(0.018*833.565)), 1e-5)
	// At 0.9 it takes 8 A at 40.53 V and 0.1 Ω: 330.64 W, 355.07 W at the wheels; at
	// half 36.414 V and 319.07 W, so that the stop is longer. Both by small steps.
	for i, watts := range []float64{355.069, 319.717} {
		metres, steps := 0.0, 200_000
		for k := range steps {
			u := v * (float64(k) + 0.5) / float64(steps)
			metres += 85 * u / (math.Min(watts/u, 0.32939*833.565) + 0.018*833.565 + 0.336875*u*u) * v / float64(steps)
		}
		near(t, "stop", d.Stops[i+1].Long, metres, 1e-4)
		if by := d.Stops[i+1].By; by != drive.BatteryCurrent {
			t.Errorf("the stop is limited by %v, want the battery", by)
		}
	}
	// 150000 rpm of 7 pole pairs: 2244.0 rad/s, ÷ 60/m.
	near(t, "speed of the ceiling", d.CeilingSpeed, 150000.0/7*2*math.Pi/60/60, 1e-9)
	near(t, "speed of the back-EMF", d.BackEMFSpeed, 150*42*2*math.Pi/60/60, 1e-9)
}

func TestDownhillUnknown(t *testing.T) {
	for _, tt := range []struct {
		why    string
		change []string
		open   [3]Code // full, nine tenths, half; "": known
	}{
		{"all known", nil, [3]Code{}},
		{"charge limit", []string{"-cell.charge_a"}, [3]Code{"", NoCharge, NoCharge}},
		{"pack resistance", []string{"-cell.resistance_mohm"}, [3]Code{"", NoPackResistance, NoPackResistance}},
		{"motor resistance", []string{"-motor.resistance_mohm"}, [3]Code{NoResistance, NoResistance, NoResistance}},
	} {
		d := outfitOf(t, tt.change...).Downhill
		for i, s := range d.Slopes {
			if s.Open != tt.open[i] || (s.Open != "") != math.IsNaN(s.Grade) {
				t.Errorf("%s, charge %g: %q and %g, want %q", tt.why, s.Charge, s.Open, s.Grade, tt.open[i])
			}
		}
	}
	d := outfitOf(t, "-controller.motor_current_a", "-motor.peak_current_a", "-controller.erpm_ceiling").Downhill
	near(t, "stop without a current limit", d.Stops[1].Long, nan, 0)
	near(t, "no ceiling", d.CeilingSpeed, nan, 0)
}

func TestSlopeWhy(t *testing.T) {
	slope := func(by drive.Limit, in drive.Intake, open Code) Slope {
		return Slope{Charge: 0.5, Intake: in, Descent: drive.Descent{Grade: 0.1, Braking: drive.Braking{By: by}}, Open: open}
	}
	for _, tt := range []struct {
		slope Slope
		want  string
	}{
		{slope(drive.BatteryCurrent, drive.Intake{Full: true}, ""), "pack-takes-none"},
		{slope(drive.BatteryCurrent, drive.Intake{Current: 6, Full: true}, ""), "pack-is-full-at 6"},
		{slope(drive.BatteryCurrent, drive.Intake{Current: 6}, ""), "cells-take 6"},
		{slope(drive.Grip, drive.Intake{Current: 60}, ""), "grip-gives-no-more"},
		{slope(drive.MotorCurrent, drive.Intake{Current: 60}, ""), "motors-give-no-more"},
		{slope(drive.NoLimit, drive.Intake{}, NoResistance), "no-resistance"},
	} {
		if got := briefly(tt.slope.Why()); got != tt.want {
			t.Errorf("%q, want %q", got, tt.want)
		}
	}
}

func TestCautions(t *testing.T) {
	for _, tt := range []struct {
		why    string
		change []string
		code   Code
		want   float64 // its first quantity as shown, 0 where it has none; NaN: it is not said
	}{
		{"the slopes at the climb speed", nil, SteepestSlope, 12},
		{"a full pack", nil, FullPackCannotBrake, 0},
		{"two brakes", nil, TwoBrakes, 0},
		{"a fuse that opens", nil, OpenTakesBrake, 0},
		{"a protection board of the charger", nil, BoardSeesNoBraking, 0},
		{"building a pack", nil, CellsNeverWithoutVolts, 0},
		{"a pack that is not built of cells", []string{"-battery", "[[battery]]\nid = \"battery\"\nseries = 10\nnominal_v = 36\nfull_v = 42\nprice = 300"}, CellsNeverWithoutVolts, nan},
		{"the back-EMF comes before the ceiling", nil, BackEMFCharges, 39.584},
		{"and is said alone", nil, CeilingLetsGo, nan},
		{"the ceiling comes first: 40000 rpm", []string{"controller.erpm_ceiling = 40000"}, CeilingLetsGo, 35.904},
		{"no ceiling", []string{"-controller.erpm_ceiling"}, BackEMFCharges, 39.584},
		{"a small pulley", nil, BendsSharply, 15},
		{"common divisors", nil, PulleysShare, 15},
		{"no common divisor", []string{"small.teeth = 16", "-belt"}, PulleysShare, nan},
		{"the fuse's place", nil, FuseAtPole, 0},
		{"a fuse that carries more than three quarters for long", []string{"-motor.resistance_mohm", "lead.awg = 6"}, FuseRunsWarm, 60},
		{"the one to be had, likewise", []string{"-motor.resistance_mohm", "lead.awg = 6", "-melt"}, FuseRunsWarm, 60},
		{"one that does not", nil, FuseRunsWarm, nan},
		{"charging", nil, WatchTheCharge, 0},
		{"a failed check that is no caution is not said twice", nil, KeyIsWeakest, nan},
	} {
		got := nan
		for _, c := range outfitOf(t, tt.change...).Cautions() {
			if c.Code != tt.code {
				continue
			}
			if got = 0; len(c.Quantities) > 0 {
				got = c.Quantities[0].SI * c.Quantities[0].PerSI
			}
			if (len(c.Slopes) > 0) != (c.Code == SteepestSlope) {
				t.Errorf("%s: slopes %v", tt.why, c.Slopes)
			}
		}
		near(t, tt.why, got, tt.want, 1e-4)
	}
}

func TestFacts(t *testing.T) {
	o := outfitOf(t)
	seen := map[string]Fact{}
	for _, f := range o.Facts() {
		if f.Name == "" || f.Unit == "" || len(f.How) == 0 || f.Source == "" || seen[f.Name].Name != "" {
			t.Errorf("fact %+v", f)
		}
		seen[f.Name] = f
	}
	for name, want := range map[string]float64{
		"pack_peak_a": 60, "pack_steady_a": 16.852, "descent_full_pct": 3.2044,
		"stop_m": o.Downhill.Stops[1].Long, "ceiling_speed_kmh": 134.64, "back_emf_speed_kmh": 39.584,
	} {
		near(t, name, seen[name].Value, want, 1e-4)
	}
}

// Of all builds of the demo under all its briefs: every state is consistent, and
// the sums are of the lines.
func TestDemoOutfits(t *testing.T) {
	problems := outfittest.Demo(t)
	states := map[State]int{}
	rapid.Check(t, func(t *rapid.T) {
		o := Complete(outfittest.Draw(t, problems), DefaultWishes())
		sum := 0.0
		for _, l := range o.Lines {
			if !math.IsNaN(l.Total) {
				sum += l.Total
			}
		}
		for _, n := range o.Needs {
			states[n.State]++
			if price := n.Price(); !math.IsNaN(price) {
				sum += price
			}
			if (n.State == Chosen) != (n.Part != nil) {
				t.Fatalf("%s: %v with part %v", briefly(n.Buy), n.State, n.Part)
			}
			if (n.State == Open) != (n.Part == nil && n.Open() != nil) && n.Kind != "" {
				t.Fatalf("%s: %v, open %s", briefly(n.Buy), n.State, briefly(n.Open()...))
			}
		}
		if math.Abs(sum-o.Total.Known) > 1e-9*sum {
			t.Fatalf("total %g of lines that cost %g", o.Total.Known, sum)
		}
		for i := 1; i < len(o.Downhill.Slopes); i++ {
			if full, less := o.Downhill.Slopes[0].Grade, o.Downhill.Slopes[i].Grade; less < full {
				t.Fatalf("a pack with room holds %g, a full one %g", less, full)
			}
		}
	})
	for _, s := range []State{Chosen, Misfit, Open} {
		if states[s] == 0 && !testing.Short() {
			t.Errorf("no need was %v: %v", s, states)
		}
	}
}
