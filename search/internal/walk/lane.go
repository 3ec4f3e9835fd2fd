package walk

import (
	"cmp"
	"math"
	"slices"

	"gearsearch/constraints"
)

// A lane is some pairs of drive and wheel that differ little in what they ask
// of an electrical group, sorted by gearing: by reduction over rolling radius.
// What holds for its lightest and easiest corner and for its heaviest and
// hardest one holds for every pair between.
type lane struct {
	pairs        []pair
	turns        []float64 // gearing, 1/m, ascending
	light, heavy constraints.Lane
	hardest      *constraints.Lane // of this lane and others
	sums         []laneSum         // by the plan's sums
	lot          int               // of every pair
	unknown      bool              // of every pair, whatever the electrical group
	exact        bool              // its pairs are tested one by one
	ends         Reach             // what its pairs have at best
}

// laneSum is the numbers that a lane's pairs add to a check's sum.
type laneSum struct {
	values      []float64 // by pair
	least, most float64
	scale       float64 // the largest finite magnitude
	soft        bool    // beyond the limit a pair is undecided, not rejected
	blocks      []block // of the values, ascending; nil: the lane is short
}

// block is some of a lane's pairs whose numbers are near one another.
type block struct {
	at          []int32 // positions, ascending
	least, most float64
}

// blocks cuts values into blocks of some size.
func blocks(values []float64, size int) []block {
	if len(values) <= 2*size {
		return nil
	}
	order := make([]int32, len(values))
	for i := range order {
		order[i] = int32(i)
	}
	slices.SortFunc(order, func(a, b int32) int { return cmp.Or(cmp.Compare(values[a], values[b]), cmp.Compare(a, b)) })
	var out []block
	for at := range slices.Chunk(order, size) {
		b := block{at, values[at[0]], values[at[len(at)-1]]}
		slices.Sort(b.at)
		out = append(out, b)
	}
	return out
}

// asked is a pair with what decides its lane and its place there.
type asked struct {
	pair
	lot   int
	lane  constraints.Lane
	turn  float64
	sums  []constraints.Rolled
	soft  uint
	exact bool
}

// sortLanes sorts a class's surviving pairs into lanes of at most size pairs.
func (pl *Plan) sortLanes(count int, pairs []pair, size int) []*lane {
	list := make([]asked, len(pairs))
	b := &constraints.Build{Problem: pl.Problem, Count: count}
	for i, p := range pairs {
		b.Drive, b.Wheel = pl.Problem.Drives[p.drive], pl.Problem.Wheels[p.wheel]
		list[i] = pl.ask(b, p)
	}
	slices.SortFunc(list, func(a, b asked) int {
		return cmp.Or(
			cmp.Compare(a.lot, b.lot), cmp.Compare(bit(a.exact), bit(b.exact)), cmp.Compare(bit(a.unknown), bit(b.unknown)), cmp.Compare(a.soft, b.soft),
			cmp.Compare(a.lane.Crr, b.lane.Crr), cmp.Compare(a.lane.Efficiency, b.lane.Efficiency), cmp.Compare(a.lane.Mass, b.lane.Mass))
	})
	var out []*lane
	for len(list) > 0 {
		n := 1
		for n < min(len(list), size) && list[n].joins(&list[0]) {
			n++
		}
		l := pl.lane(list[:n])
		l.setEnds(pl.Problem, count)
		out = append(out, l)
		list = list[n:]
	}
	setHardest(out)
	return out
}

// setHardest tells lanes of like rolling resistance and efficiency by what the hardest of
// them asks.
func setHardest(lanes []*lane) {
	var all []*constraints.Lane
	for _, l := range lanes {
		i := slices.IndexFunc(all, func(h *constraints.Lane) bool { return h.Crr == l.heavy.Crr && h.Efficiency == l.heavy.Efficiency })
		if i < 0 {
			h := l.heavy
			all, i = append(all, &h), len(all)
		}
		h := all[i]
		h.Mass, h.Press = math.Max(h.Mass, l.heavy.Mass), math.Min(h.Press, l.heavy.Press)
		l.hardest = h
	}
}

// joins reports whether a pair may be of a lane with another.
func (a *asked) joins(o *asked) bool {
	return a.lot == o.lot && a.exact == o.exact && a.unknown == o.unknown && a.soft == o.soft
}

// ask is what a pair asks, with the build's count, drive and wheel set.
func (pl *Plan) ask(b *constraints.Build, p pair) asked {
	a := asked{pair: p, lot: pl.lot(p), lane: b.Lane(), turn: b.Drive.Reduction / b.Wheel.Radius}
	for i, s := range pl.sums {
		r := constraints.Rolled{Value: math.Inf(-1)}
		if pl.Checks[s.check].Lists(b.Drive) {
			r = s.Rolling(b)
		}
		rejects := pl.Rejects[s.check]
		switch {
		case r.Fails && !rejects.Fail:
			a.exact = true // as the next but one
		case r.Within == constraints.Undecided && rejects.Undecided:
			r.Value = math.Inf(1) // rejected on either side
		case r.Within == constraints.Undecided && r.Beyond == constraints.Fail && !rejects.Fail:
			a.exact = true // a check that only cautions is undecided on one side
		case r.Within == constraints.Undecided:
			a.unknown = true
		}
		switch {
		case r.Beyond == constraints.Undecided && !rejects.Undecided && r.Within == constraints.Pass:
			a.soft |= 1 << i
		case r.Beyond == constraints.Fail && !rejects.Fail, r.Beyond == constraints.Undecided && r.Within == constraints.Undecided && !rejects.Undecided:
			r.Value = math.Inf(-1) // rejected on neither side
		}
		a.sums = append(a.sums, r)
	}
	return a
}

// lane makes a lane of pairs.
func (pl *Plan) lane(list []asked) *lane {
	list = slices.Clone(list)
	slices.SortFunc(list, func(a, b asked) int {
		return cmp.Or(cmp.Compare(a.turn, b.turn), cmp.Compare(a.drive, b.drive), cmp.Compare(a.wheel, b.wheel))
	})
	l := &lane{lot: list[0].lot, unknown: list[0].unknown, exact: list[0].exact, light: list[0].lane, heavy: list[0].lane}
	for _, a := range list {
		l.pairs = append(l.pairs, a.pair)
		l.turns = append(l.turns, a.turn)
		l.light.Efficiency = math.Max(l.light.Efficiency, a.lane.Efficiency)
		l.light.Crr = math.Min(l.light.Crr, a.lane.Crr)
		l.light.Mass = math.Min(l.light.Mass, a.lane.Mass)
		l.heavy.Efficiency = math.Min(l.heavy.Efficiency, a.lane.Efficiency)
		l.heavy.Crr = math.Max(l.heavy.Crr, a.lane.Crr)
		l.heavy.Mass = math.Max(l.heavy.Mass, a.lane.Mass)
	}
	l.light.Press, l.heavy.Press = l.heavy.Mass, l.light.Mass
	l.light.CrrTo, l.heavy.CrrTo = l.heavy.Crr, l.light.Crr
	l.light.Turn = l.turns[len(l.turns)-1]
	l.heavy.Turn = l.light.Turn
	for i := range pl.sums {
		s := laneSum{least: math.Inf(1), most: math.Inf(-1), soft: list[0].soft&(1<<i) != 0}
		for _, a := range list {
			v := a.sums[i].Value
			s.values = append(s.values, v)
			s.least, s.most = math.Min(s.least, v), math.Max(s.most, v)
			if math.Abs(v) < constraints.Decided {
				s.scale = math.Max(s.scale, math.Abs(v))
			}
		}
		s.blocks = blocks(s.values, pl.Sizes.Block)
		l.sums = append(l.sums, s)
	}
	return l
}

// reach is what the pairs of a lane from one position to another have at best.
func (l *lane) reach(from, to int) Reach {
	r := l.ends
	r.Low, r.High = l.turns[from], l.turns[to-1]
	return r
}

// setEnds gathers what a lane's pairs have at best.
func (l *lane) setEnds(p *constraints.Problem, count int) {
	r := Reach{Light: l.light, Low: l.turns[0], High: l.turns[len(l.turns)-1], Price: math.Inf(1), Mass: math.Inf(1), Mesh: -1}
	for _, pair := range l.pairs {
		drive, wheel := p.Drives[pair.drive], p.Wheels[pair.wheel]
		r.Price = leastKnown(r.Price, drive.Price[count], wheel.Price)
		r.Mass = leastKnown(r.Mass, drive.Mass[count], wheel.Mass)
		if drive.Gear != nil {
			r.Gear = true
		} else {
			r.Mesh = max(r.Mesh, drive.Mesh)
		}
	}
	l.ends = r
}
