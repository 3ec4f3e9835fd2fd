package leaf

import (
	"math"
	"strings"
	"testing"

	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
)

func TestSentences(t *testing.T) {
	c, harbour := demo(t, "harbour")
	full := constraints.DefaultBrief()
	full.Board.Motors = []float64{1}
	full.Target.TopSpeedMax, full.Target.HillTorque, full.Target.Charge = 25/3.6, 30, constraints.Charge{Word: "full", Volts: math.NaN()}
	full.Limit.Mass, full.Limit.Demote = 12, []string{"heat", "belt-load"}
	full.Ground.Surface = "gravel"
	full.Keep[constraints.SlotWheel] = []string{"quay-90", "quay-97"}
	full.Avoid[constraints.SlotMotor] = []string{"surplus-150"}
	ruled := func(rule string) *constraints.Brief {
		b := *harbour
		b.Limit.ERPMRule = rule
		return &b
	}
	rpm := func(when string) []string {
		return []string{"", "", "It must cost at most 1\u202f300 EUR, stay 8 % below the ceiling of electrical rpm, " + when + ", have its motors side by side within 165 mm, have at least 5 teeth in mesh and keep 15 mm under its pulleys or gears."}
	}
	for _, tt := range []struct {
		why    string
		brief  *constraints.Brief
		system quantity.System
		want   []string
	}{
		{"the demo's", harbour, quantity.Metric, []string{
			"A rider of 82 kg on asphalt, on a deck with trucks and box of 5.4 kg and 2 motors.",
			"It must reach 32 km/h on the flat and no more than 42 km/h, climb 18 % for 260 m at 15 km/h, stop from 25 km/h within 15 m by its motors alone, be at 18 km/h 2 s after standing still and go 28 km on a charge at 24 km/h with 3 stops a km and 12 km/h of wind.",
			"It must cost at most 1\u202f300 EUR, stay 8 % below the ceiling of electrical rpm, free-spinning with a full pack, have its motors side by side within 165 mm, have at least 5 teeth in mesh and keep 15 mm under its pulleys or gears.",
		}},
		{"the same in other units", harbour, quantity.Imperial, []string{
			"A rider of 180.78 lb on asphalt, on a deck with trucks and box of 11.9 lb and 2 motors.",
		}},
		{"rpm at the target", ruled(constraints.AtSpeed), quantity.Metric, rpm("at the target speed")},
		{"rpm at the top speed", ruled(constraints.AtTop), quantity.Metric, rpm("at its own top speed with a full pack")},
		{"all the rest", full, quantity.Metric, []string{
			"A rider of 80 kg on gravel, on a deck with trucks and box of 5 kg and 1 motor.",
			"It must reach no more than 25 km/h on the flat and turn its wheels with 30 N.m at 12 km/h, speed and climb with a full pack.",
			"It must weigh at most 12 kg, stay 5 % below the ceiling of electrical rpm, free-spinning with a full pack, have at least 5 teeth in mesh and keep 12 mm under its pulleys or gears. Only a caution and no reason to turn a build down: heat and belt-load.",
			"Only these are looked at: wheel quay-90, quay-97.",
			"Left out: motor surplus-150.",
		}},
	} {
		p, err := constraints.NewProblem(c, tt.brief)
		if err != nil {
			t.Fatal(err)
		}
		got := sentences(p, tt.system)
		for i, want := range tt.want {
			if want == "" {
				continue // as above
			}
			if i >= len(got) || strings.ReplaceAll(got[i], "\u00a0", " ") != want {
				t.Errorf("%s: sentence %d is\n%q, want\n%q", tt.why, i+1, got[min(i, len(got)-1)], want)
			}
		}
	}
}
