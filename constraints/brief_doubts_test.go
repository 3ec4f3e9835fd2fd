package constraints

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestDoubts: what is asked at a speed above the greatest top speed is doubted,
// where it is asked at all; likewise a stop in the frost, a launch that nobody
// stands through, and a factor beside what it stood for.
func TestDoubts(t *testing.T) {
	for _, tt := range []struct {
		why, brief string
		want       []string // code, keys, and quantities as shown
	}{
		{"no maximum", "[target]\nclimb_grade_pct = 10\nclimb_speed_kmh = 40", nil},
		{
			"all three", "[target]\ntop_speed_max_kmh = 20\nclimb_grade_pct = 10\nclimb_speed_kmh = 21\nrange_km = 5\ncruise_kmh = 25\nlaunch_s = 4\nlaunch_speed_kmh = 30",
			[]string{
				"speed-above-most target.climb_speed_kmh target.top_speed_max_kmh", "speed-above-most target.cruise_kmh target.top_speed_max_kmh",
				"speed-above-most target.launch_speed_kmh target.top_speed_max_kmh",
			},
		},
		{"a default above it", "[target]\ntop_speed_max_kmh = 20\nrange_km = 5", []string{"speed-above-most target.cruise_kmh target.top_speed_max_kmh"}},
		{"at the maximum", "[target]\ntop_speed_max_kmh = 25\nrange_km = 5\nclimb_grade_pct = 10\nclimb_speed_kmh = 25", nil},
		{"the same in other units", "[target]\ntop_speed_max_kmh = \"25mph\"\nclimb_grade_pct = 10\nclimb_speed_kmh = 40.2336", nil},
		{"nothing asked at these speeds", "[target]\ntop_speed_max_kmh = 6\nlaunch_speed_kmh = 30", nil},
		{"torque on a hill", "[target]\ntop_speed_max_kmh = 6\nhill_torque_nm = 10", []string{"speed-above-most target.climb_speed_kmh target.top_speed_max_kmh"}},
		{"a stop at freezing point", "[ground]\ntemperature_c = 0\n[target]\nstop_m = 12", []string{"cold-stop ground.temperature_c target.stop_m"}},
		{"a stop where it is mild", "[ground]\ntemperature_c = 1\n[target]\nstop_m = 12", nil},
		{"no stop in the frost", "[ground]\ntemperature_c = -5\n[target]\nrange_km = 5", nil},
		{"18 km/h in 1.6 s", "[target]\nlaunch_speed_kmh = 18\nlaunch_s = 1.6", []string{"hard-launch target.launch_speed_kmh target.launch_s 3.125 m/s² 2.5 m/s²"}},
		{"18 km/h in 2 s is 2.5 m/s²", "[target]\nlaunch_speed_kmh = 18\nlaunch_s = 2", nil},
		{"a factor beside the usual stops", "[limit]\nride_factor = 1.2", []string{"counts-twice limit.ride_factor"}},
		{"beside ascent", "[limit]\nride_factor = 1.2\n[ride]\nstops_per_km = 0\nascent_m_per_km = 10", []string{"counts-twice limit.ride_factor"}},
		{"beside neither", "[limit]\nride_factor = 1.2\n[ride]\nstops_per_km = 0", nil},
		{"no factor", "[limit]\nride_factor = 1.0", nil},
	} {
		b, err := ReadBrief(source("brief.toml", "schema = 1\n"+tt.brief+"\n"))
		if err != nil {
			t.Errorf("%s: %v", tt.why, err)
			continue
		}
		if d := cmp.Diff(tt.want, doubted(t, b.Doubts())); d != "" {
			t.Errorf("%s (-want +got):\n%s", tt.why, d)
		}
	}
}

// doubted writes doubts by code, keys and quantities as shown.
func doubted(t *testing.T, list []Doubt) []string {
	t.Helper()
	var out []string
	for _, d := range list {
		text := string(d.Code)
		for _, k := range d.Keys {
			if k.Path != "" {
				text += " " + k.Path
			}
		}
		if d.Code == SpeedAboveMost && !(d.Keys[0].SI > d.Keys[1].SI) {
			t.Errorf("%s: %v is not above %v", text, d.Keys[0].SI, d.Keys[1].SI)
		}
		if !slices.Contains(DoubtCodes(), d.Code) {
			t.Errorf("%s is not among the codes", d.Code)
		}
		out = append(out, text+spelledQuantities(d.Quantities))
	}
	return out
}

// TestDoubtsOfABand: a band of top speeds is held against the pack whose volts go
// up least from the brief's charge to full: 36 V to 42 V are × 1.1667.
func TestDoubtsOfABand(t *testing.T) {
	const strong = "[[battery]]\nid = \"strong\"\nseries = 10\nnominal_v = 40\nfull_v = 42"
	for _, tt := range []struct {
		why    string
		change []string
		want   []string
	}{
		{"no band", []string{"target.top_speed_kmh = 30"}, nil},
		{"wide", []string{"target.top_speed_kmh = 30", "target.top_speed_max_kmh = 36"}, nil},
		{"just so", []string{"target.top_speed_kmh = 30", "target.top_speed_max_kmh = 35"}, nil},
		{"narrow", []string{"target.top_speed_kmh = 30", "target.top_speed_max_kmh = 34"}, []string{"narrow-band target.top_speed_kmh target.top_speed_max_kmh 1.167"}},
		{"on full packs both are held to the same", []string{"target.top_speed_kmh = 30", "target.top_speed_max_kmh = 34", `target.charge = "full"`}, nil},
		{"another pack goes up less", []string{"target.top_speed_kmh = 30", "target.top_speed_max_kmh = 34", strong}, nil},
		{"and is out of play", []string{"target.top_speed_kmh = 30", "target.top_speed_max_kmh = 34", strong, `avoid.battery = ["strong"]`}, []string{"narrow-band target.top_speed_kmh target.top_speed_max_kmh 1.167"}},
	} {
		if d := cmp.Diff(tt.want, doubted(t, problem(t, onGears, tt.change...).Doubts())); d != "" {
			t.Errorf("%s (-want +got):\n%s", tt.why, d)
		}
	}
}
