package outfit

import (
	"fmt"
	"math"

	"gearsearch/constraints"
	"gearsearch/drive"
)

// Current is a current in A and how it comes about.
type Current struct {
	Amps float64 // NaN: not known
	How  string  // with the numbers put in; what is missing where it is not known
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
func currents(b *constraints.Build, u Units) Currents {
	var c Currents
	all := rides(b, u)
	c.PackPeak = packPeak(b)
	c.PackSteady = capped(packSteady(b, u, all), c.PackPeak)
	rms, word := phaseRMS(b)
	amps := lower(b.Controller.MotorCurrent, b.Motor.PeakCurrent)
	c.PhasePeak = Current{amps * rms, "the lower of the controller's and the motor's limit, " + num(amps) + " A, × " + word}
	if math.IsNaN(amps) {
		c.PhasePeak.How = "neither the controller's motor_current_a nor the motor's peak_current_a is known"
	}
	c.PhaseSteady = capped(phaseSteady(b, all, rms, word), c.PhasePeak)
	return c
}

// packPeak is the current for seconds out of the pack.
func packPeak(b *constraints.Build) Current {
	set, pack := settings(b), b.Battery.DischargeLimit()
	how := fmt.Sprintf("the lower of the controllers' settings, %d × %s A, and the pack's discharge limit, %s A",
		b.Motors(), num(b.Controller.BatteryCurrent), num(pack))
	switch {
	case math.IsNaN(set) && math.IsNaN(pack):
		how = "neither the controllers' battery_current_a nor the pack's discharge_a is known"
	case math.IsNaN(pack):
		how = fmt.Sprintf("the controllers' settings, %d × %s A; the pack's discharge limit is not known", b.Motors(), num(b.Controller.BatteryCurrent))
	case math.IsNaN(set):
		how = fmt.Sprintf("the pack's discharge limit, %s A; the controllers' battery_current_a is not known", num(pack))
	}
	return Current{lower(set, pack), how}
}

// capped is a steady current that is no more than its peak, the peak itself
// where it is not known.
func capped(steady, peak Current) Current {
	switch {
	case !steady.known():
		if peak.known() {
			peak.How = steady.How + "; the peak counts: " + peak.How
		} else {
			peak.How = steady.How + "; " + peak.How
		}
		return peak
	case steady.Amps > peak.Amps:
		steady.How += "; more than the peak of " + num(peak.Amps) + " A, which counts"
		steady.Amps = peak.Amps
	}
	return steady
}

// ride is a steady state of the board.
type ride struct {
	words string
	v     float64 // m/s
	force float64 // N
}

// rides are the steady states that warm the parts up.
func rides(b *constraints.Build, u Units) []ride {
	var out []ride
	board, target := b.Board(), b.Problem.Brief.Target
	if b.Problem.Climbs() {
		out = append(out, ride{
			fmt.Sprintf("%s up %s %%", u.speed(target.ClimbSpeed), num(target.ClimbGrade*percent)),
			target.ClimbSpeed, b.ClimbNeed(),
		})
	}
	if v, _ := b.TopSpeed(); b.ThrustKnown() && v > 0 {
		out = append(out, ride{u.speed(v) + " on the flat, the top speed", v, board.Load(v, 0)})
	} else {
		out = append(out, ride{u.speed(target.Cruise) + " on the flat, the cruise speed", target.Cruise, board.Load(target.Cruise, 0)})
	}
	return out
}

// packSteady is the current for long out of the pack.
func packSteady(b *constraints.Build, u Units, all []ride) Current {
	board := b.Board()
	if !(board.R > 0) {
		return Current{math.NaN(), "the motors' resistance is not known"}
	}
	best := Current{Amps: -1}
	for _, r := range all {
		amps := drawn(board, r, b.Battery.Pack.Nominal)
		if amps > best.Amps {
			best = Current{amps, fmt.Sprintf("holding %s takes %s and %s A from %s V", r.words, u.force(r.force), num(amps), num(b.Battery.Pack.Nominal))}
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
func phaseSteady(b *constraints.Build, all []ride, rms float64, word string) Current {
	best := Current{Amps: -1}
	for _, r := range all {
		set := b.Board().MotorCurrentFor(r.force) / b.Board().PhaseFactor
		if amps := set * rms; amps > best.Amps {
			best = Current{amps, fmt.Sprintf("holding %s takes %s A as set in each motor, × %s", r.words, num(set), word)}
		}
	}
	return best
}

// phaseRMS is the root mean square in a phase wire of 1 A as the controller
// sets it, and how to write it.
func phaseRMS(b *constraints.Build) (rms float64, word string) {
	if b.Controller.Drive.Commutation == drive.SixStep {
		return math.Sqrt(2.0 / 3), "√(2/3)"
	}
	return math.Sqrt(0.5), "1/√2"
}
