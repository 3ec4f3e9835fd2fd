package constraints

import (
	"math"

	"gearsearch/drive"
)

// Absence is why a figure of a build has no value.
type Absence uint8

// The reasons. A figure that has a value has the zero reason.
const (
	Present    Absence = iota
	NotAsked           // the brief leaves out what it would be of
	NotThere           // the build has no such thing, as a gear drive has no belt
	NotReached         // the build never comes to the speed that it is of
	NotKnown           // data is missing
)

// Absence is why the figure of a build has no value, Present where it has one.
func (f Figure) Absence(b *Build) Absence {
	if f.Word != nil && f.Word(b) != "" || f.Word == nil && !math.IsNaN(f.Value(b)) {
		return Present
	}
	for _, reason := range f.absent {
		if a := reason(b); a != Present {
			return a
		}
	}
	return NotKnown
}

// absence is a reason that a figure may have no value for, Present where it is
// none for this build.
type absence func(b *Build) Absence

// when makes a reason of a condition.
func (a Absence) when(is func(b *Build) bool) absence {
	return func(b *Build) Absence {
		if is(b) {
			return a
		}
		return Present
	}
}

// The reasons there are.
var (
	noTopSpeed    = NotAsked.when(func(b *Build) bool { return math.IsNaN(b.Problem.Brief.Target.TopSpeed) })
	noGrade       = NotAsked.when(func(b *Build) bool { return !b.Problem.Climbs() })
	noLaunchSpeed = NotAsked.when(func(b *Build) bool { return math.IsNaN(b.Problem.Brief.Target.LaunchSpeed) })
	noCeiling     = NotThere.when(func(b *Build) bool { return math.IsNaN(b.Controller.Ceiling) })
	noMotion      = NotThere.when(func(b *Build) bool { _, by := b.TopSpeed(); return by == drive.NoLimit })
	noBelt        = NotThere.when(func(b *Build) bool {
		return b.Drive.Gear != nil && !b.Drive.Bare || b.Drive.belt == Fail && b.Drive.Belt == nil
	})
	noHillLength = NotAsked.when(func(b *Build) bool { return !b.Problem.HasLength() })
	noLaunch     = NotReached.when((*Build).ThrustKnown)
	noStop       = func(charge float64) absence {
		return NotReached.when(func(b *Build) bool { return math.IsInf(b.stopAt(charge).Long, 1) })
	}
	noRoute  = NotAsked.when(func(b *Build) bool { return !b.Problem.HasRoute() })
	noEnd    = NotReached.when(func(b *Build) bool { t, _ := b.Travelled(); return t.Stalled })
	noCruise = NotReached.when(func(b *Build) bool {
		return !b.OutrunsCruise() || !b.HoldsWind() || b.electrical.R > 0
	})
)
