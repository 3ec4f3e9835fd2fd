package outfit

import (
	"math"

	"gearsearch/constraints"
	"gearsearch/drive"
)

// Current is a current in A and how it comes about.
type Current struct {
	Amps float64     // NaN: not known
	How  []Statement // with the numbers put in; what is missing where it is not known
}

// known reports whether the current is.
func (c Current) known() bool { return !math.IsNaN(c.Amps) }

// Currents are those that wires, plugs, switch and fuse must bear.
type Currents struct {
	PackPeak    Current // for seconds
	PackSteady  Current // for long
	PhasePeak   Current // root mean square in each phase wire, for seconds
	PhaseSteady Current // the same, for long
}

// Where the currents come from.
const (
	sourcePeak   = "settings and ratings as given"
	sourceSteady = "balance of forces and power, as in the figures of the build"
	sourcePhase  = "root mean square of a sine, or of blocks two thirds as long as the turn"
)

// settings returns the pack current in A that all controllers' settings together
// allow, NaN where not known.
func settings(b *constraints.Build) float64 {
	return float64(b.Motors()) * b.Controller.BatteryCurrent
}

// currents works the currents out.
func currents(b *constraints.Build) Currents {
	var c Currents
	all := rides(b)
	c.PackPeak = packPeak(b)
	c.PackSteady = capped(packSteady(b, all), c.PackPeak)
	rms, times := phaseRMS(b)
	amps := lower(b.Controller.MotorCurrent, b.Motor.PeakCurrent)
	c.PhasePeak = Current{amps * rms, []Statement{said(LowerOfMotorPeaks, given(amps, "A")), said(times)}}
	if math.IsNaN(amps) {
		c.PhasePeak.How = alone(NoMotorPeak)
	}
	c.PhaseSteady = capped(phaseSteady(b, all, rms, times), c.PhasePeak)
	return c
}

// packPeak is the current for seconds out of the pack.
func packPeak(b *constraints.Build) Current {
	set, pack := settings(b), b.Battery.DischargeLimit()
	motors, each, limit := count(b.Motors()), given(b.Controller.BatteryCurrent, "A"), given(pack, "A")
	how := said(LowerOfPackPeaks, motors, each, limit)
	switch {
	case math.IsNaN(set) && math.IsNaN(pack):
		how = said(NoPackPeak)
	case math.IsNaN(pack):
		how = said(SettingsOnly, motors, each)
	case math.IsNaN(set):
		how = said(PackLimitOnly, limit)
	}
	return Current{lower(set, pack), []Statement{how}}
}

// capped is a steady current that is no more than its peak, the peak itself
// where it is not known.
func capped(steady, peak Current) Current {
	switch {
	case !steady.known():
		how := steady.How
		if peak.known() {
			how = then(how, said(PeakCounts))
		}
		peak.How = then(how, peak.How...)
		return peak
	case steady.Amps > peak.Amps:
		steady.How = then(steady.How, said(AbovePeak, given(peak.Amps, "A")))
		steady.Amps = peak.Amps
	}
	return steady
}

// ride is a steady state of the board.
type ride struct {
	held  Statement
	v     float64 // m/s
	force float64 // N
}

// rides are the steady states that warm the parts up.
func rides(b *constraints.Build) []ride {
	var out []ride
	board, target := b.Board(), b.Problem.Brief.Target
	if b.Problem.Climbs() {
		out = append(out, ride{
			said(HoldingClimb, speed(target.ClimbSpeed), share(target.ClimbGrade)),
			target.ClimbSpeed, b.ClimbNeed(),
		})
	}
	if v, _ := b.TopSpeed(); b.ThrustKnown() && v > 0 {
		out = append(out, ride{said(HoldingTop, speed(v)), v, board.Load(v, 0)})
	} else {
		out = append(out, ride{said(HoldingCruise, speed(target.Cruise)), target.Cruise, board.Load(target.Cruise, 0)})
	}
	return out
}

// packSteady is the current for long out of the pack.
func packSteady(b *constraints.Build, all []ride) Current {
	board := b.Board()
	if !(board.R > 0) {
		return Current{math.NaN(), alone(NoResistance)}
	}
	best := Current{Amps: -1}
	for _, r := range all {
		amps := drawn(board, r, b.Battery.Pack.Nominal)
		if amps > best.Amps {
			takes := said(TakesFromPack, given(r.force, "N"), given(amps, "A"), given(b.Battery.Pack.Nominal, "V"))
			best = Current{amps, []Statement{r.held, takes}}
		}
	}
	return best
}

// drawn is what a steady state draws from a pack of open-circuit volts;
// where the pack cannot give the power, the current at which it gives the most.
func drawn(board *drive.Board, r ride, volts float64) float64 {
	emf := board.K * r.v * board.Reduction / board.Radius
	amps := board.MotorCurrentFor(r.force)
	power := float64(board.Motors) * amps * (emf + float64(amps*board.R)) / board.Controller.Efficiency
	root := float64(volts*volts) - float64(4*board.Pack.Resistance*power)
	if root < 0 {
		return volts / (2 * board.Pack.Resistance)
	}
	return 2 * power / (volts + math.Sqrt(root))
}

// phaseSteady is the current for long in a phase wire.
func phaseSteady(b *constraints.Build, all []ride, rms float64, times Code) Current {
	best := Current{Amps: -1}
	for _, r := range all {
		set := b.Board().MotorCurrentFor(r.force) / b.Board().PhaseFactor
		if amps := set * rms; amps > best.Amps {
			best = Current{amps, []Statement{r.held, said(TakesInMotor, given(set, "A")), said(times)}}
		}
	}
	return best
}

// phaseRMS is the root mean square in a phase wire of 1 A as the controller
// sets it, and what says so.
func phaseRMS(b *constraints.Build) (rms float64, times Code) {
	if b.Controller.Drive.Commutation == drive.SixStep {
		return math.Sqrt(2.0 / 3), TimesBlocks
	}
	return math.Sqrt(0.5), TimesSine
}
