package plot

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"gearsearch/cmd/gearsearch/internal/cloud"
	"gearsearch/constraints"
	"gearsearch/drive"
	"gearsearch/search"
)

// The curves of a figure are read back from its SVG: the labels of the ticks
// say what a place in the frame stands for, and each stroke has a colour of its
// own. What they say is held against package drive at places in between.

// scaleOf is the map from the frame to the data along one axis, from the labels
// of its ticks: labels with one y along the x axis, with one right end along
// the y axis.
func scaleOf(t testing.TB, d *drawing, vertical bool, within func(e textElement) bool) func(float64) float64 {
	t.Helper()
	var at, value []float64
	for _, e := range d.texts {
		if e.size != tickSize || !within(e) {
			continue
		}
		var x float64
		if _, err := fmt.Sscan(strings.ReplaceAll(e.text, "\u202f", ""), &x); err != nil {
			continue
		}
		place := e.x + e.length/2
		if vertical {
			place = e.y
		}
		at, value = append(at, place), append(value, x)
	}
	if len(at) < 2 {
		t.Fatalf("%d ticks", len(at))
	}
	low, high := 0, len(at)-1
	per := (value[high] - value[low]) / (at[high] - at[low])
	for i := range at { // evenly
		if got := value[low] + (at[i]-at[low])*per; math.Abs(got-value[i]) > 0.005*math.Abs(value[high]-value[low]) {
			t.Fatalf("a tick of %g stands at %g", value[i], got)
		}
	}
	return func(place float64) float64 { return value[low] + (place-at[low])*per }
}

// axes are the scales of a figure with one pair of axes. A label of the y axis
// stands beside its tick: the axis itself, which begins at zero, tells where.
func axes(t testing.TB, d *drawing) (x, y func(float64) float64) {
	t.Helper()
	bottom := 0.0
	for _, e := range d.texts {
		if e.size == tickSize {
			bottom = max(bottom, e.y)
		}
	}
	x = scaleOf(t, d, false, func(e textElement) bool { return e.y == bottom })
	raw := scaleOf(t, d, true, func(e textElement) bool { return e.y < bottom })
	base := 0.0 // of the x axis
	for _, p := range d.paths {
		if len(p.points) == 2 && p.points[0][1] == p.points[1][1] && p.stroke == "currentColor" {
			base = max(base, p.points[0][1])
		}
	}
	zero := raw(base)
	return x, func(place float64) float64 { return raw(place) - zero }
}

// points are the points of all paths with a stroke.
func (d *drawing) points(s stroke, x, y func(float64) float64) [][2]float64 {
	colour := fmt.Sprintf("#%02x%02x%02x", s.colour.R, s.colour.G, s.colour.B)
	var out [][2]float64
	for _, p := range d.paths {
		if p.stroke != colour || len(p.points) < 3 { // the sample beside a name has two points
			continue
		}
		for _, q := range p.points {
			out = append(out, [2]float64{x(q[0]), y(q[1])})
		}
	}
	return out
}

// follows holds a curve to a function, to a thousandth of the highest value or
// what a hundredth of a pixel makes on a steep stretch.
func follows(t testing.TB, what string, points [][2]float64, want func(x float64) float64) {
	t.Helper()
	if len(points) < 20 {
		t.Fatalf("%s has %d points", what, len(points))
	}
	most, widest := 0.0, 0.0
	for _, p := range points {
		most, widest = max(most, p[1]), max(widest, p[0])
	}
	for _, p := range points {
		h := 0.0006 * widest
		low, high := want(p[0]-h), want(p[0]+h)
		if math.IsNaN(low) {
			low = want(p[0])
		}
		if math.IsNaN(high) {
			high = low
		}
		slack := 0.004 * most
		if p[1] < min(low, high)-slack || p[1] > max(low, high)+slack {
			t.Errorf("%s: %.4g at %.4g, want between %.4g and %.4g", what, p[1], p[0], low, high)
			return
		}
	}
}

// coupled is a build's board at other volts, made from the build's parts and
// not by the package under test.
func coupled(b *constraints.Build, volts float64) *drive.Board {
	pack := b.Battery.Pack
	pack.Volts = volts
	e := drive.Couple(b.Motor.Drive, b.Motors(), b.Controller.Drive, pack, b.Problem.Brief.Limit.Winding)
	return &drive.Board{
		Electrical: &e, Reduction: b.Drive.Reduction, Efficiency: b.Drive.Efficiency, Radius: b.Wheel.Radius,
		Mass: b.TotalMass(), Crr: b.Wheel.Crr, DragArea: b.Problem.DragArea, AirDensity: b.Problem.AirDensity,
		Hold: b.Problem.Stance.Hold(b.Motors(), b.Problem.Grip, b.Wheel.Crr),
	}
}

func TestCurvesAreTheModels(t *testing.T) {
	for _, name := range []string{"harbour", "trail"} {
		r, err := rank(name, 1)
		if err != nil {
			t.Fatal(err)
		}
		s := Subject{Build: r.At(0).Build}
		pack := s.Build.Battery.Pack
		for i, volts := range []float64{pack.Full, pack.Nominal, (pack.Cutoff + pack.Nominal) / 2} {
			board := coupled(s.Build, volts)
			for kind, want := range map[string]func(x float64) float64{
				"thrust": func(x float64) float64 { return math.Min(board.Thrust(x/3.6), board.GripThrust(0)) },
				"climb":  func(x float64) float64 { return 100 * board.ClimbLimit(x/3.6) },
				"launch": func(x float64) float64 { return reached(board, x) * 3.6 },
			} {
				f, err := single[kind](s)
				if err != nil {
					t.Fatal(err)
				}
				d := read(t, f.Inline())
				x, y := axes(t, d)
				follows(t, fmt.Sprintf("%s at %.1f V", kind, volts), d.points(strokeOf(i), x, y), want)
			}
		}
	}
}

// reached is the speed in m/s after a time, by steps of Newton's law.
func reached(b *drive.Board, seconds float64) float64 {
	const step = 1e-3
	v := 0.0
	for at := 0.0; at < seconds; at += step {
		v += step * (math.Min(b.Thrust(v), b.GripThrust(0)) - b.Load(v, 0)) / b.Mass
	}
	return v
}

// TestCruiseIsTheModels: both panels, against the definition of range.
func TestCruiseIsTheModels(t *testing.T) {
	s := subject(t, 0)
	f, err := Cruise(s)
	if err != nil {
		t.Fatal(err)
	}
	d := read(t, f.Inline())
	x, range_, energy, upper, lower := panels(t, d)
	use := func(kmh float64) float64 { // Wh/km
		ride := s.Build.Problem.Brief.Ride
		c, ok := coupled(s.Build, s.Build.Battery.Pack.Nominal).Ride(drive.Ride{
			Speed: kmh / 3.6, Wind: ride.Wind, Stops: ride.Stops, Ascent: ride.Ascent, Regen: ride.Regen,
		}, s.Build.Battery.Pack.Nominal)
		if !ok {
			return math.NaN()
		}
		return c.EnergyPerMetre / 3.6 * s.Build.Problem.Brief.Limit.RideFactor
	}
	pack := s.Build.Battery.Pack
	follows(t, "energy", upper.points(strokeOf(0), x, energy), use)
	follows(t, "range", lower.points(strokeOf(1), x, range_), func(kmh float64) float64 {
		return pack.Capacity * pack.Nominal * s.Build.Problem.Brief.Limit.Usable / use(kmh)
	})
}

// TestHeatIsTheModels: winding, rest and both ends of the doubt against package
// drive, made from the motor's own data; the limit stands where the brief has it.
func TestHeatIsTheModels(t *testing.T) {
	for _, name := range []string{"harbour", "trail"} {
		r, err := rank(name, 1)
		if err != nil {
			t.Fatal(err)
		}
		b := r.At(0).Build
		f, err := Heat(Subject{Build: b})
		if err != nil {
			t.Fatal(err)
		}
		d := read(t, f.Inline())
		x, y := axes(t, d)
		target := b.Problem.Brief.Target
		zero := func(x float64) float64 {
			if math.IsNaN(x) {
				return 0
			}
			return x
		}
		thermal, ok := drive.ThermalOf(zero(b.Motor.Motor.Mass), zero(b.Motor.Motor.CanDiameter), zero(b.Motor.Motor.CanLength), target.ClimbSpeed)
		if !ok {
			t.Fatal("no mass")
		}
		board := coupled(b, b.Battery.Pack.Volts)
		const air = 25
		after := func(metres float64) (winding, rest float64) {
			return thermal.After(drive.Heating{
				Resistance: b.Motor.Motor.Resistance, Current: board.MotorCurrentFor(board.Load(target.ClimbSpeed, b.Problem.Theta)),
				Iron: board.K * target.ClimbSpeed * board.Reduction / board.Radius * board.NoLoad,
				Air:  air, Seconds: metres / target.ClimbSpeed,
			})
		}
		winding := func(m float64) float64 { hot, _ := after(m); return hot }
		raw := y // the labels of the axis stand to about half a degree
		off := air - d.dashed(strokeOf(0), x, raw)[0][1]
		if math.Abs(off) > 0.5 {
			t.Errorf("%s: it begins %g K off the air", name, off)
		}
		y = func(place float64) float64 { return raw(place) + off }
		follows(t, name+": winding", d.dashed(strokeOf(0), x, y), winding)
		follows(t, name+": rest", d.dashed(strokeOf(1), x, y), func(m float64) float64 { _, rest := after(m); return rest })
		band := d.dashed(doubts, x, y)
		if len(band)%2 != 0 {
			t.Fatalf("%d points of the doubt", len(band))
		}
		for i, share := range []float64{1.4, 0.6} {
			follows(t, name+": doubt", band[i*len(band)/2:(i+1)*len(band)/2], func(m float64) float64 { return air + share*(winding(m)-air) })
		}
		last := d.dashed(strokeOf(0), x, y)
		if end := last[len(last)-1][0]; math.Abs(end-target.ClimbLength) > 0.01*target.ClimbLength {
			t.Errorf("%s: it ends after %g m, the hill after %g", name, end, target.ClimbLength)
		}
		if !slices.ContainsFunc(d.paths, func(p pathElement) bool {
			return len(p.points) == 2 && p.dash != "" && p.points[0][1] == p.points[1][1] && math.Abs(y(p.points[0][1])-b.Problem.Brief.Limit.WindingMax) < 0.5
		}) {
			t.Errorf("%s: no rule at the limit of %g °C", name, b.Problem.Brief.Limit.WindingMax)
		}
	}
}

// dashed are the points of all paths of the colour and the dashes of a stroke.
func (d *drawing) dashed(s stroke, x, y func(float64) float64) [][2]float64 {
	var dash []string
	for _, l := range s.dash {
		dash = append(dash, decimal(l.Points()))
	}
	only := &drawing{}
	for _, p := range d.paths {
		if p.dash == strings.Join(dash, " ") {
			only.paths = append(only.paths, p)
		}
	}
	return only.points(s, x, y)
}

// TestHeatNeedsAHill: without a length the error says which key to set.
func TestHeatNeedsAHill(t *testing.T) {
	if _, err := Heat(subject(t, 0)); err == nil || !strings.Contains(err.Error(), "set target.climb_length_m") {
		t.Errorf("without a length: %v", err)
	}
}

// TestHeatRunsAway: a winding that burns is drawn up to where it can be told of.
func TestHeatRunsAway(t *testing.T) {
	brief := constraints.DefaultBrief()
	brief.Target.ClimbGrade, brief.Target.ClimbLength = 0.3, 50_000
	p := problemOf(t, brief)
	b := build(t, p, 0, 0, 0, 0, 0)
	if b.WindingEnd() < drive.HottestKnown {
		t.Fatalf("the winding ends at %g °C", b.WindingEnd())
	}
	f, err := Heat(Subject{Build: b})
	if err != nil {
		t.Fatal(err)
	}
	d := read(t, f.Inline())
	if !d.has("400 °C or more") || !strings.Contains(f.Summary, "400 °C or more") {
		t.Errorf("it says %q", f.Summary)
	}
	_, y := axes(t, d)
	for _, p := range d.dashed(strokeOf(0), func(float64) float64 { return 0 }, y) {
		if p[1] > drive.HottestKnown*1.005 {
			t.Errorf("drawn at %g °C", p[1])
		}
	}
}

// TestStopIsTheModels holds each stop to Newton's law, step by step, under the
// braking of its own definition.
func TestStopIsTheModels(t *testing.T) {
	for _, name := range []string{"harbour", "lastmile", "trail"} {
		r, err := rank(name, 1)
		if err != nil {
			t.Fatal(err)
		}
		b := r.At(0).Build
		f, err := Stop(Subject{Build: b})
		if err != nil {
			t.Fatal(err)
		}
		d := read(t, f.Inline())
		x, y := axes(t, d)
		board := coupled(b, b.Battery.Pack.Volts)
		from := b.Problem.Brief.Target.StopFrom
		for i, charge := range []float64{1, 0.9, 0.5} {
			in := b.Battery.Pack.Intake(charge, b.Battery.ChargeLimit(), 1)
			most := math.Min(board.Hold.Brake*board.Mass*drive.Gravity, board.CurrentBraking()-float64(board.Motors)*board.K*board.Reduction/board.Radius/board.Efficiency*board.NoLoad)
			speed := func(metres float64) float64 {
				v, step := from, metres/4000
				for range 4000 {
					brake := 0.0
					if in.Current > 0 {
						brake = math.Min(most, in.Power()/(board.Controller.Efficiency*board.Efficiency*v))
					}
					square := v*v - 2*step*(brake+board.Load(v, 0))/board.Mass
					if square <= 0 {
						return 0
					}
					v = math.Sqrt(square)
				}
				return v * 3.6
			}
			follows(t, fmt.Sprintf("%s at %g", name, charge), d.dashed(strokeOf(i), x, y), speed)
			metres, _ := board.StoppingDistance(from, in)
			label := fmt.Sprintf("%s: %.1f m", stopWords[i].word, metres)
			if charge == 1 {
				label = fmt.Sprintf("full: takes nothing; rolls out in %.0f m", metres)
			}
			if !d.has(label) {
				t.Errorf("%s does not say %q", name, label)
			}
		}
	}
}

// TestFrostStopsNothing: at 0 °C no pack may be charged, so that the board rolls out
// at any charge, and nothing is called a stop.
func TestFrostStopsNothing(t *testing.T) {
	brief := constraints.DefaultBrief()
	brief.Target.TopSpeed, brief.Ground.Temperature = 8, 0
	b := build(t, problemOf(t, brief), 0, 0, 0, 0, 0)
	f, err := Stop(Subject{Build: b})
	if err != nil {
		t.Fatal(err)
	}
	d := read(t, f.Inline())
	label := fmt.Sprintf("full, 90 %%, half: each takes nothing; rolls out in %.0f m", b.Stop(0.9).Long)
	if !d.has(label) || !strings.Contains(f.Summary, "without electric braking") || strings.Contains(f.Summary, "it stops") || d.has("limited by") {
		t.Errorf("it says %q, want %q", f.Summary, label)
	}
	x, y := axes(t, d)
	points := d.points(strokeOf(0), x, y)
	if last := points[len(points)-1]; math.Abs(last[0]-b.Stop(1).Long) > 0.5 || last[1] > 0.1 {
		t.Errorf("it rolls out to %v, want %g m", last, b.Stop(1).Long)
	}
}

// panels are the scales of a figure of energy over range, and what is drawn in each.
func panels(t testing.TB, d *drawing) (x, distance, energy func(float64) float64, upper, lower *drawing) {
	t.Helper()
	var edge float64 // between the panels
	for _, e := range d.texts {
		if strings.HasPrefix(e.text, "range, ") {
			edge = e.y
		}
	}
	upper, lower = &drawing{}, &drawing{}
	for _, e := range d.texts {
		if e.y < edge {
			upper.texts = append(upper.texts, e)
		} else {
			lower.texts = append(lower.texts, e)
		}
	}
	for _, p := range d.paths {
		if len(p.points) > 0 && p.points[0][1] < edge {
			upper.paths = append(upper.paths, p)
		} else {
			lower.paths = append(lower.paths, p)
		}
	}
	x, distance = axes(t, lower)
	upper.texts = append(upper.texts, textElement{text: "0", size: tickSize, y: edge}, textElement{text: "1", size: tickSize, y: edge, x: 1}) // the panel's own are below the other
	_, energy = axes(t, upper)
	return x, distance, energy, upper, lower
}

// TestStopsAreTheModels: both panels against the energy of rides with so many stops.
func TestStopsAreTheModels(t *testing.T) {
	s := subject(t, 0)
	f, err := Stops(s)
	if err != nil {
		t.Fatal(err)
	}
	b := s.Build
	x, distance, energy, upper, lower := panels(t, read(t, f.Inline()))
	use := func(perKm float64) float64 { // Wh/km
		ride := b.Problem.Brief.Ride
		r, ok := coupled(b, b.Battery.Pack.Nominal).Ride(drive.Ride{
			Speed: b.Problem.Brief.Target.Cruise, Wind: ride.Wind, Stops: perKm / 1000, Ascent: ride.Ascent, Regen: ride.Regen,
		}, b.Battery.Pack.Nominal)
		if !ok {
			return math.NaN()
		}
		return r.EnergyPerMetre / 3.6 * b.Problem.Brief.Limit.RideFactor
	}
	pack := b.Battery.Pack
	follows(t, "energy", upper.points(strokeOf(0), x, energy), use)
	follows(t, "range", lower.points(strokeOf(1), x, distance), func(perKm float64) float64 {
		return pack.Capacity * pack.Nominal * b.Problem.Brief.Limit.Usable / use(perKm)
	})
	each := (use(6) - use(5)) // Wh for each stop, as they are per km
	if want := fmt.Sprintf("each stop takes %s Wh", digits(each, 2)); !strings.Contains(f.Summary, want) {
		t.Errorf("it says %q, want %q", f.Summary, want)
	}
}

// TestThrustTellsSlipAndLift: the rule stands at what the wheels hold, under the word
// for it.
func TestThrustTellsSlipAndLift(t *testing.T) {
	for name, word := range map[string]string{"harbour": "front axle lifts", "trail": "driven wheels slip"} {
		r, err := rank(name, 1)
		if err != nil {
			t.Fatal(err)
		}
		b := r.At(0).Build
		f, err := Thrust(Subject{Build: b})
		if err != nil {
			t.Fatal(err)
		}
		d := read(t, f.Inline())
		_, y := axes(t, d)
		p := b.Problem
		held := p.Stance.Hold(b.Motors(), p.Grip, b.Wheel.Crr).Drive * b.TotalMass() * drive.Gravity
		if label := fmt.Sprintf("%s from %.0f N", word, held); !d.has(label) || !strings.Contains(f.Summary, label) {
			t.Errorf("%s does not say %q but %q", name, label, f.Summary)
		}
		if !slices.ContainsFunc(d.paths, func(p pathElement) bool {
			return len(p.points) == 2 && p.dash != "" && p.points[0][1] == p.points[1][1] && math.Abs(y(p.points[0][1])-held) < 0.01*held
		}) {
			t.Errorf("%s: no rule at %g N", name, held)
		}
	}
}

// TestFrontIsTheSearchs: the front of a cloud is that of search.Front.
func TestFrontIsTheSearchs(t *testing.T) {
	r, err := ranking()
	if err != nil {
		t.Fatal(err)
	}
	for _, pair := range [][2]string{{"price", "range_km"}, {"range_km", "price"}, {"price", "mass_kg"}, {"top_speed_kmh", "climb_limit_pct"}} {
		x, _ := constraints.FigureNamed(pair[0])
		y, _ := constraints.FigureNamed(pair[1])
		c := cloud.New(x, y)
		all, err := search.Stream(context.Background(), r.Problem, search.Options{}, func(s search.Scored) error { c.Add(s.Build); return nil })
		if err != nil {
			t.Fatal(err)
		}
		if uint64(c.Count+c.Open) != all.Feasible {
			t.Errorf("%d builds and %d left out, %d feasible", c.Count, c.Open, all.Feasible)
		}
		front, err := search.Front(context.Background(), r.Problem, []constraints.Figure{x, y}, search.Options{})
		if err != nil {
			t.Fatal(err)
		}
		want := map[point]bool{}
		for s := range front.Builds() {
			if p := (point{x.Value(s.Build), y.Value(s.Build)}); !math.IsNaN(p.x) && !math.IsNaN(p.y) {
				want[p] = true
			}
		}
		if len(want) != len(c.Front) {
			t.Errorf("%v: %d on the front, want %d", pair, len(c.Front), len(want))
		}
		for _, p := range pointsOf(c.Front) {
			if !want[p] {
				t.Errorf("%v: %v is not on the front", pair, p)
			}
		}
		stairs := staircase(pointsOf(c.Front), x.Better)
		for _, p := range stairs { // each corner is beaten, or equalled, by a front build
			if !slices.ContainsFunc(pointsOf(c.Front), func(q point) bool {
				return float64(x.Better)*(q.x-p.x) >= 0 && float64(y.Better)*(q.y-p.y) >= 0
			}) {
				t.Errorf("%v: the corner %v lies beyond the front", pair, p)
			}
		}
	}
}

// TestTeethAreTheSearchs puts each pair of teeth to a search of its own.
func TestTeethAreTheSearchs(t *testing.T) {
	s := subject(t, 0)
	b := s.Build
	list, err := teethOfPulleys(b, false)
	if err != nil {
		t.Fatal(err)
	}
	feasible, own := 0, 0
	for i, x := range list {
		if x.Motor == b.Drive.MotorPulley.Teeth && x.Wheel == b.Drive.WheelPulley.Teeth {
			own++
		}
		if !x.Feasible() && i%7 != 0 { // a sample of those, all of the others
			continue
		}
		brief := b.Problem.Brief.Clone()
		ids := func(side []string, n int, slot constraints.Slot) {
			brief.Keep[slot] = side
			if n == 0 {
				t.Fatalf("no pulley for %v", x)
			}
		}
		var small, large []string
		for _, p := range b.Problem.MotorPulleys {
			if p.Teeth == x.Motor {
				small = append(small, p.ID)
			}
		}
		for _, p := range b.Problem.WheelPulleys {
			if p.Teeth == x.Wheel {
				large = append(large, p.ID)
			}
		}
		ids(small, len(small), constraints.SlotMotorPulley)
		ids(large, len(large), constraints.SlotWheelPulley)
		brief.Keep[constraints.SlotBattery] = []string{b.Battery.ID}
		brief.Keep[constraints.SlotController] = []string{b.Controller.ID}
		brief.Keep[constraints.SlotMotor] = []string{b.Motor.ID}
		brief.Keep[constraints.SlotWheel] = []string{b.Wheel.ID}
		brief.Keep[constraints.SlotGearDrive] = nil
		for _, g := range b.Problem.GearDrives {
			brief.Avoid[constraints.SlotGearDrive] = append(brief.Avoid[constraints.SlotGearDrive], g.ID)
		}
		brief.Board.Motors = []float64{float64(b.Motors())}
		r, err := search.Rank(context.Background(), problemOf(t, brief), search.Options{Top: 1})
		if err != nil {
			t.Fatal(err)
		}
		if (r.Feasible > 0) != x.Feasible() {
			t.Errorf("%d:%d is rejected by %d checks, the search finds %d", x.Motor, x.Wheel, len(x.Fails), r.Feasible)
		}
		if r.Feasible > 0 {
			feasible++
			got, _ := x.Build.Build.TopSpeed()
			if v, _ := r.At(0).Build.TopSpeed(); math.Abs(v-got) > 1e-9 {
				t.Errorf("%d:%d: %g m/s, want %g", x.Motor, x.Wheel, got, v)
			}
		}
		if got := x.Build.Build.Drive.Reduction; got != float64(x.Wheel)/float64(x.Motor) {
			t.Errorf("%d:%d is %g", x.Motor, x.Wheel, got)
		}
	}
	if feasible == 0 || own != 1 {
		t.Errorf("%d feasible, %d the build's own", feasible, own)
	}
}

// TestEffectsAreVariations holds effects to what package constraints makes of
// the same variation.
func TestEffectsAreVariations(t *testing.T) {
	brief := constraints.DefaultBrief()
	brief.Target.ClimbGrade, brief.Target.Range = 0.1, 1000
	brief.Ride.Wind, brief.Ride.Ascent, brief.Ground.Grip = 4, 0.01, 0.25
	p := problemOf(t, brief)
	ranges := 0
	margin, _ := constraints.FigureNamed("climb_margin_pct")
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string) int { return rapid.IntRange(0, 1<<16).Draw(t, name) }
		b := &constraints.Build{Problem: p}
		b.Electrify(p.Batteries[draw("battery")%len(p.Batteries)], p.Controllers[draw("controller")%len(p.Controllers)], p.Motors[draw("motor")%len(p.Motors)], 0)
		b.Roll(p.Drives[draw("drive")%len(p.Drives)], p.Wheels[draw("wheel")%len(p.Wheels)])
		top, _ := b.TopSpeed()
		if !b.ThrustKnown() || top == 0 {
			return
		}
		effects := Effects(Subject{Build: b})
		for j, f := range []float64{-nudge, nudge} {
			for name, v := range map[string]constraints.Variation{
				"motor kv":             {KV: f},
				"mass, rider included": {Mass: f * b.TotalMass()},
				"rolling resistance":   {Rolling: f},
				"air drag":             {Drag: f},
				"pack resistance":      {PackResistance: f},
				"wheel diameter":       {Wheel: f},
				"grip":                 {Grip: f},
				"rear share of weight": {Stance: f * brief.Board.RearShare},
				"wind":                 {Wind: f * brief.Ride.Wind},
				"drive efficiency":     {Efficiency: math.Min(b.Drive.Efficiency*(1+f), 1) - b.Drive.Efficiency},
			} {
				other := b.Varied(v)
				i := slices.IndexFunc(effects, func(e Effect) bool { return e.Input == name })
				if i < 0 && name == "wind" && !(b.Range() > 0) {
					continue
				}
				if i < 0 {
					t.Fatalf("no effect of %s", name)
				}
				varied, _ := other.TopSpeed()
				if want := varied - top; math.Abs(effects[i].Speed[j]-want) > 1e-9*(1+top) {
					t.Errorf("%s by %g: %g m/s, want %g", name, f, effects[i].Speed[j], want)
				}
				if want := margin.Value(other) - margin.Value(b); math.Abs(effects[i].Climb[j]-want) > 1e-7*(1+math.Abs(want)) {
					t.Errorf("%s by %g: %g points, want %g", name, f, effects[i].Climb[j], want)
				}
				if !(b.Range() > 0) {
					continue
				}
				ranges++
				reached := other.Range()
				if math.IsNaN(reached) { // too slow
					reached = 0
				}
				if want := reached - b.Range(); math.Abs(effects[i].Range[j]-want) > 1e-9*b.Range() {
					t.Errorf("%s by %g: %g m of range, want %g", name, f, effects[i].Range[j], want)
				}
			}
		}
	})
	if ranges == 0 {
		t.Error("no range is held to anything")
	}
}
