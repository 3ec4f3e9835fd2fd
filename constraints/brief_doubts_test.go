package constraints

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestDoubts: what is asked at a speed above the greatest top speed is doubted,
// where it is asked at all.
func TestDoubts(t *testing.T) {
	for _, tt := range []struct {
		why, target string
		want        []string
	}{
		{"no maximum", "climb_grade_pct = 10\nclimb_speed_kmh = 40", nil},
		{
			"all three", "top_speed_max_kmh = 20\nclimb_grade_pct = 10\nclimb_speed_kmh = 21\nrange_km = 5\ncruise_kmh = 25\nlaunch_s = 3\nlaunch_speed_kmh = 30",
			[]string{"target.climb_speed_kmh", "target.cruise_kmh", "target.launch_speed_kmh"},
		},
		{"a default above it", "top_speed_max_kmh = 20\nrange_km = 5", []string{"target.cruise_kmh"}},
		{"at the maximum", "top_speed_max_kmh = 25\nrange_km = 5\nclimb_grade_pct = 10\nclimb_speed_kmh = 25", nil},
		{"the same in other units", "top_speed_max_kmh = \"25mph\"\nclimb_grade_pct = 10\nclimb_speed_kmh = 40.2336", nil},
		{"nothing asked at these speeds", "top_speed_max_kmh = 6\nlaunch_speed_kmh = 30", nil},
		{"torque on a hill", "top_speed_max_kmh = 6\nhill_torque_nm = 10", []string{"target.climb_speed_kmh"}},
	} {
		b, err := ReadBrief(source("brief.toml", "schema = 1\n[target]\n"+tt.target+"\n"))
		if err != nil {
			t.Errorf("%s: %v", tt.why, err)
			continue
		}
		var got []string
		for _, d := range b.Doubts() {
			got = append(got, d.Key)
			if !(d.Speed > d.Most) {
				t.Errorf("%s: %s at %v m/s is not above %v", tt.why, d.Key, d.Speed, d.Most)
			}
		}
		if d := cmp.Diff(tt.want, got); d != "" {
			t.Errorf("%s (-want +got):\n%s", tt.why, d)
		}
	}
}
