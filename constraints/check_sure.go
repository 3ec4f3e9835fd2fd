package constraints

import (
	"math"

	"gearsearch/drive"
)

// sureOfRoute is what is sure of a build on the brief's way at little cost, in either
// corner; the zero value is sure of nothing.
type sureOfRoute struct {
	worst, best drive.Sure
	known       bool // the worst corner
	blind       bool // neither the motor's mass nor its can is known
}

func (s sureOfRoute) route() (Verdict, bool) {
	return verdictOf(s.best.Fails, s.best.Comes && s.worst.Comes)
}

func (s sureOfRoute) heat() (Verdict, bool) {
	if s.blind {
		return Undecided, true
	}
	return verdictOf(false, s.best.Cool && s.worst.Cool)
}

func (s sureOfRoute) brakes() (Verdict, bool) {
	return verdictOf(false, s.best.Held && s.worst.Held)
}

// missing is by how much the charge that is left misses the reserve at least, as a share
// of it.
func (s sureOfRoute) missing(p *Problem) float64 {
	shown := s.worst
	if !s.known {
		shown = s.best
	}
	reserve, usable := p.Brief.Limit.Reserve, p.Brief.Limit.Usable
	switch {
	case !s.best.Fails:
		return 0
	case reserve == 0, s.best.Stalls && shown.Stalls:
		return math.Inf(1)
	case shown.Stalls:
		return 0
	}
	return max(0, 1-(shown.Most-(1-usable))/usable/reserve)
}

// verdictOf is the verdict of what surely fails or passes; ok is false if neither is sure.
func verdictOf(fails, passes bool) (v Verdict, ok bool) {
	if fails {
		return Fail, true
	}
	return Pass, passes
}

// sure is what is sure of the build on the brief's way.
func (b *Build) sure() sureOfRoute {
	if b.worst != nil {
		b = b.worst
	}
	if b.done&haveSure == 0 {
		b.done |= haveSure
		b.isSure = b.findSure()
	}
	return b.isSure
}

// findSure is sure, found anew.
func (b *Build) findSure() (s sureOfRoute) {
	p := b.Problem
	if pack := &b.Battery.Pack; !p.HasRoute() || pack.Capacity == 0 || pack.Cutoff == 0 {
		return s
	}
	usable := p.Brief.Limit.Usable
	aims := drive.Aims{
		Charge:  1 - usable + usable*p.Brief.Limit.Reserve,
		Winding: p.Brief.Limit.WindingMax,
		Unheld:  unheldMost,
	}
	unsure := b.intakeUnknown()
	s.known = b.electrical.R > 0 && b.ThrustKnown()
	trip := b.trip(unsure)
	s.blind = trip.Body == nil
	if s.known {
		s.worst = trip.Surely(&b.board, p.trip.blocks, aims)
	}
	if !b.blank && !unsure {
		s.best = s.worst
		return s
	}
	trip.Unsure = false
	s.best = trip.Surely(&b.Best().board, p.trip.blocks, aims)
	return s
}

// Judge is the verdict of Test, found the quickest way.
func (c *Check) Judge(b *Build) Verdict {
	if c.Sure != nil {
		if v, ok := c.Sure(b); ok {
			return v
		}
	}
	return c.Test(b).Verdict
}
