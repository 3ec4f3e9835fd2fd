package constraints

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// TestTeeth: 15 and 45 teeth share 15; on gears the teeth are the drive's.
func TestTeeth(t *testing.T) {
	for _, c := range []struct {
		drive  string
		change []string
		want   Teeth
	}{
		{onBelts, nil, Teeth{false, 15, 45, 15}},
		{onBelts, []string{"small.teeth = 14"}, Teeth{false, 14, 45, 1}},
		{onBelts, []string{"small.teeth = 12", "large.teeth = 32", "belt.teeth = 60"}, Teeth{false, 12, 32, 4}},
		{onGears, nil, Teeth{true, nan, nan, 0}},
		{onGears, []string{"-gear.ratio", "gear.driver_teeth = 13", "gear.driven_teeth = 39"}, Teeth{true, 13, 39, 13}},
		{onGears, []string{"-gear.ratio", "gear.driver_teeth = 13", "gear.driven_teeth = 40"}, Teeth{true, 13, 40, 1}},
	} {
		if d := cmp.Diff(c.want, build(t, c.drive, c.change...).Drive.Teeth(), cmpopts.EquateNaNs()); d != "" {
			t.Errorf("%s %v (-want +got):\n%s", c.drive, c.change, d)
		}
	}
}
