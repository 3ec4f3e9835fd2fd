package fit_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"gearsearch/constraints"
	"gearsearch/constraints/kittest"
	"gearsearch/drive"
	"gearsearch/search/fit"
)

// truth is what synthetic records are made of.
type truth struct {
	rolling, drag, slope float64
	freewheel            bool
}

// run is a coast-down from a speed in m/s, sampled so many times a second until the
// board has a speed left, with a scatter in m/s.
func (tr truth) run(b *constraints.Build, from, until, rate float64, way fit.Direction, scatter float64, random *rand.Rand) fit.Run {
	c := drive.Coast{
		Mass:   b.TotalMass(),
		Steady: b.TotalMass() * drive.Gravity * (tr.rolling + float64(way)*tr.slope),
		Drag:   b.Board().AirDensity * tr.drag / 2,
	}
	if !tr.freewheel {
		c.Steady += b.Board().IdleDrag()
	}
	r := fit.Run{Name: fmt.Sprintf("from %g m/s", from), Direction: way}
	for i := 0; ; i++ {
		t := float64(i) / rate
		v := c.Speed(from, t)
		if v <= until {
			return r
		}
		if random != nil {
			v += scatter * random.NormFloat64()
		}
		r.Times, r.Speeds = append(r.Times, t+1000), append(r.Speeds, v)
	}
}

// ride is a ride at a speed in m/s, metered with a scatter as a share. The pack of the
// board has no resistance: the energy is that at its terminals.
func (tr truth) ride(b *constraints.Build, v, stops, rise, scatter float64, random *rand.Rand) fit.Ride {
	board := *b.Board()
	e := *board.Electrical
	e.Pack.Resistance = 0
	board.Electrical = &e
	board.Crr, board.DragArea = tr.rolling+rise, tr.drag
	ride := b.Journey()
	ride.Speed, ride.Stops = v, stops
	got, ok := board.Ride(ride, b.Battery.Pack.Nominal)
	if !ok {
		panic("no such ride")
	}
	energy := got.EnergyPerMetre * b.Problem.Brief.Limit.RideFactor
	if random != nil {
		energy *= 1 + scatter*random.NormFloat64()
	}
	return fit.Ride{Name: fmt.Sprintf("at %g m/s", v), Speed: v, Energy: energy, Stops: stops, Ascent: math.NaN(), Rise: rise}
}

// speedingUp is a run that gathers speed.
func speedingUp(b *constraints.Build) fit.Run {
	c := drive.Coast{Mass: b.TotalMass(), Steady: -15, Drag: 0.27}
	r := fit.Run{Name: "downhill"}
	for i := range 40 {
		r.Times, r.Speeds = append(r.Times, float64(i)), append(r.Speeds, c.Speed(3, float64(i)))
	}
	return r
}

func one(u fit.Unknown) *fit.Unknown { return &u }

// TestFitGivesInputsBack: records without scatter give back what they were made of.
func TestFitGivesInputsBack(t *testing.T) {
	b := kittest.Build(t, kittest.Belts)
	level := truth{rolling: 0.0137, drag: 0.412}
	sloped := truth{rolling: 0.0137, drag: 0.412, slope: 0.006}
	free := truth{rolling: 0.021, drag: 0.33, freewheel: true}
	both := func(tr truth) []fit.Run {
		return []fit.Run{tr.run(b, 9, 1, 5, fit.Out, 0, nil), tr.run(b, 8.3, 1, 5, fit.Back, 0, nil)}
	}
	rides := func(tr truth) (out []fit.Ride) {
		for i, v := range []float64{4, 5.5, 7, 8.5} {
			out = append(out, tr.ride(b, v, 0.001*float64(i), 0.002*float64(i-1), 0, nil))
		}
		return out
	}
	for _, c := range []struct {
		why string
		of  truth
		rec fit.Records
	}{
		{"one run", level, fit.Records{Runs: []fit.Run{level.run(b, 9, 0.5, 4, fit.Untold, 0, nil)}}},
		{"one run to standstill and beyond", level, fit.Records{Runs: []fit.Run{level.run(b, 9, 0, 4, fit.Untold, 0, nil)}}},
		{"both ways on a slope", sloped, fit.Records{Runs: both(sloped)}},
		{"freewheeling", free, fit.Records{Runs: both(free), Freewheel: true}},
		{"rides", level, fit.Records{Rides: rides(level)}},
		{"runs and rides", sloped, fit.Records{Runs: both(sloped), Rides: rides(sloped)}},
		{"hardly any air", truth{rolling: 0.02, drag: 0.05}, fit.Records{Runs: both(truth{rolling: 0.02, drag: 0.05})}},
		{"a brief's value is held", truth{rolling: 0.03, drag: 0.55}, fit.Records{Rides: []fit.Ride{truth{rolling: 0.03, drag: 0.55}.ride(b, 6, 0, 0, 0, nil)}, Only: one(fit.Rolling)}},
		{"and the other way round", truth{rolling: 0.018, drag: 0.38}, fit.Records{Rides: []fit.Ride{truth{rolling: 0.018, drag: 0.38}.ride(b, 6, 0, 0, 0, nil)}, Only: one(fit.Drag)}},
	} {
		r, err := fit.Fit(context.Background(), b, c.rec)
		if err != nil {
			t.Errorf("%s: %v", c.why, err)
			continue
		}
		if got := r.Rolling.Value; math.Abs(got-c.of.rolling) > 1e-6*c.of.rolling {
			t.Errorf("%s: rolling %.12g, was %g", c.why, got, c.of.rolling)
		}
		if got := r.Drag.Value; math.Abs(got-c.of.drag) > 1e-6*c.of.drag {
			t.Errorf("%s: drag %.12g, was %g", c.why, got, c.of.drag)
		}
		if got := r.Slope; !math.IsNaN(got) && math.Abs(got-c.of.slope) > 1e-7 {
			t.Errorf("%s: slope %.12g, was %g", c.why, got, c.of.slope)
		}
		for _, run := range r.Runs {
			if run.Residual > 1e-6 {
				t.Errorf("%s: %s is off by %g m/s", c.why, run.Name, run.Residual)
			}
		}
		for _, ride := range r.Rides {
			if math.Abs(ride.Computed/ride.Energy-1) > 1e-6 {
				t.Errorf("%s: %s is %g J/m, and was %g", c.why, ride.Name, ride.Computed, ride.Energy)
			}
		}
	}
}

// TestIntervalsCoverTheTruth: of many noisy records 90 to 99 % of the intervals of a
// nominal 95 % hold what the records were made of.
func TestIntervalsCoverTheTruth(t *testing.T) {
	draws := 1000
	if testing.Short() {
		draws = 200
	}
	b := kittest.Build(t, kittest.Belts)
	tr := truth{rolling: 0.0165, drag: 0.44, slope: 0.004}
	for _, c := range []struct {
		why  string
		make func(random *rand.Rand) fit.Records
	}{
		{"runs both ways", func(random *rand.Rand) fit.Records {
			return fit.Records{Runs: []fit.Run{tr.run(b, 9, 1, 2, fit.Out, 0.15, random), tr.run(b, 9, 1, 2, fit.Back, 0.15, random)}}
		}},
		{"rides", func(random *rand.Rand) (rec fit.Records) {
			for i := range 8 {
				rec.Rides = append(rec.Rides, tr.ride(b, 3.5+0.8*float64(i), 0, 0, 0.03, random))
			}
			return rec
		}},
		{"runs and rides", func(random *rand.Rand) fit.Records {
			rec := fit.Records{Runs: []fit.Run{tr.run(b, 8, 2, 2, fit.Out, 0.2, random), tr.run(b, 8, 2, 2, fit.Back, 0.2, random)}}
			for i := range 6 {
				rec.Rides = append(rec.Rides, tr.ride(b, 4+float64(i), 0.001, 0, 0.04, random))
			}
			return rec
		}},
	} {
		random := rand.New(rand.NewPCG(16, 0))
		rolling, drag := 0, 0
		for range draws {
			r, err := fit.Fit(context.Background(), b, c.make(random))
			if err != nil {
				t.Fatalf("%s: %v", c.why, err)
			}
			if r.Rolling.Low <= tr.rolling && tr.rolling <= r.Rolling.High {
				rolling++
			}
			if r.Drag.Low <= tr.drag && tr.drag <= r.Drag.High {
				drag++
			}
		}
		for what, held := range map[string]int{"rolling": rolling, "drag": drag} {
			share := float64(held) / float64(draws)
			t.Logf("%s: %s held in %.1f %% of %d draws", c.why, what, 100*share, draws)
			if share < 0.90 || share > 0.99 {
				t.Errorf("%s: the interval of %s holds the truth in %.1f %% of %d draws", c.why, what, 100*share, draws)
			}
		}
	}
}

// TestIntervalsWithMemory: noise that follows itself widens the intervals, which else
// hold the truth in too few draws.
func TestIntervalsWithMemory(t *testing.T) {
	draws := 400
	if testing.Short() {
		draws = 100
	}
	b := kittest.Build(t, kittest.Belts)
	tr := truth{rolling: 0.0165, drag: 0.44}
	random := rand.New(rand.NewPCG(17, 0))
	held := 0
	for range draws {
		run := tr.run(b, 9, 1, 10, fit.Untold, 0, nil)
		const keeps = 0.8
		off := 0.0
		for i := range run.Speeds {
			off = keeps*off + 0.05*math.Sqrt(1-keeps*keeps)*random.NormFloat64()
			run.Speeds[i] += off
		}
		r, err := fit.Fit(context.Background(), b, fit.Records{Runs: []fit.Run{run}})
		if err != nil {
			t.Fatal(err)
		}
		if r.Memory < 0.5 || r.Memory > 0.95 {
			t.Errorf("correlation %g of %g", r.Memory, keeps)
		}
		if r.Drag.Low <= tr.drag && tr.drag <= r.Drag.High { // that of the rolling resistance holds a slope too
			held++
		}
	}
	if share := float64(held) / float64(draws); share < 0.88 || share > 0.99 {
		t.Errorf("the interval holds the truth in %.1f %% of %d draws", 100*share, draws)
	}
}

// TestOneWayHoldsTheSlope: runs in one direction alone take the slope of the road for
// rolling resistance, and the interval holds what a road that looks level may have.
func TestOneWayHoldsTheSlope(t *testing.T) {
	b := kittest.Build(t, kittest.Belts)
	for _, slope := range []float64{-0.9 * fit.AssumedSlope, 0, 0.9 * fit.AssumedSlope} {
		for _, way := range []fit.Direction{fit.Untold, fit.Out} {
			tr := truth{rolling: 0.0165 + slope, drag: 0.44}
			r, err := fit.Fit(context.Background(), b, fit.Records{Runs: []fit.Run{tr.run(b, 9, 1, 5, way, 0, nil)}})
			if err != nil {
				t.Fatal(err)
			}
			if !(r.Rolling.Low < 0.0165 && 0.0165 < r.Rolling.High) || math.Abs(r.Drag.Value-0.44) > 1e-6 || r.Drag.Spread() > 1e-3 {
				t.Errorf("slope %g, direction %d: rolling %+v, drag %+v", slope, way, r.Rolling, r.Drag)
			}
		}
	}
}

// TestFitSaysWhatItCannotTell: verdicts and refusals.
func TestFitSaysWhatItCannotTell(t *testing.T) {
	b := kittest.Build(t, kittest.Belts)
	tr := truth{rolling: 0.0165, drag: 0.44}
	random := rand.New(rand.NewPCG(18, 0))
	slow := func(v float64) fit.Ride { return tr.ride(b, v, 0, 0, 0.02, random) }
	for _, c := range []struct {
		why           string
		b             *constraints.Build
		rec           fit.Records
		code          fit.Code
		refused       bool
		rolling, drag fit.Verdict
	}{
		{why: "nothing", b: b, code: fit.NoRecords, refused: true},
		{why: "one ride", b: b, rec: fit.Records{Rides: []fit.Ride{slow(6)}}, code: fit.OneRide, refused: true},
		{why: "six samples", b: b, rec: fit.Records{Runs: []fit.Run{{Times: []float64{0, 1, 2, 3, 4, 5}, Speeds: []float64{6, 5, 4, 3, 2, 1}}}}, code: fit.ShortRun, refused: true},
		{why: "a motor of which nothing is known", b: kittest.Build(t, kittest.Belts, "-motor.resistance_mohm", "-motor.mass_g", "-motor.can_length_mm"), rec: fit.Records{Rides: []fit.Ride{slow(5), slow(8)}}, code: fit.NoResistance, refused: true},
		{why: "a ride that no air held up", b: b, rec: fit.Records{Rides: []fit.Ride{slow(5), {Speed: 30, Energy: 40, Stops: math.NaN(), Ascent: math.NaN()}}}, rolling: fit.Told, drag: fit.OutOfRange},
		{why: "rides at nearly one speed", b: b, rec: fit.Records{Rides: []fit.Ride{slow(6), slow(6.01), slow(5.99), slow(6), slow(6.02), slow(5.98)}}, rolling: fit.Tangled, drag: fit.Tangled},
		{why: "rides at one speed", b: b, rec: fit.Records{Rides: []fit.Ride{slow(6), slow(6), slow(6)}}, rolling: fit.Tangled, drag: fit.Tangled},
		{why: "a slow coast says nothing of the air", b: b, rec: fit.Records{Runs: []fit.Run{tr.run(b, 3, 0.3, 10, fit.Untold, 0.1, random)}}, rolling: fit.Told, drag: fit.Wide},
		{why: "a board that speeds up", b: b, rec: fit.Records{Runs: []fit.Run{speedingUp(b)}, Only: one(fit.Rolling)}, rolling: fit.OutOfRange, drag: fit.Held},
		{why: "one of the two is held", b: b, rec: fit.Records{Rides: []fit.Ride{slow(6)}, Only: one(fit.Drag)}, rolling: fit.Held, drag: fit.Told},
	} {
		r, err := fit.Fit(context.Background(), c.b, c.rec)
		var refusal *fit.Refusal
		if errors.As(err, &refusal) != c.refused {
			t.Errorf("%s: %v", c.why, err)
			continue
		}
		if c.refused {
			if refusal.Code != c.code {
				t.Errorf("%s: refused for %v", c.why, refusal)
			}
			continue
		}
		if r.Rolling.Verdict != c.rolling || r.Drag.Verdict != c.drag {
			t.Errorf("%s: rolling %+v, drag %+v, correlation %g", c.why, r.Rolling, r.Drag, r.Correlation)
		}
	}
}

// TestFitOfTwoCorners: of a motor whose no-load current is not given the interval
// holds what both ends of its range give.
func TestFitOfTwoCorners(t *testing.T) {
	known := kittest.Build(t, kittest.Belts)
	blank := kittest.Build(t, kittest.Belts, "-motor.no_load_current_a")
	tr := truth{rolling: 0.0165, drag: 0.44}
	run := tr.run(known, 9, 1, 5, fit.Untold, 0, nil)
	r, err := fit.Fit(context.Background(), blank, fit.Records{Runs: []fit.Run{run}})
	if err != nil {
		t.Fatal(err)
	}
	weight := blank.TotalMass() * drive.Gravity
	width := (blank.Board().IdleDrag() - blank.Best().Board().IdleDrag()) / weight
	width += 2 * fit.AssumedSlope
	if !r.Blank || math.Abs(r.Rolling.High-r.Rolling.Low-width) > 1e-3*width {
		t.Errorf("%v: [%g, %g], and the range of idle drag and the slope make %g", r.Blank, r.Rolling.Low, r.Rolling.High, width)
	}
	r, err = fit.Fit(context.Background(), blank, fit.Records{Runs: []fit.Run{truth{rolling: 0.0165, drag: 0.44, freewheel: true}.run(known, 9, 1, 5, fit.Untold, 0, nil)}, Freewheel: true})
	if err != nil || r.Blank || math.Abs(r.Rolling.Value-0.0165) > 1e-7 {
		t.Errorf("freewheeling: %v, %+v", err, r)
	}
}
