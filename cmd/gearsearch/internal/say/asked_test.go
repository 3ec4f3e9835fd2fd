package say

import (
	"strings"
	"testing"

	"gearsearch/catalog"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
)

func TestSubjectsFitTheirColumn(t *testing.T) {
	const column = 24 // what the table of checks has room for at 80 columns
	for _, c := range constraints.Registry() {
		if s := c.Subject; s == c.Meaning || layout.Width(s) > column {
			t.Errorf("%s is about %q: say it in %d columns", c.Name, s, column)
		}
	}
}

func TestEveryLimitHasAWord(t *testing.T) {
	const column = 8
	for _, word := range constraints.LimitWords() {
		if w := Limit(word); layout.Width(w) > column {
			t.Errorf("%s is shown as %q: say it in %d columns", word, w, column)
		}
	}
}

func TestAsked(t *testing.T) {
	demo, err := catalog.Demo()
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		set    []string
		system quantity.System
		want   string
		why    string
	}{
		{nil, quantity.Metric, "", "the defaults ask nothing"},
		{[]string{"target.top_speed_kmh=32.5", "rider.mass_kg=90"}, quantity.Metric, "rider mass 90 kg, top speed 32.5 km/h", "in the order of the brief"},
		{[]string{"target.top_speed_kmh=40", "rider.mass_kg=90"}, quantity.Imperial, "rider mass 198.42 lb, top speed 24.85 mph", "in other units"},
		{[]string{"target.climb_speed_kmh=12", "rider.mass_kg=80"}, quantity.Metric, "", "a default that is said is no news"},
		{[]string{"ground.grip=0.8", "ground.air_density_kg_m3=1.225"}, quantity.Metric, "air density 1.23 kg/m³, grip 0.8", "what is derived unless said"},
		{[]string{"ground.altitude_m=620", "ground.surface=gravel"}, quantity.Metric, "surface gravel, altitude 620 m", "and what it is derived from"},
		{[]string{"board.sensored=true", "target.top_speed_kmh=40"}, quantity.Metric, "motors with sensors, top speed 40 km/h", "a yes or no in words"},
		{[]string{"board.motors=2,4", "keep.wheel=quay-90"}, quantity.Metric, "motors 2 or 4, keep wheel quay-90", "lists"},
		{[]string{"avoid.wheel=quay-80,quay-90,quay-97,quay-107"}, quantity.Metric, "avoid wheel quay-80 quay-90 quay-97 and 1 more", "a long list"},
		{[]string{"target.top_speed_kmh=30", "target.top_speed_max_kmh=40"}, quantity.Metric, "top speed 30 km/h, at most 40 km/h", "a target and its greatest"},
		{[]string{"target.top_speed_max_kmh=40"}, quantity.Metric, "top speed at most 40 km/h", "a greatest alone"},
		{[]string{"weights.speed=9"}, quantity.Metric, "", "weights ask nothing"},
	} {
		b := constraints.DefaultBrief()
		for _, kv := range tt.set {
			key, value, _ := strings.Cut(kv, "=")
			if err := b.Set(key, value, "test"); err != nil {
				t.Fatal(err)
			}
		}
		p, err := constraints.NewProblem(demo, b)
		if err != nil {
			t.Fatal(err)
		}
		if got := strings.ReplaceAll(Asked(p, tt.system), NBSP, " "); got != tt.want {
			t.Errorf("%s: %q, want %q", tt.why, got, tt.want)
		}
	}
}

// TestAskedShort: targets and limits first, as riders speak of them.
func TestAskedShort(t *testing.T) {
	demo, err := catalog.Demo()
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		set    []string
		system quantity.System
		want   string
		why    string
	}{
		{nil, quantity.Metric, "", "the defaults ask nothing"},
		{[]string{"rider.mass_kg=90", "target.top_speed_kmh=32", "target.top_speed_max_kmh=42"}, quantity.Metric, "32–42 km/h, rider mass 90 kg", "a span of speeds, and the rider after it"},
		{[]string{"target.top_speed_kmh=40", "limit.mass_kg=10"}, quantity.Imperial, "at least 24.85 mph, board 22.05 lb", "in other units"},
		{[]string{"target.top_speed_max_kmh=42"}, quantity.Metric, "at most 42 km/h", "a greatest alone"},
		{[]string{"target.climb_grade_pct=18", "target.climb_length_m=260", "target.climb_speed_kmh=15"}, quantity.Metric, "18 % for 260 m at 15 km/h", "a hill with a length"},
		{[]string{"target.climb_grade_pct=18"}, quantity.Metric, "18 % at 12 km/h", "the speed of a hill, at its default too"},
		{[]string{"target.climb_speed_kmh=15", "target.hill_torque_nm=30"}, quantity.Metric, "30 N.m on the hill, climb speed 15 km/h", "a climb speed without a grade"},
		{[]string{"target.launch_speed_kmh=18", "target.launch_s=2", "target.stop_m=15", "target.stop_from_kmh=30"}, quantity.Metric, "18 km/h in 2 s, stop in 15 m from 30 km/h", "a start and a stop"},
		{[]string{"target.range_km=28", "limit.price=1300"}, quantity.Metric, "28 km, 1 300 EUR", "the default cruise speed is no news"},
		{[]string{"target.range_km=28", "target.cruise_kmh=20", "ground.wet=true", "keep.wheel=quay-97"}, quantity.Metric, "28 km at 20 km/h, keep wheel quay-97, wet true", "parts that are kept before the ground"},
		{[]string{"target.top_speed_kmh=30", "rider.mass_kg=90", "board.mass_kg=6", "board.hanger_mm=200", "board.wheelbase_mm=900", "ground.altitude_m=500", "ground.temperature_c=10", "ride.wind_kmh=10", "limit.winding_c=80"}, quantity.Metric, "at least 30 km/h, rider mass 90 kg, board mass 6 kg, board wheelbase 900 mm, hanger 200 mm, altitude 500 m, temperature 10 °C, and 2 more", "no more than two lines"},
	} {
		b := constraints.DefaultBrief()
		for _, kv := range tt.set {
			key, value, _ := strings.Cut(kv, "=")
			if err := b.Set(key, value, "test"); err != nil {
				t.Fatal(err)
			}
		}
		p, err := constraints.NewProblem(demo, b)
		if err != nil {
			t.Fatal(err)
		}
		if got := strings.NewReplacer(NBSP, " ", "\u202f", " ").Replace(AskedShort(p, tt.system)); got != tt.want {
			t.Errorf("%s: %q, want %q", tt.why, got, tt.want)
		}
	}
}

func TestLabel(t *testing.T) {
	for _, f := range constraints.Figures() {
		if unit, _ := quantity.Metric.Show(f.Unit); unit != "" && unit != "price" && unit != "rpm" && unit != "teeth" && f.Label == quantity.Label(f.Name, "") {
			t.Errorf("%s: the unit %s stays in the name that people read", f.Name, f.Unit)
		}
	}
	for name, tt := range map[string]struct{ unit, want string }{
		"consumption_wh_per_km": {"Wh/km", "consumption"},
		"top_speed_limited_by":  {"", "top speed limited by"},
		"mesh_teeth":            {"teeth", "mesh teeth"},
	} {
		if got := quantity.Label(name, tt.unit); got != tt.want {
			t.Errorf("%s: %q, want %q", name, got, tt.want)
		}
	}
}

func TestTyped(t *testing.T) {
	for in, want := range map[string]string{
		"build.toml": "build.toml", "40km/h": "40km/h", "15%": "15%", "two words": "'two words'",
		"it's": `'it'\''s'`, "": "''", "$HOME": "'$HOME'", "a;b": "'a;b'", "~/x": "'~/x'",
	} {
		if got := Typed(in); got != want {
			t.Errorf("%q: %s, want %s", in, got, want)
		}
	}
}
