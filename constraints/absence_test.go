package constraints

import "testing"

// TestAbsence tells apart why figures have no value. For the demands of street
// the kit's builds have them all.
func TestAbsence(t *testing.T) {
	for _, tt := range []struct {
		why, drive string
		changes    []string
		want       map[string]Absence
	}{
		{"a belt build of which everything is known and asked", onBelts, street, map[string]Absence{
			"mesh_teeth": Present, "centre_mm": Present, "belt_pull_n": Present, "climb_margin_pct": Present, "launch_s": Present,
			"range_km": Present, "erpm_at_target": Present, "top_speed_limited_by": Present, "climb_limited_by": Present,
		}},
		{"a gear drive has no belt", onGears, street, map[string]Absence{
			"mesh_teeth": NotThere, "centre_mm": NotThere, "belt_pull_n": NotThere, "climb_margin_pct": Present,
		}},
		{"nothing is asked of hills, launch and speed", onBelts, nil, map[string]Absence{
			"climb_margin_pct": NotAsked, "climb_limited_by": NotAsked, "climb_current_a": NotAsked, "climb_thrust_n": NotAsked,
			"climb_need_n": NotAsked, "belt_pull_n": NotAsked, "launch_s": NotAsked, "erpm_at_target": NotAsked,
			"climb_limit_pct": Present, "mesh_teeth": Present,
		}},
		{"the motor's resistance is not known", onBelts, append(unknownMotor, street...), map[string]Absence{
			"climb_margin_pct": NotKnown, "climb_limited_by": NotKnown, "launch_s": NotKnown, "range_km": NotKnown,
			"climb_need_n": Present, "hill_torque_nm": NotKnown,
		}},
		{"a speed that no motor gives it", onBelts, append([]string{"target.cruise_kmh = 120", "target.launch_speed_kmh = 110"}, street[:2]...), map[string]Absence{
			"launch_s": NotReached, "range_km": NotReached, "consumption_wh_per_km": NotReached,
		}},
		{"a price and a mass are missing", onBelts, []string{"-motor.price", "-motor.mass_g"}, map[string]Absence{
			"price": NotKnown, "mass_kg": NotKnown, "mass_total_kg": Present,
		}},
		{"no belts to choose from", onBelts, []string{"-belt"}, map[string]Absence{"mesh_teeth": NotKnown, "centre_mm": NotKnown}},
		{"no belt that fits", onBelts, []string{"belt.teeth = 400"}, map[string]Absence{"mesh_teeth": NotThere, "centre_mm": NotThere}},
	} {
		b := build(t, tt.drive, tt.changes...)
		for name, want := range tt.want {
			f, ok := FigureNamed(name)
			if !ok {
				t.Fatalf("there is no figure %s", name)
			}
			if got := f.Absence(b); got != want {
				t.Errorf("%s: the absence of %s is %d, want %d", tt.why, name, got, want)
			}
		}
	}
}
