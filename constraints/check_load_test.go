package constraints

import "testing"

// On 15 % the climb takes 21.333709 A on belts and 21.231819 A on gears; each
// belt pulls 108.446448 N, each gear drive carries 149.922923 × 0.05 / 2 =
// 3.748073 N·m. The arithmetic stands with the figures.
func TestHeat(t *testing.T) {
	const amps = 21.33370907543435
	grade := func(more ...string) []string { return append([]string{"target.climb_grade_pct = 15"}, more...) }
	testCheck(t, "heat", []checkCase{
		{name: "no grade", why: "the brief does not ask", want: "absent"},
		{name: "the motor's", why: "21.3 of 40, the controller bears 50", want: "pass", change: grade(), value: amps, limit: 40, margin: 100 * (1 - amps/40)},
		{name: "the controller's", why: "21.3 of 20", want: "fail", change: grade("controller.continuous_current_a = 20"), value: amps, limit: 20, margin: 100 * (1 - amps/20)},
		{name: "only the motor's", why: "the controller's is left out", want: "pass", change: grade("-controller.continuous_current_a"), value: amps, limit: 40, margin: 100 * (1 - amps/40)},
		{name: "only the controller's", why: "the motor's is what heat is about", want: "unknown", change: grade("-motor.continuous_current_a"), value: amps, limit: 50, margin: 100 * (1 - amps/50)},
		{name: "more than the controller's", why: "21.3 of 20, whatever the motor bears", want: "fail", change: grade("-motor.continuous_current_a", "controller.continuous_current_a = 20"), value: amps, limit: 20, margin: 100 * (1 - amps/20)},
		{name: "neither", why: "the value still stands", want: "unknown", change: grade("-motor.continuous_current_a", "-controller.continuous_current_a"), value: amps, limit: nan, margin: nan},
		{name: "half the current", why: "21.3 of 20", want: "fail", change: grade("limit.heat_factor = 0.5"), value: amps, limit: 20, margin: 100 * (1 - amps/20)},
		{name: "field-oriented", why: "phase amplitudes on both sides: 21.3 / (√3/2) of 40", want: "pass", change: grade("-controller.commutation"), value: 24.63404535503037, limit: 40, margin: 100 * (1 - 24.63404535503037/40)},
		{name: "resistance not given", why: "no resistance is needed", want: "pass", change: grade("-motor.resistance_mohm"), value: amps, limit: 40, margin: 100 * (1 - amps/40)},
		{name: "no-load current not given", why: "0.12 × 0.7 / k = 1.319 A stands in", want: "pass", change: grade("-motor.no_load_current_a"), value: amps - 1 + 1.319468914507713, limit: 40, margin: 100 * (1 - (amps-1+1.319468914507713)/40)},
		{name: "no-load current that may be too much", why: "20.55 to 21.65 of 21", want: "unknown", change: grade("-motor.no_load_current_a", "motor.continuous_current_a = 21"), value: amps - 1 + 1.319468914507713, limit: 21, margin: 100 * (1 - (amps-1+1.319468914507713)/21)},
		{name: "neither no-load current nor mass", why: "counts 0", want: "pass", change: grade("-motor.no_load_current_a", "-motor.mass_g", "-motor.can_diameter_mm", "board.mass_kg = 6.4"), value: amps - 1, limit: 40, margin: 100 * (1 - (amps-1)/40)},
		{name: "on gears", why: "21.2 of 40", drive: onGears, want: "pass", change: grade(), value: 21.23181931499946, limit: 40, margin: 100 * (1 - 21.23181931499946/40)},
	})
	testBoundary(t, "heat", onBelts, false, func(ratio float64) []string {
		return grade(at("motor.continuous_current_a", amps/ratio))
	})
}

// The handbook pull of htd-5m is 17.87 N per mm of width: 268.05 N at 15 mm
// (published handbook of synchronous belts); five teeth in mesh bear 0.8 of
// it, four 0.6, three 0.4, two 0.2.
func TestBeltLoad(t *testing.T) {
	const pull = 108.44644840231653
	grade := func(more ...string) []string { return append([]string{"target.climb_grade_pct = 15"}, more...) }
	margin := func(value, limit float64) float64 { return 100 * (1 - value/limit) }
	testCheck(t, "belt-load", []checkCase{
		{name: "no grade", why: "the brief does not ask", want: "absent"},
		{name: "six teeth", why: "108 of 268", want: "pass", change: grade(), value: pull, limit: 268.05, margin: margin(pull, 268.05)},
		{name: "four teeth", why: "reduction 3.75 on a pulley of 12: pull as before, 0.6 × 268", want: "pass", change: grade("small.teeth = 12"), value: pull, limit: 160.83, margin: margin(pull, 160.83)},
		{name: "three teeth on a narrow belt", why: "0.4 × 17.87 × 9", want: "fail", change: grade("small.teeth = 9", "belt.width_mm = 9"), value: pull, limit: 64.332, margin: margin(pull, 64.332)},
		{name: "an idler and too few without it", why: "the idler may bring the rest; both numbers still stand", want: "unknown", change: grade("small.teeth = 9", "belt.width_mm = 9", "mount.idler = true"), value: pull, limit: 64.332, margin: margin(pull, 64.332)},
		{name: "an idler and enough without it", why: "passes already", want: "pass", change: grade("mount.idler = true"), value: pull, limit: 268.05, margin: margin(pull, 268.05)},
		{name: "width not given", why: "an input unknown; the pull still stands", want: "unknown", change: grade("-belt.width_mm"), value: pull, limit: nan, margin: nan},
		{name: "no handbook pull", why: "none is published for t5", want: "unknown", change: grade(`small.profile = "t5"`, `large.profile = "t5"`, `belt.profile = "t5"`), value: pull, limit: nan, margin: nan},
		{name: "no belt", why: "an input unknown; the pull needs no belt, which is 30 g less", want: "unknown", change: grade("belt.teeth = 20"), value: 108.41090281621705, limit: nan, margin: nan},
		{name: "on gears", why: "no belt", drive: onGears, want: "absent", change: grade()},
	})
	own := `[[profile]]
id = "own"
pitch_mm = 5
pitch_line_mm = 0.5715
`
	testBoundary(t, "belt-load", onBelts, false, func(ratio float64) []string {
		return grade(own+at("pull_n_per_mm", pull/15/ratio), `small.profile = "own"`, `large.profile = "own"`, `belt.profile = "own"`)
	})
}

func TestGearTorque(t *testing.T) {
	const torque = 3.7480730762070245
	grade := func(more ...string) []string { return append([]string{"target.climb_grade_pct = 15"}, more...) }
	testCheck(t, "gear-torque", []checkCase{
		{name: "no grade", why: "the brief does not ask", drive: onGears, want: "absent"},
		{name: "within", why: "3.75 of 40, each", drive: onGears, want: "pass", change: grade(), value: torque, limit: 40, margin: 100 * (1 - torque/40)},
		{name: "beyond", why: "3.75 of 3", drive: onGears, want: "fail", change: grade("gear.max_torque_nm = 3"), value: torque, limit: 3, margin: 100 * (1 - torque/3)},
		{name: "not given", why: "the value still stands", drive: onGears, want: "unknown", change: grade("-gear.max_torque_nm"), value: torque, limit: nan, margin: nan},
		{name: "one motor", why: "carries it all, at 88.42 kg", drive: onGears, want: "pass", change: grade("board.motors = [1]"), value: 7.3902423250954214, limit: 40, margin: 100 * (1 - 7.3902423250954214/40)},
		{name: "on belts", why: "no gears", want: "absent", change: grade()},
	})
	testBoundary(t, "gear-torque", onGears, false, func(ratio float64) []string {
		return grade(at("gear.max_torque_nm", torque/ratio))
	})
}
