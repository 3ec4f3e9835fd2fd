package constraints

import (
	"math"
	"slices"
)

// Easing is a key of a brief that a check gives way to: with another value of
// it a build may pass.
type Easing struct {
	Key string // section.key

	// At is the value of the key, SI, at which a build is just passed, NaN where
	// there is none. nil: there is no formula, and Try says how the value is found.
	At  func(b *Build) float64
	Try Trial
	// Strictly is At with undecided checks rejecting too; nil: the same.
	Strictly func(b *Build) float64

	// When reports whether a brief makes the key bear on the check; nil: any
	// does.
	When func(b *Brief) bool
	// Aside: the key is no limit of the check, which passes because the build
	// behaves otherwise. A brief without the key does not waive the check.
	Aside bool
	// Floor is what a build must pass when a brief no longer asks for the key;
	// nil: nothing.
	Floor *Check
}

// Trial says how the value of a key at which a build is just passed is found.
type Trial uint8

// The trials. All but ByFormula try value by value, which takes much longer.
const (
	ByFormula Trial = iota
	Downward        // the check gets easier all the way down from the brief's
	OfCruise        // the range is longest at one speed, and shorter beyond it on either side
	Untried         // another value may help or harm, and nobody looks for one
)

// EasedBy is how the check gives way to a key of a brief; ok is false where it
// does not.
func (c *Check) EasedBy(key string, b *Brief) (e Easing, ok bool) {
	for _, e := range c.Eased {
		if e.Key == key && (e.When == nil || e.When(b)) {
			return e, true
		}
	}
	return Easing{}, false
}

// Tried reports whether some key of a brief is tried value by value to find out
// where a build passes the check.
func (c *Check) Tried() bool {
	return slices.ContainsFunc(c.Eased, func(e Easing) bool { return e.Try == Downward || e.Try == OfCruise })
}

// hasLength and noLength tell whether the hill has a length, so that heat takes
// time.
func hasLength(b *Brief) bool { return !math.IsNaN(b.Target.ClimbLength) }

func noLength(b *Brief) bool { return !hasLength(b) }

// slowerClimb eases all that a climb takes. At a lower speed the thrust is not
// less and the load is, so that all of it gets easier all the way down.
var slowerClimb = Easing{Key: "target.climb_speed_kmh", Try: Downward}

// ceilingAt is the easing of a check that asks for a speed: the ceiling of
// electrical rpm holds the top speed down, and with it what launch and range
// may ask for. For the same reason top-speed-max may fail for a higher one.
func ceilingAt(speed func(b *Brief) float64) Easing {
	return Easing{
		Key: "limit.erpm_ceiling", Aside: true,
		At: func(b *Build) float64 { return b.board.ERPMAt(speed(b.Problem.Brief)) },
	}
}
