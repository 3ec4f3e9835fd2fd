package ridelog

import (
	"cmp"
	"math"
	"slices"
)

// sample is a row, in SI units; NaN where it says nothing.
type sample struct {
	of   [quantities]float64
	line int
}

func (s *sample) time() float64 { return s.of[Time] }

// How late a row may be: among so many it is put where its time belongs. More rows one
// behind the other, or one from before the beginning, are a clock that began anew.
const (
	waiting  = 64
	mostLate = 32
)

// order puts rows in the order of their times.
type order struct {
	reader  *reader
	pending []sample // in order, not yet taken
	late    []sample // with times below those of pending, as they came
	fresh   bool     // the next one taken begins a stretch of time
	begun   bool
	first   float64 // s, of the stretch
	taken   float64 // s, the last
	resets  int
	moved   int // rows that came late, put where they belong or lost
}

func (o *order) put(s sample) {
	t := s.time()
	if !o.begun {
		o.begin(s)
		return
	}
	newest := o.pending[len(o.pending)-1].time()
	switch {
	case t == newest || o.holds(&s):
		o.reader.note(DoubledRows, s.line, 0)
	case t > newest:
		o.settle()
		o.pending = append(o.pending, s)
		if len(o.pending) > waiting {
			o.take(1)
		}
	case t <= o.first:
		o.restart(append(o.late, s))
	default:
		o.late = append(o.late, s)
		if len(o.late) < mostLate {
			return
		}
		if slices.IsSortedFunc(o.late, byTime) {
			o.restart(o.late)
			return
		}
		o.settle()
	}
}

func byTime(a, b sample) int { return cmp.Compare(a.time(), b.time()) }

// holds reports whether the same row waits.
func (o *order) holds(s *sample) bool {
	at, ok := slices.BinarySearchFunc(o.pending, *s, byTime)
	return ok && o.pending[at].same(s) || slices.ContainsFunc(o.late, func(other sample) bool { return other.same(s) })
}

// same reports whether two rows say the same.
func (s *sample) same(o *sample) bool {
	for q := range s.of {
		if s.of[q] != o.of[q] && !(math.IsNaN(s.of[q]) && math.IsNaN(o.of[q])) {
			return false
		}
	}
	return true
}

func (o *order) begin(s sample) {
	o.begun, o.fresh, o.first = true, true, s.time()
	o.pending = append(o.pending[:0], s)
}

// settle puts late rows where their times belong.
func (o *order) settle() {
	for _, s := range o.late {
		at, there := slices.BinarySearchFunc(o.pending, s, byTime)
		if there {
			o.reader.note(DoubledRows, s.line, 0)
			continue
		}
		if at == 0 && !o.fresh {
			o.reader.note(LostRows, s.line, 0)
			o.moved++
			continue
		}
		o.reader.note(LateRows, s.line, 0)
		o.moved++
		o.pending = slices.Insert(o.pending, at, s)
	}
	o.late = o.late[:0]
}

// restart begins anew with rows whose clock did.
func (o *order) restart(rows []sample) {
	rows = slices.Clone(rows)
	o.late = o.late[:0]
	o.take(len(o.pending))
	o.reader.note(ClockReset, rows[0].line, 0)
	o.resets++
	o.begin(rows[0])
	for _, s := range rows[1:] {
		o.put(s)
	}
}

// take hands the oldest rows on.
func (o *order) take(n int) {
	for i := range n {
		o.reader.take(o.pending[i], o.fresh)
		o.fresh, o.taken = false, o.pending[i].time()
	}
	o.pending = slices.Delete(o.pending, 0, n)
}

// end hands on what is left.
func (o *order) end() {
	if !o.begun {
		return
	}
	if len(o.late) >= fewRows {
		rows := o.late
		o.restart(rows)
	}
	o.settle()
	o.take(len(o.pending))
}
