package walk

import (
	"slices"

	"gearsearch/constraints"
)

// none is the index of "no check fails".
const none = 255

// state is what a group of checks says of the choices it reads.
type state struct {
	first   uint8 // index of the first check that rejects, or none
	unknown bool  // some check is undecided; meaningful where first is none
}

// and is the state of two groups of checks together.
func (s state) and(t state) state {
	return state{min(s.first, t.first), s.unknown || t.unknown}
}

// Plan is the checks of a problem, sorted by what they read.
type Plan struct {
	Problem *constraints.Problem
	Checks  []*constraints.Check // all that apply, in order
	Rejects []Rejection          // by index of the check
	Fit     []uint8              // indices of checks on motor, count and drive
	Hub     []uint8              // … on drive and wheel
	Volts   []uint8              // … on battery, controller, motor and count
	Joint   []uint8              // … the rest
	Sizes   Sizes

	// Uncounted: only what visitors are told matters, not the tally.
	Uncounted bool
	// UndecidedOnly: visitors are told of builds with an undecided check alone.
	UndecidedOnly bool
	// Only are the electrical groups to walk, of which drive and wheel are not
	// set; nil: all.
	Only func(c Choices) bool
	// Lot tells pairs of drive and wheel apart: the pairs of a lane are of one
	// lot. Those below 0 are left out, of the tally too. Nil: all are of lot 0.
	Lot func(drive, wheel int) int

	// How the joint checks are decided for many pairs at once.
	windows []uint8 // those with a window or a core
	sums    []sum   // the sums of those that have any
	summed  []uint8 // those with a sum
	sumsOf  []uint8 // by index of the check: how many sums it has
	open    uint8   // the first with neither, or none

	from, to int // the drives that it looks at, by index
}

// sum is one that a check holds to a limit.
type sum struct {
	check uint8 // index
	*constraints.Additive
}

// Rejection is which verdicts of a check reject.
type Rejection struct{ Fail, Undecided bool }

// By reports whether a verdict rejects.
func (r Rejection) By(v constraints.Verdict) bool {
	return v == constraints.Fail && r.Fail || v == constraints.Undecided && r.Undecided
}

// NewPlan sorts the checks. A check that reads few choices but comes after one that
// reads many is decided with that one: the order decides what is counted.
func NewPlan(p *constraints.Problem, strict bool) *Plan { return planOf(p, p.Checks(), strict) }

// planOf is NewPlan with some checks in place of all that apply.
func planOf(p *constraints.Problem, checks []*constraints.Check, strict bool) *Plan {
	const (
		fit   = constraints.OnMotor | constraints.OnCount | constraints.OnDrive
		hub   = constraints.OnDrive | constraints.OnWheel
		volts = constraints.OnElectrical
	)
	pl := &Plan{Problem: p, Checks: checks, to: len(p.Drives), Sizes: usualSizes()}
	for i, c := range pl.Checks {
		demoted := p.Demoted(c)
		pl.Rejects = append(pl.Rejects, Rejection{Fail: !demoted, Undecided: strict && !demoted})
		scope, index := c.Scope(p), uint8(i)
		switch {
		case len(pl.Joint) > 0:
			pl.Joint = append(pl.Joint, index)
		case scope&^fit == 0:
			pl.Fit = append(pl.Fit, index)
		case scope&^hub == 0:
			pl.Hub = append(pl.Hub, index)
		case scope&^volts == 0:
			pl.Volts = append(pl.Volts, index)
		default:
			pl.Joint = append(pl.Joint, index)
		}
	}
	pl.decide()
	return pl
}

// decide sorts the joint checks by how they are decided for many pairs.
func (pl *Plan) decide() {
	pl.open, pl.sumsOf = none, make([]uint8, len(pl.Checks))
	for _, i := range pl.Joint {
		switch c := pl.Checks[i]; {
		case (c.Window != nil || c.Core != nil) && len(pl.windows) < maxZones:
			pl.windows = append(pl.windows, i)
		case c.Adds != nil:
			pl.sums, pl.summed, pl.sumsOf[i] = append(pl.sums, sum{i, c.Adds}), append(pl.summed, i), 1
			if c.Doubts != nil {
				pl.sums, pl.sumsOf[i] = append(pl.sums, sum{i, c.Doubts}), 2
			}
		case pl.open == none:
			pl.open = i
		}
	}
}

// test runs the checks of one group on a build that has the choices they read.
func (pl *Plan) test(b *constraints.Build, group []uint8) state {
	s := state{first: none}
	for _, i := range group {
		c := pl.Checks[i]
		if b.Drive != nil && !c.Lists(b.Drive) {
			continue
		}
		switch c.Judge(b) {
		case constraints.Fail:
			if pl.Rejects[i].Fail {
				return state{first: i}
			}
		case constraints.Undecided:
			if pl.Rejects[i].Undecided {
				return state{first: i}
			}
			s.unknown = true
		}
	}
	return s
}

// Slow lists the joint checks with neither a window nor a sum, which take long for
// many builds.
func (pl *Plan) Slow() []uint8 {
	return slices.DeleteFunc(slices.Clone(pl.Joint), func(i uint8) bool {
		return pl.Checks[i].Window != nil || pl.Checks[i].Adds != nil
	})
}

// Reject reports whether one of some checks rejects a build that has the choices
// they read.
func (pl *Plan) Reject(b *constraints.Build, checks []uint8) bool {
	return pl.test(b, checks).first != none
}

// stretches cuts the plan into plans of some of the drives each, so that what is
// remembered of one does not grow with the catalog. Nearly every catalog is one
// stretch.
func (pl *Plan) stretches() []*Plan {
	p := pl.Problem
	size := max(1, min(pl.Sizes.StretchPairs/max(1, len(p.Wheels)), pl.Sizes.StretchFits/max(1, len(p.Motors)*len(p.Counts))))
	var out []*Plan
	for from := pl.from; from < pl.to; from += size {
		part := *pl
		part.from, part.to = from, min(from+size, pl.to)
		out = append(out, &part)
	}
	return out
}

// drives are those that the plan looks at.
func (pl *Plan) drives() []*constraints.Drive { return pl.Problem.Drives[pl.from:pl.to] }

// pair is a drive and a wheel that fit each other and a class's motors.
type pair struct {
	drive, wheel int32
	unknown      bool
}

// lot is the lot of a pair.
func (pl *Plan) lot(p pair) int {
	if pl.Lot == nil {
		return 0
	}
	return pl.Lot(int(p.drive), int(p.wheel))
}

// motors are some motors, of one number of them.
type motors struct {
	members []int32 // indices of motors
	count   int     // index of the motor count
}

// class is the motors, of one number of them, of which a judge says the same
// with every drive.
type class[S any] struct {
	motors
	from int // index of the first drive
	fits []S // by drive, from that one on
}

// classes sorts the motors and counts into classes. A judge says something of a
// build with motor, count and drive set; key appends it to a key.
func classes[S any](pl *Plan, judge func(b *constraints.Build) S, key func(to []byte, s S) []byte) []*class[S] {
	p := pl.Problem
	var out []*class[S]
	known := map[string]*class[S]{}
	drives := pl.drives()
	name := make([]byte, 0, 1+2*len(drives))
	fits := make([]S, len(drives))
	for m := range p.Motors {
		for n := range p.Counts {
			b := &constraints.Build{Problem: p, Motor: p.Motors[m], Count: n}
			name = append(name[:0], byte(n))
			for d := range drives {
				b.Drive = drives[d]
				fits[d] = judge(b)
				name = key(name, fits[d])
			}
			c := known[string(name)]
			if c == nil {
				c = &class[S]{motors: motors{count: n}, from: pl.from, fits: slices.Clone(fits)}
				known[string(name)] = c
				out = append(out, c)
			}
			c.members = append(c.members, int32(m))
		}
	}
	return out
}

// fitClasses are the classes by the fit checks.
func (pl *Plan) fitClasses() []*class[state] {
	return classes(pl, func(b *constraints.Build) state { return pl.test(b, pl.Fit) }, func(to []byte, s state) []byte {
		return append(to, s.first, bit(s.unknown))
	})
}

func bit(b bool) byte {
	if b {
		return 1
	}
	return 0
}

// Pairs is what a judge says of each drive with each wheel, drives outermost.
func Pairs[S any](pl *Plan, judge func(b *constraints.Build) S) []S {
	p := pl.Problem
	drives := pl.drives()
	out := make([]S, 0, len(drives)*len(p.Wheels))
	b := &constraints.Build{Problem: p}
	for d := range drives {
		b.Drive = drives[d]
		for w := range p.Wheels {
			b.Wheel = p.Wheels[w]
			out = append(out, judge(b))
		}
	}
	return out
}

// hubs is the state of the hub checks by drive and wheel.
func (pl *Plan) hubs() []state {
	return Pairs(pl, func(b *constraints.Build) state { return pl.test(b, pl.Hub) })
}

// survivors are the pairs of drive and wheel that pass a class's fit and hub
// checks, in order, and the histogram of the first failures of the rest.
func survivors(c *class[state], hubs []state, wheels, checks int) (pairs []pair, rejected []uint64) {
	rejected = make([]uint64, checks)
	for d, fit := range c.fits {
		for w := range wheels {
			s := fit.and(hubs[d*wheels+w])
			if s.first == none {
				pairs = append(pairs, pair{int32(c.from + d), int32(w), s.unknown})
			} else {
				rejected[s.first]++
			}
		}
	}
	return pairs, rejected
}
