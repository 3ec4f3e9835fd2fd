package drive

import "math"

// Pack is a whole battery. Zero Cutoff, Discharge and Capacity are not known;
// zero Resistance is no resistance.
type Pack struct {
	Volts      float64 // V, open circuit, at the state of charge of the question
	Nominal    float64 // V
	Full       float64 // V
	Cutoff     float64 // V
	Resistance float64 // Ω, cells and wiring
	Discharge  float64 // A
	Capacity   float64 // A·h
}

// Terminal returns the volts at the pack's terminals while it gives amps:
// the open-circuit volts less the drop over its resistance.
func (p Pack) Terminal(amps float64) float64 {
	return p.Volts - float64(amps*p.Resistance)
}

// currentCap returns the highest pack current in amperes that a pack and n
// channels of a controller allow: the lowest of the controller's battery
// current for all channels, the pack's discharge limit, the current that sags
// the pack to its cut-off, and the current V/(2R) of most power, past which
// more current means less power. What is not known is left out; +Inf when
// nothing is known.
func currentCap(n int, c Controller, p Pack) float64 {
	amps := math.Inf(1)
	if c.BatteryCurrent > 0 {
		amps = float64(float64(n) * c.BatteryCurrent)
	}
	if p.Discharge > 0 {
		amps = min(amps, p.Discharge)
	}
	if p.Resistance > 0 {
		// A cut-off of 0, not known, gives more than V/(2R).
		amps = min(amps, (p.Volts-p.Cutoff)/p.Resistance, p.Volts/(2*p.Resistance))
	}
	return max(amps, 0)
}
