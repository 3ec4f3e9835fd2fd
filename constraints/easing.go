package constraints

// Easing is a key of a brief that a check gives way to: with another value of
// it a build may pass.
type Easing struct {
	Key  string // section.key
	Unit string // of the key where its row has none: "teeth"; "price" stands for the currency

	// At is the value of the key, SI, at which a build is just passed, NaN where
	// there is none. nil: there is no formula, and Try finds the value.
	At  valueOf
	Try reach
	// Strictly is At where what is undecided rejects too; nil: the same.
	Strictly valueOf

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

// eased is how the check gives way to a key of a brief; ok is false where it
// does not.
func (c *Check) eased(key string, b *Brief) (e Easing, ok bool) {
	for _, e := range c.Eased {
		if e.Key == key && (e.When == nil || e.When(b)) {
			return e, true
		}
	}
	return Easing{}, false
}

// Tried reports whether some key of a brief is tried value by value to find out
// where a build passes the check, which takes much longer than a formula.
func (c *Check) Tried() bool {
	for _, e := range c.Eased {
		if e.Try != nil {
			return true
		}
	}
	return false
}

// slowerClimb eases all that a climb takes. At a lower speed the thrust is not
// less and the load is, so that all of it gets easier all the way down.
var slowerClimb = Easing{Key: "target.climb_speed_kmh", Try: bisected}

// ceilingAt is the easing of a check that asks for a speed: the ceiling of
// electrical rpm holds the top speed down, and with it what launch and range
// may ask for. For the same reason top-speed-max may fail for a higher one.
func ceilingAt(speed func(b *Brief) float64) Easing {
	return Easing{
		Key: "limit.erpm_ceiling", Aside: true,
		At: func(b *Build) float64 { return b.board.ERPMAt(speed(b.Problem.Brief)) },
	}
}
