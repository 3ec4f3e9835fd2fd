package unit

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestExact: a quantity is the number that its definition makes of it, to the
// last bit. The wanted numbers stand in BIPM, The International System of Units
// (tables 8 and following), or NIST SP 811, appendix B.8, or follow from them by
// hand.
func TestExact(t *testing.T) {
	for _, tt := range []struct {
		kind     *Kind
		text, to string
		want     float64
		why      string
	}{
		{&Length, "1in", "mm", 25.4, "the inch"},
		{&Length, "8in", "mm", 203.2, "8 × 25.4"},
		{&Length, `3.8"`, "mm", 96.52, "3.8 × 25.4"},
		{&Length, "1ft", "mm", 304.8, "the foot"},
		{&Length, "9.7 cm", "mm", 97, "centimetres"},
		{&Length, "0.097m", "mm", 97, "metres"},
		{&Distance, "1mi", "m", 1609.344, "the mile"},
		{&Distance, "15 miles", "km", 24.14016, "15 × 1.609344"},
		{&Distance, "400ft", "m", 121.92, "400 × 0.3048"},
		{&Speed, "25mph", "km/h", 40.2336, "25 × 1.609344"},
		{&Speed, "11m/s", "km/h", 39.6, "11 × 3.6"},
		{&Speed, "40 kph", "km/h", 40, "another name"},
		{&Mass, "1lb", "kg", 0.45359237, "the pound"},
		{&Mass, "190lb", "kg", 86.1825503, "190 × 0.45359237"},
		{&Mass, "1oz", "g", 28.349523125, "the ounce, a sixteenth of a pound"},
		{&Mass, "0.64kg", "g", 640, "a thousandth"},
		{&Torque, "1 lbf.ft", "N.m", 1.3558179483314004, "NIST SP 811: 1 lbf·ft = 1.355 817 948 331 4 N·m"},
		{&Pull, "1lbf/in", "N/m", 175.1268352464764, "4.4482216152605 N / 0.0254 m"},
		{&Pull, "11.22N/mm", "N/mm", 11.22, "as it is"},
		{&Area, "1ft²", "m²", 0.09290304, "0.3048²"},
		{&Area, "1in2", "mm²", 645.16, "25.4²"},
		{&Area, "2.5mm2", "mm²", 2.5, "as it is"},
		{&Density, "1 lb/ft3", "kg/m³", 16.018463373960138, "0.45359237 / 0.3048³"},
		{&Charge, "5000mAh", "Ah", 5, "a thousandth"},
		{&Charge, "5AH", "Ah", 5, "case does not matter"},
		{&Resistance, "0.033 ohm", "mΩ", 33, "a thousandth"},
		{&Resistance, "0.033 Ω", "mΩ", 33, "the Greek letter"},
		{&Resistance, "0.033 \u2126", "mΩ", 33, "the ohm sign"},
		{&Resistance, "33mOhm", "mΩ", 33, "in letters"},
		{&Resistance, "33000 µΩ", "mΩ", 33, "millionths"},
		{&Resistance, "33000 \u03bcΩ", "mΩ", 33, "with the Greek mu"},
		{&Voltage, "3.7V", "V per cell", 3.7, "as it is"},
		{&Voltage, "3700mV", "V", 3.7, "a thousandth"},
		{&Current, "500mA", "A", 0.5, "a thousandth"},
		{&Power, "1.5kW", "W", 1500, "a thousandfold"},
		{&SpeedConstant, "190KV", "rpm/V", 190, "as people write it"},
		{&Turning, "60 krpm", "rpm", 60000, "a thousandfold"},
		{&Temperature, "77F", "C", 25, "(77 − 32) / 1.8"},
		{&Temperature, "-40°F", "C", -40, "where the scales meet"},
		{&Temperature, "300K", "C", 26.85, "less 273.15"},
		{&Percent, "15%", "%", 15, "as it is"},
		{&Share, "97%", "", 0.97, "of 1"},
		{&Grade, "15%", "%", 15, "as it is"},
		{&Grade, "45deg", "%", 100, "its tangent"},
		{&Ratio, "5:1", "", 5, "a reduction"},
		{&Ratio, "15:36", "", 2.4, "the larger over the smaller"},
		{&Ratio, "36 : 15", "", 2.4, "whichever stands first"},
		{&Ratio, "1:1", "", 1, "a direct drive"},
		{&PolePairs, "14 poles", "", 7, "two make a pair"},
		{&PolePairs, "7 pairs", "", 7, "as it is"},
		{&Money, "120 EUR", "", 120, "behind the number"},
		{&Money, "€120.50", "", 120.5, "before it"},
	} {
		got, fault := tt.kind.Read(tt.text, tt.to)
		if fault != OK || got.Value != tt.want {
			t.Errorf("%s in %s is %v (fault %d), want %v: %s", tt.text, tt.to, got.Value, fault, tt.want, tt.why)
		}
	}
}

// TestFaults: what is no quantity of the kind is told apart.
func TestFaults(t *testing.T) {
	for _, tt := range []struct {
		kind *Kind
		text string
		want Fault
		why  string
	}{
		{&Speed, "25", NoUnit, "a unit is never assumed"},
		{&Speed, "25kg", NotOfKind, "a unit of something else"},
		{&Speed, "fast", NoNumber, "a word"},
		{&Speed, "", NoNumber, "nothing"},
		{&Speed, "25,5mph", Comma, "a decimal comma"},
		{&Speed, "1 200km/h", Thousands, "a gap"},
		{&Speed, "1e999mph", TooLarge, "beyond all numbers"},
		{&Speed, "0e9999999999mph", TooLarge, "an exponent that nobody writes"},
		{&Speed, strings.Repeat("1", 200) + "mph", TooLarge, "more digits than a number has"},
		{&Distance, "1e308km", OutOfRange, "beyond all numbers in metres"},
		{&Grade, "90deg", OutOfRange, "a wall"},
		{&Resistance, "33 MΩ", NotOfKind, "a million is no thousandth"},
		{&Current, "5MA", NotOfKind, "likewise"},
		{&Charge, "5000MAh", NotOfKind, "likewise"},
		{&Ratio, "5", NoUnit, "one number"},
		{&Ratio, "5:0", OutOfRange, "nothing to divide by"},
		{&Ratio, "-5:1", OutOfRange, "wheels that turn back"},
		{&Ratio, "5:1:2", NotOfKind, "three numbers"},
		{&Ratio, "5/1", NotOfKind, "another sign"},
		{&Money, "120", NoUnit, "no currency"},
		{&Money, "€120 EUR", NotOfKind, "two currencies"},
		{&Money, "120 %", NotOfKind, "no currency"},
		{&Money, "120+EUR", NotOfKind, "a sign in it"},
	} {
		if _, got := tt.kind.Read(tt.text, ""); got != tt.want {
			t.Errorf("%q: fault %d, want %d: %s", tt.text, got, tt.want, tt.why)
		}
	}
}

func TestSameCurrency(t *testing.T) {
	for _, tt := range []struct {
		a, b string
		want bool
	}{{"EUR", "eur", true}, {"€", "EUR", true}, {"euro", "€", true}, {"£", "GBP", true}, {"$", "USD", true}, {"$", "CAD", false}, {"USD", "EUR", false}} {
		if SameCurrency(tt.a, tt.b) != tt.want {
			t.Errorf("%s and %s: want %v", tt.a, tt.b, tt.want)
		}
	}
}

// TestNames: within a kind no name is that of two units, and each unit is found
// by each of its names.
func TestNames(t *testing.T) {
	for _, k := range Kinds() {
		seen := map[string]string{}
		for _, u := range k.Units {
			for _, name := range u.Names {
				if other, twice := seen[strings.ToLower(name)]; twice {
					t.Errorf("%s: %s is the name of %s and %s", k.Name, name, other, u.Names[0])
				}
				seen[strings.ToLower(name)] = u.Names[0]
				if got := k.Named(name); got != u.Names[0] {
					t.Errorf("%s: %s is found as %q, want %s", k.Name, name, got, u.Names[0])
				}
			}
		}
	}
}

// TestThereAndBack: a number of one unit, converted to another and back, is the
// number, to the last bits.
func TestThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.SampledFrom(Kinds()).Draw(t, "kind")
		if len(k.Units) == 0 || k == &Grade {
			t.Skip()
		}
		from := rapid.SampledFrom(k.List()).Draw(t, "from")
		to := rapid.SampledFrom(k.List()).Draw(t, "to")
		x := rapid.Float64Range(1, 1e6).Draw(t, "x")
		there, fault := k.Read(strconv.FormatFloat(x, 'g', -1, 64)+from, to)
		if fault != OK {
			t.Fatalf("%v %s: fault %d", x, from, fault)
		}
		back, fault := k.Read(strconv.FormatFloat(there.Value, 'g', -1, 64)+to, from)
		if fault != OK || math.Abs(back.Value-x) > 1e-9*math.Max(x, 1) {
			t.Fatalf("%v %s is %v %s and back %v", x, from, there.Value, to, back.Value)
		}
		if from == to && there.Value != x {
			t.Fatalf("%v %s is %v of the same", x, from, there.Value)
		}
	})
}

// TestPattern: the pattern of a kind takes what Read takes, and no bare number.
func TestPattern(t *testing.T) {
	for _, k := range Kinds() {
		pattern := regexp.MustCompile(k.Pattern())
		texts := []string{"5", "", "fast", "5kg", "5 km/h", "5KM/H", "5 mΩ", "5 MΩ", "5 ohm", "5in", "5:1", "5 : 2", "5:", "5 EUR", "€5", "€ 5", "5%", ".5e3V", "5.mm", "5 \u2126", "5 \u03bcΩ"}
		for _, u := range k.Units {
			for _, n := range u.Names {
				texts = append(texts, "2.5 "+n, "2.5"+n)
			}
		}
		for _, text := range texts {
			_, fault := k.Read(text, "")
			if got := pattern.MatchString(text); got != (fault == OK) {
				t.Errorf("%s: %q is taken: %v; by the pattern: %v", k.Name, text, fault == OK, got)
			}
		}
	}
}

// FuzzRead reads any text as any kind: what is taken is finite and has a unit,
// and its pattern takes it too.
func FuzzRead(f *testing.F) {
	for _, text := range []string{"25mph", "8in", "190 lb", "5000mAh", "0.033 Ω", "5:1", "15:36", "€120", "120 EUR", "77F", "1e400km", "", "-", "5\x00m", "\u212ag", "5 \u017f", "0+AA", "A,5", "5e5e"} {
		f.Add(text)
	}
	var patterns []*regexp.Regexp
	for _, k := range Kinds() {
		patterns = append(patterns, regexp.MustCompile(k.Pattern()))
	}
	f.Fuzz(func(t *testing.T, text string) {
		for i, k := range Kinds() {
			a, fault := k.Read(text, "")
			if fault != OK {
				continue
			}
			if math.IsNaN(a.Value) || math.IsInf(a.Value, 0) || a.Unit == "" || a.Bare {
				t.Fatalf("%q is %+v", text, a)
			}
			plain := strings.IndexFunc(text, func(r rune) bool { return r > 126 || r < ' ' }) < 0
			if plain && !patterns[i].MatchString(text) {
				t.Fatalf("%s: %q is taken, and not by the pattern", k.Name, text)
			}
		}
	})
}
