package outfit

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"gearsearch/catalog"
	"gearsearch/drive"

	"pgregory.net/rapid"
)

// By hand, for the kit on its hill: 85 kg are 833.565 N, of which 0.148340 +
// 0.018 × 0.988936 push back on 15 %, 138.49 N, and the air ½ × 1.225 × 0.55 ×
// (10/3)² = 3.74 N. k = 0.0636620, η = 0.96, 3:1 on 50 mm: I = 142.23 × 0.05 / (2 ×
// 0.0636620 × 0.96 × 3) + 1 = 20.394 A. At 200 rad/s and 50 mΩ each motor takes
// 20.394 × 13.752 V, both with 0.97 578.3 W, which a pack of 36 V and 0.1 Ω gives
// at 16.852 A.
func TestCurrentsByHand(t *testing.T) {
	c := outfitOf(t).Currents
	near(t, "pack, steady", c.PackSteady.Amps, 16.852, 1e-4)
	near(t, "pack, peak: 2 × 30 A", c.PackPeak.Amps, 60, 1e-12)
	near(t, "phase, steady: √(2/3)", c.PhaseSteady.Amps, 20.394*math.Sqrt(2.0/3), 1e-4)
	near(t, "phase, peak: √(2/3) × 70 A", c.PhasePeak.Amps, 57.155, 1e-4)
	// Field-oriented: 20.394 A are an amplitude of 20.394 × 2/√3, whose root mean
	// square is as much as before; a setting of 70 A is 70/√2.
	c = outfitOf(t, `controller.commutation = "foc"`).Currents
	near(t, "phase, steady, field-oriented", c.PhaseSteady.Amps, 20.394*math.Sqrt(2.0/3), 1e-4)
	near(t, "phase, peak, field-oriented", c.PhasePeak.Amps, 49.497, 1e-4)
}

func TestCurrents(t *testing.T) {
	for _, tt := range []struct {
		why          string
		change       []string
		peak, steady float64
		phase        float64 // steady; 0: not looked at
	}{
		{"the pack bears less than the settings: 2 × 12 A", []string{"cell.discharge_a = 12"}, 24, 16.852, 0},
		{"settings not known: the pack's limit", []string{"-controller.battery_current_a"}, 70, 16.852, 0},
		{"the pack's limit not known: the settings", []string{"-cell.discharge_a"}, 60, 16.852, 0},
		{"neither", []string{"-cell.discharge_a", "-controller.battery_current_a"}, nan, 16.852, 0},
		{"steady is no more than the peak", []string{"controller.battery_current_a = 5"}, 10, 10, 0},
		{"no resistance: the peak is steady", []string{"-motor.resistance_mohm"}, 60, 60, 20.394 * math.Sqrt(2.0/3)},
		{"no resistance, no peak", []string{"-motor.resistance_mohm", "-cell.discharge_a", "-controller.battery_current_a"}, nan, nan, 0},
		{"a phase bears no more than is set", []string{"controller.motor_current_a = 10"}, 60, 16.852, 10 * math.Sqrt(2.0/3)},
	} {
		c := outfitOf(t, tt.change...).Currents
		near(t, tt.why+": peak", c.PackPeak.Amps, tt.peak, 1e-4)
		near(t, tt.why+": steady", c.PackSteady.Amps, tt.steady, 1e-4)
		if tt.phase > 0 {
			near(t, tt.why+": phase", c.PhaseSteady.Amps, tt.phase, 1e-4)
		}
	}
	// Without a hill the top speed counts.
	b := build(t, "")
	v, _ := b.TopSpeed()
	c := currents(b)
	cruise, _ := b.Board().Cruise(v, 36)
	near(t, "pack at the top speed", c.PackSteady.Amps, cruise.PackCurrent, 1e-9)
	// A pack that cannot give the power of the hill: half of what shorts it.
	near(t, "most power", outfitOf(t, "battery.resistance_mohm = 1300", "cell.discharge_a = 50").Currents.PackSteady.Amps, 36/2.6, 1e-9)
}

// needCase is one need of a changed kit.
type needCase struct {
	why    string
	change []string
	state  State
	part   string // chosen
	turned string // a part turned away, with its reason
}

func testNeeds(t *testing.T, kind, use string, wishes func(*Wishes), cases []needCase) {
	t.Helper()
	for _, tt := range cases {
		w := DefaultWishes()
		if wishes != nil {
			wishes(&w)
		}
		n := Complete(build(t, hill, tt.change...), w).Need(kind, use)
		got := ""
		if n.Part != nil {
			got = n.Part.ID
		}
		if n.State != tt.state || got != tt.part {
			t.Errorf("%s: %v %q, want %v %q; %s", tt.why, n.State, got, tt.state, tt.part, briefly(n.Open()...))
		}
		if tt.turned != "" && !slices.ContainsFunc(n.Turned, func(x Turned) bool { return x.ID+": "+briefly(x.Why...) == tt.turned }) {
			t.Errorf("%s: turned away %v, want %s", tt.why, n.Turned, tt.turned)
		}
		if n.Part == nil && !math.IsNaN(n.Price()) {
			t.Errorf("%s: price %v of part %q", tt.why, n.Price(), got)
		}
		if !n.Buy.Told() {
			t.Errorf("%s: nothing says what to buy", tt.why)
		}
	}
}

func TestBMS(t *testing.T) {
	testNeeds(t, "bms", "", nil, []needCase{
		{"as it is", nil, Chosen, "guard", ""},
		{"none in the catalog", []string{"-guard"}, Missing, "", ""},
		{"for another pack", []string{"guard.series = 12"}, Misfit, "", "guard: demand-series; too-much 12 10"},
		{"less than the charger gives", []string{"guard.charge_a = 3"}, Misfit, "", "guard: demand-charge; too-little 3 4"},
		{"as much as the charger gives, though the pack bears 8 A", []string{"guard.charge_a = 4"}, Chosen, "guard", ""},
		{"no charger: the pack's 8 A count", []string{"-loader", "guard.charge_a = 7"}, Misfit, "", "guard: demand-charge; too-little 7 8"},
		{"no charger, no limit", []string{"-loader", "-cell.charge_a"}, Open, "", ""},
		{"discharge for long", []string{"guard.discharge_a = 16"}, Misfit, "", "guard: demand-discharge; too-little 16 16.9"},
		{"discharge for seconds", []string{"guard.discharge_a = 40"}, Misfit, "", "guard: demand-discharge-peak; too-little 40 60"},
		{"discharge for seconds, given", []string{"guard.discharge_a = 40", "guard.peak_discharge_a = 60"}, Chosen, "guard", ""},
		{"the discharge does not go through it", []string{"-guard.discharge_a"}, Chosen, "guard", ""},
		{"nor does it matter then what the discharge is", []string{"-guard.discharge_a", "-cell.discharge_a", "-controller.battery_current_a"}, Chosen, "guard", ""},
		{"else it does", []string{"-cell.discharge_a", "-controller.battery_current_a"}, Open, "", ""},
		{"another chemistry", []string{"guard.cell_full_v = 3.65"}, Misfit, "", "guard: demand-stops; too-little 3.65 4.2"},
		{"stops too late", []string{"guard.cell_full_v = 4.35"}, Misfit, "", "guard: demand-stops; too-much 4.35 4.3"},
		{"does not say when it stops", []string{"-guard.cell_full_v"}, Unsure, "", "guard: not-given cell_full_v"},
	})
}

func TestSwitch(t *testing.T) {
	testNeeds(t, "switch", "", nil, []needCase{
		{"as it is", nil, Chosen, "main", ""},
		{"none in the catalog", []string{"-main"}, Missing, "", ""},
		{"just the volts: 42", []string{"main.max_volts = 42"}, Chosen, "main", ""},
		{"too few volts", []string{"main.max_volts = 41.9"}, Misfit, "", "main: demand-volts; too-little 41.9 42"},
		{"without a peak the continuous current counts", []string{"main.continuous_a = 59"}, Misfit, "", "main: demand-seconds; too-little 59 60"},
		{"with a peak less is enough for long", []string{"main.continuous_a = 17", "main.peak_a = 60"}, Chosen, "main", ""},
		{"but no less than the hill takes", []string{"main.continuous_a = 16", "main.peak_a = 60"}, Misfit, "", "main: demand-long; too-little 16 16.9"},
		{"does not pre-charge", []string{"main.precharge = false"}, Misfit, "", "main: is-false precharge"},
		{"does not say whether it pre-charges", []string{"-main.precharge"}, Unsure, "", "main: not-given precharge"},
		{"neither that nor the volts", []string{"-main.precharge", "-main.max_volts"}, Unsure, "", "main: not-given max_volts precharge"},
		{"what fails counts before what is not given", []string{"-main.precharge", "main.max_volts = 30"}, Misfit, "", "main: demand-volts; too-little 30 42"},
		{"currents not known", []string{"-cell.discharge_a", "-controller.battery_current_a"}, Open, "", ""},
	})
}

// By hand: the peak of 60 A / 1.35 = 44.4 A binds, not the hill's 16.85 A / 0.75 =
// 22.5 A; the cells bear 70 A, AWG 10 at 105 °C a little less. The current of a short
// is 42 V / (½ × 0.1 Ω) = 840 A.
func TestFuse(t *testing.T) {
	testNeeds(t, "fuse", "", nil, []needCase{
		{"as it is: 65 between 44.4 and 69 A", nil, Chosen, "melt", ""},
		{"none in the catalog", []string{"-melt"}, Missing, "", ""},
		{"less than the peak, which it carries for seconds", []string{"melt.rated_a = 45"}, Chosen, "melt", ""},
		{"too small for that; 50 A are made", []string{"melt.rated_a = 44"}, Missing, "", "melt: demand-rating; too-little 44 44.4"},
		{"larger than the cells bear; 50 A are made", []string{"melt.rated_a = 70.1", "lead.awg = 6"}, Missing, "", "melt: demand-rating; too-much 70.1 70"},
		{"larger than the leads bear", []string{"lead.awg = 12", "-thin", "melt.rated_a = 60"}, Missing, "", "melt: demand-rating; too-much 60 51.2"},
		{"smaller than those bear", []string{"lead.awg = 12", "-thin", "melt.rated_a = 50"}, Chosen, "melt", ""},
		{"the wire is to be bought for it", []string{"-lead", "-thin"}, Chosen, "melt", ""},
		{"larger than the cheaper wire bears, but not than the other", []string{"controller.battery_current_a = 20", "melt.rated_a = 60"}, Chosen, "melt", ""},
		{"too few volts", []string{"melt.max_volts_dc = 32"}, Missing, "", "melt: demand-break-volts; too-little 32 42"},
		{"breaks less than a short", []string{"melt.breaking_a = 839"}, Missing, "", "melt: demand-breaks; too-little 839 840"},
		{"breaks just that", []string{"melt.breaking_a = 840"}, Chosen, "melt", ""},
		{"does not say what it breaks", []string{"-melt.breaking_a"}, Unsure, "", "melt: not-given breaking_a"},
		{"nobody knows the current of a short", []string{"-melt.breaking_a", "-cell.resistance_mohm"}, Chosen, "melt", ""},
		{"nobody knows what the cells bear", []string{"-cell.discharge_a"}, Open, "", ""},
		// Steady 60 A of a peak of 60 A ask for 80 A, which the cells do not bear: 65 A
		// carry it, with a caution.
		{"warm", []string{"-motor.resistance_mohm", "lead.awg = 6"}, Chosen, "melt", ""},
		{"not even that: at most 63 A, and 60 A are made", []string{"-motor.resistance_mohm", "lead.awg = 6", "battery.discharge_a = 63"}, Missing, "", "melt: demand-rating; too-much 65 63"},
		{"no fuse between 62 and 63 A is made", []string{"-motor.resistance_mohm", "lead.awg = 6", "controller.battery_current_a = 31", "battery.discharge_a = 63"}, Misfit, "", ""},
	})
	// Fuses that would do with less to carry: 40 A × 1.35 for two motors.
	n := outfitOf(t, "melt.rated_a = 40", "[[fuse]]\nid = \"less\"\nrated_a = 30\nmax_volts_dc = 58\nbreaking_a = 1000", "[[fuse]]\nid = \"weak\"\nrated_a = 42\nmax_volts_dc = 12\nbreaking_a = 1000").Need("fuse", "")
	if got := briefly(n.Notes...); got != "fuse-bears-seconds 60 120 50; fuse-of-less-current melt 27" {
		t.Errorf("notes %q", got)
	}
	// But not one that the hill's 16.85 A would warm too much: 20 A.
	n = outfitOf(t, "melt.rated_a = 20").Need("fuse", "")
	if got := briefly(n.Notes...); got != "fuse-bears-seconds 60 120 50" {
		t.Errorf("notes %q", got)
	}
	// What the leads bear bounds the rating: the drive package's own figure.
	n = outfitOf(t, "lead.awg = 12", "-thin").Need("fuse", "")
	near(t, "upper bound", n.Demands[0].Most, drive.GaugeWire(12).Ampacity(75, 30), 1e-12)
	// The insulation, where it bears less than plugs and joints.
	n = outfitOf(t, "controller.battery_current_a = 20", "lead.insulation_c = 90", "-thin").Need("fuse", "")
	near(t, "upper bound by the insulation", n.Demands[0].Most, drive.GaugeWire(10).Ampacity(60, 30), 1e-12)
}

// What fuse to look for, of the ratings that are made: ISO 8820-3 up to 80 A.
func TestFuseToBuy(t *testing.T) {
	for _, tt := range []struct {
		why    string
		change []string
		buy    string
	}{
		// The wire to buy with it is AWG 12, which bears 51 A.
		{"44.4 to 51 A", bare(), "buy-fuse 50 50 42 840"},
		{"44.4 to 70 A", []string{"-melt", "lead.awg = 6"}, "buy-fuse 50 70 42 840"},
		{"the peak of 96 A / 1.35 = 71.1 A up to 140 A, bolted", []string{"-melt", "lead.awg = 1", "plug.wire_max_awg = 0", "plug.peak_a = 200", "controller.battery_current_a = 48", "battery.discharge_a = 140"}, "buy-fuse 80 125 42 840"},
		{"what the cells bear is not known", []string{"-melt", "-cell.discharge_a"}, "buy-fuse 50 NaN 42 840"},
		{"nor the peak", []string{"-melt", "-cell.discharge_a", "-controller.battery_current_a"}, "buy-fuse NaN NaN 42 840"},
		{"62 to 63 A", []string{"-melt", "-motor.resistance_mohm", "lead.awg = 6", "controller.battery_current_a = 31", "battery.discharge_a = 63"}, "buy-fuse-unmade 62 63 42 840"},
	} {
		if got := briefly(outfitOf(t, tt.change...).Need("fuse", "").Buy); got != tt.buy {
			t.Errorf("%s: %q, want %q", tt.why, got, tt.buy)
		}
	}
}

// Of all windows: what is named is made and lies within, and the next on either side
// does not; nothing is named only where nothing lies within.
func TestRatingsAreMade(t *testing.T) {
	// ISO 8820-3, blades of types C, E and F.
	all, blades := catalog.FuseRatings(), []float64{5, 7.5, 10, 15, 20, 25, 30, 35, 40, 50, 60, 70, 80}
	ratings := all[:]
	if !slices.Equal(ratings[:len(blades)], blades) || !slices.IsSorted(ratings) || ratings[len(ratings)-1] != 500 {
		t.Errorf("ratings %v", ratings)
	}
	rapid.Check(t, func(t *rapid.T) {
		from := rapid.Float64Range(0, 600).Draw(t, "from")
		to := from + rapid.Float64Range(0, 200).Draw(t, "width")
		least, most, ok := madeBetween(from, to)
		var within []float64
		for _, amps := range ratings {
			if amps >= from && amps <= to {
				within = append(within, amps)
			}
		}
		if ok != (len(within) > 0) || ok && (least != within[0] || most != within[len(within)-1]) {
			t.Fatalf("%g to %g A: %g to %g, %v; within are %v", from, to, least, most, ok, within)
		}
	})
}

func TestConnector(t *testing.T) {
	testNeeds(t, "connector", "battery", nil, []needCase{
		{"as it is", nil, Chosen, "plug", ""},
		{"none in the catalog", []string{"-plug"}, Missing, "", ""},
		{"too small for the wire", []string{"plug.wire_max_awg = 12"}, Misfit, "", "plug: demand-wire; too-little 3.31 5.26"},
		{"as large as the wire", []string{"plug.wire_max_awg = 10"}, Chosen, "plug", ""},
		{"too small for the thicker wire, which is the cheaper one", []string{"plug.wire_max_awg = 12", "thin.awg = 12", "thin.price = 9", "melt.rated_a = 50"}, Chosen, "plug", ""},
		{"does not say", []string{"-plug.wire_max_awg"}, Unsure, "", "plug: not-given wire_max_mm2"},
		{"current for long", []string{"plug.continuous_a = 16"}, Misfit, "", "plug: demand-long; too-little 16 16.9"},
		{"current for seconds", []string{"plug.peak_a = 59"}, Misfit, "", "plug: demand-seconds; too-little 59 60"},
		{"the wire to buy is AWG 12", []string{"-lead", "-thin", "-melt", "plug.wire_max_awg = 12"}, Chosen, "plug", ""},
		{"which this one does not take", []string{"-lead", "-thin", "-melt", "plug.wire_max_awg = 13"}, Misfit, "", "plug: demand-wire; too-little 2.62 3.31"},
	})
	single := "[[connector]]\nid = \"bullet\"\npoles = 1\ncontinuous_a = 60\npeak_a = 120\nmax_volts = 60\nprice = 1\n"
	testNeeds(t, "connector", "phase", nil, []needCase{
		{"two poles", nil, Misfit, "", "plug: demand-poles; too-much 2 1"},
		{"one, that takes AWG 10", []string{single + "wire_max_awg = 10"}, Chosen, "bullet", ""},
		{"one that does not take the wire", []string{single + "wire_max_awg = 12"}, Misfit, "", "bullet: demand-wire; too-little 3.31 5.26"},
		{"one that does not say", []string{single}, Unsure, "", "bullet: not-given wire_max_mm2"},
	})
}

func TestWires(t *testing.T) {
	// AWG 14 at 105 °C in 30 °C of air bears less than the peak of 60 A for long, and
	// for 20 s too.
	if amps := drive.GaugeWire(14).Ampacity(75, 30); amps > 55 {
		t.Fatalf("AWG 14 bears %g A: the cases below mean less than the peaks", amps)
	}
	testNeeds(t, "wire", "battery", nil, []needCase{
		{"the thinner is cheaper and does not do", nil, Chosen, "lead", ""},
		{"the thinner does where less is drawn", []string{"controller.battery_current_a = 15", "melt.rated_a = 35"}, Chosen, "thin", ""},
		{"but not where the fuse lets more through", []string{"controller.battery_current_a = 15"}, Chosen, "lead", ""},
		{"none in the catalog", []string{"-lead", "-thin"}, Missing, "", ""},
		{"insulation not known", []string{"-lead.insulation_c", "-thin"}, Unsure, "", "lead: not-given insulation_c"},
		{"insulation for 60 °C", []string{"lead.insulation_c = 60", "-thin"}, Misfit, "", ""},
		{"volts", []string{"lead.max_volts = 30", "-thin"}, Misfit, "", "lead: demand-insulation; too-little 30 42"},
		{"currents not known", []string{"-cell.discharge_a", "-controller.battery_current_a"}, Open, "", ""},
		{"thicker than the plug takes, though cheaper", []string{"plug.wire_max_awg = 10", "thin.awg = 6"}, Chosen, "lead", "thin: demand-cup; too-much 13.3 5.26"},
	})
	testNeeds(t, "wire", "phase", nil, []needCase{
		{"57 A", nil, Chosen, "lead", ""},
		{"33 A", []string{"controller.motor_current_a = 40"}, Chosen, "thin", ""},
		{"no limit known", []string{"-controller.motor_current_a", "-motor.peak_current_a"}, Open, "", ""},
	})
	// A short peak warms the thin wire less: in the adiabatic limit, from 30 °C and
	// the rise of the steady current to 105 °C, with the factor of IEC 60364-5-54.
	testNeeds(t, "wire", "phase", func(w *Wishes) { w.PeakSeconds = 5 }, []needCase{{"57 A for 5 s", nil, Chosen, "thin", ""}})
	steady := outfitOf(t).Currents.PhaseSteady.Amps
	from := 30 + drive.GaugeWire(14).Rise(steady, 30)
	k := 226 * math.Sqrt(math.Log((234.5+105)/(234.5+from)))
	if bears := k * drive.GaugeArea(14) * 1e6 / math.Sqrt(5); bears < 57.2 || bears/2 > 57.1 {
		t.Errorf("by hand AWG 14 bears %g A for 5 s, and half of that for 20 s", bears)
	}

	// 0.3 m out and back is a metre to buy; 0.4 m × 3 wires × 2 motors are 2.4 m.
	o := outfitOf(t)
	if a, b := o.Need("wire", "battery").Pieces, o.Need("wire", "phase").Pieces; a != 1 || b != 3 {
		t.Errorf("%d and %d m of wire, want 1 and 3", a, b)
	}
	// What is a whole number of metres needs no metre more, for the last bit of a
	// product: 0.5 m × 3 wires × 2 motors are 3 m, and (0.1 + 0.2) × 5 m out and
	// back are 3 m, which binary numbers take for 3.0000000000000004.
	wishes := DefaultWishes()
	tenth := 0.1 // no constant, which would be exact
	wishes.PhaseWire, wishes.BatteryWire = 0.5, 5*(tenth+0.2)
	exact := Complete(o.Build, wishes)
	if a, b := exact.Need("wire", "battery").Pieces, exact.Need("wire", "phase").Pieces; a != 3 || b != 3 {
		t.Errorf("%d and %d m of wire, want 3 and 3", a, b)
	}
	// The words' gauge bears both currents and the fuse, and the next thinner does not.
	m := &maker{build: o.Build, wishes: o.Wishes, catalog: o.Build.Problem.Catalog, currents: o.Currents}
	gauge, ok := m.gauge(m.battery(), 50)
	bears := func(g int) bool {
		w := drive.GaugeWire(g)
		from := 30 + w.Rise(o.Currents.PackSteady.Amps, 30)
		return w.Ampacity(40, 30) >= o.Currents.PackSteady.Amps && w.Ampacity(75, 30) >= 50 &&
			(w.Ampacity(75, 30) >= 60 || w.PeakAmpacity(from, 105, 20) >= 60)
	}
	if !ok || !bears(gauge) || bears(gauge+1) {
		t.Errorf("AWG %d, %v", gauge, ok)
	}
}

// Against the plain reading: of all pairs of a wire and a plug, and all fuses, the
// ones chosen go together and no others that do are cheaper.
func TestCircuitAgainstPlainReading(t *testing.T) {
	b := build(t, hill)
	rapid.Check(t, func(t *rapid.T) {
		some := func(name string, values ...float64) float64 { return rapid.SampledFrom(values).Draw(t, name) }
		m := &maker{build: b, wishes: DefaultWishes(), currents: currents(b), catalog: &catalog.Catalog{}}
		ids := []string{"a", "b", "c", "d"}
		for _, id := range ids[:rapid.IntRange(0, 4).Draw(t, "wires")] {
			m.catalog.Wires = append(m.catalog.Wires, &catalog.Wire{
				Part: catalog.Part{ID: "w" + id, SoldIn: 1, Price: some("price", 1, 2, 5)},
				Area: drive.GaugeArea(int(some("gauge", 6, 8, 10, 12, 14))), Insulation: some("°C", 90, 200, nan), MaxVolts: 600,
			})
		}
		for _, id := range ids[:rapid.IntRange(0, 4).Draw(t, "plugs")] {
			m.catalog.Connectors = append(m.catalog.Connectors, &catalog.Connector{
				Part:  catalog.Part{ID: "p" + id, SoldIn: 1, Price: some("price", 1, 2, 5)},
				Poles: 2, Continuous: 60, Peak: some("peak", 59, 60), MaxVolts: 60, WireMax: drive.GaugeArea(int(some("cup", 8, 10, 12))),
			})
		}
		for _, id := range ids[:rapid.IntRange(0, 4).Draw(t, "fuses")] {
			m.catalog.Fuses = append(m.catalog.Fuses, &catalog.Fuse{
				Part:  catalog.Part{ID: "f" + id, SoldIn: 1, Price: some("price", 1, 2, 5)},
				Rated: some("rated", 40, 50, 60, 70, 80), MaxVoltsDC: 60, Breaking: 1000,
			})
		}
		cheapest := math.Inf(1)
		for _, w := range m.catalog.Wires {
			x := drive.Wire{Area: w.Area}
			hottest := math.Min(w.Insulation, 105)
			bears := x.Ampacity(hottest-30, 30)
			peak := math.Max(bears, x.PeakAmpacity(30+x.Rise(m.currents.PackSteady.Amps, 30), hottest, 20))
			for _, p := range m.catalog.Connectors {
				for _, f := range m.catalog.Fuses {
					if peak >= 60 && p.Peak >= 60 && p.WireMax >= w.Area && f.Rated >= 60/1.35 && f.Rated <= math.Min(70, bears) {
						cheapest = math.Min(cheapest, w.Price+p.Price+f.Price)
					}
				}
			}
		}
		c := m.circuit(m.battery())
		complete := c.wire.Part != nil && c.plugs.Part != nil && c.fuse.Part != nil
		if complete != !math.IsInf(cheapest, 1) {
			t.Fatalf("complete %v: wire %v, plugs %v, fuse %v; cheapest %g", complete, c.wire.Turned, c.plugs.Turned, c.fuse.Turned, cheapest)
		}
		if price := c.wire.Price() + c.plugs.Price() + c.fuse.Price(); complete && math.Abs(price-cheapest) > 1e-9 {
			t.Fatalf("%s, %s and %s cost %g, the cheapest %g", c.wire.Part.ID, c.plugs.Part.ID, c.fuse.Part.ID, price, cheapest)
		}
	})
}

func TestCharger(t *testing.T) {
	testNeeds(t, "charger", "", nil, []needCase{
		{"as it is", nil, Chosen, "loader", ""},
		{"none in the catalog", []string{"-loader"}, Missing, "", ""},
		{"for 12 in series", []string{"loader.full_v = 50.4"}, Misfit, "", "loader: demand-charge-end; too-much 50.4 42"},
		{"for 9 in series", []string{"loader.full_v = 37.8"}, Misfit, "", "loader: demand-charge-end; too-little 37.8 41.2"},
		{"stops a little early", []string{"loader.full_v = 41.5"}, Chosen, "loader", ""},
		{"as strong as the cells bear: 2 × 4 A", []string{"loader.current_a = 8"}, Chosen, "loader", ""},
		{"too strong", []string{"loader.current_a = 8.1"}, Misfit, "", "loader: demand-charge; too-much 8.1 8"},
		{"nobody knows what the cells bear", []string{"-cell.charge_a"}, Open, "", ""},
	})
	testNeeds(t, "charger", "", func(w *Wishes) { w.ChargeHours = 2 }, []needCase{
		{"10 A·h in 2 h take 5 A", nil, Misfit, "", "loader: demand-charge; too-little 4 5"},
		{"as much", []string{"loader.current_a = 5"}, Chosen, "loader", ""},
	})
	n := outfitOf(t).Need("charger", "")
	if got := briefly(n.Notes...); got != "fills-pack 2.5" {
		t.Errorf("notes %q", got)
	}
}

func TestRemote(t *testing.T) {
	testNeeds(t, "remote", "", nil, []needCase{
		{"as it is", nil, Chosen, "hand", ""},
		{"drives on without a signal", []string{"hand.failsafe = false"}, Misfit, "", "hand: is-false failsafe"},
		{"does not say", []string{"-hand.failsafe"}, Unsure, "", "hand: not-given failsafe"},
		{"none in the catalog", []string{"-hand"}, Missing, "", ""},
	})
}

func TestBox(t *testing.T) {
	testNeeds(t, "box", "", nil, []needCase{
		{"as it is", nil, Chosen, "tray", ""},
		{"none in the catalog", []string{"-tray"}, Missing, "", ""},
		// Cells of 21.2 mm in their sleeves lie: 20 mm are not enough.
		{"too flat", []string{"tray.height_mm = 20"}, Misfit, "", "tray: room-for 0 20"},
		// Lying along the length, four of 72.5 mm in 300 mm, and two across 50 mm.
		{"too narrow", []string{"tray.width_mm = 50", "tray.height_mm = 30"}, Misfit, "", "tray: room-for 8 20"},
		{"cells of no known size", []string{"-cell.diameter_mm"}, Open, "", ""},
		{"a pack without cells", []string{"-battery", "[[battery]]\nid = \"battery\"\nseries = 10\nnominal_v = 36\nfull_v = 42\ndischarge_a = 70\nprice = 300"}, Open, "", ""},
	})
	o := outfitOf(t, "-tray")
	if o.Layout != nil {
		t.Error("a layout without a box")
	}
}

// The cheapest that will do, what is owned costing nothing, a price that is not
// known last, then the lower id.
func TestCheapestIsChosen(t *testing.T) {
	other := func(id, more string) string {
		return "[[switch]]\nid = \"" + id + "\"\nmax_volts = 60\ncontinuous_a = 100\nprecharge = true\n" + more
	}
	testNeeds(t, "switch", "", nil, []needCase{
		{"a cheaper one", []string{other("z", "price = 39")}, Chosen, "z", ""},
		{"a dearer one", []string{other("a", "price = 41")}, Chosen, "main", ""},
		{"at the same price the lower id", []string{other("a", "price = 40")}, Chosen, "a", ""},
		{"at the same price not the higher id", []string{other("z", "price = 40")}, Chosen, "main", ""},
		{"owned", []string{other("z", "price = 400\nowned = true")}, Chosen, "z", ""},
		{"no price", []string{other("a", "")}, Chosen, "main", ""},
		{"no prices at all", []string{other("a", ""), "-main.price"}, Chosen, "a", ""},
	})
}

// What is turned away comes nearest first.
func TestNearestFirst(t *testing.T) {
	other := func(id string, rated float64) string {
		return fmt.Sprintf("[[fuse]]\nid = %q\nrated_a = %g\nmax_volts_dc = 58\nbreaking_a = 1000", id, rated)
	}
	order := func(n *Need) string {
		var ids []string
		for _, x := range n.Turned {
			ids = append(ids, x.ID)
		}
		return strings.Join(ids, " ")
	}
	n := outfitOf(t, "melt.rated_a = 30", other("a", 10), other("b", 40), other("c", 90), other("d", 150)).Need("fuse", "")
	if got := order(n); got != "b c melt a d" {
		t.Errorf("turned away %s", got)
	}
	// Who fails a later demand is nearer.
	n = outfitOf(t, "melt.breaking_a = 400", "melt.rated_a = 65", other("b", 44)).Need("fuse", "")
	if got := order(n); got != "melt b" {
		t.Errorf("turned away %s", got)
	}
}

// Against the plain reading: of random switches the one chosen meets all, and
// none that meets all is cheaper, or as cheap with a lower id.
func TestChoiceAgainstPlainReading(t *testing.T) {
	b := build(t, hill)
	rapid.Check(t, func(t *rapid.T) {
		some := func(name string, values ...float64) float64 { return rapid.SampledFrom(values).Draw(t, name) }
		m := &maker{build: b, wishes: DefaultWishes(), currents: currents(b), catalog: &catalog.Catalog{}}
		yes, no := true, false
		for _, id := range []string{"a", "b", "c", "d", "e"}[:rapid.IntRange(0, 5).Draw(t, "switches")] {
			m.catalog.Switches = append(m.catalog.Switches, &catalog.Switch{
				Part:     catalog.Part{ID: id, SoldIn: 1, Price: some("price", 10, 20, nan), Owned: rapid.IntRange(0, 5).Draw(t, "owned") == 0},
				MaxVolts: some("volts", 30, 42, 60, nan), Continuous: some("amps", 10, 20, 60, nan), Peak: some("peak", 50, 60, nan),
				Precharge: rapid.SampledFrom([]*bool{&yes, &yes, &no, nil}).Draw(t, "precharge"),
			})
		}
		best := ""
		price := math.Inf(1)
		for _, s := range m.catalog.Switches {
			peak := s.Peak
			if math.IsNaN(peak) {
				peak = s.Continuous
			}
			meets := s.MaxVolts >= 42 && s.Continuous >= 16.852 && peak >= 60 && s.Precharge == &yes
			cost := s.Cost(1)
			if math.IsNaN(cost) {
				cost = 1e300
			}
			if meets && cost < price {
				best, price = s.ID, cost
			}
		}
		n := m.mainSwitch()
		got := ""
		if n.Part != nil {
			got = n.Part.ID
		}
		if got != best {
			t.Fatalf("chose %q, want %q: %+v", got, best, n.Turned)
		}
		if chosen := n.State == Chosen; chosen != (best != "") || n.State == Missing != (len(m.catalog.Switches) == 0) {
			t.Fatalf("state %v for %q of %d", n.State, best, len(m.catalog.Switches))
		}
	})
}
