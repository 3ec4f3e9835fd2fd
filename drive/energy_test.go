package drive_test

import (
	"math"
	"testing"

	"gearsearch/drive"

	"pgregory.net/rapid"
)

// What the cells give is what the road takes and what is lost on the way: in
// the pack, the controllers, the copper, at no load, in the drive. Each loss is
// written from its own definition.
func losses(b *drive.Board, v, amps, packAmps, force float64) (given, taken float64) {
	n, omega := float64(b.Motors), v*b.Reduction/b.Radius
	k := 60 / (2 * math.Pi * b.Motor.KV)
	atTerminals := packAmps * b.Pack.Terminal(packAmps)
	shaft := n * k * (amps - b.NoLoad) * omega
	given = packAmps * b.Pack.Volts
	taken = force*v +
		packAmps*packAmps*b.Pack.Resistance +
		(1-b.Controller.Efficiency)*atTerminals +
		n*amps*amps*b.R +
		n*k*b.NoLoad*omega +
		(1-b.Efficiency)*shaft
	return given, taken
}

func TestCruiseBalancesEnergy(t *testing.T) {
	cruised := 0
	rapid.Check(t, func(t *rapid.T) {
		for range perCheck {
			b, top := movingBoard(t)
			v := rapid.Float64Range(0.05, 1).Draw(t, "share of the top speed") * top
			c, ok := b.Cruise(v, b.Pack.Volts)
			if !ok {
				continue
			}
			cruised++
			given, taken := losses(&b, v, c.MotorCurrent, c.PackCurrent, b.Load(v, 0))
			near(t, "energy taken", taken, given, 1e-9)
			near(t, "energy for each metre", c.EnergyPerMetre*v, given, 1e-12)
			near(t, "power at the terminals", c.PackCurrent*b.Pack.Terminal(c.PackCurrent), c.Power, 1e-9)
			if c.PackCurrent*b.Pack.Resistance > b.Pack.Volts/2*(1+1e-9) {
				t.Errorf("pack current %g: not the lower root: %s", c.PackCurrent, describe(&b))
			}
		}
	})
	if cruised < 1000 && !testing.Short() {
		t.Errorf("only %d boards could cruise", cruised)
	}
}

// At full thrust the energy closes too, with the pack current that the binding
// limit stands for: full duty under voltage, the pack's cap under battery
// current.
func TestFullThrustBalancesEnergy(t *testing.T) {
	seen := map[drive.Limit]int{}
	rapid.Check(t, func(t *rapid.T) {
		for range perCheck {
			b := anyBoard(t)
			v := rapid.Float64Range(0.01, 0.98).Draw(t, "share of the free speed") * b.FreeSpeed(b.Pack.Volts)
			amps, by := b.Current(v * b.Reduction / b.Radius)
			if !(amps > b.NoLoad) {
				continue
			}
			seen[by]++
			n, p, c := float64(b.Motors), b.Pack, b.Controller
			var packAmps float64
			switch by {
			case drive.Voltage:
				packAmps = n * c.MaxDuty * amps / c.Efficiency
			case drive.BatteryCurrent:
				packAmps = n * c.BatteryCurrent
				if p.Discharge > 0 {
					packAmps = min(packAmps, p.Discharge)
				}
				if p.Resistance > 0 {
					packAmps = min(packAmps, (p.Volts-p.Cutoff)/p.Resistance, p.Volts/2/p.Resistance)
				}
			default:
				continue
			}
			given, taken := losses(&b, v, amps, packAmps, b.Thrust(v))
			if math.Abs(given-taken) > 1e-9*given {
				t.Fatalf("limited by %v the cells give %.12g W, %.12g W are taken: %s", by, given, taken, describe(&b))
			}
		}
	})
	for _, by := range []drive.Limit{drive.Voltage, drive.BatteryCurrent} {
		if seen[by] < 100 && !testing.Short() {
			t.Errorf("only %d boards were limited by %v", seen[by], by)
		}
	}
}

// The two motor limits that are no energy balance: the current as set, and the
// electrical power.
func TestMotorLimitsAreKept(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		for range perCheck {
			b := anyBoard(t)
			omega := rapid.Float64Range(0, 1.2).Draw(t, "share of the free speed") * b.Pack.Volts / b.K
			amps, by := b.Current(omega)
			asSet := amps / b.PhaseFactor
			if !drive.AtMost(asSet, b.Controller.MotorCurrent) || b.Motor.PeakCurrent > 0 && !drive.AtMost(asSet, b.Motor.PeakCurrent) {
				t.Fatalf("%g A as set: %s", asSet, describe(&b))
			}
			watts := amps * (b.K*omega + amps*b.R)
			if b.Motor.MaxPower > 0 && watts > b.Motor.MaxPower*(1+1e-9) {
				t.Fatalf("%g W: %s", watts, describe(&b))
			}
			if by == drive.MotorPower {
				near(t, "watts at the power limit", watts, b.Motor.MaxPower, 1e-9)
			}
		}
	})
}

// The factor √3/2 for phase amplitudes from the three phases themselves: with
// sinusoidal EMFs and currents in phase, averaged over a turn, the power into
// the EMFs is k ω I and the copper loss is R I².
func TestPhaseFactorFromThreePhases(t *testing.T) {
	const (
		amplitude = 37.0
		steps     = 360
	)
	e := drive.Couple(drive.Motor{KV: 190, PolePairs: 7, Resistance: 0.05, PeakCurrent: amplitude}, 1,
		drive.Controller{MaxDuty: 1, Efficiency: 1}, drive.Pack{Volts: 1e5}, 20)
	amps, by := e.Current(0)
	if by != drive.MotorCurrent {
		t.Fatalf("limited by %v", by)
	}
	omega := 400.0
	linePeak := omega * 60 / (2 * math.Pi) / 190 // what kv means
	power, copper := 0.0, 0.0
	for i := range steps {
		for phase := range 3 {
			wave := math.Sin(2*math.Pi*float64(i)/steps - 2*math.Pi*float64(phase)/3)
			current := amplitude * wave
			power += linePeak / math.Sqrt(3) * wave * current / steps
			copper += current * current * e.R / 2 / steps // one phase has half of R
		}
	}
	near(t, "power into the EMF", e.K*omega*amps, power, 1e-12)
	near(t, "copper loss", e.R*amps*amps, copper, 1e-12)
	if six := drive.Couple(e.Motor, 1, drive.Controller{MaxDuty: 1, Efficiency: 1, Commutation: drive.SixStep}, e.Pack, 20); six.PhaseFactor != 1 {
		t.Errorf("six-step factor %g, want 1", six.PhaseFactor)
	}
}

func TestCruiseDomain(t *testing.T) {
	b := street()
	if _, ok := b.Cruise(5, b.Pack.Nominal); !ok {
		t.Error("a street board cannot cruise at 5 m/s")
	}
	if c, ok := b.Cruise(200, b.Pack.Nominal); ok {
		t.Errorf("at 200 m/s: %+v, want none: more than V²/(4R)", c)
	}
	m := b.Motor
	m.Resistance = 0
	e := drive.Couple(m, 2, b.Controller, b.Pack, 60)
	unknown := b
	unknown.Electrical = &e
	if c, ok := unknown.Cruise(5, b.Pack.Nominal); ok {
		t.Errorf("without the motor's resistance: %+v, want none", c)
	}
	// Limits of thrust are not needed.
	e = drive.Couple(drive.Motor{KV: 175, PolePairs: 7, Resistance: 0.052, NoLoadCurrent: 0.9}, 2,
		drive.Controller{MaxDuty: 0.95, Efficiency: 0.97}, b.Pack, 60)
	bare := b
	bare.Electrical = &e
	got, ok := bare.Cruise(5, b.Pack.Nominal)
	want, _ := b.Cruise(5, b.Pack.Nominal)
	if !ok || got != want {
		t.Errorf("without current limits: %+v, %v, want %+v", got, ok, want)
	}
}
