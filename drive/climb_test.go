package drive_test

import (
	"math"
	"testing"

	"gearsearch/drive"

	"pgregory.net/rapid"
)

// The steepest grade is where thrust meets load or grip meets load, the nearer:
// put back into the forces, and a little more or less of it.
func TestClimbLimitBalances(t *testing.T) {
	kinds := map[string]int{}
	rapid.Check(t, func(t *rapid.T) {
		for range perCheck {
			b, top := movingBoard(t)
			v := rapid.Float64Range(0, 0.98).Draw(t, "share of the top speed") * top
			grade := b.ClimbLimit(v)
			theta := math.Atan(grade)
			spare := min(b.Thrust(v), b.GripThrust(theta)) - b.Load(v, theta)
			weight := b.Mass * drive.Gravity
			switch {
			case b.Thrust(v) > weight*1.5 && b.GripThrust(theta) > b.Load(v, theta)*(1+1e-9):
				t.Fatalf("grade %g: grip and thrust both to spare: %s", grade, describe(&b))
			case grade == 0:
				t.Fatalf("climbs nothing at %g of the top speed: %s", v/top, describe(&b))
			case math.Abs(spare) > 1e-9*weight:
				t.Fatalf("grade %g: %g N to spare: %s", grade, spare, describe(&b))
			}
			if b.Thrust(v) < b.GripThrust(theta) {
				kinds["thrust"]++
			} else {
				kinds["grip"]++
			}
		}
	})
	if kinds["thrust"] < 100 || kinds["grip"] < 100 {
		t.Errorf("limits seen: %v", kinds)
	}
}

func TestClimbLimit(t *testing.T) {
	// 100 kg with k = 1, N/r = 1 and 1000 N·m: the thrust is the torque.
	board := func(torque float64) drive.Board {
		e := torqueLine(1, 1e9, 1e6, torque)
		return drive.Board{Electrical: &e, Reduction: 1, Efficiency: 1, Radius: 1, Mass: 100, AirDensity: 1.2, Hold: holding(tooMuch)}
	}
	const weight = 100 * drive.Gravity
	for _, tt := range []struct {
		name                string
		torque, v           float64
		crr, dragArea, hold float64
		want                float64
		why                 string
	}{
		{"sine", weight * 0.6, 0, 0, 0, tooMuch, 0.75, "thrust 3/5 of the weight: the 3-4-5 triangle"},
		{"with rolling resistance", weight * (0.6 + 0.05*0.8), 0, 0.05, 0, tooMuch, 0.75, "the same slope, and Crr of its cosine more"},
		{"with air", weight*0.6 + 0.6*0.5*100, 10, 0, 0.5, tooMuch, 0.75, "½ρA v² more"},
		{"grip", weight * 10, 0, 0, 0, 0.3, 0.3, "tan θ = κ"},
		{"grip less rolling resistance", weight * 10, 0, 0.05, 0, 0.3, 0.25, "tan θ = κ − Crr"},
		{"grip and air", weight * 10, 10, 0, weight / 5 / (0.5 * 1.2 * 100), 1, 0.75, "½ρA v² a fifth of the weight, and 4/5 − 3/5 = 1/5"},
		{"too weak", 1, 0, 0.05, 0, tooMuch, 0, "it does not even roll"},
		{"too slippery", weight, 0, 0.05, 0, 0.01, 0, "the same on ice"},
	} {
		b := board(tt.torque)
		b.Crr, b.DragArea, b.Hold = tt.crr, tt.dragArea, holding(tt.hold)
		within(t, tt.name+" ("+tt.why+")", b.ClimbLimit(tt.v), tt.want, 1e-9)
	}
	// More thrust than weight: as far as the tyres hold.
	b := board(weight * 2)
	near(t, "thrust above the weight", b.ClimbLimit(0), tooMuch, 1e-9)
}

func TestLoad(t *testing.T) {
	b := street()
	weight := b.Mass * drive.Gravity
	near(t, "flat, at rest", b.Load(0, 0), weight*0.02, 1e-14)
	near(t, "flat, moving", b.Load(8, 0), weight*0.02+0.5*1.225*0.55*64, 1e-14)
	theta := math.Atan(0.15)
	// sin and cos of a 15 % grade by Pythagoras.
	hypotenuse := math.Sqrt(1 + 0.15*0.15)
	near(t, "uphill", b.Load(8, theta), weight*(0.15/hypotenuse+0.02/hypotenuse)+0.5*1.225*0.55*64, 1e-13)
	near(t, "downhill", b.Load(0, -theta), weight*(-0.15/hypotenuse+0.02/hypotenuse), 1e-13)
	near(t, "grip on the flat", b.GripThrust(0), 0.48*weight, 1e-14)
	near(t, "grip uphill", b.GripThrust(theta), 0.48*weight/hypotenuse, 1e-13)
}

// The current for a force gives that force back.
func TestMotorCurrentForIsTheInverseOfThrust(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		for range perCheck {
			b := anyBoard(t)
			v := rapid.Float64Range(0, 1).Draw(t, "share of the free speed") * b.FreeSpeed(b.Pack.Volts)
			if amps, _ := b.Current(v * b.Reduction / b.Radius); amps > b.NoLoad+0.01 {
				near(t, "motor current", b.MotorCurrentFor(b.Thrust(v)), amps, 1e-9)
			}
			near(t, "at no force", b.MotorCurrentFor(0), b.Motor.NoLoadCurrent, 0)
		}
	})
}
