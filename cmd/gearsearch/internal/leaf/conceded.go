package leaf

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"gearsearch/cmd/gearsearch/internal/cloud"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/search"
)

// Conceded is what to give way on where nothing is feasible: the nearest build in the
// plane of two figures, and an arrow to each build that a concession opens.
type Conceded struct {
	Near    *constraints.Build // may be nil
	Relaxed *search.Relaxed
	Problem *constraints.Problem
	X, Y    constraints.Figure // zero: those that show most of it
	System  quantity.System
}

// conceding is what an opening gives way on: one wish, or the two of a pair.
func (c *Conceded) conceding(o search.Opening) inside {
	return each(o.Concessions, func(i int, g search.Given) inside {
		from, to := say.ConcessionEnds(g, c.Problem.Catalog.Currency, c.System)
		return all{when(i > 0, text(" and ")), text(g.Meaning + " "), el("s", text(from)), text(" "), el("b", text(to))}
	})
}

// label is an opening in a few words.
func (c *Conceded) label(o search.Opening) string {
	var list []string
	for _, g := range o.Concessions {
		_, to := say.ConcessionEnds(g, c.Problem.Catalog.Currency, c.System)
		list = append(list, g.Meaning+" "+to)
	}
	return strings.Join(list, ", ")
}

// Node is the drawing with the list of the openings; live, each has places for what can
// be done with it.
func (c *Conceded) Node(m Manner) *Node {
	if c == nil || c.Relaxed == nil || !c.Relaxed.Complete {
		return nil
	}
	if len(c.Relaxed.Openings) == 0 {
		return el("p", text("Giving way on one wish, or on two, is not enough: add parts, or bring back those that were set aside."))
	}
	n := newNamer(c.Problem.Catalog)
	head := "Giving way on any one of these is enough:"
	if len(c.Relaxed.Openings) == 1 {
		head = "Giving way here is enough:"
	}
	return el("div", class("conceded"),
		el("div", el("p", text(head)),
			el("ol", class("gives"), each(c.Relaxed.Openings, func(i int, o search.Opening) inside {
				return el("li", attr{"data-opening", strconv.Itoa(i + 1)}, c.conceding(o),
					when(m == Live, text(" "), el("span", attr{"data-live", "take"})),
					el("p", class("soft opens"), text("opens "), names(n.chain(o.Relaxed), Part.short)),
					when(m == Live, el("div", attr{"data-live", "sheet"})))
			}))),
		c.drawing())
}

// Figures are those of the drawing's axes: of those that can be on them the two that
// most of the concessions bear on, where nobody chose others.
func (c *Conceded) Figures() (x, y constraints.Figure) {
	if c.X.Name != "" && c.Y.Name != "" {
		return c.X, c.Y
	}
	x, y = FieldFigures(c.Problem)
	axes, borne := Axes(c.Problem), map[string]int{x.Name: 1, y.Name: 1}
	for _, o := range c.Relaxed.Openings {
		for _, g := range o.Concessions {
			for _, f := range axes {
				for _, check := range constraints.ChecksOn(f.Name) {
					if slices.Contains(g.Checks, check) {
						borne[f.Name] += 2
					}
				}
			}
		}
	}
	slices.SortStableFunc(axes, func(a, b constraints.Figure) int { return borne[b.Name] - borne[a.Name] })
	if axes[0].Name == y.Name {
		axes[0], axes[1] = axes[1], axes[0]
	}
	return axes[0], axes[1]
}

// target is a build in the drawing, with the openings that lead to it.
type target struct {
	at     vector
	number []string
	label  string
	checks []string // that may pass for what is given way on
}

type vector struct{ x, y float64 }

func (c *Conceded) drawing() *Node {
	if c.Near == nil {
		return nil
	}
	fx, fy := c.Figures()
	f := &Field{Cloud: cloud.New(fx, fy), Listed: []search.Scored{{Build: c.Near}}, Problem: c.Problem, System: c.System}
	for _, o := range c.Relaxed.Openings {
		f.Listed = append(f.Listed, search.Scored{Build: o.Relaxed})
	}
	x := f.axis(fx, func(p cloud.Point) float64 { return p.X }, fieldLeft, fieldWidth-fieldRight)
	y := f.axis(fy, func(p cloud.Point) float64 { return p.Y }, fieldHeight-fieldBottom, fieldTop)
	wishes := slices.Concat(c.wishes(x), c.wishes(y))
	near := vector{x.at(fx.Value(c.Near)), y.at(fy.Value(c.Near))}
	if math.IsNaN(near.x) || math.IsNaN(near.y) {
		return nil
	}
	targets := c.targets(x, y)
	words := "The square is the nearest build. Arrows lead from it, or from the line of the wish, to the build that giving way opens, under its number in the list. The dashed lines are what is asked for."
	return el("figure", class("field"),
		el("svg", attr{"viewBox", fmt.Sprintf("0 0 %g %g", fieldWidth, fieldHeight)}, attr{"role", "img"}, attr{"aria-label", x.label + " and " + y.label + " of the nearest build and of those that giving way opens. " + words},
			grid(x, y), asked(wishes),
			el("rect", class("near"), attr{"x", coordinate(near.x - 8)}, attr{"y", coordinate(near.y - 8)}, attr{"width", "16"}, attr{"height", "16"}),
			arrows(near, targets, wishes),
			labels(near, targets, wishes)),
		el("figcaption", text(words)))
}

// targets are the builds that are opened, those at one place once.
func (c *Conceded) targets(x, y *axis) []target {
	var out []target
	for i, o := range c.Relaxed.Openings {
		at := vector{x.at(x.figure.Value(o.Relaxed)), y.at(y.figure.Value(o.Relaxed))}
		if math.IsNaN(at.x) || math.IsNaN(at.y) {
			continue
		}
		var checks []string
		for _, g := range o.Concessions {
			checks = append(checks, g.Checks...)
		}
		n := strconv.Itoa(i + 1)
		const one = 3 // so near, dots are one
		if k := slices.IndexFunc(out, func(t target) bool { return math.Hypot(t.at.x-at.x, t.at.y-at.y) < one }); k >= 0 {
			out[k].number, out[k].label, out[k].checks = append(out[k].number, n), "", append(out[k].checks, checks...)
			continue
		}
		out = append(out, target{at, []string{n}, c.label(o), checks})
	}
	return out
}

// wishLine is a line of what is asked for, across the drawing.
type wishLine struct {
	from, to vector
	check    string
}

// foot is the point of the line that is nearest to a point.
func (w wishLine) foot(v vector) vector {
	if w.from.x == w.to.x {
		return vector{w.from.x, v.y}
	}
	return vector{v.x, w.from.y}
}

// wishes are the limits on the figure of an axis, which is widened to have them in it.
func (c *Conceded) wishes(a *axis) []wishLine {
	var limits []constraints.Result
	for _, r := range c.Near.Results() {
		if slices.Contains(constraints.ChecksOn(a.figure.Name), r.Name) && r.Unit == a.figure.Unit && !math.IsNaN(r.Limit) {
			limits = append(limits, r)
			const air = 0.04
			shown := r.Limit * r.PerSI * a.factor
			a.low, a.high = math.Min(a.low, shown-air*(a.high-a.low)), math.Max(a.high, shown+air*(a.high-a.low))
		}
	}
	var out []wishLine
	for _, r := range limits {
		at := a.at(r.Limit * r.PerSI)
		if a.from < a.to { // across
			out = append(out, wishLine{vector{at, fieldTop}, vector{at, fieldHeight - fieldBottom}, r.Name})
		} else {
			out = append(out, wishLine{vector{fieldLeft, at}, vector{fieldWidth - fieldRight, at}, r.Name})
		}
	}
	return out
}

func asked(wishes []wishLine) inside {
	return each(wishes, func(_ int, w wishLine) inside {
		return el("path", class("wish"), attr{"d", move(w.from) + "L" + pair(w.to)})
	})
}

func pair(v vector) string { return coordinate(v.x) + " " + coordinate(v.y) }
func move(v vector) string { return "M" + pair(v) }

// Of an arrow: how far it ends from what it joins, its head, and how long it is at
// least.
const (
	arrowOff, arrowHead, arrowHalf = 8.0, 9.0, 4.0
	arrowLeast                     = 3 * arrowOff
)

// start is where the arrow to a target begins: at the nearest build, or, where that is
// the build that is opened, on the line of a wish that gives way. ok is false where
// there is no such line.
func (t *target) start(near vector, wishes []wishLine) (from vector, ok bool) {
	far := func(v vector) bool { return math.Hypot(t.at.x-v.x, t.at.y-v.y) >= arrowLeast }
	if far(near) {
		return near, true
	}
	for _, w := range wishes {
		if foot := w.foot(t.at); slices.Contains(t.checks, w.check) && far(foot) {
			return foot, true
		}
	}
	return near, false
}

// arrows lead to what is opened, each with its head before the dot.
func arrows(near vector, targets []target, wishes []wishLine) inside {
	return each(targets, func(_ int, t target) inside {
		n := strings.Join(t.number, ", ")
		dot := el("g", class("pick"), attr{"data-openings", n}, el("circle", attr{"cx", coordinate(t.at.x)}, attr{"cy", coordinate(t.at.y)}, attr{"r", "5"}), el("title", text(n)))
		from, ok := t.start(near, wishes)
		if !ok {
			return dot
		}
		long := math.Hypot(t.at.x-from.x, t.at.y-from.y)
		ux, uy := (t.at.x-from.x)/long, (t.at.y-from.y)/long
		on := func(along, aside float64) vector {
			return vector{from.x + along*ux - aside*uy, from.y + along*uy + aside*ux}
		}
		end := long - arrowOff
		return all{
			el("path", class("arrow"), attr{"d", move(on(arrowOff, 0)) + "L" + pair(on(end-arrowHead, 0))}),
			el("path", class("head"), attr{"d", move(on(end, 0)) + "L" + pair(on(end-arrowHead, arrowHalf)) + "L" + pair(on(end-arrowHead, -arrowHalf)) + "Z"}),
			dot,
		}
	})
}

// room is a box that a text takes.
type room struct{ left, top, right, bottom float64 }

func (r room) meets(o room) bool {
	return r.left < o.right && o.left < r.right && r.top < o.bottom && o.top < r.bottom
}

// crossedBy reports whether a line runs through the box.
func (r room) crossedBy(a, b vector) bool {
	low, high := 0.0, 1.0
	for _, s := range [2][4]float64{{a.x, b.x, r.left, r.right}, {a.y, b.y, r.top, r.bottom}} {
		step := s[1] - s[0]
		if step == 0 {
			if s[0] <= s[2] || s[0] >= s[3] {
				return false
			}
			continue
		}
		p, q := (s[2]-s[0])/step, (s[3]-s[0])/step
		low, high = max(low, min(p, q)), min(high, max(p, q))
	}
	return low < high
}

// beside are the places of a text of a size beside a dot, from its upper left corner, the
// nearest first.
func beside(long, high, apart float64) []vector {
	out := []vector{{apart, -high / 2}, {-apart - long, -high / 2}}
	for _, off := range []float64{apart, 2 * apart, 3 * apart} {
		for _, x := range []float64{-long / 2, apart, -apart - long} {
			out = append(out, vector{x, -off - high}, vector{x, off})
		}
	}
	return out
}

// labels stand beside their dots, clear of lines, dots and each other: the number with
// what is given way on, else the number alone.
func labels(near vector, targets []target, wishes []wishLine) inside {
	const wide, high, apart = 7.2, 16.0, 9.0 // of a letter; of a line; from the dot
	lines := slices.Clone(wishes)
	var taken []room
	dot := func(v vector) { taken = append(taken, room{v.x - 6, v.y - 6, v.x + 6, v.y + 6}) }
	dot(near)
	for _, t := range targets {
		if from, ok := t.start(near, wishes); ok {
			lines = append(lines, wishLine{from: from, to: t.at})
		}
		dot(t.at)
	}
	clear := func(r room) bool {
		return r.left >= fieldLeft && r.right <= fieldWidth && r.top >= fieldTop && r.bottom <= fieldHeight-fieldBottom &&
			!slices.ContainsFunc(taken, r.meets) && !slices.ContainsFunc(lines, func(l wishLine) bool { return r.crossedBy(l.from, l.to) })
	}
	var out all
	for _, t := range targets {
		n := strings.Join(t.number, ", ")
		placed := false
		for _, words := range []string{strings.TrimSpace(n + " " + t.label), n} {
			long := wide * float64(len([]rune(words)))
			for _, by := range beside(long, high, apart) {
				r := room{t.at.x + by.x, t.at.y + by.y, t.at.x + by.x + long, t.at.y + by.y + high}
				if placed || !clear(r) {
					continue
				}
				placed = true
				taken = append(taken, r)
				out = append(out, el("text", class("named"), attr{"x", coordinate(r.left)}, attr{"y", coordinate(r.bottom - 4)}, text(words)))
			}
		}
	}
	return out
}
