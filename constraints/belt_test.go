package constraints

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"gearsearch/catalog"
)

// around finds the centre distance in mm at which a belt lies round two
// pulleys, by bisection of the belt length; NaN when it is too short.
func around(pitch float64, belt, a, b int) float64 {
	small, large := float64(min(a, b))*pitch/math.Pi, float64(max(a, b))*pitch/math.Pi
	length := func(c float64) float64 {
		phi := math.Asin((large - small) / (2 * c))
		return 2*c*math.Cos(phi) + math.Pi*(large+small)/2 + phi*(large-small)
	}
	want := float64(belt) * pitch
	low, high := (large-small)/2, want
	if length(low*(1+1e-15)+1e-12) > want {
		return nan
	}
	for range 200 {
		if middle := (low + high) / 2; length(middle) < want {
			low = middle
		} else {
			high = middle
		}
	}
	return low
}

// shelfBelt is a belt as the test draws it.
type shelfBelt struct {
	id, profile string
	teeth       int
	width       float64 // mm; NaN: not given
}

// TestBeltChoice: the belt is the one that a plain reading of the rule picks
// out of the shelf: of the profile, no wider than the narrower pulley (unknown
// widths fit), with a centre distance inside the mount's range; the widest of
// those (unknown last), then the nearest to the middle, then the lower id.
func TestBeltChoice(t *testing.T) {
	chosen := 0
	rapid.Check(t, func(r *rapid.T) {
		widths := []float64{nan, 9, 12, 15, 20}
		a, b := rapid.IntRange(9, 24).Draw(r, "motor teeth"), rapid.IntRange(12, 60).Draw(r, "wheel teeth")
		wa, wb := rapid.SampledFrom(widths).Draw(r, "motor width"), rapid.SampledFrom(widths).Draw(r, "wheel width")
		low := rapid.IntRange(40, 110).Draw(r, "min")
		high := low + rapid.IntRange(0, 60).Draw(r, "range")
		idler := rapid.Bool().Draw(r, "idler")

		k := newKit(onBelts, "-belt", fmt.Sprintf("small.teeth = %d", a), fmt.Sprintf("large.teeth = %d", b),
			fmt.Sprintf("mount.centre_min_mm = %d", low), fmt.Sprintf("mount.centre_max_mm = %d", high), fmt.Sprintf("mount.idler = %v", idler))
		for part, w := range map[string]float64{"small": wa, "large": wb} {
			k.Change("-" + part + ".width_mm")
			if !math.IsNaN(w) {
				k.Change(fmt.Sprintf("%s.width_mm = %v", part, w))
			}
		}
		var shelf []shelfBelt
		for i := range rapid.IntRange(1, 8).Draw(r, "belts") {
			belt := shelfBelt{
				id: fmt.Sprintf("belt-%d", i), profile: rapid.SampledFrom([]string{"htd-5m", "htd-5m", "htd-5m", "gt-5"}).Draw(r, "profile"),
				teeth: rapid.IntRange(45, 90).Draw(r, "teeth"), width: rapid.SampledFrom(widths).Draw(r, "width"),
			}
			if len(shelf) > 0 && rapid.Bool().Draw(r, "like the last") {
				last := shelf[len(shelf)-1]
				belt.teeth, belt.width = last.teeth, last.width
			}
			shelf = append(shelf, belt)
			text := fmt.Sprintf("[[belt]]\nid = %q\nprofile = %q\nteeth = %d\n", belt.id, belt.profile, belt.teeth)
			if !math.IsNaN(belt.width) {
				text += fmt.Sprintf("width_mm = %v\n", belt.width)
			}
			k.Change(text)
		}
		want := plainChoice(shelf, a, b, wa, wb, float64(low), float64(high))
		d := problemOf(t, k).Drives[0]
		if want == nil {
			if d.belt != Fail || d.Belt != nil || !math.IsNaN(d.Centre) || d.Mesh != -1 {
				r.Fatalf("no belt fits, got %v %+v", d.belt, d.Belt)
			}
			return
		}
		chosen++
		if d.belt != Pass || d.Belt == nil || d.Belt.ID != want.id {
			r.Fatalf("got %v %+v, want %s", d.belt, d.Belt, want.id)
		}
		c := around(5, want.teeth, a, b)
		if !near(d.Centre*mm, c, 1e-9) {
			r.Fatalf("centre distance %v mm, want %v", d.Centre*mm, c)
		}
		wrap := math.Pi - 2*math.Asin(math.Abs(float64(b-a))*5/math.Pi/(2*c))
		if whole := int(math.Floor(float64(min(a, b))*wrap/(2*math.Pi) + 1e-9)); d.Mesh != whole {
			r.Fatalf("%d teeth in mesh, want %d", d.Mesh, whole)
		}
	})
	if chosen == 0 && !testing.Short() {
		t.Error("no belt was ever chosen: the test does not test")
	}
}

// plainChoice is the rule read off the page; nil: no belt fits. Lengths in mm.
func plainChoice(shelf []shelfBelt, a, b int, wa, wb, low, high float64) *shelfBelt {
	narrower := math.Inf(1)
	for _, w := range []float64{wa, wb} {
		if w < narrower { // false for one that is not given
			narrower = w
		}
	}
	apart := float64(a+b)*5/(2*math.Pi) - 2*0.5715 // where the teeth touch
	var fit []shelfBelt
	for _, belt := range shelf {
		c := around(5, belt.teeth, a, b)
		if belt.profile == "htd-5m" && c >= apart*(1-1e-9) && !(belt.width > narrower) && c >= low*(1-1e-9) && c <= high*(1+1e-9) {
			fit = append(fit, belt)
		}
	}
	if fit == nil {
		return nil
	}
	width := func(x shelfBelt) float64 {
		if math.IsNaN(x.width) {
			return -1
		}
		return x.width
	}
	off := func(x shelfBelt) float64 { return math.Abs(around(5, x.teeth, a, b) - (low+high)/2) }
	best := slices.MinFunc(fit, func(x, y shelfBelt) int {
		byOff := cmp.Compare(off(x), off(y))
		if math.Abs(off(x)-off(y)) < 1e-9 {
			byOff = 0
		}
		return cmp.Or(cmp.Compare(width(y), width(x)), byOff, cmp.Compare(x.id, y.id))
	})
	return &best
}

// TestBeltTies: what decides between belts that are equal so far.
func TestBeltTies(t *testing.T) {
	c65, c75 := around(5, 65, 15, 45), around(5, 75, 15, 45)
	belt := func(id string, teeth int, width string) string {
		s := fmt.Sprintf("[[belt]]\nid = %q\nprofile = \"htd-5m\"\nteeth = %d\n", id, teeth)
		if width != "" {
			s += "width_mm = " + width + "\n"
		}
		return s
	}
	for _, c := range []struct {
		name, why string
		change    []string
		want      string
	}{
		{"wider first", "width stands before the middle", []string{belt("a", 70, "12"), belt("b", 65, "15")}, "b"},
		{"unknown width last", "9 mm are more than nobody knows", []string{belt("a", 70, ""), belt("b", 65, "9")}, "b"},
		{"unknown width alone", "fits", []string{belt("a", 70, "")}, "a"},
		{"nearer to the middle", "90 is the middle of 60 and 120: 65 teeth give 84, 75 give 110", []string{belt("a", 75, "15"), belt("b", 65, "15")}, "b"},
		{"lower id", "alike in all", []string{belt("b", 70, "15"), belt("a", 70, "15")}, "a"},
		{"a price", "what it costs is known, which of a part of a list is not", []string{belt("a", 70, "15"), belt("b", 70, "15") + "price = 12\n"}, "b"},
		{"owned", "costs nothing, which is known", []string{belt("a", 70, "15"), belt("b", 70, "15") + "owned = true\n"}, "b"},
		{"two prices", "the lower id, whatever they cost", []string{belt("b", 70, "15") + "price = 9\n", belt("a", 70, "15") + "price = 12\n"}, "a"},
		{"ids are bytes", "10 before 9", []string{belt("belt-9", 70, "15"), belt("belt-10", 70, "15")}, "belt-10"},
		{"widths within 1e-9", "equal: the nearer to the middle", []string{belt("a", 75, "12.000000009"), belt("b", 65, "12")}, "b"},
		{
			"on either side of the middle", "equally far within 1e-9: the lower id",
			[]string{belt("b", 65, "15"), belt("a", 75, "15"), at("mount.centre_min_mm", c65-5), at("mount.centre_max_mm", c75+5)},
			"a",
		},
		{
			"on either side of the middle, ids turned", "equally far within 1e-9: the lower id",
			[]string{belt("a", 65, "15"), belt("b", 75, "15"), at("mount.centre_min_mm", c65-5), at("mount.centre_max_mm", c75+5)},
			"a",
		},
	} {
		d := problem(t, onBelts, append(c.change, "-belt")...).Drives[0]
		if d.Belt == nil || d.Belt.ID != c.want {
			t.Errorf("%s: %+v, want %s: %s", c.name, d.Belt, c.want, c.why)
		}
	}
}

// TestBeltIsNotMultiplied: a drive is a pair of pulleys with each mount, or a
// gear drive; the belt follows.
func TestBeltIsNotMultiplied(t *testing.T) {
	p := problemOf(t, mixed())
	if got, want := len(p.Drives), 3*2*2+2; got != want { // motor pulleys × wheel pulleys × mounts + gear drives
		t.Errorf("%d drives, want %d", got, want)
	}
	if got, want := p.Combinations(), float64(2*3*3*2*14*2); got != want {
		t.Errorf("%v combinations, want %v", got, want)
	}
	if got, want := len(problemOf(t, mixed(`avoid.mount = ["mount", "idler-mount"]`)).Drives), 3*2+2; got != want {
		t.Errorf("%d drives without mounts, want %d", got, want)
	}
	n := 0
	eachBuild(p, func(*Build) { n++ })
	if float64(n) != p.Combinations() {
		t.Errorf("%d builds, %v combinations", n, p.Combinations())
	}
}

// TestDrivesStandInOrder: belt drives by motor pulley, wheel pulley and mount,
// then gear drives, as ids break ties.
func TestDrivesStandInOrder(t *testing.T) {
	key := func(d *Drive) [4]string {
		if d.Gear != nil {
			return [4]string{d.Gear.ID}
		}
		return [4]string{"", d.MotorPulley.ID, d.WheelPulley.ID, d.Mount.ID}
	}
	drives := problemOf(t, mixed()).Drives
	if !slices.IsSortedFunc(drives, func(a, b *Drive) int {
		x, y := key(a), key(b)
		return slices.Compare(x[:], y[:])
	}) {
		t.Error("drives are not in the order of their ids")
	}
}

// TestPulleysThatTouch: a belt does not count that puts the pulleys nearer than
// their teeth let them. Two of 30 teeth of htd-5m are 30 × 5 / π − 2 × 0.5715 =
// 46.6 mm over their teeth; 48 teeth of belt put them (48 − 30) × 5 / 2 = 45 mm
// apart, 49 teeth 47.5 mm. Where the profile does not tell, the pitch diameters
// count, 47.7 mm.
func TestPulleysThatTouch(t *testing.T) {
	own := "[[profile]]\nid = \"own\"\npitch_mm = 5\n"
	of := []string{`small.profile = "own"`, `large.profile = "own"`, `belt.profile = "own"`, own}
	for _, c := range []struct {
		teeth string
		more  []string
		want  Verdict
	}{
		{"48", nil, Fail}, {"49", nil, Pass}, {"49", of, Fail}, {"50", of, Pass},
	} {
		b := build(t, onBelts, append(c.more, "small.teeth = 30", "large.teeth = 30", "belt.teeth = "+c.teeth, "mount.centre_min_mm = 40")...)
		if r, _ := result(b, "belt"); r.Verdict != c.want {
			t.Errorf("%s teeth: %v, want %v", c.teeth, r.Verdict, c.want)
		}
	}
}

// TestContenders: belts that differ in nothing that the choice goes by are
// looked at once, as the one that would be chosen.
func TestContenders(t *testing.T) {
	round, square := &catalog.Profile{}, &catalog.Profile{}
	round.ID, square.ID = "round", "square"
	belt := func(id string, profile *catalog.Profile, teeth int, width float64) *catalog.Belt {
		b := &catalog.Belt{Profile: profile, Teeth: teeth, Width: width}
		b.ID = id
		return b
	}
	got := contenders([]*catalog.Belt{
		belt("g", round, 80, 15), belt("f", round, 60, 15), belt("e", round, 60, 15), belt("d", round, 60, 12),
		belt("c", square, 60, 15), belt("b", round, 60, nan), belt("a", round, 60, nan),
	})
	var ids []string
	for _, b := range got {
		ids = append(ids, b.ID)
	}
	if want := []string{"a", "c", "d", "e", "g"}; !slices.Equal(ids, want) {
		t.Errorf("%q, want %q", ids, want)
	}
}

// BenchmarkManyBelts prepares the drives of a catalog with nine thousand belts
// for four thousand pairs of pulleys with mounts.
func BenchmarkManyBelts(b *testing.B) {
	var doc strings.Builder
	doc.WriteString("schema = 1\n[[motor]]\nid = \"m\"\nkv = 100\n[[controller]]\nid = \"c\"\n" +
		"[[battery]]\nid = \"b\"\nseries = 10\nnominal_v = 36\nfull_v = 42\n[[wheel]]\nid = \"w\"\ndiameter_mm = 97\n")
	for i := range 20 {
		fmt.Fprintf(&doc, "[[pulley]]\nid = \"s%d\"\nside = \"motor\"\nprofile = \"htd-5m\"\nteeth = %d\n", i, 10+i)
		fmt.Fprintf(&doc, "[[pulley]]\nid = \"l%d\"\nside = \"wheel\"\nprofile = \"htd-5m\"\nteeth = %d\n", i, 30+i)
	}
	for i := range 10 {
		fmt.Fprintf(&doc, "[[mount]]\nid = \"u%d\"\ncentre_min_mm = %d\ncentre_max_mm = 110\n", i, 60+i)
	}
	for i := range 9000 {
		fmt.Fprintf(&doc, "[[belt]]\nid = \"z%d\"\nprofile = \"htd-5m\"\nteeth = %d\nwidth_mm = %d\n", i, 50+i%500, 9+i/500)
	}
	c, err := catalog.Read(catalog.Source{Name: "parts.toml", Data: []byte(doc.String())})
	if err != nil {
		b.Fatal(err)
	}
	brief := DefaultBrief()
	brief.Target.TopSpeed = 5
	for b.Loop() {
		if _, err := NewProblem(c, brief); err != nil {
			b.Fatal(err)
		}
	}
}
