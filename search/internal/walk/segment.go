package walk

import (
	"math"
	"slices"

	"gearsearch/constraints"
)

// Slack is by how much, relative to what is asked for, a window or a sum is
// held to be unsure: far more than rounding and the tolerance of comparisons
// amount to, and little enough that few pairs are in between. The exact test
// decides those.
const Slack = 1e-5

// edges are where on a lane one corner of a check with a window is decided: one
// way outside [o0, o1), another inside [i0, i1), and in between not.
type edges struct {
	o0, i0, i1, o1  int
	inside, outside constraints.Verdict
}

// at is the verdict at a position; sure is false where only the exact test tells.
func (e *edges) at(i int) (v constraints.Verdict, sure bool) {
	switch {
	case i < e.o0 || i >= e.o1:
		return e.outside, true
	case i >= e.i0 && i < e.i1:
		return e.inside, true
	}
	return 0, false
}

// everywhere makes the verdict one for all n positions.
func (e *edges) everywhere(n int) { e.o0, e.i0, e.i1, e.o1 = 0, 0, n, n }

// zone is the part of a lane on which a check with a window is decided: by the easier
// corner of the electrical group and, where that does not fail and there are two
// corners, by the other.
type zone struct {
	index      uint8 // of the check
	corners    bool  // there are two
	easy, hard edges
	effects    [3]effect // by verdict
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
	v, sure := z.easy.at(i)
	if z.corners && sure && v != constraints.Fail {
		if v, sure = z.hard.at(i); v != constraints.Pass {
			v = constraints.Undecided
		}
	}
	if !sure {
		return unsure
	}
	return z.effects[v]
}

// rejectsAll reports whether the check rejects every pair of the lane.
func (z *zone) rejectsAll() bool {
	return z.easy.o0 >= z.easy.o1 && z.easy.outside == constraints.Fail && z.effects[constraints.Fail] == rejects
}

// positions are where the effect may change, and 0.
func (z *zone) positions() [8]int {
	return [...]int{z.easy.o0, z.easy.i0, z.easy.i1, z.easy.o1, z.hard.o0, z.hard.i0, z.hard.i1, z.hard.o1}
}

// zone puts a check's windows on a lane.
func (w *Worker) zone(l *lane, index uint8) zone {
	c, n := w.Checks[index], len(l.turns)
	z := zone{index: index, corners: c.Corners && w.build.Blank()}
	for v := range z.effects {
		z.effects[v] = w.Rejects[index].effect(constraints.Verdict(v))
	}
	if c.Window == nil {
		z.corners, z.easy = false, w.coreOf(l, index)
		return z
	}
	z.easy = edgesOf(c, c.Rules(&w.build, false), l)
	if !z.corners {
		if z.effects[z.easy.inside] == z.effects[z.easy.outside] { // nothing to tell apart
			z.easy.everywhere(n)
		}
		return z
	}
	if (z.easy.inside == constraints.Fail) == (z.easy.outside == constraints.Fail) {
		z.easy.everywhere(n)
	}
	z.hard = edgesOf(c, c.Rules(&w.build, true), l)
	if (z.hard.inside == constraints.Pass) == (z.hard.outside == constraints.Pass) {
		z.hard.everywhere(n)
	}
	return z
}

// edgesOf puts a check's window for one corner on a lane.
func edgesOf(c *constraints.Check, b *constraints.Build, l *lane) edges {
	outer, inner := c.Window(b, l.light, 1-Slack), c.Window(b, l.heavy, 1+Slack)
	e := edges{inside: outer.Inside, outside: outer.Outside}
	e.o0, e.o1 = span(l.turns, outer.Low*(1-Slack), outer.High*(1+Slack))
	e.i0, e.i1 = span(l.turns, inner.Low*(1+Slack), inner.High*(1-Slack))
	if e.i0 >= e.i1 {
		e.i0, e.i1 = e.o1, e.o1
	}
	return e
}

// coreOf puts the core of a check on a lane, once so many pairs of the electrical group have
// been tested that it is worth finding.
func (w *Worker) coreOf(l *lane, index uint8) edges {
	e := edges{o1: len(l.turns), inside: constraints.Pass, outside: constraints.Fail}
	if w.tested >= w.Sizes.CoreLeast {
		low, high := w.core(l.hardest, index)
		e.i0, e.i1 = span(l.turns, low*(1+Slack), high*(1-Slack))
	}
	return e
}

// core is the range of gearings with which both corners of the electrical group surely
// pass a check with some lanes.
func (w *Worker) core(hardest *constraints.Lane, index uint8) (low, high float64) {
	for i := range w.cores {
		if c := &w.cores[i]; c.hardest == hardest && c.index == index {
			return c.low, c.high
		}
	}
	check := w.Checks[index]
	found := check.Core(&w.build, *hardest, 1+Slack)
	if w.build.Blank() {
		found = found.And(check.Core(w.build.Best(), *hardest, 1+Slack))
	}
	w.cores = append(w.cores, knownCore{hardest, index, found.Low, found.High})
	return found.Low, found.High
}

// knownCore is a core of the electrical group at hand.
type knownCore struct {
	hardest   *constraints.Lane // of the lanes
	index     uint8             // of the check
	low, high float64           // gearings, 1/m
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
	at [8*maxZones + 2]int
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
	index uint8
	*laneSum
	under, over float64 // surely within at most under, surely beyond above over
}

// lane counts what becomes of a lane's pairs with the worker's electrical
// group, and visits those that nothing rejects.
func (w *Worker) lane(l *lane) {
	n := len(l.pairs)
	if w.Uncounted && w.passesOver(l, 0, n) {
		return
	}
	if l.exact || w.exact || n < w.Sizes.LaneLeast {
		w.test1by1(l, 0, n, w.Joint)
		return
	}
	last, unknown, mix := w.lanesums(l)
	unknown = unknown || l.unknown

	// Windows in the order of the checks, until they reject everything.
	var zones [maxZones]zone
	var c cuts
	c.add(0)
	c.add(n)
	nz := 0
	low, high := 0, n // what no window rejects so far
	for _, index := range w.windows {
		if index > last {
			break
		}
		z := w.zone(l, index)
		zones[nz] = z
		nz++
		for _, x := range z.positions() {
			if low < x && x < high {
				c.add(x)
			}
		}
		if z.easy.outside == constraints.Fail && z.effects[constraints.Fail] == rejects {
			low, high = max(low, z.easy.o0), min(high, z.easy.o1)
		}
		if low >= high {
			break
		}
	}
	for i := range c.n - 1 {
		w.segment(l, c.at[i], c.at[i+1], zones[:nz], last, unknown, mix)
	}
}

// lanesums compares a lane's sums to what the electrical group leaves of their
// limits: the first check whose sum every pair passes the limit of, or none,
// whether every pair is undecided for it, and the sums that not all pairs are
// on one side of. It notes in w.within of how many sums of a check every pair is surely
// within the limit.
func (w *Worker) lanesums(l *lane) (last uint8, unknown bool, mix []mixed) {
	last, mix = none, w.mix[:0]
	clear(w.within)
	for i := range w.sums {
		index, s, left := w.sums[i].check, &l.sums[i], w.left[i]
		margin := Slack * (w.scale[i] + s.scale)
		switch {
		case s.most <= left-margin:
			w.within[index]++
		case s.least > left+margin && s.soft:
			unknown = true
		case s.least > left+margin:
			return min(last, index), unknown, mix
		default:
			mix = append(mix, mixed{index, s, left - margin, left + margin})
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
	if decision == unsure || len(mix) > 0 {
		w.setPending(zones, from)
	}
	if !w.Uncounted {
		w.settle(l, from, to, decision, first, unknown, mix)
		return
	}
	// What is rejected matters to nobody, and what the visitor passes over neither.
	for ; from < to && decision != rejects; from += w.Sizes.Piece {
		if end := min(from+w.Sizes.Piece, to); !w.passesOver(l, from, end) {
			w.settle(l, from, end, decision, first, unknown, mix)
		}
	}
}

// setPending notes the joint checks that not every pair at a position surely passes by
// windows and by the sums of the lane.
func (w *Worker) setPending(zones []zone, at int) {
	w.pending = w.pending[:0]
	for _, index := range w.Joint {
		for len(zones) > 0 && zones[0].index < index {
			zones = zones[1:]
		}
		switch {
		case w.sumsOf[index] > 0 && w.within[index] == w.sumsOf[index]:
		case len(zones) == 0 || zones[0].index > index || zones[0].at(at) != accepts:
			w.pending = append(w.pending, index)
		}
	}
}

// settle counts the pairs from one position to another, for which one effect is known but
// for the sums of mix, and visits those that nothing rejects.
func (w *Worker) settle(l *lane, from, to int, decision effect, first uint8, unknown bool, mix []mixed) {
	switch {
	case len(mix) > 0:
		w.mixed(l, from, to, decision, first, unknown, mix)
	case decision == rejects:
		w.reject(first, uint64(to-from))
	case decision == unsure:
		w.test1by1(l, from, to, w.pending)
	case w.decidedAlone(unknown), w.passesOver(l, from, to):
		w.skip(uint64(to-from), unknown)
	default:
		for i := from; i < to; i++ {
			w.accept(l, i, unknown)
		}
	}
}

// decidedAlone reports whether pairs, undecided or not, are not to be shown since
// nothing of theirs is undecided.
func (w *Worker) decidedAlone(unknown bool) bool { return w.UndecidedOnly && !unknown && !w.unknown }

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
	over := decision == accepts && w.passesOver(l, from, to)
	if (decision == rejects || over) && len(mix) == 1 && !mix[0].soft {
		w.countMixed(l, from, to, decision, first, unknown, &mix[0])
		return
	}
	if decision == unsure {
		w.setBeside(mix)
	}
pairs:
	for i := from; i < to; i++ {
		cloudy, checks := unknown, w.beside
		for j := range mix {
			m := &mix[j]
			switch v := m.values[i]; {
			case v <= m.under:
			case v <= m.over:
				w.test1by1(l, i, i+1, w.pending)
				continue pairs
			case m.soft:
				cloudy, checks = true, w.pending
			default:
				w.reject(m.index, 1)
				continue pairs
			}
		}
		switch decision {
		case rejects:
			w.reject(first, 1)
		case unsure:
			w.test1by1(l, i, i+1, checks)
		default:
			if over || w.decidedAlone(cloudy) {
				w.skip(1, cloudy)
			} else {
				w.accept(l, i, cloudy)
			}
		}
	}
}

// setBeside notes which of the pending checks remain for a pair that is surely within the
// limits of the sums of mix.
func (w *Worker) setBeside(mix []mixed) {
	w.beside = w.beside[:0]
	for _, index := range w.pending {
		within := w.within[index]
		for i := range mix {
			within += bit(mix[i].index == index)
		}
		if w.sumsOf[index] == 0 || within < w.sumsOf[index] {
			w.beside = append(w.beside, index)
		}
	}
}

// countMixed is mixed for pairs that are not shown: rejected by the sum, or else all by
// the check first, or all feasible and passed over.
func (w *Worker) countMixed(l *lane, from, to int, decision effect, first uint8, unknown bool, m *mixed) {
	beyond := w.beyond(m, from, to)
	within := uint64(to-from) - beyond - uint64(len(w.rims))
	w.reject(m.index, beyond)
	if decision == rejects {
		w.reject(first, within)
	} else {
		w.skip(within, unknown)
	}
	for _, i := range w.rims {
		w.test1by1(l, i, i+1, w.pending)
	}
}

// beyond counts the pairs from one position to another whose numbers are surely beyond
// what is left of a sum, and notes in w.rims those that only the exact test decides.
func (w *Worker) beyond(m *mixed, from, to int) (n uint64) {
	w.rims = w.rims[:0]
	if m.blocks == nil || to-from < len(m.values)/len(m.blocks) {
		for i, v := range m.values[from:to] {
			if v > m.over {
				n++
			} else if v > m.under {
				w.rims = append(w.rims, from+i)
			}
		}
		return n
	}
	for i := range m.blocks {
		b := &m.blocks[i]
		if b.most <= m.under {
			continue
		}
		at := b.at
		if from > 0 || to < len(m.values) {
			low, _ := slices.BinarySearch(at, int32(from))
			high, _ := slices.BinarySearch(at[low:], int32(to))
			at = at[low : low+high]
		}
		if b.least > m.over {
			n += uint64(len(at))
			continue
		}
		for _, j := range at {
			if v := m.values[j]; v > m.over {
				n++
			} else if v > m.under {
				w.rims = append(w.rims, int(j))
			}
		}
	}
	return n
}
