package constraints

import (
	"slices"
	"testing"
)

// sameFiguresOf compares two builds in all figures that are numbers.
func sameFiguresOf(t *testing.T, why string, got, want *Build) {
	t.Helper()
	for _, f := range Figures() {
		if f.Value != nil && !near(f.Value(got), f.Value(want), 1e-12) {
			t.Errorf("%s: %s is %v, want %v", why, f.Name, f.Value(got), f.Value(want))
		}
	}
}

// TestVaried: a specimen is the build of parts and a brief that are that much
// off, one at a time and all together.
func TestVaried(t *testing.T) {
	asked := []string{"target.climb_grade_pct = 15", "target.launch_speed_kmh = 20", "target.range_km = 20", "rider.mass_kg = 80", "rider.drag_area_m2 = 0.5", "board.rear_share = 0.5", "ground.grip = 0.2", "ride.wind_kmh = 9", "wheel.rolling_resistance = 0.02"}
	b := build(t, onGears, asked...)
	all := Variation{KV: 0.1, Mass: 10, Rolling: 0.5, Drag: -0.2, PackResistance: 0.25, Efficiency: -0.05, Wheel: 0.02, Stance: 0.1, Grip: -0.25, Wind: 2}
	for _, c := range []struct {
		why    string
		v      Variation
		change []string
	}{
		{"no difference", Variation{}, nil},
		{"kv", Variation{KV: 0.1}, []string{"motor.kv = 165"}},
		{"the rider", Variation{Mass: 10}, []string{"rider.mass_kg = 90"}},
		{"the rolling", Variation{Rolling: 0.5}, []string{"wheel.rolling_resistance = 0.03"}},
		{"the drag", Variation{Drag: -0.2}, []string{"rider.drag_area_m2 = 0.4"}},
		{"the pack", Variation{PackResistance: 0.25}, []string{"cell.resistance_mohm = 25"}},
		{"the gears", Variation{Efficiency: -0.05}, []string{"gear.efficiency = 0.92"}},
		{"the wheel", Variation{Wheel: 0.02}, []string{"wheel.diameter_mm = 102"}},
		{"the stance", Variation{Stance: 0.1}, []string{"board.rear_share = 0.6"}},
		{"the grip", Variation{Grip: -0.25}, []string{"ground.grip = 0.15"}},
		{"the wind", Variation{Wind: 2}, []string{"ride.wind_kmh = 16.2"}},
		{"the wind from behind", Variation{Wind: -6}, []string{"ride.wind_kmh = 12.6"}},
		{"all", all, []string{"motor.kv = 165", "rider.mass_kg = 90", "wheel.rolling_resistance = 0.03", "rider.drag_area_m2 = 0.4", "cell.resistance_mohm = 25", "gear.efficiency = 0.92", "wheel.diameter_mm = 102", "board.rear_share = 0.6", "ground.grip = 0.15", "ride.wind_kmh = 16.2"}},
	} {
		sameFiguresOf(t, c.why, b.Varied(c.v), build(t, onGears, slices.Concat(asked, c.change)...))
	}
	sameFiguresOf(t, "the build itself stays", b, build(t, onGears, asked...))
	for mass, want := range map[float64]float64{-79: 1, -78: 2, -200: 1} { // never less than 1 kg
		if got := b.Varied(Variation{Mass: mass}).Problem.Brief.Rider.Mass; got != want {
			t.Errorf("a rider of 80 %+v kg weighs %v, want %v", mass, got, want)
		}
	}
	for stance, want := range map[float64]float64{-0.7: 0, 0.7: 1} { // all of the weight at most
		if got := b.Varied(Variation{Stance: stance}).Problem.Brief.Board.RearShare; got != want {
			t.Errorf("a rear share of 0.5 %+v is %v, want %v", stance, got, want)
		}
	}
	wet := build(t, onGears, "ground.wet = true")
	if got, want := wet.Varied(Variation{Grip: 0.1}).Problem.Grip, 0.4*1.1; !near(got, want, 1e-12) {
		t.Errorf("a tenth more grip on wet asphalt is %v, want %v", got, want)
	}
}

// TestRewound: at twice the kv a quarter of the resistance and twice the
// current.
func TestRewound(t *testing.T) {
	m := build(t, onBelts).Motor.Motor
	got := Rewound(m, 300)
	for _, x := range []struct {
		what      string
		got, want float64
	}{
		{"kv", got.KV, 300},
		{"ohms", got.Resistance, 0.0125},
		{"no-load current", got.NoLoadCurrent, 2},
		{"peak current", got.PeakCurrent, 160},
		{"continuous current", got.ContinuousCurrent, 80},
		{"kv of the motor itself", m.KV, 150},
	} {
		if !near(x.got, x.want, 1e-12) {
			t.Errorf("%s: %v, want %v", x.what, x.got, x.want)
		}
	}
}

// TestTuned: a tuned build is that of a catalog with such a motor, drive and
// wheel.
func TestTuned(t *testing.T) {
	asked := []string{"target.climb_grade_pct = 15", "target.launch_speed_kmh = 20", "target.range_km = 20"}
	want := slices.Concat(asked, []string{
		"motor.kv = 300", "motor.resistance_mohm = 12.5", "motor.no_load_current_a = 2", "motor.peak_current_a = 160", "motor.continuous_current_a = 80",
		"gear.ratio = 5", "wheel.diameter_mm = 120",
	})
	sameFiguresOf(t, "tuned", build(t, onGears, asked...).Tuned(300, 5, 0.12), build(t, onGears, want...))
	for _, unknown := range []string{"resistance_mohm", "no_load_current_a", "peak_current_a"} {
		left := []string{"-motor." + unknown}
		sameFiguresOf(t, unknown+" not known", build(t, onGears, slices.Concat(asked, left)...).Tuned(300, 5, 0.12), build(t, onGears, slices.Concat(want, left)...))
	}
}

// TestTogether: of each part as many as the build that takes most of it.
func TestTogether(t *testing.T) {
	p := problem(t, onBelts, seconds, "board.motors = [2, 4]", `keep.belt = ["belt"]`)
	lines := func(count int, motor string) []Line {
		b := &Build{Problem: p}
		i := slices.IndexFunc(p.Motors, func(m *Motor) bool { return m.ID == motor })
		b.Electrify(p.Batteries[0], p.Controllers[0], p.Motors[i], count)
		b.Roll(p.Drives[slices.IndexFunc(p.Drives, func(d *Drive) bool { return d.Gear == nil })], p.Wheels[0])
		return b.Lines()
	}
	var got []string
	pieces := map[string]int{}
	for _, l := range Together(lines(0, "motor"), lines(1, "motor-2"), lines(0, "motor-2")) {
		got = append(got, l.Slot.String())
		pieces[l.Part.ID] = l.Pieces
	}
	if want := []string{"battery", "controller", "motor", "motor", "motor_pulley", "wheel_pulley", "mount", "belt", "wheel"}; !slices.Equal(slices.Sorted(slices.Values(got)), slices.Sorted(slices.Values(want))) || !slices.IsSortedFunc(got, bySlot) {
		t.Errorf("slots %v, want %v", got, want)
	}
	for id, want := range map[string]int{"battery": 1, "controller": 4, "motor": 2, "motor-2": 4, "small": 4, "belt": 4, "wheel": 4} {
		if pieces[id] != want {
			t.Errorf("%d of %s, want %d", pieces[id], id, want)
		}
	}
}

// bySlot orders names of slots as the slots are.
func bySlot(a, b string) int {
	at := func(name string) int {
		return slices.IndexFunc(Slots(), func(s Slot) bool { return s.String() == name })
	}
	return at(a) - at(b)
}
