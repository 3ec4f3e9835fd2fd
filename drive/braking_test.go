package drive_test

import (
	"math"
	"testing"

	"gearsearch/drive"

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
	return drive.Board{Electrical: &e, Reduction: 2, Efficiency: 1, Radius: 0.05, Mass: 80, Friction: tooMuch, DrivenShare: 1}
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
	// μ share = 0.3: θ = atan 0.3 with no rolling resistance and no drag.
	b = lossless(400)
	b.Friction, b.DrivenShare = 0.5, 0.6
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
	p := drive.Pack{Nominal: 36, Full: 42, Cutoff: 28}
	for _, tt := range []struct{ share, want float64 }{
		{0, 28}, {0.25, 32}, {0.5, 36}, {0.75, 39}, {0.9, 40.8}, {1, 42}, {-1, 28}, {2, 42},
	} {
		near(t, "volts", p.OpenCircuit(tt.share), tt.want, 1e-12)
	}
	p.Cutoff = 0
	if volts := p.OpenCircuit(0.4); !math.IsNaN(volts) {
		t.Errorf("without a cut-off %g V at 0.4, want unknown", volts)
	}
	near(t, "volts without a cut-off", p.OpenCircuit(0.75), 39, 1e-12)
}

func TestIntake(t *testing.T) {
	nan := math.NaN()
	pack := drive.Pack{Nominal: 36, Full: 42, Cutoff: 28, Resistance: 0.1}
	for _, tt := range []struct {
		why          string
		pack         drive.Pack
		share, limit float64
		want         float64
		full, ok     bool
	}{
		{"full: none, whatever the limit", pack, 1, 8, 0, true, true},
		{"full: none, though the limit is not known", pack, 1, nan, 0, true, true},
		{"0.9: (42 − 40.8) V / 0.1 Ω = 12 A, above the limit", pack, 0.9, 8, 8, false, true},
		{"0.95: (42 − 41.4) V / 0.1 Ω = 6 A, below the limit", pack, 0.95, 8, 6, true, true},
		{"half: the limit", pack, 0.5, 8, 8, false, true},
		{"half, limit not known", pack, 0.5, nan, 0, false, false},
		{"no resistance: the limit until full", drive.Pack{Nominal: 36, Full: 42}, 0.99, 8, 8, false, true},
		{"below half without a cut-off", drive.Pack{Nominal: 36, Full: 42}, 0.2, 8, 0, false, false},
	} {
		in, ok := tt.pack.Intake(tt.share, tt.limit)
		if ok != tt.ok || in.Full != tt.full {
			t.Errorf("%s: %+v, %v", tt.why, in, ok)
		}
		within(t, tt.why, in.Current, tt.want, 1e-9)
	}
}

// AASHTO, A Policy on Geometric Design of Highways and Streets: braking distance
// = V²/(254 f), V in km/h: the 254 is 2 g × 3.6² rounded.
func TestStoppingDistance(t *testing.T) {
	b := lossless(40)
	for _, tt := range []struct{ kmh, friction float64 }{{20, 0.3}, {40, 0.5}, {100, 0.8}} {
		force := tt.friction * b.Mass * drive.Gravity
		near(t, "metres", b.StoppingDistance(tt.kmh/3.6, force), tt.kmh*tt.kmh/(254*tt.friction), 2e-3)
	}
	if d := b.StoppingDistance(0, 0); d != 0 {
		t.Errorf("from rest %g m", d)
	}
	if d := b.StoppingDistance(5, 0); !math.IsInf(d, 1) {
		t.Errorf("with nothing that brakes %g m", d)
	}
	// By hand: 2 × 0.05 × 40 A × 2/0.05 = 160 N.
	near(t, "braking at 40 A", b.CurrentBraking(), 160, 1e-12)
	// 42 V at k = 0.05: 840 rad/s, × 0.05/2.
	near(t, "speed of the back-EMF", b.BackEMFSpeed(42), 21, 1e-12)
}

// The closed form against small steps of Newton's law.
func TestStoppingDistanceByMarching(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBoard(t)
		v0 := rapid.Float64Range(0.5, 30).Draw(t, "speed")
		force := rapid.Float64Range(5, 2000).Draw(t, "force")
		const steps = 2000
		metres := 0.0
		for i := range steps {
			v := v0 * (float64(i) + 0.5) / steps
			metres += b.Mass * v / (force + b.Load(v, 0)) * v0 / steps
		}
		near(t, "metres", b.StoppingDistance(v0, force), metres, 1e-6)
	})
}
