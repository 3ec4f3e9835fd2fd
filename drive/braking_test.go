package drive_test

import (
	"math"
	"testing"

	"gearsearch/drive"

	"gonum.org/v1/gonum/integrate/quad"
	"pgregory.net/rapid"
)

// lossless is a board whose only losses are the copper and the pack: k = 0.05, 2
// motors of 0.1 Ω, 2:1 on a radius of 50 mm, 80 kg, 36 V and 0.1 Ω.
func lossless(motorAmps float64) drive.Board {
	e := drive.Couple(
		drive.Motor{KV: 60 / (2 * math.Pi * 0.05), PolePairs: 7, Resistance: 0.1},
		2,
		drive.Controller{MotorCurrent: motorAmps, BatteryCurrent: 30, MaxDuty: 1, Efficiency: 1, Commutation: drive.SixStep},
		drive.Pack{Volts: 36, Nominal: 36, Full: 42, Cutoff: 30, Resistance: 0.1},
		20,
	)
	return drive.Board{Electrical: &e, Reduction: 2, Efficiency: 1, Radius: 0.05, Mass: 80, Hold: holding(tooMuch)}
}

// By hand: at 5 m/s the motors turn 200 rad/s, 10 V. A pack that takes 2 A at 36
// V takes 2 × 36.2 = 72.4 W, 36.2 W from each motor: 0.1 I² − 10 I + 36.2 = 0, I
// = 3.7615 A; B = 2 × 0.05 × 3.7615 × 2/0.05 = 15.046 N of 784.53 N of weight.
func TestDescentByHand(t *testing.T) {
	b := lossless(40)
	d := b.DescentLimit(5, 36, 2)
	within(t, "motor current", d.Current, 3.7615, 0.5e-4)
	within(t, "force", d.Force, 15.046, 0.5e-3)
	near(t, "pack current", d.PackCurrent, 2, 1e-12)
	within(t, "grade", d.Grade, math.Tan(math.Asin(15.046/784.532)), 1e-6)
	if d.By != drive.BatteryCurrent {
		t.Errorf("limited by %v, want the battery", d.By)
	}
	// The motors at 3 A: 12 N, 2 × (30 − 0.9) = 58.2 W, 1.6095 A.
	b = lossless(3)
	d = b.DescentLimit(5, 36, 2)
	within(t, "force at 3 A", d.Force, 12, 1e-9)
	within(t, "pack current at 3 A", d.PackCurrent, 1.6095, 0.5e-4)
	if d.By != drive.MotorCurrent {
		t.Errorf("limited by %v, want the motor current", d.By)
	}
	// 250 W is the most that each motor makes, at half its short-circuit current
	// of 100 A: a pack that takes 13.5 A, 504 W, never binds.
	b = lossless(80)
	if d := b.DescentLimit(5, 36, 13.5); d.By != drive.MotorCurrent || d.Current != 80 {
		t.Errorf("a pack that takes all there is binds: %+v", d)
	}
	if d := b.DescentLimit(5, 36, 13.0); d.By != drive.BatteryCurrent || d.Current >= 50 {
		t.Errorf("a pack that takes a little less does not bind before the most power: %+v", d)
	}
	// A full pack takes nothing: without losses the board cannot be held at all.
	if d := b.DescentLimit(5, 42, 0); d.Grade != 0 || d.By != drive.BatteryCurrent {
		t.Errorf("a full pack holds %+v, want the flat", d)
	}
	// κ_b = 0.3: θ = atan 0.3 with no rolling resistance and no drag.
	b = lossless(400)
	b.Hold = holding(0.3)
	d = b.DescentLimit(5, 36, 30)
	near(t, "grade of the grip", d.Grade, 0.3, 1e-12)
	near(t, "force of the grip", d.Force, 784.532*math.Sin(math.Atan(0.3)), 1e-9)
	if d.By != drive.Grip {
		t.Errorf("limited by %v, want grip", d.By)
	}
	// Air that holds back more than the weight: any slope.
	b = lossless(40)
	b.DragArea, b.AirDensity = 100, 1.225
	if d := b.DescentLimit(5, 36, 2); !math.IsInf(d.Grade, 1) {
		t.Errorf("a parachute holds a grade of %g only", d.Grade)
	}
}

// By hand: at 2 m/s the motors make 4 V. At their 80 A the copper takes 8 V, 4 V
// more than is made: 320 W each, 640 W from a pack behind controllers of 0.9,
// 711.11 W: 36 I − 0.1 I² = 711.11, I = (36 − √1011.556)/0.2 = 20.9752 A.
func TestThePackHelpsToBrake(t *testing.T) {
	b := lossless(80)
	b.Controller.Efficiency = 0.9
	got := b.MostBraking(2, 36, 30)
	within(t, "pack current", got.PackCurrent, -20.9752, 0.5e-4)
	within(t, "force", got.Force, 320, 1e-9) // 2 × 0.05 × 80 × 40
	if got.By != drive.MotorCurrent || got.Current != 80 {
		t.Errorf("%g A by %v, want the motors' 80", got.Current, got.By)
	}
	// Half the losses the other way: at 5 m/s 10 V, 10 A make 90 W each, of 180 W
	// 162 W arrive: 36 I + 0.1 I² = 162, I = (√1360.8 − 36)/0.2 = 4.44512 A.
	b = lossless(10)
	b.Controller.Efficiency = 0.9
	within(t, "pack current of a generator", b.MostBraking(5, 36, 30).PackCurrent, 4.4451, 0.5e-4)
}

// What the wheels give on the way down is what the cells store and what is lost
// on the way: in the drive, at no load, in the copper, the controllers, the
// pack. And the slope is the one that the board rolls down at that speed.
func TestDescentBalancesEnergy(t *testing.T) {
	seen := map[drive.Limit]int{}
	rapid.Check(t, func(t *rapid.T) {
		for range perCheck {
			b := anyBoard(t)
			v := rapid.Float64Range(0.01, 1.5).Draw(t, "share of the free speed") * b.FreeSpeed(b.Pack.Volts)
			amps := orZero(t, 0.1, 60, "amperes the pack takes")
			d := b.DescentLimit(v, b.Pack.Volts, amps)
			seen[d.By]++
			if !(d.Grade >= 0) {
				t.Fatalf("grade %g: %s", d.Grade, describe(&b))
			}
			if d.PackCurrent > amps*(1+1e-9)+1e-12 {
				t.Fatalf("%g A into a pack that takes %g A: %s", d.PackCurrent, amps, describe(&b))
			}
			n, omega, k := float64(b.Motors), v*b.Reduction/b.Radius, 60/(2*math.Pi*b.Motor.KV)
			given := d.Force * v
			if d.Current == 0 && d.By == drive.Grip {
				continue // held by less than the drag of the motors
			}
			electrical := n * d.Current * (k*omega - d.Current*b.R)
			if electrical < 0 {
				continue // the pack helps to brake
			}
			taken := (1-b.Efficiency)*given + n*k*b.NoLoad*omega + n*d.Current*d.Current*b.R +
				(1-b.Controller.Efficiency)*electrical +
				d.PackCurrent*b.Pack.Volts + d.PackCurrent*d.PackCurrent*b.Pack.Resistance
			if math.Abs(given-taken) > 1e-9*given {
				t.Fatalf("the wheels give %.12g W, %.12g W are taken: %s", given, taken, describe(&b))
			}
			if !math.IsInf(d.Grade, 1) {
				theta := -math.Atan(d.Grade)
				scale := b.Mass*drive.Gravity + d.Force
				if push := -b.Load(v, theta); math.Abs(push-d.Force) > 1e-9*scale {
					t.Fatalf("the slope pushes with %g N, braking is %g N: %s", push, d.Force, describe(&b))
				}
			}
		}
	})
	for _, by := range []drive.Limit{drive.BatteryCurrent, drive.MotorCurrent, drive.Grip} {
		if seen[by] < 50 && !testing.Short() {
			t.Errorf("only %d descents were limited by %v", seen[by], by)
		}
	}
}

// Every gentler slope is within the pack's limit too, and a pack that takes more
// never makes it less.
func TestGentlerSlopesAreHeld(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBoard(t)
		v := rapid.Float64Range(0.01, 1.5).Draw(t, "share of the free speed") * b.FreeSpeed(b.Pack.Volts)
		amps := rapid.Float64Range(0, 60).Draw(t, "amperes the pack takes")
		d := b.DescentLimit(v, b.Pack.Volts, amps)
		if more := b.DescentLimit(v, b.Pack.Volts, amps*1.1+0.1); more.Grade < d.Grade*(1-1e-12) {
			t.Fatalf("a pack that takes more holds %g, less than %g", more.Grade, d.Grade)
		}
		current := d.Current * rapid.Float64Range(0, 1).Draw(t, "share of the current")
		emf := b.K * v * b.Reduction / b.Radius
		made := float64(b.Motors) * current * (emf - current*b.R) * b.Controller.Efficiency
		if most := amps * (b.Pack.Volts + amps*b.Pack.Resistance); made > most*(1+1e-9)+1e-9 {
			t.Fatalf("at %g of %g A each the pack gets %g W and takes %g W", current, d.Current, made, most)
		}
	})
}

func TestBrakingUnknown(t *testing.T) {
	b := street()
	m := b.Motor
	m.Resistance = 0
	e := drive.Couple(m, 2, b.Controller, b.Pack, 60)
	unknown := b
	unknown.Electrical = &e
	if d := unknown.DescentLimit(4, 37, 3); !math.IsNaN(d.Grade) || d.By != drive.NoLimit {
		t.Errorf("without the motor's resistance: %+v", d)
	}
	m = b.Motor
	m.PeakCurrent = 0
	c := b.Controller
	c.MotorCurrent = 0
	e = drive.Couple(m, 2, c, b.Pack, 60)
	if d := unknown.DescentLimit(4, 37, 3); math.IsNaN(d.Grade) || d.By != drive.BatteryCurrent {
		t.Errorf("without a motor-current limit the pack binds: %+v", d)
	}
	if d := unknown.DescentLimit(4, 37, 1e6); !math.IsNaN(d.Grade) {
		t.Errorf("with no limit at all: %+v", d)
	}
	if force := unknown.CurrentBraking(); !math.IsInf(force, 1) {
		t.Errorf("without a motor-current limit the motors brake with %g N", force)
	}
	// At rest the pack never binds.
	if d := b.MostBraking(0, 42, 0); d.By != drive.MotorCurrent {
		t.Errorf("at rest: %+v", d)
	}
}

func TestOpenCircuit(t *testing.T) {
	for _, tt := range []struct {
		why    string
		curve  drive.Curve
		cutoff float64
		share  float64
		want   float64
	}{
		{"full", drive.LiIon, 28, 1, 42},
		{"nine tenths: 0.965 × 42", drive.LiIon, 28, 0.9, 40.53},
		{"between: (0.867 + 0.098/2) × 42", drive.LiIon, 28, 0.7, 38.472},
		{"half: 0.867 × 42", drive.LiIon, 28, 0.5, 36.414},
		{"a tenth: 0.787 × 42", drive.LiIon, 28, 0.1, 33.054},
		{"empty: 0.70 × 42", drive.LiIon, 28, 0, 29.4},
		{"empty, and the cut-off is higher", drive.LiIon, 31, 0, 31},
		{"below empty", drive.LiIon, 0, -1, 29.4},
		{"above full", drive.LiIon, 0, 2, 42},
		{"iron phosphate at nine tenths: 0.912 × 42", drive.LFP, 28, 0.9, 38.304},
		{"iron phosphate at a twentieth: (0.68 + 0.197/2) × 42", drive.LFP, 28, 0.05, 32.697},
	} {
		p := drive.Pack{Full: 42, Cutoff: tt.cutoff, Curve: tt.curve}
		near(t, tt.why, p.OpenCircuit(tt.share), tt.want, 1e-12)
	}
}

func TestIntake(t *testing.T) {
	nan := math.NaN()
	pack := drive.Pack{Full: 42, Cutoff: 28, Resistance: 0.1}
	for _, tt := range []struct {
		why                  string
		pack                 drive.Pack
		share, limit, warmth float64
		want                 float64
		full                 bool
	}{
		{"full: none, whatever the limit", pack, 1, 8, 1, 0, true},
		{"full: none, though the limit is not known", pack, 1, nan, 1, 0, true},
		{"0.9: (42 − 40.53) V / 0.1 Ω = 14.7 A, above the limit", pack, 0.9, 8, 1, 8, false},
		{"0.9: below a limit of 20 A", pack, 0.9, 20, 1, 14.7, true},
		{"0.9 without a limit", pack, 0.9, nan, 1, 14.7, true},
		{"no resistance: the limit until full", drive.Pack{Full: 42}, 0.99, 8, 1, 8, false},
		{"no resistance and no limit", drive.Pack{Full: 42}, 0.5, nan, 1, math.Inf(1), true},
		{"a limit of nothing", pack, 0.5, 0, 1, 0, false},
		{"2 °C leave two fifths", pack, 0.9, 8, 0.4, 3.2, false},
		{"frost leaves none", pack, 0.5, 8, 0, 0, false},
		{"frost leaves none of no limit", drive.Pack{Full: 42}, 0.5, nan, 0, 0, false},
	} {
		in := tt.pack.Intake(tt.share, tt.limit, tt.warmth)
		if in.Full != tt.full {
			t.Errorf("%s: %+v", tt.why, in)
		}
		if in.Current != tt.want && !(math.Abs(in.Current-tt.want) < 1e-9) {
			t.Errorf("%s: %g A, want %g", tt.why, in.Current, tt.want)
		}
	}
	for celsius, want := range map[float64]float64{-30: 0, 0: 0, 2: 0.4, 5: 1, 40: 1} {
		near(t, "charging share", drive.ChargingShare(celsius), want, 1e-12)
	}
	for celsius, want := range map[float64]drive.Cold{-40: {0.60, 3}, -10: {0.75, 2.2}, 5: {0.895, 1.425}, 20: {1, 1}, 35: {1, 1}} {
		got := drive.ColdAt(celsius)
		near(t, "capacity in the cold", got.Capacity, want.Capacity, 1e-12)
		near(t, "resistance in the cold", got.Resistance, want.Resistance, 1e-12)
	}
}

// braked is a board that a pack without limits brakes with so much force.
func braked(b drive.Board, force float64) drive.Board {
	b.Hold.Brake = force / (b.Mass * drive.Gravity)
	m, c := b.Motor, b.Controller
	m.PeakCurrent, c.MotorCurrent = 1e9, 1e9
	e := drive.Couple(m, b.Motors, c, b.Pack, 20)
	b.Electrical = &e
	return b
}

// anything is what a pack takes that takes all.
var anything = drive.Intake{OpenCircuit: 36, Current: math.Inf(1)}

// AASHTO, A Policy on Geometric Design of Highways and Streets: braking distance
// = V²/(254 f), V in km/h: the 254 is 2 g × 3.6² rounded.
func TestStoppingDistance(t *testing.T) {
	b := lossless(40)
	for _, tt := range []struct{ kmh, friction float64 }{{20, 0.3}, {40, 0.5}, {100, 0.8}} {
		held := braked(b, tt.friction*b.Mass*drive.Gravity)
		metres, by := held.StoppingDistance(tt.kmh/3.6, anything)
		near(t, "metres", metres, tt.kmh*tt.kmh/(254*tt.friction), 2e-3)
		if by != drive.Grip {
			t.Errorf("limited by %v, want grip", by)
		}
	}
	if d, _ := b.StoppingDistance(0, drive.Intake{}); d != 0 {
		t.Errorf("from rest %g m", d)
	}
	if d, by := b.StoppingDistance(5, drive.Intake{OpenCircuit: 42}); !math.IsInf(d, 1) || by != drive.BatteryCurrent {
		t.Errorf("with nothing that brakes %g m, limited by %v", d, by)
	}
	// By hand: 2 × 0.05 × 40 A × 2/0.05 = 160 N; 80 kg from 5 m/s: 1000 J.
	d, by := b.StoppingDistance(5, anything)
	near(t, "braking at 40 A", d, 6.25, 1e-12)
	if by != drive.MotorCurrent {
		t.Errorf("limited by %v, want the motor current", by)
	}
	// 2 A at 36 V and 0.1 Ω: 72.4 W, 160 N below 0.4525 m/s, without any load m (v₁³
	// − v₀³)/(3 P) above: 80 × (125 − 0.092654)/217.2, and 80 × 0.20475625/320 below.
	d, by = b.StoppingDistance(5, drive.Intake{OpenCircuit: 36, Current: 2, Resistance: 0.1})
	near(t, "braking into 2 A", d, 80*(125-0.4525*0.4525*0.4525)/217.2+80*0.4525*0.4525/320, 1e-10)
	if by != drive.BatteryCurrent {
		t.Errorf("limited by %v, want the battery", by)
	}
	near(t, "current braking", b.CurrentBraking(), 160, 1e-12)
	// 42 V at k = 0.05: 840 rad/s, × 0.05/2.
	near(t, "speed of the back-EMF", b.BackEMFSpeed(42), 21, 1e-12)
}

// The stop against gonum's quadrature of m v/(B + L), B as the package comment has
// it, in pieces so short that it does not matter where they meet.
func TestStoppingDistanceByQuadrature(t *testing.T) {
	seen := map[drive.Limit]int{}
	rapid.Check(t, func(t *rapid.T) {
		b := anyBoard(t)
		v0 := rapid.Float64Range(0.5, 30).Draw(t, "speed")
		in := drive.Intake{OpenCircuit: b.Pack.Volts, Current: orZero(t, 0.1, 80, "intake"), Resistance: b.Pack.Resistance}
		force := func(v float64) float64 {
			grip := b.Hold.Brake * b.Mass * drive.Gravity
			amps := b.PhaseFactor * b.Controller.MotorCurrent
			if b.Motor.PeakCurrent > 0 {
				amps = min(amps, b.PhaseFactor*b.Motor.PeakCurrent)
			}
			current := float64(b.Motors) * b.K * b.Reduction * amps / (b.Radius * b.Efficiency)
			pack := in.Current * (in.OpenCircuit + in.Current*in.Resistance) / (b.Controller.Efficiency * b.Efficiency * v)
			return min(grip, current, pack)
		}
		const pieces = 4000
		metres := 0.0
		for i := range pieces {
			from, to := v0*float64(i)/pieces, v0*float64(i+1)/pieces
			metres += quad.Fixed(func(v float64) float64 { return b.Mass * v / (force(v) + b.Load(v, 0)) }, from, to, 5, nil, 0)
		}
		got, by := b.StoppingDistance(v0, in)
		if seen[by]++; b.Load(0, 0) > 0 || in.Current > 0 {
			near(t, "metres", got, metres, 1e-6)
		}
	})
	if !testing.Short() && (seen[drive.Grip] < 5 || seen[drive.MotorCurrent] < 5 || seen[drive.BatteryCurrent] < 5) {
		t.Errorf("limits seen: %v", seen)
	}
}
