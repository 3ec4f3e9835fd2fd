package constraints

import "testing"

// At 25 km/h on belts 360 Wh × 0.9 last 22.249654 km.
func TestRange(t *testing.T) {
	const distance = 22.249653630303264
	target := func(more ...string) []string { return append([]string{"target.range_km = 20"}, more...) }
	ownPack := []string{"-battery.cell", "battery.nominal_v = 36", "battery.full_v = 42", "battery.resistance_mohm = 100", "battery.discharge_a = 40"}
	testCheck(t, "range", []checkCase{
		{name: "no target", why: "the brief does not ask", want: "absent"},
		{name: "far enough", why: "22.2 of 20", want: "pass", change: target(), value: distance, limit: 20, margin: 100 * (distance/20 - 1)},
		{name: "too short", why: "22.2 of 25", want: "fail", change: target("target.range_km = 25"), value: distance, limit: 25, margin: 100 * (distance/25 - 1)},
		{name: "half the energy", why: "0.45 of 0.9", want: "fail", change: target("limit.usable_pct = 45"), value: distance / 2, limit: 20, margin: 100 * (distance/40 - 1)},
		{name: "a calmer ride", why: "0.6 of 1.2", want: "pass", change: target("limit.ride_factor = 0.6"), value: distance * 2, limit: 20, margin: 100 * (distance/10 - 1)},
		{name: "limits not known", why: "the range needs the resistance, not the limits, but whether it comes to the cruise speed does", want: "unknown", change: target("-controller.battery_current_a", "-cell.discharge_a"), value: distance, limit: 20, margin: 100 * (distance/20 - 1)},
		{name: "resistance not known", why: "48 to 290 mΩ by its mass stand in: 21.2 km at the worst", want: "pass", change: target("-motor.resistance_mohm"), value: 21.20689139173759, limit: 20, margin: 100 * (21.20689139173759/20 - 1)},
		{name: "resistance that decides", why: "21.2 to 22.3 of 22", want: "unknown", change: target("-motor.resistance_mohm", "target.range_km = 22"), value: 21.20689139173759, limit: 22, margin: 100 * (21.20689139173759/22 - 1)},
		{name: "neither resistance nor mass", why: "22.5 without any loss in copper", want: "unknown", change: target(unknownMotor...), value: 22.480092945718397, limit: 20, margin: 100 * (22.480092945718397/20 - 1)},
		{name: "farther than any resistance lets it", why: "22.5 of 23", want: "fail", change: target(append(unknownMotor, "target.range_km = 23")...), value: 22.480092945718397, limit: 23, margin: 100 * (22.480092945718397/23 - 1)},
		{name: "capacity not known", why: "nothing to spend", want: "unknown", change: target(ownPack...), value: nan, limit: 20, margin: nan},
		{name: "cruising above the top speed", why: "31 of 30.78", want: "fail", change: target("target.cruise_kmh = 31"), value: nan, limit: 20, margin: nan},
		{name: "cruising above an estimate", why: "29 of 28.84, an estimate too", want: "fail", change: target(append(nothingKnown, "target.cruise_kmh = 29")...), value: nan, limit: 20, margin: nan},
		{name: "above the top speed, capacity not known", why: "what is known decides", want: "fail", change: target(append(ownPack, "target.cruise_kmh = 31")...), value: nan, limit: 20, margin: nan},
		{
			name: "beyond the pack's power", why: "a full pack reaches 14.1 km/h with 12 × 30 / 3 = 120 W; at nominal volts it gives no more than 36² / (4 × 3) = 108 W", want: "fail",
			change: target("cell.resistance_mohm = 600", "target.cruise_kmh = 14", `target.charge = "full"`), value: nan, limit: 20, margin: nan,
		},
		{name: "on gears", why: "22.4 of 20", drive: onGears, want: "pass", change: target(), value: 22.39353723105277, limit: 20, margin: 100 * (22.39353723105277/20 - 1)},
	})
	testBoundary(t, "range", onBelts, true, limitAt(t, "target.range_km", func(b *Build) float64 { return b.Range() * km }, target()...))
}

// TestPackPowerDecides: the case of too little power above is no case of too
// little speed.
func TestPackPowerDecides(t *testing.T) {
	b := build(t, onBelts, "cell.resistance_mohm = 600", "target.cruise_kmh = 14", `target.charge = "full"`)
	if !b.OutrunsCruise() {
		t.Error("the top speed is below the cruise speed")
	}
	if _, ok := b.Ridden(); ok {
		t.Error("the pack gives the power")
	}
}

// TestCruiseAtTheTopSpeed: a cruise speed within 1e-9 of the top speed is not
// above it.
func TestCruiseAtTheTopSpeed(t *testing.T) {
	top, _ := build(t, onBelts).TopSpeed()
	for off, want := range map[float64]Verdict{-1e-6: Pass, 0.9e-9: Pass, 1.1e-9: Fail} {
		r, _ := result(build(t, onBelts, "target.range_km = 5", at("target.cruise_kmh", top*kmh*(1+off))), "range")
		if r.Verdict != want {
			t.Errorf("cruise speed %+v of the top speed: %v, want %v", off, r.Verdict, want)
		}
	}
}
