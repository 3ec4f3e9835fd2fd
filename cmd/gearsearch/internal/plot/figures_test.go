package plot

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image/color"
	"image/png"
	"math"
	"strings"
	"sync"
	"testing"

	"gearsearch/catalog"
	"gearsearch/cmd/gearsearch/internal/cloud"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
	"gearsearch/search"
)

// ranking is the demo's ranking of one brief, made once.
var ranking = sync.OnceValues(func() (*search.Result, error) { return rank("lastmile", 200) })

func rank(name string, top int) (*search.Result, error) {
	c, err := catalog.Demo()
	if err != nil {
		return nil, err
	}
	src, _ := catalog.DemoBrief(name)
	brief, err := constraints.ReadBrief(src)
	if err != nil {
		return nil, err
	}
	p, err := constraints.NewProblem(c, brief)
	if err != nil {
		return nil, err
	}
	return search.Rank(context.Background(), p, search.Options{Top: top})
}

// subject is the build on belts at a place, from 0.
func subject(t testing.TB, at int) Subject {
	t.Helper()
	r, err := ranking()
	if err != nil {
		t.Fatal(err)
	}
	return onBelts(t, r, at)
}

// onBelts is a ranking's build on belts at a place, from 0.
func onBelts(t testing.TB, r *search.Result, at int) Subject {
	t.Helper()
	belted := 0
	for s := range r.Builds() {
		if s.Build.Drive.Gear != nil {
			continue
		}
		if belted == at {
			return Subject{Build: s.Build}
		}
		belted++
	}
	t.Fatalf("only %d builds on belts", belted)
	return Subject{}
}

// problemOf puts a brief to the demo's catalog.
func problemOf(t testing.TB, brief *constraints.Brief) *constraints.Problem {
	t.Helper()
	c, err := catalog.Demo()
	if err != nil {
		t.Fatal(err)
	}
	p, err := constraints.NewProblem(c, brief)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// build makes a build of any parts of the demo, by their places in the lists.
func build(t testing.TB, p *constraints.Problem, battery, controller, motor, drive, wheel int) *constraints.Build {
	t.Helper()
	b := &constraints.Build{Problem: p}
	b.Electrify(p.Batteries[battery%len(p.Batteries)], p.Controllers[controller%len(p.Controllers)], p.Motors[motor%len(p.Motors)], 0)
	b.Roll(p.Drives[drive%len(p.Drives)], p.Wheels[wheel%len(p.Wheels)])
	return b
}

// single are the figures that need nothing but a build.
var single = func() map[string]func(Subject) (*Figure, error) {
	out := map[string]func(Subject) (*Figure, error){}
	for _, k := range Kinds() {
		out[k.Name] = func(s Subject) (*Figure, error) { return k.Draw(s, false) }
	}
	out["plane"] = func(s Subject) (*Figure, error) {
		x, _ := constraints.FigureNamed("price")
		y, _ := constraints.FigureNamed("climb_limit_pct")
		c := cloud.New(x, y)
		c.Add(s.Build)
		return Plane(c, "one", "EUR", s.System, Named{"No. 1", s.Build})
	}
	return out
}()

// expected are errors that say that there is nothing to draw.
func expected(err error) bool {
	return errors.Is(err, ErrThrust) || errors.Is(err, ErrNoHill) || errors.Is(err, ErrHeat) || errors.Is(err, ErrStop) || errors.Is(err, ErrNoCruise) || errors.Is(err, ErrCruise) || errors.Is(err, errStands) || errors.Is(err, ErrNoTeeth) || errors.Is(err, ErrNoRoute) || errors.Is(err, ErrRideCapacity) || errors.Is(err, ErrRideCutoff)
}

// TestWithinTheFrame draws all kinds of builds, good and bad, and holds every
// text and line inside the frame.
func TestWithinTheFrame(t *testing.T) {
	asking := constraints.DefaultBrief()
	asking.Target.TopSpeed, asking.Target.ClimbGrade, asking.Target.Range = 9, 0.2, 20e3
	asking.Target.LaunchSpeed, asking.Target.LaunchTime, asking.Limit.ERPMCeiling = 5, 2, 40000
	asking.Target.ClimbLength, asking.Target.Stop = 800, 12
	asking.Target.Charge = constraints.Charge{Volts: 3.9}
	asking.Way = demoRoute(t, "harbour")
	drawn := map[string]int{}
	builds := 14
	if testing.Short() {
		builds = 3
	}
	for n, brief := range []*constraints.Brief{constraints.DefaultBrief(), asking} {
		p := problemOf(t, brief)
		for i := range builds {
			s := Subject{build(t, p, i, i*5+n, i*7, i*131+n*len(p.Drives)/2, i*3), quantity.System(i % 2)}
			for kind, make := range single {
				if kind == "teeth" && i > 2 {
					continue
				}
				f, err := make(s)
				if err != nil {
					if !expected(err) && kind != "plane" {
						t.Errorf("%s of %s: %v", kind, s.Name(), err)
					}
					continue
				}
				drawn[kind]++
				inFrame(t, kind+" of "+s.Name(), f)
				inFrame(t, "narrow "+kind+" of "+s.Name(), f.Within(narrowest))
			}
		}
	}
	for kind := range single {
		if drawn[kind] == 0 {
			t.Errorf("no %s was drawn", kind)
		}
	}
}

func inFrame(t *testing.T, what string, f *Figure) (inline *drawing) {
	t.Helper()
	var file bytes.Buffer
	if err := f.WriteSVG(&file); err != nil {
		t.Fatal(err)
	}
	if f.Summary == "" || strings.Contains(f.Summary, "NaN") {
		t.Errorf("%s: summary %q", what, f.Summary)
	}
	for form, svg := range map[string]string{"file": file.String(), "inline": f.Inline()} {
		d := read(t, svg)
		if form == "inline" {
			inline = d
		}
		const slack = 0.6
		for _, e := range d.texts {
			if left, top, right, bottom := e.box(); e.turned || left < -slack || top < -slack || right > d.width+slack || bottom > d.height+slack {
				t.Errorf("%s, %s: %q at %.1f,%.1f is out of the frame of %g × %g", what, form, e.text, e.x, e.y, d.width, d.height)
			}
		}
		for _, p := range d.paths {
			for _, q := range p.points {
				if q[0] < -slack || q[0] > d.width+slack || q[1] < -slack || q[1] > d.height+slack {
					t.Fatalf("%s, %s: a line at %v is out of the frame", what, form, q)
				}
			}
		}
		if form == "inline" && (d.attributes["style"] || d.elements["style"]) {
			t.Errorf("%s: a style in a page", what)
		}
	}
	return inline
}

// TestNamesDoNotCover: no text lies over another.
func TestNamesDoNotCover(t *testing.T) {
	r, err := rank("harbour", 200)
	if err != nil {
		t.Fatal(err)
	}
	for at := range 16 {
		s := subject(t, at)
		if at >= 12 {
			s = onBelts(t, r, at-12)
		}
		for kind, make := range single {
			f, err := make(s)
			if err != nil {
				if !expected(err) {
					t.Errorf("%s: %v", kind, err)
				}
				continue
			}
			for _, pair := range covering(read(t, f.Inline())) {
				t.Errorf("%s of %s: %q and %q cover each other", kind, s.Name(), pair[0], pair[1])
			}
		}
	}
}

// covering are the pairs of texts of a drawing that cover each other.
func covering(d *drawing) [][2]string {
	var out [][2]string
	for i, a := range d.texts {
		for _, b := range d.texts[:i] {
			al, at, ar, ab := a.box()
			bl, bt, br, bb := b.box()
			if al < br && bl < ar && at < bb && bt < ab {
				out = append(out, [2]string{a.text, b.text})
			}
		}
	}
	return out
}

// TestSaysWhatItShows: units stand on the axes and curves carry their names.
func TestSaysWhatItShows(t *testing.T) {
	r, err := rank("harbour", 200)
	if err != nil {
		t.Fatal(err)
	}
	s := onBelts(t, r, 0)
	imperial := Subject{s.Build, quantity.Imperial}
	rides := onRoute(t, s, "harbour")
	seen := map[string]bool{}
	for _, tt := range []struct {
		kind string
		of   Subject
		want []string
	}{
		{"thrust", s, []string{"speed, km/h", "thrust of all driven wheels, N", "full ", "nominal ", "low ", "load on the flat", "load on 18 %", "limited by lift", "front axle lifts from ", "limited by pack current", "limited by volts", "top 33.9 km/h", "asked for: 15.0 km/h"}},
		{"thrust", imperial, []string{"speed, mph", "thrust of all driven wheels, lbf", "top 21.1 mph"}},
		{"climb", s, []string{"speed, km/h", "steepest grade, %", "full ", "nominal ", "low ", "asked for: 18 %", "44.1 %"}},
		{"heat", s, []string{"way up the hill, m", "temperature, °C", "winding", "rest of the motor", "rise 40 % more", "rise 40 % less", "limit: 120 °C"}},
		{"heat", imperial, []string{"way up the hill, ft", "temperature, °F", "limit: 248 °F"}},
		{"stop", s, []string{"distance, m", "speed, km/h", "full: takes nothing; rolls out in ", "90 %: ", "half: ", "limited by what the pack takes", "asked for: 15.0 m"}},
		{"stop", imperial, []string{"distance, ft", "speed, mph", "full: takes nothing; rolls out in "}},
		{"launch", s, []string{"time, s", "speed, km/h", "full ", "asked for: 2 s", "1.19 s"}},
		{"cruise", s, []string{"cruise speed, km/h", "energy, Wh/km", "range, km", "51.4 km", "15.1 Wh/km", "asked for: 28.0 km"}},
		{"route", rides, []string{"height, m", "stops", "speed, km/h", "wanted and ridden", "charge left, % of the usable", "reserve: 10 %", "winding, °C (good to ± 40 % of its rise)", "limit: 120 °C", "distance, km"}},
		{"route", Subject{rides.Build, quantity.Imperial}, []string{"height, ft", "speed, mph", "winding, °F", "limit: 248 °F", "distance, mi"}},
		{"stops", s, []string{"stops, /km", "energy, Wh/km", "range, km", "51.4 km", "15.1 Wh/km", "asked for: 28.0 km"}},
		{"stops", imperial, []string{"stops, /mi", "energy, Wh/mi", "range, mi"}},
		{"cruise", imperial, []string{"cruise speed, mph", "energy, Wh/mi", "range, mi"}},
		{"sensitivity", s, []string{"top speed, km/h", "climb margin, % points", "5 % less", "5 % more", "motor kv", "No effect: "}},
		{"teeth", s, []string{"motor teeth", "3.38", "35.8", "hub"}},
		{"layout", s, []string{"quay-97", "ov-63m-145", "20:62", "17.3 mm, 15.0 mm asked", "48.2 mm, 15.0 mm asked", "2 × ov-63m-145: 160.0 mm of 165.0 mm"}},
		{"layout", imperial, []string{"0.68 in, 0.59 in asked", "6.30 in of 6.50 in"}},
		{"plane", s, []string{"price, EUR (less is better)", "climb limit, % (more is better)", "No. 1"}},
	} {
		f, err := single[tt.kind](tt.of)
		if err != nil {
			t.Fatal(err)
		}
		seen[tt.kind] = true
		d := read(t, f.Inline())
		for _, want := range tt.want {
			if !d.has(want) {
				t.Errorf("%s does not say %q", tt.kind, want)
			}
		}
	}
	for kind := range single {
		if !seen[kind] {
			t.Errorf("no line reads the drawing %s", kind)
		}
	}
}

// TestPNG: a PNG is transparent around the drawing, and nothing runs over its
// edge.
func TestPNG(t *testing.T) {
	r, err := rank("harbour", 200)
	if err != nil {
		t.Fatal(err)
	}
	for kind, make := range single {
		f, err := make(onRoute(t, onBelts(t, r, 0), "harbour"))
		if err != nil {
			t.Fatal(err)
		}
		var file bytes.Buffer
		if err := f.WritePNG(&file); err != nil {
			t.Fatal(err)
		}
		img, err := png.Decode(&file)
		if err != nil {
			t.Fatal(err)
		}
		w, h := f.Size()
		if size := img.Bounds().Size(); math.Abs(float64(size.X)-w*pngScale) > 1 || math.Abs(float64(size.Y)-(h+titleHeight)*pngScale) > 1 {
			t.Errorf("%s: %v for %g × %g", kind, size, w, h)
		}
		edge, inside := 0, 0
		b := img.Bounds()
		for x := b.Min.X; x < b.Max.X; x++ {
			for y := b.Min.Y; y < b.Max.Y; y++ {
				if _, _, _, a := img.At(x, y).RGBA(); a > 0 {
					inside++
					if x == b.Min.X || y == b.Min.Y || x == b.Max.X-1 || y == b.Max.Y-1 {
						edge++
					}
				}
			}
		}
		if edge > 0 || inside < 2000 {
			t.Errorf("%s: %d dots on the edge, %d in all", kind, edge, inside)
		}
	}
}

// TestHues holds the colours of curves to a contrast of 3 to 1 on a white and
// on a dark page, which WCAG 2.2 (1.4.11) asks of graphics, and apart from each
// other by more than colour.
func TestHues(t *testing.T) {
	luminance := func(c color.NRGBA) float64 { // WCAG 2.2, relative luminance
		linear := func(v uint8) float64 {
			x := float64(v) / 255
			if x <= 0.04045 {
				return x / 12.92
			}
			return math.Pow((x+0.055)/1.055, 2.4)
		}
		return 0.2126*linear(c.R) + 0.7152*linear(c.G) + 0.0722*linear(c.B)
	}
	contrast := func(a, b color.NRGBA) float64 {
		x, y := luminance(a), luminance(b)
		return (max(x, y) + 0.05) / (min(x, y) + 0.05)
	}
	white, dark := color.NRGBA{255, 255, 255, 255}, color.NRGBA{0x17, 0x19, 0x1c, 255}
	seen := map[string]bool{}
	for i, h := range hues {
		for _, page := range []color.NRGBA{white, dark} {
			if c := contrast(h, page); c < 3 {
				t.Errorf("hue %d has a contrast of %.2f on %v", i, c, page)
			}
		}
		seen[fmt.Sprint(strokeOf(i).dash)] = true
	}
	if len(seen) != len(hues) {
		t.Error("two hues have one pattern of dashes")
	}
}

func TestTicks(t *testing.T) {
	for _, tt := range []struct {
		low, high float64
		want      string
	}{
		{0, 44, "0 10 20 30 40"},
		{0, 1, "0.0 0.2 0.4 0.6 0.8 1.0"},
		{0, 500, "0 100 200 300 400 500"},
		{-3, 3, "-3 -2 -1 0 1 2 3"},
		{900, 1350, "900 1\u202f000 1\u202f100 1\u202f200 1\u202f300"},
		{0, 0.03, "0.000 0.005 0.010 0.015 0.020 0.025 0.030"},
		{5, 5, ""},
	} {
		var got []string
		for _, tick := range (ticks{}).Ticks(tt.low, tt.high) {
			got = append(got, tick.Label)
		}
		if strings.Join(got, " ") != tt.want {
			t.Errorf("from %g to %g: %q, want %q", tt.low, tt.high, strings.Join(got, " "), tt.want)
		}
	}
	for x, want := range map[float64]float64{101: 120, 0.3: 0.3, 0: 1, 47: 50} {
		if got := roundUp(x); math.Abs(got-want) > 1e-12 {
			t.Errorf("%g rounded up is %g, want %g", x, got, want)
		}
	}
}
