package walk

import (
	"math"

	"gearsearch/constraints"
)

// Slack is by how much, relative to what is asked for, a window or a sum is
// held to be unsure: far more than rounding and the tolerance of comparisons
// amount to, and little enough that few pairs are in between. The exact test
// decides those.
const Slack = 1e-5

// zone is where on a lane a check with a window is decided: outside [o0, o1)
// one way, inside [i0, i1) another, and in between not.
type zone struct {
	index          uint8 // of the check
	o0, i0, i1, o1 int
	inside         effect
	outside        effect
}

// effect is what a verdict does to a build.
type effect uint8

const (
	accepts effect = iota
	rejects
	clouds // undecided, and that does not reject
	unsure // the exact test decides
)

// effect is what a verdict of a check does.
func (r Rejection) effect(v constraints.Verdict) effect {
	switch {
	case v == constraints.Fail && r.Fail, v == constraints.Undecided && r.Undecided:
		return rejects
	case v == constraints.Undecided:
		return clouds
	}
	return accepts
}

// at is the zone's effect at a position.
func (z *zone) at(i int) effect {
	switch {
	case i < z.o0 || i >= z.o1:
		return z.outside
	case i >= z.i0 && i < z.i1:
		return z.inside
	}
	return unsure
}

// zone puts a check's window on a lane.
func (w *Worker) zone(l *lane, index uint8) zone {
	window := w.Checks[index].Window
	outer := window(&w.build, l.light, 1-Slack)
	inner := window(&w.build, l.heavy, 1+Slack)
	z := zone{index: index, inside: w.Rejects[index].effect(outer.Inside), outside: w.Rejects[index].effect(outer.Outside)}
	if z.inside == z.outside { // nothing to tell apart
		z.o1, z.i1 = len(l.turns), len(l.turns)
		return z
	}
	z.o0, z.o1 = span(l.turns, outer.Low*(1-Slack), outer.High*(1+Slack))
	z.i0, z.i1 = span(l.turns, inner.Low*(1+Slack), inner.High*(1-Slack))
	if z.i0 >= z.i1 {
		z.i0, z.i1 = z.o1, z.o1
	}
	return z
}

// span is the positions of a sorted list with values in [low, high].
func span(list []float64, low, high float64) (from, to int) {
	if !(low <= high) {
		return 0, 0
	}
	from, to = lowerBound(list, low), len(list)
	if high < list[to-1] {
		to = lowerBound(list, math.Nextafter(high, math.Inf(1)))
	}
	return from, max(from, to)
}

// lowerBound is the first position of a sorted list with a value of at least
// x.
func lowerBound(list []float64, x float64) int {
	low, high := 0, len(list)
	for low < high {
		if middle := int(uint(low+high) >> 1); list[middle] < x {
			low = middle + 1
		} else {
			high = middle
		}
	}
	return low
}

// cuts are the positions at which some zone's effect changes, ascending, from
// 0 to the number of pairs.
type cuts struct {
	at [4*maxZones + 2]int
	n  int
}

func (c *cuts) add(x int) {
	i := c.n
	for ; i > 0 && c.at[i-1] >= x; i-- {
		if c.at[i-1] == x {
			return
		}
	}
	copy(c.at[i+1:c.n+1], c.at[i:c.n])
	c.at[i] = x
	c.n++
}

// mixed is a sum whose limit lies among a lane's numbers.
type mixed struct {
	index       uint8
	values      []float64
	under, over float64 // surely within at most under, surely beyond above over
	soft        bool
}

// lane counts what becomes of a lane's pairs with the worker's electrical
// group, and visits those that nothing rejects.
func (w *Worker) lane(l *lane) {
	n := len(l.pairs)
	if w.Uncounted && w.passesOver(l, 0, n) {
		return
	}
	if l.exact || w.exact || n < w.Sizes.LaneLeast {
		w.test1by1(l, 0, n)
		return
	}
	last, unknown, mix := w.lanesums(l)
	unknown = unknown || l.unknown

	// Windows in the order of the checks, until one rejects everything.
	var zones [maxZones]zone
	var c cuts
	c.add(0)
	c.add(n)
	nz := 0
	for _, index := range w.windows {
		if index > last {
			break
		}
		z := w.zone(l, index)
		zones[nz] = z
		nz++
		if z.outside == rejects && z.o0 >= z.o1 {
			last = index
			break
		}
		for _, x := range [...]int{z.o0, z.i0, z.i1, z.o1} {
			if x > 0 && x < n {
				c.add(x)
			}
		}
	}
	for i := range c.n - 1 {
		w.segment(l, c.at[i], c.at[i+1], zones[:nz], last, unknown, mix)
	}
}

// lanesums compares a lane's sums to what the electrical group leaves of their
// limits: the first check whose sum every pair passes the limit of, or none,
// whether every pair is undecided for it, and the sums that not all pairs are
// on one side of.
func (w *Worker) lanesums(l *lane) (last uint8, unknown bool, mix []mixed) {
	last, mix = none, w.mix[:0]
	for i, index := range w.sums {
		s, left := &l.sums[i], w.left[i]
		margin := Slack * (w.scale[i] + s.scale)
		switch {
		case s.most <= left-margin:
		case s.least > left+margin && s.soft:
			unknown = true
		case s.least > left+margin:
			return min(last, index), unknown, mix
		default:
			mix = append(mix, mixed{index, s.values, left - margin, left + margin, s.soft})
		}
	}
	return last, unknown, mix
}

// segment counts the pairs from one cut to the next: every zone has one effect
// there. last is a check that rejects them all, or none.
func (w *Worker) segment(l *lane, from, to int, zones []zone, last uint8, unknown bool, mix []mixed) {
	decision, first := accepts, uint8(none)
	for i := range zones {
		z := &zones[i]
		if z.index > last {
			break
		}
		switch z.at(from) {
		case rejects:
			decision, first = rejects, z.index
		case unsure:
			decision, first = unsure, z.index
		case clouds:
			unknown = true
			continue
		default:
			continue
		}
		break
	}
	if last < first {
		decision, first = rejects, last
	}
	if w.open < first {
		decision, first = unsure, w.open
	}
	for len(mix) > 0 && mix[len(mix)-1].index > first {
		mix = mix[:len(mix)-1]
	}
	switch {
	case len(mix) > 0:
		w.mixed(l, from, to, decision, first, unknown, mix)
	case decision == rejects:
		w.reject(first, uint64(to-from))
	case decision == unsure:
		w.test1by1(l, from, to)
	case w.passesOver(l, from, to):
		w.skip(uint64(to-from), unknown)
	default:
		for i := from; i < to; i++ {
			w.accept(l, i, unknown)
		}
	}
}

// passesOver reports whether the visitor need not see a lane's pairs from one
// position to another.
func (w *Worker) passesOver(l *lane, from, to int) bool {
	if w.chooser == nil {
		return false
	}
	w.reach = l.reach(from, to)
	return w.chooser.Passes(&w.build, &w.reach)
}

// mixed is segment where some sums must be compared pair by pair.
func (w *Worker) mixed(l *lane, from, to int, decision effect, first uint8, unknown bool, mix []mixed) {
	if decision == rejects && len(mix) == 1 && !mix[0].soft {
		w.countMixed(l, from, to, first, &mix[0])
		return
	}
	over := decision == accepts && w.passesOver(l, from, to)
pairs:
	for i := from; i < to; i++ {
		cloudy := unknown
		for j := range mix {
			m := &mix[j]
			switch v := m.values[i]; {
			case v <= m.under:
			case v <= m.over:
				w.test1by1(l, i, i+1)
				continue pairs
			case m.soft:
				cloudy = true
			default:
				w.reject(m.index, 1)
				continue pairs
			}
		}
		switch decision {
		case rejects:
			w.reject(first, 1)
		case unsure:
			w.test1by1(l, i, i+1)
		default:
			if over {
				w.skip(1, cloudy)
			} else {
				w.accept(l, i, cloudy)
			}
		}
	}
}

// countMixed is mixed for pairs that are all rejected, by the sum or else by
// the check first.
func (w *Worker) countMixed(l *lane, from, to int, first uint8, m *mixed) {
	beyond, rim := uint64(0), false
	for _, v := range m.values[from:to] {
		if v > m.over {
			beyond++
		} else if v > m.under {
			rim = true
		}
	}
	if rim {
		w.test1by1(l, from, to)
		return
	}
	w.reject(m.index, beyond)
	w.reject(first, uint64(to-from)-beyond)
}
