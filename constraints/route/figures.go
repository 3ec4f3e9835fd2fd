package route

import (
	"iter"
	"math"
)

// Profile is what a way is like.
type Profile struct {
	Length, Climb, Descent float64 // m
	Start, End             float64 // m above the sea
	Lowest, Highest        Spot    // of the ends of legs; the first of equals
	Up, Down               Steep   // the steepest stretches
	Stops                  int
	Surfaces               []Surface // by how long the way is on each, the longest first
	Slowest, Fastest       float64   // m/s wanted, of the legs that want a speed; NaN: none does
	Free                   float64   // m on which the brief's cruise speed is wanted
}

// Spot is a place on the way.
type Spot struct {
	At     float64 // m from the start
	Height float64 // m above the sea
}

// Steep is a stretch of the way.
type Steep struct {
	From, Length float64 // m from the start, m
	Grade        float64 // rise over the length along the road; of a descent negative
}

// Surface is how much of the way is on one surface.
type Surface struct {
	Name   string // "": the brief's
	Length float64
}

// Stretch is the length in m over which Profile looks for the steepest grades, or the way
// where that is shorter: a wall of a few metres is ridden on what a board has in hand.
const Stretch = 100

// Spots yields the start of the route and the end of each leg.
func (r *Route) Spots() iter.Seq[Spot] {
	return func(yield func(Spot) bool) {
		s := Spot{0, r.Height}
		if !yield(s) {
			return
		}
		for i := range r.Legs {
			s.At, s.Height = s.At+r.Legs[i].Length, s.Height+r.Legs[i].Rise
			if !yield(s) {
				return
			}
		}
	}
}

// Profile finds what the way is like.
func (r *Route) Profile() *Profile {
	p := &Profile{Start: r.Height, Slowest: math.NaN(), Fastest: math.NaN()}
	var spots []Spot
	for s := range r.Spots() {
		spots = append(spots, s)
		if len(spots) == 1 || s.Height < p.Lowest.Height {
			p.Lowest = s
		}
		if len(spots) == 1 || s.Height > p.Highest.Height {
			p.Highest = s
		}
	}
	last := spots[len(spots)-1]
	p.Length, p.End = last.At, last.Height
	for i := range r.Legs {
		p.leg(&r.Legs[i])
	}
	p.Up, p.Down = steepest(spots)
	return p
}

// leg counts a leg in.
func (p *Profile) leg(l *Leg) {
	p.Climb += math.Max(l.Rise, 0)
	p.Descent += math.Max(-l.Rise, 0)
	if l.Stop {
		p.Stops++
	}
	if math.IsNaN(l.Speed) {
		p.Free += l.Length
	} else {
		p.Slowest, p.Fastest = lesser(p.Slowest, l.Speed), -lesser(-p.Fastest, -l.Speed)
	}
	for i := range p.Surfaces {
		if s := &p.Surfaces[i]; s.Name == l.Surface {
			s.Length += l.Length
			for ; i > 0 && p.Surfaces[i].Length > p.Surfaces[i-1].Length; i-- {
				p.Surfaces[i], p.Surfaces[i-1] = p.Surfaces[i-1], p.Surfaces[i]
			}
			return
		}
	}
	p.Surfaces = append(p.Surfaces, Surface{l.Surface, l.Length})
}

// lesser is the lesser of two numbers; b where a is NaN.
func lesser(a, b float64) float64 {
	if a < b {
		return a
	}
	return b
}

// steepest are the stretches of Stretch with the greatest grades up and down, the first of
// equals. The way between two spots is straight, so that one of the stretch's ends is at a
// spot.
func steepest(spots []Spot) (up, down Steep) {
	end := spots[len(spots)-1].At
	length := math.Min(Stretch, end)
	up, down = Steep{Length: length, Grade: math.Inf(-1)}, Steep{Length: length, Grade: math.Inf(1)}
	at := heights{spots: spots}
	behind := heights{spots: spots}
	try := func(from float64, rise float64) {
		grade := rise / length
		if grade > up.Grade {
			up.From, up.Grade = from, grade
		}
		if grade < down.Grade {
			down.From, down.Grade = from, grade
		}
	}
	for _, s := range spots {
		if s.At >= length {
			try(s.At-length, s.Height-behind.at(s.At-length))
		}
		if s.At+length <= end {
			try(s.At, at.at(s.At+length)-s.Height)
		}
	}
	return up, down
}

// heights finds heights between spots, for places that never come before the last.
type heights struct {
	spots []Spot
	i     int
}

func (h *heights) at(m float64) float64 {
	for h.i+2 < len(h.spots) && h.spots[h.i+1].At < m {
		h.i++
	}
	a, b := h.spots[h.i], h.spots[h.i+1]
	return a.Height + float64((b.Height-a.Height)*((m-a.At)/(b.At-a.At)))
}
