package constraints

import "testing"

// On belts at 12 km/h: 299.752082 N of thrust, 14.987604 N·m; 149.124571 N are
// needed on 15 %. The arithmetic stands with the figures.
func TestClimb(t *testing.T) {
	const thrust, need = 299.75208228136574, 149.12457111926366
	grade := func(pct string, more ...string) []string {
		return append([]string{"target.climb_grade_pct = " + pct}, more...)
	}
	const flat = 19.493908386555557  // 89.23 g × 0.018 + 3.743056
	const steep = 343.35179338509425 // 89.23 g (0.4 + 0.018) / √1.16 + 3.743056
	const grip = 116.82443214940831  // 0.15 × 0.9 × 89.23 g / √1.0225
	const lift = 162.6888388451019   // (0.3 / (1500/850) + 0.018) × 89.23 g / √1.0225
	testCheck(t, "climb", []checkCase{
		{name: "no grade", why: "the brief does not ask", want: "absent"},
		{name: "up", why: "299.8 of 149.1", want: "pass", change: grade("15"), value: thrust, limit: need, margin: 100 * (thrust/need - 1)},
		{name: "too steep", why: "299.8 of 343.4", want: "fail", change: grade("40"), value: thrust, limit: steep, margin: 100 * (thrust/steep - 1)},
		{name: "flat", why: "a grade may be 0: 875.05 × 0.018 + 3.743", want: "pass", change: grade("0"), value: thrust, limit: flat, margin: 100 * (thrust/flat - 1)},
		{name: "thrust not known", why: "without any resistance 620.8 W / 12.73 V give 48.76 A, 350 N: enough", want: "unknown", change: grade("15", unknownMotor...), value: 350.24694022232546, limit: need, margin: 100 * (350.24694022232546/need - 1)},
		{name: "too steep for the best motor", why: "350 of 370", want: "fail", change: grade("43.5", unknownMotor...), value: 350.24694022232546, limit: 367.2374813950383, margin: -4.6265814448378855},
		{name: "too steep for the wheels", why: "116.8, whatever the motor gives", want: "fail", change: grade("15", append(unknownMotor, "ground.grip = 0.15")...), value: grip, limit: need, margin: 100 * (grip/need - 1)},
		{name: "no grip", why: "116.8", want: "fail", change: grade("15", "ground.grip = 0.15"), value: grip, limit: need, margin: 100 * (grip/need - 1)},
		{name: "front wheels lift", why: "162.7 of 149.1 by a rider who stands high and does not lean", want: "pass", change: grade("15", "board.lean = 0", "board.centre_height_mm = 1500"), value: lift, limit: need, margin: 100 * (lift/need - 1)},
	})
	testCheck(t, "hill-torque", []checkCase{
		{name: "no target", why: "the brief does not ask", want: "absent", change: grade("15")},
		{name: "reached", why: "14.99 of 14, no grade needed", want: "pass", change: []string{"target.hill_torque_nm = 14"}, value: thrust * 0.05, limit: 14, margin: 100 * (thrust*0.05/14 - 1)},
		{name: "not reached", why: "14.99 of 15", want: "fail", change: []string{"target.hill_torque_nm = 15"}, value: thrust * 0.05, limit: 15, margin: 100 * (thrust*0.05/15 - 1)},
		{name: "grip left out", why: "the motors' torque", want: "pass", change: []string{"target.hill_torque_nm = 14", "ground.grip = 0.1"}, value: thrust * 0.05, limit: 14, margin: 100 * (thrust*0.05/14 - 1)},
		{name: "thrust not known", why: "held by the sag alone it may be 16.5", want: "unknown", change: []string{"target.hill_torque_nm = 14", "-controller.battery_current_a", "-cell.discharge_a"}, value: 20.231809146113353, limit: 14, margin: 100 * (20.231809146113353/14 - 1)},
		{name: "more than any current gives", why: "20.2 of 21, held by the sag alone", want: "fail", change: []string{"target.hill_torque_nm = 21", "-controller.battery_current_a", "-cell.discharge_a"}, value: 20.231809146113353, limit: 21, margin: 100 * (20.231809146113353/21 - 1)},
		{name: "on gears", why: "302.87 × 0.05", drive: onGears, want: "pass", change: []string{"target.hill_torque_nm = 15"}, value: 15.143724990256501, limit: 15, margin: 100 * (15.143724990256501/15 - 1)},
	})
	testBoundary(t, "hill-torque", onBelts, true, limitAt(t, "target.hill_torque_nm", (*Build).HillTorque))
	// Grip scales the thrust where it holds it down.
	small := grade("15", "ground.grip = 0.15")
	b := build(t, onBelts, small...)
	needed := b.ClimbNeed() / b.GrippedClimbThrust() * 0.15
	testBoundary(t, "climb", onBelts, true, func(ratio float64) []string {
		return grade("15", at("ground.grip", needed*ratio))
	})
}
