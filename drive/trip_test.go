package drive_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"pgregory.net/rapid"

	"gearsearch/drive"
)

// road draws a way of stretches of one slope each, cut into legs no longer than a grid.
func drawWay(t *rapid.T, steepest, grid float64) []drive.Leg {
	real := func(low, high float64, name string) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
	var legs []drive.Leg
	for range rapid.IntRange(1, 8).Draw(t, "stretches") {
		length := real(50, 2500, "length")
		slope := drive.SlopeOver(length*real(-steepest, steepest, "slope"), length)
		legs = append(legs, cut(slope, length, real(1.5, 9, "speed"), grid)...)
	}
	return legs
}

// cut is a stretch of one slope in legs no longer than a grid.
func cut(slope drive.Slope, length, speed, grid float64) []drive.Leg {
	n := int(math.Ceil(length / grid))
	legs := make([]drive.Leg, n)
	for i := range legs {
		legs[i] = drive.Leg{Slope: slope, Length: length / float64(n), Speed: speed}
	}
	return legs
}

// trip is a way for a board that stores so many ampere-hours and takes any current.
func trip(b *drive.Board, legs []drive.Leg, stores float64) *drive.Trip {
	return &drive.Trip{
		Legs: legs, Grounds: []drive.Ground{{Crr: b.Crr, Hold: b.Hold}},
		Charge: 0.95, Stores: stores, Limit: math.NaN(), Warmth: 1, Regen: 0.4, Air: 25,
	}
}

// commuter draws a board that comes up most hills.
func commuter(t *rapid.T) *drive.Board {
	real := func(low, high float64, name string) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
	nominal := real(24, 50, "volts")
	e := drive.Couple(
		drive.Motor{KV: real(60, 200, "kv"), PolePairs: 7, Resistance: real(0.02, 0.12, "resistance"), NoLoadCurrent: real(0.1, 1.5, "no-load current"), PeakCurrent: real(40, 90, "peak current")}, 2,
		drive.Controller{MotorCurrent: 80, BatteryCurrent: real(20, 50, "battery current"), MaxDuty: 0.95, Efficiency: 0.97},
		drive.Pack{Volts: nominal, Nominal: nominal, Full: nominal * 7 / 6, Cutoff: nominal * 5 / 6, Resistance: real(0.03, 0.2, "pack resistance"), Capacity: 10},
		60,
	)
	return &drive.Board{
		Electrical: &e, Reduction: real(2, 5, "reduction"), Efficiency: 0.96, Radius: real(0.04, 0.1, "radius"), Mass: real(60, 120, "mass"),
		Crr: real(0.01, 0.04, "crr"), DragArea: real(0.3, 0.7, "drag area"), AirDensity: 1.2, Hold: holding(0.6),
	}
}

// TestTripOnTheFlat: a flat way takes per metre what cruising takes at nominal volts,
// but for the volts along the curve, some hundredths.
func TestTripOnTheFlat(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := commuter(t)
		v := rapid.Float64Range(2, 6).Draw(t, "speed")
		got := trip(b, cut(drive.Slope{Cos: 1}, 10_000, v, 25), 20).Ride(b, nil)
		want, ok := b.Cruise(v, b.Pack.Nominal)
		if !ok || got.Stalled || got.Seconds > 10_000/v*(1+1e-9) {
			t.Skip("too fast for the board")
		}
		near(t, "J/m", got.Energy/got.Metres, want.EnergyPerMetre, 0.05)
		near(t, "seconds", got.Seconds, 10_000/v, 1e-9)
	})
}

// TestTripUpAndDown: parts without loss give back downhill what they took uphill.
func TestTripUpAndDown(t *testing.T) {
	e := drive.Couple(
		drive.Motor{KV: 100, PolePairs: 7, Resistance: drive.Lossless, PeakCurrent: 200}, 2,
		drive.Controller{MotorCurrent: 200, BatteryCurrent: 100, MaxDuty: 1, Efficiency: 1},
		drive.Pack{Volts: 36, Nominal: 36, Full: 42, Cutoff: 25}, 20)
	b := &drive.Board{Electrical: &e, Reduction: 3, Efficiency: 1, Radius: 0.05, Mass: 90, AirDensity: 1.2, Hold: holding(tooMuch)}
	legs := append(cut(drive.SlopeOver(240, 3000), 3000, 5, 25), cut(drive.SlopeOver(-240, 3000), 3000, 5, 25)...)
	got := trip(b, legs, 10).Ride(b, nil)
	if got.Stalled || got.Unheld > 0 {
		t.Fatalf("%+v", got)
	}
	if math.Abs(got.Charge-0.95) > 0.01*0.95 {
		t.Errorf("%g of the charge is left, of 0.95", got.Charge)
	}
	// 90 kg up 240 m: 211.8 kJ, of 1.2 MJ or so in the pack.
	half := trip(b, legs[:120], 10).Ride(b, nil)
	near(t, "energy up the hill", half.Energy, 90*drive.Gravity*3000*240/math.Hypot(240, 3000), 1e-9)
}

// TestTripLegsAreShort: legs half as long change the energy by less than half a
// hundredth.
func TestTripLegsAreShort(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := commuter(t)
		legs := drawWay(t, 0.08, 25)
		var halves []drive.Leg
		for _, l := range legs {
			l.Length /= 2
			halves = append(halves, l, l)
		}
		long, short := trip(b, legs, 15).Ride(b, nil), trip(b, halves, 15).Ride(b, nil)
		if long.Stalled || short.Stalled || long.Energy < 3600*5 {
			return
		}
		near(t, "energy", short.Energy, long.Energy, 0.005)
	})
}

// TestTripByQuadrature: on one slope at one speed the charge x falls by I_b(V(x))/v for
// each metre, so that the way ridden is the integral of v 3600 C/I_b(V(x)) over the
// charge (gonum's Legendre quadrature).
func TestTripByQuadrature(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := commuter(t)
		const stores = 15
		v, slope := rapid.Float64Range(2, 5).Draw(t, "speed"), drive.SlopeOver(rapid.Float64Range(0, 0.05).Draw(t, "rise"), 1)
		got := trip(b, cut(slope, 6000, v, 2.5), stores).Ride(b, nil)
		if got.Stalled || got.Seconds > 6000/v*(1+1e-9) || got.Charge < 0 {
			return
		}
		n, turn := float64(b.Motors), b.Reduction/b.Radius
		amps := b.LoadOn(v, slope)/(n*b.Efficiency*turn*b.K) + b.NoLoad
		power := n * (amps*b.K*v*turn + amps*amps*b.R) / b.Controller.Efficiency
		each := func(x float64) float64 { // m for each share of the charge
			volts := b.Pack.OpenCircuit(x)
			taken := (volts - math.Sqrt(volts*volts-4*b.Pack.Resistance*power)) / (2 * b.Pack.Resistance)
			return v * 3600 * stores / taken
		}
		var metres float64
		for _, piece := range [][2]float64{{0, 0.1}, {0.1, 0.2}, {0.2, 0.5}, {0.5, 0.9}, {0.9, 1}} {
			low, high := max(piece[0], got.Charge), min(piece[1], 0.95)
			if low < high {
				metres += quad.Fixed(each, low, high, 200, quad.Legendre{}, 0)
			}
		}
		near(t, "metres", metres, 6000, 1e-4)
	})
}

// TestTripHoldsForces: on each leg the wanted speed is kept, or thrust and load balance;
// what flows, flows once.
func TestTripHoldsForces(t *testing.T) {
	slow, braked, unheld := 0, 0, 0
	rapid.Check(t, func(t *rapid.T) {
		for range perCheck {
			b := anyBoard(t)
			e := drive.Couple(b.Motor, b.Motors, b.Controller, drive.Pack{
				Volts: b.Pack.Volts, Nominal: b.Pack.Volts, Full: b.Pack.Volts, Cutoff: 0.7 * b.Pack.Volts, Resistance: b.Pack.Resistance, Discharge: b.Pack.Discharge,
			}, 40)
			b.Electrical = &e
			way := trip(&b, drawWay(t, 0.4, 500), 8)
			way.Limit = orZero(t, 0.5, 40, "charge limit")
			charge, energy := way.Charge, 0.0
			got := way.Ride(&b, func(p *drive.Passage) {
				at := b
				full := drive.Couple(e.Motor, e.Motors, e.Controller, drive.Pack{
					Volts: e.Pack.OpenCircuit(charge), Cutoff: e.Pack.Cutoff, Resistance: e.Pack.Resistance, Discharge: e.Pack.Discharge,
				}, 40)
				at.Electrical = &full
				near(t, "volts", p.Volts, full.Pack.Volts, 1e-12)
				within(t, "load", p.Load, at.LoadOn(p.Speed, p.Slope), 1e-9*at.Mass*drive.Gravity)
				thrust := min(at.Thrust(p.Speed), at.GripThrustOn(p.Slope))
				scale := at.Mass * drive.Gravity
				switch {
				case p.Slow():
					slow++
					within(t, "balance", thrust-p.Load, 0, 1e-7*scale)
				case p.Load > thrust*(1+1e-9):
					t.Errorf("%g N of load at the wanted speed, %g N of thrust", p.Load, thrust)
				}
				if p.Braking > 0 {
					braked++
				}
				if p.Braking > -p.Load*(1+1e-9) && p.Load < 0 || p.Load >= 0 && p.Braking > 0 {
					t.Errorf("%g N of braking for %g N of load", p.Braking, p.Load)
				}
				if way.Limit > 0 && -p.PackCurrent > way.Limit*(1+1e-6) {
					t.Errorf("%g A into a pack that takes %g", -p.PackCurrent, way.Limit)
				}
				seconds := p.Length / p.Speed
				energy += p.Volts * p.PackCurrent * seconds
				charge = min(1, charge-p.PackCurrent*seconds/(3600*way.Stores))
				within(t, "charge", p.Charge, charge, 1e-9)
			})
			if got.Unheld > 0 {
				unheld++
			}
			within(t, "energy", got.Energy, energy, 1e-6*math.Abs(energy)+1e-6)
		}
	})
	if slow < 50 || braked < 50 || unheld < 50 {
		t.Errorf("of the legs %d are slow, %d braked, and %d ways have unheld ones: the drawing misses them", slow, braked, unheld)
	}
}

// TestSurely: what is said to be sure of a trip is so, and most of it is said.
func TestSurely(t *testing.T) {
	sure, unsure := map[string]int{}, 0
	rapid.Check(t, func(t *rapid.T) {
		for range perCheck {
			b := commuter(t)
			if rapid.Bool().Draw(t, "any board") {
				other := anyBoard(t)
				e := drive.Couple(other.Motor, other.Motors, other.Controller, drive.Pack{
					Volts: other.Pack.Volts, Nominal: other.Pack.Volts, Full: other.Pack.Volts, Cutoff: 0.7 * other.Pack.Volts, Resistance: other.Pack.Resistance, Discharge: other.Pack.Discharge,
				}, 40)
				other.Electrical = &e
				b = &other
			}
			legs := drawWay(t, rapid.Float64Range(0, 0.2).Draw(t, "steepest"), 25)
			for range rapid.IntRange(0, 4).Draw(t, "stops") {
				legs[rapid.IntRange(0, len(legs)-1).Draw(t, "stop")].Stop = true
			}
			way := trip(b, legs, rapid.Float64Range(1, 30).Draw(t, "stores"))
			way.Charge = rapid.Float64Range(0.2, 1).Draw(t, "charge")
			if rapid.Bool().Draw(t, "limited") {
				way.Limit = rapid.Float64Range(0, 40).Draw(t, "charge limit")
			}
			way.Unsure = rapid.IntRange(0, 4).Draw(t, "unsure") == 0
			body, _ := drive.ThermalOf(rapid.Float64Range(0.2, 2).Draw(t, "motor"), 0, 0, 0)
			way.Body = &body
			aims := drive.Aims{Charge: rapid.Float64Range(0.05, 0.5).Draw(t, "left"), Winding: rapid.Float64Range(20, 150).Draw(t, "winding"), Unheld: 25}
			got, is := way.Surely(b, drive.Blocks(legs), aims), way.Ride(b, nil)
			comes := !is.Stalled && is.Charge >= aims.Charge
			for name, x := range map[string]struct{ said, so bool }{
				"comes": {got.Comes, comes}, "fails": {got.Fails, !comes}, "stalls": {got.Stalls, is.Stalled}, "most": {!got.Stalls, is.Stalled || is.Charge <= got.Most}, "cool": {got.Cool, is.Winding <= aims.Winding}, "held": {got.Held, is.Unheld <= aims.Unheld},
			} {
				if x.said && !x.so {
					t.Fatalf("%s, surely: %+v", name, is)
				}
				if x.said {
					sure[name]++
				}
			}
			if !got.Comes && !got.Fails {
				unsure++
			}
		}
	})
	t.Logf("sure of %v, unsure whether %d come", sure, unsure)
	for _, name := range []string{"comes", "fails", "cool", "held"} {
		if sure[name] < 20 {
			t.Errorf("%s is surely said %d times: the drawing misses it", name, sure[name])
		}
	}
}

// TestTripStops by hand: 80 kg at 6 m/s keep 1440 J; gathered at 90 %, 40 % of it back.
func TestTripStops(t *testing.T) {
	b := lossless(40)
	e := drive.Couple(drive.Motor{KV: b.Motor.KV, PolePairs: 7, Resistance: drive.Lossless, PeakCurrent: 200}, 2, b.Controller, drive.Pack{Volts: 36, Nominal: 36, Full: 42, Cutoff: 30}, 20)
	b.Electrical, b.Efficiency = &e, 0.9
	legs := cut(drive.Slope{Cos: 1}, 100, 6, 25)
	legs[1].Stop, legs[3].Stop = true, true
	got := trip(&b, legs, 10).Ride(&b, nil)
	near(t, "energy", got.Energy, 2*1440*(1/0.9-0.4), 1e-9)
	near(t, "seconds", got.Seconds, 100.0/6, 1e-12)
	volts := e.Pack.OpenCircuit(0.95)
	near(t, "charge", 0.95-got.Charge, 2*1440*(1/0.9-0.4)/volts/36_000, 1e-3)
}

// TestTripStalls: a hill that the board does not climb ends the ride at its foot.
func TestTripStalls(t *testing.T) {
	b := street()
	legs := append(cut(drive.Slope{Cos: 1}, 200, 5, 25), cut(drive.SlopeOver(80, 100), 100, 5, 25)...)
	got := trip(&b, legs, 10).Ride(&b, nil)
	if !got.Stalled || got.Metres != 200 {
		t.Errorf("%+v", got)
	}
	got = trip(&b, legs[8:], 10).Ride(&b, nil)
	if want := (drive.Travelled{Stalled: true, Charge: 0.95, LowVolts: math.Inf(1), Winding: math.NaN()}); got.Metres != 0 || got.LowVolts != want.LowVolts || got.Energy != 0 || !math.IsNaN(got.Winding) {
		t.Errorf("%+v, want %+v", got, want)
	}
}

// TestTripDownWithoutBrakes: a full pack takes nothing, nor does one of which nobody
// knows what it takes; both legs count as not held.
func TestTripDownWithoutBrakes(t *testing.T) {
	b := street()
	legs := cut(drive.SlopeOver(-10, 100), 100, 5, 50)
	way := trip(&b, legs, 10)
	way.Charge = 1
	if got := way.Ride(&b, nil); got.Unheld != 100 || got.Energy != 0 || got.Charge != 1 {
		t.Errorf("a full pack: %+v", got)
	}
	way.Charge, way.Unsure = 0.5, true
	if got := way.Ride(&b, nil); !math.IsNaN(got.Unheld) || got.Energy != 0 || got.Charge != 0.5 {
		t.Errorf("a pack of which nobody knows: %+v", got)
	}
	way.Unsure = false
	if got := way.Ride(&b, nil); got.Unheld != 0 || !(got.Energy < 0) || !(got.Charge > 0.5) {
		t.Errorf("a pack that takes all: %+v", got)
	}
}

// TestTripCoasts: down a slope at the speed that the air holds the motors give nothing and
// brake nothing, to the last bit, and idle.
func TestTripCoasts(t *testing.T) {
	b := street()
	for grade := 0.05; grade < 0.12; grade += 0.001 {
		way := trip(&b, cut(drive.SlopeOver(-grade*100, 100), 100, 40, 25), 10)
		way.Charge = 1
		got := way.Ride(&b, nil)
		if got.Unheld != 0 || !(got.Energy > 0) {
			t.Fatalf("down %.1f %%: %+v", grade*100, got)
		}
	}
}

// TestHeatGoesOn: a time in two parts heats as the whole does.
func TestHeatGoesOn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		thermal, h := anyHeating(t)
		first := drive.Temperatures{Winding: h.Air, Rest: h.Air}
		whole := thermal.From(first, h)
		if !(whole.Winding < drive.HottestKnown) {
			return
		}
		all := h.Seconds
		h.Seconds = all * rapid.Float64Range(0.05, 0.95).Draw(t, "part")
		between := thermal.From(first, h)
		h.Seconds = all - h.Seconds
		parts := thermal.From(between, h)
		above(t, "winding", parts.Winding-h.Air, whole.Winding-h.Air)
		above(t, "rest", parts.Rest-h.Air, whole.Rest-h.Air)
	})
}

// TestInWind: a motor in the wind is the motor that is made for its speed.
func TestInWind(t *testing.T) {
	still, _ := drive.ThermalOf(0.6, 0.05, 0.06, 0)
	want, _ := drive.ThermalOf(0.6, 0.05, 0.06, 7)
	got := still.InWind(7)
	near(t, "outer", got.Outer, want.Outer, 1e-14)
}

func BenchmarkTrip(b *testing.B) {
	benchmarkTrip(b, func(way *drive.Trip, board *drive.Board) { way.Ride(board, nil) })
}

func BenchmarkSurely(b *testing.B) {
	var blocks []drive.Block
	benchmarkTrip(b, func(way *drive.Trip, board *drive.Board) {
		if blocks == nil {
			blocks = drive.Blocks(way.Legs)
		}
		way.Surely(board, blocks, drive.Aims{Charge: 0.2, Winding: 120, Unheld: 25})
	})
}

func benchmarkTrip(b *testing.B, ride func(way *drive.Trip, board *drive.Board)) {
	board := street()
	thermal, _ := drive.ThermalOf(0.6, 0.05, 0.06, 0)
	var legs []drive.Leg
	for i := range 16 {
		legs = append(legs, cut(drive.SlopeOver(40*math.Sin(float64(i)), 1250), 1250, 6, 25)...)
	}
	way := trip(&board, legs, 12)
	way.Body = &thermal
	for b.Loop() {
		ride(way, &board)
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(len(legs)), "ns/leg")
}
