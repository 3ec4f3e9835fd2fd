package leaf

import (
	"math"
	"regexp"
	"strconv"
	"testing"

	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/search"
)

// TestNamesOfTheField: a number in the field stands clear of each dot of the list
// and of each other number, under every brief of the demo.
func TestNamesOfTheField(t *testing.T) {
	number := func(s string) float64 {
		x, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
	names := 0
	for _, name := range []string{"harbour", "lastmile", "trail", "sunday"} {
		c, brief := demo(t, name)
		r := rank(t, c, brief, 20)
		x, y := FieldFigures(r.Problem)
		f := NewField(r, x, y, quantity.Metric)
		points, _, err := search.Sample(t.Context(), r.Problem, search.Options{}, 2000, f.Cloud.Of)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range points {
			f.Cloud.Put(p)
		}
		text := f.Node().String()
		var centres [][2]float64
		for _, m := range regexp.MustCompile(`<text class="named" x="([^"]+)" y="([^"]+)"`).FindAllStringSubmatch(text, -1) {
			centres = append(centres, [2]float64{number(m[1]), number(m[2]) - 4.5})
		}
		names += len(centres)
		dots := regexp.MustCompile(`cx="([^"]+)" cy="([^"]+)" r="5"`).FindAllStringSubmatch(text, -1)
		if len(dots) < len(centres) {
			t.Errorf("%s: %d names of %d dots", name, len(centres), len(dots))
		}
		const clear = 10.8 // half of a digit, and a dot; positions are rounded
		for i, at := range centres {
			for _, m := range dots {
				if math.Hypot(number(m[1])-at[0], number(m[2])-at[1]) < clear {
					t.Errorf("%s: a dot at %s, %s touches a name", name, m[1], m[2])
				}
			}
			for _, other := range centres[:i] {
				if math.Hypot(other[0]-at[0], other[1]-at[1]) < clear {
					t.Errorf("%s: two names touch", name)
				}
			}
		}
	}
	if names < 12 {
		t.Errorf("only %d names", names)
	}
}
