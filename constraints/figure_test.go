package constraints

import (
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"gearsearch/catalog"
	"gearsearch/drive"
)

// street is what the hand-computed figures are asked under.
var street = []string{
	"target.climb_grade_pct = 15", "target.top_speed_kmh = 30", "target.launch_speed_kmh = 20",
}

// figureCase is one figure of a build, worked out away from the program.
type figureCase struct {
	figure string
	want   float64 // NaN: null
	how    string  // the arithmetic
}

// testFigures compares figures to 1e-6, the accuracy that is promised.
func testFigures(t *testing.T, b *Build, cases []figureCase) {
	t.Helper()
	for _, c := range cases {
		f, ok := FigureNamed(c.figure)
		if !ok {
			t.Fatalf("there is no figure %s", c.figure)
		}
		if got := f.Value(b); !near(got, c.want, 1e-6) {
			t.Errorf("%s is %v, want %v: %s", c.figure, got, c.want, c.how)
		}
	}
}

// testWords compares figures that are words.
func testWords(t *testing.T, b *Build, words map[string]string) {
	t.Helper()
	for name, want := range words {
		f, _ := FigureNamed(name)
		if f.Word == nil {
			t.Fatalf("%s is no word", name)
		}
		if got := f.Word(b); got != want {
			t.Errorf("%s is %q, want %q", name, got, want)
		}
	}
}

// The numbers below that have no closed form (where thrust meets the load, the
// launch, the centre distance) were found by bisection and by Simpson's rule
// in a script of its own, not by the program.

// TestFiguresOfBelts: 15/45 teeth on a 100 mm wheel, two motors of 150 rpm/V,
// 10s2p.
//
//	k = 60/(2π 150) = 0.0636620    N = 45/15 = 3    r = 0.05 m    n = 2    η = 0.96
//	R_p = 10/2 × 0.02 = 0.1 Ω
//	Ī = min(2 × 30, 2 × 20, (36 − 30)/0.1, 36/0.2) = 40 A
//	P₁ = 0.97 × 40 × (36 − 4)/2 = 620.8 W
//	m = 80 + 5 + 20 × 0.05 × 1.12 + 2 × 0.1 + 2 × 0.7 + 2 × 0.255 + 4 × 0.25 = 89.23 kg
func TestFiguresOfBelts(t *testing.T) {
	b := build(t, onBelts, street...)
	testFigures(t, b, []figureCase{
		{"reduction", 3, "45 / 15"},
		{"rolling_radius_mm", 50, "100 / 2 × 1"},
		{"mass_total_kg", 89.23, "as above"},
		{"free_speed_kmh", 32.23274062583128, "150 × 36 / 60 × 2π × 0.05 / 3 × 0.95 × 3.6"},
		{"free_speed_full_kmh", 37.60486406346982, "× 42 / 36"},
		{"top_speed_kmh", 30.784987517066714, "bisection of F − L"},
		{"erpm_full", 44_100, "150 × 42 × 7"},
		{"erpm_at_target", 33_422.538049298026, "30 / 3.6 × 3 / 0.05 × 60 / 2π × 7"},
		{"erpm_speed_limit_kmh", 134.63968515384826, "150000 / 7 × 2π / 60 × 0.05 / 3 × 3.6"},
		{
			"climb_thrust_n", 299.75208228136574,
			"ω = 3.3333 × 3 / 0.05 = 200, kω = 12.7324; I = (−12.7324 + √(12.7324² + 4 × 0.05 × 620.8)) / 0.1 = 41.8758; 2 × 0.96 × 60 × k × 40.8758; below 0.8 × 0.6 × m g cos θ = 415.38",
		},
		{"climb_need_n", 149.12457111926366, "m g (0.15 + 0.018) / √(1 + 0.15²) + ½ × 1.225 × 0.55 × 3.3333²"},
		{"climb_margin_pct", 101.00784198845164, "100 (299.752 / 149.125 − 1)"},
		{"climb_limit_pct", 33.92095970218342, "sin θ + 0.018 cos θ = (299.752 − 3.7431) / (m g); grip alone would give 45.7296"},
		{"climb_current_a", 21.33370907543435, "149.125 × 0.05 / (2 × 0.96 × 3 × k) + 1, six-step"},
		{"hill_torque_nm", 14.987604114068288, "299.752 × 0.05"},
		{"launch_s", 1.7444407775150634, "Simpson's rule, split where power takes over from motor current at 7.2947 km/h"},
		{"battery_wh", 360, "10 × 3.6 × 2 × 5"},
		{
			"consumption_wh_per_km", 14.562024442426516,
			"F = 31.9949, I = 5.36288, P = 296.274; I_b = (36 − √(36² − 0.4 P)) / 0.2 = 8.42710; 36 × I_b / 6.9444 / 3.6 × 1.2",
		},
		{"range_km", 22.249653630303264, "360 × 0.9 / 14.5620"},
		{"mesh_teeth", 6, "15 × 2.644505 / 2π = 6.313"},
		{"centre_mm", 97.04859571238262, "bisection of the belt length, 70 × 5 mm round 15 × 5 / π and 45 × 5 / π"},
		{"belt_pull_n", 108.44644840231653, "149.125 × 0.05 / 2 / (3 × 0.96) / (15 × 5 / 2π mm)"},
		{"price", 642, "20 cells of 5, two controllers of 80, two motors of 90, two drives of 71, four wheels sold in fours for 60"},
		{"mass_kg", 9.23, "89.23 − 80"},
	})
	testWords(t, b, map[string]string{"top_speed_limited_by": "voltage", "climb_limited_by": "battery_current"})
}

// TestFiguresOfGears: the same board on gear drives of 3:1, η = 0.97.
//
//	m = 80 + 5 + 1.12 + 0.2 + 1.4 + 2 × 0.5 + 1 = 89.72 kg
func TestFiguresOfGears(t *testing.T) {
	b := build(t, onGears, street...)
	testFigures(t, b, []figureCase{
		{"reduction", 3, "as given"},
		{"mass_total_kg", 89.72, "as above"},
		{"top_speed_kmh", 30.794561698106037, "bisection"},
		{"climb_thrust_n", 302.87449980513003, "2 × 0.97 × 60 × k × 40.8758"},
		{"climb_need_n", 149.92292304828098, "as on belts, at 89.72 kg"},
		{"climb_current_a", 21.23181931499946, "149.923 × 0.05 / (2 × 0.97 × 3 × k) + 1"},
		{"launch_s", 1.7375384496619726, "Simpson's rule"},
		{"consumption_wh_per_km", 14.468460103333486, "as on belts, at 89.72 kg and 0.97"},
		{"range_km", 22.39353723105277, "360 × 0.9 / 14.4685"},
		{"mesh_teeth", nan, "no belt"},
		{"centre_mm", nan, "no belt"},
		{"belt_pull_n", nan, "no belt"},
		{"price", 800, "100 + 160 + 180 + 2 × 150 + 60"},
		{"mass_kg", 9.72, "89.72 − 80"},
	})
}

// TestFiguresUnderConditions: what the brief and single parts do to the
// figures.
func TestFiguresUnderConditions(t *testing.T) {
	for _, c := range []struct {
		name, drive string
		change      []string
		cases       []figureCase
		words       map[string]string
	}{
		{
			name: "field-oriented control, warm windings, full charge", drive: onBelts,
			change: append(street, `-controller.commutation`, "-limit.winding_c", `target.charge = "full"`),
			cases: []figureCase{
				{"climb_current_a", 24.63404535503037, "21.3337 / (√3/2): a phase amplitude; heat does not change it"},
				{"climb_thrust_n", 341.7743914746956, "R = 0.05 (1 + 0.00393 × 40) = 0.05786, P₁ = 0.97 × 40 × (42 − 4)/2 = 737.2"},
				{"top_speed_kmh", 35.834774395040974, "bisection at 42 V"},
				{"free_speed_kmh", 37.60486406346982, "the full pack's"},
				{"range_km", 22.213847177089665, "at nominal volts whatever the charge"},
				{"launch_s", 1.571894015993566, "Simpson's rule"},
			},
		},
		{
			name: "four motors, a fast climb", drive: onGears,
			change: append(street, "board.motors = [4]", "target.climb_speed_kmh = 20"),
			cases: []figureCase{
				{"mass_total_kg", 92.32, "80 + 5 + 1.12 + 0.4 + 2.8 + 2 + 1"},
				{"climb_thrust_n", 194.96599279047444, "the pack's 40 A between four: P₁ = 310.4 W"},
				{"hill_torque_nm", 9.748299639523722, "194.966 × 0.05"},
				{"climb_current_a", 11.850734257265467, "160.813 × 0.05 / (4 × 0.97 × 3 × k) + 1"},
				{"price", 100 + 320 + 360 + 600 + 60, "four of each"},
			},
			words: map[string]string{"climb_limited_by": "battery_current"},
		},
		{
			name: "no grip", drive: onGears, change: append(street, "ground.grip = 0.15"),
			cases: []figureCase{
				{"climb_thrust_n", 117.46596494951152, "0.15 × (1 − 0.1) × m g / √(1 + 0.15²)"},
				{"climb_margin_pct", -21.64909637488662, "100 (117.466 / 149.923 − 1)"},
				{"climb_limit_pct", 11.271887482261034, "(0.135 − 0.018) cos θ − sin θ = 3.7431 / (m g)"},
				{"hill_torque_nm", 15.143724990256501, "grip left out"},
			},
			words: map[string]string{"climb_limited_by": "grip"},
		},
		{
			name: "a motor of 300 W", drive: onGears,
			change: append(street, "motor.max_power_w = 300", "target.climb_speed_kmh = 20"),
			cases: []figureCase{
				{"climb_thrust_n", 94.07495523541962, "I = (−21.2207 + √(21.2207² + 60)) / 0.1 = 13.7021"},
				{"climb_limit_pct", 7.738844613464642, "by bisection"},
			},
			words: map[string]string{"climb_limited_by": "motor_power"},
		},
		{
			name: "a controller of 20 A", drive: onGears,
			change: append(street, "controller.motor_current_a = 20", "target.climb_speed_kmh = 8"),
			cases: []figureCase{
				{"climb_thrust_n", 140.7948288568143, "2 × 0.97 × 60 × k × 19"},
				{"climb_limit_pct", 14.171004357489975, "by bisection"},
			},
			words: map[string]string{"climb_limited_by": "motor_current"},
		},
		{
			name: "a low ceiling", drive: onGears, change: append(street, "controller.erpm_ceiling = 33000"),
			cases: []figureCase{
				{"erpm_speed_limit_kmh", 29.620730734646414, "33000 / 7 × 2π / 60 × 0.05 / 3 × 3.6"},
				{"top_speed_kmh", 29.620730734646414, "held down by it"},
			},
			words: map[string]string{"top_speed_limited_by": "erpm"},
		},
		{
			name: "a pneumatic tyre", drive: onGears, change: append(street, `wheel.tyre = "pneumatic"`),
			cases: []figureCase{
				{"rolling_radius_mm", 48.5, "100 / 2 × 0.97"},
				{"top_speed_kmh", 29.896415780726436, "bisection, Crr 0.020"},
				{"climb_need_n", 151.66315956605152, "89.72 × 9.80665 × (0.15 + 0.020)/√1.0225 + 3.743"},
				{"consumption_wh_per_km", 15.213986430009866, "Crr 0.020"},
			},
		},
		{
			name: "nothing asked for", drive: onBelts,
			cases: []figureCase{
				{"climb_thrust_n", nan, "no grade"},
				{"climb_need_n", nan, "no grade"},
				{"climb_margin_pct", nan, "no grade"},
				{"climb_current_a", nan, "no grade"},
				{"belt_pull_n", nan, "no grade"},
				{"climb_limit_pct", 33.92095970218342, "needs no grade"},
				{"hill_torque_nm", 14.987604114068288, "needs no grade"},
				{"launch_s", nan, "no speed"},
				{"erpm_at_target", nan, "no speed"},
				{"top_speed_kmh", 30.784987517066714, "as ever"},
			},
			words: map[string]string{"climb_limited_by": ""},
		},
		{
			name: "resistance not known", drive: onBelts, change: append(street, unknownMotor...),
			cases: []figureCase{
				{"top_speed_kmh", 28.839820559954305, "0.85 × 150 × 36 × 2π × 0.05 / (60 × 3) × 3.6: the duty is left out"},
				{"climb_thrust_n", nan, "thrust not known"},
				{"climb_margin_pct", nan, "thrust not known"},
				{"climb_limit_pct", nan, "thrust not known"},
				{"hill_torque_nm", nan, "thrust not known"},
				{"launch_s", nan, "thrust not known"},
				{"consumption_wh_per_km", nan, "copper loss not known"},
				{"range_km", nan, "copper loss not known"},
				{"climb_need_n", 149.12457111926366, "needs no motor"},
				{"climb_current_a", 21.33370907543435, "needs no resistance"},
				{"belt_pull_n", 108.44644840231653, "needs no resistance"},
			},
			words: map[string]string{"top_speed_limited_by": "estimate", "climb_limited_by": ""},
		},
		{
			name: "an estimate held down", drive: onBelts,
			change: append(append(street, unknownMotor...), "limit.erpm_ceiling = 30000"),
			cases:  []figureCase{{"top_speed_kmh", 26.92793703076965, "30000 / 7 × 2π / 60 × 0.05 / 3 × 3.6"}},
			words:  map[string]string{"top_speed_limited_by": "erpm"},
		},
		{
			name: "no pack-side current limit", drive: onBelts,
			change: append(street, "-controller.battery_current_a", "-cell.discharge_a"),
			cases: []figureCase{
				{"climb_thrust_n", nan, "sag alone does not make the thrust known"},
				{"consumption_wh_per_km", 14.562024442426516, "needs the resistance, not the limits; 25 km/h is below the estimate"},
				{"range_km", 22.249653630303264, "likewise"},
			},
		},
		{
			name: "a cruise speed above the top speed", drive: onBelts, change: append(street, "target.cruise_kmh = 31"),
			cases: []figureCase{
				{"consumption_wh_per_km", nan, "31 > 30.785"},
				{"range_km", nan, "31 > 30.785"},
				{"battery_wh", 360, "still there"},
			},
		},
		{
			name: "a launch beyond the top speed", drive: onBelts, change: append(street, "target.launch_speed_kmh = 31"),
			cases: []figureCase{{"launch_s", nan, "31 > 30.785"}},
		},
		{
			name: "too heavy to move", drive: onBelts,
			change: append(street, "ground.rolling_resistance = 0.9", "controller.motor_current_a = 5"),
			cases: []figureCase{
				{"top_speed_kmh", 0, "rolling takes 0.9 m g, more than the grip gives"},
				{"climb_limit_pct", 0, "floored"},
				{"launch_s", nan, "never"},
				{"consumption_wh_per_km", nan, "never"},
			},
			words: map[string]string{"top_speed_limited_by": ""},
		},
		{
			name: "capacity, prices and masses not known", drive: onBelts,
			change: append(street, "-battery.cell", "battery.nominal_v = 36", "battery.full_v = 42", "battery.resistance_mohm = 100",
				"battery.discharge_a = 40", "-motor.price", "-wheel.mass_g"),
			cases: []figureCase{
				{"battery_wh", nan, "no capacity"},
				{"range_km", nan, "no capacity"},
				{"consumption_wh_per_km", 14.418694964289811, "87.11 kg: the pack and the wheels count nothing"},
				{"price", nan, "a motor's is missing"},
				{"mass_kg", nan, "a wheel's is missing"},
				{"mass_total_kg", 87.11, "89.23 − 1.12 − 1"},
			},
		},
		{
			name: "mountain air", drive: onBelts, change: append(street, "ground.altitude_m = 1000"),
			cases: []figureCase{{"climb_need_n", 148.77820088724664, "ISO 2533 at 1000 m: 1.1116 kg/m³; 145.381515 + ½ × 1.1116 × 0.55 × 3.3333²"}},
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := build(t, c.drive, c.change...)
			testFigures(t, b, c.cases)
			testWords(t, b, c.words)
		})
	}
}

// TestAirDensity: a given density beats altitude and temperature, temperature
// alone means sea level (ISO 2533).
func TestAirDensity(t *testing.T) {
	for _, c := range []struct {
		name   string
		change []string
		want   float64
	}{
		{"nothing given", nil, 1.225},
		{"1000 m", []string{"ground.altitude_m = 1000"}, 1.1116424695217},
		{"1000 m and 30 °C", []string{"ground.altitude_m = 1000", "ground.temperature_c = 30"}, 1.0328025780662604},
		{"30 °C alone", []string{"ground.temperature_c = 30"}, 1.1643864595827595},
		{"all three", []string{"ground.altitude_m = 1000", "ground.temperature_c = 30", "ground.air_density_kg_m3 = 1.3"}, 1.3},
	} {
		if got := problem(t, onBelts, c.change...).AirDensity; !near(got, c.want, 1e-9) {
			t.Errorf("%s: %v kg/m³, want %v", c.name, got, c.want)
		}
	}
}

// TestTradeFacts: facts of the trade (common practice, no published source).
func TestTradeFacts(t *testing.T) {
	const mph = 0.44704 * 3.6 // km/h
	// At 36 V a 190 kv motor with 7 pole pairs turns 47 880 electrical rpm.
	b := build(t, onGears, "motor.kv = 190", "cell.full_v = 3.6", "-motor.resistance_mohm", "-motor.mass_g", "-motor.can_diameter_mm",
		"gear.ratio = 5", "wheel.diameter_mm = 200", "-controller.erpm_ceiling")
	testFigures(t, b, []figureCase{
		{"erpm_full", 47_880, "190 × 36 × 7"},
	})
	// 5:1 on a 200 mm wheel and a factor of 0.85.
	for _, c := range []struct {
		kv   string
		cell string
		want float64 // mph
	}{{"190", "3.6", 27.24}, {"170", "3.6", 24.37}, {"190", "4.32", 32.69}} {
		b := build(t, onGears, "motor.kv = "+c.kv, "cell.nominal_v = "+c.cell, "cell.full_v = 4.4", "-motor.resistance_mohm", "-motor.mass_g", "-motor.can_diameter_mm",
			"gear.ratio = 5", "wheel.diameter_mm = 200", "-controller.erpm_ceiling")
		v, by := b.TopSpeed()
		if got := v * kmh / mph; math.Abs(got-c.want) > 0.005 || by != drive.Estimate {
			t.Errorf("kv %s, %s V a cell: %.3f mph by %v, want %.2f by estimate", c.kv, c.cell, got, by, c.want)
		}
	}
}

// TestCellsOfTheTrade: a lithium-ion cell is 3.7 V nominal and 4.2 V full, ten
// in series 37 V and 42 V (common practice, no published source).
func TestCellsOfTheTrade(t *testing.T) {
	pack := build(t, onBelts, "cell.nominal_v = 3.7").Battery.Pack
	if pack.Nominal != 37 || pack.Full != 42 || pack.Volts != 37 {
		t.Errorf("ten cells in series: %v V nominal, %v V full, %v V at nominal charge", pack.Nominal, pack.Full, pack.Volts)
	}
	for charge, want := range map[string]float64{`"full"`: 42, `"nominal"`: 37, "3.5": 35} {
		if got := build(t, onBelts, "cell.nominal_v = 3.7", "target.charge = "+charge).Battery.Pack.Volts; got != want {
			t.Errorf("charge %s: %v V, want %v", charge, got, want)
		}
	}
}

// badText finds numbers that no reader should see.
var badText = regexp.MustCompile(`(?i)NaN|Inf\b|%!|<nil>|e\+|unknown (A|N|V|W|kg|m)\b`)

// TestWhyReads: every figure explains itself on every kind of build, with a
// value or without one.
func TestWhyReads(t *testing.T) {
	kinds := map[string][]string{
		"street":              street,
		"nothing asked for":   nil,
		"no resistance":       append([]string{"-motor.resistance_mohm"}, street...),
		"no limits":           append([]string{"-controller.motor_current_a", "-controller.battery_current_a", "-motor.peak_current_a", "-cell.discharge_a"}, street...),
		"does not move":       append([]string{"ground.rolling_resistance = 0.9"}, street...),
		"held by the ceiling": append([]string{"limit.erpm_ceiling = 20000"}, street...),
		"no ceiling":          {"-controller.erpm_ceiling"},
		"cannot cruise":       append([]string{"cell.resistance_mohm = 600", "target.cruise_kmh = 14", `target.charge = "full"`}, street...),
		"no capacity":         {"-battery.cell", "battery.nominal_v = 36", "battery.full_v = 42"},
		"no prices or masses": {"-motor.price", "-motor.mass_g", "-wheel.price", "-wheel.mass_g"},
		"launch never":        append(street, "target.launch_speed_kmh = 60"),
	}
	for name, change := range kinds {
		for _, drive := range []string{onBelts, onGears} {
			testWhy(t, name+" on "+drive, build(t, drive, change...))
		}
	}
	testWhy(t, "no belt fits", build(t, onBelts, append(street, "belt.teeth = 20")...))
	testWhy(t, "no mount", build(t, onBelts, append(street, "-mount")...))
	testWhy(t, "two profiles", build(t, onBelts, append(street, `large.profile = "gt-5"`)...))
	testWhy(t, "a larger motor pulley", build(t, onBelts, append(street, "small.teeth = 46", "belt.teeth = 80")...))

	// The demo's builds, belts and gears, under the demo's briefs.
	c, err := catalog.Demo()
	if err != nil {
		t.Fatal(err)
	}
	for _, src := range catalog.DemoBriefs() {
		brief, err := ReadBrief(src)
		if err != nil {
			t.Fatal(err)
		}
		p, err := NewProblem(c, brief)
		if err != nil {
			t.Fatal(err)
		}
		n := 0
		for _, d := range p.Drives {
			for _, w := range p.Wheels {
				if n++; n%97 == 0 {
					b := &Build{Problem: p}
					b.Electrify(p.Batteries[n%len(p.Batteries)], p.Controllers[n%len(p.Controllers)], p.Motors[n%len(p.Motors)], n%len(p.Counts))
					b.Roll(d, w)
					testWhy(t, src.Name, b)
				}
			}
		}
	}
}

func testWhy(t *testing.T, name string, b *Build) {
	t.Helper()
	for _, f := range Figures() {
		put := f.Put(b)
		if put.Formula == "" && len(put.Notes) == 0 || badText.MatchString(put.Formula) || strings.TrimSpace(put.Formula) != put.Formula {
			t.Errorf("%s: %s says %+v", name, f.Name, put)
		}
		for _, n := range put.Notes {
			if !slices.Contains(NoteCodes(), n.Code) || (n.Code == NoThrustWithout) != (len(n.Lacking) > 0) {
				t.Errorf("%s: %s notes %+v", name, f.Name, n)
			}
			for _, q := range n.Quantities {
				if math.IsNaN(q.SI) || math.IsInf(q.SI, 0) {
					t.Errorf("%s: %s notes %+v", name, f.Name, n)
				}
			}
		}
		if f.Value != nil && math.IsInf(f.Value(b), 0) {
			t.Errorf("%s: %s is infinite", name, f.Name)
		}
		if f.Word != nil {
			f.Word(b)
		}
	}
	for _, c := range b.Cautions() {
		for _, q := range c.Quantities {
			if math.IsNaN(q.SI) || math.IsInf(q.SI, 0) {
				t.Errorf("%s: %+v", name, c)
			}
		}
	}
	for _, a := range b.Assumptions() {
		for _, q := range a.Quantities {
			if math.IsNaN(q.SI) || math.IsInf(q.SI, 0) {
				t.Errorf("%s: %+v", name, a)
			}
		}
	}
}

// TestFiguresAreOneRegistry: names are unique, and each figure says what it is
// and where it comes from.
func TestFiguresAreOneRegistry(t *testing.T) {
	want := strings.Fields(`reduction rolling_radius_mm mass_total_kg free_speed_kmh free_speed_full_kmh top_speed_kmh
		top_speed_limited_by top_speed_full_kmh erpm_full erpm_at_target erpm_speed_limit_kmh climb_thrust_n climb_need_n climb_margin_pct
		climb_limited_by climb_limit_pct climb_current_a winding_end_c hill_torque_nm launch_s battery_wh consumption_wh_per_km range_km
		stop_m stop_half_m stop_full_m route_km route_min route_wh route_left_pct route_winding_c route_low_v route_unheld_m mesh_teeth centre_mm belt_pull_n price mass_kg`)
	var got []string
	for _, f := range Figures() {
		got = append(got, f.Name)
		if f.Meaning == "" || f.Formula == "" || f.Source == "" || f.Put == nil || (f.Value == nil) == (f.Word == nil) {
			t.Errorf("figure %s is incomplete: %+v", f.Name, f)
		}
	}
	if strings.Join(got, " ") != strings.Join(want, " ") {
		t.Errorf("figures are\n%v, want\n%v", got, want)
	}
	if _, ok := FigureNamed("speed"); ok {
		t.Error("there is a figure named speed")
	}
}

// TestLargerWheelAndSmallerReduction: both give more speed and less thrust
// (common practice, no published source).
func TestLargerWheelAndSmallerReduction(t *testing.T) {
	base := build(t, onGears, street...)
	for _, change := range []string{"wheel.diameter_mm = 120", "gear.ratio = 2.5"} {
		b := build(t, onGears, append(street, change)...)
		fast, _ := b.TopSpeed()
		was, _ := base.TopSpeed()
		if fast <= was || b.ClimbThrust() >= base.ClimbThrust() {
			t.Errorf("%s: %v m/s and %v N, were %v m/s and %v N", change, fast, b.ClimbThrust(), was, base.ClimbThrust())
		}
	}
}
