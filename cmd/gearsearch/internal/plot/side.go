package plot

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"gearsearch/constraints"
)

// side is a driven wheel with its drive and motor, seen from the side: lengths in
// metres from the axle, x forward and y up. NaN stands for what is not known.
type side struct {
	tyre, rolling float64 // radii of the wheel, free and on the ground
	outside       float64 // radius of the gear drive, or of the belt over the wheel pulley
	wheelPitch    float64 // pitch radii of the pulleys; NaN for a gear drive
	motorPitch    float64
	shaft         point   // of the motor
	can           float64 // radius
	hanger        float64 // room between the wheels; NaN: no view from behind
	motors        int     // on one truck
	length, width float64 // of a can, of a tyre
	inWheel       bool
	notes         []string
}

// sideOf lays a build out.
func sideOf(b *constraints.Build) side {
	d, w := b.Drive, b.Wheel
	v := side{
		tyre: w.Diameter / 2, rolling: w.Radius, outside: d.Outside, wheelPitch: math.NaN(), motorPitch: math.NaN(),
		can: b.Motor.CanDiameter / 2, hanger: b.Problem.Brief.Board.Hanger, motors: min(b.Motors(), 2), length: b.Motor.CanLength, width: w.Width,
	}
	var centre float64
	angle := math.NaN()
	switch {
	case d.Gear != nil && d.Gear.InWheel:
		v.inWheel, v.hanger = true, math.NaN()
		v.notes = append(v.notes, "The motor sits in the wheel.")
		return v
	case d.Gear != nil:
		centre, angle = d.Gear.Centre, d.Gear.Angle
	default:
		v.wheelPitch = d.WheelPulley.Profile.PitchDiameter(d.WheelPulley.Teeth) / 2
		v.motorPitch = d.MotorPulley.Profile.PitchDiameter(d.MotorPulley.Teeth) / 2
		centre = d.Centre
		if d.Mount != nil {
			angle = d.Mount.Angle
			if math.IsNaN(centre) {
				centre = d.Mount.CentreMin
				v.notes = append(v.notes, "No "+beltOf(d)+" is chosen: the shafts stand as near as the mount lets them.")
			}
		}
	}
	v.stand(centre, angle)
	return v
}

// beltOf is what a drive has around its pulleys or sprockets.
func beltOf(d *constraints.Drive) string {
	if d.Chained() {
		return "chain"
	}
	return "belt"
}

// stand puts the motor's shaft where it is, behind the axle of a board that goes
// forward.
func (v *side) stand(centre, angle float64) {
	switch {
	case math.IsNaN(centre):
		v.shaft = point{math.NaN(), math.NaN()}
		v.notes = append(v.notes, "The motor is not drawn: how far its shaft is from the axle is not known.")
		return
	case math.IsNaN(angle):
		angle = 0
		v.notes = append(v.notes, "The motor is drawn level with the axle: its angle is not known.")
	}
	v.shaft = point{centre * math.Cos(angle), centre * math.Sin(angle)}
}

// stands reports whether the place of the motor is known.
func (v *side) stands() bool { return !math.IsNaN(v.shaft.x) && !math.IsNaN(v.can) }

// frame is the room that the view takes: left, right, bottom and top.
func (v *side) frame() (left, right, bottom, top float64) {
	r := math.Max(v.tyre, orNone(v.outside))
	left, right, bottom, top = -r, r, -v.rolling, r
	if !math.IsNaN(v.shaft.x) {
		around := math.Max(orNone(v.can), orNone(v.motorPitch))
		left, right = math.Min(left, v.shaft.x-around), math.Max(right, v.shaft.x+around)
		bottom, top = math.Min(bottom, v.shaft.y-around), math.Max(top, v.shaft.y+around)
	}
	return left, right, bottom, top
}

// behind reports whether there is a view from behind, and how wide it is.
func (v *side) behind() (across float64, ok bool) {
	ok = !math.IsNaN(v.hanger) && !math.IsNaN(v.length) && v.stands()
	return v.hanger + 2*orNone(v.width), ok
}

func orNone(x float64) float64 {
	if math.IsNaN(x) {
		return 0
	}
	return x
}

// Sizes of the drawing, CSS pixels.
const (
	sideAir    = 26 // around each view, for names and measures
	sideTall   = 560
	sideGround = 14 // that the ground is drawn beyond what stands on it
)

// Layout draws the driven wheel to scale from the side: wheel, pulleys or gear
// drive, belt, the motor's can and the ground; and, where the room on the hanger is
// asked for, wheels and motors from behind. What comes near the ground, and what the
// hanger leaves, is measured.
func Layout(s Subject) (*Figure, error) {
	v := sideOf(s.Build)
	left, right, bottom, top := v.frame()
	wide, tall, views := right-left, top-bottom, 1.0
	if across, ok := v.behind(); ok {
		wide, tall, views = math.Max(wide, across), tall+top-bottom, 2
	}
	scale := math.Min((figureWidth-2*sideAir)/wide, (sideTall-views*2*sideAir)/tall)
	height := vg.Length(scale*tall + views*2*sideAir)
	return &Figure{
		Title: "Wheel and drive to scale", Of: s.Name(), Summary: s.layoutSummary(&v),
		width: figureWidth, height: height,
		paint: func(c draw.Canvas) {
			scale := math.Min(float64(c.Size().X-2*sideAir)/wide, (c.Size().Y.Points()-views*2*sideAir)/tall)
			p := &scene{s: s, v: &v, canvas: c, scale: scale, names: newPlacer(c)}
			p.origin = vg.Point{X: c.Center().X - vg.Length(scale*(left+right)/2), Y: c.Max.Y - sideAir - vg.Length(scale*top)}
			p.fromSide()
			if views > 1 {
				p.origin = vg.Point{X: c.Center().X, Y: c.Min.Y + sideAir - vg.Length(scale*bottom)}
				p.fromBehind()
			}
			p.write()
		},
	}, nil
}

// scene draws one view into a canvas.
type scene struct {
	s      Subject
	v      *side
	canvas draw.Canvas
	scale  float64 // CSS pixels per metre
	origin vg.Point
	names  *placer
	later  []lettering
}

// lettering is a name that is written when all lines are drawn.
type lettering struct {
	text string
	at   []vg.Point
}

// at is a place of the view on the canvas.
func (p *scene) at(q point) vg.Point {
	return vg.Point{X: p.origin.X + vg.Length(q.x*p.scale), Y: p.origin.Y + vg.Length(q.y*p.scale)}
}

// line draws a line through places.
func (p *scene) line(st stroke, points ...point) {
	list := make([]vg.Point, len(points))
	for i, q := range points {
		list[i] = p.at(q)
	}
	p.names.avoid([][]vg.Point{list})
	p.canvas.StrokeLines(st.line(), list)
}

// name keeps a name for one of some places.
func (p *scene) name(text string, at ...point) {
	var list []vg.Point
	for _, q := range at {
		list = append(list, p.at(q))
	}
	p.later = append(p.later, lettering{text, list})
}

// write writes the names.
func (p *scene) write() {
	style := textStyle(labelSize, draw.XLeft, draw.YBottom)
	for _, l := range p.later {
		p.names.place(l.text, style, l.at, 4, nil)
	}
}

// Strokes of what is drawn.
var (
	solid     = stroke{ink, nil, 1.4}
	hairline  = stroke{faint(0.55), nil, 0.8}
	beltLine  = stroke{hues[0], nil, 2}
	canLine   = stroke{hues[1], nil, 1.8}
	driveLine = stroke{hues[2], nil, 1.4}
)

// arc are the places of a part of a circle, from one angle to another.
func arc(middle point, radius, from, to float64) []point {
	const steps = 96
	out := make([]point, steps+1)
	for i := range out {
		sin, cos := math.Sincos(from + (to-from)*float64(i)/steps)
		out[i] = point{middle.x + radius*cos, middle.y + radius*sin}
	}
	return out
}

func circle(middle point, radius float64) []point { return arc(middle, radius, 0, 2*math.Pi) }

// fromSide draws the view from the side.
func (p *scene) fromSide() {
	v, b := p.v, p.s.Build
	left, right, _, _ := v.frame()
	beyond := sideGround / p.scale
	p.line(solid, point{left - beyond, -v.rolling}, point{right + beyond, -v.rolling})
	p.line(solid, circle(point{}, v.tyre)...)
	p.name(b.Wheel.ID, arc(point{}, v.tyre, 3*math.Pi/4, math.Pi)...)
	if !math.IsNaN(v.outside) {
		p.line(driveLine, circle(point{}, v.outside)...)
		p.name(driveName(b), arc(point{}, v.outside, 2*math.Pi/3, math.Pi)...)
		p.gap(0, -v.outside, limitOf(b, "clearance"))
	}
	if math.IsNaN(v.shaft.x) {
		return
	}
	p.line(hairline, point{}, v.shaft)
	if !math.IsNaN(v.wheelPitch) {
		p.line(beltLine, v.belt()...)
	}
	if v.stands() {
		p.line(canLine, circle(v.shaft, v.can)...)
		p.name(b.Motor.ID, arc(v.shaft, v.can, 0, math.Pi/2)...)
		if !v.inWheel {
			p.gap(v.shaft.x, v.shaft.y-v.can, limitOf(b, "can"))
		}
	}
}

// belt is the belt's pitch line around both pulleys.
func (v *side) belt() []point {
	centre := math.Hypot(v.shaft.x, v.shaft.y)
	way := math.Atan2(v.shaft.y, v.shaft.x)
	turn := math.Acos((v.wheelPitch - v.motorPitch) / centre) // of the points where it leaves a pulley
	if math.IsNaN(turn) {
		return nil // one pulley would lie in the other
	}
	out := arc(point{}, v.wheelPitch, way+turn, way+2*math.Pi-turn)
	out = append(out, arc(v.shaft, v.motorPitch, way-turn, way+turn)...)
	return append(out, out[0])
}

// gap measures the room between a height and the ground.
func (p *scene) gap(x, y, asked float64) {
	ground := -p.v.rolling
	const half = 3
	tick := half / p.scale
	for _, at := range []float64{y, ground} {
		p.line(solid, point{x - tick, at}, point{x + tick, at})
	}
	p.line(hairline, point{x, y}, point{x, ground})
	length := p.s.measure("mm", 1000)
	text := length.text(y - ground)
	if asked > 0 {
		text += ", " + length.text(asked) + " asked"
	}
	p.name(text, point{x, (y + ground) / 2}, point{x, ground})
}

// fromBehind draws axle, wheels and motors of the driven truck from behind.
func (p *scene) fromBehind() {
	v, b := p.v, p.s.Build
	across, _ := v.behind()
	beyond := sideGround / p.scale
	p.line(solid, point{-across/2 - beyond, -v.rolling}, point{across/2 + beyond, -v.rolling})
	p.line(hairline, point{-v.hanger / 2, 0}, point{v.hanger / 2, 0})
	for _, inner := range []float64{-v.hanger / 2, v.hanger / 2} {
		outer := inner + math.Copysign(orNone(v.width), inner)
		p.line(solid, box4(inner, outer, -v.rolling, v.tyre)...)
	}
	for i := range v.motors {
		from := -v.hanger/2 + float64(i)*v.length
		p.line(canLine, box4(from, from+v.length, v.shaft.y-v.can, v.shaft.y+v.can)...)
	}
	length := p.s.measure("mm", 1000)
	taken := float64(v.motors) * v.length
	p.name(fmt.Sprintf("%d × %s: %s of %s", v.motors, b.Motor.ID, length.text(taken), length.text(v.hanger)),
		point{0, v.shaft.y + v.can}, point{0, v.shaft.y - v.can}, point{0, v.shaft.y})
}

// box4 are the corners of a rectangle, the first twice.
func box4(left, right, bottom, top float64) []point {
	return []point{{left, bottom}, {right, bottom}, {right, top}, {left, top}, {left, bottom}}
}

// driveName is what the circle around the axle is.
func driveName(b *constraints.Build) string {
	if b.Drive.Gear != nil {
		return b.Drive.Gear.ID
	}
	return fmt.Sprintf("%d:%d", b.Drive.MotorPulley.Teeth, b.Drive.WheelPulley.Teeth)
}

// limitOf is the limit in SI of a check of a build, NaN where it does not apply.
func limitOf(b *constraints.Build, check string) float64 {
	for _, r := range b.Results() {
		if r.Name == check {
			return r.Limit
		}
	}
	return math.NaN()
}

// layoutSummary tells the measures in words.
func (s Subject) layoutSummary(v *side) string {
	b, length := s.Build, s.measure("mm", 1000)
	asked := func(check string) string {
		if limit := limitOf(b, check); limit > 0 {
			return ", " + length.text(limit) + " asked"
		}
		return ""
	}
	out := []string{fmt.Sprintf("The wheel rolls on a radius of %s.", length.text(v.rolling))}
	what := "The gear drive"
	switch {
	case b.Drive.Chained():
		what = "The chain on the wheel sprocket"
	case b.Drive.Gear == nil:
		what = "The belt on the wheel pulley"
	}
	if math.IsNaN(v.outside) {
		out = append(out, what+" is not drawn: its size is not known.")
	} else {
		out = append(out, fmt.Sprintf("%s stays %s above the ground%s.", what, length.text(v.rolling-v.outside), asked("clearance")))
	}
	switch {
	case v.inWheel:
	case v.stands():
		out = append(out, fmt.Sprintf("The motor's can stays %s above the ground%s.", length.text(v.rolling+v.shaft.y-v.can), asked("can")))
	case math.IsNaN(v.can) && !math.IsNaN(v.shaft.x):
		out = append(out, "The motor's can is not drawn: its size is not known.")
	}
	if _, ok := v.behind(); ok {
		out = append(out, fmt.Sprintf("The motors of one truck take %s of the %s between its wheels.", length.text(float64(v.motors)*v.length), length.text(v.hanger)))
	}
	return strings.Join(append(out, v.notes...), " ")
}
