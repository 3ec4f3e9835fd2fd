package drive_test

import (
	"math"
	"testing"

	"gearsearch/drive"

	"pgregory.net/rapid"
)

// The top speed against bisection of thrust less load, both in their plainest
// form. Bisection knows nothing of the limits' crossings.
func TestBalanceSpeedAgreesWithBisection(t *testing.T) {
	seen := map[drive.Limit]int{}
	rapid.Check(t, func(t *rapid.T) {
		for range perCheck {
			b := anyBoard(t)
			got, by := b.BalanceSpeed()
			seen[by]++
			want := bisectTop(&b)
			if !(math.Abs(got-want) <= 1e-6*want) {
				t.Fatalf("BalanceSpeed() = %.12g (%v), bisection finds %.12g: %s", got, by, want, describe(&b))
			}
			if (by == drive.NoLimit) != (got == 0) {
				t.Fatalf("BalanceSpeed() = %g, %q: a limit goes with a speed: %s", got, by, describe(&b))
			}
			if got > 0 && !binds(&b, got, by) {
				t.Fatalf("BalanceSpeed() = %g names %v, but the limits there are %+v: %s",
					got, by, plainCurrents(&b, got), describe(&b))
			}
		}
	})
	for _, by := range []drive.Limit{
		drive.NoLimit, drive.Voltage, drive.MotorCurrent, drive.BatteryCurrent, drive.MotorPower, drive.Grip,
	} {
		if seen[by] == 0 && !testing.Short() {
			t.Errorf("no board of the draw was limited by %q: the test covers less than it says", by)
		}
	}
}

// bisectTop returns the speed where plainThrust and plainLoad cross, or 0.
func bisectTop(b *drive.Board) float64 {
	if plainThrust(b, 0) < plainLoad(b, 0) {
		return 0
	}
	low, high := 0.0, 2*b.FreeSpeed(b.Pack.Volts)
	for high-low > 1e-13*high {
		if mid := (low + high) / 2; plainThrust(b, mid) > plainLoad(b, mid) {
			low = mid
		} else {
			high = mid
		}
		if high < 1e-9 {
			return 0
		}
	}
	return low
}

// binds reports whether a limit is among the lowest at a speed.
func binds(b *drive.Board, v float64, by drive.Limit) bool {
	c := plainCurrents(b, v)
	grip := b.Hold.Drive * b.Mass * drive.Gravity
	thrust := plainThrust(b, v)
	if by == drive.Grip {
		return math.Abs(thrust-grip) <= 1e-6*grip
	}
	amps := map[drive.Limit]float64{
		drive.Voltage: c.voltage, drive.MotorCurrent: c.motor, drive.BatteryCurrent: c.power, drive.MotorPower: c.power,
	}[by]
	return math.Abs(amps-c.lowest()) <= 1e-6*math.Abs(amps)
}

// Thrust, what limits it, and the current against the plainest form at any
// speed, above the free speed too.
func TestThrustIsTheLowestOfTheLimits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		for range perCheck {
			b := anyBoard(t)
			v := rapid.Float64Range(0, 1.3).Draw(t, "speed") * b.FreeSpeed(b.Pack.Volts)
			c := plainCurrents(&b, v)
			amps, by := b.Current(v * b.Reduction / b.Radius)
			// The plain root of the power limit cancels: 1e-7, not 1e-12.
			if math.Abs(amps-c.lowest()) > 1e-7*max(1, math.Abs(amps)) || !binds(&b, v, by) && amps > 0 {
				t.Fatalf("Current = %.12g (%v), want the lowest of %+v: %s", amps, by, c, describe(&b))
			}
			grip := b.GripThrust(0)
			if got, want := min(b.Thrust(v), grip), plainThrust(&b, v); math.Abs(got-want) > 1e-6*max(1, want) {
				t.Fatalf("Thrust(%g) = %.12g with grip, want %.12g: %s", v, got, want, describe(&b))
			}
			want := by
			if b.Thrust(v) > grip*(1+drive.Tolerance) {
				want = drive.Grip
			}
			if got := b.ThrustLimit(v, 0); got != want {
				t.Fatalf("ThrustLimit(%g) = %v, want %v: %s", v, got, want, describe(&b))
			}
		}
	})
}

func TestTopSpeedIsHeldDownByTheERPMCeiling(t *testing.T) {
	b := street()
	free, by := b.BalanceSpeed()
	for _, tt := range []struct {
		name    string
		ceiling float64 // m/s
		want    float64
		wantBy  drive.Limit
		why     string
	}{
		{"none", math.Inf(1), free, by, "no ceiling, no change"},
		{"above", free * 1.01, free, by, "a ceiling out of reach does not bind"},
		{"below", free * 0.5, free * 0.5, drive.ERPM, "the motor turns no faster"},
		{"equal", free, free, by, "the first of equals is named"},
		{"nearly equal", free * (1 - 1e-10), free * (1 - 1e-10), by, "equal within the tolerance"},
		{"just outside", free * (1 - 1e-8), free * (1 - 1e-8), drive.ERPM, "no longer equal"},
	} {
		if got, gotBy := b.TopSpeed(tt.ceiling); got != tt.want || gotBy != tt.wantBy {
			t.Errorf("%s: TopSpeed(%g) = %g, %v; want %g, %v: %s", tt.name, tt.ceiling, got, gotBy, tt.want, tt.wantBy, tt.why)
		}
	}
}

func TestEstimatedTopSpeed(t *testing.T) {
	b := street()
	// The duty is left out: the factor stands for it too.
	want := 0.85 * 175 * 36.8 / 60 * 2 * math.Pi * 0.05 / 2.75
	got, by := b.EstimatedTopSpeed(0.85, math.Inf(1))
	near(t, "estimate", got, want, 1e-14)
	if by != drive.Estimate {
		t.Errorf("limited by %v, want estimate", by)
	}
	for _, tt := range []struct {
		ceiling float64
		want    drive.Limit
	}{
		{want / 2, drive.ERPM},
		{want, drive.ERPM}, // of equals the ceiling comes first
		{want * (1 + 1e-10), drive.ERPM},
		{want * (1 + 1e-8), drive.Estimate},
	} {
		got, by := b.EstimatedTopSpeed(0.85, tt.ceiling)
		near(t, "capped estimate", got, min(want, tt.ceiling), 1e-14)
		if by != tt.want {
			t.Errorf("EstimatedTopSpeed(0.85, %g) is limited by %v, want %v", tt.ceiling, by, tt.want)
		}
	}
}

// Limits made to meet in one point: the first of them is named, each pair in
// turn.
func TestFirstOfEqualsIsNamed(t *testing.T) {
	// k = 1, N/r = 1, no losses but R: 200 N·m stall, falling by 2 a rad/s, and
	// so 100 N·m at 50 m/s, where each motor draws 100 A × (50 + 50) V = 10 kW.
	// The drag is made to take 100 N at that speed.
	const speed, thrust, watts = 50.0, 100.0, 1e4
	board := func(motor, pack, power, friction float64) drive.Board {
		e := drive.Couple(
			drive.Motor{KV: 60 / (2 * math.Pi), PolePairs: 1, Resistance: 0.5, MaxPower: power}, 1,
			drive.Controller{MotorCurrent: motor, BatteryCurrent: pack, MaxDuty: 1, Efficiency: 1, Commutation: drive.SixStep},
			drive.Pack{Volts: 100}, 20)
		return drive.Board{
			Electrical: &e, Reduction: 1, Efficiency: 1, Radius: 1, Mass: 10 / drive.Gravity,
			DragArea: 2 * thrust / (speed * speed), AirDensity: 1, Hold: holding(friction),
		}
	}
	const far = 1e6
	for _, tt := range []struct {
		name                         string
		motor, pack, power, friction float64
		want                         drive.Limit
	}{
		{"all but voltage out of reach", far, far, far, far, drive.Voltage},
		{"voltage and motor current", thrust, far, far, far, drive.Voltage},
		{"voltage and battery current", far, watts / 100, far, far, drive.Voltage},
		{"voltage and motor power", far, far, watts, far, drive.Voltage},
		{"voltage and grip", far, far, far, thrust / 10, drive.Voltage},
		{"all", thrust, watts / 100, watts, thrust / 10, drive.Voltage},
		{"all, voltage a trifle above", thrust * (1 - 1e-10), watts / 100, watts, thrust / 10, drive.Voltage},
	} {
		b := board(tt.motor, tt.pack, tt.power, tt.friction)
		v, by := b.BalanceSpeed()
		near(t, tt.name, v, speed, 1e-8)
		if by != tt.want {
			t.Errorf("%s: BalanceSpeed names %v, want %v", tt.name, by, tt.want)
		}
		if by := b.ThrustLimit(speed, 0); by != tt.want {
			t.Errorf("%s: ThrustLimit names %v, want %v", tt.name, by, tt.want)
		}
	}
	// Voltage out of the way: a pack of twice the volts.
	for _, tt := range []struct {
		name                         string
		motor, pack, power, friction float64
		want                         drive.Limit
	}{
		{"motor current and battery current", thrust, watts / 200, far, far, drive.MotorCurrent},
		{"motor current and motor power", thrust, far, watts, far, drive.MotorCurrent},
		{"motor current and grip", thrust, far, far, thrust / 10, drive.MotorCurrent},
		{"battery current and motor power", far, watts / 200, watts, far, drive.BatteryCurrent},
		{"battery current a trifle above motor power", far, watts / 200, watts * (1 - 1e-10), far, drive.BatteryCurrent},
		{"battery current above motor power", far, watts / 200, watts * (1 - 1e-8), far, drive.MotorPower},
		{"motor current a trifle above battery current", thrust, watts / 200 * (1 - 1e-10), far, far, drive.MotorCurrent},
		{"battery current and grip", far, watts / 200, far, thrust / 10, drive.BatteryCurrent},
		{"motor power and grip", far, far, watts, thrust / 10, drive.MotorPower},
		{"grip alone", far, far, far, thrust / 10, drive.Grip},
		{"battery current just above grip", far, watts / 200 * (1 + 1e-7), far, thrust / 10, drive.Grip},
		{"motor current just above grip", thrust * (1 + 1e-7), far, far, thrust / 10, drive.Grip},
	} {
		b := board(tt.motor, tt.pack, tt.power, tt.friction)
		pack := b.Pack
		pack.Volts = 200
		e := drive.Couple(b.Motor, 1, b.Controller, pack, 20)
		b.Electrical = &e
		v, by := b.BalanceSpeed()
		near(t, tt.name, v, speed, 1e-8)
		if by != tt.want {
			t.Errorf("%s: BalanceSpeed names %v, want %v", tt.name, by, tt.want)
		}
		if by := b.ThrustLimit(speed, 0); by != tt.want {
			t.Errorf("%s: ThrustLimit names %v, want %v", tt.name, by, tt.want)
		}
	}
}

// What cannot be computed is NaN, never a number.
func TestUnknownThrust(t *testing.T) {
	for _, tt := range []struct {
		name   string
		change func(m *drive.Motor, c *drive.Controller, p *drive.Pack)
		known  bool
		why    string
	}{
		{"all given", func(*drive.Motor, *drive.Controller, *drive.Pack) {}, true, ""},
		{
			"no resistance", func(m *drive.Motor, _ *drive.Controller, _ *drive.Pack) { m.Resistance = 0 }, false,
			"the voltage limit needs it",
		},
		{
			"no motor current", func(m *drive.Motor, c *drive.Controller, _ *drive.Pack) { m.PeakCurrent, c.MotorCurrent = 0, 0 },
			false, "nothing bounds the start",
		},
		{"the motor's current alone", func(_ *drive.Motor, c *drive.Controller, _ *drive.Pack) { c.MotorCurrent = 0 }, true, ""},
		{"the controller's current alone", func(m *drive.Motor, _ *drive.Controller, _ *drive.Pack) { m.PeakCurrent = 0 }, true, ""},
		{
			"no battery current", func(_ *drive.Motor, c *drive.Controller, p *drive.Pack) { c.BatteryCurrent, p.Discharge = 0, 0 },
			false, "sag alone does not count",
		},
		{"the pack's discharge alone", func(_ *drive.Motor, c *drive.Controller, _ *drive.Pack) { c.BatteryCurrent = 0 }, true, ""},
		{"no pack resistance, no cut-off", func(m *drive.Motor, _ *drive.Controller, p *drive.Pack) {
			p.Resistance, p.Cutoff, m.NoLoadCurrent = 0, 0, 0
		}, true, "none is a value"},
	} {
		b := street()
		m, c, p := b.Motor, b.Controller, b.Pack
		tt.change(&m, &c, &p)
		e := drive.Couple(m, 2, c, p, 60)
		b.Electrical = &e
		if e.ThrustKnown != tt.known {
			t.Errorf("%s: ThrustKnown = %v, want %v: %s", tt.name, e.ThrustKnown, tt.known, tt.why)
		}
		v, by := b.BalanceSpeed()
		top, topBy := b.TopSpeed(10)
		_, launched := b.LaunchTime(3, 20)
		for what, x := range map[string]float64{
			"Thrust": b.Thrust(3), "ClimbLimit": b.ClimbLimit(3), "BalanceSpeed": v, "TopSpeed": top,
		} {
			if math.IsNaN(x) == tt.known {
				t.Errorf("%s: %s = %g", tt.name, what, x)
			}
		}
		if known := by != drive.NoLimit && topBy != drive.NoLimit && launched && b.ThrustLimit(3, 0) != drive.NoLimit; known != tt.known {
			t.Errorf("%s: limits %v, %v, %v, launch ok %v", tt.name, by, topBy, b.ThrustLimit(3, 0), launched)
		}
	}
}

// TestThrustOfJustTheLoad: a thrust at rest that is above the load by no more than
// the tolerance does not start the board, whatever limits it; more does.
func TestThrustOfJustTheLoad(t *testing.T) {
	for _, tt := range []struct {
		by     drive.Limit
		change func(b *drive.Board, m *drive.Motor, p *drive.Pack)
	}{
		{drive.Grip, func(b *drive.Board, _ *drive.Motor, _ *drive.Pack) { b.Hold = holding(0.1) }},
		{drive.MotorCurrent, func(_ *drive.Board, m *drive.Motor, _ *drive.Pack) { m.PeakCurrent = 9 }},
		{drive.Voltage, func(_ *drive.Board, m *drive.Motor, _ *drive.Pack) { m.Resistance = 4 }},
		{drive.MotorPower, func(_ *drive.Board, m *drive.Motor, _ *drive.Pack) { m.MaxPower = 9 }},
	} {
		b := street()
		m, p := b.Motor, b.Pack
		tt.change(&b, &m, &p)
		e := drive.Couple(m, 2, b.Controller, p, 60)
		b.Electrical = &e
		if by := b.ThrustLimit(0, 0); by != tt.by {
			t.Fatalf("%v limits the thrust at rest, want %v", by, tt.by)
		}
		start := min(b.Thrust(0)/(b.Mass*drive.Gravity), b.Hold.Drive)
		for _, above := range []struct {
			share  float64
			starts bool
		}{{0, false}, {1e-16, false}, {-1e-10, false}, {1e-10, false}, {9e-10, false}, {1.1e-9, true}, {1e-6, true}} {
			b.Crr = start / (1 + above.share)
			v, by := b.BalanceSpeed()
			if (v > 0) != above.starts || (by != drive.NoLimit) != above.starts {
				t.Errorf("%v: with a thrust of %g above the load BalanceSpeed() = %g, %v; want a start: %v", tt.by, above.share, v, by, above.starts)
			}
		}
	}
}

func TestBoardThatCannotStart(t *testing.T) {
	for _, tt := range []struct {
		name   string
		change func(b *drive.Board, m *drive.Motor, p *drive.Pack)
	}{
		{"deep sand", func(b *drive.Board, _ *drive.Motor, _ *drive.Pack) { b.Crr = 5 }},
		{"ice", func(b *drive.Board, _ *drive.Motor, _ *drive.Pack) { b.Hold = holding(0.006) }},
		{"a stuck motor", func(_ *drive.Board, m *drive.Motor, _ *drive.Pack) { m.NoLoadCurrent = 100 }},
		{"a motor of no power", func(_ *drive.Board, m *drive.Motor, _ *drive.Pack) { m.MaxPower = 1e-3 }},
		{"an empty pack", func(_ *drive.Board, _ *drive.Motor, p *drive.Pack) { p.Cutoff = p.Volts }},
		{"a pack below empty", func(_ *drive.Board, _ *drive.Motor, p *drive.Pack) { p.Cutoff = p.Volts + 1 }},
	} {
		b := street()
		m, p := b.Motor, b.Pack
		tt.change(&b, &m, &p)
		e := drive.Couple(m, 2, b.Controller, p, 60)
		b.Electrical = &e
		if v, by := b.BalanceSpeed(); v != 0 || by != drive.NoLimit {
			t.Errorf("%s: BalanceSpeed() = %g, %v, want 0 and no limit", tt.name, v, by)
		}
		if v, by := b.TopSpeed(5); v != 0 || by != drive.NoLimit {
			t.Errorf("%s: TopSpeed(5) = %g, %v, want 0 and no limit", tt.name, v, by)
		}
		if s, ok := b.LaunchTime(3, 0); ok {
			t.Errorf("%s: LaunchTime(3, 0) = %g, want none", tt.name, s)
		}
		if amps, _ := e.Current(0); !(amps >= 0) {
			t.Errorf("%s: %g A at standstill, want a number ≥ 0", tt.name, amps)
		}
		for _, x := range []float64{b.Thrust(0), b.Thrust(3), b.ClimbLimit(3)} {
			if math.IsNaN(x) || x < 0 {
				t.Errorf("%s: thrusts %g, %g, climb limit %g: want numbers ≥ 0", tt.name, b.Thrust(0), b.Thrust(3), b.ClimbLimit(3))
			}
		}
	}
}
