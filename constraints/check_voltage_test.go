package constraints

import "testing"

func TestVoltage(t *testing.T) {
	testCheck(t, "voltage", []checkCase{
		{name: "both", why: "42 of 60", want: "pass", value: 42, limit: 60, margin: 30},
		{name: "the motor's is lower", why: "42 of 40", want: "fail", change: []string{"motor.max_volts = 40"}, value: 42, limit: 40, margin: -5},
		{name: "the controller's is lower", why: "42 of 40", want: "fail", change: []string{"controller.max_volts = 40"}, value: 42, limit: 40, margin: -5},
		{name: "only the motor's", why: "42 of 60", want: "pass", change: []string{"-controller.max_volts"}, value: 42, limit: 60, margin: 30},
		{name: "only the controller's", why: "42 of 40", want: "fail", change: []string{"-motor.max_volts", "controller.max_volts = 40"}, value: 42, limit: 40, margin: -5},
		{name: "neither", why: "the value still stands", want: "unknown", change: []string{"-controller.max_volts", "-motor.max_volts"}, value: 42, limit: nan, margin: nan},
		{name: "full, whatever the charge", why: "the charge is for speed and climb", want: "pass", change: []string{"target.charge = 3.2"}, value: 42, limit: 60, margin: 30},
		{name: "equal", why: "equal passes", drive: onGears, want: "pass", change: []string{"controller.max_volts = 42"}, value: 42, limit: 42, margin: 0},
	})
	testBoundary(t, "voltage", onBelts, false, func(ratio float64) []string {
		return []string{at("motor.max_volts", 42/ratio)}
	})
}
