package search

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

// plan is the checks of a problem, sorted by what they read.
type plan struct {
	problem *constraints.Problem
	checks  []*constraints.Check // all that apply, in order
	rejects []rejection          // by index of the check
	fit     []uint8              // indices of checks on motor, count and drive
	hub     []uint8              // … on drive and wheel
	volts   []uint8              // … on battery, controller, motor and count
	joint   []uint8              // … the rest

	// How the joint checks are decided for many pairs at once.
	windows []uint8 // those with a window
	sums    []uint8 // those with a sum
	open    uint8   // the first with neither, or none

	laneSize, laneLeast int // as the constants of these names

	from, to     int // the drives that it looks at, by index
	stretchPairs int // as the constant of this name

	// uncounted: only what visitors are told matters, not the tally.
	uncounted bool
}

// rejection is which verdicts of a check reject.
type rejection struct{ fail, undecided bool }

// newPlan sorts the checks. A check that reads few choices but stands behind
// one that reads many joins the latter: order decides what is counted.
func newPlan(p *constraints.Problem, strict bool) *plan { return planOf(p, p.Checks(), strict) }

// planOf is newPlan with some checks in place of all that apply.
func planOf(p *constraints.Problem, checks []*constraints.Check, strict bool) *plan {
	const (
		fit   = constraints.OnMotor | constraints.OnCount | constraints.OnDrive
		hub   = constraints.OnDrive | constraints.OnWheel
		volts = constraints.OnElectrical
	)
	pl := &plan{problem: p, checks: checks, to: len(p.Drives), stretchPairs: stretchPairs}
	for i, c := range pl.checks {
		demoted := p.Demoted(c)
		pl.rejects = append(pl.rejects, rejection{fail: !demoted, undecided: strict && !demoted})
		scope, index := c.Scope(p), uint8(i)
		switch {
		case len(pl.joint) > 0:
			pl.joint = append(pl.joint, index)
		case scope&^fit == 0:
			pl.fit = append(pl.fit, index)
		case scope&^hub == 0:
			pl.hub = append(pl.hub, index)
		case scope&^volts == 0:
			pl.volts = append(pl.volts, index)
		default:
			pl.joint = append(pl.joint, index)
		}
	}
	pl.decide()
	return pl
}

// decide sorts the joint checks by how they are decided for many pairs.
func (pl *plan) decide() {
	pl.open, pl.laneSize, pl.laneLeast = none, laneSize, laneLeast
	for _, i := range pl.joint {
		switch c := pl.checks[i]; {
		case c.Window != nil && len(pl.windows) < maxZones:
			pl.windows = append(pl.windows, i)
		case c.Adds != nil:
			pl.sums = append(pl.sums, i)
		case pl.open == none:
			pl.open = i
		}
	}
}

// test runs the checks of one group on a build that has the choices they read.
func (pl *plan) test(b *constraints.Build, group []uint8) state {
	s := state{first: none}
	for _, i := range group {
		c := pl.checks[i]
		if b.Drive != nil && !c.Lists(b.Drive) {
			continue
		}
		switch c.Test(b).Verdict {
		case constraints.Fail:
			if pl.rejects[i].fail {
				return state{first: i}
			}
		case constraints.Undecided:
			if pl.rejects[i].undecided {
				return state{first: i}
			}
			s.unknown = true
		}
	}
	return s
}

// What is remembered of a stretch of the drives while it is searched: a few
// bytes for each pair with a wheel, some hundred for each pair that a class of
// motors fits, and four for each drive with a motor and a number of motors.
const (
	stretchPairs = 1 << 18
	stretchFits  = 1 << 23
)

// stretches cuts the plan into plans of some of the drives each, so that what is
// remembered of one does not grow with the catalog. Nearly every catalog is one
// stretch.
func (pl *plan) stretches() []*plan {
	p := pl.problem
	size := max(1, min(pl.stretchPairs/max(1, len(p.Wheels)), stretchFits/max(1, len(p.Motors)*len(p.Counts))))
	var out []*plan
	for from := pl.from; from < pl.to; from += size {
		part := *pl
		part.from, part.to = from, min(from+size, pl.to)
		out = append(out, &part)
	}
	return out
}

// drives are those that the plan looks at.
func (pl *plan) drives() []*constraints.Drive { return pl.problem.Drives[pl.from:pl.to] }

// pair is a drive and a wheel that fit each other and a class's motors.
type pair struct {
	drive, wheel int32
	unknown      bool
}

// class is the motors, of one number of them, on which every drive fits alike.
type class struct {
	members []int32 // indices of motors
	count   int     // index of the motor count
	from    int     // index of the first drive
	fits    []state // by drive, from that one on
}

// classes sorts the motors and counts into classes.
func (pl *plan) classes() []*class {
	p := pl.problem
	var out []*class
	known := map[string]*class{}
	drives := pl.drives()
	key := make([]byte, 0, 1+2*len(drives))
	fits := make([]state, len(drives))
	for m := range p.Motors {
		for n := range p.Counts {
			b := &constraints.Build{Problem: p, Motor: p.Motors[m], Count: n}
			key = append(key[:0], byte(n))
			for d := range drives {
				b.Drive = drives[d]
				s := pl.test(b, pl.fit)
				fits[d] = s
				key = append(key, s.first, bit(s.unknown))
			}
			c := known[string(key)]
			if c == nil {
				c = &class{count: n, from: pl.from, fits: slices.Clone(fits)}
				known[string(key)] = c
				out = append(out, c)
			}
			c.members = append(c.members, int32(m))
		}
	}
	return out
}

func bit(b bool) byte {
	if b {
		return 1
	}
	return 0
}

// hubs is the state of the hub checks by drive and wheel, drives outermost.
func (pl *plan) hubs() []state {
	p := pl.problem
	drives := pl.drives()
	out := make([]state, 0, len(drives)*len(p.Wheels))
	b := &constraints.Build{Problem: p}
	for d := range drives {
		b.Drive = drives[d]
		for w := range p.Wheels {
			b.Wheel = p.Wheels[w]
			out = append(out, pl.test(b, pl.hub))
		}
	}
	return out
}

// survivors are the pairs of drive and wheel that pass the class's fit and
// hub checks, in order, and the histogram of the first failures of the rest.
func (c *class) survivors(hubs []state, wheels, checks int) (pairs []pair, rejected []uint64) {
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
