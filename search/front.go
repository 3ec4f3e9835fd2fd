package search

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"gearsearch/constraints"
	"gearsearch/search/internal/walk"
)

// Front finds the feasible builds that no other feasible build beats on the
// named figures. A build beats another when it is at least as good on all of
// them and better on one, each as it is written, with ten digits. A figure that is
// not known is worse than any that is.
// The builds come in the order of the ranking, of each design the best that is on
// the front; o.Top keeps the first of them. Each figure must have a better
// direction.
func Front(ctx context.Context, p *constraints.Problem, figures []constraints.Figure, o Options) (*Result, error) {
	if err := Numberable(p); err != nil {
		return nil, err
	}
	walking := newUntil(ctx)
	room := newRation(0, walking.cancel)
	s := newScorer(p)
	gatherers := walk.Crew(walk.Workers(o.Workers), func() *gatherer {
		return &gatherer{figures: figures, pruneAt: fewGathered, room: room}
	})
	t, complete := walk.All(walking, walk.NewPlan(p, o.Strict), gatherers, o.Progress)
	all := gatherers[0]
	for _, g := range gatherers[1:] {
		all.ids, all.points = append(all.ids, g.ids...), append(all.points, g.points...)
		all.prune()
	}
	all.prune()
	if room.spent() {
		return nil, &TooManyError{fmt.Sprintf("more builds are on the front than can be ranked at once, %d", mostOnFront)}
	}
	r := &Result{Tally: t, Problem: p, Complete: complete, Apart: o.Apart, scorer: s, FrontSize: len(all.ids)}
	for _, id := range all.ids {
		r.ranked = append(r.ranked, newEntry(s, walk.Assemble(p, id), id))
	}
	if !o.Apart.None() {
		r.ranked = newDesigns(p, o.Apart).bestEach(r.ranked)
	}
	r.ranked = best(r.ranked, o.Top)
	r.count(ctx, walk.NewPlan(p, o.Strict), o)
	return r, nil
}

// gatherer is a visitor that keeps the feasible builds that no other build it
// has seen beats, and a few more. It keeps their numbers and their figures,
// turned so that greater is better.
type gatherer struct {
	figures []constraints.Figure
	ids     []uint64
	points  []float64 // len(figures) for each
	pruneAt int       // how many are worth pruning
	room    *ration   // spent when too many are left
}

const (
	fewGathered = 1 << 12 // are not worth pruning
	mostOnFront = 1 << 18
)

// prune leaves out the builds that another beats.
func (g *gatherer) prune() {
	k := len(g.figures)
	kept := front(g.points, k)
	for to, from := range kept {
		g.ids[to] = g.ids[from]
		copy(g.points[to*k:(to+1)*k], g.points[from*k:])
	}
	g.ids, g.points = g.ids[:len(kept)], g.points[:len(kept)*k]
	g.pruneAt = max(fewGathered, 2*len(kept))
	if len(kept) > mostOnFront {
		g.room.take()
	}
}

func (g *gatherer) Visit(b *constraints.Build, id uint64) {
	g.ids = append(g.ids, id)
	for _, f := range g.figures {
		g.points = append(g.points, asWritten(f, b))
	}
	if len(g.ids) >= g.pruneAt {
		g.prune()
	}
}

// asWritten is a figure of a build turned so that greater is better, as far as it is
// written: what differs by rounding alone does not beat.
func asWritten(f constraints.Figure, b *constraints.Build) float64 {
	const digits = 10
	x := float64(f.Better) * f.Value(b)
	switch {
	case math.IsNaN(x):
		return math.Inf(-1)
	case x == 0 || math.IsInf(x, 0):
		return x
	}
	scale := math.Pow10(digits - 1 - int(math.Floor(math.Log10(math.Abs(x)))))
	return math.Round(x*scale) / scale
}

// front returns the indices of the points, of k coordinates each, that no other
// point dominates. A point dominates another when it is at least as great in
// every coordinate and greater in one. Equal points do not dominate each other.
//
// Points are sorted in descending lexicographic order, so that none dominates a
// point before it. The front of the better half is found, then that of the
// worse half, and the points that the former dominates are taken out of the
// latter: Kung, Luccio and Preparata, On Finding the Maxima of a Set of
// Vectors, 1975.
func front(points []float64, k int) []int {
	if k == 0 || len(points) == 0 {
		return nil
	}
	f := &fronts{points: points, k: k, beaten: make([]bool, len(points)/k)}
	order := make([]int, len(f.beaten))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { return slices.Compare(f.at(b), f.at(a)) })
	// Equal points share their fate: the first stands for all.
	var distinct []int
	for i, n := range order {
		if i == 0 || !slices.Equal(f.at(n), f.at(order[i-1])) {
			distinct = append(distinct, n)
		}
	}
	f.maxima(distinct)
	var out []int
	lead := 0
	for i, n := range order {
		if i == 0 || !slices.Equal(f.at(n), f.at(lead)) {
			lead = n
		}
		if !f.beaten[lead] {
			out = append(out, n)
		}
	}
	slices.Sort(out)
	return out
}

// fronts is the working state of front.
type fronts struct {
	points []float64
	k      int
	beaten []bool
}

func (f *fronts) at(i int) []float64 { return f.points[i*f.k : (i+1)*f.k] }

// maxima marks the beaten points of a sorted list and returns the rest.
func (f *fronts) maxima(list []int) []int {
	if len(list) <= 1 {
		return list
	}
	half := len(list) / 2
	upper, lower := f.maxima(list[:half]), f.maxima(list[half:])
	// The upper half is ahead in the first coordinate, or ties there and is
	// ahead later: the others decide.
	f.filter(upper, slices.Clone(lower), 1)
	return append(slices.Clip(upper), slices.DeleteFunc(slices.Clone(lower), func(i int) bool { return f.beaten[i] })...)
}

// bruteForce is how many comparisons are cheaper than another division.
const bruteForce = 256

// filter marks the points of lower that some point of upper equals or passes
// in every coordinate from c on.
func (f *fronts) filter(upper, lower []int, c int) {
	switch {
	case len(upper) == 0 || len(lower) == 0:
	case c >= f.k:
		for _, i := range lower {
			f.beaten[i] = true
		}
	case c == f.k-1:
		f.filterLast(upper, lower, c)
	case c == f.k-2:
		f.filterTwo(upper, lower, c)
	case len(upper)*len(lower) <= bruteForce:
		f.filterPlainly(upper, lower, c)
	default:
		f.divide(upper, lower, c)
	}
}

func (f *fronts) filterPlainly(upper, lower []int, c int) {
	for _, i := range lower {
		p := f.at(i)[c:]
		for _, j := range upper {
			if covers(f.at(j)[c:], p) {
				f.beaten[i] = true
				break
			}
		}
	}
}

// covers reports whether a is at least b in every coordinate.
func covers(a, b []float64) bool {
	for i := range a {
		if a[i] < b[i] {
			return false
		}
	}
	return true
}

// filterLast is filter with one coordinate left.
func (f *fronts) filterLast(upper, lower []int, c int) {
	most := math.Inf(-1)
	for _, j := range upper {
		most = math.Max(most, f.at(j)[c])
	}
	for _, i := range lower {
		if f.at(i)[c] <= most {
			f.beaten[i] = true
		}
	}
}

// filterTwo is filter with two coordinates left: a sweep down the first of
// them that remembers the most of the second.
func (f *fronts) filterTwo(upper, lower []int, c int) {
	down := func(a, b int) int { return cmp.Compare(f.at(b)[c], f.at(a)[c]) }
	u, l := slices.SortedFunc(slices.Values(upper), down), slices.SortedFunc(slices.Values(lower), down)
	most, j := math.Inf(-1), 0
	for _, i := range l {
		for ; j < len(u) && f.at(u[j])[c] >= f.at(i)[c]; j++ {
			most = math.Max(most, f.at(u[j])[c+1])
		}
		if j > 0 && f.at(i)[c+1] <= most {
			f.beaten[i] = true
		}
	}
}

// divide splits both lists at the middle of coordinate c. Where that does not
// split them, they are compared plainly.
func (f *fronts) divide(upper, lower []int, c int) {
	values := make([]float64, 0, len(upper)+len(lower))
	for _, list := range [][]int{upper, lower} {
		for _, i := range list {
			values = append(values, f.at(i)[c])
		}
	}
	slices.Sort(values)
	middle := values[len(values)/2]
	if middle == values[0] {
		// More than half are least: split above them.
		i, _ := slices.BinarySearch(values, math.Nextafter(middle, math.Inf(1)))
		if i == len(values) { // all alike
			f.filter(upper, lower, c+1)
			return
		}
		middle = values[i]
	}
	split := func(list []int) (high, low []int) {
		for _, i := range list {
			if f.at(i)[c] >= middle {
				high = append(high, i)
			} else {
				low = append(low, i)
			}
		}
		return high, low
	}
	uh, ul := split(upper)
	lh, ll := split(lower)
	f.filter(uh, lh, c)
	f.filter(uh, ll, c+1)
	f.filter(ul, slices.DeleteFunc(ll, func(i int) bool { return f.beaten[i] }), c)
}
