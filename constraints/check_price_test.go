package constraints

import "testing"

// On belts: 20 cells of 5, two controllers of 80, two motors of 90, two drives
// of 12 + 20 + 9 + 30, four wheels sold in fours for 60: 642.
func TestPrice(t *testing.T) {
	limit := func(x string, more ...string) []string { return append([]string{"limit.price = " + x}, more...) }
	testCheck(t, "price", []checkCase{
		{name: "no limit", why: "the brief does not ask", want: "absent"},
		{name: "within", why: "642 of 700", want: "pass", change: limit("700"), value: 642, limit: 700, margin: 100 * (1 - 642/700.)},
		{name: "beyond", why: "642 of 600", want: "fail", change: limit("600"), value: 642, limit: 600, margin: -7},
		{name: "a price missing", why: "at least 462 of 700", want: "unknown", change: limit("700", "-motor.price"), value: nan, limit: 700, margin: nan},
		{name: "a price missing, beyond already", why: "at least 462 of 400", want: "fail", change: limit("400", "-motor.price"), value: 462, limit: 400, margin: -15.5},
		{name: "the pack's own price", why: "beats its cells': 642 − 100 + 300", want: "fail", change: limit("700", "battery.price = 300"), value: 842, limit: 700, margin: 100 * (1 - 842/700.)},
		{name: "no belt chosen", why: "it is not in the price: 642 − 18", want: "pass", change: limit("700", "belt.teeth = 20"), value: 624, limit: 700, margin: 100 * (1 - 624/700.)},
		{name: "gears", why: "642 − 142 + 300", drive: onGears, want: "fail", change: limit("700"), value: 800, limit: 700, margin: 100 * (1 - 800/700.)},
	})
	testBoundary(t, "price", onBelts, false, func(ratio float64) []string { return []string{at("limit.price", 642/ratio)} })
	testBoundary(t, "mass", onBelts, false, func(ratio float64) []string { return []string{at("limit.mass_kg", 9.23/ratio)} })
}

// On belts: a board of 5 kg, 20 cells of 50 g and 12 %, two controllers of 100
// g, two motors of 700 g, two drives of 255 g, four wheels of 250 g: 9.23 kg.
func TestMass(t *testing.T) {
	limit := func(x string, more ...string) []string { return append([]string{"limit.mass_kg = " + x}, more...) }
	testCheck(t, "mass", []checkCase{
		{name: "no limit", why: "the brief does not ask", want: "absent"},
		{name: "within", why: "9.23 of 10; the rider is left out", want: "pass", change: limit("10"), value: 9.23, limit: 10, margin: 7.7},
		{name: "beyond", why: "9.23 of 9", want: "fail", change: limit("9"), value: 9.23, limit: 9, margin: 100 * (1 - 9.23/9)},
		{name: "a mass missing", why: "at least 7.83 of 10", want: "unknown", change: limit("10", "-motor.mass_g"), value: nan, limit: 10, margin: nan},
		{name: "a mass missing, beyond already", why: "at least 7.83 of 7", want: "fail", change: limit("7", "-motor.mass_g"), value: 7.83, limit: 7, margin: 100 * (1 - 7.83/7)},
		{name: "the pack's own mass", why: "beats its cells': 9.23 − 1.12 + 3", want: "fail", change: limit("10", "battery.mass_g = 3000"), value: 11.11, limit: 10, margin: -11.1},
		{name: "another overhead", why: "20 cells of 50 g and 30 %", want: "pass", change: limit("10", "battery.overhead_pct = 30"), value: 9.41, limit: 10, margin: 5.9},
		{name: "a heavy board", why: "the board counts", want: "fail", change: limit("10", "board.mass_kg = 6"), value: 10.23, limit: 10, margin: -2.3},
		{name: "gears", why: "9.23 − 0.51 + 1", drive: onGears, want: "pass", change: limit("10"), value: 9.72, limit: 10, margin: 2.8},
	})
}

// TestCosts: what pieces and packs of pieces cost.
func TestCosts(t *testing.T) {
	for _, c := range []struct {
		name, why string
		change    []string
		price     float64 // of the whole build on belts; 642 unless changed
	}{
		{"motors in pairs", "one pair", []string{"motor.sold_in = 2"}, 642 - 90},
		{"three motors in pairs", "four motors: two pairs", []string{"motor.sold_in = 2", "board.motors = [4]"}, 642 + 160 + 142},
		{"belts in tens", "ten for two", []string{"belt.sold_in = 10"}, 642 - 9},
		{"cells in fours", "20 cells are five lots", []string{"cell.sold_in = 4"}, 642 - 75},
		{"cells in sixes", "20 cells are four lots", []string{"cell.sold_in = 6"}, 642 - 80},
		{"single wheels", "four times", []string{"wheel.sold_in = 1"}, 642 + 180},
		{"wheels in threes", "four wheels are two lots", []string{"wheel.sold_in = 3"}, 642 + 60},
		{"owned motors", "cost nothing", []string{"motor.owned = true"}, 642 - 180},
		{"owned motors without a price", "cost nothing, and nothing is missing", []string{"motor.owned = true", "-motor.price"}, 642 - 180},
		{"an owned cell", "makes its pack cost nothing", []string{"cell.owned = true"}, 642 - 100},
		{"an owned cell, a pack with a price", "unless the pack has a price", []string{"cell.owned = true", "battery.price = 300"}, 642 + 200},
		{"an owned pack", "costs nothing", []string{"battery.owned = true", "battery.price = 300"}, 642 - 100},
		{"free motors", "a price of 0 is a price", []string{"motor.price = 0"}, 642 - 180},
		{"a cell without a price", "so has the pack none", []string{"-cell.price"}, nan},
		{"a pack with a price, a cell without", "the pack's is enough", []string{"-cell.price", "battery.price = 100"}, 642},
		{"a belt without a price", "missing", []string{"-belt.price"}, nan},
		{"two channels", "one controller for two motors", []string{"controller.channels = 2"}, 642 - 80},
		{"four channels", "one controller for two motors", []string{"controller.channels = 4"}, 642 - 80},
		{"two channels, one motor", "one controller", []string{"controller.channels = 2", "board.motors = [1]"}, 100 + 80 + 90 + 71 + 60},
		{"two channels, four motors", "two controllers", []string{"controller.channels = 2", "board.motors = [4]"}, 100 + 160 + 360 + 284 + 60},
	} {
		b := build(t, onBelts, c.change...)
		if got := b.Price().Total(); !near(got, c.price, 1e-12) {
			t.Errorf("%s: %v, want %v: %s", c.name, got, c.price, c.why)
		}
	}
}
