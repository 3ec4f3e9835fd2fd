package drive_test

import (
	"fmt"
	"math"

	"gearsearch/drive"

	"pgregory.net/rapid"
)

// perCheck is how many boards a property draws for each of rapid's checks, 100
// by default: 2500 boards.
const perCheck = 25

// reporter is what *testing.T and *rapid.T share.
type reporter interface {
	Helper()
	Errorf(format string, args ...any)
}

// near fails unless got is within a relative distance of want.
func near(t reporter, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*math.Abs(want)) {
		t.Errorf("%s = %.12g, want %.12g within %g of it", what, got, want, tolerance)
	}
}

// within fails unless got is within an absolute distance of want, for values
// that a source rounds.
func within(t reporter, what string, got, want, distance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= distance) {
		t.Errorf("%s = %.9g, want %.9g ± %g", what, got, want, distance)
	}
}

// torqueLine returns a motor whose torque in N·m falls from stall by slope for
// each rad/s and is capped: k = 1, so that amperes are newton metres, and no
// loss but in the resistance that makes the slope.
func torqueLine(n int, stall, slope, ceiling float64) drive.Electrical {
	return drive.Couple(
		drive.Motor{KV: 60 / (2 * math.Pi), PolePairs: 1, Resistance: 1 / slope},
		n,
		drive.Controller{MotorCurrent: ceiling, BatteryCurrent: 1e12, MaxDuty: 1, Efficiency: 1, Commutation: drive.SixStep},
		drive.Pack{Volts: stall / slope},
		20,
	)
}

// street is a plausible board of no particular make.
func street() drive.Board {
	e := drive.Couple(
		drive.Motor{
			KV: 175, PolePairs: 7, Resistance: 0.052, NoLoadCurrent: 0.9,
			PeakCurrent: 75, MaxPower: 1900,
		},
		2,
		drive.Controller{
			MotorCurrent: 70, BatteryCurrent: 22,
			MaxDuty: 0.95, Efficiency: 0.97,
		},
		drive.Pack{Volts: 36.8, Nominal: 36.8, Full: 42, Cutoff: 30, Resistance: 0.085, Discharge: 60, Capacity: 11.6},
		60,
	)
	return drive.Board{
		Electrical: &e, Reduction: 2.75, Efficiency: 0.96, Radius: 0.05, Mass: 92,
		Crr: 0.02, DragArea: 0.55, AirDensity: 1.225, Hold: holding(0.48),
	}
}

// holding is a hold that is the same whether the board drives or brakes.
func holding(share float64) drive.Hold { return drive.Hold{Drive: share, By: drive.Grip, Brake: share} }

// orZero draws from a range, or the zero that stands for unknown or none, one
// time in four.
func orZero(t *rapid.T, low, high float64, name string) float64 {
	if rapid.IntRange(0, 3).Draw(t, name+" given") == 0 {
		return 0
	}
	return rapid.Float64Range(low, high).Draw(t, name)
}

// anyBoard draws a board whose thrust is known, from ranges wider than the
// trade's: motors that stall on their pack, wheels that slip, no drag at all.
func anyBoard(t *rapid.T) drive.Board {
	real := func(low, high float64, name string) float64 {
		return rapid.Float64Range(low, high).Draw(t, name)
	}
	volts := real(12, 90, "volts")
	m := drive.Motor{
		KV:            real(20, 400, "kv"),
		PolePairs:     rapid.IntRange(1, 30).Draw(t, "pole pairs"),
		Resistance:    real(0.005, 0.5, "resistance"),
		NoLoadCurrent: orZero(t, 0.05, 4, "no-load current"),
		PeakCurrent:   orZero(t, 5, 200, "peak current"),
		MaxPower:      orZero(t, 100, 8000, "max power"),
	}
	c := drive.Controller{
		MotorCurrent:   real(5, 200, "motor current"),
		BatteryCurrent: real(2, 120, "battery current"),
		MaxDuty:        real(0.5, 1, "duty"),
		Efficiency:     real(0.8, 1, "controller efficiency"),
		Commutation:    rapid.SampledFrom([]drive.Commutation{drive.FOC, drive.SixStep}).Draw(t, "commutation"),
	}
	p := drive.Pack{
		Volts:      volts,
		Nominal:    volts,
		Cutoff:     orZero(t, 0.5*volts, 0.95*volts, "cut-off"),
		Resistance: orZero(t, 0.005, 0.6, "pack resistance"),
		Discharge:  orZero(t, 5, 200, "discharge"),
	}
	e := drive.Couple(m, rapid.SampledFrom([]int{1, 2, 4}).Draw(t, "motors"), c, p, real(-10, 120, "winding"))
	return drive.Board{
		Electrical: &e,
		Reduction:  real(0.8, 12, "reduction"),
		Efficiency: real(0.7, 1, "drive efficiency"),
		Radius:     real(0.03, 0.15, "radius"),
		Mass:       real(20, 200, "mass"),
		Crr:        orZero(t, 0.002, 0.15, "crr"),
		DragArea:   orZero(t, 1e-6, 1, "drag area"),
		AirDensity: real(0.7, 1.5, "air density"),
		Hold:       holding(real(0.02, 1.2, "hold")),
	}
}

// movingBoard draws a board that can start on the flat, and not so nearly not
// that its top speed is the difference of equal numbers.
func movingBoard(t *rapid.T) (b drive.Board, top float64) {
	for range 200 {
		b = anyBoard(t)
		if drive.AtMost(b.Thrust(0), b.Load(0, 0)) || drive.AtMost(b.GripThrust(0), b.Load(0, 0)) {
			continue // one but for rounding
		}
		if top, _ = b.BalanceSpeed(); top > 0.01*b.FreeSpeed(b.Pack.Volts) {
			return b, top
		}
	}
	t.Fatal("no board of 200 starts on the flat")
	return b, 0
}

// currents are the three limits of the package comment, one at a time and in their plainest
// form: an independent statement of what Electrical.Current does in fewer
// operations.
type currents struct{ voltage, motor, power float64 }

func plainCurrents(b *drive.Board, v float64) currents {
	m, c, p, n := b.Motor, b.Controller, b.Pack, float64(b.Motors)
	k := 60 / (2 * math.Pi * m.KV)
	emf := k * v * b.Reduction / b.Radius

	factor := 1.0
	if c.Commutation == drive.FOC {
		factor = math.Sqrt(0.75)
	}
	motor := c.MotorCurrent
	if m.PeakCurrent != 0 && m.PeakCurrent < motor {
		motor = m.PeakCurrent
	}

	pack := n * c.BatteryCurrent
	if p.Discharge != 0 && p.Discharge < pack {
		pack = p.Discharge
	}
	if p.Resistance != 0 {
		if sag := (p.Volts - p.Cutoff) / p.Resistance; p.Cutoff != 0 && sag < pack {
			pack = sag
		}
		if most := p.Volts / p.Resistance / 2; most < pack {
			pack = most
		}
	}
	watts := c.Efficiency * (pack*p.Volts - pack*pack*p.Resistance) / n
	if m.MaxPower != 0 && m.MaxPower < watts {
		watts = m.MaxPower
	}
	return currents{
		voltage: (c.MaxDuty*p.Volts - emf) / (b.R + n*c.MaxDuty*c.MaxDuty*p.Resistance/c.Efficiency),
		motor:   motor * factor,
		power:   (-emf + math.Sqrt(emf*emf+4*b.R*watts)) / (2 * b.R),
	}
}

func (c currents) lowest() float64 { return math.Min(c.voltage, math.Min(c.motor, c.power)) }

// plainThrust is the thrust on the flat, grip included.
func plainThrust(b *drive.Board, v float64) float64 {
	amps := plainCurrents(b, v).lowest() - b.Motor.NoLoadCurrent
	force := float64(b.Motors) * b.Efficiency * b.Reduction / b.Radius * 60 / (2 * math.Pi * b.Motor.KV) * amps
	grip := b.Hold.Drive * b.Mass * drive.Gravity
	return math.Min(math.Max(force, 0), grip)
}

// plainLoad is the load on the flat.
func plainLoad(b *drive.Board, v float64) float64 {
	return b.Mass*drive.Gravity*b.Crr + b.AirDensity*b.DragArea*v*v/2
}

// describe prints a board with its parts, for failures.
func describe(b *drive.Board) string {
	return fmt.Sprintf("%d × %+v, %+v, %+v, R %v; board %+v", b.Motors, b.Motor, b.Controller, b.Pack, b.R,
		[]float64{b.Reduction, b.Efficiency, b.Radius, b.Mass, b.Crr, b.DragArea, b.AirDensity, b.Hold.Drive})
}
