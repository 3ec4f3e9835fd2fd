package vary

import (
	"math"
	"strings"
	"testing"
	"unicode"

	"gearsearch/constraints"
)

// FuzzChange reads any text as the values of any flag: what is accepted makes a
// variant of finite numbers in the ranges of catalogs, reads the same when it is
// written again, and is listed once; what is refused gets a message that can be
// printed.
func FuzzChange(f *testing.F) {
	for _, text := range []string{
		"150,180", "11", "14:48", "14:48,16:54", "3.2,4.4", "100mm,120mm", "4in", "1,2,4", "", ",", ":", "14:", ":48", "14:48:3", "-1:5", "0:0",
		"1e999", "NaN", "0x10", "3,", " 150 , 180 ", "14 : 48", "300:6", "6:300", "\x1b[2J", "9223372036854775808", "１４:４８",
	} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, flag := range Flags() {
			a, err := flag.ReadAxis(text)
			if err != nil {
				for _, r := range err.Error() {
					if unicode.IsControl(r) && r != '\n' {
						t.Fatalf("--%s: the message of %q has the control character %q", flag.Name, text, r)
					}
				}
				continue
			}
			seen := map[any]bool{}
			for _, c := range a.Changes {
				if seen[c.Value] {
					t.Fatalf("--%s %q: %v twice", flag.Name, text, c.Value)
				}
				seen[c.Value] = true
				var v constraints.Variant
				c.set(&v)
				for _, x := range []float64{v.KV, v.Ratio, v.Diameter} {
					if math.IsNaN(x) || math.IsInf(x, 0) || x < 0 || x > 10_000 {
						t.Fatalf("--%s %q: %+v", flag.Name, text, v)
					}
				}
				if v.Small > 0 != (v.Large > 0) || v.Series < 0 || v.Series > 60 || v.Motors < 0 || v.Motors > 4 || v.Large > 300 {
					t.Fatalf("--%s %q: %+v", flag.Name, text, v)
				}
				if teeth, ok := c.Value.(string); ok {
					again, err := flag.ReadAxis(teeth)
					if err != nil || again.Changes[0].Value != teeth {
						t.Fatalf("--%s %q: %s is read again as %v, %v", flag.Name, text, teeth, again, err)
					}
				}
			}
		}
	})
}

// FuzzPart takes any text for what is known of a part: what is accepted makes a
// catalog, and what is refused gets a message that names the flag.
func FuzzPart(f *testing.F) {
	for _, text := range []string{
		"motor.resistance_mohm=60", "motor.resistance_mohm=60mohm", "motor.sensored=true", "battery.capacity_ah=5.", "wheel.tyre=rubber", "motor.id=x",
		"wheel.hub=['a', 'b']", "motor.note=\"]]\n[[motor]]", "battery.cell=x", "motor.=1", ".=", "=", "gear_drive.efficiency=0.9", "motor.\"=\"", "wheel.note=\\u0000",
	} {
		f.Add(text)
	}
	start := constraints.Variant{KV: 150, Series: 11, Small: 14, Large: 48, Diameter: 0.12}
	f.Fuzz(func(t *testing.T, text string) {
		b := &Bare{start: start}
		if err := b.know(text); err != nil {
			if !strings.Contains(err.Error(), "--part ") {
				t.Fatalf("%q: %v", text, err)
			}
			return
		}
		c, err := b.Catalog()
		if err != nil || len(c.Motors) != 1 || len(c.Batteries) != 1 || len(c.GearDrives) != 1 || len(c.Wheels) != 1 || len(c.Controllers) != 1 {
			t.Fatalf("%q: %v", text, err)
		}
		if c.Motors[0].KV != 150 || c.Batteries[0].Series != 11 || c.Wheels[0].Diameter != 0.12 {
			t.Fatalf("%q: changes what other flags give", text)
		}
	})
}
