package constraints

import (
	"math"
	"slices"
	"strings"

	"gearsearch/drive"
)

// The shares of the charge at which stops are computed. The brief's target is held
// to that of stopCharge: a pack that a ride has begun on.
const (
	stopCharge = 0.9
	halfCharge = 0.5
	fullCharge = 1.0
)

// Stop is a stop on the flat by the motors alone, from the brief's speed, in m;
// NaN where it is not known, +Inf where nothing stops the board.
type Stop struct {
	Charge float64      // share
	Long   float64      // with what is not known at the end at which it is longer
	Short  float64      // … at which it is shorter
	By     drive.Limit  // what limits the braking at the start of the long stop, or else of the short one
	Intake drive.Intake // likewise; its current is 0 where the pack takes nothing
}

// Coasts reports whether the pack takes nothing, so that the board only rolls out.
func (s *Stop) Coasts() bool { return s.Intake.Current == 0 }

// Stop computes a stop at a share of the charge.
//
// A greater resistance of the pack lets less current in, and makes more power of
// it: the shortest stop is at one of the ends that stand in for the resistance, or
// where the charge limit and the volts of the full pack allow the same.
func (b *Build) Stop(charge float64) Stop { return b.StopInto(charge, b.Battery.ChargeLimit()) }

// StopInto is Stop with no more than a current in amperes into the warm pack, such
// as controllers are set to; NaN: not known.
func (b *Build) StopInto(charge, limit float64) Stop {
	if b.worst != nil {
		b = b.worst
	}
	from, warmth := b.Problem.Brief.Target.StopFrom, b.Problem.Warmth
	s := Stop{Charge: charge, Long: math.Inf(-1), Short: math.Inf(1)}
	over := func(pack drive.Pack) {
		in := pack.Intake(charge, limit, warmth)
		metres, by := b.board.StoppingDistance(from, in)
		if metres >= s.Long {
			s.Long, s.By, s.Intake = metres, by, in
		}
		s.Short = math.Min(s.Short, metres)
	}
	pack := b.Battery.Pack
	over(pack)
	if s.Coasts() {
		return s
	}
	if best := b.Battery.Best; best.Resistance != pack.Resistance {
		over(best)
		between := pack
		between.Resistance = (pack.Full - pack.OpenCircuit(charge)) / limit
		if long := s; between.Resistance > best.Resistance && between.Resistance < pack.Resistance {
			over(between)
			s.Long, s.By, s.Intake = long.Long, long.By, long.Intake
		}
	}
	if math.IsNaN(limit) || !b.electrical.MotorLimited() {
		s.Long = math.NaN()
	}
	return s
}

// Frosty reports whether the pack of any build takes nothing for the cold, so that
// what a brief asks of a stop is asked of rolling out.
func (p *Problem) Frosty() bool { return p.Warmth == 0 }

// As is a check as it is told of all builds of a problem: in the frost a stop is
// rolling out.
func (p *Problem) As(c *Check) *Check {
	if c.Name == rollOutRow.Name && p.Frosty() {
		return &rollOutRow
	}
	return c
}

// EasedWords are the words for giving way on a key.
func (p *Problem) EasedWords(k BriefNumber) string {
	if p.Frosty() && slices.ContainsFunc(registry, func(c *Check) bool { return c.Name == rollOutRow.Name && c.easedByKey(k.Path()) }) {
		return strings.NewReplacer("longer stop", "longer roll-out", "to stop from", "to roll out from").Replace(k.Eased)
	}
	return k.Eased
}

// easedByKey reports whether the check gives way to a key of a brief.
func (c *Check) easedByKey(key string) bool {
	return slices.ContainsFunc(c.Eased, func(e Easing) bool { return e.Key == key })
}

// stopMetres and shortestStop are a stop as a figure shows it, in m: NaN, too,
// where nothing stops the board.

func stopMetres(charge float64) func(b *Build) float64 {
	return func(b *Build) float64 { return finite(b.stopAt(charge).Long) }
}

func shortestStop(charge float64) func(b *Build) float64 {
	return func(b *Build) float64 { return finite(b.stopAt(charge).Short) }
}

// stopAt is Stop, remembered for the charge that the brief's target goes by.
func (b *Build) stopAt(charge float64) Stop {
	if b.worst != nil {
		b = b.worst
	}
	if charge != stopCharge {
		return b.Stop(charge)
	}
	if b.done&haveStop == 0 {
		b.done |= haveStop
		b.stop = b.Stop(charge)
	}
	return b.stop
}
