package outfit

import (
	"slices"
	"strings"
	"testing"
)

// toolsOf are the tools of the kit's build by name.
func toolsOf(t *testing.T, changes ...string) map[string]Tool {
	t.Helper()
	o := outfitOf(t, changes...)
	ids := ""
	for _, l := range o.Build.Lines() {
		ids += " " + l.Part.ID + " "
	}
	out := map[string]Tool{}
	for _, x := range o.Tools() {
		for _, id := range x.For {
			if !strings.Contains(ids, " "+id+" ") {
				t.Errorf("%s is for %s, which is no part of the build", x.Name, id)
			}
		}
		if len(x.For) == 0 || !x.Use.Told() || x.Source == "" {
			t.Errorf("%s is for nothing, says nothing or comes from nowhere: %+v", x.Name, x)
		}
		if _, twice := out[x.Name]; twice && x.Name != "heat_shrink" {
			t.Errorf("%s is there twice", x.Name)
		}
		out[x.Name] = x
	}
	return out
}

// TestToolsFollowTheBuild: each tool is there for a part of the build, and not without
// it.
func TestToolsFollowTheBuild(t *testing.T) {
	ready := []string{"battery.price = 400"}
	for _, tt := range []struct {
		why        string
		changes    []string
		with, lack []string
	}{
		{"pulleys on shafts, a mount, cells", nil, []string{"hex_keys", "torque_wrench", "thread_lock", "strips", "spot_welder", "insulating_rings", "insulating_paper", "heat_shrink", "soldering_iron", "multimeter"}, []string{"grease"}},
		{"a pack that comes ready", ready, []string{"hex_keys", "multimeter"}, []string{"strips", "spot_welder", "insulating_rings", "insulating_paper"}},
		{"a pack that is there", []string{"battery.owned = true"}, []string{"multimeter"}, []string{"strips", "spot_welder"}},
		{"motors with sensors", []string{"motor.sensored = true"}, []string{"sensor_cables"}, nil},
		{"motors without", []string{"motor.sensored = false"}, nil, []string{"sensor_cables"}},
		{"wires of no known size", []string{"-motor.resistance_mohm", "-cell.discharge_a", "-controller.battery_current_a", "-controller.motor_current_a", "-motor.peak_current_a", "-lead", "-thin"}, nil, []string{"heat_shrink", "soldering_iron"}},
	} {
		got := toolsOf(t, tt.changes...)
		for _, name := range tt.with {
			if _, ok := got[name]; !ok {
				t.Errorf("%s: no %s", tt.why, name)
			}
		}
		for _, name := range tt.lack {
			if _, ok := got[name]; ok {
				t.Errorf("%s: %s", tt.why, name)
			}
		}
	}
	six := toolsOf(t, "motor.sensored = true", `controller.commutation = "six-step"`)["sensor_cables"]
	if len(six.Notes) != 1 || six.Notes[0].Code != ToolStartsSmooth {
		t.Errorf("six steps with sensors note %+v", six.Notes)
	}
}

// TestToolsByHand: torques, strips and rings worked out by hand.
func TestToolsByHand(t *testing.T) {
	// ISO 898-1: M4 has 8.78 mm², and 580 MPa of it are 5092 N; three quarters times
	// 0.2 × 4 mm are 3.06 N·m. M6: 20.1 mm², 11 658 N, 10.5 N·m.
	near(t, "M4 of class 8.8", TighteningTorque(4e-3, 8.78e-6), 3.0554, 1e-4)
	near(t, "M6 of class 8.8", TighteningTorque(6e-3, 20.1e-6), 10.492, 1e-4)

	tools := toolsOf(t)
	// The pack gives 16.852 A on the hill (TestCurrentsByHand): 2.81 mm² at 6 A/mm²;
	// √(0.0693 × 58) is 2.005.
	use := tools["strips"].Use
	near(t, "strips carry, A", use.Quantities[0].SI, 16.852, 1e-4)
	near(t, "nickel, m²", use.Quantities[1].SI, 16.852/6*1e-6, 1e-4)
	near(t, "copper, m²", use.Quantities[2].SI, 16.852/6/2.00483*1e-6, 1e-4)

	keys := tools["hex_keys"].Use.Quantities
	var sizes []float64
	for _, q := range keys {
		sizes = append(sizes, q.SI)
	}
	if !slices.Equal(sizes, []float64{1.5, 2, 2.5, 3, 3, 4, 5, 6}) {
		t.Errorf("hex keys and threads: %v", sizes)
	}
	none := toolsOf(t, "-motor.resistance_mohm", "-cell.discharge_a", "-controller.battery_current_a")["strips"]
	if none.Use.Code != ToolStripsUnknown {
		t.Errorf("strips for a current that is not known: %+v", none.Use)
	}
}
