package drive_test

import (
	"math"
	"testing"

	"gearsearch/drive"

	"pgregory.net/rapid"
)

// Facts of the trade: common practice, no published source.
func TestFactsOfTheTrade(t *testing.T) {
	const mph = 1609.344 / 3600
	board := func(kv, volts float64) drive.Board {
		e := drive.Couple(drive.Motor{KV: kv, PolePairs: 7}, 2, drive.Controller{MaxDuty: 0.95, Efficiency: 0.97}, drive.Pack{Volts: volts}, 60)
		return drive.Board{Electrical: &e, Reduction: 5, Efficiency: 0.96, Radius: 0.1, Mass: 90}
	}
	// At 36 V a motor of 190 rpm/V and 7 pole pairs turns 47 880 electrical rpm.
	b := board(190, 36)
	near(t, "electrical rpm", b.FreeERPM(36), 47880, 1e-12)
	// Older controllers stop at 60 000: out of reach at 36 V, in reach at 50.4.
	if b.FreeERPM(36) >= 60000 || b.FreeERPM(12*4.2) <= 60000 {
		t.Errorf("electrical rpm %g at 36 V and %g at 12 × 4.2 V, want 60 000 between them", b.FreeERPM(36), b.FreeERPM(12*4.2))
	}
	// 5:1 on a 200 mm wheel, and a factor of 0.85 for all losses.
	for _, tt := range []struct{ kv, volts, want float64 }{
		{190, 36, 27.24}, {170, 36, 24.37}, {190, 43.2, 32.69},
	} {
		b := board(tt.kv, tt.volts)
		v, _ := b.EstimatedTopSpeed(0.85, math.Inf(1))
		within(t, "mph", v/mph, tt.want, 0.005)
		near(t, "back from the electrical rpm", b.ERPMSpeed(b.FreeERPM(tt.volts))*0.85, v, 1e-12)
	}
}

// A larger wheel on the same drive, or a smaller reduction, gives more speed
// and less thrust (common practice, no published source). For the speed that
// holds while voltage limits it and the back-EMF is more than half the volts:
// beyond, at less than half of them, the motor is geared too long to pull.
func TestLargerWheelIsFasterAndWeaker(t *testing.T) {
	const larger = 1.02
	faster := 0
	rapid.Check(t, func(t *rapid.T) {
		for range perCheck {
			b, top := movingBoard(t)
			wheel, gear := b, b
			wheel.Radius *= larger
			gear.Reduction /= larger
			for name, other := range map[string]drive.Board{"wheel": wheel, "reduction": gear} {
				if !(other.Thrust(0) < b.Thrust(0)) {
					t.Fatalf("%s: start thrust %g, was %g: %s", name, other.Thrust(0), b.Thrust(0), describe(&b))
				}
				near(t, name+": free speed", other.FreeSpeed(40), larger*b.FreeSpeed(40), 1e-12)
				near(t, name+": speed at an electrical rpm", other.ERPMSpeed(5e4), larger*b.ERPMSpeed(5e4), 1e-12)
				v, by := other.BalanceSpeed()
				_, was := b.BalanceSpeed()
				half := b.Controller.MaxDuty * b.Pack.Volts / 2
				if by != drive.Voltage || was != drive.Voltage || other.K*v*other.Reduction/other.Radius < half {
					continue
				}
				faster++
				if !(v > top) {
					t.Fatalf("%s: top speed %g, was %g: %s", name, v, top, describe(&b))
				}
			}
		}
	})
	if faster < 200 && !testing.Short() {
		t.Errorf("only %d boards were limited by voltage", faster)
	}
}
