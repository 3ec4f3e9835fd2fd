package quantity

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

var kinds = []Kind{Speed, Grade, Torque, Mass, Distance, Length, Temperature, Time}

func TestParse(t *testing.T) {
	tests := []struct {
		kind Kind
		text string
		want float64
		why  string
	}{
		{Speed, "36km/h", 10, "36 km/h are 10 m/s by definition"},
		{Speed, "25mph", 11.176, "25 × 1609.344 m / 3600 s"},
		{Speed, "11m/s", 11, "SI already"},
		{Speed, "36 kmh", 10, "a space may stand between number and unit"},
		{Speed, " 36\tKM/H ", 10, "case and space around do not matter"},
		{Speed, "3.6e1km/h", 10, "an exponent is a number too"},
		{Speed, ".5m/s", 0.5, "digits before the point may be left out"},
		{Speed, "5.m/s", 5, "and after it"},
		{Speed, "-5m/s", -5, "whether it makes sense is for the brief to say"},
		{Grade, "15%", 0.15, "per cent"},
		{Grade, "45deg", 1, "tan 45°"},
		{Grade, "8.5deg", 0.149451, "tan 8.5°, table of tangents"},
		{Torque, "38N.m", 38, "SI already"},
		{Torque, "38Nm", 38, "the same without a point"},
		{Torque, "1lbf.ft", 1.3558179483314004, "NIST SP 811: 1 lbf·ft = 1.355 817 948 331 4 N·m"},
		{Torque, "1 lb.ft", 1.3558179483314004, "the same in short"},
		{Mass, "198lb", 89.81128926, "198 × 0.453 592 37 kg"},
		{Mass, "640g", 0.64, "grams"},
		{Distance, "15mi", 24140.16, "15 × 1609.344 m"},
		{Distance, "25km", 25000, "kilometres"},
		{Length, "97mm", 0.097, "millimetres"},
		{Length, "3.8in", 0.09652, "3.8 × 25.4 mm"},
		{Length, "2ft", 0.6096, "2 × 0.3048 m, the international foot"},
		{Distance, "5280ft", 1609.344, "a mile"},
		{Length, "12cm", 0.12, "centimetres"},
		{Temperature, "30C", 30, "Celsius already"},
		{Temperature, "212°F", 100, "water boils, NIST SP 811, B.8"},
		{Temperature, "-40F", -40, "where the scales meet"},
		{Time, "4.5h", 16200, "hours of 3600 s"},
		{Time, "90min", 5400, "minutes of 60 s"},
	}
	for _, tt := range tests {
		got, err := tt.kind.Parse(tt.text)
		if err != nil {
			t.Errorf("%s: %v (%s)", tt.text, err, tt.why)
			continue
		}
		if math.Abs(got-tt.want) > 1e-6*math.Abs(tt.want) {
			t.Errorf("%s = %v, want %v: %s", tt.text, got, tt.want, tt.why)
		}
	}
}

func TestParseRefuses(t *testing.T) {
	tests := []struct {
		kind Kind
		text string
		want string // in the message
		why  string
	}{
		{Speed, "40", "a speed needs a unit, as in 40km/h; known: km/h mph m/s", "a unit is never assumed"},
		{Grade, "15", "a grade needs a unit, as in 15%; known: % deg", "per cent or degrees?"},
		{Speed, "40knots", `"knots" is no unit of speed; known: km/h mph m/s`, "an unknown unit lists the known ones"},
		{Mass, "90km/h", `"km/h" is no unit of mass`, "a unit of something else"},
		{Speed, "", "begin with a number, as in 40km/h", "nothing"},
		{Speed, "fast", "begin with a number", "a word"},
		{Speed, "km/h", "begin with a number", "a unit alone"},
		{Speed, "38,5km/h", "write a decimal point, not a comma", "a decimal comma"},
		{Speed, "1 200km/h", "write thousands without a mark or gap", "a gap"},
		{Speed, "1'200km/h", "write thousands without a mark or gap", "a mark"},
		{Speed, "1_200km/h", "write thousands without a mark or gap", "another mark"},
		{Speed, "NaNkm/h", "begin with a number", "not a number"},
		{Speed, "Infkm/h", "begin with a number", "an infinity"},
		{Speed, "-infkm/h", "begin with a number", "another"},
		{Speed, "0x20km/h", `"x20km/h" is no unit of speed`, "a hexadecimal number"},
		{Speed, "1e999km/h", "the number is out of range", "too large for a number"},
		{Distance, "1e308km", "out of range", "too large in metres"},
		{Grade, "90deg", "out of range", "a wall"},
		{Speed, "40\x1b[31m", `"\x1b[31m" is no unit of speed`, "control characters are made visible"},
		{Speed, "４０km/h", "begin with a number", "digits of another script"},
	}
	for _, tt := range tests {
		got, err := tt.kind.Parse(tt.text)
		if err == nil {
			t.Errorf("%q = %v, want an error: %s", tt.text, got, tt.why)
			continue
		}
		if !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%q: %v, want %q in it: %s", tt.text, err, tt.want, tt.why)
		}
	}
}

func TestNumber(t *testing.T) {
	if x, err := Number(" 60000 "); err != nil || x != 60000 {
		t.Errorf("60000 = %v, %v", x, err)
	}
	for _, text := range []string{"", "60k", "0x10", "nan", "1,5", "5%", "1e999"} {
		if x, err := Number(text); err == nil {
			t.Errorf("%q = %v, want an error", text, x)
		}
	}
	for _, text := range []string{"8", "8%", " 8 % "} {
		if x, err := Percent(text); err != nil || math.Abs(x-0.08) > 1e-15 {
			t.Errorf("%q = %v, %v, want 0.08", text, x, err)
		}
	}
}

// TestShow holds the table of shown units against Parse: a quantity shown in
// an imperial unit and read again is the same.
func TestShow(t *testing.T) {
	for _, tt := range []struct {
		kind Kind
		unit string
	}{{Speed, "km/h"}, {Distance, "km"}, {Length, "mm"}, {Distance, "m"}, {Mass, "kg"}, {Torque, "N.m"}, {Speed, "m/s"}} {
		one, err := tt.kind.Parse("1" + tt.unit)
		if err != nil {
			t.Fatal(err)
		}
		unit, factor := Imperial.Show(tt.unit)
		other, err := tt.kind.Parse("1" + unit)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(other*factor/one-1) > 1e-15 {
			t.Errorf("1 %s = %v %s = %v, want %v in SI", tt.unit, factor, unit, other*factor, one)
		}
	}
	if unit, factor := Imperial.Show("rpm"); unit != "rpm" || factor != 1 {
		t.Errorf("rpm is shown as %v %s", factor, unit)
	}
	if unit, factor := Metric.Show("km/h"); unit != "km/h" || factor != 1 {
		t.Errorf("km/h is shown as %v %s", factor, unit)
	}
	// 4.4482216152605 N: NIST SP 811, appendix B.
	if _, factor := Imperial.Show("N"); math.Abs(factor*4.4482216152605-1) > 1e-15 {
		t.Errorf("1 N = %v lbf", factor)
	}
}

func TestSystemNamed(t *testing.T) {
	if s, err := SystemNamed("imperial"); err != nil || s != Imperial {
		t.Errorf("imperial = %v, %v", s, err)
	}
	if _, err := SystemNamed("us"); err == nil {
		t.Error("us: want an error")
	}
}

// TestEveryUnit reads every name of every unit, alone and as a case variant.
func TestEveryUnit(t *testing.T) {
	for _, k := range kinds {
		for _, u := range k.of.Units {
			want, err := k.Parse("2" + u.Names[0])
			if err != nil || want == 2 && u.Names[0] == "km" {
				t.Errorf("2 %s = %v, %v", u.Names[0], want, err)
			}
			for _, name := range u.Names {
				for _, text := range []string{"2" + name, "2 " + name, "2" + strings.ToUpper(name)} {
					if got, err := k.Parse(text); err != nil || got != want {
						t.Errorf("%s = %v, %v, want %v", text, got, err, want)
					}
				}
			}
		}
	}
}

func TestParseReadsWhatIsPrinted(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(-1e6, 1e6).Draw(t, "x")
		text := formatShortest(x) + "m/s"
		got, err := Speed.Parse(text)
		if err != nil || got != x {
			t.Fatalf("%s = %v, %v, want %v", text, got, err, x)
		}
	})
}
