package constraints

import (
	"math"
	"strings"
	"testing"
)

// From 25 km/h on belts at nine tenths of the charge: V_x = 0.965 × 42 = 40.53 V,
// A = 2 × 3 A, 246.78 W into the pack, 265.01 W at the wheels; by small steps of m v dv/(B + L).
func TestStop(t *testing.T) {
	const mass, rolling, drag = 89.23, 89.23 * 9.80665 * 0.018, 0.5 * 1.225 * 0.55
	slowly := func(watts, most float64) float64 {
		const steps, from = 1_000_000, 25 / 3.6
		metres := 0.0
		for i := range steps {
			v := from * (float64(i) + 0.5) / steps
			metres += mass * v / (math.Min(watts/v, most) + rolling + drag*v*v) * from / steps
		}
		return metres
	}
	const tall = 950.0 / 850
	grip := 0.8 * (0.8 - 0.018*tall) / (1 + 0.8*tall) * mass * 9.80665
	within := slowly(6*(40.53+0.6)/(0.97*0.96), grip)
	frost := slowly(0, grip)
	testCheck(t, "stop", []checkCase{
		{name: "no target", why: "the brief does not ask", want: "absent"},
		{name: "in time", why: "of 70 m", want: "pass", change: []string{"target.stop_m = 70"}, value: within, limit: 70, margin: 100 * (1 - within/70)},
		{name: "too late", why: "of 20 m", want: "fail", change: []string{"target.stop_m = 20"}, value: within, limit: 20, margin: 100 * (1 - within/20)},
		{name: "whatever the motor's resistance", why: "what copper takes would only shorten it", want: "pass", change: []string{"target.stop_m = 70", "-motor.resistance_mohm", "-motor.no_load_current_a"}, value: within, limit: 70, margin: 100 * (1 - within/70)},
		{name: "frost", why: "a frozen pack takes nothing", want: "fail", change: []string{"target.stop_m = 70", "ground.temperature_c = -5", "ground.air_density_kg_m3 = 1.225"}, value: frost, limit: 70, margin: 100 * (1 - frost/70)},
		{name: "nothing may be charged", why: "charge_a of 0", want: "fail", change: []string{"target.stop_m = 70", "cell.charge_a = 0"}, value: frost, limit: 70, margin: 100 * (1 - frost/70)},
		{name: "nothing stops it", why: "no load at all", want: "fail", change: []string{"target.stop_m = 70", "cell.charge_a = 0", "ground.rolling_resistance = 0"}, value: nan, limit: 70, margin: nan},
	})
	// Without a charge limit the volts of the full pack set it: (42 − 40.53)/0.1 Ω =
	// 14.7 A; without a limit of the motors grip is all.
	short := slowly(14.7*42/(0.97*0.96), grip)
	testCheck(t, "stop", []checkCase{
		{name: "intake not known", why: "perhaps", want: "unknown", change: []string{"target.stop_m = 50", "-cell.charge_a"}, value: short, limit: 50, margin: 100 * (1 - short/50)},
		{name: "intake not known, and too late", why: "not even then", want: "fail", change: []string{"target.stop_m = 10", "-cell.charge_a"}, value: short, limit: 10, margin: 100 * (1 - short/10)},
		{name: "motors without a limit", why: "perhaps", want: "unknown", change: []string{"target.stop_m = 70", "-motor.peak_current_a", "-controller.motor_current_a"}, value: within, limit: 70, margin: 100 * (1 - within/70)},
	})
	testBoundary(t, "stop", onBelts, false, limitAt(t, "target.stop_m", stopMetres(stopCharge)))
}

// TestRollingOutIsNoStop: where the pack takes nothing no figure is told as a stop.
func TestRollingOutIsNoStop(t *testing.T) {
	for _, tt := range []struct {
		why    string
		change []string
		rolls  string // the figures that are told as rolling out
	}{
		{"only the full pack takes nothing", nil, "stop_full_m"},
		{"frost", []string{"ground.temperature_c = 0"}, "stop_m stop_half_m stop_full_m"},
		{"frost, and nothing is known of what it takes", []string{"ground.temperature_c = -8", "-cell.charge_a"}, "stop_m stop_half_m stop_full_m"},
		{"a pack that may not be charged as it brakes", []string{"cell.charge_a = 0"}, "stop_m stop_half_m stop_full_m"},
	} {
		b := build(t, onBelts, tt.change...)
		var rolls []string
		for _, f := range Figures() {
			told := f.Of(b)
			if !strings.HasPrefix(told.Meaning, "rolling out") {
				if told.Label != f.Label || told.Meaning != f.Meaning {
					t.Errorf("%s: %s is told as %q, %q", tt.why, f.Name, told.Label, told.Meaning)
				}
				continue
			}
			rolls = append(rolls, f.Name)
			if strings.Contains(told.Label+told.Meaning, "stop") || !strings.Contains(told.Meaning, "electric braking") {
				t.Errorf("%s: %s is told as %q, %q", tt.why, f.Name, told.Label, told.Meaning)
			}
		}
		if got := strings.Join(rolls, " "); got != tt.rolls {
			t.Errorf("%s: %s roll out, want %s", tt.why, got, tt.rolls)
		}
	}
}

// TestStopBetweenTheEnds: a pack whose resistance is not known stops the board
// soonest where its charge limit and the volts of the full pack allow the same.
func TestStopBetweenTheEnds(t *testing.T) {
	b := build(t, onBelts, "-cell.resistance_mohm", "cell.charge_a = 4", "target.stop_m = 60")
	s := b.Stop(stopCharge)
	// Li-ion of 5 A·h: 4 to 32 mΩ a cell, 5 of each in series for two side by side.
	low, high := b.Battery.Best.Resistance, b.Battery.Pack.Resistance
	if !near(low, 0.02, 1e-12) || !near(high, 0.16, 1e-12) {
		t.Fatalf("%v to %v Ω, want 0.02 to 0.16", low, high)
	}
	longest, shortest := 0.0, math.Inf(1)
	for i := range 2001 {
		pack := b.Battery.Pack
		pack.Resistance = low + (high-low)*float64(i)/2000
		metres, _ := b.board.StoppingDistance(25/kmh, pack.Intake(stopCharge, 8, 1))
		longest, shortest = math.Max(longest, metres), math.Min(shortest, metres)
	}
	if !near(s.Long, longest, 1e-9) {
		t.Errorf("the longest is %v, want %v", s.Long, longest)
	}
	if !near(s.Short, shortest, 1e-6) || s.Short > shortest {
		t.Errorf("the shortest is %v, want %v", s.Short, shortest)
	}
	f, _ := FigureNamed("stop_m")
	if value, _, differs := f.Best(b); !differs || value != s.Short || f.Value(b) != s.Long {
		t.Errorf("the figure is %v, and %v at best", f.Value(b), value)
	}
}

// TestRollingOutIsShownAsThat: the row of a stop into a pack that takes nothing says
// so, and that of another does not.
func TestRollingOutIsShownAsThat(t *testing.T) {
	for change, want := range map[string]string{"cell.charge_a = 3": "stop by the motors", "cell.charge_a = 0": "rolling out, unbraked"} {
		r, _ := result(build(t, onBelts, "target.stop_m = 70", change), "stop")
		if got := r.Shown().Subject; got != want {
			t.Errorf("%s: %q, want %q", change, got, want)
		}
	}
}
