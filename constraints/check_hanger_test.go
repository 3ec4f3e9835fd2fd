package constraints

import "testing"

func TestHanger(t *testing.T) {
	room := func(more ...string) []string { return append([]string{"board.hanger_mm = 150"}, more...) }
	testCheck(t, "hanger", []checkCase{
		{name: "no room given", why: "the brief does not ask", want: "absent"},
		{name: "two", why: "2 × 70 of 150", want: "pass", change: room(), value: 140, limit: 150, margin: 100 * (1 - 140/150.)},
		{name: "two that are long", why: "2 × 80 of 150", want: "fail", change: room("motor.can_length_mm = 80"), value: 160, limit: 150, margin: 100 * (1 - 160/150.)},
		{name: "one", why: "1 × 80 of 150", want: "pass", change: room("motor.can_length_mm = 80", "board.motors = [1]"), value: 80, limit: 150, margin: 100 * (1 - 80/150.)},
		{name: "four", why: "two to a truck", want: "pass", change: room("board.motors = [4]"), value: 140, limit: 150, margin: 100 * (1 - 140/150.)},
		{name: "length not given", why: "nothing to compare", want: "unknown", change: room("-motor.can_length_mm"), value: nan, limit: 150, margin: nan},
		{name: "gear", why: "its motor sits on the hanger too", drive: onGears, want: "fail", change: room("motor.can_length_mm = 80"), value: 160, limit: 150, margin: 100 * (1 - 160/150.)},
		{name: "in the wheel", why: "takes no room", drive: onGears, want: "pass", change: room("motor.can_length_mm = 80", "gear.in_wheel = true"), value: 0, limit: 150, margin: 100},
		{name: "in the wheel, length not given", why: "takes no room", drive: onGears, want: "pass", change: room("-motor.can_length_mm", "gear.in_wheel = true"), value: 0, limit: 150, margin: 100},
	})
	testBoundary(t, "hanger", onBelts, false, func(ratio float64) []string {
		return []string{at("board.hanger_mm", 140/ratio)}
	})
}
