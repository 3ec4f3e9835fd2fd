package leaf

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"gearsearch/cmd/gearsearch/internal/cloud"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
	"gearsearch/search"
)

// Field is the feasible builds in the plane of two figures, with the front that no
// build beats in both, and the builds of a list among them.
type Field struct {
	Cloud   *cloud.Cloud
	All     uint64 // feasible builds; more than the cloud has where it is a sample
	Listed  []search.Scored
	Problem *constraints.Problem
	System  quantity.System
}

// fieldFigures are the figures that a field may have on its axes: those of the
// table, and others that say which way is better.
var fieldFigures = []string{"price", "mass_kg", "top_speed_kmh", "climb_margin_pct", "climb_limit_pct", "range_km", "launch_s", "stop_m", "winding_end_c"}

// Axes are the figures that a field of the problem may have on its axes.
func Axes(p *constraints.Problem) []constraints.Figure {
	var out []constraints.Figure
	for _, name := range fieldFigures {
		f, ok := constraints.FigureNamed(name)
		if !ok || f.Better == 0 || name == "launch_s" && math.IsNaN(p.Brief.Target.LaunchTime) || name == "climb_margin_pct" && !p.Climbs() || name == "winding_end_c" && !p.HasLength() {
			continue
		}
		out = append(out, f)
	}
	return out
}

// The field's frame, in units of its drawing.
const (
	fieldWidth, fieldHeight = 640.0, 400.0
	fieldLeft, fieldRight   = 56.0, 10.0
	fieldTop, fieldBottom   = 26.0, 44.0

	// mostDots is how many dots are drawn.
	mostDots = 5000
)

// axis is one axis of a field: the figure in the unit that is shown.
type axis struct {
	figure    constraints.Figure
	label     string
	unit      string
	factor    float64
	decimals  int
	low, high float64 // of the axis, in that unit
	from, to  float64 // where it lies in the drawing
}

func (f *Field) axis(x constraints.Figure, of func(cloud.Point) float64, from, to float64) *axis {
	a := &axis{figure: x, label: x.Label, from: from, to: to, factor: 1}
	a.unit, a.factor = f.System.Show(x.Unit)
	a.decimals = quantity.Decimals(a.unit)
	if x.Unit == "price" {
		a.unit, a.factor, a.decimals = Currency(f.Problem.Catalog), 1, quantity.Decimals("price")
	}
	a.low, a.high = math.Inf(1), math.Inf(-1)
	for _, p := range append(f.Cloud.Points(), f.Cloud.Front...) {
		a.low, a.high = math.Min(a.low, of(p)*a.factor), math.Max(a.high, of(p)*a.factor)
	}
	for _, s := range f.Listed {
		if v := x.Value(s.Build) * a.factor; !math.IsNaN(v) {
			a.low, a.high = math.Min(a.low, v), math.Max(a.high, v)
		}
	}
	const air = 0.04
	room := air * (a.high - a.low)
	if room == 0 {
		room = math.Max(math.Abs(a.high)/10, 1)
	}
	a.low, a.high = a.low-room, a.high+room
	return a
}

// at is where a value lies in the drawing.
func (a *axis) at(value float64) float64 {
	return a.from + (value*a.factor-a.low)/(a.high-a.low)*(a.to-a.from)
}

// ticks are the values of the axis's ticks in the unit that is shown.
func (a *axis) ticks(n float64) (list []float64, decimals int) {
	step, decimals := layout.Step((a.high - a.low) / n)
	for i := math.Ceil(a.low / step); i*step <= a.high; i++ {
		list = append(list, i*step)
	}
	return list, decimals
}

// name is the axis's figure with its unit and which way is better.
func (a *axis) name() string {
	better := "more is better"
	if a.figure.Better == constraints.Lesser {
		better = "less is better"
	}
	if a.unit == "" {
		return a.label + " (" + better + ")"
	}
	return a.label + ", " + a.unit + " (" + better + ")"
}

func coordinate(x float64) string { return strconv.FormatFloat(math.Round(x*10)/10, 'f', -1, 64) }

// Node is the field as a drawing with its words; nil where no build has both
// figures.
func (f *Field) Node() *Node {
	if f == nil || f.Cloud.Count == 0 {
		return nil
	}
	x := f.axis(f.Cloud.X, func(p cloud.Point) float64 { return p.X }, fieldLeft, fieldWidth-fieldRight)
	y := f.axis(f.Cloud.Y, func(p cloud.Point) float64 { return p.Y }, fieldHeight-fieldBottom, fieldTop)
	dots, drawn := f.dots(x, y)
	words := f.words(drawn)
	return el("figure", class("field"),
		attr{"data-x", x.figure.Name}, attr{"data-y", y.figure.Name},
		attr{"data-x-range", limits(x)}, attr{"data-y-range", limits(y)},
		el("svg", attr{"viewBox", fmt.Sprintf("0 0 %g %g", fieldWidth, fieldHeight)}, attr{"role", "img"}, attr{"aria-label", x.label + " and " + y.label + " of the feasible builds. " + words},
			grid(x, y), dots, f.front(x, y), el("rect", class("brush"), attr{"width", "0"}, attr{"height", "0"}), f.listed(x, y)),
		el("figcaption", text(words)))
}

// limits are the ends of an axis and where they lie: low, high, from, to.
func limits(a *axis) string {
	return strings.Join([]string{sortable(a.low / a.factor), sortable(a.high / a.factor), coordinate(a.from), coordinate(a.to)}, " ")
}

// grid is the frame with its ticks and names.
func grid(x, y *axis) inside {
	var out all
	line := func(x1, y1, x2, y2 float64) *Node {
		return el("line", class("grid"), attr{"x1", coordinate(x1)}, attr{"y1", coordinate(y1)}, attr{"x2", coordinate(x2)}, attr{"y2", coordinate(y2)})
	}
	label := func(at, down float64, anchor, words string) *Node {
		return el("text", attr{"x", coordinate(at)}, attr{"y", coordinate(down)}, attr{"text-anchor", anchor}, text(words))
	}
	const about = 6
	list, decimals := x.ticks(about)
	for _, v := range list {
		at := x.at(v / x.factor)
		out = append(out, line(at, fieldTop, at, fieldHeight-fieldBottom), label(at, fieldHeight-fieldBottom+16, "middle", layout.Fixed(v, decimals)))
	}
	list, decimals = y.ticks(about)
	for _, v := range list {
		at := y.at(v / y.factor)
		out = append(out, line(fieldLeft, at, fieldWidth-fieldRight, at), label(fieldLeft-7, at+4, "end", layout.Fixed(v, decimals)))
	}
	return append(out,
		label(fieldWidth-fieldRight, fieldHeight-8, "end", x.name()), label(0, 14, "start", y.name()))
}

// dots are the builds, no more than can be told apart; drawn is how many.
func (f *Field) dots(x, y *axis) (dots *Node, drawn int) {
	points := f.Cloud.Points()
	step := (len(points) + mostDots - 1) / mostDots
	dots = el("g", class("dots"))
	for i := 0; i < len(points); i += step {
		p := points[i]
		dots.inside = append(dots.inside, el("circle", attr{"cx", coordinate(x.at(p.X))}, attr{"cy", coordinate(y.at(p.Y))}, attr{"r", "1.8"}))
		drawn++
	}
	return dots, drawn
}

// front is the edge of what the front beats.
func (f *Field) front(x, y *axis) inside {
	var path strings.Builder
	var squares all
	for i, p := range f.Cloud.Front {
		px, py := coordinate(x.at(p.X)), coordinate(y.at(p.Y))
		switch {
		case i == 0:
			path.WriteString("M" + px + " " + py)
		case f.Cloud.X.Better == constraints.Greater: // from the last, what is as good in x
			path.WriteString("V" + py + "H" + px)
		default: // up to this one the last is the best
			path.WriteString("H" + px + "V" + py)
		}
		squares = append(squares, el("rect", class("peak"), attr{"x", coordinate(x.at(p.X) - 3)}, attr{"y", coordinate(y.at(p.Y) - 3)}, attr{"width", "6"}, attr{"height", "6"}))
	}
	const few = 40
	return all{el("path", class("front"), attr{"d", path.String()}), when(len(squares) <= few, squares)}
}

// spot is where a build of the list lies in the drawing.
type spot struct {
	rank int
	x, y float64
}

// listed are the builds of the list, the first named: above its dot or below it,
// where no other dot of the list is, and no name.
func (f *Field) listed(x, y *axis) inside {
	const named = 9
	var spots []spot
	for _, s := range f.Listed {
		if at := (spot{s.Rank, x.at(x.figure.Value(s.Build)), y.at(y.figure.Value(s.Build))}); !math.IsNaN(at.x) && !math.IsNaN(at.y) {
			spots = append(spots, at)
		}
	}
	var dots, names all
	var taken []spot
	for _, at := range spots {
		n := strconv.Itoa(at.rank)
		dots = append(dots, el("g", class("pick"), attr{"data-number", n},
			el("circle", attr{"cx", coordinate(at.x)}, attr{"cy", coordinate(at.y)}, attr{"r", "5"}), el("title", text("No. "+n))))
		if at.rank > named {
			continue
		}
		for _, down := range []float64{-13, 14} { // to the middle of the name
			const near = 11
			middle := spot{at.rank, at.x, at.y + down}
			crowds := func(o spot) bool { return math.Hypot(o.x-middle.x, o.y-middle.y) < near }
			if slices.ContainsFunc(spots, crowds) || slices.ContainsFunc(taken, crowds) {
				continue
			}
			taken = append(taken, middle)
			names = append(names, el("text", class("named"), attr{"x", coordinate(middle.x)}, attr{"y", coordinate(middle.y + 4.5)}, attr{"text-anchor", "middle"}, text(n)))
			break
		}
	}
	return all{dots, names}
}

// words says what the field shows.
func (f *Field) words(drawn int) string {
	out := layout.Counted(float64(f.All), "feasible build", "feasible builds")
	switch looked := f.Cloud.Count + f.Cloud.Open; {
	case uint64(looked) < f.All:
		out += fmt.Sprintf(", %s of them looked at", layout.Count(uint64(looked)))
	case f.Cloud.Open > 0:
		out += fmt.Sprintf(", %s left out since one of the two is not known", layout.Count(uint64(f.Cloud.Open)))
	}
	switch {
	case drawn == mostDots || drawn < len(f.Cloud.Points()):
		out += fmt.Sprintf(", %s drawn", layout.Count(uint64(drawn)))
	case drawn < f.Cloud.Count:
		out += "; a dot may stand for several"
	}
	front := "the line is the front"
	if uint64(f.Cloud.Count+f.Cloud.Open) < f.All {
		front += " of these"
	}
	return out + ". Large dots are the builds of the list; " + front + ": no build beats it in both."
}

// NewField makes an empty field of a ranking.
func NewField(r *search.Result, x, y constraints.Figure, system quantity.System) *Field {
	f := &Field{Cloud: cloud.New(x, y), All: r.Feasible, Problem: r.Problem, System: system}
	for s := range r.Builds() {
		f.Listed = append(f.Listed, s)
	}
	return f
}
