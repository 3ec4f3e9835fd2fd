package fit_test

import (
	"context"
	"math"
	"strconv"
	"testing"

	"gearsearch/constraints"
	"gearsearch/constraints/kittest"
	"gearsearch/search/fit"
)

// longboard is the build of the log below, in the kit's slots: 6s4p, one outrunner,
// belt, urethane, with what the log does not tell as drive's measured cases assume it.
func longboard(t *testing.T) *constraints.Build {
	rider := 70.0
	of := func() *constraints.Build {
		return kittest.Build(t, kittest.Belts,
			"battery.series = 6", "battery.parallel = 4", "cell.capacity_ah = 2.5", "cell.resistance_mohm = 23",
			"motor.kv = 190", "motor.resistance_mohm = 100", "motor.no_load_current_a = 0.5",
			"small.teeth = 16", "large.teeth = 40", "wheel.diameter_mm = 83", "board.motors = [1]",
			"limit.ride_factor = 1", "rider.drag_area_m2 = 0.5", "limit.winding_c = 60", "rider.mass_kg = "+strconv.FormatFloat(rider, 'g', -1, 64))
	}
	rider -= of().TotalMass() - 82 // rider and board are 82 kg: assumed
	return of()
}

// TestFitOfPublishedRides: a builder's log of 9 recharges (public forum archive, 2017),
// a longboard at three steady speeds, out and back. It prints what the fit says beside
// what was measured. Three rides leave one degree of freedom, so that the assumed
// scatter counts and drag and rolling lean on each other.
func TestFitOfPublishedRides(t *testing.T) {
	b := longboard(t)
	if m := b.TotalMass(); math.Abs(m-82) > 1e-9 {
		t.Fatalf("%g kg", m)
	}
	var rec fit.Records
	for _, ride := range []struct{ kmh, wh float64 }{{17.5, 8.4}, {20.5, 9.6}, {23.1, 11.4}} {
		rec.Rides = append(rec.Rides, fit.Ride{Speed: ride.kmh / 3.6, Energy: ride.wh * 3.6, Stops: 0, Ascent: 0})
	}
	for _, only := range []*fit.Unknown{nil, one(fit.Rolling), one(fit.Drag)} {
		rec.Only = only
		r, err := fit.Fit(context.Background(), b, rec)
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("rolling %.4f [%.4f, %.4f] %d, drag area %.3f [%.3f, %.3f] m² %d, correlation %.3f",
			r.Rolling.Value, r.Rolling.Low, r.Rolling.High, r.Rolling.Verdict, r.Drag.Value, r.Drag.Low, r.Drag.High, r.Drag.Verdict, r.Correlation)
		for _, ride := range r.Rides {
			t.Logf("  %.1f km/h: metered %.1f Wh/km, fitted %.2f", ride.Speed*3.6, ride.Energy/3.6, ride.Computed/3.6)
			if off := ride.Computed/ride.Energy - 1; only == nil && math.Abs(off) > 0.06 {
				t.Errorf("%.1f km/h: off by %.1f %%, and the log scatters by 6 %%", ride.Speed*3.6, 100*off)
			}
		}
		switch {
		case only == nil && r.Rolling.Verdict == fit.Told && r.Drag.Verdict == fit.Told:
			t.Error("three rides between 17.5 and 23.1 km/h tell two unknowns apart")
		case only != nil && r.Estimate(*only).Verdict != fit.Told:
			t.Errorf("one unknown is not told: %+v", r.Estimate(*only))
		}
	}
}
