package drive_test

import (
	"math"
	"testing"

	"gearsearch/drive"

	"gonum.org/v1/gonum/integrate/quad"
	"pgregory.net/rapid"
)

// numericLaunch integrates m/(F − L) from the plainest form of the limits with
// gonum's Gauss–Legendre rule, blind to closed forms. The interval is first cut
// where the lowest limit changes, found by scanning and bisecting; each piece is
// cut again into panels that halve toward the speed where thrust and load
// balance, since the integrand grows without bound there.
func numericLaunch(b *drive.Board, to float64) float64 {
	const scan = 2000
	lowest := func(v float64) int {
		c := plainCurrents(b, v)
		gain := float64(b.Motors) * b.K * b.Efficiency * b.Reduction / b.Radius
		all := [4]float64{c.voltage, c.motor, c.power, b.Hold.Drive*b.Mass*drive.Gravity/gain + b.NoLoad}
		at := 0
		for i, amps := range all {
			if amps < all[at] {
				at = i
			}
		}
		return at
	}
	cuts := []float64{0}
	for i := range scan {
		low, high := to*float64(i)/scan, to*float64(i+1)/scan
		if a, z := lowest(low), lowest(high); a != z {
			for range 60 {
				if mid := (low + high) / 2; lowest(mid) == a {
					low = mid
				} else {
					high = mid
				}
			}
			cuts = append(cuts, low)
		}
	}
	cuts = append(cuts, to)

	pace := func(v float64) float64 { return b.Mass / (plainThrust(b, v) - plainLoad(b, v)) }
	balance := bisectTop(b)
	sum := 0.0
	for i := 1; i < len(cuts); i++ {
		from, end := cuts[i-1], cuts[i]
		for from < end {
			// A quarter of the way to the pole, and finer than any scale of the
			// limits, so that 12 points leave nothing to wish.
			next := min(end, from+min((balance-from)/4, to/8))
			sum += quad.Fixed(pace, from, next, 12, quad.Legendre{}, 0)
			from = next
		}
	}
	return sum
}

func TestLaunchAgreesWithQuadrature(t *testing.T) {
	pieces := map[drive.Limit]int{}
	rapid.Check(t, func(t *rapid.T) {
		for range perCheck {
			b, top := movingBoard(t)
			// Up to a millionth below the balance speed.
			to := top * (1 - math.Pow(10, -rapid.Float64Range(0.05, 6).Draw(t, "nearness")))
			got, ok := b.LaunchTime(to, top)
			want := numericLaunch(&b, to)
			if !ok || math.Abs(got-want) > 1e-6*want {
				t.Fatalf("LaunchTime(%g of %g) = %.12g, %v; quadrature gives %.12g: %s", to, top, got, ok, want, describe(&b))
			}
			pieces[b.ThrustLimit(to*0.999, 0)]++
		}
	})
	for _, by := range []drive.Limit{
		drive.Voltage, drive.MotorCurrent, drive.BatteryCurrent, drive.MotorPower, drive.Grip,
	} {
		if pieces[by] == 0 && !testing.Short() {
			t.Errorf("no launch of the draw ended under %q: the test covers less than it says", by)
		}
	}
}

// Where the numbers are tame the two agree far better than the draw can ask.
func TestLaunchIsExact(t *testing.T) {
	b := street()
	top, _ := b.BalanceSpeed()
	for _, share := range []float64{0.02, 0.2, 0.4, 0.6, 0.8, 0.9, 0.99, 0.999} {
		got, ok := b.LaunchTime(share*top, top)
		if !ok {
			t.Fatalf("no launch to %g of the top speed", share)
		}
		near(t, "launch", got, numericLaunch(&b, share*top), 1e-10)
	}
}

// The ends of the domain: what has no answer, and no drag, no rolling
// resistance, no load at all.
func TestLaunchDomain(t *testing.T) {
	b := street()
	top, _ := b.BalanceSpeed()
	for _, tt := range []struct {
		name    string
		to, top float64
		ok      bool
		why     string
	}{
		{"standstill", 0, top, true, "no time at all"},
		{"below", 0.9 * top, top, true, ""},
		{"at the balance", top, top, false, "it is approached for ever"},
		{"within the tolerance of the balance", top * (1 - 1e-10), top, false, "equal counts as at"},
		{"just below", top * (1 - 1e-8), top, true, "slow, but it ends"},
		{"above", 1.1 * top, top, false, ""},
		{"above a capped top speed", 0.8 * top, 0.7 * top, false, "the motor turns no faster"},
		{"at a capped top speed", 0.7 * top, 0.7 * top, true, "reached at full thrust"},
		{"above the balance, whatever top says", 1.1 * top, 2 * top, false, "the thrust falls short of the load"},
		{"not a number", math.NaN(), top, false, ""},
	} {
		s, ok := b.LaunchTime(tt.to, tt.top)
		if ok != tt.ok || math.IsNaN(s) || math.IsInf(s, 0) || (ok && (s > 0) != (tt.to > 0)) {
			t.Errorf("%s: LaunchTime(%g, %g) = %g, %v, want ok %v: %s", tt.name, tt.to, tt.top, s, ok, tt.ok, tt.why)
		}
	}
}

// Near the balance speed the time grows by the same amount for every tenth of
// the remaining gap: the logarithm of first-order decay, with the time constant
// m/|d(F−L)/dv|.
func TestLaunchGrowsLogarithmicallyNearTheBalance(t *testing.T) {
	for name, change := range map[string]func(b *drive.Board, c *drive.Controller, m *drive.Motor){
		"voltage":         func(*drive.Board, *drive.Controller, *drive.Motor) {},
		"motor current":   func(b *drive.Board, c *drive.Controller, _ *drive.Motor) { c.MotorCurrent = 9; b.DragArea = 0.9 },
		"battery current": func(b *drive.Board, c *drive.Controller, _ *drive.Motor) { c.BatteryCurrent = 7; b.DragArea = 0.9 },
		"motor power":     func(b *drive.Board, _ *drive.Controller, m *drive.Motor) { m.MaxPower = 200; b.DragArea = 0.9 },
		"grip":            func(b *drive.Board, _ *drive.Controller, _ *drive.Motor) { b.Hold = holding(0.036); b.DragArea = 0.9 },
	} {
		b := street()
		c, m := b.Controller, b.Motor
		change(&b, &c, &m)
		e := drive.Couple(m, 2, c, b.Pack, 60)
		b.Electrical = &e
		top, by := b.BalanceSpeed()
		if want := map[string]drive.Limit{
			"voltage": drive.Voltage, "motor current": drive.MotorCurrent, "battery current": drive.BatteryCurrent,
			"motor power": drive.MotorPower, "grip": drive.Grip,
		}[name]; by != want {
			t.Fatalf("%s: limited by %v", name, by)
		}
		const d = 1e-5
		slope := (plainThrust(&b, top*(1-d)) - plainLoad(&b, top*(1-d))) / (top * d)
		tau := b.Mass / slope
		last, _ := b.LaunchTime(top*(1-1e-5), top)
		for _, gap := range []float64{1e-6, 1e-7, 1e-8} {
			s, ok := b.LaunchTime(top*(1-gap), top)
			if !ok {
				t.Fatalf("%s: no launch to within %g of the balance", name, gap)
			}
			near(t, name+": time for a decade of the gap", s-last, tau*math.Ln10, 2e-4)
			last = s
		}
	}
}

// Without load, and with ever less of it: the time of no drag is the limit of
// that of little drag, piece by piece.
func TestLaunchWithoutLoad(t *testing.T) {
	for _, tt := range []struct {
		name                  string
		crr, dragArea, noLoad float64
	}{
		{"nothing at all", 0, 0, 0},
		{"no drag", 0.02, 0, 0.9},
		{"no rolling resistance", 0, 0.5, 0},
		{"no-load current alone", 0, 0, 0.9},
	} {
		launch := func(crr, dragArea, noLoad float64) (seconds [4]float64) {
			b := street()
			m := b.Motor
			m.NoLoadCurrent = noLoad
			e := drive.Couple(m, 2, b.Controller, b.Pack, 60)
			b.Electrical, b.Crr, b.DragArea = &e, crr, dragArea
			for i, share := range []float64{0.1, 0.4, 0.8, 0.9} {
				to := share * b.FreeSpeed(b.Pack.Volts) * 0.9
				s, ok := b.LaunchTime(to, math.Inf(1))
				if !ok {
					t.Fatalf("%s: no launch to %g m/s", tt.name, to)
				}
				near(t, tt.name, s, numericLaunch(&b, to), 1e-9)
				seconds[i] = s
			}
			return seconds
		}
		got := launch(tt.crr, tt.dragArea, tt.noLoad)
		for _, little := range []float64{1e-14, 1e-100, 1e-300} {
			almost := launch(tt.crr+little, tt.dragArea+little, tt.noLoad+little)
			for i := range got {
				near(t, tt.name+", almost", almost[i], got[i], 1e-10)
			}
		}
	}
}

// TestLaunchOfEquals: where thrust and load are equal, and their difference is
// rounding, no speed is reached in any time.
func TestLaunchOfEquals(t *testing.T) {
	e := drive.Couple(drive.Motor{KV: 20, PolePairs: 1, Resistance: 0.5}, 1, drive.Controller{MotorCurrent: 5, BatteryCurrent: 2, MaxDuty: 1, Efficiency: 1}, drive.Pack{Volts: 12, Nominal: 12}, 20)
	for _, share := range []float64{0.75, 0.75 * (1 + 1e-15), 0.75 * (1 + 1e-13)} {
		b := drive.Board{Electrical: &e, Reduction: 1, Radius: 0.0625, Efficiency: 1, Mass: 20, Crr: 0.15, Hold: holding(0.2 * share)}
		top, _ := b.BalanceSpeed()
		if s, ok := b.LaunchTime(0.02, top); ok {
			t.Errorf("share %v: %g s to 0.02 m/s of %g", share, s, top)
		}
	}
	b := drive.Board{Electrical: &e, Reduction: 1, Radius: 0.0625, Efficiency: 1, Mass: 20, Crr: 0.15, Hold: holding(0.16)}
	if top, _ := b.BalanceSpeed(); top <= 0.02 {
		t.Errorf("top speed %g with thrust to spare: the test does not test", top)
	} else if s, ok := b.LaunchTime(0.02, top); !ok || s <= 0 {
		t.Errorf("%g s, %t with thrust to spare", s, ok)
	}
}
