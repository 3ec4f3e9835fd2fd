package constraints

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// spelled writes cautions by code, check and quantities as shown.
func spelled(cautions []Caution) []string {
	var out []string
	for _, c := range cautions {
		text := string(c.Code)
		if c.Check != "" {
			text += " " + c.Check
		}
		out = append(out, text+spelledQuantities(c.Quantities))
	}
	return out
}

// spelledQuantities writes each after a space, as far as there are any.
func spelledQuantities(list [2]Quantity) string {
	text := ""
	for _, q := range list {
		if q != (Quantity{}) {
			text += strings.TrimRight(fmt.Sprintf(" %.4g %s", q.SI*q.PerSI, q.Unit), " ")
		}
	}
	return text
}

func TestCautions(t *testing.T) {
	for _, tt := range []struct {
		why, kit string
		change   []string
		want     []string
	}{
		{"28 km/h on gears, with grip to spare", onGears, []string{"motor.kv = 100"}, nil},
		{"above 30 km/h", onGears, nil, []string{"brisk 30.79 km/h"}},
		{"a third of the wrap of 12 teeth", onBelts, []string{"motor.kv = 100", "small.teeth = 12"}, []string{"few-in-mesh 4 6"}},
		{"an idler adds wrap that is not counted", onBelts, []string{"motor.kv = 100", "small.teeth = 12", "mount.idler = true"}, []string{"few-in-mesh-idler 4 6"}},
		{"no belt of 20 teeth goes around 15 and 45", onBelts, []string{"motor.kv = 100", "belt.teeth = 20"}, []string{"no-belt-chosen"}},
		{"4.3 V in a cell that is full at 4.2 V", onGears, []string{"motor.kv = 100", "target.charge = 4.3"}, []string{"charged-above-full 43 V 42 V"}},
		{"ice", onGears, []string{"motor.kv = 100", "ground.grip = 0.1"}, []string{"slips-on-flat"}},
		{"ice on a grade", onGears, []string{"motor.kv = 100", "ground.grip = 0.1", "target.climb_grade_pct = 5"}, []string{"slips-on-grade"}},
		{"one check fails, another lacks a key", onBelts, []string{"motor.kv = 100", `limit.demote = ["bore", "hub", "profile"]`, "motor.shaft_mm = 10", "-wheel.hub"}, []string{"demoted-fails bore", "demoted-undecided hub"}},
	} {
		got := build(t, tt.kit, tt.change...).Cautions()
		if d := cmp.Diff(tt.want, spelled(got)); d != "" {
			t.Errorf("%s (-want +got):\n%s", tt.why, d)
		}
		for _, c := range got {
			if !slices.Contains(CautionCodes(), c.Code) {
				t.Errorf("%s: %s is not among the codes", tt.why, c.Code)
			}
		}
	}
}

// TestAppendCautions: what was there stays, and once there is room nothing is
// allocated.
func TestAppendCautions(t *testing.T) {
	b := build(t, onBelts, "small.teeth = 12", "target.charge = 4.3")
	list := b.AppendCautions(GeneralCautions())
	if n := len(GeneralCautions()); !slices.Equal(list[:n], GeneralCautions()) || !slices.Equal(list[n:], b.Cautions()) {
		t.Errorf("appended: %v", spelled(list))
	}
	if n := testing.AllocsPerRun(10, func() { list = b.AppendCautions(list[:0]) }); n != 0 {
		t.Errorf("%v allocations", n)
	}
}
