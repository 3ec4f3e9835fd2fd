package drive_test

import (
	"math"
	"testing"

	"gearsearch/drive"

	"pgregory.net/rapid"
)

// ASTM B258 for the diameter, and for the resistance of annealed copper of 100
// % IACS ASTM B3: solid wire at 20 °C.
func TestWireGauges(t *testing.T) {
	for _, tt := range []struct {
		gauge    int
		diameter float64 // mm, as the standard prints it
		ohms     float64 // Ω/km; 0: not checked
	}{
		{-3, 11.684, 0}, // 4/0, 0.4600 inch
		{0, 8.251, 0},
		{10, 2.588, 3.277},
		{12, 2.053, 5.211},
		{14, 1.628, 8.285},
		{36, 0.127, 0}, // 0.0050 inch, the other end of the series
	} {
		within(t, "diameter in mm", drive.GaugeDiameter(tt.gauge)/mm, tt.diameter, 0.5e-3)
		if tt.ohms > 0 {
			within(t, "Ω/km", 1000*drive.GaugeWire(tt.gauge).Resistance(20), tt.ohms, 1e-3)
		}
	}
	// 1 mm² and 1 m: 1/58 Ω, and 0.393 % more for each kelvin (IEC 60028).
	square := drive.Wire{Area: 1e-6}
	near(t, "1 m of 1 mm²", square.Resistance(20), 1.0/58, 1e-15)
	near(t, "the same at 120 °C", square.Resistance(120), 1.393/58, 1e-14)
}

// Six gauges are twice the diameter and three twice the copper, nearly: common
// practice, no published source.
func TestGaugeRules(t *testing.T) {
	for gauge := -3; gauge <= 24; gauge++ {
		near(t, "six gauges", drive.GaugeDiameter(gauge), 2*drive.GaugeDiameter(gauge+6), 0.01)
		near(t, "three gauges", drive.GaugeArea(gauge), 2*drive.GaugeArea(gauge+3), 0.01)
	}
}

// Çengel, Heat and Mass Transfer, example of a horizontal hot-water pipe: 6 m of
// 8 cm at 70 °C in a room of 20 °C lose 443 W by free convection. The book's air
// conducts a little less, hence 2 %.
func TestConvectionOfAPipe(t *testing.T) {
	near(t, "watts of 6 m", 6*drive.Convection(0.08, 70, 20), 443, 0.02)
	// The book's Nusselt number, h D/k, with its conductivity.
	near(t, "Nusselt number", drive.Convection(0.08, 70, 20)/(math.Pi*50*0.02699), 17.40, 0.02)
	for _, surface := range []float64{20, 19, -5} {
		if watts := drive.Convection(0.08, surface, 20); watts != 0 {
			t.Errorf("a surface of %g °C in air of 20 °C gives %g W, want none", surface, watts)
		}
	}
}

// A black surface of 1 m² at 100 °C facing 0 °C radiates by hand 5.670374e-8
// (373.15⁴ − 273.15⁴) W/m² = 1099.37 − 315.66 = 783.71 W.
func TestRadiation(t *testing.T) {
	within(t, "1 m² of a black tube", drive.Radiation(1/math.Pi, 1, 100, 0), 783.7, 0.1)
	near(t, "grey", drive.Radiation(1, 0.4, 80, 20), 0.4*drive.Radiation(1, 1, 80, 20), 1e-14)
}

// US FAA, Advisory Circular 43.13-1B, page 11-27: from the curves of a single wire
// in free air, its figure 11-4a, AWG 14 bears 47 A with a rise of 150 K in air of 50
// °C. Such wire is 2.2 mm thick (from memory). Our copper is solid and without
// tin: its resistance is less than the circular's, hence 5 %.
func TestAmpacityOfAircraftWire(t *testing.T) {
	w := drive.Wire{Area: drive.GaugeArea(14), Outside: 2.2 * mm}
	near(t, "AWG 14 at 150 K", w.Ampacity(150, 50), 47, 0.05)
}

// The rules of house wiring for one copper conductor in free air of 30 °C (US
// National Electrical Code, table 310.17, from memory; wire as thick as
// thermoplastic building wire, from memory): 50, 70, 95 A for AWG 10, 8, 6 at
// 75 °C, 55, 80, 105 A at 90 °C. They round to 5 A: 10 %.
func TestAmpacityOfBuildingWire(t *testing.T) {
	for _, tt := range []struct {
		gauge               int
		outside, at75, at90 float64
	}{
		{10, 4.2, 50, 55},
		{8, 5.5, 70, 80},
		{6, 6.5, 95, 105},
	} {
		w := drive.Wire{Area: drive.GaugeArea(tt.gauge), Outside: tt.outside * mm}
		near(t, "at 75 °C", w.Ampacity(45, 30), tt.at75, 0.1)
		near(t, "at 90 °C", w.Ampacity(60, 30), tt.at90, 0.1)
	}
}

// The heat that the current makes leaves through the insulation and from its
// surface: the temperatures in between are found here by marching, not by the
// package.
func TestWireHeatBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := drive.Wire{
			Area:    drive.GaugeArea(rapid.IntRange(4, 24).Draw(t, "gauge")),
			Outside: orZero(t, 1*mm, 12*mm, "outside"),
		}
		ambient := rapid.Float64Range(-20, 60).Draw(t, "ambient")
		rise := rapid.Float64Range(1, 150).Draw(t, "rise")
		amps := w.Ampacity(rise, ambient)
		near(t, "the inverse", w.Rise(amps, ambient), rise, 1e-9)

		made := amps * amps * w.Resistance(ambient+rise)
		copper := math.Sqrt(w.Area * 4 / math.Pi)
		outside := math.Max(w.Outside, copper)
		if w.Outside == 0 {
			outside = 2 * copper
		}
		surface := ambient + rise - made*math.Log(outside/copper)/(2*math.Pi*drive.InsulationConductivity)
		left := drive.Convection(outside, surface, ambient) + drive.Radiation(outside, drive.InsulationEmissivity, surface, ambient)
		if math.Abs(left-made) > 1e-9*made {
			t.Fatalf("%+v: %g W made, %g W leave a surface of %g °C", w, made, left, surface)
		}
	})
}

func TestWireIsMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		gauge := rapid.IntRange(0, 24).Draw(t, "gauge")
		ambient := rapid.Float64Range(-20, 60).Draw(t, "ambient")
		rise := rapid.Float64Range(1, 100).Draw(t, "rise")
		w := drive.GaugeWire(gauge)
		amps := w.Ampacity(rise, ambient)
		for what, more := range map[string]float64{
			"a thicker wire":  drive.GaugeWire(gauge-1).Ampacity(rise, ambient),
			"a greater rise":  w.Ampacity(rise+1, ambient),
			"a thinner cover": 2*amps - drive.Wire{Area: w.Area, Outside: 1.2 * math.Sqrt(w.Area*4/math.Pi)}.Ampacity(rise, ambient),
		} {
			// A thinner cover has less surface, which for such thin wires counts
			// for more than the heat it holds back.
			if !(more > amps) {
				t.Errorf("%s bears %g A, not more than %g A", what, more, amps)
			}
		}
	})
}

func TestDrop(t *testing.T) {
	// By hand: 40 A through 0.5 m of AWG 12 out and back at 20 °C, 1 m in all,
	// 5.211 mΩ: 0.2084 V and 8.34 W.
	w := drive.GaugeWire(12)
	volts := w.Drop(40, 0.5, 20)
	within(t, "volts", volts, 0.2084, 0.5e-4)
	within(t, "watts", 40*volts, 8.34, 0.5e-2)
	if volts := w.Drop(0, 0.5, 20); volts != 0 {
		t.Errorf("without a current %g V are lost", volts)
	}
}

// The factors of IEC 60364-5-54, annex A, and IEC 60364-4-43 for copper in A √s/mm²:
// that of an insulation follows from the temperatures it may start from and reach.
func TestPeakAmpacityOfCables(t *testing.T) {
	for _, tt := range []struct {
		why            string
		from, to, want float64
	}{
		{"thermoplastic, a conductor of a cable", 70, 160, 115},
		{"thermoplastic, laid by itself", 30, 160, 143},
		{"thermosetting of 90 °C, a conductor of a cable", 90, 250, 143},
		{"thermosetting of 90 °C, laid by itself", 30, 250, 176},
		{"rubber of 60 °C, a conductor of a cable", 60, 200, 141},
	} {
		w := drive.Wire{Area: 1e-6}
		within(t, tt.why, w.PeakAmpacity(tt.from, tt.to, 1), tt.want, 0.5)
		near(t, tt.why+", for 4 s", w.PeakAmpacity(tt.from, tt.to, 4), w.PeakAmpacity(tt.from, tt.to, 1)/2, 1e-12)
		near(t, tt.why+", the inverse", w.After(w.PeakAmpacity(tt.from, tt.to, 7), 7, tt.from), tt.to, 1e-9)
	}
	if amps := (drive.Wire{Area: 1e-6}).PeakAmpacity(105, 105, 1); amps != 0 {
		t.Errorf("what is as warm as it may be bears %g A, want none", amps)
	}
}

func TestThinnestGauge(t *testing.T) {
	bears := func(amps float64) func(drive.Wire) bool {
		return func(w drive.Wire) bool { return w.Ampacity(30, 30) >= amps }
	}
	for _, amps := range []float64{5, 12, 30, 60, 120} {
		gauge, ok := drive.ThinnestGauge(bears(amps))
		if !ok {
			t.Fatalf("no gauge bears %g A", amps)
		}
		if got := drive.GaugeWire(gauge).Rise(amps, 30); !(got <= 30) {
			t.Errorf("%g A warm AWG %d by %g K, want 30 at most", amps, gauge, got)
		}
		if got := drive.GaugeWire(gauge+1).Rise(amps, 30); !(got > 30) {
			t.Errorf("%g A warm the next thinner AWG %d by %g K only", amps, gauge+1, got)
		}
	}
	if gauge, ok := drive.ThinnestGauge(bears(0.1)); !ok || gauge != drive.FinestGauge {
		t.Errorf("for 0.1 A AWG %d, want the finest", gauge)
	}
	if gauge, ok := drive.ThinnestGauge(bears(5000)); ok {
		t.Errorf("AWG %d is to bear 5000 A", gauge)
	}
	w := drive.GaugeWire(12)
	if rise := w.Rise(1e5, 30); !math.IsInf(rise, 1) {
		t.Errorf("100 kA warm AWG 12 by %g K, want no end", rise)
	}
	if rise := w.Rise(0, 30); rise != 0 {
		t.Errorf("no current warms AWG 12 by %g K", rise)
	}
	if amps := w.Ampacity(0, 30); amps != 0 {
		t.Errorf("with no rise AWG 12 bears %g A, want 0", amps)
	}
}
