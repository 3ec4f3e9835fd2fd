package plot

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"gearsearch/drive"
)

// nudge is by how much each input is moved, up and down.
const nudge = 0.05

// input is one number of a build that may be off.
type input struct {
	name string
	// scale multiplies it by a factor in what the board is made of.
	scale func(m *made, factor float64)
}

// made is what a board is made of, before it is coupled.
type made struct {
	board      drive.Board
	motor      drive.Motor
	controller drive.Controller
	pack       drive.Pack
	friction   float64
	stance     drive.Stance
	ride       drive.Ride
}

var inputs = []input{
	{"motor kv", func(m *made, f float64) { m.motor.KV *= f }},
	{"pack volts", func(m *made, f float64) {
		m.pack.Volts *= f
		m.pack.Nominal *= f
	}},
	{"wheel diameter", func(m *made, f float64) { m.board.Radius *= f }},
	{"reduction", func(m *made, f float64) { m.board.Reduction *= f }},
	{"mass, rider included", func(m *made, f float64) { m.board.Mass *= f }},
	{"motor current limit", func(m *made, f float64) {
		m.motor.PeakCurrent *= f
		m.controller.MotorCurrent *= f
	}},
	{"pack current limit", func(m *made, f float64) {
		m.controller.BatteryCurrent *= f
		m.pack.Discharge *= f
	}},
	{"motor power limit", func(m *made, f float64) { m.motor.MaxPower *= f }},
	{"drive efficiency", func(m *made, f float64) { m.board.Efficiency = math.Min(1, m.board.Efficiency*f) }},
	{"winding resistance", func(m *made, f float64) { m.motor.Resistance *= f }},
	{"pack resistance", func(m *made, f float64) { m.pack.Resistance *= f }},
	{"air drag", func(m *made, f float64) { m.board.DragArea *= f }},
	{"rolling resistance", func(m *made, f float64) { m.board.Crr *= f }},
	{"grip", func(m *made, f float64) { m.friction *= f }},
	{"centre of mass", func(m *made, f float64) { m.stance.Height *= f }},
	{"rear share of weight", func(m *made, f float64) { m.stance.RearShare *= f }},
}

// inputs are those that something drawn may go by: what a ride asks bears on the
// range alone.
func (s Subject) inputs() []input {
	out := slices.Clone(inputs)
	if !s.ranges() {
		return out
	}
	ride := s.Build.Journey()
	for _, x := range []struct {
		value float64
		input
	}{
		{ride.Wind, input{"wind", func(m *made, f float64) { m.ride.Wind *= f }}},
		{ride.Stops, input{"stops", func(m *made, f float64) { m.ride.Stops *= f }}},
		{ride.Ascent, input{"ascent", func(m *made, f float64) { m.ride.Ascent *= f }}},
	} {
		if x.value != 0 {
			out = append(out, x.input)
		}
	}
	return out
}

// ranges reports whether a range is asked for and can be computed.
func (s Subject) ranges() bool {
	return !math.IsNaN(s.Build.Problem.Brief.Target.Range) && s.Build.Range() > 0
}

// Effect is what a twentieth more or less of one input does.
type Effect struct {
	Input string
	Speed [2]float64 // m/s of top speed, for less and for more
	Climb [2]float64 // points of the climb margin in percent, likewise; NaN without a climb grade
	Range [2]float64 // m, likewise; NaN where none is asked for, or it is not known
}

// Effects are what a twentieth of each input does to the top speed and to the
// margin on the climb and the range, those with the most effect first. The build's thrust
// must be known.
func Effects(s Subject) []Effect {
	base := s.outcome(input{}, 1)
	inputs := s.inputs()
	out := make([]Effect, len(inputs))
	for i, in := range inputs {
		out[i].Input = in.name
		for j, f := range []float64{1 - nudge, 1 + nudge} {
			x := s.outcome(in, f)
			out[i].Speed[j], out[i].Climb[j], out[i].Range[j] = x.top-base.top, x.climb-base.climb, x.reach-base.reach
		}
	}
	weigh := func(e Effect) float64 {
		w := 0.0
		for j := range 2 {
			w = max(w, math.Abs(e.Speed[j])/base.top)
			if !math.IsNaN(e.Climb[j]) {
				w = max(w, math.Abs(e.Climb[j])/(base.climb+100))
			}
			if !math.IsNaN(e.Range[j]) {
				w = max(w, math.Abs(e.Range[j])/base.reach)
			}
		}
		return w
	}
	slices.SortStableFunc(out, func(a, b Effect) int {
		switch x, y := weigh(a), weigh(b); {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	})
	return out
}

// outcome is what Effects are differences of.
type outcome struct {
	top   float64 // m/s
	climb float64 // percent; NaN without a climb grade
	reach float64 // m; NaN where Subject.ranges does not hold
}

// outcome is that with one input multiplied.
func (s Subject) outcome(in input, factor float64) outcome {
	b := s.Build
	base := b.Board()
	m := made{*base, base.Motor, base.Controller, base.Pack, b.Problem.Grip, b.Problem.Stance, b.Journey()}
	if in.scale != nil {
		in.scale(&m, factor)
	}
	limit := b.Problem.Brief.Limit
	e := drive.Couple(m.motor, base.Motors, m.controller, m.pack, limit.Winding)
	m.board.Electrical = &e
	m.board.Hold = m.stance.Hold(base.Motors, m.friction, m.board.Crr)
	ceiling := math.Inf(1)
	if c := b.Controller.Ceiling; !math.IsNaN(c) {
		ceiling = m.board.ERPMSpeed(c)
	}
	top, _ := m.board.TopSpeed(ceiling)
	out := outcome{top: top, climb: math.NaN(), reach: math.NaN()}
	if b.Problem.Climbs() {
		at, theta := b.Problem.Brief.Target.ClimbSpeed, b.Problem.Theta
		thrust := math.Min(m.board.Thrust(at), m.board.GripThrust(theta))
		out.climb = (thrust/m.board.Load(at, theta) - 1) * 100
	}
	if s.ranges() {
		out.reach = s.reach(&m, top)
	}
	return out
}

// reach is the range in m of what a board is made of: 0 where it does not reach
// the cruise speed, or does not hold it against the wind.
func (s Subject) reach(m *made, top float64) float64 {
	b := s.Build
	usual, _ := b.Board().Ride(b.Journey(), b.Battery.Pack.Nominal)
	r, ok := m.board.Ride(m.ride, m.pack.Nominal)
	against := math.Min(m.board.Thrust(m.ride.Speed), m.board.GripThrust(0))
	if !ok || !drive.AtLeast(top, m.ride.Speed) || !drive.AtLeast(against, m.board.Load(m.ride.Speed+m.ride.Wind, 0)) {
		return 0
	}
	return b.Range() * m.pack.Nominal / b.Battery.Pack.Nominal * usual.EnergyPerMetre / r.EnergyPerMetre
}

// barPanel is one column of bars.
type barPanel struct {
	name     string
	of, unit string // what is moved, and its unit, in a sentence
	decimals int
	most     float64
	values   func(e Effect) [2]float64 // in the unit shown
}

// rowHeight is the height of a row of bars.
const rowHeight = 21

// Sensitivity draws what a twentieth more or less of each input does to the
// top speed, to the margin on the climb and to the range, where they are asked for.
func Sensitivity(s Subject) (*Figure, error) {
	if !s.Build.ThrustKnown() {
		return nil, ErrThrust
	}
	if top, _ := s.Build.TopSpeed(); top == 0 {
		return nil, errStands
	}
	speed := s.speed()
	panels := []*barPanel{{
		name: "top speed, " + speed.unit, of: "The top speed", unit: speed.unit, decimals: 2,
		values: func(e Effect) [2]float64 { return [2]float64{e.Speed[0] * speed.factor, e.Speed[1] * speed.factor} },
	}}
	if s.Build.Problem.Climbs() {
		panels = append(panels, &barPanel{name: "climb margin, % points", of: "The climb margin", unit: "% points", decimals: 1, values: func(e Effect) [2]float64 { return e.Climb }})
	}
	if s.ranges() {
		km := s.measure("km", 1e-3)
		panels = append(panels, &barPanel{
			name: "range, " + km.unit, of: "The range", unit: km.unit, decimals: 2,
			values: func(e Effect) [2]float64 { return [2]float64{e.Range[0] * km.factor, e.Range[1] * km.factor} },
		})
	}
	var shown []Effect
	var none []string
	for _, e := range Effects(s) {
		some := false
		for _, p := range panels {
			v := p.values(e)
			p.most = max(p.most, math.Abs(v[0]), math.Abs(v[1]))
			some = some || written(v[0], p.decimals) != "0" || written(v[1], p.decimals) != "0"
		}
		if some {
			shown = append(shown, e)
		} else {
			none = append(none, e.Input)
		}
	}
	chart := &barChart{shown, panels, none}
	var words []string
	for _, p := range panels {
		words = append(words, p.inWords(shown))
	}
	return &Figure{
		Title: "What 5 % less or more of each input does", Of: s.drawn(),
		Summary: s.corner() + strings.Join(words, " "),
		width:   figureWidth + 60, height: vg.Length(len(shown)*rowHeight) + 62,
		rigid: true, paint: chart.draw,
	}, nil
}

// inWords says which inputs move what the panel shows, the most first: those
// with at least half the effect of the first, up to three.
func (p *barPanel) inWords(effects []Effect) string {
	size := func(e Effect) float64 { v := p.values(e); return max(math.Abs(v[0]), math.Abs(v[1])) }
	sorted := slices.Clone(effects)
	slices.SortStableFunc(sorted, func(a, b Effect) int { return cmp.Compare(size(b), size(a)) })
	var words []string
	for _, e := range sorted[:min(3, len(sorted))] {
		if v := p.values(e); written(size(e), p.decimals) != "0" && 2*size(e) >= size(sorted[0]) {
			words = append(words, fmt.Sprintf("%s (−5 %%: %s, +5 %%: %s %s)", e.Input, written(v[0], p.decimals), written(v[1], p.decimals), p.unit))
		}
	}
	if len(words) == 0 {
		return p.of + " stays, whichever of them is 5 % less or more."
	}
	return fmt.Sprintf("%s changes most with %s.", p.of, strings.Join(words, ", "))
}

type barChart struct {
	effects []Effect
	panels  []*barPanel
	none    []string // inputs without effect
}

// The room for the names of inputs and for the numbers beside the bars.
const (
	inputRoom  = 118
	numberRoom = 34
)

func (b *barChart) draw(c draw.Canvas) {
	c = draw.Crop(c, margin, -margin, margin, -margin)
	room := (c.Size().X - inputRoom) / vg.Length(len(b.panels))
	top := c.Max.Y - 20
	name := textStyle(labelSize, draw.XLeft, draw.YCenter)
	for i, e := range b.effects {
		y := top - (vg.Length(i)+0.5)*rowHeight
		c.StrokeLine2(draw.LineStyle{Color: faint(0.15), Width: 0.6}, c.Min.X, y-rowHeight/2, c.Max.X, y-rowHeight/2)
		c.FillText(name, vg.Point{X: c.Min.X, Y: y}, e.Input)
	}
	for i, p := range b.panels {
		left := c.Min.X + inputRoom + vg.Length(i)*room
		zero := left + room/2
		reach := room/2 - numberRoom - 6
		c.FillText(textStyle(labelSize, draw.XCenter, draw.YTop), vg.Point{X: zero, Y: c.Max.Y}, p.name)
		c.StrokeLine2(draw.LineStyle{Color: ink, Width: 0.8}, zero, top, zero, top-vg.Length(len(b.effects)*rowHeight))
		for k, e := range b.effects {
			y := top - (vg.Length(k)+0.5)*rowHeight
			v := p.values(e)
			p.bar(c, zero, y+4.2, reach, v[0], false)
			p.bar(c, zero, y-4.2, reach, v[1], true)
		}
	}
	b.key(c)
}

// key explains the bars and lists what has no effect.
func (b *barChart) key(c draw.Canvas) {
	style := textStyle(smallSize, draw.XLeft, draw.YBottom)
	y := c.Min.Y + 12
	panel := barPanel{most: 1}
	panel.box(c, c.Min.X, c.Min.X+14, y+4, false)
	c.FillText(style, vg.Point{X: c.Min.X + 18, Y: y}, "5 % less")
	panel.box(c, c.Min.X+68, c.Min.X+82, y+4, true)
	c.FillText(style, vg.Point{X: c.Min.X + 86, Y: y}, "5 % more")
	if len(b.none) > 0 {
		c.FillText(style, vg.Point{X: c.Min.X, Y: c.Min.Y}, fitted("No effect: "+strings.Join(b.none, ", "), style, c.Size().X))
	}
}

// bar draws one value from the line of zero, its number at the end.
func (p *barPanel) bar(c draw.Canvas, zero, y, reach vg.Length, value float64, more bool) {
	end := zero
	if p.most > 0 {
		end += vg.Length(value/p.most) * reach
	}
	p.box(c, zero, end, y, more)
	style := textStyle(smallSize-0.5, draw.XLeft, draw.YCenter)
	at := vg.Point{X: max(zero, end) + 3, Y: y}
	if value < 0 {
		style.XAlign, at.X = draw.XRight, min(zero, end)-3
	}
	c.FillText(style, at, written(value, p.decimals))
}

// box draws a bar: filled for more, a frame for less.
func (p *barPanel) box(c draw.Canvas, from, to, y vg.Length, more bool) {
	const half = 3.2
	outline := []vg.Point{{X: from, Y: y - half}, {X: to, Y: y - half}, {X: to, Y: y + half}, {X: from, Y: y + half}, {X: from, Y: y - half}}
	if more {
		c.FillPolygon(hues[0], outline[:4])
		return
	}
	c.StrokeLines(draw.LineStyle{Color: hues[1], Width: 1.3}, outline)
}

// written is a difference with its sign, "0" where nothing is left of it.
func written(x float64, decimals int) string {
	text := digits(math.Abs(x), decimals)
	switch {
	case text == "0":
		return text
	case x < 0:
		return "−" + text
	}
	return "+" + text
}
