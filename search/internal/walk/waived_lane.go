package walk

import "math/bits"

// waivedWorker counts groups, one at a time.
type waivedWorker struct {
	worker *Worker // knows the group at hand
	*Waived
	lanes  []waivedLane
	counts []uint64 // by bit of granted

	// Room for a lane.
	mix     []mixed
	zones   []zone
	pending []uint8
}

// count counts builds that are feasible in some ways.
func (w *waivedWorker) count(g granted, builds int) {
	for ; g != 0; g &= g - 1 {
		w.counts[bits.TrailingZeros32(uint32(g))] += uint64(builds)
	}
}

// group counts an electrical group.
func (w *waivedWorker) group(c Choices) {
	w.worker.enter(c)
	g := w.narrow(&w.worker.build, w.Volts, w.all)
	if g == 0 {
		return
	}
	w.worker.sumsLeft()
	for i := range w.lanes {
		if w.worker.ctx.Err() != nil {
			return
		}
		l := &w.lanes[i]
		if left := g & l.left; left != 0 {
			w.lane(l.lane, left)
		}
	}
}

// lane counts a lane's pairs with the group at hand.
func (w *waivedWorker) lane(l *lane, g granted) {
	n := len(l.pairs)
	if n < w.Sizes.LaneLeast {
		w.each(l, 0, n, g, w.Joint, nil)
		return
	}
	if g = w.lanesums(l, g); g == 0 {
		return
	}
	w.zones = w.zones[:0]
	var c cuts
	c.add(0)
	c.add(n)
	for _, index := range w.windows {
		if !w.matters(index, g) {
			continue
		}
		z := w.worker.zone(l, index)
		if z.rejectsAll() {
			if g &= w.waive[index]; g == 0 {
				return
			}
			continue
		}
		w.zones = append(w.zones, z)
		for _, x := range z.positions() {
			if x > 0 && x < n {
				c.add(x)
			}
		}
	}
	for i := range c.n - 1 {
		w.segment(l, c.at[i], c.at[i+1], g)
	}
}

// lanesums decides the sums that all pairs of the lane pass, or all exceed, and sets
// mix to the sums that divide the pairs.
func (w *waivedWorker) lanesums(l *lane, g granted) granted {
	w.mix = w.mix[:0]
	for i := range w.sums {
		index, s, left := w.sums[i].check, &l.sums[i], w.worker.left[i]
		margin := Slack * (w.worker.scale[i] + s.scale)
		switch {
		case s.soft, !w.matters(index, g), s.most <= left-margin:
		case s.least > left+margin:
			g &= w.waive[index]
		default:
			w.mix = append(w.mix, mixed{index: index, laneSum: s, under: left - margin, over: left + margin})
		}
	}
	return g
}

// segment counts the pairs from one cut to the next: every zone has one effect
// there.
func (w *waivedWorker) segment(l *lane, from, to int, g granted) {
	w.pending = w.pending[:0]
	for i := range w.zones {
		z := &w.zones[i]
		switch z.at(from) {
		case rejects:
			g &= w.waive[z.index]
		case unsure:
			w.pending = append(w.pending, z.index)
		}
	}
	if g == 0 {
		return
	}
	w.pending = append(w.pending, w.rest...)
	w.each(l, from, to, g, w.pending, w.mix)
}

// each counts pairs from one position to another that some checks and sums may
// narrow yet.
func (w *waivedWorker) each(l *lane, from, to int, g granted, checks []uint8, mix []mixed) {
	if !w.some(checks, g) && !w.someSum(mix, g) {
		w.count(g, to-from)
		return
	}
	p, b := w.Problem, &w.worker.build
	for i := from; i < to; i++ {
		g, rim := g, false
		for j := range mix {
			switch m := &mix[j]; {
			case m.values[i] > m.over:
				g &= w.waive[m.index]
			case m.values[i] > m.under:
				rim = true
			}
		}
		if g == 0 {
			continue
		}
		if rim || w.some(checks, g) {
			pair := l.pairs[i]
			b.Roll(p.Drives[pair.drive], p.Wheels[pair.wheel])
			w.worker.tested++
			if rim {
				g = w.narrow(b, w.summed, g)
			}
			g = w.narrow(b, checks, g)
		}
		w.count(g, 1)
	}
}

// some reports whether one of the checks can narrow a set.
func (w *waivedWorker) some(checks []uint8, g granted) bool {
	for _, i := range checks {
		if w.matters(i, g) {
			return true
		}
	}
	return false
}

// someSum is some for sums.
func (w *waivedWorker) someSum(mix []mixed, g granted) bool {
	for j := range mix {
		if w.matters(mix[j].index, g) {
			return true
		}
	}
	return false
}
