package plot

import (
	"context"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"gearsearch/catalog"
	"gearsearch/cmd/gearsearch/internal/cloud"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
	"gearsearch/search"
)

// gridOpacities are those of the lines at ticks and between rows, which texts may
// touch.
var gridOpacities = []string{"0.13", "0.15"}

// move is a step of the data of a path, with its coordinates.
var move = regexp.MustCompile(`([MLAZ])([^MLAZ]*)`)

// segments are the straight pieces of a stroked path, an arc by the box around it.
func (p pathElement) segments(t testing.TB) [][2][2]float64 {
	t.Helper()
	var out [][2][2]float64
	var at, first [2]float64
	for _, m := range move.FindAllStringSubmatch(p.data, -1) {
		xy := coordinate.FindAllString(m[2], -1)
		to := first
		if n := len(xy); n >= 2 {
			to = [2]float64{number(t, xy[n-2]), number(t, xy[n-1])}
		}
		if m[1] == "M" {
			first = to
		} else {
			out = append(out, [2][2]float64{at, to})
		}
		at = to
	}
	return out
}

// crosses reports whether a piece of a line is inside a box for some of its length.
func crosses(piece [2][2]float64, left, top, right, bottom float64) bool {
	low, high := 0.0, 1.0
	for i, ends := range [2][2]float64{{left, right}, {top, bottom}} {
		from, step := piece[0][i], piece[1][i]-piece[0][i]
		if step == 0 {
			if from <= ends[0] || from >= ends[1] {
				return false
			}
			continue
		}
		a, b := (ends[0]-from)/step, (ends[1]-from)/step
		low, high = max(low, min(a, b)), min(high, max(a, b))
	}
	return low < high
}

// crossed are the names of a drawing that a line or a mark runs through.
func crossed(t testing.TB, d *drawing) []string {
	t.Helper()
	var pieces [][2][2]float64
	for _, p := range d.paths {
		if p.stroke != "" || p.small() {
			if !slices.Contains(gridOpacities, p.opacity) {
				pieces = append(pieces, p.segments(t)...)
			}
		}
	}
	var out []string
	for _, e := range d.texts {
		left, top, right, bottom := e.box()
		if slices.ContainsFunc(pieces, func(piece [2][2]float64) bool { return crosses(piece, left, top, right, bottom) }) {
			out = append(out, e.text)
		}
	}
	return out
}

// small reports whether a filled path is a mark: wider ones are areas, in which texts
// may stand.
func (p pathElement) small() bool {
	const widest = 12
	low, high := math.Inf(1), math.Inf(-1)
	for _, q := range p.points {
		low, high = min(low, q[0]), max(high, q[0])
	}
	return len(p.points) == 0 || high-low <= widest
}

// firstBuilds are the best builds of a brief of the demo, one of them on belts.
func firstBuilds(t testing.TB, brief string) (*search.Result, []Subject) {
	t.Helper()
	r, err := rank(brief, 200)
	if err != nil {
		t.Fatal(err)
	}
	var out []Subject
	for s := range r.Builds() {
		out = append(out, Subject{Build: s.Build})
		break
	}
	return r, append(out, onBelts(t, r, 0))
}

// TestNamesAreClear: no line, dot or mark runs through a name, whatever is drawn.
func TestNamesAreClear(t *testing.T) {
	names, wrong := 0, 0
	systems, briefs := []quantity.System{quantity.Metric, quantity.Imperial}, catalog.DemoBriefs()
	if testing.Short() {
		systems, briefs = systems[:1], briefs[:1]
	}
	look := func(what string, f *Figure) {
		d := read(t, f.Inline())
		names += len(d.texts)
		for _, name := range crossed(t, d) {
			wrong++
			t.Errorf("%s: something runs through %q", what, name)
		}
	}
	for _, src := range briefs {
		brief := catalog.DemoBriefName(src)
		r, subjects := firstBuilds(t, brief)
		for i, s := range subjects {
			for _, system := range systems {
				s.System = system
				for kind, make := range single {
					f, err := make(s)
					if err != nil {
						if !expected(err) {
							t.Errorf("%s: %v", kind, err)
						}
						continue
					}
					look(fmt.Sprintf("%s of the build %d of %s in units %d", kind, i, brief, system), f)
					look(fmt.Sprintf("narrow %s of the build %d of %s in units %d", kind, i, brief, system), f.Within(narrowest))
				}
			}
		}
		front(t, r, subjects[0], func(what string, f *Figure) { look(what+" of "+brief, f) })
	}
	t.Logf("%d of %d names are run through", wrong, names)
}

// TestNamesStandInTheOrderOfCurves: of two charges whose names stand above each other
// that of the upper curve is the upper one.
func TestNamesStandInTheOrderOfCurves(t *testing.T) {
	compared := 0
	for _, src := range catalog.DemoBriefs() {
		brief := catalog.DemoBriefName(src)
		_, subjects := firstBuilds(t, brief)
		for _, s := range subjects {
			for _, kind := range []string{"thrust", "climb", "launch"} {
				f, err := single[kind](s)
				if err != nil {
					t.Fatal(err)
				}
				for _, f := range []*Figure{f, f.Within(narrowest)} {
					compared += inOrder(t, kind+" of "+brief, read(t, f.Inline()))
				}
			}
		}
	}
	if compared == 0 {
		t.Error("no names stand above each other")
	}
}

// inOrder holds the names of charges to the order of their curves, and returns how
// many pairs it could compare.
func inOrder(t *testing.T, what string, d *drawing) int {
	t.Helper()
	type named struct {
		textElement
		curve [][2]float64
	}
	var list []named
	for i, prefix := range []string{"full ", "nominal ", "low "} {
		c := strokeOf(i).colour
		paint := fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B)
		for _, e := range d.texts {
			for _, p := range d.paths {
				if strings.HasPrefix(e.text, prefix) && p.stroke == paint && len(p.points) > 2 {
					list = append(list, named{e, p.points})
				}
			}
		}
	}
	pairs := 0
	for i, a := range list {
		for _, b := range list[:i] {
			left, right := max(a.x, b.x), min(a.x+a.length, b.x+b.length)
			apart := yAt(a.curve, (left+right)/2) - yAt(b.curve, (left+right)/2)
			if left >= right || math.Abs(apart) < 6 {
				continue
			}
			pairs++
			if (apart > 0) != (a.y > b.y) {
				t.Errorf("%s: %q and %q stand in another order than their curves", what, a.text, b.text)
			}
		}
	}
	return pairs
}

// yAt is the height of a curve at the point whose x is nearest.
func yAt(points [][2]float64, x float64) float64 {
	best := points[0]
	for _, p := range points {
		if math.Abs(p[0]-x) < math.Abs(best[0]-x) {
			best = p
		}
	}
	return best[1]
}

// front draws all feasible builds of a ranking.
func front(t testing.TB, r *search.Result, s Subject, look func(what string, f *Figure)) {
	t.Helper()
	for _, pair := range [][2]string{{"price", "range_km"}, {"price", "climb_limit_pct"}, {"mass_kg", "top_speed_kmh"}} {
		x, _ := constraints.FigureNamed(pair[0])
		y, _ := constraints.FigureNamed(pair[1])
		c := cloud.New(x, y)
		if _, err := search.Stream(context.Background(), r.Problem, search.Options{}, func(s search.Scored) error { c.Add(s.Build); return nil }); err != nil {
			t.Fatal(err)
		}
		f, err := Plane(c, "demo", "EUR", quantity.Metric, Named{"this build", s.Build})
		if err != nil {
			t.Fatal(err)
		}
		look(pair[1]+" against "+pair[0], f)
		look("narrow "+pair[1]+" against "+pair[0], f.Within(narrowest))
	}
}
