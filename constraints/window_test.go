package constraints

import (
	"fmt"
	"math"
	"slices"
	"testing"
)

// windowKit makes all checks with a window or a sum apply to the kit on belts.
func windowKit() []string {
	return []string{
		"target.launch_speed_kmh = 15", "motor.continuous_current_a = 30", "controller.erpm_ceiling = 60000", `limit.erpm_rule = "at-speed"`,
		"target.climb_grade_pct = 30", "target.top_speed_kmh = 26",
	}
}

// windowBriefs put checks on either side of their limits as the motor pulley
// changes.
func windowBriefs() []string {
	return []string{
		"target.top_speed_kmh = 28", "target.top_speed_max_kmh = 27", "target.climb_grade_pct = 15",
		"target.range_km = 3", "target.range_km = 22", "target.range_km = 25", "limit.price = 600", "limit.price = 700",
		"target.launch_s = 2", "target.launch_s = 4", "target.launch_s = 60", "limit.mass_kg = 9", "limit.mass_kg = 10", "limit.erpm_ceiling = 34000", "limit.erpm_ceiling = 28000",
	}
}

// leftOut are inputs that are left out, or that stand against a build.
func leftOut() [][]string {
	return [][]string{
		nil,
		{"cell.resistance_mohm = 500", "target.cruise_kmh = 14", `target.charge = "full"`}, // near the pack's greatest power
		{"-motor.resistance_mohm"},
		{"-motor.resistance_mohm", "-motor.no_load_current_a", "-cell.resistance_mohm"},
		unknownMotor,
		nothingKnown,
		{"-controller.battery_current_a", "-cell.discharge_a"},
		{"-motor.price"},
		{"-belt.price"},
		{"-motor.mass_g"},
		{"-wheel.mass_g"},
		{"-battery.cell", "battery.nominal_v = 36", "battery.full_v = 42", "battery.resistance_mohm = 100", "battery.discharge_a = 40"},
		{"-motor.continuous_current_a"},
		{"-belt.width_mm"},
		{"mount.idler = true"},
		{"ground.grip = 0.1"},
		{"ground.rolling_resistance = 0.3"},
		{"board.motors = [4]"},
	}
}

// harder are a lane and such lanes as ask more than it does.
func harder(l Lane) []Lane {
	heavier, rougher, worse, lighter := l, l, l, l
	heavier.Mass += 5
	rougher.Crr *= 1.5
	worse.Efficiency *= 0.9
	lighter.Press -= 5
	return []Lane{l, heavier, rougher, worse, lighter}
}

// TestWindows: each check that has a window or a sum says by it what its test
// says, for pulleys of 9 to 30 teeth, with an input left out or not.
func TestWindows(t *testing.T) {
	const slack = 1e-9
	said := map[string]map[Verdict]bool{}
	cores := 0
	look := func(b *Build, what string) {
		half := &Build{Problem: b.Problem}
		half.Electrify(b.Battery, b.Controller, b.Motor, b.Count)
		rest := &Build{Problem: b.Problem, Count: b.Count, Drive: b.Drive, Wheel: b.Wheel}
		turn := b.Drive.Reduction / b.Wheel.Radius
		for i, c := range slices.Repeat(b.Problem.Checks(), 2) {
			b, half := b, half
			if i >= len(b.Problem.Checks()) { // the other corner
				b, half = b.Best(), half.Best()
			}
			want := c.Corner(b).Verdict
			note := func() {
				if said[c.Name] == nil {
					said[c.Name] = map[Verdict]bool{}
				}
				said[c.Name][want] = true
			}
			if c.Window != nil && c.Scope(b.Problem)&OnWheel != 0 && c.Lists(b.Drive) {
				note()
				inner, outer := c.Window(half, b.Lane(), 1+slack), c.Window(half, b.Lane(), 1-slack)
				if inner.Low <= turn && turn <= inner.High && inner.Inside != want {
					t.Errorf("%s: %s is %v, and %v in %+v", what, c.Name, want, inner.Inside, inner)
				}
				if (turn < outer.Low || turn > outer.High) && outer.Outside != want {
					t.Errorf("%s: %s is %v, and %v outside %+v", what, c.Name, want, outer.Outside, outer)
				}
			}
			if c.Core != nil && c.Lists(b.Drive) {
				note()
				for _, l := range harder(b.Lane()) {
					if core := c.Core(half, l, 1+slack); core.Low <= turn && turn <= core.High {
						cores++
						if want != Pass {
							t.Errorf("%s: %s is %v, and in the core %v of %+v", what, c.Name, want, core, l)
						}
					}
				}
			}
			if c.Adds != nil && c.Lists(b.Drive) {
				note()
				value, missing := c.Adds.Electrical(half)
				rolled := c.Adds.Rolling(rest)
				got := rolled.Within
				if missing && got == Pass {
					got = Undecided
				}
				if value+rolled.Value > c.Adds.Limit(b.Problem)+1e-9 {
					got = rolled.Beyond
				}
				if more := c.Doubts; more != nil && got == Pass {
					value, _ := more.Electrical(half)
					if rolled := more.Rolling(rest); !math.IsInf(rolled.Value, -1) && value+rolled.Value > more.Limit(b.Problem)+1e-9 {
						got = rolled.Beyond
					}
				}
				if got != want {
					t.Errorf("%s: %s is %v, its sum of %v and %v says %v", what, c.Name, want, value, rolled, got)
				}
			}
		}
	}
	for _, brief := range windowBriefs() {
		for _, left := range leftOut() {
			for _, teeth := range []string{"9", "15", "21", "27"} {
				change := slices.Concat(windowKit(), []string{brief, "small.teeth = " + teeth}, left)
				look(build(t, onBelts, change...), fmt.Sprint(brief, " ", teeth, " ", left))
			}
		}
	}
	for _, torque := range []string{"3", "40"} {
		for _, motors := range []string{"1", "2"} {
			look(build(t, onGears, "target.climb_grade_pct = 15", "gear.max_torque_nm = "+torque, "board.motors = ["+motors+"]"), torque+" N·m, motors "+motors)
		}
	}
	look(build(t, onGears, "target.climb_grade_pct = 15", "-gear.max_torque_nm"), "torque not known")
	for _, can := range []string{"motor.can_diameter_mm = 63", "motor.can_diameter_mm = 83", "motor.can_diameter_mm = 200", "-motor.can_diameter_mm"} {
		for _, shaft := range [][]string{
			nil, {"gear.angle_deg = 30"}, {"gear.angle_deg = 30", "gear.centre_mm = 40"}, {"-gear.angle_deg"}, {"-gear.angle_deg", "gear.centre_mm = 40"}, {"gear.in_wheel = true"},
		} {
			look(build(t, onGears, append(shaft, can)...), fmt.Sprint(can, " ", shaft))
		}
	}
	if cores == 0 {
		t.Error("no gearing is in a core")
	}
	for name, some := range map[string][]Verdict{
		"launch": {Pass, Fail, Undecided},
		"erpm":   {Pass, Fail}, "top-speed": {Pass, Fail}, "top-speed-max": {Pass, Fail}, "climb": {Pass, Fail, Undecided}, "heat": {Pass, Fail, Undecided},
		"range": {Pass, Fail, Undecided}, "price": {Pass, Fail, Undecided}, "mass": {Pass, Fail, Undecided},
		"can": {Pass, Fail, Undecided}, "belt-load": {Pass, Fail, Undecided}, "gear-torque": {Pass, Fail, Undecided},
	} {
		for _, v := range some {
			if !said[name][v] {
				t.Errorf("%s never says %v here", name, v)
			}
		}
	}
}

// TestBoundsOfALane: for the lane of one build the bounds that need no gearing
// are the build's own figures, and with next to no loss in windings and pack so is
// the range.
func TestBoundsOfALane(t *testing.T) {
	asked := []string{"target.climb_grade_pct = 15", "target.top_speed_kmh = 25", "target.range_km = 10", `limit.erpm_rule = "at-speed"`}
	b := build(t, onBelts, asked...)
	lane, turn := b.Lane(), b.Drive.Reduction/b.Wheel.Radius
	for _, x := range []struct {
		what      string
		got, want float64
	}{
		{"the force of the climb", b.NeedAtLeast(lane), b.ClimbNeed()},
		{"its current", b.ClimbCurrentAtLeast(lane, turn), b.ClimbCurrent()},
		{"the rpm at the target", b.ERPMAtLeast(turn), b.SureERPM()},
		{"the electrical half's price, 100 + 160 + 180", b.ElectricalPrice().Total(), 440},
		{"its mass with the board, 5 + 1.12 + 0.2 + 1.4", b.ElectricalMass().Total(), 7.72},
	} {
		if !near(x.got, x.want, 1e-12) {
			t.Errorf("%s: %v, want %v", x.what, x.got, x.want)
		}
	}
	if got := b.ThrustAtMost(1, lane, turn); got < b.ClimbThrust() {
		t.Errorf("a thrust of at most %v N, and %v at 12 km/h", got, b.ClimbThrust())
	}
	if b.RangeAtMost(lane) <= b.Range() || math.IsInf(b.RangeAtMost(lane), 1) {
		t.Errorf("at most %v m, and %v", b.RangeAtMost(lane), b.Range())
	}
	free := build(t, onBelts, append(asked, "motor.resistance_mohm = 0.1", "cell.resistance_mohm = 0.1", "motor.no_load_current_a = 0", "controller.efficiency = 0.8")...)
	if got := free.RangeAtMost(free.Lane()); !near(got, free.Range(), 1e-3) {
		t.Errorf("without losses at most %v m, and %v", got, free.Range())
	}
	// Wheels up the rpm is that of the full pack, 44 100, whatever the gearing.
	if got := build(t, onBelts).ERPMAtLeast(1); got != 44100 {
		t.Errorf("wheels up %v rpm", got)
	}
}
