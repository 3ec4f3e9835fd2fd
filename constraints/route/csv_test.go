package route

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"gearsearch/catalog/field"
)

// grounds are surfaces as a brief may name them.
var grounds = []string{"asphalt", "rough", "gravel", "grass"}

func read(text string) (*Route, error) {
	return ReadCSV(field.Source{Name: "way.csv", Data: []byte(text)}, grounds)
}

func TestReadCSV(t *testing.T) {
	nan, long := math.NaN(), 50.0001
	leg := func(length, rise float64) Leg { return Leg{Length: length, Rise: rise, Speed: nan} }
	for _, c := range []struct {
		why, text string
		height    float64
		legs      []Leg
	}{
		{"the least", "distance_m,height_m\n0,10\n20,11\n", 10, []Leg{leg(20, 1)}},
		{"as many equal legs as keep each within 25 m", "distance_m,height_m\n0,0\n60,3\n", 0, []Leg{leg(20, 1), leg(20, 1), leg(20, 1)}},
		{"just 25 m is one leg", "distance_m,height_m\n0,0\n25,0\n50,-1\n", 0, []Leg{leg(25, 0), leg(25, -1)}},
		{"a hair above 50 m is two legs", "distance_m,height_m\n0,0\n50.00000001,0\n", 0, []Leg{leg(25.000000005, 0), leg(25.000000005, 0)}},
		{"more than a hair is three", "distance_m,height_m\n0,0\n50.0001,0\n", 0, []Leg{leg(long/3, 0), leg(long/3, 0), leg(long/3, 0)}},
		{"the first row need not be at 0", "distance_m,height_m\n1200,40\n1220,40\n", 40, []Leg{leg(20, 0)}},
		{"a difference has the decimals that are written", "distance_m,height_m\n123456.1,300.1\n123466.3,300.4\n", 300.1, []Leg{leg(10.2, 0.3)}},
		{
			"speed and surface hold until another row says otherwise", "distance_m,height_m,speed_kmh,surface\n0,0,,\n10,0,18,gravel\n20,0,,\n30,0,36,asphalt\n40,0,1,grass\n", 0,
			[]Leg{leg(10, 0), {10, 0, 5, "gravel", false}, {10, 0, 5, "gravel", false}, {10, 0, 10, "asphalt", false}},
		},
		{
			"a stop is at the end of what leads to its row, and none at the first", "distance_m,height_m,stop\n0,0,1\n30,0,yes\n40,0,\n50,0,X\n60,0,no\n70,0,True\n80,0,0\n", 0,
			[]Leg{leg(15, 0), {15, 0, nan, "", true}, leg(10, 0), {10, 0, nan, "", true}, leg(10, 0), {10, 0, nan, "", true}, leg(10, 0)},
		},
		{"units in cells, columns in any order", "speed_kmh,height_m,distance_m\n10 m/s,0,0\n,10ft,0.02km\n", 0, []Leg{{20, 3.048, 10, "", false}}},
		{"as a spreadsheet writes it where the comma is the decimal mark", "\xef\xbb\xbfdistance_m;height_m;stop\r\n0;10,5;\r\n12,5;11;x\r\n\r\n;;\r\n", 10.5, []Leg{{12.5, 0.5, nan, "", true}}},
		{"tabs", "distance_m\theight_m\n0\t1\n5\t1\n", 1, []Leg{leg(5, 0)}},
		{"words in capitals", "distance_m,height_m,surface\n0,0,GRAVEL\n5,0,\n", 0, []Leg{{5, 0, nan, "gravel", false}}},
	} {
		got, err := read(c.text)
		if err != nil {
			t.Errorf("%s: %v", c.why, err)
			continue
		}
		if d := cmp.Diff(&Route{"way.csv", c.height, c.legs}, got, cmpopts.EquateNaNs()); d != "" {
			t.Errorf("%s (-want +got):\n%s", c.why, d)
		}
	}
}

func TestReadCSVProblems(t *testing.T) {
	for _, c := range []struct {
		why, text string
		want      []string // line:column message | hint
	}{
		{"nothing", "", []string{"1:1 file is empty | the first row names the keys, separated by commas"}},
		{"no rows", "distance_m,height_m\n", []string{"1:1 a route needs two rows, this has none | write a row for the start and one for the end"}},
		{"one row", "distance_m,height_m\n0,5\n", []string{"1:1 a route needs two rows, this has one | write a row for the start and one for the end"}},
		{"no heights", "distance_m\n0\n5\n", []string{"1:1 a route has no column height_m | above the sea, in m"}},
		{"a height left out", "distance_m,height_m\n0,1\n5,\n9,2\n", []string{"3:1 a route has no height_m | above the sea, in m"}},
		{"columns of other names", "Distance_m,elevation_m,pulse\n0,1,99\n5,2,99\n", []string{
			`1:1 unknown key "Distance_m" in a route | keys are lower case: distance_m`,
			`1:12 unknown key "elevation_m" in a route | did you mean height_m?`,
			`1:24 unknown key "pulse" in a route | the columns are distance_m, height_m, speed_kmh, surface, stop`,
		}},
		{"no header", "0,1\n5,2\n", []string{
			`1:1 unknown key "0" in a route | the first row names the columns: distance_m,height_m`,
			"1:1 a route has no column distance_m | from the start along the road, in m",
			"1:1 a route has no column height_m | above the sea, in m",
			`1:3 unknown key "1" in a route | the first row names the columns: distance_m,height_m`,
			"1:1 a route needs two rows, this has one | write a row for the start and one for the end",
		}},
		{"distances that stay and fall, all of them", "distance_m,height_m\n0,0\n9,0\n9,0\n4,0\n5,0\n", []string{
			"4:1 distance_m is 9, must be above 9 of the row before | distances count from the start of the route, and no two rows are at one place",
			"5:1 distance_m is 4, must be above 9 of the row before | distances count from the start of the route, and no two rows are at one place",
		}},
		{"numbers out of range", "distance_m,height_m,speed_kmh\n-1,9001,0\n1000001,-501,201\n", []string{
			"2:1 distance_m is -1, must be 0 to 1000000 m",
			"2:4 height_m is 9001, must be -500 to 9000 m | 9.001 would fit: is the unit m?",
			"2:9 speed_kmh is 0, must be above 0, at most 200 km/h",
			"3:1 distance_m is 1000001, must be 0 to 1000000 m | 1000.001 would fit: is the unit m?",
			"3:9 height_m is -501, must be -500 to 9000 m",
			"3:14 speed_kmh is 201, must be above 0, at most 200 km/h",
		}},
		{"words that are none", "distance_m,height_m,surface,stop\n0,0,gravl,maybe\n5,0,,\n", []string{
			`2:5 surface is "gravl", must be "asphalt", "rough", "gravel" or "grass" | did you mean "gravel"?`,
			`2:11 stop is "maybe", must be "1", "true", "yes", "x", "0", "false" or "no"`,
		}},
		{"a GPX file", "<?xml version='1.0'?>\n<gpx></gpx>\n", []string{
			`1:1 unknown key "<?xml version='1.0'?>" in a route | this looks like a GPX file: let its name end in .gpx`,
		}},
	} {
		_, err := read(c.text)
		var problems field.Problems
		if !errors.As(err, &problems) {
			t.Errorf("%s: %v", c.why, err)
			continue
		}
		var got []string
		for _, p := range problems {
			s := fmt.Sprintf("%d:%d %s", p.Line, p.Column, p.Message)
			if p.Hint != "" {
				s += " | " + p.Hint
			}
			got = append(got, s)
		}
		if c.why == "a GPX file" {
			got = got[:1]
		}
		less := cmpopts.SortSlices(func(a, b string) bool { return a < b })
		if d := cmp.Diff(c.want, got, less); d != "" {
			t.Errorf("%s (-want +got):\n%s", c.why, d)
		}
	}
}

// TestTooManyLegs: rows that nobody can ride are refused, once, at the first of them.
func TestTooManyLegs(t *testing.T) {
	var text strings.Builder
	text.WriteString("distance_m,height_m\n")
	for i := range MaxLegs + 3 {
		fmt.Fprintf(&text, "%d,0\n", i)
	}
	_, err := read(text.String())
	var problems field.Problems
	if !errors.As(err, &problems) || len(problems) != 1 || problems[0].Line != MaxLegs+3 || problems[0].Message != "the route has more than 100000 legs up to here" {
		t.Errorf("%v", err)
	}
	least, _, _ := strings.Cut(text.String(), fmt.Sprintf("\n%d,", MaxLegs+1))
	if way, err := read(least + "\n"); err != nil || len(way.Legs) != MaxLegs {
		t.Errorf("the most legs: %v", err)
	}
}

// drawRoute draws a way of any numbers: speeds are those that a file can give.
func drawRoute(r *rapid.T) *Route {
	// + 0 makes 0 of -0, which no file can tell.
	way := &Route{Name: "way.csv", Height: rapid.Float64Range(-400, 1000).Draw(r, "height") + 0}
	speed, surface := math.NaN(), ""
	total, height := 0.0, way.Height
	for range rapid.IntRange(1, 60).Draw(r, "legs") {
		if rapid.IntRange(0, 4).Draw(r, "change") == 0 {
			speed = rapid.Float64Range(0.1, 200).Draw(r, "speed") / kmh
		}
		if rapid.IntRange(0, 4).Draw(r, "ground") == 0 {
			surface = rapid.SampledFrom(grounds).Draw(r, "surface")
		}
		l := Leg{Length: rapid.Float64Range(1e-6, Grid).Draw(r, "length"), Rise: rapid.Float64Range(-5, 5).Draw(r, "rise") + 0, Speed: speed, Surface: surface, Stop: rapid.Bool().Draw(r, "stop")}
		total, height = total+l.Length, height+l.Rise
		way.Legs = append(way.Legs, l)
	}
	if total > MaxLength || height < MinHeight || height > MaxHeight {
		r.Fatalf("the test draws what is no way: %v m, up to %v m", total, height)
	}
	return way
}

// TestRoundTrip: a way that is written reads as the same, bit for bit.
func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		way := drawRoute(r)
		var out bytes.Buffer
		if err := WriteCSV(&out, way); err != nil {
			r.Fatal(err)
		}
		again, err := read(out.String())
		if err != nil {
			r.Fatalf("%v\n%s", err, out.String())
		}
		if d := cmp.Diff(way, again, sameBits()); d != "" {
			r.Fatalf("written and read (-want +got):\n%s\n%s", d, out.String())
		}
	})
}

// sameBits compares numbers by their bits, but that one NaN is as good as another.
func sameBits() cmp.Option {
	return cmp.Comparer(func(a, b float64) bool {
		return math.Float64bits(a) == math.Float64bits(b) || math.IsNaN(a) && math.IsNaN(b)
	})
}

func TestWriteCSV(t *testing.T) {
	way, err := read("distance_m,height_m,speed_kmh,surface,stop\n100,12.5,,rough,\n170,13,20,,1\n180,12,,,\n")
	if err != nil {
		t.Fatal(err)
	}
	var out strings.Builder
	if err := WriteCSV(&out, way); err != nil {
		t.Fatal(err)
	}
	const want = `distance_m,height_m,speed_kmh,surface,stop
0,12.5,,rough,
23.333333333333332,12.66666666666666666,,,
46.666666666666664,12.83333333333333332,,,
69.999999999999996,12.99999999999999998,20,,1
79.999999999999996,11.99999999999999998,,,
`
	if d := cmp.Diff(want, out.String()); d != "" {
		t.Errorf("written (-want +got):\n%s", d)
	}
	flat := &Route{Legs: []Leg{{Length: 5, Speed: math.NaN()}}}
	out.Reset()
	if err := WriteCSV(&out, flat); err != nil || out.String() != "distance_m,height_m\n0,0\n5,0\n" {
		t.Errorf("%v\n%s, want no column that says nothing", err, out.String())
	}
	for why, legs := range map[string][]Leg{
		"a speed that ends":   {{Length: 1, Speed: 4}, {Length: 1, Speed: math.NaN()}},
		"a surface that ends": {{Length: 1, Speed: 4, Surface: "gravel"}, {Length: 1, Speed: 4}},
	} {
		if err := WriteCSV(&out, &Route{Legs: legs}); !errors.Is(err, errEnds) {
			t.Errorf("%s: %v", why, err)
		}
	}
}
