package constraints

import (
	"fmt"
	"os"
	"strings"
	"testing"
)

// TestMeasuredTakesTheProgramsValues: where the cases of drive/MEASURED.md take what
// the program takes, it is that, so that a constant that changes is held to them
// again.
func TestMeasuredTakesTheProgramsValues(t *testing.T) {
	page, err := os.ReadFile("../drive/MEASURED.md")
	if err != nil {
		t.Fatal(err)
	}
	drag := map[string]float64{}
	for _, p := range postures {
		drag[p.name] = p.dragArea
	}
	asphalt := surfaces["asphalt"]
	found := 0
	for _, tt := range []struct {
		section string
		want    []string
	}{
		{"Longboard", []string{
			fmt.Sprintf("Crr | %g", asphalt.urethane), fmt.Sprintf("drag area | %g m²", drag["sideways"]),
			fmt.Sprintf("drive efficiency | %g", beltEfficiency),
		}},
		{"Mountain board", []string{fmt.Sprintf("Crr | %g", asphalt.airFilled), fmt.Sprintf("drag area | %g m²", drag["sideways"])}},
		{"Kick scooters", []string{fmt.Sprintf("Crr | %g", asphalt.airFilled), fmt.Sprintf("drag area | %g m²", drag["forward"])}},
	} {
		_, section, ok := strings.Cut(string(page), "\n### "+tt.section)
		if !ok {
			t.Fatalf("no section %q", tt.section)
		}
		section, _, _ = strings.Cut(section, "\n### ")
		for _, want := range tt.want {
			if !strings.Contains(section, "\n| "+want+" |") {
				t.Errorf("%s: no row %q", tt.section, want)
			}
		}
		found += strings.Count(section, "the program's value")
	}
	if found < 6 {
		t.Errorf("the page says %d times that it takes the program's value", found)
	}
	r := DefaultBrief().Ride
	if by := fmt.Sprintf("as a brief has it by default: %g stops a km, %g %% regen, level and calm", r.Stops*1e3, r.Regen*100); !strings.Contains(string(page), by) {
		t.Errorf("no row %q", by)
	}
	if r.Ascent != 0 || r.Wind != 0 {
		t.Errorf("by default a brief has an ascent of %g and a wind of %g m/s", r.Ascent, r.Wind)
	}
}
