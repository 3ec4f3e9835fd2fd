package quantity

import (
	"math"
	"strconv"
	"strings"
	"testing"
	"unicode"
)

func formatShortest(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }

// FuzzQuantity reads any text as any kind of quantity: what is accepted is
// finite and ends in a unit that is listed, and what is refused gets a message
// that can be printed.
func FuzzQuantity(f *testing.F) {
	for _, text := range []string{
		"40km/h", "25 mph", "11m/s", "15%", "8.5deg", "38N.m", "28lbf.ft", "90kg", "198lb", "25km", "15mi",
		"97mm", "3.8in", "40", "", "1,5km", "1e3m", "1e", "-", ".", "-.e5m", "0x1p4m", "NaN m/s", "1 000 km", "\x1b[2J", "9e999kg",
	} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, k := range kinds {
			x, err := k.Parse(text)
			if err != nil {
				for _, r := range err.Error() {
					if unicode.IsControl(r) {
						t.Fatalf("message of %q has the control character %q", text, r)
					}
				}
				continue
			}
			if math.IsNaN(x) || math.IsInf(x, 0) {
				t.Fatalf("%q = %v", text, x)
			}
			ends := false
			for _, u := range k.of.Units {
				for _, name := range u.Names {
					ends = ends || strings.HasSuffix(strings.ToLower(strings.TrimSpace(text)), strings.ToLower(name))
				}
			}
			if !ends {
				t.Fatalf("%q = %v without a unit", text, x)
			}
		}
	})
}
