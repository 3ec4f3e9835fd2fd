package plot

import (
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// chart is curves, rules and marks in one pair of axes, each with its name
// beside it. It draws itself as one plotter, so that the names can be placed
// where they hide nothing.
type chart struct {
	x, y   axis
	curves []curve
	rules  []rule
	marks  []mark
	cloud  []point // many points without names, under everything else
	keyed  bool    // the curves' names stand in one block, in the order in which the curves end
	bare   bool    // no x axis: the chart stands over another that has it
}

// axis is one axis: what it shows and in which unit, and its ends.
type axis struct {
	label    string
	min, max float64
}

// point is a place in the data.
type point struct{ x, y float64 }

// curve is a line through points with its name. Points out of the axes are cut
// off; a NaN breaks the line.
type curve struct {
	points []point
	stroke stroke
	label  string
	hidden bool // only its label is drawn
}

// rule is a straight line across the chart: a limit or a target.
type rule struct {
	at       float64
	vertical bool
	label    string
}

// shape is the shape of a mark.
type shape uint8

const (
	disc shape = iota
	diamond
	box
	tick  // where one limit hands over to another
	cross // what is asked for
)

// mark is a place with a name; without one it is only drawn.
type mark struct {
	point
	shape  shape
	colour stroke
	label  string
}

// plot makes the axes of the chart.
func (c *chart) plot() *plot.Plot {
	p := plot.New()
	p.BackgroundColor = nil
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = c.x.min, c.x.max, c.y.min, c.y.max
	for _, a := range []*plot.Axis{&p.X, &p.Y} {
		a.Color, a.Tick.Color = ink, faint(0.6)
		a.Width, a.Tick.Width = 0.8, 0.8
		a.Tick.Length = 4
		a.Padding = 0
		a.Tick.Marker = ticks{}
	}
	p.X.Tick.Label = textStyle(tickSize, draw.XCenter, draw.YTop)
	p.Y.Tick.Label = textStyle(tickSize, draw.XRight, draw.YCenter)
	p.X.Label.TextStyle = textStyle(labelSize, draw.XCenter, draw.YBottom)
	p.X.Label.Text, p.X.Label.Padding = c.x.label, 3
	if c.bare {
		p.X.Label.Text, p.X.Tick.Marker = "", plain{ticks{}}
	}
	p.Add(c)
	return p
}

// margin is kept free at the left and the right of a figure.
const margin = 4

// yStrip is the height over the axes in which the name of the y axis stands,
// level, where no head has to be tilted.
const yStrip = 18

// draw draws the chart into a canvas.
func (c *chart) draw(into draw.Canvas) {
	into = draw.Crop(into, margin, -margin, 1, -yStrip)
	c.over(into)
	c.plot().Draw(into)
}

// over writes the name of the y axis over the canvas of a plot.
func (c *chart) over(into draw.Canvas) {
	style := textStyle(labelSize, draw.XLeft, draw.YTop)
	into.FillText(style, vg.Point{X: into.Min.X, Y: into.Max.Y + yStrip - 1}, c.y.label)
}

// Plot draws the inside of the axes.
func (c *chart) Plot(canvas draw.Canvas, p *plot.Plot) {
	tx, ty := p.Transforms(&canvas)
	to := func(q point) vg.Point { return vg.Point{X: tx(q.x), Y: ty(q.y)} }
	c.grid(canvas, p)
	l := newPlacer(canvas)
	c.dots(l, canvas, to)
	for i := range c.curves {
		k := &c.curves[i]
		if k.hidden {
			continue
		}
		for _, line := range k.lines(to) {
			lines := canvas.ClipLinesXY(line)
			l.avoid(lines)
			canvas.StrokeLines(k.stroke.line(), lines...)
		}
	}
	for _, r := range c.rules {
		a, b := vg.Point{X: canvas.Min.X, Y: ty(r.at)}, vg.Point{X: canvas.Max.X, Y: ty(r.at)}
		if r.vertical {
			a, b = vg.Point{X: tx(r.at), Y: canvas.Min.Y}, vg.Point{X: tx(r.at), Y: canvas.Max.Y}
		}
		lines := canvas.ClipLinesXY([]vg.Point{a, b})
		l.avoid(lines)
		canvas.StrokeLines(draw.LineStyle{Color: faint(0.75), Width: 1, Dashes: []vg.Length{1, 2.5}}, lines...)
	}
	for _, m := range c.marks {
		if at := to(m.point); canvas.Contains(at) {
			m.draw(canvas, at)
			l.block(vg.Rectangle{Min: at.Sub(vg.Point{X: 5, Y: 5}), Max: at.Add(vg.Point{X: 5, Y: 5})})
		}
	}
	c.names(l, canvas, to)
}

// dots draws the cloud, points that would cover each other once.
func (c *chart) dots(l *placer, canvas draw.Canvas, to func(point) vg.Point) {
	const size = 2.5
	seen := map[[2]int]bool{}
	var path vg.Path
	for _, q := range c.cloud {
		at := to(q)
		key := [2]int{int(at.X / size), int(at.Y / size)}
		if seen[key] {
			continue
		}
		seen[key] = true
		middle := vg.Point{X: (vg.Length(key[0]) + 0.5) * size, Y: (vg.Length(key[1]) + 0.5) * size}
		path.Move(middle.Sub(vg.Point{Y: 1}))
		path.Line(middle.Add(vg.Point{Y: 1}))
		l.dots = append(l.dots, middle)
	}
	canvas.SetLineStyle(draw.LineStyle{Color: faint(0.32), Width: 2})
	canvas.Stroke(path)
}

// names writes the names: of marks first, which have least choice.
func (c *chart) names(l *placer, canvas draw.Canvas, to func(point) vg.Point) {
	style := textStyle(labelSize, draw.XLeft, draw.YBottom)
	strong := style
	if len(c.cloud) > 0 { // a name may have to stand among the points
		strong.Font.Weight = bold
	}
	for _, m := range c.marks {
		if at := to(m.point); m.label != "" && canvas.Contains(at) {
			l.place(m.label, strong, []vg.Point{at}, 8, nil)
		}
	}
	for _, r := range c.rules {
		if r.label == "" {
			continue
		}
		var along []vg.Point
		const places = 24
		for i := range places {
			share := (float64(i) + 0.5) / places
			at := vg.Point{X: canvas.X(share), Y: to(point{0, r.at}).Y}
			if r.vertical {
				at = vg.Point{X: to(point{r.at, 0}).X, Y: canvas.Y(1 - share)}
			}
			along = append(along, at)
		}
		if canvas.Contains(along[0]) {
			l.place(r.label, style, along, 3, nil)
		}
	}
	if c.keyed && c.key(l, canvas, to) {
		return
	}
	for _, hidden := range []bool{true, false} { // what has to stand on a piece of a curve has less choice
		for i := range c.curves {
			if k := &c.curves[i]; k.label != "" && k.hidden == hidden {
				c.nameCurve(l, k, canvas, to)
			}
		}
	}
}

// nameCurve writes the name of a curve, with a sample of its stroke.
func (c *chart) nameCurve(l *placer, k *curve, canvas draw.Canvas, to func(point) vg.Point) {
	var along []vg.Point
	for _, q := range k.points {
		if at := to(q); canvas.Contains(at) {
			along = append(along, at)
		}
	}
	style, sample := textStyle(labelSize, draw.XLeft, draw.YBottom), &k.stroke
	if k.hidden {
		style.Font.Size, sample = smallSize, nil
	}
	const anchors = 40
	l.place(k.label, style, thin(along, anchors), 4, sample)
}

// thin keeps about n of the points, evenly.
func thin(points []vg.Point, n int) []vg.Point {
	step := max(1, len(points)/n)
	var out []vg.Point
	for i := step / 2; i < len(points); i += step {
		out = append(out, points[i])
	}
	return out
}

// lines are the pieces of the curve between what is not a number.
func (k *curve) lines(to func(point) vg.Point) [][]vg.Point {
	var out [][]vg.Point
	var line []vg.Point
	for _, q := range k.points {
		if math.IsNaN(q.x) || math.IsNaN(q.y) {
			out, line = append(out, line), nil
			continue
		}
		line = append(line, to(q))
	}
	return append(out, line)
}

// grid draws a faint line at each labelled tick.
func (c *chart) grid(canvas draw.Canvas, p *plot.Plot) {
	tx, ty := p.Transforms(&canvas)
	style := draw.LineStyle{Color: faint(0.13), Width: 0.7}
	for _, t := range (ticks{}).Ticks(p.X.Min, p.X.Max) {
		if x := tx(t.Value); canvas.ContainsX(x) {
			canvas.StrokeLine2(style, x, canvas.Min.Y, x, canvas.Max.Y)
		}
	}
	for _, t := range (ticks{}).Ticks(p.Y.Min, p.Y.Max) {
		if y := ty(t.Value); canvas.ContainsY(y) {
			canvas.StrokeLine2(style, canvas.Min.X, y, canvas.Max.X, y)
		}
	}
}

func (m mark) draw(c draw.Canvas, at vg.Point) {
	const r = 4
	var path vg.Path
	polygon := func(xy ...vg.Length) {
		for i := 0; i < len(xy); i += 2 {
			p := at.Add(vg.Point{X: xy[i], Y: xy[i+1]})
			if i == 0 {
				path.Move(p)
			} else {
				path.Line(p)
			}
		}
	}
	c.SetColor(m.colour.colour)
	switch m.shape {
	case disc:
		path.Move(at.Add(vg.Point{X: r}))
		path.Arc(at, r, 0, 2*math.Pi)
		path.Close()
		c.Fill(path)
	case diamond:
		polygon(0, r+1.5, r+1.5, 0, 0, -r-1.5, -r-1.5, 0)
		path.Close()
		c.Fill(path)
	case box:
		polygon(-r, -r, r, -r, r, r, -r, r)
		path.Close()
		c.Fill(path)
	case tick, cross:
		c.SetLineWidth(1.6)
		c.SetLineDash(nil, 0)
		if m.shape == tick {
			polygon(0, -r-1, 0, r+1)
		} else {
			polygon(-r-1, -r-1, r+1, r+1)
			c.Stroke(path)
			path = nil
			polygon(-r-1, r+1, r+1, -r-1)
		}
		c.Stroke(path)
	}
}
