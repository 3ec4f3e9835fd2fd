package say

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"gearsearch/catalog/field"
	"gearsearch/constraints"
	"gearsearch/constraints/kittest"
)

// TestDoubts: every doubt in words, each with its numbers.
func TestDoubts(t *testing.T) {
	b, err := constraints.ReadBrief(field.Source{Name: "brief.toml", Data: []byte(`schema = 1
ground = { temperature_c = -5 }
target = { top_speed_max_kmh = 20, range_km = 5, stop_m = 12, launch_speed_kmh = 18, launch_s = 1.6 }
limit = { ride_factor = 1.2 }
`)})
	if err != nil {
		t.Fatal(err)
	}
	list := append(b.Doubts(), kittest.Problem(t, kittest.Gears, "target.top_speed_kmh = 30", "target.top_speed_max_kmh = 34").Doubts()...)
	var codes []constraints.DoubtCode
	for _, d := range list {
		codes = append(codes, d.Code)
	}
	if !slices.Equal(codes, constraints.DoubtCodes()) {
		t.Errorf("doubts %v, want each of %v", codes, constraints.DoubtCodes())
	}
	want := []string{
		"cruise_kmh 25, above top_speed_max_kmh 20: no build does both",
		"temperature_c -5: lithium cells are not to be charged at 0 °C or below, so that the motors do not brake for stop_m 12",
		"launch_speed_kmh 18 in launch_s 1.6 is 3.1 m/s² on the mean: above 2.5 m/s² standing people begin to step (Krašna et al. 2021)",
		"ride_factor 1.2 beside stops or ascent: what it stands for may count twice",
		"top_speed_kmh 30 counts at the brief's charge and top_speed_max_kmh 34 with a full pack, of at least 1.17 times the volts: few builds do both",
	}
	if d := cmp.Diff(want, Doubts(list)); d != "" {
		t.Errorf("-want +got:\n%s", d)
	}
	if len(doubtWords) != len(constraints.DoubtCodes()) {
		t.Errorf("words for %d doubts of %d", len(doubtWords), len(constraints.DoubtCodes()))
	}
}
