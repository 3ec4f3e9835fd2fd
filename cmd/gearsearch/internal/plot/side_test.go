package plot

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"gearsearch/catalog"
	"gearsearch/constraints"
)

// traced is what the drawing of a layout has, read back from it: lengths in CSS
// pixels, y downward.
type traced struct {
	tyre, drive, can circleRead
	belt             float64   // length of its pitch line
	ground           float64   // y, in the view from the side
	cans             []float64 // widths of the motors seen from behind
}

type circleRead struct{ x, y, radius float64 }

// readLayout reads a layout back.
func readLayout(t testing.TB, f *Figure) traced {
	t.Helper()
	colour := func(s stroke) string {
		if s.colour == ink {
			return "currentColor"
		}
		return fmt.Sprintf("#%02x%02x%02x", s.colour.R, s.colour.G, s.colour.B)
	}
	var out traced
	for _, p := range read(t, f.Inline()).paths {
		round := len(p.points) > 90
		switch {
		case p.stroke == colour(solid) && round:
			out.tyre = ringOf(p.points)
		case p.stroke == colour(driveLine) && round:
			out.drive = ringOf(p.points)
		case p.stroke == colour(canLine) && round:
			out.can = ringOf(p.points)
		case p.stroke == colour(beltLine) && round:
			for i := 1; i < len(p.points); i++ {
				out.belt += math.Hypot(p.points[i][0]-p.points[i-1][0], p.points[i][1]-p.points[i-1][1])
			}
		case p.stroke == colour(canLine):
			out.cans = append(out.cans, p.points[1][0]-p.points[0][0])
		case p.stroke == colour(solid) && len(p.points) == 2 && out.ground == 0:
			out.ground = p.points[0][1]
		}
	}
	return out
}

func ringOf(points [][2]float64) circleRead {
	x := func(p [2]float64) float64 { return p[0] }
	y := func(p [2]float64) float64 { return p[1] }
	low, high := ends(points, x)
	bottom, top := ends(points, y)
	return circleRead{(low + high) / 2, (bottom + top) / 2, (high - low) / 2}
}

func ends(points [][2]float64, of func(p [2]float64) float64) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, p := range points {
		low, high = min(low, of(p)), max(high, of(p))
	}
	return low, high
}

// TestLayoutIsToScale: one scale makes the drawing's circles the part's sizes, its
// gaps the values of the checks, and its belt as long as its teeth make it.
func TestLayoutIsToScale(t *testing.T) {
	brief := constraints.DefaultBrief()
	brief.Target.TopSpeed, brief.Board.Hanger = 9, 0.18
	p := problemOf(t, brief)
	belts, gears := 0, 0
	for i := range 60 {
		drive := i * 131
		if i%3 == 0 { // gear drives are the last
			drive = len(p.Drives) - 1 - i/3%7
		}
		b := build(t, p, i, i*5, i*7, drive, i*3)
		v := sideOf(b)
		if !v.stands() || v.inWheel || math.IsNaN(v.outside) {
			continue
		}
		f, err := Layout(Subject{Build: b})
		if err != nil {
			t.Fatal(err)
		}
		got := readLayout(t, f)
		scale := got.tyre.radius / (b.Wheel.Diameter / 2)
		near := func(what string, pixels, metres float64) {
			if math.Abs(pixels-metres*scale) > 0.03 { // coordinates have two decimals
				t.Errorf("%s of %s: %.2f pixels, want %.2f", what, Subject{Build: b}.Name(), pixels, metres*scale)
			}
		}
		near("can", got.can.radius, b.Motor.CanDiameter/2)
		near("gap under the drive", got.ground-(got.drive.y+got.drive.radius), valueOf(b, "clearance"))
		if value := valueOf(b, "can"); !math.IsNaN(value) {
			near("gap under the can", got.ground-(got.can.y+got.can.radius), value)
		}
		for _, width := range got.cans {
			near("a can from behind", width, b.Motor.CanLength)
		}
		if len(got.cans) != min(b.Motors(), 2) && !math.IsNaN(b.Motor.CanLength) {
			t.Errorf("%d motors from behind, want %d", len(got.cans), min(b.Motors(), 2))
		}
		switch belt := b.Drive.Belt; {
		case belt != nil && got.belt > 0:
			belts++
			length := float64(belt.Teeth) * belt.Profile.Pitch // an arc of 96 chords is short by some 1e-4 of it
			if math.Abs(got.belt/scale/length-1) > 1e-3 {
				t.Errorf("the belt is %.2f mm long, its %d teeth are %.2f mm", 1000*got.belt/scale, belt.Teeth, 1000*length)
			}
		case b.Drive.Gear != nil:
			gears++
		}
	}
	if belts < 3 || gears < 3 {
		t.Errorf("only %d belts and %d gear drives measured", belts, gears)
	}
}

// valueOf is the value of a check of a build, SI.
func valueOf(b *constraints.Build, check string) float64 {
	i := slices.IndexFunc(b.Results(), func(r constraints.Result) bool { return r.Name == check })
	return b.Results()[i].Value
}

// TestLayoutSaysWhatIsNotKnown: nothing is drawn that is not known, and that is
// said.
func TestLayoutSaysWhatIsNotKnown(t *testing.T) {
	s := subject(t, 0)
	for _, tt := range []struct {
		why  string
		edit func(b *constraints.Build, d *constraints.Drive, m *catalog.Mount)
		want string
		cans bool
	}{
		{"an angle that nobody gives", func(_ *constraints.Build, _ *constraints.Drive, m *catalog.Mount) { m.Angle = math.NaN() }, "drawn level with the axle", true},
		{"no belt", func(_ *constraints.Build, d *constraints.Drive, _ *catalog.Mount) { d.Belt, d.Centre = nil, math.NaN() }, "No belt is chosen", true},
		{"no mount", func(_ *constraints.Build, d *constraints.Drive, _ *catalog.Mount) {
			d.Mount, d.Belt, d.Centre = nil, nil, math.NaN()
		}, "The motor is not drawn", false},
	} {
		b := *s.Build
		d := *b.Drive
		m := *d.Mount
		d.Mount, b.Drive = &m, &d
		tt.edit(&b, &d, &m)
		f, err := Layout(Subject{Build: &b})
		if err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(f.Summary, tt.want) {
			t.Errorf("%s: %q", tt.why, f.Summary)
		}
		if cans := readLayout(t, f).can.radius > 0; cans != tt.cans {
			t.Errorf("%s: the can is drawn: %v", tt.why, cans)
		}
	}
}
